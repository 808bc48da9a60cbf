#include "emit/svg_pen.h"

#include "base/visible.h"

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
    return (long long)(steps < 0 ? steps - 0.5 : steps + 0.5);
}

static char *put_whole(char *at, unsigned long long whole)
{
    char digits[SVG_NUMBER_ROOM];
    int count = 0;
    do {
        digits[count++] = (char)('0' + whole % 10);
        whole /= 10;
    } while (whole);
    while (count)
        *at++ = digits[--count];
    return at;
}

static void put_steps(SvgPen *pen, long long steps)
{
    unsigned long long size = (unsigned long long)(steps < 0 ? -steps : steps), whole = size / 1000;
    char *at = pen->at;
    if (steps < 0)
        *at++ = '-';
    if (whole || !size)
        at = put_whole(at, whole);
    unsigned rest = (unsigned)(size - whole * 1000);
    if (rest)
        *at++ = '.';
    for (unsigned digit = 100; rest; rest %= digit, digit /= 10) /* no zeros at the end */
        *at++ = (char)('0' + rest / digit);
    pen->at = at;
}

void svg_number(SvgPen *pen, double mm) { put_steps(pen, in_steps(mm)); }

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

/* A number, with a blank before it where nothing else parts it from the one before. */
static void put_along(Tracer *tracer, long long steps, bool after_letter)
{
    if (!after_letter && steps >= 0)
        *tracer->pen->at++ = ' ';
    put_steps(tracer->pen, steps);
}

/* A letter where it is not understood: lines follow on a move by themselves. */
static bool put_letter(Tracer *tracer, char letter)
{
    bool understood = tracer->letter == letter || (tracer->letter == 'm' && letter == 'l');
    if (!understood)
        *tracer->pen->at++ = letter;
    tracer->letter = letter;
    return !understood;
}

/* The points of one trace, each from where the tracer is. */
static void put_trace(Tracer *tracer, char letter, const Point *points, int count)
{
    long long x = tracer->x, y = tracer->y;
    for (int i = 0; i < count; i++) {
        x = in_steps(points[i].x);
        y = in_steps(points[i].y);
        long long along = x - tracer->x, down = y - tracer->y;
        if (letter == 'l' && (along == 0 || down == 0)) {
            if (along || down)
                put_along(tracer, along ? along : down, put_letter(tracer, along ? 'h' : 'v'));
        } else {
            put_along(tracer, along, i == 0 && put_letter(tracer, letter));
            put_along(tracer, down, false);
        }
    }
    tracer->x = x;
    tracer->y = y;
}

static void put_area(Tracer *tracer, const Shape *shape)
{
    static const struct {
        char letter;
        int points;
    } traces[] = {
#define X(name, ...) {__VA_ARGS__},
        TRACE_TABLE(X)
#undef X
    };
    const Point *at = shape->points, *begin = at;
    for (uint32_t i = 0; i < shape->trace_count; i++) {
        int kind = shape->traces[i];
        if (kind == TRACE_BEGIN && i) { /* back where the part before began */
            SVG_PUT(tracer->pen, "z");
            tracer->x = in_steps(begin->x);
            tracer->y = in_steps(begin->y);
            tracer->letter = 'z';
        }
        begin = kind == TRACE_BEGIN ? at : begin;
        put_trace(tracer, traces[kind].letter, at, traces[kind].points);
        at += traces[kind].points;
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
            put_trace(&tracer, i ? 'l' : 'm', &shape->points[i], 1);
    if (shape->kind == SHAPE_POLYGON)
        SVG_PUT(pen, "z");
    SVG_PUT(pen, "\"");
}
