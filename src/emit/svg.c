/* SVG 1.1: one drawing as a picture without scripts and without anything from outside. */
#include "base/line_map.h"
#include "base/table.h"
#include "draw/shading.h"
#include "emit/emit.h"
#include "emit/svg_pen.h"

/* Of an element's words and numbers, texts and path data apart. */
enum { ELEMENT_ROOM = 320 };

/* What is being written: a file of its own, or a picture within a page. */
typedef struct Picture {
    SvgPen pen;
    const Drawing *drawing;
    const char *prefix; /* of every id; empty for a file of its own */
    size_t prefix_length;
    const Clip *clip; /* the innermost of those that are open, each in a group of its own; NULL for none */
} Picture;

static void put_prefix(Picture *picture) { svg_bytes(&picture->pen, picture->prefix, picture->prefix_length); }

/* "c12": by its number, so that the same drawing has the same ones. */
static void put_clip_id(Picture *picture, const Clip *clip)
{
    put_prefix(picture);
    SVG_PUT(&picture->pen, "c");
    svg_number(&picture->pen, clip->number);
}

static void put_clips(Picture *picture)
{
    SvgPen *pen = &picture->pen;
    for (uint32_t i = 0; i < picture->drawing->clips.count; i++) {
        svg_room(pen, ELEMENT_ROOM);
        SVG_PUT(pen, "<clipPath id=\"");
        put_clip_id(picture, picture->drawing->clips.items[i]);
        SVG_PUT(pen, "\"><path");
        svg_path(pen, &picture->drawing->clips.items[i]->outline);
        SVG_PUT(pen, "/></clipPath>\n");
    }
}

static bool lies_within(const Clip *clip, const Clip *outer)
{
    while (clip && clip != outer)
        clip = clip->within;
    return clip == outer;
}

static void open_clip(Picture *picture, const Clip *clip)
{
    if (clip == picture->clip)
        return;
    open_clip(picture, clip->within);
    SvgPen *pen = &picture->pen;
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "<g clip-path=\"url(#");
    put_clip_id(picture, clip);
    SVG_PUT(pen, ")\">\n");
}

/* What follows is seen within this one. */
static void put_clip(Picture *picture, const Clip *clip)
{
    for (; !lies_within(clip, picture->clip); picture->clip = picture->clip->within) {
        svg_room(&picture->pen, ELEMENT_ROOM);
        SVG_PUT(&picture->pen, "</g>\n");
    }
    open_clip(picture, clip);
    picture->clip = clip;
}

static void put_colour(SvgPen *pen, const char *name, uint32_t colour)
{
    svg_bytes(pen, name, strlen(name));
    svg_colour(pen, colour);
    SVG_PUT(pen, "\"");
}

static void put_stroke(SvgPen *pen, const Shape *shape)
{
    if (shape->stroke == NO_COLOUR)
        return;
    put_colour(pen, " stroke=\"", shape->stroke);
    SVG_NUMBER(pen, "stroke-width", shape->stroke_width);
}

static void put_shading_id(SvgPen *pen, const Shading *shading)
{
    SVG_PUT(pen, "cylinder");
    svg_bytes(pen, shading->name, strlen(shading->name));
}

static void put_shade(Picture *picture, const Shape *shape)
{
    SvgPen *pen = &picture->pen;
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "<path fill=\"url(#");
    put_prefix(picture);
    put_shading_id(pen, &shadings[shape->shade]);
    SVG_PUT(pen, ")\" pointer-events=\"none\"");
    svg_path(pen, shape);
    SVG_PUT(pen, "/>\n");
}

static void put_polygon(Picture *picture, const Shape *shape)
{
    SvgPen *pen = &picture->pen;
    if (shape->fill != NO_COLOUR || shape->stroke != NO_COLOUR || shape->shade == SHADE_FLAT) {
        svg_room(pen, ELEMENT_ROOM);
        put_colour(pen, "<path fill=\"", shape->fill);
        put_stroke(pen, shape);
        svg_path(pen, shape);
        SVG_PUT(pen, "/>\n");
    }
    if (shape->shade != SHADE_FLAT)
        put_shade(picture, shape);
}

static void put_line(SvgPen *pen, const Shape *shape)
{
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "<path fill=\"none\"");
    put_stroke(pen, shape);
    svg_path(pen, shape);
    SVG_PUT(pen, "/>\n");
}

static void put_turn(SvgPen *pen, const Shape *shape)
{
    if (shape->turned == 0)
        return;
    SVG_PUT(pen, " transform=\"rotate(");
    svg_number(pen, -shape->turned);
    SVG_PUT(pen, " ");
    svg_number(pen, shape->at.x);
    SVG_PUT(pen, " ");
    svg_number(pen, shape->at.y);
    SVG_PUT(pen, ")\"");
}

#define ANCHORS(X) X(START, "") X(MIDDLE, " text-anchor=\"middle\"") X(END, " text-anchor=\"end\"")
_Static_assert(TABLE_ROWS(ANCHORS) == ALIGN_COUNT, "text is anchored however it is aligned");

static void put_words(SvgPen *pen, const Shape *shape)
{
    static const char *const anchors[ALIGN_COUNT] = {
#define X(name, anchor) [ALIGN_##name] = anchor,
        ANCHORS(X)
#undef X
    };
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "<text");
    SVG_NUMBER(pen, "x", shape->at.x);
    SVG_NUMBER(pen, "y", shape->at.y);
    SVG_NUMBER(pen, "font-size", shape->size);
    svg_bytes(pen, anchors[shape->align], strlen(anchors[shape->align]));
    put_turn(pen, shape);
    put_colour(pen, " fill=\"", shape->fill);
    SVG_PUT(pen, ">");
    svg_text(pen, shape->text, false);
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "</text>\n");
}

static void put_source(SvgPen *pen, const LineMap *lines, const Shape *shape, uint32_t line)
{
    SVG_NUMBER(pen, "data-line", line);
    SVG_PUT(pen, " data-file=\"");
    svg_text(pen, line_map_source(lines, shape->span)->path, true);
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "\"");
}

static void put_group(Picture *picture, const Shape *shape)
{
    SvgPen *pen = &picture->pen;
    LineMap *lines = picture->drawing->lines;
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "<g");
    if (shape->id) {
        SVG_PUT(pen, " id=\"");
        put_prefix(picture);
        SVG_PUT(pen, "t");
        write_hex(pen->at, shape->id);
        pen->at += 16;
        SVG_PUT(pen, "\" class=\"run");
        if (shape->strand_line)
            SVG_PUT(pen, " strands");
        SVG_PUT(pen, "\"");
    }
    uint32_t line = *picture->prefix ? 0 : line_map_line(lines, shape->span);
    if (line)
        put_source(pen, lines, shape, line);
    SVG_PUT(pen, "><title>");
    svg_text(pen, shape->text, false);
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "</title>");
}

static void put_shading(Picture *picture, const Shading *shading)
{
    SvgPen *pen = &picture->pen;
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "<linearGradient id=\"");
    put_prefix(picture);
    put_shading_id(pen, shading);
    SVG_PUT(pen, "\" x1=\"0\" y1=\"0\" x2=\"0\" y2=\"1\">");
    for (uint32_t i = 0; i < shading->count; i++) {
        const ShadeStop *stop = &shading->stops[i];
        svg_room(pen, ELEMENT_ROOM);
        SVG_PUT(pen, "<stop");
        SVG_NUMBER(pen, "offset", stop->at);
        SVG_PUT(pen, " stop-color=\"#");
        svg_bytes(pen, stop->colour ? "fff" : "000", 3);
        SVG_PUT(pen, "\"");
        SVG_NUMBER(pen, "stop-opacity", stop->opacity);
        SVG_PUT(pen, "/>");
    }
    SVG_PUT(pen, "</linearGradient>");
}

/* That of gloss, and all others that the drawing has. */
static void put_shadings(Picture *picture)
{
    bool used[SHADE_COUNT] = {[SHADE_CYLINDER] = true};
    for (uint32_t i = 0; i < picture->drawing->shapes.count; i++)
        used[picture->drawing->shapes.items[i].shade] = true;
    for (int i = SHADE_CYLINDER; i < SHADE_COUNT; i++)
        if (used[i])
            put_shading(picture, &shadings[i]);
}

static void put_size(SvgPen *pen, const Drawing *drawing)
{
    SVG_PUT(pen, " width=\"");
    svg_number(pen, drawing->width);
    SVG_PUT(pen, "mm\" height=\"");
    svg_number(pen, drawing->height);
    SVG_PUT(pen, "mm\" viewBox=\"0 0 ");
    svg_number(pen, drawing->width);
    SVG_PUT(pen, " ");
    svg_number(pen, drawing->height);
    SVG_PUT(pen, "\"");
}

static void put_head(Picture *picture)
{
    SvgPen *pen = &picture->pen;
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" role=\"img\"");
    put_size(pen, picture->drawing);
    SVG_PUT(pen, " font-family=\"sans-serif\" stroke-linejoin=\"round\">\n<title>");
    svg_text(pen, picture->drawing->title, false);
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "</title>\n<desc>");
    svg_text(pen, picture->drawing->description, false);
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "</desc>\n<defs>");
    put_shadings(picture);
    put_clips(picture);
    svg_room(pen, ELEMENT_ROOM);
    SVG_PUT(pen, "</defs>\n");
}

static void put_shape(Picture *picture, const Shape *shape)
{
    put_clip(picture, shape->clip);
    switch (shape->kind) {
    case SHAPE_POLYGON: put_polygon(picture, shape); break;
    case SHAPE_LINE: put_line(&picture->pen, shape); break;
    case SHAPE_TEXT: put_words(&picture->pen, shape); break;
    case SHAPE_GROUP_START: put_group(picture, shape); break;
    case SHAPE_GROUP_END: SVG_PUT(&picture->pen, "</g>\n"); break;
    }
}

/* About as many bytes as are written: so the buffer seldom grows, for which all has to be copied. */
static size_t likely_size(const Drawing *drawing)
{
    size_t size = ELEMENT_ROOM;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        size += ELEMENT_ROOM / 2 + 12 * (size_t)drawing->shapes.items[i].point_count;
    return size;
}

void emit_svg_element(Buffer *out, const Drawing *drawing, const char *prefix)
{
    Picture picture = {.pen = {out, buffer_room(out, likely_size(drawing))},
                       .drawing = drawing,
                       .prefix = prefix,
                       .prefix_length = strlen(prefix)};
    put_head(&picture);
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        put_shape(&picture, &drawing->shapes.items[i]);
    put_clip(&picture, NULL);
    SVG_PUT(&picture.pen, "</svg>\n");
    svg_end(&picture.pen);
}

void emit_svg(Buffer *out, const Drawing *drawing)
{
    buffer_text(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    emit_svg_element(out, drawing, "");
}
