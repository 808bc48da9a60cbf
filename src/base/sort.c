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
