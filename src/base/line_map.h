/* Lines and columns of many places in a compilation's texts, without counting from the top each time. */
#ifndef TURNLAY_BASE_LINE_MAP_H
#define TURNLAY_BASE_LINE_MAP_H

#include "base/source.h"
#include "base/span.h"

typedef struct LineMap LineMap;

/* sources: or NULL, for what comes from none. */
LineMap *line_map_make(Arena *arena, const Sources *sources);
/* Where the span starts: the same as source_position. */
LineColumn line_map_find(LineMap *map, Span span);
/* The line in which the span starts; 0 if it lies in no source, or there is no map. */
uint32_t line_map_line(LineMap *map, Span span);
const Source *line_map_source(const LineMap *map, Span span);

#endif
