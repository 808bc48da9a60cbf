/* A compilation from its beginning to its end, and one pass through the house: what was read becomes a job, a
 * plan, and steps that are proven. */
#include "reading.h"

#include "base/limits.h"
#include "check/check.h"
#include "words/step_letters.h"

#include <stdlib.h>

static void start(Compilation *compilation)
{
    arena_start(&compilation->arena, &compilation->trap);
    arena_start(&compilation->page_arena, &compilation->trap);
    texts_start(&compilation->texts, &compilation->arena);
    findings_start(&compilation->findings, &compilation->arena);
    compilation->reading = arena_take(&compilation->arena, sizeof *compilation->reading);
}

Compilation *compilation_new(uint64_t fail_at)
{
    Compilation *compilation = fail_at == 1 ? NULL : calloc(1, sizeof *compilation);
    if (!compilation)
        return NULL;
    compilation->trap.requests = 1;
    compilation->trap.fail_at = fail_at;
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        compilation->exhausted = true;
    else
        start(compilation);
    trap_clear(&compilation->trap);
    return compilation;
}

Compilation *turnlay_new(void) { return compilation_new(0); }

void turnlay_free(Compilation *compilation)
{
    if (!compilation)
        return;
    arena_end(&compilation->page_arena);
    arena_end(&compilation->arena);
    free(compilation);
}

TurnlayStatus status_while_reading(const Compilation *compilation)
{
    return !compilation             ? TURNLAY_NULL_GIVEN
           : compilation->exhausted ? TURNLAY_OUT_OF_MEMORY
           : compilation->finished  ? TURNLAY_WRONG_ORDER
                                    : TURNLAY_DONE;
}

/* The same file with other threads gives other wraps. */
static uint64_t hash_swaps(uint64_t hash, const GivenSwaps *swaps)
{
    for (uint32_t i = 0; i < swaps->list.count; i++) {
        hash = hash_words(hash, swaps->list.items[i].of, strlen(swaps->list.items[i].of));
        hash = hash_words(hash, swaps->list.items[i].with, strlen(swaps->list.items[i].with));
    }
    return hash;
}

static void hash_pattern(Compilation *compilation)
{
    Module *main = compilation->reading->modules.list.items[0];
    if (!module_circle(main, &compilation->findings))
        compilation->job->pattern_hash = hash_swaps(canonical_hash(compilation, main), &compilation->swaps);
}

static TurnlayStatus add_measured(Compilation *compilation, TurnlayMeasured measured)
{
    *LIST_ADD(&compilation->arena, &compilation->measured) = measured;
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_measure(Compilation *compilation, TurnlayMeasured measured)
{
    TurnlayStatus status = status_while_reading(compilation);
    if (status != TURNLAY_DONE)
        return status;
    if (!measured.step || !(measured.width > 0 && measured.width < LIMIT_MEASURED)
        || compilation->measured.count >= LIMIT_READINGS)
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, add_measured(compilation, measured));
}

uint32_t turnlay_step_not_measured(const Compilation *compilation)
{
    return compilation ? compilation->not_measured : 0;
}

static TurnlayStatus add_swap(Compilation *compilation, const char *name, const char *with)
{
    *LIST_ADD(&compilation->arena, &compilation->swaps.list) = (GivenSwap){
        text_of_string(&compilation->texts, name)->bytes, text_of_string(&compilation->texts, with)->bytes};
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_swap(Compilation *compilation, const char *name, const char *with)
{
    TurnlayStatus status = name && with ? status_while_reading(compilation) : TURNLAY_NULL_GIVEN;
    if (status == TURNLAY_DONE && !(*name && *with))
        status = TURNLAY_WRONG_VALUE;
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, add_swap(compilation, name, with));
}

const char *turnlay_swap_fault(const Compilation *compilation)
{
    return compilation ? compilation->swaps.fault : NULL;
}

TurnlayStatus turnlay_strict(Compilation *compilation)
{
    TurnlayStatus status = status_while_reading(compilation);
    if (status == TURNLAY_DONE)
        compilation->strict = true;
    return status;
}

/* Job to plan to steps, each with its findings. */
static void plan_and_prove(Compilation *compilation)
{
    Arena *arena = &compilation->arena;
    compilation->plan = plan_make(arena, compilation->job, &compilation->findings);
    check_plan(arena, compilation->plan, &compilation->findings);
    compilation->bench = NULL;
    if (compilation->findings.errors)
        return;
    compilation->bench =
        bench_prove(arena, compilation->plan, step_letters(arena, compilation->plan), &compilation->findings);
}

/* NULL for a step in which nothing is measured. */
static const Action *measuring_of(const BenchRod *rod, uint32_t index)
{
    const Step *step = &rod->steps[index];
    for (uint32_t i = step->first; i < step->first + step->count; i++)
        if (rod->actions[i].kind == ACTION_MEASURE)
            return &rod->actions[i];
    return NULL;
}

/* The step with this number, if a width is measured in it; NULL else. `rod` is where it is. Steps that were made
 * for this. */
static const Action *measured_at(const BenchPlan *bench, uint32_t number, uint32_t *rod)
{
    for (uint32_t r = 0; r < bench->rod_count; number -= bench->rods[r++].step_count) {
        *rod = r;
        if (number <= bench->rods[r].step_count)
            return measuring_of(&bench->rods[r], number - 1);
    }
    return NULL;
}

/* Turns of the layer up to where the band begins that such a turn ends, or lies in. */
static uint64_t turns_before_band(const PlannedLayer *layer, uint64_t turn)
{
    uint64_t before = 0;
    for (uint32_t i = 0; i < layer->item_count && before + layer->items[i].turns < turn; i++)
        before += layer->items[i].turns;
    return before;
}

/* The step is counted on the sheet that the widths before it gave. */
static bool take_measured(Compilation *compilation, Arena *steps, const TurnlayMeasured *measured)
{
    uint32_t rod = 0;
    const Action *action = measured_at(
        bench_make(steps, compilation->plan, step_letters(steps, compilation->plan)), measured->step, &rod);
    if (!action)
        return false;
    const PlannedLayer *layer = &compilation->plan->rods[rod].places[action->place].layers[action->layer];
    uint64_t before = turns_before_band(layer, action->layer_count);
    *LIST_ADD(&compilation->arena, &compilation->job->measured) =
        (MeasuredWidth){.rod = rod,
                        .place = action->place,
                        .layer = action->layer,
                        .turn = action->layer_count,
                        .made = measured->turns ? before + measured->turns : action->layer_count,
                        .width = measured->width,
                        .sure = measured->sure};
    return true;
}

/* The first plan gives the sheet that the first step is counted on; then all is planned again with each width that
 * was measured. */
static void plan_again(Compilation *compilation, Findings before)
{
    if (too_many_steps(compilation->bench)) {
        tell_beyond(compilation, BEYOND_STEPS);
        compilation->errors_of_pages = 0; /* no page goes by the widths that were measured */
        return;
    }
    Arena *steps = arena_child(&compilation->arena);
    for (uint32_t i = 0; i < compilation->measured.count && compilation->bench; i++) {
        bool taken = take_measured(compilation, steps, &compilation->measured.items[i]);
        arena_clear(steps);
        if (!taken) {
            compilation->not_measured = compilation->measured.items[i].step;
            return;
        }
        compilation->findings = before;
        compilation->findings.forgiving = true;
        plan_and_prove(compilation);
    }
}

static void plan_all(Compilation *compilation)
{
    compilation->job = meaning_job(&compilation->arena, &compilation->texts, &compilation->sources,
                                   &compilation->reading->modules, &compilation->findings, &compilation->swaps);
    compilation->job->lines = compilation->lines;
    hash_pattern(compilation);
    Findings before = compilation->findings;
    plan_and_prove(compilation);
    if (compilation->measured.count && compilation->bench)
        plan_again(compilation, before);
    compilation->lost = anything_lost(compilation->plan, &compilation->findings, &compilation->lost_at);
}

static TurnlayStatus finish(Compilation *compilation)
{
    if (!compilation->sources.list.count || next_wanted(compilation))
        return TURNLAY_WRONG_ORDER;
    compilation->lines = line_map_make(&compilation->arena, &compilation->sources);
    if (compilation->reading->modules.list.count) /* the file to compile could be had */
        plan_all(compilation);
    findings_sort(&compilation->findings);
    if (compilation->strict)
        findings_raise_warnings(&compilation->findings);
    compilation->finished = true;
    return compilation->lost              ? TURNLAY_LOST
           : compilation->findings.errors ? TURNLAY_HAS_ERRORS
           : compilation->swaps.fault     ? TURNLAY_NOT_SWAPPED
           : compilation->not_measured    ? TURNLAY_NOT_MEASURED
                                          : TURNLAY_DONE;
}

TurnlayStatus turnlay_finish(Compilation *compilation)
{
    TurnlayStatus status = status_while_reading(compilation);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, finish(compilation));
}
