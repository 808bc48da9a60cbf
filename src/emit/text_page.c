#include "emit/text_page.h"
#include "base/unbroken.h"
#include "base/visible.h"

#include <inttypes.h>
#include <string.h>

enum { EDITION = 1 }; /* the only one there is */

TextPage text_page_start(Buffer *out, const Plan *plan)
{
    TextPage page = {.out = out, .plan = plan, .units = plan->job->bench.units};
    buffer_start(&page.cell, out->arena);
    return page;
}

void text_heading(TextPage *page, const char *words, char rule)
{
    words = visible(page->out->arena, words);
    buffer_text(page->out, words);
    buffer_text(page->out, "\n");
    for (int i = text_columns(words); i > 0; i--)
        buffer_put(page->out, &rule, 1);
    buffer_text(page->out, "\n");
}

void text_field(TextPage *page, const char *name)
{
    enum { NAME_COLUMNS = 10 };
    buffer_column(page->out, name, NAME_COLUMNS);
}

static void put_about(TextPage *page, const char *name, const Text *text)
{
    if (!text)
        return;
    text_field(page, name);
    buffer_text(page->out, visible(page->out->arena, text->bytes));
    buffer_text(page->out, "\n");
}

void text_head(TextPage *page, const char *what)
{
    const About *about = &page->plan->job->about;
    uint64_t hash = page->plan->job->pattern_hash;
    text_heading(page, what, '=');
    put_about(page, "title", about->title);
    put_about(page, "author", about->author);
    put_about(page, "version", about->version);
    put_about(page, "licence", about->licence);
    text_field(page, "file id");
    for (int shift = 48; shift > 0; shift -= 16)
        buffer_format(page->out, "%s%04" PRIx64, shift == 48 ? "" : "-", hash >> shift & 0xffff);
    buffer_format(page->out, ", edition %d\n", EDITION);
}

static void close_cell(TextPage *page)
{
    buffer_put(&page->cell, "", 1);
    page->cell.length = 0;
}

void text_cell(TextPage *page, int columns)
{
    close_cell(page);
    buffer_column(page->out, page->cell.bytes, columns);
}

void text_length(TextPage *page, double mm) { put_length(&page->cell, page->units, mm); }
void text_place(TextPage *page, double mm) { put_quantity(&page->cell, page->units, QUANTITY_PLACE, mm); }

/* A word, or words of one line, of this many bytes and columns. */
static void flow(TextPage *page, const char *word, size_t length, int columns, int indent)
{
    if (page->column && page->column + 1 + columns > PAGE_COLUMNS) {
        buffer_text(page->out, "\n");
        page->column = 0;
    }
    if (page->column) {
        buffer_text(page->out, " ");
        page->column++;
    } else {
        for (; page->column < indent; page->column++)
            buffer_text(page->out, " ");
    }
    buffer_put(page->out, word, length);
    page->column += columns;
}

void text_flow(TextPage *page, int indent)
{
    size_t length = page->cell.length;
    close_cell(page);
    flow(page, page->cell.bytes, length, text_columns(page->cell.bytes), indent);
}

/* Whether each byte is a sign of one column: from the blank to the tilde. Signs of other scripts may be wider.
 * Eight at a time: a byte outside leaves its high bit in the sum or the difference. */
static bool is_of_columns(const char *words)
{
    const uint64_t high = UINT64_C(0x8080808080808080), one = UINT64_C(0x0101010101010101);
    size_t length = strlen(words), at = 0;
    for (; at + sizeof high <= length; at += sizeof high) {
        uint64_t bytes;
        memcpy(&bytes, words + at, sizeof bytes);
        if ((bytes | (bytes + one) | (bytes - ' ' * one)) & high)
            return false;
    }
    for (; at < length; at++)
        if (words[at] < ' ' || words[at] > '~')
            return false;
    return true;
}

/* Bytes of the words that stand in one line with the first one, of signs of one column. */
static size_t words_in_line(const TextPage *page, const char *words, size_t first, int indent)
{
    size_t column = page->column ? (size_t)page->column + 1 : (size_t)indent, length = first;
    if (page->column && column + first > PAGE_COLUMNS)
        column = (size_t)indent;
    while (words[length] == ' ' && words[length + 1] && words[length + 1] != ' ') {
        size_t more = length + 1 + unbroken_length(words + length + 1);
        if (column + more > PAGE_COLUMNS)
            break;
        length = more;
    }
    return length;
}

void text_flow_words(TextPage *page, const char *words, int indent)
{
    bool plain = is_of_columns(words);
    while (*words) {
        size_t length = unbroken_length(words);
        if (plain && length) {
            length = words_in_line(page, words, length, indent);
            flow(page, words, length, (int)length, indent);
        } else if (length) {
            buffer_put(&page->cell, words, length);
            text_flow(page, indent);
        }
        words += length + (words[length] == ' ');
    }
}

void text_wide_cell(TextPage *page, int columns, int indent)
{
    buffer_put(&page->cell, "", 1);
    page->cell.length--;
    bool fits = text_columns(page->cell.bytes) <= columns;
    text_cell(page, columns);
    if (fits)
        return;
    buffer_text(page->out, "\n");
    buffer_column(page->out, "", indent + columns);
}

void text_flow_end(TextPage *page)
{
    buffer_text(page->out, "\n");
    page->column = 0;
}

void text_paragraph(TextPage *page, const char *words, int indent)
{
    text_flow_words(page, words, indent);
    if (page->column)
        text_flow_end(page);
}

void text_padded(TextPage *page, const char *words, int columns)
{
    buffer_column(page->out, words, columns);
    buffer_text(page->out, "  ");
}

int text_widest(int so_far, const char *words, int most)
{
    int columns = text_columns(words);
    return columns > so_far && columns <= most ? columns : so_far;
}
