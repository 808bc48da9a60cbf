/* What the law of grammar/bench_protocol.md says of lists that the maker of actions never makes. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"

/* Bind 6, loop 4, final 8: common practice, no source. */
static const Bench pedal = {.bind = 6, .loop = 4, .final = 8, .holders = 2, .brake = true};
static const Bench no_brake = {.bind = 6, .loop = 4, .final = 8, .holders = 2};

typedef struct Case {
    const char *name, *rod, *actions;
    Verdict verdict;
    uint32_t action; /* unlawful: where */
    double got;
} Case;

static void judge(const Case *test, const Bench *bench)
{
    Sheet *sheet = new_sheet(test->rod, test->actions);
    Replay replay = replay_of(&sheet->made, bench);
    uint32_t action = test->verdict == REPLAY_LAWFUL ? sheet->made.action_count : test->action;
    if (replay.verdict != test->verdict || replay.action != action || replay.got != test->got)
        fail_msg("%s: step %u, got %g: %s", test->name, (unsigned)replay.action, replay.got,
                 verdict_words(replay.verdict));
    free(sheet);
}

/* A line that is cut from its spool under tape stays taped, and is no spool's any more: only the other pulls. */
static void test_cut_under_tape(void **state)
{
    (void)state;
#define CUT_UNDER_TAPE "start 0; wind 6 of 0; tape line 0; tag 0; cut 0; "
    static const Case cases[] = {
        {"the other spool pulls at the blank", "s s | 0x20 1x20",
         CUT_UNDER_TAPE "lay in 1; tape tag 1; untape line 0", REPLAY_HANDS_FULL, 7, 3},
        {"it is wrapped only off its tape", "s s | 0x20 1x20", CUT_UNDER_TAPE "wind 14 of 0 by hand",
         REPLAY_TAPE_LEFT, 5, 0},
        {"nothing pulls at the blank", "s | 0x20",
         CUT_UNDER_TAPE
         "untape line 0; wind 6 of 0 by hand; tape line 0; loop 0 final; tape loop 0; untape line 0; "
         "wind 8 of 0 by hand; tape line 0; untape loop 0; untape line 0; pull 0 final; trim 0",
         .verdict = REPLAY_LAWFUL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        judge(&cases[i], &no_brake);
}

/* The two hands that take a spacer off hold all of it: its tag, its end, and a loop that was laid for it by
 * mistake. */
static void test_a_spacer_is_held_whole(void **state)
{
    (void)state;
#define BESIDE "s p | 0+2x20"
#define TO_ITS_END                                                                                                              \
    "start 0; tape tag 0 clear 12; start 1; tape tag 1 clear 12; wind 12 of 0+2; untape tag 0+2; loop 0 final; wind 8 of 0+2; " \
    "pull 0 final; trim 0; tag 0; "
    static const Case cases[] = {
        {"its end", BESIDE, TO_ITS_END "lay end 1; spacer 1", .verdict = REPLAY_LAWFUL},
        {"its loop", BESIDE, TO_ITS_END "loop 1; spacer 1", REPLAY_THREAD_LEFT, 13, 0},
        {"its tag, over which few turns lie", "s p | 0x16 0+2x4",
         "start 0; wind 6 of 0; tag 0; wind 6 of 0; loop 0 final; wind 4 of 0; start 1; wind 4 of 0+2; tape tag 1; "
         "pull 0 final; trim 0; untape tag 1; spacer 1",
         .verdict = REPLAY_LAWFUL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        judge(&cases[i], &pedal);
}

/* A spacer that was cut, and that turns hold, is still to be unwound: nothing is finished before. */
static void test_a_spacer_is_work_left(void **state)
{
    (void)state;
    Sheet *sheet = new_sheet(
        "s p s | 0+2x20, 2x20",
        "start 0; tape tag 0 clear 20; start 1; tape tag 1 clear 20; wind 20 of 0+2; untape tag 0+2; tag 0; "
        "lay end 0; tape end 0 clear 12; lay end 1; tape end 1 clear 12; start 2; wind 12 of 2; untape end 0; "
        "untape end 1; trim 0; tag 2; loop 2 final; wind 8 of 2; pull 2 final; trim 2; spacer 1");
    assert_int_equal(replay_of(&sheet->made, &pedal).verdict, REPLAY_LAWFUL);
    const Action *last = &sheet->actions[sheet->made.action_count - 1];
    assert_int_equal(last[-1].state.to_stop, STOP_HELD);
    assert_int_equal(last->state.to_stop, STOP_FINISHED);
    free(sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_cut_under_tape),
                                       cmocka_unit_test(test_a_spacer_is_held_whole),
                                       cmocka_unit_test(test_a_spacer_is_work_left)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
