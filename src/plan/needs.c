/* What each thread needs, place by place and in all. */
#include "plan/layout.h"

#include <math.h>

typedef struct Tally {
    uint32_t need; /* its index, plus one; 0: none yet at this place */
    uint32_t rod, place;
    Sum wound, ends;
} Tally;

static void add_piece(Tally *tally, Need *need, const Piece *piece)
{
    sum_add(&tally->wound, piece->wound);
    sum_add(&tally->ends, piece->tags + piece->beneath + piece->free);
    need->pieces++;
    need->turns += piece->turns;
    need->wound = sum_value(&tally->wound);
    need->ends = sum_value(&tally->ends);
}

void plan_needs(Layout *layout)
{
    Plan *plan = layout->plan;
    uint32_t threads = layout->job->thread_count;
    LIST_OF(Need) needs = {0};
    Tally *here = arena_take_many(layout->arena, threads, sizeof *here);
    Tally *all = arena_take_many(layout->arena, threads, sizeof *all);
    Need *totals = arena_take_many(layout->arena, threads, sizeof *totals);
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t i = 0; i < plan->rods[r].piece_count; i++) {
            const Piece *piece = &plan->rods[r].pieces[i];
            uint32_t index = piece->thread->index;
            Tally *tally = &here[index];
            if (!tally->need || tally->rod != r || tally->place != piece->place) {
                *LIST_ADD(layout->arena, &needs) =
                    (Need){.thread = piece->thread, .rod = r, .place = piece->place};
                *tally = (Tally){.need = needs.count, .rod = r, .place = piece->place};
            }
            add_piece(tally, &needs.items[tally->need - 1], piece);
            totals[index].thread = piece->thread;
            add_piece(&all[index], &totals[index], piece);
        }
    plan->needs = needs.items;
    plan->need_count = needs.count;
    plan->totals = totals;
    for (uint32_t i = 0; i < threads; i++) {
        if (!totals[i].thread)
            continue;
        totals[i].rod = totals[i].place = NEED_ALL;
        totals[plan->total_count++] = totals[i];
    }
}

Supply supply_of(const Need *need)
{
    const Thread *thread = need->thread;
    double length = need->wound + need->ends;
    double stock = isnan(thread->stock) ? 0 : thread->stock;
    double spools = ceil(fmax(0, length - stock) / thread->spool);
    return (Supply){spools, spools * thread->price, thread->stock - length};
}
