/* What the parts of the program share: its exit codes and how it talks to people. */
#ifndef TURNLAY_CLI_CLI_H
#define TURNLAY_CLI_CLI_H

/* In rising order: of several files the worst counts. */
typedef enum {
    EXIT_CLEAN,     /* done; there may be warnings and notes */
    EXIT_FINDINGS,  /* findings of error level */
    EXIT_WRONG_USE, /* the command line cannot be meant so */
    EXIT_MACHINE    /* disk full, no memory, an output that cannot be written; or turnlay itself is at fault */
} ExitCode;

ExitCode worse(ExitCode a, ExitCode b);
/* One line on standard error, "turnlay: ...". What file names may hold and a terminal would obey is
 * shown by signs. */
void say(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif
