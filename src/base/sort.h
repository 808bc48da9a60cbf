/* Sorting. */
#ifndef TURNLAY_BASE_SORT_H
#define TURNLAY_BASE_SORT_H

#include <stdint.h>

/* For qsort's functions: below 0 where a comes before b, above where it comes after, 0 where neither does. */
#define ORDER(a, b) (((a) > (b)) - ((a) < (b)))

/* Makes the numbers rise. */
void sort_numbers(double *numbers, uint32_t count);

#endif
