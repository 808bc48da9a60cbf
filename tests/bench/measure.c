/* How long a command takes, and how much memory: started by something small, since a process is reckoned to have
 * had what its parent had when it was forked.
 *
 *     measure TIMES COMMAND...
 *
 * prints the best of that many runs in microseconds by the clock, the processor's share of that run, and the most
 * memory that any of them had resident, in kB. The command's own output is thrown away; exit code 0 or 1 is as it
 * should be. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e6 + (double)time.tv_nsec / 1e3;
}

static double microseconds(struct timeval time) { return (double)time.tv_sec * 1e6 + (double)time.tv_usec; }

static struct rusage run(char **command)
{
    pid_t process = fork();
    if (process == 0) {
        int nowhere = open("/dev/null", O_WRONLY);
        dup2(nowhere, STDOUT_FILENO);
        dup2(nowhere, STDERR_FILENO);
        execvp(command[0], command);
        _exit(127);
    }
    int status;
    struct rusage usage;
    if (process < 0 || wait4(process, &status, 0, &usage) != process || !WIFEXITED(status)
        || WEXITSTATUS(status) > 1) {
        fprintf(stderr, "measure: %s failed\n", command[0]);
        exit(3);
    }
    return usage;
}

int main(int words, char **word)
{
    if (words < 3)
        return 2;
    double best = 0, processor = 0;
    long resident = 0;
    for (int i = 0; i < atoi(word[1]); i++) {
        double begun = now();
        struct rusage usage = run(word + 2);
        double taken = now() - begun;
        if (i == 0 || taken < best) {
            best = taken;
            processor = microseconds(usage.ru_utime) + microseconds(usage.ru_stime);
        }
        if (usage.ru_maxrss > resident)
            resident = usage.ru_maxrss;
    }
    printf("%.0f %.0f %ld\n", best, processor, resident);
    return 0;
}
