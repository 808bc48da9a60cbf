/* How the wraps take the light. */
#ifndef TURNLAY_DRAW_PICTURE_SHEEN_H
#define TURNLAY_DRAW_PICTURE_SHEEN_H

#include "draw/canvas.h"
#include "draw/shading.h"

/* One sheen, up to an end along the axis. */
typedef struct SheenStretch {
    Sheen sheen;
    double end;
} SheenStretch;

/* Of what lies on top from one place along the axis on toward the tip, `to` at most; from < to. The places are
 * seen together; none for the bare rod. Threads together, and strands of a crosswrap, take it as gloss unless all
 * are alike (of a crosswrap: matt). */
SheenStretch sheen_from(const Canvas *canvas, const PlannedPlace *places, uint32_t count, double from, double to);
/* Whether anything of the rod has another sheen than gloss. */
bool has_sheens(const Plan *plan, const Rod *rod);
/* Whether gleams of metal are drawn on this thread where it lies among others. */
bool glints(const Canvas *canvas, const Thread *thread);
/* These, on canvas->area, which is empty then. */
void draw_glint(Canvas *canvas);

#endif
