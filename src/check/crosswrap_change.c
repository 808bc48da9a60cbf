#include "check/crosswrap.h"

#include "trade/trade.h"

#include <math.h>

/* A crosswrap as it would be planned after a change: the rules of grammar/reference.md, "Crosswraps", as far as
 * the findings need them. */

bool is_spiral(const PlannedCrosswrap *planned) { return planned->crosswrap->kind == CROSSWRAP_SPIRAL; }

/* Crossings, or a spiral's turns. */
double spaced_count(const PlannedCrosswrap *planned)
{
    return is_spiral(planned) ? crosswrap_field(planned) / planned->lead[LEG_OUT] : planned->crossings;
}

/* Way round the blank of a thread's centre line. */
static double round_at(const PlannedCrosswrap *planned, double x)
{
    return TRADE_PI * (crosswrap_diameter(planned, x) + planned->thread_diameter);
}

/* Of the helix whose lead is starts * spacing / ratio. */
static double count_for(const PlannedCrosswrap *planned, double lead, uint32_t ratio)
{
    if (is_spiral(planned))
        return crosswrap_field(planned) / lead;
    return crosswrap_field(planned) * planned->starts / (lead * ratio);
}

double count_for_small_lead(const PlannedCrosswrap *planned, double lead)
{
    const uint32_t *ratio = planned->ratio;
    return count_for(planned, lead, ratio[LEG_OUT] > ratio[LEG_BACK] ? ratio[LEG_OUT] : ratio[LEG_BACK]);
}

double count_for_large_lead(const PlannedCrosswrap *planned, double lead)
{
    const uint32_t *ratio = planned->ratio;
    return count_for(planned, lead, ratio[LEG_OUT] < ratio[LEG_BACK] ? ratio[LEG_OUT] : ratio[LEG_BACK]);
}

static double whole(double count) { return fmax(1, round(count)); }

static double count_of(const PlannedCrosswrap *planned, double spaced)
{
    double middle = (planned->field_start + planned->field_end) / 2, field = crosswrap_field(planned), count;
    switch (planned->crosswrap->spaced_by) {
    case SPACED_BY_SPACING:
        return whole(field / spaced);
    case SPACED_BY_LEAD:
        return field / spaced;
    case SPACED_BY_ANGLE:
        count = count_for_large_lead(planned, tan(spaced) * round_at(planned, middle));
        return is_spiral(planned) ? count : whole(count);
    default:
        return spaced;
    }
}

static void space(PlannedCrosswrap *result, double spaced)
{
    double count = count_of(result, spaced), spacing = crosswrap_field(result) / count;
    if (is_spiral(result)) {
        result->lead[LEG_OUT] = spacing;
        return;
    }
    result->crossings = (uint32_t)count;
    result->spacing = spacing;
    result->lead[LEG_OUT] = result->starts * spacing / result->ratio[LEG_BACK];
    result->lead[LEG_BACK] = result->starts * spacing / result->ratio[LEG_OUT];
}

/* Room, across, for one bundle of the leg with the smaller lead. */
static double room_at(const PlannedCrosswrap *planned, double x)
{
    double lead =
        is_spiral(planned) ? planned->lead[LEG_OUT] : fmin(planned->lead[LEG_OUT], planned->lead[LEG_BACK]);
    return lead * cos(atan2(lead, round_at(planned, x))) / planned->starts;
}

/* The fill takes as many strands as come nearest to closing the field where there is most room, halves up. False
 * if there is no room for one. */
static bool fill_line(PlannedCrosswrap *result, uint32_t line)
{
    double step = strand_step(result->crosswrap, line), others = result->width;
    for (uint32_t i = 0; i < result->strand_count; i++)
        others -= result->strands[i].line == line ? result->strands[i].width : 0;
    double room = fmax(room_at(result, result->ends[0].position), room_at(result, result->ends[1].position));
    double count = floor((room - others) / step + 0.5 + 1e-9);
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

static void measure_ends(PlannedCrosswrap *result)
{
    for (unsigned end = 0; end < 2; end++) {
        FieldEnd *at = &result->ends[end];
        at->diameter = crosswrap_diameter(result, at->position);
        for (unsigned leg = 0; leg < leg_count(result); leg++)
            at->angle[leg] = crosswrap_angle(result, (Leg)leg, at->position);
        at->room = room_at(result, at->position);
        at->left = at->room - result->width;
    }
}

static double slope_of(SurfaceStretch stretch)
{
    return (stretch.diameter_to - stretch.diameter_from) / 2 / (stretch.to - stretch.from);
}

/* For one lead the tendency falls as the radius grows: the thin end of each stretch is its worst. */
static void measure_slippage(PlannedCrosswrap *result)
{
    result->slippage = 0;
    for (uint32_t i = 0; i < result->stretch_count; i++) {
        SurfaceStretch stretch = result->stretches[i];
        bool thin_from = stretch.diameter_from < stretch.diameter_to;
        double radius = (fmin(stretch.diameter_from, stretch.diameter_to) + result->thread_diameter) / 2;
        for (unsigned leg = 0; leg < leg_count(result); leg++) {
            double slippage = helix_slippage(radius, slope_of(stretch), result->lead[leg]);
            if (!(slippage > result->slippage))
                continue;
            result->slippage = slippage;
            result->slippage_at = thin_from ? stretch.from : stretch.to;
        }
    }
}

/* Where nothing holds it. The leg that arrives at an end is the one that goes there. */
static void measure_turning(const Bench *bench, PlannedCrosswrap *result)
{
    result->turning_way = 0;
    for (unsigned leg = 0; leg < leg_count(result) && !is_spiral(result); leg++) {
        double x = (result->direction > 0) == (leg == LEG_OUT) ? result->high : result->low;
        double from_axis = TRADE_PI / 2 - crosswrap_angle(result, (Leg)leg, x);
        double way = turning_way(round_at(result, x) / (2 * TRADE_PI), from_axis, bench->friction);
        result->turning_way = fmax(result->turning_way, way);
    }
}

/* What the options take. */
static bool is_in_range(SpacedBy by, double spaced)
{
    switch (by) {
    case SPACED_BY_ANGLE:
        return degrees(spaced) >= 1 && degrees(spaced) <= 89;
    case SPACED_BY_TURNS:
        return spaced >= 0.01;
    case SPACED_BY_CROSSINGS:
        return spaced >= 1;
    default:
        return spaced >= 0.1;
    }
}

/* False if the end bands leave no field. */
static bool change_ends(PlannedCrosswrap *result, double turns)
{
    int direction = result->direction;
    result->end_turns = (uint32_t)turns;
    result->end_width = turns * result->crosswrap->ends_strands->pitch;
    result->ends[0].position = result->low + result->end_width;
    result->ends[1].position = result->high - result->end_width;
    result->field_start = result->ends[direction < 0].position;
    result->field_end = result->ends[direction > 0].position;
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
    if (change.kind == CHANGE_SPACED)
        result->asked = crosswrap->spaced_by == SPACED_BY_ANGLE ? degrees(spaced) : spaced;
    if (change.kind == CHANGE_STRANDS)
        change_strands(result, change);
    space(result, spaced);
    if (change.kind == CHANGE_FILL ? !make_fill(result, change) : !fill_again(result))
        return false;
    measure_ends(result);
    measure_slippage(result);
    measure_turning(bench, result);
    return true;
}
