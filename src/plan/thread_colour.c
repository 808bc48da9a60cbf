/* Threads of several colours: which one comes after so much thread. */
#include "plan/crosswrap.h"

#include <math.h>

uint32_t thread_colour_at(const Thread *thread, double wound)
{
    if (!thread->colour_count)
        return thread->colour;
    double shares = wound / thread->period * thread->colour_count;
    double share = fmod(floor(shares), thread->colour_count);
    return thread->colours[(uint32_t)(share < 0 ? share + thread->colour_count : share)];
}
