/* Below the close-up of a wrap with fades: the same as it is seen from across the room. */
#ifndef TURNLAY_DRAW_ROD_FAR_STRIP_H
#define TURNLAY_DRAW_ROD_FAR_STRIP_H

#include "draw/rod/rod_page.h"

/* Page mm that it takes below a close-up; 0 for one without. */
double far_strip_height(const RodPage *page, const PlaceView *view);
/* Within that height from page y on. frame: the close-up's, which ends at `high` along the axis. */
void draw_far_strip(RodPage *page, const PlaceView *view, const Frame *frame, double high, double y);

#endif
