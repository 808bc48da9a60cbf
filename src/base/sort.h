/* Sorting that takes no memory elsewhere, unlike qsort of the C library. */
#ifndef TURNLAY_BASE_SORT_H
#define TURNLAY_BASE_SORT_H

#include <stdint.h>

/* Makes the numbers rise. spare: room for as many. Quick where they are mostly in order. */
void sort_numbers(double *numbers, double *spare, uint32_t count);

#endif
