/* Inside the bench room: the making of steps. */
#ifndef TURNLAY_BENCH_STEPS_H
#define TURNLAY_BENCH_STEPS_H

#include "bench/events.h"
#include "bench/replay.h"

/* What steps take at the bench: turns of the blank, and how often a thread is handled. */
typedef struct StepTimes {
    double turns, handled;
} StepTimes;

/* One rod's steps. Each is worked through by the replay as soon as it is whole. */
typedef struct Making {
    Arena *arena;   /* for the steps that are kept */
    Arena *scratch; /* emptied with every layer */
    const Bench *bench;
    bool keep; /* all steps; else only the newest */
    LIST_OF(Step) steps;
    Step alone;
    Step *newest; /* still in the making; NULL before the first */
    uint32_t count;
    uint32_t clock; /* how many tags, ends and loops have been laid */
    StepTimes times;
    Hands hands;
} Making;

/* The next step; the one before it is whole now. */
Step *make_step(Making *making, StepKind kind, uint32_t place, uint32_t layer, Span span);

/* steps_crosswrap.c: up to its end bands, from piece number *piece on, which moves on; and what follows them. */
void write_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer, uint32_t *piece);
void finish_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer);

/* Pieces, spools and loops in the order in which the steps need them; numbers the pieces. */
void cut_list(Arena *arena, BenchRod *rod);

/* All steps of a rod, each proven; hands_start comes before. */
void make_steps(Making *making, const PlannedRod *rod);

/* minutes.c */
void add_times(StepTimes *times, const Step *step);
/* At this bench's speed and handling. */
double minutes_of(StepTimes times, const Bench *bench);

#endif
