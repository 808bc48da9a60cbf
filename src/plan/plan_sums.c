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
