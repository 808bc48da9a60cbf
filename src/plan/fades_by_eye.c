/* What is asked of a fade by eye: nothing but what the file says. */
#include "plan/layout.h"
#include "plan/look.h"
#include "trade/eye.h"

#include <math.h>

/* A turn of the thread there, mm. */
static double turn_length(const Thread *thread, double diameter)
{
    return helix_length((diameter + thread->diameter) / 2, thread->pitch, 1);
}

/* Turns of it that a piece wrapped by hand has, beside the `bind` turns that hold its end behind the fade, its tag
 * and end, the other thread's turns that it runs under, and what it is held by. Less than 0 where there is not
 * even room for these. */
static double turns_in_hand(const Bench *bench, const Thread *thread, double diameter, double fade_width)
{
    double ends = 2 * bench->free + 2 * bench->bind * thread->pitch + fade_width;
    return floor((bench->hand - ends) / turn_length(thread, diameter)) - bench->bind;
}

/* Where half of the turns can be made by hand there is no limit: one of the two threads makes no more. Where not
 * even one can, it is spools that change. */
static uint32_t turns_by_hand(const Layout *layout, const Item *item, uint32_t turns)
{
    const Bench *bench = &layout->job->bench;
    const Thread *new = item->strands->items[0].thread, *old = item->from->items[0].thread;
    double diameter = diameter_at_start(layout), width = turns * (new->pitch + old->pitch) / 2;
    double most = fmin(turns_in_hand(bench, new, diameter, width), turns_in_hand(bench, old, diameter, width));
    bool limited = bench->bobbins == 0 && most < turns / 2;
    return limited && most >= 1 ? (uint32_t)most : turns;
}

static FadeAsked fade_asked(const Layout *layout, const Item *item, uint32_t turns)
{
    const Bench *bench = &layout->job->bench;
    uint32_t below = (uint32_t)(layout->layer - layout->place->layers);
    Light ground = look_at(layout->rod->rod, layout->place, below, layout->layer->start);
    return (FadeAsked){.from = strands_over(item->from, ground),
                       .to = strands_over(item->strands, ground),
                       .blur = eye_blur(bench->sight, bench->far) * 2 / (item->from->pitch + item->strands->pitch),
                       .turns = turns,
                       .by_hand = turns_by_hand(layout, item, turns),
                       .shortest = bench->shortest,
                       .even = item->fade_rule == FADE_EVEN};
}

/* Beyond the limit of steps the layer that is laid next reports it. */
uint32_t choose_turns(Layout *layout, const Item *item, uint32_t turns)
{
    FadeAsked asked = fade_asked(layout, item, turns);
    uint32_t number = choose_fade_turns(layout->chosen, &asked);
    if (too_many_chosen(layout->chosen))
        takes_steps(layout, UINT64_MAX);
    return number;
}
