#include "plan/lengthwise.h"

#include "base/sort.h"
#include "plan/piece_ends.h"
#include "trade/trade.h"

#include <stdlib.h>

static void lie(Arena *arena, LengthwiseList *lengthwise, const Piece *piece, LengthwiseKind kind, uint64_t from,
                uint64_t to)
{
    if (from < to)
        *LIST_ADD(arena, &lengthwise->list) = (Lengthwise){from, to, kind, piece};
}

static bool winds(const Run *run, const Piece *piece)
{
    for (uint32_t i = 0; i < run->strands->count; i++)
        if (run->strands->items[i].thread == piece->thread && run->strands->items[i].spacer == piece->spacer)
            return true;
    return false;
}

/* Between its own runs a piece runs beneath the turns made meanwhile. */
static void lay_standing(Arena *arena, const PlannedLayer *layer, const Piece *piece, LengthwiseList *lengthwise)
{
    uint64_t turn = piece->run_turn, last_own = turn;
    const Strands *own = layer->runs[piece->first_run].strands;
    for (uint32_t i = piece->first_run; i <= piece->last_run; i++) {
        const Run *run = &layer->runs[i];
        bool works = run->role != RUN_GAP && (run->strands == own || winds(run, piece));
        if (works)
            lie(arena, lengthwise, piece, LIES_STANDING, last_own, turn);
        turn += run->turns;
        if (works)
            last_own = turn;
    }
}

void add_lengthwise(Arena *arena, const Bench *bench, const PlannedRod *rod, const PlannedLayer *layer,
                    const Wrap *wrap, uint32_t index, LengthwiseList *lengthwise)
{
    const Piece *piece = &rod->pieces[index];
    if (piece->spacer)
        return;
    PieceEnds ends = piece_ends(bench, rod, index, wrap);
    lie(arena, lengthwise, piece, LIES_TAG, ends.tag.from, ends.tag.to);
    lie(arena, lengthwise, piece, LIES_END, ends.end.from, ends.end.to);
    lay_standing(arena, layer, piece, lengthwise);
}

/* --- one sweep over the turns --- */

typedef struct CountChange {
    uint64_t turn;
    int change;
} CountChange;

static int by_turn(const void *left, const void *right)
{
    const CountChange *a = left, *b = right;
    return ORDER(a->turn, b->turn);
}

static CountChange *find_changes(Arena *scratch, const LengthwiseList *lengthwise)
{
    CountChange *changes = arena_take_many(scratch, (size_t)lengthwise->list.count * 2, sizeof *changes);
    for (uint32_t i = 0; i < lengthwise->list.count; i++) {
        changes[2 * (size_t)i] = (CountChange){lengthwise->list.items[i].from, 1};
        changes[2 * (size_t)i + 1] = (CountChange){lengthwise->list.items[i].to, -1};
    }
    if (lengthwise->list.count)
        qsort(changes, (size_t)lengthwise->list.count * 2, sizeof *changes, by_turn);
    return changes;
}

/* Walks along a layer's runs; turns must not go back. */
typedef struct RunWalk {
    const PlannedLayer *layer;
    uint32_t run;
    uint64_t first_turn; /* of that run */
} RunWalk;

static const Run *walk_to(RunWalk *walk, uint64_t turn)
{
    while (walk->run + 1 < walk->layer->run_count && walk->first_turn + walk->layer->runs[walk->run].turns <= turn)
        walk->first_turn += walk->layer->runs[walk->run++].turns;
    return &walk->layer->runs[walk->run];
}

const Run *run_at_turn(const PlannedLayer *layer, uint64_t turn)
{
    RunWalk walk = {.layer = layer};
    return walk_to(&walk, turn);
}

static double surface_at(RunWalk *walk, uint64_t turn)
{
    const Run *run = walk_to(walk, turn);
    double part = run->turns ? (double)(turn - walk->first_turn) / run->turns : 0;
    return run->start_diameter + (run->end_diameter - run->start_diameter) * (part < 1 ? part : 1);
}

/* Strands lie on the half of the blank opposite this ring, wherever it stands, so that nothing shows on the side
 * that is seen: how much room there is does not depend on the place's angle. */
double stretch_room(Stretch stretch) { return TRADE_PI * stretch.diameter / 2 / stretch.strands; }

Stretches find_stretches(Arena *arena, const PlannedLayer *layer, const Wrap *from,
                         const LengthwiseList *lengthwise)
{
    const CountChange *changes = find_changes(arena, lengthwise);
    size_t count = (size_t)lengthwise->list.count * 2;
    Stretches stretches = {.items = arena_take_many(arena, count, sizeof *stretches.items)};
    RunWalk walk = {layer, from->first_run, from->first_turn};
    uint32_t strands = 0;
    for (size_t i = 0; i < count;) {
        uint64_t turn = changes[i].turn;
        for (; i < count && changes[i].turn == turn; i++)
            strands += (uint32_t)changes[i].change;
        if (i == count)
            break;
        if (!strands)
            continue;
        Stretch here = {turn, changes[i].turn, strands, surface_at(&walk, turn)};
        double end_diameter = surface_at(&walk, here.to);
        here.diameter = end_diameter < here.diameter ? end_diameter : here.diameter;
        stretches.items[stretches.count++] = here;
    }
    return stretches;
}
