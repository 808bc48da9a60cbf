#include "cli/project.h"

#include "base/text.h"

#include <string.h>
#include <sys/stat.h>

static const char *path_of(const char *folder) { return *folder ? folder : "."; }

static const char *in_folder(Arena *arena, const char *folder, const char *name)
{
    const char *stroke = *folder && strcmp(folder, "/") != 0 ? "/" : "";
    return text_format(arena, "%s%s%s", folder, stroke, name);
}

bool same_folder(const char *folder, const char *other)
{
    struct stat one, two;
    return stat(path_of(folder), &one) == 0 && stat(path_of(other), &two) == 0 && one.st_dev == two.st_dev
           && one.st_ino == two.st_ino;
}

/* The path without its last part. */
static const char *cut_short(Arena *arena, const char *folder)
{
    const char *stroke = strrchr(folder, '/');
    size_t length = stroke ? (size_t)(stroke - folder) : 0;
    while (length > 1 && folder[length - 1] == '/')
        length--;
    return text_format(arena, "%.*s", (int)length, folder);
}

const char *folder_above(Arena *arena, const char *folder)
{
    const char *above = in_folder(arena, folder, ".."), *stroke = strrchr(folder, '/');
    struct stat state;
    if (stat(above, &state) != 0 || same_folder(folder, above))
        return NULL;
    if (!*folder || strcmp(stroke ? stroke + 1 : folder, "..") == 0)
        return above;
    const char *shorter = cut_short(arena, folder);
    return same_folder(shorter, above) ? shorter : above;
}

/* A link would say of one folder what is meant of another. */
static bool is_marked(Arena *arena, const char *folder)
{
    struct stat state;
    return lstat(in_folder(arena, folder, PROJECT_MARK), &state) == 0 && S_ISREG(state.st_mode);
}

const char *marked_folder(Arena *arena, const char *folder)
{
    while (folder && !is_marked(arena, folder))
        folder = folder_above(arena, folder);
    return folder;
}
