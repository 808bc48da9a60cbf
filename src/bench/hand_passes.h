/* Inside the bench room: which turns of a layer are passed by hand, the blank standing still, and from where to
 * where in one go. */
#ifndef TURNLAY_BENCH_HAND_PASSES_H
#define TURNLAY_BENCH_HAND_PASSES_H

#include "plan/piece_ends.h"

typedef struct HandPasses {
    const PlannedRod *rod;
    const PlannedLayer *layer;
    uint32_t first, end;   /* the layer's windings, in the rod's array */
    const uint64_t *until; /* turns of the layer that are made when each of them is wound */
    const bool *by_hand;   /* each of them: a cut piece or one on a bobbin, while a spool waits */
    bool any;              /* of them */
} HandPasses;

/* Pieces and windings [from, to) are those of the layer. */
HandPasses find_hand_passes(Arena *arena, const Bench *bench, const PlannedRod *rod, const PlannedLayer *layer,
                            Wraps wraps, const uint32_t pieces[2], const uint32_t windings[2]);
/* The turn, or where the pass that it lies within begins, or ends. */
uint64_t before_hand_pass(const HandPasses *passes, uint64_t turn);
uint64_t behind_hand_pass(const HandPasses *passes, uint64_t turn);
/* The turn at which the piece winds again, of those from this one on; UINT64_MAX if it does not. */
uint64_t winds_again(const HandPasses *passes, uint32_t piece, uint64_t turn);
/* The turn at which it has made so many turns of its own, or all. */
uint64_t own_turns_made(const HandPasses *passes, uint32_t piece, uint64_t turns);

#endif
