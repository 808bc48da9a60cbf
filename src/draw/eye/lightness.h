/* How light a fade is, turn by turn, as it is seen from far: a small curve below the strips. */
#ifndef TURNLAY_DRAW_EYE_LIGHTNESS_H
#define TURNLAY_DRAW_EYE_LIGHTNESS_H

#include "draw/eye/eye_page.h"
#include "draw/eye/profile.h"
#include "draw/picture/place_view.h"

/* So high is one of lightness, page mm. By eye. All curves have one scale, so that a steep one is a fade that
 * grows light fast. */
#define ONE_HIGH 0.3

/* Of the fades of the view that lie on top between low and high, a row: a curve each in one line from canvas->y
 * on, as far as it lies there, with that of an even fade, and a mark where the jump between two turns shows as a
 * line, as the eyes see it that the page is for. Counts them, and takes no room where there is none. */
void draw_lightness(EyePage *page, const PlaceView *view, const LightProfile *profile, double low, double high);

#endif
