/* Slips that are mended before the parser sees them, so that the rest of the statement is still read. */
#include "syntax/phrase.h"

#include "parser.h"

#include <ctype.h>
#include <string.h>

/* Words that people begin with where the language has another one. */
static const struct {
    const char *word;
    int kind;
} other_words[] = {
    {"wrap", BAND},      {"wind", BAND},     {"stripe", BAND},    {"cross", FADE},       {"blend", FADE},
    {"crossover", FADE}, {"space", GAP},     {"skip", GAP},       {"loop", REPEAT},      {"times", REPEAT},
    {"each", FOR},       {"when", IF},       {"assert", REQUIRE}, {"check", REQUIRE},    {"set", LET},
    {"define", LET},     {"import", USE},    {"include", USE},    {"yarn", THREAD},      {"colour", THREAD},
    {"ring", GUIDE},     {"eye", GUIDE},     {"rodblank", BLANK}, {"function", PATTERN}, {"crosswrap", CHEVRON},
    {"var", LET},        {"const", LET},     {"val", LET},        {"foreach", FOR},      {"reverse", MIRROR},
    {"def", PATTERN},    {"macro", PATTERN}, {"motif", PATTERN},  {"design", PATTERN},   {"leave", GAP},
    {"winding", BAND},   {"place", AT},      {"fading", FADE},    {"inset", INLAY},      {"accent", INLAY},
    {"thr", THREAD},     {"using", USE},     {"load", USE},       {"info", ABOUT},       {"settings", BENCH},
    {"arrow", CHEVRON},  {"helix", SPIRAL},
};

static bool can_begin(int kind, bool in_braces)
{
    return kind != ROW
           && (token_policy[kind] & (in_braces ? BEGINS_STATEMENT : BEGINS_DECLARATION) || kind == LET);
}

/* Nearest word of the language that can begin a declaration (or, within braces, a statement), another one than it
 * is itself: `part` is a name where no part can follow. -1 if none is near. */
static int nearest_beginning(const char *word, bool in_braces)
{
    int nearest = -1;
    unsigned best = 3;
    char small[12] = "";
    for (size_t i = 0; word[i] && i + 1 < sizeof small; i++)
        small[i] = (char)tolower((unsigned char)word[i]);
    for (int kind = END; kind <= DIVIDE; kind++)
        if (can_begin(kind, in_braces) && strcmp(small, token_spelling(kind)) == 0
            && strcmp(word, token_spelling(kind)) != 0)
            return kind;
    for (int kind = END; kind <= DIVIDE; kind++) {
        if (!can_begin(kind, in_braces))
            continue;
        unsigned distance = text_distance(word, token_spelling(kind), best - 1);
        if (distance > 0 && distance < best && distance * 2 < strlen(word)) {
            best = distance;
            nearest = kind;
        }
    }
    for (size_t i = 0; i < sizeof other_words / sizeof *other_words && nearest < 0; i++)
        if (can_begin(other_words[i].kind, in_braces) && strcmp(word, other_words[i].word) == 0)
            nearest = other_words[i].kind;
    return nearest;
}

/* A word where only a statement's first word can stand, and no call: a word of the language misspelt. The
 * nearest one is taken for it, so that the rest of the statement is still read. */
bool mend_keyword(Reader *reader, uint32_t at)
{
    Tokens *tokens = &reader->tokens;
    int before = at ? tokens->kinds[at - 1] : LBRACE, after = tokens->kinds[at + 1];
    const OpenBrace *brace = innermost(reader);
    if (!(token_policy[before] & ENDS) || reader->bracket_depth || after == LPAREN || after == DOT
        || (brace && brace->kind == BRACE_FIELDS)
        || !(first_on_line(reader, at) || before == LBRACE || before == RBRACE))
        return true;
    bool words_alone = after != ASSIGN; /* a name before `=` is no word misspelt */
    if (mend_phrase(reader, FINDING_MISSPELT_KEYWORD, at, words_alone))
        return false;
    Span span = reader_span(reader, at);
    const char *word = word_at(reader, at);
    int nearest = nearest_beginning(word, brace && brace->kind != BRACE_MODULE);
    if (nearest < 0 && mend_phrase(reader, FINDING_MISSPELT_KEYWORD, at, false))
        return false;
    Finding *finding = finding_add(reader->findings, FINDING_MISSPELT_KEYWORD, span, "unknown word `%s`", word);
    if (nearest < 0) {
        finding_mend(reader->findings, finding,
                     "begin with a word like band, fade, thread or rod, or call a pattern: %s(...)", word);
        return false;
    }
    finding_mend(reader->findings, finding, "write `%s`", token_spelling(nearest));
    finding_edit(reader->findings, finding, span, "%s", token_spelling(nearest));
    tokens->kinds[at] = (uint8_t)(nearest == AT && brace && brace->kind == BRACE_SERIES ? ROW : nearest);
    reader->amended = true;
    return true;
}

bool mend_stray_word(Reader *reader, uint32_t at)
{
    const Tokens *tokens = &reader->tokens;
    const OpenBrace *brace = innermost(reader);
    int kind = tokens->kinds[at], before = at ? tokens->kinds[at - 1] : LBRACE, after = tokens->kinds[at + 1];
    bool here = brace && brace->kind == BRACE_SERIES && at && token_is(reader, at - 1, "here", strlen("here"));
    bool statements =
        here
        || (brace && (brace->kind == BRACE_BODY || brace->kind == BRACE_BAND || brace->kind == BRACE_MISSING));
    if (!statements || reader->bracket_depth || first_on_line(reader, at) || !(token_policy[before] & ENDS)
        || before == LBRACE || before == RBRACE || before == FILL || after == LPAREN || after == DOT
        || tokens->details[at] & TOKEN_AFTER_FAULT)
        return true;
    /* `inlay 2 turns of foam at 1/2`, `require edge at least 2 turns` */
    bool mark = kind == AT
                && (phrase_place(reader, at) == 'B' || token_is(reader, at + 1, "least", strlen("least"))
                    || token_is(reader, at + 1, "most", strlen("most")));
    if ((kind != WORD && after != NUMBER && !mark)
        || (before == NUMBER && (at < 2 || tokens->kinds[at - 2] != LABEL)))
        return true;
    static const int expected[] = {LABEL};
    reader->amended = true;
    report_unexpected_token(reader, at, expected, 1);
    return false;
}

/* "0.5", whatever the locale makes of a point. */
static double decimal(const char *digits)
{
    double value = 0, place = 1;
    for (bool decimals = false; (*digits >= '0' && *digits <= '9') || *digits == '.'; digits++) {
        place *= decimals ? 0.1 : 1;
        if (*digits == '.')
            decimals = true;
        else
            value = decimals ? value + place * (*digits - '0') : value * 10 + (*digits - '0');
    }
    return value;
}

/* A word right after a number on its line can only be meant as a unit. */
bool drop_unknown_unit(Reader *reader, uint32_t at)
{
    Tokens *tokens = &reader->tokens;
    Unit unit = (Unit)(tokens->details[at] & TOKEN_UNIT);
    if (tokens->kinds[at + 1] != WORD || first_on_line(reader, at + 1) || (at && tokens->kinds[at - 1] == STRAND)
        || (unit != UNIT_NONE && unit != UNIT_UNKNOWN) || brace_owed(reader, at + 1))
        return true;
    bool reported = unit == UNIT_UNKNOWN || tokens->details[at + 1] & TOKEN_AFTER_FAULT;
    /* Of parameters and arguments a word that is nearly a unit is no other one. */
    bool misspelt = strchr("CP", phrase_place(reader, at)) && unit_meant(word_at(reader, at + 1)) != UNIT_NONE;
    if (!reported && !misspelt && mend_phrase(reader, FINDING_UNKNOWN_UNIT, at + 1, false))
        return false;
    reader->position++;
    tokens->details[at] = (uint8_t)(UNIT_UNKNOWN | (tokens->details[at] & ~TOKEN_UNIT));
    if (reported)
        return true;
    Span span = reader_span(reader, at + 1);
    const char *word = word_at(reader, at + 1);
    Unit meant = unit_meant(word);
    const char *spelling = unit_spelling(meant == UNIT_NONE ? UNIT_MM : meant);
    Finding *finding = finding_add(reader->findings, FINDING_UNKNOWN_UNIT, span, "`%s` is not a unit", word);
    const char *scaled = scaled_unit(reader->arena, word, decimal(word_at(reader, at)));
    if (scaled) {
        finding_mend(reader->findings, finding, "write `%s`", scaled);
        span.start = tokens->starts[at];
        finding_edit(reader->findings, finding, span, "%s", scaled);
        return true;
    }
    finding_mend(reader->findings, finding,
                 meant != UNIT_NONE ? "write `%s`"
                                    : "write a unit: mm, cm, m, in, ft, yd, turns, deg or %%, such as `%s`",
                 spelling);
    finding_edit(reader->findings, finding, span, "%s", spelling);
    return true;
}

/* `0,5 mm`: outside brackets a comma never stands between two numbers. The second one is taken for both. */
bool mend_decimal_comma(Reader *reader, uint32_t at)
{
    Tokens *tokens = &reader->tokens;
    if (tokens->kinds[at + 1] != COMMA || tokens->kinds[at + 2] != NUMBER || reader->bracket_depth
        || tokens->ends[at] != tokens->starts[at + 1] || tokens->ends[at + 1] != tokens->starts[at + 2])
        return false;
    Span span = reader_span(reader, at);
    span.end = tokens->ends[at + 2];
    const char *bytes = reader->source->bytes;
    Finding *finding = finding_add(reader->findings, FINDING_BAD_NUMBER, span, "this number cannot be read");
    bool thousands = *(bytes + span.start) != '0' && (tokens->details[at + 2] & TOKEN_UNIT) == UNIT_MM
                     && strspn(bytes + tokens->starts[at + 2], "0123456789") == 3;
    const char *written =
        text_format(reader->arena, thousands ? "%.*s%.*s" : "%.*s.%.*s", (int)(tokens->ends[at] - span.start),
                    bytes + span.start, (int)(span.end - tokens->starts[at + 2]), bytes + tokens->starts[at + 2]);
    finding_mend(reader->findings, finding,
                 thousands ? "write thousands without a comma: `%s`" : "write a point for the comma: `%s`",
                 written);
    finding_edit(reader->findings, finding, span, "%s", written);
    tokens->starts[at + 2] = span.start;
    tokens->details[at + 2] = (uint8_t)(UNIT_UNKNOWN | (tokens->details[at] & ~TOKEN_UNIT));
    reader->position = at + 2;
    return true;
}

/* The token after the statement or declaration that begins here, with its block. */
uint32_t after_statement(const Reader *reader, uint32_t at)
{
    const Tokens *tokens = &reader->tokens;
    uint32_t next = at + 1, depth = 0;
    for (; tokens->kinds[next] != END; next++) {
        int kind = tokens->kinds[next];
        if (kind == LBRACE)
            depth++;
        else if (kind == RBRACE && depth == 0)
            break;
        else if (kind == RBRACE && --depth == 0)
            return next + 1;
        else if (!depth && first_on_line(reader, next)
                 && token_policy[kind] & (BEGINS_STATEMENT | BEGINS_DECLARATION))
            break;
    }
    return next;
}

void reserved_name(Reader *reader, uint32_t at)
{
    Finding *finding = finding_add(reader->findings, FINDING_RESERVED_NAME, reader_span(reader, at),
                                   "%s is a word of the language and cannot be a name", as_written(reader, at));
    finding_mend(reader->findings, finding, "choose another name, such as my_%s", word_at(reader, at));
    finding_edit(reader->findings, finding, finding->at.span, "my_%s", word_at(reader, at));
}
