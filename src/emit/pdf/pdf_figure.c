/* A rod's drawing on its way onto pages. */
#include "emit/pdf/pdf.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

/* Blank margin of every drawing, which the page has below it already. */
#define DRAWN_MARGIN 8.0
/* Turns of a whole rod that are finer than a printer's dots are drawn as their mean: 300 dots an inch. */
#define DOTS_A_MM (300 / 25.4)
/* Rows of a drawing closer than this share of its widest gap belong together. */
#define PARTING_GAP 0.3
/* Of a page; with so much room left a row is cut that is higher still. */
#define MOST_OF_PAGE 0.9

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
            paper_count_shape(paper, &shapes[i]);
    if (!paper->counting) {
        cairo_save(paper->pen);
        cairo_rectangle(paper->pen, 0, paper->y, paper->width, height);
        cairo_clip(paper->pen);
        cairo_translate(paper->pen, paper->left + figure->indent, paper->y);
        cairo_scale(paper->pen, figure->factor, figure->factor);
        cairo_translate(paper->pen, 0, -top);
        cairo_set_line_join(paper->pen, CAIRO_LINE_JOIN_ROUND);
        for (uint32_t i = first; i < end; i++)
            if (in_sight(figure, i, top, bottom))
                paper_shape(paper, &shapes[i]);
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
        figure->rows[i] = shape_rows(&figure->drawing->shapes.items[i]);
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

static void leave_out_title(Arena *arena, Figure *figure)
{
    const Drawing *drawing = figure->drawing;
    figure->first = drawing->body;
    find_rows(arena, figure);
    find_gaps(arena, figure);
    figure->top = figure->first < drawing->shapes.count ? figure->reach[figure->first].top : drawing->height;
}

/* Its margins stay: in them numbers stand, and lines run to what is shown from near by. */
Figure whole_figure_make(Arena *arena, const Plan *plan, uint32_t rod, double width)
{
    double scale = width / rod_drawing_width(arena, plan, rod, VIEW_ROD, 1);
    Figure figure = {.indent = 0};
    figure.drawing =
        draw_in_pixels(arena, plan, rod, ALL_SECTIONS, VIEW_ROD, scale, NAN, width * DOTS_A_MM, VISION_ALL_CONES);
    figure.factor = width / figure.drawing->width;
    leave_out_title(arena, &figure);
    return figure;
}

double figure_height(const Figure *figure)
{
    return fmax(0, figure->drawing->height - DRAWN_MARGIN - figure->top) * figure->factor;
}

void figure_fit(Figure *figure, double share)
{
    figure->indent += figure->drawing->width * figure->factor * (1 - share) / 2;
    figure->factor *= share;
}
