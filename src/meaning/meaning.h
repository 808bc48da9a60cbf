/* The meaning room: names, kinds, evaluation. Trees to a job. */
#ifndef TURNLAY_MEANING_MEANING_H
#define TURNLAY_MEANING_MEANING_H

#include "meaning/job.h"
#include "meaning/module.h"

typedef struct Modules {
    LIST_OF(Module *) list; /* the compiled file first, each module once */
    const Module *sizes;    /* std/sizes, or NULL */
} Modules;

/* Looks at every module; evaluates the first. Everything that can be made out is in the job, with findings for the
 * rest. */
Job *meaning_job(Arena *arena, Texts *texts, const Sources *sources, const Modules *modules, Findings *findings);

#endif
