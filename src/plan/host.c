/* Places that lie on the crosswrap of a place worked before: a guide on a decorated butt, say. */
#include "plan/layout.h"

#include <math.h>

/* The crosswrap of the place that is longest; NULL without. */
static const PlannedCrosswrap *crosswrap_of(const PlannedPlace *place)
{
    const PlannedCrosswrap *longest = NULL;
    for (uint32_t l = 0; l < place->layer_count; l++) {
        const PlannedCrosswrap *one = place->layers[l].crosswrap;
        if (one && (!longest || one->high - one->low > longest->high - longest->low))
            longest = one;
    }
    return longest;
}

void lie_on_host(Layout *layout)
{
    PlannedPlace *place = layout->place;
    place->host = NULL;
    uint64_t hosts = layout->hosts.count;
    if (hosts > layout->reckoning_left)
        return;   /* the limit is reported by the place's first layer */
    layout->reckoning_left -= hosts;
    for (uint32_t i = 0; i < layout->hosts.count && !place->host; i++) {
        const PlannedPlace *host = &layout->rod->places[layout->hosts.items[i]];
        const PlannedCrosswrap *crosswrap = crosswrap_of(host);
        double start = place->foot >= 0 ? place->foot_tip : place->start;
        if (host->place != place->place && start > crosswrap->low - LAYOUT_SLACK
            && start < crosswrap->high + LAYOUT_SLACK)
            place->host = host;
    }
    for (uint32_t l = 0; place->host && l < place->host->layer_count; l++)
        if (place->host->layers[l].laid)
            profile_add_other(layout, &layout->under, &place->host->layers[l], place->host->direction);
}

bool stays_on_host(const PlannedPlace *place, double low, double high)
{
    if (!place->host)
        return false;
    const PlannedCrosswrap *crosswrap = crosswrap_of(place->host);
    return low >= crosswrap->low - LAYOUT_SLACK && high <= crosswrap->high + LAYOUT_SLACK;
}
