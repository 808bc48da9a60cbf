/* The surface that a crosswrap is drawn on, and the edges of strips on it as they come onto the page. */
#ifndef TURNLAY_DRAW_CROSSWRAP_GROUND_H
#define TURNLAY_DRAW_CROSSWRAP_GROUND_H

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

/* From a rising outline; true to 0.004 mm on the page. */
void ground_start(Ground *ground, Arena *arena, const Frame *frame, const Outline *outline);
/* Number of the cone in which x lies; where two meet, that on the tip's side, or else on the butt's. */
uint32_t ground_cone(const Ground *ground, double x, bool tipward);
double cone_radius(const Cone *cone, double x);

/* A place on an edge; turns on from the middle of the picture. */
typedef struct Spot {
    double x, turns;
} Spot;
Point ground_point(const Ground *ground, const Cone *cone, Spot spot);
/* From where the area's pen is, at `from`, to another spot of an edge on one cone: a line, or a curve. */
void ground_stretch(Area *area, const Ground *ground, const Cone *cone, Spot from, Spot to);

/* Where the radius changes, the handles of a half turn seen from the side reach out by so much of the change: the
 * curve is then off by so much of it, but by much more with handles along the tangents (found by search). */
#define HALF_RISE 0.605
#define HALF_RISE_MISS 0.036
#define HALF_TANGENT_MISS 0.22
/* Whether one curve from the picture's upper part to its lower would be seen to miss. share: of the radius's
 * change, by which it is off as well. */
bool ground_half_misses(const Ground *ground, const Cone *cone, double from, double to, double share);
/* How far a half turn's handles reach along the axis, as a ratio of its way. */
#define HALF_REACH (HANDLE_HALF / TRADE_PI)
#define HANDLE_HALF 1.1445

#endif
