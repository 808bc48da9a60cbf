/* The field of a crosswrap whose strands are narrower than a pixel, as the mean light of each pixel. Only for
 * pictures of known pixels: where one may look nearer, strips with edges are the better picture. */
#ifndef TURNLAY_DRAW_ROD_FIELD_H
#define TURNLAY_DRAW_ROD_FIELD_H

#include "draw/rod/mean.h"

/* Whether a field is drawn so: its strands are too narrow to be seen, of one colour each, hide what they lie on,
 * and are not too many to be looked for in every pixel. Others are drawn as strips (draw_crosswrap). */
bool field_is_fine(const PlannedCrosswrap *planned, const Frame *frame, double pixel);
/* From low to high within the field; cut: the finished wrap; cells: what lies below the crosswrap. */
void draw_field(Canvas *canvas, const Frame *frame, const Surface *surface, const OutlineCut *cut,
                const PlannedCrosswrap *planned, const Cells *cells, double low, double high);

#endif
