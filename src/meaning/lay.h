/* Inside the meaning room: statements to items, in laying order. */
#ifndef TURNLAY_MEANING_LAY_H
#define TURNLAY_MEANING_LAY_H

#include "meaning/evaluate.h"

/* What statements are laid into: the same ones are worked out in a rod, in a place with layers, and in a layer.
 * Into a series only its rows are. */
typedef enum { INTO_LAYER, INTO_PLACE, INTO_SERIES, INTO_ROD, INTO_COUNT } Into;

/* A place of a series that is still to be laid. */
typedef struct SeriesRow {
    const Node *node;
    double mark; /* mm, as written */
    Span mark_span;
    const Guide *guide; /* by rule; NULL where the options say it */
    const Value *frame; /* the locals where it stands */
} SeriesRow;

typedef struct Laying {
    Evaluator *evaluator;
    Into into;
    LIST_OF(Place) places;   /* of the rod, so far */
    LIST_OF(Part) parts;     /* of it, too */
    const Rod *rod;          /* that is being laid */
    Here *here;              /* of the series that is being laid; NULL outside of one */
    LIST_OF(SeriesRow) rows; /* of the series, so far */
    Place *place;            /* whose layers are being laid */
    LIST_OF(Layer) layers;   /* of it, so far */
    ItemList items;          /* of the layer */
    uint32_t next_group;     /* the next fill's group */
    uint64_t strands;        /* of the crosswrap being read, a background's aside */
    Cause cause;             /* why it is incomplete, the first; CAUSE_NONE while all is laid */
    bool refused;            /* a requirement of the pattern being laid does not hold, or a limit is reached */
    bool length_known;       /* fills are allowed */
    Span place_header;       /* where `length:` could be written */
} Laying;

void lay_statements(Laying *laying, const Node *statements);
/* The places that stand in the braces of a rod, which has its blank. */
void lay_rod(Evaluator *evaluator, const Node *statements, Rod *rod);
/* Something at the span is not laid, for this cause: the layer is incomplete. */
void lay_spoil(Laying *laying, Cause cause, Span span);
/* From `at` to before the braces. */
Span header_span(const Node *node);

#endif
