#include "plan/measurings.h"

#include <math.h>

/* A band that is long enough to be packed for itself at its end. */
static bool is_packed(const PlannedItem *item)
{
    return item->item->kind == ITEM_BAND && item->turns >= MEASURED_TURNS;
}

static bool gives(const PlannedItem *item)
{
    ExtentKind kind = item->item->extent.kind;
    return item->item->kind == ITEM_BAND && item->turns && (kind == EXTENT_FILL || kind == EXTENT_LENGTH);
}

/* The turn, or one near it that is not a few turns from where a band is packed at its end. */
static uint64_t clear_of_packing(const Measurings *measurings, uint64_t turn)
{
    uint64_t end = 0;
    for (uint32_t i = 0; i < measurings->layer->item_count; i++) {
        const PlannedItem *item = &measurings->layer->items[i];
        end += item->turns;
        if (!is_packed(item))
            continue;
        if (end > turn && end - turn <= measurings->few)
            return end - measurings->few - 1;
        if (end < turn && turn - end <= measurings->few)
            return end;
    }
    return turn;
}

/* Where to measure for the band that ends there: 0 if too little is wound by then. The last one that gives is
 * measured for all the same where it is short: then the one before it is. */
static uint64_t for_band(const Measurings *measurings, uint64_t end, uint64_t turns)
{
    return turns < measurings->ahead + MEASURED_TURNS ? 0 : end - measurings->ahead;
}

static bool is_hardly_known(const Strands *strands)
{
    for (uint32_t i = 0; strands && i < strands->count; i++)
        if (strands->items[i].thread->uncertainty >= HARDLY_KNOWN)
            return true;
    return false;
}

/* Where to measure early in a band that gives and begins there: 0 if it is too short for that, or its thread
 * known.
 */
static uint64_t early_in_band(const Measurings *measurings, const PlannedItem *item, uint64_t begin)
{
    bool room = item->turns >= EARLY_TURNS + measurings->ahead + MEASURED_TURNS;
    return room && is_hardly_known(item->item->strands) ? begin + EARLY_TURNS : 0;
}

static uint64_t turns_made(const PlannedLayer *layer)
{
    uint64_t made = 0;
    for (uint32_t i = 0; i < layer->run_count && layer->runs[i].made; i++)
        made += layer->runs[i].turns;
    return made;
}

Measurings measurings_start(const PlannedLayer *layer, const Bench *bench)
{
    Measurings measurings = {.layer = layer,
                             .every = bench->measure,
                             .few = few_turns(bench),
                             .ahead = (uint64_t)ceil(fmax(bench->final, bench->bind)) + TURNS_TO_CORRECT,
                             .read = turns_made(layer),
                             .last = layer->item_count};
    uint64_t end = 0, end_of_last = layer->turns;
    for (uint32_t i = 0; i < layer->item_count; i++) {
        end += layer->items[i].turns;
        if (gives(&layer->items[i])) {
            measurings.last = i;
            end_of_last = end;
        }
    }
    uint64_t late = for_band(&measurings, end_of_last, end_of_last);
    measurings.late = late ? clear_of_packing(&measurings, late) : 0;
    return measurings;
}

/* The next one for a band; the layer's turns if there is none. Where it was measured a few turns before, that will
 * do. */
static uint64_t next_for_band(Measurings *measurings)
{
    const PlannedLayer *layer = measurings->layer;
    uint64_t done = measurings->turn + measurings->few;
    for (; measurings->item < layer->item_count; measurings->item++) {
        const PlannedItem *item = &layer->items[measurings->item];
        uint64_t end = measurings->item_end + item->turns;
        uint64_t early = gives(item) ? early_in_band(measurings, item, measurings->item_end) : 0;
        if (early > done)
            return early;
        bool last = measurings->item == measurings->last;
        uint64_t turn = last ? measurings->late : gives(item) ? for_band(measurings, end, item->turns) : 0;
        if (turn > done)
            return turn;
        measurings->item_end = end;
    }
    bool none_gives = measurings->last == layer->item_count;
    return none_gives && measurings->late > done ? measurings->late : layer->turns;
}

static bool ends_wrap(const PlannedLayer *layer, uint32_t item)
{
    return item + 1 == layer->item_count || layer->items[item + 1].item->kind == ITEM_GAP;
}

/* The end of the first wrap or measured band behind this turn: there it is packed. The layer's end at the latest.
 */
static uint64_t next_stop(Measurings *measurings, uint64_t turn)
{
    const PlannedLayer *layer = measurings->layer;
    for (; measurings->stop_item < layer->item_count; measurings->stop_item++) {
        const PlannedItem *item = &layer->items[measurings->stop_item];
        uint64_t end = measurings->stop_end + item->turns;
        if (end > turn && (is_packed(item) || ends_wrap(layer, measurings->stop_item)))
            return end;
        measurings->stop_end = end;
        if (ends_wrap(layer, measurings->stop_item))
            measurings->wrap_begin = end;
    }
    return layer->turns;
}

/* So many turns after the last one, or somewhat fewer where that would be a few turns before it is packed anyway:
 * where its wrap has only begun, at the end of the one before it. */
static uint64_t next_between(Measurings *measurings)
{
    if (isnan(measurings->every))
        return UINT64_MAX;
    uint64_t turn = measurings->turn + (uint64_t)measurings->every;
    if (turn >= measurings->layer->turns)
        return UINT64_MAX;
    uint64_t stop = next_stop(measurings, turn);
    if (stop - turn > measurings->few)
        return turn;
    uint64_t before = stop - measurings->few - 1, begin = measurings->wrap_begin;
    return begin > measurings->turn && before <= begin + measurings->few ? begin : before;
}

/* A crosswrap's bands stand at the ends of a length that is set out, with its strands between them: they are not
 * measured. */
static bool next_measuring(Measurings *measurings)
{
    const PlannedLayer *layer = measurings->layer;
    if (layer->crosswrap)
        return false;
    bool end = layer->turns >= MEASURED_TURNS && layer->turns > measurings->turn;
    uint64_t turn = next_for_band(measurings), between = next_between(measurings);
    if (between > measurings->turn && between < turn)
        turn = between;
    if (turn >= layer->turns && !end)
        return false;
    measurings->turn = turn;
    return true;
}

bool measurings_next(Measurings *measurings)
{
    while (next_measuring(measurings)) {
        uint64_t turn = measurings->turn;
        if (turn <= measurings->read || turn > measurings->read + measurings->few
            || turn == measurings->layer->turns)
            return true;
    }
    return false;
}

uint64_t few_turns(const Bench *bench)
{
    double few = fmin(FEW_TURNS, bench->pack - 1);
    return (uint64_t)(isnan(bench->measure) ? few : fmax(0, fmin(few, floor((bench->measure - 2) / 2))));
}
