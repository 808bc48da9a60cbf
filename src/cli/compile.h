/* From a FILE of the command line to a compilation: reads it and all that it uses. */
#ifndef TURNLAY_CLI_COMPILE_H
#define TURNLAY_CLI_COMPILE_H

#include "cli/arguments.h"
#include "cli/cli.h"

typedef struct Compiled {
    const char *shown; /* the FILE, as people see it */
    TurnlayCompilation *compilation;
    TurnlayStatus status;        /* of turnlay_finish: DONE, HAS_ERRORS, NOT_SWAPPED or NOT_MEASURED */
    LIST_OF(const char *) files; /* what was to be read or looked at, each once, the FILE first */
} Compiled;

/* EXIT_CLEAN, and what came of it; or, said on standard error, EXIT_WRONG_USE where the FILE is none that can be
 * read, EXIT_MACHINE where a disk failed: then there is a compilation to be freed at most. Everything but the
 * compilation lives in the arena, and running out of memory ends in its trap. */
ExitCode compile_file(Compiled *compiled, Arena *arena, const Arguments *arguments, const char *file);
void compile_end(Compiled *compiled);

#endif
