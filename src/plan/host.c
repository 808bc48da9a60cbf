/* Places that lie on the crosswrap of a place worked before: a guide on a decorated butt, say. */
#include "plan/layout.h"

#include <math.h>

bool has_crosswrap(const PlannedPlace *place)
{
    for (uint32_t l = 0; l < place->layer_count; l++)
        if (place->layers[l].crosswrap)
            return true;
    return false;
}

bool rod_has_crosswrap(const PlannedRod *rod)
{
    for (uint32_t p = 0; p < rod->place_count; p++)
        if (has_crosswrap(&rod->places[p]))
            return true;
    return false;
}

/* Whether the stretch lies within a crosswrap of the place. */
static bool holds(const PlannedPlace *place, double low, double high)
{
    for (uint32_t l = 0; l < place->layer_count; l++) {
        const PlannedCrosswrap *one = place->layers[l].crosswrap;
        if (one && low >= one->low - LAYOUT_SLACK && high <= one->high + LAYOUT_SLACK)
            return true;
    }
    return false;
}

/* What is judged before the place's layers are laid: its foot, or the first of its way. */
static bool begins_on(const PlannedPlace *host, const PlannedPlace *place)
{
    double start = place->foot >= 0 ? place->foot_tip : place->start;
    double next = start + place->direction * 2 * LAYOUT_SLACK;
    return host->place != place->place && holds(host, fmin(start, next), fmax(start, next));
}

/* At 0 the place's first layer reports the limit. */
bool takes_steps(Layout *layout, uint64_t steps)
{
    bool enough = steps < layout->reckoning_left;
    layout->reckoning_left = enough ? layout->reckoning_left - steps : 0;
    return enough;
}

void find_host(Layout *layout)
{
    PlannedPlace *place = layout->place;
    place->host = NULL;
    for (uint32_t i = layout->hosts.count; i-- > 0 && !place->host && layout->reckoning_left;) {
        const PlannedPlace *host = &layout->rod->places[layout->hosts.items[i]];
        if (takes_steps(layout, 1) && begins_on(host, place))
            place->host = host;
    }
}

void lie_on_host(Layout *layout)
{
    for (const PlannedPlace *host = layout->place->host; host && layout->reckoning_left; host = host->host)
        for (uint32_t l = 0; l < host->layer_count; l++)
            if (host->layers[l].laid && takes_steps(layout, layout->under.count + host->layers[l].surface_count))
                profile_add_other(layout, &layout->under, &host->layers[l], host->direction);
}

bool stays_on_host(const PlannedPlace *place, double low, double high)
{
    return place->host && holds(place->host, low, high);
}
