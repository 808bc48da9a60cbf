/* From a FILE of the command line to a compilation: reads it and all that it uses. */
#ifndef TURNLAY_CLI_COMPILE_H
#define TURNLAY_CLI_COMPILE_H

#include "cli/arguments.h"

typedef struct Compiled {
    const char *shown; /* the FILE, as people see it */
    TurnlayCompilation *compilation;
    TurnlayStatus status;        /* of turnlay_finish: DONE, HAS_ERRORS or NOT_MEASURED */
    LIST_OF(const char *) files; /* what was to be read, each once, the FILE first; no standard input */
} Compiled;

/* Everything but the compilation lives in the arena, and running out of memory ends in its trap. */
Compiled compile_file(Arena *arena, const Arguments *arguments, const char *file);
void compile_end(Compiled *compiled);

#endif
