/* What a reader of the plan would work out by eye: sums of lengths, widths, places from the datum. Lengths in mm.
 */
#ifndef TURNLAY_PLAN_PLAN_SUMS_H
#define TURNLAY_PLAN_PLAN_SUMS_H

#include "plan/plan.h"

/* Whether one of the rods has a crosswrap. */
bool any_crosswrap(const Plan *plan);
/* mm from where the place begins, counted in working direction, of x mm from the butt. */
double from_datum(const PlannedPlace *place, double x);
/* Obtained less asked width in mm, NAN where no width was asked for. */
double width_error(const PlannedItem *item);
double run_width(const Run *run);
/* Of the thread to cut, or to take from the spool: wound turns, tags and ends, what lies beneath and what stays
 * free. */
double piece_length(const Piece *piece);
double need_length(const Need *need);
/* Thread of all legs of a crosswrap, without the ways round. */
double legs_length(const PlannedCrosswrap *planned);
/* Shortest and longest leg of passes first to end - 1, which are at least one. */
typedef struct LegRange {
    double shortest, longest;
} LegRange;
LegRange leg_range(const PlannedCrosswrap *planned, Leg leg, uint32_t first, uint32_t end);

#endif
