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

bool measurings_next(Measurings *measurings)
{
    uint64_t end = next_band_end(measurings);
    uint64_t between = isnan(measurings->every) ? UINT64_MAX : measurings->turn + (uint64_t)measurings->every;
    if (between >= measurings->layer->turns)
        between = UINT64_MAX;
    uint64_t turn = end < between ? end : between;
    if (turn == UINT64_MAX)
        return false;
    measurings->turn = turn;
    return true;
}
