#include "plan/turns_so_far.h"

#include <math.h>

static void pass(TurnsSoFar *so_far, const Run *run, ThreadWidths *widths, uint64_t turns)
{
    if (run->role == RUN_GAP)
        so_far->gaps += fabs(run->end - run->start);
    if (so_far->run_turn == 0 && (so_far->run == 0 || run[-1].item != run->item))
        so_far->band_first = so_far->turn;
    if (!turns)
        return;
    thread_widths_add(widths, run->strands, (double)turns);
    so_far->last = run->strands;
    so_far->turn += turns;
    so_far->run_turn += turns;
}

void turns_go_on(TurnsSoFar *so_far, ThreadWidths *widths, uint64_t turn)
{
    while (so_far->turn < turn && so_far->run < so_far->layer->run_count) {
        const Run *run = &so_far->layer->runs[so_far->run];
        uint64_t left = run->turns - so_far->run_turn, wanted = turn - so_far->turn;
        pass(so_far, run, widths, left < wanted ? left : wanted);
        if (so_far->run_turn < run->turns)
            return;
        so_far->run++;
        so_far->run_turn = 0;
    }
}
