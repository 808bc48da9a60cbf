#include "base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

uint64_t hash_bytes(uint64_t hash, const void *bytes, size_t length)
{
    const unsigned char *byte = bytes;
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ byte[i]) * 0x100000001b3u;
    return hash;
}

void texts_start(Texts *texts, Arena *arena)
{
    *texts = (Texts){.arena = arena, .chain_count = 256};
    texts->chains = arena_take_many(arena, texts->chain_count, sizeof *texts->chains);
}

static void spread(Texts *texts)
{
    size_t wider = texts->chain_count * 4;
    Text **chains = arena_take_many(texts->arena, wider, sizeof *chains);
    for (size_t i = 0; i < texts->chain_count; i++) {
        for (Text *text = texts->chains[i]; text;) {
            Text *next = text->next;
            text->next = chains[text->hash & (wider - 1)];
            chains[text->hash & (wider - 1)] = text;
            text = next;
        }
    }
    texts->chains = chains;
    texts->chain_count = wider;
}

const Text *text_of(Texts *texts, const char *bytes, size_t length)
{
    uint64_t hash = hash_words(HASH_START, bytes, length);
    for (Text *text = texts->chains[hash & (texts->chain_count - 1)]; text; text = text->next)
        /* Of less than eight bytes no two have the same hash: each step of hash_word can be undone. */
        if (text->hash == hash && text->length == length
            && (length < 8 || memcmp(text->bytes, bytes, length) == 0))
            return text;
    if (texts->count >= texts->chain_count)
        spread(texts);
    Text *text = arena_take(texts->arena, sizeof *text + length + 1);
    text->hash = hash;
    text->length = (uint32_t)length;
    memcpy(text->bytes, bytes, length);
    text->next = texts->chains[hash & (texts->chain_count - 1)];
    texts->chains[hash & (texts->chain_count - 1)] = text;
    texts->count++;
    return text;
}

const Text *text_of_string(Texts *texts, const char *string) { return text_of(texts, string, strlen(string)); }

const char *text_format_list(Arena *arena, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    char small[256];
    int length = vsnprintf(small, sizeof small, format, arguments);
    if (length < 0)
        arena_exhausted(arena);
    char *text = arena_take(arena, (size_t)length + 1);
    if ((size_t)length < sizeof small)
        memcpy(text, small, (size_t)length);
    else
        vsnprintf(text, (size_t)length + 1, format, again);
    va_end(again);
    return text;
}

const char *text_format(Arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *text = text_format_list(arena, format, arguments);
    va_end(arguments);
    return text;
}

const char *text_line(Arena *arena, const char **rest)
{
    const char *first = *rest, *end = first + strcspn(first, "\n");
    *rest = *end ? end + 1 : end;
    return text_format(arena, "%.*s", (int)(end - first), first);
}

/* Optimal string alignment (Damerau-Levenshtein with neighbours swapped once), three rows. */
unsigned text_distance(const char *a, const char *b, unsigned limit)
{
    enum { LONGEST = 40 };
    size_t a_length = strlen(a), b_length = strlen(b);
    if (a_length > LONGEST || b_length > LONGEST)
        return limit + 1;
    unsigned rows[3][LONGEST + 1];
    for (size_t j = 0; j <= b_length; j++)
        rows[0][j] = (unsigned)j;
    for (size_t i = 1; i <= a_length; i++) {
        unsigned *row = rows[i % 3], *above = rows[(i + 2) % 3], *two_above = rows[(i + 1) % 3];
        row[0] = (unsigned)i;
        for (size_t j = 1; j <= b_length; j++) {
            unsigned best = above[j - 1] + (a[i - 1] != b[j - 1]);
            if (above[j] + 1 < best)
                best = above[j] + 1;
            if (row[j - 1] + 1 < best)
                best = row[j - 1] + 1;
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] && two_above[j - 2] + 1 < best)
                best = two_above[j - 2] + 1;
            row[j] = best;
        }
    }
    unsigned distance = rows[a_length % 3][b_length];
    return distance > limit ? limit + 1 : distance;
}

const char *pattern_mark(Arena *arena, uint64_t hash)
{
    return text_format(arena, "%04x-%04x-%04x", (unsigned)(hash >> 48 & 0xffff), (unsigned)(hash >> 32 & 0xffff),
                       (unsigned)(hash >> 16 & 0xffff));
}
