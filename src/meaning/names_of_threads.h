/* Threads by the names that the compiled file knows them by: "navy", "shop.foam". */
#ifndef TURNLAY_MEANING_NAMES_OF_THREADS_H
#define TURNLAY_MEANING_NAMES_OF_THREADS_H

#include "meaning/job.h"
#include "meaning/module.h"

typedef struct ThreadName {
    const char *name;
    const Thread *thread;
} ThreadName;

typedef struct ThreadNames {
    ThreadName *names; /* of one thread there may be several */
    uint32_t count;
    const char **written; /* by Thread.index: how the file may write it, the first of its names; of one that it
                             does not know, the name on pages */
} ThreadNames;

ThreadNames names_of_threads(Arena *arena, const Modules *modules, const Job *job, const Findings *findings);
/* The thread of that name, also of one on pages; NULL where there is none. */
const Thread *thread_of_name(const ThreadNames *known, const Job *job, const char *name);
/* The name that is nearest to it, NULL where none is near. */
const char *thread_name_near(const ThreadNames *known, const char *name);

#endif
