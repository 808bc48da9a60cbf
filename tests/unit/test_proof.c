/* What is said of a list of actions that is not lawful: its numbers, and the edit where the bench can be mended.
 */
#include "meant.h"

#include "bench/bench.h"
#include "in_memory.h"

/* What stands at the place of a finding of this verdict, about these numbers. */
static const char *label(Arena *arena, Verdict verdict, double needed, double got)
{
    Findings findings;
    findings_start(&findings, arena);
    Rod rod = {.span = {50, 60, 0}};
    Replay replay = {
        .verdict = verdict, .kind = ACTION_KIND_COUNT, .piece = NO_PIECE, .needed = needed, .got = got};
    bench_report(&(PlannedRod){.rod = &rod}, replay, &(Bench){0}, &findings);
    return findings.list.items[0].at.label;
}

/* Three digits behind the point tell apart all that is measured; of marks 0 is a place like any other. */
static void test_numbers(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    assert_string_equal(label(arena, REPLAY_LENGTH_DIFFERS, 100.00049, 99.12351),
                        "it should be 100 and is 99.124");
    assert_string_equal(label(arena, REPLAY_LENGTH_DIFFERS, 100.0005001, 99.1234),
                        "it should be 100.001 and is 99.123");
    assert_string_equal(label(arena, REPLAY_MARKS_MISSED, 0, 216.12345), "it should be 0 deg and is 216.123 deg");
    assert_string_equal(label(arena, REPLAY_MARKS_MISSED, 0.5, 0), "it should be 0.5 deg and is 0 deg");
    assert_string_equal(label(arena, REPLAY_MARKS_MISSED, 0, 0.5), "it should be 0 deg and is 0.5 deg");
    assert_string_equal(label(arena, REPLAY_WAY_ROUND, 7, 0), "it should be 7 deg and is 0 deg");
    assert_string_equal(label(arena, REPLAY_PASSES_DIFFER, 1, 4), "it should be pass 1 and is pass 4");
    assert_string_equal(label(arena, REPLAY_TRIMMED_UNBOUND, 0.5, 0), "it should be 0.5 and is 0");
    assert_string_equal(label(arena, REPLAY_UNHELD, 0, 3), "");
    assert_string_equal(label(arena, REPLAY_MARKS_MISSED, 0, 0), "");
}

/* As many holders as threads feed at once: written over what is written, into the bench, or with a bench. */
static void test_holders_are_written(void **state)
{
    (void)state;
#define TOGETHER                                                                                                  \
    "thread foam { turns: 67 per cm }\n" THREADS_AND_BLANK                                                        \
    "rod \"R\" on tube { at 30 cm { band 20 turns of [navy, dark_blue, foam] } }\n"
#define THREADS_AND_BLANK                                                                                         \
    "thread navy { turns: 67 per cm }\nthread dark_blue { turns: 67 per cm }\n"                                   \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
    static const Slip slips[] = {
        {"bench { holders: 2 }\n", "bench { holders: 3 }\n"},
        {"bench { units: mm, holders: 1, coats: 3 }\n", "bench { units: mm, holders: 3, coats: 3 }\n"},
        {"bench { coats: 3 }\n", "bench { holders: 3, coats: 3 }\n"},
    };
    CHECK("edition 1\n@" TOGETHER, slips);
    char mended[LONGEST_TEXT];
    mend("edition 1\n" TOGETHER, mended);
    assert_string_equal(mended, "edition 1\nbench { holders: 3 }\n" TOGETHER);
    /* Where nothing stands before, not even an edition. */
    Compilation *made = compiled(TOGETHER);
    const Finding *last = &made->findings.list.items[made->findings.list.count - 1];
    assert_int_equal(last->code, FINDING_NOT_LAWFUL);
    assert_int_equal(last->edit.span.start, 0);
    assert_int_equal(last->edit.span.end, 0);
    assert_string_equal(last->edit.text, "bench { holders: 3 }\n");
    turnlay_free(made);
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {TEST(test_numbers), TEST(test_holders_are_written)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
