/* A line of a text as people see it, with one place in it between two marks. */
#ifndef TURNLAY_EMIT_FINDINGS_EXCERPT_H
#define TURNLAY_EMIT_FINDINGS_EXCERPT_H

#include "base/buffer.h"
#include "base/source.h"
#include "base/span.h"

typedef struct Excerpt {
    const char *bytes;
    uint32_t line;       /* where the line begins, in bytes; or as far before the place as anyone looks */
    uint32_t start, end; /* from its first word to its last */
    uint32_t from, to;   /* the place, start <= from <= end; to > end: it goes on after the line */
} Excerpt;

/* The line in which the span starts. */
Excerpt excerpt_of(const Source *source, Span span);
/* Writes it fit for a terminal, a long one cut with "..." around the place. opening, closing: the marks. */
void excerpt_put(Buffer *out, const Excerpt *excerpt, const char *opening, const char *closing);

#endif
