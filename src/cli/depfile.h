/* A file for make: which files a result rests on. */
#ifndef TURNLAY_CLI_DEPFILE_H
#define TURNLAY_CLI_DEPFILE_H

#include "base/buffer.h"

/* Why GNU make cannot read a file's name, however it is spelled, in a few words for people; NULL if it can. */
const char *depfile_fault(const char *name);
/* "target: files", then an empty rule for each file but the first so many, so that a used file may vanish without
 * make stopping. No name may have a fault. */
void depfile_write(Buffer *out, const char *target, const char *const *files, uint32_t count, uint32_t required);

#endif
