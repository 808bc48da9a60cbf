/* The pages of --help and the usage, printed from the tables of arguments.h. */
#ifndef TURNLAY_CLI_HELP_H
#define TURNLAY_CLI_HELP_H

#include "base/buffer.h"
#include "cli/arguments.h"

/* The page of a verb, or of the program for VERB_NONE. */
void help_page(Buffer *out, VerbKind verb);
/* The line or lines that say how it is called. */
void help_usage(Buffer *out, VerbKind verb);

#endif
