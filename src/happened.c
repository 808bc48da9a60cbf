/* What happened at the bench, in its order: the plan is made again with each. */
#include "compilation.h"

#include "base/limits.h"
#include "words/step_letters.h"

/* --- what is given --- */

static TurnlayStatus add_happening(Compilation *compilation, Happening happening)
{
    *LIST_ADD(&compilation->arena, &compilation->happened) = happening;
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_measure(Compilation *compilation, TurnlayMeasured measured)
{
    TurnlayStatus status = status_while_reading(compilation);
    if (status != TURNLAY_DONE)
        return status;
    if (!measured.step || !(measured.width > 0 && measured.width < LIMIT_MEASURED)
        || compilation->happened.count >= LIMIT_READINGS)
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, add_happening(compilation, (Happening){.measured = measured}));
}

uint32_t turnlay_step_not_measured(const Compilation *compilation)
{
    return compilation ? compilation->not_measured : 0;
}

/* --- widths --- */

/* NULL for a step in which nothing is measured. */
static const Action *measuring_of(const BenchRod *rod, uint32_t index)
{
    const Step *step = &rod->steps[index];
    for (uint32_t i = step->first; i < step->first + step->count; i++)
        if (rod->actions[i].kind == ACTION_MEASURE)
            return &rod->actions[i];
    return NULL;
}

/* The step with this number, if a width is measured in it; NULL else. `rod` is where it is. Steps that were made
 * for this. */
static const Action *measured_at(const BenchPlan *bench, uint32_t number, uint32_t *rod)
{
    for (uint32_t r = 0; r < bench->rod_count; number -= bench->rods[r++].step_count) {
        *rod = r;
        if (number <= bench->rods[r].step_count)
            return measuring_of(&bench->rods[r], number - 1);
    }
    return NULL;
}

/* Turns of the layer up to where the band begins that such a turn ends, or lies in. */
static uint64_t turns_before_band(const PlannedLayer *layer, uint64_t turn)
{
    uint64_t before = 0;
    for (uint32_t i = 0; i < layer->item_count && before + layer->items[i].turns < turn; i++)
        before += layer->items[i].turns;
    return before;
}

/* The step is counted on the sheet that the widths before it gave. */
static bool take_measured(Compilation *compilation, Arena *steps, const TurnlayMeasured *measured)
{
    uint32_t rod = 0;
    const Action *action = measured_at(
        bench_make(steps, compilation->plan, step_letters(steps, compilation->plan)), measured->step, &rod);
    if (!action)
        return false;
    const PlannedLayer *layer = &compilation->plan->rods[rod].places[action->place].layers[action->layer];
    uint64_t before = turns_before_band(layer, action->layer_count);
    *LIST_ADD(&compilation->arena, &compilation->job->measured) =
        (MeasuredWidth){.rod = rod,
                        .place = action->place,
                        .layer = action->layer,
                        .turn = action->layer_count,
                        .made = measured->turns ? before + measured->turns : action->layer_count,
                        .width = measured->width,
                        .sure = measured->sure};
    return true;
}

/* The first plan gives the sheet that the first step is counted on. */
void plan_again(Compilation *compilation, Findings before)
{
    if (too_many_steps(compilation->bench)) {
        tell_beyond(compilation, BEYOND_STEPS);
        compilation->errors_of_pages = 0; /* no page goes by the widths that were measured */
        return;
    }
    Arena *steps = arena_child(&compilation->arena);
    for (uint32_t i = 0; i < compilation->happened.count && compilation->bench; i++) {
        const Happening *happening = &compilation->happened.items[i];
        bool taken = take_measured(compilation, steps, &happening->measured);
        arena_clear(steps);
        if (!taken) {
            compilation->not_measured = happening->measured.step;
            return;
        }
        compilation->findings = before;
        compilation->findings.forgiving = true;
        plan_and_prove(compilation);
    }
}
