#include "cli/verbs.h"

#include "base/line_map.h"
#include "cli/compile.h"
#include "cli/hand_over.h"
#include "cli/outlets.h"
#include "cli/output.h"
#include "draw/template/template.h"
#include "emit/emit.h"
#include "words/sheet.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef void Page(Buffer *out, const Compilation *compilation);

static void plan_text(Buffer *out, const Compilation *c) { emit_plan_text(out, c->plan); }
static void plan_json(Buffer *out, const Compilation *c) { emit_plan_json(out, c->bench, &c->findings); }
static void plan_csv(Buffer *out, const Compilation *c) { emit_plan_csv(out, c->plan); }
static void need_text(Buffer *out, const Compilation *c) { emit_need_text(out, c->bench); }
static void need_json(Buffer *out, const Compilation *c) { emit_need_json(out, c->bench); }
static void need_csv(Buffer *out, const Compilation *c) { emit_need_csv(out, c->plan); }

static ExitCode make_plan(Buffer *out, const Arguments *arguments, const Compiled *compiled)
{
    static Page *const pages[FORMAT_COUNT] = {plan_text, plan_json, plan_csv};
    pages[arguments->format](out, compiled->compilation);
    return EXIT_CLEAN;
}

static ExitCode make_need(Buffer *out, const Arguments *arguments, const Compiled *compiled)
{
    static Page *const pages[FORMAT_COUNT] = {need_text, need_json, need_csv};
    pages[arguments->format](out, compiled->compilation);
    return EXIT_CLEAN;
}

static ExitCode make_sheet(Buffer *out, const Arguments *arguments, const Compiled *compiled)
{
    const Compilation *c = compiled->compilation;
    Sheet *sheet = sheet_make(out->arena, c->bench);
    if (arguments->format == FORMAT_PDF)
        return print_pdf_apart(out, sheet, c->plan, arguments->letter);
    if (arguments->format == FORMAT_HTML)
        emit_sheet_html(out, sheet, c->plan);
    else
        emit_sheet_text(out, sheet, arguments->from_step);
    return EXIT_CLEAN;
}

static ExitCode make_template(Buffer *out, const Arguments *arguments, const Compiled *compiled, uint32_t rod)
{
    const Plan *plan = compiled->compilation->plan;
    if (arguments->scale != 1) {
        say("a template is always at true size; leave out --scale");
        return EXIT_WRONG_USE;
    }
    if (!has_template(&plan->rods[rod])) {
        say("%s has no crosswrap on this rod, and a template is a crosswrap's; leave out --view", compiled->shown);
        return EXIT_WRONG_USE;
    }
    emit_svg(out, draw_templates(out->arena, plan, rod));
    return EXIT_CLEAN;
}

static ExitCode make_drawing(Buffer *out, const Arguments *arguments, const Compiled *compiled)
{
    const Plan *plan = compiled->compilation->plan;
    uint32_t rod = arguments->rod ? arguments->rod - 1 : 0;
    if (!plan->rod_count) /* there is a finding already */
        return EXIT_FINDINGS;
    if (rod >= plan->rod_count) {
        say("%s has %u rod%s; there is no rod %u", compiled->shown, plan->rod_count,
            plan->rod_count == 1 ? "" : "s", arguments->rod);
        return EXIT_WRONG_USE;
    }
    if (!arguments->rod && plan->rod_count > 1)
        say("%s has %u rods; this is the first, \"%s\" (--rod N draws another)", compiled->shown, plan->rod_count,
            plan->rods[0].rod->title->bytes);
    if (arguments->view == VIEW_TEMPLATE)
        return make_template(out, arguments, compiled, rod);
    emit_svg(out, draw_rod_turned(out->arena, plan, rod, arguments->view, arguments->scale, arguments->turned));
    return EXIT_CLEAN;
}

static ExitCode make_fold(Buffer *out, const Arguments *arguments, const Compiled *compiled)
{
    (void)arguments;
    compilation_fold(compiled->compilation, out);
    return EXIT_CLEAN;
}

typedef ExitCode Maker(Buffer *out, const Arguments *arguments, const Compiled *compiled);

/* The result that goes to the output; check has none but its findings. */
static Maker *const makers[VERB_COUNT] = {
    [VERB_PLAN] = make_plan,    [VERB_NEED] = make_need, [VERB_SHEET] = make_sheet,
    [VERB_DRAW] = make_drawing, [VERB_FOLD] = make_fold,
};

/* Colour is for people at a terminal that shows it, and for those who did not forbid it (https://no-color.org). */
static bool wants_colour(const Arguments *arguments)
{
    const char *forbidden = getenv("NO_COLOR"), *terminal = getenv("TERM");
    if (arguments->verb == VERB_CHECK && arguments->output && strcmp(arguments->output, "-") != 0)
        return false;
    return isatty(arguments->verb == VERB_CHECK ? STDOUT_FILENO : STDERR_FILENO) && !(forbidden && *forbidden)
           && terminal && strcmp(terminal, "dumb") != 0;
}

static void put_findings(Buffer *out, const Arguments *arguments, const Compiled *compiled)
{
    if (arguments->json)
        emit_findings_json(out, compiled->findings, compiled->sources);
    else
        emit_findings_text(out, compiled->findings, compiled->sources, wants_colour(arguments));
}

/* A file of patterns alone is as it should be for `check`; whoever wants a plan of it is told. */
static void note_no_rod(const Arguments *arguments, Compiled *compiled)
{
    Compilation *c = compiled->compilation;
    bool wants_rod = arguments->verb != VERB_CHECK && arguments->verb != VERB_FOLD;
    if (!wants_rod || !c || c->findings.errors || c->plan->rod_count)
        return;
    Finding *finding = finding_add(&c->findings, FINDING_NO_ROD, (Span){0, 0, 0},
                                   "there is no rod in this file, so there is nothing to %s",
                                   arguments->verb == VERB_DRAW ? "draw" : "plan");
    finding_mend(&c->findings, finding,
                 "name the file with the rod, or write one: rod \"First\" on BLANK { ... }");
}

/* Something is left out and no finding says why: no page is made of the rest, and whoever wrote the file is asked
 * for it. */
static ExitCode report_loss(Arena *arena, const Compilation *c, const char *file)
{
    LineMap *lines = line_map_make(arena, &c->sources);
    say("this is a fault of turnlay, not of your pattern: what stands at line %u of %s is left out, and no finding says "
        "why. Nothing was written. Please send the file in, with what it uses, so that turnlay can be mended",
        line_map_find(lines, c->lost_at).line, c->lost_at.file ? line_map_source(lines, c->lost_at)->path : file);
    return EXIT_MACHINE;
}

static ExitCode run_on_file(Arena *arena, const Arguments *arguments, const char *file)
{
    Compiled compiled = compile_file(arena, arguments, file);
    Buffer findings, result;
    buffer_start(&findings, arena);
    buffer_start(&result, arena);
    note_no_rod(arguments, &compiled);
    put_findings(&findings, arguments, &compiled);
    if (compiled.compilation && compiled.compilation->measured_refused) {
        say("step %u of the sheet does not measure the end of a band; `turnlay sheet %s` shows which do",
            arguments->measured_step, file);
        compile_end(&compiled);
        return EXIT_WRONG_USE;
    }
    if (compiled.compilation && compiled.compilation->lost) {
        output_messages(&findings);
        ExitCode code = report_loss(arena, compiled.compilation, file);
        compile_end(&compiled);
        return code;
    }
    Outlets outlets;
    ExitCode code = compiled.findings->errors ? EXIT_FINDINGS : EXIT_CLEAN;
    const Buffer *page = arguments->verb == VERB_CHECK ? &findings : NULL;
    if (!outlets_choose(&outlets, arena, arguments, &compiled)) {
        code = EXIT_WRONG_USE;
    } else if (!page) {
        output_messages(&findings);
        if (code == EXIT_CLEAN)
            code = makers[arguments->verb](&result, arguments, &compiled);
        page = code == EXIT_CLEAN ? &result : NULL;
    }
    if (code < EXIT_WRONG_USE)
        code = outlets_write(&outlets, arena, &compiled, page, code);
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
