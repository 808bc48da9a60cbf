/* Lists of actions written by hand, each for a bench of its own: lawful, or where, whose and by how much not.
 * Needs cmocka's headers before it. */
#ifndef TURNLAY_TESTS_JUDGED_H
#define TURNLAY_TESTS_JUDGED_H

#include "bench/replay.h"

#include "bench_sheet.h"

#include <stdlib.h>

typedef struct Case {
    const char *name;
    const Bench *bench;
    const char *rod, *actions;
    Verdict verdict;
    uint32_t action, piece; /* unlawful: where and whose */
    double got;             /* HANDS_FULL: hands; TAPED_OVER: turns */
} Case;

static inline void judge(const Case *cases, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const Case *test = &cases[i];
        Sheet *sheet = new_sheet(test->rod, test->actions);
        Replay replay = replay_of(&sheet->made, test->bench);
        bool lawful = test->verdict == REPLAY_LAWFUL;
        if (replay.verdict != test->verdict || (!lawful && replay.action != test->action)
            || (!lawful && replay.piece != test->piece) || replay.got != test->got)
            fail_msg("%s: step %u, piece %d, got %g: %s", test->name, (unsigned)replay.action, (int)replay.piece,
                     replay.got, verdict_words(replay.verdict));
        free(sheet);
    }
}

#define JUDGE(cases) judge((cases), sizeof(cases) / sizeof *(cases))

#endif
