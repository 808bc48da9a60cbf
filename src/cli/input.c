#include "cli/input.h"

#include "base/limits.h"
#include "base/text.h"
#include "cli/paths.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PORTION = 64 * 1024 };

static bool is_of_machine(int number)
{
    static const int numbers[] = {EIO, ENOMEM, EMFILE, ENFILE, ENOBUFS};
    for (unsigned i = 0; i < sizeof numbers / sizeof *numbers; i++)
        if (numbers[i] == number)
            return true;
    return false;
}

static Input unreadable(Arena *arena, int number)
{
    return (Input){.refusal = number == ENOENT ? TURNLAY_FILE_NOT_FOUND : TURNLAY_FILE_UNREADABLE,
                   .why = number == EISDIR ? "it is a folder" : text_format(arena, "%s", strerror(number)),
                   .machine = is_of_machine(number)};
}

/* Reads up to the limit and one byte more, so that a text that is too large is told from one that just fits. */
static Input read_all(Arena *arena, int descriptor)
{
    Input input = {.read = true};
    buffer_start(&input.text, arena);
    while (input.text.length <= LIMIT_FILE_BYTES) {
        char *at = buffer_room(&input.text, PORTION);
        size_t room = input.text.room - input.text.length, left = LIMIT_FILE_BYTES + 1 - input.text.length;
        ssize_t got = read(descriptor, at, left < room ? left : room);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return unreadable(arena, errno);
        if (got == 0) {
            *buffer_room(&input.text, 1) = 0;
            return input;
        }
        input.text.length += (size_t)got;
    }
    return (Input){.refusal = TURNLAY_FILE_TOO_LARGE,
                   .why = text_format(arena, "it is larger than %u MiB", LIMIT_FILE_BYTES >> 20)};
}

static const char *kind_of_file(mode_t mode)
{
    return S_ISDIR(mode)    ? "it is a folder"
           : S_ISFIFO(mode) ? "it is a pipe, not a file; - reads standard input"
                            : "it is a device, not a file";
}

Input input_file(Arena *arena, const char *path)
{
    struct stat state;
    if (stat(path, &state) != 0)
        return unreadable(arena, errno);
    if (!S_ISREG(state.st_mode))
        return (Input){.refusal = TURNLAY_FILE_UNREADABLE, .why = kind_of_file(state.st_mode)};
    /* Should a pipe have taken the file's place meanwhile, O_NONBLOCK keeps it from holding us up. */
    int descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    if (descriptor < 0)
        return unreadable(arena, errno);
    Input input = read_all(arena, descriptor);
    close(descriptor);
    return input;
}

Input input_standard(Arena *arena) { return read_all(arena, STDIN_FILENO); }

const char *near_file(Arena *arena, const char *path)
{
    const char *stroke = strrchr(path, '/'), *name = stroke ? stroke + 1 : path;
    const char *folder = stroke ? text_format(arena, "%.*s", (int)(name - path), path) : "";
    const char *ended = is_pattern_file(name) ? name : text_format(arena, "%s" PATTERN_ENDING, name);
    const char *nearest = NULL;
    unsigned distance = 3;
    DIR *entries = opendir(*folder ? folder : ".");
    for (struct dirent *entry; entries && (entry = readdir(entries));) {
        if (!is_pattern_file(entry->d_name))
            continue;
        unsigned other = text_distance(ended, entry->d_name, 2);
        bool first_of_alike = nearest && other == distance && strcmp(entry->d_name, nearest) < 0;
        if (other < distance || first_of_alike)
            nearest = text_format(arena, "%s", entry->d_name);
        distance = other < distance ? other : distance;
    }
    if (entries)
        closedir(entries);
    return nearest ? text_format(arena, "%s%s", folder, nearest) : NULL;
}
