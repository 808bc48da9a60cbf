/* Actions folded into steps: a step is one thing done without looking up. Inside and after the bench room. */
#ifndef TURNLAY_BENCH_FOLD_H
#define TURNLAY_BENCH_FOLD_H

#include "bench/bench.h"

/* One action more: whether it begins a step. Goes by what came before it alone, so that a list may be folded while
 * it is made. */
bool fold_begins(Folding *folding, const Action *action);
/* All steps of a list; every action is in just one. */
Step *fold_actions(Arena *arena, const Action *actions, uint32_t count, uint32_t *step_count);

#endif
