#include "words/thread_marks.h"

#include "base/visible.h"

#include <stdlib.h>
#include <string.h>

static int compare_names(const void *a, const void *b)
{
    const Thread *first = *(const Thread *const *)a, *second = *(const Thread *const *)b;
    return strcmp(first->name->bytes, second->name->bytes);
}

/* Characters, at most three, that both names begin with. */
static uint32_t common_start(const char *a, const char *b)
{
    uint32_t characters = 0;
    while (characters < 3 && *a && *b) {
        ShownCharacter first, second;
        uint32_t action = show_character(a, strlen(a), &first);
        uint32_t other = show_character(b, strlen(b), &second);
        if (action != other || memcmp(a, b, action) != 0)
            break;
        characters++;
        a += action;
        b += other;
    }
    return characters;
}

static const char *first_characters(Arena *arena, const char *name, uint32_t count)
{
    Buffer letters;
    buffer_start(&letters, arena);
    for (const char *at = name; count && *at; count--) {
        ShownCharacter shown;
        at += show_character(at, strlen(at), &shown);
        buffer_text(&letters, shown.text);
    }
    buffer_put(&letters, "", 1);
    return letters.bytes;
}

/* Threads of one name get the same letters, in whatever order they come. In the order of names those that share
 * most of their start are neighbours. */
static void choose_letters(Arena *arena, ThreadMarks *marks, const Plan *plan)
{
    const Thread **sorted = arena_take_many(arena, plan->total_count, sizeof *sorted);
    for (uint32_t i = 0; i < plan->total_count; i++)
        sorted[i] = plan->totals[i].thread;
    if (plan->total_count)
        qsort(sorted, plan->total_count, sizeof *sorted, compare_names);
    uint32_t before = 0;
    for (uint32_t i = 0; i < plan->total_count; i++) {
        const char *name = sorted[i]->name->bytes;
        uint32_t after = i + 1 < plan->total_count ? common_start(name, sorted[i + 1]->name->bytes) : 0;
        uint32_t count = (before > after ? before : after) + 1;
        marks->marks[sorted[i]->index].letters = first_characters(arena, name, count < 3 ? count : 3);
        before = after;
    }
}

ThreadMarks thread_marks_make(Arena *arena, const Plan *plan)
{
    ThreadMarks marks = {.marks = arena_take_many(arena, plan->job->thread_count, sizeof *marks.marks)};
    marks.mistakable = mistakable_pairs(arena, plan);
    const unsigned *patterns = patterns_chosen(arena, &marks.mistakable, plan->job->thread_count);
    for (uint32_t i = 0; i < plan->job->thread_count; i++)
        marks.marks[i].pattern = patterns[i];
    choose_letters(arena, &marks, plan);
    return marks;
}
