/* The shape of a wrapped blank: how far the outline stands off the blank's axis. Lengths in mm. */
#ifndef TURNLAY_DRAW_PICTURE_OUTLINE_H
#define TURNLAY_DRAW_PICTURE_OUTLINE_H

#include "plan/plan.h"

/* The outline at one place along the axis: distance from the axis up (where a ring stands) and down. */
typedef struct OutlineEdge {
    double x, up, down;
} OutlineEdge;

/* An outline from one axial position to another: straight between edges, two edges at one x for a step. */
typedef struct Outline {
    OutlineEdge *edges;
    uint32_t count;
} Outline;

/* What is cut through. */
typedef struct OutlineCut {
    const PlannedPlace *places; /* whose layers count */
    uint32_t place_count;       /* 0 for the bare blank */
    uint32_t layers;            /* how many of each place's layers, the lowest first; UINT32_MAX for all */
    double thickness;           /* of what lies on these */
    bool climbs;                /* goes over the places' feet */
    double lean;                /* turns by which those lie round from the upper edge, clockwise */
} OutlineCut;

typedef struct Surface {
    const Blank *blank;
    const PlannedPlace *host; /* on whose wraps the places lie; NULL for the blank itself */
    double *breaks;           /* rising: where the outline may bend or step */
    uint32_t break_count;
} Surface;

/* The surface between two places along the axis, low < high; outlines are asked for within. */
void surface_start(Surface *surface, Arena *arena, const Blank *blank, const PlannedPlace *host,
                   const PlannedPlace *places, uint32_t count, double low, double high);
/* The outline of a cut, in the order from `from` to `to`, with room for `spare` more edges behind it. */
Outline surface_outline(Arena *arena, const Surface *surface, const OutlineCut *cut, double from, double to,
                        uint32_t spare);
/* How far a foot reaches from the axis up and down, seen from the side, where it rises so far from that radius;
 * lean: as in OutlineCut. */
OutlineEdge foot_edge(const Guide *guide, double x, double radius, double rise, double lean);
/* The outline of a cut at x, on the side of x where `inside` lies. */
OutlineEdge surface_edge(const Surface *surface, const OutlineCut *cut, double x, double inside);
/* The outline at x, looked for from edge number *near on; calls must go along the outline. */
OutlineEdge outline_at(const Outline *outline, double x, uint32_t *near);

#endif
