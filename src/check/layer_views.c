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
 * crosswrap's strands come last: they make no turns in a wrap. */
static int by_first_turn(const void *left, const void *right)
{
    const Piece *a = *(const Piece *const *)left, *b = *(const Piece *const *)right;
    if (!a->pass_count != !b->pass_count)
        return a->pass_count ? 1 : -1;
    if (a->first_turn != b->first_turn)
        return a->first_turn < b->first_turn ? -1 : 1;
    return a < b ? -1 : a > b;
}

static void give_pieces_to_wraps(LayerView *view)
{
    if (view->piece_count)
        qsort(view->pieces, view->piece_count, sizeof *view->pieces, by_first_turn);
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

/* Index of each place's first layer among all the rod's layers, the sum last. */
static uint32_t *number_layers(Arena *arena, const PlannedRod *rod)
{
    uint32_t *first = arena_take_many(arena, (size_t)rod->place_count + 1, sizeof *first);
    for (uint32_t i = 0; i < rod->place_count; i++)
        first[i + 1] = first[i] + rod->places[i].layer_count;
    return first;
}

static void find_layers_of_rod(Check *check, const PlannedRod *rod)
{
    const uint32_t *first = number_layers(check->arena, rod);
    LayerView *views = arena_take_many(check->arena, first[rod->place_count], sizeof *views);
    for (uint32_t i = 0; i < rod->piece_count; i++)
        views[first[rod->pieces[i].place] + rod->pieces[i].layer].piece_count++;
    for (uint32_t i = 0; i < rod->place_count; i++) {
        for (uint32_t j = 0; j < rod->places[i].layer_count; j++) {
            LayerView *view = &views[first[i] + j];
            view->rod = rod;
            view->place = &rod->places[i];
            view->layer = &rod->places[i].layers[j];
            view->pieces = arena_take_many(check->arena, view->piece_count, sizeof *view->pieces);
            view->piece_count = 0;
            cut_into_wraps(check, view);
        }
    }
    for (uint32_t i = 0; i < rod->piece_count; i++) {
        LayerView *view = &views[first[rod->pieces[i].place] + rod->pieces[i].layer];
        view->pieces[view->piece_count++] = &rod->pieces[i];
    }
    for (uint32_t i = 0; i < first[rod->place_count]; i++) {
        give_pieces_to_wraps(&views[i]);
        if (views[i].layer->laid)
            check->layers[check->layer_count++] = views[i];
    }
}

void find_layers(Check *check)
{
    size_t count = 0;
    for (uint32_t i = 0; i < check->plan->rod_count; i++)
        for (uint32_t j = 0; j < check->plan->rods[i].place_count; j++)
            count += check->plan->rods[i].places[j].layer_count;
    check->layers = arena_take_many(check->arena, count, sizeof *check->layers);
    for (uint32_t i = 0; i < check->plan->rod_count; i++)
        find_layers_of_rod(check, &check->plan->rods[i]);
}
