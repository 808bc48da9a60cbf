/* The replay judges action lists written by hand, lawful and unlawful, over rods written by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"
#include "near.h"

#include "trade/trade.h"

typedef struct Case {
    const char *name;
    const char *rod, *actions;
    Verdict verdict;
    uint32_t action, piece; /* unlawful: where and whose */
    double needed, got;
} Case;

/* Bind 6, loop 4, final 8, one holder: common practice, no source. */
static const Bench common = {.bind = 6, .loop = 4, .final = 8, .holders = 1, .brake = true};
static const Bench two_holders = {.bind = 6, .loop = 4, .final = 8, .holders = 2, .brake = true};
/* P. D. Frazer, The Angler's Workshop I: Rodmaking for Beginners (1908), p. 158: the starting end is cut
 * after the fifth or sixth turn; in a band of ten to twelve turns the pull-through is laid after the sixth, so
 * that a band of ten has four turns over it. */
static const Bench frazer = {.bind = 5, .loop = 4, .final = 4, .holders = 1, .brake = true};

static void judge(const Bench *bench, const Case *cases, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const Case *test = &cases[i];
        Sheet *sheet = new_sheet(test->rod, test->actions);
        Replay replay = replay_of(&sheet->made, bench);
        bool lawful = test->verdict == REPLAY_LAWFUL;
        uint32_t action = lawful ? sheet->made.action_count : test->action,
                 piece = lawful ? NO_PIECE : test->piece;
        if (replay.verdict != test->verdict || replay.action != action || replay.piece != piece
            || replay.needed != test->needed || replay.got != test->got)
            fail_msg("%s: step %u, piece %d, needed %g, got %g: %s", test->name, (unsigned)replay.action,
                     (int)replay.piece, replay.needed, replay.got, verdict_words(replay.verdict));
        free(sheet);
    }
}

#define JUDGE(bench, cases) judge((bench), (cases), sizeof(cases) / sizeof *(cases))

static void test_a_band_alone(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"begun over its tag, ended by a loop", "s | 0x20",
         "mark; start 0; wind 6 of 0; tag 0; wind 6 of 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0; pack",
         .verdict = REPLAY_LAWFUL},
        {"tag trimmed at the very end", "s | 0x20",
         "start 0; wind 12 of 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0; tag 0",
         .verdict = REPLAY_LAWFUL},
        {"tag trimmed too early", "s | 0x20",
         "start 0; wind 5 of 0; tag 0; wind 7 of 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0",
         REPLAY_TRIMMED_UNBOUND, 2, 0, 6, 5},
        {"seven turns over the last loop", "s | 0x20",
         "start 0; wind 6 of 0; tag 0; wind 7 of 0; loop 0 final; wind 7 of 0; pull 0 final; trim 0",
         REPLAY_LOOP_TOO_SHORT, 6, 0, 8, 7},
        {"a wrap's end is its end, whatever the step says", "s | 0x20",
         "start 0; wind 6 of 0; tag 0; wind 7 of 0; loop 0; wind 7 of 0; pull 0; trim 0", REPLAY_LOOP_TOO_SHORT, 6,
         0, 8, 7},
        {"no loop was laid", "s | 0x20", "start 0; wind 20 of 0; pull 0 final; trim 0; tag 0",
         REPLAY_LOOP_TOO_SHORT, 2, 0, 8, 0},
        {"end left untrimmed", "s | 0x20", "start 0; wind 12 of 0; loop 0 final; wind 8 of 0; pull 0 final; tag 0",
         REPLAY_THREAD_LEFT, 6, 0, 0, 0},
        {"tag left untrimmed", "s | 0x20",
         "start 0; wind 12 of 0; loop 0 final; wind 8 of 0; pull 0 final; "
         "trim 0",
         REPLAY_THREAD_LEFT, 6, 0, 0, 0},
        {"thread left running", "s | 0x20", "start 0; wind 20 of 0; tag 0", REPLAY_THREAD_LEFT, 3, 0, 0, 0},
        {"nothing done at all", "s | 0x20", "mark; pack", REPLAY_TURNS_DIFFER, 2, 0, 20, 0},
        {"a step that leaves threads alone names one", "s | 0x20", "start 0; wind 20 of 0; pack 0",
         REPLAY_STRAND_LOST, 2, NO_PIECE, 0, 0},
    };
    JUDGE(&common, cases);
}

static void test_frazer_1908(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"twelve turns, end cut after the fifth", "s | 0x12",
         "start 0; wind 5 of 0; tag 0; wind 1 of 0; loop 0 final; wind 6 of 0; pull 0 final; trim 0",
         .verdict = REPLAY_LAWFUL},
        {"ten turns, end cut after the sixth", "s | 0x10",
         "start 0; wind 6 of 0; tag 0; loop 0 final; wind 4 of 0; pull 0 final; trim 0", .verdict = REPLAY_LAWFUL},
        {"a narrow band has the pull-through at its very start", "s | 0x5",
         "loop 0 final; tape loop 0; start 0; wind 5 of 0; tag 0; untape loop 0; pull 0 final; trim 0",
         .verdict = REPLAY_LAWFUL},
        {"cut after the fourth", "s | 0x12", "start 0; wind 4 of 0; tag 0; wind 8 of 0", REPLAY_TRIMMED_UNBOUND, 2,
         0, 5, 4},
        {"pull-through after the seventh of ten", "s | 0x10",
         "start 0; wind 7 of 0; tag 0; loop 0 final; wind 3 of 0; pull 0 final; trim 0", REPLAY_LOOP_TOO_SHORT, 5,
         0, 4, 3},
    };
    JUDGE(&frazer, cases);
}

/* The last turns of a spool's thread by hand, over the tag of the next spool's. */
static void test_cut_from_its_spool(void **state)
{
    (void)state;
#define TAKEN_OVER "s s | 0x20 1x20"
#define UP_TO_CUT "start 0; wind 6 of 0; tag 0; wind 8 of 0; lay in 1; tape tag 1; "
#define TO_THE_END                                                                                                \
    "lay end 0; tape end 0 clear 6; take up 1; wind 6 of 1; untape end 0; trim 0; untape tag 1; tag 1; wind 6 of 1; loop 1 final; wind 8 of 1; pull 1 final; trim 1"
    static const Case cases[] = {
        {"cut, its last six turns by hand", TAKEN_OVER, UP_TO_CUT "cut 0; wind 6 of 0 by hand; " TO_THE_END,
         .verdict = REPLAY_LAWFUL},
        {"by hand, but on its spool", TAKEN_OVER, UP_TO_CUT "wind 6 of 0 by hand", REPLAY_OUT_OF_ORDER, 6, 0, 0,
         0},
        {"cut twice", TAKEN_OVER, UP_TO_CUT "cut 0; cut 0", REPLAY_STRAND_LOST, 7, 0, 0, 0},
        {"a cut piece, from no spool", "s c | 0x20 1x20", UP_TO_CUT "tape line 1; cut 1", REPLAY_STRAND_LOST, 7, 1,
         0, 0},
        {"it stands loose", TAKEN_OVER, UP_TO_CUT "cut 0; wind 6 of 0 by hand; stand 0", REPLAY_UNHELD, 8, 0, 0,
         0},
        {"the next spool waits while the blank turns", TAKEN_OVER, UP_TO_CUT "cut 0; wind 6 of 0",
         REPLAY_SPOOL_STANDS, 7, 1, 0, 1},
    };
    JUDGE(&frazer, cases);
}

#define INLAY "s c | 0x19 1x2 0x19"
/* A cut piece is laid in and taped, six turns before it is taken up; and taken up; its end is laid and taped. */
#define IN_1 "lay in 1; tape tag 1; tape line 1 clear 6; "
#define UP_1 "take up 1; untape line 1; "
#define END_1 "lay end 1; tape end 1 clear 6; untape tag 1; tag 1; take up 0; wind 6 of 0; untape end 1; trim 1; "
#define UP_TO_INLAY "start 0; wind 6 of 0; tag 0; wind 7 of 0; " IN_1 "wind 6 of 0; "
#define AFTER_INLAY "wind 5 of 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0"

static void test_an_inlay(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"laid in, passed by hand, its end under the band", INLAY,
         UP_TO_INLAY "stand 0; " UP_1 "wind 2 of 1 by hand; " END_1 AFTER_INLAY, .verdict = REPLAY_LAWFUL},
        {"five turns over its tag", INLAY,
         "start 0; wind 14 of 0; tag 0; " IN_1 "wind 5 of 0; stand 0; take up 1; wind 2 of 1 by hand",
         REPLAY_RELIED_UNBOUND, 8, 1, 6, 5},
        {"the band's spool stands while the blank turns", INLAY, UP_TO_INLAY "stand 0; " UP_1 "wind 2 of 1",
         REPLAY_SPOOL_STANDS, 11, 0, 0, 1},
        {"both run", INLAY, UP_TO_INLAY "take up 1", REPLAY_STRAND_LOST, 8, 1, 0, 0},
        {"laid in, never taken up", INLAY, UP_TO_INLAY "stand 0; wind 2 of 1 by hand", REPLAY_STRAND_LOST, 9, 1, 0,
         0},
        {"its end trimmed after five turns", INLAY,
         UP_TO_INLAY "stand 0; " UP_1
                     "wind 2 of 1 by hand; lay end 1; tape end 1 clear 6; take up 0; wind 5 of 0; untape end 1; "
                     "trim 1",
         REPLAY_TRIMMED_UNBOUND, 17, 1, 6, 5},
        {"its own two turns count for its tag, whoever makes the rest", INLAY,
         UP_TO_INLAY "stand 0; " UP_1 "wind 2 of 1 by hand; lay end 1; take up 0; wind 6 of 0; trim 1; "
                     "untape tag 1; tag 1; " AFTER_INLAY,
         .verdict = REPLAY_LAWFUL},
        {"the band goes on with another inlay's turns missing", INLAY,
         UP_TO_INLAY "stand 0; " UP_1 "wind 1 of 1 by hand; lay end 1; take up 0; wind 6 of 0",
         REPLAY_TURNS_DIFFER, 14, 0, 1, 6},
    };
    JUDGE(&common, cases);
}

/* In 1, out 4; 2, 3; 3, 2; 4, 1: common practice, no source. */
#define CROSSOVER "s c | 0x20, 1x1 0x4 1x2 0x3 1x3 0x2 1x4 0x1, 1x20"
#define TO_B "stand 0; " UP_1
#define TO_A(turns) "tape line 1 clear " #turns "; stand 1; take up 0; "

static void test_a_crossover_of_four_actions(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"as hands do it", CROSSOVER,
         "start 0; wind 6 of 0; tag 0; wind 8 of 0; " IN_1 "wind 6 of 0; " TO_B "wind 1 of 1 by hand; " TO_A(
             4) "wind 4 of 0; " TO_B
                "wind 2 of 1 by hand; tape line 1 clear 3; untape tag 1; tag 1; stand 1; take up 0; "
                "wind 3 of 0; " TO_B
                "wind 3 of 1 by hand; " TO_A(2) "wind 2 of 0; " TO_B "wind 4 of 1 by hand; " TO_A(
                    1) "wind 1 of 0; lay end 0; tape end 0 clear 6; " UP_1
                       "wind 6 of 1; tape line 1 clear 0; untape end 0; "
                       "trim 0; untape line 1; wind 6 of 1; tape line 1 clear 0; loop 1 final; tape loop 1; "
                       "untape line 1; wind 8 of 1; tape line 1 clear 0; untape loop 1; untape line 1; pull 1 final; trim 1",
         .verdict = REPLAY_LAWFUL},
        {"the spool stands while the new thread turns", CROSSOVER,
         "start 0; wind 14 of 0; tag 0; " IN_1 "wind 6 of 0; " TO_B
         "wind 1 of 1 by hand; " TO_A(4) "wind 4 of 0; " TO_B "wind 2 of 1",
         REPLAY_SPOOL_STANDS, 18, 0, 0, 1},
        {"the old thread taken up without the new one set aside", CROSSOVER,
         "start 0; wind 14 of 0; tag 0; " IN_1 "wind 6 of 0; " TO_B "wind 1 of 1 by hand; take up 0",
         REPLAY_STRAND_LOST, 11, 0, 0, 0},
        {"the wrong thread's turns", CROSSOVER, "start 0; wind 14 of 0; tag 0; " IN_1 "wind 6 of 0; wind 4 of 0",
         REPLAY_TURNS_DIFFER, 7, 0, 1, 4},
    };
    JUDGE(&common, cases);
}

#define IN_2                                                                                                      \
    "wind 6 of 0+2; lay in 2; tape tag 2; tape line 2 clear 6; wind 6 of 0+2; untape tag 0; untape tag 1; "
#define STRANDS "s s | 0+2x20"
#define START_2 "start 0; tape tag 0 clear 12; start 1; tape tag 1 clear 12; "
#define LOOPS_2 "loop 0 final; tape loop 0; loop 1 final; tape loop 1; "
#define UNTAPED_LOOPS_2 "untape loop 0; untape loop 1; "
#define STRANDS_END                                                                                               \
    "untape tag 0+2; " LOOPS_2 "wind 8 of 0+2; " UNTAPED_LOOPS_2 "pull 0+2 final; trim 0+2; tag 0+2"

static void test_strands_together(void **state)
{
    (void)state;
    static const Case enough[] = {
        {"two holders for two spools", STRANDS, START_2 "wind 12 of 0+2; " STRANDS_END, .verdict = REPLAY_LAWFUL},
        {"one of them is not there", STRANDS, "start 0; wind 12 of 0+2", REPLAY_STRAND_LOST, 1, 0, 0, 0},
        {"only one of them winds", STRANDS, START_2 "wind 12 of 0", REPLAY_STRAND_LOST, 4, 0, 0, 0},
        {"taken up together after standing", "s s c | 0+2x12 2x2 0+2x12",
         START_2 IN_2 "stand 0+2; take up 2; untape line 2; wind 2 of 2 by hand; lay end 2; tape end 2 clear 12; "
                      "untape tag 2; tag 2; take up 0+2; wind 4 of 0+2; " LOOPS_2
                      "wind 8 of 0+2; untape end 2; trim 2; " UNTAPED_LOOPS_2 "pull 0+2 final; trim 0+2; tag 0+2",
         .verdict = REPLAY_LAWFUL},
        {"taken up one after the other", "s s c | 0+2x12 2x2 0+2x12",
         START_2 IN_2 "stand 0+2; take up 2; untape line 2; wind 2 of 2 by hand; "
                      "lay end 2; take up 0; take up 1",
         REPLAY_STRAND_LOST, 17, 1, 0, 0},
    };
    static const Case too_few[] = {
        {"one holder for two spools", STRANDS, START_2 "wind 12 of 0+2", REPLAY_TOO_MANY_SPOOLS, 4, 0, 1, 2},
        {"a spool and a cut piece need one", "s c | 0+2x20",
         START_2 "wind 12 of 0+2; tape line 1 clear 0; untape tag 0+2; " LOOPS_2
                 "untape line 1; wind 8 of 0+2; tape line 1 clear 0; " UNTAPED_LOOPS_2
                 "untape line 1; pull 0+2 final; trim 0+2; tag 0+2",
         .verdict = REPLAY_LAWFUL},
    };
    JUDGE(&two_holders, enough);
    JUDGE(&common, too_few);
}

/* Both cut where the next band begins. */
#define ENDS_2                                                                                                    \
    "start 0; tape tag 0 clear 20; start 1; tape tag 1 clear 20; wind 20 of 0+2; untape tag 0+2; tag 0; "         \
    "lay end 0; tape end 0 clear 12; lay end 1; tape end 1 clear 12; "

static void test_a_spacer(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"taken after the last turn", "s p | 0+2x20",
         START_2
         "wind 12 of 0+2; untape tag 0+2; loop 0 final; wind 8 of 0+2; pull 0 final; trim 0; tag 0; spacer 1",
         .verdict = REPLAY_LAWFUL},
        {"taken before it", "s p | 0+2x20", START_2 "wind 12 of 0+2; spacer 1", REPLAY_STRAND_LOST, 5, 1, 0, 0},
        {"never taken", "s p | 0+2x20",
         START_2 "wind 12 of 0+2; untape tag 0+2; loop 0 final; wind 8 of 0+2; pull 0 final; trim 0; tag 0",
         REPLAY_THREAD_LEFT, 11, 1, 0, 0},
        {"cut, its end under the next band, and drawn out from there", "s p s | 0+2x20, 2x20",
         ENDS_2 "start 2; wind 12 of 2; untape end 0; untape end 1; trim 0; tag 2; "
                "loop 2 final; wind 8 of 2; pull 2 final; trim 2; spacer 1",
         .verdict = REPLAY_LAWFUL},
        {"cut and forgotten", "s p s | 0+2x20, 2x20",
         ENDS_2
         "start 2; wind 12 of 2; untape end 0+2; trim 0; tag 2; loop 2 final; wind 8 of 2; pull 2 final; trim 2",
         REPLAY_THREAD_LEFT, 20, 1, 0, 0},
        {"trimmed as if it stayed", "s p s | 0+2x20, 2x20",
         ENDS_2 "start 2; wind 12 of 2; untape end 0; untape end 1; trim 0+2", REPLAY_STRAND_LOST, 15, 1, 0, 0},
        {"taken twice", "s p | 0+2x20",
         START_2
         "wind 12 of 0+2; untape tag 0+2; loop 0 final; wind 8 of 0+2; pull 0 final; trim 0; tag 0; spacer 1; "
         "spacer 1",
         REPLAY_STRAND_LOST, 12, 1, 0, 0},
        {"pulled through as if it stayed", "s p | 0+2x20",
         START_2 "wind 12 of 0+2; untape tag 0+2; loop 1 final; wind 8 of 0+2; pull 1 final", REPLAY_STRAND_LOST,
         8, 1, 0, 0},
        {"a thread that is no spacer", "s p | 0+2x20", START_2 "wind 12 of 0+2; spacer 0", REPLAY_STRAND_LOST, 5,
         0, 0, 0},
    };
    JUDGE(&two_holders, cases);
}

#define CHANGE "s s | 0x20, 1x20"
#define CHANGE_END "wind 6 of 1; loop 1 final; wind 8 of 1; pull 1 final; trim 1"
#define SHORT_LAST "s s | 0x20, 1x7"

static void test_one_band_after_another(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"the old end under the new turns", CHANGE,
         "start 0; wind 20 of 0; tag 0; lay end 0; tape end 0 clear 6; start 1; wind 6 of 1; untape end 0; trim 0; "
         "tag 1; " CHANGE_END,
         .verdict = REPLAY_LAWFUL},
        {"the old end trimmed after five", CHANGE,
         "start 0; wind 20 of 0; tag 0; lay end 0; tape end 0 clear 6; start 1; wind 5 of 1; tape tag 1 clear 1; "
         "untape end 0; trim 0",
         REPLAY_TRIMMED_UNBOUND, 9, 0, 6, 5},
        {"the old end pulled through a loop of four", CHANGE,
         "start 0; wind 16 of 0; tag 0; loop 0; wind 4 of 0; pull 0; trim 0; start 1; wind 6 of 1; tag 1; " CHANGE_END,
         .verdict = REPLAY_LAWFUL},
        {"an end pulled through is held at once", "s s | 0x5, 1x20",
         "start 0; tape tag 0 clear 6; loop 0; wind 5 of 0; pull 0; trim 0; start 1; tape tag 1 clear 12; wind 1 of 1; "
         "untape tag 0; tag 0; wind 11 of 1; untape tag 1; tag 1; loop 1 final; wind 8 of 1; pull 1 final; trim 1",
         .verdict = REPLAY_LAWFUL},
        {"a loop of three", CHANGE, "start 0; wind 17 of 0; tag 0; loop 0; wind 3 of 0; pull 0",
         REPLAY_LOOP_TOO_SHORT, 5, 0, 4, 3},
        {"a loop left lying", CHANGE,
         "start 0; wind 16 of 0; tag 0; loop 0; wind 4 of 0; lay end 0; tape end 0 clear 6; start 1; wind 6 of 1; "
         "untape end 0; trim 0; tag 1; " CHANGE_END,
         REPLAY_THREAD_LEFT, 17, 0, 0, 0},
        {"the old thread never ended", CHANGE, "start 0; wind 20 of 0; tag 0; start 1; wind 6 of 1",
         REPLAY_STRAND_LOST, 4, 1, 0, 0},
        {"a short last band: its loop lies under the band before", SHORT_LAST,
         "start 0; wind 19 of 0; tag 0; loop 1 final; wind 1 of 0; tape loop 1; lay end 0; tape end 0 clear 7; start 1; "
         "wind 7 of 1; untape end 0; trim 0; tag 1; untape loop 1; pull 1 final; trim 1",
         .verdict = REPLAY_LAWFUL},
        {"and is too short without", SHORT_LAST,
         "start 0; wind 20 of 0; tag 0; lay end 0; tape end 0 clear 7; loop 1 final; tape loop 1; start 1; wind 7 of 1; "
         "untape end 0; trim 0; tag 1; pull 1 final",
         REPLAY_LOOP_TOO_SHORT, 12, 1, 8, 7},
        {"the new spool laid in while the old one turns", CHANGE, "start 0; wind 14 of 0; lay in 1; wind 6 of 0",
         REPLAY_SPOOL_STANDS, 3, 1, 0, 1},
    };
    static const Case with_two[] = {
        {"a second holder does not serve for a spool that is laid in", CHANGE,
         "start 0; wind 14 of 0; lay in 1; tape tag 1; wind 6 of 0", REPLAY_SPOOL_STANDS, 4, 1, 0, 1},
        {"nor for one that stands", CHANGE,
         "start 0; wind 14 of 0; stand 0; start 1; "
         "wind 6 of 1 at 0",
         REPLAY_TURNS_DIFFER, 4, 1, 6, 6},
        {"nor for two that run where one is planned", CHANGE, START_2 "wind 12 of 0+2", REPLAY_TURNS_DIFFER, 4, 0,
         20, 12},
        {"nor for a second one laid in", "s s s | 0x20, 1x20, 2x20",
         "start 0; wind 14 of 0; lay in 1; tape tag 1; lay in 2; wind 6 of 0", REPLAY_SPOOL_STANDS, 5, 1, 0, 2},
    };
    JUDGE(&common, cases);
    JUDGE(&two_holders, with_two);
}

#define GO_OVER "s c s | 0x20, 1x10, 1x6 & 2x34"
#define TO_GO_OVER                                                                                                \
    "start 0; wind 14 of 0; tag 0; " IN_1 "wind 6 of 0; lay end 0; tape end 0 clear 10; " UP_1                    \
    "wind 10 of 1; tape line 1 clear 0; untape end 0; trim 0; untape tag 1; tag 1; "
#define AFTER_GO_OVER                                                                                             \
    "lay end 1; tape end 1 clear 6; take up 2; wind 6 of 2; untape end 1; trim 1; untape tag 2; tag 2; "          \
    "wind 20 of 2; loop 2 final; wind 8 of 2; pull 2 final; trim 2"

static void test_going_over_to_a_spool(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"the spool's end laid in, bound by hand", GO_OVER,
         TO_GO_OVER "lay in 2; tape tag 2; untape line 1; wind 6 of 1 by hand; " AFTER_GO_OVER,
         .verdict = REPLAY_LAWFUL},
        {"the blank turns while the spool is laid in", GO_OVER,
         TO_GO_OVER "lay in 2; tape tag 2; untape line 1; wind 6 of 1", REPLAY_SPOOL_STANDS, 20, 2, 0, 1},
        {"the spool laid in a turn late", GO_OVER,
         TO_GO_OVER "untape line 1; wind 1 of 1; tape line 1 clear 0; lay in 2; tape tag 2; untape line 1; "
                    "wind 5 of 1 by hand; lay end 1; take up 2",
         REPLAY_RELIED_UNBOUND, 25, 2, 6, 5},
        {"the cut piece is still there", GO_OVER,
         TO_GO_OVER "lay in 2; tape tag 2; untape line 1; wind 6 of 1 by hand; take up 2", REPLAY_STRAND_LOST, 21,
         2, 0, 0},
    };
    JUDGE(&common, cases);
}

#define WRAPS "s s | 0x20 gap 1x20"
#define FIRST_WRAP "start 0; wind 12 of 0; tag 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0; "
#define SECOND_WRAP "start 1; wind 12 of 1; tag 1; loop 1 final; wind 8 of 1; pull 1 final; trim 1"

static void test_a_gap_and_another_layer(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"each wrap ended by itself", WRAPS, FIRST_WRAP SECOND_WRAP, .verdict = REPLAY_LAWFUL},
        {"each layer ended by itself", "s s | 0x20 layer 1x20", FIRST_WRAP SECOND_WRAP, .verdict = REPLAY_LAWFUL},
        {"an end laid, with no turns to come", WRAPS,
         "start 0; wind 20 of 0; tag 0; lay end 0; start 1; "
         "wind 6 of 1; trim 0",
         REPLAY_THREAD_LEFT, 4, 0, 0, 0},
        {"the same where a layer ends", "s s | 0x20 layer 1x20",
         "start 0; wind 20 of 0; tag 0; lay end 0; "
         "start 1",
         REPLAY_THREAD_LEFT, 4, 0, 0, 0},
        {"one thread across the gap", "s | 0x20 gap 0x20", "start 0; wind 20 of 0; tag 0; wind 20 of 0",
         REPLAY_THREAD_LEFT, 3, 0, 0, 0},
        {"the next wrap begun before the turns are made", WRAPS, "start 0; wind 12 of 0; tag 0; start 1",
         REPLAY_TURNS_DIFFER, 3, 1, 20, 12},
        {"its loop laid before the turns are made", WRAPS, "start 0; wind 12 of 0; tag 0; loop 1 final",
         REPLAY_TURNS_DIFFER, 3, 1, 20, 12},
        {"the next wrap's turns with nothing started", WRAPS, FIRST_WRAP "wind 12 of 1", REPLAY_STRAND_LOST, 7, 1,
         0, 0},
    };
    JUDGE(&common, cases);
}

static void test_strands_that_are_not_there(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"wound before it is started", "s | 0x20", "wind 20 of 0", REPLAY_STRAND_LOST, 0, 0, 0, 0},
        {"started twice", "s | 0x20", "start 0; start 0", REPLAY_STRAND_LOST, 1, 0, 0, 0},
        {"laid in when it runs", "s | 0x20", "start 0; lay in 0", REPLAY_STRAND_LOST, 1, 0, 0, 0},
        {"taken up when it runs", "s | 0x20", "start 0; take up 0", REPLAY_STRAND_LOST, 1, 0, 0, 0},
        {"set aside before it is there", "s | 0x20", "stand 0", REPLAY_STRAND_LOST, 0, 0, 0, 0},
        {"two loops for one end", "s | 0x20", "loop 0; loop 0 final", REPLAY_STRAND_LOST, 1, 0, 0, 0},
        {"ended twice", "s | 0x20", "start 0; wind 20 of 0; lay end 0; lay end 0", REPLAY_STRAND_LOST, 3, 0, 0, 0},
        {"an end that was never laid", "s | 0x20", "start 0; wind 20 of 0; trim 0", REPLAY_STRAND_LOST, 2, 0, 0,
         0},
        {"a tag trimmed twice", "s | 0x20", "start 0; wind 20 of 0; tag 0; tag 0", REPLAY_STRAND_LOST, 3, 0, 0, 0},
        {"a piece that the rod has not", "s | 0x20", "start 7", REPLAY_STRAND_LOST, 0, NO_PIECE, 0, 0},
        {"more strands than the rod has", "s | 0x20", "start 0+2", REPLAY_STRAND_LOST, 0, NO_PIECE, 0, 0},
        {"no strand at all", "s | 0x20", "start 0+0", REPLAY_STRAND_LOST, 0, NO_PIECE, 0, 0},
        {"a piece that winds nothing", "s s | 0x20", "start 1", REPLAY_STRAND_LOST, 0, 1, 0, 0},
        {"turns after the last one", "s | 0x20", "start 0; wind 20 of 0; wind 1 of 0", REPLAY_TURNS_DIFFER, 2, 0,
         0, 0},
        {"more turns than planned", "s | 0x20", "start 0; wind 21 of 0", REPLAY_TURNS_DIFFER, 1, 0, 20, 21},
        {"no turn", "s | 0x20", "start 0; wind 0 of 0", REPLAY_TURNS_DIFFER, 1, 0, 20, 0},
        {"another winding", "s | 0x20", "start 0; wind 6 of 0 at 1", REPLAY_TURNS_DIFFER, 1, 0, 20, 6},
    };
    JUDGE(&common, cases);
}

#define PLAIN_BAND "start 0; wind 12 of 0; tag 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0"

static void test_lengths_and_counts(void **state)
{
    (void)state;
    Sheet *sheet = new_sheet("s | 0x20", PLAIN_BAND);
    Action *last = &sheet->actions[4];
    assert_within(last->length, 8 * 30.25, 1e-12);
    last->length *= 1 + 1e-10;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_LAWFUL);
    last->length = 8 * 30.25 * (1 + 1e-8);
    Replay replay = replay_of(&sheet->made, &common);
    assert_int_equal(replay.verdict, REPLAY_LENGTH_DIFFERS);
    assert_int_equal(replay.action, 4);
    assert_within(replay.needed, 8 * 30.25, 1e-9);
    assert_within(replay.got, last->length, 0);
    last->length = NAN;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_LENGTH_DIFFERS);
    last->length = 8 * 30.25;
    last->layer_count--;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_TURNS_DIFFER);
    last->layer_count++;
    last->band_count++;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_TURNS_DIFFER);
    free(sheet);
}

/* Every field now and then a number that is near, or far off. */
static uint32_t any(uint64_t *random)
{
    static const uint32_t edges[] = {0, 1, 2, 3, 6, 19, 20, 64, INT32_MAX, UINT32_MAX - 1, UINT32_MAX};
    return edges[(uint32_t)between(random, 0, sizeof edges / sizeof *edges)];
}

static void spoil(Action *action, uint64_t *random)
{
    uint32_t *const fields[] = {&action->place,       &action->layer,   &action->piece,
                                &action->piece_count, &action->winding, &action->turns};
    uint32_t which = (uint32_t)between(random, 0, 8);
    if (which < 6)
        *fields[which] = any(random);
    else if (which == 6)
        action->kind = (ActionKind)any(random);
    else
        action->length = (double)any(random) - 1e9;
}

static void test_garbage_is_judged(void **state)
{
    (void)state;
    uint64_t random = 20;
    for (int round = 0; round < 20000; round++) {
        Sheet *sheet = new_sheet(round % 2 ? INLAY : WRAPS, round % 2 ? UP_TO_INLAY : FIRST_WRAP SECOND_WRAP);
        for (double left = between(&random, 1, 6); left > 0; left--)
            spoil(&sheet->actions[(uint32_t)between(&random, 0, sheet->made.action_count)], &random);
        Replay replay = replay_of(&sheet->made, &common);
        assert_in_range(replay.verdict, REPLAY_LAWFUL, VERDICT_COUNT - 1);
        assert_in_range(replay.action, 0, sheet->made.action_count);
        assert_true(replay.piece == NO_PIECE || replay.piece < sheet->rod.piece_count);
        free(sheet);
    }
    Sheet *sheet = new_sheet("s | 0x20", "mark; " PLAIN_BAND);
    sheet->actions[0].place = 1;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_STRAND_LOST);
    sheet->actions[0].place = WHOLE_ROD;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_LAWFUL);
    sheet->actions[0].kind = ACTION_KIND_COUNT;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_STRAND_LOST);
    sheet->actions[0].kind = ACTION_MARK;
    sheet->actions[2].place = 1;
    assert_int_equal(replay_of(&sheet->made, &common).verdict, REPLAY_TURNS_DIFFER);
    free(sheet);
}

/* 0 goes on beside 1, then beside 2, which was begun later. */
#define GOES_ON_ROD "s s s c | 0x12 0+2x12 0&2x12 3x2 0&2x12"
#define GOES_ON_TO_2                                                                                              \
    "start 0; wind 6 of 0; tag 0; wind 6 of 0; start 1; wind 6 of 0+2; tag 1; wind 6 of 0+2; "                    \
    "lay end 1; tape end 1 clear 6; start 2; tape tag 2 clear 6; wind 6 of 0&2; untape end 1; trim 1; "           \
    "untape tag 2; tag 2; lay in 3; tape tag 3; tape line 3 clear 6; wind 6 of 0&2; "
#define GOES_ON_TO_3                                                                                              \
    "stand 0&2; take up 3; untape line 3; wind 2 of 3 by hand; lay end 3; tape end 3 clear 12; untape tag 3; "    \
    "tag 3; take up 0&2; "
#define GOES_ON_END                                                                                               \
    "loop 0 final; tape loop 0; loop 2 final; tape loop 2; wind 12 of 0&2; untape end 3; trim 3; "                \
    "untape loop 0&2; pull 0&2 final; trim 0&2"

static void test_a_piece_goes_on_beside_another(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"beside two others in turn", GOES_ON_ROD, GOES_ON_TO_2 GOES_ON_TO_3 GOES_ON_END,
         .verdict = REPLAY_LAWFUL},
        {"in another order", GOES_ON_ROD, GOES_ON_TO_2 GOES_ON_TO_3 "wind 12 of 2&0", REPLAY_TURNS_DIFFER, 30, 2,
         12, 12},
        {"named twice", GOES_ON_ROD, GOES_ON_TO_2 GOES_ON_TO_3 "wind 12 of 0&0", REPLAY_TURNS_DIFFER, 30, 0, 12,
         12},
        {"beside the one before", GOES_ON_ROD, GOES_ON_TO_2 GOES_ON_TO_3 "wind 12 of 0&1", REPLAY_STRAND_LOST, 30,
         1, 0, 0},
        {"taken up twice", GOES_ON_ROD, GOES_ON_TO_2 "stand 0&2; take up 0&0", REPLAY_STRAND_LOST, 22, 0, 0, 0},
        {"one of them stays", GOES_ON_ROD, GOES_ON_TO_2 GOES_ON_TO_3 "wind 12 of 0", REPLAY_STRAND_LOST, 30, 0, 0,
         0},
        {"one that is not there", GOES_ON_ROD, "start 0&9", REPLAY_STRAND_LOST, 0, NO_PIECE, 0, 0},
    };
    JUDGE(&two_holders, cases);
}

/* As many turns as a file may have, an action each hundred, over three thousand tags: what lies costs an action
 * something, and a turn nothing. */
static void test_ten_million_turns(void **state)
{
    (void)state;
    enum { WINDS = 100000, TURNS = 100, TAGS = 3000 };
    Sheet *sheet = new_sheet("s | 0x1", "");
    Action *actions = calloc(WINDS + 3 * TAGS + 2, sizeof *actions);
    Piece *pieces = calloc(TAGS + 1, sizeof *pieces);
    Winding *windings = calloc(TAGS + 1, sizeof *windings);
    assert_true(actions && pieces && windings);
    sheet->runs[0].turns = windings[0].turns = WINDS * TURNS;
    windings[0].pieces = one_piece(0);
    set_lengths(sheet, 0);
    sheet->runs[1] =
        (Run){.strands = &sheet->strands[1], .role = RUN_FADE_IN, .turns = 1, .lengths = sheet->lengths[1]};
    sheet->strands[1].count = 1;
    sheet->layers[0][0].run_count = 2;
    uint32_t count = 0;
    actions[count++] = (Action){.kind = ACTION_START, .piece = 0, .piece_count = 1};
    actions[count++] = (Action){
        .kind = ACTION_TAPE_DOWN, .piece = 0, .piece_count = 1, .thing = THING_TAG, .turns = WINDS * TURNS};
    for (uint32_t i = 1; i <= TAGS; i++) {
        pieces[i].by_hand = true;
        windings[i] = (Winding){.run = 1, .turns = 1, .pieces = one_piece(i)};
        actions[count++] = (Action){.kind = ACTION_LAY_IN, .piece = i, .piece_count = 1};
        actions[count++] = (Action){
            .kind = ACTION_TAPE_DOWN, .piece = i, .piece_count = 1, .thing = THING_TAG, .turns = CLEAR_OF_ALL};
        actions[count++] = (Action){
            .kind = ACTION_TAPE_DOWN, .piece = i, .piece_count = 1, .thing = THING_LINE, .turns = WINDS * TURNS};
    }
    for (uint64_t i = 1; i <= WINDS; i++)
        actions[count++] = (Action){.kind = ACTION_WIND,
                                    .piece = 0,
                                    .piece_count = 1,
                                    .turns = TURNS,
                                    .band_count = i * TURNS,
                                    .layer_count = i * TURNS,
                                    .length = TURNS * 30.25};
    sheet->rod.pieces = pieces;
    sheet->rod.piece_count = sheet->rod.winding_count = TAGS + 1;
    sheet->rod.windings = windings;
    sheet->made.actions = actions;
    sheet->made.action_count = count;
    Replay replay = replay_of(&sheet->made, &common);
    assert_int_equal(replay.verdict, REPLAY_TURNS_DIFFER); /* the cut pieces' turns are still to come */
    assert_int_equal(replay.action, count);
    assert_int_equal(replay.piece, 1);
    free(windings);
    free(pieces);
    free(actions);
    free(sheet);
}

static void test_every_verdict_has_words(void **state)
{
    (void)state;
    for (Verdict a = REPLAY_LAWFUL; a < VERDICT_COUNT; a++) {
        assert_true(strlen(verdict_words(a)) > 10);
        for (Verdict b = REPLAY_LAWFUL; b < a; b++)
            assert_string_not_equal(verdict_words(a), verdict_words(b));
    }
    assert_string_equal(verdict_words((Verdict)1000), "not a verdict");
}

/* What each verdict's words are about. */
static void test_words_say_the_verdict(void **state)
{
    (void)state;
    static const struct {
        Verdict verdict;
        const char *words[3];
    } rows[] = {
        {REPLAY_LAWFUL, {"lawful", "the plan's turns"}},
        {REPLAY_TRIMMED_UNBOUND, {"trimmed before", "turns hold it"}},
        {REPLAY_RELIED_UNBOUND, {"used before", "turns hold its tag"}},
        {REPLAY_SPOOL_STANDS, {"spool stands still", "blank turns"}},
        {REPLAY_HANDS_FULL, {"more than two hands"}},
        {REPLAY_UNHELD, {"nothing holds a thread"}},
        {REPLAY_PASS_BROKEN, {"can wait", "between turns made by hand"}},
        {REPLAY_PACK_FIRST, {"packed, then measured, then cut"}},
        {REPLAY_GAP_PACKED, {"packed over a gap"}},
        {REPLAY_TAPED_OVER, {"turns go over the tape"}},
        {REPLAY_TAPE_LEFT, {"tape is still on a thread"}},
        {REPLAY_GUIDE_ON, {"under a foot that lies on the blank already"}},
        {REPLAY_LOOP_TOO_SHORT, {"pulled through", "too few turns over its loop"}},
        {REPLAY_THREAD_LEFT, {"an end or a loop is left", "done"}},
        {REPLAY_STRAND_LOST, {"thread that is not there"}},
        {REPLAY_TURNS_DIFFER, {"turns are not the plan's"}},
        {REPLAY_LENGTH_DIFFERS, {"length of thread is not the plan's"}},
        {REPLAY_TOO_MANY_SPOOLS, {"more spools", "holders"}},
        {REPLAY_TOO_MANY_BOBBINS, {"more bobbins", "than the bench has"}},
        {REPLAY_OUT_OF_ORDER, {"before what has to be done first", "comes twice"}},
        {REPLAY_PASSES_DIFFER, {"passes are not the plan's"}},
        {REPLAY_MARKS_MISSED, {"leg does not meet its marks"}},
        {REPLAY_WAY_ROUND, {"does not go round", "next leg begins"}},
        {REPLAY_NOT_BESIDE, {"strand is not laid against", "beside it"}},
    };
    assert_int_equal(sizeof rows / sizeof *rows, VERDICT_COUNT);
    for (int i = 0; i < VERDICT_COUNT; i++) {
        const char *at = verdict_words(rows[i].verdict);
        for (int k = 0; k < 3 && rows[i].words[k]; k++) {
            at = strstr(at, rows[i].words[k]);
            if (!at)
                fail_msg("%s: not %s", verdict_words(rows[i].verdict), rows[i].words[k]);
        }
    }
}

/* What is wrong becomes a finding at the action's own statement: whose thread, which numbers, and the way out. */
static void test_what_is_not_lawful_is_told_with_its_way_out(void **state)
{
    (void)state;
    const char *ours = "this is a bug in turnlay: please report it with this file";
    const struct {
        const char *rod, *actions, *thread, *label, *mend;
        Verdict verdict;
    } cases[] = {
        {"s | 0x20", "start 0; wind 5 of 0; tag 0", "navy", "it should be 6 and is 5",
         "let more turns follow before the wrap ends, or lower `bind` in bench { }", REPLAY_TRIMMED_UNBOUND},
        {INLAY, "start 0; wind 14 of 0; tag 0; " IN_1 "wind 5 of 0; stand 0; take up 1; wind 2 of 1 by hand",
         "foam", "it should be 6 and is 5", "wind more turns before this thread comes in", REPLAY_RELIED_UNBOUND},
        {INLAY, UP_TO_INLAY "stand 0; " UP_1 "wind 2 of 1", "navy", "",
         "let one of the two threads come in by a fade or an inlay, as a cut piece", REPLAY_SPOOL_STANDS},
        {"s | 0x20", "start 0; wind 13 of 0; loop 0 final; wind 7 of 0; pull 0 final", "navy",
         "it should be 8 and is 7", "let the wrap have more turns, or lower `loop` and `final` in bench { }",
         REPLAY_LOOP_TOO_SHORT},
        {"s | 0x20", "start 0; wind 20 of 0; tag 0", "navy", "", "let more turns follow before the wrap ends",
         REPLAY_THREAD_LEFT},
        {"s | 0x20", "start 0; start 0", "navy", "",
         "split the wrap with a gap before this statement; this is a bug in turnlay: please report it with this file",
         REPLAY_STRAND_LOST},
        {"s | 0x20", "mark; pack", "navy", "it should be 20 and is 0", ours, REPLAY_TURNS_DIFFER},
        {"s s s | 0+3x20", START_2 "start 2; wind 12 of 0+3", "navy", "",
         "mount 3 spool holders and write `holders: 3` in bench { }", REPLAY_TOO_MANY_SPOOLS},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Trap trap = {0};
        Arena arena;
        arena_start(&arena, &trap);
        if (setjmp(*trap_set(&trap)) != 0)
            fail_msg("the machine has no memory left");
        Texts texts;
        texts_start(&texts, &arena);
        Findings findings;
        findings_start(&findings, &arena);
        Sheet *sheet = new_sheet(cases[i].rod, cases[i].actions);
        Thread navy = {.name = text_of_string(&texts, "navy")}, foam = {.name = text_of_string(&texts, "foam")};
        for (uint32_t piece = 0; piece < sheet->rod.piece_count; piece++)
            sheet->pieces[piece].thread = piece ? &foam : &navy;
        for (uint32_t action = 0; action < sheet->made.action_count; action++)
            sheet->actions[action].span = (Span){100 + action, 101 + action, 0};
        Replay replay = replay_of(&sheet->made, &common);
        assert_int_equal(replay.verdict, cases[i].verdict);
        Rod rod = {.span = {50, 60, 0}};
        sheet->rod.rod = &rod;
        bench_report(&sheet->rod, replay, &common, &findings);
        assert_int_equal(findings.list.count, 1);
        const Finding *finding = &findings.list.items[0];
        assert_int_equal(finding->code, FINDING_NOT_LAWFUL);
        const char *message = text_format(&arena, "this cannot be worked at the bench: %s (%s)",
                                          verdict_words(cases[i].verdict), cases[i].thread);
        if (cases[i].verdict == REPLAY_TOO_MANY_SPOOLS)
            message = "3 threads feed at once, and the bench has 1 spool holder";
        assert_string_equal(finding->message, message);
        assert_string_equal(finding->at.label, cases[i].label);
        assert_string_equal(finding->mend, cases[i].mend);
        /* After the last action it is the rod's. */
        assert_int_equal(finding->at.span.start,
                         replay.action < sheet->made.action_count ? 100 + replay.action : 50);
        free(sheet);
        arena_end(&arena);
    }
}

/* What no change of the source can mend is a fault of the program's own: the way out asks for the file. */
static void test_own_faults_ask_for_the_file(void **state)
{
    (void)state;
    static const Verdict own[] = {
        REPLAY_STRAND_LOST,   REPLAY_TURNS_DIFFER, REPLAY_LENGTH_DIFFERS, REPLAY_HANDS_FULL,
        REPLAY_UNHELD,        REPLAY_PASS_BROKEN,  REPLAY_PACK_FIRST,     REPLAY_GAP_PACKED,
        REPLAY_TAPED_OVER,    REPLAY_TAPE_LEFT,    REPLAY_GUIDE_ON,       REPLAY_OUT_OF_ORDER,
        REPLAY_PASSES_DIFFER, REPLAY_MARKS_MISSED, REPLAY_WAY_ROUND,      REPLAY_NOT_BESIDE};
    for (size_t i = 0; i < sizeof own / sizeof *own; i++) {
        Trap trap = {0};
        Arena arena;
        arena_start(&arena, &trap);
        if (setjmp(*trap_set(&trap)) != 0)
            fail_msg("the machine has no memory left");
        Findings findings;
        findings_start(&findings, &arena);
        Rod rod = {.span = {50, 60, 0}};
        Replay replay = {.verdict = own[i], .kind = ACTION_KIND_COUNT, .piece = NO_PIECE};
        bench_report(&(PlannedRod){.rod = &rod}, replay, &common, &findings);
        const char *mend = findings.list.items[0].mend,
                   *asks = "this is a bug in turnlay: please report it with this file";
        assert_non_null(strstr(mend, asks));
        assert_int_equal(strcmp(mend, asks) == 0, own[i] != REPLAY_STRAND_LOST);
        arena_end(&arena);
    }
}

/* How much pull on a straight tag under n turns of tension T it takes to draw it out, as a share of T: about
 * 4 mu n sin q with cos q = D / (D + 2d). A model of ours, not published. */
static double laid_in_hold(double friction, double turns, double surface, double thread)
{
    double cosine = surface / (surface + 2 * thread);
    return 4 * friction * turns * sqrt(1 - cosine * cosine);
}

/* The range of friction is that of ASTM D3108-07, Standard Test Method for Coefficient of Friction, Yarn to Solid
 * Material (2007), scope 1.5; `bind` 4 to 10 turns and 6 by default: common practice, no source. Diameters: 2 to
 * 14 mm of blank, 0.15 and 0.3 mm of thread. */
static void test_what_holds_a_start_and_a_tag(void **state)
{
    (void)state;
    static const double frictions[] = {0.1, 0.2, 0.3, 0.4, 0.5}, binds[] = {4, 5, 6, 10}, surfaces[] = {2, 5, 14};
    static const double sizes[] = {0.15, 0.3};
    print_message("pull held, as a share of the turns' tension (laid in: D 5 mm, d 0.15 mm; model of ours)\n");
    for (size_t f = 0; f < 5; f++)
        for (size_t b = 0; b < 4; b++) {
            double start = capstan_ratio(frictions[f], binds[b]);
            print_message("friction %d/10, %2d turns: start %11.4g, laid in %6.4g\n",
                          (int)(10 * frictions[f] + 0.5), (int)binds[b], start,
                          laid_in_hold(frictions[f], binds[b], 5, 0.15));
            assert_true(start > 10); /* a bound start holds ten times the pull at the lowest friction and bind */
            for (size_t s = 0; s < 3; s++)
                for (size_t d = 0; d < 2; d++)
                    assert_true(10 * laid_in_hold(frictions[f], binds[b], surfaces[s], sizes[d]) < start);
        }
    /* A laid-in tag alone does not always hold its own turn's tension: it wants holding. */
    assert_true(laid_in_hold(0.1, common.bind, 14, 0.15) < 1);
    /* By hand: D 5, d 0.15, mu 0.2, 6 turns: cos q = 5/5.3, sin q = 0.331702..., hold 1.592171... */
    assert_within(laid_in_hold(0.2, 6, 5, 0.15), 4.8 * sqrt(5.3 * 5.3 - 25) / 5.3, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_band_alone),
        cmocka_unit_test(test_frazer_1908),
        cmocka_unit_test(test_cut_from_its_spool),
        cmocka_unit_test(test_an_inlay),
        cmocka_unit_test(test_a_crossover_of_four_actions),
        cmocka_unit_test(test_strands_together),
        cmocka_unit_test(test_a_spacer),
        cmocka_unit_test(test_one_band_after_another),
        cmocka_unit_test(test_going_over_to_a_spool),
        cmocka_unit_test(test_a_gap_and_another_layer),
        cmocka_unit_test(test_strands_that_are_not_there),
        cmocka_unit_test(test_lengths_and_counts),
        cmocka_unit_test(test_garbage_is_judged),
        cmocka_unit_test(test_a_piece_goes_on_beside_another),
        cmocka_unit_test(test_ten_million_turns),
        cmocka_unit_test(test_every_verdict_has_words),
        cmocka_unit_test(test_words_say_the_verdict),
        cmocka_unit_test(test_what_is_not_lawful_is_told_with_its_way_out),
        cmocka_unit_test(test_own_faults_ask_for_the_file),
        cmocka_unit_test(test_what_holds_a_start_and_a_tag),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
