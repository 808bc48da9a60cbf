/* Lawful actions of compiled crosswraps, spoilt one at a time: the replay must find each fault, or the table below
 * must say why the spoilt list is as good as the first. What belongs to turns alone is spoilt in
 * test_replay_mutants.c. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "mutants.h"

#include <math.h>

#define SHOP                                                                                                      \
    "edition 1\n"                                                                                                 \
    "thread navy { turns: 67 per cm }\n"                                                                          \
    "thread slate { turns: 66 per cm }\n"                                                                         \
    "thread mist { turns: 68 per cm }\n"                                                                          \
    "thread foam { turns: 65 per cm }\n"                                                                          \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"

static const char *const patterns[] = {
    /* out and back, in either direction, built up and down; leads, starts, lines that face up */
    SHOP
    "bench { units: mm }\n"
    "rod \"Crossed\" on tube {\n"
    "    at 20 cm length: 60 mm { chevron crossings: 2 ends: 12 turns of navy {\n"
    "        strand 2 of slate  strand 1 of mist } }\n"
    "    at 40 cm length: 64.5 mm toward: butt {\n"
    "        chevron crossings: 3 starts: 2 pointing: butt ends: 12 turns of foam {\n"
    "            strand 2 of navy  strand 1 of slate } }\n"
    "    at 60 cm length: 60 mm { diamond angle: 30 deg starts: 3 leads: [2, 3] facing: 2 ends: 3 mm of navy {\n"
    "        strand 3 of slate  strand 1 of foam } }\n"
    "}\n",
    /* spirals, spacers; the thread goes round clockwise */
    SHOP "bench { units: mm, ends: pins, rotation: away }\n"
         "rod \"Turned\" on tube {\n"
         "    at 20 cm length: 60 mm { spiral turns: 3 turns starts: 2 ends: 12 turns of navy {\n"
         "        strand 2 of slate  strand 1 of spacer(mist)  strand 1 of foam } }\n"
         "    at 40 cm length: 60 mm { diamond crossings: 2 ends: 12 turns of navy {\n"
         "        strand 1 of slate  strand 1 of spacer(mist)  strand 1 of foam } }\n"
         "}\n",
    /* on one another, over and under bands */
    SHOP "bench { units: mm, seal: yes, pack: 5 turns }\n"
         "rod \"Upon\" on tube {\n"
         "    at 20 cm length: 60 mm { under { band fill of navy }\n"
         "        over { chevron crossings: 2 ends: 12 turns of slate { strand 1 of mist  strand 1 of foam } }\n"
         "        over { spiral lead: 18 mm ends: 12 turns of slate { strand 1 of navy  strand 1 of foam } } }\n"
         "    at 40 cm { band 20 turns of navy }\n"
         "}\n",
    /* nothing holds the passes */
    SHOP "bench { units: mm, ends: none, friction: 0.2 }\n"
         "rod \"Free\" on tube {\n"
         "    at 20 cm length: 80 mm { chevron crossings: 9 ends: 8 mm of navy {\n"
         "        strand 2 of slate  strand 1 of mist } }\n"
         "}\n",
};

enum { PATTERN_COUNT = sizeof patterns / sizeof *patterns };

#define READY (K(SET_OUT) | K(HOLD_ENDS))
#define OF_LAYER (READY | K(SYMMETRY) | K(SEAL) | K(TAKE_ENDS))
#define OF_PIECE (K(TIE_ON) | K(LEG) | K(TIE_OFF) | K(UNWIND))
#define CROSSED (OF_LAYER | OF_PIECE)
/* These leave the threads as they are. */
#define QUIET                                                                                                     \
    (K(CLEAN) | K(PART) | K(MARK_LINE) | K(WIPE) | K(DRESS_FOOT) | K(TAPE_GUIDE) | K(MARK) | K(PACK) | K(MEASURE) \
     | K(TAKE_TAPE) | K(ALIGN) | K(BIND_RING) | K(SINGE) | K(COAT))

/* Of the action's layer. */
static const PlannedCrosswrap *crosswrap_of(const Mutant *mutant, uint32_t at)
{
    const Action *action = &mutant->actions[at];
    if (action->place >= mutant->rod->place_count
        || action->layer >= mutant->rod->places[action->place].layer_count)
        return NULL;
    return mutant->rod->places[action->place].layers[action->layer].crosswrap;
}

static bool is_crossed(const Mutant *mutant, uint32_t at)
{
    return crosswrap_of(mutant, at) && CROSSED & UINT64_C(1) << mutant->actions[at].kind;
}

/* Each spoils the action `at`; false where it does not apply. */
static bool drop(Mutant *mutant, uint32_t at)
{
    bool applies = is_crossed(mutant, at);
    leave_out(mutant, at);
    return applies;
}

/* Whatever makes, begins or ends the turns over the passes. */
static bool drop_of_band(Mutant *mutant, uint32_t at)
{
    bool applies = crosswrap_of(mutant, at) && !((CROSSED | QUIET) & UINT64_C(1) << mutant->actions[at].kind);
    drop(mutant, at);
    count_anew(mutant);
    return applies;
}

static bool duplicate(Mutant *mutant, uint32_t at)
{
    bool applies = is_crossed(mutant, at);
    do_twice(mutant, at);
    return applies;
}

static bool swap(Mutant *mutant, uint32_t at)
{
    if (at + 1 >= mutant->count || !(is_crossed(mutant, at) || is_crossed(mutant, at + 1)))
        return false;
    exchange_with_next(mutant, at);
    return true;
}

static bool other_piece(Mutant *mutant, uint32_t at)
{
    Action *action = &mutant->actions[at];
    if (!is_crossed(mutant, at) || action->piece == NO_PIECE)
        return false;
    action->piece = (action->piece + 1) % mutant->rod->piece_count;
    action->place = mutant->rod->pieces[action->piece].place;
    action->layer = mutant->rod->pieces[action->piece].layer;
    return true;
}

static bool no_piece(Mutant *mutant, uint32_t at)
{
    bool applies = is_crossed(mutant, at) && mutant->actions[at].piece != NO_PIECE;
    mutant->actions[at].piece = NO_PIECE;
    return applies;
}

static bool some_piece(Mutant *mutant, uint32_t at)
{
    bool applies = is_crossed(mutant, at) && mutant->actions[at].piece == NO_PIECE;
    mutant->actions[at].piece = 0;
    mutant->actions[at].piece_count = 1;
    return applies;
}

static bool more_pieces(Mutant *mutant, uint32_t at)
{
    bool applies = is_crossed(mutant, at) && mutant->actions[at].piece != NO_PIECE;
    mutant->actions[at].piece_count++;
    return applies;
}

static bool other_place(Mutant *mutant, uint32_t at)
{
    bool applies = is_crossed(mutant, at);
    mutant->actions[at].place = (mutant->actions[at].place + 1) % (mutant->rod->place_count + 1);
    return applies;
}

static bool other_layer(Mutant *mutant, uint32_t at)
{
    bool applies = is_crossed(mutant, at);
    mutant->actions[at].layer++;
    return applies;
}

static LegAction *leg_at(Mutant *mutant, uint32_t at)
{
    static LegAction none;
    return mutant->actions[at].kind == ACTION_LEG ? &mutant->actions[at].leg : &none;
}

static bool is_leg(const Mutant *mutant, uint32_t at) { return mutant->actions[at].kind == ACTION_LEG; }

/* Spoils a leg by one expression on `leg`, where the condition holds. */
#define LEG_OPERATOR(name, condition, change)                                                                     \
    static bool name(Mutant *mutant, uint32_t at)                                                                 \
    {                                                                                                             \
        LegAction *leg = leg_at(mutant, at);                                                                      \
        bool applies = is_leg(mutant, at) && (condition);                                                         \
        change;                                                                                                   \
        return applies;                                                                                           \
    }

/* Degrees, kept on the clock. */
static double on_clock(double degrees) { return degrees - 360 * floor(degrees / 360); }

static void exchange(double *a, double *b)
{
    double first = *a;
    *a = *b;
    *b = first;
}

LEG_OPERATOR(next_pass, true, leg->pass++)
LEG_OPERATOR(pass_before, true, leg->pass--)
LEG_OPERATOR(other_leg, true, leg->leg = leg->leg == LEG_OUT ? LEG_BACK : LEG_OUT)
LEG_OPERATOR(other_way, true, exchange(&leg->from, &leg->to))
LEG_OPERATOR(short_of_the_end, true, leg->to += leg->from < leg->to ? -0.01 : 0.01)
LEG_OPERATOR(begins_on, true, leg->from_clock = on_clock(leg->from_clock + 0.001))
LEG_OPERATOR(ends_before, true, leg->to_clock = on_clock(leg->to_clock - 0.001))
LEG_OPERATOR(begins_opposite, true, leg->from_clock = on_clock(leg->from_clock + 180))
LEG_OPERATOR(clocks_exchanged, fabs(remainder(leg->from_clock - leg->to_clock, 360)) > 1e-5,
             exchange(&leg->from_clock, &leg->to_clock))
LEG_OPERATOR(turn_more, true, leg->turns += 1)
LEG_OPERATOR(turn_less, true, leg->turns -= 1)
LEG_OPERATOR(other_sense, true, leg->turns = -leg->turns)
LEG_OPERATOR(mark_more, true, leg->marks++)
LEG_OPERATOR(mark_less, true, leg->marks--)
LEG_OPERATOR(round_farther, true, leg->dwell += 0.001)
LEG_OPERATOR(round_once_more, true, leg->dwell += 360)
LEG_OPERATOR(round_once_less, leg->dwell > 0, leg->dwell -= 360)
LEG_OPERATOR(not_round, leg->dwell > 0, leg->dwell = 0)
LEG_OPERATOR(round_back, leg->dwell > 0, leg->dwell = -leg->dwell)
LEG_OPERATOR(other_side, leg->side != 0, leg->side = -leg->side)
LEG_OPERATOR(no_side, leg->side != 0, leg->side = 0)
LEG_OPERATOR(some_side, leg->side == 0, leg->side = 1)
LEG_OPERATOR(next_neighbour, true, leg->neighbour++)
LEG_OPERATOR(no_neighbour, leg->neighbour != NO_PASS, leg->neighbour = NO_PASS)

static bool longer_thread(Mutant *mutant, uint32_t at)
{
    mutant->actions[at].length *= 1 + 1e-7;
    return is_leg(mutant, at);
}

/* The strand one farther in: of the same start, but not the one that it touches. */
static bool neighbour_before(Mutant *mutant, uint32_t at)
{
    LegAction *leg = leg_at(mutant, at);
    if (!is_leg(mutant, at) || leg->neighbour == NO_PASS || leg->neighbour < crosswrap_of(mutant, at)->starts)
        return false;
    leg->neighbour -= crosswrap_of(mutant, at)->starts;
    return true;
}

static const char either[] = "either may come first, both before the first pass";
static const char quiet[] = "the other step leaves the threads as they are";

static const Expected expected[] = {
    {drop, READY | K(SYMMETRY) | K(SEAL), ANY, V(OUT_OF_ORDER), NULL},
    {drop, K(TIE_ON), ANY, V(STRAND_LOST), NULL},
    {drop, K(LEG), K(SYMMETRY), V(OUT_OF_ORDER), NULL},
    {drop, K(LEG), ANY, V(PASSES_DIFFER), NULL},
    {drop, K(TIE_OFF), ANY, V(STRAND_LOST) | V(THREAD_LEFT), NULL},
    {drop, K(UNWIND) | K(TAKE_ENDS), ANY, V(THREAD_LEFT), NULL},

    {drop_of_band, K(START), ANY, V(STRAND_LOST), NULL},
    {drop_of_band, K(LAY_LOOP), ANY, V(LOOP_TOO_SHORT) | V(STRAND_LOST), NULL},
    {drop_of_band, K(WIND), ANY,
     V(TRIMMED_UNBOUND) | V(LOOP_TOO_SHORT) | V(TURNS_DIFFER) | V(OUT_OF_ORDER) | V(PACK_FIRST), NULL},
    {drop_of_band, K(TAPE_DOWN), ANY, V(STRAND_LOST) | V(HANDS_FULL), NULL},
    {drop_of_band, K(UNTAPE), ANY, V(TAPE_LEFT), NULL},
    {drop_of_band, K(PULL_THROUGH), ANY, V(STRAND_LOST), NULL},
    {drop_of_band, K(TRIM_TAG) | K(TRIM_END), ANY, V(THREAD_LEFT), NULL},

    {duplicate, OF_LAYER, ANY, V(OUT_OF_ORDER), NULL},
    {duplicate, K(LEG), ANY, V(PASSES_DIFFER), NULL},
    {duplicate, OF_PIECE, ANY, V(STRAND_LOST), NULL},

    {swap, READY, READY, V(LAWFUL), either},
    {swap, QUIET, ANY, V(LAWFUL), quiet},
    {swap, ANY, QUIET, V(LAWFUL), quiet},
    {swap, READY, K(TIE_ON), V(OUT_OF_ORDER), NULL},
    {swap, K(TIE_ON), K(LEG), V(STRAND_LOST), NULL},
    {swap, K(LEG), K(LEG) | K(TIE_OFF), V(PASSES_DIFFER), NULL},
    {swap, K(LEG), K(SYMMETRY), V(OUT_OF_ORDER), NULL},
    {swap, K(SYMMETRY), K(LEG), V(OUT_OF_ORDER), NULL},
    {swap, K(SYMMETRY), K(TIE_ON) | K(TIE_OFF), V(LAWFUL), "no leg is laid between the two"},
    {swap, K(TIE_OFF), K(SYMMETRY), V(LAWFUL), "no leg is laid between the two"},
    {swap, K(TIE_OFF), K(TIE_ON), V(STRAND_LOST), NULL},
    {swap, K(UNWIND), K(UNWIND), V(LAWFUL), "both are spacers, taken off one after the other"},
    {swap, K(UNWIND), K(START), V(THREAD_LEFT), NULL},
    {swap, K(SEAL), K(TAKE_ENDS), V(OUT_OF_ORDER), NULL},
    {swap, K(SEAL), K(SET_OUT), V(LAWFUL), "the layer that is sealed has no crosswrap"},
    {swap, ANY, K(SEAL) | K(SET_OUT), V(THREAD_LEFT), NULL},

    {other_piece, K(TIE_ON), ANY, V(STRAND_LOST) | V(PASSES_DIFFER) | V(OUT_OF_ORDER), NULL},
    {other_piece, OF_PIECE, ANY, V(STRAND_LOST), NULL},
    {no_piece, ANY, ANY, V(STRAND_LOST), NULL},
    {some_piece, ANY, ANY, V(STRAND_LOST), NULL},
    {more_pieces, ANY, ANY, V(STRAND_LOST), NULL},
    {other_place, ANY, ANY, V(STRAND_LOST) | V(OUT_OF_ORDER) | V(TURNS_DIFFER), NULL},
    {other_layer, ANY, ANY, V(STRAND_LOST) | V(OUT_OF_ORDER) | V(TURNS_DIFFER), NULL},

    {next_pass, ANY, ANY, V(PASSES_DIFFER), NULL},
    {pass_before, ANY, ANY, V(PASSES_DIFFER), NULL},
    {other_leg, ANY, ANY, V(PASSES_DIFFER), NULL},
    {other_way, ANY, ANY, V(MARKS_MISSED), NULL},
    {short_of_the_end, ANY, ANY, V(MARKS_MISSED), NULL},
    {begins_on, ANY, ANY, V(MARKS_MISSED), NULL},
    {ends_before, ANY, ANY, V(MARKS_MISSED), NULL},
    {begins_opposite, ANY, ANY, V(MARKS_MISSED), NULL},
    {clocks_exchanged, ANY, ANY, V(MARKS_MISSED), NULL},
    {turn_more, ANY, ANY, V(TURNS_DIFFER), NULL},
    {turn_less, ANY, ANY, V(TURNS_DIFFER), NULL},
    {other_sense, ANY, ANY, V(TURNS_DIFFER), NULL},
    {mark_more, ANY, ANY, V(MARKS_MISSED), NULL},
    {mark_less, ANY, ANY, V(MARKS_MISSED), NULL},
    {round_farther, ANY, ANY, V(WAY_ROUND), NULL},
    {round_once_more, ANY, ANY, V(WAY_ROUND), NULL},
    {round_once_less, ANY, ANY, V(WAY_ROUND), NULL},
    {not_round, ANY, ANY, V(WAY_ROUND), NULL},
    {round_back, ANY, ANY, V(WAY_ROUND), NULL},
    {other_side, ANY, ANY, V(NOT_BESIDE), NULL},
    {no_side, ANY, ANY, V(NOT_BESIDE), NULL},
    {some_side, ANY, ANY, V(NOT_BESIDE), NULL},
    {next_neighbour, ANY, ANY, V(NOT_BESIDE), NULL},
    {neighbour_before, ANY, ANY, V(NOT_BESIDE), NULL},
    {no_neighbour, ANY, ANY, V(NOT_BESIDE), NULL},
    {longer_thread, ANY, ANY, V(LENGTH_DIFFERS), NULL},
};

static const Spoiler operators[] = {
    {drop, "left out"},
    {drop_of_band, "left out of an end band"},
    {duplicate, "done twice"},
    {swap, "after the next one"},
    {other_piece, "another piece"},
    {no_piece, "no piece"},
    {some_piece, "a piece where none belongs"},
    {more_pieces, "a strand more"},
    {other_place, "another place"},
    {other_layer, "another layer"},
    {next_pass, "the next pass"},
    {pass_before, "the pass before"},
    {other_leg, "the other leg"},
    {other_way, "the other way along the blank"},
    {short_of_the_end, "short of the end"},
    {begins_on, "begins a little on"},
    {ends_before, "ends a little before"},
    {begins_opposite, "begins opposite"},
    {clocks_exchanged, "clocks exchanged"},
    {turn_more, "a turn more"},
    {turn_less, "a turn less"},
    {other_sense, "the other sense"},
    {mark_more, "a crossing more"},
    {mark_less, "a crossing less"},
    {round_farther, "round a little farther"},
    {round_once_more, "round once more"},
    {round_once_less, "round once less"},
    {not_round, "not round"},
    {round_back, "round backward"},
    {other_side, "on the other side"},
    {no_side, "on no side"},
    {some_side, "on a side"},
    {next_neighbour, "against the next one"},
    {neighbour_before, "against the one before"},
    {no_neighbour, "against none"},
    {longer_thread, "longer thread"},
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
