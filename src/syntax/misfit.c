/* What to tell of a token that does not fit, and how to mend it. */
#include "syntax/feed.h"

#include "parser.h"

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
    int kind = reader->tree->tokens.kinds[at];
    return kind != WORD && kind != LABEL
           && isalpha((unsigned char)reader->source->bytes[reader->tree->tokens.starts[at]]);
}

/* A token that does not fit, and what would. */
typedef struct Misfit {
    Reader *reader;
    Finding *finding;
    uint32_t at;
    const int *expected;
    int count;
} Misfit;

static int kind_at(const Misfit *misfit, uint32_t back)
{
    return misfit->at >= back ? misfit->reader->tree->tokens.kinds[misfit->at - back] : END;
}

static bool expects(const Misfit *misfit, int kind)
{
    for (int i = 0; i < misfit->count; i++)
        if (misfit->expected[i] == kind)
            return true;
    return false;
}

static bool begins_value(int kind)
{
    return kind == NUMBER || kind == WORD || kind == STRING || kind == COLOUR || kind == LBRACKET || kind == LPAREN
           || kind == YES || kind == NO;
}

static bool mend_with(const Misfit *misfit, uint32_t start, uint32_t end, const char *edit, const char *mend)
{
    Findings *findings = misfit->reader->findings;
    finding_mend(findings, misfit->finding, "%s", mend);
    finding_edit(findings, misfit->finding, (Span){start, end, misfit->reader->tree->file}, "%s", edit);
    return true;
}

/* Behind the token so many before the misfit. */
static bool mend_behind(const Misfit *misfit, uint32_t back, const char *edit, const char *mend)
{
    uint32_t end = misfit->at >= back ? misfit->reader->tree->tokens.ends[misfit->at - back] : 0;
    return mend_with(misfit, end, end, edit, mend);
}

/* `band navy 20 turns`: the other way round. */
static bool mend_order(const Misfit *misfit)
{
    const Tokens *tokens = &misfit->reader->tree->tokens;
    if ((kind_at(misfit, 2) != BAND && kind_at(misfit, 2) != INLAY) || kind_at(misfit, 1) != WORD
        || kind_at(misfit, 0) != NUMBER)
        return false;
    const char *edit = text_format(misfit->reader->arena, "%s of %s", word_at(misfit->reader, misfit->at),
                                   word_at(misfit->reader, misfit->at - 1));
    return mend_with(misfit, tokens->starts[misfit->at - 1], tokens->ends[misfit->at], edit,
                     "how much comes first, then `of` and the thread");
}

static bool mend_fade(const Misfit *misfit)
{
    return kind_at(misfit, 2) == FADE && kind_at(misfit, 1) == WORD && kind_at(misfit, 0) == LABEL
           && mend_behind(misfit, 2, " to", "a fade into one thread is a `fade to`: write `to` before the thread");
}

static bool mend_extent(const Misfit *misfit)
{
    if (kind_at(misfit, 0) == OF && kind_at(misfit, 1) == STRAND)
        return mend_behind(misfit, 1, " 1", "say how many strands, or `fill`, such as `strand 1 of`");
    return kind_at(misfit, 0) == OF && (kind_at(misfit, 1) == BAND || kind_at(misfit, 1) == FADE)
           && mend_behind(misfit, 1, " 20 turns", "say how much: turns, a length or `fill`, such as `20 turns`");
}

/* Words without their quotes: up to the word that follows a title or a file's name, or to the end of the line. */
static bool mend_quotes(const Misfit *misfit)
{
    Reader *reader = misfit->reader;
    const Tokens *tokens = &reader->tree->tokens;
    uint32_t last = misfit->at;
    if (!expects(misfit, STRING) || misfit->count > 2
        || (tokens->kinds[last] != WORD && tokens->kinds[last] != NUMBER))
        return false;
    for (; !first_on_line(reader, last + 1) && tokens->kinds[last + 1] != END; last++) {
        int next = tokens->kinds[last + 1];
        if (next == ON || next == AS || next == STRING || next == LBRACE || next == RBRACE || next == COMMA)
            break;
    }
    uint32_t start = tokens->starts[misfit->at], end = tokens->ends[last];
    const char *edit = text_format(reader->arena, "\"%.*s\"", (int)(end - start), reader->source->bytes + start);
    return mend_with(misfit, start, end, edit, "put it in quotes");
}

static bool mend_mark(const Misfit *misfit)
{
    uint32_t start = misfit->reader->tree->tokens.starts[misfit->at];
    return kind_at(misfit, 0) == NUMBER && expects(misfit, AT)
           && mend_with(misfit, start, start, "at ", "write `at` before it");
}

static bool mend_colon(const Misfit *misfit)
{
    const Tokens *tokens = &misfit->reader->tree->tokens;
    uint32_t at = misfit->at;
    bool word = isalpha((unsigned char)misfit->reader->source->bytes[tokens->starts[at]]);
    int next = kind_at(misfit, 0) == END ? END : tokens->kinds[at + 1];
    if (!word || !expects(misfit, LABEL) || !(next == ASSIGN || begins_value(next)))
        return false;
    uint32_t start = tokens->ends[at], end = next == ASSIGN ? tokens->ends[at + 1] : start;
    const char *mend =
        text_format(misfit->reader->arena, "an option carries a colon: `%s:`", word_at(misfit->reader, at));
    return mend_with(misfit, start, end, ":", mend);
}

static bool mend_bracket(const Misfit *misfit)
{
    int kind = kind_at(misfit, 0);
    if (!first_on_line(misfit->reader, misfit->at) && kind != LBRACE && kind != RBRACE && kind != OF
        && kind != END)
        return false;
    if (expects(misfit, RBRACKET))
        return mend_behind(misfit, 1, "]", "write `]` before it");
    return expects(misfit, RPAREN) && mend_behind(misfit, 1, ")", "write `)` before it");
}

/* A block without its opening brace. The one that closes it will come: it is awaited. */
static bool mend_block(const Misfit *misfit)
{
    Reader *reader = misfit->reader;
    int kind = kind_at(misfit, 0);
    bool statement = token_policy[kind] & BEGINS_STATEMENT
                     || (kind == WORD && reader->tree->tokens.kinds[misfit->at + 1] == LPAREN);
    if (!statement || !expects(misfit, LBRACE) || reader->brace_depth == LIMIT_NESTING
        || brace_surplus(reader) <= 0)
        return false;
    reader->braces[reader->brace_depth++] = (OpenBrace){misfit->at - 1, BRACE_MISSING};
    reader->surplus--;
    return mend_behind(misfit, 1, " {", "write `{` before it");
}

static bool mend_comma(const Misfit *misfit)
{
    bool listed = expects(misfit, RBRACKET) || expects(misfit, RPAREN);
    return listed && expects(misfit, COMMA) && begins_value(kind_at(misfit, 0))
           && mend_behind(misfit, 1, ",", "write `,` before it");
}

static bool mend_edition(const Misfit *misfit)
{
    const Tokens *tokens = &misfit->reader->tree->tokens;
    if (kind_at(misfit, 1) != EDITION)
        return false;
    if (kind_at(misfit, 0) == STRING)
        return mend_with(misfit, tokens->starts[misfit->at], tokens->ends[misfit->at], "1", "write `edition 1`");
    return mend_behind(misfit, 1, " 1", "write `edition 1`");
}

static bool mend_known_slip(const Misfit *misfit)
{
    static bool (*const mends[])(const Misfit *) = {mend_block,  mend_order,  mend_fade,  mend_extent,
                                                    mend_quotes, mend_mark,   mend_colon, mend_bracket,
                                                    mend_comma,  mend_edition};
    for (size_t i = 0; i < sizeof mends / sizeof *mends; i++)
        if (mends[i](misfit))
            return true;
    return false;
}

/* What would fit is not worth telling where it would only go on with the value before, or is always allowed. */
static bool worth_telling(const Misfit *misfit, int kind)
{
    bool joins = token_policy[kind] & JOINS || kind == LPAREN || kind == DOT;
    return !joins && kind != SYNC && !(kind == COMMA && expects(misfit, LABEL))
           && !(kind == COMMA && expects(misfit, AT));
}

static const char *what_would_fit(const Misfit *misfit, int *only)
{
    int kept[4], kept_count = 0;
    int before = kind_at(misfit, 1);
    *only = -1;
    if (expects(misfit, LPAREN) && misfit->count > 8 && misfit->at && !(token_policy[before] & ENDS))
        return "a value";
    for (int i = 0; i < misfit->count; i++) {
        if (!worth_telling(misfit, misfit->expected[i]))
            continue;
        if (kept_count < 4)
            kept[kept_count] = misfit->expected[i];
        kept_count++;
    }
    if (kept_count > 4)
        return expects(misfit, EDITION) ? "a declaration"
               : expects(misfit, LABEL) ? "a statement, an option or a closing brace"
                                        : "a statement or a closing brace";
    if (kept_count == 1 && !strchr(token_spelling(kept[0]), ' '))
        *only = kept[0];
    return choices(misfit->reader, kept, kept_count);
}

/* A statement, layer or place where none can stand; told once in the same braces. Returns false if it is another
 * fault. */
static bool report_misplaced(const Misfit *misfit)
{
    Reader *reader = misfit->reader;
    int kind = kind_at(misfit, 0);
    bool among_declarations = expects(misfit, EDITION), among_statements = expects(misfit, BAND);
    bool among_places = expects(misfit, AT) && !expects(misfit, COMMA) && !among_statements;
    if (!(token_policy[kind] & BEGINS_STATEMENT) || !(among_declarations || among_statements || among_places))
        return false;
    const OpenBrace *brace = innermost(reader);
    bool told =
        reader->misplaced_in == reader->brace_depth + 1 && (!brace || reader->misplaced_brace == brace->token);
    reader->misplaced_in = reader->brace_depth + 1;
    reader->misplaced_brace = brace ? brace->token : 0;
    if (told)
        return true;
    bool layer = kind == UNDER || kind == OVER;
    Finding *finding = finding_add(reader->findings, FINDING_NOT_HERE, reader_span(reader, misfit->at),
                                   "%s begins a %s, which stands %s", as_written(reader, misfit->at),
                                   kind == AT ? "place"
                                   : layer    ? "layer"
                                              : "statement",
                                   kind == AT ? "directly in the braces of a rod"
                                   : layer    ? "directly in the braces of a place"
                                              : "in a place or a pattern");
    finding_mend(reader->findings, finding,
                 kind == AT ? "close the braces before it, or put it into a rod"
                 : layer    ? "close the braces before it, or put it into a place"
                            : "put it into a place, as in `at 60 cm { ... }`");
    return true;
}

/* What to tell of a token that does not fit. */
void report_misfit(Reader *reader, uint32_t at, const int *expected, int count)
{
    const Tokens *tokens = &reader->tree->tokens;
    Findings *findings = reader->findings;
    if (at && token_policy[tokens->kinds[at - 1]] & NAMES && is_keyword(reader, at)) {
        reserved_name(reader, at);
        return;
    }
    Misfit misfit = {reader, NULL, at, expected, count};
    if (report_misplaced(&misfit))
        return;
    int only;
    const char *wanted = what_would_fit(&misfit, &only), *before = at ? as_written(reader, at - 1) : "the start";
    misfit.finding = finding_add(findings, FINDING_SYNTAX, reader_span(reader, at),
                                 *wanted ? "%s does not fit here: after %s comes %s" : "%s does not fit after %s",
                                 as_written(reader, at), before, wanted);
    if (mend_known_slip(&misfit))
        return;
    const char *spelling = only < 0 ? "" : token_spelling(only);
    if (only >= 0)
        mend_behind(&misfit, 1,
                    text_format(reader->arena,
                                isalpha((unsigned char)*spelling) ? " %s"
                                : only == ASSIGN                  ? " ="
                                                                  : "%s",
                                spelling),
                    text_format(reader->arena, "write `%s` before it", spelling));
    else
        finding_mend(findings, misfit.finding,
                     strcmp(wanted, "a value") != 0 ? "see what is missing before it, or take it out"
                     : is_keyword(reader, at)       ? "write a value there; a word of the language is none"
                                                    : "write a value there");
}
