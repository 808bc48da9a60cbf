/* A project: a folder with all below it, marked by a file in it, whose files may use one another from anywhere in
 * it. */
#ifndef TURNLAY_CLI_PROJECT_H
#define TURNLAY_CLI_PROJECT_H

#include "base/arena.h"

#include <stdbool.h>

/* The file that marks a project's root. It is never read, and may be empty. */
#define PROJECT_MARK "turnlay.root"

/* Folders are paths without a stroke at the end; "" is the working folder. Links in a path lead where they lead:
 * above a folder is what lies above the folder itself. */
bool same_folder(const char *folder, const char *other);
/* NULL above the topmost one, and where it cannot be looked at. */
const char *folder_above(Arena *arena, const char *folder);
/* The nearest folder that is marked: this one, or one above it; NULL if there is none. */
const char *marked_folder(Arena *arena, const char *folder);

#endif
