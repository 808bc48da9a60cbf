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
    for (uint32_t l = 0; l < *count; l++)
        ordered[l] = &layers[l];
    return ordered;
}

void plan_stages(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    rod->stages = arena_take_many(layout->arena, rod->place_count, sizeof *rod->stages);
    rod->stage_count = rod->place_count;
    for (uint32_t p = 0; p < rod->place_count; p++)
        rod->stages[p] = (Stage){p, 0, rod->places[p].layer_count};
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
