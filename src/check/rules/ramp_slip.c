#include "check/rules.h"

#include "trade/trade.h"

#include <math.h>
#include <string.h>

/* T407: close turns climbing a guide foot's ramp hold while the slope is not above the friction. The foot's own
 * slope is an upper bound: the thread rides on the hull of blank and foot, which is less steep. */

/* Whether the layer has turns on the stretch from a to b along the axis. */
static bool covers(const PlannedLayer *layer, double a, double b)
{
    return fmin(layer->start, layer->end) < fmax(a, b) && fmax(layer->start, layer->end) > fmin(a, b);
}

/* A longer ramp must stay within every foot, and the layer must still clear it. */
static bool can_dress(const LayerView *view, double ramp)
{
    const Guide *guide = view->place->place->guide;
    for (uint32_t i = 0; i < guide->foot_count; i++)
        if (ramp > guide->feet[i])
            return false;
    return (view->layer->end - view->place->foot_tip) * view->place->direction >= ramp;
}

static void say_slips(const Check *check, const LayerView *view, Case place)
{
    const Guide *guide = view->place->place->guide;
    UnitSystem units = check->bench->units;
    double friction = check->bench->friction, slope = guide->height / guide->ramp;
    Finding *finding = finding_add(check->findings, FINDING_SLIPS_ON_RAMP, place.span,
                                   "turns would slip on the ramp of %s", guide->name->bytes);
    finding->times = place.times;
    finding_label(check->findings, finding,
                  "it rises %s over %s, a slope of %s; thread holds on a slope of up to %s",
                  show_quantity(check->findings->words, units, QUANTITY_DIAMETER, guide->height),
                  show_length(check->findings->words, units, guide->ramp),
                  guide->ramp > 0 ? show_number(check->findings->words, slope, 3) : "more than any thread holds",
                  show_number(check->findings->words, friction, 3));
    finding_relate(check->findings, finding, view->layer->layer->span, "this layer is wound up the ramp");
    double ramp = guide->height / friction;
    const char *length = source_length_above(check, guide->ramp_span, ramp);
    finding_mend(check->findings, finding,
                 "if the guide's maker allows filing, dress the foot to a longer ramp, off the rod, and write "
                 "`ramp: %s`",
                 length);
    if (!can_dress(view, ramp + 0.01))
        finding_mend(
            check->findings, finding,
            "if the guide's maker allows filing, dress the foot lower, off the rod, to at most %s on the ramp it has, "
            "and write its `height:`",
            show_quantity(check->findings->words, units, QUANTITY_DIAMETER,
                          written_below(print_writing(units, QUANTITY_DIAMETER), guide->ramp * friction)));
    else if (strcmp(source_text(check, guide->ramp_span), guide->name->bytes) == 0)
        edit_option(check, finding, guide->ramp_span, guide->ramp_span, "ramp", length);
    else
        finding_edit(check->findings, finding, guide->ramp_span, "%s", length);
}

void check_ramps(const Check *check)
{
    Cases cases = {0};
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *view = &check->layers[i];
        const Guide *guide = view->place->place->guide;
        if (!guide || !view->layer->layer->over || !(guide->height > 0)
            || !covers(view->layer, view->place->foot_tip, view->place->ramp_end))
            continue;
        double slippage = close_turn_slippage(guide->height / guide->ramp);
        if (slippage > check->bench->friction * (1 + 1e-9))
            cases_add(check->arena, &cases, guide->ramp_span, slippage, i, 0);
    }
    cases_keep_worst(&cases);
    for (uint32_t i = 0; i < cases.list.count; i++)
        say_slips(check, &check->layers[cases.list.items[i].view], cases.list.items[i]);
}
