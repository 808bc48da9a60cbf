/* SVG 1.1: one drawing as a picture without scripts and without anything from outside. */
#include "base/line_map.h"
#include "base/table.h"
#include "base/visible.h"
#include "draw/shading.h"
#include "emit/emit.h"

#include <math.h>

/* Positions are written in whole steps of 0.0001 mm, so that what lies between points adds up to the points. */
#define STEPS_PER_MM 1e4
enum { DECIMALS = 4 };

typedef struct Escape {
    char sign;
    const char *written;
} Escape;

/* Any bytes: what XML may not hold (XML 1.0, section 2.2) is shown by the rule of base/visible.h. */
static void put_escaped(Buffer *out, const char *text, const Escape *escapes)
{
    for (const char *at = visible_with_breaks(out->arena, text); *at; at++) {
        const Escape *escape = escapes;
        while (escape->sign && escape->sign != *at)
            escape++;
        if (escape->sign)
            buffer_text(out, escape->written);
        else
            buffer_put(out, at, 1);
    }
}

/* Between tags. '>' because of "]]>"; a carriage return would be read back as a new line. */
static void put_xml_text(Buffer *out, const char *text)
{
    static const Escape escapes[] = {{'&', "&amp;"}, {'<', "&lt;"}, {'>', "&gt;"}, {'\r', "&#13;"}, {0, NULL}};
    put_escaped(out, text, escapes);
}

/* Within double quotes, where bare tabs and new lines would be read back as blanks. */
static void put_xml_attribute(Buffer *out, const char *text)
{
    static const Escape escapes[] = {{'&', "&amp;"}, {'<', "&lt;"},   {'>', "&gt;"},   {'"', "&quot;"},
                                     {'\t', "&#9;"}, {'\n', "&#10;"}, {'\r', "&#13;"}, {0, NULL}};
    put_escaped(out, text, escapes);
}

static void put_number(Buffer *out, const char *name, double value)
{
    buffer_format(out, " %s=\"", name);
    buffer_number_short(out, value, DECIMALS);
    buffer_text(out, "\"");
}

static void put_colour(Buffer *out, const char *name, uint32_t colour)
{
    if (colour == NO_COLOUR)
        buffer_format(out, " %s=\"none\"", name);
    else
        buffer_format(out, " %s=\"#%06x\"", name, (unsigned)colour & 0xffffff);
}

/* A length in steps as mm; a sign parts it from the number before, or else a blank does. */
static void put_steps(Buffer *out, double steps, bool first)
{
    if (!first && steps >= 0)
        buffer_text(out, " ");
    buffer_number_short(out, steps / STEPS_PER_MM, DECIMALS);
}

static double in_steps(double mm) { return round(mm * STEPS_PER_MM); }

/* Path data: the first point, then steps from point to point in the shortest form there is. */
static void put_path_data(Buffer *out, const Shape *shape)
{
    double x = 0, y = 0;
    buffer_text(out, " d=\"M");
    for (uint32_t i = 0; i < shape->point_count; i++) {
        double next_x = in_steps(shape->points[i].x), next_y = in_steps(shape->points[i].y);
        double step_x = next_x - x, step_y = next_y - y;
        x = next_x;
        y = next_y;
        if (i && step_x == 0 && step_y == 0)
            continue;
        if (i && (step_x == 0 || step_y == 0)) {
            buffer_text(out, step_x == 0 ? "v" : "h");
            put_steps(out, step_x == 0 ? step_y : step_x, true);
            continue;
        }
        buffer_text(out, i ? "l" : "");
        put_steps(out, step_x, true);
        put_steps(out, step_y, false);
    }
    buffer_text(out, shape->kind == SHAPE_POLYGON ? "z\"" : "\"");
}

/* Areas have many points: they are written in steps of 0.001 mm, without the 0 before a decimal point, and each
 * letter once for all the numbers that follow it. */
#define AREA_STEPS_PER_MM 1e3

typedef struct AreaPen {
    Buffer *out;
    long long x, y; /* where the pen is, in steps */
    char letter;    /* what the numbers before were of */
} AreaPen;

/* A number, with a blank before it where nothing else parts it from the one before. */
static void put_area_number(AreaPen *pen, long long steps, bool after_letter)
{
    char text[32], *end = text + sizeof text, *at = end;
    unsigned long long size = (unsigned long long)(steps < 0 ? -steps : steps), whole = size / 1000;
    unsigned fraction = (unsigned)(size % 1000);
    for (int digit = 0; digit < 3; digit++, fraction /= 10)
        if (at != end || fraction % 10) /* no zeros at the end */
            *--at = (char)('0' + fraction % 10);
    if (at != end)
        *--at = '.';
    for (; whole || at == end; whole /= 10)
        *--at = (char)('0' + whole % 10);
    if (steps < 0)
        *--at = '-';
    else if (!after_letter)
        *--at = ' ';
    buffer_put(pen->out, at, (size_t)(end - at));
}

/* A letter where it is not understood: lines follow on a move by themselves. */
static bool put_area_letter(AreaPen *pen, char letter)
{
    bool understood = pen->letter == letter || (pen->letter == 'm' && letter == 'l');
    if (!understood)
        buffer_put(pen->out, &letter, 1);
    pen->letter = letter;
    return !understood;
}

/* The points of one trace, each from where the pen is. */
static void put_trace(AreaPen *pen, char letter, const Point *points, int count)
{
    long long x = pen->x, y = pen->y;
    for (int i = 0; i < count; i++) {
        long long next_x = llround(points[i].x * AREA_STEPS_PER_MM);
        long long next_y = llround(points[i].y * AREA_STEPS_PER_MM);
        long long along = next_x - pen->x, down = next_y - pen->y;
        if (letter == 'l' && (along == 0 || down == 0)) {
            if (along || down)
                put_area_number(pen, along ? along : down, put_area_letter(pen, along ? 'h' : 'v'));
        } else {
            put_area_number(pen, along, i == 0 && put_area_letter(pen, letter));
            put_area_number(pen, down, false);
        }
        x = next_x;
        y = next_y;
    }
    pen->x = x;
    pen->y = y;
}

static void put_area_data(Buffer *out, const Shape *shape)
{
    static const struct {
        char letter;
        int points;
    } traces[] = {
#define X(name, ...) {__VA_ARGS__},
        TRACE_TABLE(X)
#undef X
    };
    AreaPen pen = {.out = out};
    const Point *at = shape->points, *begin = at;
    buffer_text(out, " d=\"");
    for (uint32_t i = 0; i < shape->trace_count; i++) {
        int kind = shape->traces[i];
        if (kind == TRACE_BEGIN && i) { /* back where the part before began */
            buffer_text(out, "z");
            pen.x = llround(begin->x * AREA_STEPS_PER_MM);
            pen.y = llround(begin->y * AREA_STEPS_PER_MM);
            pen.letter = 'z';
        }
        begin = kind == TRACE_BEGIN ? at : begin;
        put_trace(&pen, traces[kind].letter, at, traces[kind].points);
        at += traces[kind].points;
    }
    buffer_text(out, "z\"");
}

static void put_stroke(Buffer *out, const Shape *shape)
{
    if (shape->stroke == NO_COLOUR)
        return;
    put_colour(out, "stroke", shape->stroke);
    put_number(out, "stroke-width", shape->stroke_width);
}

/* What is being written: a file of its own, or a picture within a page. */
typedef struct Picture {
    const Drawing *drawing;
    const char *prefix; /* of every id; empty for a file of its own */
} Picture;

static void put_shade(Buffer *out, const Shape *shape, const char *prefix)
{
    buffer_format(out, "<path fill=\"url(#%scylinder)\" pointer-events=\"none\"", prefix);
    put_path_data(out, shape);
    buffer_text(out, "/>\n");
}

static void put_polygon(Buffer *out, const Shape *shape, const char *prefix)
{
    if (shape->fill != NO_COLOUR || shape->stroke != NO_COLOUR || shape->shade == SHADE_FLAT) {
        buffer_text(out, "<path");
        put_colour(out, "fill", shape->fill);
        put_stroke(out, shape);
        if (shape->traces)
            put_area_data(out, shape);
        else
            put_path_data(out, shape);
        buffer_text(out, "/>\n");
    }
    if (shape->shade == SHADE_CYLINDER)
        put_shade(out, shape, prefix);
}

static void put_line(Buffer *out, const Shape *shape)
{
    buffer_text(out, "<path fill=\"none\"");
    put_stroke(out, shape);
    put_path_data(out, shape);
    buffer_text(out, "/>\n");
}

static void put_turn(Buffer *out, const Shape *shape)
{
    if (shape->turned == 0)
        return;
    buffer_text(out, " transform=\"rotate(");
    buffer_number_short(out, -shape->turned, DECIMALS);
    buffer_text(out, " ");
    buffer_number_short(out, shape->at.x, DECIMALS);
    buffer_text(out, " ");
    buffer_number_short(out, shape->at.y, DECIMALS);
    buffer_text(out, ")\"");
}

#define ANCHORS(X) X(START, "") X(MIDDLE, " text-anchor=\"middle\"") X(END, " text-anchor=\"end\"")
_Static_assert(TABLE_ROWS(ANCHORS) == ALIGN_COUNT, "text is anchored however it is aligned");

static void put_words(Buffer *out, const Shape *shape)
{
    static const char *const anchors[ALIGN_COUNT] = {
#define X(name, anchor) [ALIGN_##name] = anchor,
        ANCHORS(X)
#undef X
    };
    buffer_text(out, "<text");
    put_number(out, "x", shape->at.x);
    put_number(out, "y", shape->at.y);
    put_number(out, "font-size", shape->size);
    buffer_text(out, anchors[shape->align]);
    put_turn(out, shape);
    put_colour(out, "fill", shape->fill);
    buffer_text(out, ">");
    put_xml_text(out, shape->text);
    buffer_text(out, "</text>\n");
}

static void put_group(Buffer *out, const Shape *shape, const Picture *picture)
{
    LineMap *lines = picture->drawing->lines;
    buffer_text(out, "<g");
    if (shape->id)
        buffer_format(out, " id=\"%st%016llx\" class=\"run%s\"", picture->prefix, (unsigned long long)shape->id,
                      shape->strand_line ? " strands" : "");
    uint32_t line = *picture->prefix ? 0 : line_map_line(lines, shape->span);
    if (line) {
        buffer_format(out, " data-line=\"%u\" data-file=\"", line);
        put_xml_attribute(out, line_map_source(lines, shape->span)->path);
        buffer_text(out, "\"");
    }
    buffer_text(out, "><title>");
    put_xml_text(out, shape->text);
    buffer_text(out, "</title>");
}

static void put_shading(Buffer *out)
{
    buffer_text(out, "cylinder\" x1=\"0\" y1=\"0\" x2=\"0\" y2=\"1\">");
    for (int i = 0; i < SHADE_STOPS; i++) {
        buffer_text(out, "<stop offset=\"");
        buffer_number_short(out, shade_stops[i].at, 2);
        buffer_format(out, "\" stop-color=\"#%03x\" stop-opacity=\"", (unsigned)shade_stops[i].colour & 0xfff);
        buffer_number_short(out, shade_stops[i].opacity, 2);
        buffer_text(out, "\"/>");
    }
    buffer_text(out, "</linearGradient></defs>\n");
}

static void put_size(Buffer *out, const Drawing *drawing)
{
    buffer_text(out, " width=\"");
    buffer_number_short(out, drawing->width, DECIMALS);
    buffer_text(out, "mm\" height=\"");
    buffer_number_short(out, drawing->height, DECIMALS);
    buffer_text(out, "mm\" viewBox=\"0 0 ");
    buffer_number_short(out, drawing->width, DECIMALS);
    buffer_text(out, " ");
    buffer_number_short(out, drawing->height, DECIMALS);
    buffer_text(out, "\"");
}

static void put_head(Buffer *out, const Picture *picture)
{
    buffer_text(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" role=\"img\"");
    put_size(out, picture->drawing);
    buffer_text(out, " font-family=\"sans-serif\" stroke-linejoin=\"round\">\n<title>");
    put_xml_text(out, picture->drawing->title);
    buffer_text(out, "</title>\n<desc>");
    put_xml_text(out, picture->drawing->description);
    buffer_format(out, "</desc>\n<defs><linearGradient id=\"%s", picture->prefix);
    put_shading(out);
}

static void put_shape(Buffer *out, const Shape *shape, const Picture *picture)
{
    switch (shape->kind) {
    case SHAPE_POLYGON: put_polygon(out, shape, picture->prefix); break;
    case SHAPE_LINE: put_line(out, shape); break;
    case SHAPE_TEXT: put_words(out, shape); break;
    case SHAPE_GROUP_START: put_group(out, shape, picture); break;
    case SHAPE_GROUP_END: buffer_text(out, "</g>\n"); break;
    }
}

void emit_svg_element(Buffer *out, const Drawing *drawing, const char *prefix)
{
    Picture picture = {.drawing = drawing, .prefix = prefix};
    put_head(out, &picture);
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        put_shape(out, &drawing->shapes.items[i], &picture);
    buffer_text(out, "</svg>\n");
}

void emit_svg(Buffer *out, const Drawing *drawing)
{
    buffer_text(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    emit_svg_element(out, drawing, "");
}
