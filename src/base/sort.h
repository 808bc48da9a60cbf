/* Sorting of numbers. */
#ifndef TURNLAY_BASE_SORT_H
#define TURNLAY_BASE_SORT_H

#include <stdint.h>

/* Makes the numbers rise. */
void sort_numbers(double *numbers, uint32_t count);

#endif
