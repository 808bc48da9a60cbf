/* The cut list. */
#include "bench/making.h"
#include "plan/plan_sums.h"

#include <math.h>

/* What a loop needs beyond the turns that lie over it, to be held and drawn by: mm at each end; common practice,
 * no source. */
#define LOOP_HANDLE 50.0

/* Numbers each thread's pieces from 1, in working order. */
static void number_pieces(Arena *arena, BenchRod *rod)
{
    const PlannedRod *planned = rod->rod;
    uint32_t threads = 0;
    for (uint32_t i = 0; i < planned->piece_count; i++)
        if (planned->pieces[i].thread->index >= threads)
            threads = planned->pieces[i].thread->index + 1;
    uint32_t *counts = arena_take_many(arena, threads, sizeof *counts);
    rod->piece_numbers = arena_take_many(arena, planned->piece_count, sizeof *rod->piece_numbers);
    for (uint32_t i = 0; i < planned->piece_count; i++)
        rod->piece_numbers[i] = ++counts[planned->pieces[i].thread->index];
}

/* Loops are used again: as many are cut as ever lie at once, each long enough for the widest turns over it. */
typedef struct LoopUse {
    uint32_t lying, most, first_action;
    double width;
} LoopUse;

static void follow_loops(const PlannedRod *planned, const Action *action, uint32_t index, LoopUse *use)
{
    if (action->kind == ACTION_PULL_THROUGH)
        use->lying--;
    if (action->kind != ACTION_LAY_LOOP)
        return;
    const Piece *piece = &planned->pieces[action->piece];
    double pitch = planned->places[piece->place].layers[piece->layer].runs[piece->first_run].pitch;
    use->width = fmax(use->width, action->turns * pitch);
    if (++use->lying > use->most)
        use->most = use->lying;
    if (use->most == 1 && use->lying == 1 && use->first_action == UINT32_MAX)
        use->first_action = index;
}

/* The action that first needs its piece: of one on a bobbin that it is loaded. */
static bool is_cut_for(const PlannedRod *planned, const Action *action)
{
    bool begins = action->kind == ACTION_START || action->kind == ACTION_LAY_IN || action->kind == ACTION_TIE_ON;
    return action->kind == ACTION_LOAD || (begins && !planned->pieces[action->piece].bobbin);
}

void cut_list(Arena *arena, BenchRod *rod)
{
    const PlannedRod *planned = rod->rod;
    number_pieces(arena, rod);
    LIST_OF(Cut) cuts = {0};
    LoopUse loops = {.first_action = UINT32_MAX};
    for (uint32_t i = 0; i < rod->action_count; i++) {
        const Action *action = &rod->actions[i];
        follow_loops(planned, action, i, &loops);
        if (!is_cut_for(planned, action))
            continue;
        const Piece *piece = &planned->pieces[action->piece];
        CutKind kind = piece->bobbin ? CUT_BOBBIN : piece->by_hand ? CUT_PIECE : CUT_SPOOL;
        *LIST_ADD(arena, &cuts) =
            (Cut){kind, action->piece, rod->piece_numbers[action->piece], i, piece_length(piece)};
    }
    for (uint32_t i = 0; i < loops.most; i++)
        *LIST_ADD(arena, &cuts) =
            (Cut){CUT_LOOP, NO_PIECE, i + 1, loops.first_action, 2 * (loops.width + 2 * LOOP_HANDLE)};
    rod->cuts = cuts.items;
    rod->cut_count = cuts.count;
}
