/* Counts of a thread's turns: what several of them give, and what becomes of them in a file. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "near.h"
#include "trade/trade.h"

#include <stdio.h>
#include <string.h>

/* One count: as far off as the length is. */
static void test_one_count(void **state)
{
    (void)state;
    CountedPitch counted = counted_pitch(&(Count){67, 10}, 1, 0.1);
    assert_near(counted.pitch, 10.0 / 67, 1e-15);
    assert_near(counted.uncertainty, 0.1 / 67, 1e-15);
}

/* 3 turns are 4 mm and 4 turns are 3 mm: least squares has (12 + 12) / (9 + 16) = 0.96; misfits are 1.12 and
 * -0.84, their squares sum up to 1.96, with one of two counts to spare. */
static void test_two_counts_by_hand(void **state)
{
    (void)state;
    const Count counts[] = {{3, 4}, {4, 3}};
    CountedPitch sure = counted_pitch(counts, 2, 2), scattered = counted_pitch(counts, 2, 0.1);
    assert_near(sure.pitch, 0.96, 1e-15);
    assert_near(scattered.pitch, 0.96, 1e-15);
    assert_near(sure.uncertainty, 2 / 5.0, 1e-15);
    assert_near(scattered.uncertainty, 1.4 / 5, 1e-12);
}

/* The same count again and again: by the square root of their number surer. */
static void test_counts_that_agree(void **state)
{
    (void)state;
    const Count counts[] = {{67, 10}, {67, 10}, {67, 10}, {67, 10}};
    CountedPitch counted = counted_pitch(counts, 4, 0.1);
    assert_near(counted.pitch, 10.0 / 67, 1e-15);
    assert_near(counted.uncertainty, 0.1 / 67 / 2, 1e-15);
}

/* A file with a thread of these turns. */
static Compilation *counted(const char *turns)
{
    char text[500];
    snprintf(text, sizeof text,
             "edition 1\nthread navy { %s }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
             "rod \"A\" on tube { at 20 cm { band 40 turns of navy } }\n",
             turns);
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "tried.lay", text, strlen(text)), TURNLAY_DONE);
    assert_null(turnlay_want(made).path);
    turnlay_finish(made);
    return made;
}

typedef struct Told {
    const char *turns;
    double pitch, uncertainty; /* mm, and its share */
} Told;

static void test_lists_in_a_file(void **state)
{
    (void)state;
    static const Told told[] = {
        {"turns: 67 per cm", 10.0 / 67, 0.01},
        {"turns: [67 per cm]", 10.0 / 67, 0.01},
        /* they agree: 0.1 mm / sqrt(67^2 + 134^2) of a turn */
        {"turns: [67 per cm, 134 per 2 cm]", 10.0 / 67, 0.1 / 10 / 2.23606797749979},
        {"turns: [67 per cm, 67 per cm]", 10.0 / 67, 0.01 / 1.4142135623730951},
        /* they scatter: 66 and 68 turns are 10 mm, pitch 10 * 134 / (66^2 + 68^2) = 1340 / 8980; misfits
         * 0.1514477 and -0.1469933 mm, root of the sum of squares 0.2110531, by sqrt(8980) */
        {"turns: [66 per cm, 68 per cm]", 1340.0 / 8980, 0.211053145 / 94.76286192 / (1340.0 / 8980)},
        {"turns: [66 per cm, 68 per cm] uncertainty: 3 %", 1340.0 / 8980, 0.03},
    };
    for (unsigned i = 0; i < sizeof told / sizeof *told; i++) {
        Compilation *made = counted(told[i].turns);
        assert_int_equal(made->findings.errors, 0);
        const Thread *navy = made->job->threads[0];
        assert_int_equal(navy->width_source, WIDTH_COUNTED);
        assert_near(navy->pitch, told[i].pitch, 1e-12);
        assert_near(navy->uncertainty, told[i].uncertainty, 1e-6);
        turnlay_free(made);
    }
}

/* Over what lengths a list was counted that has a name is not known: as if each were a centimetre. */
static void test_a_list_with_a_name(void **state)
{
    (void)state;
    Compilation *made = counted("turns: mine }\nlet mine = [67 per cm, 134 per 2 cm]\nthread mist { turns: mine");
    assert_int_equal(made->findings.errors, 0);
    for (uint32_t i = 0; i < 2; i++) {
        assert_near(made->job->threads[i]->pitch, 10.0 / 67, 1e-12);
        assert_near(made->job->threads[i]->uncertainty, 0.01 / 1.4142135623730951, 1e-12);
    }
    turnlay_free(made);
}

/* One finding, at the option, with a list that can be read. */
static void test_lists_that_are_none(void **state)
{
    (void)state;
    static const char *const turns[] = {"turns: []", "turns: [67 per cm, 5000 per cm]",
                                        "turns: [1 per m, 67 per cm]"};
    for (unsigned i = 0; i < sizeof turns / sizeof *turns; i++) {
        Compilation *made = counted(turns[i]);
        assert_int_equal(made->findings.errors, 1);
        const Finding *finding = &made->findings.list.items[0];
        assert_int_equal(finding->code, FINDING_OUT_OF_RANGE);
        assert_string_equal(finding->edit.text, "[67 per cm, 134 per 2 cm]");
        turnlay_free(made);
        made = counted("turns: [67 per cm, 134 per 2 cm]");
        assert_int_equal(made->findings.errors, 0);
        turnlay_free(made);
    }
}

/* What cannot be evaluated is told once. */
static void test_a_count_with_a_fault(void **state)
{
    (void)state;
    static const char *const turns[] = {"turns: 5000 per cm", "turns: 67 per 0 cm", "turns: [67 per 0 cm]"};
    for (unsigned i = 0; i < sizeof turns / sizeof *turns; i++) {
        Compilation *made = counted(turns[i]);
        assert_int_equal(made->findings.errors, 1);
        assert_int_equal(made->findings.list.items[0].times, 1);
        turnlay_free(made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_count),
        cmocka_unit_test(test_two_counts_by_hand),
        cmocka_unit_test(test_counts_that_agree),
        cmocka_unit_test(test_lists_in_a_file),
        cmocka_unit_test(test_a_list_with_a_name),
        cmocka_unit_test(test_lists_that_are_none),
        cmocka_unit_test(test_a_count_with_a_fault),
    };
    return cmocka_run_group_tests_name("counts", tests, NULL, NULL);
}
