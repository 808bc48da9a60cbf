/* What the sheet's top says of widths: where the work goes on behind the one that was measured last, and which
 * wait for an answer. What they changed stands where the layer is wound (changed_widths.c). */
#include "words/sheet_maker.h"

/* A layer of the sheet, and which step of the sheet is its rod's first. */
typedef struct GivenLayer {
    const BenchRod *bench;
    uint32_t place, layer, first_step;
} GivenLayer;

static const PlannedLayer *planned_layer(const GivenLayer *given)
{
    return &given->bench->rod->places[given->place].layers[given->layer];
}

static bool is_in(const GivenLayer *given, const Action *action)
{
    return action->place == given->place && action->layer == given->layer;
}

static uint64_t turns_made(const PlannedLayer *layer)
{
    uint64_t made = 0;
    for (uint32_t i = 0; i < layer->run_count; i++)
        made += layer->runs[i].made ? layer->runs[i].turns : 0;
    return made;
}

/* The step in which the layer's next turn is made, and how many turns of that lie. */
static void put_next_turn(SheetMaker *maker, const GivenLayer *given, uint64_t made)
{
    const BenchRod *rod = given->bench;
    uint64_t begun = 0;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        const Action *action = &rod->actions[rod->steps[i].first + rod->steps[i].count - 1];
        if (!is_in(given, action))
            continue;
        if (action->layer_count > made) {
            buffer_format(&maker->words, "; turn %llu comes next, in step %u", (unsigned long long)made + 1,
                          (unsigned)(given->first_step + i));
            if (made > begun)
                buffer_format(&maker->words, " after %llu turn%s of it", (unsigned long long)(made - begun),
                              made - begun == 1 ? "" : "s");
            return;
        }
        begun = action->layer_count;
    }
}

/* The step in which the layer's last turns are measured. */
static void put_last_measuring(SheetMaker *maker, const GivenLayer *given, uint64_t made)
{
    const BenchRod *rod = given->bench;
    for (uint32_t i = 0; i < rod->step_count; i++)
        for (uint32_t k = rod->steps[i].first; k < rod->steps[i].first + rod->steps[i].count; k++) {
            const Action *action = &rod->actions[k];
            if (!is_in(given, action) || action->kind != ACTION_MEASURE || action->layer_count != made)
                continue;
            buffer_format(&maker->words, "; go on behind the measuring in step %u",
                          (unsigned)(given->first_step + i));
            return;
        }
}

/* Measured up to that turn. */
static const char *where_to_go_on(SheetMaker *maker, const GivenLayer *given, uint64_t made)
{
    put_layer(maker, given->bench->rod, given->place, given->layer);
    buffer_format(&maker->words, "measured up to turn %llu of the layer", (unsigned long long)made);
    if (made < planned_layer(given)->turns)
        put_next_turn(maker, given, made);
    else {
        buffer_text(&maker->words, ", its last");
        put_last_measuring(maker, given, made);
    }
    buffer_text(&maker->words, ".");
    return maker_take(maker);
}

/* The width that was measured last, where nothing happened since, and it is heeded; NULL else. */
static const MeasuredWidth *measured_last(const Job *job, const GivenLayer *given, uint32_t rod)
{
    const MeasuredWidth *last = job->measured.count ? &job->measured.items[job->measured.count - 1] : NULL;
    bool is_last = last && last->event && last->event == job->happened.count && last->rod == rod
                   && last->place == given->place && last->layer == given->layer;
    return is_last && last->made <= turns_made(planned_layer(given)) ? last : NULL;
}

static bool waits_for_answer(const PlannedLayer *layer)
{
    for (uint32_t i = 0; i < layer->left_out_count; i++)
        if (!layer->left_out[i].answered)
            return true;
    return false;
}

static const char *what_waits(SheetMaker *maker, const GivenLayer *given)
{
    put_layer(maker, given->bench->rod, given->place, given->layer);
    buffer_text(&maker->words,
                "a width is left out, for it is too far off. Measure and count again before you go on.");
    return maker_take(maker);
}

void sheet_widths(SheetMaker *maker, Sheet *sheet)
{
    LIST_OF(const char *) widths = {0};
    GivenLayer given = {.first_step = 1};
    for (uint32_t r = 0; r < sheet->rod_count; given.first_step += sheet->rods[r++].step_count) {
        given.bench = sheet->rods[r].bench;
        const PlannedRod *rod = given.bench->rod;
        for (given.place = 0; given.place < rod->place_count; given.place++)
            for (given.layer = 0; given.layer < rod->places[given.place].layer_count; given.layer++) {
                if (waits_for_answer(planned_layer(&given)))
                    *LIST_ADD(maker->arena, &widths) = what_waits(maker, &given);
                const MeasuredWidth *last = measured_last(maker->plan->job, &given, r);
                if (last)
                    *LIST_ADD(maker->arena, &widths) = where_to_go_on(maker, &given, last->made);
            }
    }
    sheet->widths = widths.items;
    sheet->width_count = widths.count;
}
