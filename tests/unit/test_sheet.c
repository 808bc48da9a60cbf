/* The bench sheet: its words, its counts, its cuts, its pauses, and its text. */
#include "made_sheet.h"
#include "words/sheet_maker.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char inlaid[] =
    "edition 1\n"
    "thread navy { turns: 67 per cm, colour: #22346b }\n"
    "thread mist { turns: 67 per cm, colour: #9db8d6, preserver: yes }\n"
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
    "rod \"Inlaid\" on tube { at 20 cm { band 30 turns of navy { inlay 2 turns of mist at: 1/2 } } }\n";

static const char faded[] =
    "edition 1\n"
    "thread navy { turns: 67 per cm }\n"
    "thread mist { turns: 67 per cm }\n"
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
    "bench { left: tip }\n"
    "rod \"Faded\" on tube {\n"
    "    at 20 cm { band 20 turns of navy  fade to mist steps: 3  band 20 turns of mist }\n"
    "    at 40 cm toward: butt {\n"
    "        mirror { band 20 turns of navy  fade to mist steps: 3  band 20 turns of mist }\n"
    "    }\n"
    "}\n";

static const char guided[] =
    "edition 1\n"
    "thread navy { turns: 67 per cm }\n"
    "blank tube { at 0 in: 1/2 in  at 40 in: 5/32 in }\n"
    "guide ring { foot: [1/2 in, 1/2 in], gap: 1/4 in, before: 1/8 in }\n"
    "bench { units: in, coats: 1, singe: no }\n"
    "rod \"Guided\" on tube {\n"
    "    at 20 in from: tip guide: ring { under { band fill of navy }  over { band fill of navy } }\n"
    "}\n";

static const char gapped[] =
    "edition 1\n"
    "thread navy { turns: 67 per cm }\n"
    "thread slate { turns: 67 per cm }\n"
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
    "rod \"Gapped\" on tube {\n"
    "    at 20 cm {\n"
    "        gap 1 mm  gap 1.5 mm  band 20 turns of navy  gap 2 mm  band 20 turns of [navy, spacer(slate)]\n"
    "    }\n"
    "}\n"
    "rod \"Second\" on tube { at 20 cm { band 20 turns of navy } }\n";

static void test_steps_of_an_inlay(void **state)
{
    (void)state;
    Made made = make(inlaid);
    /* 30 turns, an inlay of 2 in their middle: turns 15 and 16. Bind 6, final 8. */
    static const char *const actions[] = {
        "Take grease off the blank",
        "Mark the rod's line along the blank",
        "Put the mark 20 cm from the butt",
        "Start navy 1 over its own tag",
        "Wind 6 turns of navy 1 over its tag",
        "Trim the tag of navy 1",
        "Wind 2 turns of navy 1",
        "Lay in mist 1: its tag along the blank, under the next turns",
        "Tape down the tag of mist 1",
        "Tape down mist 1",
        "Wind 6 turns of navy 1 over the tag of mist 1",
        "Let navy 1 stand: its spool rests, the blank too",
        "Take up mist 1",
        "Take the tape off mist 1",
        "Wrap 2 turns of mist 1 by hand, blank still",
        "Cut mist 1, lay its end along the blank, under the next turns",
        "Take up navy 1",
        "Wind 6 turns of navy 1 over the end of mist 1",
        "Trim the end of mist 1",
        "Take the tape off the tag of mist 1",
        "Trim the tag of mist 1",
        "Lay a loop for navy 1, eye toward the tip",
        "Wind 8 turns of navy 1 over the loop for navy 1",
        "Pack the turns toward the butt, to your left",
        "Measure the width: it should be 4.5 mm",
        "Cut navy 1, end through the loop, draw it back under the last 8 turns",
        "Trim the end of navy 1",
        "Pack the turns toward the butt, to your left",
        "Take off the fuzz",
        "Take the marks off the blank",
        "Brush colour preserver on the wraps that need it and let it dry",
        "Coat 1 of 2: brush finish over every wrap",
        "Coat 2 of 2: brush finish over every wrap",
    };
    const SheetRod *rod = &made.sheet->rods[0];
    assert_int_equal(rod->action_count, sizeof actions / sizeof *actions);
    for (uint32_t i = 0; i < rod->action_count; i++) {
        assert_string_equal(rod->actions[i].says, actions[i]);
        assert_int_equal(rod->actions[i].number, i + 1);
    }
    turnlay_free(made.compilation);
}

static void test_facts_of_a_step(void **state)
{
    (void)state;
    Made made = make(inlaid);
    const SheetAction *step = step_saying(&made, "Wind 6 turns of navy 1 over the tag of mist 1");
    assert_string_equal(step->count, "14 in the band and the layer");
    assert_string_equal(step->where, "2 mm from the mark"); /* 14 turns of 1/6.7 mm are 2.09 */
    assert_string_equal(step->clock, "");
    assert_string_equal(step->thread, "navy 1");
    assert_int_equal(step->colour, 0x22346b);
    step = step_saying(&made, "Lay in mist 1: its tag along the blank, under the next turns");
    assert_string_equal(step->count, "after turn 8 of the layer");
    assert_string_equal(step->where, "1 mm from the mark");
    assert_says(step->clock, "5 o'clock");
    assert_keeps_quiet(step->clock, "rod's line"); /* told where the thread is started */
    assert_says(step->detail, "toward the tip, to your right");
    assert_says(step->detail, "The next 6 turns lie over the tag");
    assert_says(step->detail, "only lightly held");
    assert_says(step_saying(&made, "Take up mist 1")->detail,
                "Make the first turns of mist 1 as tight as possible");
    assert_says(step_saying(&made, "Start navy 1 over its own tag")->detail,
                "Wind the first three of the turns that follow as tight as possible");
    step = step_saying(&made, "Lay a loop for navy 1, eye toward the tip");
    assert_says(step->detail,
                "The loop's eye to your right, beyond the last of these turns; its two ends to your left.");
    assert_says(step->detail, "comes out between turns 22 and 23 of the layer");
    step = step_saying(&made, "Cut navy 1, end through the loop, draw it back under the last 8 turns");
    assert_says(step->detail, "cut 15 cm from the blank");
    assert_says(step->detail, "comes out between turns 22 and 23 of the layer");
    assert_says(step_saying(&made, "Trim the tag of navy 1")->detail, "never press, never draw the blade round");
    assert_says(step_saying(&made, "Brush colour preserver on the wraps that need it and let it dry")->detail,
                "Those with mist, which goes darker");
    assert_int_equal(step_saying(&made, "Pack the turns toward the butt, to your left")->colour, NO_COLOUR);
    assert_true(step_saying(&made, "Measure the width: it should be 4.5 mm")->measure);
    turnlay_free(made.compilation);
}

static void test_places_to_stop(void **state)
{
    (void)state;
    Made made = make(inlaid);
    const SheetRod *rod = &made.sheet->rods[0];
    /* Of places to stop without a turn between them the last is told, and where a wrap is finished. */
    for (uint32_t i = 0; i + 1 < rod->action_count; i++)
        assert_true(!rod->actions[i].stop || !rod->actions[i + 1].stop
                    || rod->actions[i + 1].action->kind == ACTION_WIND
                    || (rod->actions[i].action->layer == 0 && rod->actions[i + 1].action->layer == WHOLE_ROD));
    static const struct {
        const char *says, *stop;
    } steps[] = {
        {"Put the mark 20 cm from the butt", "Safe to stop: no thread is in work"},
        {"Start navy 1 over its own tag", NULL},
        {"Trim the tag of navy 1", "Safe to stop: tape navy 1 down, ease its tension"},
        {"Wind 2 turns of navy 1", "Safe to stop: tape navy 1 down, ease its tension"},
        {"Tape down mist 1", NULL}, /* no turn lies over its tag */
        {"Take up mist 1", "Safe to stop: tape navy 1 down, ease its tension"},
        {"Take the tape off mist 1", NULL},
        {"Wrap 2 turns of mist 1 by hand, blank still", NULL},
        {"Cut mist 1, lay its end along the blank, under the next turns", NULL},
        {"Trim the tag of mist 1", "Safe to stop: tape navy 1 down, ease its tension"},
        {"Lay a loop for navy 1, eye toward the tip", NULL},
        {"Cut navy 1, end through the loop, draw it back under the last 8 turns",
         NULL}, /* told behind the trimming */
        {"Coat 2 of 2: brush finish over every wrap", "Safe to stop: no thread is in work"},
    };
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        const char *stop = step_saying(&made, steps[i].says)->stop;
        if (!stop != !steps[i].stop || (stop && strcmp(stop, steps[i].stop) != 0))
            fail_msg("%s: %s", steps[i].says, stop ? stop : "no place to stop");
    }
    turnlay_free(made.compilation);
}

/* Who reads the steps alone is told of every moment at which one may stop before the next turns; where a wrap is
 * finished, also if the next one is set out before any turn. */
static void test_places_to_stop_at_steps(void **state)
{
    (void)state;
    Made made = make("edition 1\n"
                     "thread navy { turns: 67 per cm }\n"
                     "thread mist { turns: 67 per cm }\n"
                     "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                     "rod \"R\" on tube {\n"
                     "    at 20 cm { band 20 turns of navy  fade to mist steps: 3  band 20 turns of mist }\n"
                     "    at 30 cm { under { band 60 turns of navy }  over { band 60 turns of mist } }\n"
                     "}\n");
    const SheetRod *rod = &made.sheet->rods[0];
    unsigned finished = 0, inside = 0;
    for (uint32_t i = 0; i + 1 < rod->step_count; i++) {
        const SheetStep *step = &rod->steps[i], *next = step + 1;
        const SheetAction *last = &rod->actions[step->first + step->count - 1];
        const ActionState *state_then = &last->action->state;
        bool leaves =
            last->action->layer != WHOLE_ROD
            && (last[1].action->place != last->action->place || last[1].action->layer != last->action->layer);
        bool wanted =
            state_then->may_stop && (leaves || next->turns > 0 || !last[next->count].action->state.may_stop);
        if (!step->stop != !wanted)
            fail_msg("step %u, %s: %s", step->number, step->says, step->stop ? step->stop : "no place to stop");
        finished += wanted && state_then->to_stop == STOP_FINISHED && leaves;
        inside += wanted && next->turns > 0 && !last->stop;
    }
    assert_int_equal(finished, 3);
    assert_true(inside >= 3); /* before the fade, and at its exchanges */
    turnlay_free(made.compilation);
}

/* Which of a step's words say where it begins: of the first at each stretch of turns, "" for those at the mark. */
/* Of threads all that are wound are told, in turn. */
static void test_threads_of_steps(void **state)
{
    (void)state;
    Made made = make("edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"
                     "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                     "rod \"R\" on tube { at 20 cm { band 60 turns of navy { inlay 2 turns of mist at: 1/2 }\n"
                     "    band 8 turns of mist } }\n");
    const SheetRod *rod = &made.sheet->rods[0];
    unsigned in_turn = 0;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        const SheetStep *step = &rod->steps[i];
        bool inlay = strstr(step->says, "by hand") != NULL;
        assert_int_equal(strcmp(step->thread, "mist 1, then navy 1") == 0, inlay);
        in_turn += inlay;
    }
    assert_int_equal(in_turn, 1);
    turnlay_free(made.compilation);
}

/* Turns are pushed back toward where their place begins, whichever way that is worked. */
static void test_steps_pack_the_right_way(void **state)
{
    (void)state;
    Made made = make("edition 1\nthread navy { turns: 67 per cm }\n"
                     "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                     "rod \"R\" on tube { at 20 cm { band 130 turns of navy }  at 40 cm toward: butt {"
                     " band 130 turns of navy } }\n");
    const SheetRod *rod = &made.sheet->rods[0];
    static const char *const ways[] = {"pack toward the ", "packing toward the "};
    unsigned met[2][2] = {{0}}; /* in which words, toward which end */
    for (uint32_t i = 0; i < rod->step_count; i++) {
        const Action *action = rod->actions[rod->steps[i].first].action;
        for (int w = 0; w < 2; w++) {
            const char *at = strstr(rod->steps[i].says, ways[w]);
            if (!at)
                continue;
            bool tip = strncmp(at + strlen(ways[w]), "tip", 3) == 0;
            if (tip != (rod->bench->rod->places[action->place].direction < 0))
                fail_msg("%s", rod->steps[i].says);
            met[w][tip]++;
        }
    }
    for (int w = 0; w < 2; w++)
        assert_true(met[w][false] && met[w][true]);
    turnlay_free(made.compilation);
}

static unsigned notes_saying(const SheetRod *rod, const char *words)
{
    unsigned count = 0;
    for (uint32_t i = 0; i < rod->step_count; i++)
        for (const char *at = strstr(rod->steps[i].note, words); at; at = strstr(at + 1, words))
            count++;
    return count;
}

/* How things are done is told once: of tape once for each thing that it holds, of what is laid once for each way
 * of working. A fade's steps are told together. */
static void test_notes_of_steps(void **state)
{
    (void)state;
    static const struct {
        const char *words;
        unsigned faded, spools; /* where the new thread comes by hand; where the old one goes by hand */
    } notes[] = {
        {"Put the tape on the tag of mist 1 behind the turns.", 1, 1},
        {"Put the tape on the tag of ", 1, 1},
        {": of all that come before it is taken up.", 1, 1},
        {"Lay navy 1 along the blank toward the tip, to your ", 1, 1},
        {"hold it with a finger until 6 turns lie over it", 2, 1}, /* toward the tip, toward the butt */
        {"put the end through the loop's eye", 1, 1},
        {"Make the first turns of mist 1 as tight as possible", 1, 1},
        {"Draw navy 1 tight: the turns made meanwhile lie over it.", 1, 1},
        {"Draw mist 1 tight", 0, 0},
        {"Do not turn the blank until navy 1 is taken up again: a spool cannot turn with it.", 1, 0},
        {"Do not turn the blank until mist 1 is taken up again: a spool cannot turn with it.", 0, 1},
        {"Fade step 1 of 3.", 2, 0}, /* of two wraps */
        {"Fade step 2 of 3.", 2, 0},
        {"Fade step 3 of 3.", 2, 1},
        {"Fade steps 1 and 2 of 3.", 0, 1},
        {"Fade steps 2 and 3 of 3.", 0, 1},
    };
    Made mades[] = {make(faded),
                    make("edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"
                         "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                         "rod \"Spools\" on tube { at 20 cm { band 60 turns of navy  fade to mist steps: 3"
                         "  band 90 turns of mist } }\n")};
    for (int m = 0; m < 2; m++) {
        for (size_t i = 0; i < sizeof notes / sizeof *notes; i++) {
            unsigned said = notes_saying(&mades[m].sheet->rods[0], notes[i].words);
            if (said != (m ? notes[i].spools : notes[i].faded))
                fail_msg("%d: %u times: %s", m, said, notes[i].words);
        }
        turnlay_free(mades[m].compilation);
    }
}

static void test_where_turns_begin(void **state)
{
    (void)state;
    Made made =
        make("edition 1\n"
             "thread navy { turns: 100 per cm }\n"
             "thread mist { turns: 100 per cm }\n"
             "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
             "rod \"R\" on tube {\n"
             "    at 20 cm length: 30 mm {\n"
             "        under { band fill of navy }\n"
             "        over offset: 3 mm { band 1 mm of mist  gap 2 mm  band 1 mm of navy  band 1 mm of mist }\n"
             "    }\n"
             "    at 30 cm length: 40 mm toward: butt {\n"
             "        chevron crossings: 2 ends: 2 mm of navy { strand 3 of mist }\n"
             "    }\n"
             "}\n");
    static const struct {
        const char *begins, *then;
    } starts[] = {
        {"Start navy 1 over its own tag", "; wind"},
        {"Start mist 1 over its own tag, 3 mm from the mark", "; wind"},
        {"start navy 2 over its own tag, 6 mm from the mark", "; wind"},
        {"start mist 2 over its own tag", "; wind"}, /* beside the turns of navy 2 */
        {"Start navy 3 over its own tag", "; wind"}, /* an end band at the mark */
        {"Start navy 4 over its own tag, 38 mm from the mark", "; wind"},
    };
    const SheetRod *rod = &made.sheet->rods[0];
    size_t met = 0;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        const char *start = strstr(rod->steps[i].says, "tart ");
        if (!start)
            continue;
        assert_true(met < sizeof starts / sizeof *starts);
        size_t length = strlen(starts[met].begins);
        if (strncmp(start + 1, starts[met].begins + 2, length - 2) != 0
            || strncmp(start - 1 + length, starts[met].then, strlen(starts[met].then)) != 0)
            fail_msg("not as \"%s\": %s", starts[met].begins, rod->steps[i].says);
        met++;
    }
    assert_int_equal(met, sizeof starts / sizeof *starts);
    turnlay_free(made.compilation);
}

static void test_cuts_in_the_order_of_need(void **state)
{
    (void)state;
    Made made = make(inlaid);
    const SheetRod *rod = &made.sheet->rods[0];
    assert_int_equal(rod->cut_count, 3);
    static const char *const labels[] = {"navy 1", "mist 1", "loop 1"};
    static const char *const whats[] = {"spool", "cut piece", "loop of strong line"};
    static const uint32_t steps[] = {4, 8, 22};
    for (uint32_t i = 0; i < 3; i++) {
        assert_string_equal(rod->cuts[i].label, labels[i]);
        assert_string_equal(rod->cuts[i].what, whats[i]);
        assert_int_equal(rod->cuts[i].first_action, steps[i]);
    }
    /* 28 turns of about pi 10.5 mm, 300 mm free, 12 tag turns of 0.15 mm, 2 turns beneath. */
    assert_string_equal(rod->cuts[0].length, "1.23 m");
    assert_string_equal(rod->cuts[1].length, "37 cm");
    turnlay_free(made.compilation);
}

static void test_fades_in_words(void **state)
{
    (void)state;
    Made made = make(faded);
    assert_says(nth_step(&made, "Wrap 1 turn of mist 1 by hand, blank still", 0)->detail,
                "Fade from navy 1 to mist 1: in 1, out 3; in 2, out 2; in 3, out 1.");
    assert_says(nth_step(&made, "Wrap 2 turns of mist 1 by hand, blank still", 0)->detail, "Fade step 2 of 3.");
    /* Laid back to front: navy comes into mist by the same rule. */
    assert_says(nth_step(&made, "Wrap 1 turn of navy 2 by hand, blank still", 0)->detail,
                "Fade from mist 2 to navy 2: in 1, out 3; in 2, out 2; in 3, out 1.");
    turnlay_free(made.compilation);
}

/* Twelve pairs are told at once; of more the steps tell the rest. */
static void test_long_fades_in_words(void **state)
{
    (void)state;
    for (unsigned steps = 11; steps <= 14; steps++) {
        char text[512], pair[32];
        snprintf(text, sizeof text,
                 "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"
                 "bench { hand: 9 m }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"Fade\" on tube { at 20 cm { band 20 turns of navy  fade to mist steps: %u } }\n",
                 steps);
        Made made = make(text);
        const char *told = step_saying(&made, "Wrap 1 turn of mist 1 by hand, blank still")->detail;
        for (unsigned i = 1; i <= steps; i++) {
            snprintf(pair, sizeof pair, " in %u, out %u%s", i, steps + 1 - i, i < steps ? ";" : ".");
            if (i <= 12)
                assert_says(told, pair);
            else
                assert_keeps_quiet(told, pair);
        }
        assert_int_equal(strstr(told, "; and so on, as the steps say.") != NULL, steps > 12);
        turnlay_free(made.compilation);
    }
}

/* Before a layer's first step stands what a measured width changed: the band, what was planned anew, and where the
 * wrap ends now. Half a millimetre a turn, and one wrap packed as another, so that navy teaches nothing of mist.
 */
static void test_changes_in_words(void **state)
{
    (void)state;
    static const struct {
        const char *items, *told;
    } cases[] = {
        {"band 40 turns of navy measured: 20.5 mm\nband fill of mist",
         "Planned again after measuring. line 5, navy: 20.5 mm wide instead of 20.0 mm; line 6, mist: 79 turns "
         "instead of 80; the layer's end stays. Lay its tag along the blank toward the tip"},
        {"gap 2 mm band 40 turns of navy measured: 20.5 mm\nband fill of mist",
         "Planned again after measuring. line 5, navy: 20.5 mm wide instead of 20.0 mm; line 6, mist: 75 turns "
         "instead of 76; the layer's end stays. Leave a gap of 2.0 mm first. Lay its tag"},
        {"band 20 turns of navy gap 2 mm band 40 turns of navy measured: 20.5 mm\nband fill of mist",
         "Planned again after measuring. line 5, navy: 20.5 mm wide instead of 20.0 mm; line 6, mist: 55 turns "
         "instead of 56; the layer's end stays. Lay its tag"},
        {"band 40 turns of navy measured: 20.5 mm\nband 40 turns of mist",
         "Planned again after measuring. line 5, navy: 20.5 mm wide instead of 20.0 mm; the layer's end lies "
         "further on by 0.5 mm. Lay its tag"},
        {"band 40 turns of navy measured: 19.4 mm\nband 40 turns of mist",
         "Planned again after measuring. line 5, navy: 19.4 mm wide instead of 20.0 mm; the layer's end lies "
         "nearer by 0.6 mm. Lay its tag"},
        {"band 40 turns of navy\nband 40 turns of mist", "Lay its tag along the blank toward the tip"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[512];
        snprintf(text, sizeof text,
                 "edition 1\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm } bench { varies: 0 %% }\n"
                 "rod \"M\" on tube { at 20 cm length: 60 mm { %s } }\n",
                 cases[i].items);
        Made made = make(text);
        const char *detail = step_saying(&made, "Start navy 1 over its own tag")->detail;
        if (strncmp(detail, cases[i].told, strlen(cases[i].told)) != 0)
            fail_msg("case %zu: %s", i, detail);
        for (uint32_t s = 0; s < made.sheet->rods[0].action_count; s++)
            if (made.sheet->rods[0].actions[s].detail != detail) /* once */
                assert_keeps_quiet(made.sheet->rods[0].actions[s].detail, "Planned again");
        turnlay_free(made.compilation);
    }
}

static void test_sides(void **state)
{
    (void)state;
    Made made = make(faded);
    assert_says(made.sheet->orientation, "The tip lies to your left, the butt to your right.");
    assert_says(made.sheet->orientation, "comes toward you as it turns");
    assert_says(step_saying(&made, "Start navy 1 over its own tag")->detail, "toward the tip, to your left");
    assert_says(step_saying(&made, "Start mist 2 over its own tag")->detail, "toward the butt, to your right");
    turnlay_free(made.compilation);
}

static void test_standing_is_explained_once(void **state)
{
    (void)state;
    Made made = make(faded);
    assert_says(nth_step(&made, "Let mist 1 stand", 0)->detail, "the turns made meanwhile go over it");
    assert_string_equal(nth_step(&made, "Let mist 1 stand", 1)->detail, "");
    assert_says(nth_step(&made, "Let navy 1 stand: its spool rests, the blank too", 1)->detail,
                "Do not turn the blank");
    turnlay_free(made.compilation);
}

static void test_guides_and_inches(void **state)
{
    (void)state;
    Made made = make(guided);
    static const char *const headings[] = {"The blank: before wrapping",
                                           "ring at 20 in from the tip, butt-side foot: before wrapping",
                                           "ring at 20 in from the tip, butt-side foot: layer 1 of 2, underwrap",
                                           "ring at 20 in from the tip, tip-side foot: before wrapping",
                                           "ring at 20 in from the tip, tip-side foot: layer 1 of 2, underwrap",
                                           "ring at 20 in from the tip, butt-side foot: before the next layer",
                                           "ring at 20 in from the tip, butt-side foot: layer 2 of 2, overwrap",
                                           "ring at 20 in from the tip, tip-side foot: layer 2 of 2, overwrap",
                                           "The whole rod"};
    const SheetRod *rod = &made.sheet->rods[0];
    assert_int_equal(rod->part_count, sizeof headings / sizeof *headings);
    uint32_t first = 0;
    for (uint32_t i = 0; i < rod->part_count; i++) {
        assert_string_equal(rod->parts[i].heading, headings[i]);
        assert_int_equal(rod->parts[i].first, first);
        first += rod->parts[i].count;
    }
    assert_int_equal(first, rod->action_count);
    assert_string_equal(rod->actions[2].says, "Dress the feet of ring");
    /* Ring 20 in from the tip, 1/8 in to the foot, 1/2 in of foot, 1/8 in before it. */
    assert_string_equal(rod->actions[3].says, "Put the mark 20 3/4 in from the bare tip");
    assert_says(step_saying(&made, "Tape ring in place by the inner halves of both feet")->detail,
                "The tip of each foot lies 1/8 in from its mark");
    assert_keeps_quiet(step_saying(&made, "Put the mark 19 1/4 in from the bare tip")->detail, "taped already");
    assert_says(step_saying(&made, "Coat 1 of 1: brush finish over every wrap")->caution, "gloves");
    for (uint32_t i = 0; i < rod->cut_count; i++)
        assert_says(rod->cuts[i].length, " in");
    turnlay_free(made.compilation);
}

static void test_gaps_and_spacers(void **state)
{
    (void)state;
    Made made = make(gapped);
    assert_says(step_saying(&made, "Start navy 1 over its own tag")->detail, "Leave a gap of 2.5 mm first.");
    assert_string_equal(step_saying(&made, "Start navy 1 over its own tag")->where, "2.5 mm from the mark");
    assert_says(step_saying(&made, "Start navy 2 over its own tag")->detail, "Leave a gap of 2.0 mm first.");
    const SheetAction *spacer = step_saying(&made, "Start the spacer slate 1 over its own tag");
    assert_keeps_quiet(spacer->detail, "gap"); /* told once, when the first strand is started */
    assert_says(step_saying(&made, "Wind 6 turns of navy 2 and slate 1 together over their tags")->count,
                "6 in the band, 26 in the layer");
    assert_string_equal(step_saying(&made, "Wind 6 turns of navy 2 and slate 1 together over their tags")->detail,
                        "In each turn navy 2 lies next to the turns before, then slate 1.");
    assert_string_equal(nth_step(&made, "Wind 6 turns of navy 2 and slate 1 together", 0)->detail, "");
    assert_string_equal(step_saying(&made, "Unwind the spacer slate 1")->thread, "slate 1");
    assert_string_equal(step_saying(&made, "Wind 6 turns of navy 2 and slate 1 together over their tags")->thread,
                        "navy 2 and slate 1");
    turnlay_free(made.compilation);
}

/* A step says the hour of each thing that it lays, in their order. */
static void test_hours_of_a_step(void **state)
{
    (void)state;
    Made made = make("edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"
                     "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                     "rod \"R\" on tube { at 20 cm { band 20 turns of navy  band 20 turns of mist } }\n");
    const SheetRod *rod = &made.sheet->rods[0];
    uint32_t several = 0;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        char wanted[200] = "";
        uint32_t things = 0;
        for (uint32_t a = rod->steps[i].first; a < rod->steps[i].first + rod->steps[i].count; a++) {
            const SheetAction *action = &rod->actions[a];
            if (!action->action->clock)
                continue;
            char hour[60];
            snprintf(hour, sizeof hour, "; then %u o'clock", action->action->clock);
            strcat(wanted, things++ ? hour : action->clock);
        }
        assert_string_equal(rod->steps[i].clock, wanted);
        several += things > 1;
    }
    assert_true(several > 0);
    turnlay_free(made.compilation);
}

/* Where the end comes out is told of every loop; how a loop is laid once for each way of working. */
static void test_every_loop(void **state)
{
    (void)state;
    Made made =
        make("edition 1\nthread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
             "rod \"R\" on tube { at 20 cm { band 20 turns of navy } at 30 cm { band 8 turns of navy }\n"
             "at 40 cm toward: butt { band 60 turns of navy } }\n");
    static const char *const ends[] = {"The end of navy 1 comes out between turns 12 and 13 of the layer.",
                                       "The end of navy 2 comes out before the first turn of the layer.",
                                       "The end of navy 3 comes out between turns 52 and 53 of the layer."};
    static const char *const ways[] = {"The loop's eye to your right", NULL, "The loop's eye to your left"};
    const SheetRod *rod = &made.sheet->rods[0];
    uint32_t loops = 0;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        const SheetStep *step = &rod->steps[i];
        if (!strstr(step->says, "a loop for"))
            continue;
        assert_true(loops < 3);
        assert_says(step->note, ends[loops]);
        if (ways[loops])
            assert_says(step->note, ways[loops]);
        else
            assert_keeps_quiet(step->note, "The loop's eye");
        loops++;
    }
    assert_int_equal(loops, 3);
    turnlay_free(made.compilation);
}

static uint32_t letters_of(const char *text)
{
    uint32_t letters = 0;
    for (; *text; text++)
        letters += (*text & 0xc0) != 0x80;
    return letters;
}

/* What steps are folded by is never less than what is told, and with short names hardly more. */
static void test_letters_of_steps(void **state)
{
    (void)state;
    static const char *const rods[] = {
        "{ band 20 turns of navy  fade to étoile steps: 4  band 340 turns of étoile  band 9 turns of navy }",
        "{ band 60 turns of navy { inlay 2 turns of foam at: 1/3  inlay 9 turns of étoile at: 2/3 } }",
        "{ band 20 turns of navy  fade to étoile steps: 4  band 340 turns of étoile  fade to foam steps: 5  "
        "band 90 turns of foam }",
        "{ band 40 turns of [navy, étoile] { inlay 2 turns of [foam, navy] at: 1/2 }  gap 1 mm  band 20 turns of navy }",
        "{ band 20 turns of [navy, spacer(foam)]  band 2 turns of étoile  gap 1 mm  band 8 turns of [navy, spacer(foam)] }",
        "{ repeat 3 { band 9 turns of navy  band 3 turns of foam }  band 12 turns of navy }",
        "guide: ring { band 40 turns of navy { inlay 2 turns of foam at: 1/3 }  band fill of foam }",
        "length: 60 mm { chevron crossings: 3 ends: 20 turns of navy { strand 3 of étoile  strand 1 of spacer(foam) } }",
    };
    static const char *const benches[] = {"", ", brake: no", ", drive: hand, loop: 8 turns, left: tip",
                                          ", units: in, brake: no, drive: hand", ", bobbins: 2, pack: 20 turns"};
    enum { BENCHES = sizeof benches / sizeof *benches };
    for (size_t i = 0; i < sizeof rods / sizeof *rods * BENCHES; i++) {
        char text[1200];
        snprintf(
            text, sizeof text,
            "edition 1\nthread navy { turns: 67 per cm }\nthread étoile { turns: 67 per cm }\nthread foam { turns: 67 per cm }\n"
            "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nguide ring { foot: 14 mm }\n"
            "bench { hand: 9 m, holders: 3, ridge: 9%s }\nrod \"R\" on tube { at 50 cm %s }\n",
            benches[i % BENCHES], rods[i / BENCHES]);
        Made made = make(text);
        const SheetRod *rod = &made.sheet->rods[0];
        const StepLetters *letters = step_letters(&made.compilation->arena, made.compilation->plan);
        assert_int_equal(letters->led_and_bobbin, letters_of(", tape its bobbin down"));
        assert_int_equal(letters->led_and_taped, letters_of(", tape it down"));
        for (uint32_t s = 0; s < rod->step_count; s++) {
            uint32_t told = letters_of(rod->steps[s].says), most = rod->bench->steps[s].letters;
            if (rod->steps[s].count > 1 && (told > most || most > 160))
                fail_msg("%u letters and not %u: %s", (unsigned)told, (unsigned)most, rod->steps[s].says);
            if (rod->steps[s].count > 1 && rod->steps[s].kind != STEP_PASS && most > told + 55)
                fail_msg("%u letters, far less than %u: %s", (unsigned)told, (unsigned)most, rod->steps[s].says);
        }
        turnlay_free(made.compilation);
    }
}

/* Long names part a pass: what is left of it alone has its facts, too. */
static void test_a_pass_of_long_names(void **state)
{
    (void)state;
    Made made = make(
        "edition 1\nthread navy { turns: 67 per cm }\nthread thick_line { turns: 30 per cm }\n"
        "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"R\" on tube { at 50 cm length: 60 mm {\n"
        "chevron crossings: 3 ends: 20 turns of navy { strand 1 of navy  strand 1 of spacer(thick_line) } } }\n");
    const SheetRod *rod = &made.sheet->rods[0];
    uint32_t alone = 0;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        const SheetStep *step = &rod->steps[i];
        assert_non_null(step->progress);
        assert_true(step->count == 1 || letters_of(step->says) <= 160);
        if (step->kind != STEP_PASS || rod->actions[step->first].action->kind == ACTION_LEG || step->count > 1)
            continue;
        alone++;
        assert_string_equal(step->progress, "");
        assert_says(step->where, " deg (");
    }
    assert_true(alone > 0);
    turnlay_free(made.compilation);
}

/* One file at benches with other tools: the plan stays, what is told of it is as these are read. 20 turns of 1/6.7
 * mm are 2.985 mm, behind a gap of 2.4 mm they end at 5.385 mm. */
static void test_tools_of_the_bench(void **state)
{
    (void)state;
    static const struct {
        const char *bench, *place, *gap, *where, *measure, *unit, *head[2];
    } benches[] = {
        {"",
         "Put the mark 20.35 cm from the butt",
         "Leave a gap of 2.4 mm first.",
         "5.5 mm from the mark",
         "Measure the width: it should be 5.4 mm",
         "mm",
         {"to the nearest 0.5 mm, each from", "callipers, to the nearest 0.1 mm."}},
        {"rule: 1 mm, callipers: 0.02 mm",
         "Put the mark 20.3 cm from the butt",
         "Leave a gap of 2.40 mm first.",
         "5 mm from the mark",
         "Measure the width: it should be 5.38 mm",
         "mm",
         {"to the nearest 1 mm, each from", "callipers, to the nearest 0.02 mm."}},
        {"units: in",
         "Put the mark 8 in from the butt",
         "Leave a gap of 0.095 in first.",
         "7/32 in from the mark",
         "Measure the width: it should be 0.210 in",
         "in",
         {"to the nearest 1/64 in, each from", "callipers, to the nearest 0.005 in."}},
        {"units: in, rule: 1/16 in, callipers: 0.1 mm",
         "Put the mark 8 in from the butt",
         "Leave a gap of 2.4 mm first.",
         "3/16 in from the mark",
         "Measure the width: it should be 5.4 mm",
         "mm",
         {"to the nearest 1/16 in, each from", "callipers, to the nearest 0.1 mm."}},
        {"units: cm, rule: 1/32 in",
         "Put the mark 8 in from the butt",
         "Leave a gap of 0.24 cm first.",
         "7/32 in from the mark",
         "Measure the width: it should be 0.54 cm",
         "cm",
         {"to the nearest 1/32 in, each from", "callipers, to the nearest 0.01 cm."}},
    };
    for (size_t i = 0; i < sizeof benches / sizeof *benches; i++) {
        char text[700];
        snprintf(text, sizeof text,
                 "edition 1\nbench { %s }\nthread navy { turns: 67 per cm }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"Read\" on tube { at 20.33 cm { gap 2.4 mm  band 20 turns of navy } }\n",
                 benches[i].bench);
        Made made = make(text);
        step_saying(&made, benches[i].place);
        assert_says(step_saying(&made, "Start navy 1 over its own tag")->detail, benches[i].gap);
        const SheetAction *measure = step_saying(&made, benches[i].measure);
        assert_string_equal(measure[-2].where, benches[i].where);
        assert_true(fabs(measure->action->length - 5.38507) < 1e-5);
        assert_string_equal(made.sheet->units, benches[i].unit);
        for (int tool = 0; tool < 2; tool++)
            assert_says(made.sheet->orientation, benches[i].head[tool]);
        turnlay_free(made.compilation);
    }
}

static void test_rods_are_numbered_through(void **state)
{
    (void)state;
    Made made = make(gapped);
    const SheetRod *first = &made.sheet->rods[0], *second = &made.sheet->rods[1];
    assert_int_equal(second->actions[0].number, first->action_count + 1);
    assert_int_equal(second->cuts[0].first_action, first->action_count + 4);
    assert_string_equal(second->labels[0], "navy 1");
    turnlay_free(made.compilation);
}

static void test_text_begins_anywhere(void **state)
{
    (void)state;
    Made made = make(inlaid);
    const char *whole = text_from(&made, 0), *rest = text_from(&made, 8);
    assert_string_equal(text_from(&made, 1), whole);
    assert_says(rest, "\nCautions\n--------\n");
    assert_says(rest, "\nThreads\n-------\n");
    assert_says(rest, "When step 8 begins, 22 turns of this layer are made. On the blank: navy 1\n(running).\n");
    assert_says(rest, "To stop for the night where step 8 begins: tape navy 1 down, ease its tension.");
    assert_says(rest, "loop 1");
    assert_keeps_quiet(rest, "cut piece"); /* mist was cut for step 6 */
    assert_keeps_quiet(rest, "[ ]   7  ");
    /* From its step on it is the whole sheet's end. */
    assert_string_equal(strstr(rest, "[ ]   8  "), strstr(whole, "[ ]   8  "));
    assert_says(text_from(&made, 2), "When step 2 begins, no wrap is begun. On the blank: no thread in work.");
    assert_says(text_from(&made, 10),
                "When step 10 begins, all wraps before it are finished. On the blank: no thread\nin work.");
    assert_says(text_from(&made, 8), "Cut and mount first"); /* there is a loop to come */
    assert_keeps_quiet(text_from(&made, 10), "Cut and mount first");
    assert_says(text_from(&made, 15), "The last step is 14: nothing is left to do.");
    turnlay_free(made.compilation);
}

/* A bobbin that is taped to the blank is there when work goes on. */
static void test_text_begins_with_a_bobbin(void **state)
{
    (void)state;
    Made made =
        make("edition 1\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
             "bench { units: mm, hand: 80 cm, bobbins: 1 }\nblank tube { at 0 mm: 10 mm  at 100 cm: 10 mm }\n"
             "rod \"R\" on tube { at 30 cm { band 10 turns of navy  fade to mist steps: 2  band 20 turns of "
             "mist } }\n");
    const SheetAction *wound = step_saying(&made, "Wrap 1 turn of mist 1 by hand, blank still");
    const char *rest = text_from(&made, wound->step + 1);
    assert_says(rest, "navy 1\n(running), mist 1 (standing); taped: the tag of mist 1, the bobbin of mist 1");
    turnlay_free(made.compilation);
}

static void test_text_keeps_to_its_columns(void **state)
{
    (void)state;
    static const char *const sources[] = {inlaid, faded, guided, gapped};
    for (size_t i = 0; i < sizeof sources / sizeof *sources; i++) {
        Made made = make(sources[i]);
        const char *text = text_from(&made, 0);
        for (const char *line = text; *line; line = strchr(line, '\n') + 1) {
            assert_non_null(strchr(line, '\n'));
            assert_true(strchr(line, '\n') - line <= 80); /* plain ASCII: a byte is a column */
        }
        turnlay_free(made.compilation);
    }
}

/* Tags, ends and loops lie opposite the ring, from 4 to 8 o'clock, and staggered: of five that follow one another
 * none lies where another does, so that they make no ridge; the first at 6. */
static void test_hours_are_staggered(void **state)
{
    (void)state;
    static const char *const sources[] = {inlaid, faded, guided, gapped};
    for (size_t s = 0; s < sizeof sources / sizeof *sources; s++) {
        Made made = make(sources[s]);
        for (uint32_t r = 0; r < made.sheet->rod_count; r++) {
            const BenchRod *rod = made.sheet->rods[r].bench;
            unsigned last[5] = {0}, count = 0;
            for (uint32_t i = 0; i < rod->action_count; i++) {
                ActionKind kind = rod->actions[i].kind;
                bool lays = kind == ACTION_START || kind == ACTION_LAY_IN || kind == ACTION_LAY_LOOP
                            || kind == ACTION_LAY_END;
                unsigned hour = rod->actions[i].clock;
                assert_int_equal(hour != 0, lays);
                if (!lays)
                    continue;
                assert_in_range(hour, 4, 8);
                assert_true(count > 0 || hour == 6);
                for (unsigned k = 1; k < 5 && k <= count; k++)
                    assert_int_not_equal(last[(count - k) % 5], hour);
                last[count++ % 5] = hour;
            }
            assert_true(count >= 2);
        }
        turnlay_free(made.compilation);
    }
}

/* A loop is a line laid double: at each end of the turns that lie over it 5 cm stand out, to be held and drawn by.
 */
static void test_loops_can_be_held(void **state)
{
    (void)state;
    for (unsigned final = 6; final <= 30; final += 8) {
        char text[1024];
        snprintf(text, sizeof text, "%sbench { final: %u turns }\n", inlaid, final);
        Made made = make(text);
        const BenchRod *rod = made.sheet->rods[0].bench;
        const Cut *loop = &rod->cuts[rod->cut_count - 1];
        assert_int_equal(loop->kind, CUT_LOOP);
        double covered = final / 6.7; /* mm */
        double stands_out = (loop->length / 2 - covered) / 2;
        assert_true(fabs(stands_out - 50) < 1e-9);
        turnlay_free(made.compilation);
    }
}

/* A band is measured from 20 turns on: fewer tell nothing. */
static void test_bands_that_are_measured(void **state)
{
    (void)state;
    for (unsigned turns = 15; turns <= 25; turns++) {
        char text[512];
        snprintf(text, sizeof text,
                 "edition 1\nthread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"Band\" on tube { at 20 cm { band %u turns of navy } }\n",
                 turns);
        Made made = make(text);
        unsigned measured = 0;
        for (uint32_t i = 0; i < made.sheet->rods[0].action_count; i++)
            measured += made.sheet->rods[0].actions[i].measure;
        assert_int_equal(measured, turns >= 20);
        turnlay_free(made.compilation);
    }
}

static const char *page_of(const Made *made)
{
    Buffer out;
    buffer_start(&out, &made->compilation->arena);
    emit_sheet_html(&out, made->sheet, made->compilation->plan, 1);
    buffer_put(&out, "", 1);
    return out.bytes;
}

/* Its cut list names for each piece the step that first handles it. */
static void test_cuts_of_the_page(void **state)
{
    (void)state;
    Made made = make(inlaid);
    const SheetRod *rod = &made.sheet->rods[0];
    const char *row = strstr(page_of(&made), "<td class=\"cut-label\">");
    unsigned rows = 0;
    for (; row; row = strstr(row + 1, "<td class=\"cut-label\">"), rows++) {
        const char *label = strstr(row, "<bdi>"), *end = strstr(row, "</td></tr>"), *number = end;
        assert_true(label && end);
        label += strlen("<bdi>");
        while (number[-1] != '>')
            number--;
        char name[32] = "";
        snprintf(name, sizeof name, "%.*s", (int)(strstr(label, "</bdi>") - label), label);
        unsigned step = (unsigned)strtoul(number, NULL, 10);
        assert_true(step > 0 && step <= rod->step_count);
        bool loop = strncmp(name, "loop", 4) == 0;
        for (uint32_t i = 0; i < step; i++)
            assert_int_equal(strstr(rod->steps[i].says, loop ? "ay a loop" : name) != NULL, i + 1 == step);
    }
    assert_int_equal(rows, rod->cut_count);
    turnlay_free(made.compilation);
}

/* The number behind the next `name="` of the page, which moves on to it. */
static double next_number(const char **page, const char *name)
{
    *page = strstr(*page, name);
    assert_non_null(*page);
    *page += strlen(name);
    return strtod(*page, NULL);
}

/* A step that winds once says so itself, before its actions are listed; one that is a single action has no list.
 */
static const char *behind_the_step(const SheetRod *rod, uint32_t action, const char *page)
{
    const SheetStep *step = &rod->steps[0];
    while (action >= step->first + step->count)
        step++;
    uint32_t windings = 0;
    for (uint32_t i = step->first; i < step->first + step->count; i++)
        windings += rod->actions[i].action->kind == ACTION_WIND;
    if (step->count > 1 && windings == 1)
        next_number(&page, " data-turns=\"");
    return page;
}

/* The page frames the part of a run that a step makes: from the picture's left, which is the butt's side,
 * whichever way the wrap is worked. */
static void test_the_page_frames_the_turns_of_a_step(void **state)
{
    (void)state;
    Made made = make(faded);
    const BenchRod *rod = made.sheet->rods[0].bench;
    const char *page = page_of(&made);
    const Run *last = NULL;
    double before = 0;
    unsigned parts[2] = {0};
    for (uint32_t i = 0; i < rod->action_count; i++) {
        const Action *step = &rod->actions[i];
        if (step->kind != ACTION_WIND)
            continue;
        const Winding *winding = &rod->rod->windings[step->winding];
        const Run *run = &rod->rod->places[step->place].layers[0].runs[winding->run];
        if (run != last)
            before = run->start;
        last = run;
        double left = fmin(run->start, run->end), width = fabs(run->end - run->start);
        double from = (fmin(before, step->position) - left) / width;
        double to = (fmax(before, step->position) - left) / width;
        page = behind_the_step(&made.sheet->rods[0], i, page);
        assert_int_equal(next_number(&page, " data-turns=\""), step->turns);
        assert_true(fabs(next_number(&page, " data-from=\"") - from) < 1e-4);
        assert_true(fabs(next_number(&page, " data-to=\"") - to) < 1e-4);
        parts[step->place] += step->turns < run->turns;
        before = step->position;
    }
    assert_null(strstr(page, " data-from="));
    assert_true(parts[0] > 1 && parts[1] > 1);
    turnlay_free(made.compilation);
}

static void test_same_plan_same_key(void **state)
{
    (void)state;
    Made one = make(inlaid), again = make(inlaid), other = make(faded);
    assert_true(sheet_key(one.sheet) == sheet_key(again.sheet));
    unsigned long long hash = one.compilation->plan->job->pattern_hash; /* its upper 48 bits, in groups of 16 */
    char mark[32];
    snprintf(mark, sizeof mark, "%04llx-%04llx-%04llx", hash / 0x1000000000000, hash / 0x100000000 % 0x10000,
             hash / 0x10000 % 0x10000);
    assert_string_equal(one.sheet->pattern_mark, mark);
    assert_string_equal(text_from(&one, 0), text_from(&again, 0));
    assert_true(sheet_key(one.sheet) != sheet_key(other.sheet));
    turnlay_free(one.compilation);
    turnlay_free(again.compilation);
    turnlay_free(other.compilation);
}

/* Whatever a builder reads goes into the key, not only the pattern's mark: marks are made alike here. */
static void test_other_words_other_key(void **state)
{
    (void)state;
    static const char head[] = "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"
                               "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n";
    static const char *const bodies[] = {
        "rod \"A\" on tube { at 20 cm { band 20 turns of navy } }",
        "rod \"B\" on tube { at 20 cm { band 20 turns of navy } }",
        "rod \"A\" on tube { at 20 cm { band 20 turns of mist } }",
        "rod \"A\" on tube { at 20 cm { band 21 turns of navy } }",
        "rod \"A\" on tube { at 21 cm { band 20 turns of navy } }",
        "rod \"A\" on tube { at 20 cm toward: butt { band 20 turns of navy } }",
        "bench { left: tip } rod \"A\" on tube { at 20 cm toward: butt { band 20 turns of navy } }",
        "bench { rotation: away } rod \"A\" on tube { at 20 cm { band 20 turns of navy } }",
        "bench { free: 20 cm } rod \"A\" on tube { at 20 cm { band 20 turns of navy } }",
        "bench { coats: 1 } rod \"A\" on tube { at 20 cm { band 20 turns of navy } }",
        "rod \"A\" on tube { at 20 cm { band 20 turns of navy } } rod \"A\" on tube { at 20 cm { band 20 turns of navy } }",
    };
    enum { BODIES = sizeof bodies / sizeof *bodies };
    uint64_t keys[BODIES];
    for (int i = 0; i < BODIES; i++) {
        char text[1024];
        snprintf(text, sizeof text, "%s%s\n", head, bodies[i]);
        Made made = make(text);
        Job job = *made.compilation->plan->job;
        Plan plan = *made.compilation->plan;
        BenchPlan bench = *made.sheet->bench;
        job.pattern_hash = 1;
        plan.job = &job;
        bench.plan = &plan;
        keys[i] = sheet_key(sheet_make(&made.compilation->arena, &bench));
        for (int j = 0; j < i; j++)
            assert_true(keys[i] != keys[j]);
        turnlay_free(made.compilation);
    }
}

static void test_threads_of_one_name(void **state)
{
    (void)state;
    static const char used[] =
        "edition 1\n"
        "use \"shop\" as shop { thread navy { turns: 50 per cm } }\n"
        "thread navy { turns: 67 per cm }\n"
        "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
        "rod \"Two\" on tube { at 20 cm { band 20 turns of navy  band 20 turns of shop.navy } }\n";
    Made made = make(used);
    assert_int_equal(made.sheet->thread_count, 2);
    assert_string_equal(made.sheet->threads[0].name, "navy");
    assert_string_equal(made.sheet->threads[1].name, "shop.navy");
    const SheetRod *rod = &made.sheet->rods[0];
    assert_string_not_equal(rod->labels[0], rod->labels[1]);
    turnlay_free(made.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_steps_of_an_inlay),
        cmocka_unit_test(test_facts_of_a_step),
        cmocka_unit_test(test_steps_pack_the_right_way),
        cmocka_unit_test(test_threads_of_steps),
        cmocka_unit_test(test_notes_of_steps),
        cmocka_unit_test(test_where_turns_begin),
        cmocka_unit_test(test_places_to_stop),
        cmocka_unit_test(test_places_to_stop_at_steps),
        cmocka_unit_test(test_cuts_in_the_order_of_need),
        cmocka_unit_test(test_fades_in_words),
        cmocka_unit_test(test_long_fades_in_words),
        cmocka_unit_test(test_changes_in_words),
        cmocka_unit_test(test_sides),
        cmocka_unit_test(test_standing_is_explained_once),
        cmocka_unit_test(test_guides_and_inches),
        cmocka_unit_test(test_gaps_and_spacers),
        cmocka_unit_test(test_hours_of_a_step),
        cmocka_unit_test(test_every_loop),
        cmocka_unit_test(test_letters_of_steps),
        cmocka_unit_test(test_a_pass_of_long_names),
        cmocka_unit_test(test_tools_of_the_bench),
        cmocka_unit_test(test_rods_are_numbered_through),
        cmocka_unit_test(test_text_begins_anywhere),
        cmocka_unit_test(test_text_begins_with_a_bobbin),
        cmocka_unit_test(test_text_keeps_to_its_columns),
        cmocka_unit_test(test_hours_are_staggered),
        cmocka_unit_test(test_loops_can_be_held),
        cmocka_unit_test(test_bands_that_are_measured),
        cmocka_unit_test(test_cuts_of_the_page),
        cmocka_unit_test(test_the_page_frames_the_turns_of_a_step),
        cmocka_unit_test(test_same_plan_same_key),
        cmocka_unit_test(test_other_words_other_key),
        cmocka_unit_test(test_threads_of_one_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
