/* The meaning room: names, kinds, evaluation. Trees to a job. */
#ifndef TURNLAY_MEANING_MEANING_H
#define TURNLAY_MEANING_MEANING_H

#include "meaning/given_swaps.h"
#include "meaning/job.h"
#include "meaning/module.h"

/* Looks at every module; evaluates the first. Everything that can be made out is in the job, with findings for the
 * rest. What is wrong with a swap is said in `swaps`, and the others are made. */
Job *meaning_job(Arena *arena, Texts *texts, const Sources *sources, const Modules *modules, Findings *findings,
                 GivenSwaps *swaps);

#endif
