/* Lawful action lists of compiled patterns, spoilt one action at a time: the replay must find each fault, or the
 * table below must say why the spoilt list is as good as the first. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "mutants.h"
#include "near.h"

#define THREADS                                                                                                   \
    "edition 1\n"                                                                                                 \
    "thread navy { turns: 67 per cm }\n"                                                                          \
    "thread slate { turns: 66 per cm }\n"                                                                         \
    "thread mist { turns: 68 per cm }\n"                                                                          \
    "thread foam { turns: 65 per cm }\n"                                                                          \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"

static const char *const patterns[] = {
    /* bands, a short last one, wraps with a gap between, two layers */
    THREADS
    "bench { measure: 30 turns }\n"
    "rod \"Bands\" on tube {\n"
    "    at 20 cm { band 20 turns of navy  band 20 turns of foam  gap 2 mm  band 24 turns of mist\n"
    "        band 7 turns of navy }\n"
    "    at 30 cm { under { band 40 turns of slate } over { band 12 turns of foam  band 8 turns of navy } }\n"
    "    at 35 cm { band 20 turns of navy  band 4 turns of mist }\n"
    "    at 40 cm { repeat 3 { band 9 turns of navy  band 3 turns of foam }  band 12 turns of navy }\n"
    "}\n",
    /* fades: by actions, even, as written; two of them in a row; a spool that goes on */
    THREADS
    "rod \"Fades\" on tube {\n"
    "    at 20 cm { band 20 turns of navy  fade to slate steps: 4  band 60 turns of slate }\n"
    "    at 30 cm { band 20 turns of navy  fade to mist over: 30 turns  fade to foam steps: 3\n"
    "        band 20 turns of foam }\n"
    "    at 40 cm { band 20 turns of navy  fade to foam runs: [in 3 out 1, in 5 out 2]  band 9 turns of foam }\n"
    "}\n",
    THREADS
    "bench { bind: 5 turns, loop: 3 turns, final: 4 turns }\n"
    "rod \"Inlays\" on tube {\n"
    "    at 20 cm { band 60 turns of navy { inlay 2 turns of foam at: 1/3  inlay 3 turns of mist at: 2/3 } }\n"
    "    at 40 cm { band 50 turns of slate { inlay 1 turn of mist every: 10 turns }  band 20 turns of foam }\n"
    "}\n",
    THREADS "bench { seal: yes }\n"
            "guide ring { foot: [14 mm, 12 mm], gap: 6 mm, width: 2 mm, height: 1 mm, ramp: 5 mm, before: 3 mm }\n"
            "rod \"Foot\" on tube {\n"
            "    at 50 cm guide: ring {\n"
            "        under { band fill of slate }\n"
            "        over { band 8 turns of foam\n"
            "            band fill of navy { inlay 2 turns of mist at: 1/2 }  band 8 turns of foam }\n"
            "    }\n"
            "}\n",
    /* on bobbins: the drive winds from two of them; a spool takes over from one; a long inlay */
    THREADS
    "bench { hand: 30 cm, bobbins: 2 }\n"
    "rod \"Bobbins\" on tube {\n"
    "    at 20 cm { band 20 turns of navy  fade to mist steps: 3  band 40 turns of mist  fade to foam steps: 3\n"
    "        band 40 turns of foam  fade to slate steps: 3  band 40 turns of slate }\n"
    "    at 40 cm { band 60 turns of navy { inlay 12 turns of foam at: 1/2 } }\n"
    "}\n",
    /* strands together, a spacer */
    THREADS "bench { holders: 2 }\n"
            "rod \"Strands\" on tube {\n"
            "    at 20 cm { band 20 turns of [navy, mist]  band 20 turns of [navy, spacer(foam)]\n"
            "        band 20 turns of slate }\n"
            "    at 30 cm { band 40 turns of [navy, mist] { inlay 2 turns of foam at: 1/2 }\n"
            "        gap 1 mm  band 20 turns of navy }\n"
            "    at 40 cm { band 20 turns of [navy, spacer(foam)] }\n"
            "}\n",
};

enum { PATTERN_COUNT = sizeof patterns / sizeof *patterns };

static bool is_wind(const Mutant *mutant, uint32_t at) { return mutant->actions[at].kind == ACTION_WIND; }

/* Each spoils the action `at`; false where it does not apply. */
static bool drop(Mutant *mutant, uint32_t at)
{
    leave_out(mutant, at);
    count_anew(mutant);
    return true;
}

static bool duplicate(Mutant *mutant, uint32_t at)
{
    do_twice(mutant, at);
    count_anew(mutant);
    return true;
}

static bool swap(Mutant *mutant, uint32_t at)
{
    if (at + 1 >= mutant->count)
        return false;
    exchange_with_next(mutant, at);
    count_anew(mutant);
    return true;
}

static bool shorten(Mutant *mutant, uint32_t at)
{
    if (!is_wind(mutant, at))
        return false;
    mutant->actions[at].turns--;
    count_anew(mutant);
    return true;
}

static bool lengthen(Mutant *mutant, uint32_t at)
{
    if (!is_wind(mutant, at))
        return false;
    mutant->actions[at].turns++;
    count_anew(mutant);
    return true;
}

/* The turn is made after the actions that follow instead of before them, or the other way about. */
static bool move_turn(Mutant *mutant, uint32_t at, bool later)
{
    uint32_t next = at + 1;
    while (next < mutant->count && mutant->actions[next].kind != ACTION_WIND)
        next++;
    if (!is_wind(mutant, at) || next == mutant->count
        || mutant->actions[next].winding != mutant->actions[at].winding)
        return false;
    Action *from = &mutant->actions[later ? at : next], *to = &mutant->actions[later ? next : at];
    if (from->turns < 2)
        return false;
    from->turns--;
    to->turns++;
    count_anew(mutant);
    return true;
}

static bool turn_later(Mutant *mutant, uint32_t at) { return move_turn(mutant, at, true); }
static bool turn_earlier(Mutant *mutant, uint32_t at) { return move_turn(mutant, at, false); }

static bool other_piece(Mutant *mutant, uint32_t at)
{
    Action *action = &mutant->actions[at];
    if (action->piece == NO_PIECE)
        return false;
    action->piece = (action->piece + 1) % mutant->rod->piece_count;
    if (action->kind != ACTION_WIND) {
        action->place = mutant->rod->pieces[action->piece].place;
        action->layer = mutant->rod->pieces[action->piece].layer;
    }
    return true;
}

static bool no_piece(Mutant *mutant, uint32_t at)
{
    bool applies = mutant->actions[at].piece != NO_PIECE;
    mutant->actions[at].piece = NO_PIECE;
    return applies;
}

static bool more_pieces(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].piece_count++;
    return mutant->actions[at].piece != NO_PIECE;
}

static bool by_hand(Mutant *mutant, uint32_t at)
{
    bool applies = is_wind(mutant, at) && !mutant->actions[at].by_hand;
    mutant->actions[at].by_hand = true;
    return applies;
}

static bool blank_turns(Mutant *mutant, uint32_t at)
{
    bool applies = is_wind(mutant, at) && mutant->actions[at].by_hand;
    mutant->actions[at].by_hand = false;
    return applies;
}

static bool next_winding(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].winding++;
    return is_wind(mutant, at);
}

static bool winding_before(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].winding--;
    return is_wind(mutant, at);
}

static bool longer_thread(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].length *= 1 + 1e-7;
    return is_wind(mutant, at);
}

static bool load_less(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].length *= 1 - 1e-7;
    return mutant->actions[at].kind == ACTION_LOAD;
}

static bool miscount_layer(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].layer_count++;
    return is_wind(mutant, at);
}

static bool miscount_item(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].band_count--;
    return is_wind(mutant, at);
}

static bool other_place(Mutant *mutant, uint32_t at)
{
    Action *action = &mutant->actions[at];
    action->place = action->place == WHOLE_ROD ? mutant->rod->place_count : action->place + 1;
    return true;
}

static bool final_or_not(Mutant *mutant, uint32_t at)
{
    Action *action = &mutant->actions[at];
    action->final = !action->final;
    return action->kind == ACTION_LAY_LOOP || action->kind == ACTION_PULL_THROUGH;
}

static bool other_thing(Mutant *mutant, uint32_t at)
{
    Action *action = &mutant->actions[at];
    bool tape = action->kind == ACTION_TAPE_DOWN || action->kind == ACTION_UNTAPE;
    action->thing = (action->thing + 1) % HELD_THING_COUNT;
    return tape;
}

static bool tape_nearer(Mutant *mutant, uint32_t at)
{
    Action *action = &mutant->actions[at];
    bool tape = action->kind == ACTION_TAPE_DOWN && action->turns > 0;
    action->turns = action->turns == CLEAR_OF_ALL ? 10000000 : action->turns - 1;
    return tape;
}

static bool tape_anywhere(Mutant *mutant, uint32_t at)
{
    Action *action = &mutant->actions[at];
    bool near = action->kind == ACTION_TAPE_DOWN && action->turns != CLEAR_OF_ALL && action->turns > 0;
    action->turns = CLEAR_OF_ALL;
    return near;
}

/* Something of this kind behind the action, in a layer. */
static bool add_look(Mutant *mutant, uint32_t at, ActionKind kind)
{
    const Action *action = &mutant->actions[at];
    if (action->layer == WHOLE_ROD)
        return false;
    do_twice(mutant, at);
    mutant->actions[at + 1] =
        (Action){.kind = kind, .piece = NO_PIECE, .place = action->place, .layer = action->layer};
    return true;
}

static bool pack_here(Mutant *mutant, uint32_t at) { return add_look(mutant, at, ACTION_PACK); }
static bool measure_here(Mutant *mutant, uint32_t at) { return add_look(mutant, at, ACTION_MEASURE); }

/* Taped before anything is done at its other foot. */
static bool guide_earlier(Mutant *mutant, uint32_t at)
{
    const Action guide = mutant->actions[at];
    uint32_t to = 0;
    while (to < at && mutant->actions[to].place != guide.place + 1)
        to++;
    if (guide.kind != ACTION_TAPE_GUIDE || to == at)
        return false;
    memmove(&mutant->actions[to + 1], &mutant->actions[to], (at - to) * sizeof guide);
    mutant->actions[to] = guide;
    return true;
}

/* A turn of the pass, packing with the thread taped, then the others. */
static bool split_pass(Mutant *mutant, uint32_t at)
{
    const Action pass = mutant->actions[at];
    if (pass.kind != ACTION_WIND || !pass.by_hand || pass.turns < 2)
        return false;
    enum { MORE = 4 };
    for (int i = 0; i < MORE; i++)
        do_twice(mutant, at);
    Action *actions = &mutant->actions[at];
    actions[0].turns = 1;
    actions[1].kind = ACTION_TAPE_DOWN;
    actions[1].thing = THING_LINE;
    actions[1].turns = 0;
    actions[2] = (Action){.kind = ACTION_PACK, .piece = NO_PIECE, .place = pass.place, .layer = pass.layer};
    actions[3].kind = ACTION_UNTAPE;
    actions[3].thing = THING_LINE;
    actions[4].turns--;
    count_anew(mutant);
    return true;
}

/* These leave the threads as they are. */
#define QUIET                                                                                                     \
    (K(CLEAN) | K(PART) | K(MARK_LINE) | K(WIPE) | K(DRESS_FOOT) | K(TAPE_GUIDE) | K(MARK) | K(PACK) | K(MEASURE) \
     | K(TAKE_TAPE) | K(ALIGN) | K(BIND_RING) | K(SEAL) | K(SINGE) | K(COAT))
#define LAID (K(LAY_IN) | K(LAY_LOOP))
#define TRIMS (K(TRIM_TAG) | K(TRIM_END))

#define TAPES (K(TAPE_DOWN) | K(UNTAPE))
/* What packing and measuring have to come between. */
#define LOOKS (K(PACK) | K(MEASURE))
#define TWO_HANDS (V(HANDS_FULL) | V(UNHELD))

static const char quiet[] = "it leaves the threads as they are";
static const char spare[] = "more turns than needed lay over it";
static const char longer[] = "it lies under more turns than needed";
static const char apart[] = "no turn is made between the two, and they are about two threads or two ends";

static const Expected expected[] = {
    {drop, K(TAPE_GUIDE), ANY, V(OUT_OF_ORDER), NULL},
    {drop, K(TAKE_TAPE), ANY, V(TAPED_OVER), NULL},
    {duplicate, K(TAPE_GUIDE) | K(TAKE_TAPE), ANY, V(OUT_OF_ORDER), NULL},
    {swap, K(TAPE_GUIDE), K(START), V(THREAD_LEFT), NULL},
    {swap, K(TAKE_TAPE), K(WIND), V(TAPED_OVER), NULL},
    {other_place, K(TAPE_GUIDE), ANY, V(LAWFUL), "it is taped by both feet, whichever is named"},
    {other_place, K(TAKE_TAPE), ANY, V(TAPED_OVER) | V(STRAND_LOST), NULL},
    {guide_earlier, ANY, ANY, V(GUIDE_ON), NULL},
    {drop, K(PACK), ANY, V(LAWFUL) | V(PACK_FIRST) | V(GAP_PACKED), "no width is measured there"},
    {drop, QUIET, ANY, V(LAWFUL), quiet},
    {drop, K(LOAD), ANY, V(OUT_OF_ORDER), NULL},
    {drop, K(TAKE_UP), ANY, V(STRAND_LOST) | V(UNHELD), NULL},
    {drop, K(START) | K(LAY_IN) | K(STAND) | K(LAY_END) | K(PULL_THROUGH), ANY, V(STRAND_LOST), NULL},
    {drop, K(LAY_LOOP), ANY, V(LOOP_TOO_SHORT) | V(STRAND_LOST), NULL},
    {drop, K(CUT_FROM_SPOOL), ANY, V(OUT_OF_ORDER), NULL},
    {drop, TRIMS | K(TAKE_SPACER), ANY, V(THREAD_LEFT), NULL},
    {drop, K(TAPE_DOWN), ANY, V(STRAND_LOST) | TWO_HANDS, NULL},
    {drop, K(UNTAPE), ANY, V(TAPE_LEFT) | V(TAPED_OVER), NULL},
    {drop, K(WIND), ANY,
     V(TURNS_DIFFER) | V(TRIMMED_UNBOUND) | V(RELIED_UNBOUND) | V(LOOP_TOO_SHORT) | V(STRAND_LOST) | V(PACK_FIRST)
         | TWO_HANDS,
     NULL},

    {duplicate, QUIET, ANY, V(LAWFUL), quiet},
    {duplicate, K(WIND), ANY, V(TURNS_DIFFER) | V(THREAD_LEFT) | V(TAPED_OVER), NULL},
    {duplicate, ANY, ANY, V(STRAND_LOST), NULL},

    {swap, K(PACK), K(MEASURE) | K(LAY_END), V(PACK_FIRST), NULL},
    {swap, K(PACK), K(TAKE_SPACER), V(GAP_PACKED), NULL},
    {swap, K(MEASURE), K(WIND) | K(LAY_END) | K(PULL_THROUGH), V(PACK_FIRST), NULL},
    {swap, K(MEASURE), K(UNTAPE), V(LAWFUL) | V(HANDS_FULL), "turns hold the loop or the end that is untaped"},
    {swap, K(PACK), K(TRIM_END), V(LAWFUL) | V(PACK_FIRST),
     "an end that was drawn back is trimmed before packing"},
    {swap, K(LOAD), K(LOAD), V(LAWFUL), "two bobbins lie beside each other"},
    {swap, K(LOAD), K(START), V(HANDS_FULL), NULL},
    {swap, QUIET, K(START), V(LAWFUL) | V(HANDS_FULL), "packing leaves a hand for the tag"},
    {swap, QUIET, ANY, V(LAWFUL), quiet},
    {swap, K(WIND), K(PACK), V(LAWFUL) | V(PACK_FIRST), "the turn is packed with those before it, or measured"},
    {swap, ANY, QUIET, V(LAWFUL), "the step behind it leaves the threads as they are"},
    {swap, K(WIND), LAID, V(LAWFUL) | V(SPOOL_STANDS) | TWO_HANDS, longer},
    {swap, K(WIND), TRIMS, V(LAWFUL) | V(TRIMMED_UNBOUND), spare},
    {swap, K(WIND), K(PULL_THROUGH), V(LOOP_TOO_SHORT), NULL},
    {swap, K(WIND), K(TAPE_DOWN), V(LAWFUL) | V(TAPE_LEFT) | V(TAPED_OVER),
     "what a finger holds is taped a turn earlier"},
    {swap, K(WIND), K(UNTAPE), V(LAWFUL) | V(HANDS_FULL), "a finger holds it meanwhile"},
    {swap, K(WIND), K(WIND), V(TURNS_DIFFER), NULL},
    {swap, K(WIND), ANY, V(STRAND_LOST), NULL},
    {swap, TRIMS, K(WIND), V(LAWFUL) | V(PACK_FIRST), "trimmed later, under more turns than needed"},
    {swap, K(LAY_LOOP), K(WIND), V(LOOP_TOO_SHORT) | V(HANDS_FULL), NULL},
    {swap, K(TAPE_DOWN), K(WIND), TWO_HANDS, NULL},
    {swap, K(UNTAPE), K(WIND), V(TAPE_LEFT) | V(TAPED_OVER), NULL},
    {swap, K(CUT_FROM_SPOOL), K(WIND), V(OUT_OF_ORDER), NULL},
    {swap, ANY, K(WIND), V(STRAND_LOST), NULL},
    {swap, K(STAND) | K(LAY_END) | K(PULL_THROUGH), K(TAKE_UP), V(STRAND_LOST), NULL},
    {swap, K(START) | K(LAY_IN) | K(LAY_LOOP) | K(LAY_END), K(TAPE_DOWN), V(STRAND_LOST), NULL},
    {swap, K(TAPE_DOWN), K(STAND), V(UNHELD), NULL},
    {swap, K(TAPE_DOWN), K(START) | K(LAY_IN) | K(LAY_LOOP) | K(LAY_END) | K(CUT_FROM_SPOOL), V(HANDS_FULL), NULL},
    {swap, K(TAPE_DOWN), K(UNTAPE), V(HANDS_FULL), NULL},
    {swap, K(UNTAPE), TRIMS | K(PULL_THROUGH), V(LAWFUL) | V(TAPE_LEFT), apart},
    {swap, K(UNTAPE), K(UNTAPE), V(LAWFUL) | V(HANDS_FULL), apart},
    {swap, K(TAKE_UP), K(UNTAPE), V(UNHELD), NULL},
    {swap, TRIMS, K(LAY_IN) | K(UNTAPE), V(LAWFUL) | V(HANDS_FULL), apart},
    {swap, K(PULL_THROUGH), K(TRIM_END), V(LAWFUL) | V(STRAND_LOST), apart},
    {swap, ANY, ANY, V(LAWFUL), apart},

    {shorten, ANY, ANY,
     V(TURNS_DIFFER) | V(TRIMMED_UNBOUND) | V(RELIED_UNBOUND) | V(LOOP_TOO_SHORT) | V(STRAND_LOST) | V(HANDS_FULL),
     NULL},
    {lengthen, ANY, ANY, V(TURNS_DIFFER) | V(THREAD_LEFT) | V(TAPED_OVER), NULL},

    {turn_later, ANY, LAID, V(LAWFUL) | V(TAPED_OVER), longer},
    {turn_later, ANY, TRIMS, V(LAWFUL) | V(TRIMMED_UNBOUND), spare},
    {turn_later, ANY, TAPES, V(LAWFUL) | V(TAPED_OVER) | V(HANDS_FULL) | V(TRIMMED_UNBOUND), spare},
    {turn_later, ANY, QUIET, V(LAWFUL) | V(TRIMMED_UNBOUND) | V(HANDS_FULL), quiet},
    {turn_earlier, ANY, K(LAY_IN), V(RELIED_UNBOUND), NULL},
    {turn_earlier, ANY, K(LAY_LOOP), V(LOOP_TOO_SHORT) | V(HANDS_FULL), NULL},
    {turn_earlier, ANY, TRIMS, V(LAWFUL) | V(RELIED_UNBOUND) | V(LOOP_TOO_SHORT),
     "trimmed a turn later; what is laid next has turns to spare"},
    {turn_earlier, ANY, TAPES, V(LAWFUL) | V(TAPED_OVER) | V(RELIED_UNBOUND) | V(LOOP_TOO_SHORT),
     "taped a turn later"},
    {turn_earlier, ANY, QUIET, V(LAWFUL) | V(RELIED_UNBOUND) | V(LOOP_TOO_SHORT) | V(TAPED_OVER), quiet},

    {other_piece, K(LOAD), ANY, V(STRAND_LOST) | V(LENGTH_DIFFERS), NULL},
    {other_piece, K(START) | K(LAY_IN), ANY, V(STRAND_LOST) | V(TURNS_DIFFER), NULL},
    {other_piece, K(LAY_LOOP), ANY, V(STRAND_LOST) | V(TURNS_DIFFER) | V(LOOP_TOO_SHORT), NULL},
    {other_piece, K(TAKE_UP), ANY, V(STRAND_LOST) | V(RELIED_UNBOUND) | V(UNHELD), NULL},
    {other_piece, TRIMS, ANY, V(STRAND_LOST) | V(TRIMMED_UNBOUND) | V(THREAD_LEFT) | V(TAPE_LEFT), NULL},
    {other_piece, K(LAY_END), ANY, V(STRAND_LOST) | V(TAPE_LEFT) | V(HANDS_FULL), NULL},
    {other_piece, TAPES, ANY, V(STRAND_LOST) | V(TAPE_LEFT) | TWO_HANDS, NULL},
    {other_piece, ANY, ANY, V(STRAND_LOST), NULL},
    {no_piece, ANY, ANY, V(STRAND_LOST), NULL},
    {load_less, ANY, ANY, V(LENGTH_DIFFERS), NULL},
    {more_pieces, K(START) | K(LAY_IN), ANY, V(STRAND_LOST) | V(TURNS_DIFFER) | V(HANDS_FULL), NULL},
    {more_pieces, K(LAY_LOOP), ANY, V(STRAND_LOST) | V(TURNS_DIFFER) | V(THREAD_LEFT) | V(HANDS_FULL), NULL},
    {more_pieces, K(LAY_END), ANY, V(STRAND_LOST) | V(HANDS_FULL) | V(TAPE_LEFT), NULL},
    {more_pieces, K(TAKE_UP), ANY, V(STRAND_LOST) | V(RELIED_UNBOUND), NULL},
    {more_pieces, K(TRIM_TAG), ANY, V(LAWFUL) | V(STRAND_LOST) | V(TRIMMED_UNBOUND) | V(TAPE_LEFT),
     "the other strand is a spacer, whose tag goes anyway"},
    {more_pieces, K(TRIM_END), ANY, V(STRAND_LOST) | V(TRIMMED_UNBOUND) | V(TAPE_LEFT), NULL},
    {more_pieces, TAPES, ANY, V(STRAND_LOST) | V(TAPE_LEFT) | TWO_HANDS, NULL},
    {more_pieces, ANY, ANY, V(STRAND_LOST), NULL},
    {other_place, QUIET, ANY, V(LAWFUL) | V(STRAND_LOST),
     "it leaves the threads as they are at any place that there is"},
    {other_place, K(WIND), ANY, V(TURNS_DIFFER), NULL},
    {other_place, ANY, ANY, V(STRAND_LOST), NULL},

    {by_hand, ANY, ANY, V(LAWFUL) | V(HANDS_FULL) | V(PASS_BROKEN) | V(OUT_OF_ORDER),
     "a cut piece may be passed by hand always, if slowly"},
    {blank_turns, ANY, ANY, V(SPOOL_STANDS), NULL},
    {next_winding, ANY, ANY, V(TURNS_DIFFER), NULL},
    {winding_before, ANY, ANY, V(TURNS_DIFFER), NULL},
    {miscount_layer, ANY, ANY, V(TURNS_DIFFER), NULL},
    {miscount_item, ANY, ANY, V(TURNS_DIFFER), NULL},
    {longer_thread, ANY, ANY, V(LENGTH_DIFFERS), NULL},
    {final_or_not, K(LAY_LOOP), ANY, V(LAWFUL), "the loop is judged when the end is pulled through"},
    {final_or_not, K(PULL_THROUGH), ANY, V(LAWFUL) | V(LOOP_TOO_SHORT),
     "the replay sees for itself that the wrap ends, or turns enough lie over it"},
    {other_thing, ANY, ANY, V(STRAND_LOST) | V(TAPED_OVER) | V(TAPE_LEFT) | TWO_HANDS, NULL},
    {tape_nearer, ANY, ANY, V(LAWFUL) | V(TAPED_OVER), "tape on what lies behind the turns is in nobody's way"},
    {tape_anywhere, ANY, ANY, V(TAPED_OVER), NULL},
    {pack_here, ANY, ANY,
     V(LAWFUL) | V(HANDS_FULL) | V(PASS_BROKEN) | V(PACK_FIRST) | V(GAP_PACKED) | V(STRAND_LOST),
     "packed once more"},
    {measure_here, ANY, ANY, V(LAWFUL) | V(HANDS_FULL) | V(PACK_FIRST) | V(PASS_BROKEN), "measured once more"},
    {split_pass, ANY, ANY, V(PASS_BROKEN) | V(HANDS_FULL) | V(UNHELD), NULL},
};

static const Spoiler operators[] = {
    {drop, "left out"},
    {duplicate, "done twice"},
    {swap, "after the next one"},
    {shorten, "a turn fewer"},
    {lengthen, "a turn more"},
    {turn_later, "a turn made later"},
    {turn_earlier, "a turn made earlier"},
    {other_piece, "another piece"},
    {no_piece, "no piece"},
    {load_less, "loaded with less"},
    {more_pieces, "a strand more"},
    {other_place, "another place"},
    {by_hand, "by hand"},
    {blank_turns, "the blank turning"},
    {next_winding, "the next winding"},
    {winding_before, "the winding before"},
    {miscount_layer, "layer miscounted"},
    {miscount_item, "item miscounted"},
    {longer_thread, "longer thread"},
    {final_or_not, "final or not"},
    {other_thing, "something else of it"},
    {tape_nearer, "tape nearer"},
    {tape_anywhere, "tape where turns come"},
    {pack_here, "packed"},
    {measure_here, "measured"},
    {guide_earlier, "taped before its second foot is ready"},
    {split_pass, "a pass in two"},
};

static const Mutating mutating = {expected, operators, sizeof expected / sizeof *expected,
                                  sizeof operators / sizeof *operators};

static void test_spoilt_steps_are_found(void **state)
{
    (void)state;
    spoil_patterns(&mutating, patterns, PATTERN_COUNT);
}

static void test_every_survivor_has_a_reason(void **state)
{
    (void)state;
    every_survivor_has_a_reason(&mutating);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_survivor_has_a_reason),
        cmocka_unit_test(test_spoilt_steps_are_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
