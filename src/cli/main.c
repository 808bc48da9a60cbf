/* turnlay: from the command line to a verb, and back to an exit code. */
#include "cli/hand_over.h"
#include "cli/help.h"
#include "cli/output.h"
#include "cli/verbs.h"
#include "cli/version.h"

typedef ExitCode VerbRun(Arena *arena, const Arguments *arguments);

static VerbRun *const runs[VERB_COUNT] = {
    [VERB_CHECK] = run_on_files,  [VERB_PLAN] = run_on_files, [VERB_NEED] = run_on_files,
    [VERB_SHEET] = run_on_files,  [VERB_DRAW] = run_on_files, [VERB_FOLD] = run_on_files,
    [VERB_EXPLAIN] = run_explain,
};

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
        return hand_over_pdf(&arguments, words, &code) ? code : runs[arguments.verb](arena, &arguments);
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
    if (setjmp(trap.jump)) {
        say("this machine has no memory left");
        return EXIT_MACHINE;
    }
    Arena arena;
    arena_start(&arena, &trap);
    ExitCode code = run(&arena, count, words);
    arena_end(&arena);
    return (int)worse(code, output_finish());
}
