/* The last check of a compilation: what is marked as broken or left out has a finding of error level, or the
 * compilation ends with a report of a fault in this program. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "check/check.h"
#include "compilation.h"

static const char sound[] = "edition 1\n"
                            "thread navy { turns: 67 per cm }\n"
                            "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                            "rod \"Sound\" on tube { at 20 cm { band 20 turns of navy } }\n";
static const char faulty[] = "edition 1\n"
                             "thread navy { turns: 67 per cm }\n"
                             "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                             "rod \"Faulty\" on tube { at 20 cm { band 20 turns of nobody } }\n";

static Compilation *given(const char *text)
{
    Compilation *compilation = compilation_new(0);
    assert_non_null(compilation);
    turnlay_give(compilation, "test.lay", text, strlen(text));
    assert_null(turnlay_want(compilation).path);
    return compilation;
}

static void test_a_mark_names_its_error(void **state)
{
    (void)state;
    Trap trap = {0};
    Arena arena;
    Findings findings;
    arena_start(&arena, &trap);
    findings_start(&findings, &arena);
    Span at = {3, 5, 0}, elsewhere = {7, 9, 0};
    const Finding *error = finding_add(&findings, FINDING_WRONG_KIND, at, "wrong");
    assert_int_equal(cause_mark(&findings, error->number, at), 1);
    /* Told again it is the same one, and it can explain what is met after it. */
    const Finding *again = finding_add(&findings, FINDING_WRONG_KIND, at, "wrong");
    assert_int_equal(again->number, 1);
    assert_int_equal(findings_since(&findings, 1), 1);
    assert_int_equal(findings_since(&findings, 2), CAUSE_NONE);
    assert_false(findings.untold);
    /* A warning explains nothing that is left out. */
    const Finding *warning = finding_add(&findings, FINDING_ROUNDS_FAR, at, "far");
    assert_int_equal(warning->number, CAUSE_NONE);
    assert_int_equal(cause_mark(&findings, warning->number, elsewhere), CAUSE_UNTOLD);
    assert_true(findings.untold);
    assert_int_equal(findings.untold_at.start, 7);
    /* The first stays, and one beyond all findings is none. */
    assert_int_equal(cause_mark(&findings, 2, at), CAUSE_UNTOLD);
    assert_int_equal(findings.untold_at.start, 7);
    arena_end(&arena);
}

/* Findings that are no longer kept are told all the same: they are counted. */
static void test_errors_not_kept_count(void **state)
{
    (void)state;
    Trap trap = {0};
    Arena arena;
    Findings findings;
    arena_start(&arena, &trap);
    findings_start(&findings, &arena);
    const Finding *last = NULL;
    for (uint32_t i = 0; i < 150; i++)
        last = finding_add(&findings, FINDING_WRONG_KIND, (Span){i, i + 1, 0}, "wrong");
    assert_int_equal(last->number, 150);
    assert_int_equal(cause_mark(&findings, last->number, (Span){0}), 150);
    assert_false(findings.untold);
    arena_end(&arena);
}

static void test_sound_and_faulty_files_lose_nothing(void **state)
{
    (void)state;
    const struct {
        const char *text;
        TurnlayStatus result;
    } files[] = {{sound, TURNLAY_DONE}, {faulty, TURNLAY_HAS_ERRORS}};
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        Compilation *compilation = given(files[i].text);
        assert_int_equal(turnlay_finish(compilation), files[i].result);
        assert_false(compilation->lost);
        turnlay_free(compilation);
    }
}

/* Something in the house marks a thing as broken and tells nobody. */
static void test_a_silent_mark_is_a_loss(void **state)
{
    (void)state;
    const char *const texts[] = {sound, faulty};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        Compilation *compilation = given(texts[i]);
        cause_mark(&compilation->findings, CAUSE_NONE, (Span){10, 16, 0});
        assert_int_equal(turnlay_finish(compilation), TURNLAY_LOST);
        assert_true(compilation->lost);
        assert_int_equal(compilation->lost_at.start, 10);
        turnlay_free(compilation);
    }
}

/* Marks that were made past the one function that makes them are found in the plan. */
static void test_the_plan_is_looked_through(void **state)
{
    (void)state;
    Compilation *compilation = given(sound);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    Findings *findings = &compilation->findings;
    Plan *plan = compilation->plan;
    PlannedLayer *layer = &plan->rods[0].places[0].layers[0];
    Rod *rod = (Rod *)plan->rods[0].rod;
    Place *place = &rod->places[0];
    Span at;
    assert_false(anything_lost(plan, findings, &at));
    layer->laid = false;
    assert_true(anything_lost(plan, findings, &at));
    assert_int_equal(at.start, layer->layer->span.start);
    layer->laid = true;
    layer->cause = 1;
    assert_true(anything_lost(plan, findings, &at));
    layer->cause = CAUSE_NONE;
    place->cause = CAUSE_UNTOLD;
    assert_true(anything_lost(plan, findings, &at));
    place->cause = CAUSE_NONE;
    rod->cause = CAUSE_NEVER_WOUND;
    assert_true(anything_lost(plan, findings, &at));
    assert_int_equal(at.start, rod->span.start);
    rod->cause = CAUSE_NONE;
    assert_false(anything_lost(plan, findings, &at));
    /* With an error told, the same marks are explained. */
    finding_add(findings, FINDING_WRONG_KIND, (Span){0, 1, 0}, "wrong");
    layer->laid = false;
    layer->cause = rod->cause = place->cause = 1;
    assert_false(anything_lost(plan, findings, &at));
    turnlay_free(compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_mark_names_its_error),
        cmocka_unit_test(test_errors_not_kept_count),
        cmocka_unit_test(test_sound_and_faulty_files_lose_nothing),
        cmocka_unit_test(test_a_silent_mark_is_a_loss),
        cmocka_unit_test(test_the_plan_is_looked_through),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
