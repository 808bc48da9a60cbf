#include "base/sort.h"
#include "check/rules.h"

#include <stdlib.h>

static void cut_into_wraps(const Check *check, LayerView *view)
{
    arena_clear(check->scratch);
    Wraps wraps = layer_wraps(check->scratch, view->layer);
    view->wraps = arena_take_many(check->arena, wraps.count, sizeof *view->wraps);
    view->wrap_count = wraps.count;
    for (uint32_t i = 0; i < wraps.count; i++)
        view->wraps[i].wrap = wraps.items[i];
}

/* Pieces of a rod stand in one array, so their addresses keep the working order among equals. Those of a
 * crosswrap's strands come last of their layer: they make no turns in a wrap. */
static int by_first_turn(const void *left, const void *right)
{
    const Piece *a = *(const Piece *const *)left, *b = *(const Piece *const *)right;
    int order = ORDER(a->place, b->place);
    order = order ? order : ORDER(a->layer, b->layer);
    order = order ? order : ORDER((bool)a->pass_count, (bool)b->pass_count);
    order = order ? order : ORDER(a->first_turn, b->first_turn);
    return order ? order : ORDER(a, b);
}

/* All pieces of the rod, layer by layer; NULL behind the last. */
static const Piece **sorted_pieces(Arena *arena, const PlannedRod *rod)
{
    const Piece **pieces = arena_take_many(arena, (size_t)rod->piece_count + 1, sizeof *pieces);
    for (uint32_t i = 0; i < rod->piece_count; i++)
        pieces[i] = &rod->pieces[i];
    qsort(pieces, rod->piece_count, sizeof *pieces, by_first_turn);
    return pieces;
}

static void give_pieces_to_wraps(LayerView *view)
{
    uint32_t next = 0;
    for (uint32_t i = 0; i < view->wrap_count; i++) {
        WrapView *wrap = &view->wraps[i];
        wrap->first_piece = next;
        while (next < view->piece_count && !view->pieces[next]->pass_count
               && view->pieces[next]->first_turn < wrap->wrap.end_turn)
            next++;
        wrap->end_piece = next;
    }
}

typedef struct LayerViews {
    LIST_OF(LayerView) list;
} LayerViews;

static void find_layers_of_rod(const Check *check, const PlannedRod *rod, LayerViews *views)
{
    const Piece **pieces = sorted_pieces(check->arena, rod);
    for (uint32_t i = 0; i < rod->place_count; i++) {
        const PlannedPlace *place = &rod->places[i];
        for (uint32_t j = 0; j < place->layer_count; j++) {
            LayerView view = {.rod = rod, .place = place, .layer = &place->layers[j], .pieces = pieces};
            for (; *pieces && (*pieces)->place == i && (*pieces)->layer == j; pieces++)
                view.piece_count++;
            if (!view.layer->laid)
                continue;
            cut_into_wraps(check, &view);
            give_pieces_to_wraps(&view);
            *LIST_ADD(check->arena, &views->list) = view;
        }
    }
}

void find_layers(Check *check)
{
    LayerViews views = {0};
    for (uint32_t i = 0; i < check->plan->rod_count; i++)
        find_layers_of_rod(check, &check->plan->rods[i], &views);
    check->layers = views.list.items;
    check->layer_count = views.list.count;
}
