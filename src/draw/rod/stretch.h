/* A stretch of the rod with all that is on it, as it is seen from one side. */
#ifndef TURNLAY_DRAW_ROD_STRETCH_H
#define TURNLAY_DRAW_ROD_STRETCH_H

#include "draw/rod/rod_page.h"

/* Between two places along the axis; scale and side are the frame's. Turns narrower than a pixel show as their
 * mean. */
void draw_stretch(RodPage *page, const Frame *frame, double low, double high);

#endif
