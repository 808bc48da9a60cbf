/* Inside the bench room: the making of actions. */
#ifndef TURNLAY_BENCH_MAKING_H
#define TURNLAY_BENCH_MAKING_H

#include "base/limits.h"
#include "bench/events.h"
#include "bench/holding.h"
#include "bench/fold.h"
#include "bench/part_moments.h"
#include "bench/preserver.h"
#include "bench/replay.h"

/* What actions take at the bench: turns of the blank, and how often a thread is handled. */
typedef struct ActionTimes {
    double turns, handled;
} ActionTimes;

/* One rod's actions. Each is worked through by the replay as soon as it is whole. */
typedef struct Making {
    Arena *arena;   /* for the actions that are kept */
    Arena *scratch; /* emptied with every layer */
    const Bench *bench;
    const StepLetters *letters;
    bool keep; /* all actions; else only the newest */
    LIST_OF(Action) actions;
    Action alone;
    Action *newest; /* still in the making; NULL before the first */
    uint32_t count;
    PartMoments parts;
    Preservings preservings;
    uint32_t part;      /* of these: the next that goes on at a place */
    const Place *taped; /* whose guide was taped last; NULL: none yet */
    uint32_t clock;     /* how many tags, ends and loops have been laid */
    Folding folding;
    uint32_t steps; /* begun */
    ActionTimes times;
    Hands hands;
} Making;

/* Whether there is a sheet for so many: else nobody asks for steps, nor for what is done on the way. */
static inline bool fits_a_sheet(const Making *making) { return making->count <= LIMIT_BENCH_STEPS; }
/* The next action; the one before it is whole now. */
Action *make_action(Making *making, ActionKind kind, uint32_t place, uint32_t layer, Span span);

/* actions_crosswrap.c: up to its end bands, from piece number *piece on, which moves on; and what follows them. */
void write_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer, uint32_t *piece);
void finish_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer);
/* Sealing, behind the colour preserver that comes before it. */
void make_seal(Making *making, uint32_t place, uint32_t layer, Span span);

/* Pieces, spools and loops in the order in which the actions need them; numbers the pieces. */
void cut_list(Arena *arena, BenchRod *rod);

/* All actions of a rod, each proven; hands_start comes before. */
void make_actions(Making *making, const PlannedRod *rod);

/* minutes.c */
void add_times(ActionTimes *times, const Action *action);
/* At this bench's speed and handling. */
double minutes_of(ActionTimes times, const Bench *bench);

#endif
