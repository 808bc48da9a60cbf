/* The last touch to chosen turns: of fades that are as little off there are many, and some ripple less. */
#ifndef TURNLAY_TRADE_SMOOTH_FADE_H
#define TURNLAY_TRADE_SMOOTH_FADE_H

#include "trade/first_fade.h"

/* Changes over single turns, or two near one another, as long as the squares of what the eye sees from each turn
 * to the next (CIELAB distances, to the bands before and behind, too) come to less. No turn comes to be off by
 * more than the one that is furthest off, and the task's limits are kept. By trial: not the least there is. */
void smooth_fade(const FadeTask *task, const FadeSight *sight, unsigned char *is_new);

#endif
