/* The replay of crosswraps: what is done when. Beside the rules of turns (replay.c), for a layer with a crosswrap:
 *
 *   SET_OUT       Once, when all before its layer is done: the lines are marked.
 *   HOLD_ENDS     Likewise, where tape or pins hold the passes: nothing is tied on before. There is none where the
 *                 bench has `ends: none`.
 *   TIE_ON        off -> tied on. The pieces of passes one after the other, in the plan's order.
 *   LEG           The leg that is due, by the piece tied on: a pass out, then back (a spiral's out only), then the
 *                 next pass of the piece. It stands where its strand has to, goes round as far as it has to, and
 *                 is laid against the strand that it touches (replay_leg_places.c).
 *   TIE_OFF       tied on -> tied off, when its passes are laid whole, and it is as long as planned.
 *   SYMMETRY      Once, when the first strand is laid for all starts, and before any leg of the next strand.
 *   UNWIND        A spacer's piece, tied off -> ended, when all passes are laid.
 *   Turns         The end bands are begun only when all passes lie and all spacers are unwound.
 *   SEAL          Once, when the end bands' turns are made and their threads are done with.
 *   TAKE_ENDS     Once, after sealing: the passes are cut. Each end band has `final` turns over them.
 *
 * The layer is left when its ends are taken off. */
#include "bench/replay_crosswrap.h"

#include "bench/replay_feet.h"

#include <math.h>

static bool out_of_order(Hands *hands, uint32_t piece) { return fault(hands, REPLAY_OUT_OF_ORDER, piece); }

/* Passes are counted from 1 for people. */
static bool passes_differ(Hands *hands, uint32_t piece, uint32_t got)
{
    return fault_by(hands, REPLAY_PASSES_DIFFER, piece, hands->crosswrap.pass + 1.0, got + 1.0);
}

static bool is_in_hand(const Hands *hands, uint32_t place, uint32_t layer)
{
    const CrosswrapNow *now = &hands->crosswrap;
    return now->planned && now->place == place && now->layer == layer;
}

static const PlannedLayer *layer_at(const Hands *hands, uint32_t place, uint32_t layer)
{
    const PlannedRod *rod = hands->rod;
    bool there = place < rod->place_count && layer < rod->places[place].layer_count;
    return there ? &rod->places[place].layers[layer] : NULL;
}

/* Names the first piece of passes, or of spacers, that is not done with. */
static bool pass_left(Hands *hands, bool spacer)
{
    const Piece *pieces = hands->rod->pieces;
    uint32_t piece = hands->crosswrap.pieces_from, end = hands->crosswrap.pieces_to;
    while (piece < end && (hands->pieces[piece].state == PIECE_ENDED || (spacer && !pieces[piece].spacer)))
        piece++;
    return fault(hands, REPLAY_THREAD_LEFT, piece < end ? piece : NO_PIECE);
}

bool crosswrap_done(Hands *hands)
{
    return !hands->crosswrap.planned || hands->crosswrap.taken || pass_left(hands, false);
}

/* The layer's pieces of passes: the next ones of the rod. */
static void find_pieces(Hands *hands, CrosswrapNow *now, uint32_t from)
{
    const Piece *pieces = hands->rod->pieces;
    uint32_t count = hands->rod->piece_count;
    while (from < count
           && !(pieces[from].pass_count && pieces[from].place == now->place && pieces[from].layer == now->layer))
        from++;
    now->pieces_from = now->next_piece = now->pieces_to = from;
    for (; now->pieces_to < count; now->pieces_to++) {
        const Piece *piece = &pieces[now->pieces_to];
        if (!piece->pass_count || piece->place != now->place || piece->layer != now->layer)
            return;
        now->spacers += piece->spacer;
    }
}

/* The next turn is one of the layer: its first, since none is made before the crosswrap is in hand. */
static bool layer_is_due(const Hands *hands, uint32_t place, uint32_t layer)
{
    const PlannedRod *rod = hands->rod;
    const Winding *due = &rod->windings[hands->winding];
    return hands->winding < rod->winding_count && due->place == place && due->layer == layer;
}

/* The first action about a crosswrap takes it in hand: all before its layer is done. */
static bool take_in_hand(Hands *hands, const Action *action)
{
    CrosswrapNow *now = &hands->crosswrap;
    if (is_in_hand(hands, action->place, action->layer))
        return true;
    if (!layer_is_due(hands, action->place, action->layer))
        return turns_differ(hands, NO_PIECE);
    if (hands->unfinished)
        return thread_left(hands);
    if (!crosswrap_done(hands))
        return false;
    const PlannedLayer *layer = layer_at(hands, action->place, action->layer);
    uint32_t pieces_from = now->pieces_to;
    *now = (CrosswrapNow){.planned = layer->crosswrap,
                          .place = action->place,
                          .layer = action->layer,
                          .first_wrap = next_wrap(hands)};
    LooksNow *looks = &hands->looks;
    looks->packed = looks->cut = looks->pulled = looks->spacer_taken = false;
    find_pieces(hands, now, pieces_from);
    return set_out_lines(&now->lines, &hands->rod->places[action->place], layer, hands->bench)
           || fault(hands, REPLAY_MARKS_MISSED, NO_PIECE);
}

/* Nothing is tied on before it is done. */
static bool once(Hands *hands, bool *done)
{
    if (*done)
        return out_of_order(hands, NO_PIECE);
    return *done = true;
}

static bool set_out(Hands *hands, const Action *action)
{
    return take_in_hand(hands, action) && once(hands, &hands->crosswrap.set_out);
}

static bool hold_ends(Hands *hands, const Action *action)
{
    if (hands->bench->ends == HOLD_NONE)
        return out_of_order(hands, NO_PIECE);
    return take_in_hand(hands, action) && once(hands, &hands->crosswrap.held);
}

bool tie_on(Hands *hands, const Action *action, uint32_t piece)
{
    CrosswrapNow *now = &hands->crosswrap;
    const Piece *planned = &hands->rod->pieces[piece];
    if (planned->pass_count == 0 || hands->pieces_in[PIECE_TIED_ON] > 0)
        return lost(hands, piece);
    if (!is_in_hand(hands, action->place, action->layer) || !now->set_out
        || (!now->held && hands->bench->ends != HOLD_NONE))
        return out_of_order(hands, piece);
    bool spiral = now->planned->crosswrap->kind == CROSSWRAP_SPIRAL;
    if (piece != now->next_piece || planned->first_pass != now->pass || (spiral && planned->pass_count > 1))
        return passes_differ(hands, piece, planned->first_pass);
    now->next_piece++;
    now->wound = 0;
    hands->pieces[piece].lying[THING_LINE].state = LIES;
    set_state(hands, piece, PIECE_TIED_ON);
    return true;
}

static uint32_t pass_end(const Piece *piece) { return piece->first_pass + piece->pass_count; }

/* The piece is of the thread that the pass's strand has. */
static bool is_of_strand(const CrosswrapNow *now, const Piece *piece)
{
    const BundleStrand *strand = &now->planned->strands[now->pass / now->lines.starts];
    return piece->thread == strand->thread && piece->spacer == strand->spacer;
}

bool lay_leg(Hands *hands, const Action *action, uint32_t piece)
{
    CrosswrapNow *now = &hands->crosswrap;
    const Piece *planned = &hands->rod->pieces[piece];
    const LegAction *leg = &action->leg;
    if (now->pass >= now->planned->strand_count * now->lines.starts || now->pass >= pass_end(planned)
        || leg->pass != now->pass || leg->leg != now->leg || !is_of_strand(now, planned))
        return passes_differ(hands, piece, leg->pass);
    if (now->pass >= now->lines.starts && !now->symmetry)
        return out_of_order(hands, piece);
    bool comes_back = now->leg == LEG_OUT && now->lines.lead[LEG_BACK] > 0;
    bool goes_on = comes_back || now->pass + 1 < pass_end(planned);
    if (!feet_allow(hands, now->place, now->layer, piece) || !leg_meets_marks(hands, action, piece, goes_on)
        || !leg_lies_beside(hands, action, piece))
        return false;
    now->wound += wound_in_leg(now, action, goes_on);
    now->leg = comes_back ? LEG_BACK : LEG_OUT;
    now->pass += !comes_back;
    return true;
}

bool tie_off(Hands *hands, const Action *action, uint32_t piece)
{
    const CrosswrapNow *now = &hands->crosswrap;
    (void)action;
    if (now->pass < pass_end(&hands->rod->pieces[piece]))
        return passes_differ(hands, piece, pass_end(&hands->rod->pieces[piece]));
    hands->pieces[piece].lying[THING_LINE].state = LIES_NO_MORE;
    set_state(hands, piece, PIECE_TIED_OFF);
    return wound_agrees(hands, piece);
}

/* Every pass of the plan, laid once. */
static bool passes_lie(Hands *hands)
{
    const CrosswrapNow *now = &hands->crosswrap;
    uint32_t passes = now->planned->strand_count * now->lines.starts;
    if (hands->pieces_in[PIECE_TIED_ON] > 0)
        return fault(hands, REPLAY_THREAD_LEFT, now->next_piece - 1);
    if (now->next_piece < now->pieces_to || now->pass < passes)
        return passes_differ(hands, now->next_piece < now->pieces_to ? now->next_piece : NO_PIECE, passes);
    return now->symmetry || out_of_order(hands, NO_PIECE);
}

bool unwind(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    if (!hands->rod->pieces[piece].spacer)
        return lost(hands, piece);
    if (!passes_lie(hands))
        return false;
    hands->crosswrap.spacers--;
    set_state(hands, piece, PIECE_ENDED);
    return true;
}

bool turns_may_begin(Hands *hands, uint32_t place, uint32_t layer)
{
    const PlannedLayer *planned = layer_at(hands, place, layer);
    if (!is_in_hand(hands, place, layer)) {
        if (!crosswrap_done(hands))
            return false;
        return !planned->crosswrap || out_of_order(hands, NO_PIECE);
    }
    return passes_lie(hands) && (hands->crosswrap.spacers == 0 || pass_left(hands, true));
}

static bool symmetry(Hands *hands, const Action *action)
{
    CrosswrapNow *now = &hands->crosswrap;
    (void)action;
    return now->pass == now->lines.starts ? once(hands, &now->symmetry) : out_of_order(hands, NO_PIECE);
}

static bool seal(Hands *hands, const Action *action)
{
    CrosswrapNow *now = &hands->crosswrap;
    const PlannedRod *rod = hands->rod;
    bool turns_left = hands->winding < rod->winding_count && rod->windings[hands->winding].place == action->place
                      && rod->windings[hands->winding].layer == action->layer;
    if (turns_left)
        return out_of_order(hands, NO_PIECE);
    if (hands->unfinished)
        return thread_left(hands);
    return once(hands, &now->sealed);
}

/* What the end bands do not hold would come off. */
static bool take_ends(Hands *hands, const Action *action)
{
    CrosswrapNow *now = &hands->crosswrap;
    (void)action;
    double turns = fmin((double)now->end_turns[0], (double)now->end_turns[1]);
    if (now->taken)
        return out_of_order(hands, NO_PIECE);
    if (turns < hands->bench->final)
        return fault_by(hands, REPLAY_TRIMMED_UNBOUND, now->pieces_from, hands->bench->final, turns);
    if (!now->sealed)
        return out_of_order(hands, NO_PIECE);
    for (uint32_t piece = now->pieces_from; piece < now->pieces_to; piece++)
        if (hands->pieces[piece].state == PIECE_TIED_OFF)
            set_state(hands, piece, PIECE_ENDED);
    return now->taken = true;
}

/* The actions about the layer: whether they come first, and what they do. */
static const struct LayerRule {
    bool first;
    bool (*follow)(Hands *hands, const Action *action);
} layer_rules[ACTION_KIND_COUNT] = {
    [ACTION_SET_OUT] = {true, set_out},    [ACTION_HOLD_ENDS] = {true, hold_ends},
    [ACTION_SYMMETRY] = {false, symmetry}, [ACTION_TAKE_ENDS] = {false, take_ends},
    [ACTION_SEAL] = {false, seal},
};

/* Other layers are sealed too. */
bool is_crosswrap_action(const Hands *hands, const Action *action)
{
    if (action->kind != ACTION_SEAL)
        return layer_rules[action->kind].follow != NULL;
    const PlannedLayer *layer = layer_at(hands, action->place, action->layer);
    return layer && layer->crosswrap;
}

bool follow_crosswrap_action(Hands *hands, const Action *action)
{
    const struct LayerRule *rule = &layer_rules[action->kind];
    const PlannedLayer *layer = layer_at(hands, action->place, action->layer);
    if (!layer || !layer->crosswrap || action->piece != NO_PIECE)
        return lost(hands, NO_PIECE);
    if (!rule->first && !is_in_hand(hands, action->place, action->layer))
        return out_of_order(hands, NO_PIECE);
    return rule->follow(hands, action);
}
