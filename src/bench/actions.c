/* Plan to actions. Each layer is worked turn by turn: what has to happen at which turn (lay in, end, trim, pack
 * ...) comes as events (events.c), and the turns between are wound. */
#include "bench/actions.h"

#include <math.h>

/* Hours at which tags, ends and loops lie, the place's own angle at 12: opposite its ring, wherever that stands,
 * and staggered, so that they make no ridge. Common practice, no source. */
static const uint8_t hours[] = {6, 5, 7, 4, 8};

/* One layer at work. */
typedef struct LayerWork {
    Making *making;
    const PlannedRod *rod;
    const PlannedLayer *layer;
    uint32_t place_index, layer_index;
    ActionEvents events;
    uint64_t turn;       /* made so far */
    uint64_t band_count; /* of them in the present item */
    uint32_t run_turns;  /* of them in the present run */
    double position;
    uint32_t live_spools;
} LayerWork;

/* --- writing the actions --- */

static void finish_action(Making *making)
{
    if (!making->newest)
        return;
    add_times(&making->times, making->newest);
    replay_action(&making->hands, making->newest);
}

Action *make_action(Making *making, ActionKind kind, uint32_t place, uint32_t layer, Span span)
{
    finish_action(making);
    making->count++;
    making->newest = making->keep ? LIST_ADD(making->arena, &making->actions) : &making->alone;
    *making->newest =
        (Action){.kind = kind,
                 .place = place,
                 .layer = layer,
                 .section = place == WHOLE_ROD ? ALL_SECTIONS : making->hands.rod->places[place].section,
                 .piece = NO_PIECE,
                 .span = span};
    return making->newest;
}

/* How many spools feed threads that are not ended: while one waits, the blank stands still. */
static void count_spools(LayerWork *work, const ActionEvent *event)
{
    const Piece *piece = event->piece == NO_PIECE ? NULL : &work->rod->pieces[event->piece];
    if (!piece || piece->by_hand)
        return;
    if (event->kind == ACTION_START || event->kind == ACTION_LAY_IN)
        work->live_spools++;
    if (event->kind == ACTION_LAY_END || event->kind == ACTION_PULL_THROUGH)
        work->live_spools--;
}

static bool needs_clock(ActionKind kind)
{
    return kind == ACTION_START || kind == ACTION_LAY_IN || kind == ACTION_LAY_LOOP || kind == ACTION_LAY_END;
}

/* Two packings or measurings at one turn are one. */
static bool said_already(const LayerWork *work, const ActionEvent *event)
{
    if (event->kind != ACTION_PACK && event->kind != ACTION_MEASURE)
        return false;
    const Action *last = work->making->newest;
    return last && last->kind == event->kind && last->layer == work->layer_index
           && last->layer_count == work->turn;
}

static void write_event(LayerWork *work, const ActionEvent *event)
{
    Making *making = work->making;
    count_spools(work, event);
    if (said_already(work, event))
        return;
    Span span = event->piece == NO_PIECE ? work->layer->layer->span : work->rod->pieces[event->piece].span;
    Action *action = make_action(making, event->kind, work->place_index, work->layer_index, span);
    action->piece = event->piece;
    action->piece_count = event->piece == NO_PIECE ? 0 : event->piece_count;
    action->turns = event->turns;
    action->final = event->final;
    action->layer_count = work->turn;
    action->position = work->position;
    if (event->kind == ACTION_MEASURE)
        action->length = fabs(work->position - work->layer->start);
    if (needs_clock(event->kind))
        action->clock = hours[making->clock++ % sizeof hours];
}

static void write_turns(LayerWork *work, uint32_t index, uint32_t turns)
{
    const Winding *winding = &work->rod->windings[index];
    const Run *run = &work->layer->runs[winding->run];
    work->turn += turns;
    work->band_count += turns;
    work->run_turns += turns;
    double share = (double)work->run_turns / run->turns;
    work->position = work->run_turns == run->turns ? run->end : run->start + share * (run->end - run->start);
    Action *action = make_action(work->making, ACTION_WIND, work->place_index, work->layer_index, run->span);
    action->piece = winding->first_piece;
    action->piece_count = run->strands->count;
    action->winding = index;
    action->turns = turns;
    action->by_hand = work->rod->pieces[winding->first_piece].by_hand && work->live_spools > 0;
    action->band_count = work->band_count;
    action->layer_count = work->turn;
    action->position = work->position;
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
        write_event(work, next);
        events_take(&work->events);
    }
}

static void write_layer(LayerWork *work)
{
    ActionEvents *events = &work->events;
    for (uint32_t w = events->first_winding; w < events->end_winding; w++) {
        uint64_t end = work->turn + work->rod->windings[w].turns;
        /* What ends at this turn still lies at the place where the turns before it end. */
        write_events(work, true);
        enter_winding(work, w);
        while (work->turn < end) {
            write_events(work, false);
            const ActionEvent *next = events_next(events);
            uint64_t until = next && next->turn < end ? next->turn : end;
            write_turns(work, w, (uint32_t)(until - work->turn));
        }
    }
    write_events(work, false);
}

static void make_layer(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer, uint32_t *piece,
                       uint32_t *winding)
{
    const PlannedPlace *planned = &rod->places[place];
    arena_clear(making->scratch);
    LayerWork work = {.making = making,
                      .rod = rod,
                      .layer = &planned->layers[layer],
                      .place_index = place,
                      .layer_index = layer,
                      .position = planned->layers[layer].start,
                      .events = {.arena = making->scratch,
                                 .bench = making->bench,
                                 .rod = rod,
                                 .place = planned,
                                 .layer = &planned->layers[layer],
                                 .first_piece = *piece,
                                 .first_winding = *winding}};
    while (*winding < rod->winding_count && rod->windings[*winding].place == place
           && rod->windings[*winding].layer == layer)
        ++*winding;
    while (*piece < rod->piece_count && rod->pieces[*piece].place == place && rod->pieces[*piece].layer == layer)
        ++*piece;
    work.events.end_winding = *winding;
    work.events.end_piece = *piece;
    events_start(&work.events);
    write_layer(&work);
}

/* --- around the wrapping --- */

static bool first_foot(const PlannedRod *rod, uint32_t place)
{
    return rod->places[place].foot >= 0
           && (place == 0 || rod->places[place - 1].place != rod->places[place].place);
}

static bool goes_over_foot(const PlannedPlace *planned)
{
    bool over = false;
    for (uint32_t l = 0; planned->foot >= 0 && l < planned->layer_count; l++)
        over |= planned->layers[l].layer->over;
    return over;
}

/* The guide goes on when the layers below its feet are done, taped by all of them: a second foot stays taped while
 * the first is wrapped. */
static void before_layer(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer)
{
    const PlannedPlace *planned = &rod->places[place];
    bool first_over = planned->layers[layer].layer->over;
    for (uint32_t l = 0; l < layer; l++)
        first_over &= !planned->layers[l].layer->over;
    if (making->bench->tape && first_foot(rod, place) && first_over)
        make_action(making, ACTION_TAPE_GUIDE, place, WHOLE_ROD, planned->place->span)->position =
            planned->foot_tip;
}

/* Three or four turns are bound beyond a ring: common practice, no source. */
#define LEAST_BOUND 3
/* For a room that they just fill, mm: far below what anybody measures. Common practice, no source. */
#define ROOM_SLACK 1e-6

/* The pitch of the turns next to the ring; 0 if there are none. */
static double last_pitch(const PlannedLayer *layer)
{
    const Strands *last = NULL;
    for (uint32_t i = 0; i < layer->run_count; i++)
        last = layer->runs[i].strands ? layer->runs[i].strands : last;
    return last ? last->pitch : 0;
}

/* Beyond the ring of a single foot the section must show blank for the turns: at the tip a guide has none. */
static bool can_bind_ring(const PlannedRod *rod, const PlannedPlace *planned)
{
    const Guide *guide = planned->place->guide;
    if (planned->foot < 0 || guide->foot_count != 1)
        return false;
    const Section *section = &rod->rod->sections[planned->section];
    double end = planned->direction > 0 ? section->end : section->start;
    double room = (end - planned->place->mark) * planned->direction - guide->gap / 2;
    return room >= LEAST_BOUND * last_pitch(&planned->layers[planned->layer_count - 1]) - ROOM_SLACK;
}

static void make_place(Making *making, const PlannedRod *rod, uint32_t place, uint32_t *piece, uint32_t *winding)
{
    const PlannedPlace *planned = &rod->places[place];
    if (making->bench->dress && first_foot(rod, place))
        make_action(making, ACTION_DRESS_FOOT, place, WHOLE_ROD, planned->place->span);
    make_action(making, ACTION_MARK, place, WHOLE_ROD, planned->place->span)->position = planned->start;
    for (uint32_t layer = 0; layer < planned->layer_count; layer++) {
        before_layer(making, rod, place, layer);
        bool crosswrap = planned->layers[layer].crosswrap;
        if (crosswrap)
            write_crosswrap(making, rod, place, layer, piece);
        make_layer(making, rod, place, layer, piece, winding);
        if (crosswrap)
            finish_crosswrap(making, rod, place, layer);
        if (making->bench->lock && layer + 1 == planned->layer_count && can_bind_ring(rod, planned))
            make_action(making, ACTION_BIND_RING, place, WHOLE_ROD, planned->place->span)->position =
                planned->place->mark;
        if (making->bench->seal && !crosswrap && layer + 1 < planned->layer_count)
            make_action(making, ACTION_SEAL, place, layer, planned->layers[layer].layer->span);
    }
    if (making->bench->tape && goes_over_foot(planned) && !layer_that_meets_tape(planned))
        make_action(making, ACTION_TAKE_TAPE, place, WHOLE_ROD, planned->place->span)->position =
            planned->foot_end;
}

/* Before the first place of a section. The line comes last, since the cleaner would take it off. */
static void begin_section(Making *making, const PlannedRod *rod, uint32_t section)
{
    if (making->bench->clean)
        make_action(making, ACTION_CLEAN, WHOLE_ROD, WHOLE_ROD, rod->rod->span)->section = section;
    make_action(making, ACTION_MARK_LINE, WHOLE_ROD, WHOLE_ROD, rod->rod->span)->section = section;
}

static bool any_preserver(const PlannedRod *rod)
{
    bool any = false;
    for (uint32_t i = 0; i < rod->piece_count; i++)
        any |= rod->pieces[i].thread->preserver;
    return any;
}

static bool any_guide(const PlannedRod *rod)
{
    bool any = false;
    for (uint32_t i = 0; i < rod->place_count; i++)
        any |= rod->places[i].foot >= 0;
    return any;
}

static void finish_rod(Making *making, const PlannedRod *rod)
{
    Span span = rod->rod->span;
    if (making->bench->align && any_guide(rod))
        make_action(making, ACTION_ALIGN, WHOLE_ROD, WHOLE_ROD, span);
    if (making->bench->singe)
        make_action(making, ACTION_SINGE, WHOLE_ROD, WHOLE_ROD, span);
    if (making->bench->wipe)
        make_action(making, ACTION_WIPE, WHOLE_ROD, WHOLE_ROD, span);
    if (any_preserver(rod))
        make_action(making, ACTION_SEAL, WHOLE_ROD, WHOLE_ROD, span);
    for (uint32_t coat = 0; coat < making->bench->coats; coat++)
        make_action(making, ACTION_COAT, WHOLE_ROD, WHOLE_ROD, span)->turns = coat + 1;
}

void make_actions(Making *making, const PlannedRod *rod)
{
    uint32_t piece = 0, winding = 0;
    for (uint32_t place = 0; place < rod->place_count; place++) {
        if (place == 0 || rod->places[place - 1].section != rod->places[place].section)
            begin_section(making, rod, rod->places[place].section);
        make_place(making, rod, place, &piece, &winding);
    }
    finish_rod(making, rod);
    finish_action(making);
    replay_end(&making->hands);
}
