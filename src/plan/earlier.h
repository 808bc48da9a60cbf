/* What widths that were measured at another job teach of this one's threads. */
#ifndef TURNLAY_PLAN_EARLIER_H
#define TURNLAY_PLAN_EARLIER_H

#include "meaning/job.h"

typedef struct EarlierTurns {
    const Thread *thread; /* of this job */
    double turns;
} EarlierTurns;

typedef struct EarlierWidth {
    const EarlierTurns *made;
    uint32_t made_count;
    double width;  /* mm, of these turns alone */
    uint32_t wrap; /* the same for widths of one layer, which stand one behind the other */
    bool sure;     /* it teaches however far it is off */
} EarlierWidth;

/* All but its `from`. Of widths that are too far off to be heeded nothing is learned. */
KnownThreads known_from(Arena *arena, const Job *job, const EarlierWidth *widths, uint32_t count);

#endif
