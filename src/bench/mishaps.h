/* Where a mishap finds the work, and how it can go on from there. Goes by the actions of the sheet that was at the
 * bench: whatever of them is undone, and can be done again or cannot. */
#ifndef TURNLAY_BENCH_MISHAPS_H
#define TURNLAY_BENCH_MISHAPS_H

#include "bench/bench.h"

/* The actions before `done` are done, and of a WIND that comes then so many turns. */
typedef struct MishapAt {
    const BenchRod *rod;
    uint32_t done, made;
    PieceGroup pieces;  /* whose thread it is */
    uint32_t laid;      /* the action that gave way: the loop or the tag is laid, or the first that came off */
    uint32_t laid_made; /* turns of that one, if it is a WIND, that are left */
} MishapAt;

/* Finds it by step, kind and turns of the mishap, and sets where it is. NULL, or why it cannot have been there. */
const char *mishap_find(Arena *arena, const BenchPlan *bench, Mishap *mishap, MishapAt *at);
/* AGAIN and RESTART, on this sheet, as far as they are open: what they lose lives in the arena. */
void mishap_undo(Arena *arena, Arena *scratch, const Bench *bench, const MishapAt *at, Mishap *mishap);

/* The last turn of the layer, before `below`, at which the pieces can be spliced as far as they go; NO_TURN if
 * there is none: then the way's fault says why. Sets what hangs. */
uint64_t splice_below(const Bench *bench, const MishapAt *at, Mishap *mishap, uint64_t below);
/* The sheet with that splice: whether it goes on from what lies on the blank. Sets the way. */
bool splice_goes_on(Arena *arena, const Bench *bench, const MishapAt *at, const BenchRod *spliced, Mishap *mishap);

#endif
