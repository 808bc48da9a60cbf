/* Text to tokens. The whole file lies in memory with a NUL behind it; nothing is refilled. Comments and blank lines go
 * to the trivia. What a character, a text or a number lacks is reported here; the parser stays quiet about it. */
#include "syntax/reader.h"

#include "parser.h"

#include <string.h>
#include <utf8proc.h>

typedef struct Scan {
    Reader *reader;
    Tokens *tokens;
    const char *text;      /* start of the file */
    uint8_t flags;         /* flags for the next token: TOKEN_FIRST_ON_LINE, TOKEN_AFTER_FAULT */
} Scan;

static Span span_of(const Scan *scan, const char *start, const char *end)
{
    return (Span){(uint32_t)(start - scan->text), (uint32_t)(end - scan->text), scan->reader->tree->file};
}

static inline void emit(Scan *scan, int kind, Unit unit, const char *start, const char *end)
{
    Tokens *tokens = scan->tokens;
    uint32_t index = tokens->count++;
    tokens->kinds[index] = (uint8_t)kind;
    tokens->details[index] = (uint8_t)((unsigned)unit | scan->flags);
    tokens->starts[index] = (uint32_t)(start - scan->text);
    tokens->ends[index] = (uint32_t)(end - scan->text);
    scan->flags = 0;
}

static void keep_trivia(Scan *scan, TriviaKind kind, const char *start, const char *end)
{
    *LIST_ADD(scan->reader->arena, &scan->tokens->trivia) =
        (Trivia){kind, (uint32_t)(start - scan->text), (uint32_t)(end - scan->text), scan->tokens->count};
}

/* The unit that the word is, or UNIT_NONE. */
static Unit unit_of(const char *start, const char *end)
{
    for (Unit unit = UNIT_MM; unit < UNIT_UNKNOWN; unit++)
        if (strlen(unit_spelling(unit)) == (size_t)(end - start)
            && memcmp(unit_spelling(unit), start, (size_t)(end - start)) == 0)
            return unit;
    return UNIT_NONE;
}

static bool digits_fit(const char *start, const char *end)
{
    int digits = 0;
    for (; start < end && *start != '%'; start++)
        digits = *start >= '0' && *start <= '9' ? digits + 1 : *start == '.' ? digits : 0;
    return digits <= LIMIT_DIGITS;
}

static void bad_number(Scan *scan, const char *start, const char *end, const char *mend)
{
    Finding *finding = finding_add(scan->reader->findings, FINDING_BAD_NUMBER, span_of(scan, start, end),
                                   "this number cannot be read");
    finding_mend(scan->reader->findings, finding, "%s", mend);
    emit(scan, NUMBER, UNIT_UNKNOWN, start, end);
}

/* A number and, if the word after it is one, its unit; otherwise the word is left for the next token.
 * Returns where scanning goes on. */
static const char *number(Scan *scan, const char *start, const char *end)
{
    const char *word = start;
    while (word < end && !(*word == '%' || *word == '_' || *word >= 'A'))
        word++;
    const char *digits_end = word;
    while (digits_end[-1] == ' ' || digits_end[-1] == '\t')
        digits_end--;
    Unit unit = word < end ? unit_of(word, end) : UNIT_NONE;
    if (unit == UNIT_NONE)
        end = digits_end;
    if (unit_measure(unit) == MEASURE_LENGTH && scan->reader->tree->first_length == UNIT_NONE)
        scan->reader->tree->first_length = unit;
    if (digits_fit(start, digits_end))
        emit(scan, NUMBER, unit, start, end);
    else
        bad_number(scan, start, end, "write at most 15 digits; no bench measures finer");
    return end;
}

static const char *per_unit(Scan *scan, const char *start, const char *end)
{
    const char *word = start + 3;
    while (*word == ' ' || *word == '\t')
        word++;
    Unit unit = unit_of(word, end);
    if (unit_measure(unit) == MEASURE_LENGTH) {
        emit(scan, PER_UNIT, unit, start, end);
        return end;
    }
    emit(scan, PER, UNIT_NONE, start, start + 3);
    return start + 3;
}

static void strange(Scan *scan, const char *start, const char *end)
{
    Findings *findings = scan->reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(scan, start, end),
                                   *start == '#' ? "a colour is # and six digits of 0 to 9 and a to f"
                                                 : "this sign has no meaning here");
    finding_mend(findings, finding, *start == '#' ? "write it like #22346b" : "take it out, or put it inside a text in quotes");
    if (*start != '#') {
        finding_edit(findings, finding, finding->at.span, "%s", "");
        scan->flags |= TOKEN_AFTER_FAULT;
    } else
        emit(scan, COLOUR, UNIT_UNKNOWN, start, end);
}

/* A word with characters beyond ASCII: only letters, marks and digits of some script may be in it. */
static void foreign_word(Scan *scan, int kind, const char *start, const char *end)
{
    for (const char *at = start; at < end;) {
        utf8proc_int32_t character;
        utf8proc_ssize_t length = utf8proc_iterate((const utf8proc_uint8_t *)at, end - at, &character);
        if (length <= 0)
            break;
        utf8proc_category_t category = character < 0x80 ? UTF8PROC_CATEGORY_LL : utf8proc_category(character);
        bool letter = category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_NO;
        if (!letter) {
            if (at > start)
                emit(scan, WORD, UNIT_NONE, start, at);
            strange(scan, at, at + length);
            start = at + length;
        }
        at += length;
    }
    if (start < end)
        emit(scan, kind, UNIT_NONE, start, end);
}

static void control_character(Scan *scan, const char *start)
{
    Findings *findings = scan->reader->findings;
    Finding *finding = finding_add(findings, FINDING_CONTROL_CHARACTER, span_of(scan, start, start + 1),
                                   "there is a control character (number %u) in the text", (unsigned char)*start);
    finding_mend(findings, finding, "take it out; a pattern file is plain text");
    finding_edit(findings, finding, finding->at.span, "%s", "");
}

static const char *not_utf8(Scan *scan, const char *start, const char *limit)
{
    const char *end = start + 1;
    while (end < limit && ((unsigned char)*end & 0xc0) == 0x80)
        end++;
    Findings *findings = scan->reader->findings;
    Finding *finding = finding_add(findings, FINDING_NOT_UTF8, span_of(scan, start, end), "this is not UTF-8 text");
    finding_mend(findings, finding, "save the file as UTF-8 in your editor, or take this out");
    finding_edit(findings, finding, finding->at.span, "%s", "");
    return end;
}

static void text_not_closed(Scan *scan, const char *start, const char *end)
{
    Findings *findings = scan->reader->findings;
    Finding *finding = finding_add(findings, FINDING_TEXT_NOT_CLOSED, span_of(scan, start, end),
                                   "this text has no closing quote on its line");
    finding_mend(findings, finding, "put a \" where the text ends");
    emit(scan, STRING, UNIT_UNKNOWN, start, end);
}

/* Bytes that a text in quotes may not hold are reported where they stand. */
static void text_in_quotes(Scan *scan, const char *start, const char *end)
{
    for (const char *at = start; at < end;) {
        utf8proc_int32_t character;
        utf8proc_ssize_t length = utf8proc_iterate((const utf8proc_uint8_t *)at, end - at, &character);
        if (length <= 0) {
            at = not_utf8(scan, at, end);
            continue;
        }
        if (character < 0x20 && character != '\t')
            control_character(scan, at);
        at += length;
    }
    emit(scan, STRING, UNIT_NONE, start, end);
}

static void check_comment(Scan *scan, const char *start, const char *end)
{
    for (const char *at = start; at < end;) {
        utf8proc_int32_t character;
        utf8proc_ssize_t length = utf8proc_iterate((const utf8proc_uint8_t *)at, end - at, &character);
        at = length <= 0 ? not_utf8(scan, at, end) : at + length;
    }
}

void scan(Reader *reader)
{
    const Source *source = reader->source;
    Tokens *tokens = &reader->tree->tokens;
    size_t room = (size_t)source->length + 2;
    tokens->kinds = arena_take(reader->arena, room);
    tokens->details = arena_take(reader->arena, room);
    tokens->starts = arena_take_many(reader->arena, room, sizeof *tokens->starts);
    tokens->ends = arena_take_many(reader->arena, room, sizeof *tokens->ends);

    Scan state = {.reader = reader, .tokens = tokens, .text = source->bytes, .flags = TOKEN_FIRST_ON_LINE};
    const char *YYCURSOR = source->bytes, *YYMARKER, *start;
    const char *const limit = source->bytes + source->length;
    #define TOKEN(kind) do { emit(&state, kind, UNIT_NONE, start, YYCURSOR); goto next; } while (0)

next:
    start = YYCURSOR;
    /*!re2c
    re2c:define:YYCTYPE = "unsigned char";
    re2c:yyfill:enable = 0;
    re2c:yych:conversion = 1;

    blank   = [ \t\r];
    digit   = [0-9];
    letter  = [A-Za-z_];
    u2      = [\xc2-\xdf] [\x80-\xbf];
    u3      = [\xe0] [\xa0-\xbf] [\x80-\xbf] | [\xe1-\xec\xee\xef] [\x80-\xbf] [\x80-\xbf] | [\xed] [\x80-\x9f] [\x80-\xbf];
    u4      = [\xf0] [\x90-\xbf] [\x80-\xbf]{2} | [\xf1-\xf3] [\x80-\xbf]{3} | [\xf4] [\x80-\x8f] [\x80-\xbf]{2};
    foreign = u2 | u3 | u4;
    ascii_word = letter (letter | digit)*;
    word    = (letter | foreign) (letter | digit | foreign)*;
    plain   = [\t\x20-\x7e] \ ["\\];   /* in texts and comments: needs no look */
    numeral = digit+ ("." digit+)? | digit+ "/" digit+ | digit+ [ \t]+ digit+ "/" digit+;

    "\x00" {
        if (start < limit) { control_character(&state, start); goto next; }
        tokens->kinds[tokens->count] = END;
        tokens->details[tokens->count] = TOKEN_FIRST_ON_LINE;
        tokens->starts[tokens->count] = tokens->ends[tokens->count] = source->length;
        tokens->count++;
        return;
    }
    blank+ { goto next; }
    "\n" { state.flags = TOKEN_FIRST_ON_LINE; goto next; }
    "\n" (blank* "\n")+ {
        keep_trivia(&state, TRIVIA_BLANK_LINES, start, YYCURSOR);
        state.flags = TOKEN_FIRST_ON_LINE;
        goto next;
    }
    "//" (plain | ["\\])* {
        keep_trivia(&state, start[2] == '/' ? TRIVIA_DOC_COMMENT : TRIVIA_COMMENT, start, YYCURSOR);
        goto next;
    }
    "//" [^\n\x00]* {
        check_comment(&state, start, YYCURSOR);
        keep_trivia(&state, start[2] == '/' ? TRIVIA_DOC_COMMENT : TRIVIA_COMMENT, start, YYCURSOR);
        goto next;
    }

    "edition" { TOKEN(EDITION); }
    "about" { TOKEN(ABOUT); }
    "use" { TOKEN(USE); }
    "size" { TOKEN(SIZE); }
    "thread" { TOKEN(THREAD); }
    "bench" { TOKEN(BENCH); }
    "blank" { TOKEN(BLANK); }
    "guide" { TOKEN(GUIDE); }
    "pattern" { TOKEN(PATTERN); }
    "rod" { TOKEN(ROD); }
    "let" { TOKEN(LET); }
    "band" { TOKEN(BAND); }
    "fade" { TOKEN(FADE); }
    "inlay" { TOKEN(INLAY); }
    "gap" { TOKEN(GAP); }
    "repeat" { TOKEN(REPEAT); }
    "mirror" { TOKEN(MIRROR); }
    "symmetric" { TOKEN(SYMMETRIC); }
    "for" { TOKEN(FOR); }
    "if" { TOKEN(IF); }
    "else" { TOKEN(ELSE); }
    "require" { TOKEN(REQUIRE); }
    "under" { TOKEN(UNDER); }
    "over" { TOKEN(OVER); }
    "at" { TOKEN(AT); }
    "as" { TOKEN(AS); }
    "on" { TOKEN(ON); }
    "of" { TOKEN(OF); }
    "to" { TOKEN(TO); }
    "in" { TOKEN(IN); }
    "out" { TOKEN(OUT); }
    "per" { TOKEN(PER); }
    "fill" { TOKEN(FILL); }
    "turns" { TOKEN(TURNS); }
    "and" { TOKEN(AND); }
    "or" { TOKEN(OR); }
    "not" { TOKEN(NOT); }
    "yes" { TOKEN(YES); }
    "no" { TOKEN(NO); }
    "chevron" | "diamond" | "spiral" | "strand" { TOKEN(RESERVED); }

    "per" [ \t]+ ascii_word { YYCURSOR = per_unit(&state, start, YYCURSOR); goto next; }
    ascii_word { TOKEN(WORD); }
    word { foreign_word(&state, WORD, start, YYCURSOR); goto next; }
    word [ \t]* ":" {
        emit(&state, LABEL, UNIT_NONE, start, YYCURSOR);
        goto next;
    }

    digit+ ("." digit+)? [eE] [+\-]? digit+ {
        bad_number(&state, start, YYCURSOR, "write it out in plain digits, without an exponent");
        goto next;
    }
    numeral ([ \t]* ("%" | ascii_word))? {
        YYCURSOR = number(&state, start, YYCURSOR);
        goto next;
    }
    digit* "." digit+ ("." digit*)+ | digit+ "." | "." digit+ {
        bad_number(&state, start, YYCURSOR, "write digits on both sides of one point, like 0.5");
        goto next;
    }
    ["] plain* ["] { TOKEN(STRING); }
    ["] ([^"\\\n\x00] | "\\" [^\n\x00])* ["] { text_in_quotes(&state, start, YYCURSOR); goto next; }
    ["] ([^"\\\n\x00] | "\\" [^\n\x00])* { text_not_closed(&state, start, YYCURSOR); goto next; }
    "#" [0-9a-fA-F]{6} { TOKEN(COLOUR); }
    "#" [0-9a-zA-Z_]* { strange(&state, start, YYCURSOR); goto next; }

    "{" { TOKEN(LBRACE); }
    "}" { TOKEN(RBRACE); }
    "(" { TOKEN(LPAREN); }
    ")" { TOKEN(RPAREN); }
    "[" { TOKEN(LBRACKET); }
    "]" { TOKEN(RBRACKET); }
    "," { TOKEN(COMMA); }
    ":" { TOKEN(COLON); }
    "." { TOKEN(DOT); }
    "=" { TOKEN(ASSIGN); }
    "==" { TOKEN(EQUAL); }
    "!=" { TOKEN(UNEQUAL); }
    "<" { TOKEN(LESS); }
    "<=" { TOKEN(LESS_EQUAL); }
    ">" { TOKEN(GREATER); }
    ">=" { TOKEN(GREATER_EQUAL); }
    "+" { TOKEN(PLUS); }
    "-" { TOKEN(MINUS); }
    "*" { TOKEN(TIMES); }
    "/" { TOKEN(DIVIDE); }

    [\x01-\x08\x0b\x0c\x0e-\x1f\x7f] { control_character(&state, start); goto next; }
    [\x21-\x7e] { strange(&state, start, YYCURSOR); goto next; }
    * { YYCURSOR = not_utf8(&state, start, limit); goto next; }
    */
    #undef TOKEN
}
