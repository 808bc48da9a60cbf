/* Which tokens the classes of a phrase's parts take in. */
#include "syntax/phrase_part.h"

#include "parser.h"
#include "syntax/known_names.h"
#include "syntax/token_words.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

enum { FAR = 300 }; /* tokens that brackets are looked for */

static int kind_of(const Reader *reader, uint32_t at) { return reader->tokens.kinds[at]; }

static bool nothing_more(const Reader *reader, uint32_t at)
{
    int kind = kind_of(reader, at);
    bool call = kind == WORD && kind_of(reader, at + 1) == LPAREN;
    return kind == END || kind == RBRACE || first_on_line(reader, at) || call
           || token_policy[kind] & (BEGINS_STATEMENT | BEGINS_DECLARATION);
}

static bool begins(const Reader *reader, uint32_t at)
{
    return !at || first_on_line(reader, at) || kind_of(reader, at - 1) == LBRACE
           || kind_of(reader, at - 1) == RBRACE;
}

/* The bracket that closes the one before `at`. */
static uint32_t closing(const Reader *reader, uint32_t at)
{
    uint32_t depth = 0;
    for (uint32_t last = at + FAR; at < last && kind_of(reader, at) != END; at++) {
        int kind = kind_of(reader, at);
        bool closes = kind == RPAREN || kind == RBRACKET || kind == RBRACE;
        if (closes && !depth)
            return at;
        depth += kind == LPAREN || kind == LBRACKET || kind == LBRACE;
        depth -= closes;
    }
    return NO_MATCH;
}

static uint32_t name_end(const Reader *reader, uint32_t at)
{
    if (kind_of(reader, at) != WORD)
        return NO_MATCH;
    return kind_of(reader, at + 1) == DOT && kind_of(reader, at + 2) == WORD ? at + 3 : at + 1;
}

static uint32_t bracketed_end(const Reader *reader, uint32_t at)
{
    uint32_t close = closing(reader, at + 1);
    return close == NO_MATCH ? NO_MATCH : close + 1;
}

static uint32_t term_end(const Reader *reader, uint32_t at)
{
    int kind = kind_of(reader, at);
    uint32_t end = NO_MATCH;
    if (kind == NUMBER || kind == STRING || kind == COLOUR || kind == YES || kind == NO || kind == FILL)
        end = at + 1;
    else if (kind == LPAREN || kind == LBRACKET)
        end = bracketed_end(reader, at);
    else if (kind == WORD)
        end = name_end(reader, at);
    if (kind == WORD && kind_of(reader, end) == LPAREN
        && reader->tokens.ends[end - 1] == reader->tokens.starts[end])
        end = bracketed_end(reader, end);
    while (end != NO_MATCH && (kind_of(reader, end) == TURNS || kind_of(reader, end) == PER_UNIT))
        end++;
    return end;
}

static uint32_t value_end(const Reader *reader, uint32_t at)
{
    at += kind_of(reader, at) == MINUS;
    uint32_t end = term_end(reader, at);
    while (end != NO_MATCH
           && (kind_of(reader, end) == PLUS || kind_of(reader, end) == MINUS || kind_of(reader, end) == TIMES
               || kind_of(reader, end) == DIVIDE)) {
        uint32_t next = term_end(reader, end + 1);
        if (next == NO_MATCH)
            break;
        end = next;
    }
    return end;
}

static uint32_t measured_end(const Reader *reader, uint32_t at, Measure measure)
{
    Unit unit = (Unit)(reader->tokens.details[at] & TOKEN_UNIT);
    return kind_of(reader, at) == NUMBER && unit_measure(unit) == measure ? at + 1 : NO_MATCH;
}

/* What is left of the line, if no brace of the lines around it is on it. */
static uint32_t line_end(const Reader *reader, uint32_t at)
{
    uint32_t depth = 0;
    for (; kind_of(reader, at) != END && !first_on_line(reader, at); at++) {
        if (kind_of(reader, at) == RBRACE && !depth--)
            return NO_MATCH;
        depth += kind_of(reader, at) == LBRACE;
    }
    return depth ? NO_MATCH : at;
}

/* What is left on the line before an opening brace. */
static uint32_t header_end(const Reader *reader, uint32_t at)
{
    uint32_t end = at;
    while (kind_of(reader, end) != END && kind_of(reader, end) != LBRACE && kind_of(reader, end) != RBRACE
           && !first_on_line(reader, end))
        end++;
    return kind_of(reader, end) == LBRACE && end > at ? end : NO_MATCH;
}

/* The most words from here that make a declared name together. */
static uint32_t declared_words_end(Reader *reader, uint32_t at)
{
    char name[LONGEST_NAME];
    for (uint32_t end = words_end(reader, at); end > at + 1; end--) {
        int last = kind_of(reader, end - 1);
        if (last != MINUS && joined_name(reader, (TokenRange){at, end}, name, sizeof name)
            && is_known_name(reader, name))
            return end;
    }
    return NO_MATCH;
}

const char *number_in_digits(const char *word, size_t length)
{
    static const struct {
        const char *word, *digits;
    } words[] = {{"a", "1"},         {"an", "1"},       {"one", "1"},      {"two", "2"},        {"three", "3"},
                 {"four", "4"},      {"five", "5"},     {"six", "6"},      {"seven", "7"},      {"eight", "8"},
                 {"nine", "9"},      {"ten", "10"},     {"eleven", "11"},  {"twelve", "12"},    {"thirteen", "13"},
                 {"fourteen", "14"}, {"fifteen", "15"}, {"sixteen", "16"}, {"seventeen", "17"}, {"eighteen", "18"},
                 {"nineteen", "19"}, {"twenty", "20"},  {"thirty", "30"},  {"forty", "40"},     {"fifty", "50"},
                 {"sixty", "60"},    {"seventy", "70"}, {"eighty", "80"},  {"ninety", "90"}};
    const size_t ARTICLE = 2; /* `A` is a size of thread sooner than one of something */
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strlen(words[i].word) == length
            && (length > ARTICLE ? strncasecmp : strncmp)(words[i].word, word, length) == 0)
            return words[i].digits;
    return NULL;
}

static bool is_kind(const Reader *reader, uint32_t at)
{
    static const char *const kinds[] = {"thread", "threads", "length", "turns", "count", "ratio",
                                        "angle",  "rate",    "colour", "text",  "truth"};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (token_is(reader, at, kinds[i], strlen(kinds[i])))
            return true;
    return false;
}

PartClass part_class(const char *name, size_t length)
{
    static const struct {
        const char *name;
        size_t length;
    } classes[] = {
#define X(name) {#name, sizeof #name - 1},
        PART_CLASS_TABLE(X)
#undef X
    };
    if (!length || name[0] < 'A' || name[0] > 'Z') /* most parts stand for themselves */
        return CLASS_NONE;
    for (PartClass class = 0; class < CLASS_NONE; class ++)
        if (classes[class].length == length && classes[class].name[0] == name[0]
            && memcmp(classes[class].name, name, length) == 0)
            return class;
    return CLASS_NONE;
}

static uint32_t if_so(bool matches, uint32_t end) { return matches ? end : NO_MATCH; }

/* A thread or another name, or where colours are meant one by its digits. */
static uint32_t listed_end(const Reader *reader, uint32_t at, bool colours)
{
    if (colours && kind_of(reader, at) == COLOUR)
        return at + 1;
    return kind_of(reader, at) == WORD ? term_end(reader, at) : NO_MATCH;
}

/* Two or more, with a comma between, between threads also a word. */
static uint32_t list_end(const Reader *reader, uint32_t at, bool colours)
{
    uint32_t end = listed_end(reader, at, colours);
    bool more = false;
    while (end != NO_MATCH) {
        int kind = kind_of(reader, end);
        bool joint = kind == COMMA || (!colours && (kind == TO || kind == AND || kind == PLUS));
        uint32_t next = joint ? listed_end(reader, end + 1, colours) : NO_MATCH;
        if (next == NO_MATCH)
            break;
        end = next;
        more = true;
    }
    return more ? end : NO_MATCH;
}

static bool is_option(const Reader *reader, uint32_t at)
{
    static const char *const options[] = {"steps",  "over",     "runs",      "length",  "from",  "toward",
                                          "guide",  "offset",   "weight",    "every",   "ends",  "angle",
                                          "starts", "field",    "crossings", "spacing", "leads", "facing",
                                          "lead",   "measured", "points"};
    size_t length;
    const char *word = token_name(reader, at, &length);
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        if (strlen(options[i]) == length && memcmp(word, options[i], length) == 0)
            return true;
    return false;
}

/* Options with their values, with or without commas between. */
static uint32_t labels_end(const Reader *reader, uint32_t at)
{
    uint32_t end = at;
    while (kind_of(reader, end) == LABEL) {
        uint32_t value = value_end(reader, end + 1);
        if (value == NO_MATCH)
            return NO_MATCH;
        if (kind_of(reader, value) == OF && kind_of(reader, value + 1) == WORD)
            value = name_end(reader, value + 1);
        end = value + (kind_of(reader, value) == COMMA && kind_of(reader, value + 1) == LABEL);
    }
    return end > at ? end : NO_MATCH;
}

/* Up to the next option or statement, or what opens or closes a block. */
static uint32_t rest_end(const Reader *reader, uint32_t at)
{
    uint32_t end = at, depth = 0;
    for (; end < at + FAR && kind_of(reader, end) != LBRACE && (depth || !nothing_more(reader, end)); end++) {
        int kind = kind_of(reader, end);
        if (!depth && (kind == LABEL || kind == RPAREN || kind == RBRACKET))
            break;
        depth += kind == LPAREN || kind == LBRACKET;
        depth -= depth && (kind == RPAREN || kind == RBRACKET);
    }
    return end > at ? end : NO_MATCH;
}

/* Up to the next statement, or what opens or closes a block. */
static uint32_t arguments_end(const Reader *reader, uint32_t at)
{
    uint32_t end = at, depth = 0;
    for (; end < at + FAR && kind_of(reader, end) != LBRACE && (depth || !nothing_more(reader, end)); end++) {
        int kind = kind_of(reader, end);
        depth += kind == LPAREN || kind == LBRACKET;
        depth -= depth && (kind == RPAREN || kind == RBRACKET);
    }
    return end > at ? end : NO_MATCH;
}

/* Letters that look like digits. */
static bool looks_like_number(const char *word, size_t length)
{
    return strspn(word, "0123456789OoIl") >= length && strcspn(word, "0123456789") < length;
}

/* The name of a pattern: of this file, of a used one, or very likely so. */
static uint32_t called_end(Reader *reader, uint32_t at)
{
    uint32_t end = name_end(reader, at);
    return end == NO_MATCH || end > at + 1 || may_be_called(reader, at) ? end : NO_MATCH;
}

uint32_t class_end(Reader *reader, PartClass class, uint32_t at)
{
    size_t length;
    const char *word = token_name(reader, at, &length);
    int kind = kind_of(reader, at);
    switch (class) {
    case CLASS_NAME: return name_end(reader, at);
    case CLASS_WORD: return if_so(is_word(reader, at), at + 1);
    case CLASS_COUNT: return measured_end(reader, at, MEASURE_NUMBER);
    case CLASS_LENGTH: return measured_end(reader, at, MEASURE_LENGTH);
    case CLASS_TURNS: return measured_end(reader, at, MEASURE_TURNS);
    case CLASS_NUMBER: return if_so(kind == NUMBER, at + 1);
    case CLASS_VALUE: return value_end(reader, at);
    case CLASS_TEXT: return if_so(kind == STRING, at + 1);
    case CLASS_COLOUR: return if_so(kind == COLOUR, at + 1);
    case CLASS_LABEL: return if_so(kind == LABEL, at + 1);
    case CLASS_KIND: return if_so(is_kind(reader, at), at + 1);
    case CLASS_PERUNIT: return if_so(kind == PER_UNIT, at + 1);
    case CLASS_INSIDE: return closing(reader, at);
    case CLASS_LINE: return line_end(reader, at);
    case CLASS_HEADER: return header_end(reader, at);
    case CLASS_WORDS: return if_so(words_end(reader, at), words_end(reader, at));
    case CLASS_DECLARED: return declared_words_end(reader, at);
    case CLASS_NUMBERWORD: return if_so(kind == WORD && number_in_digits(word, length), at + 1);
    case CLASS_ANY: return if_so(kind != END, at + 1);
    case CLASS_NAMES: return list_end(reader, at, false);
    case CLASS_COLOURS: return list_end(reader, at, true);
    case CLASS_LABELS: return labels_end(reader, at);
    case CLASS_OPTIONS: return if_so(is_option(reader, at), labels_end(reader, at));
    case CLASS_ARGUMENTS: return arguments_end(reader, at);
    case CLASS_PARAMETER:
        return if_so(kind == WORD && is_parameter_name(reader, at) && !is_declared(reader, at), at + 1);
    case CLASS_FEET: return if_so(kind == NUMBER && (reader->tokens.details[at] & TOKEN_UNIT) == UNIT_FT, at + 1);
    case CLASS_REST: return rest_end(reader, at);
    case CLASS_GROUP: return if_so(kind == NUMBER && strspn(word, "0123456789") == 3, at + 1);
    case CLASS_LOOKALIKE: return if_so(kind == WORD && looks_like_number(word, length), at + 1);
    case CLASS_OPTION: return if_so(kind != LABEL && is_option(reader, at), at + 1);
    case CLASS_UNDECLARED: return if_so(kind == WORD && !is_declared(reader, at), at + 1);
    case CLASS_LIST: return if_so(kind == WORD && is_list_name(reader, at), at + 1);
    case CLASS_CALLED: return called_end(reader, at);
    case CLASS_MODULE: return if_so(kind == WORD && is_module_name(reader, at), at + 1);
    case CLASS_THREAD: return if_so(kind == WORD && is_declared(reader, at), at + 1);
    case CLASS_START: return if_so(begins(reader, at), at);
    case CLASS_WITHIN: return if_so(!begins(reader, at), at);
    case CLASS_FIRST: return if_so(first_on_line(reader, at), at);
    case CLASS_EOL: return if_so(first_on_line(reader, at) || kind == END, at);
    case CLASS_APART: return if_so(at && reader->tokens.ends[at - 1] < reader->tokens.starts[at], at);
    case CLASS_NEXT: return if_so(nothing_more(reader, at), at);
    case CLASS_NEAR: return if_so(at && reader->tokens.ends[at - 1] == reader->tokens.starts[at], at);
    case CLASS_OPENED:
        return if_so(at && (kind_of(reader, at - 1) == LPAREN || kind_of(reader, at - 1) == COMMA), at);
    case CLASS_NONE: break;
    }
    return NO_MATCH;
}
