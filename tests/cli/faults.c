/* Stands before the C library while a test writes or reads: one call fails as it does on some disks, or a signal
 * comes in the middle.
 *
 * - FAULT_CALL: fchmod, fsync, close or read; close fails for regular files that were written to
 * - FAULT_NUMBER: the errno it fails with
 * - FAULT_FILE: of read, the end of the path that cannot be read
 * - FAULT_SIGNAL: the number of a signal that comes when a file is settled on the disk
 * - FAULT_FONTS: given, the search for fonts does not end
 * - FAULT_SETTLED: a file that gets a line, "file" or "folder", for each that is settled on the disk */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

static int fails(const char *call)
{
    const char *failing = getenv("FAULT_CALL"), *number = getenv("FAULT_NUMBER");
    if (!failing || !number || strcmp(failing, call) != 0)
        return 0;
    errno = atoi(number);
    return 1;
}

int fchmod(int descriptor, mode_t mode)
{
    return fails("fchmod") ? -1 : (int)syscall(SYS_fchmod, descriptor, mode);
}

static void note_settled(int descriptor)
{
    const char *path = getenv("FAULT_SETTLED");
    struct stat state;
    if (!path || fstat(descriptor, &state) != 0)
        return;
    FILE *notes = fopen(path, "a");
    fputs(S_ISDIR(state.st_mode) ? "folder\n" : "file\n", notes);
    fclose(notes);
}

int fsync(int descriptor)
{
    const char *number = getenv("FAULT_SIGNAL");
    note_settled(descriptor);
    if (number)
        raise(atoi(number));
    return fails("fsync") ? -1 : (int)syscall(SYS_fsync, descriptor);
}

static int reads_faulty_file(int descriptor)
{
    const char *file = getenv("FAULT_FILE");
    char link[32], path[4096];
    snprintf(link, sizeof link, "/proc/self/fd/%d", descriptor);
    ssize_t length = file ? readlink(link, path, sizeof path - 1) : -1;
    if (length < (ssize_t)(file ? strlen(file) : 0))
        return 0;
    path[length] = 0;
    return strcmp(path + length - strlen(file), file) == 0;
}

ssize_t read(int descriptor, void *bytes, size_t count)
{
    if (reads_faulty_file(descriptor) && fails("read"))
        return -1;
    return syscall(SYS_read, descriptor, bytes, count);
}

int close(int descriptor)
{
    struct stat state;
    int written = (fcntl(descriptor, F_GETFL) & O_ACCMODE) != O_RDONLY && fstat(descriptor, &state) == 0
                  && S_ISREG(state.st_mode);
    int result = (int)syscall(SYS_close, descriptor);
    return written && fails("close") ? -1 : result;
}

/* fontconfig's, called by pango in a thread of its own. */
int FcInit(void)
{
    while (getenv("FAULT_FONTS"))
        pause();
    return 1;
}
