/* The same pattern with other values in it, which most often can be wound, too: other numbers, threads and words
 * of a kind, a line twice or not at all. */
#ifndef TURNLAY_TESTS_VARIED_VALUES_H
#define TURNLAY_TESTS_VARIED_VALUES_H

#include "chance.h"
#include "tokens.h"

#include <stdio.h>
#include <stdlib.h>

/* Words of which one stands where another may. */
enum { MOST_EXCHANGED = 7 };
static const char *const exchanged[][MOST_EXCHANGED] = {
    {"butt", "tip"},
    {"yes", "no"},
    {"open", "closed"},
    {"count", "eye"},
    {"chevron", "diamond"},
    {"gloss", "matt", "metallic"},
    {"nylon", "polyester", "silk", "viscose", "cotton", "polypropylene", "aramid"},
};

/* What a bench may be like. */
static const char *const benches[] = {
    "units: mm",
    "units: cm",
    "units: in",
    "bind: 4",
    "bind: 9",
    "loop: 2",
    "loop: 7",
    "final: 3",
    "final: 15",
    "free: 60 mm",
    "free: 300 mm",
    "tolerance: 0.1 mm",
    "tolerance: 2 mm",
    "rule: 0.5 mm",
    "rule: 1/32 in",
    "callipers: 0.1 mm",
    "callipers: 0.02 in",
    "hand: 300 mm",
    "hand: 900 mm",
    "carry: 3",
    "carry: 60",
    "ridge: 1",
    "ridge: 6",
    "apart: 0.2 mm",
    "apart: 3 mm",
    "friction: 0.12",
    "friction: 0.4",
    "measure: 20",
    "measure: 150",
    "reading: 0.03 mm",
    "reading: 0.4 mm",
    "varies: 0",
    "varies: 0.04",
    "coat: 0.1 mm",
    "coat: 0.6 mm",
    "speed: 15",
    "speed: 200",
    "handling: 10",
    "handling: 150",
    "holders: 1",
    "holders: 5",
    "bobbins: 1",
    "bobbins: 3",
    "pack: 8",
    "pack: 25",
    "coats: 0",
    "coats: 4",
    "flattest: 25 deg",
    "steepest: 50 deg",
    "stack: 2",
    "stack: 12",
    "shortest: 3",
    "paper: 0",
    "paper: 0.3 mm",
    "sight: 0.3",
    "sight: 1.5",
    "near: 300 mm",
    "far: 900 mm",
    "jump: 1",
    "jump: 8",
    "alike: 0",
    "alike: 6",
    "ends: tape",
    "ends: pins",
    "ends: none",
    "left: tip",
    "left: butt",
    "rotation: away",
    "rotation: toward",
    "line: spine",
    "line: straightest",
    "order: butt",
    "order: tip",
    "order: source",
    "clean: no",
    "wipe: no",
    "drive: hand",
    "drive: pedal",
    "prefer: ends",
    "prefer: time",
    "prefer: thread",
    "brake: no",
    "dress: no",
    "tape: no",
    "align: no",
    "seal: yes",
    "singe: no",
    "lock: yes",
};

/* Other words from `start` to `end`; nothing changes if the text has no room for them. */
static void put(char *text, size_t size, size_t start, size_t end, const char *other)
{
    size_t length = strlen(other), rest = strlen(text + end) + 1;
    if (start + length + rest > size)
        return;
    memmove(text + start + length, text + end, rest);
    memcpy(text + start, other, length);
}

/* The bench has one thing more, in place of what it says of that. */
static void change_bench(Chance *chance, char *text, size_t size)
{
    const char *option = ONE_OF(chance, benches), *bench = strstr(text, "\nbench {"), *line = strchr(text, '\n');
    char words[80];
    if (!bench) {
        snprintf(words, sizeof words, "\nbench { %s }", option);
        if (line)
            put(text, size, (size_t)(line - text), (size_t)(line - text), words);
        return;
    }
    size_t open = (size_t)(bench - text) + strlen("\nbench {"), close = open + strcspn(text + open, "}");
    snprintf(words, sizeof words, " %.*s", (int)strcspn(option, ":") + 1, option);
    const char *said = strstr(text + open, words);
    if (said && (size_t)(said - text) < close) {
        size_t at = (size_t)(said - text);
        snprintf(words, sizeof words, " %s", option);
        put(text, size, at, at + 1 + strcspn(text + at + 1, ",}\n"), words);
    } else {
        snprintf(words, sizeof words, " %s,", option);
        put(text, size, open, open, words);
    }
}

/* The other word, or NULL. */
static const char *other_word(Chance *chance, const char *word, size_t length)
{
    enum { KINDS = sizeof exchanged / sizeof *exchanged };
    for (int kind = 0; kind < KINDS; kind++)
        for (uint32_t i = 0; i < MOST_EXCHANGED && exchanged[kind][i]; i++)
            if (strlen(exchanged[kind][i]) == length && memcmp(exchanged[kind][i], word, length) == 0) {
                uint32_t count = 0;
                while (count < MOST_EXCHANGED && exchanged[kind][count])
                    count++;
                return exchanged[kind][(i + 1 + below(chance, count - 1)) % count];
            }
    return NULL;
}

/* A number near by: most often a little more or less, sometimes half or double as much, seldom far off. */
static void write_near(Chance *chance, const char *written, size_t length, char *out, size_t size)
{
    static const double times[] = {0.9, 0.95, 0.98, 1.02, 1.05, 1.1, 1.25, 0.75, 0.5, 2, 3, 0.1};
    char number[64];
    snprintf(number, sizeof number, "%.*s", (int)length, written);
    double value = atof(number);
    if (memchr(written, '.', length)) {
        snprintf(out, size, "%.4g", value * ONE_OF(chance, times));
        return;
    }
    bool small = value < 12 || below(chance, 3) == 0;
    double step = 1 + below(chance, 2), made = value * ONE_OF(chance, times);
    if (small)
        made = below(chance, 2) || value < step ? value + step : value - step;
    snprintf(out, size, "%.0f", made);
}

/* The `#rrggbb` with one of its digits changed. */
static void write_colour(Chance *chance, const char *written, size_t length, char *out, size_t size)
{
    snprintf(out, size, "%.*s", (int)length, written);
    out[1 + below(chance, (uint32_t)length - 1)] = "0123456789abcdef"[below(chance, 16)];
}

/* Whether the token before is `thread`, which declares this one. */
static bool names_thread(const char *text, const Tokens *tokens, uint32_t which)
{
    return which && isalpha((unsigned char)text[tokens->items[which].start])
           && token_is(text, tokens, which - 1, "thread", strlen("thread"));
}

/* If the token is a thread's name, another thread's that the text declares. */
static bool write_thread(Chance *chance, const char *text, const Tokens *tokens, uint32_t which, char *out,
                         size_t size)
{
    size_t length = tokens->items[which].end - tokens->items[which].start;
    uint32_t count = 0, taken = 0;
    bool is_one = false;
    for (uint32_t i = 0; i < tokens->count; i++) {
        if (!names_thread(text, tokens, i) || i == which)
            continue;
        bool same = token_is(text, tokens, i, text + tokens->items[which].start, length);
        is_one |= same;
        if (!same && below(chance, ++count) == 0)
            taken = i;
    }
    if (is_one && count)
        snprintf(out, size, "%.*s", (int)(tokens->items[taken].end - tokens->items[taken].start),
                 text + tokens->items[taken].start);
    return is_one && count;
}

/* What may stand in the token's place; false if nothing is known that does. */
static bool write_other(Chance *chance, const char *text, const Tokens *tokens, uint32_t which, char *out,
                        size_t size)
{
    const char *token = text + tokens->items[which].start;
    size_t length = tokens->items[which].end - tokens->items[which].start;
    const char *word;
    if (isdigit((unsigned char)token[0]) && length < 20)
        write_near(chance, token, length, out, size);
    else if (token[0] == '#' && length > 3)
        write_colour(chance, token, length, out, size);
    else if ((word = other_word(chance, token, length)))
        snprintf(out, size, "%s", word);
    else
        return write_thread(chance, text, tokens, which, out, size);
    return true;
}

/* The line that the token is on goes, or stands twice. Where a line closes more than it opens nothing is done. */
static void change_line(Chance *chance, char *text, size_t size, size_t at)
{
    size_t start = at, end = at + strcspn(text + at, "\n");
    while (start && text[start - 1] != '\n')
        start--;
    int depth = 0;
    for (size_t i = start; i < end; i++)
        depth += (text[i] == '{') - (text[i] == '}');
    if (depth || !text[end] || strlen(text) + (end - start) + 2 > size)
        return;
    end++;
    if (below(chance, 2))
        memmove(text + start, text + end, strlen(text + end) + 1);
    else
        memmove(text + end, text + start, strlen(text + start) + 1);
}

/* One of the values, behind the edition's number. */
static void change_value(Chance *chance, char *text, size_t size, const Tokens *tokens)
{
    enum { TRIES_AT_ONE = 20 };
    char other[256];
    for (int tries = 0; tries < TRIES_AT_ONE && tokens->count > 2; tries++) {
        uint32_t which = 2 + below(chance, tokens->count - 2);
        if (write_other(chance, text, tokens, which, other, sizeof other)) {
            put(text, size, tokens->items[which].start, tokens->items[which].end, other);
            return;
        }
    }
}

/* So many changes, one after the other. */
static void change_values(Chance *chance, char *text, size_t size, uint32_t changes)
{
    static Tokens tokens;
    for (; changes > 0; changes--) {
        find_tokens(text, &tokens);
        switch (below(chance, 8)) {
        case 0:
            if (tokens.count > 2)
                change_line(chance, text, size, tokens.items[2 + below(chance, tokens.count - 2)].start);
            break;
        case 1:
        case 2: change_bench(chance, text, size); break;
        default: change_value(chance, text, size, &tokens); break;
        }
    }
}

#endif
