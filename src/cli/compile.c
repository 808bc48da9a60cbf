#include "cli/compile.h"

#include "base/limits.h"
#include "cli/cli.h"
#include "cli/input.h"
#include "cli/paths.h"

#include <string.h>

/* The FILE cannot be had: a finding like any other, at the start of an empty text of that name. */
static void report_unreadable(Arena *arena, Compiled *compiled, const Input *input)
{
    Sources *sources = arena_take(arena, sizeof *sources);
    *LIST_ADD(arena, &sources->list) = (Source){.path = compiled->shown, .use_path = "", .bytes = ""};
    Findings *findings = arena_take(arena, sizeof *findings);
    findings_start(findings, arena);
    bool too_large = input->code == FINDING_FILE_TOO_LARGE;
    Finding *finding =
        finding_add(findings, input->code, (Span){0}, "%s cannot be read: %s", compiled->shown, input->why);
    finding_mend(findings, finding, "%s",
                 too_large ? "split it into several files and name them with `use`"
                           : "look whether the name is right and the file may be read");
    compiled->findings = findings;
    compiled->sources = sources;
}

static void give(Compiled *compiled, const char *path, const Input *input)
{
    compilation_give(compiled->compilation, path, input->text.length ? input->text.bytes : "", input->text.length);
}

/* A file that two others use is asked for twice, and named once. */
static void remember(Arena *arena, Compiled *compiled, const char *path)
{
    for (uint32_t i = 0; i < compiled->files.count; i++)
        if (strcmp(compiled->files.items[i], path) == 0)
            return;
    *LIST_ADD(arena, &compiled->files) = path;
}

static void give_used(Arena *arena, Compiled *compiled, const Arguments *arguments, const Folders *folders,
                      Want want)
{
    Found found = find_used(arena, folders, want.from, want.path);
    if (!found.shown) {
        compilation_refuse(compiled->compilation, found.code, found.why);
        return;
    }
    remember(arena, compiled, found.path);
    if (arguments->verbose)
        say("use \"%s\" in %s took %s", want.path, want.from, found.path);
    Arena reading;
    arena_start(&reading, arena->trap);
    Input input = input_file(&reading, found.real);
    if (input.read)
        give(compiled, found.shown, &input);
    else
        compilation_refuse(compiled->compilation, input.code,
                           text_format(&reading, "%s: %s", found.path, input.why));
    arena_end(&reading);
}

static void give_all(Arena *arena, Compiled *compiled, const Arguments *arguments, const Input *input)
{
    Compilation *compilation = compiled->compilation = compilation_new(0);
    if (!compilation)
        arena_exhausted(arena);
    give(compiled, compiled->shown, input);
    Folders folders = folders_of(arena, arguments);
    for (Want want; (want = compilation_want(compilation)).path;)
        give_used(arena, compiled, arguments, &folders, want);
    if (arguments->measured_step)
        compilation_measure(compilation, arguments->measured_step, arguments->measured_width);
    if (compilation_finish(compilation) == COMPILED_OUT_OF_MEMORY)
        arena_exhausted(arena);
    /* What the pages still take from the compilation's memory falls into our trap: its own is left by now. */
    compilation->arena.trap = arena->trap;
    compiled->findings = &compilation->findings;
    compiled->sources = &compilation->sources;
}

Compiled compile_file(Arena *arena, const Arguments *arguments, const char *file)
{
    bool standard = strcmp(file, "-") == 0;
    Compiled compiled = {.shown = standard ? INPUT_STANDARD : file};
    if (!standard)
        *LIST_ADD(arena, &compiled.files) = file;
    Arena reading;
    arena_start(&reading, arena->trap);
    Input input = standard ? input_standard(&reading) : input_file(&reading, file);
    if (input.read)
        give_all(arena, &compiled, arguments, &input);
    else
        report_unreadable(arena, &compiled, &input);
    arena_end(&reading);
    return compiled;
}

void compile_end(Compiled *compiled)
{
    if (compiled->compilation)
        compilation_free(compiled->compilation);
}
