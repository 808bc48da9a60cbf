#include "plan/thread_widths.h"

void thread_widths_start(ThreadWidths *widths, Arena *arena, const Job *job)
{
    *widths =
        (ThreadWidths){.arena = arena, .place = arena_take_many(arena, job->thread_count, sizeof *widths->place)};
}

void thread_widths_add_thread(ThreadWidths *widths, const Thread *thread, double turns)
{
    uint32_t *place = &widths->place[thread->index];
    if (!*place) {
        *LIST_ADD(widths->arena, &widths->list) = (ThreadWidth){.thread = thread};
        *place = widths->list.count;
    }
    ThreadWidth *one = &widths->list.items[*place - 1];
    one->turns += turns;
    one->width += turns * thread->pitch;
}

void thread_widths_add(ThreadWidths *widths, const Strands *strands, double turns)
{
    for (uint32_t i = 0; i < strands->count; i++)
        thread_widths_add_thread(widths, strands->items[i].thread, turns);
}

void thread_widths_clear(ThreadWidths *widths)
{
    for (uint32_t i = 0; i < widths->list.count; i++)
        widths->place[widths->list.items[i].thread->index] = 0;
    widths->list.count = 0;
}

double thread_width(const ThreadWidths *widths, const Thread *thread)
{
    uint32_t place = widths->place[thread->index];
    return place ? widths->list.items[place - 1].width : 0;
}

double thread_widths_sum(const ThreadWidths *widths)
{
    double sum = 0;
    for (uint32_t i = 0; i < widths->list.count; i++)
        sum += widths->list.items[i].width;
    return sum;
}
