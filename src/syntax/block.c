/* Blocks whose opening brace is missing, with or without the one that closes them. They are found before the
 * parser sees what stands in them, and the braces are given to it, so that all in them is read. */
#include "syntax/recovery.h"

#include "parser.h"

#include <string.h>

/* What may come first in the braces behind a word. */
typedef enum {
    HOLDS_NOTHING,
    HOLDS_OPTIONS,
    HOLDS_STATIONS,
    HOLDS_PLACES,
    HOLDS_ROWS,
    HOLDS_STATEMENTS,
    HOLDS_INLAYS,
    HOLDS_STRANDS
} Holds;
static const struct {
    uint8_t holds, brace;
} blocks[] = {
    [ABOUT] = {HOLDS_OPTIONS, BRACE_FIELDS},    [SIZE] = {HOLDS_OPTIONS, BRACE_FIELDS},
    [THREAD] = {HOLDS_OPTIONS, BRACE_FIELDS},   [BENCH] = {HOLDS_OPTIONS, BRACE_FIELDS},
    [GUIDE] = {HOLDS_OPTIONS, BRACE_FIELDS},    [BLANK] = {HOLDS_STATIONS, BRACE_FIELDS},
    [PATTERN] = {HOLDS_STATEMENTS, BRACE_BODY}, [ROD] = {HOLDS_PLACES, BRACE_ROD},
    [AT] = {HOLDS_STATEMENTS, BRACE_BODY},      [UNDER] = {HOLDS_STATEMENTS, BRACE_BODY},
    [OVER] = {HOLDS_STATEMENTS, BRACE_BODY},    [REPEAT] = {HOLDS_STATEMENTS, BRACE_BODY},
    [MIRROR] = {HOLDS_STATEMENTS, BRACE_BODY},  [SYMMETRIC] = {HOLDS_STATEMENTS, BRACE_BODY},
    [FOR] = {HOLDS_STATEMENTS, BRACE_BODY},     [IF] = {HOLDS_STATEMENTS, BRACE_BODY},
    [ELSE] = {HOLDS_STATEMENTS, BRACE_BODY},    [BAND] = {HOLDS_INLAYS, BRACE_BAND},
    [CHEVRON] = {HOLDS_STRANDS, BRACE_BAND},    [DIAMOND] = {HOLDS_STRANDS, BRACE_BAND},
    [SPIRAL] = {HOLDS_STRANDS, BRACE_BAND},     [SERIES] = {HOLDS_ROWS, BRACE_SERIES},
};

static Holds held(int kind)
{
    return kind < (int)(sizeof blocks / sizeof *blocks) ? (Holds)blocks[kind].holds : HOLDS_NOTHING;
}

static bool begins_statement(const Reader *reader, uint32_t at)
{
    const Tokens *tokens = &reader->tokens;
    return !at || first_on_line(reader, at) || tokens->kinds[at - 1] == LBRACE || tokens->kinds[at - 1] == RBRACE;
}

/* A call that begins a statement: nothing before it could take its name. */
static bool is_call(const Reader *reader, uint32_t header, uint32_t at)
{
    const uint8_t *kinds = reader->tokens.kinds;
    bool named =
        kinds[at] == WORD && (kinds[at + 1] == LPAREN || (kinds[at + 1] == DOT && kinds[at + 3] == LPAREN));
    int before = kinds[at - 1];
    bool ended = at == header + 1 ? before == MIRROR || before == SYMMETRIC || before == ELSE || before == UNDER
                                        || before == OVER
                                  : (token_policy[before] & ENDS) || before == COLON || before == ASSIGN;
    return named && ended && !(kinds[header] == PATTERN && at == header + 1);
}

/* How many tokens a header has at least. */
static uint32_t least_header(int kind)
{
    switch (kind) {
    case FOR: return 4;
    case ROD: return 3;
    case PATTERN: return 2;
    default: return 1;
    }
}

static bool begins_content(const Reader *reader, uint32_t header, uint32_t at)
{
    int kind = reader->tokens.kinds[at];
    if (at < header + least_header(reader->tokens.kinds[header]))
        return false;
    switch (held(reader->tokens.kinds[header])) {
    case HOLDS_OPTIONS: return kind == LABEL;
    case HOLDS_STATIONS:
    case HOLDS_PLACES: return kind == AT;
    case HOLDS_ROWS: return kind == AT || kind == ROW; /* none opens the braces that rows are known by */
    case HOLDS_STATEMENTS:
        if ((kind == IF && reader->tokens.kinds[header] == ELSE)
            || (kind == FOR && reader->tokens.kinds[at + 2] != IN))
            return false;
        return (token_policy[kind] & BEGINS_STATEMENT && kind != AT) || is_call(reader, header, at);
    case HOLDS_INLAYS: return kind == INLAY;
    case HOLDS_STRANDS: return kind == STRAND;
    case HOLDS_NOTHING: break;
    }
    return false;
}

/* The first token in the block of this header, where no brace opens it; 0 if one does, or none is meant. */
static uint32_t content_without_brace(const Reader *reader, uint32_t header)
{
    enum { LONGEST_HEADER = 60 };
    const uint8_t *kinds = reader->tokens.kinds;
    uint32_t depth = 0;
    for (uint32_t at = header + 1; at < header + LONGEST_HEADER; at++) {
        int kind = kinds[at];
        if (kind == END || kind == LBRACE || kind == RBRACE)
            return 0;
        if (!depth && begins_content(reader, header, at))
            return at;
        if (depth && token_policy[kind] & BEGINS_STATEMENT)
            return 0; /* brackets for braces */
        if (!depth && first_on_line(reader, at) && token_policy[kind] & (BEGINS_STATEMENT | BEGINS_DECLARATION))
            return 0;
        depth += kind == LPAREN || kind == LBRACKET;
        depth -= depth && (kind == RPAREN || kind == RBRACKET);
    }
    return 0;
}

static uint32_t column(const Reader *reader, uint32_t at)
{
    while (at && !first_on_line(reader, at))
        at--;
    uint32_t start = reader->tokens.starts[at], line = start;
    while (line && reader->source->bytes[line - 1] != '\n')
        line--;
    return start - line;
}

/* The token behind a block without braces: what stands on the header's line, or is set farther in than it. */
static uint32_t content_end(const Reader *reader, uint32_t header, uint32_t content)
{
    enum { LONGEST_BLOCK = 2000 };
    const uint8_t *kinds = reader->tokens.kinds;
    bool one_line = !first_on_line(reader, content);
    uint32_t depth = 0, indent = column(reader, header), at = content;
    bool set_in = one_line || column(reader, content) > indent;
    for (; kinds[at] != END && at < content + LONGEST_BLOCK; at++) {
        if (kinds[at] == RBRACE && !depth--)
            break;
        depth += kinds[at] == LBRACE;
        bool declaration = token_policy[kinds[at]] & BEGINS_DECLARATION;
        bool outside = first_on_line(reader, at) && at > content
                       && (declaration || (set_in && (one_line || column(reader, at) <= indent)));
        if (!depth
            && (outside || (kinds[at] == ELSE && kinds[header] == IF && at > content && kinds[at - 1] != RBRACE)))
            break;
    }
    return at;
}

/* A sign or word that stands where the brace should: `for i in 1 to 3:`. */
static bool is_instead(const Reader *reader, uint32_t at)
{
    int kind = reader->tokens.kinds[at];
    return kind == COLON || kind == ASSIGN || kind == COMMA;
}

/* A finding of what is missing from `content` on. end: the token before which the block closes, 0 if it has its }.
 */
static void report(Reader *reader, uint32_t header, uint32_t content, uint32_t end)
{
    const Tokens *tokens = &reader->tokens;
    Findings *findings = reader->findings;
    uint32_t last = content - 1 - is_instead(reader, content - 1);
    Finding *finding = finding_add(findings, FINDING_SYNTAX, reader_span(reader, content),
                                   end ? "the braces of this `%s` are missing" : "the { of this `%s` is missing",
                                   token_spelling(tokens->kinds[header]));
    Span span = {tokens->ends[last], tokens->starts[content], reader->tree->file};
    bool new_line = first_on_line(reader, content);
    const char *bytes = reader->source->bytes;
    if (!end) {
        finding_mend(findings, finding, "write `{` before %s", as_written(reader, content));
        span.end = last + 1 < content ? tokens->ends[content - 1] : span.start;
        finding_edit(findings, finding, span, " {");
        return;
    }
    finding_mend(findings, finding, "write `{` before %s and `}` behind %s", as_written(reader, content),
                 as_written(reader, end - 1));
    uint32_t from = last + 1 < content ? tokens->ends[content - 1] : span.start, to = tokens->ends[end - 1];
    span.end = to;
    if (finding_is_kept(finding))
        finding_edit(findings, finding, span, " {%.*s%s", (int)(to - from), bytes + from, new_line ? "\n}" : " }");
}

static bool on_line_of(const Reader *reader, uint32_t header, uint32_t at)
{
    while (at > header && !first_on_line(reader, at))
        at--;
    return at == header;
}

/* Whether the } is the block's own. On the header's line it is if there are more of them than braces open on that
 * line; else if the file has more } than {. */
static bool closes_block(Reader *reader, uint32_t header, uint32_t end)
{
    const uint8_t *kinds = reader->tokens.kinds;
    if (kinds[end] != RBRACE)
        return false;
    if (!on_line_of(reader, header, end))
        return brace_surplus(reader) > 0;
    int32_t more = 0;
    for (uint32_t at = end; kinds[at] != END && (at == end || !first_on_line(reader, at)); at++)
        more += (kinds[at] == RBRACE) - (kinds[at] == LBRACE);
    for (uint32_t i = reader->brace_depth; i && on_line_of(reader, reader->braces[i - 1].token, header); i--)
        more--;
    return more > 0;
}

/* Whether a block can begin with the word there. */
static bool begins_block(const Reader *reader, uint32_t header)
{
    const uint8_t *kinds = reader->tokens.kinds;
    const OpenBrace *brace = innermost(reader);
    switch (kinds[header]) {
    case THREAD:
    case GUIDE:
    case SIZE:
    case BLANK: return kinds[header + 1] == WORD;
    case OVER:
    case UNDER: return begins_statement(reader, header);
    case AT: return brace && brace->kind == BRACE_ROD && !(header > 1 && kinds[header - 2] == PART);
    case BAND: return !(brace && brace->kind == BRACE_BAND);
    default: return held(kinds[header]) != HOLDS_NOTHING;
    }
}

void mend_block(Reader *reader, uint32_t header)
{
    if (header < reader->blocks_seen || reader->bracket_depth || reader->owed_count + 2 > OWED_MOST
        || reader->brace_depth == LIMIT_NESTING || findings_full(reader->findings)
        || !begins_block(reader, header))
        return;
    reader->blocks_seen = header + 1;
    uint32_t content = content_without_brace(reader, header);
    if (!content)
        return;
    uint32_t end = content_end(reader, header, content);
    bool closed = closes_block(reader, header, end);
    report(reader, header, content, closed ? 0 : end);
    reader->amended = true;
    reader->surplus -= closed;
    uint32_t around = reader->owed_count ? reader->owed[reader->owed_count - 1].before : UINT32_MAX;
    if (!closed)
        reader->owed[reader->owed_count++] = (OwedBrace){end < around ? end : around, RBRACE, 0, 0};
    uint32_t before = content - is_instead(reader, content - 1);
    reader->owed[reader->owed_count++] =
        (OwedBrace){before, LBRACE, blocks[reader->tokens.kinds[header]].brace, content};
}
