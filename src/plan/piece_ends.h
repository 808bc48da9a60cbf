/* Where the two ends of a piece lie lengthwise on the blank, and how its last one gets there: known here alone,
 * for the steps that lay them and the findings about what lies under the turns. Not for pieces of a crosswrap's
 * passes, nor for spacers, which are taken off again. */
#ifndef TURNLAY_PLAN_PIECE_ENDS_H
#define TURNLAY_PLAN_PIECE_ENDS_H

#include "plan/wraps.h"

typedef enum {
    END_UNDER_NEXT_TURNS,  /* laid under the turns that follow */
    END_THROUGH_LOOP,      /* drawn back under the turns before it: too few follow */
    END_THROUGH_FINAL_LOOP /* the same at the wrap's end */
} EndWay;

/* Turns [from, to) of the layer. Fewer than the bench asks for only where a finding says so. */
typedef struct LiesUnder {
    uint64_t from, to;
} LiesUnder;

typedef struct PieceEnds {
    bool laid_in; /* its tag lies under the turns before its own first one; else that begins over it */
    LiesUnder tag, end;
    uint64_t tag_held; /* turns of the layer after which the tag may be trimmed */
    EndWay end_way;
} PieceEnds;

/* Of a piece of the rod, by its index; wrap: the one that it begins in. */
PieceEnds piece_ends(const Bench *bench, const PlannedRod *rod, uint32_t piece, const Wrap *wrap);
/* The turn of the layer from which on the piece's spool feeds it, or waits. */
uint64_t spool_from(const Bench *bench, const PlannedRod *rod, uint32_t piece, const Wrap *wrap);
/* How many of the spools that wind so feed no more once that turn is made. */
uint32_t spools_done(const PlannedRod *rod, const Winding *winding, uint64_t turn);

#endif
