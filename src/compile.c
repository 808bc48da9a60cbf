/* The library's entry: reads what it is given, says what it wants, and takes the file through the house. */
#include "reading.h"

#include "base/limits.h"
#include "check/check.h"
#include "meaning/option.h"
#include "syntax/syntax.h"

#include <stdlib.h>
#include <string.h>

/* Every entry point sets the trap anew: memory that runs out ends the compilation, not the program. */
#define TRAPPED(compilation)                                                                                      \
    (!(compilation)->exhausted && !((compilation)->exhausted = setjmp((compilation)->trap.jump) != 0))

Compilation *compilation_new(uint64_t fail_at)
{
    Compilation *compilation = fail_at == 1 ? NULL : calloc(1, sizeof *compilation);
    if (!compilation)
        return NULL;
    compilation->trap.requests = 1;
    compilation->trap.fail_at = fail_at;
    arena_start(&compilation->arena, &compilation->trap);
    if (TRAPPED(compilation)) {
        texts_start(&compilation->texts, &compilation->arena);
        findings_start(&compilation->findings, &compilation->arena);
        compilation->reading = arena_take(&compilation->arena, sizeof *compilation->reading);
    }
    return compilation;
}

void compilation_free(Compilation *compilation)
{
    if (!compilation)
        return;
    arena_end(&compilation->arena);
    free(compilation);
}

/* A text that was given before: the same file is one module. */
static Module *module_at_path(const Compilation *compilation, const char *path)
{
    const Modules *modules = &compilation->reading->modules;
    for (uint32_t i = 0; i < modules->list.count; i++) {
        const Module *module = modules->list.items[i];
        if (!module->holder && strcmp(compilation->sources.list.items[module->tree->file].path, path) == 0)
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

static Cause report_outside(Compilation *compilation, const Node *path, const char *why)
{
    Finding *finding = finding_add(&compilation->findings, FINDING_USE_OUTSIDE, path->span,
                                   "this path leaves the allowed folders: %s", why);
    finding_mend(&compilation->findings, finding,
                 "put the file beside this one, or give its folder with -I, and write its name alone");
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

static Module *same_held_module(const Compilation *compilation, Module *module)
{
    const Modules *modules = &compilation->reading->modules;
    for (uint32_t i = 0; i < modules->list.count && modules->list.items[i] != module; i++)
        if (modules->list.items[i]->holder && modules->list.items[i]->path == module->path
            && canonical_hash(compilation, modules->list.items[i]) == canonical_hash(compilation, module))
            return modules->list.items[i];
    return module;
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
        if (reading->modules.list.count + reading->wanted.count > LIMIT_FILES)
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

static void give(Compilation *compilation, const char *path, const char *bytes, size_t length)
{
    Reading *reading = compilation->reading;
    Wanted *wanted = reading->next < reading->wanted.count ? &reading->wanted.items[reading->next] : NULL;
    bool first = !compilation->sources.list.count;
    Use *use = wanted ? &wanted->module->uses.items[wanted->use] : NULL;
    reading->next += wanted != NULL;
    Module *known = first ? NULL : module_at_path(compilation, path);
    if (known) {
        use->module = known;
        return;
    }
    if (length >= 3 && memcmp(bytes, "\xef\xbb\xbf", 3) == 0) {
        bytes += 3;
        length -= 3;
    }
    char *copy = arena_take(&compilation->arena, length + 1);
    memcpy(copy, bytes, length);
    const Text *use_path = use ? use->path : text_of_string(&compilation->texts, "");
    *LIST_ADD(&compilation->arena, &compilation->sources.list) =
        (Source){.path = text_of_string(&compilation->texts, path)->bytes,
                 .use_path = use_path->bytes,
                 .bytes = copy,
                 .length = (uint32_t)length};
    if (length > LIMIT_FILE_BYTES) {
        compilation->sources.list.items[compilation->sources.list.count - 1].length = 0;
        copy[0] = '\0';
        Finding *finding = finding_add(&compilation->findings, FINDING_FILE_TOO_LARGE,
                                       (Span){0, 0, compilation->sources.list.count - 1},
                                       "this file is larger than %u MiB", LIMIT_FILE_BYTES >> 20);
        finding_mend(&compilation->findings, finding, "split it into files that use one another");
    }
    Module *module = arena_take(&compilation->arena, sizeof *module);
    module->path = use_path;
    module->tree = syntax_read(&compilation->arena, &compilation->texts, &compilation->sources,
                               compilation->sources.list.count - 1, &compilation->findings);
    module->declarations = module->tree->declarations;
    if (use)
        use->module = module;
    add_module(compilation, module);
}

void compilation_give(Compilation *compilation, const char *path, const char *bytes, size_t length)
{
    if (TRAPPED(compilation))
        give(compilation, path, bytes, length);
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

Want compilation_want(Compilation *compilation)
{
    Want none = {NULL, NULL};
    if (!TRAPPED(compilation) || !compilation->sources.list.count)
        return none;
    Reading *reading = compilation->reading;
    if (reading->next == reading->wanted.count && !reading->modules.sizes && sizes_needed(&reading->modules)) {
        /* Used by the first file without saying so; asked for once. */
        Module *main = reading->modules.list.items[0];
        for (uint32_t i = 0; i < main->uses.count; i++)
            if (!main->uses.items[i].node)
                return none;
        *LIST_ADD(&compilation->arena, &main->uses) =
            (Use){.path = text_of_string(&compilation->texts, "std/sizes")};
        *LIST_ADD(&compilation->arena, &reading->wanted) = (Wanted){main, main->uses.count - 1};
    }
    if (reading->next == reading->wanted.count)
        return none;
    const Wanted *wanted = &reading->wanted.items[reading->next];
    return (Want){wanted->module->uses.items[wanted->use].path->bytes,
                  compilation->sources.list.items[wanted->module->tree->file].path};
}

void compilation_refuse(Compilation *compilation, FindingCode code, const char *why)
{
    Reading *reading = compilation->reading;
    if (!TRAPPED(compilation) || reading->next == reading->wanted.count)
        return;
    const Wanted *wanted = &reading->wanted.items[reading->next++];
    Use *use = &wanted->module->uses.items[wanted->use];
    Span span = use->node ? use->node->first->span : (Span){0, 0, wanted->module->tree->file};
    Finding *finding =
        finding_add(&compilation->findings, code, span, "\"%s\" cannot be used: %s", use->path->bytes, why);
    finding_mend(&compilation->findings, finding,
                 use->node ? "correct the name, or give the file's folder with -I"
                           : "the standard library is not installed whole: run `make install` again");
    use->refused = finding->number;
}

static void hash_pattern(Compilation *compilation)
{
    Module *main = compilation->reading->modules.list.items[0];
    if (!module_circle(main, &compilation->findings))
        compilation->job->pattern_hash = canonical_hash(compilation, main);
}

void compilation_measure(Compilation *compilation, uint32_t step, double width)
{
    compilation->measured_step = step;
    compilation->measured_width = width;
}

/* Job to plan to steps, each with its findings. */
static void plan_and_prove(Compilation *compilation)
{
    Arena *arena = &compilation->arena;
    compilation->plan = plan_make(arena, compilation->job, &compilation->findings);
    check_plan(arena, compilation->plan, &compilation->findings);
    compilation->bench = NULL;
    if (compilation->findings.errors)
        return;
    compilation->bench = bench_make(arena, compilation->plan);
    bench_prove(arena, compilation->bench, &compilation->findings);
}

/* The step with this number, if it measures the end of an item: where in the plan that is. */
static Measured measured_at(const BenchPlan *bench, uint32_t number, double width)
{
    for (uint32_t r = 0; r < bench->rod_count; number -= bench->rods[r++].step_count) {
        const BenchRod *rod = &bench->rods[r];
        if (number > rod->step_count)
            continue;
        const Step *step = &rod->steps[number - 1];
        if (step->kind != STEP_MEASURE)
            break;
        const PlannedLayer *layer = &rod->rod->places[step->place].layers[step->layer];
        uint64_t turns = 0;
        for (uint32_t i = 0; i < layer->item_count; i++)
            if ((turns += layer->items[i].turns) == step->layer_count && layer->items[i].turns)
                return (Measured){true, r, step->place, step->layer, i, width};
        break;
    }
    return (Measured){0};
}

/* The first plan gives the sheet that the step is counted on; then all is planned again with what was measured. */
static void plan_again(Compilation *compilation, Findings before)
{
    Measured measured = measured_at(compilation->bench, compilation->measured_step, compilation->measured_width);
    compilation->measured_refused = !measured.given;
    if (!measured.given)
        return;
    compilation->job->measured = measured;
    compilation->findings = before;
    plan_and_prove(compilation);
}

CompileResult compilation_finish(Compilation *compilation)
{
    if (TRAPPED(compilation) && compilation->sources.list.count) {
        compilation->job = meaning_job(&compilation->arena, &compilation->texts, &compilation->sources,
                                       &compilation->reading->modules, &compilation->findings);
        hash_pattern(compilation);
        Findings before = compilation->findings;
        plan_and_prove(compilation);
        if (compilation->measured_step && compilation->bench)
            plan_again(compilation, before);
        compilation->lost = anything_lost(compilation->plan, &compilation->findings, &compilation->lost_at);
        findings_sort(&compilation->findings);
    }
    if (compilation->exhausted)
        return COMPILED_OUT_OF_MEMORY;
    if (compilation->lost)
        return COMPILED_WITH_LOSS;
    return compilation->findings.errors ? COMPILED_WITH_ERRORS : COMPILED;
}
