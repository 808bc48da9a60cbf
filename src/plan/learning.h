/* What widths read at the bench tell of the turns to come. The width of turns is off by one share for each of
 * their threads, the same wherever it is wound, and by one for this wrap's packing. Each share is 0 at first, give
 * or take the thread's uncertainty, and the bench's `varies`; readings are weighed with that (trade/estimate.h).
 */
#ifndef TURNLAY_PLAN_LEARNING_H
#define TURNLAY_PLAN_LEARNING_H

#include "plan/thread_widths.h"

/* NULL where one is not to learn: all is as it is written. */
typedef struct Learning Learning;

/* With what the job knows of its threads. */
Learning *learning_start(Arena *arena, const Job *job);
/* Another wrap has a packing of its own. */
void learning_next_wrap(Learning *learning);
/* The width of a turn to come, mm: in this wrap, and in any. */
double turn_here(const Learning *learning, const Strands *strands);
double thread_turn(const Learning *learning, const Thread *thread);
/* Whether something was read of the thread, or known; and its turn's standard uncertainty, mm. */
bool thread_is_taught(const Learning *learning, const Thread *thread);
double turn_uncertainty(const Learning *learning, const Thread *thread);
/* By how much the width of these turns of this wrap is expected to be off, and its standard uncertainty, mm. */
double width_off(Learning *learning, const ThreadWidths *widths);
double width_uncertainty(Learning *learning, const ThreadWidths *widths);
/* Whether so many mm are off by more of their standard uncertainties than chance allows, reading among them. */
bool width_is_far(Learning *learning, const ThreadWidths *widths, double off);
/* Whether something was read of the thread at this job. */
bool thread_is_read(const Learning *learning, const Thread *thread);
/* What is known of the threads that were read, for another job; all but its `from`. */
KnownThreads learning_known(Arena *arena, const Learning *learning, const Job *job);
/* The same of turns that come one run after the other, without going through all their threads for each. */
typedef struct WidthSure {
    const Learning *learning;
    ThreadWidths *widths; /* of the turns so far */
    double *with;         /* how each quantity of the estimate hangs together with their width */
    double variance;
} WidthSure;
/* No turns yet. The widths are the caller's, to be worked with. */
void width_sure_start(WidthSure *sure, Arena *arena, const Learning *learning, ThreadWidths *widths);
void width_sure_again(WidthSure *sure);
void width_sure_add(WidthSure *sure, const Strands *strands, double turns);
double width_sure_uncertainty(const WidthSure *sure);
/* They were read: off by so many mm. */
void learn(Learning *learning, const ThreadWidths *widths, double off);

#endif
