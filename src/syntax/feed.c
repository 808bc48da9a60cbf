/* Between scanner and parser: hands over tokens one by one, and decides what happens when one does not fit. The policy is
 * the table below: where a statement can begin, the parser can go on after a fault. */
#include "syntax/reader.h"

#include "parser.h"

#include <ctype.h>
#include <string.h>

enum {
    ENDS = 1,              /* may be the last token of a statement */
    BEGINS_STATEMENT = 2,
    BEGINS_DECLARATION = 4,
    NAMES = 8,             /* a name of the user's stands after it */
    JOINS = 16,            /* could go on any value; not worth telling people about */
    WATCHED = 32           /* feed looks closer */
};

static const uint8_t policy[] = {
    [END] = WATCHED,
    [WORD] = ENDS | WATCHED,
    [NUMBER] = ENDS | WATCHED,
    [STRING] = ENDS, [COLOUR] = ENDS, [PER_UNIT] = ENDS | JOINS, [YES] = ENDS, [NO] = ENDS,
    [TURNS] = ENDS | JOINS, [FILL] = ENDS,
    [EDITION] = BEGINS_DECLARATION | WATCHED, [ABOUT] = BEGINS_DECLARATION | WATCHED,
    [USE] = BEGINS_DECLARATION | WATCHED, [SIZE] = BEGINS_DECLARATION | NAMES | WATCHED,
    [THREAD] = BEGINS_DECLARATION | NAMES | WATCHED, [BENCH] = BEGINS_DECLARATION | WATCHED,
    [BLANK] = BEGINS_DECLARATION | NAMES | WATCHED, [GUIDE] = BEGINS_DECLARATION | NAMES | WATCHED,
    [PATTERN] = BEGINS_DECLARATION | NAMES | WATCHED, [ROD] = BEGINS_DECLARATION | WATCHED,
    [LET] = BEGINS_STATEMENT | NAMES, [BAND] = BEGINS_STATEMENT, [FADE] = BEGINS_STATEMENT,
    [INLAY] = BEGINS_STATEMENT, [GAP] = BEGINS_STATEMENT, [REPEAT] = BEGINS_STATEMENT, [MIRROR] = BEGINS_STATEMENT,
    [SYMMETRIC] = BEGINS_STATEMENT, [FOR] = BEGINS_STATEMENT | NAMES, [IF] = BEGINS_STATEMENT,
    [REQUIRE] = BEGINS_STATEMENT, [UNDER] = BEGINS_STATEMENT, [OVER] = BEGINS_STATEMENT, [AT] = BEGINS_STATEMENT,
    [AS] = NAMES, [ON] = NAMES,
    [RESERVED] = BEGINS_STATEMENT | WATCHED,
    [LBRACE] = ENDS | WATCHED, [RBRACE] = ENDS | WATCHED,
    [LPAREN] = WATCHED, [LBRACKET] = WATCHED, [RPAREN] = ENDS | WATCHED, [RBRACKET] = ENDS | WATCHED,
    [AND] = JOINS, [OR] = JOINS, [PER] = JOINS, [EQUAL] = JOINS, [UNEQUAL] = JOINS, [LESS] = JOINS,
    [LESS_EQUAL] = JOINS, [GREATER] = JOINS, [GREATER_EQUAL] = JOINS, [PLUS] = JOINS, [MINUS] = JOINS,
    [TIMES] = JOINS, [DIVIDE] = JOINS,
};
_Static_assert(sizeof policy == DIVIDE + 1, "every kind of token needs its policy");

static bool first_on_line(const Reader *reader, uint32_t token)
{
    return reader->tree->tokens.details[token] & TOKEN_FIRST_ON_LINE;
}

Span reader_span(const Reader *reader, uint32_t token)
{
    const Tokens *tokens = &reader->tree->tokens;
    return (Span){tokens->starts[token], tokens->ends[token], reader->tree->file};
}

static const char *as_written(const Reader *reader, uint32_t token)
{
    Span span = reader_span(reader, token);
    enum { LONGEST = 40 };
    if (span.start == span.end)
        return "the end of the file";
    int length = (int)(span.end - span.start);
    const char *bytes = reader->source->bytes + span.start;
    if (length > LONGEST) {
        length = LONGEST;
        while (((unsigned char)bytes[length] & 0xc0) == 0x80)
            length--;
        return text_format(reader->arena, "`%.*s...`", length, bytes);
    }
    return text_format(reader->arena, "`%.*s`", length, bytes);
}

/* Nearest word of the language that can begin a declaration (or, within braces, a statement); -1 if none is near. */
static int nearest_beginning(const char *word, bool in_braces)
{
    int nearest = -1;
    unsigned best = 3;
    for (size_t kind = 0; kind < sizeof policy; kind++) {
        bool fits = policy[kind] & (in_braces ? BEGINS_STATEMENT : BEGINS_DECLARATION) || kind == LET;
        if (!fits || kind == RESERVED)
            continue;
        unsigned distance = text_distance(word, token_spelling((int)kind), best - 1);
        if (distance < best && distance * 2 < strlen(word)) {
            best = distance;
            nearest = (int)kind;
        }
    }
    return nearest;
}

/* A word where only a statement's first word can stand, and no call: a word of the language misspelt. The
 * nearest one is taken for it, so that the rest of the statement is still read. */
static bool mend_keyword(Reader *reader, uint32_t at)
{
    Tokens *tokens = &reader->tree->tokens;
    int before = at ? tokens->kinds[at - 1] : LBRACE, after = tokens->kinds[at + 1];
    if (!(policy[before] & ENDS) || reader->bracket_depth || after == LPAREN || after == DOT
        || !(first_on_line(reader, at) || before == LBRACE || before == RBRACE))
        return true;
    Span span = reader_span(reader, at);
    const char *word = text_format(reader->arena, "%.*s", (int)(span.end - span.start), reader->source->bytes + span.start);
    bool in_braces = reader->brace_depth && !reader->braces[reader->brace_depth - 1].of_module;
    int nearest = nearest_beginning(word, in_braces);
    Finding *finding = finding_add(reader->findings, FINDING_MISSPELT_KEYWORD, span,
                                   "`%s` is no word that begins a statement", word);
    if (nearest < 0) {
        finding_mend(reader->findings, finding, "begin with a word like band, fade, thread or rod, or call a pattern: %s(...)", word);
        return false;
    }
    finding_mend(reader->findings, finding, "write `%s`", token_spelling(nearest));
    finding_edit(reader->findings, finding, span, "%s", token_spelling(nearest));
    tokens->kinds[at] = (uint8_t)nearest;
    return true;
}

/* A word right after a number on its line can only be meant as a unit. */
static void drop_unknown_unit(Reader *reader, uint32_t at)
{
    Tokens *tokens = &reader->tree->tokens;
    Unit unit = (Unit)(tokens->details[at] & TOKEN_UNIT);
    if (tokens->kinds[at + 1] != WORD || first_on_line(reader, at + 1) || (unit != UNIT_NONE && unit != UNIT_UNKNOWN))
        return;
    reader->position++;
    if (unit == UNIT_UNKNOWN)
        return;   /* the number itself is reported */
    Span span = reader_span(reader, at + 1);
    const char *word = text_format(reader->arena, "%.*s", (int)(span.end - span.start), reader->source->bytes + span.start);
    const char *nearest = "mm";
    unsigned best = 3;
    for (Unit candidate = UNIT_MM; candidate < UNIT_UNKNOWN; candidate++) {
        unsigned distance = text_distance(word, unit_spelling(candidate), best - 1);
        if (distance < best) {
            best = distance;
            nearest = unit_spelling(candidate);
        }
    }
    Finding *finding = finding_add(reader->findings, FINDING_UNKNOWN_UNIT, span, "`%s` is not a unit", word);
    finding_mend(reader->findings, finding, best < 3 ? "write `%s`" : "write a unit: mm, cm, m, in, ft, yd, turns, deg or %%, such as `%s`", nearest);
    finding_edit(reader->findings, finding, span, "%s", nearest);
    tokens->details[at] = (uint8_t)(UNIT_UNKNOWN | (tokens->details[at] & ~TOKEN_UNIT));
}

/* Chevrons and the like belong to a later edition of the program: said once, and stepped over with their blocks. */
static void skip_reserved(Reader *reader, uint32_t at)
{
    const Tokens *tokens = &reader->tree->tokens;
    Finding *finding = finding_add(reader->findings, FINDING_RESERVED_WORD, reader_span(reader, at),
                                   "%s is kept for crosswraps, which this program does not lay yet", as_written(reader, at));
    finding_mend(reader->findings, finding, "take the crosswrap out; bands and fades can stand in its place");
    uint32_t next = at + 1, depth = 0;
    for (; tokens->kinds[next] != END; next++) {
        int kind = tokens->kinds[next];
        if (kind == LBRACE)
            depth++;
        else if (kind == RBRACE && depth == 0)
            break;
        else if (kind == RBRACE && --depth == 0) {
            next++;
            break;
        } else if (!depth && first_on_line(reader, next) && policy[kind] & (BEGINS_STATEMENT | BEGINS_DECLARATION))
            break;
    }
    reader->position = next;
}

static void open_brace(Reader *reader, uint32_t at)
{
    const uint8_t *kinds = reader->tree->tokens.kinds;
    if (reader->brace_depth == LIMIT_NESTING) {
        feed_too_deep(reader);
        return;
    }
    bool of_module = at >= 2 && ((kinds[at - 1] == STRING && kinds[at - 2] == USE) || (kinds[at - 1] == WORD && kinds[at - 2] == AS));
    reader->braces[reader->brace_depth++] = (OpenBrace){at, of_module};
    reader->bracket_depth = 0;
}

/* The braces from `keep` up are not closed: report the innermost and owe them to the parser. */
static void owe_braces(Reader *reader, uint32_t keep, uint32_t before)
{
    uint32_t open = reader->braces[reader->brace_depth - 1].token;
    LineColumn line = source_position(reader->source, reader->tree->tokens.starts[open]);
    Finding *finding = finding_add(reader->findings, FINDING_BRACE_NOT_CLOSED, reader_span(reader, open),
                                   "this { is not closed before line %u",
                                   source_position(reader->source, reader->tree->tokens.starts[before]).line);
    finding_relate(reader->findings, finding, reader_span(reader, before), "a } is missing before this");
    finding_mend(reader->findings, finding, "write } to close the { of line %u", line.line);
    Span here = reader_span(reader, before);
    here.end = here.start;
    uint32_t missing = reader->brace_depth - keep;
    char braces[LIMIT_NESTING + 2];
    memset(braces, '}', missing);
    strcpy(braces + missing, "\n");
    finding_edit(reader->findings, finding, here, "%s", braces);
    reader->close_owed = missing;
    reader->brace_depth = keep;
}

/* Declarations never stand in braces (but in those of a used file): before one, the braces still open are missing. */
static void check_declaration(Reader *reader, uint32_t at)
{
    uint32_t keep = reader->brace_depth;
    while (keep && !reader->braces[keep - 1].of_module)
        keep--;
    if (keep < reader->brace_depth && first_on_line(reader, at) && !reader->bracket_depth
        && policy[reader->tree->tokens.kinds[at - 1]] & ENDS)
        owe_braces(reader, keep, at);
}

static bool close_brace(Reader *reader, uint32_t at)
{
    if (reader->brace_depth) {
        reader->brace_depth--;
        return true;
    }
    Finding *finding = finding_add(reader->findings, FINDING_BRACE_NOT_OPEN, reader_span(reader, at), "this } closes nothing");
    finding_mend(reader->findings, finding, "take it out");
    finding_edit(reader->findings, finding, finding->at.span, "%s", "");
    return false;
}

/* Looks at a token that may need mending. Returns false if it is not for the parser. */
static bool watch(Reader *reader, uint32_t at)
{
    switch (reader->tree->tokens.kinds[at]) {
    case END:
        if (reader->brace_depth)
            owe_braces(reader, 0, at);
        break;
    case WORD:
        if (!mend_keyword(reader, at)) {
            reader->panic = true;
            reader->panic_at = at;
            return false;
        }
        if (policy[reader->tree->tokens.kinds[at]] & BEGINS_DECLARATION)
            check_declaration(reader, at);
        break;
    case NUMBER: drop_unknown_unit(reader, at); break;
    case RESERVED: skip_reserved(reader, at); return false;
    case LBRACE: open_brace(reader, at); break;
    case RBRACE: return close_brace(reader, at);
    case LPAREN:
    case LBRACKET:
        if (++reader->bracket_depth > LIMIT_NESTING)
            feed_too_deep(reader);
        break;
    case RPAREN:
    case RBRACKET: reader->bracket_depth -= reader->bracket_depth > 0; break;
    default: check_declaration(reader, at); break;
    }
    return true;
}

/* Where the parser can take up again: at a brace, at the end, or where a statement, declaration or option begins. */
static bool can_go_on(const Reader *reader, uint32_t at)
{
    const Tokens *tokens = &reader->tree->tokens;
    int kind = tokens->kinds[at];
    if (kind == END || kind == LBRACE || (kind == RBRACE && reader->brace_depth))
        return true;
    if (first_on_line(reader, at) && policy[kind] & (BEGINS_STATEMENT | BEGINS_DECLARATION))
        return true;
    if (at == reader->panic_at)
        return false;
    if (kind == LABEL)
        return first_on_line(reader, at) || tokens->kinds[at - 1] == COMMA;
    return kind == WORD && first_on_line(reader, at);
}

/* Skips to where the parser can go on. Returns true if SYNC is to be delivered there, false for an opening brace. */
static bool skip(Reader *reader)
{
    const uint8_t *kinds = reader->tree->tokens.kinds;
    uint32_t at = reader->position;
    while (!can_go_on(reader, at) || (at == reader->last_sync && kinds[at] != END && kinds[at] != LBRACE)) {
        if (kinds[at] == RBRACE && at == reader->last_sync)
            reader->brace_depth--;
        at++;
    }
    reader->position = at;
    reader->panic = false;
    if (kinds[at] == LBRACE)
        return false;
    reader->last_sync = at;
    return true;
}

static int hand_over(Reader *reader, Location *location, int kind, uint32_t at, bool of_its_own)
{
    const Tokens *tokens = &reader->tree->tokens;
    *location = (Location){tokens->starts[at], of_its_own ? tokens->ends[at] : tokens->starts[at]};
    reader->given = at;
    return kind;
}

/* The next token when something is amiss or may be. */
static int feed_closely(Reader *reader, Location *location)
{
    const Tokens *tokens = &reader->tree->tokens;
    for (;;) {
        if (reader->panic && skip(reader))
            return hand_over(reader, location, SYNC, reader->position, false);
        uint32_t at = reader->position;
        if (!reader->close_owed && policy[tokens->kinds[at]] & WATCHED) {
            reader->position = at + 1;
            if (!watch(reader, at)) {
                if (reader->panic)   /* the parser enters its recovery; what to say is said */
                    return hand_over(reader, location, PARSER_error, at, true);
                continue;
            }
            if (reader->close_owed)
                reader->position = at;
        } else if (!reader->close_owed)
            reader->position = at + 1;
        if (reader->too_deep) {
            reader->position = tokens->count - 1;
            return hand_over(reader, location, END, tokens->count - 1, true);
        }
        if (reader->close_owed) {
            reader->close_owed--;
            return hand_over(reader, location, RBRACE, at, false);
        }
        return hand_over(reader, location, tokens->kinds[at], at, true);
    }
}

/* Most words and numbers need no closer look. */
static bool watched(const Tokens *tokens, uint32_t at, int kind)
{
    if (kind == WORD)
        return tokens->details[at] & TOKEN_FIRST_ON_LINE || tokens->kinds[at - 1] == LBRACE || tokens->kinds[at - 1] == RBRACE;
    if (kind == NUMBER)
        return tokens->kinds[at + 1] == WORD;
    return policy[kind] & WATCHED;
}

int feed(Reader *reader, Location *location)
{
    uint32_t at = reader->position;
    int kind = reader->tree->tokens.kinds[at];
    if (watched(&reader->tree->tokens, at, kind) || reader->panic || reader->close_owed || reader->too_deep)
        return feed_closely(reader, location);
    reader->position = at + 1;
    return hand_over(reader, location, kind, at, true);
}

void feed_too_deep(Reader *reader)
{
    if (reader->too_deep)
        return;
    reader->too_deep = true;
    Finding *finding = finding_add(reader->findings, FINDING_NESTED_TOO_DEEP, reader_span(reader, reader->position - (reader->position > 0)),
                                   "this is nested deeper than %d", LIMIT_NESTING);
    finding_mend(reader->findings, finding, "put the inner part into a pattern or a `let` of its own");
}

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
    return kind != WORD && kind != LABEL && isalpha((unsigned char)reader->source->bytes[reader->tree->tokens.starts[at]]);
}

/* What to tell of a token that does not fit. */
static void report_misfit(Reader *reader, uint32_t at, const int *expected, int count)
{
    const Tokens *tokens = &reader->tree->tokens;
    Findings *findings = reader->findings;
    Span span = reader_span(reader, at);
    const char *saw = as_written(reader, at), *before = at ? as_written(reader, at - 1) : "the start";
    if (at && policy[tokens->kinds[at - 1]] & NAMES && is_keyword(reader, at)) {
        Finding *finding = finding_add(findings, FINDING_RESERVED_NAME, span,
                                       "%s is a word of the language and cannot be a name", saw);
        finding_mend(findings, finding, "choose another name, such as my_%.*s", (int)(span.end - span.start),
                     reader->source->bytes + span.start);
        finding_edit(findings, finding, span, "my_%.*s", (int)(span.end - span.start), reader->source->bytes + span.start);
        return;
    }
    bool any_value = false;
    bool wants_option = false, saw_a_word = isalpha((unsigned char)reader->source->bytes[span.start]);
    int kept[4], kept_count = 0;
    for (int i = 0; i < count; i++)
        any_value |= expected[i] == LPAREN && count > 8 && at && !(policy[tokens->kinds[at - 1]] & ENDS);
    for (int i = 0; i < count && !any_value; i++)
        if (!(policy[expected[i]] & JOINS) && expected[i] != SYNC && expected[i] != RESERVED) {
            wants_option |= expected[i] == LABEL;
            if (kept_count < 4)
                kept[kept_count] = expected[i];
            kept_count++;
        }
    const char *wanted = any_value                            ? "a value"
                         : kept_count == 0                    ? ""
                         : kept_count > 4                     ? "a statement, an option or a closing brace"
                                                              : choices(reader, kept, kept_count);
    Finding *finding = finding_add(findings, FINDING_SYNTAX, span, *wanted ? "%s does not fit here: after %s comes %s" : "%s does not fit after %s", saw, before, wanted);
    if (kept_count == 1 && !strchr(token_spelling(kept[0]), ' ')) {
        Span gap = {at ? tokens->ends[at - 1] : 0, at ? tokens->ends[at - 1] : 0, span.file};
        const char *spelling = token_spelling(kept[0]);
        finding_mend(findings, finding, "write `%s` before it", spelling);
        finding_edit(findings, finding, gap, isalpha((unsigned char)*spelling) ? " %s" : "%s", spelling);
    } else
        finding_mend(findings, finding, "%s", any_value                       ? "write a value there"
                                              : wants_option && saw_a_word ? "an option carries a colon, like `length: 40 mm`"
                                                                            : "see what is missing before it, or take it out");
}

void feed_misfit(Reader *reader, int unexpected, const int *expected, int count)
{
    uint32_t at = reader->given;
    if (reader->too_deep)
        return;
    bool known = (at && at == reader->panic_at) || reader->tree->tokens.details[at] & TOKEN_AFTER_FAULT;
    if (!known)
        report_misfit(reader, at, expected, count);
    reader->bracket_depth = 0;
    if (unexpected == LBRACE)
        return;
    if (unexpected == RBRACE && reader->tree->tokens.kinds[at] == RBRACE)
        reader->brace_depth++;
    reader->panic = true;
    reader->panic_at = at;
    reader->position = at;
}
