#include "cli/output.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void output_prepare(void)
{
    /* A closed stream is opened the wrong way round, so that using it fails as it should. */
    static const int wrong_way[] = {O_WRONLY, O_RDONLY, O_RDONLY};
    for (int stream = 0; stream < 3; stream++)
        if (fcntl(stream, F_GETFD) < 0 && errno == EBADF)
            open("/dev/null", wrong_way[stream]);
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
}

static bool write_all(int descriptor, const Buffer *bytes)
{
    for (size_t done = 0; done < bytes->length;) {
        ssize_t written = write(descriptor, bytes->bytes + done, bytes->length - done);
        if (written < 0 && errno != EINTR)
            return false;
        if (written > 0)
            done += (size_t)written;
    }
    return true;
}

static ExitCode failed(const char *path, int number)
{
    say("cannot write %s: %s", path, strerror(number));
    return EXIT_MACHINE;
}

/* The folder's entry for the new name may still be in memory only. Some file systems cannot do this; the
 * file itself is safe by then. */
static void settle_folder(const char *folder)
{
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        return;
    fsync(descriptor);
    close(descriptor);
}

static mode_t usual_mode(void)
{
    mode_t mask = umask(0);
    umask(mask);
    return 0666 & ~mask;
}

/* Fills the temporary file and gives it its place. errno tells what failed. */
static bool fill_and_rename(int descriptor, const char *temporary, const char *path, mode_t mode,
                            const Buffer *bytes)
{
    bool good = write_all(descriptor, bytes) && fchmod(descriptor, mode) == 0 && fsync(descriptor) == 0;
    int number = errno;
    if (close(descriptor) != 0 && good) {
        good = false;
        number = errno;
    }
    if (good && rename(temporary, path) == 0)
        return true;
    if (!good)
        errno = number;
    return false;
}

/* Writes a temporary file beside the path and renames it. Interrupting signals wait meanwhile, so that the
 * temporary never stays behind. */
static bool replace_file(Arena *arena, const char *path, mode_t mode, const Buffer *bytes)
{
    const char *slash = strrchr(path, '/');
    int length = slash ? (int)(slash - path) + 1 : 0;
    const char *folder = length ? text_format(arena, "%.*s", length, path) : ".";
    char *temporary = arena_take(arena, (size_t)length + sizeof ".turnlay-XXXXXX");
    memcpy(temporary, path, (size_t)length);
    strcpy(temporary + length, ".turnlay-XXXXXX");

    sigset_t interrupts, before;
    sigemptyset(&interrupts);
    sigaddset(&interrupts, SIGINT);
    sigaddset(&interrupts, SIGTERM);
    sigaddset(&interrupts, SIGHUP);
    sigprocmask(SIG_BLOCK, &interrupts, &before);
    int descriptor = mkostemp(temporary, O_CLOEXEC);
    bool good = descriptor >= 0 && fill_and_rename(descriptor, temporary, path, mode, bytes);
    int number = errno;
    if (good)
        settle_folder(folder);
    else if (descriptor >= 0)
        unlink(temporary);
    sigprocmask(SIG_SETMASK, &before, NULL);
    errno = number;
    return good;
}

/* Devices and pipes cannot be replaced, only written to. */
static bool write_special(const char *path, const Buffer *bytes)
{
    int descriptor = open(path, O_WRONLY | O_CLOEXEC | O_NOCTTY);
    if (descriptor < 0)
        return false;
    bool good = write_all(descriptor, bytes);
    int number = errno;
    if (close(descriptor) != 0 && good)
        return false;
    errno = number;
    return good;
}

static ExitCode write_file(Arena *arena, const char *path, const Buffer *bytes)
{
    struct stat state;
    mode_t mode = usual_mode();
    char real[PATH_MAX];
    const char *target = path;
    if (lstat(path, &state) == 0) {
        /* A link keeps its place; what it leads to is replaced. */
        if (!realpath(path, real) || stat(real, &state) != 0)
            return failed(path, errno);
        target = real;
        if (S_ISDIR(state.st_mode))
            return failed(path, EISDIR);
        if (!S_ISREG(state.st_mode))
            return write_special(path, bytes) ? EXIT_CLEAN : failed(path, errno);
        /* Renaming would get past a file that its owner has made read-only. */
        if (faccessat(AT_FDCWD, real, W_OK, AT_EACCESS) != 0)
            return failed(path, errno);
        mode = state.st_mode & 0777;
    }
    return replace_file(arena, target, mode, bytes) ? EXIT_CLEAN : failed(path, errno);
}

ExitCode output_write(Arena *arena, const char *path, const Buffer *bytes)
{
    if (path && strcmp(path, "-") != 0)
        return write_file(arena, path, bytes);
    return write_all(STDOUT_FILENO, bytes) ? EXIT_CLEAN : failed("standard output", errno);
}

void output_messages(const Buffer *bytes) { write_all(STDERR_FILENO, bytes); }

ExitCode output_finish(void) { return close(STDOUT_FILENO) == 0 ? EXIT_CLEAN : failed("standard output", errno); }
