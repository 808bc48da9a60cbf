/* What the replay leaves with each action: the state that the words of the sheet and "safe to stop" rest on. Steps
 * are written by hand, and what must hold after each of them beside it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"

/* Bind 6, loop 4, final 8, two holders: common practice, no source. */
static const Bench bench = {.bind = 6, .loop = 4, .final = 8, .holders = 2};

typedef struct Expected {
    const char *action;
    PieceState before;
    uint32_t covered, due, made, laid, own_tags, running, standing, laid_in;
    bool may_stop;
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
            || got->may_stop != want->may_stop)
            fail_msg("step %zu, %s: before %d, covered %u, due %u, made %u, laid %u, own %u, running %u, standing "
                     "%u, laid in %u, %s",
                     i, want->action, (int)got->before, (unsigned)got->covered, (unsigned)got->due,
                     (unsigned)got->made, (unsigned)got->laid, (unsigned)got->own_tags, (unsigned)got->running,
                     (unsigned)got->standing, (unsigned)got->laid_in, got->may_stop ? "may stop" : "may not stop");
    }
    free(sheet);
}

#define EXPECT(rod, expected) expect((rod), (expected), sizeof(expected) / sizeof *(expected))

/* clang-format off */
static void test_a_band_alone(void **state)
{
    (void)state;
    static const Expected actions[] = {
        /* action                  before         covered due made laid own running standing laid_in stop */
        {"mark",                 PIECE_OFF,      0,     0,  0,   0,   0,  0,      0,       0,      true},
        {"start 0",              PIECE_OFF,      0,     0,  0,   0,   0,  1,      0,       0,      false},
        {"wind 5 of 0",          PIECE_RUNNING,  0,     0,  5,   1,   1,  1,      0,       0,      false},
        {"pack",                 PIECE_OFF,      0,     0,  5,   0,   0,  1,      0,       0,      false},
        {"wind 1 of 0",          PIECE_RUNNING,  0,     0,  6,   0,   0,  1,      0,       0,      false},
        {"pack",                 PIECE_OFF,      0,     0,  6,   0,   0,  1,      0,       0,      true},
        {"tag 0",                PIECE_RUNNING,  6,     0,  6,   0,   0,  1,      0,       0,      true},
        {"wind 6 of 0",          PIECE_RUNNING,  0,     0,  12,  0,   0,  1,      0,       0,      false},
        {"loop 0 final",         PIECE_RUNNING,  0,     0,  12,  0,   0,  1,      0,       0,      false},
        {"wind 8 of 0",          PIECE_RUNNING,  0,     0,  20,  1,   0,  1,      0,       0,      false},
        {"pull 0 final",         PIECE_RUNNING,  8,     1,  0,   0,   0,  0,      0,       0,      false},
        {"trim 0",               PIECE_ENDED,    0,     1,  0,   0,   0,  0,      0,       0,      true},
        {"pack",                 PIECE_OFF,      0,     1,  0,   0,   0,  0,      0,       0,      true},
    };
    EXPECT("s | 0x20", actions);
}

/* A cut piece in work is held by nothing but a hand; one that stands is taped. */
static void test_an_inlay(void **state)
{
    (void)state;
    static const Expected actions[] = {
        /* action                  before           covered due made laid own running standing laid_in stop */
        {"start 0",              PIECE_OFF,        0,     0,  0,   0,   0,  1,      0,       0,      false},
        {"wind 6 of 0",          PIECE_RUNNING,    0,     0,  6,   1,   1,  1,      0,       0,      false},
        {"tag 0",                PIECE_RUNNING,    6,     0,  6,   0,   0,  1,      0,       0,      true},
        {"wind 7 of 0",          PIECE_RUNNING,    0,     0,  13,  0,   0,  1,      0,       0,      false},
        {"lay in 1",             PIECE_OFF,        0,     0,  13,  0,   0,  1,      0,       1,      false},
        {"wind 6 of 0",          PIECE_RUNNING,    0,     0,  19,  1,   0,  1,      0,       1,      false},
        {"pack",                 PIECE_OFF,        0,     1,  0,   0,   0,  1,      0,       1,      true},
        {"stand 0",              PIECE_RUNNING,    0,     1,  0,   0,   0,  0,      1,       1,      false},
        {"take up 1",            PIECE_LAID_IN,    6,     1,  0,   0,   0,  1,      1,       0,      false},
        {"wind 2 of 1 by hand",  PIECE_RUNNING,    0,     1,  2,   0,   0,  1,      1,       0,      false},
        {"pack",                 PIECE_OFF,        0,     2,  0,   0,   0,  1,      1,       0,      false},
        {"lay end 1",            PIECE_RUNNING,    0,     2,  0,   0,   0,  0,      1,       0,      false},
        {"tag 1",                PIECE_ENDED,      8,     2,  0,   1,   0,  0,      1,       0,      false},
        {"take up 0",            PIECE_STANDING,  0,     2,  0,   1,   0,  1,      0,       0,      false},
        {"wind 6 of 0",          PIECE_RUNNING,    0,     2,  6,   1,   0,  1,      0,       0,      false},
        {"trim 1",               PIECE_ENDED,      6,     2,  6,   0,   0,  1,      0,       0,      true},
        {"wind 5 of 0",          PIECE_RUNNING,    0,     2,  11,  0,   0,  1,      0,       0,      false},
        {"loop 0 final",         PIECE_RUNNING,    0,     2,  11,  0,   0,  1,      0,       0,      false},
        {"wind 8 of 0",          PIECE_RUNNING,    0,     2,  19,  1,   0,  1,      0,       0,      false},
        {"pull 0 final",         PIECE_RUNNING,    8,     3,  0,   0,   0,  0,      0,       0,      false},
        {"trim 0",               PIECE_ENDED,      0,     3,  0,   0,   0,  0,      0,       0,      true},
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
        {"wind 6 of 0", PIECE_RUNNING, PIECE_LAID_IN},
        {"stand 0", PIECE_STANDING, PIECE_LAID_IN},
        {"take up 1", PIECE_STANDING, PIECE_RUNNING},
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_band_alone),
        cmocka_unit_test(test_an_inlay),
        cmocka_unit_test(test_states_after),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
