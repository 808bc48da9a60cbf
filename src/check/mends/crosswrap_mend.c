/* Ways out of a crosswrap's findings: the nearest change of one thing that mends it. */
#include "check/crosswrap/crosswrap.h"

#include "base/whole.h"
#include "trade/trade.h"

#include <math.h>

enum { MOST_TRIES = 64 };
/* Steps in which a spiral's turns are changed: common practice, no source. */
#define TURNS_STEP 0.01

static const Item *item_of(const LayerView *view) { return view->layer->items[0].item; }

static bool is_copy(const LayerView *view, const Item *item) { return same_span(item->span, item_of(view)->span); }

/* Faults that the crosswrap has already may stay; but strands that overlap must not be brought to lie higher. */
static bool mends_here(const Bench *bench, const PlannedCrosswrap *planned, CrosswrapRule mended, Change change)
{
    PlannedCrosswrap changed;
    if (!crosswrap_changed(bench, planned, change, &changed))
        return false;
    for (unsigned rule = 0; rule < CROSSWRAP_RULE_COUNT; rule++) {
        bool stacks = rule == RULE_OVERLAPS || rule == RULE_FITS;
        double before = rule == mended ? 0 : crosswrap_fault(bench, planned, (CrosswrapRule)rule);
        double after = crosswrap_fault(bench, &changed, (CrosswrapRule)rule);
        if (after > (before > 0 && !stacks ? INFINITY : before + CROSSWRAP_SLACK))
            return false;
    }
    return true;
}

bool change_mends(const Check *check, const LayerView *view, CrosswrapRule rule, Change change)
{
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *other = &check->layers[i];
        if (other->layer->crosswrap && is_copy(other, item_of(view))
            && !mends_here(check->bench, other->layer->crosswrap, rule, change))
            return false;
    }
    return true;
}

/* As it is written at the span. */
static double rounded_length(const Check *check, Span span, double mm)
{
    double step = writing_step(writing_of(check, span));
    return round(mm / step) * step;
}

static double rounded_angle(double angle) { return radians(round(degrees(angle) * 10) / 10); }

Change spaced_change(const Check *check, const PlannedCrosswrap *planned, double count)
{
    Change change = {.kind = CHANGE_SPACED, .value = count, .span = planned->crosswrap->spaced_span};
    PlannedCrosswrap changed = *planned;
    switch (planned->crosswrap->spaced_by) {
    case SPACED_BY_SPACING:
    case SPACED_BY_LEAD:
        change.value = rounded_length(check, change.span, crosswrap_field(planned) / count);
        break;
    case SPACED_BY_ANGLE:
        for (unsigned leg = 0; leg < leg_count(planned); leg++)
            changed.lead[leg] *= spaced_count(planned) / count;
        change.value = rounded_angle(middle_angle(&changed));
        break;
    case SPACED_BY_TURNS: change.value = round(count / TURNS_STEP) * TURNS_STEP; break;
    case SPACED_BY_CROSSINGS: break;
    }
    return change;
}

bool find_spaced(const Check *check, const LayerView *view, CrosswrapRule rule, double from, int way,
                 Change *change)
{
    const PlannedCrosswrap *planned = view->layer->crosswrap;
    bool spiral = is_spiral(planned);
    double step = spiral ? TURNS_STEP : 1;
    double first = spiral ? round(from / step) : way > 0 ? whole_above(from) : whole_below(from);
    for (int i = 0; i < MOST_TRIES; i++) {
        double count = (first + way * i) * step;
        if (!(count > 0))
            return false;
        *change = spaced_change(check, planned, count);
        if (change_mends(check, view, rule, *change))
            return true;
    }
    return false;
}

bool find_strands(const Check *check, const LayerView *view, CrosswrapRule rule, uint32_t line, double from,
                  int way, Change *change)
{
    const StrandLine *changed = &view->layer->crosswrap->crosswrap->lines[line];
    if (changed->fill)
        return false;
    for (int i = 0; i < MOST_TRIES; i++) {
        *change = (Change){CHANGE_STRANDS, from + way * i, line, changed->count_span};
        if (change->value < 1)
            return false;
        if (change_mends(check, view, rule, *change))
            return true;
    }
    return false;
}

bool find_fill(const Check *check, const LayerView *view, CrosswrapRule rule, uint32_t line, Change *change)
{
    const StrandLine *changed = &view->layer->crosswrap->crosswrap->lines[line];
    *change = (Change){.kind = CHANGE_FILL, .line = line, .span = changed->count_span};
    return !changed->fill && change_mends(check, view, rule, *change);
}

static const char *spaced_text(const Check *check, const Crosswrap *crosswrap, double value)
{
    Arena *words = check->findings->words;
    switch (crosswrap->spaced_by) {
    case SPACED_BY_SPACING:
    case SPACED_BY_LEAD: return write_length(words, writing_of(check, crosswrap->spaced_span), value);
    case SPACED_BY_ANGLE: return text_format(words, "%s deg", show_number(words, degrees(value), 1));
    case SPACED_BY_TURNS: return show_turns(words, value);
    default: return show_number(words, value, 0);
    }
}

static const char *value_text(const Check *check, const PlannedCrosswrap *planned, Change change)
{
    if (change.kind == CHANGE_SPACED)
        return spaced_text(check, planned->crosswrap, change.value);
    if (change.kind == CHANGE_FILL)
        return "fill";
    if (change.kind == CHANGE_STRANDS)
        return show_number(check->findings->words, change.value, 0);
    return show_turns(check->findings->words, change.value);
}

const char *change_words(const Check *check, const PlannedCrosswrap *planned, Change change)
{
    static const char *const options[] = {
#define X(name, option, ...) option,
        SPACED_TABLE(X)
#undef X
    };
    const Crosswrap *crosswrap = planned->crosswrap;
    const char *value = value_text(check, planned, change);
    if (change.kind == CHANGE_STRANDS || change.kind == CHANGE_FILL) {
        const StrandLine *line = &crosswrap->lines[change.line];
        return text_format(check->findings->words, line->spacer ? "strand %s of spacer(%s)" : "strand %s of %s",
                           value, line->thread->name->bytes);
    }
    return text_format(check->findings->words, "%s: %s",
                       change.kind == CHANGE_ENDS ? "ends" : options[crosswrap->spaced_by], value);
}

bool can_be_written(const Check *check, Change change)
{
    return change.span.file == 0 && is_plain_quantity(check, change.span);
}

void edit_change(const Check *check, Finding *finding, const PlannedCrosswrap *planned, Change change)
{
    if (can_be_written(check, change))
        finding_edit(check->findings, finding, change.span, "%s", value_text(check, planned, change));
}
