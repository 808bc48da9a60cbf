/* The surface of a place all round, for a page that turns it. */
#ifndef TURNLAY_DRAW_PICTURE_ALL_ROUND_H
#define TURNLAY_DRAW_PICTURE_ALL_ROUND_H

#include "draw/drawing.h"

/* The place's own angle lies in the middle. At page x a point so many turns on from there lies, unrolled, 2 pi
 * times the turns times the outline's half below the axis; from the side that angle's sine times the half. */
typedef struct AllRound {
    uint32_t place;   /* of the rod's places; of a guide's the first */
    bool guide;       /* its feet lie on the surface as if they were flat, and its ring is left out */
    Drawing *drawing; /* the surface unrolled; from the first shaded shape on light, and parts that stand out, as
                         they are seen from every side; NULL where it would be too much */
    double axis;      /* page y of the rod's axis */
    double facing;    /* clock angle in the middle, degrees */
    Point *outline;   /* page x, rising, and page mm from the axis; two at one x for a step */
    uint32_t outline_count;
} AllRound;

typedef struct AllRounds {
    AllRound *items;
    uint32_t count;
    uint32_t points; /* of all that are drawn */
} AllRounds;

/* Those of a section's places (ALL_SECTIONS: the rod's) that have a crosswrap or a fade. Each of so many points at
 * most, and so many all in all. */
AllRounds draw_all_round(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, double scale,
                         uint32_t most_points, uint32_t most_in_all);

#endif
