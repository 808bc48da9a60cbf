#include "trade/fade_sight.h"

#include <math.h>

/* So many standard deviations away less than 1e-10 of a normal distribution lies further out. */
static const double FURTHEST = 6.4;

FadeSight fade_sight(uint32_t turns, double blur)
{
    FadeSight sight = {.turns = (int)turns, .reach = (int)fmin(ceil(FURTHEST * blur) + 1, turns)};
    for (int away = -sight.turns - 1; away <= sight.turns + 1; away++)
        sight.behind_[away + MOST_CHOSEN_TURNS + 1] = erfc((0.5 - away) / (blur * sqrt(2))) / 2;
    return sight;
}

double share_of_new(const FadeSight *sight, const unsigned char *is_new, int turn)
{
    int first = turn - sight->reach - 1, last = turn + sight->reach;
    first = first < 0 ? 0 : first;
    last = last > sight->turns ? sight->turns : last;
    int before = 0; /* of either shade: what lies before the first boundary is not seen */
    double share = 0;
    for (int boundary = first; boundary <= last; boundary++) {
        int behind = boundary == sight->turns || is_new[boundary];
        if (behind != before)
            share += (behind - before) * seen_behind(sight, turn, boundary);
        before = behind;
    }
    return share;
}

double departure_of(const FadeSight *sight, const MixPath *path, double share, int turn)
{
    return fabs(mix_position(path, share) - even_place(sight, turn));
}

Departure most_departure(const FadeSight *sight, const MixPath *path, const unsigned char *is_new)
{
    Departure worst = {0, 1};
    for (int turn = 1; turn <= sight->turns; turn++) {
        double off = departure_of(sight, path, share_of_new(sight, is_new, turn), turn);
        if (off > worst.most)
            worst = (Departure){off, turn};
    }
    return worst;
}

double fade_departure(const MixPath *path, const unsigned char *is_new, uint32_t turns, double blur)
{
    FadeSight sight = fade_sight(turns, blur);
    return most_departure(&sight, path, is_new).most;
}
