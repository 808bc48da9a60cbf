/* Inlays in their bands: which turns of the band each one takes the place of. */
#include "plan/layout.h"

#include "base/limits.h"
#include "base/sort.h"
#include "base/table.h"

#include <math.h>
#include <stdlib.h>

static double inlay_pitch(const Layout *layout, const Inlay *inlay)
{
    return turn_here(layout->learning, inlay->strands);
}

static double inlay_turns(const Layout *layout, const Inlay *inlay)
{
    return inlay->extent.kind == EXTENT_LENGTH ? turns_in_width(inlay->extent.amount, inlay_pitch(layout, inlay))
                                               : inlay->extent.amount;
}

/* The inlay's middle, in turns of the band from its start. */
static double middle(const Inlay *inlay, double at, double band_turns, double band_pitch)
{
#define TURNS(X) X(RATIO, (at * band_turns)) X(TURNS, at) X(LENGTH, at / band_pitch)
    const double turns[AT_COUNT] = {
#define X(name, number) [AT_##name] = number,
        TURNS(X)
#undef X
    };
    _Static_assert(TABLE_ROWS(TURNS) == AT_COUNT, "turns are reckoned from every kind of position");
    return turns[inlay->at_kind];
}

static PlacedInlay placed(const Layout *layout, const Inlay *inlay, double at, double band_turns,
                          double band_pitch)
{
    double turns = inlay_turns(layout, inlay);
    double stands_for = fmax(1, turns_in_width(turns * inlay_pitch(layout, inlay), band_pitch));
    double first = middle(inlay, at, band_turns, band_pitch) - stands_for / 2;
    first = round(first + copysign(1e-9, first)); /* a half that rounding has blurred counts as a half */
    return (PlacedInlay){inlay, first, stands_for, turns};
}

/* One that touches the one before it is set too, as the last, so that it is reported. */
static void place_every(Layout *layout, const Inlay *inlay, double turns, double pitch)
{
    double end = 0;
    for (double k = 1; layout->inlays.count < LIMIT_RUNS; k++) {
        PlacedInlay next = placed(layout, inlay, k * inlay->at, turns, pitch);
        if (next.first + next.stands_for > turns - 1)
            return;
        *LIST_ADD(layout->scratch, &layout->inlays) = next;
        if (next.first < end + 1)
            return;
        end = next.first + next.stands_for;
    }
}

static int by_first_turn(const void *left, const void *right)
{
    const PlacedInlay *a = left, *b = right;
    int order = ORDER(a->first, b->first);
    return order ? order : ORDER(a->inlay, b->inlay);
}

static double widening(const Layout *layout, const PlacedInlay *inlay, double pitch)
{
    return inlay->turns * inlay_pitch(layout, inlay->inlay) - inlay->stands_for * pitch;
}

double inlays_to_come(const Layout *layout, const PlacedInlay *inlays, uint32_t first, uint32_t count,
                      double pitch)
{
    Sum change = {0};
    for (uint32_t i = first; i < count; i++)
        sum_add(&change, widening(layout, &inlays[i], pitch));
    return sum_value(&change);
}

/* Those from number `first` on; where none of a layer is wound there is no list. */
static PlacedInlay *inlays_from(PlacedInlay *inlays, uint32_t first) { return inlays ? inlays + first : NULL; }

/* Of a band of which turns are made: inlays that are made stay where they are; where the band has other turns than
 * before, those to come are set anew. */
static double keep_made_inlays(Layout *layout, uint32_t index, uint32_t first, double pitch)
{
    const ItemMade *made = &layout->made.items[index];
    const ItemMeasure *last = &layout->made.last.measures[index];
    const PlacedInlay *before = inlays_from(layout->made.last.inlays, last->first_inlay);
    ItemMeasure *measure = &layout->measures[index];
    bool same = measure->turns == last->turns;
    uint32_t placed = layout->inlays.count - first, kept = same ? last->inlay_count : made->inlays;
    PlacedInlay *anew =
        arena_copy(layout->scratch, inlays_from(layout->inlays.items, first), placed * sizeof *anew);
    layout->inlays.count = first;
    for (uint32_t i = 0; i < kept; i++)
        *LIST_ADD(layout->scratch, &layout->inlays) = before[i];
    for (uint32_t i = 0; i < placed && !same; i++)
        if (anew[i].first > made->turns)
            *LIST_ADD(layout->scratch, &layout->inlays) = anew[i];
    measure->first_inlay = first;
    measure->inlay_count = layout->inlays.count - first;
    if (same)
        return 0;
    const PlacedInlay *now = inlays_from(layout->inlays.items, first);
    double change = inlays_to_come(layout, now, kept, measure->inlay_count, pitch);
    measure->width = made->width + (measure->turns - made->turns) * pitch + change;
    return change - inlays_to_come(layout, before, kept, last->inlay_count, pitch);
}

/* By how much the inlays of one band widen it: their own width less that of the turns they stand for. */
static double place_in_band(Layout *layout, uint32_t index)
{
    const Item *item = &layout->layer->layer->items[index];
    ItemMeasure *measure = &layout->measures[index];
    uint32_t first = layout->inlays.count;
    double pitch = item_pitch(layout, item);
    for (uint32_t i = 0; i < item->inlay_count; i++) {
        const Inlay *inlay = &item->inlays[i];
        if (inlay->every)
            place_every(layout, inlay, measure->turns, pitch);
        else
            *LIST_ADD(layout->scratch, &layout->inlays) = placed(layout, inlay, inlay->at, measure->turns, pitch);
    }
    measure->first_inlay = first;
    measure->inlay_count = layout->inlays.count - first;
    PlacedInlay *inlays = inlays_from(layout->inlays.items, first);
    if (measure->inlay_count > 1)
        qsort(inlays, measure->inlay_count, sizeof *inlays, by_first_turn);
    if (measure->stays)
        return keep_made_inlays(layout, index, first, pitch);
    double change = inlays_to_come(layout, inlays, 0, measure->inlay_count, pitch);
    measure->width = measure->turns * pitch + change;
    return change;
}

double place_inlays(Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    Sum change = {0};
    layout->inlays.count = 0;
    for (uint32_t i = 0; i < layer->item_count; i++)
        if (layer->items[i].kind == ITEM_BAND && layer->items[i].inlay_count)
            sum_add(&change, place_in_band(layout, i));
    return sum_value(&change);
}

/* Whether another inlay of the band is written with the same `at`, in a loop: then no one mend fits all. */
static bool written_once(const Item *item, const Inlay *inlay)
{
    for (uint32_t i = 0; i < item->inlay_count; i++)
        if (&item->inlays[i] != inlay && item->inlays[i].at_span.start == inlay->at_span.start
            && item->inlays[i].at_span.file == inlay->at_span.file)
            return false;
    return true;
}

/* A whole number of turns that sets an odd or even inlay at the same first turn: t - m/2 rounds up to it. */
static void mend_position(Layout *layout, Finding *finding, const Item *item, const PlacedInlay *inlay, double low,
                          double high)
{
    Arena *words = layout->findings->words;
    if (inlay->inlay->every && item->inlay_count == 1) {
        const char *period = show_turns(words, inlay->stands_for + 1);
        finding_mend(layout->findings, finding, "set them further apart: `every: %s` or more", period);
        finding_edit(layout->findings, finding, inlay->inlay->at_span, "%s", period);
    } else if (!inlay->inlay->every && low <= high && written_once(item, inlay->inlay)) {
        double first = fmax(low, fmin(high, inlay->first));
        const char *at = show_turns(words, first + floor(inlay->stands_for / 2));
        finding_mend(layout->findings, finding, "move its middle: write `at: %s`", at);
        finding_edit(layout->findings, finding, inlay->inlay->at_span, "%s", at);
    } else {
        finding_mend(layout->findings, finding, "make the band wider, or its inlays narrower or fewer");
    }
}

/* Turns of the band are counted from 1. */
static const char *turns_it_takes(Arena *words, const PlacedInlay *inlay, double band)
{
    double end = inlay->first + inlay->stands_for;
    if (inlay->first < 0)
        return text_format(words, "would begin %s before its band of", show_turns(words, -inlay->first));
    if (end > band)
        return text_format(words, "would end %s behind its band of", show_turns(words, end - band));
    return text_format(words, "would take turns %s to %s of a band of", show_number(words, inlay->first + 1, 0),
                       show_number(words, end, 0));
}

static void inlay_touches(Layout *layout, const Item *item, const ItemMeasure *measure, uint32_t index)
{
    Arena *words = layout->findings->words;
    const PlacedInlay *inlay = &layout->inlays.items[measure->first_inlay + index];
    const PlacedInlay *before = index > 0 ? inlay - 1 : NULL;
    const PlacedInlay *after = index + 1 < measure->inlay_count ? inlay + 1 : NULL;
    double low = before ? before->first + before->stands_for + 1 : 1;
    double high = fmin(after ? after->first : measure->turns, measure->turns) - 1 - inlay->stands_for;
    bool touches_before = before && inlay->first < low;
    Finding *finding =
        finding_add(layout->findings, FINDING_INLAYS_TOUCH, inlay->inlay->span, "this inlay %s %s",
                    turns_it_takes(words, inlay, measure->turns), show_turns(words, measure->turns));
    finding_label(layout->findings, finding, "no turn of the band is left %s",
                  touches_before     ? "between it and the inlay before"
                  : inlay->first < 1 ? "before it"
                                     : "after it");
    if (touches_before)
        finding_relate(layout->findings, finding, before->inlay->span, "the inlay before ends with turn %s",
                       show_number(words, low - 1, 0));
    else
        finding_relate(layout->findings, finding, item->extent.span, "the band has %s",
                       show_turns(words, measure->turns));
    mend_position(layout, finding, item, inlay, low, high);
}

/* At least one turn of the band before, between and after. One finding a band: the rest would follow. */
static bool band_inlays_fit(Layout *layout, const Item *item, const ItemMeasure *measure)
{
    double end = 0;
    for (uint32_t i = 0; i < measure->inlay_count; i++) {
        const PlacedInlay *inlay = &layout->inlays.items[measure->first_inlay + i];
        if (inlay->first < end + 1 || inlay->first + inlay->stands_for > measure->turns - 1) {
            inlay_touches(layout, item, measure, i);
            return false;
        }
        end = inlay->first + inlay->stands_for;
    }
    return true;
}

/* Whether its band ends before the first; of a band that is begun it was said before. */
static void check_first(Layout *layout, const Item *item, const ItemMeasure *measure, const Inlay *inlay)
{
    Arena *words = layout->findings->words;
    PlacedInlay would = placed(layout, inlay, inlay->at, measure->turns, item_pitch(layout, item));
    double last = measure->turns - 1 - would.stands_for;
    if (would.first <= last || measure->stays)
        return;
    const char *period = show_turns(words, last + floor(would.stands_for / 2));
    Finding *finding =
        finding_add(layout->findings, FINDING_INLAY_NOWHERE, inlay->span, "this inlay is not wound: it %s %s",
                    turns_it_takes(words, &would, measure->turns), show_turns(words, measure->turns));
    finding_relate(layout->findings, finding, item->extent.span, "the band has %s",
                   show_turns(words, measure->turns));
    if (last < 1) {
        finding_mend(layout->findings, finding, "make the band wider, or take the inlay out");
        return;
    }
    finding_mend(layout->findings, finding, "set it nearer: `every: %s` or less", period);
    finding_edit(layout->findings, finding, inlay->at_span, "%s", period);
}

bool inlays_fit(Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    bool good = true;
    for (uint32_t i = 0; i < layer->item_count; i++) {
        const Item *item = &layer->items[i];
        const ItemMeasure *measure = &layout->measures[i];
        good &= band_inlays_fit(layout, item, measure);
        for (uint32_t k = 0; k < item->inlay_count; k++)
            if (item->inlays[k].every)
                check_first(layout, item, measure, &item->inlays[k]);
    }
    return good;
}
