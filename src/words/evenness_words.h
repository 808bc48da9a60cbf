/* How even a fade looks, in words. */
#ifndef TURNLAY_WORDS_EVENNESS_WORDS_H
#define TURNLAY_WORDS_EVENNESS_WORDS_H

#include "plan/evenness.h"

/* "from 2 m: off by at most 31 % of the way; largest jump 2.12; above 3 shows as a line". What is "at most" is
 * rounded up. `turns`: of the fade. */
const char *evenness_words(Arena *arena, const Bench *bench, const FadeLook *look, uint32_t turns);

#endif
