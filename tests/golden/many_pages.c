/* turnlay for many pages of a file: starting it and compiling the file takes half the time of most pages. It is
 * the program itself, linked with `--wrap=main,--wrap=compile_file`: the file is compiled once, at the first
 * command line; each page is made by the program's own main, in a process of its own, so that what was compiled
 * stays untouched for the next one.
 *
 *   many_pages SOCKET < FILE > PAGES 2> WORDS
 *
 * From the socket come command lines, one a line, their words with tabs between. Those that one compilation serves
 * stand together, with an empty line behind them. For each its exit code (after a signal that number, negative)
 * goes back, and where it ends in PAGES and WORDS. */
#include "cli/compile.h"

#include <getopt.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

int __real_main(int count, char **words);
int __wrap_main(int count, char **words);
ExitCode __real_compile_file(Compiled *compiled, Arena *arena, const Arguments *arguments, const char *file);
ExitCode __wrap_compile_file(Compiled *compiled, Arena *arena, const Arguments *arguments, const char *file);

enum { MOST_WORDS = 100 };

/* A command line as main takes it. */
typedef struct CommandLine {
    int count;
    char *words[MOST_WORDS + 1];
} CommandLine;

static FILE *asked;                /* where command lines come from */
static int answers;                /* where answers go */
static CommandLine now;            /* the one that is answered */
static int pages;                  /* standard output, which the program closes */
static bool answered;              /* at least one of those that stand together */
static const Compiled *shared;     /* what they share; NULL: not compiled yet */
static const Arguments *served_by; /* what it was compiled for */

/* false at the end of all. The words stay where they are: what is compiled goes on to point at those that it was
 * compiled for. */
static bool read_command_line(void)
{
    char *text = NULL;
    size_t room = 0;
    if (getline(&text, &room, asked) < 0)
        return false;
    now.count = 0;
    text[strcspn(text, "\n")] = 0;
    for (char *rest = text, *word; now.count < MOST_WORDS && (word = strsep(&rest, "\t"));)
        if (*word || now.count)
            now.words[now.count++] = word;
    now.words[now.count] = NULL;
    return true;
}

static long long end_of(int descriptor) { return lseek(descriptor, 0, SEEK_CUR); }

static void answer(int code)
{
    dprintf(answers, "%d %lld %lld\n", code, end_of(pages), end_of(STDERR_FILENO));
    answered = true;
}

/* From its first word on, with the file to be read from its beginning. */
static int run_program(void)
{
    dup2(pages, STDOUT_FILENO);
    optind = 0;
    lseek(STDIN_FILENO, 0, SEEK_SET);
    return __real_main(now.count, now.words);
}

static void make_page(void)
{
    int status;
    pid_t process = fork();
    if (process == 0) {
        prctl(PR_SET_PDEATHSIG, SIGKILL);
        exit(run_program());
    }
    if (process < 0 || waitpid(process, &status, 0) < 0)
        abort();
    answer(WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status));
}

/* The options that stand together are the same ones; here it is enough that none is more and none is missing. */
static bool serves(const Arguments *arguments)
{
    const Arguments *other = served_by;
    return arguments->happened.count == other->happened.count && arguments->swaps.count == other->swaps.count
           && arguments->folders.count == other->folders.count && arguments->strict == other->strict
           && arguments->verbose == other->verbose && arguments->record == other->record
           && arguments->learned == other->learned;
}

ExitCode __wrap_compile_file(Compiled *compiled, Arena *arena, const Arguments *arguments, const char *file)
{
    if (shared && serves(arguments)) {
        *compiled = *shared;
        return EXIT_CLEAN;
    }
    ExitCode code = __real_compile_file(compiled, arena, arguments, file);
    if (shared || code != EXIT_CLEAN)
        return code;
    shared = compiled;
    served_by = arguments;
    do
        make_page();
    while (read_command_line() && now.count);
    shared = NULL;
    return EXIT_WRONG_USE; /* this one makes no page of its own */
}

int __wrap_main(int count, char **words)
{
    if (count != 2 || !(asked = fdopen(answers = atoi(words[1]), "r")))
        return EXIT_WRONG_USE;
    pages = dup(STDOUT_FILENO);
    while (read_command_line())
        if (now.count) {
            answered = false;
            int code = run_program();
            if (!answered) /* nothing was compiled */
                answer(code);
        }
    return EXIT_CLEAN;
}
