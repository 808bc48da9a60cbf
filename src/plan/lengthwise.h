/* What lies lengthwise under the turns of a layer: the tag of every piece, its end, and a thread that stands while
 * another works. */
#ifndef TURNLAY_PLAN_LENGTHWISE_H
#define TURNLAY_PLAN_LENGTHWISE_H

#include "plan/wraps.h"

/* Name, and in words. */
#define LENGTHWISE_TABLE(X) X(TAG, "the tag of %s") X(END, "the end of %s") X(STANDING, "%s, standing")
typedef enum {
#define X(name, words) LIES_##name,
    LENGTHWISE_TABLE(X)
#undef X
} LengthwiseKind;

/* Turns [from, to) of the layer under which a strand lies. */
typedef struct Lengthwise {
    uint64_t from, to;
    LengthwiseKind kind;
    const Piece *piece;
} Lengthwise;

typedef struct LengthwiseList {
    LIST_OF(Lengthwise) list;
} LengthwiseList;

/* Turns [from, to) under which the same number of strands lie. */
typedef struct Stretch {
    uint64_t from, to;
    uint32_t strands;
    double diameter; /* of the surface, mm, the lesser of both ends */
} Stretch;

/* Adds what lies there of a piece of the wrap, given by its index in the rod. Nothing of a spacer's. */
void add_lengthwise(Arena *arena, const Bench *bench, const PlannedRod *rod, const PlannedLayer *layer,
                    const Wrap *wrap, uint32_t piece, LengthwiseList *lengthwise);
typedef struct Stretches {
    Stretch *items;
    uint32_t count;
} Stretches;

/* Where strands lie, in working order. from: the wrap that the list begins in. */
Stretches find_stretches(Arena *arena, const PlannedLayer *layer, const Wrap *from,
                         const LengthwiseList *lengthwise);
/* mm round the blank that each of the strands has; they are one at least. */
double stretch_room(Stretch stretch);
/* The run that makes this turn of the layer. */
const Run *run_at_turn(const PlannedLayer *layer, uint64_t turn);

#endif
