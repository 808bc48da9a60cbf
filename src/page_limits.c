/* Pages that are too large: which limit, and what is said of it. */
#include "compilation.h"

#include "base/limits.h"

bool too_many_steps(const BenchPlan *bench)
{
    uint64_t steps = 0;
    for (uint32_t i = 0; i < bench->rod_count; i++)
        steps += bench->rods[i].action_count;
    return steps > LIMIT_BENCH_STEPS;
}

#define OWN_FILES "give each rod a file of its own: every file has pages of its own"

TurnlayStatus tell_beyond(Compilation *compilation, Beyond beyond)
{
    static const struct {
        const char *message;
        unsigned most;
        const char *mend;
    } limits[BEYOND_COUNT] = {
        [BEYOND_PAGE_BYTES] = {"this page would be larger than %u MiB", LIMIT_PAGE_BYTES >> 20, OWN_FILES},
        [BEYOND_PAGE_MEMORY] = {"this page would take more than %u MiB of memory to make", LIMIT_PAGE_MEMORY >> 20,
                                OWN_FILES},
        [BEYOND_STEPS] =
            {"the bench sheets of this file come to more than %u actions", LIMIT_BENCH_STEPS,
             "measure and pack less often (bench { measure: ... }), or give each rod a file of its own"},
        [BEYOND_GATHERED] = {"this file with all it uses would be larger than %u MiB, the most that turnlay reads",
                             LIMIT_FILE_BYTES >> 20, "send the files as they are"},
        [BEYOND_PRINTED] = {"on paper this would be more than %u letters and points of lines", LIMIT_PRINTED,
                            "print it from the page of --format html, or give each rod a file of its own"},
        [BEYOND_PAINTED] = {"this picture would be more than %u letters and points of lines", LIMIT_PRINTED,
                            "draw it with --format svg"},
        [BEYOND_PIXELS] = {"this picture would have more than %u pixels", LIMIT_PIXELS,
                           "make it narrower with --width, or draw it with --format svg"},
        [BEYOND_PIXEL_ROWS] = {"this picture would be more than %u pixels high", LIMIT_PIXEL_ROWS,
                               "make it narrower with --width, or draw it with --format svg"},
        [BEYOND_SHADES] =
            {"more than %u threads would have to be compared, each with each", LIMIT_SHADES,
             "name two, or two that are more alike: --between navy,foam compares only those that lie between"},
    };
    uint32_t before = compilation->findings.errors;
    Finding *finding = finding_add(&compilation->findings, FINDING_PAGE_TOO_LARGE, (Span){0, 0, 0},
                                   limits[beyond].message, limits[beyond].most);
    finding_mend(&compilation->findings, finding, "%s", limits[beyond].mend);
    compilation->errors_of_pages += compilation->findings.errors - before;
    return TURNLAY_TOO_LARGE;
}

TurnlayStatus compilation_beyond(Compilation *compilation, Beyond beyond)
{
    compilation->beyond = beyond;
    RETURN_GUARDED(compilation, tell_beyond(compilation, beyond));
}

TurnlayStatus compilation_broken_off(Compilation *compilation)
{
    Beyond beyond = compilation->trap.beyond;
    arena_end(&compilation->page_arena);
    compilation->exhausted = beyond == BEYOND_NOTHING;
    if (compilation->exhausted)
        return TURNLAY_OUT_OF_MEMORY;
    compilation->trap.beyond = BEYOND_NOTHING;
    return compilation_beyond(compilation, beyond);
}
