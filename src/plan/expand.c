/* Items to runs: who makes turns, how many, in which order. The same walk counts them first, so that a
 * small source cannot ask for memory beyond the limits. */
#include "plan/layout.h"

#include <math.h>

typedef struct Expander {
    Run *runs; /* NULL to count only */
    RunCount counted;
    uint32_t item;
    uint32_t recount; /* the first that is not of an item before it */
} Expander;

static void put_run(Expander *out, const Strands *strands, RunRole role, double turns, Span span)
{
    if (turns < 1 && role != RUN_GAP)
        return;
    if (out->runs)
        out->runs[out->counted.runs] =
            (Run){.strands = strands, .role = role, .turns = (uint32_t)turns, .item = out->item, .span = span};
    uint32_t wide = strands ? strands->count : 1;
    out->counted.runs++;
    out->counted.threads += wide;
    if (wide > out->counted.widest)
        out->counted.widest = wide;
}

static void expand_band(const Layout *layout, Expander *out, const Item *item, const ItemMeasure *measure)
{
    double turn = 0;
    for (uint32_t i = 0; i < measure->inlay_count; i++) {
        const PlacedInlay *placed = &layout->inlays.items[measure->first_inlay + i];
        put_run(out, item->strands, RUN_BAND, placed->first - turn, item->span);
        put_run(out, placed->inlay->strands, RUN_INLAY, placed->turns, placed->inlay->span);
        turn = placed->first + placed->stands_for;
    }
    put_run(out, item->strands, RUN_BAND, measure->turns - turn, item->span);
}

static void put_step(Expander *out, const Item *item, double in, double out_turns)
{
    put_run(out, item->strands, RUN_FADE_IN, in, item->span);
    put_run(out, item->from, RUN_FADE_OUT, out_turns, item->span);
}

static void put_steps(Expander *out, const Item *item, const CrossoverStep *steps, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++)
        put_step(out, item, steps[i].in, steps[i].out);
}

static void expand_even(Expander *out, const Item *item, uint64_t total)
{
    const Strands *const threads[] = {item->from, item->strands};
    static const RunRole roles[] = {RUN_FADE_OUT, RUN_FADE_IN};
    uint64_t made = 0, since = 0; /* turns of the new thread; turns since the last change */
    bool in = false;
    for (uint64_t turn = 1; turn <= total; turn++) {
        uint64_t now = even_crossover_turns(turn, total);
        if ((now > made) != in) {
            put_run(out, threads[in], roles[in], (double)since, item->span);
            in = !in;
            since = 0;
        }
        since++;
        made = now;
    }
    put_run(out, threads[in], roles[in], (double)since, item->span);
}

/* The item's recounts: they stand in the order of the items. NULL behind the last one. */
static const Recount *recount_of(const Layout *layout, const Expander *out, uint32_t number)
{
    uint32_t at = out->recount + number;
    bool is = at < layout->made.recounts.count && layout->made.recounts.items[at].item == out->item;
    return is ? &layout->made.recounts.items[at] : NULL;
}

/* Of its turns, those that it was planned with. */
static double planned_turns(const Layout *layout, const Expander *out, const ItemMeasure *measure)
{
    double turns = measure->turns;
    const Recount *recount;
    for (uint32_t i = 0; (recount = recount_of(layout, out, i)); i++)
        turns -= recount->more;
    return turns;
}

static void expand_fade(const Layout *layout, Expander *out, const Item *item, const ItemMeasure *measure)
{
    if (item->by_eye) {
        const ChosenTurns *chosen = turns_chosen(layout->chosen, measure->chosen);
        put_steps(out, item, chosen->runs, chosen->run_count);
        return;
    }
    if (item->fade_rule == FADE_EVEN)
        expand_even(out, item, (uint64_t)planned_turns(layout, out, measure));
    for (uint32_t i = 1; item->fade_rule == FADE_STEPS && i <= item->steps; i++)
        put_step(out, item, i, item->steps + 1 - i);
    if (item->fade_rule == FADE_RUNS)
        put_steps(out, item, item->runs, item->run_count);
}

static void expand_gap(const Layout *layout, Expander *out, const Item *item, const ItemMeasure *measure)
{
    (void)layout;
    if (measure->width > 0)
        put_run(out, NULL, RUN_GAP, 0, item->span);
}

/* Its end bands, and the field between them; its strands are planned apart. */
static void expand_crosswrap(const Layout *layout, Expander *out, const Item *item, const ItemMeasure *measure)
{
    (void)layout;
    put_run(out, item->strands, RUN_BAND, measure->turns / 2, item->span);
    put_run(out, NULL, RUN_GAP, 0, item->span);
    put_run(out, item->strands, RUN_BAND, measure->turns / 2, item->span);
}

static void expand_item(const Layout *layout, Expander *out, uint32_t index)
{
    static void (*const by_kind[])(const Layout *, Expander *, const Item *, const ItemMeasure *) = {
#define X(name, word) [ITEM_##name] = expand_##word,
        ITEM_TABLE(X)
#undef X
    };
    const Item *item = &layout->layer->layer->items[index];
    out->item = index;
    while (out->recount < layout->made.recounts.count && layout->made.recounts.items[out->recount].item < index)
        out->recount++;
    by_kind[item->kind](layout, out, item, &layout->measures[index]);
}

/* With those of measured turns, which are parted where the measuring was. */
RunCount count_runs(const Layout *layout)
{
    Expander out = {0};
    for (uint32_t i = 0; i < layout->layer->layer->item_count; i++)
        expand_item(layout, &out, i);
    out.counted.runs += layout->made.readings;
    out.counted.threads += (uint64_t)layout->made.readings * out.counted.widest;
    return out.counted;
}

/* Read backwards, the thread that was written as coming in goes out. */
static RunRole turned_role(RunRole role)
{
    return role == RUN_FADE_IN ? RUN_FADE_OUT : role == RUN_FADE_OUT ? RUN_FADE_IN : role;
}

static void turn_round(Run *runs, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++)
        runs[i].role = turned_role(runs[i].role);
    for (uint32_t i = 0, j = count; i + 1 < j; i++) {
        Run run = runs[i];
        runs[i] = runs[--j];
        runs[j] = run;
    }
}

/* A gap is as wide as its item: in a crosswrap, less its bands. */
double laid_width(const Layout *layout, const Run *run)
{
    const ItemMeasure *measure = &layout->measures[run->item];
    const Item *item = &layout->layer->layer->items[run->item];
    double bands = item->kind == ITEM_CROSSWRAP ? measure->turns * turn_here(layout->learning, item->strands) : 0;
    return run->strands ? run->turns * run->pitch : measure->width - bands;
}

/* Each run starts where the width of the one before ended. Widths are summed from the layer's start,
 * the same in both directions. */
static void set_positions(const Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    int direction = layout->place->direction;
    Sum width = {0};
    double start = layer->start;
    for (uint32_t i = 0; i < layer->run_count; i++) {
        Run *run = &layer->runs[i];
        PlannedItem *item = &layer->items[run->item];
        double wide = laid_width(layout, run);
        sum_add(&width, wide);
        item->obtained += wide;
        item->turns += run->turns;
        layer->turns += run->turns;
        run->start = start;
        run->end = start = layer->start + direction * sum_value(&width);
    }
    layer->width = sum_value(&width);
    layer->end = start;
}

/* What was asked for of several items together, and what they get. */
static void gather_spreads(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    LIST_OF(PlannedSpread) spreads = {0};
    for (uint32_t i = 0; i < layer->item_count;) {
        const Extent *extent = &layer->layer->items[i].extent;
        uint32_t first = i, end = extent->kind == EXTENT_SHARE ? spread_end(layer->layer, i) : i + 1;
        Sum obtained = {0};
        for (; i < end; i++)
            sum_add(&obtained, layer->items[i].obtained);
        if (extent->kind == EXTENT_SHARE && extent->spread->kind == EXTENT_LENGTH)
            *LIST_ADD(layout->arena, &spreads) = (PlannedSpread){first, end - first, extent->spread->amount,
                                                                 sum_value(&obtained), extent->spread->span};
    }
    layer->spreads = spreads.items;
    layer->spread_count = spreads.count;
}

uint32_t run_with_turn(const Run *runs, uint32_t count, uint64_t *turn)
{
    uint32_t at = 0;
    for (; at + 1 < count && *turn > runs[at].turns; at++)
        *turn -= runs[at].turns;
    return at;
}

static uint32_t leave_out_empty(Run *runs, uint32_t count)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < count; i++)
        if (runs[i].turns)
            runs[kept++] = runs[i];
    return kept;
}

/* More turns are the thread's that was wound last; fewer are taken off from there back. */
static uint32_t count_anew(Run *runs, uint32_t count, const Recount *recount)
{
    uint64_t turn = recount->after;
    uint32_t at = run_with_turn(runs, count, &turn);
    if (recount->more > 0)
        runs[at].turns += (uint32_t)recount->more;
    double fewer = -recount->more, there = (double)turn;
    for (uint32_t i = at + 1; i-- > 0 && fewer > 0; there = i ? runs[i - 1].turns : 0) {
        double off = fmin(fewer, there);
        runs[i].turns -= (uint32_t)off;
        fewer -= off;
    }
    return leave_out_empty(runs, count);
}

/* The runs of the item, as they are worked. */
static void put_in_order(const Layout *layout, Expander *out, uint32_t first)
{
    Run *runs = out->runs + first;
    uint32_t count = (uint32_t)out->counted.runs - first;
    if (layout->layer->layer->items[out->item].reversed)
        turn_round(runs, count);
    const Recount *recount;
    for (uint32_t i = 0; (recount = recount_of(layout, out, i)); i++)
        count = count_anew(runs, count, recount);
    out->counted.runs = first + count;
}

static PlannedItem planned_item(const Layout *layout, uint32_t index)
{
    const Item *item = &layout->layer->layer->items[index];
    bool fade = item->kind == ITEM_FADE;
    return (PlannedItem){.item = item,
                         .asked = layout->measures[index].asked,
                         .chosen = fade && item->by_eye ? layout->measures[index].chosen : 0,
                         .from = !fade            ? NULL
                                 : item->reversed ? item->strands
                                                  : item->from,
                         .to = !fade            ? NULL
                               : item->reversed ? item->from
                                                : item->strands};
}

uint32_t expand_runs(const Layout *layout, Run *runs)
{
    Expander out = {.runs = runs};
    for (uint32_t i = 0; i < layout->layer->layer->item_count; i++) {
        uint32_t first = (uint32_t)out.counted.runs;
        expand_item(layout, &out, i);
        put_in_order(layout, &out, first);
    }
    for (uint32_t i = 0; i < out.counted.runs; i++)
        runs[i].pitch = runs[i].strands ? turn_here(layout->learning, runs[i].strands) : 0;
    return (uint32_t)out.counted.runs;
}

/* Runs of one item follow one another, in the order of the items. */
static void share_out_runs(PlannedLayer *layer)
{
    uint32_t run = 0;
    for (uint32_t i = 0; i < layer->item_count; i++) {
        PlannedItem *item = &layer->items[i];
        item->first_run = run;
        while (run < layer->run_count && layer->runs[run].item == i)
            run++;
        item->run_count = run - item->first_run;
    }
}

void make_runs(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    layer->item_count = layer->layer->item_count;
    layer->items = arena_take_many(layout->arena, layer->item_count, sizeof *layer->items);
    for (uint32_t i = 0; i < layer->item_count; i++)
        layer->items[i] = planned_item(layout, i);
    layer->runs = arena_take_many(layout->arena, layer->run_count, sizeof *layer->runs);
    layer->run_count = expand_runs(layout, layer->runs);
    put_made_runs(layout);
    share_out_runs(layer);
    set_positions(layout);
    gather_spreads(layout);
}

bool run_fades(const Run *run) { return run->role == RUN_FADE_IN || run->role == RUN_FADE_OUT; }
