#include "bench/night.h"

/* One goes back over these by unwinding; what is cut, trimmed or drawn back stays so. */
static const bool is_undone[ACTION_KIND_COUNT] = {
    [ACTION_START] = true, [ACTION_LAY_IN] = true, [ACTION_LAY_LOOP] = true,  [ACTION_TAKE_UP] = true,
    [ACTION_WIND] = true,  [ACTION_STAND] = true,  [ACTION_TAPE_DOWN] = true, [ACTION_UNTAPE] = true,
    [ACTION_PACK] = true,  [ACTION_MEASURE] = true};

typedef struct Night {
    const BenchRod *rod;
    uint64_t *turns; /* made before each action, and when all are done */
} Night;

static uint32_t turns_of(const Action *action) { return action->kind == ACTION_WIND ? action->turns : 0; }

static uint32_t end_of(const Step *step) { return step->first + step->count; }

/* In the given step, or at its end. */
static NightStop stop_in(const Night *night, uint32_t step, uint32_t done, uint32_t of_next)
{
    const Step *steps = night->rod->steps;
    bool whole = done == end_of(&steps[step]);
    uint64_t made = night->turns[done] + of_next - night->turns[steps[step].first];
    return (NightStop){.there = true,
                       .done = done,
                       .of_next = of_next,
                       .steps = step + whole,
                       .made = whole ? 0 : (uint32_t)made};
}

/* The last place behind this action, before the next turn in its step: what is cut or trimmed is done with then.
 */
static uint32_t settled(const Night *night, const Step *step, uint32_t action)
{
    const Action *actions = night->rod->actions;
    uint32_t done = action + 1;
    for (uint32_t i = done; i < end_of(step) && !makes_turns(&actions[i]); i++)
        done = actions[i].state.may_stop ? i + 1 : done;
    return done;
}

static bool may_stop_before(const Night *night, const Step *step)
{
    return step->first == 0 || night->rod->actions[step->first - 1].state.may_stop;
}

/* The first one in the step behind its beginning; where one may stop there, behind something that brings it on. */
static NightStop first_in(const Night *night, uint32_t index)
{
    const Step *step = &night->rod->steps[index];
    bool brought_on = !may_stop_before(night, step);
    for (uint32_t i = step->first; i < end_of(step); i++) {
        const Action *action = &night->rod->actions[i];
        brought_on |= makes_turns(action) || !is_undone[action->kind] || i + 1 == end_of(step);
        if (!brought_on || !action->state.may_stop)
            continue;
        uint32_t turn = action->state.stop_from ? action->state.stop_from : 1;
        return turn < turns_of(action) ? stop_in(night, index, i, turn)
                                       : stop_in(night, index, settled(night, step, i), 0);
    }
    return (NightStop){0};
}

static void put_after(const Night *night, StepNight *steps)
{
    NightStop next = {0};
    for (uint32_t i = night->rod->step_count; i-- > 0;) {
        NightStop own = first_in(night, i);
        next = own.there ? own : next;
        steps[i].after = next;
        uint64_t there = night->turns[next.done] + next.of_next;
        steps[i].after.turns = next.there ? there - night->turns[night->rod->steps[i].first] : 0;
    }
}

/* To be stopped at, if that is so, behind this action; where no turn and nothing that stays done has come since
 * its step began, the beginning is as near. */
static NightStop last_behind(const Night *night, NightStop last, uint32_t index, uint32_t action)
{
    const Step *step = &night->rod->steps[index];
    bool undone = is_undone[night->rod->actions[action].kind];
    if (!night->rod->actions[action].state.may_stop) {
        last.there = last.there && undone;
        return last;
    }
    bool as_near = last.there && undone && night->turns[action + 1] == night->turns[last.done];
    return as_near && action + 1 < end_of(step) ? last : stop_in(night, index, action + 1, 0);
}

/* Nothing is in work before the first step. */
static void put_before(const Night *night, StepNight *steps)
{
    NightStop last = {.there = true};
    for (uint32_t i = 0; i < night->rod->step_count; i++) {
        const Step *step = &night->rod->steps[i];
        steps[i].before = last;
        steps[i].before.turns = last.there ? night->turns[step->first] - night->turns[last.done] : 0;
        for (uint32_t a = step->first; a < end_of(step); a++)
            last = last_behind(night, last, i, a);
    }
}

typedef LIST_OF(StopTurns) StopTurnsList;

static void add_range(Arena *arena, StopTurnsList *ranges, uint32_t from, uint32_t to)
{
    StopTurns *last = ranges->count ? &ranges->items[ranges->count - 1] : NULL;
    if (last && from <= last->to + 1)
        last->to = to > last->to ? to : last->to;
    else
        *LIST_ADD(arena, ranges) = (StopTurns){from, to};
}

static void put_within(Arena *arena, const Night *night, uint32_t index, StepNight *out)
{
    const Step *step = &night->rod->steps[index];
    const Action *actions = night->rod->actions;
    StopTurnsList ranges = {0};
    uint32_t made = 0;
    if (may_stop_before(night, step))
        add_range(arena, &ranges, 0, 0);
    for (uint32_t i = step->first; i < end_of(step); i++) {
        uint32_t turns = turns_of(&actions[i]);
        if (actions[i].state.may_stop)
            add_range(arena, &ranges, made + (turns ? actions[i].state.stop_from : 0), made + turns);
        made += turns;
    }
    out->within = ranges.items;
    out->within_count = ranges.count;
}

const StepNight *night_of_steps(Arena *arena, const BenchRod *rod)
{
    Night night = {rod, arena_take_many(arena, rod->action_count + (size_t)1, sizeof *night.turns)};
    for (uint32_t i = 0; i < rod->action_count; i++)
        night.turns[i + 1] = night.turns[i] + turns_of(&rod->actions[i]);
    StepNight *steps = arena_take_many(arena, rod->step_count, sizeof *steps);
    put_before(&night, steps);
    put_after(&night, steps);
    for (uint32_t i = 0; i < rod->step_count; i++)
        put_within(arena, &night, i, &steps[i]);
    return steps;
}

const ActionState *night_state(const BenchRod *rod, const NightStop *stop)
{
    uint32_t last = stop->of_next ? stop->done : stop->done - 1;
    return stop->done || stop->of_next ? &rod->actions[last].state : NULL;
}
