/* Where the width of a layer is measured at the bench: at the end of each band that is long enough for it, and
 * between wherever `measure` turns would go by without. */
#ifndef TURNLAY_PLAN_MEASURINGS_H
#define TURNLAY_PLAN_MEASURINGS_H

#include "plan/plan.h"

/* A band of fewer turns cannot be measured well enough to tell anything: common practice, no source. */
enum { MEASURED_TURNS = 20 };

/* Those of one layer, one after the other: start with {layer, every}, where `every` is the bench's measure. */
typedef struct Measurings {
    const PlannedLayer *layer;
    double every;      /* turns; NAN: at the ends of bands alone */
    uint32_t item;     /* the next to be looked at */
    uint64_t item_end; /* turns up to where the item before it ends */
    uint64_t turn;     /* turns of the layer up to the one found last */
} Measurings;

/* Goes on to the next; false if there is none. None stands at the layer's end but that of its last band. */
bool measurings_next(Measurings *measurings);

#endif
