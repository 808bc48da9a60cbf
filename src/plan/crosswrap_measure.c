/* What a crosswrap comes to: its leads for what was asked, how its field closes, whether it would slip. Apart
 * from the rest, so that findings can try a crosswrap with other numbers. */
#include "plan/crosswrap.h"

#include "base/limits.h"
#include "trade/trade.h"

#include <math.h>

/* How far inside the field its ends are looked at: a layer below may step right there. mm. */
static const double INSIDE = 1e-6;

double crosswrap_field(const PlannedCrosswrap *planned) { return fabs(planned->field_end - planned->field_start); }

static double middle_of(const PlannedCrosswrap *planned)
{
    return (planned->field_start + planned->field_end) / 2;
}

/* --- spacing --- */

double crosswrap_count_for(const PlannedCrosswrap *planned, double lead, bool smaller)
{
    if (is_spiral(planned))
        return crosswrap_field(planned) / lead;
    /* A leg's lead is starts times spacing over the other leg's part of the ratio. */
    double least = fmin(planned->ratio[LEG_OUT], planned->ratio[LEG_BACK]);
    double most = fmax(planned->ratio[LEG_OUT], planned->ratio[LEG_BACK]);
    return crosswrap_field(planned) * planned->starts / (lead * (smaller ? most : least));
}

double crosswrap_count_asked(const PlannedCrosswrap *planned, double spaced)
{
    double round_way, lead;
    switch (planned->crosswrap->spaced_by) {
    case SPACED_BY_SPACING:
    case SPACED_BY_LEAD: return crosswrap_field(planned) / spaced;
    case SPACED_BY_ANGLE:
        round_way = TRADE_PI * (crosswrap_diameter(planned, middle_of(planned)) + planned->thread_diameter);
        lead = tan(spaced) * round_way;
        return crosswrap_count_for(planned, lead, false);
    default: return spaced;
    }
}

void crosswrap_space(PlannedCrosswrap *planned, double spaced)
{
    SpacedBy by = planned->crosswrap->spaced_by;
    double count = crosswrap_count_asked(planned, spaced), field = crosswrap_field(planned);
    bool asked = by == SPACED_BY_ANGLE || by == SPACED_BY_SPACING;
    planned->asked = !asked ? NAN : by == SPACED_BY_ANGLE ? degrees(spaced) : spaced;
    if (is_spiral(planned)) {
        planned->spacing = NAN;
        planned->lead[LEG_OUT] = field / count;
        return;
    }
    planned->crossings = (uint32_t)fmin(fmax(1, floor(count + 0.5)), LIMIT_STEPS);
    planned->spacing = field / planned->crossings;
    planned->lead[LEG_OUT] = planned->starts * planned->spacing / planned->ratio[LEG_BACK];
    planned->lead[LEG_BACK] = planned->starts * planned->spacing / planned->ratio[LEG_OUT];
}

/* --- how the field closes --- */

/* The leg whose lead is smaller: its strands close the field first. */
static double room_for(const PlannedCrosswrap *planned, double diameter)
{
    bool back = !is_spiral(planned) && planned->lead[LEG_BACK] < planned->lead[LEG_OUT];
    double lead = planned->lead[back ? LEG_BACK : LEG_OUT];
    return lead * cos(helix_angle((diameter + planned->thread_diameter) / 2, lead)) / planned->starts;
}

/* Of the surface at an end of the field, on the field's own side. */
static double diameter_inside(const PlannedCrosswrap *planned, double x)
{
    double in = copysign(INSIDE, middle_of(planned) - x);
    double once = crosswrap_diameter(planned, x + in), twice = crosswrap_diameter(planned, x + 2 * in);
    return once + (once - twice); /* the taper from there back to the end */
}

double crosswrap_most_room(const PlannedCrosswrap *planned)
{
    return fmax(room_for(planned, diameter_inside(planned, planned->field_start)),
                room_for(planned, diameter_inside(planned, planned->field_end)));
}

/* Strands of the last line that would close the field, in all. */
static double closing_strands(const PlannedCrosswrap *planned, double room)
{
    uint32_t line = planned->crosswrap->line_count - 1, count = 0;
    double copies = planned->crosswrap->kind == CROSSWRAP_DIAMOND && line > 0 ? 2 : 1; /* on both sides */
    double step = copies * planned->crosswrap->lines[line].thread->pitch;
    for (uint32_t i = 0; i < planned->strand_count; i++)
        count += planned->strands[i].line == line;
    return copies * fmax(0, floor((room - planned->width) / step + count / copies + 0.5));
}

static FieldEnd field_end(const PlannedCrosswrap *planned, double x)
{
    FieldEnd end = {.position = x, .diameter = diameter_inside(planned, x)};
    for (uint32_t leg = 0; leg < leg_count(planned); leg++)
        end.angle[leg] = helix_angle((end.diameter + planned->thread_diameter) / 2, planned->lead[leg]);
    end.room = room_for(planned, end.diameter);
    end.left = end.room - planned->width;
    end.closing = closing_strands(planned, end.room);
    return end;
}

/* --- slip --- */

/* Greatest at one end of each stretch. */
static void find_slippage(PlannedCrosswrap *planned)
{
    planned->slippage = 0;
    for (uint32_t i = 0; i < planned->stretch_count; i++) {
        const SurfaceStretch *stretch = &planned->stretches[i];
        double slope = (stretch->diameter_to - stretch->diameter_from) / (stretch->to - stretch->from) / 2;
        for (uint32_t which = 0; which < 2 * leg_count(planned); which++) {
            double diameter = which % 2 ? stretch->diameter_to : stretch->diameter_from;
            double radius = (diameter + planned->thread_diameter) / 2;
            double slippage = helix_slippage(radius, slope, planned->lead[which / 2]);
            if (slippage <= planned->slippage)
                continue;
            planned->slippage = slippage;
            planned->slippage_at = which % 2 ? stretch->to : stretch->from;
        }
    }
}

/* At either end one leg arrives and the other leaves: the one that lies nearer to the axis takes longer. */
static void find_turning_way(PlannedCrosswrap *planned, double friction)
{
    planned->turning_way = 0;
    for (uint32_t way = 0; way < 2 * LEG_COUNT && !is_spiral(planned); way++) {
        double x = way / LEG_COUNT ? planned->high : planned->low;
        double radius = (crosswrap_diameter(planned, x) + planned->thread_diameter) / 2;
        double from_axis = crosswrap_angle_from_axis(planned, (Leg)(way % LEG_COUNT), x);
        planned->turning_way = fmax(planned->turning_way, turning_way(radius, from_axis, friction));
    }
}

void crosswrap_measure(PlannedCrosswrap *planned, double friction)
{
    planned->ends[0] = field_end(planned, fmin(planned->field_start, planned->field_end));
    planned->ends[1] = field_end(planned, fmax(planned->field_start, planned->field_end));
    find_slippage(planned);
    find_turning_way(planned, friction);
}
