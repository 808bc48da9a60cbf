/* The replay: works a rod's actions through as two hands would, and says whether they are lawful and make just
 * what the plan says. It knows the rules below and nothing of how actions are made.
 *
 * A wrap is a stretch of a layer without a gap. Whatever lies lengthwise on the blank (a tag, an end, a loop) is
 * covered by every turn that its wrap gets after it was laid, whichever piece makes it.
 *
 * A piece is off, then laid in, running, standing, and at last ended. It is fed from a spool unless it is a cut
 * piece, to be passed by hand.
 *   LOAD          off: a piece on a bobbin, whole, once; no more bobbins are in use, until their line is cut, than
 *                 the bench has. Such a piece is begun when it is loaded, and else it is like a cut one.
 *   START         off -> running. It begins over its own tag, which lies from now on; its first turns are wound
 *                 tight, so that it may wind at once.
 *   LAY_IN        off -> laid in. Its tag lies from now on.
 *   TAKE_UP       laid in, its tag covered by `bind` turns, or standing -> running. Nothing else runs, but for the
 *                 strands that are taken up with it.
 *   STAND         running -> standing.
 *   WIND          Just the pieces named are running. Their turns go on where the plan stands: the plan's winding,
 *                 its pieces, never more turns than are left of it, and their share of its length. The counts
 *                 beside them (of the item and of the layer) are those made so far.
 *                 Passed by hand, the blank stands still, and a bobbin goes round alone. Else it turns, and a
 *                 thread from a spool that does not run cannot turn with it: none may be laid in or standing, but
 *                 for one that is laid in to change over to where there are two holders. No more spools run than
 *                 there are holders.
 *   LAY_LOOP      laid in, running or standing: a loop for it lies from now on, one at a time. It may lie before
 *                 the piece is there, since a short last band has turns of the one before over its loop as well.
 *   PULL_THROUGH  running or standing -> ended, by a loop that is covered by `loop` turns, or `final` at a wrap's
 *                 end. The loop is gone, and the end is held at once.
 *   LAY_END       running or standing -> ended. Its end lies from now on.
 *   TRIM_TAG      The tag lies, covered by `bind` turns.
 *   TRIM_END      The end was pulled through, or lies covered by `bind` turns.
 *   TAKE_SPACER   A spacer is taken off whole, after the wrap's last turn: running, standing or ended, but not
 *                 taken yet -> ended, tag and end gone with it. Nothing else is done with its end once it is laid.
 * The rules of crosswraps' passes stand in replay_crosswrap.c, those of guides in replay_feet.c. All other actions
 * leave the threads as they are.
 *
 * A wrap is left when a piece or a loop of the next one is laid: then all its turns are made, all its pieces are
 * ended, their tags and ends trimmed, and no loop lies. A crosswrap is done with when its layer is left. The same
 * holds after the last action, and then no turn of the plan is left. */
#include "bench/replay.h"

#include "bench/holding.h"
#include "bench/replay_crosswrap.h"
#include "bench/replay_feet.h"

#include <math.h>

static const double length_slack = 1e-9; /* relative: rounding alone */

/* Covered by the turns needed, or else this verdict. */
static bool covered(Hands *hands, uint32_t piece, const Lying *lying, double needed, Verdict otherwise)
{
    double got = cover(hands, lying);
    return got >= needed || fault_by(hands, otherwise, piece, needed, got);
}

/* Before a piece's first tag or loop is laid: where it belongs to the next wrap, the wrap before it is left. */
static bool enter_wrap(Hands *hands, uint32_t piece)
{
    uint32_t wrap = hands->piece_wraps[piece];
    if (wrap == NO_WRAP)
        return lost(hands, piece);
    if (!turns_may_begin(hands, hands->rod->pieces[piece].place, hands->rod->pieces[piece].layer))
        return false;
    if (wrap == hands->wrap)
        return true;
    if (next_wrap(hands) != wrap)
        return turns_differ(hands, piece);
    if (hands->unfinished)
        return thread_left(hands);
    hands->wrap = wrap;
    hands->looks.spacer_taken = false;
    return true;
}

static bool begin(Hands *hands, uint32_t piece, PieceState state)
{
    if (hands->rod->pieces[piece].bobbin && !hands->pieces[piece].loaded)
        return fault(hands, REPLAY_OUT_OF_ORDER, piece);
    if (!enter_wrap(hands, piece))
        return false;
    hands->unfinished++;
    piece_lives(hands, piece);
    set_state(hands, piece, state);
    lay_piece(hands, piece, state == PIECE_RUNNING);
    return true;
}

static bool start(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    if (!begin(hands, piece, PIECE_RUNNING))
        return false;
    hands->own_tags++;
    return true;
}

static bool lay_in(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    return begin(hands, piece, PIECE_LAID_IN);
}

static bool take_up(Hands *hands, const Action *action, uint32_t piece)
{
    const PieceNow *now = &hands->pieces[piece];
    uint32_t with_it = 0; /* taken up just before */
    while (group_piece(action_pieces(action), with_it) != piece)
        with_it++;
    if (hands->pieces_in[PIECE_RUNNING] != with_it)
        return lost(hands, piece);
    if (now->state == PIECE_LAID_IN && now->lying[THING_TAG].state == LIES
        && !covered(hands, piece, &now->lying[THING_TAG], hands->bench->bind, REPLAY_RELIED_UNBOUND))
        return false;
    set_state(hands, piece, PIECE_RUNNING);
    return true;
}

static bool stand(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    bool swings = is_cut(hands, piece) && !(hands->pieces[piece].taped & ITS_LINE);
    if (swings)
        return fault(hands, REPLAY_UNHELD, piece);
    set_state(hands, piece, PIECE_STANDING);
    return true;
}

static bool lay_loop(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    PieceNow *now = &hands->pieces[piece];
    if (now->lying[THING_LOOP].state == LIES)
        return lost(hands, piece);
    if (now->state == PIECE_OFF && !enter_wrap(hands, piece))
        return false;
    piece_lives(hands, piece);
    lay(hands, piece, THING_LOOP);
    return true;
}

static bool lay_end(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    if (!cut_line(hands, piece))
        return false;
    hands->looks.cut = true;
    set_state(hands, piece, PIECE_ENDED);
    lay(hands, piece, THING_END);
    return true;
}

static bool pull_through(Hands *hands, const Action *action, uint32_t piece)
{
    PieceNow *now = &hands->pieces[piece];
    if (hands->rod->pieces[piece].spacer)
        return lost(hands, piece);
    bool at_end = action->final || next_wrap(hands) != hands->wrap;
    double needed = at_end ? hands->bench->final : hands->bench->loop;
    if (!covered(hands, piece, &now->lying[THING_LOOP], needed, REPLAY_LOOP_TOO_SHORT)
        || !tape_is_off(hands, piece, ITS_LOOP) || !cut_line(hands, piece))
        return false;
    now->lying[THING_LOOP].state = LIES_NO_MORE;
    now->lying[THING_END].state = LIES_HELD;
    hands->looks.cut = hands->looks.pulled = true;
    set_state(hands, piece, PIECE_ENDED);
    return true;
}

static bool trim(Hands *hands, uint32_t piece, HeldThing thing)
{
    Lying *lying = &hands->pieces[piece].lying[thing];
    if (lying->state != LIES && lying->state != LIES_HELD)
        return lost(hands, piece);
    if (lying->state == LIES && !covered(hands, piece, lying, hands->bench->bind, REPLAY_TRIMMED_UNBOUND))
        return false;
    if (!tape_is_off(hands, piece, 1u << thing))
        return false;
    lying->state = LIES_NO_MORE;
    return hands->looks.cut = true;
}

static bool trim_tag(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    return trim(hands, piece, THING_TAG);
}

static bool trim_end(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    if (hands->rod->pieces[piece].spacer)
        return lost(hands, piece);
    return trim(hands, piece, THING_END);
}

static bool take_spacer(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    PieceNow *now = &hands->pieces[piece];
    bool taken = now->lying[THING_END].state == LIES_NO_MORE;
    if (!hands->rod->pieces[piece].spacer || taken || next_wrap(hands) == hands->wrap)
        return lost(hands, piece);
    take_all_tape(hands, piece);
    set_state(hands, piece, PIECE_ENDED);
    now->lying[THING_TAG].state = now->lying[THING_END].state = now->lying[THING_LINE].state = LIES_NO_MORE;
    return hands->looks.spacer_taken = true;
}

/* The actions about pieces: the states in which each is allowed, as bits, and what it does to each piece. Other
 * actions have no row. */
#define IN(state) (1u << PIECE_##state)
static const struct PieceRule {
    unsigned states;
    bool (*follow)(Hands *hands, const Action *action, uint32_t piece);
} piece_rules[ACTION_KIND_COUNT] = {
    [ACTION_LOAD] = {IN(OFF), load},
    [ACTION_START] = {IN(OFF), start},
    [ACTION_LAY_IN] = {IN(OFF), lay_in},
    [ACTION_LAY_LOOP] = {IN(OFF) | IN(LAID_IN) | IN(RUNNING) | IN(STANDING), lay_loop},
    [ACTION_TAKE_UP] = {IN(LAID_IN) | IN(STANDING), take_up},
    [ACTION_STAND] = {IN(RUNNING), stand},
    [ACTION_CUT_FROM_SPOOL] = {IN(RUNNING), cut_from_spool},
    [ACTION_LAY_END] = {IN(RUNNING) | IN(STANDING), lay_end},
    [ACTION_PULL_THROUGH] = {IN(RUNNING) | IN(STANDING), pull_through},
    [ACTION_TRIM_TAG] = {IN(LAID_IN) | IN(RUNNING) | IN(STANDING) | IN(ENDED), trim_tag},
    [ACTION_TRIM_END] = {IN(ENDED), trim_end},
    [ACTION_TAPE_DOWN] = {IN(OFF) | IN(LAID_IN) | IN(RUNNING) | IN(STANDING) | IN(ENDED), tape_down},
    [ACTION_UNTAPE] = {IN(OFF) | IN(LAID_IN) | IN(RUNNING) | IN(STANDING) | IN(ENDED), untape},
    [ACTION_TAKE_SPACER] = {IN(RUNNING) | IN(STANDING) | IN(ENDED), take_spacer},
    [ACTION_TIE_ON] = {IN(OFF), tie_on},
    [ACTION_LEG] = {IN(TIED_ON), lay_leg},
    [ACTION_TIE_OFF] = {IN(TIED_ON), tie_off},
    [ACTION_UNWIND] = {IN(TIED_OFF), unwind},
};
#undef IN

static bool pieces_exist(const Hands *hands, const Action *action)
{
    uint32_t count = hands->rod->piece_count;
    if (!action->pieces)
        return action->piece_count > 0 && (uint64_t)action->piece + action->piece_count <= count;
    bool exist = action->piece_count > 0 && action->piece_count <= count && action->pieces[0] == action->piece;
    for (uint32_t i = 0; exist && i < action->piece_count; i++)
        exist = action->pieces[i] < count;
    return exist;
}

static bool follow_piece_action(Hands *hands, const Action *action)
{
    if (!pieces_exist(hands, action))
        return lost(hands, NO_PIECE);
    const struct PieceRule *rule = &piece_rules[action->kind];
    for (uint32_t i = 0; i < action->piece_count; i++) {
        uint32_t piece = group_piece(action_pieces(action), i);
        const Piece *planned = &hands->rod->pieces[piece];
        PieceNow *now = &hands->pieces[piece];
        bool here = planned->place == action->place && planned->layer == action->layer;
        if (!here || !(rule->states & 1u << now->state))
            return lost(hands, piece);
        if (!rule->follow(hands, action, piece))
            return false;
        /* No action is allowed about a piece that was finished before. */
        if (is_finished(now)) {
            hands->unfinished--;
            piece_is_done(hands, piece);
        }
    }
    return true;
}

/* Just the pieces named, whichever they are. */
static bool pieces_run(Hands *hands, const Action *action)
{
    if (!pieces_exist(hands, action))
        return lost(hands, NO_PIECE);
    if (hands->pieces_in[PIECE_RUNNING] != action->piece_count)
        return lost(hands, action->piece);
    for (uint32_t i = 0; i < action->piece_count; i++) {
        uint32_t piece = group_piece(action_pieces(action), i);
        if (hands->pieces[piece].state != PIECE_RUNNING)
            return lost(hands, piece);
    }
    return true;
}

/* Turns of the winding that is due, by its pieces, and counted as they are made. */
static bool turns_agree(Hands *hands, const Action *action, const Winding *due)
{
    uint32_t left = due->turns - hands->wound;
    bool agree = action->winding == hands->winding && same_group(action_pieces(action), due->pieces)
                 && action->place == due->place && action->layer == due->layer && action->turns > 0
                 && action->turns <= left && action->layer_count == hands->layer_turns + action->turns
                 && action->band_count == hands->item_turns + action->turns;
    return agree || fault_by(hands, REPLAY_TURNS_DIFFER, action->piece, left, action->turns);
}

/* What the spools allow while the blank turns. */
static bool spools_allow(Hands *hands, const Action *action)
{
    uint32_t laid_in = hands->spools_in[PIECE_LAID_IN], running = hands->spools_in[PIECE_RUNNING];
    if (action->by_hand)
        return true;
    if (hands->spools_in[PIECE_STANDING] > 0)
        return spool_fault(hands, REPLAY_SPOOL_STANDS, PIECE_STANDING, 0, hands->spools_in[PIECE_STANDING]);
    if (laid_in > 0)
        return spool_fault(hands, REPLAY_SPOOL_STANDS, PIECE_LAID_IN, 0, laid_in);
    return running <= hands->bench->holders
           || spool_fault(hands, REPLAY_TOO_MANY_SPOOLS, PIECE_RUNNING, hands->bench->holders, running);
}

/* The turns' share of all that the run's strands wind. */
static bool length_agrees(Hands *hands, const Action *action, const Run *run)
{
    double whole = 0;
    for (uint32_t i = 0; i < run->strands->count; i++)
        whole += run->lengths[i];
    double share = whole * action->turns / run->turns;
    return fabs(action->length - share) <= length_slack * share
           || fault_by(hands, REPLAY_LENGTH_DIFFERS, action->piece, share, action->length);
}

/* One hand pass is made in one go, whatever it is told in. */
static bool pass_is_whole(Hands *hands, const Action *action)
{
    const LooksNow *looks = &hands->looks;
    bool goes_on = action->by_hand && looks->passed == action->piece;
    return !goes_on || !looks->pass_broken || fault(hands, REPLAY_PASS_BROKEN, action->piece);
}

/* What is wrapped by hand is not on a spool. A bobbin goes from one hand to the other: of several each would. */
static bool is_in_hand(Hands *hands, const Action *action)
{
    for (uint32_t i = 0; action->by_hand && i < action->piece_count; i++) {
        uint32_t piece = group_piece(action_pieces(action), i);
        if (!is_cut(hands, piece))
            return fault(hands, REPLAY_OUT_OF_ORDER, piece);
        if (hands->rod->pieces[piece].bobbin && action->piece_count > 1)
            return fault_by(hands, REPLAY_HANDS_FULL, piece, MOST_HANDS, MOST_HANDS * (double)action->piece_count);
    }
    return true;
}

static bool follow_wind(Hands *hands, const Action *action)
{
    uint32_t wrap = next_wrap(hands);
    if (wrap != NO_WRAP && wrap != hands->wrap && hands->unfinished)
        return thread_left(hands);
    if (!pieces_run(hands, action))
        return false;
    if (wrap == NO_WRAP)
        return turns_differ(hands, action->piece);
    const Winding *due = &hands->rod->windings[hands->winding];
    const Run *run = &hands->rod->places[due->place].layers[due->layer].runs[due->run];
    if (!is_in_hand(hands, action) || !turns_agree(hands, action, due) || !spools_allow(hands, action)
        || !tape_allows(hands, action) || !feet_allow(hands, due->place, due->layer, action->piece)
        || !guide_tape_allows(hands, action, run) || !pass_is_whole(hands, action)
        || !length_agrees(hands, action, run))
        return false;
    make_turns(hands, action);
    return true;
}

/* Turns that were cut off are looked at no more, but for packing what a loop has drawn together. No packing
 * reaches over a gap, be it planned or what a spacer has left. */
static bool pack(Hands *hands)
{
    LooksNow *looks = &hands->looks;
    bool over_gap = looks->unpacked_wrap != NO_WRAP && looks->unpacked_wrap != looks->last_wrap;
    if (over_gap || looks->spacer_taken)
        return fault(hands, REPLAY_GAP_PACKED, NO_PIECE);
    if (looks->cut && !looks->pulled)
        return fault(hands, REPLAY_PACK_FIRST, NO_PIECE);
    looks->unpacked_wrap = NO_WRAP;
    return looks->packed = true;
}

static bool measure(Hands *hands)
{
    const LooksNow *looks = &hands->looks;
    return (looks->packed && !looks->cut) || fault(hands, REPLAY_PACK_FIRST, NO_PIECE);
}

/* The bundle of a crosswrap is packed, too, before there are turns. */
static bool looks_at_turns(const Hands *hands)
{
    const CrosswrapNow *now = &hands->crosswrap;
    return !now->planned || now->taken || now->end_turns[0] > 0;
}

static bool nothing_in_work(Hands *hands)
{
    return hands->unfinished ? thread_left(hands) : crosswrap_done(hands);
}

/* An action that leaves the threads as they are names none, and is about something that is there. */
static bool follow_other_action(Hands *hands, const Action *action)
{
    const PlannedRod *rod = hands->rod;
    bool there = action->place == WHOLE_ROD
                 || (action->place < rod->place_count
                     && (action->layer == WHOLE_ROD || action->layer < rod->places[action->place].layer_count));
    if (!there || action->piece != NO_PIECE)
        return lost(hands, NO_PIECE);
    switch (action->kind) {
    case ACTION_PACK: return !looks_at_turns(hands) || pack(hands);
    case ACTION_MEASURE: return measure(hands);
    case ACTION_TAPE_GUIDE: return nothing_in_work(hands) && tape_guide(hands, action);
    case ACTION_TAKE_TAPE: return take_guide_tape(hands, action);
    default: return true;
    }
}

static bool follow(Hands *hands, const Action *action)
{
    if (action->kind == ACTION_WIND)
        return follow_wind(hands, action);
    if (is_crosswrap_action(hands, action))
        return follow_crosswrap_action(hands, action);
    return piece_rules[action->kind].follow ? follow_piece_action(hands, action)
                                            : follow_other_action(hands, action);
}

/* What may come between the turns of a hand pass: what the turns that follow have to cover, and tape. */
static bool waits_for_no_turn(ActionKind kind)
{
    return kind == ACTION_LAY_IN || kind == ACTION_LAY_LOOP || kind == ACTION_LAY_END || kind == ACTION_TAPE_DOWN
           || kind == ACTION_UNTAPE;
}

/* Two hands, before it and after it. What it names is there: it was followed; what names no piece loosens none. */
static bool hands_suffice(Hands *hands, uint32_t before, const Action *action)
{
    uint32_t after = action->piece == NO_PIECE ? 0 : hands_held(hands, NULL),
             most = before > after ? before : after;
    return most <= MOST_HANDS || fault_by(hands, REPLAY_HANDS_FULL, action->piece, MOST_HANDS, most);
}

static bool work(Hands *hands, const Action *action)
{
    if ((unsigned)action->kind >= ACTION_KIND_COUNT)
        return lost(hands, NO_PIECE);
    uint32_t before = hands_of(hands, action) + hands_held(hands, action);
    if (!follow(hands, action) || !hands_suffice(hands, before, action))
        return false;
    if (action->kind != ACTION_WIND)
        hands->looks.pass_broken |= !waits_for_no_turn(action->kind);
    return true;
}

/* After the last action. */
static void stop(Hands *hands)
{
    if (hands->winding < hands->rod->winding_count)
        turns_differ(hands, hands->rod->windings[hands->winding].pieces.first);
    else if (nothing_in_work(hands))
        feet_done(hands);
}

/* --- what is left with the action --- */

/* What the action is about of what lies: the tag, the end or the loop. */
static const Lying *relied_on(const PieceNow *now, ActionKind kind)
{
    switch (kind) {
    case ACTION_TAKE_UP:
    case ACTION_TRIM_TAG: return &now->lying[THING_TAG];
    case ACTION_TRIM_END: return &now->lying[THING_END];
    case ACTION_PULL_THROUGH: return &now->lying[THING_LOOP];
    default: return NULL;
    }
}

static void note_before(const Hands *hands, Action *action)
{
    ActionState *state = &action->state;
    *state = (ActionState){
        .due = hands->winding, .made = hands->wound, .laid = hands->laid, .own_tags = hands->own_tags};
    if (action->kind == ACTION_WIND)
        state->made += action->turns;
    if (action->piece == NO_PIECE || !pieces_exist(hands, action))
        return;
    const PieceNow *now = &hands->pieces[action->piece];
    const Lying *lying = relied_on(now, action->kind);
    state->before = now->state;
    state->covered = lying ? (uint32_t)cover(hands, lying) : 0;
}

static void note_after(Hands *hands, Action *action)
{
    ActionState *state = &action->state;
    state->running = hands->pieces_in[PIECE_RUNNING] + hands->pieces_in[PIECE_TIED_ON];
    state->standing = hands->pieces_in[PIECE_STANDING];
    state->laid_in = hands->pieces_in[PIECE_LAID_IN];
    note_holding(hands, action, state);
}

void replay_action(Hands *hands, Action *action)
{
    if (hands->found.verdict != REPLAY_LAWFUL)
        return;
    if (!hands->proves_only)
        note_before(hands, action);
    if (!work(hands, action)) {
        hands->found.action = hands->actions;
        hands->found.kind = action->kind;
        hands->found.span = action->span;
        return;
    }
    if (!hands->proves_only)
        note_after(hands, action);
    hands->actions++;
}

void replay_end(Hands *hands)
{
    if (hands->found.verdict != REPLAY_LAWFUL)
        return;
    stop(hands);
    hands->found.action = hands->actions;
    hands->found.kind = ACTION_KIND_COUNT;
}

Replay replay_actions(Arena *arena, const BenchRod *rod, const Bench *bench)
{
    Hands hands;
    hands_start(&hands, arena, rod->rod, bench);
    for (uint32_t action = 0; action < rod->action_count; action++)
        replay_action(&hands, &rod->actions[action]);
    replay_end(&hands);
    return hands.found;
}

const PieceState *states_after(Arena *arena, const BenchRod *rod, const Bench *bench, uint32_t actions)
{
    Hands hands;
    hands_start(&hands, arena, rod->rod, bench);
    for (uint32_t i = 0; i < actions && i < rod->action_count && work(&hands, &rod->actions[i]); i++)
        ;
    PieceState *states = arena_take_many(arena, rod->rod->piece_count, sizeof *states);
    for (uint32_t i = 0; i < rod->rod->piece_count; i++)
        states[i] = hands.pieces[i].state;
    return states;
}

const char *verdict_words(Verdict verdict)
{
    static const char *const words[VERDICT_COUNT] = {
#define X(name, words) [REPLAY_##name] = words,
        VERDICT_TABLE(X)
#undef X
    };
    return (size_t)verdict < VERDICT_COUNT ? words[verdict] : "not a verdict";
}
