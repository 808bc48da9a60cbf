#include "plan/ways.h"

#include "plan/layout.h"

const char *preference_word(Preference prefer)
{
    static const char *const words[PREFER_COUNT] = {
#define X(name, word) [PREFER_##name] = word,
        PREFER_TABLE(X)
#undef X
    };
    return words[prefer];
}

static void add_rod(WorkSums *sums, const PlannedRod *rod, Rounding rounding)
{
    sums->pieces += rod->piece_count;
    sums->hand_turns += rod->hand_turns;
    sums->handled += rod->handled;
    for (uint32_t i = 0; i < rod->piece_count; i++)
        sums->waste += rounded_ends(&rod->pieces[i], rounding);
}

/* The rod's pieces as the job would have them. */
static PlannedRod pieced_anew(Layout *layout, const PlannedRod *rod)
{
    PlannedRod copy = *rod;
    copy.piece_count = copy.winding_count = 0;
    copy.hand_turns = copy.handled = 0;
    layout->rod = &copy;
    plan_pieces(layout);
    return copy;
}

Ways plan_ways(Arena *arena, const Plan *plan, Rounding rounding)
{
    Ways ways = {0};
    Arena *pieces = arena_child(arena);
    for (Preference prefer = 0; prefer < PREFER_COUNT; prefer++) {
        Job job = *plan->job;
        job.bench.prefer = prefer;
        arena_clear(pieces);
        Layout layout = {.arena = pieces, .scratch = arena_child(pieces), .job = &job};
        for (uint32_t r = 0; r < plan->rod_count; r++) {
            const PlannedRod *rod = &plan->rods[r];
            PlannedRod other = prefer == plan->job->bench.prefer ? *rod : pieced_anew(&layout, rod);
            add_rod(&ways.by[prefer], &other, rounding);
        }
    }
    arena_clear(pieces);
    return ways;
}
