/* Inside the words room: of two wraps with the same actions, what the steps of the later one say of their own. */
#ifndef TURNLAY_WORDS_EQUAL_WRAPS_H
#define TURNLAY_WORDS_EQUAL_WRAPS_H

#include "words/sheet.h"

/* More threads in one wrap, and it is told at length. */
enum { MOST_RENAMED = 32 };

/* Pieces of one thread: "mist 4" there is "mist 8" here. */
typedef struct Renamed {
    const char *name; /* "mist" */
    size_t letters;
    uint32_t there, here, count; /* numbers of the first of them, and how many there are */
} Renamed;

/* What is written otherwise in two equal wraps. */
typedef struct Renaming {
    Renamed threads[MOST_RENAMED];
    uint32_t count;
    const char *guide_there, *guide_here; /* names where they differ; else "" */
    bool other_way;                       /* one is worked toward the butt, the other toward the tip */
} Renaming;

/* Both parts begin with these pieces of the rod and have as many; false where there are too many threads. */
bool renaming_of(Arena *arena, const SheetRod *rod, uint32_t there, uint32_t here, uint32_t count, Renaming *made);
/* What `here` says is what `there` says, if pieces and guides are renamed, sides changed, and the turns behind
 * "wind" and "wrap" and the width behind "should be" are those of a row. */
bool reads_alike(const Renaming *renaming, const char *there, const char *here);
/* Sentences of `here` that read like none of `there`; "" for none. */
const char *says_more(Arena *arena, const Renaming *renaming, const char *there, const char *here);
/* Turns behind each "wind" and "wrap": "2 + 6"; the width behind "should be". "" for none. */
const char *turns_told(Arena *arena, const char *says);
const char *width_told(Arena *arena, const char *says);

#endif
