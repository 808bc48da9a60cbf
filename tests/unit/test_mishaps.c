/* What goes wrong at the bench: a thread breaks at every turn of two examples, of every kind, both ways. Each
 * sheet can be worked, by the replay; and what comes off, hangs and is lost is counted once more from the plan. */
#include "compilation.h"
#include "bench/mishaps.h"
#include "plan/plan_sums.h"
#include "words/step_letters.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "near.h"

static bool give_file(TurnlayCompilation *compilation, const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file)
        return false;
    static char text[1 << 20];
    size_t length = fread(text, 1, sizeof text, file);
    fclose(file);
    return turnlay_give(compilation, path, text, length) == TURNLAY_DONE;
}

/* An example, not yet finished. */
static TurnlayCompilation *begun(const char *path)
{
    TurnlayCompilation *compilation = turnlay_new();
    assert_true(give_file(compilation, path));
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;) {
        char used[300];
        bool standard = strncmp(want.path, "std/", 4) == 0;
        snprintf(used, sizeof used, "%s/%s.lay", standard ? "stdlib" : "examples", want.path + (standard ? 4 : 0));
        if (!give_file(compilation, used))
            fail_msg("%s wants %s", path, want.path);
    }
    return compilation;
}

typedef struct Counts {
    uint32_t tried, splices, restarts, again, none;
    uint32_t faults[16];
} Counts;

static void try_mishap(const char *path, TurnlayMishap given, Counts *counts)
{
    TurnlayCompilation *compilation = begun(path);
    assert_int_equal(turnlay_mishap(compilation, given), TURNLAY_DONE);
    TurnlayStatus status = turnlay_finish(compilation);
    counts->tried++;
    if (status == TURNLAY_NOT_HAPPENED) {
        counts->none++;
        turnlay_free(compilation);
        return;
    }
    if (status != TURNLAY_DONE)
        fail_msg("%s step %u kind %d turns %u way %d: %s", path, given.step, given.kind, given.turns, given.way,
                 turnlay_status_words(status));
    assert_int_equal(compilation->job->mishaps.count, 1);
    const Mishap *mishap = &compilation->job->mishaps.items[0];
    counts->splices += mishap->followed == WAY_SPLICE;
    counts->restarts += mishap->followed == WAY_RESTART;
    counts->again += mishap->followed == WAY_AGAIN;
    if (given.way == TURNLAY_WAY_SPLICE)
        counts->faults[mishap->ways[WAY_SPLICE].fault]++;
    if (getenv("MISHAPS") && given.way == TURNLAY_WAY_SPLICE && !mishap->ways[WAY_SPLICE].open)
        printf("step %u after %u of kind %d: no splice, fault %d; restart unwinds %u\n", given.step, given.turns,
               given.kind, mishap->ways[WAY_SPLICE].fault, (unsigned)mishap->ways[WAY_RESTART].unwound);
    turnlay_free(compilation);
}

static void try_example(const char *path)
{
    Counts counts = {0};
    TurnlayCompilation *compilation = begun(path);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    Arena arena;
    arena_start(&arena, &compilation->trap);
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fail_msg("no memory");
    const BenchPlan *bench = bench_make(&arena, compilation->plan, step_letters(&arena, compilation->plan));
    uint32_t number = 0;
    for (uint32_t r = 0; r < bench->rod_count; r++)
        for (uint32_t s = 0; s < bench->rods[r].step_count; s++) {
            const Step *step = &bench->rods[r].steps[s];
            uint32_t turns = 0;
            number++;
            for (uint32_t i = step->first; i < step->first + step->count; i++)
                turns += bench->rods[r].actions[i].kind == ACTION_WIND ? bench->rods[r].actions[i].turns : 0;
            for (uint32_t k = 0; turns && k <= turns; k++)
                for (TurnlayWay way = TURNLAY_WAY_SPLICE; way < TURNLAY_WAY_COUNT; way++) {
                    try_mishap(path, (TurnlayMishap){number, TURNLAY_BROKE, k, way}, &counts);
                    try_mishap(path, (TurnlayMishap){number, TURNLAY_SPOOL_EMPTY, k, way}, &counts);
                }
            for (TurnlayWay way = TURNLAY_WAY_EITHER; way < TURNLAY_WAY_COUNT; way++) {
                try_mishap(path, (TurnlayMishap){number, TURNLAY_LOOP_TORN, 0, way}, &counts);
                try_mishap(path, (TurnlayMishap){number, TURNLAY_TAG_OUT, 0, way}, &counts);
            }
            uint64_t layer = bench->rods[r].actions[step->first + step->count - 1].layer_count;
            for (uint32_t k = 0; turns && k < layer; k += 1 + k / 7)
                try_mishap(path, (TurnlayMishap){number, TURNLAY_UNWOUND, k, TURNLAY_WAY_EITHER}, &counts);
        }
    printf("%s: %u tried: %u splices, %u restarts, %u wound again, %u cannot be;", path, counts.tried,
           counts.splices, counts.restarts, counts.again, counts.none);
    for (int i = 0; i < 8; i++)
        printf(" %u", counts.faults[i]);
    printf("\n");
    trap_clear(&compilation->trap);
    arena_end(&arena);
    turnlay_free(compilation);
}

static void test_all(void **state)
{
    (void)state;
    const char *one = getenv("EXAMPLE");
    try_example(one ? one : "examples/first.lay");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_all)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
