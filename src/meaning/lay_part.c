/* The parts of a rod: from what is written of one to where it lies and what it looks like. */
#include "meaning/blank.h"
#include "meaning/lay_value.h"

#include "meaning/mend.h"
#include "trade/colour.h"

#include <math.h>

/* Common practice, no source; wide, so that only slips are found. */
static const Range part_diameter_range = {0.1, 1000, NAN};

/* Each within its range: the first that is not is told. */
static bool diameters_in_range(Evaluator *evaluator, const Node *node, const Value *items, uint32_t count)
{
    const Range *range = &part_diameter_range;
    for (uint32_t i = 0; i < count; i++) {
        bool low = items[i].number < range->least;
        if (!low && items[i].number <= range->most)
            continue;
        LimitWords words = limit_words(evaluator, TYPE_LENGTH, low ? range->least : range->most, items[i].number);
        Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, node->span,
                                       "a part's diameter is %s %s, and this is %s", low ? "at least" : "at most",
                                       words.limit, words.number);
        finding_mend(evaluator->findings, finding, "write what callipers read on the part");
        return false;
    }
    return true;
}

/* One diameter, or a list from its butt end to its tip end. False once there is a finding. */
static bool take_diameters(Evaluator *evaluator, const Node *node, Part *part)
{
    const Node *written = option_value(node->options, PART_DIAMETER);
    part->diameter_span = option_value_span(node, PART_DIAMETER);
    if (!written)
        return true;
    Value value = evaluate(evaluator, written);
    if (value.type == TYPE_BROKEN)
        return false;
    bool list = type_is_list(value.type);
    const Value *items = list ? value.list->items : &value;
    uint32_t count = list ? value.list->count : 1;
    if (!count) {
        Finding *finding =
            finding_add(evaluator->findings, FINDING_EMPTY_LIST, written->span, "this list has no diameter in it");
        finding_mend(evaluator->findings, finding,
                     "write one or more, or leave the option out: the part lies flat then");
        return false;
    }
    if (!diameters_in_range(evaluator, written, items, count) || !evaluate_steps(evaluator, count, written->span))
        return false;
    double *diameters = arena_take_many(evaluator->arena, count, sizeof *diameters);
    for (uint32_t i = 0; i < count; i++)
        diameters[i] = items[i].number;
    part->diameters = diameters;
    part->diameter_count = count;
    return true;
}

static bool take_stretch(Evaluator *evaluator, const Rod *rod, const Node *node, Part *part)
{
    Value mark = evaluate(evaluator, node->second);
    if (mark.type != TYPE_LENGTH)
        return false;
    part->from_tip = option_choice(node, PART_FROM, 0) == 1;
    part->toward_written = option_node(node->options, PART_TOWARD);
    double from = part->from_tip && rod->blank ? blank_tip(rod->blank) - mark.number : mark.number;
    double length = option_number(evaluator, node, PART_LENGTH, length_of_place);
    double way = option_choice(node, PART_TOWARD, 1) == 1 ? length : -length;
    const Node *limit = option_value(node->options, PART_UNTIL);
    if (limit)
        way = way_until(evaluator, rod, limit, from, part->from_tip);
    bool mark_alone = !limit && !option_node(node->options, PART_LENGTH);
    if (!mark_alone && isnan(way))
        return false;
    part->start = mark_alone ? from : fmin(from, from + way);
    part->end = mark_alone ? from : fmax(from, from + way);
    return true;
}

/* It is known by its ends from here on; broken ones if it is left out for that cause. */
static void enter_ends(Evaluator *evaluator, const Node *node, const Part *part, Cause cause)
{
    const double ends[] = {part->start, part->end};
    for (uint32_t i = 0; i < 2; i++)
        evaluator->frame[node->slot + i] =
            cause ? (Value){.type = TYPE_BROKEN, .cause = cause} : (Value){.type = TYPE_LENGTH, .number = ends[i]};
}

/* If something of it is broken it is left out, and the rod knows why. */
void lay_part(Laying *laying, const Node *node)
{
    Evaluator *evaluator = laying->evaluator;
    uint64_t told = evaluator->findings->told;
    evaluator->met = CAUSE_NONE;
    if (!place_fits(laying, node->span))
        return;
    Part part = {.name = node->first->text, .span = node->first->span, .mark_span = node->second->span};
    bool sound = take_stretch(evaluator, laying->rod, node, &part);
    sound &= take_diameters(evaluator, node, &part);
    part.colour = option_colour(evaluator, node, PART_COLOUR, NO_COLOUR);
    part.coloured = part.colour != NO_COLOUR;
    part.sheen = (Sheen)option_choice(node, PART_SHEEN, SHEEN_GLOSS);
    part.note = option_text(evaluator, node, PART_NOTE);
    const Node *slides = option_value(node->options, PART_SLIDES);
    part.slides = slides ? evaluate(evaluator, slides).truth : part.diameter_count && part.end > part.start;
    const Node *wrapped = option_value(node->options, PART_WRAPPED);
    part.wrapped_written = option_node(node->options, PART_WRAPPED);
    part.wrapped = wrapped && evaluate(evaluator, wrapped).truth;
    Cause cause = cause_since(evaluator, told);
    if (!cause)
        cause = cause_of_options(node);
    if (!cause && !sound)
        cause = node->second->cause;
    enter_ends(evaluator, node, &part, cause);
    if (cause)
        lay_spoil(laying, cause, node->span);
    else
        *LIST_ADD(evaluator->arena, &laying->parts) = part;
}
