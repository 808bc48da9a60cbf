/* The law of hands, over lists written by hand: lawful ones, and for each law what breaks it. The law is written
 * down in grammar/bench_protocol.md; what each case says follows from that page alone. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "judged.h"

#include "bench/replay.h"
#include "compilation.h"
#include "words/step_letters.h"

#include <stdio.h>

/* Bind 6, loop 4, final 8: common practice, no source. */
#define COMMON .bind = 6, .loop = 4, .final = 8
static const Bench pedal = {COMMON, .holders = 2, .brake = true};
static const Bench hand_drive = {COMMON, .holders = 2, .brake = true, .drive = DRIVE_HAND};
static const Bench no_brake = {COMMON, .holders = 2};
static const Bench neither = {COMMON, .holders = 2, .drive = DRIVE_HAND};

#define BAND "s | 0x20"
#define END_OF_BAND "loop 0 final; wind 8 of 0; pull 0 final; trim 0"
#define INLAY "s c | 0x19 1x2 0x19"
#define LAID_IN                                                                                                   \
    "start 0; wind 6 of 0; tag 0; wind 7 of 0; lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; "
#define IN_HAND LAID_IN "stand 0; take up 1; untape line 1; wind 2 of 1 by hand; "
#define CHANGE "s s | 0x20, 1x20"

static void test_never_more_than_two_hands(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"a pedal leaves a finger for the tag", &pedal, BAND,
         "start 0; wind 6 of 0; tag 0; wind 6 of 0; " END_OF_BAND, .verdict = REPLAY_LAWFUL},
        {"a hand drive leaves none", &hand_drive, BAND, "start 0; wind 6 of 0", REPLAY_HANDS_FULL, 1, 0, 3},
        {"there the tag is taped, and the loop", &hand_drive, BAND,
         "start 0; tape tag 0 clear 6; wind 6 of 0; untape tag 0; tag 0; wind 6 of 0; loop 0 final; tape loop 0; "
         "wind 8 of 0; untape loop 0; pull 0 final; trim 0",
         .verdict = REPLAY_LAWFUL},
        {"a finger on the tag, and a loop to lay", &pedal, BAND, "start 0; wind 2 of 0; loop 0", REPLAY_HANDS_FULL,
         2, 0, 3},
        {"packing leaves that finger", &pedal, BAND,
         "start 0; wind 2 of 0; pack; wind 4 of 0; tag 0; wind 6 of 0; " END_OF_BAND, .verdict = REPLAY_LAWFUL},
        {"measuring does not", &pedal, BAND, "start 0; wind 2 of 0; pack; measure", REPLAY_HANDS_FULL, 3, NO_PIECE,
         3},
        {"a cut end under a finger while the next thread is started", &pedal, CHANGE,
         "start 0; wind 20 of 0; tag 0; lay end 0; start 1", REPLAY_HANDS_FULL, 4, 1, 3},
        {"or trimmed elsewhere", &pedal, CHANGE, "start 0; wind 20 of 0; lay end 0; tag 0", REPLAY_HANDS_FULL, 3,
         0, 3},
        {"a finger on a tag while another thread is passed by hand", &pedal, INLAY,
         "start 0; wind 13 of 0; tag 0; lay in 1; tape line 1 clear 6; wind 6 of 0; stand 0; take up 1; "
         "untape line 1; wind 2 of 1 by hand",
         REPLAY_HANDS_FULL, 9, 1, 3},
        {"a cut piece in hand while something is trimmed", &pedal, INLAY,
         "start 0; wind 13 of 0; lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0; stand 0; take up 1; "
         "untape line 1; wind 2 of 1 by hand; tag 0",
         REPLAY_HANDS_FULL, 10, 0, 3},
        {"two cut pieces that run together are in one hand", &pedal, "s c c | 0x19 1+2x2 0x19",
         "start 0; wind 6 of 0; tag 0; wind 7 of 0; lay in 1; tape tag 1; tape line 1 clear 6; lay in 2; tape tag 2; "
         "tape line 2 clear 6; wind 6 of 0; stand 0; take up 1+2; untape line 1+2; wind 2 of 1+2 by hand; pack; "
         "lay end 1+2; tape end 1+2 clear 6; untape tag 1; tag 1; untape tag 2; tag 2; take up 0; wind 6 of 0; "
         "untape end 1; trim 1; untape end 2; trim 2; wind 5 of 0; " END_OF_BAND,
         .verdict = REPLAY_LAWFUL},
        {"three pieces laid in at once", &pedal, "s c c c | 0x19 1+3x2 0x19",
         "start 0; wind 6 of 0; tag 0; wind 7 of 0; lay in 1+3", REPLAY_HANDS_FULL, 4, 1, 3},
        {"one finger holds a piece that was just laid in, tag and line", &pedal, INLAY,
         "start 0; wind 13 of 0; lay in 1; pack; tape line 1 clear 6; tape tag 1; tag 0; wind 6 of 0; stand 0; "
         "take up 1; untape line 1; wind 2 of 1 by hand; lay end 1; tape end 1 clear 6; untape tag 1; tag 1; "
         "take up 0; wind 6 of 0; untape end 1; trim 1; wind 5 of 0; " END_OF_BAND,
         .verdict = REPLAY_LAWFUL},
    };
    JUDGE(cases);
}

static void test_a_hand_for_the_blank(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"the drive holds it while it turns", &no_brake, BAND,
         "start 0; wind 6 of 0; pack; tape line 0 clear 0; tag 0; "
         "untape line 0; wind 6 of 0; tape line 0 clear 0; loop 0 final; tape loop 0; untape line 0; wind 8 of 0; "
         "tape line 0 clear 0; untape loop 0; untape line 0; pull 0 final; trim 0",
         .verdict = REPLAY_LAWFUL},
        {"a spool pulls at it while a tag is trimmed", &no_brake, BAND, "start 0; wind 6 of 0; tag 0",
         REPLAY_HANDS_FULL, 2, 0, 3},
        {"or a width measured", &no_brake, BAND, "start 0; wind 6 of 0; pack; measure", REPLAY_HANDS_FULL, 3,
         NO_PIECE, 3},
        {"a finger on the tag of a thread without turns takes its pull", &no_brake, BAND,
         "start 0; tape tag 0 clear 6; tape line 0 clear 0; untape line 0; wind 6 of 0", REPLAY_TURNS_DIFFER, 5, 0,
         6},
        {"it pulls while another is passed by hand", &no_brake, INLAY,
         "start 0; wind 13 of 0; tape line 0 clear 2; tag 0; lay in 1; tape tag 1; tape line 1 clear 6; untape line 0; "
         "wind 6 of 0; stand 0; take up 1; untape line 1",
         REPLAY_HANDS_FULL, 11, 1, 3},
        {"taped and eased it does not", &no_brake, INLAY,
         "start 0; wind 13 of 0; tape line 0 clear 0; tag 0; lay in 1; tape tag 1; tape line 1 clear 6; untape line 0; "
         "wind 6 of 0; tape line 0 clear 2; stand 0; take up 1; untape line 1; wind 2 of 1 by hand; lay end 1; "
         "tape end 1 clear 6; untape tag 1; tag 1; take up 0; untape line 0; wind 6 of 0; tape line 0 clear 0; "
         "untape end 1; trim 1; loop 0 final; tape loop 0; untape line 0; wind 13 of 0; tape line 0 clear 0; "
         "untape loop 0; untape line 0; pull 0 final; trim 0",
         .verdict = REPLAY_LAWFUL},
        {"of two that run one is not taped alone", &no_brake, "s s | 0+2x20",
         "start 0; tape tag 0 clear 6; tape line 0 clear 0; start 1; tape tag 1 clear 6; tape line 1 clear 0; "
         "untape line 0",
         .verdict = REPLAY_TURNS_DIFFER, .action = 7, .piece = 0},
        {"since the other pulls meanwhile", &no_brake, "s s | 0+2x20",
         "start 0; tape tag 0 clear 6; tape line 0 clear 0; start 1; tape tag 1 clear 6; tape line 1 clear 0; "
         "untape line 0; untape line 1",
         REPLAY_HANDS_FULL, 7, 1, 3},
        {"both at once", &no_brake, "s s | 0+2x20",
         "start 0; tape tag 0 clear 6; tape line 0 clear 0; start 1; tape tag 1 clear 6; tape line 1 clear 0; "
         "untape line 0+2; wind 6 of 0+2; tape line 0+2 clear 0; untape tag 0+2; tag 0+2",
         REPLAY_TURNS_DIFFER, 11, 0, 6},
        {"with neither pedal nor brake", &neither, BAND,
         "start 0; tape tag 0 clear 6; wind 6 of 0; tape line 0 clear 0; untape tag 0; tag 0; untape line 0; "
         "wind 6 of 0; tape line 0 clear 0; loop 0 final; tape loop 0; untape line 0; wind 8 of 0; "
         "tape line 0 clear 0; untape loop 0; untape line 0; pull 0 final; trim 0; pack",
         .verdict = REPLAY_LAWFUL},
    };
    JUDGE(cases);
}

static void test_nothing_unheld(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"a cut piece stands without tape", &pedal, INLAY, IN_HAND "stand 1", REPLAY_UNHELD, 12, 1, 0},
        {"the long end of a piece laid in swings", &pedal, INLAY,
         "start 0; wind 13 of 0; tag 0; lay in 1; tape tag 1; wind 6 of 0", REPLAY_UNHELD, 5, 1, 0},
        {"tape is off before the piece runs", &pedal, INLAY, LAID_IN "stand 0; untape line 1", REPLAY_UNHELD, 9, 1,
         0},
        {"a spool laid in, the blank turning", &pedal, CHANGE,
         "start 0; wind 14 of 0; tag 0; lay in 1; tape tag 1; wind 6 of 0", REPLAY_SPOOL_STANDS, 5, 1, 1},
        {"taped or not", &pedal, CHANGE,
         "start 0; wind 14 of 0; tag 0; lay in 1; tape tag 1; tape line 1 clear 6; wind 6 of 0",
         REPLAY_SPOOL_STANDS, 6, 1, 1},
        {"a tag laid in slips until its first three turns", &pedal, "s c | 0x19 1x4 0x19",
         LAID_IN "stand 0; take up 1; untape line 1; wind 2 of 1 by hand; tape line 1 clear 0; untape tag 1; "
                 "untape line 1",
         REPLAY_HANDS_FULL, 14, 1, 3},
        {"after them turns hold it", &pedal, "s c | 0x19 1x4 0x19",
         LAID_IN
         "stand 0; take up 1; untape line 1; wind 3 of 1 by hand; tape line 1 clear 0; untape tag 1; "
         "untape line 1; wind 1 of 1 by hand; lay end 1; tape end 1 clear 6; tag 1; take up 0; wind 6 of 0; "
         "untape end 1; trim 1; wind 5 of 0; " END_OF_BAND,
         .verdict = REPLAY_LAWFUL},
    };
    JUDGE(cases);
}

#define LONG_PASS "s c | 0x19 1x8 0x19"
#define IN_PASS LAID_IN "stand 0; take up 1; untape line 1; wind 4 of 1 by hand; "
#define AFTER_PASS                                                                                                    \
    "wind 4 of 1 by hand; lay end 1; tape end 1 clear 6; untape tag 1; tag 1; take up 0; wind 6 of 0; untape end 1; " \
    "trim 1; wind 5 of 0; " END_OF_BAND

static void test_a_pass_in_one_go(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"told in two", &pedal, LONG_PASS, IN_PASS AFTER_PASS, .verdict = REPLAY_LAWFUL},
        {"packed in the middle", &pedal, LONG_PASS, IN_PASS "pack; wind 4 of 1 by hand", REPLAY_PASS_BROKEN, 13, 1,
         0},
        {"with the thread taped", &pedal, LONG_PASS,
         IN_PASS "tape line 1 clear 0; pack; untape line 1; wind 4 of 1 by hand", REPLAY_PASS_BROKEN, 15, 1, 0},
        {"or set aside and taken up again", &pedal, LONG_PASS,
         IN_PASS "tape line 1 clear 0; stand 1; pack; take up 1; untape line 1; wind 4 of 1 by hand",
         REPLAY_PASS_BROKEN, 17, 1, 0},
        {"or set aside and taken up again for nothing", &pedal, LONG_PASS,
         IN_PASS "tape line 1 clear 0; stand 1; take up 1; untape line 1; wind 4 of 1 by hand", REPLAY_PASS_BROKEN,
         16, 1, 0},
        {"measured", &pedal, LONG_PASS,
         IN_PASS "tape line 1 clear 0; pack; measure; untape line 1; wind 4 of 1 by hand", REPLAY_PASS_BROKEN, 16,
         1, 0},
        {"a tag trimmed", &pedal, LONG_PASS,
         IN_PASS "tape line 1 clear 0; untape tag 1; tag 1; untape line 1; wind 4 of 1 by hand",
         REPLAY_PASS_BROKEN, 16, 1, 0},
        {"its loop laid and taped, for the turns that follow", &pedal, LONG_PASS,
         IN_PASS
         "tape line 1 clear 0; loop 1; tape loop 1; untape line 1; wind 4 of 1 by hand; tape line 1 clear 0; "
         "untape loop 1; untape line 1; pull 1; trim 1; untape tag 1; tag 1; pack; take up 0; wind 11 of 0; " END_OF_BAND,
         .verdict = REPLAY_LAWFUL},
        {"packing between two threads' passes breaks none", &pedal, "s c c | 0x19 1x4 2x4 0x19",
         "start 0; wind 6 of 0; tag 0; wind 7 of 0; lay in 1; tape tag 1; tape line 1 clear 6; lay in 2; tape tag 2; "
         "tape line 2 clear 10; wind 6 of 0; stand 0; take up 1; untape line 1; wind 4 of 1 by hand; pack; lay end 1; "
         "tape end 1 clear 10; take up 2; untape line 2; wind 4 of 2 by hand; lay end 2; tape end 2 clear 6; take up 0; "
         "wind 6 of 0; untape end 1; trim 1; untape end 2; trim 2; untape tag 1; tag 1; untape tag 2; tag 2; "
         "wind 5 of 0; " END_OF_BAND,
         .verdict = REPLAY_LAWFUL},
    };
    JUDGE(cases);
}

static void test_pack_then_measure_then_cut(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"in order", &pedal, BAND,
         "start 0; wind 12 of 0; pack; measure; tag 0; loop 0 final; wind 8 of 0; pack; measure; pull 0 final; trim 0; "
         "pack",
         .verdict = REPLAY_LAWFUL},
        {"measured without packing", &pedal, BAND, "start 0; wind 12 of 0; measure", REPLAY_PACK_FIRST, 2,
         NO_PIECE, 0},
        {"a turn after packing", &pedal, BAND, "start 0; wind 11 of 0; pack; wind 1 of 0; measure",
         REPLAY_PACK_FIRST, 4, NO_PIECE, 0},
        {"packed after a tag is cut", &pedal, BAND, "start 0; wind 12 of 0; tag 0; pack", REPLAY_PACK_FIRST, 3,
         NO_PIECE, 0},
        {"measured after it", &pedal, BAND, "start 0; wind 12 of 0; pack; tag 0; measure", REPLAY_PACK_FIRST, 4,
         NO_PIECE, 0},
        {"measured after the end is drawn back", &pedal, BAND,
         "start 0; wind 12 of 0; tag 0; loop 0 final; wind 8 of 0; pack; pull 0 final; measure", REPLAY_PACK_FIRST,
         7, NO_PIECE, 0},
        {"packed after a thread is cut and its end laid", &pedal, CHANGE,
         "start 0; wind 20 of 0; lay end 0; tape end 0 clear 6; pack", REPLAY_PACK_FIRST, 4, NO_PIECE, 0},
        {"packed after an end is trimmed", &pedal, CHANGE,
         "start 0; wind 20 of 0; tag 0; lay end 0; tape end 0 clear 6; start 1; wind 6 of 1; untape end 0; trim 0; pack",
         REPLAY_PACK_FIRST, 9, NO_PIECE, 0},
    };
    JUDGE(cases);
}

#define FIRST "start 0; wind 12 of 0; tag 0; loop 0 final; wind 8 of 0; pull 0 final; trim 0; "
#define SECOND "start 1; wind 12 of 1; tag 1; loop 1 final; wind 8 of 1; pull 1 final; trim 1; "

static void test_no_packing_over_a_gap(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"each side for itself", &pedal, "s s | 0x20 gap 1x20", FIRST "pack; " SECOND "pack",
         .verdict = REPLAY_LAWFUL},
        {"both at once", &pedal, "s s | 0x20 gap 1x20", FIRST SECOND "pack", REPLAY_GAP_PACKED, 14, NO_PIECE, 0},
        {"some of both", &pedal, "s s | 0x20 gap 1x20", FIRST "start 1; wind 12 of 1; pack", REPLAY_GAP_PACKED, 9,
         NO_PIECE, 0},
        {"two layers have no gap between them", &pedal, "s s | 0x20 layer 1x20", FIRST SECOND "pack",
         .verdict = REPLAY_LAWFUL},
        {"a spacer's gap", &pedal, "s p | 0+2x20",
         "start 0; tape tag 0 clear 20; start 1; wind 12 of 0+2; loop 0 final; wind 8 of 0+2; pack; pull 0 final; "
         "trim 0; untape tag 0; tag 0; pack; spacer 1; pack",
         REPLAY_GAP_PACKED, 13, NO_PIECE, 0},
        {"is not in the next stretch", &pedal, "s p s | 0+2x20 gap 2x20",
         "start 0; tape tag 0 clear 20; start 1; wind 12 of 0+2; loop 0 final; wind 8 of 0+2; pack; pull 0 final; "
         "trim 0; untape tag 0; tag 0; spacer 1; start 2; wind 12 of 2; pack; tag 2; loop 2 final; wind 8 of 2; "
         "pull 2 final; trim 2; pack",
         .verdict = REPLAY_LAWFUL},
    };
    JUDGE(cases);
}

static void test_tape(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"a turn goes over it", &pedal, BAND, "start 0; tape tag 0 clear 6; wind 7 of 0", REPLAY_TAPED_OVER, 2, 0,
         7},
        {"in two goes", &pedal, BAND, "start 0; tape tag 0 clear 6; wind 4 of 0; wind 3 of 0", REPLAY_TAPED_OVER,
         3, 0, 7},
        {"what lies ahead is clear of no end of turns", &pedal, BAND, "start 0; tape tag 0; wind 1 of 0",
         REPLAY_TAPED_OVER, 2, 0, 1},
        {"a piece that stands is taken up too late", &pedal, INLAY,
         "start 0; wind 13 of 0; tag 0; lay in 1; tape tag 1; tape line 1 clear 5; wind 6 of 0", REPLAY_TAPED_OVER,
         6, 1, 6},
        {"what lies behind is clear of all", &pedal, INLAY, LAID_IN "pack; measure", REPLAY_TURNS_DIFFER, 10, 1,
         0},
        {"a tag trimmed with its tape on", &pedal, BAND, "start 0; tape tag 0 clear 12; wind 12 of 0; tag 0",
         REPLAY_TAPE_LEFT, 3, 0, 0},
        {"an end", &pedal, CHANGE,
         "start 0; wind 20 of 0; tag 0; lay end 0; tape end 0 clear 6; start 1; wind 6 of 1; trim 0",
         REPLAY_TAPE_LEFT, 7, 0, 0},
        {"a loop drawn", &pedal, BAND, "start 0; wind 12 of 0; loop 0; tape loop 0; wind 8 of 0; pull 0",
         REPLAY_TAPE_LEFT, 5, 0, 0},
        {"a thread wound", &pedal, BAND, "start 0; wind 6 of 0; tape line 0 clear 9; wind 6 of 0",
         REPLAY_TAPE_LEFT, 3, 0, 0},
        {"a thread cut", &pedal, CHANGE, "start 0; wind 20 of 0; tape line 0 clear 9; lay end 0", REPLAY_TAPE_LEFT,
         3, 0, 0},
        {"a spacer takes its tape with it", &pedal, "s p | 0+2x20",
         "start 0; tape tag 0 clear 20; start 1; tape tag 1 clear 20; wind 12 of 0+2; loop 0 final; wind 8 of 0+2; "
         "pull 0 final; trim 0; untape tag 0; tag 0; spacer 1",
         .verdict = REPLAY_LAWFUL},
        {"taped twice", &pedal, BAND, "start 0; tape tag 0 clear 9; tape tag 0 clear 9", REPLAY_STRAND_LOST, 2, 0,
         0},
        {"taken off where none is", &pedal, BAND, "start 0; untape tag 0", REPLAY_STRAND_LOST, 1, 0, 0},
        {"on an end that is not cut", &pedal, BAND, "start 0; tape end 0 clear 9", REPLAY_STRAND_LOST, 1, 0, 0},
        {"on a loop that is not laid", &pedal, BAND, "start 0; tape loop 0", REPLAY_STRAND_LOST, 1, 0, 0},
        {"on what was drawn back", &pedal, BAND,
         "start 0; wind 12 of 0; tag 0; loop 0; wind 8 of 0; pull 0; tape end 0 clear 1", REPLAY_STRAND_LOST, 6, 0,
         0},
        {"on a thread not there", &pedal, CHANGE, "start 0; tape line 1 clear 9", REPLAY_STRAND_LOST, 1, 1, 0},
    };
    JUDGE(cases);
}

#define THREADS                                                                                                   \
    "edition 1\n"                                                                                                 \
    "thread navy { turns: 67 per cm }\n"                                                                          \
    "thread mist { turns: 67 per cm }\n"                                                                          \
    "thread foam { turns: 67 per cm }\n"                                                                          \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"

/* Tape on a tag or an end that is trimmed comes off right before that: a step in between would leave it loose. */
static void assert_untaped_as_trimmed(const BenchRod *rod, uint32_t at)
{
    const Action *untape = &rod->actions[at], *trim = untape + 1;
    if (untape->kind != ACTION_UNTAPE || rod->rod->pieces[untape->piece].spacer
        || (untape->thing != THING_TAG && untape->thing != THING_END))
        return;
    assert_true(at + 1 < rod->action_count);
    assert_int_equal(trim->kind, untape->thing == THING_TAG ? ACTION_TRIM_TAG : ACTION_TRIM_END);
    assert_int_equal(trim->piece, untape->piece);
}

/* What the maker writes for every bench is lawful, and taped there is what a finger cannot hold. */
static void test_every_bench(void **state)
{
    (void)state;
    static const char *const rods[] = {
        "{ band 20 turns of navy  fade to mist steps: 4  band 60 turns of mist }",
        "{ band 20 turns of navy  fade to mist over: 30 turns  fade to foam steps: 3  band 20 turns of foam }",
        "{ band 60 turns of navy { inlay 2 turns of foam at: 1/3  inlay 9 turns of mist at: 2/3 } }",
        "{ band 40 turns of [navy, mist] { inlay 2 turns of [foam, navy] at: 1/2 }  gap 1 mm  band 20 turns of navy }",
        "{ band 20 turns of [navy, spacer(foam)]  band 2 turns of mist  gap 1 mm  band 8 turns of [navy, spacer(foam)] }",
        "{ repeat 3 { band 9 turns of navy  band 3 turns of foam }  band 12 turns of navy }",
        "length: 60 mm { chevron crossings: 3 ends: 20 turns of navy { strand 3 of mist  strand 1 of spacer(foam) } }",
    };
    static const struct {
        const char *words;
        bool tape; /* of what lies, in a plain band */
    } benches[] = {{"", false},
                   {", brake: no", true},
                   {", drive: hand", true},
                   {", drive: hand, brake: no", true},
                   {", bobbins: 2", false},
                   {", bobbins: 3, brake: no", true},
                   {", bobbins: 1, drive: hand", true},
                   {", bobbins: 8, drive: hand, brake: no", true}};
    enum { BENCHES = sizeof benches / sizeof *benches };
    for (volatile size_t at = 0; at < BENCHES * (sizeof rods / sizeof *rods); at++) {
        const size_t i = at;
        char text[1000];
        snprintf(text, sizeof text,
                 THREADS "bench { units: mm, hand: 9 m, holders: 3, ridge: 9, measure: 5 turns%s }\n"
                         "rod \"R\" on tube { at 20 cm { band 20 turns of navy } at 50 cm %s }\n",
                 benches[i % BENCHES].words, rods[i / BENCHES]);
        Compilation *compilation = compilation_new(0);
        assert_non_null(compilation);
        turnlay_give(compilation, "pattern.lay", text, strlen(text));
        if (turnlay_finish(compilation) != TURNLAY_DONE)
            fail_msg("%s%s: %s", benches[i % BENCHES].words, rods[i / BENCHES],
                     compilation->findings.list.items[0].message);
        if (setjmp(*trap_set(&compilation->trap)) != 0)
            fail_msg("the machine has no memory left");
        const BenchRod *rod = &bench_make(&compilation->arena, compilation->plan,
                                          step_letters(&compilation->arena, compilation->plan))
                                   ->rods[0];
        Replay replay = replay_of(rod, &compilation->job->bench);
        if (replay.verdict)
            fail_msg("%s%s: step %u: %s", benches[i % BENCHES].words, rods[i / BENCHES], (unsigned)replay.action,
                     verdict_words(replay.verdict));
        uint32_t taped = 0;
        for (uint32_t k = 0; k < rod->action_count; k++)
            assert_untaped_as_trimmed(rod, k);
        for (uint32_t k = 0; k < rod->action_count; k++)
            taped += rod->actions[k].place == 0 && rod->actions[k].kind == ACTION_TAPE_DOWN
                     && rod->actions[k].thing == THING_TAG && rod->actions[k].layer_count == 0;
        assert_int_equal(taped, benches[i % BENCHES].tape);
        turnlay_free(compilation);
    }
}

/* Where a spool waits beneath, nothing else comes from one; and none is cut from itself. */
static void test_spools_that_take_over(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "bench { units: mm, bobbins: 6, hand: 200 cm, carry: 40 turns, ridge: 9, apart: 0.1 mm, final: 4 turns }\n"
        "rod \"R\" on tube { at 20 cm { band 20 turns of mist  fade to navy steps: 2  band 20 turns of navy\n"
        "    fade to foam steps: 1  band 9 turns of foam  fade to mist over: 18 turns  band 90 turns of mist } }\n",
        "bench { units: mm, bobbins: 7, hand: 100 cm, carry: 40 turns, ridge: 9, apart: 0.1 mm, brake: no }\n"
        "rod \"R\" on tube { at 20 cm { band 90 turns of mist { inlay 19 turns of foam at: 1/2 }  fade to navy steps: 1\n"
        "    band 12 turns of navy  fade to foam runs: [in 4 out 2, in 4 out 2]  band 9 turns of foam\n"
        "    fade to mist steps: 4  band 90 turns of mist } }\n",
        "bench { units: mm, hand: 100 cm, carry: 40 turns, ridge: 9, apart: 0.1 mm }\n"
        "rod \"R\" on tube { at 20 cm { band 40 turns of mist  fade to foam over: 24 turns  band 90 turns of foam\n"
        "    fade to navy steps: 4  band 9 turns of navy  fade to foam over: 22 turns  band 12 turns of foam\n"
        "    fade to navy runs: [in 3 out 3, in 1 out 1]  band 90 turns of navy } }\n",
        "bench { units: mm, hand: 60 cm }\n"
        "rod \"R\" on tube { at 20 cm { band 11 turns of navy  fade to mist steps: 1  band 12 turns of mist\n"
        "    fade to foam steps: 1  band 45 turns of foam } }\n",
    };
    for (volatile size_t at = 0; at < sizeof texts / sizeof *texts; at++) {
        char text[1000];
        snprintf(text, sizeof text, THREADS "%s", texts[at]);
        Compilation *compilation = compilation_new(0);
        assert_non_null(compilation);
        turnlay_give(compilation, "pattern.lay", text, strlen(text));
        if (turnlay_finish(compilation) != TURNLAY_DONE)
            fail_msg("%s: %s", texts[at], compilation->findings.list.items[0].message);
        turnlay_free(compilation);
    }
}

/* No turn of a hand pass waits for packing, measuring or trimming, nor for what can be laid before it. */
static void test_passes_are_whole(void **state)
{
    (void)state;
    static const char text[] = THREADS
        "bench { units: mm, hand: 9 m, ridge: 9, measure: 7 turns, pack: 9 turns }\n"
        "rod \"R\" on tube { at 20 cm { band 30 turns of navy { inlay 9 turns of mist at: 1/2 }  band 3 turns of foam }\n"
        "    at 30 cm { band 30 turns of navy  fade to mist runs: [in 1 out 5, in 7 out 1, in 5 out 0]\n"
        "        band 60 turns of mist  fade to foam runs: [in 1 out 9, in 9 out 1]  band 4 turns of foam }\n"
        "    at 40 cm { band 40 turns of navy { inlay 9 turns of mist at: 4/5 } } }\n";
    Compilation *compilation = compilation_new(0);
    assert_non_null(compilation);
    turnlay_give(compilation, "pattern.lay", text, strlen(text));
    if (turnlay_finish(compilation) != TURNLAY_DONE)
        fail_msg("%s", compilation->findings.list.items[0].message);
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    const BenchRod *rod =
        &bench_make(&compilation->arena, compilation->plan, step_letters(&compilation->arena, compilation->plan))
             ->rods[0];
    const Action *last = NULL;
    uint32_t passes = 0;
    for (uint32_t k = 0; k < rod->action_count; k++) {
        const Action *action = &rod->actions[k];
        if (action->kind != ACTION_WIND)
            continue;
        if (last && last->by_hand && action->by_hand && last->piece == action->piece)
            assert_ptr_equal(last, action - 1);
        passes += action->by_hand;
        last = action;
    }
    assert_true(passes >= 4);
    turnlay_free(compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_never_more_than_two_hands),
        cmocka_unit_test(test_a_hand_for_the_blank),
        cmocka_unit_test(test_nothing_unheld),
        cmocka_unit_test(test_a_pass_in_one_go),
        cmocka_unit_test(test_pack_then_measure_then_cut),
        cmocka_unit_test(test_no_packing_over_a_gap),
        cmocka_unit_test(test_tape),
        cmocka_unit_test(test_every_bench),
        cmocka_unit_test(test_spools_that_take_over),
        cmocka_unit_test(test_passes_are_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
