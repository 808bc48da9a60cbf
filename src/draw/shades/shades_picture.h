/* A picture of threads that are chosen by their colours: swatches in their order, with names, and with patterns
 * where some eyes would take two for the same. */
#ifndef TURNLAY_DRAW_SHADES_SHADES_PICTURE_H
#define TURNLAY_DRAW_SHADES_SHADES_PICTURE_H

#include "draw/drawing.h"
#include "plan/shades.h"

/* Of two threads: the walk with its differences and jumps, a missing shade within dashes; the path of mixtures
 * with those that lie between, each joined to where it lies. Else all threads. Then those that would be mistaken,
 * two by two. Colours are as the eyes see them that are asked for. */
Drawing *draw_shades(Arena *arena, const Plan *plan, const Shades *shades);

#endif
