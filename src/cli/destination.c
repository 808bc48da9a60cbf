#include "cli/destination.h"

#include "base/text.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { MOST_LINKS = 40 }; /* as Linux follows */

Destination destination_open(int descriptor, const char *given)
{
    Destination end = {.given = given, .kind = LEADS_TO_OPEN, .path = given, .descriptor = descriptor};
    end.exists = fstat(descriptor, &end.state) == 0;
    return end;
}

/* A path in two parts: the folder with its stroke, "" for the working folder, and the last name. */
typedef struct Parts {
    const char *folder, *name;
} Parts;

static Parts parts_of(Arena *arena, const char *path)
{
    const char *stroke = strrchr(path, '/');
    if (!stroke)
        return (Parts){"", path};
    return (Parts){text_format(arena, "%.*s", (int)(stroke - path) + 1, path), stroke + 1};
}

static bool is_number(const char *name) { return *name && strlen(name) < 8 && !name[strspn(name, "0123456789")]; }

/* /proc/self/fd and its kin: entries there look like links, but stand for what a process has open. */
typedef enum { PLAIN_FOLDER, OWN_DESCRIPTORS, FOREIGN_DESCRIPTORS } FolderKind;

static FolderKind kind_of_folder(const char *folder)
{
    static const char *const own[] = {"/proc/self/fd", "/proc/thread-self/fd"};
    char real[PATH_MAX], ours[PATH_MAX];
    if (!realpath(*folder ? folder : ".", real))
        return PLAIN_FOLDER;
    for (unsigned i = 0; i < sizeof own / sizeof *own; i++)
        if (realpath(own[i], ours) && strcmp(real, ours) == 0)
            return OWN_DESCRIPTORS;
    size_t length = strlen(real);
    bool foreign = strncmp(real, "/proc/", 6) == 0 && length > 3 && strcmp(real + length - 3, "/fd") == 0;
    return foreign ? FOREIGN_DESCRIPTORS : PLAIN_FOLDER;
}

static Destination nowhere(Destination end, int fault)
{
    end.kind = LEADS_NOWHERE;
    end.fault = fault;
    return end;
}

/* What stands at a path whose last name is no link, or not one to be followed. */
static Destination at_the_end(Destination end, const Parts *parts, bool foreign)
{
    if (stat(end.path, &end.state) == 0)
        end.exists = true;
    else if (errno != ENOENT)
        return nowhere(end, errno);
    if (end.exists && S_ISDIR(end.state.st_mode))
        return nowhere(end, EISDIR);
    if (foreign || (end.exists && !S_ISREG(end.state.st_mode)))
        end.kind = LEADS_TO_UNREPLACED;
    else if (stat(*parts->folder ? parts->folder : ".", &end.folder) != 0)
        return nowhere(end, errno);
    return end;
}

Destination destination_of(Arena *arena, const char *path)
{
    if (strcmp(path, "-") == 0)
        return destination_open(STDOUT_FILENO, "standard output");
    Destination end = {.given = path, .kind = LEADS_TO_FILE, .path = path};
    for (unsigned links = 0; links <= MOST_LINKS; links++) {
        Parts parts = parts_of(arena, end.path);
        FolderKind folder = is_number(parts.name) ? kind_of_folder(parts.folder) : PLAIN_FOLDER;
        if (folder == OWN_DESCRIPTORS)
            return destination_open(atoi(parts.name), path);
        char target[PATH_MAX];
        ssize_t length = folder == PLAIN_FOLDER ? readlink(end.path, target, sizeof target - 1) : -1;
        if (length < 0)
            return at_the_end(end, &parts, folder == FOREIGN_DESCRIPTORS);
        target[length] = 0;
        end.path =
            *target == '/' ? text_format(arena, "%s", target) : text_format(arena, "%s%s", parts.folder, target);
    }
    return nowhere(end, ELOOP);
}

static bool are_one(const struct stat *one, const struct stat *other)
{
    return one->st_dev == other->st_dev && one->st_ino == other->st_ino;
}

bool destinations_meet(const Destination *one, const Destination *other)
{
    if (one->kind == LEADS_NOWHERE || other->kind == LEADS_NOWHERE || one->exists != other->exists)
        return false;
    if (one->kind == LEADS_TO_OPEN && other->kind == LEADS_TO_OPEN && one->descriptor == other->descriptor)
        return true;
    if (one->exists)
        return are_one(&one->state, &other->state) && !S_ISCHR(one->state.st_mode);
    const char *name = strrchr(one->path, '/'), *other_name = strrchr(other->path, '/');
    return one->kind == LEADS_TO_FILE && other->kind == LEADS_TO_FILE && are_one(&one->folder, &other->folder)
           && strcmp(name ? name + 1 : one->path, other_name ? other_name + 1 : other->path) == 0;
}
