/* The findings of crosswraps. Each rule looks at one crosswrap as planned; a way out is tried on it first, as it
 * would be planned with one thing of its statement changed. Lengths in mm, angles in radians, places as in
 * plan/crosswrap.h. */
#ifndef TURNLAY_CHECK_CROSSWRAP_CROSSWRAP_H
#define TURNLAY_CHECK_CROSSWRAP_CROSSWRAP_H

#include "check/rules.h"

/* Hair's breadth, mm and radians: far below what a hand can set, far above rounding. */
#define CROSSWRAP_SLACK 1e-6

/* In the order of their codes; SLIPS and TURNS_NOT are both T607. Name; the function that says how far a crosswrap
 * is beyond it; those that find what of the statement it is about, and say it. */
#define CROSSWRAP_RULE_TABLE(X)                                                                                   \
    X(DIVIDES, does_not_divide, of_spacing, say_not_divided)                                                      \
    X(ANGLE_OBTAINED, angle_not_obtained, of_spacing, say_angle_not_obtained)                                     \
    X(CLOSES, not_closed, of_closing, say_not_closed)                                                             \
    X(OVERLAPS, overlaps, of_closing, say_overlaps)                                                               \
    X(FITS, too_wide, of_spacing, say_too_wide)                                                                   \
    X(ANGLE_RANGE, angle_out_of_range, of_spacing, say_angle)                                                     \
    X(SLIPS, slips, of_spacing, say_crosswrap_slips)                                                              \
    X(TURNS_NOT, does_not_turn, of_ends, say_does_not_turn)                                                       \
    X(ENDS_HOLD, ends_too_few, of_ends, say_ends_too_few)

typedef enum {
#define X(name, beyond, place, say) RULE_##name,
    CROSSWRAP_RULE_TABLE(X)
#undef X
        CROSSWRAP_RULE_COUNT
} CrosswrapRule;

/* crosswrap_faults.c: how far the crosswrap is beyond what the rule allows, > 0; 0 where it keeps to it. */
double crosswrap_fault(const Bench *bench, const PlannedCrosswrap *planned, CrosswrapRule rule);
/* Angle of the leg that an `angle:` is about, at the field's middle. */
double middle_angle(const PlannedCrosswrap *planned);
/* Turns that an end band needs: those that hold the strands' ends and, over a loop, its own. */
double end_turns_needed(const Bench *bench);
/* Index of the field's end with most room, 0 toward the butt; and what may stay open or overlap there. */
unsigned roomy_end(const PlannedCrosswrap *planned);
double closing_allowance(const PlannedCrosswrap *planned);
/* The line of strands that closes the field: the fill, or else the last. */
uint32_t closing_line(const Crosswrap *crosswrap);
/* What one more in that line's count takes across: a strand, or one on either side. */
double strand_step(const Crosswrap *crosswrap, uint32_t line);
/* The same for all lines that the words of this one lay: several in a loop. */
double words_step(const Crosswrap *crosswrap, uint32_t line);

/* crosswrap_change.c: one thing of the statement changed. */
typedef enum { CHANGE_SPACED, CHANGE_STRANDS, CHANGE_FILL, CHANGE_ENDS } ChangeKind;

typedef struct Change {
    ChangeKind kind;
    double value;  /* SPACED: as Crosswrap.spaced; STRANDS: count of the line; ENDS: turns of a band;
                                FILL, which makes the line the background: 0 */
    uint32_t line; /* STRANDS, FILL: and all lines that the same words lay, in loops and in copies */
    Span span;     /* of those words */
} Change;

/* The crosswrap with that change: all measures that the rules look at, but neither strands nor passes. False if it
 * cannot be laid so. */
bool crosswrap_changed(const Bench *bench, const PlannedCrosswrap *planned, Change change,
                       PlannedCrosswrap *result);
/* Crossings, or a spiral's turns, that give the leg with the smaller (larger) lead this lead; not whole. */
double count_for_small_lead(const PlannedCrosswrap *planned, double lead);
double count_for_large_lead(const PlannedCrosswrap *planned, double lead);
double spaced_count(const PlannedCrosswrap *planned);

/* crosswrap_mend.c: ways out. */

/* Of the option that spaces it, so that it gives so many crossings (turns); rounded as it will be written. */
Change spaced_change(const Check *check, const PlannedCrosswrap *planned, double count);
/* Whether the change mends the fault in all copies of the statement, and brings no other. */
bool change_mends(const Check *check, const LayerView *view, CrosswrapRule rule, Change change);
/* The nearest count of crossings (of a spiral: turns), from `from` on upward or downward (way +1, -1), that mends
 * it; and what to write for it. False if there is none near. */
bool find_spaced(const Check *check, const LayerView *view, CrosswrapRule rule, double from, int way,
                 Change *change);
/* The same for the strands of a line. */
bool find_strands(const Check *check, const LayerView *view, CrosswrapRule rule, uint32_t line, double from,
                  int way, Change *change);
/* Whether the line mends it as the background; its count in the text becomes `fill`. */
bool find_fill(const Check *check, const LayerView *view, CrosswrapRule rule, uint32_t line, Change *change);
/* The statement's words for a change: "crossings: 5", "strand 12 of navy". */
const char *change_words(const Check *check, const PlannedCrosswrap *planned, Change change);
/* Whether a plain number stands there, in the file that is compiled. */
bool can_be_written(const Check *check, Change change);
/* Makes the change the finding's edit if it can be written. */
void edit_change(const Check *check, Finding *finding, const PlannedCrosswrap *planned, Change change);

/* Words: each adds its finding. */
Finding *say_not_divided(const Check *check, const LayerView *view, Span span);
Finding *say_angle_not_obtained(const Check *check, const LayerView *view, Span span);
Finding *say_angle(const Check *check, const LayerView *view, Span span);
Finding *say_not_closed(const Check *check, const LayerView *view, Span span);
Finding *say_overlaps(const Check *check, const LayerView *view, Span span);
Finding *say_too_wide(const Check *check, const LayerView *view, Span span);
Finding *say_crosswrap_slips(const Check *check, const LayerView *view, Span span);
Finding *say_does_not_turn(const Check *check, const LayerView *view, Span span);
Finding *say_ends_too_few(const Check *check, const LayerView *view, Span span);

#endif
