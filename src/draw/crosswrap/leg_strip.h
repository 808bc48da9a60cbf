/* A strip of strands that lie side by side, on one leg of a crosswrap, as areas of a picture. */
#ifndef TURNLAY_DRAW_CROSSWRAP_LEG_STRIP_H
#define TURNLAY_DRAW_CROSSWRAP_LEG_STRIP_H

#include "draw/canvas.h"

/* Between two places along the axis the surface is a cone; where two of these meet it may step. Rising. */
typedef struct Cone {
    double from, to, radius_from, radius_to;
} Cone;

typedef struct Ground {
    const Frame *frame;
    Cone *cones;
    uint32_t count;
} Ground;

/* The surface that strips are drawn on, from a rising outline; true to 0.004 mm on the page. */
void ground_start(Ground *ground, Arena *arena, const Frame *frame, const Outline *outline);

/* Where lines of one leg of one start come by at one turn, along the axis: the lowest of them at `low`, one that
 * lies a mm across from it at low + a (across + a bend). */
typedef struct Rung {
    double low, across, bend;
} Rung;

/* A turn of the picture: where the lines come into view, and where they go. */
typedef struct LadderTurn {
    Rung enters, leaves;
    const Cone *cone; /* of the surface all the way; NULL where it is not one */
} LadderTurn;

typedef struct Ladder {
    double first;  /* the whole turn that the first is of */
    double bottom; /* of the lowest line, across */
    LadderTurn *turns;
    uint32_t count;
} Ladder;

typedef struct LegStrip {
    const PlannedCrosswrap *planned;
    const Ladder *ladder; /* of its leg and start, reaching over it */
    uint32_t start;
    Leg leg;
    double bottom, top; /* its edges, across the strands from the bundle's line; top is toward the tip */
} LegStrip;

/* For strips of that leg and start between bottom and top and between two places along the axis. */
void ladder_start(Ladder *ladder, Arena *arena, const Ground *ground, const LegStrip *widest, double low,
                  double high);
/* What is seen of the strip between two places along the axis: a part of the area for every turn that it makes.
 * Cut exactly at both places, and where the picture ends or turns away. */
void put_strip(Area *area, const Ground *ground, const LegStrip *strip, double low, double high);

#endif
