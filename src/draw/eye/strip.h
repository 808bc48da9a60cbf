/* A flat strip of a wrap's surface, evenly lit: sharp, or as the eye sees it, a rectangle a turn. */
#ifndef TURNLAY_DRAW_EYE_STRIP_H
#define TURNLAY_DRAW_EYE_STRIP_H

#include "draw/canvas.h"
#include "draw/eye/profile.h"

typedef struct Strip {
    const LightProfile *profile;
    double blur;        /* as in eye_blur; 0 for sharp */
    double least;       /* mm that are shown in one colour at least; 0 for what the blur asks for */
    double low, high;   /* along the axis */
    double top, height; /* on the page */
} Strip;

/* Every turn, and of threads together every thread, has the colour that is seen at its middle; what is narrower
 * than a sixteenth of the blur, or than `least`, goes with what lies behind it, and the bare rod is shown in parts
 * of a quarter of the blur. */
void draw_strip(Canvas *canvas, const Frame *frame, const Strip *strip);

#endif
