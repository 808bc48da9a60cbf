/* Light from above on a level cylinder: the middle keeps its colour, a narrow gleam lies above it, and both edges
 * turn dark, the lower one more. By eye. Every picture format paints it from these stops. */
#ifndef TURNLAY_DRAW_SHADING_H
#define TURNLAY_DRAW_SHADING_H

#include <stdint.h>

typedef struct ShadeStop {
    double at;       /* from the upper edge, of the whole height */
    uint32_t colour; /* black or white */
    double opacity;
} ShadeStop;

enum { SHADE_STOPS = 14 };
extern const ShadeStop shade_stops[]; /* SHADE_STOPS of them */

#endif
