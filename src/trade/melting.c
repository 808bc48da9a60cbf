#include "trade/melting.h"

#include "trade/eye.h"

#include <math.h>

/* Places between turns are whole numbers and middles of turns lie half a turn off: no other distances come up, and
 * how much light is spread over each is worked out once. Turns before and behind the fade, too. */
enum { MELTING_TURNS = MOST_MELTING_STEPS * (MOST_MELTING_STEPS + 1) + 2 };

/* How much of the light at the middle of a turn comes from before a place between turns, less one half. */
static double before_place(const double *spread, uint32_t place, uint32_t turn)
{
    return place >= turn ? spread[place - turn] : -spread[turn - place - 1];
}

/* Of the new shade: a turn of it, then two and so on, a stripe a step, and all that follows. Turns from 0, the one
 * before the fade, whose middle lies half a turn before place 0. */
static double new_share(const double *spread, uint32_t turn, uint32_t steps)
{
    double share = 0;
    uint32_t place = 0;
    for (uint32_t i = 0; i < steps; i++, place += steps + 1)
        share += before_place(spread, place + i + 1, turn) - before_place(spread, place, turn);
    return share + (0.5 - before_place(spread, place, turn));
}

double melting_jump(Light from, Light to, Vision vision, uint32_t steps, double blur)
{
    double spread[MELTING_TURNS], largest = 0;
    uint32_t turns = steps * (steps + 1) + 2; /* from the one before the fade to the one behind it */
    for (uint32_t i = 0; i < turns; i++)
        spread[i] = eye_share(blur, 0, 0, i + 0.5);
    Lab before = {0};
    for (uint32_t turn = 0; turn < turns; turn++) {
        Lab here = lab_of_light(light_seen(vision, light_over(to, new_share(spread, turn, steps), from)));
        if (turn)
            largest = fmax(largest, ciede2000(before, here));
        before = here;
    }
    return largest;
}
