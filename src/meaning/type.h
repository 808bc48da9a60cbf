/* Kinds of values, and how they go together. */
#ifndef TURNLAY_MEANING_TYPE_H
#define TURNLAY_MEANING_TYPE_H

#include "syntax/tree.h"

/* name; as written in a parameter ("" if it cannot be); one of it, for people. */
#define TYPE_TABLE(X)                                                                                             \
    X(BROKEN, "", "something with a finding")                                                                     \
    X(COUNT, "count", "a whole number")                                                                           \
    X(RATIO, "ratio", "a ratio")                                                                                  \
    X(LENGTH, "length", "a length")                                                                               \
    X(TURNS, "turns", "turns")                                                                                    \
    X(ANGLE, "angle", "an angle")                                                                                 \
    X(RATE, "rate", "turns per length")                                                                           \
    X(COLOUR, "colour", "a colour")                                                                               \
    X(THREAD, "thread", "a thread")                                                                               \
    X(TEXT, "text", "text in quotes")                                                                             \
    X(TRUTH, "truth", "yes or no")                                                                                \
    X(PAIR, "", "turns in and out")                                                                               \
    X(NOTHING, "", "nothing")                                                                                     \
    X(WORD, "", "a word")                                                                                         \
    X(BLANK, "", "a blank")                                                                                       \
    X(GUIDE, "guide", "a guide")

typedef enum {
#define X(name, ...) TYPE_##name,
    TYPE_TABLE(X)
#undef X
        TYPE_COUNT_OF_ELEMENTS,
    TYPE_LIST = 16 /* TYPE_LIST + element; the empty list is a list of NOTHING */
} Type;
_Static_assert(TYPE_COUNT_OF_ELEMENTS <= TYPE_LIST, "lists are numbered from 16");

/* Sets of types, for what may stand somewhere. */
typedef uint32_t TypeSet;
#define SET(type) ((TypeSet)1 << (type))
#define SET_THREADS SET(TYPE_LIST + TYPE_THREAD)
#define ANY_LIST (~(TypeSet)0 << TYPE_LIST)
#define ANY_NUMBER (SET(TYPE_RATE + 1) - SET(TYPE_COUNT))

static inline bool type_is_list(unsigned type) { return type >= TYPE_LIST; }
static inline unsigned type_element(unsigned type) { return type & (TYPE_LIST - 1u); }
/* "a length", "threads", "a list of texts". */
const char *type_phrase(unsigned type);
/* "a length or turns"; where any will do, "a number" or "a list". */
const char *type_set_phrase(Arena *arena, TypeSet set);
/* As a parameter's kind is written; NULL for kinds that cannot be. */
const char *type_word(unsigned type);
/* The kind that a parameter's word names; TYPE_BROKEN if none. */
unsigned type_of_word(const char *word);
/* What `left operator right` gives; TYPE_BROKEN if the two do not go together. */
unsigned type_of_operation(Operator operator, unsigned left, unsigned right);
/* Whether a value of this type may stand where the set is wanted: a count serves as a ratio, an empty list as any.
 */
bool type_fits(unsigned type, TypeSet set);
/* Numbers, with or without a unit. */
bool type_is_number(unsigned type);
const char *operator_spelling(Operator operator);

#endif
