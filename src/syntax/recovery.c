/* Between scanner and parser: hands over tokens one by one, and decides what happens when one does not fit. The
 * policy is the table below: where a statement can begin, the parser can go on after a fault. */
#include "syntax/recovery.h"

#include "parser.h"

const uint8_t token_policy[] = {
    [END] = WATCHED,
    [WORD] = ENDS | WATCHED,
    [NUMBER] = ENDS | WATCHED,
    [STRING] = ENDS,
    [COLOUR] = ENDS,
    [PER_UNIT] = ENDS | JOINS,
    [YES] = ENDS,
    [NO] = ENDS,
    [TURNS] = ENDS | JOINS,
    [FILL] = ENDS,
    [EDITION] = BEGINS_DECLARATION | WATCHED,
    [ABOUT] = BEGINS_DECLARATION | WATCHED,
    [USE] = BEGINS_DECLARATION | WATCHED,
    [SIZE] = BEGINS_DECLARATION | NAMES | WATCHED,
    [THREAD] = BEGINS_DECLARATION | NAMES | WATCHED,
    [BENCH] = BEGINS_DECLARATION | WATCHED,
    [BLANK] = BEGINS_DECLARATION | NAMES | WATCHED,
    [GUIDE] = BEGINS_DECLARATION | NAMES | WATCHED,
    [PATTERN] = BEGINS_DECLARATION | NAMES | WATCHED,
    [ROD] = BEGINS_DECLARATION | WATCHED,
    [LET] = BEGINS_STATEMENT | NAMES,
    [BAND] = BEGINS_STATEMENT | WATCHED,
    [FADE] = BEGINS_STATEMENT | WATCHED,
    [INLAY] = BEGINS_STATEMENT,
    [GAP] = BEGINS_STATEMENT | WATCHED,
    [REPEAT] = BEGINS_STATEMENT | WATCHED,
    [MIRROR] = BEGINS_STATEMENT | WATCHED,
    [SYMMETRIC] = BEGINS_STATEMENT | WATCHED,
    [FOR] = BEGINS_STATEMENT | NAMES | WATCHED,
    [ELSE] = WATCHED,
    [IF] = BEGINS_STATEMENT | WATCHED,
    [REQUIRE] = BEGINS_STATEMENT,
    [UNDER] = BEGINS_STATEMENT | WATCHED,
    [OVER] = BEGINS_STATEMENT | WATCHED,
    [AT] = BEGINS_STATEMENT | WATCHED,
    [ROW] = BEGINS_STATEMENT | WATCHED,
    [SERIES] = BEGINS_STATEMENT | WATCHED,
    [PART] = BEGINS_STATEMENT | NAMES | WATCHED,
    [AS] = NAMES,
    [ON] = NAMES,
    [CHEVRON] = BEGINS_STATEMENT | WATCHED,
    [DIAMOND] = BEGINS_STATEMENT | WATCHED,
    [SPIRAL] = BEGINS_STATEMENT | WATCHED,
    [STRAND] = BEGINS_STATEMENT,
    [LBRACE] = ENDS | WATCHED,
    [RBRACE] = ENDS | WATCHED,
    [LPAREN] = WATCHED,
    [LBRACKET] = WATCHED,
    [RPAREN] = ENDS | WATCHED,
    [RBRACKET] = ENDS | WATCHED,
    [AND] = JOINS,
    [OR] = JOINS,
    [PER] = JOINS,
    [EQUAL] = JOINS,
    [UNEQUAL] = JOINS,
    [LESS] = JOINS,
    [LESS_EQUAL] = JOINS,
    [GREATER] = JOINS,
    [GREATER_EQUAL] = JOINS,
    [PLUS] = JOINS,
    [MINUS] = JOINS,
    [TIMES] = JOINS,
    [DIVIDE] = JOINS,
};
_Static_assert(sizeof token_policy == DIVIDE + 1, "every kind of token needs its policy");

Span reader_span(const Reader *reader, uint32_t token)
{
    const Tokens *tokens = &reader->tokens;
    return (Span){tokens->starts[token], tokens->ends[token], reader->tree->file};
}

const char *as_written(const Reader *reader, uint32_t token)
{
    Span span = reader_span(reader, token);
    enum { LONGEST = 40 };
    if (span.start == span.end)
        return "the end of the file";
    int length = (int)(span.end - span.start);
    const char *bytes = reader->source->bytes + span.start;
    if (length > LONGEST) {
        length = LONGEST;
        while (inside_character(bytes[length]))
            length--;
        return text_format(reader->arena, "`%.*s...`", length, bytes);
    }
    return text_format(reader->arena, "`%.*s`", length, bytes);
}

const char *word_at(const Reader *reader, uint32_t token)
{
    Span span = reader_span(reader, token);
    return text_format(reader->arena, "%.*s", (int)(span.end - span.start), reader->source->bytes + span.start);
}

/* What stands here is reported already; the parser goes on where it can. */
static bool give_up(Reader *reader, uint32_t at)
{
    reader->panic = true;
    reader->panic_at = at;
    return false;
}

/* Looks at a token that may need mending. Returns false if it is not for the parser. */
static bool watch(Reader *reader, uint32_t at)
{
    switch (reader->tokens.kinds[at]) {
    case END:
        if (reader->brace_depth)
            owe_braces(reader, 0, at);
        break;
    case WORD:
        if (!mend_keyword(reader, at) || !mend_stray_word(reader, at))
            return give_up(reader, at);
        if (token_policy[reader->tokens.kinds[at]] & BEGINS_DECLARATION)
            return check_declaration(reader, at);
        break;
    case NUMBER:
        if (mend_decimal_comma(reader, at))
            return false;
        if (!drop_unknown_unit(reader, at))
            return give_up(reader, at);
        break;
    case AT:
    case UNDER:
    case OVER:
    case SERIES:
    case PART:
        if (!mend_stray_word(reader, at))
            return give_up(reader, at);
        check_place(reader, at);
        mend_block(reader, at);
        break;
    case ROW:
        if (!mend_stray_word(reader, at))
            return give_up(reader, at);
        break;
    case LBRACE:
        if (opens_twice(reader, at))
            return false;
        open_brace(reader, at);
        break;
    case BAND:
    case FADE:
    case GAP:
    case CHEVRON:
    case DIAMOND:
    case SPIRAL:
        check_band(reader, at);
        mend_block(reader, at);
        break;
    case REPEAT:
    case MIRROR:
    case SYMMETRIC:
    case FOR:
    case IF:
    case ELSE: mend_block(reader, at); break;
    case RBRACE: return close_brace(reader, at);
    case LPAREN:
    case LBRACKET:
        if (++reader->bracket_depth > LIMIT_NESTING)
            report_too_deep(reader);
        break;
    case RPAREN:
    case RBRACKET: reader->bracket_depth -= reader->bracket_depth > 0; break;
    default:
        if (!check_declaration(reader, at))
            return false;
        mend_block(reader, at);
    }
    return true;
}

/* The brace owed next; NULL if none is owed before `at`, or there. */
static const OwedBrace *owed_at(const Reader *reader, uint32_t at)
{
    const OwedBrace *owed = reader->owed_count ? &reader->owed[reader->owed_count - 1] : NULL;
    return owed && owed->before <= at ? owed : NULL;
}

bool brace_owed(const Reader *reader, uint32_t before) { return owed_at(reader, before); }

/* Where the parser can take up again: at a brace, at the end, or where a statement, declaration or option begins.
 */
static bool can_go_on(const Reader *reader, uint32_t at)
{
    const Tokens *tokens = &reader->tokens;
    int kind = tokens->kinds[at];
    const OpenBrace *brace = innermost(reader);
    if (owed_at(reader, at) || kind == END || kind == LBRACE || (kind == RBRACE && reader->brace_depth))
        return true;
    if (first_on_line(reader, at) && token_policy[kind] & (BEGINS_STATEMENT | BEGINS_DECLARATION))
        return true;
    if (at == reader->panic_at)
        return false;
    if (kind == LABEL || kind == KNOWN_LABEL)
        return brace && brace->kind == BRACE_FIELDS
               && (first_on_line(reader, at) || tokens->kinds[at - 1] == COMMA);
    return kind == WORD && first_on_line(reader, at);
}

/* Skips to where the parser can go on. Returns true if SYNC is to be delivered there, false for an opening brace.
 */
static bool skip(Reader *reader)
{
    const uint8_t *kinds = reader->tokens.kinds;
    uint32_t at = reader->position;
    while (!can_go_on(reader, at) || (at == reader->last_sync && kinds[at] != END && kinds[at] != LBRACE)) {
        if (kinds[at] == RBRACE && at == reader->last_sync)
            reader->brace_depth--;
        at++;
    }
    reader->position = at;
    reader->panic = false;
    const OwedBrace *owed = owed_at(reader, at);
    if (kinds[at] == LBRACE || (owed && owed->token == LBRACE))
        return false;
    reader->last_sync = at;
    return true;
}

static int hand_over(Reader *reader, Location *location, int kind, uint32_t at, bool of_its_own)
{
    const Tokens *tokens = &reader->tokens;
    *location = (Location){tokens->starts[at], of_its_own ? tokens->ends[at] : tokens->starts[at]};
    reader->given = at;
    /* What is skipped counts as well. */
    for (; reader->hashed < at + of_its_own; reader->hashed++)
        hash_given(reader, (Location){tokens->starts[reader->hashed], tokens->ends[reader->hashed]});
    return kind;
}

/* A brace that the text lacks. */
static int give_owed(Reader *reader, Location *location, OwedBrace owed)
{
    reader->owed_count--;
    reader->amended = true;
    if (owed.token == LBRACE && reader->brace_depth < LIMIT_NESTING) {
        reader->braces[reader->brace_depth++] = (OpenBrace){owed.before - 1, (BraceKind)owed.kind};
        reader->position = reader->position < owed.next ? owed.next : reader->position;
    } else if (owed.token == RBRACE && reader->brace_depth)
        reader->brace_depth--;
    return hand_over(reader, location, owed.token, reader->position, false);
}

int next_token(Reader *reader, Location *location)
{
    const Tokens *tokens = &reader->tokens;
    for (;;) {
        if (reader->panic && skip(reader))
            return hand_over(reader, location, SYNC, reader->position, false);
        uint32_t at = reader->position;
        const OwedBrace *owed = reader->close_owed ? NULL : owed_at(reader, at);
        if (owed)
            return give_owed(reader, location, *owed);
        if (!reader->close_owed && token_policy[tokens->kinds[at]] & WATCHED) {
            reader->position = at + 1;
            if (!watch(reader, at)) {
                reader->amended = true;
                if (reader->panic) /* the parser enters its recovery; what to say is said */
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
            reader->amended = true;
            return hand_over(reader, location, RBRACE, at, false);
        }
        return hand_over(reader, location, tokens->kinds[at], at, true);
    }
}

void report_too_deep(Reader *reader)
{
    if (reader->too_deep)
        return;
    reader->too_deep = true;
    Finding *finding = finding_add(reader->findings, FINDING_NESTED_TOO_DEEP,
                                   reader_span(reader, reader->position - (reader->position > 0)),
                                   "this is nested deeper than %d", LIMIT_NESTING);
    finding_mend(reader->findings, finding, "put the inner part into a pattern or a `let` of its own");
}

/* Whatever stands behind a brace that is missing fits badly; that is said once. */
static bool in_missing_brace(const Reader *reader)
{
    for (uint32_t i = 0; i < reader->brace_depth; i++)
        if (reader->braces[i].kind == BRACE_MISSING)
            return true;
    return false;
}

void recover_from_token(Reader *reader, int unexpected, const int *expected, int count)
{
    uint32_t at = reader->given;
    reader->amended = true;
    if (reader->too_deep)
        return;
    bool unread = reader->tokens.kinds[at] == STRING && (reader->tokens.details[at] & TOKEN_UNIT) == UNIT_UNKNOWN;
    bool known = unread || (at && at == reader->panic_at) || reader->tokens.details[at] & TOKEN_AFTER_FAULT
                 || in_missing_brace(reader);
    reader->mended_to = 0;
    if (!known)
        report_unexpected_token(reader, at, expected, count);
    reader->bracket_depth = 0;
    bool braces_mended = reader->mended_to > at + 1 && reader->tokens.kinds[reader->mended_to - 1] == RBRACE;
    if (unexpected == LBRACE && !braces_mended)
        return;
    if (unexpected == LBRACE) { /* they are no block */
        reader->brace_depth -= reader->brace_depth > 0;
        at = reader->mended_to;
    }
    if (unexpected == RBRACE && reader->tokens.kinds[at] == RBRACE)
        reader->brace_depth++;
    reader->panic = true;
    reader->panic_at = at;
    reader->position = at;
}
