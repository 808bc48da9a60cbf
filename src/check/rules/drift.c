#include "check/rules.h"
#include "plan/measurings.h"

#include <math.h>

/* T504: how far a layer's width may drift. A thread's pitch is one unknown for all its turns, so its share is
 * the sum of turns * pitch * uncertainty (fully correlated, 5.2.2, eq. 13); different threads are independent and
 * their shares add as squares (5.1.2, eq. 10). JCGM 100:2008, Evaluation of measurement data - Guide to the
 * expression of uncertainty in measurement (eq. 10 read, eq. 13 from memory). */

typedef struct Drift {
    double spread;   /* standard uncertainty of what is wound from one measuring to the next, at worst, mm */
    double per_turn; /* of one turn, at worst; the strands of a turn counted as if they drifted together */
    const Thread *least_known; /* that adds most to the spread, of those to be measured; NULL if none is */
} Drift;

/* What the threads of the job have added to the layer at hand. Only touched entries are put back to 0. */
typedef struct Shares {
    double *of_thread;
    LIST_OF(const Thread *) touched;
} Shares;

/* Known no better than that a thread is to be measured, whatever its uncertainty was written beside. */
static bool is_measured(const Thread *thread)
{
    return thread->width_source != WIDTH_NOMINAL && thread->width_source != WIDTH_FROM_TEX
           && thread->uncertainty < HARDLY_KNOWN;
}

static void add_share(const Check *check, Shares *shares, const Thread *thread, double share)
{
    if (shares->of_thread[thread->index] == 0 && share > 0)
        *LIST_ADD(check->arena, &shares->touched) = thread;
    shares->of_thread[thread->index] += share;
}

/* What was added since the width was measured last, if it is the worst so far; nothing is left of it. */
static void take_spread(Shares *shares, Drift *drift)
{
    double spread = 0, most = 0;
    const Thread *least_known = NULL;
    for (uint32_t i = 0; i < shares->touched.count; i++) {
        const Thread *thread = shares->touched.items[i];
        double *share = &shares->of_thread[thread->index];
        if (*share > most && !is_measured(thread)) {
            most = *share;
            least_known = thread;
        }
        spread = hypot(spread, *share);
        *share = 0;
    }
    shares->touched.count = 0;
    if (spread > drift->spread) {
        drift->spread = spread;
        drift->least_known = least_known;
    }
}

static void add_turns(const Check *check, Shares *shares, const Run *run, uint64_t turns)
{
    for (uint32_t i = 0; turns && i < run->strands->count; i++) {
        const Thread *thread = run->strands->items[i].thread;
        add_share(check, shares, thread, (double)turns * thread->pitch * thread->uncertainty);
    }
}

static double drift_per_turn(const Run *run)
{
    double per_turn = 0;
    for (uint32_t i = 0; run->role != RUN_GAP && i < run->strands->count; i++)
        per_turn += run->strands->items[i].thread->pitch * run->strands->items[i].thread->uncertainty;
    return per_turn;
}

/* The worst of the stretches from one measuring to the next. */
static Drift drift_of(const Check *check, const PlannedLayer *layer, Shares *shares)
{
    Drift drift = {0};
    Measurings measurings = measurings_start(layer, check->bench);
    uint64_t turn = 0, measured = measurings_next(&measurings) ? measurings.turn : UINT64_MAX;
    for (uint32_t i = 0; i < layer->run_count; i++) {
        const Run *run = &layer->runs[i];
        drift.per_turn = fmax(drift.per_turn, drift_per_turn(run));
        uint64_t end = turn + run->turns;
        /* Turns of this run alone from one measuring to the next, so far: as many spread no more. */
        uint64_t most = 0;
        for (; measured <= end; measured = measurings_next(&measurings) ? measurings.turn : UINT64_MAX) {
            bool alone = !shares->touched.count;
            if (!alone || measured - turn > most) {
                add_turns(check, shares, run, measured - turn);
                take_spread(shares, &drift);
                most = alone ? measured - turn : most;
            }
            turn = measured;
        }
        add_turns(check, shares, run, end - turn);
        turn = end;
    }
    take_spread(shares, &drift);
    return drift;
}

/* Hair's breadth for counts and widths that meet the tolerance exactly. */
#define SLACK (1 + 1e-9)

/* To measure the thread, where it was not; to measure more often, where that many turns can be measured; else the
 * tolerance that the threads keep. */
static void mend_drift(const Check *check, Finding *finding, Drift drift)
{
    const Bench *bench = check->bench;
    double turns = floor(bench->tolerance / drift.per_turn * SLACK);
    const Thread *thread = drift.least_known;
    const char *measure =
        thread
            ? text_format(check->findings->words,
                          "measure %s, known to %s %% only: wind 20 close turns, measure their width, and "
                          "write its `turns:`%s",
                          thread->name->bytes, show_number(check->findings->words, thread->uncertainty * 100, 1),
                          thread->uncertainty_written ? " without `uncertainty:`" : "")
            : "count the turns of your threads over a length and write `turns:` for each";
    if (turns < MEASURED_TURNS && (thread || drift.spread > bench_most(BENCH_TOLERANCE))) {
        finding_mend(check->findings, finding, "%s", measure);
        return;
    }
    if (turns < MEASURED_TURNS) {
        const char *spread = source_length_above(check, bench->value_spans[BENCH_TOLERANCE], drift.spread);
        finding_mend(check->findings, finding,
                     "the threads cannot keep so narrow a tolerance: write `tolerance: %s` in bench { }", spread);
        edit_bench(check, finding, BENCH_TOLERANCE, spread);
        return;
    }
    const char *count = show_turns(check->findings->words, turns);
    finding_mend(check->findings, finding,
                 "%s%sstop and measure every %s to keep it within %s: write `measure: %s` in bench { }",
                 thread ? measure : "", thread ? "; or " : "", count,
                 show_quantity(check->findings->words, bench->units, QUANTITY_TOLERANCE, bench->tolerance), count);
    edit_bench(check, finding, BENCH_MEASURE, count);
}

static void say_drift(const Check *check, const LayerView *view, Drift drift, Case place)
{
    UnitSystem units = check->bench->units;
    Finding *finding = finding_add(check->findings, FINDING_DRIFT, place.span,
                                   "the width of this layer may be off by %s before it is measured",
                                   show_quantity(check->findings->words, units, QUANTITY_TOLERANCE, drift.spread));
    finding->times = place.times;
    finding_of_rod(finding, view->rod->rod->title->bytes);
    finding_label(check->findings, finding, "the uncertainty of its threads adds up to that; the tolerance is %s",
                  show_quantity(check->findings->words, units, QUANTITY_TOLERANCE, check->bench->tolerance));
    mend_drift(check, finding, drift);
}

void check_drift(const Check *check)
{
    Cases cases = {0};
    Shares shares = {0};
    shares.of_thread = arena_take_many(check->arena, (size_t)check->plan->job->thread_count + 1, sizeof(double));
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const PlannedLayer *layer = check->layers[i].layer;
        if (layer->crosswrap) /* its end bands stand at the ends of a length that is set out */
            continue;
        Drift drift = drift_of(check, layer, &shares);
        if (drift.spread > check->bench->tolerance * SLACK)
            cases_add(check->arena, &cases, layer->layer->span, drift.spread, i, 0);
    }
    cases_keep_worst(&cases);
    for (uint32_t i = 0; i < cases.list.count; i++) {
        Case place = cases.list.items[i];
        const LayerView *view = &check->layers[place.view];
        say_drift(check, view, drift_of(check, view->layer, &shares), place);
    }
}
