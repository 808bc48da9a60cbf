/* Where one may stop for the night: of each step the nearest stops before and after its beginning, and those
 * within it. All follows from what the replay leaves with each action (ActionState). */
#ifndef TURNLAY_BENCH_NIGHT_H
#define TURNLAY_BENCH_NIGHT_H

#include "bench/bench.h"

/* Where in the work one may stop, seen from the beginning of a step. */
typedef struct NightStop {
    bool there;       /* there is one */
    uint32_t done;    /* actions of the rod that are done, */
    uint32_t of_next; /* and turns of the next one, which winds; 0 where it is not begun */
    uint32_t steps;   /* of the rod that are done, */
    uint32_t made;    /* and turns of the next one */
    uint64_t turns;   /* to make until there, or to unwind */
} NightStop;

/* Turns of a step after each of which one may stop. */
typedef struct StopTurns {
    uint32_t from, to;
} StopTurns;

typedef struct StepNight {
    NightStop before; /* the last one up to the step's beginning: not there where something was cut since */
    NightStop after;  /* the first one behind its beginning */
    /* In the step, its beginning and its end among them: rising, at least one turn apart that is none. */
    StopTurns *within;
    uint32_t within_count;
} StepNight;

/* Of each of the rod's steps. */
const StepNight *night_of_steps(Arena *arena, const BenchRod *rod);
/* What holds what there; NULL before the first action. */
const ActionState *night_state(const BenchRod *rod, const NightStop *stop);

#endif
