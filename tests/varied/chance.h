/* Chance that goes by a file's name, and the number that stands for all that was answered. */
#ifndef TURNLAY_TESTS_VARIED_CHANCE_H
#define TURNLAY_TESTS_VARIED_CHANCE_H

#include <stddef.h>
#include <stdint.h>
#include <string.h>

/* splitmix64, public domain. */
typedef struct Chance {
    uint64_t state;
} Chance;

static uint64_t next_chance(Chance *chance)
{
    uint64_t mixed = chance->state += 0x9e3779b97f4a7c15;
    mixed = (mixed ^ (mixed >> 30)) * 0xbf58476d1ce4e5b9;
    mixed = (mixed ^ (mixed >> 27)) * 0x94d049bb133111eb;
    return mixed ^ (mixed >> 31);
}

/* 0 to below. */
static uint32_t below(Chance *chance, uint32_t bound)
{
    return bound ? (uint32_t)(next_chance(chance) % bound) : 0;
}

#define ONE_OF(chance, list) (list)[below(chance, sizeof(list) / sizeof *(list))]

/* FNV-1a. */
static uint64_t mixed_in(uint64_t sum, const char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++)
        sum = (sum ^ (unsigned char)bytes[i]) * 0x100000001b3;
    return sum;
}

static uint64_t with_number(uint64_t sum, uint64_t number)
{
    return mixed_in(sum, (const char *)&number, sizeof number);
}

#define NOTHING_YET 0xcbf29ce484222325u

static Chance chance_of(const char *path, const char *what, uint32_t number)
{
    uint64_t sum = mixed_in(NOTHING_YET, path, strlen(path));
    return (Chance){with_number(mixed_in(sum, what, strlen(what)), number)};
}

#endif
