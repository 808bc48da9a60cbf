/* What went wrong with a thread at the bench, and how the work goes on: as it is known once the sheet that it was
 * counted on has been made. Turns are those of a layer, lengths in mm. */
#ifndef TURNLAY_MEANING_MISHAP_H
#define TURNLAY_MEANING_MISHAP_H

#include <stdbool.h>
#include <stdint.h>

/* Name, as data names it, what is said of it. The order is that of TurnlayMishapKind. */
#define MISHAP_TABLE(X)                                                                                           \
    X(BROKE, "broke", "broke")                                                                                    \
    X(SPOOL_EMPTY, "spool empty", "came to its end")                                                              \
    X(UNWOUND, "unwound", "came off")                                                                             \
    X(LOOP_TORN, "loop torn", "lost its loop")                                                                    \
    X(TAG_OUT, "tag out", "lost its tag")

typedef enum {
#define X(name, ...) MISHAP_##name,
    MISHAP_TABLE(X)
#undef X
        MISHAP_KIND_COUNT
} MishapKind;

/* How it goes on: what came off, or has to come off for it, is made again with the same thread; a new piece begins
 * where the old one ends; all that some pieces made comes off, and they are cut anew. */
#define WAY_TABLE(X) X(AGAIN, "again") X(SPLICE, "splice") X(RESTART, "restart")

typedef enum {
#define X(name, word) WAY_##name,
    WAY_TABLE(X)
#undef X
        WAY_COUNT
} WayOn;

/* Why a way is not open; why it cannot be, in words. */
#define WAY_FAULT_TABLE(X)                                                                                        \
    X(NONE, "")                                                                                                   \
    X(NO_SPLICE_HERE, "it would not mend that")                                                                   \
    X(TOO_FEW_BEFORE, "too few turns before it would hold the old piece")                                         \
    X(TOO_FEW_BEHIND, "too few turns follow to hold the ends")                                                    \
    X(CUT_SINCE, "a thread was cut or trimmed since, and would come loose")                                       \
    X(NOT_HELD, "the ends would not hold among the threads that lie there")                                       \
    X(OF_CROSSWRAP, "a crosswrap's strands lie open, and a splice would not hold")

typedef enum {
#define X(name, words) WAY_FAULT_##name,
    WAY_FAULT_TABLE(X)
#undef X
} WayFault;

/* A piece that is cut anew: of which thread the how manyth on the old sheet; mm that are lost of it. */
typedef struct LostPiece {
    const struct Thread *thread;
    uint32_t number;
    double lost;
} LostPiece;

/* One that was laid since, and comes off whole. */
typedef struct LaidPiece {
    const struct Thread *thread;
    uint32_t number;
} LaidPiece;

typedef struct MishapWay {
    bool open;        /* it can be gone; else, if it was looked for, */
    WayFault fault;   /* why not */
    uint64_t turn;    /* of the layer: unwound to there */
    uint64_t unwound; /* turns that come off, and are wound again */
    uint64_t splice;  /* SPLICE: the turn of the layer at which the old piece ends; not before `turn` */
    bool stays_cut;   /* something that the sheet cuts or trims from there on is cut already */
    double hangs;     /* SPLICE: mm that hang of the old piece from there */
    uint32_t step;    /* with which the work goes on, */
    uint32_t made;    /* and turns of it that lie by then */
    uint32_t action;  /* its number among those of the step, from 0 */
    LostPiece *lost;  /* SPLICE: what hangs beyond the free end */
    uint32_t lost_count;
    LaidPiece *laid; /* others that were begun since, and are laid again as they are */
    uint32_t laid_count;
} MishapWay;

typedef struct Mishap {
    MishapKind kind;
    uint32_t step, turns; /* as they were given, on the sheet of then */
    WayOn asked;          /* AGAIN: none */
    uint32_t rod, place, layer;
    uint64_t turn;               /* of the layer, at which it happened */
    const struct Thread *thread; /* of whose pieces this one, on the old sheet */
    uint32_t number;
    uint32_t together; /* pieces that ran side by side */
    MishapWay ways[WAY_COUNT];
    WayOn followed;
} Mishap;

/* A piece ends where so many turns of the layer lie, and a new one of its thread goes on. */
typedef struct Splice {
    uint32_t rod, place, layer;
    uint64_t turn;
} Splice;

#endif
