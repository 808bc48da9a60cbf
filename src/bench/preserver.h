/* Inside the bench room: when colour preserver comes on the threads that need it. */
#ifndef TURNLAY_BENCH_PRESERVER_H
#define TURNLAY_BENCH_PRESERVER_H

#include "bench/bench.h"

/* By place, layer and thread, each once. */
Preservings find_preservings(Arena *arena, const Bench *bench, const PlannedRod *rod);
/* Those before this sealing; none where nothing needs it. */
Preservings preservings_before(const Preservings *all, uint32_t place, uint32_t layer);

#endif
