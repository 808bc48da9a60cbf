/* The light of a wrapped stretch of the rod along its axis, and what the eye makes of it. */
#ifndef TURNLAY_DRAW_EYE_PROFILE_H
#define TURNLAY_DRAW_EYE_PROFILE_H

#include "plan/plan.h"
#include "trade/colour.h"

/* What lies over a part of the axis, from < to: its light, and how much of that below is hidden for it. */
typedef struct TurnCover {
    double from, to;
    Light light;
    double hides;
    const Run *run; /* whose turns they are; NULL for none */
} TurnCover;

typedef struct TurnCovers {
    LIST_OF(TurnCover) list; /* rising; none reaches into the next */
} TurnCovers;

/* A part of the axis of one light, of turns of one run or of none; the first and the last go on for ever. */
typedef struct LitPiece {
    double from, to;
    Light light;
    const Run *run;
} LitPiece;

typedef struct LightProfile {
    LIST_OF(LitPiece) list; /* rising, without a gap; one at least */
} LightProfile;

/* How a thread looks under finish, or before: variegated ones in their mean. */
Light thread_light(const Thread *thread, bool bare);
/* The turns of a layer. Threads together lie side by side in every turn, but where that would be more than a few
 * thousand parts of a run: then as their mean. Crosswraps' strands are no turns. */
TurnCovers layer_covers(Arena *arena, const PlannedPlace *place, uint32_t layer, bool bare);
/* What of it lies at x; NULL for nothing. */
const TurnCover *cover_at(const TurnCovers *covers, double x);
/* The blank, with the parts that thread lies on, between two places along the axis, low < high. */
LightProfile profile_of_blank(Arena *arena, const Rod *rod, double low, double high);
/* A layer upon it. */
void profile_lay(Arena *arena, LightProfile *profile, const TurnCovers *covers);
/* Between low and high, the blank with all layers of these places, and below them of what they lie on. */
LightProfile profile_of_places(Arena *arena, const Rod *rod, const PlannedPlace *places, uint32_t count,
                               double low, double high, bool bare);

/* The number of the piece at x; at a place where two meet that toward the tip. */
uint32_t profile_at(const LightProfile *profile, double x);
/* What the eye sees at x of light that is spread so far (eye_blur): all that lies within SEEN_WITHIN blurs. */
Light profile_seen(const LightProfile *profile, double blur, double x);
/* What lies further off weighs less than 2e-9. */
#define SEEN_WITHIN 6.0

#endif
