/* Inside the meaning room: a rod with one's own threads, guides, blanks and values in the place of those that it
 * names. Nothing of it is copied: it is evaluated where it is written, and what its names stand for is another. */
#ifndef TURNLAY_MEANING_SWAP_H
#define TURNLAY_MEANING_SWAP_H

#include "meaning/evaluate.h"

/* One of them: `navy: plum`. */
typedef struct Swap {
    Declaration *of;
    Value value;                   /* instead of its own; may be broken */
    Span span;                     /* of the whole of it, where it is written */
    const struct GivenSwap *given; /* where it comes from outside; else NULL */
    bool met;                      /* something that was evaluated rests on it */
} Swap;

typedef struct Standing Standing;

/* Those of one rod. */
struct Swaps {
    Swaps *outer;      /* of the rod that is like this one: they hold for what these leave, and for their values */
    const char *title; /* of the rod that swaps; NULL of those from outside */
    const char *liked; /* of the rod that it is like */
    LIST_OF(Swap *) list;
    Standing **places; /* by declaration; half of them at most are taken */
    uint32_t mask, count;
};

/* None yet. */
Swaps *swaps_new(Arena *arena, Swaps *outer, const char *title);
/* One more; false if its declaration has one here already. */
bool swaps_add(Arena *arena, Swaps *swaps, Swap swap);
/* Those of a rod that is like another, which are Evaluator.swaps from now on; what they put in is worked out with
 * those of before. `cause`: why one of them cannot be made; unchanged if all are. */
void swaps_enter(Evaluator *evaluator, const Node *rod, Cause *cause);
/* Back to those of before; the ones that nothing rested on are told, unless the rod is broken. */
void swaps_leave(Evaluator *evaluator, bool broken);
/* The thread, which is declared so, in another colour, which it then has before finish, too, and without its
 * maker's code. */
const Thread *recoloured(Evaluator *evaluator, Declaration *of, const Thread *thread, uint32_t colour);

#endif
