/* Sorting. */
#ifndef TURNLAY_BASE_SORT_H
#define TURNLAY_BASE_SORT_H

#include "base/arena.h"

#include <stdint.h>

/* For qsort's functions: below 0 where a comes before b, above where it comes after, 0 where neither does. */
#define ORDER(a, b) (((a) > (b)) - ((a) < (b)))

/* Makes the numbers rise. */
void sort_numbers(double *numbers, uint32_t count);
/* 0 to count - 1 by their keys, which are below key_count; those of one key stay in their order. */
uint32_t *numbers_by_key(Arena *arena, const uint32_t *keys, uint32_t count, uint32_t key_count);

#endif
