#include "draw/lines.h"

#include <string.h>

void lines_start(Lines *lines, Arena *arena, const Sources *sources)
{
    *lines = (Lines){.arena = arena, .sources = sources};
    if (sources)
        lines->files = arena_take_many(arena, sources->list.count, sizeof *lines->files);
}

static void read_file(Lines *lines, FileLines *file, const Source *source)
{
    LIST_OF(uint32_t) starts = {0};
    *LIST_ADD(lines->arena, &starts) = 0;
    const char *at = source->bytes, *end = at + source->length;
    for (const char *newline; (newline = memchr(at, '\n', (size_t)(end - at))); at = newline + 1)
        *LIST_ADD(lines->arena, &starts) = (uint32_t)(newline + 1 - source->bytes);
    *file = (FileLines){starts.items, starts.count};
}

uint32_t lines_of(Lines *lines, Span span)
{
    if (!lines->sources || span.end == 0 || span.file >= lines->sources->list.count)
        return 0;
    FileLines *file = &lines->files[span.file];
    if (!file->starts)
        read_file(lines, file, &lines->sources->list.items[span.file]);
    uint32_t low = 0, high = file->count;   /* the line looked for is in low .. high - 1 */
    while (high - low > 1) {
        uint32_t middle = low + (high - low) / 2;
        if (file->starts[middle] <= span.start)
            low = middle;
        else
            high = middle;
    }
    return low + 1;
}
