#include "trade/melting.h"

#include "trade/eye.h"

#include <math.h>

typedef struct Stripe {
    double from, to; /* turns */
} Stripe;

/* Where the new shade lies: a stripe a step, and all that follows. */
static uint32_t lay_stripes(Stripe *stripes, uint32_t steps)
{
    double at = 0;
    for (uint32_t i = 0; i < steps; i++, at += steps + 1)
        stripes[i] = (Stripe){at, at + i + 1};
    stripes[steps] = (Stripe){at, INFINITY};
    return steps + 1;
}

double melting_jump(Light from, Light to, Vision vision, uint32_t steps, double blur)
{
    Stripe stripes[MOST_MELTING_STEPS + 1];
    uint32_t count = lay_stripes(stripes, steps), turns = steps * (steps + 1);
    double largest = 0;
    Lab before = {0};
    for (uint32_t turn = 0; turn < turns + 2; turn++) { /* from the one before the fade to the one behind it */
        double middle = turn - 0.5, share = 0;
        for (uint32_t i = 0; i < count; i++)
            share += eye_share(blur, middle, stripes[i].from, stripes[i].to);
        Lab here = lab_of_light(light_seen(vision, light_over(to, share, from)));
        if (turn)
            largest = fmax(largest, ciede2000(before, here));
        before = here;
    }
    return largest;
}
