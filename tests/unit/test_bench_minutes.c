/* The time at the bench: turns at the bench's speed, and every handling of a thread, counted by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"

#include "compilation.h"
#include "words/step_letters.h"

#include <stdio.h>
#include <string.h>

#define THREADS "edition 1\nthread a { turns: 50 per cm }\nthread b { turns: 50 per cm }\n"
#define TUBE "blank tube { at 0 mm: 12 mm  at 1000 mm: 12 mm }\n"
#define ON_ROD(bench, body)                                                                                       \
    THREADS "bench { units: mm, " bench " }\n" TUBE "rod \"T\" on tube { at 200 mm " body " }\n"

static Compilation *compiled(const char *text)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    turnlay_give(made, "timed.lay", text, strlen(text));
    while (turnlay_want(made).path)
        turnlay_give(made, "none.lay", "edition 1\n", 10);
    assert_int_equal(turnlay_finish(made), TURNLAY_DONE);
    assert_non_null(made->bench);
    return made;
}

static void test_counted_by_hand(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double turns, handled, speed, handling;
    } cases[] = {
        /* start, loop, pull through */
        {ON_ROD("hand: 5 m", "{ band 60 turns of a }"), 60, 3, 60, 60},
        {ON_ROD("hand: 5 m, speed: 30, handling: 90", "{ band 60 turns of a }"), 60, 3, 30, 90},
        {ON_ROD("hand: 5 m, handling: 0", "{ band 60 turns of a }"), 60, 0, 60, 0},
        /* a started, b laid in; b and a taken up in turn, b once more; a's end laid; b's loop laid, and drawn
           through */
        {ON_ROD("hand: 5 m", "{ band 60 turns of a fade to b steps: 1 band 60 turns of b }"), 122, 8, 60, 60},
        {ON_ROD("hand: 5 m", "{ band 60 turns of a fade to b steps: 6 band 20 turns of b }"), 122, 18, 60, 60},
        /* the inlay is laid in, taken up and its end laid; then a is taken up again */
        {ON_ROD("hand: 5 m", "{ band 60 turns of a { inlay 2 turns of b at: 1/2 } }"), 60, 7, 60, 60},
        /* each strand is started; both ends are drawn through a loop each */
        {ON_ROD("apart: 0.1 mm", "{ band 30 turns of [a, b] }"), 30, 6, 60, 60},
        /* a gap ends a wrap: each has its own loop */
        {ON_ROD("hand: 5 m", "{ band 30 turns of a gap 2 mm band 30 turns of a }"), 60, 6, 60, 60},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *made = compiled(cases[i].text);
        double wanted = cases[i].turns / cases[i].speed + cases[i].handled * cases[i].handling / 60;
        if (fabs(made->bench->minutes - wanted) > 1e-9)
            fail_msg("%g minutes, not %g, for\n%s", made->bench->minutes, wanted, cases[i].text);
        turnlay_free(made);
    }
}

/* Two strands of one thread: tied on, four legs, tied off; two end bands of 12 turns, with a start and a loop
 * each. The blank turns for the legs and for the ways round between them. */
static void test_crosswraps(void **state)
{
    (void)state;
    Compilation *made = compiled(
        ON_ROD("hand: 5 m", "length: 60 mm { chevron crossings: 3 ends: 12 turns of a { strand 2 of b } }"));
    const PlannedCrosswrap *planned = made->plan->rods[0].places[0].layers[0].crosswrap;
    double turns = 2 * 12;
    for (Leg leg = LEG_OUT; leg <= LEG_BACK; leg++)
        turns += 2 * 60 / planned->lead[leg];
    turns += (planned->passes[0].dwell + planned->passes[1].dwell + planned->passes[1].dwell_before) / 360;
    assert_within(made->bench->minutes, turns / 60 + (1 + 4 + 1) + 2 * 3, 1e-9);
    turnlay_free(made);
}

/* Whatever else is done at the bench takes no time here: only turns, and what the reference says that handles a
 * thread. */
static void test_what_handles_no_thread(void **state)
{
    (void)state;
    static const ActionKind handling[] = {ACTION_START,         ACTION_LAY_IN,  ACTION_LAY_LOOP,
                                          ACTION_TAKE_UP,       ACTION_LAY_END, ACTION_PULL_THROUGH,
                                          ACTION_CUT_FROM_SPOOL};
    Compilation *made = compiled(
        "edition 1\nthread a { turns: 50 per cm, preserver: yes }\nthread b { turns: 50 per cm }\n"
        "bench { units: mm, lock: yes, seal: yes, hand: 5 m }\n"
        "guide ring { foot: [20 mm, 20 mm], gap: 8 mm }\nguide fly { foot: 20 mm }\n" TUBE
        "rod \"T\" on tube { part check at 100 mm length: 10 mm { diameter: 14 mm }  part crest at 150 mm\n"
        "at 200 mm guide: ring { under { band 80 turns of b } over { band 60 turns of a } }\n"
        "at 400 mm guide: fly { band 30 turns of a  fade to b steps: 3  band 50 turns of b } }\n");
    if (setjmp(*trap_set(&made->trap)) != 0)
        fail_msg("the machine has no memory left");
    const BenchRod *rod = &bench_make(&made->arena, made->plan, step_letters(&made->arena, made->plan))->rods[0];
    double turns = 0, handled = 0;
    bool met[ACTION_KIND_COUNT] = {false};
    for (uint32_t i = 0; i < rod->action_count; i++) {
        ActionKind kind = rod->actions[i].kind;
        met[kind] = true;
        turns += kind == ACTION_WIND ? rod->actions[i].turns : 0;
        for (size_t k = 0; k < sizeof handling / sizeof *handling; k++)
            handled += kind == handling[k];
    }
    static const ActionKind others[] = {ACTION_CLEAN,      ACTION_MARK_LINE, ACTION_PART,      ACTION_DRESS_FOOT,
                                        ACTION_TAPE_GUIDE, ACTION_MARK,      ACTION_TAPE_DOWN, ACTION_UNTAPE,
                                        ACTION_TRIM_TAG,   ACTION_TRIM_END,  ACTION_PACK,      ACTION_MEASURE,
                                        ACTION_TAKE_TAPE,  ACTION_BIND_RING, ACTION_ALIGN,     ACTION_SEAL,
                                        ACTION_SINGE,      ACTION_WIPE,      ACTION_COAT,      ACTION_STAND};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (!met[others[i]])
            fail_msg("action %d is not met", (int)others[i]);
    assert_within(made->bench->minutes, turns / 60 + handled, 1e-9);
    turnlay_free(made);
}

/* Rods add up. */
static void test_rods(void **state)
{
    (void)state;
    Compilation *one = compiled(ON_ROD("hand: 5 m", "{ band 60 turns of a }")),
                *two = compiled(
                    ON_ROD("hand: 5 m",
                           "{ band 60 turns of a }") "rod \"S\" on tube { at 300 mm { band 60 turns of a } }\n");
    assert_within(two->bench->minutes, 2 * one->bench->minutes, 1e-12);
    turnlay_free(one);
    turnlay_free(two);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_counted_by_hand),
        cmocka_unit_test(test_crosswraps),
        cmocka_unit_test(test_what_handles_no_thread),
        cmocka_unit_test(test_rods),
    };
    return cmocka_run_group_tests_name("time at the bench", tests, NULL, NULL);
}
