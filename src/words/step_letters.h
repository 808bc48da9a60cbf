/* How long the sentences of step_words.c are, for whoever folds actions into steps. */
#ifndef TURNLAY_WORDS_STEP_LETTERS_H
#define TURNLAY_WORDS_STEP_LETTERS_H

#include "bench/bench.h"

/* Of a plan's threads. */
const StepLetters *step_letters(Arena *arena, const Plan *plan);

#endif
