/* A drawing's display list by cairo, to look as in src/emit/svg.c. */
#include "draw/shading.h"

#include "emit/pdf/pdf.h"

#include <math.h>
#include <string.h>

Rows shape_rows(const Shape *shape)
{
    Rows rows = {INFINITY, -INFINITY};
    if (shape->kind == SHAPE_TEXT)
        return (Rows){shape->at.y - shape->size, shape->at.y + shape->size * 0.3};
    for (uint32_t i = 0; i < shape->point_count; i++) {
        rows.top = fmin(rows.top, shape->points[i].y);
        rows.bottom = fmax(rows.bottom, shape->points[i].y);
    }
    return rows;
}

/* A polygon with curved edges or several parts. */
static void trace_area(Paper *paper, const Shape *shape)
{
    const Point *at = shape->points;
    for (uint32_t i = 0; i < shape->trace_count; i++) {
        switch ((Trace)shape->traces[i]) {
        case TRACE_BEGIN:
            cairo_close_path(paper->pen);
            cairo_move_to(paper->pen, at->x, at->y);
            break;
        case TRACE_LINE: cairo_line_to(paper->pen, at->x, at->y); break;
        case TRACE_CURVE:
            cairo_curve_to(paper->pen, at[0].x, at[0].y, at[1].x, at[1].y, at[2].x, at[2].y);
            at += 2;
            break;
        }
        at++;
    }
}

static void trace(Paper *paper, const Shape *shape)
{
    if (shape->traces) {
        trace_area(paper, shape);
        return;
    }
    for (uint32_t i = 0; i < shape->point_count; i++)
        cairo_line_to(paper->pen, shape->points[i].x, shape->points[i].y);
}

static void stroke(Paper *paper, const Shape *shape)
{
    if (shape->stroke == NO_COLOUR)
        return;
    paper_source(paper, shape->stroke);
    paper_stroke_path(paper, shape->stroke_width, 0, 0);
}

static void shade(Paper *paper, const Shape *shape)
{
    Rows rows = shape_rows(shape);
    cairo_pattern_t *light = cairo_pattern_create_linear(0, rows.top, 0, rows.bottom);
    const Shading *shading = &shadings[shape->shade];
    for (uint32_t i = 0; i < shading->count; i++) {
        const ShadeStop *stop = &shading->stops[i];
        double level = stop->colour ? 1 : 0;
        cairo_pattern_add_color_stop_rgba(light, stop->at, level, level, level, stop->opacity);
    }
    cairo_set_source(paper->pen, light);
    cairo_pattern_destroy(light);
    cairo_fill_preserve(paper->pen);
}

static void print_polygon(Paper *paper, const Shape *shape)
{
    trace(paper, shape);
    cairo_close_path(paper->pen);
    if (shape->fill != NO_COLOUR) {
        paper_source(paper, shape->fill);
        cairo_fill_preserve(paper->pen);
    }
    stroke(paper, shape);
    if (shape->shade != SHADE_FLAT)
        shade(paper, shape);
    cairo_new_path(paper->pen);
}

static void clip_to(Paper *paper, const Clip *clip)
{
    for (; clip; clip = clip->within) {
        trace(paper, &clip->outline);
        cairo_close_path(paper->pen);
        cairo_clip(paper->pen);
    }
}

void paper_shape(Paper *paper, const Shape *shape)
{
    if (shape->clip) {
        Shape whole = *shape;
        whole.clip = NULL;
        cairo_save(paper->pen);
        clip_to(paper, shape->clip);
        paper_shape(paper, &whole);
        cairo_restore(paper->pen);
    } else if (shape->kind == SHAPE_POLYGON) {
        print_polygon(paper, shape);
    } else if (shape->kind == SHAPE_LINE) {
        trace(paper, shape);
        stroke(paper, shape);
        cairo_new_path(paper->pen);
    } else if (shape->kind == SHAPE_TEXT && shape->fill != NO_COLOUR) {
        Style style = {.points = shape->size / MM_PER_POINT, .colour = shape->fill, .align = shape->align};
        cairo_save(paper->pen);
        cairo_translate(paper->pen, shape->at.x, shape->at.y);
        cairo_rotate(paper->pen, -shape->turned * acos(-1) / 180);
        paper_words(paper, &style, 0, 0, shape->text);
        cairo_restore(paper->pen);
    }
}

void paper_count_shape(Paper *paper, const Shape *shape)
{
    enum { POINTS_OF_LIGHT = 40 }; /* which light takes as long as */
    paper_count(paper, shape->kind == SHAPE_TEXT ? strlen(shape->text)
                                                 : shape->point_count + (shape->shade ? POINTS_OF_LIGHT : 0));
    for (const Clip *clip = shape->clip; clip; clip = clip->within)
        paper_count(paper, clip->outline.point_count);
}

void paper_drawing(Paper *paper, const Drawing *drawing, double x, double y)
{
    for (uint32_t i = 0; paper->counting && i < drawing->shapes.count; i++)
        paper_count_shape(paper, &drawing->shapes.items[i]);
    if (paper->counting)
        return;
    cairo_save(paper->pen);
    cairo_translate(paper->pen, x, y);
    cairo_set_line_join(paper->pen, CAIRO_LINE_JOIN_ROUND);
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        paper_shape(paper, &drawing->shapes.items[i]);
    cairo_restore(paper->pen);
}
