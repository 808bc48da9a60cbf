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

/* A disk that fails is no fault of the pattern's, and no plan rests on what could not be read. */
static ExitCode broken_machine(const char *path, const Input *input)
{
    say("%s cannot be read: %s", path, input->why);
    return EXIT_MACHINE;
}

static ExitCode give_used(Arena *arena, Compiled *compiled, const Arguments *arguments, const Folders *folders,
                          TurnlayWant want)
{
    Found found = find_used(arena, folders, want.from, want.path);
    if (!found.shown) {
        heed(arena, turnlay_refuse(compiled->compilation, NULL, found.refusal, found.why));
        return EXIT_CLEAN;
    }
    remember(arena, compiled, found.path);
    if (found.mark)
        remember(arena, compiled, found.mark);
    if (arguments->verbose)
        say("using %s for \"%s\" in %s", found.path, want.path, want.from);
    Arena reading;
    arena_start(&reading, arena->trap);
    Input input = input_file(&reading, found.real);
    ExitCode code = !input.read && input.machine ? broken_machine(found.path, &input) : EXIT_CLEAN;
    if (!input.read)
        input.why = text_format(&reading, "%s: %s", found.path, input.why);
    if (code == EXIT_CLEAN)
        give(arena, compiled, found.shown, &input);
    arena_end(&reading);
    return code;
}

static TurnlayStatus give_happened(TurnlayCompilation *compilation, const HappenedGiven *given)
{
    return given->is_mishap ? turnlay_mishap(compilation, given->mishap)
                            : turnlay_measure(compilation, given->measured);
}

/* What a record is given to. */
typedef TurnlayStatus RecordTaker(TurnlayCompilation *compilation, const char *path, const char *bytes,
                                  size_t length);

/* NULL: none is asked for. */
static ExitCode give_record(Arena *arena, Compiled *compiled, const char *path, RecordTaker *take)
{
    if (!path)
        return EXIT_CLEAN;
    Input input = input_file(arena, path);
    if (!input.read && input.machine)
        return broken_machine(path, &input);
    if (!input.read && input.refusal == TURNLAY_FILE_NOT_FOUND)
        say("there is no record %s", path);
    else if (!input.read)
        say("%s cannot be read: %s", path, input.why);
    if (!input.read)
        return EXIT_WRONG_USE;
    remember(arena, compiled, path);
    heed(arena, take(compiled->compilation, path, input.text.bytes, input.text.length));
    return EXIT_CLEAN;
}

static ExitCode give_all(Arena *arena, Compiled *compiled, const Arguments *arguments, const Input *input)
{
    TurnlayCompilation *compilation = compiled->compilation = turnlay_new();
    if (!compilation)
        arena_exhausted(arena);
    lend(arena, compiled, input);
    Folders folders = folders_of(arena, arguments, compiled->shown);
    ExitCode code = EXIT_CLEAN;
    for (TurnlayWant want; code == EXIT_CLEAN && (want = turnlay_want(compilation)).path;)
        code = give_used(arena, compiled, arguments, &folders, want);
    if (code == EXIT_CLEAN)
        code = give_record(arena, compiled, arguments->record, turnlay_record);
    if (code == EXIT_CLEAN)
        code = give_record(arena, compiled, arguments->learned, turnlay_learn_from);
    if (code != EXIT_CLEAN)
        return code;
    for (uint32_t i = 0; i < arguments->happened.count; i++)
        heed(arena, give_happened(compilation, &arguments->happened.items[i]));
    for (uint32_t i = 0; i < arguments->swaps.count; i++)
        heed(arena, turnlay_swap(compilation, arguments->swaps.items[i].name, arguments->swaps.items[i].with));
    if (arguments->strict)
        heed(arena, turnlay_strict(compilation));
    compiled->status = turnlay_finish(compilation);
    heed(arena, compiled->status);
    return code;
}

/* A slip of the pen in the command line, said in one line. What is too large is a file all the same, and its
 * finding says what to do. */
static bool is_wrong_name(const Input *input) { return !input->read && input->refusal != TURNLAY_FILE_TOO_LARGE; }

static ExitCode refuse_name(Arena *arena, const char *file, const Input *input)
{
    const char *near = input->refusal == TURNLAY_FILE_NOT_FOUND ? near_file(arena, file) : NULL;
    if (near)
        say("there is no file %s; did you mean %s?", file, near);
    else if (input->refusal == TURNLAY_FILE_NOT_FOUND)
        say("there is no file %s", file);
    else
        say("%s cannot be read: %s", strcmp(file, "-") == 0 ? "standard input" : file, input->why);
    return EXIT_WRONG_USE;
}

ExitCode compile_file(Compiled *compiled, Arena *arena, const Arguments *arguments, const char *file)
{
    bool standard = strcmp(file, "-") == 0;
    *compiled = (Compiled){.shown = standard ? INPUT_STANDARD : file};
    if (!standard)
        *LIST_ADD(arena, &compiled->files) = file;
    Input input = standard ? input_standard(arena) : input_file(arena, file);
    if (!input.read && input.machine)
        return broken_machine(standard ? "standard input" : file, &input);
    return is_wrong_name(&input) ? refuse_name(arena, file, &input) : give_all(arena, compiled, arguments, &input);
}

void compile_end(Compiled *compiled) { turnlay_free(compiled->compilation); }
