/* Planned again: a band is finished, and measures otherwise than planned. Its turns and those before it stay as
 * they were planned; the fills after it take up the difference. What moves all the same is told. */
#include "plan/layout.h"

#include <math.h>

/* A measured width beyond these shares of the planned one is taken for a slip of the pen: common practice, no
 * source. */
#define LEAST_SHARE 0.5
#define MOST_SHARE 2.0

/* The measured width given from outside for the layer at hand, or NULL. */
static const Measured *given_for_layer(const Layout *layout)
{
    const Measured *given = &layout->job->measured;
    bool here = given->given && given->rod == (uint32_t)(layout->rod - layout->plan->rods)
                && given->place == (uint32_t)(layout->place - layout->rod->places)
                && given->layer == (uint32_t)(layout->layer - layout->place->layers)
                && given->item < layout->layer->layer->item_count;
    return here ? given : NULL;
}

/* How many items are finished: up to the last one with a measured width. */
static uint32_t finished_items(const Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    const Measured *given = given_for_layer(layout);
    uint32_t finished = given ? given->item + 1 : 0;
    for (uint32_t i = finished; i < layer->item_count; i++)
        if (layer->items[i].measured > 0)
            finished = i + 1;
    return finished;
}

static bool lay_out_plainly(Layout *layout)
{
    if (!measure_items(layout))
        return false;
    bool fills = fills_left(layout);
    if (fills && (isnan(layout->layer->length) || !fill_layer(layout)))
        return false;
    if (!fills)
        place_inlays(layout);
    return true;
}

void plan_before_measuring(Layout *layout)
{
    uint32_t finished = finished_items(layout);
    layout->finished = 0;
    if (!finished)
        return;
    /* Findings of the first plan would only be told twice. */
    Findings *findings = layout->findings, unheard;
    findings_start_unheard(&unheard, findings);
    layout->findings = &unheard;
    bool good = lay_out_plainly(layout);
    layout->findings = findings;
    if (!good)
        return;
    uint32_t count = layout->layer->layer->item_count;
    layout->before = arena_copy(layout->scratch, layout->measures, count * sizeof *layout->before);
    layout->inlays_before =
        arena_copy(layout->scratch, layout->inlays.items, layout->inlays.count * sizeof *layout->inlays_before);
    layout->finished = finished;
}

/* false after a finding: the width cannot be meant. */
static bool plausible(Layout *layout, const Item *item, Span span, double measured, double planned)
{
    if (measured >= LEAST_SHARE * planned && measured <= MOST_SHARE * planned)
        return true;
    Arena *words = layout->findings->words;
    UnitSystem units = layout->job->bench.units;
    const char *shown = show_length(words, units, planned);
    Finding *finding = finding_add(layout->findings, FINDING_OUT_OF_RANGE, span.end ? span : item->span,
                                   "this band cannot measure %s", show_length(words, units, measured));
    finding_label(layout->findings, finding, "it is planned %s wide", shown);
    finding_mend(layout->findings, finding, "measure again; the width should be near %s", shown);
    if (span.end)
        finding_edit(layout->findings, finding, span, "%s",
                     write_length(words, width_writing(layout, span), planned));
    return false;
}

bool restore_finished(Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    const Measured *given = given_for_layer(layout);
    bool good = true;
    double width = 0;
    for (uint32_t i = 0; i < layout->finished; i++) {
        const Item *item = &layer->items[i];
        ItemMeasure *measure = &layout->measures[i];
        *measure = layout->before[i];
        measure->finished = true;
        double measured = given && given->item == i ? given->width - width : item->measured;
        bool is_measured = item->measured > 0 || (given && given->item == i);
        if (is_measured && (good &= plausible(layout, item, item->measured_span, measured, measure->width))) {
            measure->stretch = measured / measure->width;
            measure->width = measured;
        }
        width += measure->width;
    }
    return good;
}

/* The middle of an inlay from the layer's start, where its item starts at `start`. */
static double inlay_middle(const Item *item, const ItemMeasure *measure, const PlacedInlay *inlay, double start)
{
    double middle = (inlay->first + inlay->stands_for / 2) * item_pitch(item);
    return start + (item->reversed ? measure->width - middle : middle);
}

static Finding *tell_moved(Layout *layout, Span span, const char *what, double moved, const char *mend)
{
    UnitSystem units = layout->job->bench.units;
    Finding *finding =
        finding_add(layout->findings, FINDING_MARK_MOVED, span, "%s moves by %s, more than one turn", what,
                    show_length(layout->findings->words, units, fabs(moved)));
    finding_label(layout->findings, finding, "%s than planned",
                  moved > 0 ? "further from the mark" : "nearer to the mark");
    finding_mend(layout->findings, finding, "%s", mend);
    return finding;
}

static void compare_inlays(Layout *layout, uint32_t index, double start, double start_before)
{
    const Item *item = &layout->layer->layer->items[index];
    const ItemMeasure *now = &layout->measures[index], *before = &layout->before[index];
    for (uint32_t i = 0; i < now->inlay_count && now->inlay_count == before->inlay_count; i++) {
        const PlacedInlay *inlay = &layout->inlays.items[now->first_inlay + i];
        double moved = inlay_middle(item, now, inlay, start)
                       - inlay_middle(item, before, &layout->inlays_before[before->first_inlay + i], start_before);
        if (fabs(moved) > item_pitch(item) + LAYOUT_SLACK)
            tell_moved(layout, inlay->inlay->span, "this inlay", moved,
                       "if it must stay where it was, give the fill before it a fixed number of turns");
    }
}

static bool comes_from(const Layer *layers, uint32_t count, Span extent, Span but)
{
    for (uint32_t l = 0; l < count; l++)
        for (uint32_t i = 0; i < layers[l].item_count && !same_span(layers[l].span, but); i++)
            if (same_span(layers[l].items[i].extent.span, extent))
                return true;
    return false;
}

/* Whether a layer that is written elsewhere has the band too, out of a pattern that both call: there a fill may
 * have no length, or be another width. */
static bool in_another_layer(const Layout *layout, const Item *band)
{
    Span extent = band->extent.span, here = layout->layer->layer->span;
    for (uint32_t r = 0; r < layout->job->rod_count; r++) {
        const Rod *rod = &layout->job->rods[r];
        for (uint32_t i = 0; i < rod->place_count; i++) {
            const Place *place = &rod->places[i];
            if (comes_from(place->layers, place->layer_count, extent, here)
                || comes_from(place->tip_layers, place->tip_layer_count, extent, here))
                return true;
        }
    }
    return false;
}

static void compare_end(Layout *layout, double moved)
{
    const Layer *layer = layout->layer->layer;
    const Item *last = NULL;
    for (uint32_t i = layout->finished; i < layer->item_count; i++)
        if (layer->items[i].kind == ITEM_BAND)
            last = &layer->items[i];
    double turn = last ? item_pitch(last) : item_pitch(&layer->items[layout->finished - 1]);
    if (!(fabs(moved) > turn + LAYOUT_SLACK))
        return;
    Finding *finding = tell_moved(layout, layer->span, "the end of this wrap", moved,
                                  "make a band after the measured one a `fill`: it takes up the difference");
    if (finding_is_kept(finding) && last && !isnan(layout->layer->length)
        && (last->extent.kind == EXTENT_TURNS || last->extent.kind == EXTENT_LENGTH)
        && !in_another_layer(layout, last))
        finding_edit(layout->findings, finding, last->extent.span, "fill");
}

void compare_with_before(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    double start = 0, start_before = 0;
    LIST_OF(Replanned) changes = {0};
    for (uint32_t i = 0; i < layer->layer->item_count; i++) {
        const ItemMeasure *now = &layout->measures[i], *before = &layout->before[i];
        if (i >= layout->finished)
            compare_inlays(layout, i, start, start_before);
        if (now->turns != before->turns || now->stretch > 0)
            *LIST_ADD(layout->arena, &changes) =
                (Replanned){i, (uint32_t)before->turns, (uint32_t)now->turns, before->width, now->width};
        start += now->width;
        start_before += before->width;
    }
    layer->changes = changes.items;
    layer->change_count = changes.count;
    layer->moved = start - start_before;
    compare_end(layout, layer->moved);
    layout->finished = 0;
}
