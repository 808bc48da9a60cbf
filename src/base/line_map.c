#include "base/line_map.h"

#include "base/text.h"

#include <stdbool.h>

/* A milestone stands every so many bytes, so that no look-up counts further than this, however long the
 * file or its lines. */
enum { STRIDE = 64 };

struct LineMap {
    const Sources *sources;
    LineColumn **milestones; /* of each file; all 0 until a place in it is asked for */
};

/* Room for everything is taken here, where the map is made, and not touched: so asking leaves nothing behind. */
LineMap *line_map_make(Arena *arena, const Sources *sources)
{
    LineMap *map = arena_take(arena, sizeof *map);
    *map = (LineMap){.sources = sources};
    uint32_t count = sources ? sources->list.count : 0;
    map->milestones = arena_take_many(arena, count, sizeof *map->milestones);
    for (uint32_t i = 0; i < count; i++)
        map->milestones[i] =
            arena_take_many(arena, sources->list.items[i].length / STRIDE + 1, sizeof **map->milestones);
    return map;
}

uint32_t line_map_line(LineMap *map, Span span)
{
    bool nowhere = !map || !map->sources || span.end == 0 || span.file >= map->sources->list.count;
    return nowhere ? 0 : line_map_find(map, span).line;
}

const Source *line_map_source(const LineMap *map, Span span) { return &map->sources->list.items[span.file]; }

static LineColumn advance(LineColumn position, const char *bytes, uint32_t count)
{
    for (const char *end = bytes + count; bytes < end; bytes++) {
        if (*bytes == '\n')
            position = (LineColumn){position.line + 1, 1};
        else
            position.column += !inside_character(*bytes);
    }
    return position;
}

static void set_milestones(LineColumn *milestones, const Source *source)
{
    milestones[0] = (LineColumn){1, 1};
    for (uint32_t i = 0; i < source->length / STRIDE; i++)
        milestones[i + 1] = advance(milestones[i], source->bytes + (size_t)i * STRIDE, STRIDE);
}

LineColumn line_map_find(LineMap *map, Span span)
{
    const Source *source = line_map_source(map, span);
    uint32_t offset = span.start < source->length ? span.start : source->length;
    LineColumn *milestones = map->milestones[span.file];
    if (!milestones[0].line)
        set_milestones(milestones, source);
    uint32_t from = offset / STRIDE * STRIDE;
    return advance(milestones[offset / STRIDE], source->bytes + from, offset - from);
}
