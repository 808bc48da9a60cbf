/* Inside the bench room: the making of steps. */
#ifndef TURNLAY_BENCH_STEPS_H
#define TURNLAY_BENCH_STEPS_H

#include "bench/bench.h"
#include "plan/wraps.h"

/* Something that has to happen at a turn of a layer. */
typedef struct StepEvent {
    uint64_t turn;
    StepKind kind;
    uint32_t piece, piece_count;
    uint32_t turns;
    bool final;
    uint32_t sequence; /* as found, so that sorting is stable */
} StepEvent;

/* One rod's steps so far. */
typedef struct Making {
    Arena *arena;
    const Bench *bench;
    LIST_OF(Step) steps;
    uint32_t clock; /* how many tags, ends and loops have been laid */
} Making;

/* One layer at work. */
typedef struct LayerWork {
    Making *making;
    const PlannedRod *rod;
    const PlannedPlace *place;
    const PlannedLayer *layer;
    uint32_t place_index, layer_index;
    uint32_t first_piece, first_winding, end_winding;
    LIST_OF(StepEvent) events;
    Wraps wraps;
    uint32_t wrap;       /* where wrap_at found the last one */
    uint64_t turn;       /* made so far */
    uint64_t band_count; /* of them in the present item */
    uint32_t run_turns;  /* of them in the present run */
    double position;
    uint32_t live_spools;
} LayerWork;

Step *make_step(Making *making, StepKind kind, uint32_t place, uint32_t layer, Span span);

/* steps_crosswrap.c: up to its end bands, from piece number *piece on, which moves on; and what follows them. */
void write_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer, uint32_t *piece);
void finish_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer);

/* Pieces, spools and loops in the order in which the steps need them; numbers the pieces. */
void cut_list(Arena *arena, BenchRod *rod);

/* minutes.c: what the rod's steps take at this bench's speed and handling. */
double minutes_of_steps(const BenchRod *rod, const Bench *bench);

#endif
