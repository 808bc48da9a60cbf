/* How far what is on the rod reaches. */
#ifndef TURNLAY_DRAW_ROD_REACH_H
#define TURNLAY_DRAW_ROD_REACH_H

#include "draw/rod/rod_page.h"

/* Of a view's wraps, its guide and the blank below, seen from that clock angle in turns. */
Reach view_reach(const RodPage *page, const PlaceView *view, double facing);
/* Above the axis in the middle of its wraps, where a guide's ring may stand or not. */
double middle_rise(const RodPage *page, const PlaceView *view, double facing);

#endif
