/* PDF sheets and PNG pictures are written by turnlay-pdf, the same program linked with cairo and pango, which lies
 * beside this one. Both may die: the loader where it finds no room for so many libraries, glib where it gets no
 * memory. Whoever waits for them has an answer all the same. */
#include "cli/hand_over.h"

#include "base/limits.h"
#include "cli/rod.h"
#include "pdf_page.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

/* What is written with cairo, what it is called, and what can be had without. */
typedef struct Printed {
    Format format;
    const char *name;
    const char *way_out; /* where memory runs out */
    const char *instead; /* where there is no cairo */
} Printed;
static const Printed printed[] = {
    {FORMAT_PDF, "PDF", "--format html takes less and prints as well", "--format html prints as well"},
    {FORMAT_PNG, "PNG", "--format svg takes less and shows the same", "--format svg shows the same"},
};
enum { PRINTED_KINDS = sizeof printed / sizeof *printed };

/* NULL for what is written without. */
static const Printed *printed_of(const Arguments *arguments)
{
    bool has_page =
        arguments->verb == VERB_SHEET || arguments->verb == VERB_DRAW || arguments->verb == VERB_SHADES;
    for (int i = 0; has_page && i < PRINTED_KINDS; i++)
        if (printed[i].format == arguments->format)
            return &printed[i];
    return NULL;
}

/* What ends a program that does not look at it, and whoever sends it means both programs. */
static const int passed_on[] = {SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGALRM, SIGUSR1, SIGUSR2, SIGXCPU};
enum { PASSED_ON = sizeof passed_on / sizeof *passed_on };

static volatile sig_atomic_t writer; /* the process that signals are passed on to */

static void pass_on(int number) { kill(writer, number); }

/* A signal that is ignored here, as under nohup, is ignored there too. */
static void pass_signals_on(pid_t process)
{
    writer = process;
    for (int i = 0; i < PASSED_ON; i++)
        sigaction(passed_on[i], &(struct sigaction){.sa_handler = pass_on}, NULL);
}

static void end_likewise(int number)
{
    for (int i = 0; i < PASSED_ON; i++)
        if (passed_on[i] == number) {
            signal(number, SIG_DFL);
            raise(number);
        }
}

/* fork, its end to be waited for even where our caller ignores the ends of its processes. */
static pid_t start_process(void)
{
    signal(SIGCHLD, SIG_DFL);
    return fork();
}

/* The status of waitpid; -1 if there is none. */
static int wait_for(pid_t process)
{
    int status;
    while (waitpid(process, &status, 0) < 0)
        if (errno != EINTR)
            return -1;
    return status;
}

static ExitCode code_of_writer(const Printed *wanted, int status)
{
    if (status >= 0 && WIFEXITED(status) && WEXITSTATUS(status) <= EXIT_MACHINE)
        return (ExitCode)WEXITSTATUS(status);
    if (status >= 0 && WIFSIGNALED(status))
        end_likewise(WTERMSIG(status));
    say("no %s was made: turnlay-pdf, which writes it, did not start or broke off; most likely this machine has too "
        "little memory left for it; %s",
        wanted->name, wanted->way_out);
    return EXIT_MACHINE;
}

static ExitCode run_writer(const Printed *wanted, const char *program, char **words)
{
    sigset_t all, before;
    sigfillset(&all);
    sigprocmask(SIG_SETMASK, &all, &before);
    pid_t process = start_process();
    if (process == 0) {
        prctl(PR_SET_PDEATHSIG, SIGTERM);
        sigprocmask(SIG_SETMASK, &before, NULL);
        execv(program, words);
        _exit(EXIT_MACHINE + 1);
    }
    int number = errno;
    if (process > 0)
        pass_signals_on(process);
    sigprocmask(SIG_SETMASK, &before, NULL);
    if (process > 0)
        return code_of_writer(wanted, wait_for(process));
    say("no %s was made: turnlay-pdf cannot be started: %s", wanted->name, strerror(number));
    return EXIT_MACHINE;
}

bool hand_over(const Arguments *arguments, char **words, ExitCode *code)
{
    const Printed *wanted = printed_of(arguments);
    if (!wanted || pdf_page_is_built_in())
        return false;
    char program[PATH_MAX];
    ssize_t length = readlink("/proc/self/exe", program, sizeof program - sizeof "-pdf");
    if (length > 0)
        snprintf(program + length, sizeof program - (size_t)length, "-pdf");
    if (length > 0 && access(program, X_OK) == 0) {
        *code = run_writer(wanted, program, words);
    } else {
        say("this turnlay was built without cairo and pango and cannot write %s; %s", wanted->name,
            wanted->instead);
        *code = EXIT_WRONG_USE;
    }
    return true;
}

/* How the process that prints ends, where it ends by itself; TOO_LARGE and the number of the limit. */
typedef enum { PRINTED, NO_FONT, NO_MEMORY, TOO_LARGE } Ending;

/* Its last words, and glib's, would be of functions and bytes; an image of its memory is of no use to anybody. */
static void keep_quiet(void)
{
    int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere >= 0)
        dup2(nowhere, STDERR_FILENO);
    setrlimit(RLIMIT_CORE, &(struct rlimit){0, 0});
}

/* Whoever gave it less time means that. Both limits: the signal of the first may be ignored. */
static void limit_time(void)
{
    struct rlimit time;
    if (getrlimit(RLIMIT_CPU, &time) == 0 && time.rlim_max > LIMIT_PRINT_SECONDS)
        setrlimit(RLIMIT_CPU,
                  &(struct rlimit){time.rlim_cur < LIMIT_PRINT_SECONDS ? time.rlim_cur : LIMIT_PRINT_SECONDS,
                                   LIMIT_PRINT_SECONDS});
}

static TurnlayStatus write_page(TurnlayText *page, const Arguments *arguments, const Compiled *compiled)
{
    if (arguments->format == FORMAT_PDF)
        return pdf_page_write(compiled->compilation, arguments->from_step, arguments->letter, page);
    if (arguments->verb == VERB_SHADES)
        return shades_png_write(compiled->compilation, arguments->width, page);
    return png_page_write(compiled->compilation, rod_asked_for(arguments, compiled), arguments->view,
                          arguments->scale, arguments->turned, arguments->width, page);
}

static unsigned print_into(int pipe_end, const Arguments *arguments, const Compiled *compiled)
{
    TurnlayText page;
    TurnlayStatus status = write_page(&page, arguments, compiled);
    if (status == TURNLAY_TOO_LARGE)
        return TOO_LARGE + pdf_page_limit(compiled->compilation);
    if (status != TURNLAY_DONE)
        return NO_MEMORY;
    if (!page.length)
        return NO_FONT;
    FILE *stream = fdopen(pipe_end, "w");
    bool sent = stream && fwrite(page.bytes, 1, page.length, stream) == page.length && fclose(stream) == 0;
    return sent ? PRINTED : NO_MEMORY;
}

static void gather(int pipe_end, Buffer *pages)
{
    char bytes[1 << 16];
    ssize_t count;
    while ((count = read(pipe_end, bytes, sizeof bytes)) != 0)
        if (count > 0)
            buffer_put(pages, bytes, (size_t)count);
        else if (errno != EINTR)
            break;
    close(pipe_end);
}

static ExitCode code_of_printing(int status, const Arguments *arguments, const Compiled *compiled)
{
    const Printed *wanted = printed_of(arguments);
    bool ended = status >= 0 && WIFEXITED(status);
    if (ended && WEXITSTATUS(status) == PRINTED)
        return EXIT_CLEAN;
    if (ended && WEXITSTATUS(status) > TOO_LARGE) {
        pdf_page_tell_limit(compiled->compilation, (unsigned)WEXITSTATUS(status) - TOO_LARGE);
        return EXIT_FINDINGS;
    }
    if (ended && WEXITSTATUS(status) == NO_FONT)
        say("no %s can be written: this machine has no font that pango finds", wanted->name);
    else if (ended || status < 0)
        say("no %s was made: this machine has too little memory left for it; %s", wanted->name, wanted->way_out);
    else
        say("no %s was made: printing broke off (signal %d), as it does where memory runs out; %s", wanted->name,
            WTERMSIG(status), wanted->way_out);
    return EXIT_MACHINE;
}

ExitCode print_apart(Buffer *out, const Arguments *arguments, const Compiled *compiled)
{
    int ends[2];
    pid_t process = pipe2(ends, O_CLOEXEC) == 0 ? start_process() : -1;
    if (process == 0) {
        prctl(PR_SET_PDEATHSIG, SIGKILL);
        close(ends[0]);
        keep_quiet();
        limit_time();
        _exit((int)print_into(ends[1], arguments, compiled));
    }
    if (process < 0) {
        say("no %s was made: no process can be started to print it: %s", printed_of(arguments)->name,
            strerror(errno));
        return EXIT_MACHINE;
    }
    close(ends[1]);
    gather(ends[0], out);
    return code_of_printing(wait_for(process), arguments, compiled);
}
