/* Inside the meaning room: the bench. */
#ifndef TURNLAY_MEANING_BENCH_SETTINGS_H
#define TURNLAY_MEANING_BENCH_SETTINGS_H

#include "meaning/evaluate.h"

/* The bench that counts for the compiled file, with defaults for what is not written; sets the evaluator's units.
 */
Bench bench_read(Evaluator *evaluator, const Module *main);

#endif
