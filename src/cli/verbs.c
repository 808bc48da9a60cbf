#include "cli/verbs.h"

#include "base/visible.h"
#include "cli/compile.h"
#include "cli/hand_over.h"
#include "cli/outlets.h"
#include "cli/output.h"
#include "cli/rod.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The library's names for the command line's formats. PDF and PNG are no pages of the library's. */
static const TurnlayFormat formats[FORMAT_COUNT] = {
    [FORMAT_TEXT] = TURNLAY_TEXT,        [FORMAT_JSON] = TURNLAY_JSON,        [FORMAT_CSV] = TURNLAY_CSV,
    [FORMAT_HTML] = TURNLAY_HTML,        [FORMAT_PDF] = TURNLAY_FORMAT_COUNT, [FORMAT_SVG] = TURNLAY_TEXT,
    [FORMAT_PNG] = TURNLAY_FORMAT_COUNT, [FORMAT_LAY] = TURNLAY_TEXT,
};

static TurnlayStatus write_plan(const Arguments *arguments, const Compiled *compiled, TurnlayText *page)
{
    return turnlay_write_plan(compiled->compilation, formats[arguments->format], page);
}

static TurnlayStatus write_need(const Arguments *arguments, const Compiled *compiled, TurnlayText *page)
{
    return turnlay_write_need(compiled->compilation, formats[arguments->format], page);
}

static TurnlayStatus write_sheet(const Arguments *arguments, const Compiled *compiled, TurnlayText *page)
{
    turnlay_show_depth(compiled->compilation, arguments->depth);
    return turnlay_write_sheet(compiled->compilation, formats[arguments->format], arguments->from_step, page);
}

static TurnlayStatus write_drawing(const Arguments *arguments, const Compiled *compiled, TurnlayText *page)
{
    uint32_t rod = rod_asked_for(arguments, compiled);
    if (arguments->template)
        return turnlay_write_template(compiled->compilation, rod, page);
    return turnlay_write_drawing(compiled->compilation, rod, arguments->view, arguments->scale, arguments->turned,
                                 page);
}

static TurnlayStatus write_shades(const Arguments *arguments, const Compiled *compiled, TurnlayText *page)
{
    if (arguments->format == FORMAT_SVG)
        return turnlay_write_shades_drawing(compiled->compilation, page);
    return turnlay_write_shades(compiled->compilation, formats[arguments->format], page);
}

static TurnlayStatus write_gathered(const Arguments *arguments, const Compiled *compiled, TurnlayText *page)
{
    if (!arguments->kept)
        return turnlay_write_gathered(compiled->compilation, page);
    uint32_t left = 0;
    TurnlayStatus status = turnlay_write_kept(compiled->compilation, page, &left);
    if (status == TURNLAY_DONE && left)
        say("%s: %u %s not kept and %s `by: eye`; `turnlay check -v %s` says why (T321)", compiled->shown, left,
            left == 1 ? "fade is" : "fades are", left == 1 ? "stays" : "stay", compiled->shown);
    return status;
}

typedef TurnlayStatus Writer(const Arguments *arguments, const Compiled *compiled, TurnlayText *page);

/* The result that goes to the output; check has none but its findings. */
static Writer *const writers[VERB_COUNT] = {
    [VERB_PLAN] = write_plan,    [VERB_NEED] = write_need,       [VERB_SHEET] = write_sheet,
    [VERB_DRAW] = write_drawing, [VERB_GATHER] = write_gathered, [VERB_SHADES] = write_shades,
};

static TurnlaySummary summary_of(const Compiled *compiled)
{
    TurnlaySummary summary = {0};
    turnlay_summary(compiled->compilation, &summary);
    return summary;
}

/* What a picture needs and the file has not. */
static ExitCode drawing_fits(const Arguments *arguments, const Compiled *compiled, uint32_t rod)
{
    TurnlayRod about = {0};
    turnlay_rod(compiled->compilation, rod, &about);
    if (arguments->template && !about.has_template) {
        say("%s has no crosswrap on this rod, and a template is a crosswrap's; leave out --view", compiled->shown);
        return EXIT_WRONG_USE;
    }
    uint32_t rods = summary_of(compiled).rods;
    if (!arguments->rod && rods > 1 && !arguments->quiet)
        say("%s has %u rods; this is the first%s%s, \"%s\" (--rod NAME draws another)", compiled->shown, rods,
            arguments->section ? " with " : "", arguments->section ? arguments->section : "", about.title);
    return EXIT_CLEAN;
}

static uint32_t steps_of(const Compiled *compiled)
{
    TurnlayRod rod;
    uint32_t steps = 0;
    for (uint32_t i = 0; turnlay_rod(compiled->compilation, i, &rod) == TURNLAY_DONE; i++)
        steps += rod.steps;
    return steps;
}

static ExitCode step_is_there(const Compiled *compiled, uint32_t step)
{
    uint32_t steps = steps_of(compiled);
    if (step <= steps)
        return EXIT_CLEAN;
    say("the sheet of %s has %u step%s; there is no step %u", compiled->shown, steps, steps == 1 ? "" : "s", step);
    return EXIT_WRONG_USE;
}

/* Both threads are there. */
static ExitCode shades_fit(const Arguments *arguments, const Compiled *compiled)
{
    TurnlayStatus status =
        turnlay_show_between(compiled->compilation, arguments->between[0], arguments->between[1]);
    if (status == TURNLAY_DONE)
        return EXIT_CLEAN;
    if (status == TURNLAY_NO_SUCH_THREAD) {
        say("%s: --between: %s", compiled->shown, turnlay_between_fault(compiled->compilation));
        return EXIT_WRONG_USE;
    }
    say("%s: %s", compiled->shown, turnlay_status_words(status));
    return EXIT_MACHINE;
}

/* Whether what the command line asks for is there. */
static ExitCode page_fits(const Arguments *arguments, const Compiled *compiled)
{
    turnlay_show_eyes(compiled->compilation, arguments->eyes);
    if (arguments->verb == VERB_SHADES)
        return shades_fit(arguments, compiled);
    bool draws = arguments->verb == VERB_DRAW;
    uint32_t rod = draws ? rod_asked_for(arguments, compiled) : NO_ROD;
    if (draws && rod == NO_ROD)
        return EXIT_WRONG_USE;
    if (!section_asked_for(arguments, compiled, arguments->rod ? rod : NO_ROD))
        return EXIT_WRONG_USE;
    if (draws)
        return drawing_fits(arguments, compiled, rod);
    return arguments->from_step > 1 ? step_is_there(compiled, arguments->from_step) : EXIT_CLEAN;
}

static ExitCode make_result(TurnlayText *page, const Arguments *arguments, const Compiled *compiled)
{
    TurnlayStatus status = writers[arguments->verb](arguments, compiled, page);
    if (status == TURNLAY_DONE)
        return EXIT_CLEAN;
    if (status == TURNLAY_TOO_LARGE) /* there is a finding */
        return EXIT_FINDINGS;
    say("%s: %s", compiled->shown, turnlay_status_words(status));
    return EXIT_MACHINE;
}

static bool is_to_terminal(const Arguments *arguments)
{
    bool to_standard = !arguments->output || strcmp(arguments->output, "-") == 0;
    return to_standard && isatty(STDOUT_FILENO);
}

/* Colour is for people at a terminal that shows it, and for those who did not forbid it (https://no-color.org). */
static bool wants_colour(const Arguments *arguments)
{
    const char *forbidden = getenv("NO_COLOR"), *terminal = getenv("TERM");
    bool to_terminal = arguments->verb == VERB_CHECK ? is_to_terminal(arguments) : isatty(STDERR_FILENO);
    return to_terminal && !(forbidden && *forbidden) && terminal && strcmp(terminal, "dumb") != 0;
}

/* Whoever looks at a terminal is told that nothing is wrong; programs have the exit code. */
static void put_success(Buffer *findings, const Arguments *arguments, const Compiled *compiled)
{
    TurnlaySummary summary = summary_of(compiled);
    if (summary.errors || summary.warnings || arguments->quiet || !is_to_terminal(arguments))
        return;
    buffer_text(findings, visible(findings->arena, compiled->shown));
    buffer_text(findings, " is in order");
    if (summary.rods)
        buffer_format(findings, ": %u rod%s, %u steps at the bench", summary.rods, summary.rods == 1 ? "" : "s",
                      steps_of(compiled));
    buffer_text(findings, "\n");
}

static Buffer findings_page(Arena *arena, const Arguments *arguments, const Compiled *compiled)
{
    bool json = arguments->verb == VERB_CHECK ? arguments->format == FORMAT_JSON : arguments->json_findings;
    TurnlayFormat format = json ? TURNLAY_JSON : wants_colour(arguments) ? TURNLAY_TERMINAL : TURNLAY_TEXT;
    TurnlayShown shown = arguments->quiet     ? TURNLAY_SHOW_ERRORS
                         : arguments->verbose ? TURNLAY_SHOW_ALL
                                              : TURNLAY_SHOW_GROUPED;
    turnlay_show_findings(compiled->compilation, shown);
    TurnlayText page;
    if (turnlay_write_findings(compiled->compilation, format, &page) != TURNLAY_DONE)
        arena_exhausted(arena);
    Buffer findings;
    buffer_start(&findings, arena);
    buffer_put(&findings, page.bytes, page.length);
    turnlay_text_free(&page);
    if (arguments->verb == VERB_CHECK && !json)
        put_success(&findings, arguments, compiled);
    return findings;
}

/* A file of patterns alone is as it should be for `check` and `need`, which note it; of `gather` and `shades`
 * nobody expects a rod; without one there is nothing to plan, to wind or to draw. */
static void expect_rod(Arena *arena, const Arguments *arguments, Compiled *compiled)
{
    static const TurnlaySeverity severities[VERB_COUNT] = {
        [VERB_CHECK] = TURNLAY_NOTE,  [VERB_NEED] = TURNLAY_NOTE,  [VERB_PLAN] = TURNLAY_ERROR,
        [VERB_SHEET] = TURNLAY_ERROR, [VERB_DRAW] = TURNLAY_ERROR,
    };
    if (compiled->status != TURNLAY_DONE || arguments->verb == VERB_GATHER || arguments->verb == VERB_SHADES)
        return;
    compiled->status = turnlay_expect_rod(compiled->compilation, severities[arguments->verb]);
    if (compiled->status == TURNLAY_OUT_OF_MEMORY)
        arena_exhausted(arena);
}

/* Something is left out and no finding says why: no page is made of the rest, and whoever wrote the file is asked
 * for it. */
static ExitCode report_loss(const Compiled *compiled)
{
    TurnlayPlace place;
    turnlay_lost(compiled->compilation, &place);
    say("this is a bug in turnlay, not in your pattern: what stands at line %u of %s is left out, and no finding says "
        "why. Nothing was written. Please send the file in, with what it uses, so that turnlay can be mended",
        place.line, place.file ? place.file : compiled->shown);
    return EXIT_MACHINE;
}

/* Nothing is written, and why has been said: after the findings, but for what the command line asks for. */
static ExitCode refuse(const char *file, const Compiled *compiled, const Buffer *findings)
{
    if (compiled->status == TURNLAY_LOST) {
        output_messages(findings);
        return report_loss(compiled);
    }
    if (compiled->status == TURNLAY_NOT_SWAPPED) {
        say("%s: --swap %s", file, turnlay_swap_fault(compiled->compilation));
        return EXIT_WRONG_USE;
    }
    if (compiled->status == TURNLAY_NOT_HAPPENED) {
        say("%s: --mishap: %s", file, turnlay_mishap_fault(compiled->compilation));
        return EXIT_WRONG_USE;
    }
    uint32_t step = turnlay_step_not_measured(compiled->compilation);
    if (step_is_there(compiled, step) == EXIT_CLEAN)
        say("no width is measured in step %u of the sheet; `turnlay sheet %s` has a line to write on at those that do",
            step, file);
    return EXIT_WRONG_USE;
}

/* The page that goes to the output, made into the buffer or, of a library's page, borrowed from `text`. */
static ExitCode make_page(Buffer *page, TurnlayText *text, const Arguments *arguments, const Compiled *compiled)
{
    ExitCode code = page_fits(arguments, compiled);
    if (code != EXIT_CLEAN)
        return code;
    if (arguments->format == FORMAT_PDF || arguments->format == FORMAT_PNG)
        return print_apart(page, arguments, compiled);
    code = make_result(text, arguments, compiled);
    page->bytes = text->bytes;
    page->length = text->length;
    return code;
}

static ExitCode write_all(Arena *arena, const Arguments *arguments, const Compiled *compiled,
                          const Buffer *findings)
{
    Outlets outlets;
    Buffer page;
    TurnlayText text = {NULL, 0};
    buffer_start(&page, arena);
    if (!outlets_choose(&outlets, arena, arguments, compiled))
        return EXIT_WRONG_USE;
    ExitCode code = compiled->status == TURNLAY_HAS_ERRORS ? EXIT_FINDINGS : EXIT_CLEAN;
    const Buffer *result = arguments->verb == VERB_CHECK ? findings : NULL;
    if (!result) {
        if (code == EXIT_CLEAN)
            code = make_page(&page, &text, arguments, compiled);
        /* Made after the page, since that may be too large. */
        Buffer told = findings_page(arena, arguments, compiled);
        if (code != EXIT_WRONG_USE) /* of which one line is said, and not buried */
            output_messages(&told);
        result = code == EXIT_CLEAN ? &page : NULL;
    }
    if (code < EXIT_WRONG_USE)
        code = outlets_write(&outlets, arena, compiled, result, code);
    turnlay_text_free(&text);
    return code;
}

static ExitCode write_compiled(Arena *arena, const Arguments *arguments, const char *file, Compiled *compiled)
{
    expect_rod(arena, arguments, compiled);
    Buffer findings = findings_page(arena, arguments, compiled);
    bool refused = compiled->status == TURNLAY_LOST || compiled->status == TURNLAY_NOT_MEASURED
                   || compiled->status == TURNLAY_NOT_HAPPENED || compiled->status == TURNLAY_NOT_SWAPPED;
    return refused ? refuse(file, compiled, &findings) : write_all(arena, arguments, compiled, &findings);
}

static ExitCode run_on_file(Arena *arena, const Arguments *arguments, const char *file)
{
    Compiled compiled;
    ExitCode code = compile_file(&compiled, arena, arguments, file);
    if (code == EXIT_CLEAN)
        code = write_compiled(arena, arguments, file, &compiled);
    compile_end(&compiled);
    return code;
}

ExitCode run_on_files(Arena *arena, const Arguments *arguments)
{
    ExitCode code = EXIT_CLEAN;
    for (uint32_t i = 0; i < arguments->operands.count && code < EXIT_MACHINE; i++) {
        Arena one;
        arena_start(&one, arena->trap);
        code = worse(code, run_on_file(&one, arguments, arguments->operands.items[i]));
        arena_end(&one);
    }
    return code;
}
