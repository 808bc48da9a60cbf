/* T603, T604, T605 in words: fields that do not close, overlap, or have no room for the bundle. */
#include "check/crosswrap/crosswrap.h"

#include "base/whole.h"
#include "trade/trade.h"

#include <math.h>
#include <string.h>

/* An open strip or an overlap of less is not worth a word, mm: common practice, no source. */
#define SEEN 0.02

static const char *length(const Check *check, double mm)
{
    return show_length(check->findings->words, check->bench->units, mm);
}

/* "1.25 mm (8.3 strands of navy)" */
static const char *in_strands(const Check *check, const PlannedCrosswrap *planned, double mm)
{
    const Crosswrap *crosswrap = planned->crosswrap;
    const Thread *thread = crosswrap->lines[closing_line(crosswrap)].thread;
    const char *strands = show_number(check->findings->words, mm / thread->pitch, 1);
    return text_format(check->findings->words,
                       strcmp(strands, "1") == 0 ? "%s (%s strand of %s)" : "%s (%s strands of %s)",
                       length(check, mm), strands, thread->name->bytes);
}

/* The count at which the bundle would just have the room at this end; 0 if it never has. */
static double closing_count(const PlannedCrosswrap *planned, unsigned end)
{
    double round_way = TRADE_PI * (planned->ends[end].diameter + planned->thread_diameter);
    double width = planned->width * planned->starts;
    if (!(width < round_way))
        return 0;
    return count_for_small_lead(planned, width / sqrt(1 - width / round_way * (width / round_way)));
}

/* "`crossings: 7` (0.40 mm bare)", with this count; the empty text if that is what is written already, if it
 * cannot be laid so, or only at an angle that the bench does not allow. */
static const char *count_text(const Check *check, const PlannedCrosswrap *planned, double count)
{
    PlannedCrosswrap changed = *planned;
    if (!(count >= (is_spiral(planned) ? 0.01 : 1)) || count == spaced_count(planned))
        return "";
    Change change = spaced_change(check, planned, count);
    if (!crosswrap_changed(check->bench, planned, change, &changed)
        || crosswrap_fault(check->bench, &changed, RULE_ANGLE_RANGE) > 0)
        return "";
    double left = changed.ends[roomy_end(&changed)].left;
    if (fabs(left) < SEEN)
        return text_format(check->findings->words, "`%s`", change_words(check, planned, change));
    return text_format(check->findings->words, "`%s` (%s %s)", change_words(check, planned, change),
                       length(check, fabs(left)), left > 0 ? "bare" : "overlap");
}

/* "; or keep the strands and write `crossings: 6` (0.81 mm bare) or `crossings: 7` (1.52 mm overlap)" */
static const char *other_counts(const Check *check, const PlannedCrosswrap *planned)
{
    double count = closing_count(planned, roomy_end(planned));
    if (is_spiral(planned)) {
        const char *text = count_text(check, planned, count);
        return *text ? text_format(check->findings->words, "; or keep the strands and write %s", text) : "";
    }
    const char *fewer = count_text(check, planned, floor(count)),
               *more = count_text(check, planned, floor(count) + 1);
    if (!*fewer || !*more)
        return *fewer || *more
                   ? text_format(check->findings->words, "; or keep the strands and write %s%s", fewer, more)
                   : "";
    return text_format(check->findings->words, "; or keep the strands and write %s or %s", fewer, more);
}

/* What its leads follow from. */
static const char *what_is_spaced(const PlannedCrosswrap *planned)
{
    return is_spiral(planned) ? "turns" : "crossings";
}

/* As the field closes at either end: where the blank tapers one may stay bare while the other overlaps. */
static void label_ends(const Check *check, const PlannedCrosswrap *planned, Finding *finding)
{
    double butt = planned->ends[0].left, tip = planned->ends[1].left;
    const char *at_butt = butt > 0 ? "bare" : "overlap", *at_tip = tip > 0 ? " bare" : " overlap";
    finding_label(check->findings, finding, "%s %s at the butt end, %s%s at the tip end",
                  in_strands(check, planned, fabs(butt)), at_butt, in_strands(check, planned, fabs(tip)),
                  (butt > 0) == (tip > 0) ? "" : at_tip);
}

static void relate_closing_line(const Check *check, const PlannedCrosswrap *planned, Finding *finding,
                                const char *words)
{
    const StrandLine *line = &planned->crosswrap->lines[closing_line(planned->crosswrap)];
    if (!same_span(line->span, finding->at.span))
        finding_relate(check->findings, finding, line->span, "%s", words);
}

/* So many strands more (or fewer) of the last line bring the field nearest to closing where there is most room. */
static double strands_nearest(const PlannedCrosswrap *planned)
{
    const Crosswrap *crosswrap = planned->crosswrap;
    uint32_t line = closing_line(crosswrap);
    return crosswrap->lines[line].count
           + round(planned->ends[roomy_end(planned)].left / words_step(crosswrap, line));
}

/* Crossings on from about where the bundle would just have its room: fewer, else more. */
static bool find_count(const Check *check, const LayerView *view, CrosswrapRule rule, unsigned end, Change *change)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    double fits = closing_count(planned, end);
    if (rule == RULE_CLOSES)
        return find_spaced(check, view, rule, fits, 1, change) || find_spaced(check, view, rule, fits, -1, change);
    double first = is_spiral(planned) ? fits : ceil(fits); /* a spiral's turns are no whole numbers */
    return find_spaced(check, view, rule, fmin(spaced_count(planned), first), -1, change)
           || find_spaced(check, view, rule, spaced_count(planned), 1, change);
}

/* Another number of strands, from `count` on, or so many as each place of a pattern needs, else another number of
 * crossings; what can be written in the text comes first. */
static bool find_way_out(const Check *check, const LayerView *view, CrosswrapRule rule, double count, unsigned end,
                         Change *change)
{
    Change other;
    uint32_t line = closing_line(view->layer->crosswrap->crosswrap);
    bool by_strands = find_strands(check, view, rule, line, count, rule == RULE_CLOSES ? 1 : -1, change);
    if (by_strands && can_be_written(check, *change))
        return true;
    if (rule == RULE_CLOSES && find_fill(check, view, rule, line, &other) && can_be_written(check, other)) {
        *change = other;
        return true;
    }
    bool by_count = find_count(check, view, rule, end, &other);
    if (by_count && (!by_strands || can_be_written(check, other)))
        *change = other;
    return by_strands || by_count;
}

/* The last line's count without the strands that are too many at this end. */
static double fewer_strands(const PlannedCrosswrap *planned, unsigned end, double allowed)
{
    uint32_t line = closing_line(planned->crosswrap);
    double over = fmax(0, -planned->ends[end].left - allowed);
    return planned->crosswrap->lines[line].count - whole_above(over / words_step(planned->crosswrap, line));
}

Finding *say_not_closed(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    Finding *finding =
        finding_add(check->findings, FINDING_FIELD_NOT_CLOSED, span, "the strands do not cover this closed field");
    if (!finding->message)
        return finding;
    label_ends(check, planned, finding);
    relate_closing_line(check, planned, finding, "these are meant to close it");
    Change change;
    unsigned end = roomy_end(planned);
    if (!find_way_out(check, view, RULE_CLOSES, strands_nearest(planned), end, &change)) {
        finding_mend(check->findings, finding, "lay more strands, or write `field: open`%s",
                     other_counts(check, planned));
        return finding;
    }
    const char *words = change_words(check, planned, change);
    if (change.kind == CHANGE_STRANDS)
        finding_mend(check->findings, finding, "lay the strands that close it: `%s`%s", words,
                     other_counts(check, planned));
    else if (change.kind == CHANGE_FILL)
        finding_mend(check->findings, finding, "let turnlay count the strands that close it: `%s`", words);
    else
        finding_mend(check->findings, finding, "write `%s`, or lay more strands", words);
    edit_change(check, finding, planned, change);
    return finding;
}

static void offer(const Check *check, Finding *finding, const PlannedCrosswrap *planned, Change change)
{
    const char *words = change_words(check, planned, change);
    bool fill = planned->crosswrap->lines[closing_line(planned->crosswrap)].fill;
    if (change.kind == CHANGE_STRANDS)
        finding_mend(check->findings, finding, "lay fewer strands: `%s`; or use fewer %s", words,
                     what_is_spaced(planned));
    else
        finding_mend(check->findings, finding, "write `%s`, or %s", words,
                     fill ? "make the layer shorter" : "lay fewer strands");
    edit_change(check, finding, planned, change);
}

Finding *say_overlaps(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    Finding *finding =
        finding_add(check->findings, FINDING_FIELD_OVERLAPS, span, "the strands of this closed field overlap");
    if (!finding->message)
        return finding;
    label_ends(check, planned, finding);
    relate_closing_line(check, planned, finding, "these are meant to close it");
    Change change;
    unsigned end = roomy_end(planned);
    double fewer = fewer_strands(planned, end, closing_allowance(planned));
    if (find_way_out(check, view, RULE_OVERLAPS, fewer, end, &change))
        offer(check, finding, planned, change);
    else if (-planned->ends[roomy_end(planned)].left > closing_allowance(planned))
        finding_mend(check->findings, finding, "lay fewer strands, or use fewer %s", what_is_spaced(planned));
    else
        finding_mend(check->findings, finding, "make the layer shorter, so that the blank tapers less in it");
    return finding;
}

Finding *say_too_wide(const Check *check, const LayerView *view, Span span)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    Finding *finding =
        finding_add(check->findings, FINDING_BUNDLE_TOO_WIDE, span, "this bundle is wider than its room");
    if (!finding->message)
        return finding;
    finding_label(check->findings, finding, "room: %s at the butt end, %s at the tip end; the strands take %s",
                  length(check, planned->ends[0].room), length(check, planned->ends[1].room),
                  length(check, planned->width));
    relate_closing_line(check, planned, finding, "the last of its strands");
    Change change;
    unsigned end = !roomy_end(planned);
    if (find_way_out(check, view, RULE_FITS, fewer_strands(planned, end, 0), end, &change))
        offer(check, finding, planned, change);
    else
        finding_mend(check->findings, finding, "lay fewer strands, use fewer %s, or make the layer longer",
                     what_is_spaced(planned));
    return finding;
}
