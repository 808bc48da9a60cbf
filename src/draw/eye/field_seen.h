/* Crosswraps as the eye sees them from one side: the picture as it is projected, blurred both ways. */
#ifndef TURNLAY_DRAW_EYE_FIELD_SEEN_H
#define TURNLAY_DRAW_EYE_FIELD_SEEN_H

#include "draw/eye/profile.h"
#include "draw/picture/place_view.h"

/* Where a stretch with crosswraps lies along the axis; none where low is not below high. */
typedef struct FieldSpan {
    double low, high;
} FieldSpan;
/* From the first to the last of the places' fields, or of those that they lie on. */
FieldSpan field_span(const PlaceView *view);

/* What of the fields lies between two places along the axis, in cells of half a blur, or as small as so many looks
 * at a point allow. Light from beside the rod does not count, and cells go on beyond it: draw them within skin,
 * the outline of the wrapped rod. */
void draw_field_seen(Canvas *canvas, const PlaceView *view, const Frame *frame, const Outline *skin, double blur,
                     FieldSpan span, bool bare, double looks);

#endif
