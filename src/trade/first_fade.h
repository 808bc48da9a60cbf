/* What is asked of chosen turns, and the turns that a search begins from. */
#ifndef TURNLAY_TRADE_FIRST_FADE_H
#define TURNLAY_TRADE_FIRST_FADE_H

#include "trade/fade_sight.h"

#include <stdbool.h>
#include <stdint.h>

typedef struct FadeTask {
    const MixPath *path;   /* from the old shade to the new one */
    uint32_t turns;        /* 1 to MOST_CHOSEN_TURNS */
    double blur;           /* turns, one standard deviation, 0 or more */
    uint32_t most_changes; /* of thread, from the band before to the band behind; 0 is taken as 1 */
    uint32_t most_by_hand; /* at least one of the two threads makes no more turns; from turns / 2 on no limit. 0 is
                              taken as 1 */
    uint32_t shortest;     /* turns of each run between two changes; those that go on a band are free. 0 as 1 */
    uint64_t nodes;        /* of the search, at most; 0: the cheap first answer */
} FadeTask;

/* Changes of thread, from the band before (old) to the band behind (new): at least 1. */
uint32_t fade_changes(const unsigned char *is_new, uint32_t turns);
/* Whether turns keep within what the task asks, and each thread has one if there are two. One change of thread
 * always can. */
bool within_limits(const FadeTask *task, const unsigned char *is_new);

/* The steps of the plain fade over so many turns: the largest s with s (s + 1) <= turns, at least 1. It changes
 * its thread 2 s + 1 times at most. */
uint32_t steps_within(uint32_t turns);
/* That fade: in 1 out s, in 2 out s - 1, ... in s out 1, stretched where the turns are more. */
void fade_by_steps(unsigned char *is_new, uint32_t turns);
/* The even fade by counts, of any number of turns: even_crossover_turns. */
void fade_evenly(unsigned char *is_new, uint32_t turns);

/* The best of what is had at little cost: fades by counts, of so many steps and fewer and even ones, the even ramp
 * rounded to whole turns, one change; then turn by turn made better. Within the task's limits. */
void first_fade(const FadeTask *task, const FadeSight *sight, unsigned char *is_new);

#endif
