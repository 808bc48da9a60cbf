/* When what is on a rod beside its guides and wraps goes onto it. */
#ifndef TURNLAY_BENCH_PART_MOMENTS_H
#define TURNLAY_BENCH_PART_MOMENTS_H

#include "plan/plan.h"

/* What slides on over the tip goes on before its section is wound: from the butt on, since what lies nearer to the
 * tip would be in its way; of those that lie over one another the lowest first. What
 * thread lies on goes on before the first place that winds over it. All else goes on when all is wound, under the
 * finish. */
typedef enum { MOMENT_SECTION, MOMENT_PLACE, MOMENT_FINISH } MomentKind;

typedef struct PartMoment {
    uint32_t part; /* of the rod's parts */
    MomentKind kind;
    uint32_t section; /* that it lies on */
    uint32_t place;   /* MOMENT_PLACE */
} PartMoment;

typedef struct PartMoments {
    PartMoment *items; /* one for each part: by kind; of one kind by place, then along the blank */
    uint32_t count;
} PartMoments;

PartMoments part_moments(Arena *arena, const PlannedRod *rod);

#endif
