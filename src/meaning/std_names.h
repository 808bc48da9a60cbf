/* What the standard library's files declare, for mends: made from stdlib/ by std_names.awk. */
#ifndef TURNLAY_MEANING_STD_NAMES_H
#define TURNLAY_MEANING_STD_NAMES_H

#include "base/arena.h"

#include <stdbool.h>

typedef struct StdName {
    const char *file, *name; /* "std/trims", "pinstripe"; the last row is NULL */
    bool pattern;
} StdName;
extern const StdName std_names[];

/* The file that declares the pattern or other name; NULL if none does. */
const char *std_file_with(const char *name, bool pattern);
/* The file that is very likely meant: "std/trims" for "trims", "Trims.lay" and "std/trim"; NULL if none is near.
 */
const char *std_file_named(const char *path);

/* The path without what it cannot have: an ending, a backslash, a / or ./ before it, capitals. NULL if nothing of
 * that is in it. */
const char *path_meant(Arena *arena, const char *path);

#endif
