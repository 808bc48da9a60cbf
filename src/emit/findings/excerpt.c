#include "emit/findings/excerpt.h"

#include "base/visible.h"

/* Columns of a line that are shown; of a longer one so many before the span; and how far to look for the
 * line's ends, since a whole file may be one line. */
enum { MOST_COLUMNS = 100, COLUMNS_BEFORE = 30, REACH = 4096 };
static const char CUT[] = "...";
enum { CUT_COLUMNS = sizeof CUT - 1 };

/* The bytes looked at, and where their columns begin and end. */
typedef struct ExcerptWindow {
    const char *bytes;
    uint32_t start, end; /* offsets */
    int from, to;        /* columns that are shown */
    bool cut_before, cut_after;
} ExcerptWindow;

static bool inside_character(char byte) { return ((unsigned char)byte & 0xc0) == 0x80; }

static ExcerptWindow find_window(const Source *source, uint32_t offset)
{
    const char *bytes = source->bytes;
    uint32_t start = offset, end = offset;
    while (start > 0 && bytes[start - 1] != '\n' && offset - start < REACH)
        start--;
    while (start < offset && inside_character(bytes[start]))
        start++;
    while (end < source->length && bytes[end] != '\n' && end - offset < REACH)
        end++;
    while (end > offset && end < source->length && inside_character(bytes[end]))
        end--;
    ExcerptWindow window = {.bytes = bytes, .start = start, .end = end};
    window.cut_before = start > 0 && bytes[start - 1] != '\n';
    window.cut_after = end < source->length && bytes[end] != '\n';
    if (!window.cut_after && end > start && bytes[end - 1] == '\r')
        window.end--;
    return window;
}

/* Columns from the window's start up to the offset. */
static int columns_to(const ExcerptWindow *window, uint32_t offset)
{
    int columns = 0;
    for (uint32_t at = window->start; at < offset && at < window->end;) {
        ShownCharacter shown;
        at += show_character(window->bytes + at, window->end - at, &shown);
        columns += shown.columns;
    }
    return columns;
}

/* A long line is cut so that the span's start and as much as possible after it stand in sight. */
static void choose_columns(ExcerptWindow *window, int span_start)
{
    int total = columns_to(window, window->end);
    window->to = total;
    if (total <= MOST_COLUMNS && !window->cut_before && !window->cut_after)
        return;
    const int shown = MOST_COLUMNS - 2 * CUT_COLUMNS;
    window->from = span_start > COLUMNS_BEFORE ? span_start - COLUMNS_BEFORE : 0;
    if (window->from > total - shown)
        window->from = total > shown ? total - shown : 0;
    if (total > window->from + shown)
        window->to = window->from + shown;
    window->cut_before |= window->from > 0;
    window->cut_after |= window->to < total;
}

/* A wide character that is cut in half leaves a blank, so that the columns after it stay where they are. */
static const char *write_window(Arena *arena, const ExcerptWindow *window)
{
    Buffer text;
    buffer_start(&text, arena);
    buffer_text(&text, window->cut_before ? CUT : "");
    int column = 0;
    for (uint32_t at = window->start; at < window->end && column < window->to;) {
        ShownCharacter shown;
        at += show_character(window->bytes + at, window->end - at, &shown);
        int next = column + shown.columns;
        if (column >= window->from && next <= window->to) {
            buffer_text(&text, shown.text);
        } else {
            for (; column < next && column < window->to; column++)
                buffer_text(&text, column >= window->from ? " " : "");
        }
        column = next;
    }
    buffer_text(&text, window->cut_after ? CUT : "");
    buffer_put(&text, "", 1);
    return text.bytes;
}

Excerpt excerpt_of(Arena *arena, const Source *source, Span span)
{
    uint32_t offset = span.start < source->length ? span.start : source->length;
    ExcerptWindow window = find_window(source, offset);
    int start = columns_to(&window, offset), end = columns_to(&window, span.end);
    choose_columns(&window, start);
    if (end > window.to)
        end = window.to;
    return (Excerpt){
        .text = write_window(arena, &window),
        .underline = start - window.from + (window.cut_before ? CUT_COLUMNS : 0),
        .width = end > start ? end - start : 1,
    };
}
