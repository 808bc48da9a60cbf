/* What is to come of a layer of which turns are on the bench, and what is told of it. */
#include "plan/layout.h"

#include <math.h>

static bool is_flexible(const Item *item)
{
    bool gives = item->extent.kind == EXTENT_FILL || item->extent.kind == EXTENT_LENGTH;
    return item->kind == ITEM_BAND && gives && !(item->reversed && item->inlay_count);
}

/* Where the item was planned to end, mm from the layer's start. */
static double planned_end(const Layout *layout, uint32_t item)
{
    Sum end = {0};
    for (uint32_t i = 0; i <= item; i++)
        sum_add(&end, layout->made.before.measures[i].width);
    return sum_value(&end);
}

/* Whether a fill that is not begun comes after it. */
static bool fill_to_come(const Layout *layout, uint32_t item)
{
    for (uint32_t i = item + 1; i < layout->layer->layer->item_count; i++)
        if (is_fill(&layout->layer->layer->items[i]))
            return true;
    return false;
}

/* The last fill takes what the items behind it leave; all others end where it was planned. */
static double aim(const Layout *layout, uint32_t item)
{
    if (!is_fill(&layout->layer->layer->items[item]) || fill_to_come(layout, item))
        return planned_end(layout, item);
    Sum end = {0};
    sum_add(&end, layout->layer->length);
    for (uint32_t i = item + 1; i < layout->layer->layer->item_count; i++)
        sum_add(&end, -layout->measures[i].width);
    return sum_value(&end);
}

/* Turns of the band that is being wound. Its thread must still be ended, and hold the next one. */
static void go_on_to_aim(Layout *layout, uint32_t index)
{
    const Item *item = &layout->layer->layer->items[index];
    const ItemMade *made = &layout->made.items[index];
    const Bench *bench = &layout->job->bench;
    ItemMeasure *measure = &layout->measures[index];
    const ItemMeasure *before = &layout->made.last.measures[index];
    double turn = item_pitch(layout, item);
    double widen = before->inlay_count ? inlays_to_come(layout, &layout->made.last.inlays[before->first_inlay],
                                                        made->inlays, before->inlay_count, turn)
                                       : 0;
    double room = aim(layout, index) - layout->made.width - widen;
    double last = before->turns - made->turns;
    double least = fmin(ceil(fmax(bench->final, bench->bind)), last);
    double more = is_fill(item) ? floor(room / turn + LAYOUT_SLACK) : round(room / turn);
    more = fmax(more, least);
    measure->turns = made->turns + more;
    measure->width = made->width + more * turn + widen;
}

bool share_is_begun(const Layout *layout, uint32_t first, uint32_t end)
{
    bool begun = false;
    for (uint32_t i = first; i < end && layout->made.turns; i++)
        begun |= layout->made.items[i].part || layout->made.items[i].whole;
    return begun;
}

void restore_made(Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    if (!layout->made.turns)
        return;
    for (uint32_t i = 0; i < layer->item_count; i++) {
        const ItemMade *made = &layout->made.items[i];
        if (!made->part && !made->whole)
            continue;
        layout->measures[i] = layout->made.last.measures[i];
        layout->measures[i].stays = true;
        layout->measures[i].width = made->width + made->rest;
    }
    for (uint32_t i = 0; i < layer->item_count; i++)
        if (layout->made.items[i].part && is_flexible(&layer->items[i]))
            go_on_to_aim(layout, i);
}

/* --- what is told of it --- */

InlayMiddles inlay_middles(Layout *layout, const Run *runs, uint32_t count)
{
    LIST_OF(InlayMiddle) middles = {0};
    Sum width = {0};
    double start = 0;
    for (uint32_t i = 0; i < count; i++) {
        const Run *run = &runs[i];
        bool begins = !run->goes_on;
        if (begins)
            start = sum_value(&width);
        sum_add(&width, laid_width(layout, run));
        if (run->role != RUN_INLAY)
            continue;
        if (begins)
            *LIST_ADD(layout->making, &middles) =
                (InlayMiddle){.item = run->item, .made = run->made, .span = run->span};
        middles.items[middles.count - 1].at = (start + sum_value(&width)) / 2;
    }
    return (InlayMiddles){middles.items, middles.count};
}

static Finding *tell_moved(Layout *layout, Span span, const char *what, double moved, const char *mend)
{
    UnitSystem units = layout->job->bench.units;
    Finding *finding =
        finding_add(layout->findings, FINDING_MARK_MOVED, span, "%s moves by %s, more than one turn", what,
                    show_length(layout->findings->words, units, fabs(moved)));
    finding_label(layout->findings, finding, "%s than planned",
                  moved > 0 ? "further from the mark" : "nearer to the mark");
    finding_mend(layout->findings, finding, "%s", mend);
    return finding;
}

/* What was wound last of what was measured. */
static const Run *last_part(const Layout *layout)
{
    return &layout->made.parts.items[layout->made.parts.count - 1];
}

/* Of the band that was measured last, as --measured counts them. */
static double band_turns_made(const Layout *layout)
{
    const Made *made = &layout->made;
    double turns = 0;
    for (uint32_t i = made->parts.count;
         i-- > 0 && made->parts.items[i].item == made->parts.items[made->parts.count - 1].item;)
        turns += made->parts.items[i].turns;
    return turns;
}

/* Those of them that nothing parts from the last one. */
static double turns_to_take_from(const Layout *layout)
{
    const Made *made = &layout->made;
    double turns = 0;
    for (uint32_t i = made->parts.count; i-- > 0;) {
        turns += made->parts.items[i].turns;
        if (!made->parts.items[i].goes_on)
            break;
    }
    return turns;
}

/* Turns over the loop that a wrap's last end is to be drawn back by: it lies, where bare blank comes next or
 * nothing. */
static double turns_over_loop(const Layout *layout)
{
    const PlannedLayer *layer = layout->layer;
    uint32_t next = layout->made.parts.count;
    return next == layer->run_count || layer->runs[next].role == RUN_GAP ? layout->job->bench.final : 0;
}

/* A width was given at the bench: the file is another thing by then, its turns are wound. */
static bool is_at_bench(const Layout *layout) { return layout->made.readings > 0; }

/* Of a band's turns: with more of them off it is another band. Common practice, no source. */
#define MOST_TAKEN_OFF 0.5

/* Turns that can come off the last ones wound, since a width was measured before. What was trimmed where they
 * begin is held by the first `bind` of them; and with fewer than twice as many, or than a loop takes, the thread
 * would have to begin in another way. So it might where it came in by a fade: whether it is a cut piece goes by
 * its length. */
static bool can_come_off(const Layout *layout, double off)
{
    const Bench *bench = &layout->job->bench;
    const Run *last = last_part(layout);
    bool by_fade = last->item > 0 && layout->layer->layer->items[last->item - 1].kind == ITEM_FADE;
    return !by_fade && off < last->turns
           && turns_to_take_from(layout) - off >= bench->bind + fmax(bench->bind, bench->final)
           && off <= MOST_TAKEN_OFF * band_turns_made(layout);
}

/* What is to be done at the bench about what comes out so much further from the mark: of the last turns some come
 * off, where there are as many. */
static const char *bench_mend(const Layout *layout, double moved)
{
    Arena *words = layout->findings->words;
    const Run *last = last_part(layout);
    double off = ceil(moved / last->pitch);
    double over_loop = turns_over_loop(layout);
    if (!(moved > 0 && can_come_off(layout, off)))
        return "leave it so, or move what comes after it by as much";
    const char *loops = last->strands->count > 1 ? "loops" : "loop";
    const char *again =
        over_loop > 0 ? text_format(words, ", lay the %s again and wind %s", loops, show_turns(words, over_loop))
                      : "";
    return text_format(
        words,
        "take %s off%s, measure again, and give that width in place of the last one, with the turns "
        "that are left in its band (`after %s`); or leave it so",
        show_turns(words, off + over_loop), again, show_turns(words, band_turns_made(layout) - off));
}

static void compare_inlay(Layout *layout, const InlayMiddle *now, const InlayMiddle *before)
{
    double moved = now->at - before->at;
    if (!now->made && fabs(moved) > item_pitch(layout, &layout->layer->layer->items[now->item]) + LAYOUT_SLACK)
        tell_moved(layout, now->span, "this inlay", moved,
                   is_at_bench(layout)
                       ? bench_mend(layout, moved)
                       : "if it must stay where it was, give the fill before it a fixed number of turns");
}

/* One after the last inlay of the item that has the first of these. */
static uint32_t item_inlays_end(const InlayMiddles *middles, uint32_t first)
{
    uint32_t end = first;
    while (end < middles->count && middles->items[end].item == middles->items[first].item)
        end++;
    return end;
}

/* Item by item: where one has more or fewer of them than before, none is the same as one of then. */
static void compare_inlays(Layout *layout)
{
    const InlayMiddles *before = &layout->made.middles;
    InlayMiddles now = inlay_middles(layout, layout->layer->runs, layout->layer->run_count);
    uint32_t then = 0;
    for (uint32_t first = 0, end; first < now.count; first = end) {
        end = item_inlays_end(&now, first);
        while (then < before->count && before->items[then].item < now.items[first].item)
            then++;
        bool as_many = item_inlays_end(before, then) - then == end - first
                       && before->items[then].item == now.items[first].item;
        for (uint32_t i = first; i < end && as_many; i++)
            compare_inlay(layout, &now.items[i], &before->items[then + (i - first)]);
    }
}

/* Where the wrap has become wider than its room. */
static void relate_room(Layout *layout, Finding *finding)
{
    const PlannedLayer *layer = layout->layer;
    if (isnan(layer->length) || layer->width <= layer->length + LAYOUT_SLACK)
        return;
    Arena *words = layout->findings->words;
    LengthPair shown = show_apart(words, layout->job->bench.units, QUANTITY_WIDTH, layer->width, layer->length);
    finding_relate(layout->findings, finding, layout->place->place->mark_span,
                   "it is %s wide now, and has %s of room", shown.one, shown.other);
}

static bool lays(const Layer *layers, uint32_t count, const Layer *but, Span span)
{
    for (uint32_t l = 0; l < count; l++)
        for (uint32_t i = 0; i < layers[l].item_count && &layers[l] != but; i++) {
            Span other = layers[l].items[i].extent.span;
            if (other.file == span.file && other.start == span.start)
                return true;
        }
    return false;
}

/* Whether what is written there is laid in another layer, too, by a pattern: it may be no fill there. */
static bool laid_elsewhere(const Layout *layout, Span span)
{
    const Layer *here = layout->layer->layer;
    for (uint32_t r = 0; r < layout->job->rod_count; r++)
        for (uint32_t p = 0; p < layout->job->rods[r].place_count; p++) {
            const Place *place = &layout->job->rods[r].places[p];
            if (lays(place->layers, place->layer_count, here, span)
                || lays(place->tip_layers, place->tip_layer_count, here, span))
                return true;
        }
    return false;
}

static void compare_end(Layout *layout, double moved)
{
    const Layer *layer = layout->layer->layer;
    const Item *last = NULL;
    for (uint32_t i = 0; i < layer->item_count; i++)
        if (layer->items[i].kind == ITEM_BAND && !layout->made.items[i].whole)
            last = &layer->items[i];
    const Run *turns = last_part(layout);
    double turn = last ? turn_here(layout->learning, last->strands) : turns->pitch;
    if (!(fabs(moved) > turn + LAYOUT_SLACK))
        return;
    Finding *finding =
        tell_moved(layout, layer->span, "the end of this wrap", moved,
                   is_at_bench(layout) ? bench_mend(layout, moved)
                   : last              ? "make a band after the measured one a `fill`: it takes up the difference"
                                       : "move what comes after it by as much, or leave it so");
    relate_room(layout, finding);
    if (last && !is_at_bench(layout) && !isnan(layout->layer->length)
        && (last->extent.kind == EXTENT_TURNS || last->extent.kind == EXTENT_LENGTH) && finding_is_kept(finding)
        && !laid_elsewhere(layout, last->extent.span))
        finding_edit(layout->findings, finding, last->extent.span, "fill");
}

void compare_with_before(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    if (!layout->made.turns)
        return;
    double start = 0, start_before = 0;
    compare_inlays(layout);
    LIST_OF(Replanned) changes = {0};
    for (uint32_t i = 0; i < layer->layer->item_count; i++) {
        const ItemMeasure *now = &layout->measures[i], *before = &layout->made.before.measures[i];
        const ItemMade *made = &layout->made.items[i];
        if (now->turns != before->turns || made->part || made->whole)
            *LIST_ADD(layout->arena, &changes) =
                (Replanned){i, (uint32_t)before->turns, (uint32_t)now->turns, before->width, now->width};
        start += now->width;
        start_before += before->width;
    }
    layer->changes = changes.items;
    layer->change_count = changes.count;
    layer->moved = start - start_before;
    compare_end(layout, layer->moved);
}
