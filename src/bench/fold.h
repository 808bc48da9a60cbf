/* Actions folded into steps: a step is one thing done without looking up. Inside and after the bench room. */
#ifndef TURNLAY_BENCH_FOLD_H
#define TURNLAY_BENCH_FOLD_H

#include "bench/bench.h"

/* One action more: whether it begins a step. Goes by what came before it alone, so that a list may be folded while
 * it is made. */
bool fold_begins(Folding *folding, const StepLetters *letters, const PlannedRod *rod, const Action *action);
/* All steps of a rod's actions; every one of these is in just one. */
Step *fold_actions(Arena *arena, const StepLetters *letters, const BenchRod *rod, uint32_t *step_count);

#endif
