/* One layer: measured, filled, held against its room and the limits, then laid. */
#include "plan/layout.h"

#include "base/limits.h"

#include <math.h>

double least_room(const Layout *layout)
{
    const Guide *guide = layout->place->place->guide;
    double room = layout->layer->length;
    if (!guide || guide->foot_count < 2 || !isnan(layout->layer->layer->length))
        return room;
    return fmin(guide->feet[0], guide->feet[1]) + guide->before - layout->layer->layer->offset;
}

static void mend_too_long(Layout *layout, Finding *finding, double width)
{
    UnitSystem units = layout->job->bench.units;
    const Place *place = layout->place->place;
    LengthWriting writing = hand_writing(layout, place->length_span);
    double length = round_up_mm(writing, layout->layer->layer->offset + width), turns = 0;
    if (!place->guide && isnan(layout->layer->layer->length) && can_lengthen(layout, length)) {
        const char *shown = write_length(layout->findings->words, writing, length);
        finding_mend(layout->findings, finding, "make the place longer: `length: %s`", shown);
        finding_edit(layout->findings, finding, place->length_span, "%s", shown);
        return;
    }
    const Item *band = shorter_band(layout, width - least_room(layout), &turns);
    const char *shown = show_turns(layout->findings->words, turns);
    if (!band) {
        finding_mend(layout->findings, finding, "make its bands narrower by %s in all",
                     show_length(layout->findings->words, units, width - least_room(layout)));
        return;
    }
    finding_mend(layout->findings, finding, "make a band narrower: `%s` of %s", shown,
                 first_thread_name(band->strands));
    finding_edit(layout->findings, finding, band->extent.span, "%s", shown);
}

static bool fits_room(Layout *layout, double width)
{
    double room = layout->layer->length;
    if (isnan(room) || width <= room + LAYOUT_SLACK)
        return true;
    UnitSystem units = layout->job->bench.units;
    LengthPair shown = show_apart(layout->findings->words, units, QUANTITY_WIDTH, width, room);
    Finding *finding = finding_add(layout->findings, FINDING_LONGER_THAN_PLACE, layout->layer->layer->span,
                                   "this wrap is %s wide but has %s of room", shown.one, shown.other);
    finding_label(layout->findings, finding, "%s too wide", shown.apart);
    finding_relate(layout->findings, finding, layout->place->place->mark_span, "%s",
                   place_label(layout->findings->words, layout->job, layout->rod->rod, layout->place));
    if (finding_is_kept(finding))
        mend_too_long(layout, finding, width);
    return false;
}

typedef struct Limit {
    FindingCode code;
    uint64_t most;
    const char *what;
} Limit;

/* Once for a file: the limit is the file's. */
static bool within(Layout *layout, Limit limit, double wanted, uint64_t left, Cause *reported)
{
    if (wanted <= (double)left)
        return true;
    if (*reported) {
        layout->layer->cause = *reported;
        return false;
    }
    Finding *finding = finding_add(layout->findings, limit.code, layout->layer->layer->span,
                                   "with this layer the file comes to more than %s %s",
                                   show_count(layout->findings->words, limit.most), limit.what);
    *reported = finding->number;
    finding_label(layout->findings, finding, "left out of the plan");
    finding_mend(layout->findings, finding,
                 "make its bands narrower and its repeats fewer, or give each rod a file of its own");
    return false;
}

static bool within_turns(Layout *layout)
{
    static const Limit turns = {FINDING_TOO_MANY_TURNS, LIMIT_TURNS, "turns"};
    return within(layout, turns, measured_turns(layout), layout->turns_left, &layout->turns_reported);
}

/* Every thread of a run is measured on each stretch of the surface below. */
static double reckoning(const Layout *layout, RunCount count)
{
    double end = layout->layer->start + layout->place->direction * measured_width(layout);
    return (double)count.threads + (double)count.widest * (double)most_stretches(layout, end);
}

static bool within_runs(Layout *layout, RunCount count)
{
    static const Limit most_runs = {FINDING_TOO_MUCH_WORK, LIMIT_RUNS, "runs"};
    static const Limit most_steps = {FINDING_TOO_MUCH_WORK, LIMIT_STEPS,
                                     "steps of working out with the layers below"};
    Cause *reported = &layout->runs_reported;
    return within(layout, most_runs, (double)count.threads, layout->runs_left, reported)
           && within(layout, most_steps, reckoning(layout, count), layout->reckoning_left, reported);
}

/* Shorter by what is left bare, the place is filled; if its fills then still come out so. */
static void mend_remainder(Layout *layout, Finding *finding)
{
    const PlannedLayer *layer = layout->layer;
    const Place *place = layout->place->place;
    if (place->guide || place->until_span.end || !isnan(layer->layer->length) || place->layer_count > 1
        || is_copy(layout, place))
        return;
    uint32_t count = layer->layer->group_count;
    double filled = 0;
    for (uint32_t g = 0; g < count; g++)
        filled += layout->groups[g].turns * layout->groups[g].copies * layout->groups[g].pitch;
    LengthWriting writing = hand_writing(layout, place->length_span);
    double length = round_up_mm(writing, layer->layer->offset + layer->width);
    double room = length - layer->layer->offset - (layer->width - filled);
    double left = share_turns(layout->scratch, layout->groups, count, room, LIMIT_TURNS);
    for (uint32_t g = 0; g < count; g++)
        if (layout->groups[g].copies && layout->groups[g].turns < 1)
            return;
    if (left > layout->job->bench.tolerance)
        return;
    const char *shown = write_length(layout->findings->words, writing, length);
    finding_mend(layout->findings, finding, "make the place shorter: `length: %s`", shown);
    finding_edit(layout->findings, finding, place->length_span, "%s", shown);
}

static void note_remainder(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    UnitSystem units = layout->job->bench.units;
    if (isnan(layer->unfilled) || layer->unfilled <= layout->job->bench.tolerance + LAYOUT_SLACK)
        return;
    LengthPair shown = show_apart(layout->findings->words, units, QUANTITY_WIDTH, layer->width, layer->length);
    const char *left = shown.apart;
    Finding *finding = finding_add(layout->findings, FINDING_FILL_REMAINDER, layer->layer->span,
                                   "%s of this layer stays bare: too little for another turn", left);
    finding_of_rod(finding, layout->rod->rod->title->bytes);
    finding_label(layout->findings, finding, "%s of %s filled", shown.one, shown.other);
    finding_mend(layout->findings, finding, "make another band %s wider, or the place that much shorter", left);
    if (finding_is_kept(finding))
        mend_remainder(layout, finding);
}

static void note_empty(Layout *layout)
{
    Finding *finding = finding_add(layout->findings, FINDING_EMPTY_LAYER, layout->layer->layer->span,
                                   "no turn is wound in this layer");
    finding_label(layout->findings, finding, "%s",
                  place_label(layout->findings->words, layout->job, layout->rod->rod, layout->place));
    finding_mend(layout->findings, finding, "put a band in, or take the layer out");
}

static bool wind(Layout *layout, RunCount count)
{
    PlannedLayer *layer = layout->layer;
    layout->runs_left -= count.threads;
    layout->reckoning_left -= (uint64_t)reckoning(layout, count);
    layer->run_count = (uint32_t)count.runs;
    make_runs(layout);
    layout->turns_left -= layer->turns;
    if (layer->layer->items && layer->layer->items[0].kind == ITEM_CROSSWRAP && !plan_crosswrap(layout)) {
        layer->run_count = 0;
        return false;
    }
    measure_lengths(layout);
    layer_surface(layout);
    layer->laid = true;
    return true;
}

/* Turns, widths and inlays of all items; false after a finding. */
static bool lay_out(Layout *layout)
{
    if (!measure_items(layout))
        return false;
    bool fills = fills_left(layout);
    if (fills && (isnan(layout->layer->length) || !fill_layer(layout)))
        return false;
    if (!fills)
        place_inlays(layout);
    return inlays_fit(layout);
}

/* The same with what has been learned: nobody hears of it what was told of the layer as it is written. */
static void lay_out_again(Layout *layout)
{
    Findings *findings = layout->findings, unheard;
    findings_start_unheard(&unheard, findings);
    layout->findings = &unheard;
    reckon_made(layout);
    ItemPlan before = layout->made.turns ? layout->made.last : items_now(layout);
    if (!lay_out(layout))
        keep_items(layout, before);
    layout->findings = findings;
}

/* Goes through the whole layer. Where steps run out, the layer is beyond the limit. */
static bool goes_through(Layout *layout)
{
    return takes_steps(layout, layout->layer->layer->item_count + planned_runs(layout));
}

/* As it is written, then with what was learned before, then after each reading of its own. */
static bool lay_out_all(Layout *layout)
{
    Learning *learning = layout->learning;
    layout->learning = NULL;
    bool good = lay_out(layout) && fits_room(layout, measured_width(layout));
    layout->learning = learning;
    learning_next_wrap(learning);
    if (!good || !layout->anything_read)
        return good;
    lay_out_again(layout);
    while (goes_through(layout) && take_reading(layout)) {
        while (reading_waits(layout) && take_reading(layout))
            ;
        lay_out_again(layout);
    }
    return true;
}

static void lay(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    start_made(layout);
    if (!lay_out_all(layout) || !within_turns(layout))
        return;
    RunCount count = count_runs(layout);
    if (!within_runs(layout, count))
        return;
    if (!wind(layout, count))
        return;
    if (layer->layer->group_count)
        layer->unfilled = layer->length - layer->width;
    if (!layer->turns)
        note_empty(layout);
    note_remainder(layout);
    check_ramp(layout);
    compare_with_before(layout);
    expect_widths(layout);
}

void lay_layer(Layout *layout, const Layer *layer)
{
    const PlannedPlace *place = layout->place;
    PlannedLayer *planned = layout->layer;
    *planned = (PlannedLayer){.layer = layer, .unfilled = NAN};
    planned->length = isnan(layer->length) ? place->length - layer->offset : layer->length;
    planned->start = planned->end = place->start + place->direction * layer->offset;
    const Rod *rod = layout->rod->rod;
    Cause cause = layer->cause ? layer->cause : rod->blank ? CAUSE_NONE : rod->cause;
    uint64_t told = layout->findings->told;
    if (rod->blank && !layer->cause)
        lay(layout);
    arena_clear(layout->making);
    if (planned->laid)
        return;
    if (!cause)
        cause = planned->cause ? planned->cause : findings_since(layout->findings, told);
    planned->cause = cause_mark(layout->findings, cause, layer->span);
}
