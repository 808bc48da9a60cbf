/* The record of a job: what happened at the bench, as grammar/record.schema.json says. Lengths in mm. */
#ifndef TURNLAY_RECORD_RECORD_H
#define TURNLAY_RECORD_RECORD_H

#include "base/finding.h"
#include "base/source.h"

/* Turns of a thread, each of strands by itself. */
typedef struct RecordedTurns {
    const char *thread;
    double nominal; /* what a turn of it takes as it is declared, mm */
    uint32_t turns;
    Span span; /* of the thread's name */
} RecordedTurns;

/* What thread does that it should not: name, and in words. */
#define RECORDED_TABLE(X)                                                                                         \
    X(MEASURED, "")                                                                                               \
    X(BROKE, "broke")                                                                                             \
    X(SPOOL_EMPTY, "spool empty")                                                                                 \
    X(UNWOUND, "unwound")                                                                                         \
    X(LOOP_TORN, "loop torn")                                                                                     \
    X(TAG_OUT, "tag out")

typedef enum {
#define X(name, word) RECORDED_##name,
    RECORDED_TABLE(X)
#undef X
        RECORDED_COUNT
} RecordedKind;

typedef enum { RECORDED_EITHER, RECORDED_SPLICE, RECORDED_RESTART, RECORDED_WAY_COUNT } RecordedWay;

/* A width that was measured, or a mishap. */
typedef struct RecordedEvent {
    RecordedKind kind;
    uint32_t step;
    double width; /* of MEASURED */
    uint32_t
        turns; /* of MEASURED: counted in its band; 0 for as many as the sheet says. Else as the kind has them */
    uint32_t sheet; /* its step is counted on the sheet that so many things before it make */
    bool sure;
    RecordedWay way;
    RecordedTurns *made; /* from the layer's beginning; */
    uint32_t made_count; /* 0 where the record does not say */
    double gaps;
    uint32_t wrap; /* the same for widths of one layer; 0 where the record does not say */
    Span span;
} RecordedEvent;

typedef struct RecordedLot {
    const char *thread, *lot;
    Span span; /* of the thread's name */
} RecordedLot;

typedef struct RecordedNote {
    uint32_t step;
    const char *text, *date; /* "" for no date */
    Span span;               /* of the step */
} RecordedNote;

typedef struct Record {
    const char *pattern, *title; /* "600d-307a-5bcd"; "" for no title */
    Span pattern_span, at_span, done_span;
    uint32_t at;    /* 0: not said */
    uint32_t done;  /* the last of the steps that are done, 0: none; and the row that it ends */
    uint32_t sheet; /* these and the steps of notes are counted on the sheet that so many things make */
    LIST_OF(RecordedEvent) happened;
    LIST_OF(RecordedLot) lots;
    LIST_OF(RecordedNote) notes;
} Record;

/* NULL, and one finding says why, if that source is no record. */
const Record *record_read(Arena *arena, const Sources *sources, uint32_t file, Findings *findings);

#endif
