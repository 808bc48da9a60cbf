/* The view of a place: what of the rod it shows, and the picture in it. */
#ifndef TURNLAY_DRAW_PICTURE_PLACE_VIEW_H
#define TURNLAY_DRAW_PICTURE_PLACE_VIEW_H

#include "draw/canvas.h"

/* Height of the row with the datum's arrow, page mm at true scale. */
#define ARROW_ROW 4.2

typedef struct PlaceView {
    const PlannedPlace *places; /* one, or the two feet of a guide */
    uint32_t count;
    double low, high;             /* axial extent of the picture */
    double inner_low, inner_high; /* the same without the bare ends */
    double facing;                /* clock angle in the middle of the picture, degrees */
} PlaceView;

/* The view that begins with the rod's place number `first`. */
PlaceView place_view_of(const Canvas *canvas, uint32_t first);
/* Parts of the rod, and notes on it, that lie in a view. */
typedef struct PartsSeen {
    const Part **items; /* in the source's order, as they lie on one another */
    uint32_t count;
    double radius; /* of the thickest that no thread lies on; 0 without such */
} PartsSeen;
PartsSeen parts_seen(Canvas *canvas, const PlaceView *place_view);
/* Those that thread may lie on, and flat ones, but for what draw_blank has drawn; and, above light and turns, the
 * others. */
void draw_parts_below(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface,
                      const PartsSeen *parts);
void draw_parts_above(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const PartsSeen *parts);
/* "seat", "decal: 40 mm of it" */
const char *part_label(Canvas *canvas, const Part *part);
/* A row for each from y down: where it lies, with its name and note. Returns where the rows end. */
double draw_part_rows(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const PartsSeen *parts,
                      double y);

/* Page mm that the sketch of a guide's frame stands above its foot. */
double ring_rise(const Canvas *canvas);
/* Layers of a place, and its foot below those that lie over it. Groups have their ids from canvas->headings; a
 * backdrop needs none. */
void draw_place(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place);
/* A guide's foot: from the side as it stands above what lies below it, unrolled as seen from above. */
void draw_foot(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place);
/* Light and shadow on the places with all their layers, from place_view->low to high. */
void draw_light(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface);
/* Blank, parts that thread may lie on, wraps that the places lie on, turns and feet. */
void draw_wrapped(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface,
                  const PartsSeen *parts);
/* The largest distance of an outline's lower edge from the axis, mm of the rod. */
double outline_half(const Outline *outline);
/* Blank, turns, feet, and light on all of it. skin: the outline of blank and wraps without feet;
 * foot_top: distance of the feet's top from the axis, mm. */
void draw_picture(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface,
                  const Outline *skin, const PartsSeen *parts, double foot_top);

#endif
