/* T607 and T608 in words: threads that slip, turns round that nothing holds, end bands of too few turns. */
#include "check/crosswrap/crosswrap.h"

#include "trade/trade.h"

#include <math.h>

static const char *length(const Check *check, double mm)
{
    return show_length(check->findings->words, check->bench->units, mm);
}

static const char *friction_text(const Check *check, double friction)
{
    return show_number(check->findings->words, friction, 3);
}

Finding *say_crosswrap_slips(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    Finding *finding =
        finding_add(check->findings, FINDING_CROSSWRAP_SLIPS, span, "the strands of this crosswrap would slip");
    if (!finding->message)
        return finding;
    finding_label(check->findings, finding, "friction needed to hold: %s, at %s from the butt; assumed: %s",
                  friction_text(check, planned->slippage),
                  show_quantity(check->findings->words, check->bench->units, QUANTITY_PLACE, planned->slippage_at),
                  friction_text(check, check->bench->friction));
    if (check->bench->value_spans[BENCH_FRICTION].end)
        finding_relate(check->findings, finding, check->bench->value_spans[BENCH_FRICTION],
                       "the friction assumed");
    Change change;
    if (find_spaced(check, view, RULE_SLIPS, spaced_count(planned), 1, &change)) {
        finding_mend(check->findings, finding, "wind it flatter: `%s`; or move it to where the blank tapers less",
                     change_words(check, planned, change));
        edit_change(check, finding, planned, change);
    } else {
        finding_mend(check->findings, finding, "move it to where the blank tapers less, or wind it flatter");
    }
    return finding;
}

Finding *say_does_not_turn(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    Finding *finding = finding_add(check->findings, FINDING_CROSSWRAP_SLIPS, span,
                                   "nothing holds the strands of this crosswrap where they turn round");
    if (!finding->message)
        return finding;
    finding_label(
        check->findings, finding,
        "without tape or pins they slide %s before they turn back (friction %s); the end band is %s wide",
        length(check, planned->turning_way), friction_text(check, check->bench->friction),
        length(check, planned->end_width));
    if (check->bench->value_spans[BENCH_ENDS].end)
        finding_relate(check->findings, finding, check->bench->value_spans[BENCH_ENDS],
                       "here nothing is to hold them");
    finding_mend(check->findings, finding,
                 "hold them with tape outside the end bands: write `ends: tape` in bench { }");
    edit_bench(check, finding, BENCH_ENDS, "tape");
    return finding;
}

/* The end band's extent with so many turns at least: as it is written, or kept within `max`. */
static void edit_ends(const Check *check, Finding *finding, const Crosswrap *crosswrap, Change change)
{
    const char *count = show_turns(check->findings->words, change.value);
    if (change.span.file != 0)
        return;
    if (is_plain_quantity(check, change.span)) {
        finding_edit(check->findings, finding, change.span, "%s", count);
        return;
    }
    double width = change.value * crosswrap->ends_strands->pitch;
    finding_edit(check->findings, finding, change.span, "max(%s, %s)", source_text(check, change.span),
                 crosswrap->ends.kind == EXTENT_TURNS
                     ? count
                     : write_length(check->findings->words, writing_of(check, change.span), width));
}

Finding *say_ends_too_few(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    const Crosswrap *crosswrap = planned->crosswrap;
    double needed = end_turns_needed(check->bench);
    Finding *finding = finding_add(check->findings, FINDING_ENDS_TOO_FEW, span,
                                   "the end bands of this crosswrap have too few turns");
    if (!finding->message)
        return finding;
    finding_label(check->findings, finding,
                  "%s each; it takes %s to hold the cut ends of the strands and, over a loop, the band's own end",
                  show_turns(check->findings->words, planned->end_turns),
                  show_number(check->findings->words, needed, 0));
    Change change = {CHANGE_ENDS, needed, 0, crosswrap->ends_span};
    finding_mend(check->findings, finding, "make each end band %s wide (%s)",
                 show_turns(check->findings->words, needed),
                 length(check, needed * crosswrap->ends_strands->pitch));
    if (change_mends(check, view, RULE_ENDS_HOLD, change))
        edit_ends(check, finding, crosswrap, change);
    return finding;
}
