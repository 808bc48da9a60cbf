/* Puts the job together: threads, rods, places and layers. */
#include "meaning/bench_settings.h"
#include "meaning/lay.h"
#include "meaning/meaning.h"
#include "meaning/resolver.h"
#include "meaning/rod_sections.h"
#include "meaning/swap.h"
#include "meaning/thread_names.h"
#include "meaning/used_version.h"

#include <math.h>

static void make_places(Evaluator *evaluator, const Node *node, Rod *rod)
{
    evaluator->frame = arena_take_many(evaluator->arena, node->slot, sizeof *evaluator->frame);
    evaluator->frame_slots = node->slot;
    lay_rod(evaluator, node->body, rod);
}

/* A rod that is like another has its places, where they are written, with what it swaps; the blank is that of the
 * first one that names any. */
static void make_rod(Evaluator *evaluator, const Node *node, Rod *rod)
{
    *rod = (Rod){.title = node->first->text, .span = node->first->span};
    Swaps *outside = evaluator->swaps;
    uint32_t told = evaluator->findings->list.count;
    const Node *own = node;
    bool has_blank = false;
    for (const Node *like; (like = node->first->next); node = ((const Declaration *)like->target)->node) {
        if (node->second && !has_blank)
            take_sections(evaluator, node, rod);
        has_blank |= node->second != NULL;
        if (!like->target)
            break;
        swaps_enter(evaluator, node, &rod->cause);
    }
    const Node *like = node->first->next;
    if (like || node->cause) {
        rod->cause = cause_mark(evaluator->findings, like ? like->cause : node->cause, rod->span);
    } else {
        if (!has_blank)
            take_sections(evaluator, node, rod);
        make_places(evaluator, node, rod);
    }
    while (evaluator->swaps != outside)
        swaps_leave(evaluator, rod->cause);
    if (own == node)
        return;
    rod->whole = own->span;
    tell_which_rod(evaluator->findings, told, rod);
}

/* Every thread of every module, also those that no rod uses: their own faults are told too. */
static void value_declarations(Evaluator *evaluator, const Modules *modules, Job *job)
{
    LIST_OF(const Thread *) threads = {0};
    for (uint32_t i = 0; i < modules->list.count; i++) {
        const Module *module = modules->list.items[i];
        for (uint32_t j = 0; j < module->names.count; j++) {
            Declaration *one = module->names.items[j];
            const Thread *thread = one->node->kind == NODE_THREAD ? declared_thread(evaluator, one) : NULL;
            if (one->node->kind == NODE_GUIDE)
                declared_guide(evaluator, one);
            else if (one->node->kind == NODE_BLANK)
                declared_blank(evaluator, one);
            else if (one->node->kind == NODE_LET && one->type != TYPE_BROKEN)
                declared_value(evaluator, one);
            if (!thread)
                continue;
            ((Thread *)thread)->index = threads.count;
            *LIST_ADD(evaluator->arena, &threads) = thread;
        }
    }
    evaluator->threads = job->threads = threads.items;
    evaluator->thread_count = job->thread_count = threads.count;
}

static About about_of(Evaluator *evaluator, const Module *main)
{
    const Node *about = NULL;
    for (const Node *node = main->declarations; node && !about; node = node->next)
        about = node->kind == NODE_ABOUT ? node : NULL;
    if (!about)
        return (About){0};
    return (About){.title = option_text(evaluator, about, ABOUT_TITLE),
                   .author = option_text(evaluator, about, ABOUT_AUTHOR),
                   .version = option_text(evaluator, about, ABOUT_VERSION),
                   .licence = option_text(evaluator, about, ABOUT_LICENCE)};
}

Job *meaning_job(Arena *arena, Texts *texts, const Sources *sources, const Modules *modules, Findings *findings,
                 GivenSwaps *swaps)
{
    Module *main = modules->list.items[0];
    Resolver *resolver = arena_take(arena, sizeof *resolver);
    *resolver = (Resolver){.arena = arena,
                           .texts = texts,
                           .sources = sources,
                           .findings = findings,
                           .module = main,
                           .sizes = modules->sizes};
    for (uint32_t i = 0; i < modules->list.count; i++)
        resolve_passes(resolver, modules->list.items[i]);
    for (uint32_t i = 0; i < modules->list.count; i++)
        resolve_module(resolver, modules->list.items[i]);

    Job *job = arena_take(arena, sizeof *job);
    job->sources = sources;
    Evaluator evaluator = {.arena = arena, .sources = sources, .findings = findings};
    job->bench = bench_read(&evaluator, main);
    job->about = about_of(&evaluator, main);
    value_declarations(&evaluator, modules, job);
    compare_versions(&evaluator, modules);
    tell_names_apart(&evaluator, texts, modules, job->thread_count);
    evaluator.in_rods = true;
    evaluator.swaps = swaps_given(resolver, &evaluator, swaps);
    uint32_t count = 0;
    for (const Node *node = main->declarations; node; node = node->next)
        count += node->kind == NODE_ROD;
    job->rods = arena_take_many(arena, count, sizeof *job->rods);
    for (const Node *node = main->declarations; node; node = node->next)
        if (node->kind == NODE_ROD)
            make_rod(&evaluator, node, &job->rods[job->rod_count++]);
    swaps_given_and_used(&evaluator, swaps, evaluator.swaps);
    add_changed_threads(&evaluator, texts, modules, job);
    return job;
}
