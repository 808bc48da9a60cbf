/* What is seen of the turns of a fade from afar. Turns count from 1, is_new has one value each, 1 or 0; boundary b
 * lies behind turn b, boundary 0 before the first. Before the fade lies the old shade, behind it the new one,
 * without end. Widths are in turns: the middle of turn i lies at i - 1/2. */
#ifndef TURNLAY_TRADE_FADE_SIGHT_H
#define TURNLAY_TRADE_FADE_SIGHT_H

#include "trade/mixing.h"

#include <stdint.h>

/* Longer fades are not chosen: what the search holds grows with their turns, and stands on the stack. */
enum { MOST_CHOSEN_TURNS = 500 };
/* Departures that differ by no more are taken as the same: far below what is seen, far above what rounding does.
 */
#define SAME_DEPARTURE 1e-5

typedef struct FadeSight {
    int turns;
    int reach; /* turns beyond which nothing is seen of a turn */
    double behind_[2 * MOST_CHOSEN_TURNS + 3];
} FadeSight;

/* turns: 1 to MOST_CHOSEN_TURNS; blur: one standard deviation, 0 or more turns. */
FadeSight fade_sight(uint32_t turns, double blur);
/* How much of the light seen at the middle of a turn comes from behind a boundary, 0 to 1. The turn before the
 * fade is 0, the one behind it one more than there are. */
static inline double seen_behind(const FadeSight *sight, int turn, int boundary)
{
    return sight->behind_[turn - boundary + MOST_CHOSEN_TURNS + 1];
}
/* The same, between two boundaries. */
static inline double seen_between(const FadeSight *sight, int turn, int from, int to)
{
    return seen_behind(sight, turn, from) - seen_behind(sight, turn, to);
}
/* By how much more of the new shade is seen at a turn if another one is changed over. */
static inline double seen_change(const FadeSight *sight, const unsigned char *is_new, int turn, int changed)
{
    double share = seen_between(sight, turn, changed - 1, changed);
    return is_new[changed - 1] ? -share : share;
}
/* How much of it is of the new shade. */
double share_of_new(const FadeSight *sight, const unsigned char *is_new, int turn);
/* How far along the path an even fade has a turn's colour, 0 to 1. */
static inline double even_place(const FadeSight *sight, int turn) { return (turn - 0.5) / sight->turns; }

/* By how much a turn's colour lies off that place where so much of the new shade is seen, a share of the path. */
double departure_of(const FadeSight *sight, const MixPath *path, double share, int turn);
/* The most of all turns, and the turn. */
typedef struct Departure {
    double most;
    int turn;
} Departure;
Departure most_departure(const FadeSight *sight, const MixPath *path, const unsigned char *is_new);
/* The same of a fade as it is given. */
double fade_departure(const MixPath *path, const unsigned char *is_new, uint32_t turns, double blur);

#endif
