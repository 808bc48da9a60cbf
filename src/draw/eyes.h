/* A finished drawing as other eyes see it. */
#ifndef TURNLAY_DRAW_EYES_H
#define TURNLAY_DRAW_EYES_H

#include "draw/drawing.h"

/* Every colour of it as eyes without one kind of cone see it, and words that say so; nothing for all cones. Light
 * and shadow are black and white and stay. */
void drawing_seen(Arena *arena, Drawing *drawing, Vision vision);

#endif
