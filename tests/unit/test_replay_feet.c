/* The replay judges when guides lie: action lists written by hand over guides of two feet. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"

static const Bench taped = {.bind = 6, .loop = 4, .final = 8, .holders = 1, .brake = true, .tape = true};
static const Bench short_loops = {.bind = 6, .loop = 4, .final = 4, .holders = 1, .brake = true, .tape = true};
static const Bench free_hand = {.bind = 6, .loop = 4, .final = 8, .holders = 1, .brake = true};

/* A band of 20 turns over 24 mm of foot and blank, from piece to piece; of one over a foot the tape goes at its
 * middle. */
#define BAND(p)                                                                                                   \
    "start " p "; wind 6 of " p "; tag " p "; wind 6 of " p "; loop " p " final; wind 8 of " p "; pull " p        \
    "; trim " p "; "
#define OVER(p, place)                                                                                            \
    "start " p "; wind 6 of " p "; tag " p "; wind 6 of " p "; take tape place " place "; loop " p                \
    " final; wind 8 of " p "; pull " p "; trim " p "; "
/* Of 12 turns. */
#define SHORT(p)                                                                                                  \
    "start " p "; wind 6 of " p "; tag " p "; wind 2 of " p "; loop " p " final; wind 4 of " p "; pull " p        \
    "; trim " p "; "
/* Two feet with an underwrap and an overwrap each, in the order in which they can be wound. */
#define GUIDE "s s s s | guide under 0x20 foot under 1x20 of 0 over 2x20 of 1 over 3x20"
/* In the order of the feet: the second underwrap comes too late. */
#define FOOT_BY_FOOT "s s s s | guide under 0x20 over 1x20 foot under 2x20 over 3x20"
/* A guide on the crosswrap of a place on the crosswrap of another; what is on them comes late. */
#define ON_OTHERS "s s s s | place over 0x20 place on 0 over 1x20 guide on 1 over 2x20 of 0 over 3x20"

static const struct Case {
    const char *name;
    const Bench *bench;
    const char *rod, *actions;
    Verdict verdict;
    uint32_t action, piece;
} cases[] = {
    {"both underwraps, the guide, both feet", &taped, GUIDE,
     BAND("0") BAND("1") "tape guide; " OVER("2", "0") OVER("3", "1"), REPLAY_LAWFUL, 0, 0},
    {"taped at its second foot", &taped, GUIDE,
     BAND("0") BAND("1") "tape guide place 1; " OVER("2", "0") OVER("3", "1"), REPLAY_LAWFUL, 0, 0},
    {"held by hand, no tape", &free_hand, GUIDE, BAND("0") BAND("1") BAND("2") BAND("3"), REPLAY_LAWFUL, 0, 0},
    {"taped before the second underwrap", &taped, GUIDE,
     BAND("0") "tape guide; " BAND("1") OVER("2", "0") OVER("3", "1"), REPLAY_GUIDE_ON, 10, 1},
    {"taped before the first", &taped, GUIDE, "tape guide; " BAND("0") BAND("1") OVER("2", "0") OVER("3", "1"),
     REPLAY_GUIDE_ON, 2, 0},
    {"foot by foot", &taped, FOOT_BY_FOOT, BAND("0") "tape guide; " OVER("1", "0") BAND("2") OVER("3", "1"),
     REPLAY_GUIDE_ON, 19, 2},
    {"foot by foot, without tape", &free_hand, FOOT_BY_FOOT, BAND("0") BAND("1") BAND("2") BAND("3"),
     REPLAY_GUIDE_ON, 17, 2},
    {"never taped", &taped, GUIDE, BAND("0") BAND("1") OVER("2", "0") OVER("3", "1"), REPLAY_OUT_OF_ORDER, 17, 2},
    {"taped twice", &taped, GUIDE, BAND("0") BAND("1") "tape guide; tape guide place 1", REPLAY_OUT_OF_ORDER, 17,
     NO_PIECE},
    {"taped where guides are not", &free_hand, GUIDE, BAND("0") BAND("1") "tape guide", REPLAY_OUT_OF_ORDER, 16,
     NO_PIECE},
    {"taped with a thread in work", &taped, GUIDE, BAND("0") "start 1; wind 12 of 1; tape guide",
     REPLAY_THREAD_LEFT, 10, 1},
    {"a place without a guide", &taped, "s s | place over 0x20 guide over 1x20", BAND("0") "tape guide place 0",
     REPLAY_STRAND_LOST, 8, NO_PIECE},
    {"no such place", &taped, GUIDE, "tape guide place 2", REPLAY_STRAND_LOST, 0, NO_PIECE},
    {"turns into the tape", &taped, "s | guide over 0x20", "tape guide; start 0; wind 6 of 0; tag 0; wind 7 of 0",
     REPLAY_TAPED_OVER, 4, 0},
    {"turns up to the tape, which stays", &short_loops, "s | guide over 0x12", "tape guide; " SHORT("0"),
     REPLAY_TAPE_LEFT, 9, NO_PIECE},
    {"turns up to the tape", &short_loops, "s | guide over 0x12", "tape guide; " SHORT("0") "take tape",
     REPLAY_LAWFUL, 0, 0},
    {"the tape of one foot stays", &short_loops, "s s | guide over 0x12 foot over 1x12",
     "tape guide; " SHORT("0") "take tape; " SHORT("1"), REPLAY_TAPE_LEFT, 18, NO_PIECE},
    {"tape on a foot that no turns go over", &taped, "s s | guide under 0x20 over 1x20 foot",
     BAND("0") "tape guide; " OVER("1", "0"), REPLAY_LAWFUL, 0, 0},
    {"the tape taken twice", &taped, "s | guide over 0x20", "tape guide; take tape; take tape",
     REPLAY_OUT_OF_ORDER, 2, NO_PIECE},
    {"no tape to take", &taped, "s | guide over 0x20", "take tape", REPLAY_OUT_OF_ORDER, 0, NO_PIECE},
    {"a layer on the crosswrap below the one below", &free_hand, ON_OTHERS,
     BAND("0") BAND("1") BAND("2") BAND("3"), REPLAY_GUIDE_ON, 25, 3},
    {"the same, of another guide", &free_hand, "s s s | place over 0x20 guide over 1x20 of 0 over 2x20",
     BAND("0") BAND("1") BAND("2"), REPLAY_LAWFUL, 0, 0},
    {"two guides side by side", &taped, "s s s s | guide under 0x20 over 1x20 guide under 2x20 over 3x20",
     BAND("0") "tape guide; " OVER("1", "0") BAND("2") "tape guide place 1; " OVER("3", "1"), REPLAY_LAWFUL, 0, 0},
};

static void test_when_guides_lie(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct Case *test = &cases[i];
        Sheet *sheet = new_sheet(test->rod, test->actions);
        Replay replay = replay_of(&sheet->made, test->bench);
        bool lawful = test->verdict == REPLAY_LAWFUL;
        if (replay.verdict != test->verdict
            || (!lawful && (replay.action != test->action || replay.piece != test->piece)))
            fail_msg("%s: step %u, piece %d: %s", test->name, (unsigned)replay.action, (int)replay.piece,
                     verdict_words(replay.verdict));
        free(sheet);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_when_guides_lie)};
    return cmocka_run_group_tests_name("guides on the blank", tests, NULL, NULL);
}
