/* Fades by eye as they are written once their turns are kept: in place of `by: eye` stands what was chosen. */
#ifndef TURNLAY_CHECK_KEPT_FADES_H
#define TURNLAY_CHECK_KEPT_FADES_H

#include "plan/plan.h"

/* What keeps a statement's turns from being written there. */
typedef enum {
    KEPT,
    KEPT_NOT_ALIKE, /* it is laid several times, and not with the same turns */
    KEPT_NOT_FROM,  /* a fade of several threads that has no bands: what runs before is not its first thread */
    KEPT_TOO_MANY   /* threads, in a list that is not written out */
} Keeping;

/* One `by: eye` of the source. */
typedef struct KeptFade {
    Span choice; /* of the value of `by` */
    Keeping keeping;
    Span span; /* of what is replaced */
    const char *text;
    const char
        *runs; /* the turns alone, of a fade of several threads fade after fade: "[in 1 out 4, in 2 out 3]" */
    const ChosenTurns *turns; /* of several those that are the furthest off */
    uint32_t times;
} KeptFade;

typedef struct KeptFades {
    KeptFade *items;
    uint32_t count;
} KeptFades;

/* In the order of the source, used files behind the file itself. */
KeptFades kept_fades(Arena *arena, const Plan *plan);

#endif
