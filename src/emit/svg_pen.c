#include "emit/svg_pen.h"

#include "base/visible.h"

#include <math.h>

void svg_room(SvgPen *pen, size_t bytes)
{
    svg_end(pen);
    pen->at = buffer_room(pen->out, bytes);
}

void svg_end(SvgPen *pen) { pen->out->length = (size_t)(pen->at - pen->out->bytes); }

/* --- numbers --- */

static long long in_steps(double mm)
{
    double steps = mm * SVG_STEPS_PER_MM;
    return (long long)(steps + copysign(0.5, steps));
}

/* "000001002" ... "999" */
#define TEN(digits)                                                                                               \
    digits "0" digits "1" digits "2" digits "3" digits "4" digits "5" digits "6" digits "7" digits "8" digits "9"
#define HUNDRED(digit)                                                                                            \
    TEN(digit "0")                                                                                                \
    TEN(digit "1")                                                                                                \
    TEN(digit "2")                                                                                                \
    TEN(digit "3")                                                                                                \
    TEN(digit "4") TEN(digit "5") TEN(digit "6") TEN(digit "7") TEN(digit "8") TEN(digit "9")
static const char thousand[] = HUNDRED("0") HUNDRED("1") HUNDRED("2") HUNDRED("3") HUNDRED("4") HUNDRED("5")
    HUNDRED("6") HUNDRED("7") HUNDRED("8") HUNDRED("9");

static char *put_whole(char *at, unsigned long long whole)
{
    unsigned last = (unsigned)(whole % 1000), zeros = 0;
    if (whole >= 1000)
        at = put_whole(at, whole / 1000);
    else
        zeros = last >= 100 ? 0 : last >= 10 ? 1 : 2;
    memcpy(at, &thousand[last * 3 + zeros], 3);
    return at + 3 - zeros;
}

/* In the shortest form; parted by a sign or else a blank from a number before. Returns where it ends. */
static inline char *put_steps(char *at, long long steps, bool parted)
{
    unsigned long long size = (unsigned long long)(steps < 0 ? -steps : steps), whole = size / 1000;
    unsigned rest = (unsigned)(size - whole * 1000);
    *at = steps < 0 ? '-' : ' ';
    at += steps < 0 || parted;
    if (whole >= 10) {
        memcpy(at, &thousand[whole % 100 * 3 + 1], 2);
        at = whole >= 100 ? put_whole(at, whole) : at + 2;
    } else if (whole || !rest) {
        *at++ = (char)('0' + whole);
    }
    if (!rest)
        return at;
    *at++ = '.';
    memcpy(at, &thousand[rest * 3], 3);
    return at + (at[2] != '0' ? 3 : at[1] != '0' ? 2 : 1); /* no zeros at the end */
}

void svg_number(SvgPen *pen, double mm) { pen->at = put_steps(pen->at, in_steps(mm), false); }

void svg_colour(SvgPen *pen, uint32_t colour)
{
    if (colour == NO_COLOUR) {
        SVG_PUT(pen, "none");
        return;
    }
    *pen->at++ = '#';
    for (int shift = 20; shift >= 0; shift -= 4)
        *pen->at++ = "0123456789abcdef"[colour >> shift & 0xf];
}

/* --- text --- */

typedef struct Escape {
    char sign;
    const char *written;
} Escape;

/* Between tags. '>' because of "]]>"; a carriage return would be read back as a new line. */
static const Escape text_escapes[] = {{'&', "&amp;"}, {'<', "&lt;"}, {'>', "&gt;"}, {'\r', "&#13;"}, {0, ""}};
/* Within double quotes, where bare tabs and new lines would be read back as blanks. */
static const Escape attribute_escapes[] = {{'&', "&amp;"}, {'<', "&lt;"},   {'>', "&gt;"},   {'"', "&quot;"},
                                           {'\t', "&#9;"}, {'\n', "&#10;"}, {'\r', "&#13;"}, {0, ""}};
enum { LONGEST_ESCAPE = 6 };

/* Any bytes: what XML may not hold (XML 1.0, section 2.2) is shown by the rule of base/visible.h. */
void svg_text(SvgPen *pen, const char *text, bool attribute)
{
    const Escape *escapes = attribute ? attribute_escapes : text_escapes;
    const char *shown = visible_with_breaks(pen->out->arena, text);
    svg_room(pen, strlen(shown) * LONGEST_ESCAPE);
    for (; *shown; shown++) {
        if (*shown > '>' || *shown == ' ') { /* letters: nothing to escape */
            *pen->at++ = *shown;
            continue;
        }
        const Escape *escape = escapes;
        while (escape->sign && escape->sign != *shown)
            escape++;
        if (escape->sign)
            svg_bytes(pen, escape->written, strlen(escape->written));
        else
            *pen->at++ = *shown;
    }
}

/* --- path data --- */

/* Each letter stands once for all the numbers that follow it. */
typedef struct Tracer {
    SvgPen *pen;
    long long x, y; /* where it is, in steps */
    char letter;    /* what the numbers before were of */
} Tracer;

/* A letter where it is not understood: lines follow on a move by themselves. */
static bool put_letter(Tracer *tracer, char letter)
{
    bool understood = tracer->letter == letter || (tracer->letter == 'm' && letter == 'l');
    if (!understood)
        *tracer->pen->at++ = letter;
    tracer->letter = letter;
    return !understood;
}

/* A straight edge; along or down alone where it lies so. */
static void put_line_to(Tracer *tracer, Point to)
{
    long long x = in_steps(to.x), y = in_steps(to.y), along = x - tracer->x, down = y - tracer->y;
    if (!along && !down)
        return;
    bool parted = !put_letter(tracer, along && down ? 'l' : along ? 'h' : 'v');
    char *at = put_steps(tracer->pen->at, along ? along : down, parted);
    tracer->pen->at = along && down ? put_steps(at, down, true) : at;
    tracer->x = x;
    tracer->y = y;
}

/* The points of a move or a curve, each from where the tracer is. */
static void put_points(Tracer *tracer, char letter, const Point *points, int count)
{
    long long x = tracer->x, y = tracer->y;
    bool parted = !put_letter(tracer, letter);
    char *at = tracer->pen->at;
    for (int i = 0; i < count; i++, parted = true) {
        x = in_steps(points[i].x);
        y = in_steps(points[i].y);
        at = put_steps(at, x - tracer->x, parted);
        at = put_steps(at, y - tracer->y, true);
    }
    *tracer = (Tracer){tracer->pen, x, y, letter};
    tracer->pen->at = at;
}

static void put_area(Tracer *tracer, const Shape *shape)
{
    const Point *at = shape->points, *begin = at;
    for (uint32_t i = 0; i < shape->trace_count; i++) {
        switch ((Trace)shape->traces[i]) {
        case TRACE_BEGIN:
            if (i) { /* back where the part before began */
                SVG_PUT(tracer->pen, "z");
                *tracer = (Tracer){tracer->pen, in_steps(begin->x), in_steps(begin->y), 'z'};
            }
            begin = at;
            put_points(tracer, 'm', at++, 1);
            break;
        case TRACE_LINE: put_line_to(tracer, *at++); break;
        case TRACE_CURVE:
            put_points(tracer, 'c', at, 3);
            at += 3;
            break;
        }
    }
}

void svg_path(SvgPen *pen, const Shape *shape)
{
    Tracer tracer = {.pen = pen};
    svg_room(pen, 2 * SVG_NUMBER_ROOM * ((size_t)shape->point_count + 1) + shape->trace_count);
    SVG_PUT(pen, " d=\"");
    if (shape->traces)
        put_area(&tracer, shape);
    else
        for (uint32_t i = 0; i < shape->point_count; i++)
            if (i)
                put_line_to(&tracer, shape->points[i]);
            else
                put_points(&tracer, 'm', shape->points, 1);
    if (shape->kind == SHAPE_POLYGON)
        SVG_PUT(pen, "z");
    SVG_PUT(pen, "\"");
}
