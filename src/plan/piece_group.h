/* Pieces of a rod that work together, by their indices: one a strand, in the strands' order. */
#ifndef TURNLAY_PLAN_PIECE_GROUP_H
#define TURNLAY_PLAN_PIECE_GROUP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct PieceGroup {
    uint32_t first, count;
    const uint32_t *all; /* NULL: those from `first` on. Else `first` is the first of them */
} PieceGroup;

#define NO_PIECES ((PieceGroup){0})
PieceGroup one_piece(uint32_t piece);
/* `count` of them from the `first`-th on, one at least. */
PieceGroup part_of_group(PieceGroup group, uint32_t first, uint32_t count);
/* The i-th, below `count`. */
uint32_t group_piece(PieceGroup group, uint32_t i);
bool group_has(PieceGroup group, uint32_t piece);
/* The same pieces in the same order. */
bool same_group(PieceGroup a, PieceGroup b);

#endif
