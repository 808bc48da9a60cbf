/* A file for make: which files a result rests on. */
#ifndef TURNLAY_CLI_DEPFILE_H
#define TURNLAY_CLI_DEPFILE_H

#include "base/buffer.h"

#include <stdbool.h>

/* "target: files", then an empty rule for each file but the first, so that a used file may vanish without make
 * stopping. false if a name holds a line break, for which make has no spelling. */
bool depfile_write(Buffer *out, const char *target, const char *const *files, uint32_t count);

#endif
