/* Interned text: equal texts are one object, so names compare by address. */
#ifndef TURNLAY_BASE_TEXT_H
#define TURNLAY_BASE_TEXT_H

#include "base/arena.h"

#include <endian.h>
#include <stdbool.h>
#include <string.h>

typedef struct Text {
    struct Text *next; /* in the table's chain */
    uint64_t hash;     /* hash_words of the bytes */
    uint32_t length;   /* bytes, without the closing NUL */
    char bytes[];      /* NUL-terminated; holds no NUL itself */
} Text;

typedef struct Texts {
    Arena *arena;
    Text **chains;
    size_t chain_count, count;
} Texts;

/* FNV-1a, 64 bits: http://www.isthe.com/chongo/tech/comp/fnv (parameters from memory, checked
 * in the tests against the published value of the empty text and of "a"). */
#define HASH_START 0xcbf29ce484222325u
uint64_t hash_bytes(uint64_t hash, const void *bytes, size_t length);

/* Eight bytes at a time, the last ones with their count; the same on every machine. FNV-1a takes each byte by
 * itself, five times as long: names and a pattern's mark are a third of all that is read. The factor is 2^64
 * divided by the golden ratio, as in Knuth, The Art of Computer Programming 3, 6.4 (from memory); folding brings
 * the upper half down, since tables look at the lower bits. */
static inline uint64_t hash_word(uint64_t hash, uint64_t word)
{
    hash = (hash ^ word) * 0x9e3779b97f4a7c15u;
    return hash ^ hash >> 32;
}
/* A word of less than eight bytes, the first one lowest. Of four and more both halves are taken, which may
 * overlap. */
static inline uint64_t hash_part(const char *bytes, size_t length)
{
    const unsigned char *byte = (const unsigned char *)bytes;
    if (length >= 4) {
        uint32_t first, last;
        memcpy(&first, bytes, 4);
        memcpy(&last, bytes + length - 4, 4);
        return le32toh(first) | (uint64_t)le32toh(last) << 8 * (length - 4);
    }
    if (length < 2)
        return length ? byte[0] : 0;
    return byte[0] | (uint64_t)byte[1] << 8 | (length == 3 ? (uint64_t)byte[2] << 16 : 0);
}
static inline uint64_t hash_words(uint64_t hash, const char *bytes, size_t length)
{
    for (; length >= 8; bytes += 8, length -= 8) {
        uint64_t word;
        memcpy(&word, bytes, 8);
        hash = hash_word(hash, le64toh(word));
    }
    return hash_word(hash, hash_part(bytes, length) | (uint64_t)length << 56);
}

/* Whether a byte of UTF-8 goes on from the one before it. No text is cut before such a byte. */
static inline bool inside_character(char byte) { return ((unsigned char)byte & 0xc0) == 0x80; }

void texts_start(Texts *texts, Arena *arena);
const Text *text_of(Texts *texts, const char *bytes, size_t length);
const Text *text_of_string(Texts *texts, const char *string);

/* printf into an arena. Locale matters to %f and its kin, so fractions come through units.h. */
const char *text_format(Arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* The first line of a text; `rest` is what stands behind it. */
const char *text_line(Arena *arena, const char **rest);
/* The same for a va_list. */
const char *text_format_list(Arena *arena, const char *format, __builtin_va_list arguments)
    __attribute__((format(printf, 2, 0)));

/* Typing distance of two words (insert, drop, replace, swap neighbours: each one), at most limit + 1. */
unsigned text_distance(const char *a, const char *b, unsigned limit);

/* How pages show a pattern's hash: "3f2a-91bc-07de". */
const char *pattern_mark(Arena *arena, uint64_t hash);

#endif
