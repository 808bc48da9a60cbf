#include "plan/measurings.h"

#include <math.h>

static bool item_is_measured(const PlannedItem *item)
{
    return item->item->kind == ITEM_BAND && item->turns >= MEASURED_TURNS;
}

/* The end of the next item that is measured there; UINT64_MAX if there is none. */
static uint64_t next_band_end(Measurings *measurings)
{
    const PlannedLayer *layer = measurings->layer;
    while (measurings->item < layer->item_count) {
        const PlannedItem *item = &layer->items[measurings->item];
        uint64_t end = measurings->item_end + item->turns;
        if (item_is_measured(item) && end > measurings->turn)
            return end;
        measurings->item_end = end;
        measurings->item++;
    }
    return UINT64_MAX;
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
        if (end > turn && (item_is_measured(item) || ends_wrap(layer, measurings->stop_item)))
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

bool measurings_next(Measurings *measurings)
{
    uint64_t end = next_band_end(measurings), between = next_between(measurings);
    uint64_t turn = end < between ? end : between;
    if (turn == UINT64_MAX)
        return false;
    measurings->turn = turn;
    return true;
}

uint64_t few_turns(const Bench *bench)
{
    double few = fmin(FEW_TURNS, bench->pack - 1);
    return (uint64_t)(isnan(bench->measure) ? few : fmax(0, fmin(few, floor((bench->measure - 2) / 2))));
}
