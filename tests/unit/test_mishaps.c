/* What goes wrong at the bench: where it finds the work, what comes off and hangs, which way is followed; and a
 * thread that breaks at every turn of two examples, of every kind and both ways: each sheet can be worked, by the
 * replay. */
#include "compilation.h"
#include "plan/plan_sums.h"
#include "words/sheet.h"
#include "words/step_letters.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "example.h"
#include "near.h"

/* --- compiling --- */

#define HEAD                                                                                                      \
    "edition 1\nthread navy { turns: 67 per cm }\nthread foam { turns: 67 per cm }\nbench { units: mm }\n"        \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
#define WIDE HEAD "rod \"Wide\" on tube { at 20 cm length: 40 mm { band 60 turns of navy  band fill of foam } }\n"
static const double pitch = 10.0 / 67;

/* Thread of one turn on a tube that is 12 mm thick: the centre line of a helix. mm */
static double turn_length(void) { return hypot(M_PI * (12 + pitch), pitch); }

static TurnlayCompilation *given(const char *text)
{
    TurnlayCompilation *compilation = turnlay_new();
    assert_int_equal(turnlay_give(compilation, "tried.lay", text, strlen(text)), TURNLAY_DONE);
    assert_null(turnlay_want(compilation).path);
    return compilation;
}

static void happens(TurnlayCompilation *compilation, uint32_t step, TurnlayMishapKind kind, uint32_t turns,
                    TurnlayWay way)
{
    assert_int_equal(turnlay_mishap(compilation, (TurnlayMishap){step, kind, turns, way}), TURNLAY_DONE);
}

static const Mishap *last_mishap(TurnlayCompilation *compilation)
{
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    const Mishaps *all = &compilation->job->mishaps;
    assert_true(all->count > 0);
    return &all->items[all->count - 1];
}

/* One alone, of a text. */
static TurnlayCompilation *with(const char *text, uint32_t step, TurnlayMishapKind kind, uint32_t turns,
                                TurnlayWay way, const Mishap **mishap)
{
    TurnlayCompilation *compilation = given(text);
    happens(compilation, step, kind, turns, way);
    *mishap = last_mishap(compilation);
    return compilation;
}

static const Sheet *sheet_of(TurnlayCompilation *compilation)
{
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    const Sheet *sheet = answer_sheet(compilation);
    trap_clear(&compilation->trap);
    return sheet;
}

/* --- a thread that breaks --- */

/* Four turns of 38.2 mm are the first to leave 15 cm, six the first to leave 20 cm. */
static void test_until_an_end_hangs(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        uint32_t turns;
    } cases[] = {{WIDE, 4},
                 {HEAD "rod \"Wide\" on tube { at 20 cm { band 60 turns of navy } }\n", 4},
                 {"bench { free: 20 cm }\nedition 1\n", 0}};
    for (size_t i = 0; cases[i].turns; i++) {
        const Mishap *mishap;
        TurnlayCompilation *compilation = with(cases[i].text, 5, TURNLAY_BROKE, 30, TURNLAY_WAY_EITHER, &mishap);
        const MishapWay *splice = &mishap->ways[WAY_SPLICE];
        assert_int_equal(mishap->turn, 36);
        assert_int_equal(mishap->followed, WAY_SPLICE);
        assert_int_equal(splice->splice, 36 - cases[i].turns);
        assert_int_equal(splice->turn, splice->splice);
        assert_int_equal(splice->unwound, cases[i].turns);
        assert_within(splice->hangs, cases[i].turns * turn_length(), 1e-6);
        assert_int_equal(splice->lost_count, 1);
        assert_within(splice->lost[0].lost, splice->hangs - 150, 1e-9);
        turnlay_free(compilation);
    }
}

/* The new piece winds what the old one does not; with its two tags and ends. */
static void test_new_piece(void **state)
{
    (void)state;
    const Mishap *mishap;
    TurnlayCompilation *compilation = with(WIDE, 5, TURNLAY_BROKE, 30, TURNLAY_WAY_SPLICE, &mishap);
    const PlannedRod *rod = &compilation->plan->rods[0];
    assert_int_equal(rod->piece_count, 3);
    assert_int_equal(rod->pieces[0].end_turn, 32);
    assert_int_equal(rod->pieces[1].first_turn, 32);
    assert_int_equal(rod->pieces[1].end_turn, 60);
    assert_int_equal(rod->pieces[1].turns, 28);
    assert_within(piece_length(&rod->pieces[1]), 28 * turn_length() + 12 * pitch + 300, 1e-6);
    assert_within(piece_length(&rod->pieces[0]), 32 * turn_length() + 12 * pitch + 300, 1e-6);
    assert_int_equal(turnlay_step_to_go_on(compilation), mishap->ways[WAY_SPLICE].step);
    turnlay_free(compilation);
}

/* All that the piece has wound comes off; what it used is lost: an end, a tag, and its turns. */
static void test_restart(void **state)
{
    (void)state;
    const Mishap *mishap;
    TurnlayCompilation *compilation = with(WIDE, 5, TURNLAY_BROKE, 30, TURNLAY_WAY_RESTART, &mishap);
    const MishapWay *restart = &mishap->ways[WAY_RESTART];
    assert_int_equal(mishap->followed, WAY_RESTART);
    assert_int_equal(restart->turn, 0);
    assert_int_equal(restart->unwound, 36);
    assert_int_equal(restart->step, 4);
    assert_int_equal(restart->made, 0);
    assert_int_equal(restart->lost_count, 1);
    assert_within(restart->lost[0].lost, 36 * turn_length() + 6 * pitch + 150, 1e-6);
    assert_int_equal(compilation->plan->rods[0].piece_count, 2);
    turnlay_free(compilation);
}

/* Of the thread after a change: what was cut and trimmed before its first turns is not reached. */
static void test_restart_of_a_later_piece(void **state)
{
    (void)state;
    const Mishap *mishap;
    TurnlayCompilation *compilation = with(WIDE, 7, TURNLAY_BROKE, 10, TURNLAY_WAY_RESTART, &mishap);
    assert_int_equal(mishap->turn, 76);
    assert_int_equal(mishap->ways[WAY_RESTART].turn, 0); /* the end of navy lies under turns that come off */
    assert_int_equal(mishap->ways[WAY_RESTART].lost_count, 2);
    assert_int_equal(mishap->ways[WAY_SPLICE].unwound, 4);
    turnlay_free(compilation);
}

/* Few turns made, or few to come: no splice. As many of either: the splice. */
static void test_where_no_splice_holds(void **state)
{
    (void)state;
    static const char few[] = HEAD "rod \"Few\" on tube { at 20 cm { band 24 turns of navy } }\n";
    static const struct {
        uint32_t step, turns;
        WayFault fault;
    } cases[] = {{4, 3, WAY_FAULT_TOO_FEW_BEFORE}, {4, 6, WAY_FAULT_TOO_FEW_BEFORE}, {5, 4, WAY_FAULT_NONE}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const Mishap *mishap;
        TurnlayCompilation *compilation =
            with(few, cases[i].step, TURNLAY_BROKE, cases[i].turns, TURNLAY_WAY_SPLICE, &mishap);
        assert_int_equal(mishap->ways[WAY_SPLICE].fault, cases[i].fault);
        assert_int_equal(mishap->followed, cases[i].fault ? WAY_RESTART : WAY_SPLICE);
        turnlay_free(compilation);
    }
}

static void test_spool_empty(void **state)
{
    (void)state;
    const Mishap *mishap;
    TurnlayCompilation *compilation = with(WIDE, 5, TURNLAY_SPOOL_EMPTY, 30, TURNLAY_WAY_EITHER, &mishap);
    assert_int_equal(mishap->ways[WAY_SPLICE].unwound, 0);
    assert_int_equal(mishap->ways[WAY_SPLICE].splice, 36);
    assert_int_equal(mishap->ways[WAY_SPLICE].lost_count, 0);
    assert_within(mishap->ways[WAY_SPLICE].hangs, 150, 1e-9);
    assert_int_equal(mishap->followed, WAY_SPLICE);
    turnlay_free(compilation);
}

/* All that its piece winds lies, and an end is left: that is laid, or drawn through, as it is. One turn before, it
 * is not. */
static void test_spool_empty_at_the_end(void **state)
{
    (void)state;
    static const struct {
        uint32_t step, turns, go_on;
        bool all;
    } cases[] = {{5, 54, 5, true}, {5, 53, 0, false}, {8, 14, 8, true}, {8, 13, 0, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (TurnlayWay way = TURNLAY_WAY_EITHER; way < TURNLAY_WAY_COUNT; way++) {
            const Mishap *mishap;
            TurnlayCompilation *compilation =
                with(WIDE, cases[i].step, TURNLAY_SPOOL_EMPTY, cases[i].turns, way, &mishap);
            assert_true(mishap->ways[WAY_AGAIN].open == cases[i].all);
            assert_true((mishap->followed == WAY_AGAIN) == cases[i].all);
            assert_true(mishap->ways[WAY_RESTART].open != cases[i].all);
            if (cases[i].all) {
                assert_false(mishap->ways[WAY_SPLICE].open);
                assert_int_equal(mishap->ways[WAY_AGAIN].unwound, 0);
                assert_int_equal(mishap->ways[WAY_AGAIN].turn, mishap->turn);
                assert_int_equal(mishap->ways[WAY_AGAIN].lost_count, 0);
                assert_int_equal(turnlay_step_to_go_on(compilation), cases[i].go_on);
            }
            turnlay_free(compilation);
        }
}

/* One of two side by side: both end, both go on. */
static void test_threads_together(void **state)
{
    (void)state;
    const Mishap *mishap;
    TurnlayCompilation *compilation =
        with(HEAD "rod \"Both\" on tube { at 20 cm { band 60 turns of [navy, foam] } }\n", 6, TURNLAY_BROKE, 30,
             TURNLAY_WAY_SPLICE, &mishap);
    const PlannedRod *rod = &compilation->plan->rods[0];
    assert_int_equal(mishap->followed, WAY_SPLICE);
    assert_int_equal(mishap->together, 2);
    assert_int_equal(rod->piece_count, 4);
    for (uint32_t p = 2; p < 4; p++) {
        assert_int_equal(rod->pieces[p].first_turn, mishap->ways[WAY_SPLICE].splice);
        assert_ptr_equal(rod->pieces[p].thread, rod->pieces[p - 2].thread);
    }
    turnlay_free(compilation);
}

/* Where one of them goes on beside another that begins, it alone is spliced. */
static void test_beside_one_that_begins(void **state)
{
    (void)state;
    const Mishap *mishap;
    TurnlayCompilation *compilation =
        with(HEAD "rod \"Beside\" on tube { at 20 cm { band 30 turns of navy  band 40 turns of [navy, foam] } }\n",
             5, TURNLAY_SPOOL_EMPTY, 24, TURNLAY_WAY_SPLICE, &mishap);
    const PlannedRod *rod = &compilation->plan->rods[0];
    assert_int_equal(mishap->turn, 30);
    assert_int_equal(mishap->followed, WAY_SPLICE);
    assert_int_equal(rod->piece_count, 3);
    assert_int_equal(rod->pieces[0].end_turn, 30);
    assert_int_equal(rod->pieces[1].first_turn, 30);
    assert_int_equal(rod->pieces[2].first_turn, 30);
    turnlay_free(compilation);
}

/* Three metres on a spool: what was lost of navy takes a second one, since no piece is cut in two. */
static void test_needs(void **state)
{
    (void)state;
    static const char text[] = "edition 1\nthread navy { turns: 67 per cm, spool: 3 m }\nbench { units: mm }\n"
                               "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
                               "rod \"A\" on tube { at 20 cm { band 60 turns of navy } }\n";
    TurnlayCompilation *before = given(text);
    assert_int_equal(turnlay_finish(before), TURNLAY_DONE);
    assert_within(before->plan->supplies[0].spools, 1, 0);
    assert_within(before->plan->totals[0].lost, 0, 0);
    const Mishap *mishap;
    TurnlayCompilation *after = with(text, 5, TURNLAY_BROKE, 30, TURNLAY_WAY_RESTART, &mishap);
    const Need *total = &after->plan->totals[0];
    double lost = 36 * turn_length() + 6 * pitch + 150;
    assert_within(total->lost, lost, 1e-6);
    assert_within(need_length(total), need_length(&before->plan->totals[0]) + lost, 1e-6);
    assert_within(after->plan->supplies[0].spools, 2, 0);
    TurnlayText page;
    assert_int_equal(turnlay_write_need(after, TURNLAY_TEXT, &page), TURNLAY_DONE);
    assert_non_null(strstr(page.bytes, "  lost at the bench, and counted in all: 1.53 m\n"));
    turnlay_text_free(&page);
    turnlay_free(before);
    turnlay_free(after);
}

/* --- the others --- */

static void test_loop_torn(void **state)
{
    (void)state;
    for (uint32_t step = 8; step <= 9; step++) { /* it is laid in the one, and drawn in the other */
        const Mishap *mishap;
        TurnlayCompilation *compilation = with(WIDE, step, TURNLAY_LOOP_TORN, 0, TURNLAY_WAY_EITHER, &mishap);
        const MishapWay *again = &mishap->ways[WAY_AGAIN];
        assert_int_equal(mishap->followed, WAY_AGAIN);
        assert_int_equal(again->turn, 260);
        assert_int_equal(again->unwound, 8);
        assert_int_equal(again->step, 8);
        assert_int_equal(again->made, 6);
        assert_int_equal(again->lost_count, 0);
        turnlay_free(compilation);
    }
}

/* Down into the step at work, and below where navy was cut. */
static void test_unwound(void **state)
{
    (void)state;
    static const struct {
        uint32_t left;
        WayOn way;
        uint64_t turn;
        uint32_t step, made;
    } cases[] = {{100, WAY_AGAIN, 100, 7, 34}, {67, WAY_AGAIN, 67, 7, 1}, {65, WAY_RESTART, 0, 4, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const Mishap *mishap;
        TurnlayCompilation *compilation =
            with(WIDE, 7, TURNLAY_UNWOUND, cases[i].left, TURNLAY_WAY_EITHER, &mishap);
        const MishapWay *way = &mishap->ways[mishap->followed];
        assert_int_equal(mishap->followed, cases[i].way);
        assert_int_equal(way->turn, cases[i].turn);
        assert_int_equal(way->step, cases[i].step);
        assert_int_equal(way->made, cases[i].made);
        turnlay_free(compilation);
    }
}

/* A tag that was trimmed is held as long as the turns over it lie. */
static void test_trimmed_tag(void **state)
{
    (void)state;
    for (uint32_t left = 5; left <= 6; left++) {
        const Mishap *mishap;
        TurnlayCompilation *compilation = with(WIDE, 5, TURNLAY_UNWOUND, left, TURNLAY_WAY_EITHER, &mishap);
        assert_int_equal(mishap->followed, left < 6 ? WAY_RESTART : WAY_AGAIN);
        assert_int_equal(mishap->ways[mishap->followed].turn, left < 6 ? 0 : 6);
        turnlay_free(compilation);
    }
}

static void test_tag_out(void **state)
{
    (void)state;
    const Mishap *mishap;
    TurnlayCompilation *compilation = with(WIDE, 5, TURNLAY_TAG_OUT, 0, TURNLAY_WAY_SPLICE, &mishap);
    assert_int_equal(mishap->followed, WAY_RESTART);
    assert_int_equal(mishap->ways[WAY_SPLICE].fault, WAY_FAULT_NO_SPLICE_HERE);
    assert_int_equal(mishap->ways[WAY_RESTART].unwound, 60);
    turnlay_free(compilation);
}

static void test_cannot_have_been(void **state)
{
    (void)state;
    static const struct {
        TurnlayMishap mishap;
        const char *fault;
    } cases[] = {
        {{.step = 2, .turns = 1}, "no thread is in work in step 2; the nearest such step is 4"},
        {{.step = 5, .turns = 55}, "step 5 has 54 turns"},
        {{.step = 9, .turns = 0}, "no turns are made in step 9; the nearest such step is 8"},
        {{.step = 5, .kind = TURNLAY_LOOP_TORN},
         "no loop lies, or is drawn, in step 5; the nearest such step is 8"},
        {{.step = 9, .kind = TURNLAY_TAG_OUT},
         "no thread is begun or wound in step 9; the nearest such step is 8"},
        {{.step = 5, .kind = TURNLAY_UNWOUND, .turns = 60}, "turn 60 of the layer is not passed in step 5"},
        {{.step = 99}, "there is no step 99"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *compilation = given(WIDE);
        assert_int_equal(turnlay_mishap(compilation, cases[i].mishap), TURNLAY_DONE);
        assert_int_equal(turnlay_finish(compilation), TURNLAY_NOT_HAPPENED);
        assert_string_equal(turnlay_mishap_fault(compilation), cases[i].fault);
        turnlay_free(compilation);
    }
}

static void test_step_of_one_turn(void **state)
{
    (void)state;
    TurnlayCompilation *compilation = given(
        HEAD
        "rod \"Faded\" on tube { at 20 cm { band 60 turns of navy fade to foam steps: 4 band 60 turns of foam } }\n");
    happens(compilation, 7, TURNLAY_BROKE, 4, TURNLAY_WAY_EITHER);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_NOT_HAPPENED);
    assert_string_equal(turnlay_mishap_fault(compilation), "step 7 has 1 turn");
    turnlay_free(compilation);
}

/* Of its own rod: here four steps without a thread come before it. */
static void test_nearest_step(void **state)
{
    (void)state;
    static const char text[] = HEAD "rod \"Bare\" on tube { }\n"
                                    "rod \"Wide\" on tube { at 20 cm { band 60 turns of navy } }\n";
    static const struct {
        TurnlayMishap mishap;
        const char *fault;
    } cases[] = {{{.step = 2, .turns = 1}, "no thread is in work in step 2, nor in any other of the rod"},
                 {{.step = 5, .turns = 1}, "no thread is in work in step 5; the nearest such step is 8"},
                 {{.step = 9, .kind = TURNLAY_LOOP_TORN},
                  "no loop lies, or is drawn, in step 9; the nearest such step is 10"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *compilation = given(text);
        assert_int_equal(turnlay_mishap(compilation, cases[i].mishap), TURNLAY_DONE);
        assert_int_equal(turnlay_finish(compilation), TURNLAY_NOT_HAPPENED);
        assert_string_equal(turnlay_mishap_fault(compilation), cases[i].fault);
        turnlay_free(compilation);
    }
}

/* --- one after the other --- */

/* A width of turns that come off is forgotten, others are not. */
static void test_widths_that_come_off(void **state)
{
    (void)state;
    for (TurnlayWay way = TURNLAY_WAY_SPLICE; way <= TURNLAY_WAY_RESTART; way++) {
        TurnlayCompilation *compilation = given(WIDE);
        assert_int_equal(turnlay_measure(compilation, (TurnlayMeasured){.step = 7, .width = 254 * pitch}),
                         TURNLAY_DONE);
        happens(compilation, 8, TURNLAY_BROKE, 5, way);
        const Mishap *mishap = last_mishap(compilation);
        bool off = mishap->ways[mishap->followed].turn < 254;
        assert_int_equal(compilation->job->measured.count, off ? 0 : 1);
        assert_true(off == (way == TURNLAY_WAY_RESTART) || mishap->ways[WAY_SPLICE].turn < 254);
        turnlay_free(compilation);
    }
}

/* Turns were taken off, or as many measured again: the last width counts alone. One after more turns comes
 * besides. */
static void test_measured_with_turns_again(void **state)
{
    (void)state;
    static const char text[] = HEAD "rod \"Full\" on tube { at 20 cm length: 60 mm { band fill of navy } }\n";
    static const struct {
        uint32_t turns, widths;
    } cases[] = {{378, 1}, {388, 1}, {390, 2}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *compilation = given(text);
        double width = cases[i].turns * pitch;
        assert_int_equal(turnlay_measure(compilation, (TurnlayMeasured){.step = 5, .width = 388 * pitch + 1.5}),
                         TURNLAY_DONE);
        assert_int_equal(
            turnlay_measure(compilation, (TurnlayMeasured){.step = 5, .width = width, .turns = cases[i].turns}),
            TURNLAY_DONE);
        assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
        const MeasuredWidths *measured = &compilation->job->measured;
        assert_int_equal(measured->count, cases[i].widths);
        assert_int_equal(measured->items[measured->count - 1].made, cases[i].turns);
        assert_near(measured->items[measured->count - 1].width, width, 1e-9);
        turnlay_free(compilation);
    }
}

/* Broken twice: two splices; stripped then, the new piece alone comes off and the first splice stays; stripped
 * before it, no splice is left. */
static void test_twice(void **state)
{
    (void)state;
    static const char text[] = HEAD "rod \"Long\" on tube { at 20 cm { band 200 turns of navy } }\n";
    TurnlayCompilation *compilation = given(text);
    happens(compilation, 5, TURNLAY_BROKE, 54, TURNLAY_WAY_SPLICE); /* at turn 60 */
    happens(compilation, 7, TURNLAY_BROKE, 40, TURNLAY_WAY_SPLICE);
    const Mishap *mishap = last_mishap(compilation);
    assert_int_equal(compilation->job->splices.count, 2);
    assert_int_equal(compilation->job->splices.items[0].turn, 56);
    assert_int_equal(mishap->turn, 102);
    assert_int_equal(compilation->job->splices.items[1].turn, 98);
    assert_int_equal(compilation->plan->rods[0].piece_count, 3);
    turnlay_free(compilation);
    compilation = given(text);
    happens(compilation, 5, TURNLAY_BROKE, 54, TURNLAY_WAY_SPLICE);
    happens(compilation, 7, TURNLAY_BROKE, 40, TURNLAY_WAY_RESTART);
    mishap = last_mishap(compilation);
    assert_int_equal(mishap->ways[WAY_RESTART].turn, 0); /* what was cut there comes loose with it */
    assert_int_equal(compilation->job->splices.count, 0);
    assert_int_equal(compilation->plan->rods[0].piece_count, 1);
    turnlay_free(compilation);
}

/* --- words --- */

static void test_words(void **state)
{
    (void)state;
    static const struct {
        uint32_t step;
        TurnlayMishapKind kind;
        uint32_t turns;
        const char *was, *now, *other;
    } cases[] = {
        {5, TURNLAY_BROKE, 30,
         "Step 5, 200 mm from the butt, toward the tip, wrap: navy 1 broke after 30 turns, at turn 36 of the layer.",
         "Hold the last turn that lies and tape it first. This sheet goes on by a splice: unwind 4 turns, to turn 32 of the layer; from turn 32 on 16 cm of the old piece hang; lost: 1 cm of navy 1. At turn 32 the old piece ends, and navy 2 begins: 1.38 m from its spool; its tag lies under its own first turns. Go on with step 6. 4 turns are wound again; it shows as a small lump.",
         "The other way is strip and restart: unwind 36 turns, to turn 0 of the layer; lost: 1.53 m of navy 1; cut as much again. 36 turns are wound again; nothing shows. For that write `, restart` behind this --mishap."},
        {5, TURNLAY_SPOOL_EMPTY, 54,
         "Step 5, 200 mm from the butt, toward the tip, wrap: navy 1 came to its end after 54 turns, at turn 60 of the layer.",
         "Hold the last turn that lies and tape it first. All turns of navy 1 lie, and its end is long enough: nothing comes off. Go on in step 5 with \"Pack the turns toward the butt, to your left\": 54 turns of the step lie already.",
         NULL},
        {9, TURNLAY_LOOP_TORN, 0, "Step 9, 200 mm from the butt, toward the tip, wrap: the loop for foam 1 tore.",
         "Hold the last turn that lies and tape it first. This sheet goes on by a new loop: unwind 8 turns, to turn 260 of the layer. Go on in step 8 with \"Lay a loop for foam 1, eye toward the tip\": 6 turns of the step lie already. 8 turns are wound again; nothing shows.",
         "The other way is strip and restart: unwind 268 turns, to turn 0 of the layer; lost: 2.60 m of navy 1 and 8.25 m of foam 1; cut as much again. 268 turns are wound again; nothing shows. For that write `, restart` behind this --mishap."},
        {7, TURNLAY_UNWOUND, 100,
         "Step 7, 200 mm from the butt, toward the tip, wrap: turns came off; 100 of the layer are left.", NULL,
         NULL},
        {5, TURNLAY_UNWOUND, 40,
         "Step 5, 200 mm from the butt, toward the tip, wrap: turns came off; 40 of the layer are left.",
         "Hold the last turn that lies and tape it first. This sheet goes on by the same turns again: turn 40 of the layer is the last that lies. Go on in step 5 with \"Wind 20 turns of navy 1\": 34 turns of the step lie already.",
         "The other way is strip and restart: unwind 40 turns, to turn 0 of the layer; lost: 2.60 m of navy 1; cut as much again. 60 turns are wound again; nothing shows. For that write `, restart` behind this --mishap."},
        {5, TURNLAY_UNWOUND, 0,
         "Step 5, 200 mm from the butt, toward the tip, wrap: turns came off; 0 of the layer are left.",
         "This sheet goes on by strip and restart: nothing more comes off; lost: 2.60 m of navy 1; cut as much again. Go on with step 4. 60 turns are wound again; nothing shows.",
         "The same turns cannot go on: a thread was cut or trimmed since, and would come loose. No splice: it would not mend that."},
        {4, TURNLAY_UNWOUND, 0,
         "Step 4, 200 mm from the butt, toward the tip, wrap: turns came off; 0 of the layer are left.",
         "This sheet goes on by the same turns again: no turn of the layer lies. Go on in step 4 with \"Wind 6 turns of navy 1 over its tag\".",
         NULL},
        {4, TURNLAY_BROKE, 0, NULL,
         "This sheet goes on by strip and restart: nothing more comes off; lost: 16 cm of navy 1; cut as much again. Go on with step 4. Nothing shows.",
         NULL},
        {4, TURNLAY_TAG_OUT, 0, "Step 4, 200 mm from the butt, toward the tip, wrap: the tag of navy 1 came out.",
         NULL, "No splice: it would not mend that."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const Mishap *mishap;
        TurnlayCompilation *compilation =
            with(WIDE, cases[i].step, cases[i].kind, cases[i].turns, TURNLAY_WAY_EITHER, &mishap);
        const Sheet *sheet = sheet_of(compilation);
        assert_int_equal(sheet->mishap_count, 1);
        if (cases[i].was)
            assert_string_equal(sheet->mishaps[0].was, cases[i].was);
        if (cases[i].now)
            assert_string_equal(sheet->mishaps[0].now, cases[i].now);
        if (cases[i].other)
            assert_string_equal(sheet->mishaps[0].other, cases[i].other);
        turnlay_free(compilation);
    }
}

/* --- at every turn --- */

/* One that is open: as many turns as bind lie before it, in its piece, and behind it, before the wrap ends. */
static void check_splice(const TurnlayCompilation *compilation, const Mishap *mishap)
{
    const MishapWay *splice = &mishap->ways[WAY_SPLICE];
    const PlannedRod *rod = &compilation->plan->rods[mishap->rod];
    const PlannedLayer *layer = &rod->places[mishap->place].layers[mishap->layer];
    uint64_t first = 0, end = 0;
    for (uint32_t r = 0; r < layer->run_count && (end <= splice->splice || layer->runs[r].role != RUN_GAP); r++) {
        end += layer->runs[r].turns;
        first = layer->runs[r].role == RUN_GAP ? end : first;
    }
    assert_true(splice->splice >= first + 6 && splice->splice + 6 <= end);
    assert_true(splice->turn <= splice->splice && splice->hangs >= 150);
    assert_true(splice->unwound == mishap->turn - splice->turn);
}

typedef struct Counts {
    uint32_t tried, impossible, by_way[WAY_COUNT];
} Counts;

static void try_mishap(const char *path, TurnlayMishap mishap, Counts *counts)
{
    TurnlayCompilation *compilation = example_begun(path);
    assert_int_equal(turnlay_mishap(compilation, mishap), TURNLAY_DONE);
    TurnlayStatus status = turnlay_finish(compilation);
    bool impossible =
        status == TURNLAY_NOT_HAPPENED && (mishap.kind == TURNLAY_LOOP_TORN || mishap.kind == TURNLAY_TAG_OUT);
    counts->tried += !impossible;
    counts->impossible += impossible;
    if (!impossible && (status != TURNLAY_DONE || compilation->findings.errors))
        fail_msg("%s: step %u, kind %d, turns %u, way %d: %s", path, mishap.step, mishap.kind, mishap.turns,
                 mishap.way, turnlay_status_words(status));
    if (!impossible)
        counts->by_way[compilation->job->mishaps.items[0].followed]++;
    if (!impossible && compilation->job->mishaps.items[0].followed == WAY_SPLICE)
        check_splice(compilation, &compilation->job->mishaps.items[0]);
    turnlay_free(compilation);
}

/* Every kind in the step, both ways: after each of its turns; and with each number of turns that may be left. */
static void try_step(const char *path, uint32_t number, uint32_t turns, uint64_t layer_turns, Counts *counts)
{
    for (TurnlayWay way = TURNLAY_WAY_SPLICE; way < TURNLAY_WAY_COUNT; way++) {
        for (uint32_t made = 0; turns && made <= turns; made++) {
            try_mishap(path, (TurnlayMishap){number, TURNLAY_BROKE, made, way}, counts);
            try_mishap(path, (TurnlayMishap){number, TURNLAY_SPOOL_EMPTY, made, way}, counts);
        }
        try_mishap(path, (TurnlayMishap){number, TURNLAY_LOOP_TORN, 0, way}, counts);
        try_mishap(path, (TurnlayMishap){number, TURNLAY_TAG_OUT, 0, way}, counts);
    }
    for (uint64_t left = layer_turns - turns; turns && left < layer_turns; left++)
        try_mishap(path, (TurnlayMishap){number, TURNLAY_UNWOUND, (uint32_t)left, TURNLAY_WAY_EITHER}, counts);
}

static void try_example(const char *path)
{
    Counts counts = {0};
    TurnlayCompilation *compilation = example_begun(path);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    Arena *arena = &compilation->arena;
    const BenchPlan *bench = bench_make(arena, compilation->plan, step_letters(arena, compilation->plan));
    trap_clear(&compilation->trap);
    uint32_t number = 0, all = 0;
    for (uint32_t r = 0; r < bench->rod_count; r++)
        for (uint32_t s = 0; s < bench->rods[r].step_count; s++) {
            const Step *step = &bench->rods[r].steps[s];
            uint32_t turns = 0;
            uint64_t layer = 0;
            for (uint32_t i = step->first; i < step->first + step->count; i++) {
                const Action *action = &bench->rods[r].actions[i];
                turns += action->kind == ACTION_WIND ? action->turns : 0;
                layer = action->kind == ACTION_WIND ? action->layer_count : layer;
            }
            all += turns;
            try_step(path, ++number, turns, layer, &counts);
        }
    print_message("%s, %u turns: %u mishaps: %u splices, %u restarts, %u wound again\n", path, all, counts.tried,
                  counts.by_way[WAY_SPLICE], counts.by_way[WAY_RESTART], counts.by_way[WAY_AGAIN]);
    assert_true(counts.by_way[WAY_SPLICE] > all && counts.by_way[WAY_RESTART] > all
                && counts.by_way[WAY_AGAIN] > 0);
    turnlay_free(compilation);
}

/* In a fade: navy was cut from its spool at turn 54, where slate was laid in. What comes off down to there leaves
 * navy as long as it was then; below, it is lost, too. */
static void test_cut_from_its_spool(void **state)
{
    (void)state;
    static const struct {
        TurnlayMishap mishap;
        uint64_t turn;
        uint32_t lost;
    } cases[] = {{{.step = 14, .kind = TURNLAY_BROKE, .turns = 5}, 54, 1},
                 {{.step = 14, .kind = TURNLAY_UNWOUND, .turns = 57}, 54, 1},
                 {{.step = 14, .kind = TURNLAY_UNWOUND, .turns = 50}, 0, 2}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *compilation = example_begun("examples/harbour.lay");
        assert_int_equal(turnlay_mishap(compilation, cases[i].mishap), TURNLAY_DONE);
        const Mishap *mishap = last_mishap(compilation);
        assert_int_equal(mishap->followed, WAY_RESTART);
        assert_int_equal(mishap->ways[WAY_RESTART].turn, cases[i].turn);
        assert_int_equal(mishap->ways[WAY_RESTART].lost_count, cases[i].lost);
        assert_true(mishap->ways[WAY_RESTART].stays_cut == (cases[i].turn == 54));
        turnlay_free(compilation);
    }
}

/* foam's end, laid and not trimmed, is laid again as it is; where foam itself is cut again, nothing of it stays.
 */
static void test_nothing_stays_of_what_is_lost(void **state)
{
    (void)state;
    static const char text[] = HEAD
        "rod \"In\" on tube { at 20 cm length: 40 mm { band fill of navy { inlay 3 turns of foam at: 40 turns } } }\n";
    static const struct {
        TurnlayMishap mishap;
        uint32_t lost;
        bool stays_cut;
    } cases[] = {{{.step = 7, .kind = TURNLAY_UNWOUND, .turns = 41}, 0, true},
                 {{.step = 9, .kind = TURNLAY_BROKE, .turns = 10, .way = TURNLAY_WAY_RESTART}, 2, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *compilation = given(text);
        assert_int_equal(turnlay_mishap(compilation, cases[i].mishap), TURNLAY_DONE);
        const Mishap *mishap = last_mishap(compilation);
        const MishapWay *way = &mishap->ways[mishap->followed];
        assert_int_equal(way->lost_count, cases[i].lost);
        assert_true(way->stays_cut == cases[i].stays_cut);
        turnlay_free(compilation);
    }
}

/* foam is laid in at turn 33: what comes off down to before that takes it along, but not what stops behind it, and
 * not where it is lost. */
static void test_laid_since(void **state)
{
    (void)state;
    static const char text[] = HEAD
        "rod \"In\" on tube { at 20 cm length: 40 mm { band fill of navy { inlay 3 turns of foam at: 40 turns } } }\n";
    static const struct {
        TurnlayMishap mishap;
        uint64_t turn;
        uint32_t laid;
    } cases[] = {{{.step = 6, .turns = 3}, 32, 1},
                 {{.step = 5, .turns = 27}, 29, 0},
                 {{.step = 6, .turns = 3, .way = TURNLAY_WAY_RESTART}, 0, 1},
                 {{.step = 9, .turns = 10, .way = TURNLAY_WAY_RESTART}, 0, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *compilation = given(text);
        assert_int_equal(turnlay_mishap(compilation, cases[i].mishap), TURNLAY_DONE);
        const Mishap *mishap = last_mishap(compilation);
        const MishapWay *way = &mishap->ways[mishap->followed];
        assert_int_equal(way->turn, cases[i].turn);
        assert_int_equal(way->laid_count, cases[i].laid);
        const Sheet *sheet = sheet_of(compilation);
        assert_true((strstr(sheet->mishaps[0].now, " of the layer, and take off foam 1, laid since; ") != NULL)
                    == (cases[i].laid > 0));
        turnlay_free(compilation);
    }
}

/* navy, wrapped by hand in the fade, is spliced to a cut piece: its tag is laid in before the turn where the old
 * one ends, so that more comes off. */
static void test_splice_by_hand(void **state)
{
    (void)state;
    TurnlayCompilation *compilation = example_begun("examples/harbour.lay");
    happens(compilation, 17, TURNLAY_BROKE, 1, TURNLAY_WAY_SPLICE);
    const Mishap *mishap = last_mishap(compilation);
    const MishapWay *splice = &mishap->ways[WAY_SPLICE];
    assert_int_equal(mishap->followed, WAY_SPLICE);
    assert_true(splice->turn + 6 <= splice->splice && splice->splice < mishap->turn);
    const PlannedRod *rod = &compilation->plan->rods[0];
    uint32_t found = 0;
    for (uint32_t p = 0; p < rod->piece_count; p++)
        if (rod->pieces[p].layer == mishap->layer && rod->pieces[p].first_turn == splice->splice) {
            assert_true(rod->pieces[p].by_hand && rod->pieces[p].thread == mishap->thread);
            found++;
        }
    assert_int_equal(found, 1);
    turnlay_free(compilation);
}

/* Beside inlays and bobbins. straw's end, cut to length and laid down, is laid again as it is: what comes off may
 * reach below it. moss is cut six turns before its band ends, to be drawn back: a splice later than that leaves it
 * too few turns, and one in those six lies where it is cut already. A spool that waits beside a bobbin is not
 * spliced by the piece in work alone. That navy was cut from its own spool at turn 54 does not matter when it
 * breaks.
 */
static void test_beside_other_pieces(void **state)
{
    (void)state;
    static const struct {
        const char *path;
        TurnlayMishap mishap;
        WayFault fault;
        uint64_t splice, turn;
        bool stays_cut;
    } cases[] = {{"examples/brook.lay", {.step = 7, .turns = 6}, WAY_FAULT_NONE, 31, 31, true},
                 {"examples/brook.lay", {.step = 7, .turns = 9}, WAY_FAULT_NONE, 37, 34, true},
                 {"examples/brook.lay", {.step = 18, .turns = 9}, WAY_FAULT_NONE, 131, 131, false},
                 {"examples/brook.lay", {18, TURNLAY_SPOOL_EMPTY, 9, 0}, WAY_FAULT_NONE, 136, 134, false},
                 {"examples/brook.lay", {18, TURNLAY_SPOOL_EMPTY, 13, 0}, WAY_FAULT_NONE, 136, 134, false},
                 {"examples/harbour.lay", {.step = 11, .turns = 13}, WAY_FAULT_NONE, 53, 53, false},
                 {"examples/evening.lay", {9, TURNLAY_SPOOL_EMPTY, 0, 0}, WAY_FAULT_TOO_FEW_BEFORE, 0, 0, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *compilation = example_begun(cases[i].path);
        assert_int_equal(turnlay_mishap(compilation, cases[i].mishap), TURNLAY_DONE);
        const MishapWay *splice = &last_mishap(compilation)->ways[WAY_SPLICE];
        assert_int_equal(splice->fault, cases[i].fault);
        assert_true(splice->open == !cases[i].fault);
        if (splice->open) {
            assert_int_equal(splice->splice, cases[i].splice);
            assert_int_equal(splice->turn, cases[i].turn);
            assert_true(splice->stays_cut == cases[i].stays_cut);
        }
        turnlay_free(compilation);
    }
}

static void test_every_turn(void **state)
{
    (void)state;
    try_example("examples/first.lay");
    try_example("examples/reeds.lay");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_until_an_end_hangs),
        cmocka_unit_test(test_new_piece),
        cmocka_unit_test(test_restart),
        cmocka_unit_test(test_restart_of_a_later_piece),
        cmocka_unit_test(test_where_no_splice_holds),
        cmocka_unit_test(test_spool_empty),
        cmocka_unit_test(test_spool_empty_at_the_end),
        cmocka_unit_test(test_threads_together),
        cmocka_unit_test(test_beside_one_that_begins),
        cmocka_unit_test(test_needs),
        cmocka_unit_test(test_loop_torn),
        cmocka_unit_test(test_unwound),
        cmocka_unit_test(test_trimmed_tag),
        cmocka_unit_test(test_cut_from_its_spool),
        cmocka_unit_test(test_nothing_stays_of_what_is_lost),
        cmocka_unit_test(test_laid_since),
        cmocka_unit_test(test_splice_by_hand),
        cmocka_unit_test(test_beside_other_pieces),
        cmocka_unit_test(test_tag_out),
        cmocka_unit_test(test_cannot_have_been),
        cmocka_unit_test(test_step_of_one_turn),
        cmocka_unit_test(test_nearest_step),
        cmocka_unit_test(test_widths_that_come_off),
        cmocka_unit_test(test_measured_with_turns_again),
        cmocka_unit_test(test_twice),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_every_turn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
