#include "draw/picture/through.h"

#include <math.h>

static void draw_bare(Canvas *canvas, const Frame *frame, const Surface *surface, const OutlineCut *cut,
                      double low, double high, uint32_t colour)
{
    if (low >= high)
        return;
    Outline outline = surface_outline(canvas->arena, surface, cut, low, high, 0);
    draw_outline(canvas, frame, &outline, colour, SHADE_FLAT);
}

void draw_blank(Canvas *canvas, const Frame *frame, const Surface *surface, const OutlineCut *cut, double low,
                double high)
{
    const Rod *rod = canvas->rod->rod;
    if (rod->section_count < 2)
        draw_bare(canvas, frame, surface, cut, low, high, rod->blank->colour);
    for (uint32_t i = 0; rod->section_count > 1 && i < rod->section_count; i++) {
        double from = i ? rod->sections[i].start : -INFINITY;
        double to = i + 1 < rod->section_count ? rod->sections[i].end : INFINITY;
        draw_bare(canvas, frame, surface, cut, fmax(low, from), fmin(high, to), rod->sections[i].blank->colour);
    }
    for (uint32_t i = 0; i < rod->part_count; i++) {
        const Part *part = &rod->parts[i];
        if (part->wrapped && part->coloured)
            draw_bare(canvas, frame, surface, cut, fmax(low, part->start), fmin(high, part->end), part->colour);
    }
}

/* What is below, between two places along the axis alone. */
static void draw_below_within(Canvas *canvas, const Below *below, double one, double other)
{
    double low = canvas->shown_low, high = canvas->shown_high;
    canvas->shown_low = fmax(low, fmin(one, other));
    canvas->shown_high = fmin(high, fmax(one, other));
    if (canvas->shown_low < canvas->shown_high)
        draw_below(canvas, below);
    canvas->shown_low = low;
    canvas->shown_high = high;
}

/* The blank, or the wraps that the place lies on. */
static void draw_base(Canvas *canvas, const Below *below)
{
    if (below->host) {
        Below host = *below;
        host.place = below->host;
        host.host = NULL;
        host.layers = host.place->layer_count;
        draw_below(canvas, &host);
        return;
    }
    draw_blank(canvas, below->frame, below->surface, &below->cut, canvas->shown_low, canvas->shown_high);
}

/* Nothing below is seen past the run, though it may be through it. */
static bool covers(const Run *run)
{
    for (uint32_t i = 0; run->strands && i < run->strands->count; i++)
        if (run->strands->items[i].spacer)
            return false;
    return run->strands != NULL;
}

/* Where the layer's runs leave it bare. What shows through a run is drawn with that. */
static void draw_left_bare(Canvas *canvas, const Below *below, const PlannedLayer *layer)
{
    int direction = below->place->direction;
    double at = direction > 0 ? canvas->shown_low : canvas->shown_high;
    double end = direction > 0 ? canvas->shown_high : canvas->shown_low;
    uint32_t i = runs_before(canvas, below->place, layer);
    for (; i < layer->run_count && (layer->runs[i].start - end) * direction < 0; i++) {
        const Run *run = &layer->runs[i];
        if (!covers(run))
            continue;
        if ((run->start - at) * direction > 0)
            draw_below_within(canvas, below, at, run->start);
        at = run->end;
    }
    if ((end - at) * direction > 0)
        draw_below_within(canvas, below, at, end);
}

void draw_below(Canvas *canvas, const Below *below)
{
    if (!below->layers) {
        draw_base(canvas, below);
    } else {
        Below next = *below;
        next.layers--;
        const PlannedLayer *layer = &below->place->layers[next.layers];
        draw_left_bare(canvas, &next, layer);
        draw_layer_on(canvas, &next, 0);
    }
    if (below->place->foot >= 0 && below->layers == first_over(below->place))
        draw_foot(canvas, below->frame, below->surface, below->place);
}

void draw_through(Canvas *canvas, const Below *below, uint32_t colour, double opacity, double from, double to)
{
    Tint tint = {colour, opacity, canvas->tint};
    bool backdrop = canvas->backdrop;
    canvas->tint = &tint;
    canvas->backdrop = true;
    draw_below_within(canvas, below, from, to);
    canvas->tint = tint.over;
    canvas->backdrop = backdrop;
}

void draw_thread_area(Canvas *canvas, const Below *below, uint32_t colour, double opacity, double from, double to)
{
    if (opacity >= 1) {
        draw_area(canvas, colour, NO_COLOUR, 0);
        return;
    }
    const Clip *clip = canvas->clip;
    if (!canvas->area.points.count)
        return;
    clip_start(canvas);
    draw_through(canvas, below, colour, opacity, from, to);
    canvas->clip = clip;
}
