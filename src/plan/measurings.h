/* Where the width of a layer is measured at the bench: where something can still be done about it, in each fill
 * and each band asked as a length, some turns before its end and before its thread is cut, and early where its
 * thread's width is hardly known; between, wherever `measure` turns would go by without; and at the layer's end,
 * which says how it came out. Not within a few turns of the last width that was given. */
#ifndef TURNLAY_PLAN_MEASURINGS_H
#define TURNLAY_PLAN_MEASURINGS_H

#include "plan/plan.h"

/* Fewer turns cannot be measured well enough to tell anything; and so many turns, beside those that end a band,
 * are left to take up what was measured: common practice, no source. */
enum { MEASURED_TURNS = 20, TURNS_TO_CORRECT = 6 };

/* A thread whose turn is known no better than to this share, as a nominal size is, is measured after so many turns
 * of a band that gives: at the band's end a fifth too wide is more than it can take up. Common practice, no
 * source.
 */
#define HARDLY_KNOWN 0.1
enum { EARLY_TURNS = 60 };

/* Turns are not packed or measured twice within so few: both hands leave the thread for it. Common practice, no
 * source. Fewer where the bench asks for either oftener. */
enum { FEW_TURNS = 6 };
uint64_t few_turns(const Bench *bench);

/* Those of one layer, one after the other. */
typedef struct Measurings {
    const PlannedLayer *layer;
    double every;        /* turns; NAN: no oftener than need be */
    uint64_t few;        /* the bench's few_turns */
    uint64_t ahead;      /* turns from where a band is measured to its end */
    uint64_t read;       /* turns that are made, up to the last width that was given */
    uint32_t last;       /* the last item that gives; item_count if there is none */
    uint64_t late;       /* turns up to where that one is measured, or a layer of which none gives; 0: nowhere */
    uint64_t turn;       /* turns of the layer up to the one found last */
    uint32_t item;       /* the next that may be a band to be measured */
    uint64_t item_end;   /* turns up to where the item before it ends */
    uint32_t stop_item;  /* the next that may end a wrap, or a band that is packed at its end */
    uint64_t stop_end;   /* turns up to where the item before that one ends */
    uint64_t wrap_begin; /* and to where its wrap begins */
} Measurings;

Measurings measurings_start(const PlannedLayer *layer, const Bench *bench);
/* Goes on to the next; false if there is none. */
bool measurings_next(Measurings *measurings);

#endif
