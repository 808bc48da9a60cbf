/* Inside the plan room: the pieces of one wrap in the making, and what may be chosen about them. */
#ifndef TURNLAY_PLAN_PIECE_WORK_H
#define TURNLAY_PLAN_PIECE_WORK_H

#include "plan/layout.h"
#include "plan/wraps.h"

#define NO_PIECE UINT32_MAX
#define NO_RUN UINT32_MAX

/* One run of a layer. Only a single thread, no spacer, is carried from one run to another. */
typedef struct RunUse {
    uint64_t first_turn;     /* of the layer */
    uint32_t bands;          /* of the layer, before it */
    uint32_t previous, next; /* of the wrap, wound by the same single thread; NO_RUN if there is none */
    PieceGroup pieces;       /* those that end this run; none before it is wound */
    bool takes_over; /* chosen: its thread begins from a spool, that of the run before is cut from its own */
    bool goes_on;    /* chosen: the thread was carried here from the previous run */
} RunUse;

typedef struct PieceWork {
    const Layout *layout;
    PlannedRod *rod;
    uint32_t place, layer; /* indices */
    const PlannedLayer *planned;
    RunUse *uses; /* of the layer's runs */
    Live *live;   /* by the thread's index, plain and as a spacer; single threads only */
    uint32_t era;
    const Strands *together; /* several strands running, or NULL */
    PieceGroup together_pieces;
    uint64_t turn; /* of the layer, so far */
    Wrap wrap;
    uint32_t wrap_piece;     /* its first piece */
    Arena *trial, *choosing; /* for one way to piece the wrap, and for one wrap */
    uint32_t spool;          /* the piece of the wrap that was last wound from a spool, NO_PIECE */
} PieceWork;

/* pieces.c: lays the wrap's pieces and windings behind those that are there, as it is chosen. */
void lay_wrap_pieces(PieceWork *work);
/* piece_choice.c: chooses, and lays them. */
void choose_wrap_pieces(PieceWork *work);

#endif
