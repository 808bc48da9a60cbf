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

/* To whole steps of so many mm: the last digit that a page prints. Thread to cut or buy is rounded up. */
typedef struct Rounding {
    double step;
    bool up;
} Rounding;
double rounded(double mm, Rounding rounding);
/* For people: to 0.01 m or 0.01 yd, as show_thread_length prints it. */
Rounding rounding_of_thread(UnitSystem system);
/* For programs: to 0.000001 mm. */
Rounding rounding_of_programs(void);
/* The plan's needs as a page prints them: each piece rounded, the rest added up from these, so that whatever is
 * printed adds up. places like Plan.needs, totals like Plan.totals. */
typedef struct RoundedNeeds {
    Need *places, *totals;
} RoundedNeeds;
/* What the stock, rounded down to what is printed, leaves of a rounded need; negative: it is short by so much. NAN
 * without a stock. */
double stock_left(const Need *need, Rounding rounding);
RoundedNeeds rounded_needs(Arena *arena, const Plan *plan, Rounding rounding);

#endif
