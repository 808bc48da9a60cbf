/* Where used files are found, and that nothing else can be read. */
#ifndef TURNLAY_CLI_PATHS_H
#define TURNLAY_CLI_PATHS_H

#include "cli/arguments.h"

/* Of a pattern file's name. */
#define PATTERN_ENDING ".lay"
bool is_pattern_file(const char *name);

typedef struct Folders {
    LIST_OF(const char *) given; /* of -I, then of TURNLAY_PATH */
    const char *standard;        /* the standard library's folder */
    const char *home;            /* that of the compiled file: its project's root, or where it lies */
} Folders;

/* How the standard library's folder is shown: pages say the same wherever the program is installed. */
#define STANDARD_SHOWN "<std>"

typedef struct Found {
    const char *shown; /* as shown to people; NULL if nothing may be read */
    const char *path;  /* the file's path as it was sought */
    const char *real;  /* the same free of links: what to open */
    const char *mark;  /* of the project's root that it was found by; NULL: it was found otherwise */
    /* Where shown is NULL: and a few words for people. */
    TurnlayRefusal refusal;
    const char *why;
} Found;

/* file: the one to compile, as people see it. */
Folders folders_of(Arena *arena, const Arguments *arguments, const char *file);
/* Seeks `use "name"` beside the using file (from), in its project's root, in the given folders, then in the
 * standard library. */
Found find_used(Arena *arena, const Folders *folders, const char *from, const char *name);

#endif
