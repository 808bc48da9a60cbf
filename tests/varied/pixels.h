/* A picture of so many pixels: turnlay-pdf paints it, and no entry of the library gives it. */
#ifndef TURNLAY_TESTS_VARIED_PIXELS_H
#define TURNLAY_TESTS_VARIED_PIXELS_H

#include "turnlay.h"

#include <stdint.h>

/* As turnlay_write_drawing, with what is narrower than a pixel as its mean. view: of the whole rod. */
TurnlayStatus draw_pixels(TurnlayCompilation *made, uint32_t rod, TurnlayView view, double pixels,
                          TurnlayText *page);

#endif
