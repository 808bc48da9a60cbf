/* Whole turns of a fade chosen so that it looks even from afar: where the thread changes, and how far from even
 * that is. All in turns: turn i of n, from 1, has its middle at i - 1/2, and its colour should lie (i - 1/2) / n
 * along the path. Before the fade lies the old shade, behind it the new one, without end. */
#ifndef TURNLAY_TRADE_CHOSEN_FADE_H
#define TURNLAY_TRADE_CHOSEN_FADE_H

#include "trade/mixing.h"

#include <stdint.h>

/* Longer fades are not chosen: what the search holds grows with their turns, and stands on the stack. */
enum { MOST_CHOSEN_TURNS = 500 };

typedef struct FadeTask {
    const MixPath *path;   /* from the old shade to the new one */
    uint32_t turns;        /* 1 to MOST_CHOSEN_TURNS */
    double blur;           /* turns, one standard deviation, 0 or more */
    uint32_t most_changes; /* of thread, from the band before to the band behind; 0 is taken as 1 */
    uint32_t most_by_hand; /* at least one of the two threads makes no more turns; from turns / 2 on no limit */
    uint32_t shortest;     /* turns of each run between two changes; those that go on a band are free. 0 as 1 */
    uint64_t nodes;        /* of the search, at most; 0: the cheap first answer */
} FadeTask;

typedef struct FadeChoice {
    double departure; /* of the chosen turns: fade_departure */
    double bound;     /* no choice within the limits departs by less; departure itself where that is proven */
    uint64_t nodes;   /* spent */
} FadeChoice;

/* Sets is_new[i], 1 or 0, for each turn of the fade. There is always an answer: one change is within every limit.
 * The same task has the same answer. */
FadeChoice choose_fade(const FadeTask *task, unsigned char *is_new);

/* The most by which a turn's colour lies off its place on the path, as a share of the path. */
double fade_departure(const MixPath *path, const unsigned char *is_new, uint32_t turns, double blur);

/* Changes of thread, from the band before (old) to the band behind (new): at least 1. */
uint32_t fade_changes(const unsigned char *is_new, uint32_t turns);

/* The steps of the plain fade over so many turns: the largest s with s (s + 1) <= turns, at least 1. It changes
 * its thread 2 s + 1 times at most. */
uint32_t steps_within(uint32_t turns);
/* That fade: in 1 out s, in 2 out s - 1, ... in s out 1, stretched over the turns where they are more. */
void fade_by_steps(unsigned char *is_new, uint32_t turns);

#endif
