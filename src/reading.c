/* Reading: what is given, what is wanted, and what cannot be had. */
#include "reading.h"

#include "base/limits.h"
#include "meaning/std_names.h"
#include "syntax/syntax.h"

#include <string.h>

/* A text that was given before: the same file is one module. Paths are interned. */
static Module *module_at_path(Compilation *compilation, const char *path)
{
    const Modules *modules = &compilation->reading->modules;
    const char *shown = text_of_string(&compilation->texts, path)->bytes;
    for (uint32_t i = 0; i < modules->list.count; i++) {
        const Module *module = modules->list.items[i];
        if (!module->holder && compilation->sources.list.items[module->tree->file].path == shown)
            return modules->list.items[i];
    }
    return NULL;
}

static const char *outside(const char *path)
{
    if (!*path)
        return "it is empty";
    if (*path == '/')
        return "it begins with /";
    if (strchr(path, '\\'))
        return "it holds a backslash";
    for (const char *at = path; at; at = strchr(at, '/') ? strchr(at, '/') + 1 : NULL)
        if (strncmp(at, "..", 2) == 0 && (at[2] == '/' || !at[2]))
            return "it holds ..";
    return NULL;
}

/* A file of the library that is called nearly so, or the path without what no path has. */
static void mend_path(Compilation *compilation, Finding *finding, const Node *path)
{
    Findings *findings = &compilation->findings;
    const char *meant = std_file_named(path->text->bytes);
    if (!meant || strcmp(meant, path->text->bytes) == 0)
        meant = path_meant(findings->words, path->text->bytes);
    if (!meant)
        return;
    finding_mend(findings, finding, "write `\"%s\"`", meant);
    finding_edit(findings, finding, path->span, "\"%s\"", meant);
}

static Cause report_outside(Compilation *compilation, const Node *path, const char *why)
{
    Finding *finding = finding_add(&compilation->findings, FINDING_USE_OUTSIDE, path->span,
                                   "this path leaves the allowed folders: %s", why);
    finding_mend(&compilation->findings, finding,
                 "put the file beside this one, or give its folder with -I, and write its name alone");
    mend_path(compilation, finding, path);
    return finding->number;
}

static void add_module(Compilation *compilation, Module *module);

/* The text that a `use` holds in braces; the same text held twice is one module. */
static Module *held_module(Compilation *compilation, const Module *holder, Node *use)
{
    Module *module = arena_take(&compilation->arena, sizeof *module);
    *module = (Module){.tree = holder->tree, .declarations = use->body, .path = use->first->text, .holder = use};
    add_module(compilation, module);
    return module;
}

static Module *same_held_module(Compilation *compilation, Module *module)
{
    Module **chain = &compilation->reading->held[module->path->hash % HELD_CHAINS];
    for (Module *held = *chain; held; held = held->next_held)
        if (held->path == module->path && canonical_hash(compilation, held) == canonical_hash(compilation, module))
            return held;
    module->next_held = *chain;
    return *chain = module;
}

/* Files that are used several times, or are wanted still, count once they are read. */
static bool files_full(const Compilation *compilation)
{
    return compilation->reading->modules.list.count >= LIMIT_FILES;
}

static Cause too_many_files(Compilation *compilation, Span span)
{
    Finding *finding = finding_add(&compilation->findings, FINDING_TOO_MANY_FILES, span,
                                   "more than %d files are used", LIMIT_FILES);
    finding_mend(&compilation->findings, finding, "put what belongs together into one file");
    return finding->number;
}

static void add_uses(Compilation *compilation, Module *module)
{
    Reading *reading = compilation->reading;
    for (Node *node = module->declarations; node; node = node->next) {
        if (node->kind != NODE_USE)
            continue;
        *LIST_ADD(&compilation->arena, &module->uses) =
            (Use){.node = node, .path = node->first->text, .alias = node->second ? node->second->text : NULL};
        uint32_t index = module->uses.count - 1;
        const char *why = outside(node->first->text->bytes);
        if (node->detail && files_full(compilation))
            module->uses.items[index].refused = too_many_files(compilation, node->first->span);
        else if (node->detail)
            module->uses.items[index].module =
                same_held_module(compilation, held_module(compilation, module, node));
        else if (why)
            module->uses.items[index].refused = report_outside(compilation, node->first, why);
        else
            *LIST_ADD(&compilation->arena, &reading->wanted) = (Wanted){module, index};
    }
}

static bool is_sizes(const Text *path) { return strcmp(path->bytes, "std/sizes") == 0; }

static void add_module(Compilation *compilation, Module *module)
{
    module_declare(&compilation->arena, module, &compilation->findings);
    *LIST_ADD(&compilation->arena, &compilation->reading->modules.list) = module;
    if (is_sizes(module->path) && !compilation->reading->modules.sizes)
        compilation->reading->modules.sizes = module;
    add_uses(compilation, module);
}

/* Whether some thread goes by a nominal size. */
static bool sizes_needed(const Modules *modules)
{
    for (uint32_t i = 0; i < modules->list.count; i++)
        for (const Node *node = modules->list.items[i]->declarations; node; node = node->next)
            for (const Node *option = node->kind == NODE_THREAD ? node->options : NULL; option;
                 option = option->next)
                if (option->kind == NODE_OPTION && strcmp(option->text->bytes, "size") == 0)
                    return true;
    return false;
}

/* The sizes that the file uses without saying so are asked for when nothing else is wanted, once. */
static bool sizes_wanted(const Reading *reading)
{
    if (!reading->modules.list.count || reading->modules.sizes || !sizes_needed(&reading->modules))
        return false;
    const Module *main = reading->modules.list.items[0];
    for (uint32_t i = 0; i < main->uses.count; i++)
        if (!main->uses.items[i].node)
            return false;
    return true;
}

Wanted *next_wanted(Compilation *compilation)
{
    Reading *reading = compilation->reading;
    if (reading->next == reading->wanted.count && sizes_wanted(reading)) {
        Module *main = reading->modules.list.items[0];
        *LIST_ADD(&compilation->arena, &main->uses) =
            (Use){.path = text_of_string(&compilation->texts, "std/sizes")};
        *LIST_ADD(&compilation->arena, &reading->wanted) = (Wanted){main, main->uses.count - 1};
    }
    return reading->next < reading->wanted.count ? &reading->wanted.items[reading->next] : NULL;
}

/* `use`: what it was wanted for, NULL for the file to compile. bytes: they stay, with a NUL behind. */
static uint32_t add_source(Compilation *compilation, const char *path, const Use *use, const char *bytes,
                           size_t length)
{
    const Text *use_path = use ? use->path : text_of_string(&compilation->texts, "");
    *LIST_ADD(&compilation->arena, &compilation->sources.list) =
        (Source){.path = text_of_string(&compilation->texts, path)->bytes,
                 .use_path = use_path->bytes,
                 .bytes = bytes,
                 .length = (uint32_t)length};
    return compilation->sources.list.count - 1;
}

/* Bytes of all that was read. */
static size_t bytes_read(const Compilation *compilation)
{
    size_t bytes = 0;
    for (uint32_t i = 0; i < compilation->sources.list.count; i++)
        bytes += compilation->sources.list.items[i].length;
    return bytes;
}

/* It is not read: an empty text stands in its place, so that the finding has one. */
static void refuse_large(Compilation *compilation, const char *path, Use *use, bool alone)
{
    Span start = {0, 0, add_source(compilation, path, use, "", 0)};
    Finding *finding = finding_add(&compilation->findings, FINDING_FILE_TOO_LARGE, start,
                                   alone ? "this file is larger than %u MiB"
                                         : "with this file, all files together are larger than %u MiB",
                                   (alone ? LIMIT_FILE_BYTES : LIMIT_ALL_BYTES) >> 20);
    finding_mend(&compilation->findings, finding,
                 alone ? "check that it is the right file; if it is, leave out what no rod needs"
                       : "use fewer files, or leave out of them what no rod needs");
    if (use)
        use->refused = finding->number;
}

static const char *copy_of(Compilation *compilation, const char *bytes, size_t length)
{
    char *copy = arena_take(&compilation->arena, length + 1);
    if (length)
        memcpy(copy, bytes, length);
    return copy;
}

static Module *read_module(Compilation *compilation, const char *path, const Use *use, const char *bytes,
                           size_t length)
{
    Module *module = arena_take(&compilation->arena, sizeof *module);
    module->path = use ? use->path : text_of_string(&compilation->texts, "");
    module->tree = syntax_read(&compilation->arena, &compilation->texts, &compilation->sources,
                               add_source(compilation, path, use, bytes, length), &compilation->findings);
    module->declarations = module->tree->declarations;
    return module;
}

/* Where a file is named; the sizes are, nowhere. */
static Span use_span(const Wanted *wanted, const Use *use)
{
    return use->node ? use->node->first->span : (Span){.file = wanted->module->tree->file};
}

static TurnlayStatus give(Compilation *compilation, const char *path, const char *bytes, size_t length, bool lent)
{
    bool first = !compilation->sources.list.count;
    Wanted *wanted = first ? NULL : next_wanted(compilation);
    if (!first && !wanted)
        return TURNLAY_NOT_WANTED;
    Use *use = wanted ? &wanted->module->uses.items[wanted->use] : NULL;
    compilation->reading->next += wanted != NULL;
    if (length >= 3 && memcmp(bytes, "\xef\xbb\xbf", 3) == 0) {
        bytes += 3;
        length -= 3;
    }
    Module *known = first ? NULL : module_at_path(compilation, path);
    bool alone = length > LIMIT_FILE_BYTES;
    if (!known && (alone || length > LIMIT_ALL_BYTES - bytes_read(compilation))) {
        refuse_large(compilation, path, use, alone);
        return TURNLAY_DONE;
    }
    if (!known && use && files_full(compilation)) {
        use->refused = too_many_files(compilation, use_span(wanted, use));
        return TURNLAY_DONE;
    }
    if (!known && !lent)
        bytes = copy_of(compilation, bytes, length);
    Module *module = known ? known : read_module(compilation, path, use, bytes, length);
    if (use)
        use->module = module;
    if (!known)
        add_module(compilation, module);
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_give(Compilation *compilation, const char *path, const char *bytes, size_t length)
{
    TurnlayStatus status = path && (bytes || !length) ? status_while_reading(compilation) : TURNLAY_NULL_GIVEN;
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, give(compilation, path, bytes, length, false));
}

TurnlayStatus turnlay_lend(Compilation *compilation, const char *path, const char *bytes, size_t length)
{
    TurnlayStatus status = path && bytes ? status_while_reading(compilation) : TURNLAY_NULL_GIVEN;
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, give(compilation, path, bytes, length, true));
}

static TurnlayStatus want(Compilation *compilation, TurnlayWant *answer)
{
    const Wanted *wanted = next_wanted(compilation);
    if (!wanted)
        return TURNLAY_DONE;
    answer->path = wanted->module->uses.items[wanted->use].path->bytes;
    answer->from = compilation->sources.list.items[wanted->module->tree->file].path;
    return TURNLAY_DONE;
}

static TurnlayStatus want_guarded(Compilation *compilation, TurnlayWant *answer)
{
    TurnlayStatus status = status_while_reading(compilation);
    if (status != TURNLAY_DONE)
        return status;
    if (!compilation->sources.list.count)
        return TURNLAY_WRONG_ORDER;
    RETURN_GUARDED(compilation, want(compilation, answer));
}

TurnlayWant turnlay_want(Compilation *compilation)
{
    TurnlayWant answer = {TURNLAY_DONE, NULL, NULL};
    answer.status = want_guarded(compilation, &answer);
    return answer;
}

static const FindingCode refusal_codes[] = {
    [TURNLAY_FILE_NOT_FOUND] = FINDING_USE_NOT_FOUND,    [TURNLAY_FILE_OUTSIDE] = FINDING_USE_OUTSIDE,
    [TURNLAY_FILE_UNREADABLE] = FINDING_FILE_UNREADABLE, [TURNLAY_FILE_TOO_LARGE] = FINDING_FILE_TOO_LARGE,
    [TURNLAY_FILE_ABOVE] = FINDING_USE_NOT_FOUND,
};
_Static_assert(sizeof refusal_codes / sizeof *refusal_codes == TURNLAY_REFUSAL_COUNT, "one for each refusal");

/* The file to compile cannot be had: a finding like any other, at the start of an empty text of that name. */
static void refuse_first(Compilation *compilation, const char *path, TurnlayRefusal refusal, const char *why)
{
    Findings *findings = &compilation->findings;
    Span start = {0, 0, add_source(compilation, path, NULL, "", 0)};
    Finding *finding = finding_add(findings, refusal_codes[refusal], start, "%s cannot be read: %s", path, why);
    finding_mend(findings, finding, "%s",
                 refusal == TURNLAY_FILE_TOO_LARGE ? "split it into several files and name them with `use`"
                                                   : "check the name and read permission");
}

/* What is wanted still is refused unsought. */
static void seek_no_more(Compilation *compilation)
{
    Reading *reading = compilation->reading;
    Cause cause = 0;
    for (; reading->next < reading->wanted.count; reading->next++) {
        const Wanted *wanted = &reading->wanted.items[reading->next];
        Use *use = &wanted->module->uses.items[wanted->use];
        if (!cause) {
            Finding *finding =
                finding_add(&compilation->findings, FINDING_TOO_MANY_FILES, use_span(wanted, use),
                            "%d used files cannot be found or read: those from here on are not looked for",
                            LIMIT_MISSING_FILES);
            finding_mend(&compilation->findings, finding,
                         "give their folder with -I, or take out what is not there");
            cause = finding->number;
        }
        use->refused = cause;
    }
}

static TurnlayStatus refuse(Compilation *compilation, const char *path, TurnlayRefusal refusal, const char *why)
{
    if (!compilation->sources.list.count) {
        refuse_first(compilation, path, refusal, why);
        return TURNLAY_DONE;
    }
    const Wanted *wanted = next_wanted(compilation);
    if (!wanted)
        return TURNLAY_NOT_WANTED;
    compilation->reading->next++;
    Use *use = &wanted->module->uses.items[wanted->use];
    Finding *finding = finding_add(&compilation->findings, refusal_codes[refusal], use_span(wanted, use),
                                   "\"%s\" cannot be used: %s", use->path->bytes, why);
    finding_mend(&compilation->findings, finding,
                 !use->node ? "the standard library is incomplete: run `make install` again"
                 : refusal == TURNLAY_FILE_ABOVE
                     ? "put an empty file named turnlay.root there: it marks the root of your project"
                     : "check the name, or give the file's folder with -I");
    if (use->node && refusal == TURNLAY_FILE_NOT_FOUND)
        mend_path(compilation, finding, use->node->first);
    use->refused = finding->number;
    if (++compilation->reading->missing == LIMIT_MISSING_FILES)
        seek_no_more(compilation);
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_refuse(Compilation *compilation, const char *path, TurnlayRefusal refusal, const char *why)
{
    TurnlayStatus status = why ? status_while_reading(compilation) : TURNLAY_NULL_GIVEN;
    if (status != TURNLAY_DONE)
        return status;
    if (!path && !compilation->sources.list.count)
        return TURNLAY_NULL_GIVEN;
    if ((unsigned)refusal >= TURNLAY_REFUSAL_COUNT)
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, refuse(compilation, path, refusal, why));
}
