#include "check/rules.h"

#include "trade/trade.h"

#include <stdlib.h>

/* T404 and T405: how many strands lie lengthwise under a turn. Under the turns lie the tag of every piece, its
 * end, and a thread that stands while another works. */

typedef enum { LIES_TAG, LIES_END, LIES_STANDING } LyingKind;

/* Turns [from, to) of the layer under which a strand lies. */
typedef struct Lying {
    uint64_t from, to;
    LyingKind kind;
    const Piece *piece;
} Lying;

typedef struct Event {
    uint64_t turn;
    int change;
} Event;

/* Turns [from, to) under which the same number of strands lie. */
typedef struct Stretch {
    uint64_t from, to;
    uint32_t strands;
    double diameter; /* of the surface, the lesser of both ends */
} Stretch;

typedef struct Lyings {
    LIST_OF(Lying) list;
} Lyings;

static void lie(const Check *check, Lyings *lyings, const Piece *piece, LyingKind kind, uint64_t from, uint64_t to)
{
    if (from < to)
        *LIST_ADD(check->arena, &lyings->list) = (Lying){from, to, kind, piece};
}

/* Where the wrap has no room for the whole stretch, it lies under what is there. */
static uint64_t back(const Wrap *wrap, uint64_t turn, double turns)
{
    return (double)(turn - wrap->first_turn) > turns ? turn - (uint64_t)turns : wrap->first_turn;
}

static uint64_t forth(const Wrap *wrap, uint64_t turn, double turns)
{
    return (double)(wrap->end_turn - turn) > turns ? turn + (uint64_t)turns : wrap->end_turn;
}

static void lay_ends(const Check *check, const LayerView *view, const Wrap *wrap, const Piece *piece,
                     Lyings *lyings)
{
    const Bench *bench = check->bench;
    bool enough_before = (double)(piece->first_turn - wrap->first_turn) >= bench->bind;
    uint64_t start = piece->first_turn, end = piece->end_turn;
    if (enough_before || view->layer->runs[piece->first_run].role != RUN_BAND)
        lie(check, lyings, piece, LIES_TAG, back(wrap, start, bench->bind), start);
    else
        lie(check, lyings, piece, LIES_TAG, start, forth(wrap, start, bench->bind));
    if (end == wrap->end_turn)
        lie(check, lyings, piece, LIES_END, back(wrap, end, bench->final), end);
    else if ((double)(wrap->end_turn - end) >= bench->bind)
        lie(check, lyings, piece, LIES_END, end, forth(wrap, end, bench->bind));
    else
        lie(check, lyings, piece, LIES_END, back(wrap, end, bench->loop), end);
}

static bool winds(const Run *run, const Piece *piece)
{
    for (uint32_t i = 0; i < run->strands->count; i++)
        if (run->strands->items[i].thread == piece->thread && run->strands->items[i].spacer == piece->spacer)
            return true;
    return false;
}

/* Between its own runs a piece runs beneath the turns made meanwhile. */
static void lay_standing(const Check *check, const LayerView *view, const Piece *piece, Lyings *lyings)
{
    uint64_t turn = piece->first_turn, last_own = turn;
    const Strands *own = view->layer->runs[piece->first_run].strands;
    for (uint32_t i = piece->first_run; i <= piece->last_run; i++) {
        const Run *run = &view->layer->runs[i];
        bool works = run->role != RUN_GAP && (run->strands == own || winds(run, piece));
        if (works)
            lie(check, lyings, piece, LIES_STANDING, last_own, turn);
        turn += run->turns;
        if (works)
            last_own = turn;
    }
}

static Lyings find_lyings(const Check *check, const LayerView *view)
{
    Lyings lyings = {0};
    for (uint32_t w = 0; w < view->wrap_count; w++) {
        const Wrap *wrap = &view->wraps[w];
        for (uint32_t i = wrap->first_piece; i < wrap->end_piece; i++) {
            if (view->pieces[i]->spacer)
                continue;
            lay_ends(check, view, wrap, view->pieces[i], &lyings);
            lay_standing(check, view, view->pieces[i], &lyings);
        }
    }
    return lyings;
}

static int by_turn(const void *left, const void *right)
{
    const Event *a = left, *b = right;
    if (a->turn != b->turn)
        return a->turn < b->turn ? -1 : 1;
    return a->change - b->change;
}

static Event *find_events(const Check *check, const Lyings *lyings)
{
    Event *events = arena_take_many(check->arena, (size_t)lyings->list.count * 2, sizeof *events);
    for (uint32_t i = 0; i < lyings->list.count; i++) {
        events[2 * (size_t)i] = (Event){lyings->list.items[i].from, 1};
        events[2 * (size_t)i + 1] = (Event){lyings->list.items[i].to, -1};
    }
    if (lyings->list.count)
        qsort(events, (size_t)lyings->list.count * 2, sizeof *events, by_turn);
    return events;
}

/* Walks along a layer's runs; turns must not go back. */
typedef struct Walk {
    const PlannedLayer *layer;
    uint32_t run;
    uint64_t first_turn; /* of that run */
} Walk;

static const Run *walk_to(Walk *walk, uint64_t turn)
{
    while (walk->run + 1 < walk->layer->run_count && walk->first_turn + walk->layer->runs[walk->run].turns <= turn)
        walk->first_turn += walk->layer->runs[walk->run++].turns;
    return &walk->layer->runs[walk->run];
}

static double surface_at(Walk *walk, uint64_t turn)
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
static void sweep(const Check *check, const LayerView *view, const Lyings *lyings, Stretch *most, Stretch *closest)
{
    const Event *events = find_events(check, lyings);
    size_t count = (size_t)lyings->list.count * 2;
    Walk walk = {.layer = view->layer};
    uint32_t strands = 0;
    *most = *closest = (Stretch){0};
    for (size_t i = 0; i < count;) {
        uint64_t turn = events[i].turn;
        for (; i < count && events[i].turn == turn; i++)
            strands += (uint32_t)events[i].change;
        if (i == count)
            break;
        Stretch here = {turn, events[i].turn, strands, surface_at(&walk, turn)};
        double end_diameter = surface_at(&walk, here.to);
        here.diameter = end_diameter < here.diameter ? end_diameter : here.diameter;
        if (here.strands > most->strands)
            *most = here;
        if (is_closer(here, *closest))
            *closest = here;
    }
}

/* Strands lie on the half of the blank opposite the ring, so that nothing shows on the side that is seen. */
static double room_of(Stretch stretch) { return TRADE_PI * stretch.diameter / 2 / stretch.strands; }

/* What bench { } takes: strands, mm. */
enum { MOST_RIDGE = 100 };
#define LEAST_APART (0.1 + 0.03) /* and a step of rounding */

static Span span_at(const LayerView *view, uint64_t turn)
{
    Walk walk = {.layer = view->layer};
    return walk_to(&walk, turn)->span;
}

static void relate_lyings(const Check *check, const LayerView *view, const Lyings *lyings, uint64_t turn,
                          Finding *finding)
{
    static const char *const words[] = {
        [LIES_TAG] = "the tag of %s",
        [LIES_END] = "the end of %s",
        [LIES_STANDING] = "%s, standing",
    };
    for (uint32_t i = 0; i < lyings->list.count && finding->related_count < FINDING_RELATED; i++) {
        const Lying *lying = &lyings->list.items[i];
        if (turn < lying->from || turn >= lying->to)
            continue;
        uint32_t run = lying->kind == LIES_END ? lying->piece->last_run : lying->piece->first_run;
        const char *name = lying->piece->thread->name->bytes;
        finding_relate(check->findings, finding, view->layer->runs[run].span, words[lying->kind], name);
    }
}

static void say_ridge(const Check *check, const LayerView *view, const Lyings *lyings, Stretch most,
                      Stretch closest, Case place)
{
    Finding *finding =
        finding_add(check->findings, FINDING_RIDGE, place.span, "%u strands lie under one turn", most.strands);
    finding->times = place.times;
    finding_label(check->findings, finding, "from turn %llu of this layer, for %s; %u strands are allowed",
                  (unsigned long long)most.from + 1, show_turns(check->arena, (double)(most.to - most.from)),
                  check->bench->ridge);
    relate_lyings(check, view, lyings, most.from, finding);
    const char *count = text_format(check->arena, "%u", most.strands);
    if (most.strands > MOST_RIDGE || (closest.strands >= 2 && room_of(closest) < check->bench->apart)) {
        finding_mend(check->findings, finding, "set the changes of thread further apart");
        return;
    }
    finding_mend(check->findings, finding,
                 "set the changes of thread further apart, or allow the ridge: `ridge: %s` in bench { }", count);
    edit_bench(check, finding, BENCH_RIDGE, count);
}

static void say_crowd(const Check *check, const LayerView *view, const Lyings *lyings, Stretch closest, Case place)
{
    double room = room_of(closest);
    UnitSystem units = check->bench->units;
    Finding *finding = finding_add(check->findings, FINDING_STRANDS_CROWD, place.span,
                                   "%u strands under one turn have only %s each round the blank", closest.strands,
                                   show_fine(check->arena, units, room));
    finding->times = place.times;
    finding_label(check->findings, finding, "from turn %llu of this layer, on %s of diameter; %s are wanted",
                  (unsigned long long)closest.from + 1, show_length(check->arena, units, closest.diameter),
                  show_length(check->arena, units, check->bench->apart));
    relate_lyings(check, view, lyings, closest.from, finding);
    if (room < LEAST_APART) {
        finding_mend(check->findings, finding, "set the changes of thread further apart, or make the wrap longer");
        return;
    }
    const char *apart = source_length_below(check, room);
    finding_mend(check->findings, finding,
                 "set the changes of thread further apart, or allow less room: `apart: %s` in bench { }", apart);
    edit_bench(check, finding, BENCH_APART, apart);
}

void check_ridges(const Check *check)
{
    Cases ridges = {0}, crowds = {0};
    Stretch most, closest;
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *view = &check->layers[i];
        Lyings lyings = find_lyings(check, view);
        sweep(check, view, &lyings, &most, &closest);
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
        Lyings lyings = find_lyings(check, view);
        sweep(check, view, &lyings, &most, &closest);
        if (ridge)
            say_ridge(check, view, &lyings, most, closest, place);
        else
            say_crowd(check, view, &lyings, closest, place);
    }
}
