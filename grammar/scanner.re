/* Text to tokens. The whole file lies in memory with a NUL behind it; nothing is refilled. What a character, a text or a
 * number lacks is reported here; the parser stays quiet about it. */
#include "syntax/recovery.h"

#include "base/buffer.h"
#include "parser.h"
#include "trade/colour.h"
#include "trade/colour_names.h"

#include <ctype.h>
#include <stdlib.h>
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

static bool is_blank(char byte) { return byte == ' ' || byte == '\t'; }

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

/* `1O mm`: letters that look like digits. */
static void lookalike(Reader *reader, const char *start, const char *end)
{
    char *digits = arena_take(reader->arena, (size_t)(end - start) + 1);
    for (const char *at = start; at < end; at++)
        digits[at - start] = *at == 'O' || *at == 'o' ? '0' : *at == 'l' || *at == 'I' ? '1' : *at;
    bad_number(reader, start, end, "a letter stands here for a digit", digits);
}

/* `1..3` */
static const char *range(Reader *reader, const char *start, const char *end)
{
    const char *dots = strchr(start, '.'), *last = dots + strspn(dots, ".");
    Findings *findings = reader->findings;
    Finding *finding =
        finding_add(findings, FINDING_BAD_NUMBER, span_of(reader, start, end), "from a number to another is `to`");
    finding_mend(findings, finding, "write `%.*s to %.*s`", (int)(dots - start), start, (int)(end - last), last);
    finding_edit(findings, finding, span_of(reader, dots, last), " to ");
    emit(reader, NUMBER, UNIT_UNKNOWN, start, dots);
    emit(reader, TO, UNIT_NONE, dots, last);
    emit(reader, NUMBER, UNIT_NONE, last, end);
    return end;
}

/* `colour: 22346b`: the # is missing. */
static bool colour_without_sign(const Reader *reader, const char *start)
{
    const Tokens *tokens = &reader->tokens;
    int before = tokens->count ? tokens->kinds[tokens->count - 1] : END;
    if (before != LABEL && before != LBRACKET && before != COMMA)
        return false;
    size_t digits = strspn(start, "0123456789abcdefABCDEF");
    unsigned char behind = (unsigned char)start[digits];
    return digits == 6 && !(behind == '_' || behind == '.' || behind == '/' || behind >= 0x80 || isalnum(behind));
}

static const char *sign_missing(Reader *reader, const char *start)
{
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, start + 6),
                                   "a colour begins with #");
    finding_mend(findings, finding, "write `#%.6s`", start);
    finding_edit(findings, finding, span_of(reader, start, start), "#");
    emit(reader, COLOUR, UNIT_UNKNOWN, start, start + 6);
    return start + 6;
}

/* A number and, if the word after it is one, its unit; otherwise the word is left for the next token.
 * Returns where scanning goes on. */
static const char *number(Reader *reader, const char *start, const char *end)
{
    const char *word = start;
    while (word < end && !(*word == '%' || *word == '_' || *word >= 'A'))
        word++;
    if (word < end && word[-1] >= '0' && word[-1] <= '9' && colour_without_sign(reader, start))
        return sign_missing(reader, start);
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

/* `12-mm` */
static const char *hyphen_for_blank(Reader *reader, const char *start, const char *end)
{
    const char *hyphen = memchr(start, '-', (size_t)(end - start));
    if (unit_of(hyphen + 1, end) == UNIT_NONE)
        return number(reader, start, hyphen);
    bad_number(reader, start, end, "a blank stands between a number and its unit",
               text_format(reader->arena, "%.*s %.*s", (int)(hyphen - start), start, (int)(end - hyphen - 1), hyphen + 1));
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

/* `2 o'clock`: an hour round the blank. */
static void hour_for_angle(Reader *reader, const char *start, const char *end)
{
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_UNKNOWN_UNIT, span_of(reader, start, end),
                                   "where round the blank something stands is said in degrees, 30 for an hour");
    const char *angle = text_format(reader->arena, "%ld deg", strtol(start, NULL, 10) % 12 * 30);
    finding_mend(findings, finding, "write `%s`", angle);
    finding_edit(findings, finding, finding->at.span, "%s", angle);
    emit(reader, NUMBER, UNIT_UNKNOWN, start, end);
}

static const char *per_unit(Reader *reader, const char *start, const char *end)
{
    const char *word = start + 3;
    while (is_blank(*word))
        word++;
    Unit unit = end - word == 4 && memcmp(word, "inch", 4) == 0 ? UNIT_IN : unit_of(word, end);
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

/* Behind a * or / a number is a factor: `a * 2-1/2 in` takes half an inch off. */
static bool after_factor(const Reader *reader)
{
    const Tokens *tokens = &reader->tokens;
    int before = tokens->count ? tokens->kinds[tokens->count - 1] : END;
    return before == TIMES || before == DIVIDE;
}

static bool measures(Unit unit)
{
    Measure measure = unit_measure(unit);
    return measure == MEASURE_LENGTH || measure == MEASURE_TURNS || measure == MEASURE_ANGLE;
}

/* The unit behind the last digit before `end`: a word, or " for inches; and where it begins. */
static Unit unit_at_end(const char *start, const char *end, const char **word)
{
    *word = end;
    while (*word > start && !((*word)[-1] >= '0' && (*word)[-1] <= '9'))
        (*word)--;
    while (is_blank(**word))
        (*word)++;
    return **word == '"' ? UNIT_IN : unit_of(*word, end);
}

static const char *digits_alone(Reader *reader, const char *start)
{
    const char *end = start;
    while (*end >= '0' && *end <= '9')
        end++;
    return number(reader, start, end);
}

/* `1-1/2 in`, as mixed numbers are written on rulers: a count less a length would be nothing. */
static const char *mixed_number(Reader *reader, const char *start, const char *end)
{
    const char *word;
    Unit unit = unit_at_end(start, end, &word);
    if (!measures(unit) || after_factor(reader))
        return digits_alone(reader, start);
    if (!digits_fit(start, word))
        bad_number(reader, start, end, "write at most 15 digits; no bench measures finer", NULL);
    else
        emit(reader, NUMBER, unit, start, end);
    return end;
}

/* `1 / 2 in`: a count divided by a length is nothing, so that a fraction is meant. */
static const char *parted_fraction(Reader *reader, const char *start, const char *end)
{
    const char *word;
    Unit unit = unit_at_end(start, end, &word);
    if (unit == UNIT_NONE)
        unit = unit_known_as(text_format(reader->arena, "%.*s", (int)(end - word), word));
    if (!measures(unit) || after_factor(reader))
        return digits_alone(reader, start);
    char *fraction = arena_take(reader->arena, (size_t)(end - start) + 1), *out = fraction;
    for (const char *at = start; at < word; at++) {
        bool between = is_blank(*at) && at > start && at[-1] >= '0' && at[-1] <= '9' && at[1] >= '0' && at[1] <= '9';
        if (between || !is_blank(*at))
            *out++ = *at;
    }
    bad_number(reader, start, end, "write a fraction without blanks round its stroke",
               text_format(reader->arena, "%s %s", fraction, unit_spelling(unit)));
    return end;
}

/* Without the blanks before it. */
static const char *digits_end(const char *word)
{
    while (is_blank(word[-1]))
        word--;
    return word;
}

/* `7 ft 2 in`, `6'6"`, `6' 6-1/2"`: one length, in inches. */
static const char *feet_and_inches(Reader *reader, const char *start, const char *end)
{
    const char *word, *feet_end = start;
    Unit unit = unit_at_end(start, end, &word);
    while (*feet_end != '\'' && *feet_end != 't')
        feet_end++;
    const char *inches = ++feet_end;
    while (is_blank(*inches) || *inches == '-')
        inches++;
    Unit known = unit ? unit : unit_known_as(text_format(reader->arena, "%.*s", (int)(end - word), word));
    if (known != UNIT_IN) {
        emit(reader, NUMBER, UNIT_FT, start, feet_end);
        return feet_end;
    }
    char *behind;
    long feet = strtol(start, NULL, 10), whole = strtol(inches, &behind, 10);
    if (!digits_fit(start, feet_end) || !digits_fit(inches, word))
        bad_number(reader, start, end, "write at most 15 digits; no bench measures finer", NULL);
    else if (whole >= 12 && *behind != '/')
        bad_number(reader, start, end, "twelve inches are a foot",
                   text_format(reader->arena, "%ld ft %ld%.*s in", feet + whole / 12, whole % 12,
                               (int)(digits_end(word) - behind), behind));
    else if (unit == UNIT_NONE) {
        unknown_unit(reader, word, end, UNIT_IN);
        emit(reader, NUMBER, UNIT_UNKNOWN, start, end);
    } else
        emit(reader, NUMBER, UNIT_IN, start, end);
    return end;
}

/* Marks for feet and inches from a word processor, and two ' for a ". */
static void unit_mark(Reader *reader, const char *start, const char *end)
{
    static const struct {
        const char *mark, *plain;
        Unit unit;
    } marks[] = {{"\u2019", "'", UNIT_FT}, {"\u2032", "'", UNIT_FT}, {"\u201d", "\"", UNIT_IN}, {"\u2033", "\"", UNIT_IN}, {"''", "\"", UNIT_IN}};
    size_t i = 0;
    while (memcmp(end - strlen(marks[i].mark), marks[i].mark, strlen(marks[i].mark)) != 0)
        i++;
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, end - strlen(marks[i].mark), end),
                                   "feet are marked with ' and inches with \"");
    finding_mend(findings, finding, "write `%s`", marks[i].plain);
    finding_edit(findings, finding, finding->at.span, "%s", marks[i].plain);
    emit(reader, NUMBER, marks[i].unit, start, end);
}

/* `1\u20442 in`: the stroke of a word processor. */
static const char *fraction_stroke(Reader *reader, const char *start, const char *end)
{
    const char *stroke = strchr(start, '\xe2'), *word;
    Unit unit = unit_at_end(start, end, &word);
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, stroke, stroke + 3),
                                   "a fraction has a plain stroke");
    finding_mend(findings, finding, "write `/`");
    finding_edit(findings, finding, finding->at.span, "/");
    if (word < end && unit == UNIT_NONE)
        for (end = word; is_blank(end[-1]);)
            end--;
    emit(reader, NUMBER, UNIT_UNKNOWN, start, end);
    return end;
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
    if (word == end || (*word != '"' && unit_of(word, end) == UNIT_NONE))
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
    {"\\", "/", DIVIDE},
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

/* Comments as other languages begin them. Returns the end of the line, or of the comment. */
static const char *other_comment(Reader *reader, const char *start, const char *words)
{
    const char *end = words + strcspn(words, "\n");
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, words),
                                   "a comment begins with //");
    finding_mend(findings, finding, "write `//`");
    finding_edit(findings, finding, finding->at.span, "//");
    return end;
}

static const char *other_use(Reader *reader, const char *start, const char *end)
{
    Findings *findings = reader->findings;
    Finding *finding =
        finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, end), "another file is brought in by `use`");
    finding_mend(findings, finding, "write `use`");
    finding_edit(findings, finding, finding->at.span, "use");
    emit(reader, USE, UNIT_NONE, start, end);
    return end;
}

/* A comment over several lines gets its // on each; what stands behind it on its last line goes before it. */
static const char *block_comment(Reader *reader, const char *start)
{
    const char *close = reader->comments_end ? NULL : strstr(start + 2, "*/");
    reader->comments_end = !close; /* nor do any that follow */
    if (!close)
        return other_comment(reader, start, start + 2);
    bool lines = memchr(start, '\n', (size_t)(close - start));
    reader->flags |= lines ? TOKEN_FIRST_ON_LINE : 0;
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, start + 2),
                                   "a comment begins with // and runs to the end of its line");
    finding_mend(findings, finding, lines ? "begin each line of it with `//`" : "write `//`");
    if (!finding_is_kept(finding) || close - start > FINDING_WORDS)
        return close + 2;
    const char *rest = close + 2, *rest_end = rest + strcspn(rest, "\n");
    Buffer edit;
    buffer_start(&edit, reader->arena);
    while (is_blank(*rest))
        rest++;
    buffer_put(&edit, rest, (size_t)(rest_end - rest));
    buffer_text(&edit, rest < rest_end ? " //" : "//");
    for (const char *words = start + 2; words < close; words++) {
        buffer_put(&edit, words, 1);
        if (*words == '\n')
            buffer_text(&edit, "//");
    }
    finding_edit(findings, finding, span_of(reader, start, rest_end), "%s", buffer_string(&edit));
    return close + 2;
}

/* "##22346b", "# 22346b" and "0x22346b" where a colour can stand: its six digits begin here; NULL if it is none. */
static const char *digits_of_colour(const Reader *reader, const char *start)
{
    const Tokens *tokens = &reader->tokens;
    int before = tokens->count ? tokens->kinds[tokens->count - 1] : END;
    const char *digits = start + (start[0] == '0' && (start[1] | 0x20) == 'x' ? 2 : strspn(start, "# "));
    bool whole = strspn(digits, "0123456789abcdefABCDEF") == 6 && !isalnum((unsigned char)digits[6]);
    return whole && digits > start && (before == LABEL || before == LBRACKET || before == COMMA) ? digits : NULL;
}

static const char *colour_otherwise(Reader *reader, const char *start, const char *digits)
{
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_STRANGE_CHARACTER, span_of(reader, start, digits + 6),
                                   "a colour is # and six digits of 0 to 9 and a to f");
    finding_mend(findings, finding, "write `#%.6s`", digits);
    finding_edit(findings, finding, finding->at.span, "#%.6s", digits);
    emit(reader, COLOUR, UNIT_UNKNOWN, start, digits + 6);
    return digits + 6;
}

/* `# words`, or a # where no colour can stand. */
static bool begins_comment(const Reader *reader, const char *start)
{
    const Tokens *tokens = &reader->tokens;
    int before = tokens->count ? tokens->kinds[tokens->count - 1] : END;
    bool word = (start[1] | 0x20) >= 'a' && (start[1] | 0x20) <= 'z';
    bool colour = before == LABEL || before == LBRACKET || before == LPAREN || before == COMMA || before == ASSIGN
                  || before == OF || before == TO || before == WORD;
    return !(word || (start[1] >= '0' && start[1] <= '9')) || !colour;
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
    const char *name = text_format(reader->arena, "%.*s", (int)(end - start - 1), start + 1);
    bool is_short = strlen(short_form) == 7, is_name = colour_named(name) != NO_COLOUR;
    const char *edit = is_short ? short_form : is_name ? name : "#22346b";
    finding_mend(findings, finding, is_short || is_name ? "write `%s`" : "write six digits, such as `%s`", edit);
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

/* Bytes of the quote of another kind that stands there; 0 if none does. */
static size_t other_quote(const char *at)
{
    static const char *const quotes[] = {"\u201c", "\u201d", "\u201e", "\u201f", "\u00ab",
                                         "\u00bb", "\u2018", "\u2019", "\u201a", "'"};
    for (size_t i = 0; i < sizeof quotes / sizeof *quotes; i++)
        if (strncmp(at, quotes[i], strlen(quotes[i])) == 0)
            return strlen(quotes[i]);
    return 0;
}

/* Quotes of other kinds: what stands in them is taken for the text. Returns where scanning goes on; `start` if
 * they do not close on their line. */
static const char *other_quotes(Reader *reader, const char *start)
{
    size_t opening = other_quote(start);
    const char *close = opening ? start + opening : start;
    while (*close && *close != '\n' && other_quote(close) != opening)
        close++;
    if (!opening || !*close || *close == '\n')
        return start;
    Findings *findings = reader->findings;
    const char *end = close + opening;
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

/* A number in the wide digits of some keyboards (U+FF10 to U+FF19). Returns false if it is none. */
static bool wide_digits(Reader *reader, const char *start, const char *end)
{
    char *digits = NULL;
    for (const char *at = start; at < end; at += 3) {
        if (end - at < 3 || memcmp(at, "\xef\xbc", 2) != 0 || (unsigned char)at[2] < 0x90 || (unsigned char)at[2] > 0x99)
            return false;
        digits = digits ? digits : arena_take(reader->arena, (size_t)(end - start) / 3 + 1);
        digits[(at - start) / 3] = (char)('0' + ((unsigned char)at[2] - 0x90));
    }
    bad_number(reader, start, end, "write plain digits", digits);
    return true;
}

/* A word with characters beyond ASCII: only letters, marks and digits of some script may be in it. Returns where
 * scanning goes on: behind the first sign that is none of these, or at the end. */
static const char *foreign_word(Reader *reader, const char *start, const char *end)
{
    if (wide_digits(reader, start, end))
        return end;
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

/* What stands behind blanks and comments. */
static const char *next_sign(const char *at)
{
    for (;;) {
        at += strspn(at, " \t\r\n");
        if (at[0] != '/' || at[1] != '/')
            return at;
        at += strcspn(at, "\n");
    }
}

static bool may_end(int kind) { return token_policy[kind] & ENDS; }

static bool begins_name(const char *at) { return *at == '_' || isalpha((unsigned char)*at) || (unsigned char)*at >= 0x80; }

static bool begins_option(const char *at)
{
    if (!begins_name(at))
        return false;
    while (begins_name(at) || isdigit((unsigned char)*at))
        at++;
    return at[strspn(at, " \t")] == ':';
}

/* The words `series`, `part` and `like` are words of the language only where no name could stand: where a statement
 * begins that is no call, and `like` before a text. Elsewhere each is a WORD. */
static int soft_word(Reader *reader, int kind, const char *end)
{
    const Tokens *tokens = &reader->tokens;
    int before = tokens->count ? tokens->kinds[tokens->count - 1] : END;
    const char *behind = next_sign(end);
    if (kind == LIKE) {
        bool follows = before == STRING || before == WORD || before == RBRACKET || before == NUMBER;
        return follows && (*behind == '"' || other_quote(behind)) ? LIKE : WORD;
    }
    bool begins = before == LBRACE || before == RBRACE || (reader->flags & TOKEN_FIRST_ON_LINE && may_end(before));
    if (*behind == '(' || *behind == '.')
        return WORD;
    if (kind == SERIES) {
        bool header = *behind == '{' || begins_option(behind);
        if (!(header && may_end(before)) && !begins)
            return WORD;
        reader->series_begins = true;
        return SERIES;
    }
    return (begins || may_end(before)) && begins_name(behind) ? PART : WORD;
}

/* `bench { prefer: thread }`: a value, where `thread` is a word of the language everywhere else. So it is behind any
 * option of the bench in the same line, for whoever calls that one otherwise. */
static bool is_preferred(const Reader *reader)
{
    static const char label[] = "prefer";
    const Tokens *tokens = &reader->tokens;
    return reader->options_of == BENCH && tokens->count && tokens->kinds[tokens->count - 1] == LABEL
           && (!(reader->flags & TOKEN_FIRST_ON_LINE)
               || strncmp(reader->source->bytes + tokens->starts[tokens->count - 1], label, sizeof label - 1) == 0);
}

/* `at grip:`, `at first + step:` and `shop.navy:`: behind these signs stands a value, whose colon is a sign of its
 * own. Behind `at` a mark may go over a few signs. */
static bool ends_mark(const Reader *reader)
{
    enum { LONGEST_MARK = 32 };
    const Tokens *tokens = &reader->tokens;
    uint32_t at = tokens->count;
    int before = at ? tokens->kinds[at - 1] : END;
    if (before == AT || before == ROW || before == DOT)
        return true;
    if (before != PLUS && before != MINUS && before != TIMES && before != DIVIDE)
        return false;
    for (uint32_t least = at > LONGEST_MARK ? at - LONGEST_MARK : 0; at > least; at--) {
        int kind = tokens->kinds[at - 1];
        if (kind == AT || kind == ROW)
            return true;
        if (kind == LABEL || kind == COLON || kind == LBRACE || kind == RBRACE)
            return false;
    }
    return false;
}

/* What follows a `use` without braces may be anything, and stations have colons, too: there these alone are options. */
static bool is_known_option(const Reader *reader, const char *word)
{
    static const struct {
        uint8_t of;
        const char *word;
    } known_options[] = {{USE, "version"}, {USE, "pass_on"}, {BLANK, "colour"}, {BLANK, "sheen"}};
    size_t length = strcspn(word, ": \t");
    for (size_t i = 0; i < sizeof known_options / sizeof *known_options; i++)
        if (known_options[i].of == reader->options_of && strlen(known_options[i].word) == length
            && memcmp(known_options[i].word, word, length) == 0)
            return true;
    return false;
}

static void name_and_colon(Reader *reader, const char *start, const char *end)
{
    const char *name_end = end - 1;
    while (is_blank(name_end[-1]))
        name_end--;
    emit(reader, WORD, UNIT_NONE, start, name_end);
    emit(reader, COLON, UNIT_NONE, end - 1, end);
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

/* `67 per "` */
static bool inch_mark_per(Reader *reader, const char *start)
{
    Tokens *tokens = &reader->tokens;
    uint32_t last = tokens->count - 1;
    Findings *findings = reader->findings;
    Finding *finding =
        finding_add(findings, FINDING_UNKNOWN_UNIT, span_of(reader, start, start + 1), "behind `per` a unit is a word");
    finding_mend(findings, finding, "write `in`");
    finding_edit(findings, finding, finding->at.span, "in");
    tokens->kinds[last] = PER_UNIT;
    tokens->details[last] = (uint8_t)(UNIT_IN | (tokens->details[last] & ~TOKEN_UNIT));
    return true;
}

/* `1/2 " of navy`: the mark for inches stands right behind its number. */
static bool inch_mark_apart(Reader *reader, const char *start)
{
    Tokens *tokens = &reader->tokens;
    uint32_t last = tokens->count - 1;
    if (tokens->count && tokens->kinds[last] == PER)
        return inch_mark_per(reader, start);
    if (!tokens->count || tokens->kinds[last] != NUMBER || (tokens->details[last] & TOKEN_UNIT) != UNIT_NONE
        || reader->flags & TOKEN_FIRST_ON_LINE)
        return false;
    Findings *findings = reader->findings;
    Finding *finding =
        finding_add(findings, FINDING_UNKNOWN_UNIT, span_of(reader, start, start + 1), "a blank parts \" from its number");
    finding_mend(findings, finding, "write `in`");
    finding_edit(findings, finding, finding->at.span, "in");
    tokens->details[last] = (uint8_t)(UNIT_UNKNOWN | (tokens->details[last] & ~TOKEN_UNIT));
    return true;
}

/* `rod First" on tube` */
static bool opening_quote_missing(Reader *reader, const char *start)
{
    Tokens *tokens = &reader->tokens;
    uint32_t first = tokens->count;
    if (reader->flags & TOKEN_FIRST_ON_LINE)
        return false;
    while (first > 1 && tokens->kinds[first - 1] != ROD && tokens->kinds[first - 1] != USE
           && !(tokens->details[first - 1] & TOKEN_FIRST_ON_LINE))
        first--;
    if (first == tokens->count || first < 1 || (tokens->kinds[first - 1] != ROD && tokens->kinds[first - 1] != USE))
        return false;
    const char *text = reader->source->bytes + tokens->starts[first];
    Findings *findings = reader->findings;
    Finding *finding = finding_add(findings, FINDING_TEXT_NOT_CLOSED, span_of(reader, text, start + 1),
                                   "this text has no opening quote");
    finding_mend(findings, finding, "put a \" where the text begins");
    finding_edit(findings, finding, span_of(reader, text, text), "\"");
    tokens->count = first;
    emit(reader, STRING, UNIT_UNKNOWN, text, start + 1);
    return true;
}

static const char *text_not_closed(Reader *reader, const char *start, const char *end)
{
    if (inch_mark_apart(reader, start) || opening_quote_missing(reader, start))
        return start + 1;
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
    enum { AT_ONE_STEP = 3 };   /* the two ends of a range and what is between; the end of the file is one token as well */
    const uint32_t full = tokens->room - AT_ONE_STEP;
    const char *YYCURSOR = source->bytes + reader->scanned, *YYMARKER = YYCURSOR, *start;
    const char *const limit = source->bytes + source->length;
    #define TOKEN(kind) do { emit(reader, kind, UNIT_NONE, start, YYCURSOR); goto next; } while (0)
    #define CLOSE(kind) do { reader->open -= reader->open > 0; \
                             if (reader->open < reader->series) reader->series = 0; \
                             TOKEN(kind); } while (0)
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
    mixed   = digit+ "-" digit+ "/" digit+;

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
    "use" { TOKEN(reader->options_of = USE); }
    "size" { TOKEN(SIZE); }
    "thread" { TOKEN(is_preferred(reader) ? WORD : THREAD); }
    "bench" { TOKEN(reader->options_of = BENCH); }
    "blank" { TOKEN(reader->options_of = BLANK); }
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
    "at" { TOKEN(reader->series ? ROW : AT); }
    "series" { emit(reader, soft_word(reader, SERIES, YYCURSOR), UNIT_NONE, start, YYCURSOR); goto next; }
    "part" { emit(reader, soft_word(reader, PART, YYCURSOR), UNIT_NONE, start, YYCURSOR); goto next; }
    "like" { emit(reader, soft_word(reader, LIKE, YYCURSOR), UNIT_NONE, start, YYCURSOR); goto next; }
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
        if (ends_mark(reader))
            name_and_colon(reader, start, YYCURSOR);
        else
            emit(reader, reader->options_of && is_known_option(reader, start) ? KNOWN_LABEL : LABEL, UNIT_NONE, start, YYCURSOR);
        goto next;
    }

    "0" [xX] [0-9a-fA-F]{6} {
        const char *digits = digits_of_colour(reader, start);
        YYCURSOR = digits ? colour_otherwise(reader, start, digits) : number(reader, start, start + 1);
        goto next;
    }
    digit{1,2} [ \t]* [oO] (['] | "\xe2\x80\x99")? [cC] "lock" { hour_for_angle(reader, start, YYCURSOR); goto next; }
    numeral "-" ascii_word { YYCURSOR = hyphen_for_blank(reader, start, YYCURSOR); goto next; }
    digit+ [OoIl] [0-9OoIl]* { lookalike(reader, start, YYCURSOR); goto next; }
    digit+ ("." digit+)? [eE] [+\-]? digit+ {
        if (colour_without_sign(reader, start)) { YYCURSOR = sign_missing(reader, start); goto next; }
        bad_number(reader, start, YYCURSOR, "write it out in plain digits, without an exponent",
                   without_exponent(reader, start));
        goto next;
    }
    numeral ([ \t]* ("%" | ascii_word))? {
        YYCURSOR = number(reader, start, YYCURSOR);
        goto next;
    }
    numeral ["] { emit(reader, NUMBER, UNIT_IN, start, YYCURSOR); goto next; }
    numeral ("''" | "\xe2\x80" [\x99\x9d] | "\xe2\x80" [\xb2\xb3]) { unit_mark(reader, start, YYCURSOR); goto next; }
    digit+ "\xe2\x81\x84" digit+ ([ \t]* ascii_word | ["])? { YYCURSOR = fraction_stroke(reader, start, YYCURSOR); goto next; }
    numeral ['] { emit(reader, NUMBER, UNIT_FT, start, YYCURSOR); goto next; }
    mixed ([ \t]* ascii_word | ["]) { YYCURSOR = mixed_number(reader, start, YYCURSOR); goto next; }
    digit+ [ \t]* ("ft" | ['] "-"?) [ \t]* (numeral | mixed) ([ \t]* ascii_word | ["]) {
        YYCURSOR = feet_and_inches(reader, start, YYCURSOR);
        goto next;
    }
    (digit+ [ \t]+)? digit+ ([ \t]+ "/" [ \t]* | "/" [ \t]+) digit+ ([ \t]* ascii_word | ["]) {
        YYCURSOR = parted_fraction(reader, start, YYCURSOR);
        goto next;
    }
    (digit+ [ \t]*)? "\xc2" [\xbc-\xbe] ([ \t]* ("%" | ascii_word) | ["])? {
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
    "#" [0-9a-zA-Z_]* {
        const char *digits = digits_of_colour(reader, start);
        if (digits)
            YYCURSOR = colour_otherwise(reader, start, digits);
        else if (YYCURSOR - start == 8 && memcmp(start, "#include", 8) == 0)
            YYCURSOR = other_use(reader, start, YYCURSOR);
        else if (begins_comment(reader, start))
            YYCURSOR = other_comment(reader, start, start + 1);
        else
            bad_colour(reader, start, YYCURSOR);
        goto next;
    }
    "/*" { YYCURSOR = block_comment(reader, start); goto next; }
    "--" [ \t]+ letter {
        if (start > source->bytes && !is_blank(start[-1]) && start[-1] != '\n')
            YYCURSOR = start + 1, emit(reader, MINUS, UNIT_NONE, start, YYCURSOR);
        else
            YYCURSOR = other_comment(reader, start, start + 2);
        goto next;
    }
    digit+ ".." "."? digit+ { YYCURSOR = range(reader, start, YYCURSOR); goto next; }

    "{" {
        reader->options_of = reader->options_of == BLANK || reader->options_of == BENCH ? reader->options_of : END;
        if (reader->series_begins) {
            reader->series_begins = false;
            reader->series = reader->series ? reader->series : reader->open + 1;
        }
        OPEN(LBRACE);
    }
    "}" { reader->options_of = END; CLOSE(RBRACE); }
    "(" { reader->options_of = reader->options_of == BENCH ? BENCH : END; OPEN(LPAREN); }
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
