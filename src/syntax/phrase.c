/* Writes what is meant by a phrase of phrase_table.c. */
#include "syntax/phrase.h"

#include "base/buffer.h"
#include "parser.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST_SHOWN = 70 };

static Span span_of(const Reader *reader, TokenRange part)
{
    Span span = reader_span(reader, part.first);
    span.end = part.end > part.first ? reader->tokens.ends[part.end - 1] : span.start;
    return span;
}

static void put_text(Buffer *out, const Reader *reader, TokenRange part)
{
    Span span = span_of(reader, part);
    buffer_put(out, reader->source->bytes + span.start, span.end - span.start);
}

/* Any text as a name: what cannot stand in one becomes _. */
static void put_name(Buffer *out, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        bool fits = isalnum((unsigned char)text[i]) || (unsigned char)text[i] >= 0x80 || text[i] == '_';
        buffer_put(out, fits ? &text[i] : "_", 1);
    }
}

/* The kind of a parameter that has such a default. */
static const char *kind_of_value(const Reader *reader, uint32_t at)
{
    static const char *const of_measure[] = {
        [MEASURE_NUMBER] = "count", [MEASURE_LENGTH] = "length", [MEASURE_TURNS] = "turns",
        [MEASURE_ANGLE] = "angle",  [MEASURE_RATIO] = "ratio",   [MEASURE_UNKNOWN] = "count"};
    const Tokens *tokens = &reader->tokens;
    switch (tokens->kinds[at]) {
    case NUMBER:
        return tokens->kinds[at + 1] == PER_UNIT
                   ? "rate"
                   : of_measure[unit_measure((Unit)(tokens->details[at] & TOKEN_UNIT))];
    case STRING: return "text";
    case COLOUR: return "colour";
    case YES:
    case NO: return "truth";
    case LBRACKET: return "threads";
    default: return "thread";
    }
}

static bool is_guide(const Reader *reader, uint32_t at)
{
    size_t length;
    const char *name = token_name(reader, at, &length);
    return length == 5 && memcmp(name, "guide", 5) == 0;
}

/* The first that is declared of its sort, for a place that lacks one. */
static void put_declared(Buffer *out, const Reader *reader, int keyword, const char *otherwise)
{
    enum { FAR = 50000 };
    const Tokens *tokens = &reader->tokens;
    for (uint32_t at = 0; at < FAR && tokens->kinds[at] != END; at++)
        if (tokens->kinds[at] == keyword && tokens->kinds[at + 1] == WORD
            && (keyword != LABEL || is_guide(reader, at))) {
            put_text(out, reader, (TokenRange){at + 1, at + 2});
            return;
        }
    buffer_text(out, otherwise);
}

/* A new statement: on a line of its own if the one before begins one. */
static void put_new_statement(Buffer *out, const Reader *reader, uint32_t first)
{
    while (first && !first_on_line(reader, first) && reader->tokens.kinds[first - 1] != LBRACE)
        first--;
    if (!first_on_line(reader, first)) {
        buffer_text(out, "  ");
        return;
    }
    uint32_t start = reader->tokens.starts[first], line = start;
    while (line && strchr(" \t", reader->source->bytes[line - 1]))
        line--;
    buffer_text(out, "\n");
    buffer_put(out, reader->source->bytes + line, start - line);
}

static size_t number_length(const char *text, size_t most)
{
    size_t length = strspn(text, "0123456789./");
    return length < most ? length : most;
}

static void put_lookalike(Buffer *out, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++)
        buffer_put(out,
                   text[i] == 'O' || text[i] == 'o'   ? "0"
                   : text[i] == 'l' || text[i] == 'I' ? "1"
                                                      : &text[i],
                   1);
}

static void put_list(Buffer *out, const Reader *reader, TokenRange part)
{
    uint32_t depth = 0, from = part.first;
    for (uint32_t at = part.first; at < part.end; at++) {
        int kind = reader->tokens.kinds[at];
        depth += kind == LPAREN;
        depth -= kind == RPAREN;
        if (depth || (kind != COMMA && kind != TO && kind != AND && kind != PLUS))
            continue;
        put_text(out, reader, (TokenRange){from, at});
        buffer_text(out, ", ");
        from = at + 1;
    }
    put_text(out, reader, (TokenRange){from, part.end});
}

/* o: letters that look like digits; c: names with commas between; x: a number of a colour; l: an option's name; u:
 * a number without its unit; w: a text as a name; t: what stands in the quotes; d: a number word in digits; j:
 * words joined to a name; k: the kind of a value. */
static void put_form(Buffer *out, const Reader *reader, char form, TokenRange part)
{
    if (part.first == part.end)
        return;
    size_t length;
    const char *text = token_name(reader, part.first, &length);
    bool quoted = reader->tokens.kinds[part.first] == STRING;
    char name[200];
    switch (form) {
    case 'l': buffer_put(out, text, length); break;
    case 'u': buffer_put(out, text, number_length(text, length)); break;
    case 's': {
        size_t number = number_length(text, length);
        buffer_put(out, text + number, length - number);
        break;
    }
    case 'w': put_name(out, text + quoted, length - 2 * quoted); break;
    case 't': buffer_put(out, text + quoted, length - 2 * quoted); break;
    case 'd': buffer_text(out, number_in_digits(text, length)); break;
    case 'o': put_lookalike(out, text, length); break;
    case 'c': put_list(out, reader, part); break;
    case 'x': buffer_format(out, "%02x", (unsigned)(strtoul(text, NULL, 10) & 0xff)); break;
    case 'j': buffer_put(out, name, joined_name(reader, part, name, sizeof name)); break;
    case 'k': buffer_text(out, kind_of_value(reader, part.first)); break;
    default: put_text(out, reader, part);
    }
}

/* A name that is written elsewhere in the file. Returns false if none is wanted there. */
static bool put_known(Buffer *out, const Reader *reader, const char **at)
{
    static const struct {
        const char *written;
        int keyword; /* that stands before it */
        const char *otherwise;
    } known[] = {{"$rod_blank", ON, "tube"},
                 {"$blank", BLANK, "tube"},
                 {"$thread", THREAD, "navy"},
                 {"$guide", LABEL, "ring"}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        size_t length = strlen(known[i].written);
        if (strncmp(*at, known[i].written, length) != 0)
            continue;
        put_declared(out, reader, known[i].keyword, known[i].otherwise);
        *at += length - 1;
        return true;
    }
    return false;
}

static void put_meant(Buffer *out, const Reader *reader, const PhraseMatch *match)
{
    for (const char *at = match->phrase->meant; *at; at++) {
        if (*at == ';') {
            put_new_statement(out, reader, match->all.first);
        } else if (put_known(out, reader, &at)) {
            continue;
        } else if (*at == '$') {
            char form = 0;
            if (isalpha((unsigned char)at[1]))
                form = *++at;
            unsigned part = (unsigned)(*++at - '1');
            if (part < match->count)
                put_form(out, reader, form, match->parts[part]);
        } else
            buffer_put(out, at, 1);
    }
}

static bool parts_words(char byte)
{
    return byte == ' ' || byte == '\n' || byte == '\t' || strchr("()[]{},", byte);
}

/* Leaves out what stays at both ends, by whole words. */
static Span changed_part(const Source *source, Span span, const char **text, size_t *length)
{
    const char *old = source->bytes + span.start, *new = *text;
    size_t old_length = span.end - span.start, head = 0, tail = 0,
           fewer = old_length < *length ? old_length : *length;
    while (head < fewer && old[head] == new[head])
        head++;
    if (head < old_length || head < *length)
        while (head && !parts_words(old[head - 1]))
            head--;
    while (tail < fewer - head && old[old_length - tail - 1] == new[*length - tail - 1])
        tail++;
    while (tail && !parts_words(old[old_length - tail]))
        tail--;
    *text += head;
    *length -= head + tail;
    span.start += (uint32_t)head;
    span.end -= (uint32_t)tail;
    return span;
}

static void say_mend(Reader *reader, Finding *finding, const char *written, size_t written_length,
                     const char *meant)
{
    Findings *findings = reader->findings;
    size_t length = strlen(meant);
    if (length && length <= LONGEST_SHOWN && !strchr(meant, '\n'))
        finding_mend(findings, finding, "write `%s`", meant);
    else if (!length && written_length <= LONGEST_SHOWN)
        finding_mend(findings, finding, "take `%.*s` out", (int)written_length, written);
    else
        finding_mend(findings, finding, length ? "write it so" : "take it out");
}

static bool in_word(char byte) { return isalnum((unsigned char)byte) || byte == '_'; }

/* `4 + 1 ends`: the number is the end of a sum, and no phrase begins there. */
static bool begins_within_sum(const Reader *reader, uint32_t first)
{
    int before = first ? reader->tokens.kinds[first - 1] : END;
    return reader->tokens.kinds[first] == NUMBER
           && (before == PLUS || before == MINUS || before == TIMES || before == DIVIDE);
}

bool mend_phrase(Reader *reader, FindingCode code, uint32_t at, bool words)
{
    PhraseMatch match;
    if (findings_full(reader->findings) || !phrase_match(reader, at, words, &match)
        || begins_within_sum(reader, match.all.first))
        return false;
    Span all = span_of(reader, match.all);
    Buffer meant;
    buffer_start(&meant, reader->arena);
    put_meant(&meant, reader, &match);
    const char *whole = buffer_string(&meant), *text = whole;
    size_t length = meant.length;
    Span span = changed_part(reader->source, all, &text, &length);
    Span marked = span.start < span.end ? span : reader_span(reader, at);
    Finding *finding = finding_add(reader->findings, code, marked, "%s", match.phrase->said);
    say_mend(reader, finding, reader->source->bytes + span.start, span.end - span.start,
             span.end > span.start && !length ? "" : whole);
    if (!meant.length)
        span = span_to_remove(reader->source, span);
    const char *bytes = reader->source->bytes;
    bool joins_before = length && span.start && in_word(bytes[span.start - 1]) && in_word(text[0]);
    bool joins_behind = length && in_word(bytes[span.end]) && in_word(text[length - 1]);
    finding_edit(reader->findings, finding, span, "%s%.*s%s", joins_before ? " " : "", (int)length, text,
                 joins_behind ? " " : "");
    reader->mended_to = match.all.end;
    return true;
}
