/* What each thread needs, place by place and in all. */
#include "base/sort.h"
#include "plan/layout.h"
#include "plan/plan_sums.h"

#include <math.h>
#include <stdlib.h>

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

/* The lengths of one thread's pieces that a spool holds. */
typedef struct Lengths {
    double *items;
    uint32_t count;
    Supply *supply;
} Lengths;

static void add_length(Lengths *lengths, const Piece *piece)
{
    double length = piece_length(piece);
    Supply *supply = lengths->supply;
    if (!supply->longest || length > piece_length(supply->longest))
        supply->longest = piece;
    if (length > piece->thread->spool)
        supply->too_long++;
    else
        lengths->items[lengths->count++] = length;
}

/* The next of what the mishaps lost, of the ways that were gone. */
typedef struct LostCursor {
    uint32_t mishap, piece;
} LostCursor;

/* NULL behind the last. */
static const LostPiece *next_lost(const Job *job, LostCursor *cursor)
{
    for (; cursor->mishap < job->mishaps.count; cursor->mishap++, cursor->piece = 0) {
        const Mishap *mishap = &job->mishaps.items[cursor->mishap];
        const MishapWay *way = &mishap->ways[mishap->followed];
        if (cursor->piece < way->lost_count)
            return &way->lost[cursor->piece++];
    }
    return NULL;
}

static void add_lost_lengths(const Job *job, Lengths *lengths)
{
    LostCursor cursor = {0};
    for (const LostPiece *lost; (lost = next_lost(job, &cursor));) {
        Lengths *of = &lengths[lost->thread->index];
        if (of->items && lost->lost <= lost->thread->spool)
            of->items[of->count++] = lost->lost;
    }
}

/* Gives how many there are of each thread. */
static uint32_t *add_lost(Layout *layout, Need *totals)
{
    const Job *job = layout->job;
    uint32_t *counts = arena_take_many(layout->scratch, job->thread_count, sizeof *counts);
    Sum *sums = arena_take_many(layout->scratch, job->thread_count, sizeof *sums);
    LostCursor cursor = {0};
    for (const LostPiece *lost; (lost = next_lost(job, &cursor));) {
        sum_add(&sums[lost->thread->index], lost->lost);
        counts[lost->thread->index]++;
    }
    for (uint32_t i = 0; i < job->thread_count; i++)
        totals[i].lost = sum_value(&sums[i]);
    return counts;
}

static void buy(Arena *scratch, const Lengths *lengths, const Thread *thread)
{
    Supply *supply = lengths->supply;
    supply->spools = supply->cost = NAN;
    if (isnan(thread->spool))
        return;
    double *room = arena_take_many(scratch, 10 * (size_t)lengths->count + 10, sizeof *room);
    double stock = isnan(thread->stock) ? 0 : thread->stock;
    supply->spools = spools_to_buy(lengths->items, lengths->count, thread->spool, stock, room);
    supply->cost = supply->spools * thread->price;
}

/* lost: pieces of each thread. */
static void plan_supplies(Layout *layout, const uint32_t *lost)
{
    Plan *plan = layout->plan;
    Arena *scratch = layout->scratch;
    Lengths *lengths = arena_take_many(scratch, layout->job->thread_count, sizeof *lengths);
    plan->supplies = arena_take_many(layout->arena, plan->total_count, sizeof *plan->supplies);
    for (uint32_t i = 0; i < plan->total_count; i++) {
        const Need *total = &plan->totals[i];
        size_t most = (size_t)total->pieces + lost[total->thread->index];
        double *items = arena_take_many(scratch, most, sizeof *items);
        lengths[total->thread->index] = (Lengths){.items = items, .supply = &plan->supplies[i]};
    }
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t i = 0; i < plan->rods[r].piece_count; i++)
            add_length(&lengths[plan->rods[r].pieces[i].thread->index], &plan->rods[r].pieces[i]);
    add_lost_lengths(layout->job, lengths);
    for (uint32_t i = 0; i < plan->total_count; i++)
        buy(scratch, &lengths[plan->totals[i].thread->index], plan->totals[i].thread);
}

/* In the order of the totals: rods and places as they are worked, threads as they are declared. */
static int compare_needs(const void *left, const void *right)
{
    const Need *a = left, *b = right;
    int order = ORDER(a->rod, b->rod);
    order = order ? order : ORDER(a->place, b->place);
    return order ? order : ORDER(a->thread->index, b->thread->index);
}

void plan_needs(Layout *layout)
{
    Plan *plan = layout->plan;
    uint32_t threads = layout->job->thread_count;
    LIST_OF(Need) needs = {0};
    Tally *here = arena_take_many(layout->scratch, threads, sizeof *here);
    Tally *all = arena_take_many(layout->scratch, threads, sizeof *all);
    Need *totals = arena_take_many(layout->arena, threads, sizeof *totals);
    for (uint32_t r = 0; r < plan->rod_count; r++) {
        const Piece **pieces = pieces_by_place(layout->scratch, &plan->rods[r]);
        for (uint32_t i = 0; i < plan->rods[r].piece_count; i++) {
            const Piece *piece = pieces[i];
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
    }
    if (needs.count)
        qsort(needs.items, needs.count, sizeof *needs.items, compare_needs);
    plan->needs = needs.items;
    plan->need_count = needs.count;
    plan->totals = totals;
    const uint32_t *lost = add_lost(layout, totals);
    for (uint32_t i = 0; i < threads; i++) {
        if (!totals[i].thread)
            continue;
        totals[i].rod = totals[i].place = NEED_ALL;
        totals[plan->total_count++] = totals[i];
    }
    plan_supplies(layout, lost);
}
