/* Guides as they are seen from any side: frame and ring. Their feet are drawn with the wraps (draw/picture). */
#ifndef TURNLAY_DRAW_ROD_GUIDE_H
#define TURNLAY_DRAW_ROD_GUIDE_H

#include "draw/rod/rod_page.h"

/* What of a guide's look is said, and the rest as it may be. mm. */
typedef struct GuideLook {
    double ring, tall; /* outer diameter of the ring; from the blank to its top */
    uint32_t frame, insert;
} GuideLook;
GuideLook guide_look(const Guide *guide);

/* Turns by which the guide of a view lies round from the picture's upper edge where that clock angle faces the
 * viewer. */
double guide_lean(const PlaceView *view, double facing);
/* Whether it stands on the far side of the blank. */
bool guide_is_behind(const PlaceView *view, double facing);
/* Of frame and ring; the blank is as thick as it is at the ring. */
Reach guide_reach(const RodPage *page, const PlaceView *view, double facing);
void draw_guide(Canvas *canvas, const Frame *frame, const PlaceView *view);

#endif
