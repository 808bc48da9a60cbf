/* Inside the meaning room: statements to items, in laying order. */
#ifndef TURNLAY_MEANING_LAY_H
#define TURNLAY_MEANING_LAY_H

#include "meaning/evaluate.h"

typedef struct Laying {
    Evaluator *evaluator;
    ItemList items;
    uint32_t next_group; /* the next fill's group */
    uint64_t strands;    /* of the crosswrap being read, a background's aside */
    Cause cause;         /* why it is incomplete, the first; CAUSE_NONE while all is laid */
    bool refused;        /* a requirement of the pattern being laid does not hold */
    bool length_known;   /* fills are allowed */
    Span place_header;   /* where `length:` could be written */
} Laying;

void lay_statements(Laying *laying, const Node *statements);
/* Something at the span is not laid, for this cause: the layer is incomplete. */
void lay_spoil(Laying *laying, Cause cause, Span span);
/* From `at` to before the braces. */
Span header_span(const Node *node);

#endif
