#include "plan/shade_walk.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

typedef struct Walking {
    const Lab *shades;
    uint32_t count;
    double alike;
    double *costs; /* from the first shade to each; INFINITY: not reached */
    uint32_t *before;
    bool *settled;
} Walking;

/* INFINITY where there is none. */
static double step_between(const Walking *walking, uint32_t a, uint32_t b)
{
    double difference = ciede2000(walking->shades[a], walking->shades[b]);
    bool from_end_to_end = (a == 0 || b == 0) && (a == walking->count - 1 || b == walking->count - 1);
    return difference >= walking->alike || from_end_to_end ? difference : INFINITY;
}

/* The one reached at least cost that is not settled yet; the lowest index of equals; the count where all that can
 * be reached are settled. */
static uint32_t next_to_settle(const Walking *walking)
{
    uint32_t next = walking->count;
    for (uint32_t i = 0; i < walking->count; i++)
        if (!walking->settled[i] && isfinite(walking->costs[i])
            && (next == walking->count || walking->costs[i] < walking->costs[next]))
            next = i;
    return next;
}

/* E. W. Dijkstra, "A Note on Two Problems in Connexion with Graphs", Numerische Mathematik 1, 269-271 (1959; from
 * memory), over all pairs. The cost of a way is its largest step, or (squares) the sum of the squares of its
 * steps, none of them above `most`. */
static double search(Walking *walking, double most, bool squares)
{
    for (uint32_t i = 0; i < walking->count; i++) {
        walking->costs[i] = i ? INFINITY : 0;
        walking->settled[i] = false;
    }
    for (uint32_t at; (at = next_to_settle(walking)) < walking->count - 1;) {
        walking->settled[at] = true;
        for (uint32_t to = 1; to < walking->count; to++) {
            double step = walking->settled[to] ? INFINITY : step_between(walking, at, to);
            if (step > most)
                continue;
            double cost = squares ? walking->costs[at] + step * step : fmax(walking->costs[at], step);
            if (cost < walking->costs[to]) {
                walking->costs[to] = cost;
                walking->before[to] = at;
            }
        }
    }
    return walking->costs[walking->count - 1];
}

uint32_t smoothest_walk(Arena *arena, const Lab *shades, uint32_t count, double alike, uint32_t *walk)
{
    Walking walking = {.shades = shades, .count = count, .alike = alike};
    walking.costs = arena_take_many(arena, count, sizeof *walking.costs);
    walking.before = arena_take_many(arena, count, sizeof *walking.before);
    walking.settled = arena_take_many(arena, count, sizeof *walking.settled);
    double largest = search(&walking, INFINITY, false);
    search(&walking, largest, true);
    uint32_t length = 1;
    for (uint32_t at = count - 1; at; at = walking.before[at])
        length++;
    for (uint32_t at = count - 1, i = length - 1; i; at = walking.before[at], i--)
        walk[i] = at;
    walk[0] = 0;
    return length;
}
