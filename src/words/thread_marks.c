#include "words/thread_marks.h"

#include "base/visible.h"

#include <stdlib.h>
#include <string.h>

typedef struct Pattern {
    const char *words, *strokes;
} Pattern;

static const Pattern patterns[] = {
    {"plain", ""},
    {"rising lines", "M-2 8L8-2M-2 17L17-2M-2 26L26-2M7 26L26 7M16 26L26 16"},
    {"dots", "M5 5h.01M14 5h.01M23 5h.01M9.5 12h.01M18.5 12h.01M.5 12h.01M5 19h.01M14 19h.01M23 19h.01"},
    {"level lines", "M0 4h24M0 9.5h24M0 15h24M0 20.5h24"},
    {"falling lines", "M26 8L16-2M26 17L7-2M26 26L-2-2M17 26L-2 7M8 26L-2 16"},
    {"upright lines", "M4 0v24M9.5 0v24M15 0v24M20.5 0v24"},
    {"crossed lines", "M0 5h24M0 12h24M0 19h24M5 0v24M12 0v24M19 0v24"},
};
_Static_assert(sizeof patterns / sizeof *patterns == PATTERN_COUNT, "as many patterns as are counted");

const char *pattern_words(unsigned pattern) { return patterns[pattern].words; }
const char *pattern_strokes(unsigned pattern) { return patterns[pattern].strokes; }

/* Pairs are sorted by their first thread, so each thread comes after all that it is compared with as the second
 * once those have their patterns; a bit for every pattern taken beside it. */
static void choose_patterns(Arena *arena, ThreadMarks *marks, uint32_t thread_count)
{
    unsigned *taken = arena_take_many(arena, thread_count, sizeof *taken);
    bool *paired = arena_take_many(arena, thread_count, sizeof *paired);
    for (uint32_t i = 0; i < marks->mistakable.count; i++)
        paired[marks->mistakable.pairs[i].first] = paired[marks->mistakable.pairs[i].second] = true;
    uint32_t at = 0;
    for (uint32_t thread = 0; thread < thread_count; thread++) {
        unsigned pattern = 1;
        while (pattern < PATTERN_COUNT - 1 && taken[thread] >> pattern & 1)
            pattern++;
        marks->marks[thread].pattern = paired[thread] ? pattern : 0;
        for (; at < marks->mistakable.count && marks->mistakable.pairs[at].first == thread; at++)
            taken[marks->mistakable.pairs[at].second] |= 1u << pattern;
    }
}

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
    choose_patterns(arena, &marks, plan->job->thread_count);
    choose_letters(arena, &marks, plan);
    return marks;
}
