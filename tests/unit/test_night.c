/* Where one may stop for the night, of lists of actions written by hand: from which turn of a winding on, and of
 * each step the nearest stops. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"

#include "bench/night.h"
#include "bench/replay.h"

#include <stdio.h>

static const Bench bench = {.bind = 6, .loop = 4, .final = 8, .holders = 2, .brake = true};
static Trap trap;
static Arena arena;

static Sheet *worked(const char *rod, const char *actions)
{
    Sheet *sheet = new_sheet(rod, actions);
    Replay replay = replay_of(&sheet->made, &bench);
    if (replay.verdict != REPLAY_LAWFUL)
        fail_msg("action %u: %s", (unsigned)replay.action, verdict_words(replay.verdict));
    return sheet;
}

/* --- from which turn on --- */

static void expect_from(const char *rod, const char *actions, uint32_t action, bool may_stop, uint32_t from)
{
    Sheet *sheet = worked(rod, actions);
    const ActionState *state = &sheet->actions[action].state;
    assert_int_equal(sheet->actions[action].kind, ACTION_WIND);
    assert_int_equal(state->may_stop, may_stop);
    assert_int_equal(state->stop_from, from);
    free(sheet);
}

#define AN_END "; loop 0 final; wind 8 of 0; pull 0 final; trim 0"

static void a_tag_is_bound(void **unused)
{
    (void)unused;
    expect_from("s | 0x20", "start 0; wind 12 of 0; tag 0" AN_END, 1, true, 6);
    expect_from("s | 0x20", "start 0; wind 5 of 0; wind 7 of 0; tag 0" AN_END, 1, false, 0);
    expect_from("s | 0x20", "start 0; wind 5 of 0; wind 7 of 0; tag 0" AN_END, 2, true, 1);
    expect_from("s | 0x20", "start 0; wind 6 of 0; wind 6 of 0; tag 0" AN_END, 2, true, 0);
}

/* Over a loop as many as the smaller of `bind` and `loop`. */
static void a_loop_is_bound(void **unused)
{
    (void)unused;
    expect_from("s | 0x20", "start 0; wind 12 of 0; tag 0" AN_END, 4, true, 4);
}

/* The tag of a piece that was laid in is held by turns of its own as well, where no tape holds it. */
static void a_tag_laid_in_wants_turns_of_its_own(void **unused)
{
    (void)unused;
    static const char taped[] = "start 0; wind 6 of 0; tag 0; lay in 1; tape tag 1; cut 0; wind 6 of 0 by hand; "
                                "tape line 0 clear 30; stand 0; take up 1; wind 10 of 1; untape tag 1; tag 1; "
                                "stand 1; take up 0; untape line 0; wind 1 of 0 by hand; lay end 0; take up 1; "
                                "wind 6 of 1; trim 0; loop 1 final; wind 8 of 1; pull 1 final; trim 1",
                      loose[] = "start 0; wind 6 of 0; tag 0; lay in 1; tape tag 1; cut 0; wind 6 of 0 by hand; "
                                "tape line 0 clear 30; stand 0; take up 1; untape tag 1; wind 10 of 1; tag 1; "
                                "stand 1; take up 0; untape line 0; wind 1 of 0 by hand; lay end 0; take up 1; "
                                "wind 6 of 1; trim 0; loop 1 final; wind 8 of 1; pull 1 final; trim 1";
    expect_from("s s | 0x12 1x10 0x1 1x14", taped, 10, true, 0);
    expect_from("s s | 0x12 1x10 0x1 1x14", loose, 11, true, 3);
}

/* --- the nearest stops --- */

typedef struct Expected {
    NightStop before, after;
    uint32_t within_count;
    StopTurns within[3];
} Expected;

static void expect_stop(uint32_t step, const char *which, const NightStop *got, const NightStop *want)
{
    if (got->there != want->there
        || (want->there
            && (got->done != want->done || got->of_next != want->of_next || got->steps != want->steps
                || got->made != want->made || got->turns != want->turns)))
        fail_msg("step %u, %s: there %d, done %u and %u, steps %u and %u, turns %u", (unsigned)step, which,
                 got->there, (unsigned)got->done, (unsigned)got->of_next, (unsigned)got->steps,
                 (unsigned)got->made, (unsigned)got->turns);
}

/* Steps of so many actions each. */
static void expect(const char *rod, const char *actions, uint32_t count, const uint32_t *sizes,
                   const Expected *expected)
{
    Sheet *sheet = worked(rod, actions);
    Step steps[8] = {{.first = 0}};
    for (uint32_t i = 0; i < count; i++)
        steps[i] = (Step){.first = i ? steps[i - 1].first + sizes[i - 1] : 0, .count = sizes[i]};
    assert_int_equal(steps[count - 1].first + sizes[count - 1], sheet->made.action_count);
    sheet->made.steps = steps;
    sheet->made.step_count = count;
    const StepNight *nights = night_of_steps(&arena, &sheet->made);
    for (uint32_t i = 0; i < count; i++) {
        expect_stop(i, "before", &nights[i].before, &expected[i].before);
        expect_stop(i, "after", &nights[i].after, &expected[i].after);
        assert_int_equal(nights[i].within_count, expected[i].within_count);
        for (uint32_t w = 0; w < nights[i].within_count; w++) {
            assert_int_equal(nights[i].within[w].from, expected[i].within[w].from);
            assert_int_equal(nights[i].within[w].to, expected[i].within[w].to);
        }
    }
    free(sheet);
}

/* A band with an inlay of a cut piece. */
static const char inlay_rod[] = "s c | 0x19 1x2 0x19";
static const char inlay[] = "start 0; wind 6 of 0; tag 0; "
                            "wind 7 of 0; lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; pack; "
                            "stand 0; take up 1; untape line 1; wind 2 of 1 by hand; "
                            "lay end 1; tape end 1 clear 6; untape tag 1; tag 1; take up 0; wind 6 of 0; "
                            "untape end 1; trim 1; wind 5 of 0" AN_END;

static void an_inlay(void **unused)
{
    (void)unused;
    static const uint32_t sizes[] = {3, 6, 4, 8, 5};
    static const Expected expected[] = {
        {{true, 0, 0, 0, 0, 0}, {true, 3, 0, 1, 0, 6}, 2, {{0, 0}, {6, 6}}},
        {{true, 3, 0, 1, 0, 0}, {true, 3, 1, 1, 1, 1}, 2, {{0, 7}, {13, 13}}},
        /* Stand and take up bring nothing on; then it goes on by hand. */
        {{true, 9, 0, 2, 0, 0}, {true, 21, 0, 4, 0, 8}, 1, {{0, 0}}},
        /* Two turns by hand are unwound. */
        {{true, 9, 0, 2, 0, 2}, {true, 21, 0, 4, 0, 6}, 1, {{6, 6}}},
        {{true, 21, 0, 4, 0, 0}, {true, 21, 1, 4, 1, 1}, 2, {{0, 5}, {9, 13}}},
    };
    expect(inlay_rod, inlay, 5, sizes, expected);
}

/* What was trimmed stays trimmed: one goes back to that, and not to the turn before it. */
static void what_stays_done(void **unused)
{
    (void)unused;
    static const uint32_t sizes[] = {6, 19};
    static const Expected expected[] = {
        {{true, 0, 0, 0, 0, 0}, {true, 3, 0, 0, 6, 6}, 2, {{0, 0}, {6, 6}}},
        {{true, 3, 0, 0, 6, 0}, {true, 9, 0, 1, 6, 6}, 3, {{6, 6}, {14, 19}, {23, 27}}},
    };
    expect("s c | 0x12 1x2 0x19",
           "start 0; wind 6 of 0; tag 0; lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; stand 0; "
           "take up 1; untape line 1; wind 2 of 1 by hand; lay end 1; tape end 1 clear 6; untape tag 1; tag 1; "
           "take up 0; wind 6 of 0; untape end 1; trim 1; wind 5 of 0; loop 0 final; wind 8 of 0; pull 0 final; "
           "trim 0; pack",
           2, sizes, expected);
}

static int start(void **unused)
{
    (void)unused;
    arena_start(&arena, &trap);
    return 0;
}

static int end(void **unused)
{
    (void)unused;
    arena_end(&arena);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tag_is_bound),
        cmocka_unit_test(a_loop_is_bound),
        cmocka_unit_test(a_tag_laid_in_wants_turns_of_its_own),
        cmocka_unit_test(an_inlay),
        cmocka_unit_test(what_stays_done),
    };
    return cmocka_run_group_tests(tests, start, end);
}
