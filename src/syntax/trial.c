/* Would the statement be read if it were written so? It is put among what surrounds it and read quickly, by
 * itself. */
#include "syntax/trial.h"

#include "base/buffer.h"
#include "parser.h"

#include <string.h>

enum {
    FAR = 80,           /* tokens of a statement, before the fault and behind it */
    LONGEST_TRIAL = 600 /* bytes */
};

static bool begins(const Reader *reader, uint32_t at)
{
    const uint8_t *kinds = reader->tokens.kinds;
    int before = at ? kinds[at - 1] : LBRACE;
    bool call = kinds[at] == WORD && (kinds[at + 1] == LPAREN || !(token_policy[before] & JOINS));
    return before == LBRACE || before == RBRACE
           || (first_on_line(reader, at)
               && (token_policy[kinds[at]] & (BEGINS_STATEMENT | BEGINS_DECLARATION) || call));
}

/* The first token of the statement that holds this one. */
static uint32_t first_of(const Reader *reader, uint32_t at)
{
    uint32_t first = at;
    while (first && at - first < FAR && !begins(reader, first))
        first--;
    return first;
}

/* The token behind the statement, up to the block that it may have. */
static uint32_t behind(const Reader *reader, uint32_t at)
{
    const uint8_t *kinds = reader->tokens.kinds;
    uint32_t end = at;
    while (kinds[end] != END && kinds[end] != LBRACE && kinds[end] != RBRACE && end - at < FAR
           && (end == at || !begins(reader, end)))
        end++;
    return end;
}

static bool holds(const Reader *reader, uint32_t first, uint32_t end, int kind)
{
    while (first < end && reader->tokens.kinds[first] != kind)
        first++;
    return first < end;
}

/* What surrounds a statement in such braces, with a @ for it. */
static const char *surroundings(const Reader *reader, uint32_t at, uint32_t first, uint32_t end)
{
    const OpenBrace *brace = surrounding(reader, at);
    switch (brace ? brace->kind : BRACE_MODULE) {
    case BRACE_MODULE: return "@";
    case BRACE_ROD: return "rod \"\" on a { @ }";
    case BRACE_SERIES: return "rod \"\" on a { series { @ } }";
    case BRACE_FIELDS:
        return brace_holds_swaps(reader, brace) ? "rod \"\" like \"\" { @ }"
               : holds(reader, first, end, AT)  ? "blank a { @ }"
                                                : "guide a { @ }";
    case BRACE_BAND:
        return holds(reader, first, end, STRAND) ? "pattern a() { diamond { @ } }"
                                                 : "pattern a() { band a of a { @ } }";
    case BRACE_BODY:
    case BRACE_MISSING: break;
    }
    return reader->tokens.kinds[first] == ELSE ? "rod \"\" on a { at a { if a { } @ } }"
                                               : "rod \"\" on a { at a { @ } }";
}

bool reads_so(Reader *reader, uint32_t at, Span span, const char *text)
{
    const Tokens *tokens = &reader->tokens;
    bool behind_another = at && span.start < tokens->starts[at]; /* `at` may begin a statement of its own */
    uint32_t first = first_of(reader, behind_another ? at - 1 : at), end = behind(reader, at);
    uint32_t start = tokens->starts[first], stop = end > first ? tokens->ends[end - 1] : start;
    stop = stop < span.end ? span.end : stop;
    if (span.start < start || stop - start + strlen(text) > LONGEST_TRIAL)
        return false;
    const char *around = surroundings(reader, at, first, end), *place = strchr(around, '@'),
               *bytes = reader->source->bytes;
    Arena *arena = arena_child(reader->arena);
    Buffer trial;
    buffer_start(&trial, arena);
    buffer_put(&trial, around, (size_t)(place - around));
    buffer_put(&trial, bytes + start, span.start - start);
    buffer_text(&trial, text);
    buffer_put(&trial, bytes + span.end, stop - span.end);
    buffer_text(&trial, tokens->kinds[end] == LBRACE ? " {} " : "\n");
    buffer_text(&trial, place + 1);
    bool reads = reads_quickly(arena, reader->findings, buffer_string(&trial), (uint32_t)trial.length);
    arena_clear(arena);
    return reads;
}
