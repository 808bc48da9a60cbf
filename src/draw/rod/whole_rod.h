/* The picture of a whole rod: to scale from butt to tip in as many rows as the page needs, with its wraps from
 * near by below each row. */
#ifndef TURNLAY_DRAW_ROD_WHOLE_ROD_H
#define TURNLAY_DRAW_ROD_WHOLE_ROD_H

#include "draw/drawing.h"

/* view: VIEW_ROD or VIEW_PRESENTATION; the rest as in draw_in_pixels. */
Drawing *draw_whole_rod(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view, double scale,
                        double facing, double pixels);
/* How wide that is, mm. */
double whole_rod_width(double scale);

#endif
