/* Plan to actions: place by place, layer by layer, and what is done around them. */
#include "bench/layer_work.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* --- writing the actions --- */

static void finish_action(Making *making)
{
    if (!making->newest)
        return;
    add_times(&making->times, making->newest);
    if (fits_a_sheet(making))
        making->steps += fold_begins(&making->folding, making->letters, making->hands.rod, making->newest);
    replay_action(&making->hands, making->newest);
}

bool makes_turns(const Action *action) { return action->kind == ACTION_WIND || action->kind == ACTION_LEG; }

PieceGroup action_pieces(const Action *action)
{
    if (action->piece == NO_PIECE)
        return NO_PIECES;
    return (PieceGroup){action->piece, action->piece_count, action->pieces};
}

Action *make_action(Making *making, ActionKind kind, uint32_t place, uint32_t layer, Span span)
{
    finish_action(making);
    making->count++;
    making->newest = making->keep ? LIST_ADD(making->arena, &making->actions) : &making->alone;
    Action *action = making->newest;
    memset(action, 0, offsetof(Action, leg)); /* a leg is set as a whole, a state by the replay alone */
    action->kind = kind;
    action->place = place;
    action->layer = layer;
    action->section = place == WHOLE_ROD ? ALL_SECTIONS : making->hands.rod->places[place].section;
    action->piece = NO_PIECE;
    action->span = span;
    return action;
}

void make_seal(Making *making, uint32_t place, uint32_t layer, Span span)
{
    Preservings first = preservings_before(&making->preservings, place, layer);
    make_action(making, ACTION_SEAL, place, layer, span)->preserving = first;
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
                      .was_cut = NO_PIECE,
                      .position = planned->layers[layer].start,
                      .packed_at = NO_EVENT,
                      .measured_at = NO_EVENT,
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
    if (!making->bench->tape || planned->foot < 0 || !planned->layers[layer].layer->over
        || making->taped == planned->place)
        return;
    make_action(making, ACTION_TAPE_GUIDE, place, WHOLE_ROD, planned->place->span)->position = planned->foot_tip;
    making->taped = planned->place;
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

static void put_part(Making *making, const PlannedRod *rod, const PartMoment *moment, uint32_t section)
{
    bool at_place = moment->kind == MOMENT_PLACE;
    Action *action = make_action(making, ACTION_PART, at_place ? moment->place : WHOLE_ROD, WHOLE_ROD,
                                 rod->rod->parts[moment->part].span);
    action->section = section;
    action->part = moment->part;
    action->position = rod->rod->parts[moment->part].start;
}

/* Those that thread of this place goes over, before it does. */
static void put_parts_of_place(Making *making, const PlannedRod *rod, uint32_t place)
{
    const PartMoments *parts = &making->parts;
    while (making->part < parts->count && parts->items[making->part].kind == MOMENT_SECTION)
        making->part++;
    for (; making->part < parts->count && parts->items[making->part].kind == MOMENT_PLACE
           && parts->items[making->part].place == place;
         making->part++)
        put_part(making, rod, &parts->items[making->part], rod->places[place].section);
}

static void begin_place(Making *making, const PlannedRod *rod, uint32_t place)
{
    const PlannedPlace *planned = &rod->places[place];
    if (making->bench->dress && first_foot(rod, place))
        make_action(making, ACTION_DRESS_FOOT, place, WHOLE_ROD, planned->place->span);
    make_action(making, ACTION_MARK, place, WHOLE_ROD, planned->place->span)->position = planned->start;
    put_parts_of_place(making, rod, place);
}

static void make_whole_layer(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer,
                             uint32_t *piece, uint32_t *winding)
{
    const PlannedPlace *planned = &rod->places[place];
    bool crosswrap = planned->layers[layer].crosswrap, last = layer + 1 == planned->layer_count;
    before_layer(making, rod, place, layer);
    if (crosswrap)
        write_crosswrap(making, rod, place, layer, piece);
    make_layer(making, rod, place, layer, piece, winding);
    if (crosswrap)
        finish_crosswrap(making, rod, place, layer);
    if (making->bench->lock && last && can_bind_ring(rod, planned))
        make_action(making, ACTION_BIND_RING, place, WHOLE_ROD, planned->place->span)->position =
            planned->place->mark;
    if (making->bench->seal && !crosswrap && !last)
        make_seal(making, place, layer, planned->layers[layer].layer->span);
}

static void end_place(Making *making, const PlannedRod *rod, uint32_t place)
{
    const PlannedPlace *planned = &rod->places[place];
    if (making->bench->tape && goes_over_foot(planned) && !layer_that_meets_tape(planned))
        make_action(making, ACTION_TAKE_TAPE, place, WHOLE_ROD, planned->place->span)->position =
            planned->foot_end;
}

static void make_stage(Making *making, const PlannedRod *rod, const Stage *stage, uint32_t *piece,
                       uint32_t *winding)
{
    if (stage->first_layer == 0)
        begin_place(making, rod, stage->place);
    for (uint32_t layer = stage->first_layer; layer < stage->end_layer; layer++)
        make_whole_layer(making, rod, stage->place, layer, piece, winding);
    if (stage->end_layer == rod->places[stage->place].layer_count)
        end_place(making, rod, stage->place);
}

/* Before the first place of a section. The line comes after the cleaner, which would take it off, and before what
 * is set by it. */
static void begin_section(Making *making, const PlannedRod *rod, uint32_t section)
{
    if (making->bench->clean)
        make_action(making, ACTION_CLEAN, WHOLE_ROD, WHOLE_ROD, rod->rod->span)->section = section;
    make_action(making, ACTION_MARK_LINE, WHOLE_ROD, WHOLE_ROD, rod->rod->span)->section = section;
    for (uint32_t i = 0; i < making->parts.count && making->parts.items[i].kind == MOMENT_SECTION; i++)
        if (making->parts.items[i].section == section)
            put_part(making, rod, &making->parts.items[i], section);
}

/* What lies under the finish, and what belongs to a section on which nothing is wound. */
static void put_parts_last(Making *making, const PlannedRod *rod)
{
    uint64_t worked = 0;
    _Static_assert(LIMIT_SECTIONS <= 64, "a bit for each");
    for (uint32_t place = 0; place < rod->place_count; place++)
        worked |= UINT64_C(1) << rod->places[place].section;
    for (uint32_t i = 0; i < making->parts.count; i++) {
        const PartMoment *moment = &making->parts.items[i];
        if (moment->kind == MOMENT_FINISH || (moment->kind == MOMENT_SECTION && !(worked >> moment->section & 1)))
            put_part(making, rod, moment, ALL_SECTIONS);
    }
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
    put_parts_last(making, rod);
    if (preservings_before(&making->preservings, WHOLE_ROD, WHOLE_ROD).count)
        make_seal(making, WHOLE_ROD, WHOLE_ROD, span);
    for (uint32_t coat = 0; coat < making->bench->coats; coat++)
        make_action(making, ACTION_COAT, WHOLE_ROD, WHOLE_ROD, span)->turns = coat + 1;
}

void make_actions(Making *making, const PlannedRod *rod)
{
    uint32_t piece = 0, winding = 0;
    making->parts = part_moments(making->hands.arena, rod);
    making->preservings = find_preservings(making->keep ? making->arena : making->hands.arena, making->bench, rod);
    for (uint32_t s = 0; s < rod->stage_count; s++) {
        const Stage *stage = &rod->stages[s];
        uint32_t section = rod->places[stage->place].section;
        if (s == 0 || rod->places[stage[-1].place].section != section)
            begin_section(making, rod, section);
        make_stage(making, rod, stage, &piece, &winding);
    }
    finish_rod(making, rod);
    finish_action(making);
    replay_end(&making->hands);
}
