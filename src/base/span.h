/* A place in the source: a file and two byte offsets. Line and column are worked out only to print. */
#ifndef TURNLAY_BASE_SPAN_H
#define TURNLAY_BASE_SPAN_H

#include <stdbool.h>
#include <stdint.h>

typedef struct Span {
    uint32_t start, end; /* bytes; end is the first after it */
    uint32_t file;       /* index into the compilation's sources */
} Span;

static inline Span span_join(Span first, Span last) { return (Span){first.start, last.end, first.file}; }
static inline bool same_span(Span a, Span b) { return a.file == b.file && a.start == b.start && a.end == b.end; }

#endif
