/* Plans a crosswrap: set-out, bundle, passes with their lengths, and how the field closes. The layer's end
 * bands are runs. */
#include "plan/layout.h"

#include "base/limits.h"
#include "base/whole.h"

#include <math.h>

/* --- set-out --- */

static void set_out(Layout *layout, PlannedCrosswrap *planned)
{
    const Crosswrap *crosswrap = planned->crosswrap;
    const PlannedLayer *layer = layout->layer;
    planned->direction = layout->place->direction;
    planned->sense = thread_sense(&layout->job->bench);
    planned->low = fmin(layer->start, layer->end);
    planned->high = fmax(layer->start, layer->end);
    planned->end_turns = layer->runs[0].turns;
    planned->end_width = fabs(layer->runs[0].end - layer->runs[0].start);
    planned->field_start = layer->runs[0].end;
    planned->field_end = layer->runs[layer->run_count - 1].start;
    planned->starts = crosswrap->starts;
    planned->ratio[LEG_OUT] = crosswrap->leads[0];
    planned->ratio[LEG_BACK] = crosswrap->leads[1];
    planned->thread_diameter = crosswrap->lines[0].thread->diameter;
    if (crosswrap->kind != CROSSWRAP_SPIRAL && layout->job->bench.ends != HOLD_NONE)
        planned->beyond = TURNED_BEYOND;
    planned->stretches = surface_stretches(layout, &planned->stretch_count);
    if (crosswrap->kind == CROSSWRAP_SPIRAL)
        planned->ratio[LEG_BACK] = 0;
    crosswrap_space(planned, crosswrap->spaced);
    planned->angle = planned->base = layout->place->place->angle;
    if (crosswrap->kind == CROSSWRAP_SPIRAL)
        return;
    double families = planned->ratio[LEG_OUT] + planned->ratio[LEG_BACK];
    planned->base -=
        planned->sense * (crosswrap->facing * planned->ratio[LEG_BACK] / (families * planned->starts));
}

/* --- passes --- */

/* Degrees from one angle on to another, in the sense of turning: 0 to 360. */
static double way_round(const PlannedCrosswrap *planned, double from, double to)
{
    return clock_degrees(planned->sense * (to - from));
}

/* By friction alone a thread turns round over so many degrees at least. */
static double held_way(const Layout *layout, const PlannedCrosswrap *planned, double dwell, double x)
{
    if (layout->job->bench.ends != HOLD_NONE)
        return dwell;
    double out = crosswrap_angle_from_axis(planned, LEG_OUT, x);
    double back = crosswrap_angle_from_axis(planned, LEG_BACK, x);
    double least = degrees(turning_dwell(out, back, layout->job->bench.friction));
    return dwell + 360 * whole_above(fmax(0, least - dwell) / 360);
}

static double turn_of(const PlannedCrosswrap *planned, uint32_t pass, Leg leg, double x)
{
    double across = planned->strands[pass_strand(planned, pass)].middle;
    return crosswrap_turn(planned, pass_start(planned, pass), leg, across, x);
}

bool pass_goes_on(const PlannedCrosswrap *planned, uint32_t pass)
{
    if (pass == 0 || leg_count(planned) == 1)
        return false;
    const BundleStrand *one = &planned->strands[pass_strand(planned, pass)],
                       *before = &planned->strands[pass_strand(planned, pass - 1)];
    return one->thread == before->thread && one->spacer == before->spacer;
}

static void make_pass(const Layout *layout, PlannedCrosswrap *planned, uint32_t index)
{
    Pass *pass = &planned->passes[index];
    bool both = leg_count(planned) == LEG_COUNT;
    double start = toward_tip(planned->direction) ? planned->low : planned->high;
    double end = toward_tip(planned->direction) ? planned->high : planned->low;
    uint32_t first = index - pass_start(planned, index); /* as long for every start */
    for (uint32_t leg = 0; leg < leg_count(planned); leg++)
        pass->length[leg] =
            first < index ? planned->passes[first].length[leg] : crosswrap_leg_length(planned, index, (Leg)leg);
    if (both) {
        double round =
            way_round(planned, turn_of(planned, index, LEG_OUT, end), turn_of(planned, index, LEG_BACK, end));
        pass->dwell = held_way(layout, planned, round, end);
    }
    if (!pass_goes_on(planned, index))
        return;
    const Pass *before = &planned->passes[index - 1];
    double round =
        way_round(planned, turn_of(planned, index - 1, LEG_BACK, start), turn_of(planned, index, LEG_OUT, start));
    pass->dwell_before = held_way(layout, planned, round, start);
    pass->wound_before = before->wound_before + before->length[LEG_OUT] + before->length[LEG_BACK]
                         + crosswrap_round_length(planned, index - 1, true, before->dwell)
                         + crosswrap_round_length(planned, index, false, pass->dwell_before);
}

/* --- all --- */

/* What it takes from the file's limit: for each part crossings, or a spiral's turns. */
static double crossings_to_show(const PlannedCrosswrap *planned, double room)
{
    double each = leg_count(planned) == 1 ? ceil(crosswrap_field(planned) / planned->lead[LEG_OUT])
                                          : (double)crosswrap_families(planned) * planned->crossings;
    return bundle_parts(planned->crosswrap, room) * planned->starts * each;
}

/* Once for a file, as for its turns and runs. */
static bool within_limits(Layout *layout, const PlannedCrosswrap *planned, double strands, double crossings)
{
    double passes = strands * planned->starts;
    double lengths = strands * leg_count(planned) * planned->stretch_count;
    bool few = passes <= (double)layout->passes_left, brief = lengths <= (double)layout->reckoning_left;
    if (few && brief && crossings <= (double)layout->crossings_left) {
        layout->reckoning_left -= (uint64_t)lengths;
        return true;
    }
    layout->layer->cause = layout->passes_reported;
    if (layout->passes_reported)
        return false;
    Finding *finding = finding_add(layout->findings, FINDING_TOO_MUCH_WORK, layout->layer->layer->items[0].span,
                                   "with this crosswrap the file comes to more than %s %s",
                                   show_count(layout->findings->words, !few     ? LIMIT_PASSES
                                                                       : !brief ? LIMIT_STEPS
                                                                                : LIMIT_CROSSINGS),
                                   !few     ? "passes"
                                   : !brief ? "steps of working out with the surface below"
                                            : "crossings");
    layout->passes_reported = finding->number;
    finding_label(layout->findings, finding, "%s strands, %u starts",
                  show_number(layout->findings->words, strands, 0), planned->starts);
    finding_mend(layout->findings, finding, "use fewer strands, starts or crossings, or thicker thread");
    return false;
}

/* A background of no strand is a fill with nothing left, as in any layer. */
static bool background_fits(Layout *layout, const PlannedCrosswrap *planned, double room)
{
    const StrandLine *fill = NULL;
    for (uint32_t i = 0; i < planned->crosswrap->line_count; i++)
        if (planned->crosswrap->lines[i].fill)
            fill = &planned->crosswrap->lines[i];
    if (!fill || bundle_background(planned->crosswrap, room) >= 1)
        return true;
    UnitSystem units = layout->job->bench.units;
    Finding *finding = finding_add(layout->findings, FINDING_NOTHING_LEFT_TO_FILL, fill->count_span,
                                   "the other strands leave no room for this background");
    finding_label(layout->findings, finding, "room for strands at the field's wider end: %s",
                  show_length(layout->findings->words, units, room));
    finding_mend(layout->findings, finding, "take this line out, or lay fewer of the other strands");
    return false;
}

bool plan_crosswrap(Layout *layout)
{
    const Item *item = &layout->layer->layer->items[0];
    PlannedCrosswrap *planned = arena_take(layout->arena, sizeof *planned);
    planned->crosswrap = item->crosswrap;
    set_out(layout, planned);
    double room = crosswrap_most_room(planned), strands = bundle_size(planned->crosswrap, room, LIMIT_PASSES);
    double crossings = crossings_to_show(planned, room);
    if (!within_limits(layout, planned, strands, crossings))
        return false;
    if (!background_fits(layout, planned, room))
        return false;
    planned->strand_count = (uint32_t)strands;
    make_bundle(layout, planned, room);
    planned->pass_count = planned->strand_count * planned->starts;
    planned->passes = arena_take_many(layout->arena, planned->pass_count, sizeof *planned->passes);
    for (uint32_t i = 0; i < planned->pass_count; i++)
        make_pass(layout, planned, i);
    crosswrap_measure(planned, layout->job->bench.friction);
    for (uint32_t leg = 0; leg < leg_count(planned); leg++)
        planned->turns += planned->pass_count * (planned->high - planned->low) / planned->lead[leg];
    layout->passes_left -= planned->pass_count;
    layout->crossings_left -= (uint64_t)crossings;
    layout->layer->crosswrap = planned;
    return true;
}
