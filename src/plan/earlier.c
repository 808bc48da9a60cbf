#include "plan/earlier.h"

#include "plan/learning.h"

/* A wrap's packing is its own: what it is off there is not the threads'. */
KnownThreads known_from(Arena *arena, const Job *job, const EarlierWidth *widths, uint32_t count)
{
    Learning *learning = learning_start(arena, job);
    ThreadWidths made;
    thread_widths_start(&made, arena, job);
    for (uint32_t i = 0; i < count; i++) {
        const EarlierWidth *width = &widths[i];
        if (i > 0 && widths[i - 1].wrap != width->wrap)
            learning_next_wrap(learning);
        thread_widths_clear(&made);
        for (uint32_t t = 0; t < width->made_count; t++)
            thread_widths_add_thread(&made, width->made[t].thread, width->made[t].turns);
        double off = width->width - thread_widths_sum(&made);
        if (width->sure || !width_is_far(learning, &made, off))
            learn(learning, &made, off);
    }
    return learning_known(arena, learning, job);
}
