/* The width that turns of several runs take, thread by thread, as wide as each is written, in mm; and how
 * many turns of it these are. */
#ifndef TURNLAY_PLAN_THREAD_WIDTHS_H
#define TURNLAY_PLAN_THREAD_WIDTHS_H

#include "meaning/job.h"

typedef struct ThreadWidth {
    const Thread *thread;
    double turns; /* of it: two of strands with it twice are four */
    double width;
} ThreadWidth;

/* Each thread once, in the order in which they came. */
typedef struct ThreadWidths {
    Arena *arena;
    LIST_OF(ThreadWidth) list;
    uint32_t *place; /* of each thread of the job, from 1; 0: not among them */
} ThreadWidths;

void thread_widths_start(ThreadWidths *widths, Arena *arena, const Job *job);
void thread_widths_add(ThreadWidths *widths, const Strands *strands, double turns);
void thread_widths_add_thread(ThreadWidths *widths, const Thread *thread, double turns);
void thread_widths_clear(ThreadWidths *widths);
/* One thread's; 0 where it is not among them. */
double thread_width(const ThreadWidths *widths, const Thread *thread);
/* All threads' together. */
double thread_widths_sum(const ThreadWidths *widths);

#endif
