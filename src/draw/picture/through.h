/* What shows through thread that hides only a part of what it lies on: all that lies below it is drawn anew, in
 * the colours in which it is seen. */
#ifndef TURNLAY_DRAW_PICTURE_THROUGH_H
#define TURNLAY_DRAW_PICTURE_THROUGH_H

#include "draw/canvas.h"

/* What a layer of a place lies on. */
struct Below {
    const Frame *frame;
    const Surface *surface;
    const PlannedPlace *host; /* on whose wraps the place lies; NULL for the blank itself */
    const PlannedPlace *place;
    uint32_t layers; /* of the place, that lie below */
    OutlineCut cut;  /* the surface of what it is seen through */
};

/* So much of the rod as lies there, seen through a thread between two places along the axis. */
void draw_through(Canvas *canvas, const Below *below, uint32_t colour, double opacity, double from, double to);
/* The same within canvas->area, which is empty then. An opaque thread is painted there. */
void draw_thread_area(Canvas *canvas, const Below *below, uint32_t colour, double opacity, double from, double to);
/* What of the bare rod shows between two places along the axis, unless a later span lies on it: the blanks of its
 * sections, and parts that thread lies on; nothing where low is not below high. */
typedef struct BareSpan {
    double low, high;
    uint32_t colour;
} BareSpan;
uint32_t bare_span_count(const Rod *rod);
BareSpan bare_span(const Rod *rod, uint32_t number);
/* The bare rod between two places along the axis. */
void draw_blank(Canvas *canvas, const Frame *frame, const Surface *surface, const OutlineCut *cut, double low,
                double high);
/* What lies below, as far as it is shown. */
void draw_below(Canvas *canvas, const Below *below);

/* A layer of the place, of number on->layers, on that surface. content: a hash of it. */
void draw_layer_on(Canvas *canvas, const Below *on, uint64_t content);
/* Runs of the layer that end, on the way they are worked, before anything is shown. */
uint32_t runs_before(const Canvas *canvas, const PlannedPlace *place, const PlannedLayer *layer);
/* A guide's foot: from the side as it stands above what lies below it, unrolled as seen from above. */
void draw_foot(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place);
/* The number of the first layer that lies over the foot. */
uint32_t first_over(const PlannedPlace *place);

#endif
