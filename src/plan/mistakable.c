#include "plan/mistakable.h"

#include "base/sort.h"
#include "trade/colour.h"

#include <stdlib.h>

typedef LIST_OF(uint64_t) Pairs;

static void add_pair(Arena *arena, Pairs *pairs, const Thread *a, const Thread *b)
{
    if (a == b)
        return;
    uint64_t low = a->index < b->index ? a->index : b->index, high = a->index < b->index ? b->index : a->index;
    uint64_t pair = low << 32 | high;
    if (!pairs->count || pairs->items[pairs->count - 1] != pair)
        *LIST_ADD(arena, pairs) = pair;
}

/* Strands side by side in one run, and the last one beside the first of the run that follows. */
static void add_layer_pairs(Arena *arena, Pairs *pairs, const PlannedLayer *layer)
{
    const Thread *before = NULL;
    for (uint32_t r = 0; r < layer->run_count; r++) {
        const Strands *strands = layer->runs[r].strands;
        for (uint32_t i = 0; strands && i < strands->count; i++) {
            if (before)
                add_pair(arena, pairs, before, strands->items[i].thread);
            before = strands->items[i].thread;
        }
    }
    const PlannedCrosswrap *crosswrap = layer->crosswrap;
    for (uint32_t i = 0; crosswrap && i < crosswrap->strand_count; i++)
        if (crosswrap->strands[i].neighbour != NO_STRAND)
            add_pair(arena, pairs, crosswrap->strands[i].thread,
                     crosswrap->strands[crosswrap->strands[i].neighbour].thread);
}

static int compare_pairs(const void *a, const void *b)
{
    uint64_t first = *(const uint64_t *)a, second = *(const uint64_t *)b;
    return ORDER(first, second);
}

static bool mistakable(const Thread *a, const Thread *b)
{
    for (int vision = 0; vision < VISION_COUNT; vision++)
        if (difference_seen((Vision)vision, a->colour, b->colour) < MISTAKABLE)
            return true;
    return false;
}

MistakablePairs mistakable_pairs(Arena *arena, const Plan *plan)
{
    Pairs pairs = {0};
    LIST_OF(Mistakable) found = {0};
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t p = 0; p < plan->rods[r].place_count; p++)
            for (uint32_t l = 0; l < plan->rods[r].places[p].layer_count; l++)
                add_layer_pairs(arena, &pairs, &plan->rods[r].places[p].layers[l]);
    if (pairs.count)
        qsort(pairs.items, pairs.count, sizeof *pairs.items, compare_pairs);
    for (uint32_t i = 0; i < pairs.count; i++) {
        uint32_t first = (uint32_t)(pairs.items[i] >> 32), second = (uint32_t)pairs.items[i];
        bool again = i && pairs.items[i - 1] == pairs.items[i];
        if (!again && mistakable(plan->job->threads[first], plan->job->threads[second]))
            *LIST_ADD(arena, &found) = (Mistakable){first, second};
    }
    return (MistakablePairs){found.items, found.count};
}
