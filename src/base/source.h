/* The texts that a compilation was given. */
#ifndef TURNLAY_BASE_SOURCE_H
#define TURNLAY_BASE_SOURCE_H

#include "base/arena.h"
#include "base/span.h"

typedef struct Source {
    const char *path;     /* as shown to people */
    const char *use_path; /* as written in `use`, "" for the file compiled */
    const char *bytes;    /* followed by a NUL; a leading byte order mark is already skipped */
    uint32_t length;
} Source;

typedef struct Sources {
    LIST_OF(Source) list;
    uint32_t pattern_files; /* the first so many, once all are read; behind them stand records */
} Sources;

/* What stands at the span; "" and 0 where nothing does, or the text is not at hand. */
const char *source_at(const Sources *sources, Span span, size_t *length);

/* Line and column of a byte offset, both from 1; the column counts characters (code points). */
typedef struct LineColumn {
    uint32_t line, column;
} LineColumn;
LineColumn source_position(const Source *source, uint32_t offset);
/* First byte of the line that holds the offset, and the first after it (without CR, LF). */
void source_line(const Source *source, uint32_t offset, uint32_t *start, uint32_t *end);

#endif
