/* turnlay: from the command line to a verb, and back to an exit code. */
#include "base/table.h"
#include "cli/hand_over.h"
#include "cli/help.h"
#include "cli/output.h"
#include "cli/verbs.h"
#include "cli/version.h"

typedef ExitCode VerbRun(Arena *arena, const Arguments *arguments);

#define RUNS(X)                                                                                                   \
    X(CHECK, run_on_files)                                                                                        \
    X(PLAN, run_on_files)                                                                                         \
    X(NEED, run_on_files)                                                                                         \
    X(SHEET, run_on_files)                                                                                        \
    X(DRAW, run_on_files)                                                                                         \
    X(SHADES, run_on_files)                                                                                       \
    X(GATHER, run_on_files)                                                                                       \
    X(EXPLAIN, run_explain)                                                                                       \
    X(NEW, run_new)

static VerbRun *const runs[VERB_COUNT] = {
#define X(name, ...) [VERB_##name] = __VA_ARGS__,
    RUNS(X)
#undef X
};
_Static_assert(TABLE_ROWS(RUNS) == VERB_COUNT - 1, "every verb is run by something");

static ExitCode run(Arena *arena, int count, char **words)
{
    Arguments arguments;
    Buffer page;
    buffer_start(&page, arena);
    if (!arguments_read(&arguments, arena, count, words)) {
        help_usage(&page, arguments.verb);
        output_messages(&page);
        return EXIT_WRONG_USE;
    }
    if (!arguments.help && !arguments.version) {
        ExitCode code;
        return hand_over(&arguments, words, &code) ? code : runs[arguments.verb](arena, &arguments);
    }
    if (arguments.help)
        help_page(&page, arguments.verb);
    else
        buffer_format(&page, "%s\n", version_text);
    return output_print(arena, &page);
}

int main(int count, char **words)
{
    output_prepare();
    Trap trap = {0};
    if (setjmp(*trap_set(&trap)) != 0) {
        say("this machine has no memory left");
        return EXIT_MACHINE;
    }
    Arena arena;
    arena_start(&arena, &trap);
    ExitCode code = run(&arena, count, words);
    arena_end(&arena);
    trap_clear(&trap);
    return (int)worse(code, output_finish());
}
