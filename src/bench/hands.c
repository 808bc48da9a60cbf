/* What the replay keeps in mind. What lies is kept with the turns that were made when it was laid, so that a turn
 * costs nothing however much lies under it. */
#include "bench/hands.h"

#include <math.h>

static bool same_layer(const Winding *a, const Winding *b) { return a->place == b->place && a->layer == b->layer; }

/* In another layer, or behind a gap. */
static bool starts_a_wrap(const PlannedRod *rod, const Winding *before, const Winding *winding)
{
    if (!same_layer(before, winding))
        return true;
    const Run *runs = rod->places[winding->place].layers[winding->layer].runs;
    for (uint32_t run = before->run + 1; run < winding->run; run++)
        if (runs[run].role == RUN_GAP)
            return true;
    return false;
}

static void number_wraps(Hands *hands)
{
    const PlannedRod *rod = hands->rod;
    uint32_t wrap = 0;
    for (uint32_t i = 0; i < rod->piece_count; i++)
        hands->piece_wraps[i] = NO_WRAP;
    for (uint32_t i = 0; i < rod->winding_count; i++) {
        const Winding *winding = &rod->windings[i];
        if (i > 0 && starts_a_wrap(rod, winding - 1, winding))
            wrap++;
        hands->winding_wraps[i] = wrap;
        for (uint32_t k = 0; k < winding->pieces.count; k++) {
            uint32_t *piece_wrap = &hands->piece_wraps[group_piece(winding->pieces, k)];
            *piece_wrap = *piece_wrap == NO_WRAP ? wrap : *piece_wrap;
        }
    }
}

void hands_start(Hands *hands, Arena *arena, const PlannedRod *rod, const Bench *bench)
{
    *hands = (Hands){.rod = rod, .bench = bench, .arena = arena};
    hands->pieces = arena_take_many(arena, rod->piece_count, sizeof *hands->pieces);
    hands->feet = arena_take_many(arena, rod->place_count, sizeof *hands->feet);
    hands->piece_wraps = arena_take_many(arena, rod->piece_count, sizeof *hands->piece_wraps);
    hands->winding_wraps = arena_take_many(arena, rod->winding_count, sizeof *hands->winding_wraps);
    hands->found.piece = NO_PIECE;
    hands->tape_until = UINT64_MAX;
    hands->looks = (LooksNow){.passed = NO_PIECE, .unpacked_wrap = NO_WRAP, .last_wrap = NO_WRAP};
    number_wraps(hands);
}

bool is_cut(const Hands *hands, uint32_t piece)
{
    return hands->rod->pieces[piece].by_hand || hands->pieces[piece].cut;
}

void set_state(Hands *hands, uint32_t piece, PieceState state)
{
    PieceNow *now = &hands->pieces[piece];
    bool spool = !is_cut(hands, piece);
    hands->pieces_in[now->state]--;
    hands->spools_in[now->state] -= spool;
    now->state = (uint8_t)state;
    hands->pieces_in[state]++;
    hands->spools_in[state] += spool;
}

void lay(Hands *hands, uint32_t piece, HeldThing thing)
{
    hands->pieces[piece].lying[thing] = (Lying){(uint32_t)hands->turns, LIES};
    hands->laid++;
    *LIST_ADD(hands->arena, &hands->fresh) = *LIST_ADD(hands->arena, &hands->loose) = (Thing){piece, thing};
}

double turns_to_hold(const Hands *hands, HeldThing thing)
{
    return thing == THING_LOOP ? fmin(hands->bench->bind, hands->bench->loop) : hands->bench->bind;
}

bool anything_unbound(Hands *hands)
{
    /* What was laid later has fewer turns over it. A loop needs no more than what else lies. */
    for (; hands->first_fresh < hands->fresh.count; hands->first_fresh++) {
        Thing fresh = hands->fresh.items[hands->first_fresh];
        const Lying *lying = &hands->pieces[fresh.piece].lying[fresh.thing];
        if (lying->state == LIES && cover(hands, lying) < turns_to_hold(hands, fresh.thing))
            return true;
    }
    return false;
}

double cover(const Hands *hands, const Lying *lying)
{
    return lying->state == LIES ? (double)(hands->turns - lying->since) : 0;
}

bool is_finished(const PieceNow *now)
{
    return now->state == PIECE_ENDED && now->lying[THING_TAG].state == LIES_NO_MORE
           && now->lying[THING_END].state == LIES_NO_MORE && now->lying[THING_LOOP].state != LIES;
}

uint32_t next_wrap(const Hands *hands)
{
    return hands->winding < hands->rod->winding_count ? hands->winding_wraps[hands->winding] : NO_WRAP;
}

/* What the next winding does not share with the one that is done is counted anew. */
static void finish_winding(Hands *hands)
{
    const PlannedRod *rod = hands->rod;
    const Winding *done = &rod->windings[hands->winding++];
    hands->wound = 0;
    if (hands->winding == rod->winding_count)
        return;
    const Winding *next = &rod->windings[hands->winding];
    const Run *runs = rod->places[next->place].layers[next->layer].runs;
    bool layer_goes_on = same_layer(done, next);
    if (!layer_goes_on)
        hands->layer_turns = 0;
    if (!layer_goes_on || runs[done->run].item != runs[next->run].item)
        hands->item_turns = 0;
    if (!layer_goes_on || done->run != next->run)
        hands->run_turns = 0;
}

/* The layer of a crosswrap that is in hand has two wraps, its end bands. */
static void count_end_band(Hands *hands, uint32_t turns)
{
    uint32_t band = hands->winding_wraps[hands->winding] - hands->crosswrap.first_wrap;
    if (hands->crosswrap.planned && band < 2)
        hands->crosswrap.end_turns[band] += turns;
}

/* Packing is of one layer's turns. */
static void look_at_turns(Hands *hands, const Action *action)
{
    const PlannedRod *rod = hands->rod;
    LooksNow *looks = &hands->looks;
    uint32_t wrap = hands->winding_wraps[hands->winding];
    bool new_layer = hands->layer_turns == 0;
    looks->unpacked_wrap = new_layer || looks->unpacked_wrap == NO_WRAP ? wrap : looks->unpacked_wrap;
    looks->last_wrap = wrap;
    looks->packed = looks->cut = looks->pulled = looks->pass_broken = false;
    looks->passed = action->by_hand ? rod->windings[hands->winding].pieces.first : NO_PIECE;
}

void make_turns(Hands *hands, const Action *action)
{
    uint32_t turns = action->turns;
    look_at_turns(hands, action);
    count_end_band(hands, turns);
    for (uint32_t i = 0; i < action->piece_count; i++)
        hands->pieces[group_piece(action_pieces(action), i)].own += turns;
    hands->laid = hands->own_tags = 0;
    hands->turns += turns;
    hands->layer_turns += turns;
    hands->item_turns += turns;
    hands->run_turns += turns;
    hands->wound += turns;
    if (hands->wound == hands->rod->windings[hands->winding].turns)
        finish_winding(hands);
}

bool fault_by(Hands *hands, Verdict verdict, uint32_t piece, double needed, double got)
{
    hands->found = (Replay){.verdict = verdict, .piece = piece, .needed = needed, .got = got};
    return false;
}

bool fault(Hands *hands, Verdict verdict, uint32_t piece)
{
    hands->found = (Replay){.verdict = verdict, .piece = piece};
    return false;
}

bool lost(Hands *hands, uint32_t piece) { return fault(hands, REPLAY_STRAND_LOST, piece); }

bool turns_differ(Hands *hands, uint32_t piece)
{
    bool due = hands->winding < hands->rod->winding_count;
    double needed = due ? hands->rod->windings[hands->winding].turns : 0;
    return fault_by(hands, REPLAY_TURNS_DIFFER, piece, needed, hands->wound);
}

bool thread_left(Hands *hands)
{
    uint32_t piece = 0;
    while (hands->pieces[piece].state == PIECE_OFF || hands->rod->pieces[piece].pass_count > 0
           || is_finished(&hands->pieces[piece]))
        piece++;
    return fault(hands, REPLAY_THREAD_LEFT, piece);
}

bool spool_fault(Hands *hands, Verdict verdict, PieceState state, double needed, double got)
{
    uint32_t piece = 0;
    while (is_cut(hands, piece) || hands->pieces[piece].state != state)
        piece++;
    return fault_by(hands, verdict, piece, needed, got);
}
