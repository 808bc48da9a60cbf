/* What tells the threads of a page apart besides their colour: letters for every thread, and a pattern for those
 * that lie beside one which some eyes, without one kind of cone or with all, would take for the same. */
#ifndef TURNLAY_EMIT_THREAD_MARKS_H
#define TURNLAY_EMIT_THREAD_MARKS_H

#include "plan/plan.h"

/* Threads that differ by less (CIEDE2000) to any of the eyes of trade/colour.h count as mistakable. By eye, no
 * source: about ten times what can just be seen side by side, since a spool is also told apart in poor light. */
#define MISTAKABLE 10.0

typedef struct ThreadMark {
    const char *letters; /* one to three, that no other used thread begins with if three are enough */
    unsigned pattern;    /* 0 for plain, else 1 to PATTERN_COUNT - 1 */
} ThreadMark;

/* Two threads that lie side by side somewhere and may be mistaken. Indices in Job.threads, first < second. */
typedef struct Mistakable {
    uint32_t first, second;
} Mistakable;

enum { PATTERN_COUNT = 7 };

typedef struct ThreadMarks {
    ThreadMark *marks; /* by Thread.index; letters NULL for a thread that is not used */
    Mistakable *pairs;
    uint32_t pair_count;
} ThreadMarks;

ThreadMarks thread_marks_make(Arena *arena, const Plan *plan);
/* "plain", "rising lines", "dots" ... */
const char *pattern_words(unsigned pattern);
/* The pattern's strokes as SVG path data in a square of 24; "" for plain. */
const char *pattern_strokes(unsigned pattern);

#endif
