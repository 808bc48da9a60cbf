/* What tells the threads of a page apart besides their colour: letters for every thread, and a pattern for those
 * that lie beside one which some eyes, without one kind of cone or with all, would take for the same. */
#ifndef TURNLAY_WORDS_THREAD_MARKS_H
#define TURNLAY_WORDS_THREAD_MARKS_H

#include "plan/thread_patterns.h"

typedef struct ThreadMark {
    const char *letters; /* one to three, that no other used thread begins with if three are enough */
    unsigned pattern;    /* 0 for plain, else 1 to PATTERN_COUNT - 1 */
} ThreadMark;

typedef struct ThreadMarks {
    ThreadMark *marks; /* by Thread.index; letters NULL for a thread that is not used */
    MistakablePairs mistakable;
} ThreadMarks;

ThreadMarks thread_marks_make(Arena *arena, const Plan *plan);

#endif
