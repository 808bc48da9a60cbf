/* Whole turns of a fade chosen so that it looks even from afar: the turns within a task's limits whose colours
 * depart least from an even fade. */
#ifndef TURNLAY_TRADE_CHOSEN_FADE_H
#define TURNLAY_TRADE_CHOSEN_FADE_H

#include "trade/first_fade.h"

#include <stdint.h>

typedef struct FadeChoice {
    double departure; /* of the chosen turns: fade_departure */
    double bound; /* no choice within the limits departs by less, but for SAME_DEPARTURE; equal to departure where
                     that is proven, 0 where nothing was searched */
    uint64_t nodes; /* spent */
} FadeChoice;

/* Sets is_new[i], 1 or 0, for each turn of the fade. There is always an answer. The same task has the same one. */
FadeChoice choose_fade(const FadeTask *asked, unsigned char *is_new);

#endif
