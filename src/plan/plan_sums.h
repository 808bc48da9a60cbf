/* What a reader of the plan would work out by eye: sums of lengths, widths, places from the datum. Lengths in mm.
 */
#ifndef TURNLAY_PLAN_PLAN_SUMS_H
#define TURNLAY_PLAN_PLAN_SUMS_H

#include "plan/plan.h"

/* Whether one of the rods has a crosswrap. */
bool any_crosswrap(const Plan *plan);
/* Whether some piece is on a bobbin. */
bool any_bobbin(const Plan *plan);
/* mm from where the place begins, counted in working direction, of x mm from the butt. */
double from_datum(const PlannedPlace *place, double x);
/* Of the thread to cut, or to take from the spool: wound turns, tags and ends, what lies beneath and what stays
 * free. */
double piece_length(const Piece *piece);
/* mm that a hand has to manage of it: none of one that stays on its spool, or on a bobbin. */
double length_in_hand(const Piece *piece);
double run_width(const Run *run);
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
/* To the last digit of a width. */
Rounding rounding_of_lengths(UnitSystem system);
/* For programs: to 0.000001 mm. */
Rounding rounding_of_programs(void);
/* The plan's needs as a page prints them: each piece rounded, the rest added up from these, so that whatever is
 * printed adds up. places like Plan.needs, totals like Plan.totals. */
typedef struct RoundedNeeds {
    Need *places, *totals;
} RoundedNeeds;
RoundedNeeds rounded_needs(Arena *arena, const Plan *plan, Rounding rounding);
/* A piece's tags, ends, what lies beneath and what stays free, as it goes into these sums. */
double rounded_ends(const Piece *piece, Rounding rounding);
/* For what others are held against, a stock or a limit: down where rounded goes up, so that what is beyond it also
 * reads so. */
double rounded_down(double mm, Rounding rounding);
/* What the stock, rounded down where needs are rounded up, leaves of a rounded need; negative: it is short by so
 * much. NAN without a stock. */
double stock_left(const Need *need, Rounding rounding);

/* What all spools to buy cost together, in the builder's money; NAN where no thread has a price. And what
 * is not in it: how many threads are to be bought without a spool or price, and how many pieces are longer than
 * their thread's spool. */
typedef struct CostInAll {
    double cost;
    uint32_t not_known, too_long;
} CostInAll;

CostInAll cost_in_all(const Plan *plan);

/* Places along the blank are rounded as they count from the datum: from there, and from the butt; and what lies
 * between two of them, so that from, to and width add up in print. */
double shown_from_datum(const PlannedPlace *place, double x, Rounding rounding);
double shown_position(const PlannedPlace *place, double x, Rounding rounding);
double shown_width(const PlannedPlace *place, double from, double to, Rounding rounding);
/* Of so many items; of a layer, and what its fills leave of its room, NAN without fills. */
double shown_items_width(const PlannedPlace *place, const PlannedLayer *layer, uint32_t first, uint32_t count,
                         Rounding rounding);
double shown_layer_width(const PlannedPlace *place, const PlannedLayer *layer, Rounding rounding);
double shown_unfilled(const PlannedPlace *place, const PlannedLayer *layer, Rounding rounding);
/* What the strands leave open at an end of a crosswrap's field; less than 0 where they overlap. */
double shown_opening(const PlannedCrosswrap *planned, const FieldEnd *end, Rounding rounding);
/* Of a piece or both legs of a pass, each of its parts rounded. */
double shown_piece_length(const Piece *piece, Rounding rounding);
double shown_pass_length(const Pass *pass, Rounding rounding);

#endif
