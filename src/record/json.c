#include "record/json.h"

#include "base/units.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <utf8proc.h>

/* Digits of a number that are heeded: all that 64 bits hold. */
enum { MOST_DIGITS = 19, MOST_EXPONENT = 400 };
/* Characters of a member's name. */
enum { MOST_NAME = 40 };

Json json_start(Arena *arena, const Sources *sources, uint32_t file, Findings *findings)
{
    const Source *source = &sources->list.items[file];
    return (Json){
        .bytes = source->bytes, .length = source->length, .file = file, .arena = arena, .findings = findings};
}

/* --- what is wrong --- */

static Span span_from(const Json *json, uint32_t start)
{
    uint32_t end = json->at > start ? json->at : start < json->length ? start + 1 : start;
    return (Span){start, end, json->file};
}

static const char way_out[] = "save the record from its page once more, and leave it as it is";

static bool no_json(Json *json, Span span, const char *words)
{
    if (json->broken)
        return false;
    Finding *finding =
        finding_add(json->findings, FINDING_NO_RECORD, span, "this record cannot be read: %s", words);
    finding_mend(json->findings, finding, way_out);
    json->broken = true;
    return false;
}

bool json_refuse(Json *json, Span span, const char *format, ...)
{
    if (json->broken)
        return false;
    char words[300];
    va_list values;
    va_start(values, format);
    vsnprintf(words, sizeof words, format, values);
    va_end(values);
    finding_mend(json->findings, finding_add(json->findings, FINDING_RECORD_VALUE, span, "%s", words), way_out);
    json->broken = true;
    return false;
}

/* --- blanks and signs --- */

static char next(Json *json)
{
    json->at += (uint32_t)strspn(json->bytes + json->at, " \t\r\n");
    return json->at < json->length ? json->bytes[json->at] : 0;
}

Span json_here(Json *json)
{
    next(json);
    return span_from(json, json->at);
}

/* What comes instead of something else. */
static const char *kind_here(Json *json)
{
    static const struct {
        const char *signs, *words;
    } kinds[] = {{"{", "an object"},          {"[", "a list"},         {"\"", "a text"},
                 {"-0123456789", "a number"}, {"tf", "true or false"}, {"n", "null"}};
    char sign = next(json);
    for (size_t i = 0; sign && i < sizeof kinds / sizeof *kinds; i++)
        if (strchr(kinds[i].signs, sign))
            return kinds[i].words;
    return NULL;
}

/* Another kind of value, or none. */
static bool other_value(Json *json, const char *name, const char *wanted)
{
    const char *kind = kind_here(json);
    if (kind)
        return json_refuse(json, json_here(json), "`%s` is %s here, and should be %s", name, kind, wanted);
    return no_json(json, json_here(json),
                   json->at < json->length ? "what stands here is no JSON" : "its end is missing");
}

/* --- objects and lists --- */

bool json_open(Json *json, char bracket, const char *name)
{
    if (json->broken)
        return false;
    if (next(json) != bracket)
        return other_value(json, name, bracket == '{' ? "an object" : "a list");
    json->at++;
    return json->fresh = true;
}

bool json_more(Json *json, char closing)
{
    if (json->broken)
        return false;
    char sign = next(json);
    bool fresh = json->fresh;
    json->fresh = false;
    if (sign == closing) {
        json->at++;
        return false;
    }
    if (fresh)
        return true;
    if (sign != ',')
        return no_json(json, json_here(json),
                       json->at < json->length ? "a comma is missing here" : "its end is missing");
    json->at++;
    return true;
}

bool json_end(Json *json)
{
    if (!json->broken && (next(json) || json->at < json->length))
        return no_json(json, json_here(json), "something follows after its end");
    return !json->broken;
}

/* --- texts --- */

/* Four digits of base 16, or -1. */
static int32_t four_digits(const Json *json, uint32_t at)
{
    int32_t value = 0;
    for (uint32_t i = at; i < at + 4; i++) {
        char digit = i < json->length ? json->bytes[i] : 0;
        int place = digit >= '0' && digit <= '9'   ? digit - '0'
                    : digit >= 'a' && digit <= 'f' ? digit - 'a' + 10
                    : digit >= 'A' && digit <= 'F' ? digit - 'A' + 10
                                                   : -1;
        if (place < 0)
            return -1;
        value = value * 16 + place;
    }
    return value;
}

static bool is_first_half(int32_t unit) { return unit >= 0xd800 && unit < 0xdc00; }
static bool is_second_half(int32_t unit) { return unit >= 0xdc00 && unit < 0xe000; }

/* `\u` and its digits, two of them for a character beyond 16 bits; -1 for none. */
static int32_t escaped_unit(Json *json)
{
    int32_t unit = four_digits(json, json->at);
    json->at += unit < 0 ? 0 : 4;
    if (is_second_half(unit))
        return -1;
    if (!is_first_half(unit))
        return unit;
    bool follows = json->at + 2 < json->length && memcmp(json->bytes + json->at, "\\u", 2) == 0;
    int32_t second = follows ? four_digits(json, json->at + 2) : -1;
    if (!is_second_half(second))
        return -1;
    json->at += 6;
    return 0x10000 + ((unit - 0xd800) << 10) + (second - 0xdc00);
}

/* After a backslash. */
static int32_t escaped(Json *json)
{
    static const char signs[] = "\"\\/bfnrt", meant[] = "\"\\/\b\f\n\r\t";
    char sign = json->at < json->length ? json->bytes[json->at] : 0;
    const char *found = sign ? strchr(signs, sign) : NULL;
    json->at += sign != 0;
    return found ? meant[found - signs] : sign == 'u' ? escaped_unit(json) : -1;
}

/* The character at hand; -1 for one that no text may hold. */
static int32_t read_character(Json *json)
{
    unsigned char byte = (unsigned char)json->bytes[json->at];
    if (byte == '\\') {
        json->at++;
        return escaped(json);
    }
    if (byte < 0x20)
        return -1;
    utf8proc_int32_t character; /* -1 for what is no UTF-8 */
    utf8proc_ssize_t taken = utf8proc_iterate((const utf8proc_uint8_t *)json->bytes + json->at,
                                              (utf8proc_ssize_t)(json->length - json->at), &character);
    json->at += taken > 0 ? (uint32_t)taken : 1;
    return character;
}

/* Characters up to the closing quote, which is read; -1 if it cannot be. Bytes go to `into` if that is given. */
static int64_t read_characters(Json *json, char *into)
{
    int64_t count = 0;
    for (; json->at < json->length && json->bytes[json->at] != '"'; count++) {
        uint32_t start = json->at;
        int32_t character = read_character(json);
        if (character <= 0) {
            no_json(json, span_from(json, start), "a text holds what is no character");
            return -1;
        }
        if (into)
            into += utf8proc_encode_char(character, (utf8proc_uint8_t *)into);
    }
    if (json->at >= json->length) {
        no_json(json, json_here(json), "its end is missing");
        return -1;
    }
    json->at++;
    return count;
}

bool json_text(Json *json, const char *name, uint32_t most, const char **text)
{
    if (json->broken)
        return false;
    if (next(json) != '"')
        return other_value(json, name, "a text");
    uint32_t start = json->at++;
    int64_t count = read_characters(json, NULL);
    if (count < 0)
        return false;
    if (count > most)
        return json_refuse(json, span_from(json, start), "`%s` has %lld characters, and at most %u are read", name,
                           (long long)count, (unsigned)most);
    char *bytes = arena_take(json->arena, 4 * (size_t)count + 1);
    json->at = start + 1;
    read_characters(json, bytes);
    *text = bytes;
    return true;
}

bool json_key(Json *json, const char **key, Span *span)
{
    if (json->broken)
        return false;
    next(json);
    uint32_t start = json->at;
    if (json->at >= json->length || json->bytes[json->at] != '"')
        return no_json(json, json_here(json),
                       json->at < json->length ? "a name in quotes should stand here" : "its end is missing");
    if (!json_text(json, "a name", MOST_NAME, key))
        return false;
    *span = span_from(json, start);
    if (next(json) != ':')
        return no_json(json, json_here(json),
                       json->at < json->length ? "a colon is missing here" : "its end is missing");
    json->at++;
    return true;
}

/* --- numbers and truths --- */

typedef struct Digits {
    uint64_t value;
    int count, left_out; /* those in the value; those that it has no room for */
} Digits;

/* How many digits stand there. */
static uint32_t take_digits(Json *json, Digits *digits)
{
    uint32_t start = json->at;
    for (; json->at < json->length && json->bytes[json->at] >= '0' && json->bytes[json->at] <= '9'; json->at++) {
        bool room = digits->count < MOST_DIGITS;
        if (room)
            digits->value = digits->value * 10 + (uint64_t)(json->bytes[json->at] - '0');
        digits->count += room && digits->value;
        digits->left_out += !room;
    }
    return json->at - start;
}

static bool take_sign(Json *json, const char *signs, char *sign)
{
    char here = json->at < json->length ? json->bytes[json->at] : 0;
    bool there = here && strchr(signs, here);
    *sign = there ? here : 0;
    json->at += there;
    return there;
}

/* The number behind an `e`, no larger than any that matters; false if there is none. */
static bool take_exponent(Json *json, int *exponent)
{
    char sign;
    take_sign(json, "+-", &sign);
    Digits digits = {0};
    if (!take_digits(json, &digits))
        return false;
    int value = digits.value < MOST_EXPONENT ? (int)digits.value : MOST_EXPONENT;
    *exponent += sign == '-' ? -value : value;
    return true;
}

/* The nearest double: 64 bits hold the digits, and a power of ten in long double is no further off than that. */
static double scaled(const Digits *digits, int exponent)
{
    long double value = (long double)digits->value;
    return (double)(exponent < 0 ? value / powl(10, -exponent) : value * powl(10, exponent));
}

/* A number by its grammar, RFC 8259 6. */
static bool read_number(Json *json, double *number)
{
    Digits digits = {0};
    char sign, mark;
    take_sign(json, "-", &sign);
    bool zero = json->at < json->length && json->bytes[json->at] == '0';
    uint32_t whole = take_digits(json, &digits);
    int exponent = digits.left_out;
    if (!whole || (zero && whole > 1))
        return false;
    if (take_sign(json, ".", &mark)) {
        int left_out = digits.left_out;
        uint32_t decimals = take_digits(json, &digits);
        if (!decimals)
            return false;
        exponent -= (int)decimals - (digits.left_out - left_out);
    }
    if (take_sign(json, "eE", &mark) && !take_exponent(json, &exponent))
        return false;
    *number = scaled(&digits, exponent) * (sign ? -1 : 1);
    return true;
}

bool json_number(Json *json, const char *name, double least, double most, double *number)
{
    if (json->broken)
        return false;
    char sign = next(json);
    uint32_t start = json->at;
    if (!sign || !strchr("-0123456789", sign))
        return other_value(json, name, "a number");
    if (!read_number(json, number))
        return no_json(json, span_from(json, start), "what stands here is no number");
    if (*number >= least && *number <= most)
        return true;
    return json_refuse(json, span_from(json, start), "`%s` should be from %s to %s", name,
                       show_number(json->findings->words, least, 6), show_number(json->findings->words, most, 6));
}

bool json_whole(Json *json, const char *name, uint32_t least, uint32_t most, uint32_t *number)
{
    double value;
    Span span = json_here(json);
    if (!json_number(json, name, least, most, &value))
        return false;
    if (value != floor(value))
        return json_refuse(json, span, "`%s` should be a whole number", name);
    *number = (uint32_t)value;
    return true;
}

bool json_truth(Json *json, const char *name, bool *truth)
{
    if (json->broken)
        return false;
    next(json);
    static const char *const words[] = {"false", "true"};
    for (uint32_t i = 0; i < 2; i++) {
        size_t length = strlen(words[i]);
        if (json->length - json->at >= length && memcmp(json->bytes + json->at, words[i], length) == 0) {
            json->at += (uint32_t)length;
            *truth = i;
            return true;
        }
    }
    return other_value(json, name, "true or false");
}
