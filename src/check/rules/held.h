/* What held.c finds and hold_mend.c mends: threads that are not held, or not ended. */
#ifndef TURNLAY_CHECK_RULES_HELD_H
#define TURNLAY_CHECK_RULES_HELD_H

#include "check/rules.h"

typedef struct Fault {
    FindingCode code;     /* T401, T402 or T403 */
    uint32_t wrap, piece; /* in the layer's view */
    uint64_t have;        /* turns that hold it */
    double need;
} Fault;

/* Turns added in a wrap at the boundary `at`, the end of the band that is made longer, from the wrap's start. */
typedef struct Longer {
    uint64_t at, turns;
} Longer;

#define AS_PLANNED ((Longer){UINT64_MAX, 0})

/* Faults of one piece (0 to 2), with the wrap as planned or with a band made longer. */
unsigned piece_faults(const Check *check, const LayerView *view, const WrapView *wrap, uint32_t index,
                      Longer longer, Fault found[2]);
/* Which kinds of fault the wrap has, as bits. A wrap too short for its loop is not blamed again for its tags. */
unsigned wrap_faults(const Check *check, const LayerView *view, const WrapView *wrap, Longer longer);
const Item *item_of_run(const LayerView *view, uint32_t run);

/* Ways out: each writes mend and edit; false, and nothing written, where it does not serve. */

/* Makes the nearest band longer that can grow: from item `last` back to the wrap's start. */
bool grow_a_band(const Check *check, const LayerView *view, const Fault *fault, uint32_t last, Finding *finding);
/* Asks less of the bench: the option is `bind`, `loop` or `final`. */
void ask_less(const Check *check, Finding *finding, BenchOption option, const char *name, uint64_t turns);
/* Sets an inlay further in. */
bool move_inlay(const Check *check, const LayerView *view, const Fault *fault, Finding *finding);

#endif
