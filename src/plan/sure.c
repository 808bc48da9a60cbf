/* How sure lengths are, as standard uncertainties: JCGM 100:2008, Evaluation of measurement data - Guide to the
 * expression of uncertainty in measurement, 5.1.2, 5.2.2. */
#include "plan/plan.h"
#include "trade/trade.h"

#include <math.h>

/* What is read is off at each station by itself: its diameter by the callipers, and where it lies, both ends by
 * the rule, by as much as the blank tapers there. A diameter between two stations is their mean, weighed by how
 * near they are. */
double blank_diameter_sure(const Blank *blank, double x, const Bench *bench)
{
    double diameter = uncertainty_of_reading(bench->callipers.step);
    if (x <= blank_butt(blank) || x >= blank_tip(blank))
        return diameter;
    uint32_t next = blank_station_after(blank, x);
    const Station *a = &blank->stations[next - 1], *b = &blank->stations[next];
    double part = (x - a->at) / (b->at - a->at), taper = (b->diameter - a->diameter) / (b->at - a->at);
    return hypot(1 - part, part) * hypot(diameter, taper * mark_sure(bench));
}

double thickness_sure(const Strands *strands)
{
    double sure = 0;
    for (uint32_t i = 0; i < strands->count; i++) {
        const Thread *thread = strands->items[i].thread;
        if (!strands->items[i].spacer && thread->diameter >= strands->thickness)
            sure = fmax(sure, thread->diameter * thread->uncertainty);
    }
    return sure;
}

double crosswrap_thickness_sure(const PlannedCrosswrap *crosswrap)
{
    double most = 0;
    for (uint32_t i = 0; i < crosswrap->strand_count; i++)
        most = fmax(most, crosswrap->strands[i].thread->uncertainty);
    return crosswrap->thickness * most;
}

LengthSure length_sure(const Run *run, uint32_t strand)
{
    const Thread *thread = run->strands->items[strand].thread;
    LengthSure sure = run->length_sure;
    sure.threads += (float)(TRADE_PI * run->turns * thread->diameter * thread->uncertainty);
    return sure;
}

double sum_of_sure(LengthSure sure)
{
    return hypot(hypot((double)sure.blank, (double)sure.threads), (double)sure.along);
}

double piece_sure(const Piece *piece) { return sum_of_sure(piece->sure); }

double mark_sure(const Bench *bench) { return uncertainty_of_length(bench->rule.step); }
