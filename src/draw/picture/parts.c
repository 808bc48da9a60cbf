/* Parts of the rod and notes on it in the view of a place near them. */
#include "base/sort.h"
#include "draw/picture/place_view.h"
#include "draw/shading.h"

#include <math.h>
#include <stdlib.h>

/* Height of a row, page mm at true scale, and characters of what is said there. */
#define PART_ROW 3.2
enum { PART_CHARACTERS = 60 };

static bool has_length(const Part *part) { return part->end > part->start; }

/* Nothing lies on it, and it stands out from the blank. */
static bool is_above(const Part *part) { return has_length(part) && part->diameter_count && !part->wrapped; }

static int in_source_order(const void *left, const void *right)
{
    return ORDER(*(const Part *const *)left, *(const Part *const *)right);
}

static double radius_between(const Canvas *canvas, const Part *part, double low, double high)
{
    double from = fmax(low, part->start), to = fmin(high, part->end);
    double radius =
        fmax(part_diameter(canvas->rod->rod, part, from), part_diameter(canvas->rod->rod, part, to)) / 2;
    for (uint32_t i = 0; i < part->diameter_count; i++)
        if (part_knot(part, i) > from && part_knot(part, i) < to)
            radius = fmax(radius, part->diameters[i] / 2);
    return radius;
}

PartsSeen parts_seen(Canvas *canvas, const PlaceView *place_view)
{
    const PlannedRod *rod = canvas->rod;
    double low = place_view->low, high = place_view->high;
    uint32_t first = part_end_from(rod, low), end = first;
    while (end < rod->part_end_count && rod->part_ends[end].at <= high)
        end++;
    PartsSeen seen = {.items = arena_take_many(canvas->arena, (size_t)(end - first) + 1, sizeof(const Part *))};
    const Part *over = part_over(rod, low, high);
    if (over && has_length(over) && over->start < low && over->end > high)
        seen.items[seen.count++] = over;
    for (uint32_t i = first; i < end; i++) {
        const PartEnd *one = &rod->part_ends[i];
        bool met = one->at_tip && one->part->start >= low; /* with its other end */
        bool outside = has_length(one->part) && (one->at_tip ? one->at <= low : one->at >= high);
        if (!met && !outside)
            seen.items[seen.count++] = one->part;
    }
    if (seen.count)
        qsort(seen.items, seen.count, sizeof *seen.items, in_source_order);
    for (uint32_t i = 0; i < seen.count; i++)
        if (is_above(seen.items[i]))
            seen.radius = fmax(seen.radius, radius_between(canvas, seen.items[i], low, high));
    return seen;
}

static void add_edge(const Canvas *canvas, Outline *outline, const Part *part, double x)
{
    double radius = part_diameter(canvas->rod->rod, part, x) / 2;
    outline->edges[outline->count++] = (OutlineEdge){x, radius, radius};
}

/* Of a part with a diameter, as far as the view shows it. */
static Outline outline_of(const Canvas *canvas, const PlaceView *place_view, const Part *part)
{
    double from = fmax(place_view->low, part->start), to = fmin(place_view->high, part->end);
    Outline outline = {arena_take_many(canvas->arena, (size_t)part->diameter_count + 2, sizeof *outline.edges), 0};
    add_edge(canvas, &outline, part, from);
    for (uint32_t i = 0; i < part->diameter_count; i++)
        if (part_knot(part, i) > from && part_knot(part, i) < to)
            add_edge(canvas, &outline, part, part_knot(part, i));
    add_edge(canvas, &outline, part, to);
    return outline;
}

static void draw_edge(Canvas *canvas)
{
    Shape *shape = &canvas->drawing->shapes.items[canvas->drawing->shapes.count - 1];
    shape->stroke = PALE_INK;
    shape->stroke_width = PEN_FINE;
}

void draw_parts_below(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface,
                      const PartsSeen *parts)
{
    for (uint32_t i = 0; i < parts->count; i++) {
        const Part *part = parts->items[i];
        if (!has_length(part) || is_above(part) || (part->wrapped && part->coloured)) /* drawn with the blank */
            continue;
        OutlineCut bare = {0};
        double from = fmax(place_view->low, part->start), to = fmin(place_view->high, part->end);
        Outline outline = part->diameter_count ? outline_of(canvas, place_view, part)
                                               : surface_outline(canvas->arena, surface, &bare, from, to, 0);
        bool flat = !part->diameter_count && !part->coloured;
        draw_outline(canvas, frame, &outline,
                     part->coloured ? part->colour
                     : flat         ? NO_COLOUR
                                    : PLAIN_PART,
                     SHADE_FLAT);
        if (flat)
            draw_edge(canvas);
    }
}

void draw_parts_above(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const PartsSeen *parts)
{
    for (uint32_t i = 0; i < parts->count; i++) {
        const Part *part = parts->items[i];
        if (!is_above(part))
            continue;
        Outline outline = outline_of(canvas, place_view, part);
        draw_outline(canvas, frame, &outline, part->coloured ? part->colour : PLAIN_PART, SHADE_FLAT);
        if (canvas->view == VIEW_SIDE)
            draw_outline(canvas, frame, &outline, NO_COLOUR, shade_of(part->sheen));
    }
}

const char *part_label(Canvas *canvas, const Part *part)
{
    buffer_text(&canvas->words, name_read(canvas->arena, part->name->bytes));
    if (part->note)
        buffer_format(&canvas->words, ": %s", part->note->bytes);
    return fitted(canvas->arena, take_words(canvas), PART_CHARACTERS);
}

double draw_part_rows(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const PartsSeen *parts,
                      double y)
{
    double height = PART_ROW * canvas->type, size = LETTERS_SMALL * canvas->type;
    for (uint32_t i = 0; i < parts->count; i++, y += height) {
        const Part *part = parts->items[i];
        double left = frame_x(frame, fmax(place_view->low, part->start));
        double right = frame_x(frame, fmin(place_view->high, part->end)), top = y + 0.5 * canvas->type;
        draw_line(canvas, left, top, right, top, GREY_INK, PEN);
        if (part->start >= place_view->low) /* an end that the view does not show has no tick */
            draw_line(canvas, left, y, left, top + 0.5 * canvas->type, GREY_INK, PEN);
        if (part->end <= place_view->high)
            draw_line(canvas, right, y, right, top + 0.5 * canvas->type, GREY_INK, PEN);
        /* Written toward the middle of the view, where there is more room. */
        bool leftward = left + right > frame_x(frame, place_view->low) + frame_x(frame, place_view->high);
        draw_text(canvas, leftward ? right : left, top + size * 0.95, size, leftward ? ALIGN_END : ALIGN_START,
                  GREY_INK, part_label(canvas, part));
    }
    return y;
}
