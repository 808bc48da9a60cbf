/* What another program does for this one. */
#ifndef TURNLAY_CLI_HAND_OVER_H
#define TURNLAY_CLI_HAND_OVER_H

#include "cli/arguments.h"
#include "cli/cli.h"

/* If a PDF is asked for that this program cannot write, the one that can takes the same command line over, and
 * this call does not return. EXIT_WRONG_USE, said on standard error, if there is none. */
ExitCode hand_over_pdf(const Arguments *arguments, char **words);

#endif
