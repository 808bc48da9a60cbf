/* Plan to steps. Each layer is worked turn by turn: what has to happen at which turn (lay in, end, trim, pack ...)
 * is gathered as events, sorted, and the turns between are wound. */
#include "bench/steps.h"

#include "base/limits.h"
#include "plan/piece_ends.h"

#include <math.h>
#include <stdlib.h>

/* What comes first where several things happen at one turn: ends before beginnings. Other steps are no events. */
static const uint8_t precedence[STEP_KIND_COUNT] = {
    [STEP_PULL_THROUGH] = 1, [STEP_LAY_END] = 2, [STEP_TRIM_TAG] = 3,  [STEP_TRIM_END] = 3, [STEP_TAKE_SPACER] = 4,
    [STEP_PACK] = 5,         [STEP_MEASURE] = 6, [STEP_TAKE_TAPE] = 7, [STEP_STAND] = 8,    [STEP_LAY_LOOP] = 9,
    [STEP_LAY_IN] = 10,      [STEP_START] = 11,  [STEP_TAKE_UP] = 11,
};

/* Hours at which tags, ends and loops lie, the ring at 12: opposite the ring and staggered, so that they make no
 * ridge. Common practice, no source. */
static const uint8_t hours[] = {6, 5, 7, 4, 8};

/* A band of fewer turns cannot be measured well enough to tell anything: common practice, no source. */
enum { MEASURED_TURNS = 20 };

static StepEvent *add_event(LayerWork *work, uint64_t turn, StepKind kind, uint32_t piece)
{
    StepEvent *event = LIST_ADD(work->making->arena, &work->events);
    *event =
        (StepEvent){.turn = turn, .kind = kind, .piece = piece, .piece_count = 1, .sequence = work->events.count};
    return event;
}

/* The wrap that the turn belongs to: from the last gap before it to the next. */
static const Wrap *wrap_at(LayerWork *work, uint64_t turn)
{
    while (work->wraps.items[work->wrap].end_turn <= turn && work->wrap + 1 < work->wraps.count)
        work->wrap++;
    return &work->wraps.items[work->wrap];
}

/* --- what each piece needs --- */

/* A spacer's ends are not held: it goes again when its wrap is wound. */
static void plan_spacer(LayerWork *work, uint32_t index, const Wrap *wrap)
{
    const Piece *piece = &work->rod->pieces[index];
    add_event(work, piece->first_turn, STEP_START, index)->turns = (uint32_t)work->making->bench->bind;
    if (piece->end_turn < wrap->end_turn)
        add_event(work, piece->end_turn, STEP_LAY_END, index);
    add_event(work, wrap->end_turn, STEP_TAKE_SPACER, index);
}

static void plan_tag(LayerWork *work, uint32_t index, const PieceEnds *ends)
{
    const Piece *piece = &work->rod->pieces[index];
    uint32_t turns = (uint32_t)(ends->tag.to - ends->tag.from);
    add_event(work, ends->tag.from, ends->laid_in ? STEP_LAY_IN : STEP_START, index)->turns = turns;
    /* Strands together are taken up together, by the first of them. */
    bool follows = index > work->first_piece && piece[-1].first_run == piece->first_run
                   && piece[-1].first_turn == piece->first_turn;
    if (ends->laid_in && !follows)
        add_event(work, piece->first_turn, STEP_TAKE_UP, index)->piece_count =
            work->layer->runs[piece->first_run].strands->count;
    add_event(work, ends->tag_held, STEP_TRIM_TAG, index);
}

static void plan_end(LayerWork *work, uint32_t index, const PieceEnds *ends)
{
    uint64_t end = work->rod->pieces[index].end_turn;
    bool final = ends->end_way == END_THROUGH_FINAL_LOOP, loop = ends->end_way != END_UNDER_NEXT_TURNS;
    StepEvent *laid = add_event(work, ends->end.from, loop ? STEP_LAY_LOOP : STEP_LAY_END, index);
    laid->turns = (uint32_t)(ends->end.to - ends->end.from);
    laid->final = final;
    if (loop)
        add_event(work, end, STEP_PULL_THROUGH, index)->final = final;
    add_event(work, ends->end.to, STEP_TRIM_END, index);
}

static void plan_piece(LayerWork *work, uint32_t index)
{
    const Piece *piece = &work->rod->pieces[index];
    const Wrap *wrap = wrap_at(work, piece->first_turn);
    if (piece->spacer) {
        plan_spacer(work, index, wrap);
        return;
    }
    PieceEnds ends = piece_ends(work->making->bench, work->rod, index, wrap);
    plan_end(work, index, &ends);
    plan_tag(work, index, &ends);
}

/* --- changes, packing, measuring --- */

static bool works_on(const PlannedRod *rod, const Winding *winding, uint64_t turn)
{
    return rod->pieces[winding->first_piece].end_turn > turn;
}

/* Where one piece leaves off for another and will come back, it stands; the one that comes back is taken up. */
static void plan_changes(LayerWork *work)
{
    const PlannedRod *rod = work->rod;
    uint64_t turn = 0;
    for (uint32_t w = work->first_winding; w < work->end_winding; w++) {
        const Winding *winding = &rod->windings[w];
        uint32_t strands = work->layer->runs[winding->run].strands->count;
        bool changed = w == work->first_winding || winding[-1].first_piece != winding->first_piece;
        if (changed && w > work->first_winding && works_on(rod, &winding[-1], turn))
            add_event(work, turn, STEP_STAND, winding[-1].first_piece)->piece_count =
                work->layer->runs[winding[-1].run].strands->count;
        if (changed && rod->pieces[winding->first_piece].first_turn != turn)
            add_event(work, turn, STEP_TAKE_UP, winding->first_piece)->piece_count = strands;
        turn += winding->turns;
    }
}

static void plan_items(LayerWork *work)
{
    uint64_t turn = 0;
    for (uint32_t i = 0; i < work->layer->item_count; i++) {
        const PlannedItem *item = &work->layer->items[i];
        if (!item->turns)
            continue;
        turn += item->turns;
        add_event(work, turn, STEP_PACK, NO_PIECE);
        if (item->item->kind == ITEM_BAND && item->turns >= MEASURED_TURNS)
            add_event(work, turn, STEP_MEASURE, NO_PIECE);
    }
}

/* Every so many turns, counted from the layer's first. */
static void plan_every(LayerWork *work, double turns, StepKind kind)
{
    if (isnan(turns))
        return;
    for (uint64_t turn = (uint64_t)turns; turn < work->layer->turns; turn += (uint64_t)turns)
        add_event(work, turn, kind, NO_PIECE);
}

/* A crosswrap's two end bands lie far apart: each is packed for itself, and when it is done. */
static void plan_packing(LayerWork *work)
{
    uint64_t every = (uint64_t)work->making->bench->pack;
    if (!work->layer->crosswrap) {
        plan_every(work, work->making->bench->pack, STEP_PACK);
        return;
    }
    for (uint32_t i = 0; i < work->wraps.count; i++) {
        const Wrap *wrap = &work->wraps.items[i];
        for (uint64_t turn = wrap->first_turn + every; turn < wrap->end_turn; turn += every)
            add_event(work, turn, STEP_PACK, NO_PIECE);
        add_event(work, wrap->end_turn, STEP_PACK, NO_PIECE);
    }
}

/* Tape holds the foot by its inner half: it goes when the turns have come half way up the foot. */
static void plan_tape(LayerWork *work)
{
    if (!work->making->bench->tape || work->place->foot < 0 || !work->layer->layer->over)
        return;
    double middle = (work->place->foot_tip + work->place->foot_end) / 2;
    uint64_t turn = 0;
    for (uint32_t r = 0; r < work->layer->run_count; r++) {
        const Run *run = &work->layer->runs[r];
        if ((run->end - middle) * work->place->direction >= 0) {
            double share = run->end == run->start ? 0 : fmax(0, (middle - run->start) / (run->end - run->start));
            add_event(work, turn + (uint64_t)(share * run->turns), STEP_TAKE_TAPE, NO_PIECE);
            return;
        }
        turn += run->turns;
    }
}

static int in_working_order(const void *left, const void *right)
{
    const StepEvent *a = left, *b = right;
    if (a->turn != b->turn)
        return a->turn < b->turn ? -1 : 1;
    if (precedence[a->kind] != precedence[b->kind])
        return precedence[a->kind] - precedence[b->kind];
    return a->sequence < b->sequence ? -1 : 1;
}

/* --- writing the steps --- */

Step *make_step(Making *making, StepKind kind, uint32_t place, uint32_t layer, Span span)
{
    Step *step = LIST_ADD(making->arena, &making->steps);
    *step = (Step){.kind = kind, .place = place, .layer = layer, .piece = NO_PIECE, .span = span};
    return step;
}

/* How many spools feed threads that are not ended: while one waits, the blank stands still. */
static void count_spools(LayerWork *work, const StepEvent *event)
{
    const Piece *piece = event->piece == NO_PIECE ? NULL : &work->rod->pieces[event->piece];
    if (!piece || piece->by_hand)
        return;
    if (event->kind == STEP_START || event->kind == STEP_LAY_IN)
        work->live_spools++;
    if (event->kind == STEP_LAY_END || event->kind == STEP_PULL_THROUGH)
        work->live_spools--;
}

static bool needs_clock(StepKind kind)
{
    return kind == STEP_START || kind == STEP_LAY_IN || kind == STEP_LAY_LOOP || kind == STEP_LAY_END;
}

/* Two packings or measurings at one turn are one. */
static bool said_already(const LayerWork *work, const StepEvent *event)
{
    const Making *making = work->making;
    if (event->kind != STEP_PACK && event->kind != STEP_MEASURE)
        return false;
    const Step *last = making->steps.count ? &making->steps.items[making->steps.count - 1] : NULL;
    return last && last->kind == event->kind && last->layer == work->layer_index
           && last->layer_count == work->turn;
}

static void write_event(LayerWork *work, const StepEvent *event)
{
    Making *making = work->making;
    count_spools(work, event);
    if (said_already(work, event))
        return;
    Span span = event->piece == NO_PIECE ? work->layer->layer->span : work->rod->pieces[event->piece].span;
    Step *step = make_step(making, event->kind, work->place_index, work->layer_index, span);
    step->piece = event->piece;
    step->piece_count = event->piece == NO_PIECE ? 0 : event->piece_count;
    step->turns = event->turns;
    step->final = event->final;
    step->band_count = work->band_count;
    step->layer_count = work->turn;
    step->position = work->position;
    if (event->kind == STEP_MEASURE)
        step->length = fabs(work->position - work->layer->start);
    if (needs_clock(event->kind))
        step->clock = hours[making->clock++ % sizeof hours];
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
    Step *step = make_step(work->making, STEP_WIND, work->place_index, work->layer_index, run->span);
    step->piece = winding->first_piece;
    step->piece_count = run->strands->count;
    step->winding = index;
    step->turns = turns;
    step->by_hand = work->rod->pieces[winding->first_piece].by_hand && work->live_spools > 0;
    step->band_count = work->band_count;
    step->layer_count = work->turn;
    step->position = work->position;
    for (uint32_t i = 0; i < run->strands->count; i++)
        step->length += turns == run->turns ? run->lengths[i] : run->lengths[i] * turns / run->turns;
}

static void enter_winding(LayerWork *work, uint32_t index)
{
    const Winding *winding = &work->rod->windings[index];
    const Run *run = &work->layer->runs[winding->run];
    if (index == work->first_winding || winding[-1].run != winding->run) {
        work->run_turns = 0;
        work->position = run->start;
    }
    if (index == work->first_winding || work->layer->runs[winding[-1].run].item != run->item)
        work->band_count = 0;
}

static void write_layer(LayerWork *work)
{
    uint32_t next = 0;
    for (uint32_t w = work->first_winding; w < work->end_winding; w++) {
        uint64_t end = work->turn + work->rod->windings[w].turns;
        bool entered = false;
        while (work->turn < end) {
            /* What ends at this turn still lies at the place where the turns before it end. */
            for (; next < work->events.count && work->events.items[next].turn <= work->turn; next++) {
                if (!entered && precedence[work->events.items[next].kind] >= precedence[STEP_LAY_LOOP]) {
                    enter_winding(work, w);
                    entered = true;
                }
                write_event(work, &work->events.items[next]);
            }
            if (!entered)
                enter_winding(work, w);
            entered = true;
            uint64_t until = next < work->events.count && work->events.items[next].turn < end
                                 ? work->events.items[next].turn
                                 : end;
            write_turns(work, w, (uint32_t)(until - work->turn));
        }
    }
    for (; next < work->events.count; next++)
        write_event(work, &work->events.items[next]);
}

static void make_layer(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer, uint32_t *piece,
                       uint32_t *winding)
{
    LayerWork work = {.making = making,
                      .rod = rod,
                      .place = &rod->places[place],
                      .layer = &rod->places[place].layers[layer],
                      .place_index = place,
                      .layer_index = layer,
                      .first_piece = *piece,
                      .first_winding = *winding};
    work.position = work.layer->start;
    while (*winding < rod->winding_count && rod->windings[*winding].place == place
           && rod->windings[*winding].layer == layer)
        ++*winding;
    work.end_winding = *winding;
    work.wraps = layer_wraps(making->arena, work.layer);
    for (; *piece < rod->piece_count && rod->pieces[*piece].place == place && rod->pieces[*piece].layer == layer;
         ++*piece)
        plan_piece(&work, *piece);
    plan_changes(&work);
    plan_items(&work);
    plan_packing(&work);
    plan_every(&work, making->bench->measure, STEP_MEASURE);
    plan_tape(&work);
    if (work.events.count)
        qsort(work.events.items, work.events.count, sizeof *work.events.items, in_working_order);
    write_layer(&work);
}

/* --- around the wrapping --- */

static bool first_foot(const PlannedRod *rod, uint32_t place)
{
    return rod->places[place].foot >= 0
           && (place == 0 || rod->places[place - 1].place != rod->places[place].place);
}

/* The guide goes on when the layers below its feet are done. */
static void before_layer(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer)
{
    const PlannedPlace *planned = &rod->places[place];
    bool first_over = planned->layers[layer].layer->over;
    for (uint32_t l = 0; l < layer; l++)
        first_over &= !planned->layers[l].layer->over;
    if (making->bench->tape && planned->foot >= 0 && first_over)
        make_step(making, STEP_TAPE_GUIDE, place, WHOLE_ROD, planned->place->span)->position = planned->foot_tip;
}

static void make_place(Making *making, const PlannedRod *rod, uint32_t place, uint32_t *piece, uint32_t *winding)
{
    const PlannedPlace *planned = &rod->places[place];
    if (making->bench->dress && first_foot(rod, place))
        make_step(making, STEP_DRESS_FOOT, place, WHOLE_ROD, planned->place->span);
    make_step(making, STEP_MARK, place, WHOLE_ROD, planned->place->span)->position = planned->start;
    for (uint32_t layer = 0; layer < planned->layer_count; layer++) {
        before_layer(making, rod, place, layer);
        bool crosswrap = planned->layers[layer].crosswrap;
        if (crosswrap)
            write_crosswrap(making, rod, place, layer, piece);
        make_layer(making, rod, place, layer, piece, winding);
        if (crosswrap)
            finish_crosswrap(making, rod, place, layer);
        if (making->bench->lock && planned->foot >= 0 && planned->place->guide->foot_count == 1
            && layer + 1 == planned->layer_count)
            make_step(making, STEP_BIND_RING, place, WHOLE_ROD, planned->place->span)->position =
                planned->place->mark;
        if (making->bench->seal && !crosswrap && layer + 1 < planned->layer_count)
            make_step(making, STEP_SEAL, place, layer, planned->layers[layer].layer->span);
    }
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
        make_step(making, STEP_ALIGN, WHOLE_ROD, WHOLE_ROD, span);
    if (making->bench->singe)
        make_step(making, STEP_SINGE, WHOLE_ROD, WHOLE_ROD, span);
    if (any_preserver(rod))
        make_step(making, STEP_SEAL, WHOLE_ROD, WHOLE_ROD, span);
    for (uint32_t coat = 0; coat < making->bench->coats; coat++)
        make_step(making, STEP_COAT, WHOLE_ROD, WHOLE_ROD, span)->turns = coat + 1;
}

static void make_rod(Arena *arena, const Bench *bench, const PlannedRod *planned, BenchRod *rod)
{
    Making making = {.arena = arena, .bench = bench};
    uint32_t piece = 0, winding = 0;
    for (uint32_t place = 0; place < planned->place_count; place++)
        make_place(&making, planned, place, &piece, &winding);
    finish_rod(&making, planned);
    *rod = (BenchRod){.rod = planned, .steps = making.steps.items, .step_count = making.steps.count};
    cut_list(arena, rod);
}

BenchPlan *bench_make(Arena *arena, const Plan *plan)
{
    BenchPlan *made = arena_take(arena, sizeof *made);
    made->plan = plan;
    made->rods = arena_take_many(arena, plan->rod_count, sizeof *made->rods);
    made->rod_count = plan->rod_count;
    for (uint32_t i = 0; i < plan->rod_count; i++) {
        make_rod(arena, &plan->job->bench, &plan->rods[i], &made->rods[i]);
        made->minutes += minutes_of_steps(&made->rods[i], &plan->job->bench);
    }
    return made;
}
