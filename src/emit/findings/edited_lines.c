#include "emit/findings/edited_lines.h"

#include <string.h>

static bool is_blank(char byte) { return byte == ' ' || byte == '\t' || byte == '\r'; }

/* Whole lines that are taken out or exchanged end with a line end of their own: the line after them is none of
 * them. */
static bool is_whole_lines(const Source *source, const Edit *edit, const Excerpt *before)
{
    if (edit->span.end == edit->span.start || source->bytes[edit->span.end - 1] != '\n')
        return false;
    size_t length = strlen(edit->text);
    return length ? edit->text[length - 1] == '\n' : before->from == before->start;
}

/* Of a text that moves many lines no more is looked at than the first ones are long. */
enum { ENOUGH = 1 << 13 };

/* The lines in one text: what stays of the first, what is new, what stays of the last. */
static Excerpt join(Arena *arena, const Source *source, const Edit *edit)
{
    Excerpt before = excerpt_of(source, edit->span);
    uint32_t last = edit->span.end - is_whole_lines(source, edit, &before);
    Excerpt after = excerpt_of(source, (Span){last, last, edit->span.file});
    Buffer joined;
    buffer_start(&joined, arena);
    buffer_put(&joined, before.bytes + before.line, before.from - before.line);
    uint32_t from = (uint32_t)joined.length;
    buffer_put(&joined, edit->text, strnlen(edit->text, ENOUGH));
    uint32_t to = (uint32_t)joined.length;
    buffer_put(&joined, after.bytes + after.from, after.end - after.from);
    uint32_t end = (uint32_t)joined.length, start = 0;
    while (start < end && is_blank(joined.bytes[start]))
        start++;
    return (Excerpt){joined.bytes, 0, start, end, from, to};
}

static uint32_t within(uint32_t offset, uint32_t start, uint32_t end)
{
    return offset < start ? start : offset > end ? end : offset;
}

/* The line of the text that begins there, without as many blanks before it as the first has. */
static Excerpt one_line(const Excerpt *text, uint32_t at)
{
    const char *newline = memchr(text->bytes + at, '\n', text->end - at);
    uint32_t end = newline ? (uint32_t)(newline - text->bytes) : text->end, start = at;
    while (start < end && start - at < text->start && is_blank(text->bytes[start]))
        start++;
    return (Excerpt){text->bytes, at, start, end, within(text->from, start, end), within(text->to, start, end)};
}

EditedLines edited_lines_of(Arena *arena, const Source *source, const Edit *edit)
{
    Excerpt text = join(arena, source, edit);
    EditedLines edited = {.count = 0};
    uint32_t at = text.start < text.end ? 0 : text.end;
    while (at < text.end && edited.count < MOST_EDITED_LINES) {
        edited.lines[edited.count] = one_line(&text, at);
        at = edited.lines[edited.count++].end + 1;
    }
    edited.more = at < text.end;
    return edited;
}
