#include "base/sort.h"

#include <stdlib.h>

static int by_size(const void *left, const void *right)
{
    const double *a = left, *b = right;
    return ORDER(*a, *b);
}

void sort_numbers(double *numbers, uint32_t count)
{
    if (count)
        qsort(numbers, count, sizeof *numbers, by_size);
}

uint32_t *numbers_by_key(Arena *arena, const uint32_t *keys, uint32_t count, uint32_t key_count)
{
    uint32_t *next = arena_take_many(arena, (size_t)key_count + 1, sizeof *next);
    uint32_t *numbers = arena_take_many(arena, count, sizeof *numbers);
    for (uint32_t i = 0; i < count; i++)
        next[keys[i] + 1]++;
    for (uint32_t key = 0; key < key_count; key++)
        next[key + 1] += next[key];
    for (uint32_t i = 0; i < count; i++)
        numbers[next[keys[i]]++] = i;
    return numbers;
}
