#include "trade/fade_windows.h"

/* Beyond the fade's turns none are told apart: there all are of the new shade. */
void see_windows(FadeWindows *windows, const FadeSight *sight)
{
    for (int window = 0; window < 1 << WINDOW; window++) {
        windows->seen[window] = 0;
        for (int i = 0; i < WINDOW; i++)
            if (window >> i & 1)
                windows->seen[window] += seen_between(sight, 1, WINDOW_HALF - i, WINDOW_HALF + 1 - i);
    }
}

/* Turns of the shade of the last one that end these turns, as far as they go. */
static unsigned run_at_end(unsigned state)
{
    unsigned others = state & 1 ? ~state : state;
    unsigned run = 1;
    while (run < WINDOW - 1 && !(others >> run & 1))
        run++;
    return run;
}

/* What a window must hold of the new shade where `laid` is the last of its turns. */
typedef struct WindowLimits {
    double least, most;
} WindowLimits;

static WindowLimits held(const FadeSight *sight, const ShareLimits *limits, int laid)
{
    int middle = laid - WINDOW_HALF, first = middle - WINDOW_HALF;
    if (middle < 1)
        return (WindowLimits){-1, 2};
    double sure = seen_behind(sight, middle, laid > sight->turns ? laid : sight->turns), perhaps = 0;
    if (first > 1)
        perhaps += seen_between(sight, middle, 0, first - 1);
    if (laid < sight->turns)
        perhaps += seen_between(sight, middle, laid, sight->turns);
    return (WindowLimits){limits->low[middle] - sure - perhaps, limits->high[middle] - sure};
}

void count_changes(FadeWindows *windows, const FadeSight *sight, const ShareLimits *limits, uint32_t shortest)
{
    int end = sight->turns + WINDOW_HALF;
    unsigned char may_change[WINDOW_STATES];
    for (unsigned state = 0; state < WINDOW_STATES; state++) {
        unsigned run = run_at_end(state);
        may_change[state] = run >= shortest || run == WINDOW - 1;
        windows->changes[end][state] = 0;
    }
    for (int laid = end; laid > 0; laid--) {
        WindowLimits asked = held(sight, limits, laid);
        const unsigned char *after = windows->changes[laid];
        for (unsigned state = 0; state < WINDOW_STATES; state++) {
            unsigned least = NO_WAY;
            for (unsigned turn = laid > sight->turns; turn < 2; turn++) {
                unsigned window = state << 1 | turn, changed = (state & 1) != turn;
                unsigned changes = after[window & (WINDOW_STATES - 1)];
                if (changes + changed >= least || (changed && !may_change[state]))
                    continue;
                if (windows->seen[window] >= asked.least && windows->seen[window] <= asked.most)
                    least = changes + changed;
            }
            windows->changes[laid - 1][state] = (unsigned char)(least == NO_WAY        ? NO_WAY
                                                                : least < MOST_COUNTED ? least
                                                                                       : MOST_COUNTED);
        }
    }
}
