#include "draw/canvas.h"

#include "trade/trade.h"

#include <math.h>
#include <string.h>

/* Letters of common sans-serif fonts are about 0.55 of their height wide on average; names may be wider. */
#define LETTER_WIDTH 0.6

double frame_x(const Frame *frame, double axial) { return frame->left + (axial - frame->low) * frame->scale; }

double frame_y(const Frame *frame, double turns, double radius)
{
    double off = frame->shown > 0.25 ? 2 * turns : sin(2 * TRADE_PI * turns);
    return frame->axis + off * radius * frame->across;
}

static Shape *add(Canvas *canvas, ShapeKind kind)
{
    Shape *shape = LIST_ADD(canvas->arena, &canvas->drawing->shapes);
    *shape = (Shape){.kind = kind, .clip = canvas->clip, .fill = NO_COLOUR, .stroke = NO_COLOUR};
    return shape;
}

/* The colour as it looks through all that lies on it. */
static uint32_t seen(const Canvas *canvas, uint32_t colour)
{
    if (colour == NO_COLOUR || !canvas->tint)
        return colour;
    Light light = light_of(colour);
    for (const Tint *tint = canvas->tint; tint; tint = tint->over)
        light = light_over(light_of(tint->colour), tint->opacity, light);
    return colour_of(light);
}

/* Without points yet. */
static Shape *add_room(Canvas *canvas, ShapeKind kind, uint32_t count)
{
    Shape *shape = add(canvas, kind);
    shape->points = arena_take_many(canvas->arena, count, sizeof *shape->points);
    shape->point_count = count;
    return shape;
}

static Shape *add_points(Canvas *canvas, ShapeKind kind, const Point *points, uint32_t count)
{
    Shape *shape = add_room(canvas, kind, count);
    memcpy(shape->points, points, count * sizeof *points);
    return shape;
}

void draw_polygon(Canvas *canvas, const Point *points, uint32_t count, uint32_t fill, Shade shade)
{
    Shape *shape = add_points(canvas, SHAPE_POLYGON, points, count);
    shape->fill = seen(canvas, fill);
    shape->shade = shade;
}

void draw_rectangle(Canvas *canvas, double x, double y, double width, double height, uint32_t fill,
                    uint32_t stroke)
{
    Point points[] = {{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};
    Shape *shape = add_points(canvas, SHAPE_POLYGON, points, 4);
    shape->fill = fill;
    shape->stroke = stroke;
    shape->stroke_width = PEN_FINE;
}

void draw_path(Canvas *canvas, const Point *points, uint32_t count, uint32_t colour, double width)
{
    Shape *shape = add_points(canvas, SHAPE_LINE, points, count);
    shape->stroke = seen(canvas, colour);
    shape->stroke_width = width;
}

void clip_start(Canvas *canvas)
{
    Clip *clip = arena_take(canvas->arena, sizeof *clip);
    clip->outline.kind = SHAPE_POLYGON;
    area_take(&canvas->area, &clip->outline);
    clip->within = canvas->clip;
    clip->number = canvas->drawing->clips.count;
    *LIST_ADD(canvas->arena, &canvas->drawing->clips) = clip;
    canvas->clip = clip;
}

void draw_area(Canvas *canvas, uint32_t fill, uint32_t stroke, double width)
{
    if (!canvas->area.points.count)
        return;
    Shape *shape = add(canvas, SHAPE_POLYGON);
    area_take(&canvas->area, shape);
    shape->fill = seen(canvas, fill);
    shape->stroke = seen(canvas, stroke);
    shape->stroke_width = width;
}

void draw_line(Canvas *canvas, double x0, double y0, double x1, double y1, uint32_t colour, double width)
{
    draw_path(canvas, (Point[]){{x0, y0}, {x1, y1}}, 2, colour, width);
}

void draw_text(Canvas *canvas, double x, double y, double size, TextAlign align, uint32_t colour, const char *text)
{
    Shape *shape = add(canvas, SHAPE_TEXT);
    shape->at = (Point){x, y};
    shape->size = size;
    shape->align = align;
    shape->fill = colour;
    shape->text = text;
}

void draw_outline(Canvas *canvas, const Frame *frame, const Outline *outline, uint32_t fill, Shade shade)
{
    uint32_t count = outline->count;
    Shape *shape = add_room(canvas, SHAPE_POLYGON, count * 2);
    for (uint32_t i = 0; i < count; i++) {
        OutlineEdge edge = outline->edges[i];
        double x = frame_x(frame, edge.x);
        shape->points[i] = (Point){x, frame->axis - edge.up * frame->across};
        shape->points[count * 2 - 1 - i] = (Point){x, frame->axis + edge.down * frame->across};
    }
    shape->fill = seen(canvas, fill);
    shape->shade = shade;
}

/* Faint: a tenth of the surface a fifth darker, so that a band's colour stays within 2 % of its thread's;
 * lighter on what is nearly black. */
uint32_t groove_colour(uint32_t colour)
{
    uint32_t red = colour >> 16 & 0xff, green = colour >> 8 & 0xff, blue = colour & 0xff;
    if (red + green + blue < 120)
        return (red + 38) << 16 | (green + 38) << 8 | (blue + 38);
    return red * 8 / 10 << 16 | (green * 8 / 10) << 8 | blue * 8 / 10;
}

double text_width(const char *text, double size) { return text_columns(text) * LETTER_WIDTH * size; }

const char *fitted(Arena *arena, const char *text, uint32_t characters)
{
    const char *at = text;
    for (uint32_t count = 0; *at; at++) {
        if (!inside_character(*at) && count++ == characters)
            return text_format(arena, "%.*s...", (int)(at - text), text);
    }
    return text;
}

const char *name_read(Arena *arena, const char *name)
{
    if (!strchr(name, '_'))
        return name;
    char *read = arena_take(arena, strlen(name) + 1);
    for (size_t i = 0; name[i]; i++)
        read[i] = name[i] == '_' ? ' ' : name[i];
    return read;
}

const char *take_words(Canvas *canvas)
{
    Buffer *words = &canvas->words;
    char *text = arena_take(canvas->arena, words->length + 1);
    if (words->length)
        memcpy(text, words->bytes, words->length);
    words->length = 0;
    return text;
}
