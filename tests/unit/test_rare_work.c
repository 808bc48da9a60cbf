/* What the law of grammar/bench_protocol.md says of lists that the maker of actions never makes. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"

/* Bind 6, loop 4, final 8: common practice, no source. */
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

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_cut_under_tape)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
