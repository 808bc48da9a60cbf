/* Which strand shows at a point: of all that cover it, the leg that was laid last. */
#include "plan/crosswrap.h"

#include <math.h>

/* The passes of one leg that cover a point whose bundles' lines lie `across` away, one bundle after the other. */
typedef struct Look {
    const PlannedCrosswrap *planned;
    Leg leg;
    bool found;
    SeenStrand seen;
} Look;

static bool later(const SeenStrand *a, const SeenStrand *b)
{
    return a->pass != b->pass ? a->pass > b->pass : a->leg > b->leg;
}

/* A point that lies `across` from the line of this start's bundle. Strands are few enough to be tried one by
 * one: the last laid first. */
static void look_at_bundle(Look *look, uint32_t start, double across)
{
    const PlannedCrosswrap *planned = look->planned;
    for (uint32_t i = planned->strand_count; i-- > 0;) {
        const BundleStrand *strand = &planned->strands[i];
        SeenStrand here = {i * planned->starts + start, look->leg};
        if (look->found && !later(&here, &look->seen))
            return;
        if (strand->spacer || fabs(across - strand->middle) > strand->width / 2)
            continue;
        look->seen = here;
        look->found = true;
        return;
    }
}

CrosswrapSlice crosswrap_slice(const PlannedCrosswrap *planned, double x)
{
    CrosswrapSlice slice = {.planned = planned, .legs = leg_count(planned)};
    for (uint32_t leg = 0; leg < slice.legs; leg++) {
        slice.across[leg] = planned->lead[leg] * cos(crosswrap_angle(planned, (Leg)leg, x));
        slice.turns[leg] = crosswrap_turns_from_start(planned, (Leg)leg, x);
    }
    return slice;
}

/* Every winding of every bundle whose strands may reach the point. */
static void look_along(Look *look, const CrosswrapSlice *slice, double turn)
{
    const PlannedCrosswrap *planned = slice->planned;
    double along = slice->across[look->leg];
    double sign = (look->leg == LEG_OUT ? 1 : -1) * planned->sense * planned->direction;
    for (uint32_t start = 0; start < planned->starts; start++) {
        /* Turns by which the point lies off the line of the bundle, at the same x. */
        double off = crosswrap_base(planned, start) + slice->turns[look->leg] - turn;
        double across = sign * off * along, bottom = planned->bottom, top = planned->bottom + planned->width;
        double first = ceil((bottom - across) / along), last = floor((top - across) / along);
        for (double winding = first; winding <= last; winding++)
            look_at_bundle(look, start, across + winding * along);
    }
}

bool slice_shows(const CrosswrapSlice *slice, double turn, SeenStrand *seen)
{
    Look look = {.planned = slice->planned};
    for (uint32_t leg = 0; leg < slice->legs; leg++) {
        look.leg = (Leg)leg;
        look_along(&look, slice, turn);
    }
    *seen = look.seen;
    return look.found;
}

bool crosswrap_shows(const PlannedCrosswrap *planned, double x, double turn, SeenStrand *seen)
{
    CrosswrapSlice slice = crosswrap_slice(planned, x);
    return slice_shows(&slice, turn, seen);
}
