#include "bench/step_place.h"

static StepPlace place_of(const BenchRod *rod, uint32_t index)
{
    const Step *step = &rod->steps[index];
    const Action *first = &rod->actions[step->first], *last = &rod->actions[step->first + step->count - 1];
    uint64_t turn = first->layer == WHOLE_ROD ? 0 : last->layer_count;
    return (StepPlace){.place = first->place, .layer = first->layer, .turn = turn};
}

static bool is_there(StepPlace one, StepPlace other)
{
    return one.place == other.place && one.layer == other.layer;
}

bool step_place(const BenchPlan *bench, uint32_t number, StepPlace *place)
{
    for (uint32_t r = 0; r < bench->rod_count; number -= bench->rods[r++].step_count) {
        const BenchRod *rod = &bench->rods[r];
        if (!number || number > rod->step_count)
            continue;
        *place = place_of(rod, number - 1);
        place->rod = r;
        for (uint32_t i = 0; i + 1 < number; i++) {
            StepPlace before = place_of(rod, i);
            if (!is_there(before, *place))
                continue;
            place->order += before.turn == place->turn;
            place->begun = before.turn == place->before ? place->begun + 1 : 0;
            place->before = before.turn;
        }
        return true;
    }
    return false;
}

uint32_t step_at_place(const BenchPlan *bench, StepPlace place)
{
    uint32_t before = 0, left = place.order;
    for (uint32_t r = 0; r < place.rod; r++)
        before += bench->rods[r].step_count;
    const BenchRod *rod = &bench->rods[place.rod];
    for (uint32_t i = 0; i < rod->step_count; i++) {
        StepPlace here = place_of(rod, i);
        if (!is_there(here, place) || here.turn < place.turn)
            continue;
        if (here.turn > place.turn || !left--)
            return before + i + 1;
    }
    return 0;
}

uint32_t step_from_place(const BenchPlan *bench, StepPlace place)
{
    uint32_t number = 0, found = 0, left = place.begun;
    uint64_t begin = 0;
    for (uint32_t r = 0; r < place.rod && r < bench->rod_count; r++)
        number += bench->rods[r].step_count;
    if (place.rod >= bench->rod_count)
        return number + 1;
    const BenchRod *rod = &bench->rods[place.rod];
    for (uint32_t i = 0; i < rod->step_count; i++) {
        StepPlace here = place_of(rod, i);
        if (!is_there(here, place))
            continue;
        if (begin == place.before && !left--)
            return number + i + 1;
        if (begin <= place.before)
            found = number + i + 1;
        begin = here.turn;
    }
    return found;
}
