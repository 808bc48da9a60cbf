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

/* What it should be: two hands, and nothing where the verdict is about no number, since it would be said. */
static inline bool needed_agrees(const Replay *replay)
{
    switch (replay->verdict) {
    case REPLAY_HANDS_FULL: return replay->needed == 2;
    case REPLAY_UNHELD:
    case REPLAY_PASS_BROKEN:
    case REPLAY_PACK_FIRST:
    case REPLAY_GAP_PACKED:
    case REPLAY_TAPE_LEFT:
    case REPLAY_GUIDE_ON:
    case REPLAY_STRAND_LOST: return replay->needed == 0;
    default: return true;
    }
}

static inline void judge(const Case *cases, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const Case *test = &cases[i];
        Sheet *sheet = new_sheet(test->rod, test->actions);
        Replay replay = replay_of(&sheet->made, test->bench);
        bool lawful = test->verdict == REPLAY_LAWFUL;
        if (replay.verdict != test->verdict || (!lawful && replay.action != test->action)
            || (!lawful && replay.piece != test->piece) || !needed_agrees(&replay) || replay.got != test->got)
            fail_msg("%s: step %u, piece %d, needed %g, got %g: %s", test->name, (unsigned)replay.action,
                     (int)replay.piece, replay.needed, replay.got, verdict_words(replay.verdict));
        free(sheet);
    }
}

#define JUDGE(cases) judge((cases), sizeof(cases) / sizeof *(cases))

#endif
