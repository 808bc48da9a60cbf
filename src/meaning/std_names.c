#include "meaning/std_names.h"

#include "base/text.h"

#include <ctype.h>
#include <string.h>

const char *std_file_with(const char *name, bool pattern)
{
    for (const StdName *one = std_names; one->file; one++)
        if (one->pattern == pattern && strcmp(one->name, name) == 0)
            return one->file;
    return NULL;
}

/* The last part of a path, in small letters, without an ending. */
static void plain_path(char *plain, size_t room, const char *path)
{
    size_t length = 0, start = 0;
    for (size_t i = 0; path[i]; i++)
        if (strchr("/\\:", path[i]))
            start = i + 1;
    for (path += start; *path && *path != '.' && length + 1 < room; path++)
        plain[length++] = (char)tolower((unsigned char)*path);
    plain[length] = 0;
}

const char *std_file_named(const char *path)
{
    char plain[24];
    plain_path(plain, sizeof plain, path);
    const char *nearest = NULL;
    bool library = strncmp(path, "std", 3) == 0; /* of others, only a file called just so is meant */
    unsigned best = !library ? 1 : strlen(plain) < 4 ? 2 : 3;
    for (const StdName *one = std_names; one->file; one++) {
        unsigned distance = text_distance(plain, strchr(one->file, '/') + 1, best);
        if (distance < best && distance < strlen(plain)) {
            best = distance;
            nearest = one->file;
        }
    }
    return nearest;
}

const char *path_meant(Arena *arena, const char *path)
{
    size_t length = strlen(path);
    char *meant = arena_copy(arena, path, length + 1);
    for (char *at = meant; *at; at++)
        *at = *at == '\\' ? '/' : (char)tolower((unsigned char)*at);
    while (*meant == '/' || (*meant == '.' && meant[1] == '/'))
        meant += *meant == '/' ? 1 : 2;
    char *ending = strrchr(meant, '.');
    if (ending && !strchr(ending, '/')
        && (strchr(meant, '/') || strcmp(ending, ".lay") == 0 || strcmp(ending, ".txt") == 0))
        *ending = 0;
    for (char *at = meant; *at && !strchr(meant, '/'); at++)
        if (*at == '.')
            *at = '/';
    return *meant && !strstr(meant, "..") && strcmp(meant, path) != 0 ? meant : NULL;
}
