/* Inside the bench room: in how many letters a step is told. */
#ifndef TURNLAY_BENCH_STEP_LENGTH_H
#define TURNLAY_BENCH_STEP_LENGTH_H

#include "bench/bench.h"

/* At most that many more, where this action goes on with the step at hand. */
uint32_t letters_told(const Folding *folding, const StepLetters *letters, const PlannedRod *rod,
                      const Action *action);
/* What it leaves named. */
void name_told(Folding *folding, const Action *action);
/* Of a thread that stands or is taken up: told where no turns follow that tell it, too. */
uint32_t letters_of_change(const StepLetters *letters, const PlannedRod *rod, const Action *action);
/* Of packing between windings, where it is wound on. */
uint32_t letters_of_packing(const Folding *folding, const StepLetters *letters, const Action *action);
/* What has to follow in the same step, once it has come to `with`: the turns for which a thread stands, is taken
 * up, or is started with its tag under a finger; the trimming of what is untaped for it. */
uint32_t letters_to_come(const Folding *with, const StepLetters *letters, const PlannedRod *rod,
                         const Action *action);

#endif
