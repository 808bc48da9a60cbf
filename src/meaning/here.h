/* What may be read in the braces of a series: `here.number` and the like. */
#ifndef TURNLAY_MEANING_HERE_H
#define TURNLAY_MEANING_HERE_H

#include "base/span.h"
#include "meaning/type.h"

/* Name; as written behind `here.`; kind; what it is, for people. */
#define HERE_TABLE(X)                                                                                             \
    X(NUMBER, "number", COUNT, "which of the places it is, from 1")                                               \
    X(COUNT, "count", COUNT, "how many places there are")                                                         \
    X(FOOT, "foot", LENGTH, "the length of this foot")                                                            \
    X(DIAMETER, "diameter", LENGTH, "the diameter of the blank here")

typedef enum {
#define X(name, ...) HERE_##name,
    HERE_TABLE(X)
#undef X
        HERE_KIND_COUNT
} HereName;

/* The place that is being laid. */
typedef struct Here {
    double values[HERE_KIND_COUNT]; /* plain, plain, mm, mm; the foot NAN where there is none, and no length */
    Span row;                       /* `at` and all its options */
    uint32_t no_blank;              /* Cause: why there is no diameter; CAUSE_NONE where there is a blank */
} Here;

/* Whether a value or statement reads of it: anything, and what may differ between the two feet of a guide. */
enum { READS_HERE = 1u << HERE_NUMBER, READS_FOOT = 1u << HERE_FOOT };

#endif
