/* Where in the work each step of two examples is, one of them of two rods: it is found again there, and with a
 * turn more or less the step that then comes. */
#include "compilation.h"
#include "words/step_letters.h"

#include "bench/step_place.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>

#include "example.h"

typedef struct Worked {
    TurnlayCompilation *compilation;
    const BenchPlan *bench;
    uint32_t steps;
} Worked;

static Worked worked(const char *path)
{
    Worked work = {.compilation = example_begun(path)};
    assert_int_equal(turnlay_finish(work.compilation), TURNLAY_DONE);
    if (setjmp(*trap_set(&work.compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    Arena *arena = &work.compilation->arena;
    work.bench = bench_make(arena, work.compilation->plan, step_letters(arena, work.compilation->plan));
    trap_clear(&work.compilation->trap);
    for (uint32_t r = 0; r < work.bench->rod_count; r++)
        work.steps += work.bench->rods[r].step_count;
    return work;
}

/* In harbour the chevron is sealed behind its end bands, which is done in no turn. */
static void test_each_is_found_again(void **state)
{
    (void)state;
    static const char *const paths[] = {"examples/otter.lay", "examples/harbour.lay", "examples/house.lay"};
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++) {
        Worked work = worked(paths[i]);
        StepPlace place;
        assert_false(step_place(work.bench, 0, &place));
        assert_false(step_place(work.bench, work.steps + 1, &place));
        for (uint32_t number = 1; number <= work.steps; number++) {
            assert_true(step_place(work.bench, number, &place));
            assert_int_equal(step_at_place(work.bench, place), number);
            assert_int_equal(step_from_place(work.bench, place), number);
        }
        turnlay_free(work.compilation);
    }
}

/* On another sheet other steps hold its turns: the step that ends with them or behind, and the one in which they
 * lie already; behind the last there is none, and of another rod none. */
static void test_between_steps(void **state)
{
    (void)state;
    Worked work = worked("examples/house.lay");
    uint32_t before = 0;
    for (uint32_t r = 0; r < work.bench->rod_count; before += work.bench->rods[r++].step_count)
        for (uint32_t s = 0; s < work.bench->rods[r].step_count; s++) {
            const BenchRod *rod = &work.bench->rods[r];
            const Action *first = &rod->actions[rod->steps[s].first];
            StepPlace place = {.before = 0};
            assert_true(step_place(work.bench, before + s + 1, &place));
            assert_int_equal(place.rod, r);
            assert_int_equal(place.place, first->place);
            assert_int_equal(place.layer, first->layer);
            if (place.turn <= place.before + 1)
                continue;
            StepPlace earlier = place, inside = place;
            earlier.turn--;
            earlier.order = 0;
            assert_int_equal(step_at_place(work.bench, earlier), before + s + 1);
            inside.before++;
            inside.begun = 0;
            assert_int_equal(step_from_place(work.bench, inside), before + s + 1);
            StepPlace behind = place;
            behind.turn = behind.before = 1000000;
            behind.order = behind.begun = 0;
            assert_int_equal(step_at_place(work.bench, behind), 0);
            assert_true(step_from_place(work.bench, behind) > before + s);
        }
    StepPlace none = {.rod = work.bench->rod_count};
    assert_int_equal(step_from_place(work.bench, none), work.steps + 1);
    turnlay_free(work.compilation);
}

/* The first wrap; the chevron, whose end bands come behind its strands and whose seal behind those; all of the
 * rod. */
static void test_as_counted(void **state)
{
    (void)state;
    static const struct {
        uint32_t number;
        StepPlace place;
    } cases[] = {
        {3, {0, 0, WHOLE_ROD, 0, 0, 0, 0}},
        {4, {0, 0, 0, 6, 0, 0, 0}},
        {5, {0, 0, 0, 300, 6, 0, 0}},
        {8, {0, 0, 0, 362, 362, 1, 0}},
        {64, {0, 2, 1, 0, 0, 11, 11}},
        {65, {0, 2, 1, 6, 0, 0, 12}},
        {68, {0, 2, 1, 66, 66, 1, 0}},
        {69, {0, 2, 1, 72, 66, 0, 1}},
        {73, {0, 2, 1, 132, 132, 2, 1}},
        {74, {0, 2, 1, 132, 132, 3, 2}},
        {75, {0, 3, WHOLE_ROD, 0, 0, 0, 0}},
        {78, {0, 3, 0, 6, 0, 0, 0}},
        {131, {0, WHOLE_ROD, WHOLE_ROD, 0, 0, 2, 2}},
    };
    Worked work = worked("examples/harbour.lay");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        StepPlace place, want = cases[i].place;
        assert_true(step_place(work.bench, cases[i].number, &place));
        assert_int_equal(place.rod, want.rod);
        assert_int_equal(place.place, want.place);
        assert_int_equal(place.layer, want.layer);
        assert_int_equal(place.turn, want.turn);
        assert_int_equal(place.before, want.before);
        assert_int_equal(place.order, want.order);
        assert_int_equal(place.begun, want.begun);
    }
    turnlay_free(work.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_is_found_again),
        cmocka_unit_test(test_between_steps),
        cmocka_unit_test(test_as_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
