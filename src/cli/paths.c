#include "cli/paths.h"

#include "base/buffer.h"
#include "base/text.h"
#include "cli/project.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define STANDARD_PREFIX "std/"

/* Without strokes at the end and "./" at the start, so that one file has one spelling; "" is the working
 * folder. */
static const char *tidy_folder(Arena *arena, const char *folder, size_t length)
{
    while (length > 1 && folder[length - 1] == '/')
        length--;
    while (length >= 2 && folder[0] == '.' && folder[1] == '/')
        for (folder++, length--; length && *folder == '/';)
            folder++, length--;
    if (length == 1 && *folder == '.')
        length = 0;
    return text_format(arena, "%.*s", (int)length, folder);
}

static bool is_folder(const char *path)
{
    struct stat state;
    return stat(path, &state) == 0 && S_ISDIR(state.st_mode);
}

/* The standard library that belongs to this very program: installed beside it, or in the tree that it was
 * built in; else where it was to be installed. */
static const char *standard_folder(Arena *arena)
{
    static const char *const beside[] = {"../share/turnlay/stdlib", "../stdlib"};
    char program[PATH_MAX], real[PATH_MAX];
    ssize_t length = readlink("/proc/self/exe", program, sizeof program);
    while (length > 0 && program[length - 1] != '/')
        length--;
    for (unsigned i = 0; i < 2 && length > 0 && length < PATH_MAX; i++) {
        const char *folder = text_format(arena, "%.*s%s", (int)length, program, beside[i]);
        if (is_folder(folder) && realpath(folder, real))
            return text_format(arena, "%s", real);
    }
    return TURNLAY_STDLIB;
}

/* Where the file lies. */
static const char *folder_of(Arena *arena, const char *file)
{
    const char *stroke = strrchr(file, '/');
    return tidy_folder(arena, file, stroke ? (size_t)(stroke - file) + 1 : 0);
}

Folders folders_of(Arena *arena, const Arguments *arguments, const char *file)
{
    const char *own = folder_of(arena, file), *root = marked_folder(arena, own);
    Folders folders = {.standard = standard_folder(arena), .home = root ? root : own};
    for (uint32_t i = 0; i < arguments->folders.count; i++) {
        const char *folder = arguments->folders.items[i];
        *LIST_ADD(arena, &folders.given) = tidy_folder(arena, folder, strlen(folder));
    }
    const char *path = getenv("TURNLAY_PATH");
    while (path && *path) {
        size_t length = strcspn(path, ":");
        if (length) /* an empty entry is a slip, not the working folder */
            *LIST_ADD(arena, &folders.given) = tidy_folder(arena, path, length);
        path += length + (path[length] == ':');
    }
    return folders;
}

bool is_pattern_file(const char *name)
{
    size_t length = strlen(name);
    return length > sizeof PATTERN_ENDING - 1
           && strcmp(name + length - (sizeof PATTERN_ENDING - 1), PATTERN_ENDING) == 0;
}

static bool is_allowed(const char *name)
{
    if (!*name || *name == '/' || strchr(name, '\\'))
        return false;
    for (const char *part = name; part; part = strchr(part, '/')) {
        part += *part == '/';
        if (strncmp(part, "..", 2) == 0 && (part[2] == '/' || !part[2]))
            return false;
    }
    return true;
}

static bool lies_within(const char *real, const char *real_folder)
{
    size_t length = strlen(real_folder);
    if (length == 1) /* the root folder itself */
        return true;
    return strncmp(real, real_folder, length) == 0 && real[length] == '/';
}

/* Whether the one is the other, or lies in it. */
static bool is_in_folder(const char *folder, const char *other)
{
    char real[PATH_MAX], real_other[PATH_MAX];
    return realpath(*folder ? folder : ".", real) && realpath(*other ? other : ".", real_other)
           && (strcmp(real, real_other) == 0 || lies_within(real, real_other));
}

/* A project that was sent may lie within one's own, or in a folder of -I. What lies above these is nobody's. */
static const char *project_of(Arena *arena, const Folders *folders, const char *folder)
{
    const char *root = marked_folder(arena, folder);
    bool allowed = root && is_in_folder(root, folders->home);
    for (uint32_t i = 0; root && !allowed && i < folders->given.count; i++)
        allowed = is_in_folder(root, folders->given.items[i]);
    return allowed ? root : NULL;
}

typedef struct Search {
    Arena *arena;
    Buffer sought; /* the folders so far, for people */
    Found found;
} Search;

/* What stands between a folder and the name of a file in it. */
static const char *stroke_behind(const char *folder) { return *folder && strcmp(folder, "/") != 0 ? "/" : ""; }

static const char *join(Arena *arena, const char *folder, const char *name)
{
    return text_format(arena, "%s%s%s" PATTERN_ENDING, folder, stroke_behind(folder), name);
}

/* true: the search ends here, with a file or with a reason to refuse it. */
static bool seek_in(Search *search, const char *folder, const char *shown, const char *name)
{
    Arena *arena = search->arena;
    buffer_format(&search->sought, "%s%s", search->sought.length ? ", " : "looked for in ",
                  *folder ? folder : "the working folder");
    const char *path = join(arena, folder, name);
    char real[PATH_MAX], real_folder[PATH_MAX];
    if (!realpath(path, real) || !realpath(*folder ? folder : ".", real_folder)) {
        if (errno == ENOENT || errno == ENOTDIR || errno == ENAMETOOLONG)
            return false;
        search->found = (Found){.refusal = TURNLAY_FILE_UNREADABLE,
                                .why = text_format(arena, "%s: %s", path, strerror(errno))};
    } else if (!lies_within(real, real_folder)) {
        search->found = (Found){.refusal = TURNLAY_FILE_OUTSIDE,
                                .why = text_format(arena, "%s is a link that leads out of its folder", path)};
    } else {
        search->found =
            (Found){.shown = join(arena, shown, name), .path = path, .real = text_format(arena, "%s", real)};
    }
    return true;
}

static bool begins_with(const char *text, const char *beginning)
{
    return strncmp(text, beginning, strlen(beginning)) == 0;
}

static bool seek_beside(Search *search, const Folders *folders, const char *from, const char *name)
{
    const char *shown = folder_of(search->arena, from), *folder = shown;
    if (begins_with(from, STANDARD_SHOWN "/"))
        folder = text_format(search->arena, "%s%s", folders->standard, shown + strlen(STANDARD_SHOWN));
    return seek_in(search, folder, shown, name);
}

static bool seek_in_project(Search *search, const char *root, const char *name)
{
    bool found = seek_in(search, root, root, name);
    buffer_text(&search->sought, " (the project's root)");
    if (search->found.shown)
        search->found.mark = text_format(search->arena, "%s%s" PROJECT_MARK, root, stroke_behind(root));
    return found;
}

/* Where the file lies above, which nobody has allowed to be read: NULL if it does not, or may not be allowed. */
static const char *folder_above_with(Arena *arena, const Folders *folders, const char *from, const char *name)
{
    const char *folder = folder_of(arena, from);
    struct stat state;
    if (!is_in_folder(folder, folders->home))
        return NULL;
    while ((folder = folder_above(arena, folder)))
        if (stat(join(arena, folder, name), &state) == 0 && S_ISREG(state.st_mode))
            return *folder ? folder : "the working folder";
    return NULL;
}

static Found found_nowhere(Search *search, const Folders *folders, const char *from, const char *name, bool rooted)
{
    const char *above = rooted ? NULL : folder_above_with(search->arena, folders, from, name);
    if (above)
        buffer_format(&search->sought, "; it lies above, in %s", above);
    return (Found){.refusal = above ? TURNLAY_FILE_ABOVE : TURNLAY_FILE_NOT_FOUND,
                   .why = text_format(search->arena, "%.*s", (int)search->sought.length, search->sought.bytes)};
}

Found find_used(Arena *arena, const Folders *folders, const char *from, const char *name)
{
    if (!is_allowed(name))
        return (Found){.refusal = TURNLAY_FILE_OUTSIDE,
                       .why = "a path begins with a name and never holds .. or a backslash"};
    Search search = {.arena = arena};
    buffer_start(&search.sought, arena);
    if (seek_beside(&search, folders, from, name))
        return search.found;
    const char *beside = folder_of(arena, from), *root = project_of(arena, folders, beside);
    if (root && !same_folder(root, beside) && seek_in_project(&search, root, name))
        return search.found;
    for (uint32_t i = 0; i < folders->given.count; i++)
        if (seek_in(&search, folders->given.items[i], folders->given.items[i], name))
            return search.found;
    if (begins_with(name, STANDARD_PREFIX)
        && seek_in(&search, folders->standard, STANDARD_SHOWN, name + strlen(STANDARD_PREFIX)))
        return search.found;
    return found_nowhere(&search, folders, from, name, root);
}
