/* A compilation from its beginning to its end, and one pass through the house: what was read becomes a job, a
 * plan, and steps that are proven. */
#include "reading.h"
#include "recorded.h"

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

void plan_and_prove(Compilation *compilation)
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

static void plan_all(Compilation *compilation)
{
    compilation->job = meaning_job(&compilation->arena, &compilation->texts, &compilation->sources,
                                   &compilation->reading->modules, &compilation->findings, &compilation->swaps);
    compilation->job->lines = compilation->lines;
    compilation->job->chosen = chosen_fades_start(&compilation->arena);
    hash_pattern(compilation);
    take_records(compilation);
    Findings before = compilation->findings;
    plan_and_prove(compilation);
    if (compilation->happened.count && compilation->bench)
        plan_again(compilation, before);
    settle_recorded_steps(compilation);
    compilation->lost = anything_lost(compilation->plan, &compilation->findings, &compilation->lost_at);
}

static TurnlayStatus finish(Compilation *compilation)
{
    if (!compilation->sources.list.count || next_wanted(compilation))
        return TURNLAY_WRONG_ORDER;
    read_records(compilation);
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
           : compilation->mishap_fault    ? TURNLAY_NOT_HAPPENED
                                          : TURNLAY_DONE;
}

TurnlayStatus turnlay_finish(Compilation *compilation)
{
    TurnlayStatus status = status_while_reading(compilation);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, finish(compilation));
}
