/* Writing: every byte that leaves the program, but for messages on standard error, goes through here. */
#ifndef TURNLAY_CLI_OUTPUT_H
#define TURNLAY_CLI_OUTPUT_H

#include "base/buffer.h"
#include "cli/cli.h"
#include "cli/destination.h"

/* Makes sure that writing to a closed pipe, or beyond a size limit, is an error and not the program's end,
 * and that no file opened later takes the number of a closed standard stream. Call first. */
void output_prepare(void);
/* A regular file is replaced as a whole or not at all, whatever signal comes; all else is written to. Says what
 * went wrong and gives EXIT_MACHINE, else EXIT_CLEAN; that too where whoever reads standard output reads no more.
 */
ExitCode output_write(Arena *arena, const Destination *end, const Buffer *bytes);
/* The same to standard output. */
ExitCode output_print(Arena *arena, const Buffer *bytes);
/* To standard error; failures have nowhere to be told. */
void output_messages(const Buffer *bytes);
/* Closes standard output: some file systems tell only then that the disk is full. */
ExitCode output_finish(void);

#endif
