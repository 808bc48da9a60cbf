/* What takes cairo, PDF sheets and PNG pictures, is printed apart from this process: by another program, and there
 * in a process of its own. */
#ifndef TURNLAY_CLI_HAND_OVER_H
#define TURNLAY_CLI_HAND_OVER_H

#include "base/buffer.h"
#include "cli/arguments.h"
#include "cli/cli.h"
#include "cli/compile.h"

/* If a PDF or PNG is asked for that this program cannot write, the one that can does all that the command line
 * says, and this call waits for it: true, and the exit code. False if the work is this program's own.
 * EXIT_WRONG_USE, said on standard error, if there is no such program; EXIT_MACHINE, said too, if it could not
 * start or broke off. A signal that ends programs goes to that one first, and then ends this one. */
bool hand_over(const Arguments *arguments, char **words, ExitCode *code);

/* The sheet as a PDF or the picture as a PNG, printed in a process of its own, because glib ends its process by a
 * signal where memory runs out. Anything but EXIT_CLEAN has been said on standard error, or is a finding of the
 * compilation's (EXIT_FINDINGS), and what is in the buffer then is not to be used. */
ExitCode print_apart(Buffer *out, const Arguments *arguments, const Compiled *compiled);

#endif
