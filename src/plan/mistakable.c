#include "plan/mistakable.h"

#include "base/sort.h"
#include "plan/look.h"
#include "trade/colour.h"

#include <stdlib.h>

const char *eyes_words(Vision vision)
{
    static const char *const words[] = {[VISION_ALL_CONES] = "all eyes",
                                        [VISION_PROTANOPIA] = "red-blind eyes",
                                        [VISION_DEUTERANOPIA] = "green-blind eyes",
                                        [VISION_TRITANOPIA] = "blue-blind eyes"};
    _Static_assert(sizeof words / sizeof *words == VISION_COUNT, "of every kind of eyes");
    return words[vision];
}

typedef LIST_OF(uint64_t) Numbers;

/* Two threads, of which the first has the lower index, in one number. `alike`: looked at where they lie. */
typedef struct Pairs {
    Arena *arena;
    Numbers beside, alike;
} Pairs;

static bool mistakable(uint32_t a, uint32_t b)
{
    for (int vision = 0; vision < VISION_COUNT; vision++)
        if (difference_seen((Vision)vision, a, b) < MISTAKABLE)
            return true;
    return false;
}

static void add_number(Arena *arena, Numbers *numbers, uint64_t number)
{
    if (!numbers->count || numbers->items[numbers->count - 1] != number)
        *LIST_ADD(arena, numbers) = number;
}

static uint32_t look_over(const Thread *thread, Light ground)
{
    return colour_of(light_over(light_of(thread->colour), thread->opacity, ground));
}

/* Where two threads lie beside one another: in a layer of a place, at x. */
typedef struct Beside {
    const Rod *rod;
    const PlannedPlace *place;
    uint32_t layer;
} Beside;

static void add_pair(Pairs *pairs, const Beside *at, double x, const Thread *a, const Thread *b)
{
    if (a == b)
        return;
    uint64_t low = a->index < b->index ? a->index : b->index, high = a->index < b->index ? b->index : a->index;
    uint64_t pair = low << 32 | high;
    add_number(pairs->arena, &pairs->beside, pair);
    if (a->opacity == 1 && b->opacity == 1) /* they look as on their spools */
        return;
    Light ground = look_at(at->rod, at->place, at->layer, x);
    if (mistakable(look_over(a, ground), look_over(b, ground)))
        add_number(pairs->arena, &pairs->alike, pair);
}

/* Strands side by side in one run, and the last one beside the first of the run that follows. */
static void add_layer_pairs(Pairs *pairs, const Beside *at)
{
    const PlannedLayer *layer = &at->place->layers[at->layer];
    const Thread *before = NULL;
    for (uint32_t r = 0; r < layer->run_count; r++) {
        const Run *run = &layer->runs[r];
        for (uint32_t i = 0; run->strands && i < run->strands->count; i++) {
            if (before)
                add_pair(pairs, at, i ? (run->start + run->end) / 2 : run->start, before,
                         run->strands->items[i].thread);
            before = run->strands->items[i].thread;
        }
    }
    const PlannedCrosswrap *crosswrap = layer->crosswrap;
    for (uint32_t i = 0; crosswrap && i < crosswrap->strand_count; i++)
        if (crosswrap->strands[i].neighbour != NO_STRAND)
            add_pair(pairs, at, (crosswrap->field_start + crosswrap->field_end) / 2, crosswrap->strands[i].thread,
                     crosswrap->strands[crosswrap->strands[i].neighbour].thread);
}

static int compare_pairs(const void *a, const void *b)
{
    uint64_t first = *(const uint64_t *)a, second = *(const uint64_t *)b;
    return ORDER(first, second);
}

static void sort_pairs(Numbers *numbers)
{
    if (numbers->count)
        qsort(numbers->items, numbers->count, sizeof *numbers->items, compare_pairs);
}

MistakablePairs mistakable_pairs(Arena *arena, const Plan *plan)
{
    Pairs pairs = {.arena = arena};
    LIST_OF(Mistakable) found = {0};
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t p = 0; p < plan->rods[r].place_count; p++)
            for (uint32_t l = 0; l < plan->rods[r].places[p].layer_count; l++)
                add_layer_pairs(&pairs, &(Beside){plan->rods[r].rod, &plan->rods[r].places[p], l});
    sort_pairs(&pairs.beside);
    sort_pairs(&pairs.alike);
    for (uint32_t i = 0, alike = 0; i < pairs.beside.count; i++) {
        uint64_t pair = pairs.beside.items[i];
        uint32_t first = (uint32_t)(pair >> 32), second = (uint32_t)pair;
        if (i && pairs.beside.items[i - 1] == pair)
            continue;
        while (alike < pairs.alike.count && pairs.alike.items[alike] < pair)
            alike++;
        if ((alike < pairs.alike.count && pairs.alike.items[alike] == pair)
            || mistakable(plan->job->threads[first]->colour, plan->job->threads[second]->colour))
            *LIST_ADD(arena, &found) = (Mistakable){first, second};
    }
    return (MistakablePairs){found.items, found.count};
}
