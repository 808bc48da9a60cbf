#include "plan/fade_turns.h"

#include "base/limits.h"
#include "base/numbering.h"
#include "base/units.h"
#include "trade/chosen_fade.h"

#include <math.h>

_Static_assert(LIMIT_CHOSEN_TURNS == MOST_CHOSEN_TURNS, "the search takes what the limit lets in");

struct ChosenFades {
    Arena *arena;
    uint64_t steps_left, nodes_left;
    bool too_many; /* fades for the limit */
    LIST_OF(ChosenTurns) list;
    Numbering asked; /* by number what the list has */
};

ChosenFades *chosen_fades_start(Arena *arena)
{
    ChosenFades *chosen = arena_take(arena, sizeof *chosen);
    *chosen = (ChosenFades){
        .arena = arena, .steps_left = LIMIT_STEPS, .nodes_left = LIMIT_FADES_NODES, .asked.arena = arena};
    return chosen;
}

const ChosenTurns *turns_chosen(const ChosenFades *chosen, uint32_t number)
{
    return &chosen->list.items[number - 1];
}

const char *show_departure(Arena *arena, double share)
{
    return text_format(arena, "%s %%", show_number(arena, ceil(100 * share), 0));
}

const char *show_bound(Arena *arena, double share)
{
    return text_format(arena, "%s %%", show_number(arena, floor(100 * share), 0));
}

/* --- the choice --- */

/* Turn by turn to fade steps: each begins where the new thread comes in. */
static void set_runs(ChosenFades *chosen, ChosenTurns *turns, const unsigned char *is_new)
{
    LIST_OF(CrossoverStep) steps = {0};
    for (uint32_t i = 0; i < turns->asked.turns; i++) {
        if (i == 0 || (is_new[i] && !is_new[i - 1]))
            *LIST_ADD(chosen->arena, &steps) = (CrossoverStep){0, 0};
        CrossoverStep *step = &steps.items[steps.count - 1];
        step->in += is_new[i];
        step->out += !is_new[i];
        turns->in += is_new[i];
    }
    turns->runs = steps.items;
    turns->run_count = steps.count;
}

static FadeChoice search(ChosenFades *chosen, FadeTask *task, unsigned char *is_new)
{
    task->nodes = chosen->nodes_left < LIMIT_FADE_NODES ? chosen->nodes_left : LIMIT_FADE_NODES;
    FadeChoice choice = choose_fade(task, is_new);
    chosen->nodes_left -= choice.nodes < chosen->nodes_left ? choice.nodes : chosen->nodes_left;
    return choice;
}

/* What fits the hand is only better where it is no further off than the fade by count. */
static ChosenTurns choose(ChosenFades *chosen, const FadeAsked *asked, const unsigned char *plain)
{
    unsigned char is_new[MOST_CHOSEN_TURNS];
    MixPath path = mix_path(asked->from, asked->to);
    ChosenTurns turns = {.asked = *asked, .by_count = fade_departure(&path, plain, asked->turns, asked->blur)};
    FadeTask task = {.path = &path,
                     .turns = asked->turns,
                     .blur = asked->blur,
                     .most_changes = fade_changes(plain, asked->turns),
                     .most_by_hand = asked->by_hand,
                     .shortest = asked->shortest};
    FadeChoice choice = search(chosen, &task, is_new);
    if (task.most_by_hand < asked->turns && choice.departure > turns.by_count) {
        task.most_by_hand = asked->turns;
        choice = search(chosen, &task, is_new);
    }
    turns.departure = choice.departure;
    turns.bound = choice.bound;
    set_runs(chosen, &turns, is_new);
    return turns;
}

/* Beyond the limit the fade is laid by count. */
static ChosenTurns not_chosen(ChosenFades *chosen, const FadeAsked *asked, const unsigned char *plain)
{
    ChosenTurns turns = {.asked = *asked};
    set_runs(chosen, &turns, plain);
    return turns;
}

uint32_t choose_fade_turns(ChosenFades *chosen, const FadeAsked *asked)
{
    const double key[] = {asked->from.red, asked->from.green, asked->from.blue, asked->to.red,
                          asked->to.green, asked->to.blue,    asked->blur,      asked->turns,
                          asked->by_hand,  asked->shortest,   asked->even};
    uint32_t number = number_given(&chosen->asked, key, sizeof key);
    if (number)
        return number;
    unsigned char plain[MOST_CHOSEN_TURNS];
    uint64_t steps = (uint64_t)asked->turns * STEPS_A_CHOSEN_TURN;
    chosen->too_many |= steps > chosen->steps_left;
    chosen->steps_left -= chosen->too_many ? 0 : steps;
    (asked->even ? fade_evenly : fade_by_steps)(plain, asked->turns);
    *LIST_ADD(chosen->arena, &chosen->list) =
        chosen->too_many ? not_chosen(chosen, asked, plain) : choose(chosen, asked, plain);
    return give_number(&chosen->asked, key, sizeof key);
}

bool too_many_chosen(const ChosenFades *chosen) { return chosen->too_many; }
