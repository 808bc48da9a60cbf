/* What the files of this folder share: the picture of a whole rod, in rows of one scale, and what its wraps look
 * like from near by. */
#ifndef TURNLAY_DRAW_ROD_ROD_PAGE_H
#define TURNLAY_DRAW_ROD_ROD_PAGE_H

#include "draw/picture/guide.h"
#include "draw/picture/place_view.h"

/* Page mm at true scale on all four sides. */
#define EDGE MARGIN

typedef struct RodPage {
    Canvas *canvas;
    bool presentation; /* for a customer: without what only the bench needs */
    double left, room; /* page x of every row, and how long one may be, page mm */
    double low, high;  /* along the axis: what of the rod is shown */
    double pixel;      /* page mm that a pixel of the picture takes */
    bool exact;        /* it will have those pixels and no others: nobody looks into them */
    PlaceView *views;  /* of the rod's places, the two feet of a guide in one; in working order */
    uint32_t view_count;
    const PlaceView *near_by; /* what a close-up shows now: what lies on it has its own; NULL in rows */
    uint32_t unsaid;          /* parts and notes for whose words there was no room, so far */
} RodPage;

/* For the canvas's drawing, whose width is set. pixels: that it will be wide, 0 for 96 an inch. */
RodPage rod_page_make(Canvas *canvas, bool presentation, double pixels);

#endif
