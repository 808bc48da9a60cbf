/* Numbers for things, by bytes that tell them apart: as many different bytes as there are, so many numbers. */
#ifndef TURNLAY_BASE_NUMBERING_H
#define TURNLAY_BASE_NUMBERING_H

#include "base/arena.h"

#include <stdint.h>

typedef struct NumberedBytes {
    const char *bytes;
    size_t length;
    uint64_t hash;
} NumberedBytes;

/* Begins as {.arena = arena}. */
typedef struct Numbering {
    Arena *arena;
    LIST_OF(NumberedBytes) list; /* number 1 first */
    uint32_t *places;            /* numbers, by hash and then one by one; 0 is free */
    uint32_t place_count;        /* a power of two, and at least twice the list; 0 at first */
} Numbering;

/* The number that these bytes were given, from 1; 0 if they were given none. */
uint32_t number_given(const Numbering *numbering, const void *bytes, size_t length);
/* Gives them, which have none yet, the next one. They are copied. */
uint32_t give_number(Numbering *numbering, const void *bytes, size_t length);

#endif
