#include "bench/step_place.h"

/* To the step with this index, if it is there. What comes behind the last turns of a layer, as a seal does, makes
 * none and takes none away. */
static bool goes_on(StepPlace *place, const BenchRod *rod, uint32_t index)
{
    const Step *step = &rod->steps[index];
    const Action *first = &rod->actions[step->first], *last = &rod->actions[step->first + step->count - 1];
    if (first->place != place->place || first->layer != place->layer)
        return false;
    uint64_t count = first->layer == WHOLE_ROD ? 0 : last->layer_count;
    uint64_t turn = count > place->turn ? count : place->turn;
    place->begun = place->turn == place->before ? place->begun + 1 : 0;
    place->order = turn == place->turn ? place->order + 1 : 0;
    place->before = place->turn;
    place->turn = turn;
    return true;
}

/* Before the first step there: its order and number will be 0. */
static StepPlace start_of(uint32_t rod, uint32_t place, uint32_t layer)
{
    return (StepPlace){.rod = rod, .place = place, .layer = layer, .order = UINT32_MAX, .begun = UINT32_MAX};
}

bool step_place(const BenchPlan *bench, uint32_t number, StepPlace *place)
{
    for (uint32_t r = 0; r < bench->rod_count; number -= bench->rods[r++].step_count) {
        const BenchRod *rod = &bench->rods[r];
        if (!number || number > rod->step_count)
            continue;
        const Action *first = &rod->actions[rod->steps[number - 1].first];
        *place = start_of(r, first->place, first->layer);
        for (uint32_t i = 0; i < number; i++)
            goes_on(place, rod, i);
        return true;
    }
    return false;
}

static uint32_t steps_before(const BenchPlan *bench, uint32_t rod)
{
    uint32_t before = 0;
    for (uint32_t r = 0; r < rod && r < bench->rod_count; r++)
        before += bench->rods[r].step_count;
    return before;
}

uint32_t step_at_place(const BenchPlan *bench, StepPlace place)
{
    const BenchRod *rod = &bench->rods[place.rod];
    StepPlace here = start_of(place.rod, place.place, place.layer);
    for (uint32_t i = 0; i < rod->step_count; i++)
        if (goes_on(&here, rod, i)
            && (here.turn > place.turn || (here.turn == place.turn && here.order >= place.order)))
            return steps_before(bench, place.rod) + i + 1;
    return 0;
}

uint32_t step_from_place(const BenchPlan *bench, StepPlace place)
{
    uint32_t before = steps_before(bench, place.rod), found = 0;
    if (place.rod >= bench->rod_count)
        return before + 1;
    const BenchRod *rod = &bench->rods[place.rod];
    StepPlace here = start_of(place.rod, place.place, place.layer);
    for (uint32_t i = 0; i < rod->step_count; i++) {
        if (!goes_on(&here, rod, i))
            continue;
        if (here.before > place.before)
            break;
        found = before + i + 1;
        if (here.before == place.before && here.begun >= place.begun)
            break;
    }
    return found;
}
