/* A plan's actions: made and kept for those who print them, or proven and forgotten. */
#include "bench/making.h"

static void keep_steps(Arena *arena, const StepLetters *letters, BenchRod *rod)
{
    rod->steps = fold_actions(arena, letters, rod, &rod->step_count);
    cut_list(arena, rod);
}

/* Findings, if any are wanted, of what is not lawful. */
static BenchPlan *work_rods(Arena *arena, const Plan *plan, const StepLetters *letters, bool keep,
                            Findings *findings)
{
    const Bench *bench = &plan->job->bench;
    BenchPlan *made = arena_take(arena, sizeof *made);
    *made = (BenchPlan){.plan = plan, .rod_count = plan->rod_count};
    made->rods = arena_take_many(arena, plan->rod_count, sizeof *made->rods);
    Arena *layer = arena_child(arena), *hands = arena_child(arena);
    for (uint32_t i = 0; i < plan->rod_count; i++) {
        const PlannedRod *rod = &plan->rods[i];
        Making making = {.arena = arena, .scratch = layer, .bench = bench, .letters = letters, .keep = keep};
        hands_start(&making.hands, hands, rod, bench);
        making.hands.keeps = keep ? arena : NULL;
        making.hands.proves_only = !keep;
        make_actions(&making, rod);
        if (findings)
            bench_report(rod, making.hands.found, bench, findings);
        made->minutes += minutes_of(making.times, bench);
        made->rods[i] = (BenchRod){
            .rod = rod, .actions = making.actions.items, .action_count = making.count, .step_count = making.steps};
        if (keep)
            keep_steps(arena, letters, &made->rods[i]);
        arena_clear(hands);
    }
    arena_clear(layer);
    return made;
}

BenchPlan *bench_make(Arena *arena, const Plan *plan, const StepLetters *letters)
{
    return work_rods(arena, plan, letters, true, NULL);
}

BenchPlan *bench_prove(Arena *arena, const Plan *plan, const StepLetters *letters, Findings *findings)
{
    return work_rods(arena, plan, letters, false, findings);
}
