/* What to tell of a token that does not fit, and how to mend it. */
#include "syntax/phrase.h"

#include "parser.h"
#include "syntax/misplaced.h"
#include "syntax/trial.h"

#include <ctype.h>
#include <string.h>

/* "`of`, `{` or a name" */
static const char *choices(Reader *reader, const int *expected, int count)
{
    const char *text = "";
    for (int i = 0; i < count; i++) {
        const char *spelling = token_spelling(expected[i]);
        bool plain = strchr(spelling, ' ');
        const char *joint = i == 0 ? "" : i + 1 < count ? ", " : " or ";
        text = text_format(reader->arena, plain ? "%s%s%s" : "%s%s`%s`", text, joint, spelling);
    }
    return text;
}

static bool is_keyword(const Reader *reader, uint32_t at)
{
    int kind = reader->tokens.kinds[at];
    return kind != WORD && kind != LABEL
           && isalpha((unsigned char)reader->source->bytes[reader->tokens.starts[at]]);
}

/* A token that does not fit, and what would. */
typedef struct Unexpected {
    Reader *reader;
    Finding *finding;
    uint32_t at;
    const int *expected;
    int count;
    bool tried; /* only what makes the statement one that can be read is offered */
} Unexpected;

static int kind_at(const Unexpected *unexpected, uint32_t back)
{
    return unexpected->at >= back ? unexpected->reader->tokens.kinds[unexpected->at - back] : END;
}

static bool expects(const Unexpected *unexpected, int kind)
{
    for (int i = 0; i < unexpected->count; i++)
        if (unexpected->expected[i] == kind)
            return true;
    return false;
}

static bool begins_value(int kind)
{
    return kind == NUMBER || kind == WORD || kind == STRING || kind == COLOUR || kind == LBRACKET || kind == LPAREN
           || kind == YES || kind == NO;
}

static bool mend_with(const Unexpected *unexpected, uint32_t start, uint32_t end, const char *edit,
                      const char *mend)
{
    Findings *findings = unexpected->reader->findings;
    Span span = {start, end, unexpected->reader->tree->file};
    if (unexpected->tried && !reads_so(unexpected->reader, unexpected->at, span, edit))
        return false;
    finding_mend(findings, unexpected->finding, "%s", mend);
    finding_edit(findings, unexpected->finding, span, "%s", edit);
    return true;
}

/* Behind the token so many before the one that does not fit. */
static bool mend_behind(const Unexpected *unexpected, uint32_t back, const char *edit, const char *mend)
{
    uint32_t end = unexpected->at >= back ? unexpected->reader->tokens.ends[unexpected->at - back] : 0;
    return mend_with(unexpected, end, end, edit, mend);
}

static bool mend_extent(const Unexpected *unexpected)
{
    if (kind_at(unexpected, 0) == OF && kind_at(unexpected, 1) == STRAND)
        return mend_behind(unexpected, 1, " 1", "say how many strands, or `fill`, such as `strand 1 of`");
    return kind_at(unexpected, 0) == OF && (kind_at(unexpected, 1) == BAND || kind_at(unexpected, 1) == FADE)
           && mend_behind(unexpected, 1, " 20 turns",
                          "say how much: turns, a length or `fill`, such as `20 turns`");
}

/* Words without their quotes: up to the word that follows a title or a file's name, or to the end of the line. */
static bool mend_quotes(const Unexpected *unexpected)
{
    Reader *reader = unexpected->reader;
    const Tokens *tokens = &reader->tokens;
    uint32_t last = unexpected->at;
    if (!expects(unexpected, STRING) || unexpected->count > 2
        || (tokens->kinds[last] != WORD && tokens->kinds[last] != NUMBER))
        return false;
    for (; !first_on_line(reader, last + 1) && tokens->kinds[last + 1] != END; last++) {
        int next = tokens->kinds[last + 1];
        if (next == ON || next == AS || next == STRING || next == LBRACE || next == RBRACE || next == COMMA)
            break;
    }
    uint32_t start = tokens->starts[unexpected->at], end = tokens->ends[last];
    const char *edit = text_format(reader->arena, "\"%.*s\"", (int)(end - start), reader->source->bytes + start);
    return mend_with(unexpected, start, end, edit, "put it in quotes");
}

/* Whether what stands at marks stands here: places, rows or stations. */
static bool holds_marks(const Unexpected *unexpected)
{
    const OpenBrace *brace = surrounding(unexpected->reader, unexpected->at);
    return brace && (brace->kind == BRACE_ROD || brace->kind == BRACE_SERIES || brace->kind == BRACE_FIELDS);
}

static bool mend_mark(const Unexpected *unexpected)
{
    uint32_t start = unexpected->reader->tokens.starts[unexpected->at];
    return kind_at(unexpected, 0) == NUMBER && expects(unexpected, AT) && holds_marks(unexpected)
           && mend_with(unexpected, start, start, "at ", "write `at` before it");
}

/* A word that joins others, which is no option of anything: taken out rather than given a colon. */
static bool is_joint(const Reader *reader, uint32_t at)
{
    static const char *const joints[] = {"to",     "in",   "down", "up",   "off", "with", "wrap",
                                         "x",      "a",    "an",   "the",  "by",  "each", "single",
                                         "double", "only", "wide", "long", "and", "or"};
    size_t length;
    const char *word = token_name(reader, at, &length);
    for (size_t i = 0; i < sizeof joints / sizeof *joints; i++)
        if (strlen(joints[i]) == length && memcmp(joints[i], word, length) == 0)
            return true;
    return false;
}

static bool mend_colon(const Unexpected *unexpected)
{
    const Tokens *tokens = &unexpected->reader->tokens;
    uint32_t at = unexpected->at;
    bool word = isalpha((unsigned char)unexpected->reader->source->bytes[tokens->starts[at]]);
    int next = kind_at(unexpected, 0) == END ? END : tokens->kinds[at + 1];
    static const uint8_t never[] = {PATTERN, ROD,  EDITION, ABOUT,  BLANK,  BENCH, USE,
                                    BAND,    FADE, INLAY,   STRAND, REPEAT, OF};
    if (!word || is_joint(unexpected->reader, at) || memchr(never, kind_at(unexpected, 0), sizeof never)
        || !expects(unexpected, LABEL) || !(next == ASSIGN || begins_value(next)))
        return false;
    uint32_t start = tokens->ends[at], end = next == ASSIGN ? tokens->ends[at + 1] : start;
    const char *mend = text_format(unexpected->reader->arena, "an option carries a colon: `%s:`",
                                   word_at(unexpected->reader, at));
    return mend_with(unexpected, start, end, ":", mend);
}

static bool mend_bracket(const Unexpected *unexpected)
{
    int kind = kind_at(unexpected, 0);
    if (!first_on_line(unexpected->reader, unexpected->at) && kind != LBRACE && kind != RBRACE && kind != OF
        && kind != END)
        return false;
    if (expects(unexpected, RBRACKET))
        return mend_behind(unexpected, 1, "]", "write `]` before it");
    return expects(unexpected, RPAREN) && mend_behind(unexpected, 1, ")", "write `)` before it");
}

/* A block without its opening brace. The one that closes it will come: it is awaited. */
static bool mend_opening_brace(const Unexpected *unexpected)
{
    Reader *reader = unexpected->reader;
    int kind = kind_at(unexpected, 0);
    bool statement = token_policy[kind] & BEGINS_STATEMENT
                     || (kind == WORD && reader->tokens.kinds[unexpected->at + 1] == LPAREN);
    if (!statement || !expects(unexpected, LBRACE) || reader->brace_depth == LIMIT_NESTING
        || brace_surplus(reader) <= 0)
        return false;
    reader->braces[reader->brace_depth++] = (OpenBrace){unexpected->at - 1, BRACE_MISSING};
    reader->surplus--;
    return mend_behind(unexpected, 1, " {", "write `{` before it");
}

static bool mend_comma(const Unexpected *unexpected)
{
    bool listed = expects(unexpected, RBRACKET) || expects(unexpected, RPAREN);
    return listed && expects(unexpected, COMMA) && begins_value(kind_at(unexpected, 0))
           && mend_behind(unexpected, 1, ",", "write `,` before it");
}

static bool mend_edition(const Unexpected *unexpected)
{
    const Tokens *tokens = &unexpected->reader->tokens;
    if (kind_at(unexpected, 1) != EDITION)
        return false;
    if (kind_at(unexpected, 0) == STRING)
        return mend_with(unexpected, tokens->starts[unexpected->at], tokens->ends[unexpected->at], "1",
                         "write `edition 1`");
    return mend_behind(unexpected, 1, " 1", "write `edition 1`");
}

static bool mend_known_slip(const Unexpected *unexpected)
{
    static bool (*const mends[])(const Unexpected *) = {mend_extent,  mend_quotes, mend_mark,   mend_colon,
                                                        mend_bracket, mend_comma,  mend_edition};
    for (size_t i = 0; i < sizeof mends / sizeof *mends; i++)
        if (mends[i](unexpected))
            return true;
    return false;
}

/* --- what can be tried with any token --- */

static bool take_out(const Unexpected *unexpected, uint32_t first, uint32_t end)
{
    const Tokens *tokens = &unexpected->reader->tokens;
    Span span = {tokens->starts[first], tokens->ends[end - 1], unexpected->reader->tree->file};
    const char *bytes = unexpected->reader->source->bytes;
    const char *mend = text_format(unexpected->reader->arena, "take `%.*s` out", (int)(span.end - span.start),
                                   bytes + span.start);
    while (span.start && bytes[span.start - 1] == ' ')
        span.start--;
    return mend_with(unexpected, span.start, span.end, "", mend);
}

static bool write_for(const Unexpected *unexpected, uint32_t at, const char *text)
{
    const Tokens *tokens = &unexpected->reader->tokens;
    return mend_with(unexpected, tokens->starts[at], tokens->ends[at], text,
                     text_format(unexpected->reader->arena, "write `%s`", text));
}

static bool write_before(const Unexpected *unexpected, const char *text)
{
    Reader *reader = unexpected->reader;
    bool word = isalpha((unsigned char)*text) || *text == '=' || *text == '{';
    return unexpected->at
           && mend_behind(unexpected, 1, text_format(reader->arena, word ? " %s" : "%s", text),
                          text_format(reader->arena, "write `%s` before it", text));
}

/* `Of` for `of`. */
static bool write_small(const Unexpected *unexpected, uint32_t at)
{
    Reader *reader = unexpected->reader;
    if (reader->tokens.kinds[at] != WORD)
        return false;
    char word[12] = "";
    Span span = reader_span(reader, at);
    for (uint32_t i = 0; i < span.end - span.start && i + 1 < sizeof word; i++)
        word[i] = (char)tolower((unsigned char)reader->source->bytes[span.start + i]);
    for (int kind = EDITION; kind <= NO; kind++)
        if (strcmp(token_spelling(kind), word) == 0)
            return write_for(unexpected, at, word);
    return false;
}

/* A word or sign that would fit, to be tried; NULL for a class of them, and for what only goes on with a value. */
static const char *fitting(const Unexpected *unexpected, int i)
{
    static const uint8_t fit[] = {OF,     TO,     IN,     ON,       AS,    OUT,   AT,
                                  LBRACE, LPAREN, RPAREN, RBRACKET, COMMA, COLON, ASSIGN};
    int kind = unexpected->expected[i];
    const OpenBrace *brace = surrounding(unexpected->reader, unexpected->at);
    if ((kind == IN && expects(unexpected, NUMBER)) || (kind == AT && !holds_marks(unexpected))
        || (kind == COLON && brace && brace->kind == BRACE_ROD)) /* a place's guide is rarely what is missing */
        return NULL;
    return memchr(fit, kind, sizeof fit) ? token_spelling(kind) : NULL;
}

static bool mend_by_trial(const Unexpected *unexpected)
{
    Reader *reader = unexpected->reader;
    uint32_t at = unexpected->at;
    int kind = kind_at(unexpected, 0);
    bool sign = kind == COMMA || kind == COLON || kind == ASSIGN || kind == DOT || kind == MINUS || kind == PLUS
                || kind == DIVIDE || kind == TIMES || kind == EQUAL;
    if (kind == END || !at)
        return false;
    if (write_small(unexpected, at) || write_small(unexpected, at - 1)
        || (sign && take_out(unexpected, at, at + 1)))
        return true;
    for (int i = 0; i < unexpected->count; i++)
        if (fitting(unexpected, i) && write_before(unexpected, fitting(unexpected, i)))
            return true;
    for (int i = 0; i < unexpected->count && kind != RBRACE && kind != LBRACE; i++)
        if (fitting(unexpected, i) && !(kind == WORD && unexpected->expected[i] == COMMA)
            && write_for(unexpected, at, fitting(unexpected, i)))
            return true;
    if (kind == RBRACE || kind == LBRACE || first_on_line(reader, at))
        return false;
    int next = reader->tokens.kinds[at + 1];
    bool more = next != RBRACE && next != LBRACE && next != END && !first_on_line(reader, at + 1);
    return take_out(unexpected, at, at + 1) || (more && take_out(unexpected, at, at + 2))
           || (!first_on_line(reader, at - 1) && take_out(unexpected, at - 1, at));
}

/* What would fit is not worth telling where it would only go on with the value before, or is always allowed. */
static bool worth_telling(const Unexpected *unexpected, int kind)
{
    bool joins = token_policy[kind] & JOINS || kind == LPAREN || kind == DOT;
    return !joins && kind != SYNC && kind != KNOWN_LABEL && !(kind == COMMA && expects(unexpected, LABEL))
           && !(kind == COMMA && expects(unexpected, AT));
}

static const char *what_would_fit(const Unexpected *unexpected, int *only)
{
    enum { MOST_TOLD = 3 }; /* one by one */
    int kept[MOST_TOLD], kept_count = 0;
    int before = kind_at(unexpected, 1);
    *only = -1;
    if (expects(unexpected, LPAREN) && unexpected->count > 8 && unexpected->at && !(token_policy[before] & ENDS))
        return "a value";
    for (int i = 0; i < unexpected->count; i++) {
        if (!worth_telling(unexpected, unexpected->expected[i]))
            continue;
        if (kept_count < MOST_TOLD)
            kept[kept_count] = unexpected->expected[i];
        kept_count++;
    }
    const OpenBrace *brace = surrounding(unexpected->reader, unexpected->at);
    BraceKind around = brace ? brace->kind : BRACE_MODULE;
    if (kept_count > MOST_TOLD)
        return expects(unexpected, EDITION)                          ? "a declaration"
               : expects(unexpected, BAND) && around == BRACE_ROD    ? "a place or a closing brace"
               : expects(unexpected, BAND) && around == BRACE_SERIES ? "a row or a closing brace"
               : expects(unexpected, LABEL)                          ? "a statement, an option or a closing brace"
                                                                     : "a statement or a closing brace";
    if (kept_count == 1 && !strchr(token_spelling(kept[0]), ' '))
        *only = kept[0];
    return choices(unexpected->reader, kept, kept_count);
}

/* The kind of statement that a token begins, as far as it matters where it stands. */
static NodeKind statement_begun(int kind)
{
    switch (kind) {
    case AT:
    case ROW: return NODE_PLACE;
    case SERIES: return NODE_SERIES;
    case PART: return NODE_PART;
    case UNDER: return NODE_UNDER;
    case OVER: return NODE_OVER;
    default: return NODE_BROKEN;
    }
}

/* A statement among declarations; told once in the same braces. Returns false if it is another fault. What stands
 * in the wrong braces is read, and told of by meaning. */
static bool report_misplaced(const Unexpected *unexpected)
{
    Reader *reader = unexpected->reader;
    int kind = kind_at(unexpected, 0);
    if (!(token_policy[kind] & BEGINS_STATEMENT) || !expects(unexpected, EDITION))
        return false;
    const OpenBrace *brace = innermost(reader);
    bool told =
        reader->misplaced_in == reader->brace_depth + 1 && (!brace || reader->misplaced_brace == brace->token);
    reader->misplaced_in = reader->brace_depth + 1;
    reader->misplaced_brace = brace ? brace->token : 0;
    if (!told)
        report_misplaced_statement(reader->findings, statement_begun(kind), reader_span(reader, unexpected->at),
                                   as_written(reader, unexpected->at));
    return true;
}

/* What to tell of a token that does not fit. */
void report_unexpected_token(Reader *reader, uint32_t at, const int *expected, int count)
{
    const Tokens *tokens = &reader->tokens;
    Findings *findings = reader->findings;
    if (mend_phrase(reader, FINDING_SYNTAX, at, false))
        return;
    if (at && token_policy[tokens->kinds[at - 1]] & NAMES && is_keyword(reader, at)) {
        reserved_name(reader, at);
        return;
    }
    Unexpected unexpected = {reader, NULL, at, expected, count, false};
    if (report_misplaced(&unexpected))
        return;
    int only;
    const char *wanted = what_would_fit(&unexpected, &only),
               *before = at ? as_written(reader, at - 1) : "the start";
    unexpected.finding =
        finding_add(findings, FINDING_SYNTAX, reader_span(reader, at),
                    *wanted ? "%s does not fit here: after %s comes %s" : "%s does not fit after %s",
                    as_written(reader, at), before, wanted);
    if (!finding_is_kept(unexpected.finding) || mend_opening_brace(&unexpected))
        return;
    unexpected.tried = true;
    if (mend_known_slip(&unexpected))
        return;
    unexpected.tried = false; /* more than one may be missing */
    if (mend_comma(&unexpected))
        return;
    unexpected.tried = true;
    if (mend_by_trial(&unexpected))
        return;
    unexpected.tried = false;
    if (mend_known_slip(&unexpected) || (only >= 0 && write_before(&unexpected, token_spelling(only))))
        return;
    if (strcmp(wanted, "a value") == 0 && is_keyword(reader, at)) {
        finding_mend(findings, unexpected.finding, "write a value there: %s is a word of the language",
                     as_written(reader, at));
        return;
    }
    finding_mend(findings, unexpected.finding,
                 !*wanted ? "write the statement as the reference shows it" : "write %s there", wanted);
}
