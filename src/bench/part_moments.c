#include "bench/part_moments.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

/* mm: what touches does not lie over. Far below what anybody measures. Common practice, no source. */
#define TOUCHES 1e-6

/* --- which place winds over a part first --- */

/* Those that thread lies on and that are in no place yet, along the blank: how far they reach, and of each pair of
 * nodes the further one above them. */
typedef struct OpenParts {
    const PlannedRod *rod;
    PartMoment *moments; /* by where they begin */
    uint32_t count, leaves;
    double *far; /* of node i those of 2 i and 2 i + 1; moment m is node leaves + m; -INFINITY for none */
} OpenParts;

static const Part *part_of(const PlannedRod *rod, const PartMoment *moment)
{
    return &rod->rod->parts[moment->part];
}

static void set_reach(OpenParts *reaches, uint32_t moment, double far)
{
    uint32_t node = reaches->leaves + moment;
    reaches->far[node] = far;
    while (node /= 2)
        reaches->far[node] = fmax(reaches->far[2 * node], reaches->far[2 * node + 1]);
}

/* The first that reaches beyond x; as many as there are leaves if none does. */
static uint32_t first_beyond(const OpenParts *reaches, double x)
{
    uint32_t node = 1;
    if (!(reaches->far[1] > x))
        return reaches->leaves;
    while (node < reaches->leaves)
        node = 2 * node + !(reaches->far[2 * node] > x);
    return node - reaches->leaves;
}

static void wind_over(OpenParts *reaches, uint32_t place, double low, double high)
{
    for (uint32_t m; (m = first_beyond(reaches, low + TOUCHES)) < reaches->count
                     && part_of(reaches->rod, &reaches->moments[m])->start < high - TOUCHES;) {
        reaches->moments[m].kind = MOMENT_PLACE;
        reaches->moments[m].place = place;
        set_reach(reaches, m, -INFINITY);
    }
}

static void find_places(Arena *arena, const PlannedRod *rod, PartMoment *moments, uint32_t count)
{
    OpenParts reaches = {.rod = rod, .moments = moments, .count = count, .leaves = 1};
    while (reaches.leaves < count)
        reaches.leaves *= 2;
    reaches.far = arena_take_many(arena, 2 * (size_t)reaches.leaves, sizeof *reaches.far);
    for (uint32_t node = 0; node < 2 * reaches.leaves; node++)
        reaches.far[node] = -INFINITY;
    for (uint32_t m = 0; m < count; m++) {
        const Part *part = part_of(rod, &moments[m]);
        if (part->wrapped && !part->slides)
            set_reach(&reaches, m, part->end);
    }
    for (uint32_t p = 0; p < rod->place_count; p++) {
        double low = INFINITY, high = -INFINITY;
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++) {
            const PlannedLayer *layer = &rod->places[p].layers[l];
            low = fmin(low, fmin(layer->start, layer->end));
            high = fmax(high, fmax(layer->start, layer->end));
        }
        wind_over(&reaches, p, low, high);
    }
}

/* --- in which order --- */

/* Moments beside what they are sorted by. */
typedef struct Sorted {
    PartMoment moment;
    double at;     /* where the part begins, or the first of those that it lies over or under */
    bool as_found; /* along the blank; else by kind, place and place along the blank */
} Sorted;

static int in_order(const void *left, const void *right)
{
    const Sorted *a = left, *b = right;
    int order = a->as_found ? 0 : ORDER(a->moment.kind, b->moment.kind);
    order = order || a->as_found ? order : ORDER(a->moment.place, b->moment.place);
    order = order ? order : ORDER(a->at, b->at);
    return order ? order : ORDER(a->moment.part, b->moment.part); /* as written */
}

/* Parts that lie over one another begin where the first of them does. */
static void gather_stacks(const PlannedRod *rod, Sorted *sorted, uint32_t count)
{
    double begins = 0, far = -INFINITY;
    for (uint32_t i = 0; i < count; i++) {
        const Part *part = part_of(rod, &sorted[i].moment);
        if (!part->slides)
            continue;
        begins = part->start < far - TOUCHES ? begins : part->start;
        far = fmax(far, part->end);
        sorted[i].at = begins;
    }
}

PartMoments part_moments(Arena *arena, const PlannedRod *rod)
{
    uint32_t count = rod->rod->part_count;
    PartMoments moments = {arena_take_many(arena, count, sizeof *moments.items), count};
    Sorted *sorted = arena_take_many(arena, count, sizeof *sorted);
    if (!count)
        return moments;
    for (uint32_t i = 0; i < count; i++) {
        const Part *part = &rod->rod->parts[i];
        MomentKind kind = part->slides ? MOMENT_SECTION : MOMENT_FINISH;
        sorted[i] =
            (Sorted){{.part = i, .kind = kind, .section = section_at(rod->rod, part->start)}, part->start, true};
    }
    qsort(sorted, count, sizeof *sorted, in_order);
    for (uint32_t i = 0; i < count; i++)
        moments.items[i] = sorted[i].moment;
    find_places(arena, rod, moments.items, count);
    for (uint32_t i = 0; i < count; i++) {
        sorted[i].moment = moments.items[i];
        sorted[i].as_found = false;
    }
    gather_stacks(rod, sorted, count);
    qsort(sorted, count, sizeof *sorted, in_order);
    for (uint32_t i = 0; i < count; i++)
        moments.items[i] = sorted[i].moment;
    return moments;
}
