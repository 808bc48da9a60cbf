/* A line of the source as people see it, with the stretch to underline. */
#ifndef TURNLAY_EMIT_FINDINGS_EXCERPT_H
#define TURNLAY_EMIT_FINDINGS_EXCERPT_H

#include "base/buffer.h"
#include "base/source.h"
#include "base/span.h"

typedef struct Excerpt {
    const char *text;     /* fit for a terminal; cut with "..." around the span where the line is long */
    int underline, width; /* terminal columns before the underline, and of it (at least 1) */
} Excerpt;

/* The line on which the span starts; of a longer span only what stands on it is underlined. */
Excerpt excerpt_of(Arena *arena, const Source *source, Span span);

#endif
