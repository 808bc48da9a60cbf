/* Swatches of threads in a picture of shades. */
#ifndef TURNLAY_DRAW_SHADES_SWATCH_H
#define TURNLAY_DRAW_SHADES_SWATCH_H

#include "draw/canvas.h"
#include "plan/shades.h"

typedef struct SwatchBox {
    double x, y, width, height; /* page mm */
} SwatchBox;

/* The thread's colour, with its pattern. */
void draw_shade(Canvas *canvas, const ThreadShade *shade, SwatchBox box);
/* What is missing: its colour, 0xRRGGBB, within an edge of dashes. */
void draw_missing_shade(Canvas *canvas, uint32_t colour, SwatchBox box);

#endif
