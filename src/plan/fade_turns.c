#include "plan/fade_turns.h"

#include "base/limits.h"
#include "base/units.h"
#include "trade/chosen_fade.h"

#include <math.h>
#include <string.h>

_Static_assert(LIMIT_CHOSEN_TURNS == MOST_CHOSEN_TURNS, "the search takes what the limit lets in");

/* Kept by what was asked: `places` is a table of numbers, 0 for a free place, found by hash and then one by one.
 */
struct ChosenFades {
    Arena *arena;
    uint64_t steps_left, nodes_left;
    bool too_many; /* fades for the limit */
    LIST_OF(ChosenTurns) list;
    uint32_t *places;
    uint32_t place_count; /* a power of two, more than the list has; 0 at first */
};

ChosenFades *chosen_fades_start(Arena *arena)
{
    ChosenFades *chosen = arena_take(arena, sizeof *chosen);
    *chosen = (ChosenFades){.arena = arena, .steps_left = LIMIT_STEPS, .nodes_left = LIMIT_FADES_NODES};
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

/* --- what was asked before --- */

static uint64_t hash_of(const FadeAsked *asked)
{
    const double numbers[] = {asked->from.red, asked->from.green, asked->from.blue, asked->to.red,
                              asked->to.green, asked->to.blue,    asked->blur};
    uint64_t hash = hash_words(0, (const char *)numbers, sizeof numbers);
    hash = hash_word(hash, asked->turns);
    hash = hash_word(hash, asked->by_hand);
    return hash_word(hash, asked->shortest);
}

static bool same_asked(const FadeAsked *a, const FadeAsked *b)
{
    return same_light(a->from, b->from) && same_light(a->to, b->to) && a->blur == b->blur && a->turns == b->turns
           && a->by_hand == b->by_hand && a->shortest == b->shortest;
}

/* The place of its number, or the free one where that belongs. */
static uint32_t *place_of(const ChosenFades *chosen, const FadeAsked *asked)
{
    uint32_t at = (uint32_t)hash_of(asked) & (chosen->place_count - 1);
    while (chosen->places[at] && !same_asked(&chosen->list.items[chosen->places[at] - 1].asked, asked))
        at = (at + 1) & (chosen->place_count - 1);
    return &chosen->places[at];
}

static void make_room(ChosenFades *chosen)
{
    enum { FIRST_ROOM = 16 };
    if (chosen->list.count < chosen->place_count / 2)
        return;
    chosen->place_count = chosen->place_count ? 2 * chosen->place_count : FIRST_ROOM;
    chosen->places = arena_take_many(chosen->arena, chosen->place_count, sizeof *chosen->places);
    for (uint32_t i = 0; i < chosen->list.count; i++)
        *place_of(chosen, &chosen->list.items[i].asked) = i + 1;
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

/* What fits the hand is only better where it is no further off than the fade by steps. */
static ChosenTurns choose(ChosenFades *chosen, const FadeAsked *asked, const unsigned char *plain)
{
    unsigned char is_new[MOST_CHOSEN_TURNS];
    MixPath path = mix_path(asked->from, asked->to);
    ChosenTurns turns = {.asked = *asked, .by_steps = fade_departure(&path, plain, asked->turns, asked->blur)};
    FadeTask task = {.path = &path,
                     .turns = asked->turns,
                     .blur = asked->blur,
                     .most_changes = 2 * steps_within(asked->turns) + 1,
                     .most_by_hand = asked->by_hand,
                     .shortest = asked->shortest};
    FadeChoice choice = search(chosen, &task, is_new);
    if (task.most_by_hand < asked->turns && choice.departure > turns.by_steps) {
        task.most_by_hand = asked->turns;
        choice = search(chosen, &task, is_new);
    }
    turns.departure = choice.departure;
    turns.bound = choice.bound;
    set_runs(chosen, &turns, is_new);
    return turns;
}

/* Beyond the limit the fade is laid by steps. */
static ChosenTurns not_chosen(ChosenFades *chosen, const FadeAsked *asked, const unsigned char *plain)
{
    ChosenTurns turns = {.asked = *asked};
    set_runs(chosen, &turns, plain);
    return turns;
}

uint32_t choose_fade_turns(ChosenFades *chosen, const FadeAsked *asked)
{
    unsigned char plain[MOST_CHOSEN_TURNS];
    make_room(chosen);
    uint32_t *place = place_of(chosen, asked);
    if (*place)
        return *place;
    uint64_t steps = (uint64_t)asked->turns * STEPS_A_CHOSEN_TURN;
    chosen->too_many |= steps > chosen->steps_left;
    chosen->steps_left -= chosen->too_many ? 0 : steps;
    fade_by_steps(plain, asked->turns);
    *LIST_ADD(chosen->arena, &chosen->list) =
        chosen->too_many ? not_chosen(chosen, asked, plain) : choose(chosen, asked, plain);
    return *place = chosen->list.count;
}

bool too_many_chosen(const ChosenFades *chosen) { return chosen->too_many; }
