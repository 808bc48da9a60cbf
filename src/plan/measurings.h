/* Where the width of a layer is measured at the bench: at the end of each band that is long enough for it, and
 * between wherever `measure` turns would go by without. */
#ifndef TURNLAY_PLAN_MEASURINGS_H
#define TURNLAY_PLAN_MEASURINGS_H

#include "plan/plan.h"

/* A band of fewer turns cannot be measured well enough to tell anything: common practice, no source. */
enum { MEASURED_TURNS = 20 };

/* Turns are not packed or measured twice within so few: both hands leave the thread for it. Common practice, no
 * source. Fewer where the bench asks for either oftener. */
enum { FEW_TURNS = 6 };
uint64_t few_turns(const Bench *bench);

/* Those of one layer, one after the other: start with {layer, every, few}, where `every` is the bench's measure.
 */
typedef struct Measurings {
    const PlannedLayer *layer;
    double every;        /* turns; NAN: at the ends of bands alone */
    uint64_t few;        /* the bench's few_turns */
    uint64_t turn;       /* turns of the layer up to the one found last */
    uint32_t item;       /* the next that may be a band to be measured */
    uint64_t item_end;   /* turns up to where the item before it ends */
    uint32_t stop_item;  /* the next that may end a wrap, or be such a band */
    uint64_t stop_end;   /* turns up to where the item before that one ends */
    uint64_t wrap_begin; /* and to where its wrap begins */
} Measurings;

/* Goes on to the next; false if there is none. None stands at the layer's end but that of its last band. */
bool measurings_next(Measurings *measurings);

#endif
