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

/* A word of so many bytes and columns. */
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

void text_flow_words(TextPage *page, const char *words, int indent)
{
    while (*words) {
        const char *end = words;
        bool plain = true; /* signs of other scripts may be wider */
        for (; *end && (*end != ' ' || joins(words, end)); end++)
            plain &= *end >= ' ' && *end <= '~';
        size_t length = (size_t)(end - words);
        if (plain && length)
            flow(page, words, length, (int)length, indent);
        else if (length) {
            buffer_put(&page->cell, words, length);
            text_flow(page, indent);
        }
        words = end + (*end == ' ');
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
