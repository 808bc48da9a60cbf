#include "emit/findings/excerpt.h"

#include "base/text.h"
#include "base/visible.h"

/* Columns of a line that are shown; of a longer one so many before the place; and how many bytes away the line's
 * ends are looked for, since a whole file may be one line. */
enum { MOST_COLUMNS = 100, COLUMNS_BEFORE = 40, REACH = 512 };
static const char CUT[] = "...";

static bool is_blank(char byte) { return byte == ' ' || byte == '\t' || byte == '\r'; }

Excerpt excerpt_of(const Source *source, Span span)
{
    const char *bytes = source->bytes;
    uint32_t offset = span.start < source->length ? span.start : source->length, line = offset, end = offset;
    while (line > 0 && bytes[line - 1] != '\n' && offset - line < REACH)
        line--;
    while (line > 0 && bytes[line - 1] != '\n' && line < offset && inside_character(bytes[line]))
        line++;
    while (end < source->length && bytes[end] != '\n' && end - offset < REACH)
        end++;
    while (end > offset && end < source->length && inside_character(bytes[end]))
        end--;
    uint32_t start = line;
    while (start < offset && is_blank(bytes[start]))
        start++;
    while (end > offset && is_blank(bytes[end - 1]))
        end--;
    return (Excerpt){bytes, line, start, end, offset, span.end > offset ? span.end : offset};
}

static int columns_of(const Excerpt *excerpt, uint32_t from, uint32_t to)
{
    int columns = 0;
    for (ShownCharacter shown; from < to; columns += shown.columns)
        from += show_character(excerpt->bytes + from, excerpt->end - from, &shown);
    return columns;
}

/* Where a long line begins to be shown, so that the place and as much as possible after it stand in sight. */
static uint32_t first_shown(const Excerpt *excerpt)
{
    uint32_t at = excerpt->start;
    if (columns_of(excerpt, at, excerpt->end) <= MOST_COLUMNS)
        return at;
    int before = columns_of(excerpt, at, excerpt->from);
    for (ShownCharacter shown; before > COLUMNS_BEFORE; before -= shown.columns)
        at += show_character(excerpt->bytes + at, excerpt->end - at, &shown);
    return at;
}

void excerpt_put(Buffer *out, const Excerpt *excerpt, const char *opening, const char *closing)
{
    uint32_t at = first_shown(excerpt);
    buffer_text(out, at > excerpt->start ? CUT : "");
    bool opened = false, closed = false;
    for (int left = MOST_COLUMNS;;) {
        if (!opened && at >= excerpt->from) {
            buffer_text(out, opening);
            opened = true;
        }
        if (!closed && at >= excerpt->to) {
            buffer_text(out, closing);
            closed = true;
        }
        ShownCharacter shown;
        if (at >= excerpt->end)
            break;
        uint32_t taken = show_character(excerpt->bytes + at, excerpt->end - at, &shown);
        if (shown.columns > left)
            break;
        buffer_text(out, shown.text);
        left -= shown.columns;
        at += taken;
    }
    buffer_text(out, at < excerpt->end || excerpt->to > excerpt->end ? CUT : "");
    buffer_text(out, closed ? "" : closing);
}
