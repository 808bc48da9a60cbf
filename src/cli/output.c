#include "cli/output.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void output_prepare(void)
{
    /* A closed stream is opened the wrong way round, so that using it fails as it should. */
    static const int wrong_way[3] = {O_WRONLY, O_RDONLY, O_RDONLY};
    for (int stream = 0; stream < 3; stream++)
        if (fcntl(stream, F_GETFD) < 0 && errno == EBADF)
            open("/dev/null", wrong_way[stream]);
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
}

/* A reader may have set its pipe so that a full one does not wait: then we do. */
static bool may_go_on(int descriptor, int number)
{
    struct pollfd ready = {.fd = descriptor, .events = POLLOUT};
    return number == EINTR || (number == EAGAIN && (poll(&ready, 1, -1) > 0 || errno == EINTR));
}

static bool write_all(int descriptor, const Buffer *bytes)
{
    for (size_t done = 0; done < bytes->length;) {
        ssize_t written = write(descriptor, bytes->bytes + done, bytes->length - done);
        if (written < 0 && !may_go_on(descriptor, errno))
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

/* Some file systems give all their files one mode and refuse another. That costs nobody the output: until then
 * only the owner may read it. Of a file that was there before, people are told. */
static void set_mode(int descriptor, const Destination *end)
{
    mode_t mode = end->exists ? end->state.st_mode & 0777 : usual_mode();
    struct stat state;
    if (fchmod(descriptor, mode) == 0 || !end->exists)
        return;
    int number = errno;
    if (fstat(descriptor, &state) != 0 || (state.st_mode & 0777) != mode)
        say("%s is written, but who may read it could not be kept: %s", end->given, strerror(number));
}

/* Down to the disk. Some file systems have nothing to be settled, and say so. */
static bool settle(int descriptor)
{
    return fsync(descriptor) == 0 || errno == EINVAL || errno == ENOSYS || errno == ENOTSUP || errno == EROFS;
}

/* Fills the temporary file and gives it its place. errno tells what failed. */
static bool fill_and_rename(int descriptor, const char *temporary, const Destination *end, const Buffer *bytes)
{
    bool good = write_all(descriptor, bytes);
    if (good)
        set_mode(descriptor, end);
    good = good && settle(descriptor);
    int number = errno;
    if (close(descriptor) != 0 && good) {
        good = false;
        number = errno;
    }
    if (good && rename(temporary, end->path) == 0)
        return true;
    if (!good)
        errno = number;
    return false;
}

/* All that can wait, so that no temporary file is left by a program that ended in the middle; but a fault of the
 * program's own must not wait. */
static sigset_t interrupts(void)
{
    static const int faults[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGTRAP, SIGSYS, SIGABRT};
    sigset_t set;
    sigfillset(&set);
    for (unsigned i = 0; i < sizeof faults / sizeof *faults; i++)
        sigdelset(&set, faults[i]);
    return set;
}

/* Writes a temporary file beside the path and renames it. */
static bool replace_file(Arena *arena, const Destination *end, const Buffer *bytes)
{
    const char *slash = strrchr(end->path, '/');
    int length = slash ? (int)(slash - end->path) + 1 : 0;
    const char *folder = length ? text_format(arena, "%.*s", length, end->path) : ".";
    char *temporary = arena_take(arena, (size_t)length + sizeof ".turnlay-XXXXXX");
    memcpy(temporary, end->path, (size_t)length);
    strcpy(temporary + length, ".turnlay-XXXXXX");

    sigset_t waiting = interrupts(), before;
    sigprocmask(SIG_BLOCK, &waiting, &before);
    int descriptor = mkostemp(temporary, O_CLOEXEC);
    bool good = descriptor >= 0 && fill_and_rename(descriptor, temporary, end, bytes);
    int number = errno;
    if (good)
        settle_folder(folder);
    else if (descriptor >= 0)
        unlink(temporary);
    sigprocmask(SIG_SETMASK, &before, NULL);
    errno = number;
    return good;
}

/* Closes it, too: some file systems tell only then that the disk is full. */
static bool write_and_close(int descriptor, const Buffer *bytes)
{
    if (descriptor < 0)
        return false;
    bool good = write_all(descriptor, bytes);
    int number = errno;
    if (close(descriptor) != 0 && good)
        return false;
    errno = number;
    return good;
}

static bool write_file(Arena *arena, const Destination *end, const Buffer *bytes)
{
    /* Renaming would get past a file that its owner has made read-only. */
    if (end->exists && faccessat(AT_FDCWD, end->path, W_OK, AT_EACCESS) != 0)
        return false;
    return replace_file(arena, end, bytes);
}

/* To what cannot be replaced. Should it be a file that another process has open, what is in it stays. */
static bool write_unreplaced(const char *path, const Buffer *bytes)
{
    return write_and_close(open(path, O_WRONLY | O_APPEND | O_CLOEXEC | O_NOCTTY), bytes);
}

/* Through a second descriptor, so that ours stays open for whoever shares it. */
static bool write_open(int descriptor, const Buffer *bytes)
{
    return write_and_close(fcntl(descriptor, F_DUPFD_CLOEXEC, 0), bytes);
}

static bool write_to(Arena *arena, const Destination *end, const Buffer *bytes)
{
    switch (end->kind) {
    case LEADS_TO_FILE: return write_file(arena, end, bytes);
    case LEADS_TO_OPEN: return write_open(end->descriptor, bytes);
    case LEADS_TO_UNREPLACED: return write_unreplaced(end->path, bytes);
    case LEADS_NOWHERE: break;
    }
    errno = end->fault;
    return false;
}

/* Whoever reads our standard output and stops, as `head` and a pager do, has seen enough. */
static bool reader_has_enough(const Destination *end, int number)
{
    return number == EPIPE && end->kind == LEADS_TO_OPEN && end->descriptor == STDOUT_FILENO;
}

ExitCode output_write(Arena *arena, const Destination *end, const Buffer *bytes)
{
    bool good = write_to(arena, end, bytes) || reader_has_enough(end, errno);
    return good ? EXIT_CLEAN : failed(end->given, errno);
}

ExitCode output_print(Arena *arena, const Buffer *bytes)
{
    Destination standard = destination_of(arena, "-");
    return output_write(arena, &standard, bytes);
}

void output_messages(const Buffer *bytes) { write_all(STDERR_FILENO, bytes); }

ExitCode output_finish(void) { return close(STDOUT_FILENO) == 0 ? EXIT_CLEAN : failed("standard output", errno); }
