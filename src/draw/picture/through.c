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

uint32_t bare_span_count(const Rod *rod)
{
    return (rod->section_count ? rod->section_count : 1) + rod->part_count;
}

BareSpan bare_span(const Rod *rod, uint32_t number)
{
    uint32_t blanks = bare_span_count(rod) - rod->part_count;
    if (number >= blanks) {
        const Part *part = &rod->parts[number - blanks];
        bool shows = part->wrapped && part->coloured;
        return (BareSpan){part->start, shows ? part->end : part->start, part->colour};
    }
    if (blanks == 1)
        return (BareSpan){-INFINITY, INFINITY, rod->blank->colour};
    const Section *section = &rod->sections[number];
    return (BareSpan){number ? section->start : -INFINITY, number + 1 < blanks ? section->end : INFINITY,
                      section->blank->colour};
}

void draw_blank(Canvas *canvas, const Frame *frame, const Surface *surface, const OutlineCut *cut, double low,
                double high)
{
    const Rod *rod = canvas->rod->rod;
    for (uint32_t i = 0; i < bare_span_count(rod); i++) {
        BareSpan span = bare_span(rod, i);
        draw_bare(canvas, frame, surface, cut, fmax(low, span.low), fmin(high, span.high), span.colour);
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
