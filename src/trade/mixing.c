#include "trade/mixing.h"

#include "trade/trade.h"

#include <math.h>

/* CIELAB differences below this are rounding: that of 256 chords adds up to less than 1e-10. */
#define NO_LENGTH 1e-6

static Lab lab_at(const MixPath *path, double share) { return lab_of_light(mixed_light(path, share)); }

Light mixed_light(const MixPath *path, double share) { return light_over(path->to, share, path->from); }

/* Chord i goes from the share sin^2 (i pi / 2 MIX_CHORDS) to the next one. */
static double share_at(int chord)
{
    double root = sin(TRADE_PI / 2 * chord / MIX_CHORDS);
    return root * root;
}

MixPath mix_path(Light from, Light to)
{
    MixPath path = {.from = from, .to = to};
    Lab before = lab_at(&path, 0);
    for (int i = 1; i <= MIX_CHORDS; i++) {
        path.shares[i] = share_at(i);
        Lab here = lab_at(&path, path.shares[i]);
        path.length += lab_distance(here, before);
        path.positions[i] = path.length;
        before = here;
    }
    if (path.length < NO_LENGTH)
        path.length = 0;
    for (int i = 1; i <= MIX_CHORDS; i++)
        path.positions[i] = path.length > 0 ? path.positions[i] / path.length : path.shares[i];
    return path;
}

/* How far at, between two values, 0 to 1. */
static double part_of(double at, const double *values)
{
    return fmin(fmax((at - values[0]) / (values[1] - values[0]), 0), 1);
}

static double between(double part, const double *values) { return values[0] + part * (values[1] - values[0]); }

double mix_position(const MixPath *path, double share)
{
    double root = sqrt(fmin(fmax(share, 0), 1));
    int chord = (int)fmin(asin(root) * 2 / TRADE_PI * MIX_CHORDS, MIX_CHORDS - 1);
    return between(part_of(share, &path->shares[chord]), &path->positions[chord]);
}

double mix_share(const MixPath *path, double position)
{
    int low = 0, high = MIX_CHORDS;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        if (path->positions[middle] <= position)
            low = middle;
        else
            high = middle;
    }
    return between(part_of(position, &path->positions[low]), &path->shares[low]);
}
