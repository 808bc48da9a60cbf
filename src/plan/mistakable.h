/* Threads that lie beside one another somewhere and that some eyes, without one kind of cone or with all, would
 * take for the same: on their spools, or as they look there on what they lie on. */
#ifndef TURNLAY_PLAN_MISTAKABLE_H
#define TURNLAY_PLAN_MISTAKABLE_H

#include "plan/plan.h"
#include "trade/colour.h"

/* Threads that differ by less (CIEDE2000) to any of the eyes of trade/colour.h count as mistakable. Common
 * practice, no source: about ten times what can just be seen side by side, since light at the bench may be poor.
 */
#define MISTAKABLE 10.0

/* Two threads that lie side by side somewhere and may be mistaken. Indices in Job.threads, first < second. */
typedef struct Mistakable {
    uint32_t first, second;
} Mistakable;

typedef struct MistakablePairs {
    Mistakable *pairs; /* in rising order of first, then second */
    uint32_t count;
} MistakablePairs;

MistakablePairs mistakable_pairs(Arena *arena, const Plan *plan);

/* "all eyes", "red-blind eyes" ... */
const char *eyes_words(Vision vision);

#endif
