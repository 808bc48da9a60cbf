/* A strip of strands that lie side by side, on one leg of a crosswrap, as areas of a picture. */
#ifndef TURNLAY_DRAW_CROSSWRAP_LEG_STRIP_H
#define TURNLAY_DRAW_CROSSWRAP_LEG_STRIP_H

#include "draw/crosswrap/ladder.h"

typedef struct LegStrip {
    const PlannedCrosswrap *planned;
    const Ladder *ladder; /* of its leg and start, reaching over it */
    uint32_t start;
    Leg leg;
    double bottom, top; /* its edges, across the strands from the bundle's line; top is toward the tip */
} LegStrip;

/* What is seen of the strip between two places along the axis: a part of the area for every turn that it makes.
 * Cut exactly at both places, and where the picture ends or turns away. */
void put_strip(Area *area, const Ground *ground, const LegStrip *strip, double low, double high);

#endif
