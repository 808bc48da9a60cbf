/* Where what is made of one FILE goes: its page, and the rules for make beside it. */
#ifndef TURNLAY_CLI_OUTLETS_H
#define TURNLAY_CLI_OUTLETS_H

#include "base/buffer.h"
#include "cli/arguments.h"
#include "cli/cli.h"
#include "cli/compile.h"
#include "cli/destination.h"

typedef struct Outlets {
    Destination page;
    bool with_rules;
    Destination rules;
    /* Without an output of its own the file of rules is what make keeps in step: it stands on the left itself. */
    bool rules_are_made;
} Outlets;

/* false after having said why the command line cannot be meant so: one of the two would fall on a file that was
 * read, on the other, or on what standard output or standard error write to. */
bool outlets_choose(Outlets *outlets, Arena *arena, const Arguments *arguments, const Compiled *compiled);
/* Writes the rules, and the page unless it is NULL (nothing was made). Whatever fails on the way, make sees
 * nothing fresh: what stands on the left of the rules is written last. so_far is how the compilation ended. */
ExitCode outlets_write(const Outlets *outlets, Arena *arena, const Compiled *compiled, const Buffer *page,
                       ExitCode so_far);

#endif
