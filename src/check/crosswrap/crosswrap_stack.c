/* T612: how many threads lie on one another in the field of a crosswrap, whatever layers of its place they belong
 * to. A band counts one, a crosswrap one for each of its legs, and more where its own strands overlap. */
#include "check/crosswrap/crosswrap.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

/* Wraps that end where another begins do not lie on one another. mm. */
#define TOUCHING 1e-6

typedef struct StackEdge {
    double x;
    int threads, fields; /* that begin there, or (less than 0) end */
} StackEdge;

typedef struct Edges {
    LIST_OF(StackEdge) list;
} Edges;

static void add_stretch(const Check *check, Edges *edges, double a, double b, int threads, int fields)
{
    *LIST_ADD(check->arena, &edges->list) = (StackEdge){fmin(a, b) + TOUCHING, threads, fields};
    *LIST_ADD(check->arena, &edges->list) = (StackEdge){fmax(a, b) - TOUCHING, -threads, -fields};
}

/* Threads of a crosswrap on one another in its field: one for each leg, and as many again each time that a bundle
 * reaches over the next one. What a taper makes overlap within the allowance of T604 is not counted. */
static int own_threads(const Check *check, const PlannedCrosswrap *planned)
{
    double overlaps = 0;
    bool overlap = crosswrap_fault(check->bench, planned, RULE_OVERLAPS) > 0
                   || crosswrap_fault(check->bench, planned, RULE_FITS) > 0;
    for (unsigned end = 0; overlap && end < 2; end++)
        overlaps = fmax(overlaps, ceil(-planned->ends[end].left / planned->ends[end].room));
    return (int)(leg_count(planned) * (1 + fmin(overlaps, 1000)));
}

static void add_layer(const Check *check, Edges *edges, const PlannedLayer *layer)
{
    const PlannedCrosswrap *planned = layer->crosswrap;
    if (planned) {
        add_stretch(check, edges, planned->low, planned->high, own_threads(check, planned), 0);
        add_stretch(check, edges, planned->field_start, planned->field_end, 0, 1);
    }
    for (uint32_t i = 0, next; i < layer->run_count; i = next) {
        for (next = i + 1; next < layer->run_count && layer->runs[next].role == layer->runs[i].role; next++)
            ;
        if (layer->runs[i].role != RUN_GAP)
            add_stretch(check, edges, layer->runs[i].start, layer->runs[next - 1].end, 1, 0);
    }
}

static int by_place(const void *left, const void *right)
{
    const StackEdge *a = left, *b = right;
    return ORDER(a->x, b->x);
}

/* The most threads in any field, and where. */
typedef struct Stack {
    int threads;
    double at;
} Stack;

static Stack highest_stack(Edges *edges)
{
    Stack highest = {0};
    int threads = 0, fields = 0;
    qsort(edges->list.items, edges->list.count, sizeof *edges->list.items, by_place);
    for (uint32_t i = 0; i < edges->list.count; i++) {
        const StackEdge *edge = &edges->list.items[i];
        threads += edge->threads;
        fields += edge->fields;
        bool last = i + 1 == edges->list.count || edge[1].x > edge->x;
        if (last && fields > 0 && threads > highest.threads)
            highest = (Stack){threads, edge->x};
    }
    return highest;
}

static bool in_field(const PlannedLayer *layer, double x)
{
    const PlannedCrosswrap *planned = layer->crosswrap;
    return planned && x >= fmin(planned->field_start, planned->field_end)
           && x <= fmax(planned->field_start, planned->field_end);
}

static Stack stack_of(const Check *check, const PlannedPlace *place)
{
    Edges edges = {0};
    for (uint32_t i = 0; i < place->layer_count; i++)
        if (place->layers[i].laid)
            add_layer(check, &edges, &place->layers[i]);
    return highest_stack(&edges);
}

/* The topmost crosswrap there speaks for all below it. */
static bool is_topmost(const LayerView *view, double x)
{
    const PlannedPlace *place = view->place;
    for (uint32_t i = place->layer_count; i-- > 0;)
        if (place->layers[i].laid && in_field(&place->layers[i], x))
            return &place->layers[i] == view->layer;
    return false;
}

static bool lies_at(const PlannedLayer *layer, double x)
{
    return layer->laid && x >= fmin(layer->start, layer->end) && x <= fmax(layer->start, layer->end);
}

/* What bench { } takes at the most: meaning/bench_table.h; common practice, no source. */
enum { MOST_STACK = 100 };

static void say_stack(const Check *check, const LayerView *view, Case place)
{
    Stack stack = stack_of(check, view->place);
    Finding *finding = finding_add(check->findings, FINDING_STACKED_TOO_HIGH, place.span,
                                   "%d threads are stacked at this crosswrap", stack.threads);
    finding->times = place.times;
    finding_label(check->findings, finding, "%s from the butt; %u are allowed",
                  show_quantity(check->findings->words, check->bench->units, QUANTITY_PLACE, stack.at),
                  check->bench->stack);
    for (uint32_t i = 0; i < view->place->layer_count; i++) {
        const PlannedLayer *below = &view->place->layers[i];
        if (below != view->layer && lies_at(below, stack.at))
            finding_relate(check->findings, finding, below->layer->span, "this layer lies there too");
    }
    const char *count = text_format(check->findings->words, "%d", stack.threads);
    if (stack.threads > MOST_STACK) {
        finding_mend(check->findings, finding, "take a layer out");
        return;
    }
    finding_mend(check->findings, finding,
                 "take a layer out; or, if you want a wrap this thick, write `stack: %s` in bench { }", count);
    edit_bench(check, finding, BENCH_STACK, count);
}

void check_stacks(const Check *check)
{
    Cases cases = {0};
    const PlannedPlace *place = NULL;
    Stack stack = {0};
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *view = &check->layers[i];
        if (view->place != place)
            stack = has_crosswrap(view->place) ? stack_of(check, view->place) : (Stack){0};
        place = view->place;
        if (stack.threads > (int)check->bench->stack && view->layer->crosswrap && is_topmost(view, stack.at))
            cases_add(check->arena, &cases, view->layer->items[0].item->span, stack.threads, i, 0);
    }
    cases_keep_worst(&cases);
    for (uint32_t i = 0; i < cases.list.count; i++)
        say_stack(check, &check->layers[cases.list.items[i].view], cases.list.items[i]);
}
