/* The wraps of a rod as the eye sees them from both distances of the bench, beside the sharp picture of the same
 * size.
 */
#ifndef TURNLAY_DRAW_EYE_EYE_VIEW_H
#define TURNLAY_DRAW_EYE_EYE_VIEW_H

#include "draw/drawing.h"

/* On a page of one width. The rest as in draw_in_pixels; but for the numbers that are said of them, fades look as
 * with all cones. */
Drawing *draw_eye_view(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, double scale, double facing,
                       Vision vision);
double eye_view_width(void);

#endif
