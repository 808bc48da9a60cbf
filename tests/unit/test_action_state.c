/* What the replay leaves with each action: the state that the words of the sheet and "safe to stop" rest on. Steps
 * are written by hand, and what must hold after each of them beside it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"

#include "bench/replay.h"

#include <stdio.h>

/* Bind 6, loop 4, final 8, two holders: common practice, no source. */
static const Bench bench = {.bind = 6, .loop = 4, .final = 8, .holders = 2, .brake = true};

typedef struct Expected {
    const char *action;
    PieceState before;
    uint32_t covered, due, made, laid, own_tags, running, standing, laid_in;
    uint32_t hands, fingers;
    StopWay to_stop;
} Expected;

static Sheet *worked(const char *rod, const Expected *expected, size_t count)
{
    char actions[2000] = "";
    for (size_t i = 0; i < count; i++) {
        strcat(actions, i ? "; " : "");
        strcat(actions, expected[i].action);
    }
    Sheet *sheet = new_sheet(rod, actions);
    Replay replay = replay_of(&sheet->made, &bench);
    if (replay.verdict != REPLAY_LAWFUL)
        fail_msg("step %u: %s", (unsigned)replay.action, verdict_words(replay.verdict));
    assert_int_equal(sheet->made.action_count, count);
    return sheet;
}

static void expect(const char *rod, const Expected *expected, size_t count)
{
    Sheet *sheet = worked(rod, expected, count);
    for (size_t i = 0; i < count; i++) {
        const Expected *want = &expected[i];
        const ActionState *got = &sheet->actions[i].state;
        if (got->before != want->before || got->covered != want->covered || got->due != want->due
            || got->made != want->made || got->laid != want->laid || got->own_tags != want->own_tags
            || got->running != want->running || got->standing != want->standing || got->laid_in != want->laid_in
            || got->hands != want->hands || got->fingers != want->fingers || got->to_stop != want->to_stop
            || got->may_stop != (want->to_stop != STOP_NOT))
            fail_msg("step %zu, %s: before %d, covered %u, due %u, made %u, laid %u, own %u, running %u, standing "
                     "%u, laid in %u, hands %u, fingers %u, stop %d",
                     i, want->action, (int)got->before, (unsigned)got->covered, (unsigned)got->due,
                     (unsigned)got->made, (unsigned)got->laid, (unsigned)got->own_tags, (unsigned)got->running,
                     (unsigned)got->standing, (unsigned)got->laid_in, (unsigned)got->hands, (unsigned)got->fingers,
                     (int)got->to_stop);
    }
    free(sheet);
}

#define EXPECT(rod, expected) expect((rod), (expected), sizeof(expected) / sizeof *(expected))

/* clang-format off */
static void test_a_band_alone(void **state)
{
    (void)state;
    static const Expected actions[] = {
        /* action                      before           covered due made laid own running standing laid_in hands fingers stop */
        {"mark",                      PIECE_OFF,       0, 0, 0, 0, 0, 0, 0, 0, 2, 0, STOP_FINISHED},
        {"start 0",                   PIECE_OFF,       0, 0, 0, 0, 0, 1, 0, 0, 2, 1, STOP_NOT},
        {"wind 5 of 0",               PIECE_RUNNING,   0, 0, 5, 1, 1, 1, 0, 0, 1, 1, STOP_NOT},
        {"pack",                      PIECE_OFF,       0, 0, 5, 0, 0, 1, 0, 0, 1, 1, STOP_NOT},
        {"wind 1 of 0",               PIECE_RUNNING,   0, 0, 6, 0, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"pack",                      PIECE_OFF,       0, 0, 6, 0, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"tag 0",                     PIECE_RUNNING,   6, 0, 6, 0, 0, 1, 0, 0, 2, 0, STOP_TAPE},
        {"tape line 0 clear 0",       PIECE_RUNNING,   0, 0, 6, 0, 0, 1, 0, 0, 2, 0, STOP_HELD},
        {"untape line 0",             PIECE_RUNNING,   0, 0, 6, 0, 0, 1, 0, 0, 2, 0, STOP_TAPE},
        {"wind 6 of 0",               PIECE_RUNNING,   0, 0, 12, 0, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"loop 0 final",              PIECE_RUNNING,   0, 0, 12, 0, 0, 1, 0, 0, 2, 1, STOP_NOT},
        {"wind 3 of 0",               PIECE_RUNNING,   0, 0, 15, 1, 0, 1, 0, 0, 1, 1, STOP_NOT},
        {"wind 5 of 0",               PIECE_RUNNING,   0, 0, 20, 0, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"pull 0 final",              PIECE_RUNNING,   8, 1, 0, 0, 0, 0, 0, 0, 2, 0, STOP_HELD},
        {"trim 0",                    PIECE_ENDED,     0, 1, 0, 0, 0, 0, 0, 0, 2, 0, STOP_FINISHED},
        {"pack",                      PIECE_OFF,       0, 1, 0, 0, 0, 0, 0, 0, 1, 0, STOP_FINISHED},
    };
    EXPECT("s | 0x20", actions);
}

/* A cut piece in work is held by nothing but a hand; one that stands is taped. */
static void test_an_inlay(void **state)
{
    (void)state;
    static const Expected actions[] = {
        /* action                      before           covered due made laid own running standing laid_in hands fingers stop */
        {"start 0",                   PIECE_OFF,       0, 0, 0, 0, 0, 1, 0, 0, 2, 1, STOP_NOT},
        {"wind 6 of 0",               PIECE_RUNNING,   0, 0, 6, 1, 1, 1, 0, 0, 1, 0, STOP_TAPE},
        {"tag 0",                     PIECE_RUNNING,   6, 0, 6, 0, 0, 1, 0, 0, 2, 0, STOP_TAPE},
        {"wind 7 of 0",               PIECE_RUNNING,   0, 0, 13, 0, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"lay in 1",                  PIECE_OFF,       0, 0, 13, 0, 0, 1, 0, 1, 2, 1, STOP_NOT},
        {"tape tag 1",                PIECE_LAID_IN,   0, 0, 13, 1, 0, 1, 0, 1, 2, 1, STOP_NOT},
        {"tape line 1 clear 6",       PIECE_LAID_IN,   0, 0, 13, 1, 0, 1, 0, 1, 2, 0, STOP_NOT},
        {"wind 6 of 0",               PIECE_RUNNING,   0, 0, 19, 1, 0, 1, 0, 1, 1, 0, STOP_TAPE},
        {"pack",                      PIECE_OFF,       0, 1, 0, 0, 0, 1, 0, 1, 1, 0, STOP_TAPE},
        {"stand 0",                   PIECE_RUNNING,   0, 1, 0, 0, 0, 0, 1, 1, 1, 0, STOP_TAPE},
        {"take up 1",                 PIECE_LAID_IN,   6, 1, 0, 0, 0, 1, 1, 0, 1, 0, STOP_TAPE},
        {"untape line 1",             PIECE_RUNNING,   0, 1, 0, 0, 0, 1, 1, 0, 2, 1, STOP_NOT},
        {"wind 2 of 1 by hand",       PIECE_RUNNING,   0, 1, 2, 0, 0, 1, 1, 0, 2, 1, STOP_NOT},
        {"lay end 1",                 PIECE_RUNNING,   0, 2, 0, 0, 0, 0, 1, 0, 2, 1, STOP_NOT},
        {"tape end 1 clear 6",        PIECE_ENDED,     0, 2, 0, 1, 0, 0, 1, 0, 2, 0, STOP_NOT},
        {"untape tag 1",              PIECE_ENDED,     0, 2, 0, 1, 0, 0, 1, 0, 2, 0, STOP_NOT},
        {"tag 1",                     PIECE_ENDED,     8, 2, 0, 1, 0, 0, 1, 0, 2, 0, STOP_NOT},
        {"take up 0",                 PIECE_STANDING,  0, 2, 0, 1, 0, 1, 0, 0, 1, 0, STOP_NOT},
        {"wind 6 of 0",               PIECE_RUNNING,   0, 2, 6, 1, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"untape end 1",              PIECE_ENDED,     0, 2, 6, 0, 0, 1, 0, 0, 2, 0, STOP_TAPE},
        {"trim 1",                    PIECE_ENDED,     6, 2, 6, 0, 0, 1, 0, 0, 2, 0, STOP_TAPE},
        {"wind 5 of 0",               PIECE_RUNNING,   0, 2, 11, 0, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"loop 0 final",              PIECE_RUNNING,   0, 2, 11, 0, 0, 1, 0, 0, 2, 1, STOP_NOT},
        {"wind 8 of 0",               PIECE_RUNNING,   0, 2, 19, 1, 0, 1, 0, 0, 1, 0, STOP_TAPE},
        {"pull 0 final",              PIECE_RUNNING,   8, 3, 0, 0, 0, 0, 0, 0, 2, 0, STOP_HELD},
        {"trim 0",                    PIECE_ENDED,     0, 3, 0, 0, 0, 0, 0, 0, 2, 0, STOP_FINISHED},
    };
    EXPECT("s c | 0x19 1x2 0x19", actions);
}
/* clang-format on */

/* Where each piece is after every action of that inlay. */
static void test_states_after(void **state)
{
    (void)state;
    static const struct {
        const char *action;
        PieceState spool, cut;
    } actions[] = {
        {"start 0", PIECE_RUNNING, PIECE_OFF},
        {"wind 6 of 0", PIECE_RUNNING, PIECE_OFF},
        {"tag 0", PIECE_RUNNING, PIECE_OFF},
        {"wind 7 of 0", PIECE_RUNNING, PIECE_OFF},
        {"lay in 1", PIECE_RUNNING, PIECE_LAID_IN},
        {"tape tag 1", PIECE_RUNNING, PIECE_LAID_IN},
        {"tape line 1 clear 6", PIECE_RUNNING, PIECE_LAID_IN},
        {"wind 6 of 0", PIECE_RUNNING, PIECE_LAID_IN},
        {"stand 0", PIECE_STANDING, PIECE_LAID_IN},
        {"take up 1", PIECE_STANDING, PIECE_RUNNING},
        {"untape line 1", PIECE_STANDING, PIECE_RUNNING},
        {"wind 2 of 1 by hand", PIECE_STANDING, PIECE_RUNNING},
        {"lay end 1", PIECE_STANDING, PIECE_ENDED},
        {"take up 0", PIECE_RUNNING, PIECE_ENDED},
    };
    enum { STEPS = sizeof actions / sizeof *actions };
    char text[1000] = "";
    for (size_t i = 0; i < STEPS; i++) {
        strcat(text, i ? "; " : "");
        strcat(text, actions[i].action);
    }
    Sheet *sheet = new_sheet("s c | 0x19 1x2 0x19", text);
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    const PieceState *at_first = states_after(&arena, &sheet->made, &bench, 0);
    assert_int_equal(at_first[0], PIECE_OFF);
    assert_int_equal(at_first[1], PIECE_OFF);
    for (uint32_t i = 0; i < STEPS; i++) {
        const PieceState *states = states_after(&arena, &sheet->made, &bench, i + 1);
        if (states[0] != actions[i].spool || states[1] != actions[i].cut)
            fail_msg("after %s: spool %d, cut piece %d", actions[i].action, (int)states[0], (int)states[1]);
    }
    arena_end(&arena);
    free(sheet);
}

/* What holds what after each action: "0 line by its spool", one after the other. */
static void put_holders(const ActionState *state, char *text)
{
    static const char *const things[] = {
#define X(name, word) word,
        HELD_THING_TABLE(X)
#undef X
    };
    static const char *const holders[] = {
#define X(name, words) words,
        HOLDER_TABLE(X)
#undef X
    };
    *text = 0;
    for (uint32_t i = 0; i < state->held_count; i++) {
        const Held *held = &state->held[i];
        assert_int_equal(held->piece_count, 1);
        sprintf(text + strlen(text), "%s%u %s by %s", i ? ", " : "", (unsigned)held->piece, things[held->thing],
                holders[held->by]);
    }
}

static void expect_holders(const Bench *with, const char *rod, const char *const (*expected)[2], size_t count)
{
    char actions[2000] = "";
    for (size_t i = 0; i < count; i++)
        strcat(strcat(actions, i ? "; " : ""), expected[i][0]);
    Sheet *sheet = new_sheet(rod, actions);
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    if (setjmp(*trap_set(&trap)) != 0)
        fail_msg("the machine has no memory left");
    Hands hands;
    hands_start(&hands, &arena, &sheet->rod, with);
    hands.keeps = &arena;
    for (size_t i = 0; i < count; i++) {
        char text[500];
        replay_action(&hands, &sheet->actions[i]);
        if (hands.found.verdict)
            fail_msg("%s: %s", expected[i][0], verdict_words(hands.found.verdict));
        put_holders(&sheet->actions[i].state, text);
        if (strcmp(text, expected[i][1]) != 0)
            fail_msg("%s: %s", expected[i][0], text);
    }
    arena_end(&arena);
    free(sheet);
}

#define EXPECT_HOLDERS(bench, rod, rows) expect_holders((bench), (rod), (rows), sizeof(rows) / sizeof *(rows))

static void test_what_holds_what(void **state)
{
    (void)state;
    static const char *const inlay[][2] = {
        {"start 0", "0 tag by a finger, 0 line by its spool"},
        {"wind 6 of 0", "0 tag by turns, 0 line by its spool"},
        {"tag 0", "0 line by its spool"},
        {"wind 7 of 0", "0 line by its spool"},
        {"lay in 1", "0 line by its spool, 1 tag by a finger, 1 line by a finger"},
        {"tape tag 1", "0 line by its spool, 1 tag by tape, 1 line by a finger"},
        {"tape line 1 clear 6", "0 line by its spool, 1 tag by tape, 1 line by tape"},
        {"wind 6 of 0", "0 line by its spool, 1 tag by tape, 1 line by tape"},
        {"stand 0", "0 line by its spool, 1 tag by tape, 1 line by tape"},
        {"take up 1", "0 line by its spool, 1 tag by tape, 1 line by tape"},
        {"untape line 1", "0 line by its spool, 1 tag by tape, 1 line by a finger"},
        {"wind 2 of 1 by hand", "0 line by its spool, 1 tag by tape, 1 line by a finger"},
        {"lay end 1", "0 line by its spool, 1 tag by tape, 1 end by a finger"},
        {"tape end 1 clear 6", "0 line by its spool, 1 tag by tape, 1 end by tape"},
        {"untape tag 1", "0 line by its spool, 1 tag by turns, 1 end by tape"},
        {"tag 1", "0 line by its spool, 1 end by tape"},
        {"take up 0", "0 line by its spool, 1 end by tape"},
        {"wind 6 of 0", "0 line by its spool, 1 end by tape"},
        {"untape end 1", "0 line by its spool, 1 end by turns"},
        {"trim 1", "0 line by its spool"},
        {"wind 5 of 0", "0 line by its spool"},
        {"loop 0 final", "0 line by its spool, 0 loop by a finger"},
        {"wind 3 of 0", "0 line by its spool, 0 loop by a finger"},
        {"wind 5 of 0", "0 line by its spool, 0 loop by turns"},
        {"pull 0 final", "0 end by turns"},
        {"trim 0", ""},
    };
    EXPECT_HOLDERS(&bench, "s c | 0x19 1x2 0x19", inlay);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_band_alone),
        cmocka_unit_test(test_an_inlay),
        cmocka_unit_test(test_states_after),
        cmocka_unit_test(test_what_holds_what),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
