#include "trade/mixing.h"

#include <math.h>

/* Of lights as they are, though an eye may be given colours beyond what can be shown. */
static Lab lab_at(const MixPath *path, double share)
{
    return lab_of(xyz_of(mixed_light(path, share)), colour_white());
}

Light mixed_light(const MixPath *path, double share)
{
    double rest = 1 - share;
    return (Light){share * path->to.red + rest * path->from.red, share * path->to.green + rest * path->from.green,
                   share * path->to.blue + rest * path->from.blue};
}

MixPath mix_path(Light from, Light to)
{
    MixPath path = {.from = from, .to = to};
    Lab before = lab_at(&path, 0);
    for (int i = 1; i <= MIX_CHORDS; i++) {
        Lab here = lab_at(&path, (double)i / MIX_CHORDS);
        path.length += hypot(hypot(here.lightness - before.lightness, here.a - before.a), here.b - before.b);
        path.positions[i] = path.length;
        before = here;
    }
    for (int i = 1; i <= MIX_CHORDS; i++)
        path.positions[i] = path.length > 0 ? path.positions[i] / path.length : (double)i / MIX_CHORDS;
    return path;
}

double mix_position(const MixPath *path, double share)
{
    double at = fmin(fmax(share, 0), 1) * MIX_CHORDS, chord = fmin(floor(at), MIX_CHORDS - 1);
    const double *positions = &path->positions[(int)chord];
    return positions[0] + (at - chord) * (positions[1] - positions[0]);
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
    double step = path->positions[high] - path->positions[low];
    double part = step > 0 ? (position - path->positions[low]) / step : 0;
    return (low + fmin(fmax(part, 0), 1)) / MIX_CHORDS;
}
