#include "draw/rod/stretch.h"

#include "base/sort.h"
#include "draw/picture/sheen.h"
#include "draw/picture/through.h"
#include "draw/rod/field.h"
#include "draw/rod/mean.h"

#include <math.h>
#include <stdlib.h>

/* Light follows a taper in slices, each of which is at most so many times as thick at one end: by eye. */
#define SLICE_TAPER 1.05
/* On the ramp of a foot of a small picture. */
enum { FEWEST_SLICES = 2, USUAL_SLICES = 16 };
#define SLICE_SEEN 0.5 /* page mm */

typedef struct RodStretch {
    RodPage *page;
    Canvas *canvas;
    const Frame *frame;
    double low, high;
    Cells cells;
    PlaceView whole; /* from low to high, without places */
    PartsSeen parts; /* of the rod */
} RodStretch;

/* What lies in the stretch; nothing where low is not below high. */
static double within(const RodStretch *stretch, double x) { return fmin(fmax(x, stretch->low), stretch->high); }

/* Of the blank from low to high; of a view's places no further than they go, since a rod may have many. */
static Surface surface_of(const RodStretch *stretch, const PlaceView *view, double low, double high)
{
    const PlannedPlace *host = view ? view->places[0].host : NULL;
    Surface surface;
    surface_start(&surface, stretch->canvas->arena, stretch->canvas->rod->surface, host,
                  view ? view->places : NULL, view ? view->count : 0, low, high);
    return surface;
}

static void draw_tube(const RodStretch *stretch)
{
    Surface surface = surface_of(stretch, NULL, stretch->low, stretch->high);
    draw_blank(stretch->canvas, stretch->frame, &surface, &(OutlineCut){0}, stretch->low, stretch->high);
    draw_parts_below(stretch->canvas, stretch->frame, &stretch->whole, &surface, &stretch->parts);
}

/* --- wraps whose turns are too narrow to be seen --- */

/* The cells that something was wound in since they were cleared, neighbours of one colour as one. */
static void draw_cells(RodStretch *stretch, const Surface *surface, const OutlineCut *cut)
{
    Cells *cells = &stretch->cells;
    for (uint32_t i = 0, end; i < cells->count; i = end) {
        end = i + 1;
        if (!cells->wound[i])
            continue;
        uint32_t colour = cell_colour(cells, i);
        while (end < cells->count && cells->wound[end] && cell_colour(cells, end) == colour)
            end++;
        double from = within(stretch, cells->low + i * cells->step);
        double to = within(stretch, cells->low + end * cells->step);
        if (from >= to)
            continue;
        Outline outline = surface_outline(stretch->canvas->arena, surface, cut, from, to, 0);
        draw_outline(stretch->canvas, stretch->frame, &outline, colour, SHADE_FLAT);
    }
    cells_clear(cells);
}

static void draw_strands(RodStretch *stretch, const Surface *surface, const PlannedPlace *place, uint32_t layer)
{
    Canvas *canvas = stretch->canvas;
    const PlannedCrosswrap *planned = place->layers[layer].crosswrap;
    Below below = {stretch->frame, surface, surface->host, place, layer, {place, 1, UINT32_MAX, 0, false, 0}};
    double low = within(stretch, fmin(planned->field_start, planned->field_end));
    double high = within(stretch, fmax(planned->field_start, planned->field_end));
    if (stretch->page->exact && field_is_fine(planned, stretch->frame, stretch->page->pixel)) {
        draw_field(canvas, stretch->frame, surface, &below.cut, planned, &stretch->cells, low, high);
        return;
    }
    canvas->shown_low = low;
    canvas->shown_high = high;
    draw_crosswrap(canvas, &below, 0);
    canvas->shown_low = stretch->low;
    canvas->shown_high = stretch->high;
}

static void draw_mean_place(RodStretch *stretch, const Surface *surface, const PlannedPlace *place)
{
    Canvas *canvas = stretch->canvas;
    bool footed = false;
    for (uint32_t i = 0; i < place->layer_count; i++) {
        OutlineCut cut = {place, 1, i, 0, footed, canvas->lean};
        if (place->foot >= 0 && place->layers[i].layer->over && !footed) {
            draw_cells(stretch, surface, &cut);
            draw_foot(canvas, stretch->frame, surface, place);
            footed = true;
        }
        cells_wind(&stretch->cells, &place->layers[i]);
        if (place->layers[i].crosswrap) {
            draw_cells(stretch, surface, &cut);
            draw_strands(stretch, surface, place, i);
        }
    }
    draw_cells(stretch, surface, &(OutlineCut){place, 1, UINT32_MAX, 0, footed, canvas->lean});
    if (place->foot >= 0 && !footed)
        draw_foot(canvas, stretch->frame, surface, place);
}

/* --- all wraps --- */

static bool is_within(const RodStretch *stretch, const PlaceView *view)
{
    const PlaceView *near_by = stretch->page->near_by;
    bool upon = near_by && view->places[0].host == near_by->places;
    return view->inner_low < stretch->high && view->inner_high > stretch->low && !upon;
}

/* Between the strands of a crosswrap the blank shows up to the edges of the finished wrap. */
static void draw_ground(const RodStretch *stretch, const Surface *surface, const PlaceView *view)
{
    double low = within(stretch, view->inner_low), high = within(stretch, view->inner_high);
    if (!has_crosswrap(view->places) || view->places[0].foot >= 0 || low >= high)
        return;
    OutlineCut all = {view->places, 1, UINT32_MAX, 0, false, 0};
    draw_blank(stretch->canvas, stretch->frame, surface, &all, low, high);
}

static void draw_wraps(RodStretch *stretch, const PlaceView *view)
{
    double cell = stretch->page->pixel / stretch->frame->scale; /* those at the edges may go on so far */
    Surface surface =
        surface_of(stretch, view, within(stretch, view->low - cell), within(stretch, view->high + cell));
    draw_ground(stretch, &surface, view);
    stretch->canvas->lean = view->places[0].foot >= 0 ? guide_lean(view->places, stretch->frame->facing) : 0;
    for (uint32_t i = 0; i < view->count; i++)
        if (turns_are_fine(&view->places[i], stretch->frame->scale, stretch->page->pixel)
            && !shows_crosswrap_below(&view->places[i]))
            draw_mean_place(stretch, &surface, &view->places[i]);
        else
            draw_place(stretch->canvas, stretch->frame, &surface, &view->places[i]);
}

/* Of those whose rings stand in the stretch. */
static void draw_guides(const RodStretch *stretch, bool behind)
{
    const RodPage *page = stretch->page;
    for (uint32_t i = 0; i < page->view_count; i++) {
        const PlaceView *view = &page->views[i];
        double ring = view->places[0].place->mark;
        if (view->places[0].foot >= 0 && is_within(stretch, view) && ring >= stretch->low && ring <= stretch->high
            && guide_is_behind(view->places, stretch->frame->facing) == behind)
            draw_guide(stretch->canvas, stretch->frame, view->places);
    }
}

/* --- light --- */

/* On a stretch of the bare blank, which tapers. */
static void light_tube(const RodStretch *stretch, double from, double to)
{
    const Blank *blank = stretch->canvas->rod->surface;
    double begin = blank_diameter_beside(blank, from, (from + to) / 2);
    double ratio = begin / blank_diameter_beside(blank, to, (from + to) / 2);
    double slices = fmax(1, ceil(fabs(log(ratio)) / log(SLICE_TAPER)));
    Surface surface = surface_of(stretch, NULL, from, to);
    for (double i = 0; i < slices; i++) {
        OutlineCut bare = {0};
        double at = from + (to - from) * i / slices, end = from + (to - from) * (i + 1) / slices;
        while (at < end) {
            SheenStretch one = sheen_from(stretch->canvas, NULL, 0, at, end);
            Outline outline = surface_outline(stretch->canvas->arena, &surface, &bare, at, one.end, 0);
            draw_outline(stretch->canvas, stretch->frame, &outline, NO_COLOUR, shade_of(one.sheen));
            at = one.end;
        }
    }
}

/* view: whose wraps are on top there; NULL for the blank. */
static void light(const RodStretch *stretch, const PlaceView *view, double from, double to)
{
    from = within(stretch, from);
    to = within(stretch, to);
    if (from >= to)
        return;
    if (!view) {
        light_tube(stretch, from, to);
        return;
    }
    PlaceView part = *view;
    part.low = from;
    part.high = to;
    Surface surface = surface_of(stretch, view, from, to);
    stretch->canvas->lean = view->places[0].foot >= 0 ? guide_lean(view->places, stretch->frame->facing) : 0;
    double ramp = view->places[0].foot >= 0 ? view->places[0].place->guide->ramp * stretch->frame->scale : 0;
    stretch->canvas->ramp_slices = (uint32_t)fmin(fmax(ceil(ramp / SLICE_SEEN), FEWEST_SLICES), USUAL_SLICES);
    draw_light(stretch->canvas, stretch->frame, &part, &surface);
    stretch->canvas->ramp_slices = USUAL_SLICES;
}

static int by_low(const void *one, const void *other)
{
    const PlaceView *a = *(const PlaceView *const *)one, *b = *(const PlaceView *const *)other;
    return a->inner_low != b->inner_low     ? ORDER(a->inner_low, b->inner_low)
           : a->inner_high != b->inner_high ? ORDER(b->inner_high, a->inner_high)
                                            : ORDER(a, b);
}

/* From butt to tip; wraps that lie on others, as a guide on a crosswrap, have their own light, and the others go
 * on behind them. */
static void draw_all_light(const RodStretch *stretch)
{
    const RodPage *page = stretch->page;
    const PlaceView **sorted = arena_take_many(page->canvas->arena, page->view_count, sizeof *sorted);
    const PlaceView **below = arena_take_many(page->canvas->arena, page->view_count, sizeof *below);
    uint32_t count = 0, depth = 0;
    double at = stretch->low;
    for (uint32_t i = 0; i < page->view_count; i++)
        if (is_within(stretch, &page->views[i]))
            sorted[count++] = &page->views[i];
    if (count)
        qsort(sorted, count, sizeof *sorted, by_low);
    for (uint32_t i = 0; i <= count; i++) {
        double next = i < count ? sorted[i]->inner_low : stretch->high;
        while (depth && below[depth - 1]->inner_high <= next) {
            const PlaceView *ends = below[--depth];
            light(stretch, ends, at, ends->inner_high);
            at = fmax(at, ends->inner_high);
        }
        light(stretch, depth ? below[depth - 1] : NULL, at, next);
        at = fmax(at, next);
        if (i < count)
            below[depth++] = sorted[i];
    }
    if (depth)
        light(stretch, below[depth - 1], at, stretch->high);
}

void draw_stretch(RodPage *page, const Frame *frame, double low, double high)
{
    Canvas *canvas = page->canvas;
    PlaceView whole = {.low = low, .high = high};
    RodStretch stretch = {page,  canvas,
                          frame, low,
                          high,  cells_make(canvas->arena, frame, low, high, page->pixel),
                          whole, parts_seen(canvas, &whole)};
    for (uint32_t i = 0; i < bare_span_count(canvas->rod->rod); i++) {
        BareSpan span = bare_span(canvas->rod->rod, i);
        cells_lay(&stretch.cells, span.low, span.high, span.colour);
    }
    double scale = canvas->scale;
    canvas->scale = frame->scale;
    canvas->backdrop = true;
    canvas->shown_low = low;
    canvas->shown_high = high;
    draw_guides(&stretch, true);
    draw_tube(&stretch);
    for (uint32_t i = 0; i < page->view_count; i++)
        if (is_within(&stretch, &page->views[i]))
            draw_wraps(&stretch, &page->views[i]);
    draw_all_light(&stretch);
    draw_parts_above(canvas, frame, &whole, &stretch.parts);
    draw_guides(&stretch, false);
    canvas->shown_low = -INFINITY;
    canvas->shown_high = INFINITY;
    canvas->backdrop = false;
    canvas->scale = scale;
    canvas->lean = 0;
}
