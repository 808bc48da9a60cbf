/* T601 to T608 as numbers. */
#include "check/crosswrap/crosswrap.h"

#include "trade/trade.h"

#include <math.h>

/* How much of its room the bundle of a closed field may overlap where there is least, as the blank tapers. Common
 * practice, no source. */
#define MOST_OVERLAP 0.05
/* How far an angle asked for may be from the one obtained: see `angle` in the reference. Radians. Common practice,
 * no source. */
#define ANGLE_ALLOWANCE (TRADE_PI / 180)

static double beyond(double excess) { return excess > CROSSWRAP_SLACK ? excess : 0; }

double middle_angle(const PlannedCrosswrap *planned)
{
    Leg leg = !is_spiral(planned) && planned->lead[LEG_BACK] > planned->lead[LEG_OUT] ? LEG_BACK : LEG_OUT;
    return crosswrap_angle(planned, leg, (planned->field_start + planned->field_end) / 2);
}

double end_turns_needed(const Bench *bench) { return ceil(fmax(bench->final, bench->bind)); }

unsigned roomy_end(const PlannedCrosswrap *planned) { return planned->ends[1].room > planned->ends[0].room; }

uint32_t closing_line(const Crosswrap *crosswrap)
{
    for (uint32_t i = 0; i < crosswrap->line_count; i++)
        if (crosswrap->lines[i].fill)
            return i;
    return crosswrap->line_count - 1;
}

double strand_step(const Crosswrap *crosswrap, uint32_t line)
{
    bool both_sides = crosswrap->kind == CROSSWRAP_DIAMOND && line > 0;
    return crosswrap->lines[line].thread->pitch * (both_sides ? 2 : 1);
}

double words_step(const Crosswrap *crosswrap, uint32_t line)
{
    double step = 0;
    for (uint32_t i = 0; i < crosswrap->line_count; i++)
        if (same_span(crosswrap->lines[i].count_span, crosswrap->lines[line].count_span))
            step += strand_step(crosswrap, i);
    return step;
}

/* No count of strands comes nearer than half of what one more takes. */
double closing_allowance(const PlannedCrosswrap *planned)
{
    const Crosswrap *crosswrap = planned->crosswrap;
    return strand_step(crosswrap, closing_line(crosswrap)) / 2;
}

static double does_not_divide(const Bench *bench, const PlannedCrosswrap *planned)
{
    if (planned->crosswrap->spaced_by != SPACED_BY_SPACING)
        return 0;
    return beyond(fabs(planned->crossings * planned->asked - crosswrap_field(planned)) - bench->tolerance);
}

static double angle_not_obtained(const Bench *bench, const PlannedCrosswrap *planned)
{
    (void)bench;
    if (planned->crosswrap->spaced_by != SPACED_BY_ANGLE)
        return 0;
    return beyond(fabs(middle_angle(planned) - radians(planned->asked)) - ANGLE_ALLOWANCE);
}

static double not_closed(const Bench *bench, const PlannedCrosswrap *planned)
{
    (void)bench;
    if (!planned->crosswrap->closed)
        return 0;
    return beyond(planned->ends[roomy_end(planned)].left - closing_allowance(planned));
}

static double overlaps(const Bench *bench, const PlannedCrosswrap *planned)
{
    (void)bench;
    if (!planned->crosswrap->closed)
        return 0;
    const FieldEnd *roomy = &planned->ends[roomy_end(planned)], *other = &planned->ends[!roomy_end(planned)];
    double allowed = closing_allowance(planned);
    return fmax(beyond(-roomy->left - allowed), beyond(-other->left - fmax(allowed, MOST_OVERLAP * other->room)));
}

static double too_wide(const Bench *bench, const PlannedCrosswrap *planned)
{
    (void)bench;
    return planned->crosswrap->closed ? 0 : beyond(-planned->ends[!roomy_end(planned)].left);
}

static double angle_out_of_range(const Bench *bench, const PlannedCrosswrap *planned)
{
    double worst = 0;
    for (unsigned end = 0; end < 2; end++)
        for (unsigned leg = 0; leg < leg_count(planned); leg++) {
            double angle = planned->ends[end].angle[leg];
            worst = fmax(worst, fmax(beyond(bench->flattest - angle), beyond(angle - bench->steepest)));
        }
    return worst;
}

static double slips(const Bench *bench, const PlannedCrosswrap *planned)
{
    return beyond(planned->slippage - bench->friction);
}

static double does_not_turn(const Bench *bench, const PlannedCrosswrap *planned)
{
    if (bench->ends != HOLD_NONE || is_spiral(planned))
        return 0;
    return beyond(planned->turning_way - planned->end_width);
}

static double ends_too_few(const Bench *bench, const PlannedCrosswrap *planned)
{
    return beyond(end_turns_needed(bench) - planned->end_turns);
}

double crosswrap_fault(const Bench *bench, const PlannedCrosswrap *planned, CrosswrapRule rule)
{
    static double (*const faults[])(const Bench *, const PlannedCrosswrap *) = {
#define X(name, beyond, place, say) beyond,
        CROSSWRAP_RULE_TABLE(X)
#undef X
    };
    return faults[rule](bench, planned);
}
