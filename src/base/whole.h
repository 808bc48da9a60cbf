/* Whole numbers of what arithmetic may have left a hair beside them. */
#ifndef TURNLAY_BASE_WHOLE_H
#define TURNLAY_BASE_WHOLE_H

#include <stdbool.h>

/* What lies no further than this from a whole number is meant to be it: sums and quotients of lengths that are
 * written are off by less, and nothing that is written differs by as little. */
#define WHOLE_HAIR 1e-9

/* The last whole number not above it, and the first not below it. */
double whole_below(double number);
double whole_above(double number);
/* So is what is no number: another finding has said what is wrong with it. */
bool is_whole(double number);

#endif
