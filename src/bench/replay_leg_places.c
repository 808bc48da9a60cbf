/* Where each leg of a crosswrap has to stand, reckoned anew from the rules of the reference ("Set-out", "Strands
 * side by side", "Where passes turn round", "Slip"): from the field between the end bands as wound, the crossings,
 * starts, leads and facing as written, and the surface at the layer's ends. */
#include "bench/replay_crosswrap.h"

#include "trade/trade.h"

#include <math.h>

/* Rounding alone: degrees, mm; both far below what can be seen on a rod. */
static const double clock_slack = 1e-6, place_slack = 1e-6;
static const double length_slack = 1e-9; /* relative */

/* Diameter of the surface at x. */
static double diameter_at(const PlannedCrosswrap *planned, double x)
{
    const SurfaceStretch *stretch = planned->stretches, *last = stretch + planned->stretch_count - 1;
    while (stretch < last && x >= stretch->to)
        stretch++;
    double share = (x - stretch->from) / (stretch->to - stretch->from);
    return stretch->diameter_from + share * (stretch->diameter_to - stretch->diameter_from);
}

static double girth_at(const PlannedCrosswrap *planned, double x)
{
    return TRADE_PI * (diameter_at(planned, x) + planned->strands[0].thread->diameter);
}

/* The lead of a spiral by what was written. */
static double spiral_lead(const PlannedCrosswrap *planned, double field, double middle)
{
    const Crosswrap *written = planned->crosswrap;
    if (written->spaced_by == SPACED_BY_TURNS)
        return field / written->spaced;
    return written->spaced_by == SPACED_BY_LEAD ? written->spaced
                                                : tan(written->spaced) * girth_at(planned, middle);
}

/* Turning round where nothing holds, degrees: for each of both legs (1/mu) ln(sin a / (1 - cos a)), a its angle to
 * the blank's length; sin a / (1 - cos a) is 1 / tan(a/2). */
static double friction_dwell(double girth, const double lead[LEG_COUNT], double slope, double friction)
{
    double sum = 0;
    for (int leg = 0; leg < LEG_COUNT; leg++)
        sum -= log(tan(atan2(girth, lead[leg] * sqrt(1 + slope * slope)) / 2)) / friction;
    return sum * 180 / TRADE_PI;
}

/* Girth, and the way round by friction, at the layer's ends. */
static void set_out_ends(SetOut *lines, const PlannedCrosswrap *planned, const Bench *bench)
{
    lines->end_at[0] = planned->low;
    lines->end_at[1] = planned->high;
    lines->beyond = bench->ends == HOLD_NONE ? 0 : 2 * TURNED_BEYOND;
    for (int end = 0; end < 2; end++) {
        const SurfaceStretch *stretch = &planned->stretches[end ? planned->stretch_count - 1 : 0];
        double slope = (stretch->diameter_to - stretch->diameter_from) / 2 / (stretch->to - stretch->from);
        lines->girth[end] = girth_at(planned, lines->end_at[end]);
        if (bench->ends == HOLD_NONE && lines->lead[LEG_BACK] > 0)
            lines->friction_dwell[end] = friction_dwell(lines->girth[end], lines->lead, slope, bench->friction);
    }
}

/* Family f's first line is that of level f: f * b / ((a + b) k) turns on from level 0, in the sense of turning.
 * The family that faces up has a line at the place's angle, so that k times the sum of both, less that, is a whole
 * number of turns. Which of the k bundles is the first is the plan's to say. */
static bool faces_up(const SetOut *lines, const Crosswrap *written, double angle)
{
    double a = written->leads[LEG_OUT], b = written->leads[LEG_BACK];
    double level = written->facing * b / (a + b) / written->starts;
    double off = (lines->base - angle + lines->sense * level) * written->starts;
    return fabs(off - round(off)) * 360 <= clock_slack;
}

bool set_out_lines(SetOut *lines, const PlannedPlace *place, const PlannedLayer *layer, const Bench *bench)
{
    const PlannedCrosswrap *planned = layer->crosswrap;
    const Crosswrap *written = planned->crosswrap;
    const Run *band = &layer->runs[0];
    double end_band = band->turns * band->pitch, field = planned->high - planned->low - 2 * end_band;
    bool spiral = written->kind == CROSSWRAP_SPIRAL;
    *lines = (SetOut){.direction = place->direction,
                      .sense = bench->butt_left == bench->toward_you ? -1 : 1,
                      .starts = written->starts};
    double start = toward_tip(lines->direction) ? planned->low : planned->high;
    lines->field_start = start + lines->direction * end_band;
    if (spiral) {
        lines->base = place->place->angle;
        lines->lead[LEG_OUT] = spiral_lead(planned, field, (planned->low + planned->high) / 2);
    } else {
        double spacing = field / planned->crossings;
        lines->base = planned->base;
        lines->lead[LEG_OUT] = written->starts * spacing / written->leads[LEG_BACK];
        lines->lead[LEG_BACK] = written->starts * spacing / written->leads[LEG_OUT];
        lines->marks = planned->crossings * (written->leads[LEG_OUT] + written->leads[LEG_BACK]) - 1;
    }
    set_out_ends(lines, planned, bench);
    return spiral || faces_up(lines, written, place->place->angle);
}

/* The end of the layer from which a leg goes. */
static int leg_begins(const SetOut *lines, Leg leg)
{
    return toward_tip(lines->direction) == (leg == LEG_OUT) ? 0 : 1;
}

/* Where a strand stands at an end of the layer: where the bundle's line stands q / cos b nearer to the butt. On
 * its leg back the line goes round on the same way while it comes back along the blank. Turns, clockwise. */
static double turn_at(const SetOut *lines, const BundleStrand *strand, uint32_t start, Leg leg, int end)
{
    double lead = lines->lead[leg], girth = lines->girth[end];
    double moved = strand->middle * hypot(girth, lead) / girth;
    double way = lines->direction * (lines->end_at[end] - moved - lines->field_start);
    double round_the_blank = lines->sense * ((double)start / lines->starts);
    return lines->base + round_the_blank + lines->sense * (leg == LEG_OUT ? way : -way) / lead;
}

/* Degrees, 0 <= clock < 360 but for rounding. */
static double clock_of(double turn) { return (turn - floor(turn)) * 360; }

static bool same_clock(double a, double b) { return fabs(remainder(a - b, 360)) <= clock_slack; }

/* A clock as it may be said, and where the strand stands. */
static bool clock_agrees(Hands *hands, uint32_t piece, double clock, double turn)
{
    return (clock >= 0 && clock < 360 && same_clock(clock, turn * 360))
           || fault_by(hands, REPLAY_MARKS_MISSED, piece, clock_of(turn), clock);
}

/* Less than a turn more than it takes to turn round, to where the next leg begins. */
static bool dwell_agrees(Hands *hands, uint32_t piece, double dwell, double way, double least)
{
    double needed = way + 360 * ceil((least - clock_slack - way) / 360);
    bool agrees = dwell >= fmax(0, least - clock_slack) && dwell < least + 360 && same_clock(dwell, way);
    return agrees || fault_by(hands, REPLAY_WAY_ROUND, piece, needed, dwell);
}

/* A leg out is followed by the same pass's leg back, a leg back by the next pass's leg out. */
static bool goes_round(Hands *hands, const LegAction *leg, uint32_t piece, double turn, bool goes_on)
{
    const CrosswrapNow *now = &hands->crosswrap;
    const SetOut *lines = &now->lines;
    if (!goes_on)
        return leg->dwell == 0 || fault_by(hands, REPLAY_WAY_ROUND, piece, 0, leg->dwell);
    Leg next = leg->leg == LEG_OUT ? LEG_BACK : LEG_OUT;
    uint32_t pass = now->pass + (next == LEG_OUT);
    const BundleStrand *strand = &now->planned->strands[pass / lines->starts];
    int end = leg_begins(lines, next);
    double begins = turn_at(lines, strand, pass % lines->starts, next, end);
    double way = lines->sense * (begins - turn) * 360;
    return dwell_agrees(hands, piece, leg->dwell, way, lines->friction_dwell[end]);
}

bool leg_meets_marks(Hands *hands, const Action *action, uint32_t piece, bool goes_on)
{
    const CrosswrapNow *now = &hands->crosswrap;
    const SetOut *lines = &now->lines;
    const LegAction *leg = &action->leg;
    const BundleStrand *strand = &now->planned->strands[now->pass / lines->starts];
    uint32_t start = now->pass % lines->starts;
    int begins = leg_begins(lines, leg->leg), ends = 1 - begins;
    double from = turn_at(lines, strand, start, leg->leg, begins);
    double to = turn_at(lines, strand, start, leg->leg, ends);
    double turns = lines->sense * (to - from), length = now->planned->passes[now->pass].length[leg->leg];
    if (!(fabs(leg->from - lines->end_at[begins]) <= place_slack))
        return fault(hands, REPLAY_MARKS_MISSED, piece);
    if (!(fabs(leg->to - lines->end_at[ends]) <= place_slack))
        return fault(hands, REPLAY_MARKS_MISSED, piece);
    if (!clock_agrees(hands, piece, leg->from_clock, from) || !clock_agrees(hands, piece, leg->to_clock, to))
        return false;
    if (!(fabs(leg->turns - turns) * 360 <= clock_slack))
        return fault_by(hands, REPLAY_TURNS_DIFFER, piece, turns, leg->turns);
    if (leg->marks != lines->marks)
        return fault(hands, REPLAY_MARKS_MISSED, piece);
    if (!(fabs(action->length - length) <= length_slack * length))
        return fault_by(hands, REPLAY_LENGTH_DIFFERS, piece, length, action->length);
    return goes_round(hands, leg, piece, to, goes_on);
}

/* Each strand's centre line lies half its own thread's diameter above the surface. */
double wound_in_leg(const CrosswrapNow *now, const Action *action, bool goes_on)
{
    const SetOut *lines = &now->lines;
    const LegAction *leg = &action->leg;
    const BundleStrand *strands = now->planned->strands;
    const Thread *thread = strands[now->pass / lines->starts].thread;
    double girth = lines->girth[1 - leg_begins(lines, leg->leg)];
    double round = leg->dwell / 360 * (girth + TRADE_PI * (thread->diameter - strands[0].thread->diameter));
    return action->length + (goes_on ? round + lines->beyond : 0);
}

bool wound_agrees(Hands *hands, uint32_t piece)
{
    double wound = hands->crosswrap.wound, planned = hands->rod->pieces[piece].wound;
    return fabs(wound - planned) <= length_slack * wound
           || fault_by(hands, REPLAY_LENGTH_DIFFERS, piece, wound, planned);
}

/* The strand that is laid now, and the one of the neighbour's pass, share an edge. */
static bool touches(const CrosswrapNow *now, const LegAction *leg)
{
    const BundleStrand *strand = &now->planned->strands[now->pass / now->lines.starts];
    if (now->pass < now->lines.starts)
        return leg->side == 0 && leg->neighbour == NO_PASS;
    bool there = leg->neighbour < now->pass && leg->neighbour % now->lines.starts == now->pass % now->lines.starts
                 && (leg->side == 1 || leg->side == -1);
    if (!there)
        return false;
    const BundleStrand *beside = &now->planned->strands[leg->neighbour / now->lines.starts];
    double apart = leg->side * (strand->width + beside->width) / 2;
    return fabs(strand->middle - beside->middle - apart) <= place_slack;
}

/* The strand's edges, once a strand: they go beyond what lies so far, on the side that it is laid on. */
static bool lies_outermost(CrosswrapNow *now, const LegAction *leg)
{
    if (now->pass % now->lines.starts != 0 || leg->leg != LEG_OUT)
        return true;
    const BundleStrand *strand = &now->planned->strands[now->pass / now->lines.starts];
    double edges[2] = {strand->middle - strand->width / 2, strand->middle + strand->width / 2};
    bool outermost = leg->side == 0 || fabs(edges[leg->side < 0] - now->edges[leg->side > 0]) <= place_slack;
    if (leg->side <= 0)
        now->edges[0] = edges[0];
    if (leg->side >= 0)
        now->edges[1] = edges[1];
    return outermost;
}

bool leg_lies_beside(Hands *hands, const Action *action, uint32_t piece)
{
    return (touches(&hands->crosswrap, &action->leg) && lies_outermost(&hands->crosswrap, &action->leg))
           || fault(hands, REPLAY_NOT_BESIDE, piece);
}
