#include "base/line_map.h"

#include <stdbool.h>

/* A milestone stands every so many bytes, so that no look-up counts further than this, however long the
 * file or its lines. */
enum { STRIDE = 64 };

struct LineMap {
    Arena *arena;
    const Sources *sources;
    LineColumn **milestones; /* of each file; NULL until a place in it is asked for */
};

LineMap *line_map_make(Arena *arena, const Sources *sources)
{
    LineMap *map = arena_take(arena, sizeof *map);
    *map = (LineMap){.arena = arena, .sources = sources};
    if (sources)
        map->milestones = arena_take_many(arena, sources->list.count, sizeof *map->milestones);
    return map;
}

uint32_t line_map_line(LineMap *map, Span span)
{
    bool nowhere = !map->sources || span.end == 0 || span.file >= map->sources->list.count;
    return nowhere ? 0 : line_map_find(map, span).line;
}

const Source *line_map_source(const LineMap *map, Span span) { return &map->sources->list.items[span.file]; }

static LineColumn advance(LineColumn position, const char *bytes, uint32_t count)
{
    for (const char *end = bytes + count; bytes < end; bytes++) {
        if (*bytes == '\n')
            position = (LineColumn){position.line + 1, 1};
        else
            position.column += ((unsigned char)*bytes & 0xc0) != 0x80;
    }
    return position;
}

static LineColumn *set_milestones(Arena *arena, const Source *source)
{
    uint32_t last = source->length / STRIDE;
    LineColumn *milestones = arena_take_many(arena, (size_t)last + 1, sizeof *milestones);
    milestones[0] = (LineColumn){1, 1};
    for (uint32_t i = 0; i < last; i++)
        milestones[i + 1] = advance(milestones[i], source->bytes + (size_t)i * STRIDE, STRIDE);
    return milestones;
}

LineColumn line_map_find(LineMap *map, Span span)
{
    const Source *source = line_map_source(map, span);
    uint32_t offset = span.start < source->length ? span.start : source->length;
    LineColumn **milestones = &map->milestones[span.file];
    if (!*milestones)
        *milestones = set_milestones(map->arena, source);
    uint32_t from = offset / STRIDE * STRIDE;
    return advance((*milestones)[offset / STRIDE], source->bytes + from, offset - from);
}
