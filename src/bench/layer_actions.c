/* Each layer is worked turn by turn: what has to happen at which turn (lay in, end, trim, pack ...) comes as
 * events (events.c), and the turns between are wound. */
#include "bench/layer_work.h"

#include "base/halfway.h"
#include "plan/plan_sums.h"

#include <math.h>

/* Hours at which tags, ends and loops lie, the place's own angle at 12: opposite its ring, wherever that stands,
 * and staggered, so that they make no ridge. Common practice, no source. */
static const uint8_t hours[] = {6, 5, 7, 4, 8};

static bool needs_clock(ActionKind kind)
{
    return kind == ACTION_START || kind == ACTION_LAY_IN || kind == ACTION_LAY_LOOP || kind == ACTION_LAY_END;
}

Action *put_action(LayerWork *work, ActionKind kind, PieceGroup pieces)
{
    Making *making = work->making;
    Span span = pieces.count ? work->rod->pieces[pieces.first].span : work->layer->layer->span;
    Action *action = make_action(making, kind, work->place_index, work->layer_index, span);
    action->piece = pieces.count ? pieces.first : NO_PIECE;
    action->piece_count = pieces.count;
    action->pieces = pieces.all;
    action->layer_count = work->turn;
    action->position = work->position;
    if (needs_clock(kind))
        action->clock = hours[making->clock++ % sizeof hours];
    return action;
}

static void put_event(LayerWork *work, const ActionEvent *event)
{
    Action *action = put_action(work, event->kind, event->pieces);
    action->turns = event->turns;
    action->thing = event->thing;
    if (event->kind == ACTION_CUT_FROM_SPOOL)
        action->length = work->rod->pieces[event->pieces.first].cut_off;
    if (event->kind == ACTION_LOAD)
        action->length = piece_length(&work->rod->pieces[event->pieces.first]);
    action->final = event->final;
}

/* The wrap that the last of so many turns belongs to. */
static const Wrap *wrap_up_to(const LayerWork *work, uint64_t turn)
{
    const Wraps *wraps = &work->events.wraps;
    uint32_t low = 0, high = wraps->count - 1;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (wraps->items[middle].end_turn < turn)
            low = middle + 1;
        else
            high = middle;
    }
    return &wraps->items[low];
}

uint64_t wrap_end(const LayerWork *work) { return wrap_up_to(work, work->turn)->end_turn; }

/* --- packing and measuring --- */

/* Whether this happens at that turn, the next one or this, too. All that does is near. */
static bool is_due(LayerWork *work, ActionKind kind, uint64_t turn)
{
    events_next(&work->events);
    for (uint32_t i = 0; i < work->events.near.count; i++)
        if (work->events.near.items[i].turn == turn && work->events.near.items[i].kind == kind)
            return true;
    return false;
}

/* A cut piece is in a hand: packing would cost its tape. */
static bool piece_in_hand(const LayerWork *work)
{
    for (uint32_t i = 0; i < work->lines.count; i++) {
        const LineAtWork *line = &work->lines.items[i];
        if (is_cut_piece(work, line->piece) && !line->taped && group_has(work->running, line->piece)
            && work->rod->pieces[line->piece].end_turn == work->turn)
            return true;
    }
    return false;
}

/* Packing has waited for a good moment long enough. */
static bool is_overdue(const LayerWork *work, uint64_t turn)
{
    const Bench *bench = work->making->bench;
    uint64_t last = work->packed_at == NO_EVENT ? 0 : work->packed_at;
    return turn >= last + (uint64_t)(bench->pack + 2 * bench->bind);
}

/* The turn to pack at, this or a later one: where nothing that was laid is loose and no hand pass is broken, at
 * the wrap's end at the latest. */
static uint64_t pack_when(LayerWork *work, uint64_t turn)
{
    if (is_overdue(work, turn))
        return behind_hand_pass(&work->events.passes, turn);
    uint64_t end = wrap_end(work), when = work->bound_at > turn ? work->bound_at : turn;
    if (when == work->turn && when < end && piece_in_hand(work))
        when += (uint64_t)work->making->bench->bind;
    when = behind_hand_pass(&work->events.passes, when);
    return when < end || turn > end ? when : end;
}

/* What ends within a few turns of this one is packed then, unless that would be late. */
static bool packed_soon_after(LayerWork *work, uint64_t turn)
{
    uint64_t until = turn + work->events.few;
    if (is_overdue(work, turn))
        return false;
    bool soon = work->events.cursors[FROM_ITEMS].turn <= until;
    for (uint32_t i = 0; i < work->events.near.count && !soon; i++) {
        const ActionEvent *near = &work->events.near.items[i];
        soon = near->kind == ACTION_PACK && !near->regular && near->turn > work->turn && near->turn <= until;
    }
    return soon;
}

/* A width is measured a few turns behind this one: it is packed then. */
static bool measured_soon(const LayerWork *work, uint64_t turn)
{
    uint64_t until = turn + work->events.few, next = work->events.cursors[FROM_MEASURING].turn;
    bool soon = next > turn && next <= until;
    for (uint32_t i = 0; i < work->events.near.count && !soon; i++) {
        const ActionEvent *near = &work->events.near.items[i];
        soon = near->kind == ACTION_MEASURE && near->turn > turn && near->turn <= until;
    }
    return soon;
}

/* It was packed a few turns before this one, or is a few turns behind it; at its end every wrap is packed. */
static bool packed_nearby(const LayerWork *work, uint64_t turn)
{
    const Wrap *wrap = wrap_up_to(work, turn);
    uint64_t few = work->events.few, last = work->packed_at;
    if (turn == wrap->end_turn)
        return false;
    bool before = last != NO_EVENT && last > wrap->first_turn && last < turn && turn - last <= few;
    return before || wrap->end_turn - turn <= few || measured_soon(work, turn);
}

/* Whether it waits, which is packing or measuring: then it is put off; or left out, where it is packed a few
 * turns before or behind, or packing is counted anew. */
static bool put_off(LayerWork *work, const ActionEvent *event)
{
    bool packs = event->kind == ACTION_PACK && !event->last;
    if (!packs && event->kind != ACTION_MEASURE)
        return false;
    uint64_t every = (uint64_t)work->making->bench->pack;
    bool left_out = packs && packed_nearby(work, event->turn);
    left_out |= event->regular && work->packed_at != NO_EVENT && event->turn < work->packed_at + every;
    ActionEvent later = *event;
    later.turn = packs ? pack_when(work, event->turn) : behind_hand_pass(&work->events.passes, event->turn);
    if (!left_out && (later.turn == event->turn || (packs && is_due(work, ACTION_MEASURE, event->turn))))
        return false;
    events_take(&work->events);
    if (!left_out && !(packs && packed_soon_after(work, later.turn)))
        add_event(&work->events, &later);
    return true;
}

/* Whatever a hand holds is taped before. */
static void put_pack(LayerWork *work)
{
    if (work->packed_at == work->turn && !work->pulled)
        return;
    put_down(work);
    put_action(work, ACTION_PACK, NO_PIECES);
    events_packed(&work->events, work->turn);
    work->packed_at = work->turn;
    work->pulled = false;
}

static void pack(LayerWork *work, const ActionEvent *event)
{
    if (packed_nearby(work, work->turn))
        return;
    /* A measuring packs before it itself; a loop that is drawn now is packed behind. */
    if (event->last
        || !(is_due(work, ACTION_PULL_THROUGH, work->turn) || is_due(work, ACTION_MEASURE, work->turn)))
        put_pack(work);
}

static void measure(LayerWork *work)
{
    if (work->measured_at == work->turn)
        return;
    put_pack(work);
    free_hands(work, MOST_HANDS, NO_PIECES, 0);
    put_action(work, ACTION_MEASURE, NO_PIECES)->length = fabs(work->position - work->layer->start);
    work->measured_at = work->turn;
}

/* --- one thing that happens --- */

static void loop_is_laid(LayerWork *work, const ActionEvent *event) { thing_is_laid(work, event, THING_LOOP); }

static void end_is_laid(LayerWork *work, const ActionEvent *event) { thing_is_laid(work, event, THING_END); }

static void end_is_drawn(LayerWork *work, const ActionEvent *event)
{
    (void)event;
    work->fingers.count = 0; /* its loop alone may have been under one */
    work->pulled = true;
}

static void spool_is_left(LayerWork *work, const ActionEvent *event) { work->was_cut = event->pieces.first; }

/* What comes with an event beside its action. Other kinds have no row. */
static const struct EventRule {
    bool cuts;      /* its line, which comes off its tape before */
    bool ends_line; /* that is gone behind it */
    bool trims;     /* this, which comes off its tape before */
    HeldThing trimmed;
    void (*then)(LayerWork *work, const ActionEvent *event);
} event_rules[ACTION_KIND_COUNT] = {
    [ACTION_START] = {.then = piece_comes},
    [ACTION_LAY_IN] = {.then = piece_comes},
    [ACTION_LAY_LOOP] = {.then = loop_is_laid},
    [ACTION_LAY_END] = {.cuts = true, .ends_line = true, .then = end_is_laid},
    [ACTION_PULL_THROUGH] = {.cuts = true, .ends_line = true, .then = end_is_drawn},
    [ACTION_TRIM_TAG] = {.trims = true, .trimmed = THING_TAG},
    [ACTION_TRIM_END] = {.trims = true, .trimmed = THING_END},
    [ACTION_TAKE_SPACER] = {.ends_line = true},
    [ACTION_CUT_FROM_SPOOL] = {.then = spool_is_left},
};

static void write_event(LayerWork *work, const ActionEvent *event)
{
    const struct EventRule *rule = &event_rules[event->kind];
    unsigned things = event->kind == ACTION_UNTAPE ? 1u << event->thing : action_needs[event->kind].handles;
    if (event->kind == ACTION_STAND)
        lines_stand(work, event->pieces);
    else if (event->kind != ACTION_TAKE_UP || is_cut_piece(work, event->pieces.first))
        free_hands(work, MOST_HANDS, event->pieces, things);
    if (rule->cuts)
        lines_come_off(work, event->pieces);
    for (uint32_t i = 0; rule->trims && i < event->pieces.count; i++)
        comes_untaped(work, group_piece(event->pieces, i), rule->trimmed);
    put_event(work, event);
    if (rule->ends_line)
        line_is_gone(work, event->pieces.first);
    if (rule->then)
        rule->then(work, event);
}

static void happen(LayerWork *work, const ActionEvent *event)
{
    if (event->kind == ACTION_PACK)
        pack(work, event);
    else if (event->kind == ACTION_MEASURE)
        measure(work);
    else
        write_event(work, event);
    if (!fits_a_sheet(work->making))
        events_look_no_more(&work->events);
}

/* --- turns --- */

static void write_turns(LayerWork *work, uint32_t index, uint32_t turns)
{
    const Winding *winding = &work->rod->windings[index];
    const Run *run = &work->layer->runs[winding->run];
    bool by_hand = work->events.passes.by_hand[index - work->events.first_winding];
    work->running = winding->pieces;
    ready_to_wind(work, by_hand || work->making->bench->drive != DRIVE_PEDAL ? MOST_HANDS : 1);
    work->turn += turns;
    work->band_count += turns;
    work->run_turns += turns;
    double share = (double)work->run_turns / run->turns;
    work->position = work->run_turns == run->turns ? run->end : run->start + share * (run->end - run->start);
    Action *action = put_action(work, ACTION_WIND, winding->pieces);
    action->span = run->span;
    action->winding = index;
    action->turns = turns;
    action->by_hand = by_hand;
    action->band_count = work->band_count;
    for (uint32_t i = 0; i < run->strands->count; i++)
        action->length += turns == run->turns ? run->lengths[i] : run->lengths[i] * turns / run->turns;
}

static void enter_winding(LayerWork *work, uint32_t index)
{
    const Winding *winding = &work->rod->windings[index];
    const Run *run = &work->layer->runs[winding->run];
    bool first = index == work->events.first_winding;
    if (first || winding[-1].run != winding->run) {
        work->run_turns = 0;
        work->position = run->start;
    }
    if (first || work->layer->runs[winding[-1].run].item != run->item)
        work->band_count = 0;
}

/* All that happens at this turn; or, with `ends_only`, up to the first that begins something. */
static void write_events(LayerWork *work, bool ends_only)
{
    const ActionEvent *next;
    while ((next = events_next(&work->events)) && next->turn <= work->turn
           && (!ends_only || ends_something(next))) {
        if (put_off(work, next))
            continue;
        ActionEvent event = *next;
        events_take(&work->events);
        happen(work, &event);
    }
}

/* The turns up to the next thing that happens, or to this one. */
static uint64_t next_stop(LayerWork *work, uint64_t end)
{
    for (;;) {
        const ActionEvent *next = events_next(&work->events);
        if (!next || next->turn >= end)
            return end;
        uint64_t turn = next->turn;
        if (!put_off(work, next))
            return turn;
    }
}

void write_layer(LayerWork *work)
{
    ActionEvents *events = &work->events;
    for (uint32_t w = events->first_winding; w < events->end_winding; w++) {
        uint64_t end = work->turn + work->rod->windings[w].turns;
        /* What ends at this turn still lies at the place where the turns before it end. */
        write_events(work, true);
        enter_winding(work, w);
        while (work->turn < end) {
            write_events(work, false);
            write_turns(work, w, (uint32_t)(next_stop(work, end) - work->turn));
        }
    }
    write_events(work, false);
}
