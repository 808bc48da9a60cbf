#include "plan/plan_sums.h"

#include "base/whole.h"

#include <math.h>

double rounded(double mm, Rounding rounding)
{
    double steps = mm / rounding.step;
    return (rounding.up ? whole_above(steps) : round(steps)) * rounding.step;
}

Rounding rounding_of_thread(UnitSystem system) { return (Rounding){quantity_step(system, QUANTITY_THREAD), true}; }

Rounding rounding_of_lengths(UnitSystem system)
{
    return (Rounding){quantity_step(system, QUANTITY_WIDTH), false};
}
Rounding rounding_of_programs(void) { return (Rounding){1e-6, false}; }

double rounded_down(double mm, Rounding rounding)
{
    return rounding.up ? -rounded(-mm, (Rounding){rounding.step, true}) : rounded(mm, rounding);
}

double stock_left(const Need *need, Rounding rounding)
{
    return rounded_down(need->thread->stock, rounding) - need_length(need);
}

double rounded_ends(const Piece *piece, Rounding rounding)
{
    Rounding nearest = {rounding.step, false};
    return rounding.up
               ? rounded(piece->tags + piece->beneath + piece->free, nearest)
               : rounded(piece->tags, nearest) + rounded(piece->beneath, nearest) + rounded(piece->free, nearest);
}

/* A piece is cut whole: it is its length that is rounded up; its turns take what its ends leave. */
static void add_rounded(Need *need, const Piece *piece, Rounding rounding)
{
    Rounding nearest = {rounding.step, false};
    double ends = rounded_ends(piece, rounding);
    need->wound += rounding.up ? rounded(piece_length(piece), rounding) - ends : rounded(piece->wound, nearest);
    need->ends += ends;
}

/* The need of each thread at the place where the pieces have come to. */
static uint32_t *first_needs(Arena *arena, const Plan *plan, uint32_t *next)
{
    uint32_t *first = arena_take_many(arena, plan->job->thread_count, sizeof *first);
    for (uint32_t i = plan->need_count; i-- > 0;) {
        uint32_t thread = plan->needs[i].thread->index;
        next[i] = first[thread];
        first[thread] = i;
    }
    return first;
}

static void round_places(Arena *arena, const Plan *plan, Rounding rounding, Need *places)
{
    for (uint32_t i = 0; i < plan->need_count; i++) {
        places[i] = plan->needs[i];
        places[i].wound = places[i].ends = 0;
    }
    uint32_t *next = arena_take_many(arena, plan->need_count, sizeof *next);
    uint32_t *at = first_needs(arena, plan, next);
    for (uint32_t r = 0; r < plan->rod_count; r++) {
        const Piece **pieces = pieces_by_place(arena, &plan->rods[r]);
        for (uint32_t i = 0; i < plan->rods[r].piece_count; i++) {
            const Piece *piece = pieces[i];
            uint32_t *need = &at[piece->thread->index];
            if (plan->needs[*need].rod != r || plan->needs[*need].place != piece->place)
                *need = next[*need];
            add_rounded(&places[*need], piece, rounding);
        }
    }
}

static void add_places(Arena *arena, const Plan *plan, const Need *places, Need *totals, Rounding rounding)
{
    Need **of_thread = arena_take_many(arena, plan->job->thread_count, sizeof(Need *));
    for (uint32_t i = 0; i < plan->total_count; i++) {
        totals[i] = plan->totals[i];
        totals[i].wound = totals[i].ends = 0;
        totals[i].lost = rounded(totals[i].lost, rounding);
        of_thread[totals[i].thread->index] = &totals[i];
    }
    for (uint32_t i = 0; i < plan->need_count; i++) {
        Need *total = of_thread[places[i].thread->index];
        total->wound += places[i].wound;
        total->ends += places[i].ends;
    }
}

RoundedNeeds rounded_needs(Arena *arena, const Plan *plan, Rounding rounding)
{
    RoundedNeeds made = {arena_take_many(arena, plan->need_count, sizeof *made.places),
                         arena_take_many(arena, plan->total_count, sizeof *made.totals)};
    round_places(arena, plan, rounding, made.places);
    add_places(arena, plan, made.places, made.totals, rounding);
    return made;
}
