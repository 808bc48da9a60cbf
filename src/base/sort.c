#include "base/sort.h"

#include <string.h>

/* Merges two rising halves. */
void sort_numbers(double *numbers, double *spare, uint32_t count)
{
    if (count < 2)
        return;
    uint32_t half = count / 2, left = 0, right = half;
    sort_numbers(numbers, spare, half);
    sort_numbers(numbers + half, spare, count - half);
    if (numbers[half - 1] <= numbers[half])
        return;
    for (uint32_t i = 0; i < count; i++)
        spare[i] = right == count || (left < half && numbers[left] <= numbers[right]) ? numbers[left++]
                                                                                      : numbers[right++];
    memcpy(numbers, spare, count * sizeof *numbers);
}
