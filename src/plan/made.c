/* Planned again from what was measured. Turns that were read lie where the reading says, those before it as they
 * were wound; what is to come is planned anew, with what the reading tells of the threads. The band that is being
 * wound goes up to where its end was planned, if it is a fill or asked as a length; all others keep what was asked
 * for, and fills share what is left. */
#include "plan/layout.h"

#include <math.h>

/* A measured width beyond these shares of the expected one is taken for a slip of the pen: common practice, no
 * source. */
#define LEAST_SHARE 0.5
#define MOST_SHARE 2.0

/* --- what was read --- */

static bool layers_are_read(const Layer *layers, uint32_t count)
{
    for (uint32_t l = 0; l < count; l++)
        for (uint32_t i = 0; i < layers[l].item_count; i++)
            if (layers[l].items[i].measured > 0)
                return true;
    return false;
}

bool anything_read(const Job *job)
{
    for (uint32_t r = 0; r < job->rod_count; r++)
        for (uint32_t p = 0; p < job->rods[r].place_count; p++) {
            const Place *place = &job->rods[r].places[p];
            if (layers_are_read(place->layers, place->layer_count)
                || layers_are_read(place->tip_layers, place->tip_layer_count))
                return true;
        }
    return job->measured.count > 0 || job->known.count > 0;
}

static bool is_of_layer(const Layout *layout, const MeasuredWidth *reading)
{
    return reading->rod == (uint32_t)(layout->rod - layout->plan->rods)
           && reading->place == (uint32_t)(layout->place - layout->rod->places)
           && reading->layer == (uint32_t)(layout->layer - layout->place->layers);
}

/* Turns that the item takes of the layer: an inlay of another thread has other turns than those it stands for. */
static double layer_turns(const Layout *layout, uint32_t item)
{
    const ItemMeasure *measure = &layout->measures[item];
    double turns = measure->turns;
    for (uint32_t i = 0; i < measure->inlay_count; i++) {
        const PlacedInlay *inlay = &layout->inlays.items[measure->first_inlay + i];
        turns += inlay->turns - inlay->stands_for;
    }
    return turns;
}

/* The first band not yet on the bench whose width stands in the file. */
static bool next_written(const Layout *layout, MeasuredWidth *reading, uint32_t *item)
{
    const Layer *layer = layout->layer->layer;
    uint64_t end = layout->made.next_turn;
    for (uint32_t i = layout->made.next_item; i < layer->item_count; i++) {
        uint64_t first = end;
        end += (uint64_t)layer_turns(layout, i);
        const Item *band = &layer->items[i];
        if (!(band->measured > 0) || end <= layout->made.turns)
            continue;
        *item = i;
        *reading = (MeasuredWidth){.turn = end,
                                   .made = end,
                                   .from = first,
                                   .width = band->measured,
                                   .sure = true,
                                   .span = band->measured_span};
        return true;
    }
    return false;
}

/* The next of those from the bench that are this layer's; NULL if there is none. */
static const MeasuredWidth *next_given(Layout *layout)
{
    const MeasuredWidths *given = &layout->job->measured;
    for (uint32_t *next = &layout->made.next; *next < given->count; ++*next)
        if (is_of_layer(layout, &given->items[*next]) && given->items[*next].turn > layout->made.turns)
            return &given->items[*next];
    return NULL;
}

/* The next in the order of turns; false if there is none. Those from the bench stand in that order already. */
static bool next_reading(Layout *layout, MeasuredWidth *reading)
{
    const MeasuredWidth *given = next_given(layout);
    uint32_t item = 0;
    bool written = next_written(layout, reading, &item);
    if (!given && !written)
        return false;
    if (!given || (written && reading->turn < given->turn)) {
        layout->made.next_item = item + 1;
        layout->made.next_turn = reading->turn;
        return true;
    }
    *reading = *given;
    layout->made.next++;
    return true;
}

void start_made(Layout *layout) { layout->made = (Made){0}; }

/* --- the runs up to it --- */

uint32_t planned_runs(Layout *layout)
{
    Made *made = &layout->made;
    if (made->runs_known)
        return made->run_count;
    uint64_t wanted = count_runs(layout).runs;
    if (wanted > made->run_room) {
        made->runs = arena_take_many(layout->making, wanted, sizeof *made->runs);
        made->run_room = (uint32_t)wanted;
    }
    made->run_count = expand_runs(layout, made->runs);
    made->runs_known = true;
    made->run_at = 0;
    made->turn_at = 0;
    return made->run_count;
}

/* Those parts of runs that have turns after the layer's first `from` and not after `to`; and gaps between them, or
 * before the first of them. `first` turns of the layer come before the runs. */
static uint32_t cut_runs(const Run *runs, uint32_t count, uint64_t first, uint64_t from, uint64_t to, Run *parts)
{
    uint32_t cut = 0;
    for (uint32_t i = 0; i < count && first < to; i++) {
        uint64_t end = first + runs[i].turns;
        bool gap = runs[i].role == RUN_GAP;
        if (gap ? first >= from : end > from) {
            Run *part = &parts[cut++];
            *part = runs[i];
            part->goes_on = !gap && first < from;
            if (!gap)
                part->turns = (uint32_t)((end < to ? end : to) - (first > from ? first : from));
        }
        first = end;
    }
    return cut;
}

/* The first of these runs that is not made whole, from `at` on; *first: turns of the layer before it. */
static uint32_t skip_made(const Made *made, const Run *runs, uint32_t count, uint32_t at, uint64_t *first)
{
    for (; at < count; at++) {
        if (runs[at].role == RUN_GAP ? *first >= made->turns : *first + runs[at].turns > made->turns)
            break;
        *first += runs[at].turns;
    }
    return at;
}

/* The same of the runs as they are planned now, into made.cut: what is made already is not gone through again. */
static uint32_t cut_planned(Layout *layout, uint64_t from, uint64_t to)
{
    Made *made = &layout->made;
    made->run_at = skip_made(made, made->runs, made->run_count, made->run_at, &made->turn_at);
    bool made_before = from < made->turns;
    uint32_t at = made_before ? 0 : made->run_at, end = at;
    uint64_t first = made_before ? 0 : made->turn_at;
    for (uint64_t turn = first; end < made->run_count && turn < to; end++)
        turn += made->runs[end].turns;
    if (end - at > made->cut_room) {
        made->cut_room = end - at;
        made->cut = arena_take_many(layout->making, made->cut_room, sizeof *made->cut);
    }
    return cut_runs(made->runs + at, end - at, first, from, to, made->cut);
}

static double parts_width(const Layout *layout, const Run *parts, uint32_t count, bool gaps)
{
    Sum width = {0};
    for (uint32_t i = 0; i < count; i++)
        if ((parts[i].role == RUN_GAP) == gaps)
            sum_add(&width, laid_width(layout, &parts[i]));
    return sum_value(&width);
}

/* Their turns are as wide as is known now: they may have been planned before the last reading. */
static void expect_parts(const Layout *layout, Run *parts, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++)
        if (parts[i].strands)
            parts[i].pitch = turn_here(layout->learning, parts[i].strands);
}

/* They are on the bench, all as much wider than expected. */
static void make_parts(Layout *layout, Run *parts, uint32_t count, double ratio)
{
    Made *made = &layout->made;
    for (uint32_t i = 0; i < count; i++) {
        Run *part = LIST_ADD(layout->making, &made->parts);
        *part = parts[i];
        part->made = true;
        part->pitch *= ratio;
        made->turns += part->turns;
        made->width += laid_width(layout, part);
    }
}

/* How far every item has come, and what is to come of those that are begun. */
static void count_made(Layout *layout)
{
    Made *made = &layout->made;
    uint32_t count = cut_planned(layout, made->turns, UINT64_MAX);
    const Run *to_come = made->cut;
    made->items = arena_take_many(layout->making, layout->layer->layer->item_count, sizeof *made->items);
    for (uint32_t i = 0; i < made->parts.count; i++) {
        const Run *part = &made->parts.items[i];
        ItemMade *item = &made->items[part->item];
        item->whole = true;
        item->width += laid_width(layout, part);
        item->inlays += part->role == RUN_INLAY && !part->goes_on;
        item->turns += part->role == RUN_BAND ? part->turns : 0;
    }
    for (uint32_t i = 0; i < count; i++) {
        ItemMade *item = &made->items[to_come[i].item];
        item->part |= item->whole;
        item->whole = false;
        item->rest +=
            to_come[i].turns * (to_come[i].strands ? turn_here(layout->learning, to_come[i].strands) : 0);
    }
    for (uint32_t i = 0; i < layout->layer->layer->item_count; i++)
        for (uint32_t k = 0; k < made->items[i].inlays; k++)
            made->items[i].turns += layout->inlays.items[layout->measures[i].first_inlay + k].stands_for;
}

/* --- one reading --- */

ItemPlan items_now(const Layout *layout)
{
    uint32_t count = layout->layer->layer->item_count, inlays = layout->inlays.count;
    return (ItemPlan){arena_copy(layout->making, layout->measures, count * sizeof *layout->measures),
                      arena_copy(layout->making, layout->inlays.items, inlays * sizeof *layout->inlays.items),
                      inlays};
}

void keep_items(Layout *layout, ItemPlan plan)
{
    for (uint32_t i = 0; i < layout->layer->layer->item_count; i++)
        layout->measures[i] = plan.measures[i];
    layout->inlays.count = 0;
    for (uint32_t i = 0; i < plan.inlay_count; i++)
        *LIST_ADD(layout->scratch, &layout->inlays) = plan.inlays[i];
}

/* The inlay, of those of its band in the order of the work. */
static PlacedInlay *inlay_as_worked(const Layout *layout, uint32_t index, uint32_t number)
{
    const ItemMeasure *measure = &layout->measures[index];
    bool reversed = layout->layer->layer->items[index].reversed;
    return &layout->inlays.items[measure->first_inlay + (reversed ? measure->inlay_count - 1 - number : number)];
}

/* Inlays to come, from that number on, begin behind so many turns of their band, and a turn apart. */
static void push_inlays(Layout *layout, uint32_t index, uint32_t number, double turns)
{
    const ItemMeasure *measure = &layout->measures[index];
    bool reversed = layout->layer->layer->items[index].reversed;
    for (; number < measure->inlay_count; number++) {
        PlacedInlay *inlay = inlay_as_worked(layout, index, number);
        double by = turns - (reversed ? measure->turns - inlay->first - inlay->stands_for : inlay->first);
        if (by <= 0)
            return;
        inlay->first += reversed ? -by : by;
        turns += inlay->stands_for + 1;
    }
}

/* An item has so many turns more or fewer, counted after so many of its own, and so many inlays. */
static void count_item_again(Layout *layout, uint32_t index, uint64_t after, uint32_t inlays, double more)
{
    const Item *item = &layout->layer->layer->items[index];
    ItemMeasure *measure = &layout->measures[index];
    measure->turns += more;
    measure->width += more * turn_here(layout->learning, item->strands);
    double turns = (double)after + more; /* of the band, with those that its inlays stand for */
    for (uint32_t i = 0; i < measure->inlay_count; i++) {
        PlacedInlay *inlay = inlay_as_worked(layout, index, i);
        inlay->first += item->reversed ? more : 0; /* counted from the end that is worked last */
        turns -= i < inlays ? inlay->turns - inlay->stands_for : 0;
    }
    push_inlays(layout, index, inlays, turns);
    if (item->kind == ITEM_FADE)
        *LIST_ADD(layout->making, &layout->made.recounts) = (Recount){index, after, more};
}

static void count_inlay_again(Layout *layout, uint32_t index, uint32_t number, double more)
{
    PlacedInlay *inlay = inlay_as_worked(layout, index, number);
    inlay->turns += more;
    layout->measures[index].width += more * turn_here(layout->learning, inlay->inlay->strands);
}

/* Where turns were counted otherwise than planned, the inlay, band or fade that was wound last has so many more or
 * fewer. */
static void count_again(Layout *layout, const MeasuredWidth *reading)
{
    const Made *made = &layout->made;
    double more = (double)reading->made - (double)reading->turn;
    if (more == 0 || !planned_runs(layout))
        return;
    uint64_t after = reading->turn - made->turn_at;
    uint32_t inlays = 0;
    const Run *run = made->runs + made->run_at;
    run += run_with_turn(run, made->run_count - made->run_at, &after);
    for (const Run *each = run; each > made->runs && each[-1].item == run->item; each--) {
        after += each[-1].turns;
        inlays += each[-1].role == RUN_INLAY;
    }
    if (run->role == RUN_INLAY && run->turns + more >= 1)
        count_inlay_again(layout, run->item, inlays, more);
    else
        count_item_again(layout, run->item, after, inlays, more);
    layout->made.runs_known = false;
}

/* What was measured, as it lies in the plan. */
typedef struct Compared {
    Run *parts;
    uint32_t count;
    double gaps;
    double off, expected, uncertainty; /* mm: by how much its turns are off what is written; and should be */
} Compared;

/* The width of a band alone; all others are from where the layer begins. */
static bool is_written(const MeasuredWidth *reading) { return reading->span.end != 0; }

static Compared measured_parts(Layout *layout, const MeasuredWidth *reading)
{
    Compared measured = {.count = cut_planned(layout, reading->from, reading->made)};
    measured.parts = layout->made.cut;
    expect_parts(layout, measured.parts, measured.count);
    measured.gaps = is_written(reading) ? 0 : parts_width(layout, measured.parts, measured.count, true);
    thread_widths_clear(&layout->widths);
    for (uint32_t i = 0; i < measured.count; i++)
        if (measured.parts[i].strands)
            thread_widths_add(&layout->widths, measured.parts[i].strands, measured.parts[i].turns);
    measured.off = reading->width - measured.gaps - thread_widths_sum(&layout->widths);
    measured.expected = width_off(layout->learning, &layout->widths);
    measured.uncertainty = hypot(width_uncertainty(layout->learning, &layout->widths), layout->job->bench.reading);
    return measured;
}

/* A width that no packing gives. */
static bool is_slip(const Layout *layout, const MeasuredWidth *reading, const Compared *measured)
{
    double planned = parts_width(layout, measured->parts, measured->count, false);
    double found = reading->width - measured->gaps;
    return !(found >= LEAST_SHARE * planned && found <= MOST_SHARE * planned);
}

static void mend_far(Layout *layout, Finding *finding, bool wider)
{
    finding_mend(layout->findings, finding,
                 wider
                     ? "pack, measure again and count the turns again; then give the width as `sure`, or with the "
                       "turns that you counted"
                     : "measure again and count the turns again; then give the width as `sure`, or with the turns "
                       "that you counted");
}

/* Not even `sure` makes it so. */
static void mend_slip(Layout *layout, Finding *finding)
{
    finding_mend(
        layout->findings, finding,
        "measure again, mind the unit and the decimal point, and count the turns; if all of it is so, the "
        "thread's `turns:` or `size:` in the file is wrong");
}

static void leave_out(Layout *layout, const MeasuredWidth *reading, double expected)
{
    *LIST_ADD(layout->arena, &layout->made.left_out) =
        (LeftOut){.turn = reading->made, .width = reading->width, .expected = expected, .event = reading->event};
    layout->layer->left_out = layout->made.left_out.items;
    layout->layer->left_out_count = layout->made.left_out.count;
}

/* It is not heeded until it is answered. */
static void ask(Layout *layout, const MeasuredWidth *reading, const Compared *measured, bool slip)
{
    Arena *words = layout->findings->words;
    UnitSystem units = layout->job->bench.units;
    double off = measured->off - measured->expected;
    const Run *last = &measured->parts[measured->count - 1];
    LengthPair shown = show_apart(words, units, QUANTITY_WIDTH, reading->width, reading->width - off);
    const char *turns = show_turns(words, round(fabs(off) / last->pitch));
    Finding *finding =
        finding_add(layout->findings, FINDING_READING_FAR, layout->layer->layer->span,
                    "this width is left out%s: after %s this layer measures %s, and %s was expected%s",
                    slip ? ", for no packing makes it" : "", show_turns(words, (double)reading->made), shown.one,
                    shown.other, slip ? "" : text_format(words, ": %s are %s", shown.apart, turns));
    finding_label(layout->findings, finding, "give or take %s",
                  show_quantity(words, units, QUANTITY_TOLERANCE, measured->uncertainty));
    if (slip)
        mend_slip(layout, finding);
    else
        mend_far(layout, finding, off > 0);
    leave_out(layout, reading, reading->width - off);
}

static void tell_slip(Layout *layout, const MeasuredWidth *reading, const Compared *measured)
{
    Arena *words = layout->findings->words;
    UnitSystem units = layout->job->bench.units;
    double planned = measured->gaps + parts_width(layout, measured->parts, measured->count, false);
    const char *shown = show_length(words, units, planned);
    Span span = reading->span.end ? reading->span : layout->layer->layer->span;
    Finding *finding = finding_add(layout->findings, FINDING_OUT_OF_RANGE, span, "this band cannot measure %s",
                                   show_length(words, units, reading->width));
    finding_label(layout->findings, finding, "it is planned %s wide", shown);
    finding_mend(layout->findings, finding, "measure again; the width should be near %s", shown);
    if (reading->span.end)
        finding_edit(layout->findings, finding, reading->span, "%s",
                     write_length(words, width_writing(layout, reading->span), planned));
}

/* What the width holds besides new turns: those of the band that are made already, or all that the layer has. */
static double width_besides(const Layout *layout, const MeasuredWidth *reading, const Run *new, uint32_t count)
{
    const Made *made = &layout->made;
    if (!is_written(reading))
        return made->width + parts_width(layout, new, count, true);
    if (reading->from >= made->turns)
        return 0;
    Run *parts = arena_take_many(layout->making, made->parts.count, sizeof *parts);
    return parts_width(layout, parts,
                       cut_runs(made->parts.items, made->parts.count, 0, reading->from, UINT64_MAX, parts), false);
}

/* Its turns are made, and lie where it says. */
static void heed(Layout *layout, const MeasuredWidth *reading, const Compared *measured)
{
    Made *made = &layout->made;
    uint32_t before = cut_planned(layout, made->turns, reading->from);
    expect_parts(layout, made->cut, before);
    make_parts(layout, made->cut, before, 1);
    uint32_t new = cut_planned(layout, made->turns, reading->made);
    Run *parts = made->cut;
    expect_parts(layout, parts, new);
    double expected = parts_width(layout, parts, new, false);
    double found = reading->width - width_besides(layout, reading, parts, new);
    make_parts(layout, parts, new, found / expected);
    for (uint32_t i = 0; i < made->left_out.count; i++)
        made->left_out.items[i].answered = true;
    made->readings += !is_written(reading); /* a band's end parts no run */
    learn(layout->learning, &layout->widths, measured->off);
}

bool reading_waits(Layout *layout)
{
    MeasuredWidth reading;
    uint32_t item = 0;
    if (!next_written(layout, &reading, &item) || next_given(layout))
        return false;
    for (uint32_t i = layout->made.next_item; i <= item; i++)
        if (layout->layer->layer->items[i].extent.kind != EXTENT_TURNS)
            return false;
    return true;
}

void reckon_made(Layout *layout)
{
    if (layout->made.turns) {
        planned_runs(layout);
        layout->made.last = items_now(layout);
        count_made(layout);
    }
    layout->made.runs_known = false;
}

bool take_reading(Layout *layout)
{
    MeasuredWidth reading;
    if (!next_reading(layout, &reading))
        return false;
    if (!layout->made.before.measures) {
        layout->made.before = items_now(layout);
        layout->made.middles = inlay_middles(layout, layout->made.runs, layout->made.run_count);
    }
    uint32_t recounts = layout->made.recounts.count;
    ItemPlan planned = reading.made != reading.turn ? items_now(layout) : (ItemPlan){0};
    count_again(layout, &reading);
    planned_runs(layout);
    Compared measured = measured_parts(layout, &reading);
    bool far = width_is_far(layout->learning, &layout->widths, measured.off);
    bool slip = is_slip(layout, &reading, &measured);
    if (!slip && !(far && !reading.sure)) {
        heed(layout, &reading, &measured);
        return true;
    }
    if (reading.span.end)
        tell_slip(layout, &reading, &measured);
    else
        ask(layout, &reading, &measured, slip);
    if (planned.measures) { /* what is not heeded has not been counted otherwise, either */
        keep_items(layout, planned);
        layout->made.recounts.count = recounts;
        layout->made.runs_known = false;
    }
    return true;
}

void put_made_runs(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    if (!layout->made.turns)
        return;
    uint64_t turns = 0;
    uint32_t whole = skip_made(&layout->made, layer->runs, layer->run_count, 0, &turns), made = 0;
    uint32_t left = layer->run_count - whole;
    Run *to_come = arena_take_many(layout->making, left, sizeof *to_come);
    uint32_t count = cut_runs(layer->runs + whole, left, turns, layout->made.turns, UINT64_MAX, to_come);
    for (; made < layout->made.parts.count; made++)
        layer->runs[made] = layout->made.parts.items[made];
    for (uint32_t i = 0; i < count; i++)
        layer->runs[made + i] = to_come[i];
    layer->run_count = made + count;
}
