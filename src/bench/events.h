/* Inside the bench room: what has to happen at which turn of a layer, in working order. */
#ifndef TURNLAY_BENCH_EVENTS_H
#define TURNLAY_BENCH_EVENTS_H

#include "bench/bench.h"
#include "bench/hand_passes.h"
#include "plan/measurings.h"
#include "plan/wraps.h"

/* Something that has to happen when so many turns of the layer are made. */
typedef struct ActionEvent {
    uint64_t turn;
    uint64_t sequence; /* which of two comes first that happen at one turn and are alike */
    ActionKind kind;
    PieceGroup pieces; /* none where it is about none */
    uint32_t turns;
    uint64_t off_at; /* what lies: the turn at which it is trimmed or drawn, and its tape has to be off; NO_EVENT:
                        of a spacer, when that is taken off */
    HeldThing thing; /* UNTAPE: not of what is untaped as it is trimmed */
    uint8_t rank;    /* which of two comes first at one turn; set by add_event */
    bool last;       /* PACK, TRIM_END: behind what a loop has drawn together */
    bool regular;    /* PACK: so many turns after the one before */
    bool final;
} ActionEvent;

/* What events come from. */
typedef enum {
    FROM_LOADING,
    FROM_PIECES,
    FROM_CHANGES,
    FROM_ITEMS,
    FROM_PACKING,
    FROM_MEASURING,
    EVENT_SOURCES
} EventSource;

/* Where a source stands: its next piece, winding, item or wrap; and the turn before which it gives no more. */
typedef struct EventCursor {
    uint32_t next;
    uint64_t turn; /* NO_EVENT when it has given all */
} EventCursor;

#define NO_EVENT UINT64_MAX

/* One layer's. Those that lie near are kept, by turn; the others are found when the work comes near to them. */
typedef struct ActionEvents {
    Arena *arena;
    const Bench *bench;
    const PlannedRod *rod;
    const PlannedPlace *place;
    const PlannedLayer *layer;
    uint32_t first_piece, end_piece, first_winding, end_winding;
    Wraps wraps;
    uint32_t wrap;         /* where wrap_at found the last one */
    uint32_t loading_wrap; /* of the piece that FROM_LOADING comes to next */
    HandPasses passes;
    EventCursor cursors[EVENT_SOURCES];
    Measurings measurings;
    uint64_t few;              /* turns within which nothing is packed or measured twice */
    uint64_t found;            /* so far */
    LIST_OF(ActionEvent) near; /* a heap: none comes before that at (its index - 1) / 2 */
} ActionEvents;

/* All up to end_winding is given: its first and last pieces and windings are those of the layer, in the rod's
 * arrays. */
void events_start(ActionEvents *events);
/* The first that is not taken; NULL if there is none. Valid until the next call. */
const ActionEvent *events_next(ActionEvents *events);
void events_take(ActionEvents *events);
/* The layer with the first turns that come half way up the place's foot, where its tape is; NULL if none do. */
const PlannedLayer *layer_that_meets_tape(const PlannedPlace *place);
/* From now on nothing is packed or measured on the way. */
void events_look_no_more(ActionEvents *events);
/* The turns are packed: from here on it is counted when they are next. */
void events_packed(ActionEvents *events, uint64_t turn);
/* One more, at a turn that is not yet over. */
void add_event(ActionEvents *events, const ActionEvent *event);
/* Whether it lies where the turns before it end: it is written before the next winding is entered. */
bool ends_something(const ActionEvent *event);

#endif
