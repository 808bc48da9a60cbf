/* The replay of guides. A guide lies on the blank, with all of its feet, from TAPE_GUIDE on; where the bench does
 * not tape it, from the first turn over one of them.
 *
 *   TAPE_GUIDE    Once, while no thread is in work. Its tape lies on the inner half of each foot.
 *   TAKE_TAPE     Once for each foot that is taped.
 *   Turns, legs   Nothing is wound beneath a foot that lies: no `under` layer of its guide, and nothing of the
 *                 crosswraps that the guide stands on. No turn goes over a foot that is to be taped before it is,
 * nor over its tape.
 *
 * After the last action no tape is left on a foot that turns go over. */
#include "bench/replay_feet.h"

#include <math.h>

/* mm: far below what anybody measures. Common practice, no source. */
#define TAPE_SLACK 1e-6

static bool of_one_guide(const PlannedRod *rod, uint32_t place, uint32_t other)
{
    return other < rod->place_count && rod->places[other].foot >= 0
           && rod->places[other].place == rod->places[place].place;
}

/* What it stands on is closed with it, down to the blank. */
static void close_hosts(Hands *hands, const PlannedPlace *planned)
{
    for (const PlannedPlace *host = planned->host; host && !hands->feet[host - hands->rod->places].covered;
         host = host->host)
        hands->feet[host - hands->rod->places].covered = true;
}

static void guide_goes_on(Hands *hands, uint32_t place)
{
    uint32_t foot = place;
    while (foot > 0 && of_one_guide(hands->rod, place, foot - 1))
        foot--;
    for (; of_one_guide(hands->rod, place, foot); foot++) {
        hands->feet[foot].lies = true;
        hands->feet[foot].taped = hands->bench->tape;
        close_hosts(hands, &hands->rod->places[foot]);
    }
}

bool feet_allow(Hands *hands, uint32_t place, uint32_t layer, uint32_t piece)
{
    const FootNow *foot = &hands->feet[place];
    const PlannedPlace *planned = &hands->rod->places[place];
    if (foot->covered)
        return fault(hands, REPLAY_GUIDE_ON, piece);
    if (planned->foot < 0)
        return true;
    bool over = planned->layers[layer].layer->over;
    if (!over && foot->lies)
        return fault(hands, REPLAY_GUIDE_ON, piece);
    if (over && !foot->lies && hands->bench->tape)
        return fault(hands, REPLAY_OUT_OF_ORDER, piece);
    if (over && !foot->lies)
        guide_goes_on(hands, place);
    return true;
}

bool guide_tape_allows(Hands *hands, const Action *action, const Run *run)
{
    const PlannedPlace *planned = &hands->rod->places[action->place];
    if (!hands->feet[action->place].taped || !planned->layers[action->layer].layer->over)
        return true;
    double made = (double)(hands->run_turns + action->turns) / run->turns;
    double reached = run->start + made * (run->end - run->start);
    double middle = (planned->foot_tip + planned->foot_end) / 2;
    return (reached - middle) * planned->direction <= TAPE_SLACK || fault(hands, REPLAY_TAPED_OVER, action->piece);
}

static bool is_foot(const Hands *hands, const Action *action)
{
    return action->place < hands->rod->place_count && hands->rod->places[action->place].foot >= 0;
}

bool tape_guide(Hands *hands, const Action *action)
{
    if (!is_foot(hands, action))
        return lost(hands, NO_PIECE);
    if (hands->feet[action->place].lies || !hands->bench->tape)
        return fault(hands, REPLAY_OUT_OF_ORDER, NO_PIECE);
    guide_goes_on(hands, action->place);
    return true;
}

bool take_guide_tape(Hands *hands, const Action *action)
{
    if (!is_foot(hands, action))
        return lost(hands, NO_PIECE);
    if (!hands->feet[action->place].taped)
        return fault(hands, REPLAY_OUT_OF_ORDER, NO_PIECE);
    hands->feet[action->place].taped = false;
    return true;
}

static bool goes_over(const PlannedPlace *planned)
{
    for (uint32_t l = 0; l < planned->layer_count; l++)
        if (planned->layers[l].layer->over)
            return true;
    return false;
}

bool feet_done(Hands *hands)
{
    for (uint32_t place = 0; place < hands->rod->place_count; place++)
        if (hands->feet[place].taped && goes_over(&hands->rod->places[place]))
            return fault(hands, REPLAY_TAPE_LEFT, NO_PIECE);
    return true;
}
