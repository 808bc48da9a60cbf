/* What tells threads apart that some eyes would take for the same: a pattern on their swatches. */
#ifndef TURNLAY_PLAN_THREAD_PATTERNS_H
#define TURNLAY_PLAN_THREAD_PATTERNS_H

#include "plan/mistakable.h"

enum { PATTERN_COUNT = 7 };

/* By number, for so many threads: 0, plain, for one that is in no pair; else one that no other of its pairs has,
 * as far as there are so many. */
unsigned *patterns_chosen(Arena *arena, const MistakablePairs *pairs, uint32_t threads);
/* "plain", "rising lines", "dots" ... */
const char *pattern_words(unsigned pattern);
/* The pattern's strokes as SVG path data (M, L, h and v alone) in a square of 24; "" for plain. */
const char *pattern_strokes(unsigned pattern);

#endif
