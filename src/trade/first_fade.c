#include "trade/first_fade.h"

#include "trade/trade.h"

#include <math.h>
#include <string.h>

uint32_t fade_changes(const unsigned char *is_new, uint32_t turns)
{
    uint32_t changes = 0;
    unsigned char before = 0;
    for (uint32_t i = 0; i < turns; before = is_new[i++])
        changes += is_new[i] != before;
    return changes + !before;
}

/* Runs between two changes: what goes on a band is not one. */
static bool runs_long_enough(const FadeTask *task, const unsigned char *is_new)
{
    uint32_t begun = 0; /* where the run began that is gone through */
    bool after_change = false;
    unsigned char shade = 0;
    for (uint32_t i = 0; i <= task->turns; i++) {
        unsigned char here = i == task->turns ? 1 : is_new[i];
        if (here == shade)
            continue;
        if (after_change && i - begun < task->shortest)
            return false;
        begun = i;
        after_change = true;
        shade = here;
    }
    return true;
}

bool within_limits(const FadeTask *task, const unsigned char *is_new)
{
    uint32_t count = 0, changes = fade_changes(is_new, task->turns),
             hand = task->most_by_hand ? task->most_by_hand : 1;
    for (uint32_t i = 0; i < task->turns; i++)
        count += is_new[i];
    if (task->turns > 1 && (count == 0 || count == task->turns))
        return false;
    return (changes == 1 || changes <= task->most_changes) && runs_long_enough(task, is_new)
           && (count <= hand || task->turns - count <= hand);
}

uint32_t steps_within(uint32_t turns)
{
    uint32_t steps = 1;
    while ((uint64_t)(steps + 1) * (steps + 2) <= turns)
        steps++;
    return steps;
}

/* Halves of a lean until it is known as finely as one turn of many matters. */
enum { LEAN_HALVES = 12 };

/* To whole turns, halves up: boundary `at` of `all` as spread over the turns. */
static uint32_t stretched(uint64_t at, uint64_t all, uint32_t turns)
{
    return (uint32_t)((2 * at * turns + all) / (2 * all));
}

static void by_steps(unsigned char *is_new, uint32_t turns, uint32_t steps)
{
    uint64_t all = (uint64_t)steps * (steps + 1);
    for (uint32_t step = 1; step <= steps; step++) {
        uint64_t from = (uint64_t)(step - 1) * (steps + 1);
        uint32_t in = stretched(from, all, turns), out = stretched(from + step, all, turns),
                 end = stretched(from + steps + 1, all, turns);
        memset(is_new + in, 1, out - in);
        memset(is_new + out, 0, end - out);
    }
}

void fade_by_steps(unsigned char *is_new, uint32_t turns) { by_steps(is_new, turns, steps_within(turns)); }

void fade_evenly(unsigned char *is_new, uint32_t turns)
{
    uint64_t made = 0;
    for (uint32_t turn = 1; turn <= turns; turn++) {
        uint64_t now = even_crossover_turns(turn, turns);
        is_new[turn - 1] = now > made;
        made = now;
    }
}

/* What share of a turn is of the new shade in a ramp that is even but for a lean. */
static double ramp_share(const FadeTask *task, const FadeSight *sight, uint32_t i, double lean)
{
    return mix_share(task->path, fmin(fmax(even_place(sight, (int)i + 1) + lean, 0), 1));
}

/* The ramp in so many equal parts: each has as many turns of the new shade, in its middle, as the ramp asks, what
 * does not come out whole carried forward. */
static void by_parts(unsigned char *is_new, const FadeTask *task, const FadeSight *sight, uint32_t parts,
                     double lean)
{
    double asked = 0;
    uint32_t laid = 0, from = 0;
    for (uint32_t part = 1; part <= parts; part++) {
        uint32_t end = stretched(part, parts, task->turns);
        for (uint32_t i = from; i < end; i++)
            asked += ramp_share(task, sight, i, lean);
        uint32_t count = (uint32_t)fmin(fmax(round(asked) - laid, 0), end - from);
        memset(is_new + from, 0, end - from);
        memset(is_new + from + (end - from - count) / 2, 1, count);
        laid += count;
        from = end;
    }
}

/* How far the ramp has to lean towards the old shade (-1) or the new one (1) for as few turns of the other as can
 * be made by hand. */
static double lean_to(const FadeTask *task, const FadeSight *sight, int side)
{
    double too_little = 0, enough = 1;
    for (int half = 0; half < LEAN_HALVES; half++) {
        double lean = (too_little + enough) / 2, count = 0;
        for (uint32_t i = 0; i < task->turns; i++)
            count += ramp_share(task, sight, i, side * lean);
        if ((side < 0 ? count : task->turns - count) <= task->most_by_hand)
            enough = lean;
        else
            too_little = lean;
    }
    return side * enough;
}

typedef struct Best {
    const FadeTask *task;
    const FadeSight *sight;
    unsigned char *is_new;
    Departure worst;
    uint32_t looks; /* at turns, while it is made better */
} Best;

static bool is_better(Best *best, const unsigned char *is_new)
{
    if (!within_limits(best->task, is_new))
        return false;
    Departure worst = most_departure(best->sight, best->task->path, is_new);
    if (!(worst.most < best->worst.most - SAME_DEPARTURE))
        return false;
    memcpy(best->is_new, is_new, best->task->turns);
    best->worst = worst;
    return true;
}

/* What makes the turn better that lies furthest off changes over turns that are seen there: one, or two near one
 * another, by which a change of thread moves, or a run as a whole. */
enum { NEAR_TURNS = 8, MOST_MOVES = 200, MOST_LOOKS = 200000 };

/* Whether the turns depart by less with one or two changed over. */
static bool would_be_better(Best *best, const double *shares, int one, int other)
{
    double most = best->worst.most - SAME_DEPARTURE;
    for (int turn = 1; turn <= best->sight->turns; turn++) {
        double share = shares[turn] + seen_change(best->sight, best->is_new, turn, one)
                       + (other == one ? 0 : seen_change(best->sight, best->is_new, turn, other));
        best->looks++;
        if (!(departure_of(best->sight, best->task->path, share, turn) < most))
            return false;
    }
    return true;
}

static bool moved_better(Best *best)
{
    const FadeSight *sight = best->sight;
    int worst = best->worst.turn, last = worst + sight->reach;
    double shares[MOST_CHOSEN_TURNS + 1];
    for (int turn = 1; turn <= sight->turns; turn++)
        shares[turn] = share_of_new(sight, best->is_new, turn);
    unsigned char is_new[MOST_CHOSEN_TURNS];
    for (int i = worst > sight->reach ? worst - sight->reach : 1; i <= last && i <= sight->turns; i++) {
        for (int j = i; j <= sight->turns && j <= i + NEAR_TURNS && best->looks < MOST_LOOKS; j++) {
            double share = shares[worst] + seen_change(best->sight, best->is_new, worst, i)
                           + (j == i ? 0 : seen_change(best->sight, best->is_new, worst, j));
            if (departure_of(sight, best->task->path, share, worst) >= best->worst.most
                || !would_be_better(best, shares, i, j))
                continue;
            memcpy(is_new, best->is_new, best->task->turns);
            is_new[i - 1] ^= 1;
            is_new[j - 1] ^= j != i;
            if (is_better(best, is_new))
                return true;
        }
    }
    return false;
}

/* One change of thread: in the middle, or where no more turns than can be made by hand lie before or behind it. */
static void try_one_change(Best *best, uint32_t most)
{
    uint32_t turns = best->task->turns;
    unsigned char is_new[MOST_CHOSEN_TURNS];
    for (int last = 0; last < 2; last++) {
        uint32_t old = last ? turns - most : most;
        memset(is_new, 0, old);
        memset(is_new + old, 1, turns - old);
        is_better(best, is_new);
    }
}

static void try_parts(Best *best, double lean)
{
    unsigned char is_new[MOST_CHOSEN_TURNS];
    for (uint32_t parts = steps_within(best->task->turns); parts; parts--) {
        by_parts(is_new, best->task, best->sight, parts, lean);
        is_better(best, is_new);
    }
}

void first_fade(const FadeTask *task, const FadeSight *sight, unsigned char *is_new)
{
    Best best = {.task = task, .sight = sight, .is_new = is_new, .worst = {INFINITY, 1}};
    uint32_t half = task->turns / 2;
    try_one_change(&best, task->most_by_hand < half ? task->most_by_hand : half);
    if (task->most_by_hand < half) {
        try_parts(&best, lean_to(task, sight, -1));
        try_parts(&best, lean_to(task, sight, 1));
    } else {
        try_parts(&best, 0);
    }
    unsigned char counted[MOST_CHOSEN_TURNS];
    for (uint32_t i = steps_within(task->turns); i; i--) {
        by_steps(counted, task->turns, i);
        is_better(&best, counted);
    }
    fade_evenly(counted, task->turns);
    is_better(&best, counted);
    for (int move = 0; move < MOST_MOVES && moved_better(&best); move++)
        ;
}
