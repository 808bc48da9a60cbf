/* Guides as they are seen from any side: frame and ring. Their feet are drawn with the wraps. feet: the guide's
 * planned places, one a foot. */
#ifndef TURNLAY_DRAW_PICTURE_GUIDE_H
#define TURNLAY_DRAW_PICTURE_GUIDE_H

#include "draw/canvas.h"

/* What of a guide's look is said, and the rest as it may be. mm. */
typedef struct GuideLook {
    double ring, tall; /* outer diameter of the ring; from the blank to its top */
    uint32_t frame, insert;
} GuideLook;
GuideLook guide_look(const Guide *guide);

/* How far what stands on the rod reaches: along the axis, and up and down from it; mm of the rod. */
typedef struct Reach {
    double low, high, up, down;
} Reach;

/* Turns by which a guide lies round from the picture's upper edge where that clock angle faces the
 * viewer. */
double guide_lean(const PlannedPlace *feet, double facing);
/* Whether it stands on the far side of the blank. */
bool guide_is_behind(const PlannedPlace *feet, double facing);
/* Of frame and ring; the blank is as thick as it is at the ring. */
Reach guide_reach(const Canvas *canvas, const PlannedPlace *feet, double facing);
void draw_guide(Canvas *canvas, const Frame *frame, const PlannedPlace *feet);

#endif
