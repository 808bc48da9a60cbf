/* A wrap in strips below one another, all of one scale: sharp, from near, from far; and these two before finish.
 */
#ifndef TURNLAY_DRAW_EYE_MAGNIFIED_H
#define TURNLAY_DRAW_EYE_MAGNIFIED_H

#include "draw/eye/eye_page.h"
#include "draw/picture/place_view.h"

/* From canvas->y on, in as many rows as the page's width asks for; of a long crosswrap one row from its middle. */
void draw_magnified(EyePage *page, const PlaceView *view);
/* Whether a thread of the wrap has a colour of its own before finish. */
bool shows_bare(const PlaceView *view);
/* How much of the rod with crosswraps it draws. */
double crossed_length(const EyePage *page, const PlaceView *view);
/* Whether it draws a crosswrap's middle alone. */
bool is_cut_short(const EyePage *page, const PlaceView *view);

#endif
