/* Line numbers of very many places in the source: each text is read once, then every place is found by halving. */
#ifndef TURNLAY_DRAW_LINES_H
#define TURNLAY_DRAW_LINES_H

#include "base/source.h"
#include "base/span.h"

typedef struct FileLines {
    uint32_t *starts;        /* offset at which each line begins; NULL until the file is asked for */
    uint32_t count;
} FileLines;

typedef struct Lines {
    Arena *arena;
    const Sources *sources;  /* or NULL */
    FileLines *files;
} Lines;

void lines_start(Lines *lines, Arena *arena, const Sources *sources);
/* The line (from 1) in which the span begins; 0 if it lies in no source. */
uint32_t lines_of(Lines *lines, Span span);

#endif
