#include "check/rules.h"

#include "base/sort.h"
#include "plan/plan_sums.h"

#include "plan/piece_ends.h"
#include "trade/trade.h"

#include <stdlib.h>

/* T404 and T405: how many strands lie lengthwise under a turn. Under the turns lie the tag of every piece, its
 * end, and a thread that stands while another works. */

#define LENGTHWISE_TABLE(X) X(TAG, "the tag of %s") X(END, "the end of %s") X(STANDING, "%s, standing")
typedef enum {
#define X(name, words) LIES_##name,
    LENGTHWISE_TABLE(X)
#undef X
} LengthwiseKind;

/* Turns [from, to) of the layer under which a strand lies. */
typedef struct Lengthwise {
    uint64_t from, to;
    LengthwiseKind kind;
    const Piece *piece;
} Lengthwise;

typedef struct CountChange {
    uint64_t turn;
    int change;
} CountChange;

/* Turns [from, to) under which the same number of strands lie. */
typedef struct Stretch {
    uint64_t from, to;
    uint32_t strands;
    double diameter; /* of the surface, the lesser of both ends */
} Stretch;

typedef struct LengthwiseList {
    LIST_OF(Lengthwise) list;
} LengthwiseList;

static void lie(const Check *check, LengthwiseList *lengthwise, const Piece *piece, LengthwiseKind kind,
                uint64_t from, uint64_t to)
{
    if (from < to)
        *LIST_ADD(check->scratch, &lengthwise->list) = (Lengthwise){from, to, kind, piece};
}

static void lay_ends(const Check *check, const LayerView *view, const WrapView *wrap, const Piece *piece,
                     LengthwiseList *lengthwise)
{
    PieceEnds ends = piece_ends(check->bench, view->rod, (uint32_t)(piece - view->rod->pieces), &wrap->wrap);
    lie(check, lengthwise, piece, LIES_TAG, ends.tag.from, ends.tag.to);
    lie(check, lengthwise, piece, LIES_END, ends.end.from, ends.end.to);
}

static bool winds(const Run *run, const Piece *piece)
{
    for (uint32_t i = 0; i < run->strands->count; i++)
        if (run->strands->items[i].thread == piece->thread && run->strands->items[i].spacer == piece->spacer)
            return true;
    return false;
}

/* Between its own runs a piece runs beneath the turns made meanwhile. */
static void lay_standing(const Check *check, const LayerView *view, const Piece *piece, LengthwiseList *lengthwise)
{
    uint64_t turn = piece->first_turn, last_own = turn;
    const Strands *own = view->layer->runs[piece->first_run].strands;
    for (uint32_t i = piece->first_run; i <= piece->last_run; i++) {
        const Run *run = &view->layer->runs[i];
        bool works = run->role != RUN_GAP && (run->strands == own || winds(run, piece));
        if (works)
            lie(check, lengthwise, piece, LIES_STANDING, last_own, turn);
        turn += run->turns;
        if (works)
            last_own = turn;
    }
}

static LengthwiseList find_lengthwise(const Check *check, const LayerView *view)
{
    arena_clear(check->scratch);
    LengthwiseList lengthwise = {0};
    for (uint32_t w = 0; w < view->wrap_count; w++) {
        const WrapView *wrap = &view->wraps[w];
        for (uint32_t i = wrap->first_piece; i < wrap->end_piece; i++) {
            if (view->pieces[i]->spacer)
                continue;
            lay_ends(check, view, wrap, view->pieces[i], &lengthwise);
            lay_standing(check, view, view->pieces[i], &lengthwise);
        }
    }
    return lengthwise;
}

static int by_turn(const void *left, const void *right)
{
    const CountChange *a = left, *b = right;
    return ORDER(a->turn, b->turn);
}

static CountChange *find_changes(const Check *check, const LengthwiseList *lengthwise)
{
    CountChange *changes = arena_take_many(check->scratch, (size_t)lengthwise->list.count * 2, sizeof *changes);
    for (uint32_t i = 0; i < lengthwise->list.count; i++) {
        changes[2 * (size_t)i] = (CountChange){lengthwise->list.items[i].from, 1};
        changes[2 * (size_t)i + 1] = (CountChange){lengthwise->list.items[i].to, -1};
    }
    if (lengthwise->list.count)
        qsort(changes, (size_t)lengthwise->list.count * 2, sizeof *changes, by_turn);
    return changes;
}

/* Walks along a layer's runs; turns must not go back. */
typedef struct RunWalk {
    const PlannedLayer *layer;
    uint32_t run;
    uint64_t first_turn; /* of that run */
} RunWalk;

static const Run *walk_to(RunWalk *walk, uint64_t turn)
{
    while (walk->run + 1 < walk->layer->run_count && walk->first_turn + walk->layer->runs[walk->run].turns <= turn)
        walk->first_turn += walk->layer->runs[walk->run++].turns;
    return &walk->layer->runs[walk->run];
}

static double surface_at(RunWalk *walk, uint64_t turn)
{
    const Run *run = walk_to(walk, turn);
    double part = run->turns ? (double)(turn - walk->first_turn) / run->turns : 0;
    return run->start_diameter + (run->end_diameter - run->start_diameter) * (part < 1 ? part : 1);
}

/* Of two stretches the one with less room for a strand. */
static bool is_closer(Stretch a, Stretch b)
{
    return a.strands >= 2 && (b.strands < 2 || a.diameter * b.strands < b.diameter * a.strands);
}

/* One sweep over the turns: the stretch with most strands, and the one where they lie closest. */
static void sweep(const Check *check, const LayerView *view, const LengthwiseList *lengthwise, Stretch *most,
                  Stretch *closest)
{
    const CountChange *changes = find_changes(check, lengthwise);
    size_t count = (size_t)lengthwise->list.count * 2;
    RunWalk walk = {.layer = view->layer};
    uint32_t strands = 0;
    *most = *closest = (Stretch){0};
    for (size_t i = 0; i < count;) {
        uint64_t turn = changes[i].turn;
        for (; i < count && changes[i].turn == turn; i++)
            strands += (uint32_t)changes[i].change;
        if (i == count)
            break;
        Stretch here = {turn, changes[i].turn, strands, surface_at(&walk, turn)};
        double end_diameter = surface_at(&walk, here.to);
        here.diameter = end_diameter < here.diameter ? end_diameter : here.diameter;
        if (here.strands > most->strands)
            *most = here;
        if (is_closer(here, *closest))
            *closest = here;
    }
}

/* Strands lie on the half of the blank opposite this ring, wherever it stands, so that nothing shows on the side
 * that is seen: how much room there is does not depend on the place's angle. */
static double room_of(Stretch stretch) { return TRADE_PI * stretch.diameter / 2 / stretch.strands; }

/* What bench { } takes, strands and mm: meaning/bench_table.h; common practice, no source. */
enum { MOST_RIDGE = 100 };
#define LEAST_APART (0.1 + 0.03) /* and a step of rounding */

static Span span_at(const LayerView *view, uint64_t turn)
{
    RunWalk walk = {.layer = view->layer};
    return walk_to(&walk, turn)->span;
}

/* `strands`: how many lie there, more perhaps than can be shown. */
static void relate_lengthwise(const Check *check, const LayerView *view, const LengthwiseList *lengthwise,
                              uint64_t turn, unsigned strands, Finding *finding)
{
    static const char *const words[] = {
#define X(name, words) words,
        LENGTHWISE_TABLE(X)
#undef X
    };
    for (uint32_t i = 0; i < lengthwise->list.count && finding->related_count < FINDING_RELATED; i++) {
        const Lengthwise *lying = &lengthwise->list.items[i];
        if (turn < lying->from || turn >= lying->to)
            continue;
        uint32_t run = lying->kind == LIES_END ? lying->piece->last_run : lying->piece->first_run;
        const char *name = lying->piece->thread->name->bytes;
        const char *lies = text_format(check->findings->words, words[lying->kind], name);
        if (strands > FINDING_RELATED)
            lies = text_format(check->findings->words, "one of the %u: %s", strands, lies);
        finding_relate(check->findings, finding, view->layer->runs[run].span, "%s", lies);
    }
}

static void say_ridge(const Check *check, const LayerView *view, const LengthwiseList *lengthwise, Stretch most,
                      Stretch closest, Case place)
{
    Finding *finding =
        finding_add(check->findings, FINDING_RIDGE, place.span, "%u threads lie under one turn", most.strands);
    finding->times = place.times;
    finding_label(check->findings, finding, "from turn %llu of this layer on, for %s; %u are allowed",
                  (unsigned long long)most.from + 1,
                  show_turns(check->findings->words, (double)(most.to - most.from)), check->bench->ridge);
    relate_lengthwise(check, view, lengthwise, most.from, most.strands, finding);
    const char *count = text_format(check->findings->words, "%u", most.strands);
    if (most.strands > MOST_RIDGE || (closest.strands >= 2 && room_of(closest) < check->bench->apart)) {
        finding_mend(check->findings, finding, "set the changes of thread further apart");
        return;
    }
    finding_mend(check->findings, finding,
                 "set the changes of thread further apart, or allow the ridge: write `ridge: %s` in bench { }",
                 count);
    edit_bench(check, finding, BENCH_RIDGE, count);
}

static void say_crowd(const Check *check, const LayerView *view, const LengthwiseList *lengthwise, Stretch closest,
                      Case place)
{
    double room = room_of(closest);
    UnitSystem units = check->bench->units;
    Finding *finding =
        finding_add(check->findings, FINDING_STRANDS_CROWD, place.span,
                    "%u threads under one turn have only %s each round the blank", closest.strands,
                    show_fine(check->findings->words, units,
                              rounded_down(room, (Rounding){quantity_step(units, QUANTITY_THICKNESS), true})));
    finding->times = place.times;
    finding_label(check->findings, finding, "from turn %llu of this layer on, at a diameter of %s; each needs %s",
                  (unsigned long long)closest.from + 1,
                  show_quantity(check->findings->words, units, QUANTITY_DIAMETER, closest.diameter),
                  show_fine(check->findings->words, units, check->bench->apart));
    relate_lengthwise(check, view, lengthwise, closest.from, closest.strands, finding);
    if (room < LEAST_APART) {
        finding_mend(check->findings, finding, "set the changes of thread further apart, or make the wrap wider");
        return;
    }
    const char *apart = source_length_below(check, check->bench->value_spans[BENCH_APART], room);
    finding_mend(check->findings, finding,
                 "set the changes of thread further apart, or allow less room: write `apart: %s` in bench { }",
                 apart);
    edit_bench(check, finding, BENCH_APART, apart);
}

void check_ridges(const Check *check)
{
    Cases ridges = {0}, crowds = {0};
    Stretch most, closest;
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *view = &check->layers[i];
        LengthwiseList lengthwise = find_lengthwise(check, view);
        sweep(check, view, &lengthwise, &most, &closest);
        if (most.strands > check->bench->ridge)
            cases_add(check->arena, &ridges, span_at(view, most.from), most.strands, i, 0);
        else if (closest.strands >= 2 && room_of(closest) < check->bench->apart)
            cases_add(check->arena, &crowds, span_at(view, closest.from), -room_of(closest), i, 0);
    }
    cases_keep_worst(&ridges);
    cases_keep_worst(&crowds);
    for (uint32_t i = 0; i < ridges.list.count + crowds.list.count; i++) {
        bool ridge = i < ridges.list.count;
        Case place = ridge ? ridges.list.items[i] : crowds.list.items[i - ridges.list.count];
        const LayerView *view = &check->layers[place.view];
        LengthwiseList lengthwise = find_lengthwise(check, view);
        sweep(check, view, &lengthwise, &most, &closest);
        if (ridge)
            say_ridge(check, view, &lengthwise, most, closest, place);
        else
            say_crowd(check, view, &lengthwise, closest, place);
    }
}
