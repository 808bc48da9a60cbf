/* Fades that look the same are of one kind: each kind is looked at once, however often it is laid. */
#ifndef TURNLAY_PLAN_FADE_KINDS_H
#define TURNLAY_PLAN_FADE_KINDS_H

#include "base/numbering.h"
#include "plan/evenness.h"

/* Begins as {.known.arena = arena}. */
typedef struct FadeKinds {
    Numbering known;
    LIST_OF(double) key; /* of the fade that is asked about */
    uint64_t turns;      /* of all kinds */
} FadeKinds;

#define NO_KIND UINT32_MAX
/* The fade's kind, from 0: as many as were known until then where it is the first of it; NO_KIND of one that would
 * be more than is looked at. Of fades of one bench. */
uint32_t fade_kind(FadeKinds *kinds, const FadeAt *at);

#endif
