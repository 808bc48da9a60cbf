/* Where in the work a step is, however it is numbered: the same on a sheet that was planned again. */
#ifndef TURNLAY_BENCH_STEP_PLACE_H
#define TURNLAY_BENCH_STEP_PLACE_H

#include "bench/bench.h"

typedef struct StepPlace {
    uint32_t rod, place, layer; /* WHOLE_ROD as an action has it */
    uint64_t turn;              /* of the layer, when the step is done; 0 where it is of no layer */
    uint64_t before;            /* when it begins */
    uint32_t order;             /* of the steps there that end with that turn, from 0 */
    uint32_t begun;             /* of the steps there that begin with that of `before`, from 0 */
} StepPlace;

/* Of the step with that number, from 1 through all rods: false if there is none. */
bool step_place(const BenchPlan *bench, uint32_t number, StepPlace *place);
/* The first step there that does not end before it; 0 if there is none. */
uint32_t step_at_place(const BenchPlan *bench, StepPlace place);
/* The step that comes next where as many turns are made as when that one began: the one that begins there, or in
 * which they lie. One more than there are where all was done; 0 if nothing is done there. */
uint32_t step_from_place(const BenchPlan *bench, StepPlace place);

#endif
