#include "emit/csv_page.h"
#include "base/visible.h"

#include <inttypes.h>
#include <string.h>

static void begin(CsvPage *page)
{
    if (page->started)
        buffer_put(page->out, ",", 1);
    page->started = true;
}

/* A spreadsheet takes a field for a formula, and runs it, that begins with one of these (OWASP, "CSV Injection"):
 * an apostrophe before it makes it a text again. Apostrophes that stand there already count with what follows, so
 * that taking one off gives back every text. */
static bool reads_as_formula(const char *text)
{
    char first = text[strspn(text, "'")];
    return first && strchr("=+-@\t\r", first);
}

void csv_text(CsvPage *page, const char *text)
{
    begin(page);
    text = visible_with_breaks(page->out->arena, text);
    if (reads_as_formula(text))
        text = text_format(page->out->arena, "'%s", text);
    if (!strpbrk(text, "\",\r\n")) {
        buffer_text(page->out, text);
        return;
    }
    buffer_put(page->out, "\"", 1);
    for (; *text; text++) {
        if (*text == '"')
            buffer_put(page->out, "\"", 1);
        buffer_put(page->out, text, 1);
    }
    buffer_put(page->out, "\"", 1);
}

void csv_whole(CsvPage *page, uint64_t value)
{
    begin(page);
    buffer_format(page->out, "%" PRIu64, value);
}

void csv_number(CsvPage *page, double value)
{
    begin(page);
    put_program_number(page->out, value);
}

void csv_end_line(CsvPage *page)
{
    buffer_text(page->out, "\r\n");
    page->started = false;
}

void csv_names(CsvPage *page, const char *const *names, size_t count)
{
    for (size_t i = 0; i < count; i++)
        csv_text(page, names[i]);
    csv_end_line(page);
}
