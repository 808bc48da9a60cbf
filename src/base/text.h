/* Interned text: equal texts are one object, so names compare by address. */
#ifndef TURNLAY_BASE_TEXT_H
#define TURNLAY_BASE_TEXT_H

#include "base/arena.h"

#include <stdbool.h>

typedef struct Text {
    struct Text *next; /* in the table's chain */
    uint64_t hash;     /* FNV-1a of the bytes */
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

void texts_start(Texts *texts, Arena *arena);
const Text *text_of(Texts *texts, const char *bytes, size_t length);
const Text *text_of_string(Texts *texts, const char *string);

/* printf into an arena. Locale matters to %f and its kin, so fractions come through units.h. */
const char *text_format(Arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* The same for a va_list. */
const char *text_format_list(Arena *arena, const char *format, __builtin_va_list arguments)
    __attribute__((format(printf, 2, 0)));

/* Typing distance of two words (insert, drop, replace, swap neighbours: each one), at most limit + 1. */
unsigned text_distance(const char *a, const char *b, unsigned limit);

#endif
