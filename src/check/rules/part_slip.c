#include "check/rules.h"

#include "base/sort.h"
#include "trade/trade.h"

#include <math.h>

/* T409: close turns on a part that thread lies on hold while its slope is not above the friction, and climb a step
 * at its edge that is no higher than their thread is thick: the next turn comes to lie on it as on another turn.
 * Common practice, no source, for the step. A blank's own taper is never so steep. */

/* A step that lies nearer to the end of a wrap is met by no turn. mm. */
static const double SLACK = 1e-6;

/* What of a wrap is looked at: its turns' extent along the axis, and how thick the thinnest thread in it is. */
typedef struct Crossing {
    double low, high, thickness;
} Crossing;

static Crossing crossing_of(const PlannedLayer *layer, const Wrap *wrap)
{
    const Run *first = &layer->runs[wrap->first_run], *last = &layer->runs[wrap->end_run - 1];
    Crossing crossing = {fmin(first->start, last->end), fmax(first->start, last->end), INFINITY};
    for (uint32_t r = wrap->first_run; r < wrap->end_run; r++)
        for (uint32_t i = 0; i < layer->runs[r].strands->count; i++)
            crossing.thickness = fmin(crossing.thickness, layer->runs[r].strands->items[i].thread->diameter);
    return crossing;
}

/* From a station to the next: how many times too steep or too high it is; at most 1 if turns hold. */
static double badness(const Station *from, const Crossing *crossing, double friction)
{
    double rise = fabs(from[1].diameter - from[0].diameter) / 2, way = from[1].at - from[0].at;
    if (way > 0)
        return close_turn_slippage(rise / way) / friction;
    return from[0].at > crossing->low + SLACK && from[0].at < crossing->high - SLACK ? rise / crossing->thickness
                                                                                     : 0;
}

/* The part on top at x, NULL for the blank; of a step the one on either side. */
static const Part *part_at(const Rod *rod, double x)
{
    for (uint32_t p = rod->part_count; p-- > 0;) {
        const Part *part = &rod->parts[p];
        if (part->wrapped && part->diameter_count && part->end > part->start && x >= part->start - SLACK
            && x <= part->end + SLACK)
            return part;
    }
    return NULL;
}

static const Part *part_on(const Rod *rod, const Station *from)
{
    return part_at(rod, (from[0].at + from[1].at) / 2);
}

/* The worst of a wrap, and at which station of the surface it begins. */
static void check_wrap(const Check *check, Cases *cases, uint32_t view, const Wrap *wrap)
{
    const LayerView *at = &check->layers[view];
    const Blank *surface = at->rod->surface;
    Crossing crossing = crossing_of(at->layer, wrap);
    double worst = 1 + 1e-9;
    uint32_t where = UINT32_MAX;
    uint32_t next = blank_station_after(surface, crossing.low + SLACK);
    for (uint32_t i = next ? next - 1 : 0; i + 1 < surface->station_count; i++) {
        if (surface->stations[i].at >= crossing.high - SLACK)
            break;
        double bad = badness(&surface->stations[i], &crossing, check->bench->friction);
        if (bad <= worst)
            continue;
        worst = bad;
        where = i;
    }
    const Part *part = where == UINT32_MAX ? NULL : part_on(at->rod->rod, &surface->stations[where]);
    if (part)
        cases_add(check->arena, cases, part->diameter_span, worst, view, where);
}

static void say_step(const Check *check, Finding *finding, const LayerView *view, const Station *from,
                     double thread)
{
    Arena *words = check->findings->words;
    UnitSystem units = check->bench->units;
    finding_label(check->findings, finding,
                  "its edge stands up %s, %s from the butt; turns climb %s, as their thread is thick",
                  show_quantity(words, units, QUANTITY_DIAMETER, fabs(from[1].diameter - from[0].diameter) / 2),
                  show_quantity(words, units, QUANTITY_PLACE, from->at), show_fine(words, units, thread));
    finding_relate(check->findings, finding, view->layer->layer->span, "this layer is wound over the edge");
    finding_mend(
        check->findings, finding,
        "end the wrap at the edge; or taper the edge, and write its diameters from its butt end to its tip "
        "end: `diameter: [%s, ...]`",
        write_length(words, print_writing(units, QUANTITY_DIAMETER), fmin(from[0].diameter, from[1].diameter)));
}

static void say_slope(const Check *check, Finding *finding, const LayerView *view, const Station *from)
{
    Arena *words = check->findings->words;
    UnitSystem units = check->bench->units;
    double rise = fabs(from[1].diameter - from[0].diameter) / 2, way = from[1].at - from[0].at;
    finding_label(check->findings, finding,
                  "it rises %s over %s, a slope of %s; thread holds on a slope of up to %s",
                  show_quantity(words, units, QUANTITY_DIAMETER, rise), show_length(words, units, way),
                  show_number(words, rise / way, 3), show_number(words, check->bench->friction, 3));
    finding_relate(check->findings, finding, view->layer->layer->span, "this layer is wound over it");
    finding_mend(check->findings, finding,
                 "end the wrap before the slope; or make the slope flatter, at least %s long, and "
                 "write its diameters",
                 show_length(words, units, rise / check->bench->friction));
}

static void say(const Check *check, Case one)
{
    const LayerView *view = &check->layers[one.view];
    const Station *from = &view->rod->surface->stations[one.detail];
    const Part *part = part_on(view->rod->rod, from);
    Finding *finding =
        finding_add(check->findings, FINDING_SLIPS_ON_PART, one.span, "turns would slip on %s", part->name->bytes);
    finding->times = one.times;
    double rise = fabs(from[1].diameter - from[0].diameter) / 2;
    if (from[1].at > from[0].at)
        say_slope(check, finding, view, from);
    else
        say_step(check, finding, view, from, rise / one.badness);
}

void check_slopes_of_parts(const Check *check)
{
    Cases cases = {0};
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *view = &check->layers[i];
        for (uint32_t w = 0; w < view->wrap_count && view->rod->surface != view->rod->rod->blank; w++)
            check_wrap(check, &cases, i, &view->wraps[w].wrap);
    }
    cases_keep_worst(&cases);
    for (uint32_t i = 0; i < cases.list.count; i++)
        say(check, cases.list.items[i]);
}
