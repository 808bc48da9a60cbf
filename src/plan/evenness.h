/* How even a fade looks: what is seen of it from the bench's `far`, turn by turn, against the path of colours that
 * its two shades mix to; and whether its stripes are seen from `near`. Worked out when it is asked for. Before the
 * fade lies its old shade alone and behind it the new one, whatever the wrap has there; the shades look as they do
 * on what lies below the fade's middle (plan/look.h). Turns are seen at their middles. */
#ifndef TURNLAY_PLAN_EVENNESS_H
#define TURNLAY_PLAN_EVENNESS_H

#include "plan/plan.h"
#include "trade/colour.h"

/* A fade: item number so many of a layer of the place, which has a `from` and a `to`. */
typedef struct FadeAt {
    const Bench *bench;
    const Rod *rod;
    const PlannedPlace *place;
    uint32_t layer, item;
} FadeAt;

/* What lies below its middle. */
Light fade_ground(const FadeAt *at);
/* Its old shade and its new one, as they look on that. */
typedef struct FadeShades {
    Light from, to;
} FadeShades;
FadeShades fade_shades(const FadeAt *at);
/* Whether anything can be said of an item's looks: a fade that has turns, of threads with colours that are said.
 */
bool fade_is_seen(const PlannedItem *item);

/* Turns count from 1 in working order; 0 is the turn before the fade. All 0 of a fade without turns. */
typedef struct FadeLook {
    double departure;        /* the most by which a turn is off from an even ramp, a share of the path, 0 to 1 */
    uint32_t departure_turn; /* that turn */
    double jump;             /* the largest CIEDE2000 between two turns side by side, those beside the fade too */
    uint32_t jump_turn;      /* between this turn and the next */
    double difference;       /* CIEDE2000 between the two shades */
    double
        stripes; /* the stripes of two runs side by side: their contrast is so many times what can just be seen */
} FadeLook;

/* Linear: what lies six blurs and more away weighs less than 2e-9 and is left out, the middle of a run that is
 * longer than that is passed over, and of turns narrower than a sixteenth of the blur only some are looked
 * at. */
FadeLook fade_look(const FadeAt *at, Vision vision);
/* Of these only the jump and between which turns, and the difference: what is cheap to know. */
FadeLook fade_jump(const FadeAt *at, Vision vision);

typedef struct SeenTurn {
    uint32_t turn;         /* rising; of very fine or many turns not all are here */
    double x;              /* its middle, along the axis from the butt */
    Light light;           /* as it is seen from `far` by that eye */
    double lightness;      /* CIELAB, 0 to 100 */
    double position;       /* along the path of colours, 0 to 1 */
    double even;           /* where on it an even fade would be; NAN beside the fade */
    double even_lightness; /* of that place; NAN beside the fade */
} SeenTurn;

/* From the turn before the fade to the one behind it. */
typedef struct FadeCourse {
    SeenTurn *turns;
    uint32_t count;
} FadeCourse;
FadeCourse fade_course(Arena *arena, const FadeAt *at, Vision vision);

#endif
