/* Swaps that are asked for from outside, for a quick look: they hold for every rod of the file. */
#ifndef TURNLAY_MEANING_GIVEN_SWAPS_H
#define TURNLAY_MEANING_GIVEN_SWAPS_H

#include "base/arena.h"

struct Resolver;
struct Evaluator;
struct Swaps;

/* In the words of the compiled file: "navy", "shop.foam"; of a thread also "#22346b". */
typedef struct GivenSwap {
    const char *of, *with;
} GivenSwap;
typedef struct GivenSwaps {
    LIST_OF(GivenSwap) list;
    const char *fault; /* why one of them is not made, the first, for people; NULL if all are */
} GivenSwaps;

/* All of them as one; NULL where none can be made. What is wrong with one is said in `given`. */
struct Swaps *swaps_given(struct Resolver *resolver, struct Evaluator *evaluator, GivenSwaps *given);
/* When all rods are made: those that nothing rests on are faults too. */
void swaps_given_and_used(struct Evaluator *evaluator, GivenSwaps *given, const struct Swaps *swaps);

#endif
