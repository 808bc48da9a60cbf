/* The working order: in which order the layers of a rod are wound. Here alone it is decided. */
#include "plan/layout.h"

#include "base/sort.h"

const Layer **layers_from_below(Layout *layout, const PlannedPlace *place, uint32_t *count)
{
    const Place *written = place->place;
    bool apart = place->foot == 1 && written->tip_layers;
    const Layer *layers = apart ? written->tip_layers : written->layers;
    *count = apart ? written->tip_layer_count : written->layer_count;
    const Layer **ordered = arena_take_many(layout->scratch, *count, sizeof *ordered);
    uint32_t ready = 0;
    for (uint32_t l = 0; l < *count; l++)
        if (place->foot < 0 || !layers[l].over)
            ordered[ready++] = &layers[l];
    for (uint32_t l = 0; l < *count && place->foot >= 0; l++)
        if (layers[l].over)
            ordered[ready++] = &layers[l];
    return ordered;
}

uint32_t layers_below(const PlannedPlace *place)
{
    uint32_t below = 0;
    while (place->foot >= 0 && below < place->layer_count && !place->layers[below].layer->over)
        below++;
    return below;
}

/* It goes on with the stage before where that is of the same place. */
static void add_stage(PlannedRod *rod, uint32_t place, uint32_t first_layer, uint32_t end_layer)
{
    Stage *last = rod->stage_count ? &rod->stages[rod->stage_count - 1] : NULL;
    if (last && last->place == place)
        last->end_layer = end_layer;
    else
        rod->stages[rod->stage_count++] = (Stage){place, first_layer, end_layer};
}

/* A guide lies on the blank with all of its feet at once: what lies below them is wound at each before it goes on,
 * and then each foot is wrapped. A place without layers is worked, too: it is marked. */
static void add_guide(PlannedRod *rod, uint32_t first, uint32_t end)
{
    for (uint32_t p = first; p < end; p++) {
        uint32_t below = layers_below(&rod->places[p]);
        if (below || !rod->places[p].layer_count)
            add_stage(rod, p, 0, below);
    }
    for (uint32_t p = first; p < end; p++) {
        uint32_t below = layers_below(&rod->places[p]), all = rod->places[p].layer_count;
        if (below < all)
            add_stage(rod, p, below, all);
    }
}

void plan_stages(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    rod->stages = arena_take_many(layout->arena, 2 * (size_t)rod->place_count, sizeof *rod->stages);
    rod->stage_count = 0;
    for (uint32_t p = 0, end; p < rod->place_count; p = end) {
        for (end = p + 1; end < rod->place_count && rod->places[end].place == rod->places[p].place;)
            end++;
        add_guide(rod, p, end);
    }
}

const Piece **pieces_by_place(Arena *arena, const PlannedRod *rod)
{
    uint32_t *places = arena_take_many(arena, rod->piece_count, sizeof *places);
    for (uint32_t i = 0; i < rod->piece_count; i++)
        places[i] = rod->pieces[i].place;
    const uint32_t *order = numbers_by_key(arena, places, rod->piece_count, rod->place_count);
    const Piece **pieces = arena_take_many(arena, rod->piece_count, sizeof *pieces);
    for (uint32_t i = 0; i < rod->piece_count; i++)
        pieces[i] = &rod->pieces[order[i]];
    return pieces;
}
