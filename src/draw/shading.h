/* Light from above on a level cylinder: the middle keeps its colour, both edges turn dark, the lower one more, and
 * what gleams between them is as its sheen is. By eye. Every picture format paints it from these stops. */
#ifndef TURNLAY_DRAW_SHADING_H
#define TURNLAY_DRAW_SHADING_H

#include "draw/drawing.h"

typedef struct ShadeStop {
    double at;       /* from the upper edge, of the whole height */
    uint32_t colour; /* black or white */
    double opacity;
} ShadeStop;

typedef struct Shading {
    const char *name;       /* in files, behind "cylinder"; empty for gloss */
    const ShadeStop *stops; /* from the upper edge down */
    uint32_t count;
} Shading;

/* By Shade; no stops for SHADE_FLAT. */
extern const Shading shadings[SHADE_COUNT];

/* Of a whole surface. */
Shade shade_of(Sheen sheen);

#endif
