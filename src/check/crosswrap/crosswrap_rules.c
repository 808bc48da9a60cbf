/* T601 to T608: every crosswrap is held against every rule; of one statement's copies the worst speaks. */
#include "check/crosswrap/crosswrap.h"

static Span of_spacing(const Item *item) { return item->crosswrap->spaced_span; }

static Span of_ends(const Item *item) { return item->crosswrap->ends_span; }

/* What says that the field is closed. */
static Span of_closing(const Item *item)
{
    const Crosswrap *crosswrap = item->crosswrap;
    return crosswrap->field_span.end ? crosswrap->field_span : crosswrap->lines[closing_line(crosswrap)].span;
}

typedef struct RuleWords {
    Span (*place)(const Item *item);
    Finding *(*say)(const Check *check, const LayerView *view, Span span);
} RuleWords;

static const RuleWords words[] = {
#define X(name, beyond, place, say) {place, say},
    CROSSWRAP_RULE_TABLE(X)
#undef X
};

static void hold_against(const Check *check, CrosswrapRule rule)
{
    Cases cases = {0};
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const PlannedLayer *layer = check->layers[i].layer;
        double fault = layer->crosswrap ? crosswrap_fault(check->bench, layer->crosswrap, rule) : 0;
        if (fault > 0)
            cases_add(check->arena, &cases, words[rule].place(layer->items[0].item), fault, i, 0);
    }
    cases_keep_worst(&cases);
    for (uint32_t i = 0; i < cases.list.count; i++) {
        Case place = cases.list.items[i];
        const LayerView *view = &check->layers[place.view];
        Finding *finding = words[rule].say(check, view, place.span);
        finding->times = place.times;
        Span mark = view->place->place->mark_span;
        if (finding->message && mark.file != place.span.file) /* in a pattern of a library: where it is laid */
            finding_relate(check->findings, finding, mark, "laid at this place");
    }
}

void check_crosswraps(const Check *check)
{
    for (unsigned rule = 0; rule < CROSSWRAP_RULE_COUNT; rule++)
        hold_against(check, (CrosswrapRule)rule);
}
