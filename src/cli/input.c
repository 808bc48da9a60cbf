#include "cli/input.h"

#include "base/limits.h"
#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PORTION = 64 * 1024 };

static Input unreadable(Arena *arena, int number)
{
    return (Input){.refusal = TURNLAY_FILE_UNREADABLE, .why = text_format(arena, "%s", strerror(number))};
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
