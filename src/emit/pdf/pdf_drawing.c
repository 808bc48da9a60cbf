/* A drawing's display list by cairo, to look as in src/emit/svg.c, and its way onto pages. */
#include "draw/shading.h"

#include "base/sort.h"
#include "emit/pdf/pdf.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Blank margin of every drawing on each side, which the page has already; and its gutters beside the pictures. */
#define DRAWN_MARGIN 8.0
#define DRAWN_GUTTERS 46.0
/* Rows of a drawing closer than this share of its widest gap belong together. */
#define PARTING_GAP 0.75
/* Of a page; with so much room left a row is cut that is higher still. */
#define MOST_OF_PAGE 0.9

static Rows rows_of(const Shape *shape)
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
    Rows rows = rows_of(shape);
    cairo_pattern_t *light = cairo_pattern_create_linear(0, rows.top, 0, rows.bottom);
    for (int i = 0; i < SHADE_STOPS; i++) {
        double level = shade_stops[i].colour ? 1 : 0;
        cairo_pattern_add_color_stop_rgba(light, shade_stops[i].at, level, level, level, shade_stops[i].opacity);
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
    if (shape->shade == SHADE_CYLINDER)
        shade(paper, shape);
    cairo_new_path(paper->pen);
}

static void print_shape(Paper *paper, const Shape *shape)
{
    if (shape->kind == SHAPE_POLYGON) {
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

/* What a shape counts for; its light takes as long as so many points. */
static void count_shape(Paper *paper, const Shape *shape)
{
    enum { POINTS_OF_LIGHT = 40 };
    paper_count(paper, shape->kind == SHAPE_TEXT ? strlen(shape->text)
                                                 : shape->point_count + (shape->shade ? POINTS_OF_LIGHT : 0));
}

void paper_drawing(Paper *paper, const Drawing *drawing, double x, double y)
{
    for (uint32_t i = 0; paper->counting && i < drawing->shapes.count; i++)
        count_shape(paper, &drawing->shapes.items[i]);
    if (paper->counting)
        return;
    cairo_save(paper->pen);
    cairo_translate(paper->pen, x, y);
    cairo_set_line_join(paper->pen, CAIRO_LINE_JOIN_ROUND);
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        print_shape(paper, &drawing->shapes.items[i]);
    cairo_restore(paper->pen);
}

/* Whether the shape is in sight between top and bottom. */
static bool in_sight(const Figure *figure, uint32_t shape, double top, double bottom)
{
    return figure->rows[shape].bottom >= top && figure->rows[shape].top <= bottom;
}

/* The drawing's rows from top to bottom at paper->y. first: a shape before which none reaches so far down. */
static void print_slice(Paper *paper, const Figure *figure, uint32_t first, double top, double bottom)
{
    const Shape *shapes = figure->drawing->shapes.items;
    uint32_t end = first;
    while (end < figure->drawing->shapes.count && figure->reach[end].top <= bottom)
        end++;
    double height = (bottom - top) * figure->factor;
    for (uint32_t i = first; paper->counting && i < end; i++)
        if (in_sight(figure, i, top, bottom))
            count_shape(paper, &shapes[i]);
    if (!paper->counting) {
        cairo_save(paper->pen);
        cairo_rectangle(paper->pen, 0, paper->y, paper->width, height);
        cairo_clip(paper->pen);
        cairo_translate(paper->pen, paper->left, paper->y);
        cairo_scale(paper->pen, figure->factor, figure->factor);
        cairo_translate(paper->pen, -DRAWN_MARGIN, -top);
        cairo_set_line_join(paper->pen, CAIRO_LINE_JOIN_ROUND);
        for (uint32_t i = first; i < end; i++)
            if (in_sight(figure, i, top, bottom))
                print_shape(paper, &shapes[i]);
        cairo_restore(paper->pen);
    }
    paper->y += height;
}

static void find_rows(Arena *arena, Figure *figure)
{
    uint32_t count = figure->drawing->shapes.count;
    figure->rows = arena_take_many(arena, count, sizeof *figure->rows);
    figure->reach = arena_take_many(arena, count, sizeof *figure->reach);
    double bottom = -INFINITY, top = INFINITY;
    for (uint32_t i = figure->first; i < count; i++) {
        figure->rows[i] = rows_of(&figure->drawing->shapes.items[i]);
        figure->reach[i].bottom = bottom = fmax(bottom, figure->rows[i].bottom);
    }
    for (uint32_t i = count; i-- > figure->first;)
        figure->reach[i].top = top = fmin(top, figure->rows[i].top);
}

static int compare_rows(const void *a, const void *b)
{
    return ORDER(((const Rows *)a)->top, ((const Rows *)b)->top);
}

static void find_gaps(Arena *arena, Figure *figure)
{
    LIST_OF(Rows) rows = {0}, gaps = {0};
    double widest = 0;
    for (uint32_t i = figure->first; i < figure->drawing->shapes.count; i++)
        if (figure->rows[i].top <= figure->rows[i].bottom)
            *LIST_ADD(arena, &rows) = figure->rows[i];
    if (rows.count)
        qsort(rows.items, rows.count, sizeof *rows.items, compare_rows);
    for (uint32_t i = 1; i < rows.count; i++) {
        double filled = rows.items[i - 1].bottom, next = rows.items[i].top;
        if (next > filled) {
            *LIST_ADD(arena, &gaps) = (Rows){filled, next};
            widest = fmax(widest, next - filled);
        } else {
            rows.items[i].bottom = fmax(rows.items[i].bottom, filled);
        }
    }
    for (uint32_t i = 0; i < gaps.count; i++)
        if (gaps.items[i].bottom - gaps.items[i].top >= widest * PARTING_GAP)
            *LIST_ADD(arena, &figure->gaps) = gaps.items[i];
}

/* Where the part of the drawing ends that begins at `top` and has room for so much of it; `top` if no gap parts
 * it. gap: number of the first that lies below `top`. */
static double slice_end(const Figure *figure, uint32_t gap, double top, double room, double height)
{
    double end = top + room, parted = top;
    if (end >= height)
        return height;
    for (; gap < figure->gaps.count && figure->gaps.items[gap].top <= end; gap++)
        parted = fmin(end, (figure->gaps.items[gap].top + figure->gaps.items[gap].bottom) / 2);
    return parted;
}

void paper_figure(Paper *paper, const Figure *figure)
{
    double height = figure->drawing->height - DRAWN_MARGIN, page = paper->bottom - paper->top;
    uint32_t first = figure->first, gap = 0;
    for (double top = figure->top, end; top < height; top = end) {
        while (first < figure->drawing->shapes.count && figure->reach[first].bottom < top)
            first++;
        while (gap < figure->gaps.count && figure->gaps.items[gap].top <= top)
            gap++;
        double room = paper->bottom - paper->y;
        end = slice_end(figure, gap, top, room / figure->factor, height);
        if (end == top && room > page * MOST_OF_PAGE) /* no page has more room */
            end = fmin(height, top + room / figure->factor);
        print_slice(paper, figure, first, top, end);
        if (end < height)
            paper_break(paper);
    }
}

/* The title comes before the first line, which parts it from the first panel. */
static void leave_out_title(Figure *figure)
{
    const Drawing *drawing = figure->drawing;
    figure->top = drawing->height;
    for (figure->first = 0; figure->first < drawing->shapes.count; figure->first++)
        if (drawing->shapes.items[figure->first].kind == SHAPE_LINE) {
            figure->top = rows_of(&drawing->shapes.items[figure->first]).top;
            return;
        }
}

Figure figure_make(Arena *arena, const Plan *plan, uint32_t rod, double width)
{
    double room = width + 2 * DRAWN_MARGIN;
    double whole = rod_drawing_width(arena, plan, rod, VIEW_SIDE, 1), scale = 1;
    /* Letters keep their size where it is the pictures that are too wide. */
    if (whole > room)
        scale = (room - DRAWN_GUTTERS) / (whole - DRAWN_GUTTERS);
    if (scale < 1 && rod_drawing_width(arena, plan, rod, VIEW_SIDE, scale) >= whole)
        scale = 1;
    Figure figure = {.drawing = draw_rod(arena, plan, rod, VIEW_SIDE, scale), .factor = 1, .scale = scale};
    if (whole > room) { /* its margins shrink with it */
        figure.factor = fmin(1, width / (figure.drawing->width - 2 * DRAWN_MARGIN));
        figure.scale *= figure.factor;
    }
    leave_out_title(&figure);
    find_rows(arena, &figure);
    find_gaps(arena, &figure);
    return figure;
}
