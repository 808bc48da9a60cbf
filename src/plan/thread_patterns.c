#include "plan/thread_patterns.h"

typedef struct Pattern {
    const char *words, *strokes;
} Pattern;

static const Pattern pattern_table[] = {
    {"plain", ""},
    {"rising lines", "M-2 8L8-2M-2 17L17-2M-2 26L26-2M7 26L26 7M16 26L26 16"},
    {"dots", "M5 5h.01M14 5h.01M23 5h.01M9.5 12h.01M18.5 12h.01M.5 12h.01M5 19h.01M14 19h.01M23 19h.01"},
    {"level lines", "M0 4h24M0 9.5h24M0 15h24M0 20.5h24"},
    {"falling lines", "M26 8L16-2M26 17L7-2M26 26L-2-2M17 26L-2 7M8 26L-2 16"},
    {"upright lines", "M4 0v24M9.5 0v24M15 0v24M20.5 0v24"},
    {"crossed lines", "M0 5h24M0 12h24M0 19h24M5 0v24M12 0v24M19 0v24"},
};
_Static_assert(sizeof pattern_table / sizeof *pattern_table == PATTERN_COUNT, "as many patterns as are counted");

const char *pattern_words(unsigned pattern) { return pattern_table[pattern].words; }
const char *pattern_strokes(unsigned pattern) { return pattern_table[pattern].strokes; }

/* Pairs are sorted by their first thread, so each thread comes after all that it is compared with as the second
 * once those have their patterns; a bit for every pattern taken beside it. */
unsigned *patterns_chosen(Arena *arena, const MistakablePairs *pairs, uint32_t threads)
{
    unsigned *patterns = arena_take_many(arena, threads, sizeof *patterns);
    unsigned *taken = arena_take_many(arena, threads, sizeof *taken);
    bool *paired = arena_take_many(arena, threads, sizeof *paired);
    for (uint32_t i = 0; i < pairs->count; i++)
        paired[pairs->pairs[i].first] = paired[pairs->pairs[i].second] = true;
    uint32_t at = 0;
    for (uint32_t thread = 0; thread < threads; thread++) {
        unsigned pattern = 1;
        while (pattern < PATTERN_COUNT - 1 && taken[thread] >> pattern & 1)
            pattern++;
        patterns[thread] = paired[thread] ? pattern : 0;
        for (; at < pairs->count && pairs->pairs[at].first == thread; at++)
            taken[pairs->pairs[at].second] |= 1u << pattern;
    }
    return patterns;
}
