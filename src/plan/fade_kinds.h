/* Fades that look the same are of one kind: each kind is looked at once, however often it is laid. */
#ifndef TURNLAY_PLAN_FADE_KINDS_H
#define TURNLAY_PLAN_FADE_KINDS_H

#include "plan/evenness.h"

typedef struct KnownFade {
    FadeAt first; /* of its kind */
    FadeShades shades;
    uint64_t hash;
} KnownFade;

typedef struct FadeKinds {
    Arena *arena;
    LIST_OF(KnownFade) known; /* by the number of the kind */
    uint32_t *slots;          /* those numbers from 1, by hash; 0 is empty */
    uint32_t slot_count;      /* a power of two, or 0 */
    uint64_t turns;           /* of all kinds */
} FadeKinds;

#define NO_KIND UINT32_MAX
/* The fade's kind: number `known.count` until then where it is the first of it; NO_KIND of one that would be more
 * than is looked at. Of fades of one bench. */
uint32_t fade_kind(FadeKinds *kinds, const FadeAt *at);

#endif
