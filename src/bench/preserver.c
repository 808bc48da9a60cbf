#include "bench/preserver.h"

#include "base/halfway.h"
#include "base/sort.h"

#include <stdlib.h>

/* A spacer comes off again. */
static bool needs_preserver(const Piece *piece) { return piece->thread->preserver && !piece->spacer; }

static Preserving preserving_of(const Bench *bench, const PlannedRod *rod, const Piece *piece)
{
    const PlannedPlace *place = &rod->places[piece->place];
    for (uint32_t layer = piece->layer; layer < place->layer_count; layer++) {
        bool own = layer == piece->layer, last = layer + 1 == place->layer_count;
        if (place->layers[layer].crosswrap || (own && !last && bench->seal))
            return (Preserving){piece->place, layer, piece->thread};
    }
    return (Preserving){WHOLE_ROD, WHOLE_ROD, piece->thread};
}

static int compare_sealings(const Preserving *a, const Preserving *b)
{
    int order = ORDER(a->place, b->place);
    return order ? order : ORDER(a->layer, b->layer);
}

static int in_order(const void *left, const void *right)
{
    const Preserving *a = left, *b = right;
    int order = compare_sealings(a, b);
    return order ? order : ORDER(a->thread->index, b->thread->index);
}

Preservings find_preservings(Arena *arena, const Bench *bench, const PlannedRod *rod)
{
    uint32_t found = 0, count = 0;
    for (uint32_t i = 0; i < rod->piece_count; i++)
        found += needs_preserver(&rod->pieces[i]);
    if (!found)
        return (Preservings){0};
    Preserving *items = arena_take_many(arena, found, sizeof *items);
    for (uint32_t i = 0, at = 0; i < rod->piece_count; i++)
        if (needs_preserver(&rod->pieces[i]))
            items[at++] = preserving_of(bench, rod, &rod->pieces[i]);
    qsort(items, found, sizeof *items, in_order);
    for (uint32_t i = 0; i < found; i++)
        if (!count || in_order(&items[count - 1], &items[i]))
            items[count++] = items[i];
    return (Preservings){items, count};
}

Preservings preservings_before(const Preservings *all, uint32_t place, uint32_t layer)
{
    Preserving asked = {place, layer, NULL};
    uint32_t low = 0, high = all->count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (compare_sealings(&all->items[middle], &asked) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    Preservings found = {all->items ? all->items + low : NULL, 0};
    while (low + found.count < all->count && !compare_sealings(&found.items[found.count], &asked))
        found.count++;
    return found;
}
