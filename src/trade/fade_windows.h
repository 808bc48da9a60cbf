/* How few changes of thread any fade of a given departure can do with, looked at in short windows of turns: a
 * lower bound for the search. */
#ifndef TURNLAY_TRADE_FADE_WINDOWS_H
#define TURNLAY_TRADE_FADE_WINDOWS_H

#include "trade/first_fade.h"

/* Turns of a window, the turn that is looked at in its middle; and what the last turns laid can be: one fewer, the
 * last of them the lowest bit, 1 where it is of the new shade. */
enum { WINDOW_HALF = 4, WINDOW = 2 * WINDOW_HALF + 1, WINDOW_STATES = 1 << (WINDOW - 1) };
/* In place of changes: not with any. More than are counted are not told apart. */
enum { NO_WAY = 255, MOST_COUNTED = 254 };

/* Within which share of the new shade each turn is to be seen, for a departure. */
typedef struct ShareLimits {
    double low[MOST_CHOSEN_TURNS + 1], high[MOST_CHOSEN_TURNS + 1]; /* by turn, from 1 */
} ShareLimits;

typedef struct FadeWindows {
    double seen[1 << WINDOW]; /* of the new shade, by what a window holds */
    unsigned char changes[MOST_CHOSEN_TURNS + WINDOW_HALF + 1][WINDOW_STATES]; /* still needed, by turns laid */
} FadeWindows;

void see_windows(FadeWindows *windows, const FadeSight *sight);
/* Fills in `changes`. Turns that a window does not hold may be of either shade: so no fade within the limits needs
 * fewer, and a run between changes counts as far as the window holds it. */
void count_changes(FadeWindows *windows, const FadeSight *sight, const ShareLimits *limits, uint32_t shortest);

#endif
