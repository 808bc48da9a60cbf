/* What is said of threads that are chosen by their colours. */
#ifndef TURNLAY_PLAN_SHADE_WORDS_H
#define TURNLAY_PLAN_SHADE_WORDS_H

#include "plan/shades.h"

/* "Shades from navy to foam"; "Shades of all threads". */
const char *shades_title(Arena *arena, const Shades *shades);
/* What a step that is too large lacks: "a shade is missing between navy and foam: something near #7a94c2". */
const char *missing_words(Arena *arena, const Shades *shades, const ShadeStep *step);
/* To whom two shades look the same: "all eyes"; "red-blind and green-blind eyes". */
const char *pair_eyes(Arena *arena, const ShadePair *pair);
/* By whose eyes what the page lists would be mistaken: "some eyes" of every kind, "any eyes" where nothing is
 * listed; or "green-blind eyes". */
const char *mistaking_eyes(const Shades *shades);
/* "[navy, slate, foam]": the walk as a fade takes it. */
const char *walk_list(Arena *arena, const Shades *shades);

#endif
