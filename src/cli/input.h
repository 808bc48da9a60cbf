/* Reading: the only place where a pattern file's bytes come in. */
#ifndef TURNLAY_CLI_INPUT_H
#define TURNLAY_CLI_INPUT_H

#include "base/buffer.h"
#include "turnlay.h"

/* How standard input is shown to people. */
#define INPUT_STANDARD "<input>"

typedef struct Input {
    bool read;              /* false: refusal and why say what is the matter */
    TurnlayRefusal refusal; /* TURNLAY_FILE_UNREADABLE or TURNLAY_FILE_TOO_LARGE */
    const char *why;        /* a few words for people */
    bool machine;           /* it is the machine that fails, not the file that cannot be read */
    Buffer text;
} Input;

/* A regular file of at most LIMIT_FILE_BYTES. Anything else (folder, pipe, device) is not opened for reading. */
Input input_file(Arena *arena, const char *path);
/* Standard input, to the same limit. */
Input input_standard(Arena *arena);
/* A pattern file in the same folder whose name is so near that it may be meant, as a path; NULL if there is none.
 */
const char *near_file(Arena *arena, const char *path);

#endif
