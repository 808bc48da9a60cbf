#include "plan/plan_sums.h"

#include <math.h>

bool any_crosswrap(const Plan *plan)
{
    for (uint32_t r = 0; r < plan->rod_count; r++)
        if (rod_has_crosswrap(&plan->rods[r]))
            return true;
    return false;
}

double from_datum(const PlannedPlace *place, double x) { return (x - place->start) * place->direction; }
double width_error(const PlannedItem *item) { return item->obtained - item->asked; }
double run_width(const Run *run) { return fabs(run->end - run->start); }
double need_length(const Need *need) { return need->wound + need->ends; }

double piece_length(const Piece *piece) { return piece->wound + piece->tags + piece->beneath + piece->free; }

double legs_length(const PlannedCrosswrap *planned)
{
    double length = 0;
    for (uint32_t i = 0; i < planned->pass_count; i++)
        length += planned->passes[i].length[LEG_OUT] + planned->passes[i].length[LEG_BACK];
    return length;
}

LegRange leg_range(const PlannedCrosswrap *planned, Leg leg, uint32_t first, uint32_t end)
{
    LegRange range = {planned->passes[first].length[leg], planned->passes[first].length[leg]};
    for (uint32_t i = first + 1; i < end; i++) {
        range.shortest = fmin(range.shortest, planned->passes[i].length[leg]);
        range.longest = fmax(range.longest, planned->passes[i].length[leg]);
    }
    return range;
}
