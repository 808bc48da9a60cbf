#include "base/source.h"

#include "base/text.h"

#include <string.h>

LineColumn source_position(const Source *source, uint32_t offset)
{
    LineColumn position = {1, 1};
    const char *at = source->bytes, *target = at + (offset < source->length ? offset : source->length);
    for (const char *newline; (newline = memchr(at, '\n', (size_t)(target - at))); at = newline + 1)
        position.line++;
    for (; at < target; at++)
        position.column += !inside_character(*at);
    return position;
}

void source_line(const Source *source, uint32_t offset, uint32_t *start, uint32_t *end)
{
    if (offset > source->length)
        offset = source->length;
    uint32_t from = offset, to = offset;
    while (from > 0 && source->bytes[from - 1] != '\n')
        from--;
    while (to < source->length && source->bytes[to] != '\n')
        to++;
    if (to > from && source->bytes[to - 1] == '\r')
        to--;
    *start = from;
    *end = to;
}

const char *source_at(const Sources *sources, Span span, size_t *length)
{
    *length = 0;
    if (!sources || span.file >= sources->list.count || span.end > sources->list.items[span.file].length
        || span.end < span.start)
        return "";
    *length = span.end - span.start;
    return sources->list.items[span.file].bytes + span.start;
}
