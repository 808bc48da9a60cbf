/* What the makers of items share: findings, items, and the values that statements are made of. */
#ifndef TURNLAY_MEANING_LAY_VALUE_H
#define TURNLAY_MEANING_LAY_VALUE_H

#include "meaning/lay.h"

/* Lengths shorter than this are nothing: mm. */
#define LEAST_LENGTH 1e-9

/* A finding of error level: the layer is not to be laid out. Inside a pattern it tells where that was called. */
Finding *lay_fault(Laying *laying, FindingCode code, Span span, const char *what);
/* Whether so many more items are within the limit; a finding if not. */
bool lay_fits(Laying *laying, double more, Span span);
/* NULL, with a finding, beyond the limit of items. */
Item *lay_item(Laying *laying, Item item);
/* Counts so many steps of work at the span; false, and the layer incomplete, once there were too many. */
bool lay_steps(Laying *laying, uint64_t count, Span span);
static inline bool lay_step(Laying *laying, const Node *node) { return lay_steps(laying, 1, node->span); }
/* The node's value; false, and the layer incomplete, if it is broken. */
bool lay_value(Laying *laying, const Node *node, Value *value);
/* One thread or several side by side. NULL once there is a finding. */
const Strands *strands_of(Laying *laying, Value value, Span span);
const Strands *evaluate_strands(Laying *laying, const Node *node);
/* option_number; the layer is incomplete if the value is broken. */
double lay_number(Laying *laying, const Node *owner, uint32_t rule, Range range);
/* Turns that are whole and at least `least`, or a length of at least so much; false once there is a finding. */
bool check_amount(Laying *laying, Value value, const Node *node, double least);
/* Turns or a length; false once there is a finding. */
bool evaluate_extent(Laying *laying, const Node *node, Extent *extent);
/* What is offered in the place of less than a turn, or of no length: whole turns, 1 or more, or so many mm. */
typedef struct Offered {
    double turns, mm;
} Offered;
bool evaluate_extent_of(Laying *laying, const Node *node, Offered offered, Extent *extent);
/* A fill, if the room for it is known. */
bool make_fill(Laying *laying, const Node *node, double weight, Extent *extent);
/* A count between the two; 0 once there is a finding. */
uint32_t evaluate_count(Laying *laying, const Node *node, double least, double most);

/* What `for` goes through: a list or counts. */
typedef struct Course {
    const ValueList *list;
    double from, count;
} Course;
bool course_of(Laying *laying, const Node *node, Course *course);
Value course_value(const Course *course, double step);
/* The branch of an if that holds; NULL if none. */
const Node *chosen_branch(Laying *laying, const Node *node);

/* Room of a place, layer or part: the least and most, mm. */
extern const Range length_of_place;
/* Whether one more place or part is within the limit; a finding if not. */
bool place_fits(Laying *laying, Span span);
/* From a mark to where `until` is, mm, negative toward the butt; NAN, with a finding, where no room is left. */
double way_until(Evaluator *evaluator, const Rod *rod, const Node *limit, double mark, bool from_tip);

/* The makers that stand in files of their own. */
void lay_band(Laying *laying, const Node *node);
void lay_fade_to(Laying *laying, const Node *node);
void lay_fade_of(Laying *laying, const Node *node);
void lay_crosswrap(Laying *laying, const Node *node);
void lay_place(Laying *laying, const Node *node);
void lay_series(Laying *laying, const Node *node);
void lay_row(Laying *laying, const Node *node);
/* Takes in a row of the series that is being read, with the locals as they are. */
void add_row(Laying *laying, SeriesRow row);
/* The rows of a series that is set out by rule; none if it is not. */
void lay_spacing(Laying *laying, const Node *series);
void lay_part(Laying *laying, const Node *node);
void lay_written_layer(Laying *laying, const Node *node);
void lay_layer_of_crosswrap(Laying *laying, const Node *node);
/* These may stand in a band too. */
void lay_let(Laying *laying, const Node *node);
void lay_require(Laying *laying, const Node *node);

#endif
