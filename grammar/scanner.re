/* Text to tokens. The whole file lies in memory with a NUL behind it; nothing is refilled. What a character, a text or a
 * number lacks is reported here; the parser stays quiet about it. */
#include "syntax/reader.h"

#include "parser.h"

#include <string.h>
#include <utf8proc.h>

static Span span_of(const Reader *reader, const char *start, const char *end)
{
    return (Span){(uint32_t)(start - reader->source->bytes), (uint32_t)(end - reader->source->bytes), reader->tree->file};
}

static inline void emit(Reader *reader, int kind, Unit unit, const char *start, const char *end)
{
    Tokens *tokens = &reader->tokens;
    const char *text = reader->source->bytes;
    uint32_t index = tokens->count++;
    tokens->kinds[index] = (uint8_t)kind;
    tokens->details[index] = (uint8_t)((unsigned)unit | reader->flags);
    tokens->starts[index] = (uint32_t)(start - text);
    tokens->ends[index] = (uint32_t)(end - text);
    reader->flags = 0;
}

/* The unit that the word is, or UNIT_NONE. Spellings fill eight bytes up with zeros, and are compared as one number. */
static Unit unit_of(const char *start, const char *end)
{
    static const char spellings[][8] = {
#define X(name, spelling, ...) spelling,
        UNIT_TABLE(X)
#undef X
    };
    char word[8] = {0};
    if (end - start >= (long)sizeof word)
        return UNIT_NONE;
    for (int i = 0; start + i < end; i++)
        word[i] = start[i];
    for (Unit unit = UNIT_MM; unit < UNIT_UNKNOWN; unit++)
        if (memcmp(word, spellings[unit], sizeof word) == 0)
            return unit;
    return UNIT_NONE;
}

static bool digits_fit(const char *start, const char *end)
{
    if (end - start <= LIMIT_DIGITS)
        return true;
    int digits = 0;
    for (; start < end && *start != '%'; start++)
        digits = *start >= '0' && *start <= '9' ? digits + 1 : *start == '.' ? digits : 0;
    return digits <= LIMIT_DIGITS;
}

/* `edit` is the number as it can be read, or NULL. */
static void bad_number(Reader *reader, const char *start, const char *end, const char *mend, const char *edit)
{
    Findings *findings = reader->findings;
    Finding *finding =
        finding_add(findings, FINDING_BAD_NUMBER, span_of(reader, start, end), "this number cannot be read");
    finding_mend(findings, finding, edit ? "%s: `%s`" : "%s", mend, edit);
    if (edit)
        finding_edit(findings, finding, finding->at.span, "%s", edit);
    emit(reader, NUMBER, UNIT_UNKNOWN, start, end);
}

/* A decimal of too many digits, cut to those that can be read; NULL if it is not the decimals that are too many.
 */
static const char *fewer_decimals(Reader *reader, const char *start, const char *end)
{
    const char *point = memchr(start, '.', (size_t)(end - start));
    if (!point || point - start >= LIMIT_DIGITS)
        return NULL;
    const char *behind = point + 1;
    while (*behind >= '0' && *behind <= '9')
        behind++;
    int kept = LIMIT_DIGITS + 1;
    return text_format(reader->arena, "%.*s%.*s", kept, start, (int)(end - behind), behind);
}

/* "2e1" written out: "20"; NULL if that is no number one could mean. */
static const char *without_exponent(Reader *reader, const char *start)
{
    double value = 0;
    int power = 0;
    bool decimals = false;
    for (; (*start >= '0' && *start <= '9') || *start == '.'; start++) {
        decimals |= *start == '.';
        power -= decimals && *start != '.';
        value = *start == '.' ? value : value * 10 + (*start - '0');
    }
    start++;
    bool down = *start == '-';
    start += *start == '-' || *start == '+';
    int exponent = 0;
    for (; *start >= '0' && *start <= '9' && exponent < 100; start++)
        exponent = exponent * 10 + (*start - '0');
    power += down ? -exponent : exponent;
    for (; power > 0 && value < LIMIT_MAGNITUDE; power--)
        value *= 10;
    for (; power < 0 && value > 1e-6; power++)
        value /= 10;
    return value > 1e-6 && value < LIMIT_MAGNITUDE ? show_number(reader->arena, value, 6) : NULL;
}

/* ".5", "5." and "1.000.5" with digits on both sides of one point. */
static const char *with_one_point(Reader *reader, const char *start, const char *end)
{
    char *text = arena_take(reader->arena, (size_t)(end - start) + 2), *out = text;
    const char *last = end - 1;
    while (*last != '.')
        last--;
    if (*start == '.')
        *out++ = '0';
    for (const char *at = start; at < end; at++)
        if (*at != '.' || (at == last && at + 1 < end))
            *out++ = *at;
    return text;
}

/* A number and, if the word after it is one, its unit; otherwise the word is left for the next token.
 * Returns where scanning goes on. */
static const char *number(Reader *reader, const char *start, const char *end)
{
    const char *word = start;
    while (word < end && !(*word == '%' || *word == '_' || *word >= 'A'))
        word++;
    const char *digits_end = word;
    while (digits_end[-1] == ' ' || digits_end[-1] == '\t')
        digits_end--;
    Unit unit = word < end ? unit_of(word, end) : UNIT_NONE;
    const char *behind = end;
    while (*behind == ' ' || *behind == '\t')
        behind++;
    if (*behind == ':' && unit_measure(unit) == MEASURE_TURNS)
        unit = UNIT_NONE;   /* `starts: 3 turns: 2 turns`: an option begins; nothing lies so many turns along a blank */
    if (unit == UNIT_NONE)
        end = digits_end;
    if (digits_fit(start, digits_end))
        emit(reader, NUMBER, unit, start, end);
    else
        bad_number(reader, start, end, "write at most 15 digits; no bench measures finer",
                   fewer_decimals(reader, start, end));
    return end;
}

static void unknown_unit(Reader *reader, const char *start, const char *end, Unit meant)
{
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_UNKNOWN_UNIT, span_of(reader, start, end),
                                   "`%.*s` is not a unit", (int)(end - start), start);
    finding_mend(findings, finding, "write `%s`", unit_spelling(meant));
    finding_edit(findings, finding, finding->at.span, "%s", unit_spelling(meant));
}

static const char *per_unit(Reader *reader, const char *start, const char *end)
{
    const char *word = start + 3;
    while (*word == ' ' || *word == '\t')
        word++;
    Unit unit = unit_of(word, end);
    if (unit_measure(unit) == MEASURE_LENGTH) {
        emit(reader, PER_UNIT, unit, start, end);
        return end;
    }
    Unit meant = unit_known_as(text_format(reader->arena, "%.*s", (int)(end - word), word));
    if (unit_measure(meant) == MEASURE_LENGTH) {
        unknown_unit(reader, word, end, meant);
        emit(reader, PER_UNIT, meant, start, end);
        return end;
    }
    emit(reader, PER, UNIT_NONE, start, start + 3);
    return start + 3;
}

/* `1/2"` and `5'`: the marks for inches and feet. The quote would begin a text. */
static void mark_for_unit(Reader *reader, const char *start, const char *end)
{
    Findings *findings = reader->findings;
    Unit unit = end[-1] == '"' ? UNIT_IN : UNIT_FT;
    Finding *finding =
        finding_add(findings, FINDING_UNKNOWN_UNIT, span_of(reader, end - 1, end), "a unit is written as a word");
    finding_mend(findings, finding, "write `%s`", unit_spelling(unit));
    finding_edit(findings, finding, finding->at.span, " %s", unit_spelling(unit));
    emit(reader, NUMBER, unit, start, end);
}

/* One character for a fraction, as some keyboards write it, with or without a number before and a unit behind. */
static const char *fraction_sign(Reader *reader, const char *start, const char *end)
{
    static const char *const fractions[] = {"1/4", "1/2", "3/4"};   /* U+00BC to U+00BE */
    const char *sign = memchr(start, 0xc2, (size_t)(end - start)), *word = sign + 2;
    while (word < end && (*word == ' ' || *word == '\t'))
        word++;
    Findings *findings = reader->findings;
    Finding *finding =
        finding_add(findings, FINDING_BAD_NUMBER, span_of(reader, sign, sign + 2), "this number cannot be read");
    const char *fraction = fractions[(unsigned char)sign[1] - 0xbc];
    bool joined = sign > start && sign[-1] >= '0';
    finding_mend(findings, finding, "write the fraction with a stroke: `%s`", fraction);
    finding_edit(findings, finding, finding->at.span, joined ? " %s" : "%s", fraction);
    if (word == end || unit_of(word, end) == UNIT_NONE)
        end = sign + 2;
    emit(reader, NUMBER, UNIT_UNKNOWN, start, end);
    return end;
}

/* Signs that come from word processors, web pages and other notations, and what is meant by them: in words, and as
 * a token (0 for none) for the parser, so that the rest is still read. */
typedef struct OtherSign { const char *sign, *meant; int kind; } OtherSign;
static const OtherSign other_signs[] = {
    {"\u00a0", " ", 0},
    {"\u2007", " ", 0},
    {"\u2009", " ", 0},
    {"\u202f", " ", 0},
    {"\u3000", " ", 0},
    {"\u2013", "-", MINUS},
    {"\u2014", "-", MINUS},
    {"\u2212", "-", MINUS},
    {"\u00d7", "*", TIMES},
    {"\u00f7", "/", DIVIDE},
    {"\u2044", "/", DIVIDE},
    {"\u2264", "<=", LESS_EQUAL},
    {"\u2265", ">=", GREATER_EQUAL},
    {"\u2260", "!=", UNEQUAL},
    {"&", "and", AND},
    {"&&", "and", AND},
    {"|", "or", OR},
    {"||", "or", OR},
    {"!", "not", NOT},
};

static const OtherSign *other_sign(const char *start, size_t length)
{
    for (size_t i = 0; i < sizeof other_signs / sizeof *other_signs; i++)
        if (strlen(other_signs[i].sign) == length && memcmp(other_signs[i].sign, start, length) == 0)
            return &other_signs[i];
    return NULL;
}

static void bad_colour(Reader *reader, const char *start, const char *end)
{
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, end),
                                   "a colour is # and six digits of 0 to 9 and a to f");
    const char *short_form = "#";
    for (const char *at = start + 1; at < end && end - start == 4; at++)
        short_form = strchr("0123456789abcdefABCDEF", *at)
                         ? text_format(reader->arena, "%s%c%c", short_form, *at, *at)
                         : "";
    bool is_short = strlen(short_form) == 7;
    const char *edit = is_short ? short_form : "#22346b";
    finding_mend(findings, finding, is_short ? "write `%s`" : "write six digits, such as `%s`", edit);
    finding_edit(findings, finding, finding->at.span, "%s", edit);
    emit(reader, COLOUR, UNIT_UNKNOWN, start, end);
}

static void strange(Reader *reader, const char *start, const char *end)
{
    Findings *findings = reader->findings;
    const OtherSign *other = other_sign(start, (size_t)(end - start));
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, end),
                                   "this sign has no meaning here");
    if (!other) {
        finding_mend(findings, finding, "take it out, or put it inside a text in quotes");
        finding_edit(findings, finding, finding->at.span, "%s", "");
        reader->flags |= TOKEN_AFTER_FAULT;
        reader->amended = true;
        return;
    }
    bool word = other->kind && *other->meant >= 'a';
    const char *before = word && start > reader->source->bytes && start[-1] != ' ' ? " " : "";
    const char *behind = word && *end != ' ' ? " " : "";
    finding_mend(findings, finding, *other->meant == ' ' ? "put a plain blank in its place" : "write `%s`",
                 other->meant);
    finding_edit(findings, finding, finding->at.span, "%s%s%s", before, other->meant, behind);
    if (other->kind)
        emit(reader, other->kind, UNIT_NONE, start, end);
    else
        reader->flags |= TOKEN_AFTER_FAULT;
    reader->amended = true;
}

/* Quotes of other kinds: what stands in them is taken for the text. Returns where scanning goes on; `start` if
 * they do not close on their line. */
static const char *other_quotes(Reader *reader, const char *start)
{
    static const char *const quotes[] = {"\u201c", "\u201d", "\u201e", "\u201f", "\u00ab",
                                         "\u00bb", "\u2018", "\u2019", "\u201a", "'"};
    size_t opening = 0;
    const char *close = NULL;
    for (size_t i = 0; i < sizeof quotes / sizeof *quotes && !opening; i++)
        opening = strncmp(start, quotes[i], strlen(quotes[i])) == 0 ? strlen(quotes[i]) : 0;
    size_t closing = 0;
    for (const char *at = start + opening; opening && !close && *at && *at != '\n'; at++)
        for (size_t i = 0; i < sizeof quotes / sizeof *quotes && !close; i++)
            if (strlen(quotes[i]) == opening && strncmp(at, quotes[i], opening) == 0) {
                close = at;
                closing = opening;
            }
    if (!close)
        return start;
    Findings *findings = reader->findings;
    const char *end = close + closing;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, end),
                                   "a text stands in straight quotes");
    finding_mend(findings, finding, "write \"%.*s\"", (int)(close - start - (long)opening), start + opening);
    finding_edit(findings, finding, finding->at.span, "\"%.*s\"", (int)(close - start - (long)opening),
                 start + opening);
    emit(reader, STRING, UNIT_UNKNOWN, start, end);
    return end;
}

/* The kind of a word that the scanner's own rules did not see alone. */
static int kind_of_word(const char *start, size_t length)
{
    for (int kind = EDITION; kind <= NO; kind++)
        if (strlen(token_spelling(kind)) == length && memcmp(token_spelling(kind), start, length) == 0)
            return kind;
    return WORD;
}

/* A word with characters beyond ASCII: only letters, marks and digits of some script may be in it. Returns where
 * scanning goes on: behind the first sign that is none of these, or at the end. */
static const char *foreign_word(Reader *reader, const char *start, const char *end)
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
                emit(reader, kind_of_word(start, (size_t)(at - start)), UNIT_NONE, start, at);
            const char *behind = other_quotes(reader, at);
            if (behind > at)
                return behind;
            strange(reader, at, at + length);
            return at + length;
        }
        at += length;
    }
    emit(reader, WORD, UNIT_NONE, start, end);
    return end;
}

static void control_character(Reader *reader, const char *start)
{
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_CONTROL_CHARACTER, span_of(reader, start, start + 1),
                                   "there is a control character (number %u) in the text", (unsigned char)*start);
    finding_mend(findings, finding, "take it out; a pattern file is plain text");
    finding_edit(findings, finding, finding->at.span, "%s", "");
}

static const char *not_utf8(Reader *reader, const char *start, const char *limit)
{
    const char *end = start + 1;
    while (end < limit && ((unsigned char)*end & 0xc0) == 0x80)
        end++;
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_NOT_UTF8, span_of(reader, start, end), "this is not UTF-8 text");
    finding_mend(findings, finding, "save the file as UTF-8 in your editor, or take this out");
    finding_edit(findings, finding, finding->at.span, "%s", "");
    return end;
}

static const char *last_in(const char *start, const char *end, const char *word)
{
    size_t length = strlen(word);
    const char *found = NULL;
    for (const char *at = start; at + length <= end; at++)
        if (memcmp(at, word, length) == 0)
            found = at;
    return found;
}

/* Where a text without a closing quote very likely ends: a rod's title before `on`, a used file's name before
 * `as`, all others before the brackets and commas at the end of the line. */
static const char *likely_end(const Reader *reader, const char *start, const char *end)
{
    const Tokens *tokens = &reader->tokens;
    int before = tokens->count ? tokens->kinds[tokens->count - 1] : END;
    const char *stop = before == ROD   ? last_in(start, end, " on ")
                       : before == USE ? last_in(start, end, " as ")
                                       : NULL;
    if (stop)
        return stop;
    while (end > start + 1 && strchr(" \t\r,{})]", end[-1]))
        end--;
    return end;
}

static const char *text_not_closed(Reader *reader, const char *start, const char *end)
{
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_TEXT_NOT_CLOSED, span_of(reader, start, end),
                                   "this text has no closing quote on its line");
    end = likely_end(reader, start, end);
    Span here = span_of(reader, end, end);
    finding_mend(findings, finding, "put a \" where the text ends");
    finding_edit(findings, finding, here, "\"");
    emit(reader, STRING, UNIT_UNKNOWN, start, end);
    return end;
}

/* Bytes that a text in quotes may not hold are reported where they stand. */
static void text_in_quotes(Reader *reader, const char *start, const char *end)
{
    for (const char *at = start; at < end;) {
        utf8proc_int32_t character;
        utf8proc_ssize_t length = utf8proc_iterate((const utf8proc_uint8_t *)at, end - at, &character);
        if (length <= 0) {
            at = not_utf8(reader, at, end);
            continue;
        }
        if ((character < 0x20 && character != '\t') || character == 0x7f)
            control_character(reader, at);
        at += length;
    }
    emit(reader, STRING, UNIT_NONE, start, end);
}

static void check_comment(Reader *reader, const char *start, const char *end)
{
    for (const char *at = start; at < end;) {
        utf8proc_int32_t character;
        utf8proc_ssize_t length = utf8proc_iterate((const utf8proc_uint8_t *)at, end - at, &character);
        if (length > 0 && ((character < 0x20 && character != '\t' && character != '\r') || character == 0x7f))
            control_character(reader, at);
        at = length <= 0 ? not_utf8(reader, at, end) : at + length;
    }
}

void scan(Reader *reader)
{
    const Source *source = reader->source;
    Tokens *tokens = &reader->tokens;
    enum { AT_ONE_STEP = 2 };   /* a foreign word and the sign behind it; the end of the file is one token as well */
    const uint32_t full = tokens->room - AT_ONE_STEP;
    const char *YYCURSOR = source->bytes + reader->scanned, *YYMARKER = YYCURSOR, *start;
    const char *const limit = source->bytes + source->length;
    #define TOKEN(kind) do { emit(reader, kind, UNIT_NONE, start, YYCURSOR); goto next; } while (0)
    #define CLOSE(kind) do { reader->open -= reader->open > 0; TOKEN(kind); } while (0)
    #define OPEN(kind) do { if (++reader->open > LIMIT_OPEN) goto end; \
                            reader->deepest = reader->open > reader->deepest ? reader->open : reader->deepest; \
                            TOKEN(kind); } while (0)

next:
    while (*YYCURSOR == ' ')
        YYCURSOR++;
    start = YYCURSOR;
    if (tokens->count >= full) {
        reader->scanned = (uint32_t)(start - source->bytes);
        return;
    }
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
        if (start < limit) { control_character(reader, start); goto next; }
        goto end;
    }
    blank+ { goto next; }
    "\n" blank* { reader->flags = TOKEN_FIRST_ON_LINE; goto next; }
    "//" (plain | ["\\])* { goto next; }
    "//" [^\n\x00]* { check_comment(reader, start, YYCURSOR); goto next; }

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
    "chevron" { TOKEN(CHEVRON); }
    "diamond" { TOKEN(DIAMOND); }
    "spiral" { TOKEN(SPIRAL); }
    "strand" { TOKEN(STRAND); }

    "per" [ \t]+ ascii_word { YYCURSOR = per_unit(reader, start, YYCURSOR); goto next; }
    ascii_word { TOKEN(WORD); }
    word { YYCURSOR = foreign_word(reader, start, YYCURSOR); goto next; }
    word [ \t]* ":" {
        emit(reader, LABEL, UNIT_NONE, start, YYCURSOR);
        goto next;
    }

    digit+ ("." digit+)? [eE] [+\-]? digit+ {
        bad_number(reader, start, YYCURSOR, "write it out in plain digits, without an exponent",
                   without_exponent(reader, start));
        goto next;
    }
    numeral ([ \t]* ("%" | ascii_word))? {
        YYCURSOR = number(reader, start, YYCURSOR);
        goto next;
    }
    numeral ["'] { mark_for_unit(reader, start, YYCURSOR); goto next; }
    (digit+ [ \t]*)? "\xc2" [\xbc-\xbe] ([ \t]* ("%" | ascii_word))? {
        YYCURSOR = fraction_sign(reader, start, YYCURSOR);
        goto next;
    }
    digit* "." digit+ ("." digit*)+ | digit+ "." | "." digit+ {
        bad_number(reader, start, YYCURSOR, "write digits on both sides of one point",
                   with_one_point(reader, start, YYCURSOR));
        goto next;
    }
    ["] plain* ["] { TOKEN(STRING); }
    ["] ([^"\\\n\x00] | "\\" [^\n\x00])* ["] { text_in_quotes(reader, start, YYCURSOR); goto next; }
    ["] ([^"\\\n\x00] | "\\" [^\n\x00])* { YYCURSOR = text_not_closed(reader, start, YYCURSOR); goto next; }
    "#" [0-9a-fA-F]{6} { TOKEN(COLOUR); }
    "#" [0-9a-zA-Z_]* { bad_colour(reader, start, YYCURSOR); goto next; }

    "{" { OPEN(LBRACE); }
    "}" { CLOSE(RBRACE); }
    "(" { OPEN(LPAREN); }
    ")" { CLOSE(RPAREN); }
    "[" { OPEN(LBRACKET); }
    "]" { CLOSE(RBRACKET); }
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

    [\x01-\x08\x0b\x0c\x0e-\x1f\x7f] { control_character(reader, start); goto next; }
    "'" {
        YYCURSOR = other_quotes(reader, start);
        if (YYCURSOR == start)
            strange(reader, start, ++YYCURSOR);
        goto next;
    }
    "&&" | "||" | [\x21-\x7e] { strange(reader, start, YYCURSOR); goto next; }
    * { YYCURSOR = not_utf8(reader, start, limit); goto next; }
    */
end:
    tokens->kinds[tokens->count] = END;
    tokens->details[tokens->count] = TOKEN_FIRST_ON_LINE;
    tokens->starts[tokens->count] = tokens->ends[tokens->count] = source->length;
    tokens->count++;
    #undef OPEN
    #undef CLOSE
    #undef TOKEN
}
