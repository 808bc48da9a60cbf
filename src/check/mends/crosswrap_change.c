/* A crosswrap as it would be planned after a change: the rules of grammar/reference.md, "Crosswraps", as far as
 * the findings need them. */
#include "check/crosswrap/crosswrap.h"

#include "base/whole.h"
#include "trade/trade.h"

#include <math.h>

/* Crossings, or a spiral's turns. */
double spaced_count(const PlannedCrosswrap *planned)
{
    return is_spiral(planned) ? crosswrap_field(planned) / planned->lead[LEG_OUT] : planned->crossings;
}

double count_for_small_lead(const PlannedCrosswrap *planned, double lead)
{
    return crosswrap_count_for(planned, lead, true);
}

double count_for_large_lead(const PlannedCrosswrap *planned, double lead)
{
    return crosswrap_count_for(planned, lead, false);
}

/* The fill takes as many strands as come nearest to closing the field where there is most room, halves up. False
 * if there is no room for one. */
static bool fill_line(PlannedCrosswrap *result, uint32_t line)
{
    double step = strand_step(result->crosswrap, line), others = result->width;
    for (uint32_t i = 0; i < result->strand_count; i++)
        others -= result->strands[i].line == line ? result->strands[i].width : 0;
    double count = whole_below((crosswrap_most_room(result) - others) / step + 0.5);
    result->width = others + step * count;
    return count >= 1;
}

static bool fill_again(PlannedCrosswrap *result)
{
    uint32_t line = closing_line(result->crosswrap);
    return !result->crosswrap->lines[line].fill || fill_line(result, line);
}

/* One line, and the last, which then counts for the rules as that which closes the field. */
static bool make_fill(PlannedCrosswrap *result, Change change)
{
    const Crosswrap *crosswrap = result->crosswrap;
    uint32_t line = closing_line(crosswrap), lines = 0;
    for (uint32_t i = 0; i < crosswrap->line_count; i++)
        lines += same_span(crosswrap->lines[i].count_span, change.span);
    return lines == 1 && same_span(crosswrap->lines[line].count_span, change.span) && crosswrap->closed
           && !crosswrap->lines[line].spacer && fill_line(result, line);
}

/* What the option takes. */
static bool is_in_range(SpacedBy by, double spaced)
{
    SpacedRange range = spaced_range(by);
    double written = by == SPACED_BY_ANGLE ? degrees(spaced) : spaced;
    return written >= range.least && written <= range.most;
}

/* False if the end bands leave no field. */
static bool change_ends(PlannedCrosswrap *result, double turns)
{
    int direction = result->direction;
    result->end_turns = (uint32_t)turns;
    result->end_width = turns * result->crosswrap->ends_strands->pitch;
    result->ends[0].position = result->low + result->end_width;
    result->ends[1].position = result->high - result->end_width;
    result->field_start = result->ends[!toward_tip(direction)].position;
    result->field_end = result->ends[toward_tip(direction)].position;
    return result->ends[0].position < result->ends[1].position;
}

static void change_strands(PlannedCrosswrap *result, Change change)
{
    const Crosswrap *crosswrap = result->crosswrap;
    for (uint32_t i = 0; i < crosswrap->line_count; i++) {
        const StrandLine *line = &crosswrap->lines[i];
        if (same_span(line->count_span, change.span))
            result->width += (change.value - line->count) * strand_step(crosswrap, i);
    }
}

bool crosswrap_changed(const Bench *bench, const PlannedCrosswrap *planned, Change change,
                       PlannedCrosswrap *result)
{
    const Crosswrap *crosswrap = planned->crosswrap;
    double spaced = change.kind == CHANGE_SPACED ? change.value : crosswrap->spaced;
    *result = *planned;
    if (change.kind == CHANGE_ENDS && !change_ends(result, change.value))
        return false;
    if (change.kind == CHANGE_SPACED && !is_in_range(crosswrap->spaced_by, spaced))
        return false;
    if (change.kind == CHANGE_STRANDS)
        change_strands(result, change);
    crosswrap_space(result, spaced);
    if (change.kind == CHANGE_FILL ? !make_fill(result, change) : !fill_again(result))
        return false;
    crosswrap_measure(result, bench->friction);
    return true;
}
