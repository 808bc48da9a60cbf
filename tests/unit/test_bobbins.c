/* Threads on bobbins: the law, over lists written by hand, as grammar/bench_protocol.md has it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "judged.h"

#include "bench/replay.h"

#include <stdio.h>

/* Bind 6, loop 4, final 8: common practice, no source. */
#define COMMON .bind = 6, .loop = 4, .final = 8, .holders = 1
static const Bench none = {COMMON, .brake = true};
static const Bench one = {COMMON, .brake = true, .bobbins = 1};
static const Bench two = {COMMON, .brake = true, .bobbins = 2};
static const Bench no_brake = {COMMON, .bobbins = 1};

/* A fade of four turns and three, and a band of the thread that came in. */
#define FADE "s b | 0x19 1x4 0x3 1x30"
#define BEGUN "start 0; wind 6 of 0; tag 0; wind 7 of 0; "
#define LAID_IN BEGUN "lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; "
#define IN_HAND LAID_IN "stand 0; take up 1; untape line 1; "
#define PASSED IN_HAND "wind 4 of 1 by hand; "
#define STANDS PASSED "tape line 1 clear 3; untape tag 1; tag 1; stand 1; take up 0; "
#define OVER STANDS "wind 3 of 0; lay end 0; tape end 0 clear 6; take up 1; untape line 1; "
#define TRIMMED OVER "wind 6 of 1; tape line 1 clear 0; untape end 0; trim 0; untape line 1; "
#define DONE                                                                                                      \
    TRIMMED "wind 16 of 1; tape line 1 clear 0; loop 1 final; tape loop 1; untape line 1; wind 8 of 1; "          \
            "tape line 1 clear 0; untape loop 1; untape line 1; pull 1 final; trim 1"

static void test_a_bobbin_turns_with_the_blank(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"passed by hand, then standing, then wound by the drive", &one, FADE, "load 1; " DONE,
         .verdict = REPLAY_LAWFUL},
        {"it stands without its tape", &one, FADE, "load 1; " PASSED "stand 1", REPLAY_UNHELD, 13, 1, 0},
        {"turns over the bobbin", &one, FADE,
         "load 1; " PASSED "tape line 1 clear 2; untape tag 1; tag 1; stand 1; take up 0; wind 3 of 0",
         REPLAY_TAPED_OVER, 18, 1, 3},
        {"turns over the nearer of two tapes, and up to the other", &one, FADE,
         "load 1; start 0; tape tag 0 clear 19; wind 6 of 0; wind 7 of 0; lay in 1; tape tag 1; tape line 1 clear 5; "
         "wind 6 of 0",
         REPLAY_TAPED_OVER, 8, 1, 6},
        {"laid in, and left hanging", &one, FADE, "load 1; " BEGUN "lay in 1; tape tag 1; wind 6 of 0",
         REPLAY_UNHELD, 7, 1, 0},
        {"wound while the bobbin is taped", &one, FADE,
         "load 1; " LAID_IN "stand 0; take up 1; wind 4 of 1 by hand", REPLAY_TAPE_LEFT, 11, 1, 0},
        {"wound by the drive while a spool stands", &one, FADE, "load 1; " IN_HAND "wind 4 of 1",
         REPLAY_SPOOL_STANDS, 12, 0, 1},
        {"a bobbin is no spool to be cut from", &one, FADE, "load 1; " IN_HAND "cut 1", REPLAY_STRAND_LOST, 12, 1,
         0},
    };
    JUDGE(cases);
}

static void test_both_hands_for_a_bobbin(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"a finger on a tag", &one, FADE,
         "load 1; " BEGUN "lay in 1; tape line 1 clear 6; wind 6 of 0; stand 0; take up 1; untape line 1; "
         "wind 4 of 1 by hand",
         REPLAY_HANDS_FULL, 11, 1, 3},
        {"a loop under a finger while it comes off", &one, FADE,
         "load 1; " BEGUN "lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; loop 1; stand 0; take up 1; "
         "untape line 1",
         REPLAY_HANDS_FULL, 12, 1, 3},
        {"a spool pulls at the blank", &no_brake, FADE,
         "load 1; start 0; wind 13 of 0; tape line 0 clear 0; tag 0; lay in 1; tape tag 1; tape line 1 clear 6; "
         "untape line 0; wind 6 of 0; stand 0; take up 1; untape line 1",
         REPLAY_HANDS_FULL, 12, 1, 3},
        {"something is trimmed with the bobbin in hand", &one, FADE, "load 1; " PASSED "tag 1", REPLAY_TAPE_LEFT,
         13, 1, 0},
        {"or measured", &one, FADE, "load 1; " PASSED "pack; measure", REPLAY_HANDS_FULL, 14, NO_PIECE, 3},
        {"two bobbins round the blank at once", &two, "s b b | 0x19 1+2x2 0x19",
         "load 1; load 2; " BEGUN "lay in 1; tape tag 1; tape line 1 clear 6; lay in 2; tape tag 2; "
         "tape line 2 clear 6; wind 6 of 0; stand 0; take up 1+2; untape line 1+2; wind 2 of 1+2 by hand",
         REPLAY_HANDS_FULL, 16, 1, 4},
        {"a bobbin and a cut piece", &one, "s c b | 0x19 1+2x2 0x19",
         "load 2; " BEGUN "lay in 1; tape tag 1; tape line 1 clear 6; lay in 2; tape tag 2; tape line 2 clear 6; "
         "wind 6 of 0; stand 0; take up 1+2; untape line 1+2; wind 2 of 1+2 by hand",
         REPLAY_HANDS_FULL, 15, 2, 4},
        {"the drive winds from two", &two, "b b | 0+2x20",
         "load 0; load 1; start 0; tape tag 0 clear 6; tape line 0 clear 0; start 1; tape tag 1 clear 6; "
         "tape line 1 clear 0; untape line 0+2; wind 6 of 0+2",
         REPLAY_TURNS_DIFFER, 10, 0, 6},
    };
    JUDGE(cases);
}

#define INLAYS "s b b | 0x19 1x2 0x19 2x2 0x19"
#define FIRST                                                                                                     \
    BEGUN "lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; stand 0; take up 1; untape line 1; "           \
          "wind 2 of 1 by hand; "
#define ENDED "lay end 1; tape end 1 clear 6; untape tag 1; tag 1; take up 0; wind 6 of 0; untape end 1; trim 1; "
#define SECOND                                                                                                        \
    "wind 7 of 0; lay in 2; tape tag 2; tape line 2 clear 6; wind 6 of 0; stand 0; take up 2; untape line 2; "        \
    "wind 2 of 2 by hand; lay end 2; tape end 2 clear 6; untape tag 2; tag 2; take up 0; wind 6 of 0; untape end 2; " \
    "trim 2; wind 5 of 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0"

static void test_as_many_as_there_are(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"each on its own", &two, INLAYS, "load 1; load 2; " FIRST ENDED SECOND, .verdict = REPLAY_LAWFUL},
        {"the same one again", &one, INLAYS, "load 1; " FIRST ENDED "load 2; " SECOND, .verdict = REPLAY_LAWFUL},
        {"as soon as its line is cut", &one, INLAYS,
         "load 1; " FIRST "lay end 1; tape end 1 clear 6; load 2; untape tag 1; tag 1; take up 0; wind 6 of 0; "
         "untape end 1; trim 1; " SECOND,
         .verdict = REPLAY_LAWFUL},
        {"but not before", &one, INLAYS, "load 1; " FIRST "tape line 1 clear 0; load 2", REPLAY_TOO_MANY_BOBBINS,
         14, 2, 2},
        {"or drawn back by a loop", &one, "b b | 0x20 gap 1x20",
         "load 0; start 0; tape tag 0 clear 6; wind 6 of 0; tape line 0 clear 0; untape tag 0; tag 0; untape line 0; "
         "wind 6 of 0; tape line 0 clear 0; loop 0 final; tape loop 0; untape line 0; wind 8 of 0; "
         "tape line 0 clear 0; untape loop 0; untape line 0; pull 0 final; load 1",
         REPLAY_TURNS_DIFFER, 19, 1, 0},
        {"two loaded, and one there", &one, INLAYS, "load 1; load 2", REPLAY_TOO_MANY_BOBBINS, 1, 2, 2},
        {"none there", &none, INLAYS, "load 1", REPLAY_TOO_MANY_BOBBINS, 0, 1, 1},
    };
    JUDGE(cases);
}

static void test_loading(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"laid in, and not loaded", &one, FADE, LAID_IN, REPLAY_OUT_OF_ORDER, 4, 1, 0},
        {"started, and not loaded", &one, "b | 0x20", "start 0", REPLAY_OUT_OF_ORDER, 0, 0, 0},
        {"loaded twice", &two, FADE, "load 1; load 1", REPLAY_STRAND_LOST, 1, 1, 0},
        {"loaded when it is there", &two, FADE, "load 1; " LAID_IN "load 1", REPLAY_STRAND_LOST, 9, 1, 0},
        {"a thread that stays on its spool", &two, FADE, "load 0", REPLAY_STRAND_LOST, 0, 0, 0},
        {"a piece to be cut", &two, "s c | 0x19 1x2 0x19", "load 1", REPLAY_STRAND_LOST, 0, 1, 0},
        {"two at once", &two, INLAYS, "load 1+2", REPLAY_STRAND_LOST, 0, 1, 0},
        {"a millimetre too little", &two, FADE, "load 1 short", REPLAY_LENGTH_DIFFERS, 0, 1, 34 * 30.25 - 1},
        {"with a tag under a finger", &two, FADE, "start 0; load 1", REPLAY_HANDS_FULL, 1, 1, 3},
        {"between the turns of a pass", &two, INLAYS,
         "load 1; " BEGUN
         "lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; stand 0; take up 1; untape line 1; "
         "wind 1 of 1 by hand; tape line 1 clear 0; load 2; untape line 1; wind 1 of 1 by hand",
         REPLAY_PASS_BROKEN, 16, 1, 0},
    };
    JUDGE(cases);
}

/* What holds what: the bobbin, as long as it is taped. */
static void test_its_bobbin_holds_it(void **state)
{
    (void)state;
    static const struct {
        const char *action;
        int line; /* what holds the line of piece 1; -1: it is not there */
        StopWay stop;
    } rows[] = {
        {"load 1", -1, STOP_FINISHED},
        {"start 0", -1, STOP_NOT},
        {"wind 13 of 0", -1, STOP_TAPE},
        {"tag 0", -1, STOP_TAPE},
        {"lay in 1", BY_FINGER, STOP_NOT},
        {"tape tag 1", BY_FINGER, STOP_NOT},
        {"tape line 1 clear 6", BY_BOBBIN, STOP_NOT},
        {"wind 6 of 0", BY_BOBBIN, STOP_TAPE},
        {"stand 0", BY_BOBBIN, STOP_TAPE},
        {"take up 1", BY_BOBBIN, STOP_TAPE},
        {"untape line 1", BY_FINGER, STOP_NOT},
        {"wind 4 of 1 by hand", BY_FINGER, STOP_NOT},
        {"tape line 1 clear 3", BY_BOBBIN, STOP_TAPE},
        {"untape tag 1", BY_BOBBIN, STOP_TAPE},
        {"tag 1", BY_BOBBIN, STOP_TAPE},
        {"stand 1", BY_BOBBIN, STOP_TAPE},
        {"take up 0", BY_BOBBIN, STOP_TAPE},
        {"wind 3 of 0", BY_BOBBIN, STOP_TAPE},
        {"lay end 0", BY_BOBBIN, STOP_NOT},
        {"tape end 0 clear 6", BY_BOBBIN, STOP_NOT},
        {"take up 1", BY_BOBBIN, STOP_NOT},
        {"untape line 1", BY_FINGER, STOP_NOT},
        {"wind 6 of 1", BY_FINGER, STOP_NOT},
        {"tape line 1 clear 0", BY_BOBBIN, STOP_HELD},
    };
    enum { ROWS = sizeof rows / sizeof *rows };
    char actions[1000] = "";
    for (size_t i = 0; i < ROWS; i++)
        strcat(strcat(actions, i ? "; " : ""), rows[i].action);
    Sheet *sheet = new_sheet(FADE, actions);
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    if (setjmp(*trap_set(&trap)) != 0)
        fail_msg("the machine has no memory left");
    Hands hands;
    hands_start(&hands, &arena, &sheet->rod, &one);
    hands.keeps = &arena;
    for (size_t i = 0; i < ROWS; i++) {
        const ActionState *after = &sheet->actions[i].state;
        replay_action(&hands, &sheet->actions[i]);
        if (hands.found.verdict)
            fail_msg("%s: %s", rows[i].action, verdict_words(hands.found.verdict));
        int line = -1;
        for (uint32_t k = 0; k < after->held_count; k++)
            if (after->held[k].piece == 1 && after->held[k].thing == THING_LINE)
                line = after->held[k].by;
        if (line != rows[i].line || after->to_stop != rows[i].stop)
            fail_msg("%s: by %d, stop %d", rows[i].action, line, (int)after->to_stop);
    }
    arena_end(&arena);
    free(sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_bobbin_turns_with_the_blank), cmocka_unit_test(test_both_hands_for_a_bobbin),
        cmocka_unit_test(test_as_many_as_there_are),          cmocka_unit_test(test_loading),
        cmocka_unit_test(test_its_bobbin_holds_it),
    };
    return cmocka_run_group_tests_name("bobbins", tests, NULL, NULL);
}
