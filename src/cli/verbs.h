/* What each verb does with what was compiled. */
#ifndef TURNLAY_CLI_VERBS_H
#define TURNLAY_CLI_VERBS_H

#include "cli/arguments.h"
#include "cli/cli.h"

/* check, plan, need, draw, gather: every FILE, one after the other. */
ExitCode run_on_files(Arena *arena, const Arguments *arguments);
/* explain. */
ExitCode run_explain(Arena *arena, const Arguments *arguments);
/* new: a pattern to begin with, in a file that is not there yet. */
ExitCode run_new(Arena *arena, const Arguments *arguments);

#endif
