#include "cli/compile.h"

#include "base/text.h"
#include "cli/cli.h"
#include "cli/input.h"
#include "cli/paths.h"

#include <string.h>

/* Of what the library answers, only memory that ran out needs care here: nothing is asked in the wrong order. */
static void heed(Arena *arena, TurnlayStatus status)
{
    if (status == TURNLAY_OUT_OF_MEMORY)
        arena_exhausted(arena);
}

/* A used file's text is copied if it is used: one that is not need not be kept. */
static void give(Arena *arena, Compiled *compiled, const char *path, const Input *input)
{
    TurnlayCompilation *compilation = compiled->compilation;
    heed(arena, input->read ? turnlay_give(compilation, path, input->text.bytes, input->text.length)
                            : turnlay_refuse(compilation, path, input->refusal, input->why));
}

static void lend(Arena *arena, const Compiled *compiled, const Input *input)
{
    TurnlayCompilation *compilation = compiled->compilation;
    heed(arena, input->read ? turnlay_lend(compilation, compiled->shown, input->text.bytes, input->text.length)
                            : turnlay_refuse(compilation, compiled->shown, input->refusal, input->why));
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
                      TurnlayWant want)
{
    Found found = find_used(arena, folders, want.from, want.path);
    if (!found.shown) {
        heed(arena, turnlay_refuse(compiled->compilation, NULL, found.refusal, found.why));
        return;
    }
    remember(arena, compiled, found.path);
    if (arguments->verbose)
        say("use \"%s\" in %s took %s", want.path, want.from, found.path);
    Arena reading;
    arena_start(&reading, arena->trap);
    Input input = input_file(&reading, found.real);
    if (!input.read)
        input.why = text_format(&reading, "%s: %s", found.path, input.why);
    give(arena, compiled, found.shown, &input);
    arena_end(&reading);
}

static void give_all(Arena *arena, Compiled *compiled, const Arguments *arguments, const Input *input)
{
    TurnlayCompilation *compilation = compiled->compilation = turnlay_new();
    if (!compilation)
        arena_exhausted(arena);
    lend(arena, compiled, input);
    Folders folders = folders_of(arena, arguments);
    for (TurnlayWant want; (want = turnlay_want(compilation)).path;)
        give_used(arena, compiled, arguments, &folders, want);
    if (arguments->measured_step)
        heed(arena, turnlay_measure(compilation, arguments->measured_step, arguments->measured_width));
    compiled->status = turnlay_finish(compilation);
    heed(arena, compiled->status);
}

Compiled compile_file(Arena *arena, const Arguments *arguments, const char *file)
{
    bool standard = strcmp(file, "-") == 0;
    Compiled compiled = {.shown = standard ? INPUT_STANDARD : file};
    if (!standard)
        *LIST_ADD(arena, &compiled.files) = file;
    Input input = standard ? input_standard(arena) : input_file(arena, file);
    give_all(arena, &compiled, arguments, &input);
    return compiled;
}

void compile_end(Compiled *compiled) { turnlay_free(compiled->compilation); }
