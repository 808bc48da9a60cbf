#include "check/rules.h"

#include "plan/lengthwise.h"
#include "plan/plan_sums.h"

/* T404 and T405: how many strands lie lengthwise under a turn. */

static LengthwiseList find_lengthwise(const Check *check, const LayerView *view)
{
    arena_clear(check->scratch);
    LengthwiseList lengthwise = {0};
    for (uint32_t w = 0; w < view->wrap_count; w++) {
        const WrapView *wrap = &view->wraps[w];
        for (uint32_t i = wrap->first_piece; i < wrap->end_piece; i++)
            add_lengthwise(check->scratch, check->bench, view->rod, view->layer, &wrap->wrap,
                           (uint32_t)(view->pieces[i] - view->rod->pieces), &lengthwise);
    }
    return lengthwise;
}

/* What bench { } takes, strands and mm: meaning/bench_table.h; common practice, no source. */
enum { MOST_RIDGE = 100 };
#define LEAST_APART (0.1 + 0.03) /* and a step of rounding */

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
    if (most.strands > MOST_RIDGE || (closest.strands >= 2 && stretch_room(closest) < check->bench->apart)) {
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
    double room = stretch_room(closest);
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

/* Of two stretches the one with less room for a strand. */
static bool is_closer(Stretch a, Stretch b)
{
    return a.strands >= 2 && (b.strands < 2 || a.diameter * b.strands < b.diameter * a.strands);
}

/* The stretch with most strands, and the one where they lie closest. */
static void sweep(const Check *check, const LayerView *view, const LengthwiseList *lengthwise, Stretch *most,
                  Stretch *closest)
{
    static const Wrap whole = {0};
    Stretches stretches = find_stretches(check->scratch, view->layer, &whole, lengthwise);
    *most = *closest = (Stretch){0};
    for (uint32_t i = 0; i < stretches.count; i++) {
        Stretch here = stretches.items[i];
        *most = here.strands > most->strands ? here : *most;
        *closest = is_closer(here, *closest) ? here : *closest;
    }
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
            cases_add(check->arena, &ridges, run_at_turn(view->layer, most.from)->span, most.strands, i, 0);
        else if (closest.strands >= 2 && stretch_room(closest) < check->bench->apart)
            cases_add(check->arena, &crowds, run_at_turn(view->layer, closest.from)->span, -stretch_room(closest),
                      i, 0);
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
