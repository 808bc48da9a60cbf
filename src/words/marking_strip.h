/* What a marking strip marks: a strip of paper at true size that is laid along the blank. Lengths in mm. */
#ifndef TURNLAY_WORDS_MARKING_STRIP_H
#define TURNLAY_WORDS_MARKING_STRIP_H

#include "words/sheet.h"

/* The datum; the edge of a band; where a foot begins; an end of a part; a place to measure that is no edge. What
 * comes first keeps its words where there is no room for all. */
typedef enum { MARK_DATUM, MARK_EDGE, MARK_FOOT, MARK_PART, MARK_POINT, MARK_KINDS } MarkKind;

/* Something to be marked on the blank. */
typedef struct StripMark {
    double at; /* from the strip's left end */
    const char *words;
    MarkKind kind;
    bool measure;
} StripMark;

/* One layer at one place, from the datum to its last turn. */
typedef struct MarkingStrip {
    const PlannedRod *rod;
    const PlannedPlace *place;
    const PlannedLayer *layer;
    const char *heading;
    int side;      /* +1 where the strip's right end lies toward the tip, else -1 */
    double origin; /* of the strip's left end, along the axis from the butt */
    double length;
    double datum;             /* from the strip's left end */
    int direction;            /* +1 where the work goes to the right */
    LIST_OF(StripMark) marks; /* from left to right */
} MarkingStrip;

/* part: index of a part that is about a layer with turns. */
MarkingStrip marking_strip(Arena *arena, const SheetRod *rod, uint32_t part, const Bench *bench);
/* mm from the strip's left end. */
double along_strip(const MarkingStrip *strip, double axial);

#endif
