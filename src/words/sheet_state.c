#include "words/sheet_state.h"

/* What each kind of step makes of its pieces. */
static const struct {
    bool changes;
    OnBlank state;
} effects[STEP_KIND_COUNT] = {
    [STEP_START] = {true, ON_BLANK_RUNNING},   [STEP_LAY_IN] = {true, ON_BLANK_LAID_IN},
    [STEP_TAKE_UP] = {true, ON_BLANK_RUNNING}, [STEP_STAND] = {true, ON_BLANK_STANDING},
    [STEP_LAY_END] = {true, ON_BLANK_NOT},     [STEP_PULL_THROUGH] = {true, ON_BLANK_NOT},
    [STEP_TAKE_SPACER] = {true, ON_BLANK_NOT}, [STEP_TIE_ON] = {true, ON_BLANK_RUNNING},
    [STEP_TIE_OFF] = {true, ON_BLANK_NOT},
};

OnBlank *sheet_state(Arena *arena, const SheetRod *rod, uint32_t steps)
{
    OnBlank *states = arena_take_many(arena, rod->bench->rod->piece_count, sizeof *states);
    for (uint32_t i = 0; i < steps && i < rod->step_count; i++) {
        const Step *step = rod->steps[i].step;
        for (uint32_t p = 0; effects[step->kind].changes && p < step->piece_count; p++)
            states[step->piece + p] = effects[step->kind].state;
    }
    return states;
}

const char *on_blank_words(OnBlank state)
{
    static const char *const words[] = {"", "running", "standing", "laid in"};
    return words[state];
}
