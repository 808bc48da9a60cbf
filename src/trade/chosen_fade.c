/* Branch and bound, turn by turn from one end. As the place of a mixture on the path rises with the share of the
 * new shade, "departs by less than D" asks of each turn that its share lies between two limits. A turn laid of the
 * new shade adds to the share of each turn near it, one of the old shade takes away what could still be added: so
 * a part of a fade is given up as soon as the share of some turn is too much already, or too little even if all
 * that is open were of the new shade; and when what is open needs more changes of thread than are left
 * (fade_windows.h). Nothing that departs by less than D is given up, so a search that finds nothing proves that
 * there is nothing. */
#include "trade/chosen_fade.h"

#include "trade/fade_windows.h"
#include "trade/smooth_fade.h"

#include <math.h>
#include <string.h>

/* States of a table of windows that take as long as a node of the search. */
enum { STATES_A_NODE = 16 };
/* Before the last search one may take so small a part of the nodes, and the last one begins where what is had and
 * what is proven lie so near one another (a share of the former). Both by trial. */
enum { PARTS_OF_NODES = 20 };
static const double NEAR_ENOUGH = 0.1;

typedef enum { NOTHING, FOUND, STOPPED } Outcome;

typedef struct FadeSearch {
    const FadeTask *task;
    FadeSight sight;
    ShareLimits limits;
    FadeWindows windows;
    bool from_new_end; /* the fade is gone through from its other end, old and new exchanged */
    /* Of the turns laid: */
    unsigned char is_new[MOST_CHOSEN_TURNS];
    double share[MOST_CHOSEN_TURNS + 1]; /* of the new shade at each turn, with the band behind; by turn, from 1 */
    uint64_t nodes, most_nodes;
    /* Turns of the old and the new shade that are still needed, by turns laid. */
    double fewest[2][MOST_CHOSEN_TURNS + 1];
} FadeSearch;

typedef struct Laid {
    uint32_t turns, changes, run, new_turns;
    unsigned window; /* the last of them, as in fade_windows.h */
} Laid;

/* What a departure allows. Rounding is far below SAME_DEPARTURE. */
static void set_limits(FadeSearch *search, double departure)
{
    int turns = search->sight.turns;
    for (int turn = 1; turn <= turns; turn++) {
        double even = even_place(&search->sight, turn), from = even - departure, to = even + departure;
        double low = from > 0 ? mix_share(search->task->path, from) : -1,
               high = to < 1 ? mix_share(search->task->path, to) : 2;
        int here = search->from_new_end ? turns + 1 - turn : turn;
        search->limits.low[here] = search->from_new_end ? 1 - high : low;
        search->limits.high[here] = search->from_new_end ? 1 - low : high;
    }
}

/* Sums of shares over any turns: a turn counts for one at most, however it is spread, and what lies before the
 * open turns and behind the fade is taken as if it were all of the shade that is asked for. */
static void count_fewest(FadeSearch *search)
{
    const FadeSight *sight = &search->sight;
    int turns = sight->turns;
    for (int laid = 0; laid <= turns; laid++) {
        double old_turns = 0, new_turns = 0;
        for (int i = laid + 1; i <= turns; i++) {
            double before = seen_between(sight, i, 0, laid);
            old_turns += fmax(1 - search->limits.high[i] - before - (1 - seen_behind(sight, i, 0)), 0);
            new_turns += fmax(search->limits.low[i] - before - seen_behind(sight, i, turns), 0);
        }
        search->fewest[0][laid] = old_turns;
        search->fewest[1][laid] = new_turns;
    }
}

/* Lays a turn of the new shade; with -1 takes it up again. */
static void lay_new(FadeSearch *search, int turn, int sign)
{
    const FadeSight *sight = &search->sight;
    int first = turn - sight->reach, last = turn + sight->reach;
    for (int i = first < 1 ? 1 : first; i <= last && i <= sight->turns; i++)
        search->share[i] += sign * seen_between(sight, i, turn - 1, turn);
}

/* Whether each turn near the one laid last may still be seen as the limits ask. */
static bool fits(const FadeSearch *search, int turn, bool is_new)
{
    const FadeSight *sight = &search->sight;
    int first = turn - sight->reach, last = turn + sight->reach;
    first = first < 1 ? 1 : first;
    last = last > sight->turns ? sight->turns : last;
    if (is_new) {
        for (int i = first; i <= last; i++)
            if (search->share[i] > search->limits.high[i])
                return false;
    } else {
        for (int i = first; i <= last; i++)
            if (search->share[i] + seen_between(sight, i, turn, sight->turns) < search->limits.low[i])
                return false;
    }
    return true;
}

/* Changes and runs within the task's limits, so far and in what is open. */
static bool may_follow(const FadeSearch *search, const Laid *laid, const Laid *next)
{
    const FadeTask *task = search->task;
    if (next->changes > laid->changes && laid->changes > 0 && laid->run < task->shortest)
        return false;
    if (search->fewest[0][next->turns] + (next->turns - next->new_turns) > task->most_by_hand + SAME_DEPARTURE
        && search->fewest[1][next->turns] + next->new_turns > task->most_by_hand + SAME_DEPARTURE)
        return false;
    unsigned needed = search->windows.changes[next->turns][next->window];
    return needed != NO_WAY && next->changes + needed <= (task->most_changes ? task->most_changes : 1);
}

static Laid with_turn(const Laid *laid, unsigned is_new)
{
    bool changed = (laid->window & 1) != is_new;
    return (Laid){laid->turns + 1, laid->changes + changed, changed ? 1 : laid->run + 1, laid->new_turns + is_new,
                  (laid->window << 1 | is_new) & (WINDOW_STATES - 1)};
}

/* The last run is long enough, or goes on the band; and each of the two threads has a turn. */
static bool ends_well(const FadeTask *task, const Laid *laid)
{
    bool both = task->turns == 1 || (laid->new_turns > 0 && laid->new_turns < task->turns);
    return both && (laid->window & 1 || laid->changes == 0 || laid->run >= task->shortest);
}

/* Lays what is open, a turn of the running thread first. What is found stays laid. */
static Outcome lay_on(FadeSearch *search, Laid laid)
{
    if (laid.turns == search->task->turns)
        return ends_well(search->task, &laid) ? FOUND : NOTHING;
    if (search->nodes >= search->most_nodes)
        return STOPPED;
    search->nodes++;
    for (unsigned other = 0; other < 2; other++) {
        unsigned is_new = (laid.window & 1) ^ other;
        Laid next = with_turn(&laid, is_new);
        if (!may_follow(search, &laid, &next))
            continue;
        int turn = (int)next.turns;
        search->is_new[turn - 1] = (unsigned char)is_new;
        if (is_new)
            lay_new(search, turn, 1);
        Outcome outcome = fits(search, turn, is_new) ? lay_on(search, next) : NOTHING;
        if (outcome != NOTHING)
            return outcome;
        if (is_new)
            lay_new(search, turn, -1);
    }
    return NOTHING;
}

static uint64_t nodes_of_table(const FadeSearch *search)
{
    return (uint64_t)(search->sight.turns + WINDOW_HALF) * WINDOW_STATES / STATES_A_NODE;
}

/* Any fade that departs by less. It goes from the end near which the best known fade departs most: if nothing
 * better is to be had there, that is seen before anything else is tried. */
static Outcome search_below(FadeSearch *search, double departure, int worst_turn)
{
    const FadeSight *sight = &search->sight;
    search->from_new_end = worst_turn > sight->turns / 2;
    set_limits(search, departure);
    count_changes(&search->windows, sight, &search->limits, search->task->shortest);
    if (search->task->most_by_hand < search->task->turns / 2)
        count_fewest(search);
    search->nodes += nodes_of_table(search);
    for (int turn = 1; turn <= sight->turns; turn++)
        search->share[turn] = seen_behind(sight, turn, sight->turns);
    return lay_on(search, (Laid){0});
}

static void keep(const FadeSearch *search, unsigned char *is_new)
{
    uint32_t turns = search->task->turns;
    for (uint32_t i = 0; i < turns; i++)
        is_new[i] = search->from_new_end ? !search->is_new[turns - 1 - i] : search->is_new[i];
}

/* What is known so far: the best fade, and below what there is none. Below `hard` a search came to no end. */
typedef struct Known {
    Departure best;
    double bound, hard;
} Known;

/* One search: halfway between what is proven and what is had, and at last just below what is had. Far below the
 * best fade little has to be tried, so most is known before the dear ones. false: nothing more is to be learned.
 */
static bool learn(FadeSearch *search, Known *known, unsigned char *is_new)
{
    double top = fmin(known->hard, known->best.most);
    bool last = top - known->bound < NEAR_ENOUGH * top;
    double below = last ? known->best.most - SAME_DEPARTURE : (known->bound + top) / 2;
    uint64_t left = search->task->nodes - search->nodes, part = search->task->nodes / PARTS_OF_NODES,
             table = nodes_of_table(search);
    if (table > left)
        return false;
    search->most_nodes = search->nodes + (last || table + part > left ? left : table + part);
    Outcome outcome = search_below(search, below, known->best.turn);
    if (outcome == FOUND) {
        keep(search, is_new);
        known->best = most_departure(&search->sight, search->task->path, is_new);
    } else if (outcome == NOTHING) {
        known->bound = last ? known->best.most : below;
    } else {
        known->hard = below;
    }
    return known->bound < known->best.most && !(last && outcome == STOPPED);
}

static FadeChoice searched(const FadeTask *task, const FadeSight *sight, Departure first, unsigned char *is_new)
{
    FadeSearch search = {.task = task, .sight = *sight};
    see_windows(&search.windows, sight);
    Known known = {first, 0, INFINITY};
    while (learn(&search, &known, is_new))
        ;
    return (FadeChoice){known.best.most, known.bound, search.nodes};
}

FadeChoice choose_fade(const FadeTask *asked, unsigned char *is_new)
{
    FadeTask whole = *asked;
    const FadeTask *task = &whole;
    whole.most_by_hand += !asked->most_by_hand;
    FadeSight sight = fade_sight(task->turns, task->blur);
    first_fade(task, &sight, is_new);
    Departure first = most_departure(&sight, task->path, is_new);
    FadeChoice choice = {.departure = first.most};
    if (task->nodes)
        choice = searched(task, &sight, first, is_new);
    bool proven = choice.bound == choice.departure;
    smooth_fade(task, &sight, is_new);
    choice.departure = most_departure(&sight, task->path, is_new).most;
    choice.bound = proven ? choice.departure : fmin(choice.bound, choice.departure);
    return choice;
}
