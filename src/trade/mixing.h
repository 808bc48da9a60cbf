/* What two lights can be mixed to, as the eye sees it: a path of colours from the one to the other. Light mixes by
 * sums (light_over's model), steps along the path are seen in CIELAB. */
#ifndef TURNLAY_TRADE_MIXING_H
#define TURNLAY_TRADE_MIXING_H

#include "trade/colour.h"

/* Chords that the path is measured by. They are shorter towards the ends, where a dark light is left or reached
 * and CIELAB changes fastest: positions are within 0.0005 of those of the path itself (10,000 random pairs, a
 * third of them with a light near black: 0.0003 at most, 0.00004 on the mean), lengths within 0.0001 of
 * themselves. */
enum { MIX_CHORDS = 256 };

typedef struct MixPath {
    Light from, to;
    double length;                    /* CIELAB arc length; 0 for two lights that are equal to within rounding */
    double shares[MIX_CHORDS + 1];    /* 0 to 1, rising: of `to`, where the chords meet */
    double positions[MIX_CHORDS + 1]; /* 0 to 1, rising: how far along the path that is */
} MixPath;

/* Of any two lights, also such as lie a little beyond what can be shown. */
MixPath mix_path(Light from, Light to);
/* So much of `to`, 0 to 1, the rest of `from`. */
Light mixed_light(const MixPath *path, double share);
/* How far along the path that mixture lies, 0 to 1 of its length; the share itself where it has none. */
double mix_position(const MixPath *path, double share);
/* The share whose mixture lies so far along: mix_position turned round. */
double mix_share(const MixPath *path, double position);

#endif
