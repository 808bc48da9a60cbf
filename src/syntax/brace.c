/* Braces: which are open, which are missing and which are too many. A file that has as many } as { is taken at its
 * word. */
#include "syntax/phrase.h"

#include "parser.h"

#include <string.h>

const OpenBrace *innermost(const Reader *reader)
{
    return reader->brace_depth ? &reader->braces[reader->brace_depth - 1] : NULL;
}

const OpenBrace *surrounding(const Reader *reader, uint32_t at)
{
    uint32_t depth = reader->brace_depth;
    if (reader->tokens.kinds[at] == RBRACE && depth < LIMIT_NESTING)
        return &reader->braces[depth]; /* it is closed already */
    bool itself = depth && reader->braces[depth - 1].token == at && reader->tokens.kinds[at] == LBRACE;
    return depth > itself ? &reader->braces[depth - itself - 1] : NULL;
}

/* A band holds inlays and a crosswrap strands: no other statement that winds. */
static bool holds_parts(int kind) { return kind == BAND || kind == CHEVRON || kind == DIAMOND || kind == SPIRAL; }

/* The first token of the header that this brace ends; its options may stand on lines of their own. */
static uint32_t header_of(const Reader *reader, uint32_t brace)
{
    const uint8_t *kinds = reader->tokens.kinds;
    uint32_t first = brace, depth = 0;
    while (first && !(first < brace && !depth && (holds_parts(kinds[first]) || kinds[first] == SERIES))
           && (depth || kinds[first] == LABEL || !first_on_line(reader, first))) {
        int before = kinds[first - 1];
        if (before == LBRACE || before == RBRACE)
            break;
        depth += before == RPAREN || before == RBRACKET;
        depth -= depth && (before == LPAREN || before == LBRACKET);
        first--;
    }
    return first;
}

/* Loops and cases hold what stands around them. */
static BraceKind around(const Reader *reader)
{
    const OpenBrace *brace = innermost(reader);
    return brace && (brace->kind == BRACE_ROD || brace->kind == BRACE_SERIES) ? brace->kind : BRACE_BODY;
}

bool brace_holds_swaps(const Reader *reader, const OpenBrace *brace)
{
    uint32_t header = brace ? header_of(reader, brace->token) : 0;
    return brace && brace->kind == BRACE_FIELDS && reader->tokens.kinds[header] == ROD;
}

static BraceKind brace_kind(const Reader *reader, uint32_t at)
{
    const uint8_t *kinds = reader->tokens.kinds;
    uint32_t header = header_of(reader, at);
    int before = at >= 1 ? kinds[at - 1] : END, second = at >= 2 ? kinds[at - 2] : END;
    switch (kinds[header]) {
    case USE: return BRACE_MODULE;
    case ROD: return memchr(kinds + header, LIKE, at - header) ? BRACE_FIELDS : BRACE_ROD;
    case SERIES: return BRACE_SERIES;
    case PART: return BRACE_FIELDS;
    case FOR:
    case IF:
    case ELSE: return around(reader);
    default: break;
    }
    if (holds_parts(kinds[header]))
        return BRACE_BAND;
    bool fields =
        before == ABOUT || before == BENCH
        || (before == WORD && (second == SIZE || second == THREAD || second == GUIDE || second == BLANK));
    return fields ? BRACE_FIELDS : BRACE_BODY;
}

/* Closing braces less opening ones, those aside that were dealt with. */
int32_t brace_surplus(Reader *reader)
{
    const Tokens *tokens = &reader->tokens;
    for (uint32_t i = 0; i < tokens->count && !reader->surplus_known; i++)
        reader->surplus += (tokens->kinds[i] == RBRACE) - (tokens->kinds[i] == LBRACE);
    reader->surplus_known = true;
    return reader->surplus;
}

/* Once no more findings are kept they are only counted: millions of braces must not take memory for words nobody
 * sees. */
static bool only_counted(Findings *findings)
{
    if (!findings_full(findings))
        return false;
    findings->errors++;
    findings->left_out++;
    return true;
}

/* `{ {`, where the file has fewer } than {. */
bool opens_twice(Reader *reader, uint32_t at)
{
    if (!at || reader->tokens.kinds[at - 1] != LBRACE || brace_surplus(reader) >= 0)
        return false;
    Span span = reader_span(reader, at);
    reader->surplus++;
    if (only_counted(reader->findings))
        return true;
    Finding *finding =
        finding_add(reader->findings, FINDING_BRACE_NOT_CLOSED, span, "this { is one too many: no } closes it");
    finding_mend(reader->findings, finding, "take it out");
    finding_edit(reader->findings, finding, span_to_remove(reader->source, span), "%s", "");
    return true;
}

void open_brace(Reader *reader, uint32_t at)
{
    if (reader->brace_depth == LIMIT_NESTING) {
        report_too_deep(reader);
        return;
    }
    BraceKind kind = brace_kind(reader, at); /* by what is open around it */
    reader->braces[reader->brace_depth++] = (OpenBrace){at, kind};
    reader->bracket_depth = 0;
}

/* Lines are counted from the top of the file: only for findings that are kept. */
static void report_not_closed(Reader *reader, uint32_t open, uint32_t before, uint32_t missing)
{
    if (only_counted(reader->findings))
        return;
    Finding *finding = finding_add(reader->findings, FINDING_BRACE_NOT_CLOSED, reader_span(reader, open),
                                   "this { is not closed before line %u",
                                   source_position(reader->source, reader->tokens.starts[before]).line);
    finding_relate(reader->findings, finding, reader_span(reader, before), "a } is missing before this");
    finding_mend(reader->findings, finding, "write } to close the { of line %u",
                 source_position(reader->source, reader->tokens.starts[open]).line);
    Span here = reader_span(reader, before);
    here.end = here.start;
    char braces[LIMIT_NESTING + 2];
    memset(braces, '}', missing);
    strcpy(braces + missing, "\n");
    finding_edit(reader->findings, finding, here, "%s", braces);
}

/* The braces from `keep` up are not closed: report the innermost and owe them to the parser. */
void owe_braces(Reader *reader, uint32_t keep, uint32_t before)
{
    uint32_t missing = reader->brace_depth - keep;
    report_not_closed(reader, reader->braces[reader->brace_depth - 1].token, before, missing);
    reader->surplus += (int32_t)missing;
    reader->close_owed = missing;
    reader->brace_depth = keep;
}

static bool begins_after_a_brace_left_open(Reader *reader, uint32_t at, uint32_t keep)
{
    return keep < reader->brace_depth && first_on_line(reader, at) && !reader->bracket_depth
           && token_policy[reader->tokens.kinds[at - 1]] & ENDS && brace_surplus(reader) < 0;
}

/* The edit that moves a declaration (its tokens from `at` to `behind`) before the one in the braces of which it
 * stands. */
static void move_out(Reader *reader, Finding *finding, uint32_t at, uint32_t behind, uint32_t brace)
{
    const Tokens *tokens = &reader->tokens;
    const char *bytes = reader->source->bytes;
    uint32_t around = brace;
    while (around && !(first_on_line(reader, around) && token_policy[tokens->kinds[around]] & BEGINS_DECLARATION))
        around--;
    uint32_t start = tokens->starts[around], end = tokens->ends[behind - 1], own = tokens->starts[at], kept = own;
    while (kept > start && strchr(" \t\r\n", bytes[kept - 1]))
        kept--;
    if (!finding_is_kept(finding) || end - start > FINDING_WORDS)
        return;
    finding_edit(reader->findings, finding, (Span){start, end, reader->tree->file}, "%.*s\n%.*s", (int)(end - own),
                 bytes + own, (int)(kept - start), bytes + start);
}

/* Whether it could stand elsewhere as it is: with a name and what follows one there, or a text, or with braces
 * where it needs neither. */
static bool is_declaration(const Reader *reader, uint32_t at)
{
    int kind = reader->tokens.kinds[at], next = reader->tokens.kinds[at + 1];
    if (kind == ABOUT || kind == BENCH)
        return next == LBRACE;
    if (!(token_policy[kind] & NAMES))
        return (kind == USE || kind == ROD) && next == STRING;
    int behind = kind == PATTERN ? LPAREN : kind == LET ? ASSIGN : LBRACE;
    return next == WORD && reader->tokens.kinds[at + 2] == behind;
}

/* Declarations never stand in braces (but in those of a used file): before one, the braces still open are missing,
 * or it stands in the wrong place. */
bool check_declaration(Reader *reader, uint32_t at)
{
    uint32_t keep = reader->brace_depth;
    while (keep && reader->braces[keep - 1].kind != BRACE_MODULE)
        keep--;
    if (begins_after_a_brace_left_open(reader, at, keep)) {
        owe_braces(reader, keep, at);
        return true;
    }
    const OpenBrace *brace = innermost(reader);
    int before = at ? reader->tokens.kinds[at - 1] : LBRACE;
    if (keep == reader->brace_depth || !brace || brace->kind == BRACE_FIELDS || !(token_policy[before] & ENDS)
        || reader->bracket_depth
        || !(first_on_line(reader, at) || before == LBRACE || before == RBRACE
             || reader->tokens.kinds[at] == PATTERN))
        return true;
    uint32_t behind = after_statement(reader, at);
    if (mend_phrase(reader, FINDING_NOT_HERE, at, false)) {
        reader->position = behind;
        return false;
    }
    Finding *finding = finding_add(reader->findings, FINDING_NOT_HERE, reader_span(reader, at),
                                   "%s begins a declaration, which stands in no braces", as_written(reader, at));
    finding_mend(reader->findings, finding, "move it out of the braces, before the `pattern` or `rod`");
    if (is_declaration(reader, at))
        move_out(reader, finding, at, behind, reader->braces[keep].token);
    reader->position = behind;
    return false;
}

/* A place, a series and a part stand in their rod's braces and a layer in its place's: before one, the braces
 * still open there are missing. */
void check_place(Reader *reader, uint32_t at)
{
    uint32_t keep = reader->brace_depth;
    while (keep && reader->braces[keep - 1].kind != BRACE_ROD)
        keep--;
    if (!keep)
        return;
    keep += reader->tokens.kinds[at] == UNDER || reader->tokens.kinds[at] == OVER;
    if (begins_after_a_brace_left_open(reader, at, keep))
        owe_braces(reader, keep, at);
}

/* A band stands in no band and no crosswrap: before one, the brace of the inlays or strands is missing. */
void check_band(Reader *reader, uint32_t at)
{
    const OpenBrace *brace = innermost(reader);
    if (brace && brace->kind == BRACE_BAND && begins_after_a_brace_left_open(reader, at, reader->brace_depth - 1))
        owe_braces(reader, reader->brace_depth - 1, at);
}

/* With more } than { in the file, one that closes a rod, a place or a pattern before more of it comes is one too
 * many. */
static bool closes_too_early(Reader *reader, uint32_t at)
{
    const uint8_t *kinds = reader->tokens.kinds;
    uint32_t depth = reader->brace_depth;
    BraceKind around = depth > 1 ? reader->braces[depth - 2].kind : BRACE_MODULE;
    int after = kinds[at + 1];
    bool fields = reader->braces[depth - 1].kind == BRACE_FIELDS;
    bool more = fields ? after == AT || after == LABEL
                       : token_policy[after] & BEGINS_STATEMENT || (after == WORD && kinds[at + 2] == LPAREN);
    if (!more || (around != BRACE_MODULE && around != BRACE_ROD) || brace_owed(reader, at + 1))
        return false;
    if ((around == BRACE_ROD && after == AT) || (around == BRACE_MODULE && after == LET))
        return false;
    return brace_surplus(reader) > 0;
}

bool close_brace(Reader *reader, uint32_t at)
{
    if (reader->brace_depth && innermost(reader)->kind == BRACE_MISSING) {
        reader->brace_depth--;
        return false;
    }
    bool early = reader->brace_depth && closes_too_early(reader, at);
    if (reader->brace_depth && !early) {
        reader->brace_depth--;
        return true;
    }
    Span span = reader_span(reader, at);
    reader->surplus -= early;
    if (only_counted(reader->findings))
        return false;
    Finding *finding =
        finding_add(reader->findings, FINDING_BRACE_NOT_OPEN, span,
                    early ? "this } closes too early: there are more } than {" : "this } closes nothing");
    finding_mend(reader->findings, finding, "take it out");
    finding_edit(reader->findings, finding, span_to_remove(reader->source, span), "%s", "");
    return false;
}
