#include "check/check.h"

static bool untold(const Findings *findings, Cause cause, Span span, Span *at)
{
    *at = span;
    return !cause_is_told(findings, cause);
}

bool anything_lost(const Plan *plan, const Findings *findings, Span *at)
{
    *at = findings->untold_at;
    if (findings->untold)
        return true;
    for (uint32_t i = 0; i < plan->rod_count; i++) {
        const PlannedRod *planned = &plan->rods[i];
        const Rod *rod = planned->rod;
        if ((rod->cause || !rod->blank) && untold(findings, rod->cause, rod->span, at))
            return true;
        for (uint32_t j = 0; j < planned->place_count; j++) {
            const PlannedPlace *place = &planned->places[j];
            if (place->place->cause && untold(findings, place->place->cause, place->place->span, at))
                return true;
            for (uint32_t k = 0; k < place->layer_count; k++) {
                const PlannedLayer *layer = &place->layers[k];
                if ((!layer->laid || layer->cause) && untold(findings, layer->cause, layer->layer->span, at))
                    return true;
            }
        }
    }
    return false;
}
