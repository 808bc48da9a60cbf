/* What threads are called on pages, and in which order they stand there. */
#include "meaning/thread_names.h"

/* The name under which the compiled file knows a used one: "shop", or else its path. */
static const char *name_of_module(const Module *main, const Module *module)
{
    for (uint32_t i = 0; i < main->uses.count; i++)
        if (main->uses.items[i].module == module && main->uses.items[i].alias)
            return main->uses.items[i].alias->bytes;
    return module->path->bytes;
}

/* Names met so far; half of the places at most are taken. */
typedef struct NamesMet {
    const Text **places;
    uint32_t mask;
} NamesMet;

/* Where the name stands, or would stand: then NULL is there. */
static const Text **place_of(const NamesMet *met, const Text *name)
{
    uint32_t at = (uint32_t)name->hash & met->mask;
    while (met->places[at] && met->places[at] != name)
        at = (at + 1) & met->mask;
    return &met->places[at];
}

static NamesMet no_names(Arena *arena, uint32_t most)
{
    NamesMet met = {.mask = 1};
    while (met.mask < 2 * most)
        met.mask = met.mask * 2 + 1;
    met.places = arena_take_many(arena, (size_t)met.mask + 1, sizeof *met.places);
    return met;
}

void tell_names_apart(Evaluator *evaluator, Texts *texts, const Modules *modules, uint32_t threads)
{
    NamesMet met = no_names(evaluator->arena, threads);
    for (uint32_t i = 0; i < modules->list.count; i++) {
        const Module *module = modules->list.items[i];
        for (uint32_t j = 0; j < module->names.count; j++) {
            const Declaration *one = module->names.items[j];
            if (one->node->kind == NODE_THREAD && one->value && *place_of(&met, one->name))
                ((Thread *)one->value)->name = text_of_string(
                    texts, text_format(evaluator->findings->words, "%s.%s",
                                       name_of_module(modules->list.items[0], module), one->name->bytes));
        }
        for (uint32_t j = 0; j < module->names.count; j++) {
            const Declaration *one = module->names.items[j];
            if (one->node->kind == NODE_THREAD && one->value)
                *place_of(&met, one->name) = one->name;
        }
    }
}

/* The name of a changed thread: that of the declared one while no rod uses that too. */
static const Text *name_of_changed(Evaluator *evaluator, Texts *texts, const NamesMet *met,
                                   const ChangedThread *changed)
{
    const Text *name = changed->thread->name;
    if (name == changed->of->name)
        name = ((const Thread *)changed->of->value)->name;
    const char *own = name->bytes, *title = changed->title ? changed->title : "swapped";
    for (unsigned number = 1; *place_of(met, name); number++)
        name = text_of_string(
            texts, number == 1 ? text_format(evaluator->findings->words, "%s (%s)", own, title)
                               : text_format(evaluator->findings->words, "%s (%s %u)", own, title, number));
    return name;
}

/* Pages name them where they name the thread that is declared. */
static void put_behind_declared(Evaluator *evaluator, Job *job)
{
    uint32_t before = job->thread_count, changed = evaluator->changed.count;
    const Thread **threads = arena_take_many(evaluator->arena, before + changed, sizeof *threads);
    uint32_t *next =
        arena_take_many(evaluator->arena, before + 1, sizeof *next); /* place of each, then of its own */
    for (uint32_t i = 0; i < changed; i++)
        next[((const Thread *)evaluator->changed.items[i].of->value)->index + 1]++;
    for (uint32_t i = 1; i <= before; i++)
        next[i] += next[i - 1] + 1;
    for (uint32_t i = 0; i < before; i++)
        threads[next[i]++] = job->threads[i];
    for (uint32_t i = 0; i < changed; i++)
        threads[next[((const Thread *)evaluator->changed.items[i].of->value)->index]++] =
            evaluator->changed.items[i].thread;
    job->threads = threads;
    job->thread_count = before + changed;
    for (uint32_t i = 0; i < job->thread_count; i++)
        ((Thread *)threads[i])->index = i;
}

void add_changed_threads(Evaluator *evaluator, Texts *texts, const Modules *modules, Job *job)
{
    if (!evaluator->changed.count)
        return;
    uint32_t before = job->thread_count, changed = evaluator->changed.count;
    NamesMet met = no_names(evaluator->arena, before + changed);
    for (uint32_t i = 0; i < modules->list.count; i++) {
        const Module *module = modules->list.items[i];
        for (uint32_t j = 0; j < module->names.count; j++) {
            const Declaration *one = module->names.items[j];
            if (one->node->kind == NODE_THREAD && one->value && one->met)
                *place_of(&met, ((const Thread *)one->value)->name) = ((const Thread *)one->value)->name;
        }
    }
    for (uint32_t i = 0; i < changed; i++) {
        ChangedThread *one = &evaluator->changed.items[i];
        one->thread->name = name_of_changed(evaluator, texts, &met, one);
        *place_of(&met, one->thread->name) = one->thread->name;
    }
    put_behind_declared(evaluator, job);
}
