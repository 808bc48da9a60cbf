#include "cli/outlets.h"

#include "base/text.h"
#include "cli/depfile.h"
#include "cli/output.h"

#include <string.h>
#include <unistd.h>

/* A slip of the fingers must not cost anybody their pattern. */
static bool spares(const Destination *end, const Destination *source)
{
    bool is_file = !source->exists || S_ISREG(source->state.st_mode);
    if (!is_file || !destinations_meet(end, source))
        return true;
    if (end->kind == LEADS_TO_OPEN)
        say("%s goes to %s, which it is made from; name another file", end->given, source->given);
    else
        say("%s would be written over %s, which it is made from; name another file", end->given, source->given);
    return false;
}

/* Everything that was read, and every FILE of the command line, also those that are still to be read. A pipe or a
 * terminal is none of them, and of many FILES nobody has to look at all for each. */
static bool spares_sources(const Destination *end, Arena *arena, const Arguments *arguments,
                           const Compiled *compiled)
{
    if (end->exists && !S_ISREG(end->state.st_mode))
        return true;
    for (uint32_t i = 0; i < compiled->files.count; i++) {
        Destination source = destination_of(arena, compiled->files.items[i]);
        if (!spares(end, &source))
            return false;
    }
    for (uint32_t i = 0; i < arguments->operands.count; i++) {
        const char *file = arguments->operands.items[i];
        bool standard = strcmp(file, "-") == 0;
        Destination source =
            standard ? destination_open(STDIN_FILENO, "standard input") : destination_of(arena, file);
        if (!spares(end, &source))
            return false;
    }
    return true;
}

/* Replacing the file that a shell has opened for us loses what others have written there, and what we still say.
 */
static bool spares_streams(const Destination *end)
{
    static const char *const streams[] = {[STDOUT_FILENO] = "standard output", [STDERR_FILENO] = "standard error"};
    if (end->kind != LEADS_TO_FILE)
        return true;
    for (int stream = STDOUT_FILENO; stream <= STDERR_FILENO; stream++) {
        Destination open = destination_open(stream, streams[stream]);
        if (!destinations_meet(end, &open))
            continue;
        say("%s is where %s goes already, and would be written over; name another file", end->given,
            streams[stream]);
        return false;
    }
    return true;
}

static bool readable_by_make(const char *name, const char *rules)
{
    const char *fault = depfile_fault(name);
    if (fault)
        say("%s cannot be written: the name %s has %s, which make cannot read; give that file another name", rules,
            name, fault);
    return !fault;
}

static const char *left_side(const Outlets *outlets)
{
    return outlets->rules_are_made ? outlets->rules.given : outlets->page.given;
}

static bool choose_rules(Outlets *outlets, Arena *arena, const Arguments *arguments, const Compiled *compiled)
{
    const char *beside = outlets->page.kind == LEADS_TO_FILE ? outlets->page.given : compiled->shown;
    outlets->rules =
        destination_of(arena, arguments->depfile ? arguments->depfile : text_format(arena, "%s.d", beside));
    outlets->rules_are_made = beside == compiled->shown;
    if (destinations_meet(&outlets->rules, &outlets->page)) {
        say("the result and the file for make would both go to %s; name another file for one of them",
            outlets->page.given);
        return false;
    }
    if (!spares_sources(&outlets->rules, arena, arguments, compiled) || !spares_streams(&outlets->rules)
        || !readable_by_make(left_side(outlets), outlets->rules.given))
        return false;
    for (uint32_t i = 0; i < compiled->files.count; i++)
        if (!readable_by_make(compiled->files.items[i], outlets->rules.given))
            return false;
    return true;
}

bool outlets_choose(Outlets *outlets, Arena *arena, const Arguments *arguments, const Compiled *compiled)
{
    *outlets = (Outlets){.with_rules = arguments->write_depfile};
    outlets->page = destination_of(arena, arguments->output ? arguments->output : "-");
    return spares_sources(&outlets->page, arena, arguments, compiled) && spares_streams(&outlets->page)
           && (!outlets->with_rules || choose_rules(outlets, arena, arguments, compiled));
}

static ExitCode write_rules(const Outlets *outlets, Arena *arena, const Compiled *compiled)
{
    Buffer rules;
    buffer_start(&rules, arena);
    /* What was read from standard input is no file for make; what it uses is, and may vanish. */
    bool from_file = compiled->files.count && strcmp(compiled->files.items[0], compiled->shown) == 0;
    depfile_write(&rules, left_side(outlets), compiled->files.items, compiled->files.count, from_file);
    return output_write(arena, &outlets->rules, &rules);
}

ExitCode outlets_write(const Outlets *outlets, Arena *arena, const Compiled *compiled, const Buffer *page,
                       ExitCode so_far)
{
    ExitCode code = so_far;
    if (outlets->with_rules && !outlets->rules_are_made)
        code = worse(code, write_rules(outlets, arena, compiled));
    if (page && code < EXIT_WRONG_USE)
        code = worse(code, output_write(arena, &outlets->page, page));
    if (outlets->with_rules && outlets->rules_are_made && code == EXIT_CLEAN)
        code = write_rules(outlets, arena, compiled);
    return code;
}
