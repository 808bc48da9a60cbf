#include "emit/json_page.h"
#include "base/visible.h"

#include <inttypes.h>
#include <jansson.h>
#include <stdio.h>
#include <string.h>

void page_start(JsonPage *page, Buffer *out) { *page = (JsonPage){.out = out, .empty = true}; }

static void new_line(JsonPage *page)
{
    buffer_put(page->out, "\n", 1);
    for (unsigned i = 0; i < page->depth; i++)
        buffer_put(page->out, "  ", 2);
}

static void begin(JsonPage *page, const char *name)
{
    if (!page->empty)
        buffer_text(page->out, page->flat ? ", " : ",");
    if (page->depth && !page->flat)
        new_line(page);
    if (name) {
        buffer_text(page->out, "\"");
        buffer_text(page->out, name);
        buffer_text(page->out, "\": ");
    }
    page->empty = false;
}

void page_open(JsonPage *page, const char *name, char bracket)
{
    begin(page, name);
    buffer_put(page->out, &bracket, 1);
    page->depth++;
    page->flat += page->flat > 0;
    page->empty = true;
}

void page_open_flat(JsonPage *page, const char *name, char bracket)
{
    page_open(page, name, bracket);
    if (!page->flat)
        page->flat = 1;
}

void page_close(JsonPage *page, char bracket)
{
    page->depth--;
    if (page->flat)
        page->flat--;
    else if (!page->empty)
        new_line(page);
    buffer_put(page->out, &bracket, 1);
    page->empty = false;
}

/* Needs no escape in JSON. */
static bool is_plain(const char *text)
{
    while (*text >= ' ' && *text <= '~' && *text != '"' && *text != '\\')
        text++;
    return !*text;
}

/* All memory of the arena is taken before jansson's, so that nothing is lost when it runs out. */
static void put_quoted(Buffer *out, const char *text)
{
    const char *good = well_formed(out->arena, text);
    /* A text with something in it that other pages show by a sign has it here as an escape to be seen by. */
    bool hidden = strcmp(good, visible_with_breaks(out->arena, text)) != 0;
    size_t length = strlen(good), most = length * 6 + 2; /* \u001b is the longest that a byte becomes */
    char *room = arena_take(out->arena, most);
    json_t *string = json_stringn(good, length);
    size_t written =
        string ? json_dumpb(string, room, most, JSON_ENCODE_ANY | (hidden ? JSON_ENSURE_ASCII : 0)) : 0;
    json_decref(string);
    if (!written)
        arena_exhausted(out->arena);
    buffer_put(out, room, written);
}

void page_text(JsonPage *page, const char *name, const char *text)
{
    begin(page, name);
    if (!text) {
        buffer_text(page->out, "null");
    } else if (is_plain(text)) {
        buffer_text(page->out, "\"");
        buffer_text(page->out, text);
        buffer_text(page->out, "\"");
    } else {
        put_quoted(page->out, text);
    }
}

void page_number(JsonPage *page, const char *name, double value)
{
    begin(page, name);
    if (!put_program_number(page->out, value))
        buffer_text(page->out, "null");
}

void page_whole(JsonPage *page, const char *name, uint64_t value)
{
    begin(page, name);
    buffer_whole(page->out, value);
}

void page_truth(JsonPage *page, const char *name, bool value)
{
    begin(page, name);
    buffer_text(page->out, value ? "true" : "false");
}

void page_end(JsonPage *page) { buffer_text(page->out, "\n"); }

void page_place(JsonPage *page, const char *name, LineMap *lines, Span span)
{
    LineColumn position = line_map_find(lines, span);
    page_open_flat(page, name, '{');
    page_text(page, "file", line_map_source(lines, span)->path);
    page_whole(page, "line", position.line);
    page_whole(page, "column", position.column);
    page_close(page, '}');
}

static const char *text_or_null(const Text *text) { return text ? text->bytes : NULL; }

void page_head(JsonPage *page, const char *format, const Job *job)
{
    uint64_t hash = job->pattern_hash;
    char file_id[sizeof "3f2a-91bc-07de"]; /* as on every other page */
    snprintf(file_id, sizeof file_id, "%04" PRIx64 "-%04" PRIx64 "-%04" PRIx64, hash >> 48 & 0xffff,
             hash >> 32 & 0xffff, hash >> 16 & 0xffff);
    page_text(page, "format", format);
    page_whole(page, "version", 1);
    page_text(page, "file_id", file_id);
    page_open(page, "about", '{');
    page_text(page, "title", text_or_null(job->about.title));
    page_text(page, "author", text_or_null(job->about.author));
    page_text(page, "version", text_or_null(job->about.version));
    page_text(page, "licence", text_or_null(job->about.licence));
    page_close(page, '}');
    page_text(page, "units", "mm");
}
