/* Two hands: what holds what. The law is written down in grammar/bench_protocol.md. */
#include "bench/holding.h"

#include "plan/plan_sums.h"

#include <math.h>
#include <string.h>

/* The drive turns the blank: it cannot turn back meanwhile. */
static bool by_drive(const Action *action)
{
    return action->kind == ACTION_LEG || (action->kind == ACTION_WIND && !action->by_hand);
}

uint32_t hands_of(const Hands *hands, const Action *action)
{
    if (action_needs[action->kind].hands != HANDS_OF_DRIVE)
        return action_needs[action->kind].hands;
    return by_drive(action) && hands->bench->drive == DRIVE_PEDAL ? 1 : MOST_HANDS;
}

/* --- what is loose --- */

static Lying *lying_of(Hands *hands, Thing thing) { return &hands->pieces[thing.piece].lying[thing.thing]; }

static bool is_taped(const PieceNow *now, HeldThing thing) { return now->taped >> thing & 1; }

/* Three turns: P. D. Frazer, The Angler's Workshop I: Rodmaking for Beginners (1908), p. 158, has the first three
 * as tight as possible. A tag laid in slips until they lie: common practice, no source. */
enum { FIRST_TURNS = 3 };

static uint32_t first_turns(const Hands *hands, uint32_t piece)
{
    uint64_t turns = hands->rod->pieces[piece].turns;
    return turns < FIRST_TURNS ? (uint32_t)turns : FIRST_TURNS;
}

static bool own_turns_lie(const Hands *hands, uint32_t piece)
{
    return hands->pieces[piece].own >= first_turns(hands, piece);
}

static bool turns_hold(Hands *hands, Thing thing)
{
    const PieceNow *now = &hands->pieces[thing.piece];
    const Lying *lying = lying_of(hands, thing);
    if (thing.thing == THING_LINE)
        return false;
    if (lying->state == LIES_HELD)
        return true;
    bool bound = cover(hands, lying) >= turns_to_hold(hands, thing.thing);
    return bound && (thing.thing != THING_TAG || now->own_tag || own_turns_lie(hands, thing.piece));
}

static bool is_there(Hands *hands, Thing thing)
{
    const Lying *lying = lying_of(hands, thing);
    return lying->state == LIES || lying->state == LIES_HELD;
}

/* Those that turns hold by now, that tape holds or that are gone. */
static void forget_what_is_held(Hands *hands)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < hands->loose.count; i++) {
        Thing thing = hands->loose.items[i];
        if (is_there(hands, thing) && !is_taped(&hands->pieces[thing.piece], thing.thing)
            && !turns_hold(hands, thing))
            hands->loose.items[kept++] = thing;
    }
    hands->loose.count = kept;
}

static bool is_loose(const Hands *hands, uint32_t piece, HeldThing thing)
{
    for (uint32_t i = 0; i < hands->loose.count; i++)
        if (hands->loose.items[i].piece == piece && hands->loose.items[i].thing == thing)
            return true;
    return false;
}

static bool names(const Action *action, uint32_t piece)
{
    return action && action->piece != NO_PIECE && group_has(action_pieces(action), piece);
}

static bool handles_thing(const Action *action, uint32_t piece, HeldThing thing)
{
    if (!names(action, piece))
        return false;
    bool tape = action->kind == ACTION_TAPE_DOWN || action->kind == ACTION_UNTAPE;
    return tape ? action->thing == thing : action_needs[action->kind].handles >> thing & 1;
}

/* Tag and line of a piece without a turn lie straight: what handles one holds both, until it is wound. */
static bool handles_straight(const Hands *hands, const Action *action, uint32_t piece)
{
    return hands->pieces[piece].own == 0 && action && action->kind != ACTION_WIND
           && (handles_thing(action, piece, THING_TAG) || handles_thing(action, piece, THING_LINE));
}

static bool runs(const Hands *hands, uint32_t piece) { return hands->pieces[piece].state == PIECE_RUNNING; }

/* A hand that holds the lines of cut pieces holds all that run. */
static bool handles_running(const Hands *hands, const Action *action)
{
    for (uint32_t i = 0; action && i < hands->loose.count; i++)
        if (hands->loose.items[i].thing == THING_LINE && runs(hands, hands->loose.items[i].piece)
            && handles_thing(action, hands->loose.items[i].piece, THING_LINE))
            return true;
    return false;
}

static uint32_t fingers(Hands *hands, const Action *action)
{
    uint32_t count = 0;
    bool running = false;
    forget_what_is_held(hands);
    for (uint32_t i = 0; i < hands->loose.count; i++) {
        Thing thing = hands->loose.items[i];
        bool straight = hands->pieces[thing.piece].own == 0;
        bool same = thing.thing == THING_LINE && straight && is_loose(hands, thing.piece, THING_TAG);
        if (thing.thing == THING_LINE && runs(hands, thing.piece) && !same) {
            running = true;
            continue;
        }
        bool tag_or_line = thing.thing == THING_TAG || thing.thing == THING_LINE;
        count += !same && !handles_thing(action, thing.piece, thing.thing)
                 && !(tag_or_line && handles_straight(hands, action, thing.piece));
    }
    return count + (running && !handles_running(hands, action));
}

/* --- the blank --- */

/* The spool that pulls at the blank is this piece's: no finger on its tag takes the pull. */
static bool pulls(const Hands *hands, uint32_t piece)
{
    const PieceNow *now = &hands->pieces[piece];
    return !is_cut(hands, piece) && now->lying[THING_LINE].state == LIES && !is_taped(now, THING_LINE)
           && !(now->own == 0 && hands->rod->pieces[piece].pass_count == 0 && is_loose(hands, piece, THING_TAG));
}

static uint32_t spools_on(const Hands *hands)
{
    return hands->spools_in[PIECE_LAID_IN] + hands->spools_in[PIECE_RUNNING] + hands->spools_in[PIECE_STANDING]
           + hands->spools_in[PIECE_TIED_ON];
}

/* A hand has to hold the blank: some spool pulls at it that the action does not handle. */
static bool blank_pulled(const Hands *hands, const Action *action)
{
    if (hands->bench->brake || spools_on(hands) == hands->taped_spools)
        return false;
    uint32_t calm = hands->taped_spools;
    for (uint32_t i = 0; i < hands->loose.count; i++) {
        Thing thing = hands->loose.items[i];
        calm += thing.thing == THING_TAG && !is_cut(hands, thing.piece)
                && hands->pieces[thing.piece].lying[THING_LINE].state == LIES
                && !is_taped(&hands->pieces[thing.piece], THING_LINE) && !pulls(hands, thing.piece);
    }
    if (action && action->piece != NO_PIECE)
        for (uint32_t i = 0; i < action->piece_count; i++) {
            uint32_t piece = group_piece(action_pieces(action), i);
            if (piece >= hands->rod->piece_count)
                break;
            calm += pulls(hands, piece) && handles_thing(action, piece, THING_LINE);
        }
    return calm < spools_on(hands);
}

uint32_t hands_held(Hands *hands, const Action *action)
{
    uint32_t count = hands->loose.count ? fingers(hands, action) : 0;
    return count + blank_pulled(hands, action);
}

/* --- pieces --- */

void piece_lives(Hands *hands, uint32_t piece)
{
    const PieceNow *now = &hands->pieces[piece];
    if (!hands->proves_only && now->state == PIECE_OFF && now->lying[THING_LOOP].state == LIES_NOT)
        *LIST_ADD(hands->arena, &hands->live) = piece;
}

void piece_is_done(Hands *hands, uint32_t piece)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < hands->live.count; i++)
        if (hands->live.items[i] != piece)
            hands->live.items[kept++] = hands->live.items[i];
    hands->live.count = kept;
}

void lay_piece(Hands *hands, uint32_t piece, bool own_tag)
{
    PieceNow *now = &hands->pieces[piece];
    now->own_tag = own_tag;
    now->lying[THING_LINE].state = LIES;
    lay(hands, piece, THING_TAG);
    if (is_cut(hands, piece))
        *LIST_ADD(hands->arena, &hands->loose) = (Thing){piece, THING_LINE};
}

bool tape_is_off(Hands *hands, uint32_t piece, unsigned things)
{
    return !(hands->pieces[piece].taped & things) || fault(hands, REPLAY_TAPE_LEFT, piece);
}

bool cut_line(Hands *hands, uint32_t piece)
{
    if (!tape_is_off(hands, piece, ITS_LINE))
        return false;
    hands->pieces[piece].lying[THING_LINE].state = LIES_NO_MORE;
    hands->bobbins -= hands->pieces[piece].loaded;
    return true;
}

/* Rounding alone. */
static bool is_same_length(double one, double other) { return fabs(one - other) <= 1e-9 * other; }

bool load(Hands *hands, const Action *action, uint32_t piece)
{
    PieceNow *now = &hands->pieces[piece];
    const Piece *planned = &hands->rod->pieces[piece];
    if (!planned->bobbin || now->loaded || action->piece_count != 1)
        return lost(hands, piece);
    if (!is_same_length(action->length, piece_length(planned)))
        return fault_by(hands, REPLAY_LENGTH_DIFFERS, piece, piece_length(planned), action->length);
    if (hands->bobbins >= hands->bench->bobbins)
        return fault_by(hands, REPLAY_TOO_MANY_BOBBINS, piece, hands->bench->bobbins, hands->bobbins + 1.0);
    hands->bobbins++;
    return now->loaded = true;
}

bool cut_from_spool(Hands *hands, const Action *action, uint32_t piece)
{
    (void)action;
    if (is_cut(hands, piece) || hands->rod->pieces[piece].spacer)
        return lost(hands, piece);
    hands->spools_in[PIECE_RUNNING]--;
    hands->pieces[piece].cut = true;
    if (is_taped(&hands->pieces[piece], THING_LINE))
        hands->taped_spools--;
    else
        *LIST_ADD(hands->arena, &hands->loose) = (Thing){piece, THING_LINE};
    return true;
}

/* --- tape --- */

/* The tag of a piece laid in and the ends of a loop lie behind the turns. */
static bool lies_behind(const PieceNow *now, HeldThing thing)
{
    return thing == THING_LOOP || (thing == THING_TAG && !now->own_tag);
}

bool tape_down(Hands *hands, const Action *action, uint32_t piece)
{
    PieceNow *now = &hands->pieces[piece];
    if ((unsigned)action->thing >= HELD_THING_COUNT || now->lying[action->thing].state != LIES
        || is_taped(now, action->thing))
        return lost(hands, piece);
    now->taped |= (uint8_t)(1u << action->thing);
    hands->taped_spools += action->thing == THING_LINE && !is_cut(hands, piece);
    if (lies_behind(now, action->thing) && action->turns == CLEAR_OF_ALL)
        return true;
    uint64_t until = hands->turns + (action->turns == CLEAR_OF_ALL ? 0 : action->turns);
    *LIST_ADD(hands->arena, &hands->tapes) = (Tape){{piece, action->thing}, hands->turns, until};
    hands->tape_until = until < hands->tape_until ? until : hands->tape_until;
    return true;
}

static void find_nearest_tape(Hands *hands)
{
    hands->tape_until = UINT64_MAX;
    for (uint32_t i = 0; i < hands->tapes.count; i++)
        if (hands->tapes.items[i].until < hands->tape_until)
            hands->tape_until = hands->tapes.items[i].until;
}

static void take_off(Hands *hands, Thing thing)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < hands->tapes.count; i++) {
        const Tape *tape = &hands->tapes.items[i];
        if (tape->on.piece != thing.piece || tape->on.thing != thing.thing)
            hands->tapes.items[kept++] = *tape;
    }
    hands->tapes.count = kept;
    find_nearest_tape(hands);
    hands->pieces[thing.piece].taped &= (uint8_t) ~(1u << thing.thing);
    hands->taped_spools -= thing.thing == THING_LINE && !is_cut(hands, thing.piece);
}

void take_all_tape(Hands *hands, uint32_t piece)
{
    for (HeldThing thing = 0; thing < HELD_THING_COUNT; thing++)
        if (is_taped(&hands->pieces[piece], thing))
            take_off(hands, (Thing){piece, thing});
}

bool untape(Hands *hands, const Action *action, uint32_t piece)
{
    Thing thing = {piece, action->thing};
    if ((unsigned)action->thing >= HELD_THING_COUNT || !is_taped(&hands->pieces[piece], action->thing))
        return lost(hands, piece);
    if (action->thing == THING_LINE && !runs(hands, piece))
        return fault(hands, REPLAY_UNHELD, piece);
    take_off(hands, thing);
    if (action->thing != THING_LINE || is_cut(hands, piece))
        *LIST_ADD(hands->arena, &hands->loose) = thing;
    return true;
}

bool tape_allows(Hands *hands, const Action *action)
{
    for (uint32_t i = 0; i < action->piece_count; i++)
        if (!tape_is_off(hands, group_piece(action_pieces(action), i), ITS_LINE))
            return false;
    for (uint32_t i = 0; hands->turns + action->turns > hands->tape_until && i < hands->tapes.count; i++) {
        const Tape *tape = &hands->tapes.items[i];
        if (hands->turns + action->turns > tape->until)
            return fault_by(hands, REPLAY_TAPED_OVER, tape->on.piece, (double)(tape->until - tape->since),
                            (double)(hands->turns + action->turns - tape->since));
    }
    forget_what_is_held(hands);
    for (uint32_t i = 0; !action->by_hand && i < hands->loose.count; i++)
        if (hands->loose.items[i].thing == THING_LINE
            && hands->pieces[hands->loose.items[i].piece].state == PIECE_LAID_IN)
            return fault(hands, REPLAY_UNHELD, hands->loose.items[i].piece);
    return true;
}

/* --- what is left with the action --- */

static void add_held(Hands *hands, uint32_t piece, uint32_t count, HeldThing thing, Holder by)
{
    if (count)
        *LIST_ADD(hands->arena, &hands->shown) = (Held){piece, count, (uint16_t)thing, (uint16_t)by};
}

static Holder holder_of(Hands *hands, Thing thing)
{
    if (is_taped(&hands->pieces[thing.piece], thing.thing))
        return thing.thing == THING_LINE && hands->pieces[thing.piece].loaded ? BY_BOBBIN : BY_TAPE;
    if (thing.thing == THING_LINE && !is_cut(hands, thing.piece))
        return BY_SPOOL;
    return turns_hold(hands, thing) ? BY_TURNS : BY_FINGER;
}

/* The passes of a crosswrap lie taped at both ends, but the one that is wound. */
static void hold_passes(Hands *hands)
{
    const CrosswrapNow *now = &hands->crosswrap;
    if (!now->planned || now->taken)
        return;
    uint32_t wound = hands->pieces_in[PIECE_TIED_ON], last = now->next_piece - wound;
    add_held(hands, now->pieces_from, last - now->pieces_from, THING_TAG, BY_TAPE);
    add_held(hands, now->pieces_from, last - now->pieces_from, THING_END, BY_TAPE);
    add_held(hands, last, wound, THING_TAG, BY_TAPE);
    add_held(hands, last, wound, THING_LINE, BY_SPOOL);
}

/* A spacer that was cut lies under turns until its wrap is done, and there may be any number of them: what turns
 * hold of it is not told. */
static void forget_bound_spacers(Hands *hands)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < hands->live.count; i++) {
        uint32_t piece = hands->live.items[i];
        bool bound = hands->rod->pieces[piece].spacer && hands->pieces[piece].state == PIECE_ENDED
                     && holder_of(hands, (Thing){piece, THING_TAG}) == BY_TURNS
                     && holder_of(hands, (Thing){piece, THING_END}) == BY_TURNS;
        if (!bound)
            hands->live.items[kept++] = piece;
    }
    hands->live.count = kept;
}

/* The same list as before is kept once. */
static void keep_held(Hands *hands, ActionState *state)
{
    hands->shown.count = 0;
    for (uint32_t i = 0; i < hands->live.count; i++)
        for (HeldThing thing = 0; thing < HELD_THING_COUNT; thing++) {
            Thing each = {hands->live.items[i], thing};
            if (is_there(hands, each))
                add_held(hands, each.piece, 1, thing, holder_of(hands, each));
        }
    hold_passes(hands);
    uint32_t count = hands->shown.count;
    size_t bytes = count * sizeof *hands->held;
    if (count != hands->held_count || (count && memcmp(hands->shown.items, hands->held, bytes) != 0)) {
        Held *kept = arena_take_many(hands->keeps, count, sizeof *kept);
        if (count)
            memcpy(kept, hands->shown.items, bytes);
        hands->held = kept;
        hands->held_count = count;
    }
    state->held = hands->held;
    state->held_count = count;
}

static StopWay way_to_stop(Hands *hands, const ActionState *state)
{
    if (state->fingers > 0 || anything_unbound(hands))
        return STOP_NOT;
    if (spools_on(hands) > hands->taped_spools)
        return STOP_TAPE;
    bool any = hands->unfinished > 0 || hands->live.count > 0 || hands->pieces_in[PIECE_TIED_OFF] > 0;
    return any ? STOP_HELD : STOP_FINISHED;
}

/* Turns that the last action, which made so many, needed until turns held this as well as they must. */
static double turns_needed(Hands *hands, Thing thing, uint32_t turns)
{
    const PieceNow *now = &hands->pieces[thing.piece];
    const Lying *lying = lying_of(hands, thing);
    if (thing.thing == THING_LINE || lying->state != LIES)
        return 0;
    double needed = turns - (cover(hands, lying) - turns_to_hold(hands, thing.thing));
    bool by_own =
        thing.thing == THING_TAG && !now->own_tag && !is_taped(now, THING_TAG) && runs(hands, thing.piece);
    return by_own ? fmax(needed, turns - ((double)now->own - first_turns(hands, thing.piece))) : needed;
}

/* What holds all that lies when one may stop holds it from some turn on. */
static uint32_t stop_from(Hands *hands, uint32_t turns)
{
    double from = 0;
    for (uint32_t i = 0; i < hands->live.count; i++)
        for (HeldThing thing = 0; thing < HELD_THING_COUNT; thing++)
            from = fmax(from, turns_needed(hands, (Thing){hands->live.items[i], thing}, turns));
    return (uint32_t)ceil(from);
}

void note_holding(Hands *hands, const Action *action, ActionState *state)
{
    forget_bound_spacers(hands);
    state->hands = (uint8_t)hands_of(hands, action);
    state->fingers = (uint8_t)fingers(hands, NULL);
    state->blank_held = blank_pulled(hands, NULL);
    state->to_stop = way_to_stop(hands, state);
    state->may_stop = state->to_stop != STOP_NOT;
    state->stop_from = action->kind == ACTION_WIND && state->may_stop ? stop_from(hands, action->turns) : 0;
    if (hands->keeps)
        keep_held(hands, state);
}
