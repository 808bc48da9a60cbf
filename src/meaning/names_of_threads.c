#include "meaning/names_of_threads.h"

#include "base/text.h"

#include <string.h>
#include <strings.h>

typedef struct Knowing {
    Arena *arena;
    const Modules *modules;
    Findings unheard;
    LIST_OF(ThreadName) names;
    const char **written;
} Knowing;

/* Whatever the compiled file means by the name, or by "alias.name". */
static const Declaration *meant_by(Knowing *knowing, const Text *alias, const Text *name)
{
    Node module = {.kind = NODE_NAME, .text = alias};
    Node node = {.kind = NODE_NAME, .text = name, .detail = alias != NULL, .first = alias ? &module : NULL};
    return module_find(knowing->modules->list.items[0], knowing->modules->sizes, &node, false, &knowing->unheard)
        .declaration;
}

static void know(Knowing *knowing, const Text *alias, const Text *name)
{
    const Declaration *found = meant_by(knowing, alias, name);
    if (!found || found->node->kind != NODE_THREAD || !found->value)
        return;
    const Thread *thread = found->value;
    const char *words = alias ? text_format(knowing->arena, "%s.%s", alias->bytes, name->bytes) : name->bytes;
    *LIST_ADD(knowing->arena, &knowing->names) = (ThreadName){words, thread};
    if (!knowing->written[thread->index])
        knowing->written[thread->index] = words;
}

/* What the module declares, and what it hands on. */
static void know_names(Knowing *knowing, const Module *module, const Text *alias)
{
    for (uint32_t i = 0; i < module->names.count; i++)
        if (module->names.items[i]->node->kind == NODE_THREAD)
            know(knowing, alias, module->names.items[i]->name);
    for (uint32_t i = 0; i < module->passes.count; i++)
        know(knowing, alias, module->passes.items[i]->name);
}

ThreadNames names_of_threads(Arena *arena, const Modules *modules, const Job *job, const Findings *findings)
{
    Knowing knowing = {.arena = arena, .modules = modules};
    findings_start_unheard(&knowing.unheard, findings);
    knowing.written = arena_take_many(arena, job->thread_count, sizeof *knowing.written);
    const Module *main = modules->list.items[0];
    know_names(&knowing, main, NULL);
    for (uint32_t i = 0; i < main->uses.count; i++)
        if (main->uses.items[i].module && main->uses.items[i].node)
            know_names(&knowing, main->uses.items[i].module, main->uses.items[i].alias);
    for (uint32_t i = 0; i < job->thread_count; i++)
        if (!knowing.written[i])
            knowing.written[i] = job->threads[i]->name->bytes;
    return (ThreadNames){knowing.names.items, knowing.names.count, knowing.written};
}

const Thread *thread_of_name(const ThreadNames *known, const Job *job, const char *name)
{
    for (uint32_t i = 0; i < known->count; i++)
        if (strcmp(known->names[i].name, name) == 0)
            return known->names[i].thread;
    for (uint32_t i = 0; i < job->thread_count; i++)
        if (strcmp(job->threads[i]->name->bytes, name) == 0)
            return job->threads[i];
    return NULL;
}

const char *thread_name_near(const ThreadNames *known, const char *name)
{
    const char *nearest = NULL;
    unsigned distance = strlen(name) < 4 ? 2 : 3;
    for (uint32_t i = 0; i < known->count; i++) {
        const char *other = known->names[i].name, *dot = strchr(other, '.');
        bool alike = strcasecmp(other, name) == 0 || (dot && strcmp(dot + 1, name) == 0);
        unsigned apart = alike ? 0 : text_distance(name, other, 2);
        if (apart < distance) {
            distance = apart;
            nearest = other;
        }
    }
    return nearest;
}
