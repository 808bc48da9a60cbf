/* Halving, where something is sought in what is in order. */
#ifndef TURNLAY_BASE_HALFWAY_H
#define TURNLAY_BASE_HALFWAY_H

#include <stdint.h>

/* Of places from low on, below high: the one to look at next. low < high. */
static inline uint32_t halfway(uint32_t low, uint32_t high) { return low + (high - low) / 2; }

#endif
