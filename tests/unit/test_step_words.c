/* What a step says of its actions: whose tag is trimmed, which thread waits, what is told once and what first. */
#include "made_sheet.h"

#define FRONT                                                                                                     \
    "edition 1\nthread navy { turns: 60 per cm }\nthread mist { turns: 60 per cm }\nbench { units: mm }\n"        \
    "blank tube { at 0 cm: 10 mm  at 100 cm: 10 mm }\nrod \"R\" on tube {\n"

/* The only step with these words in what it does, of all that the sheet has; fails if there is none, or another.
 */
static const SheetStep *step_with(const Made *made, const char *words)
{
    const SheetStep *only = NULL;
    const SheetRod *rod = &made->sheet->rods[0];
    for (uint32_t i = 0; i < rod->step_count; i++) {
        if (!strstr(rod->steps[i].says, words))
            continue;
        if (only)
            fail_msg("said twice: %s", words);
        only = &rod->steps[i];
    }
    if (!only)
        fail_msg("no step says: %s\n%s", words, text_from(made, 1));
    return only;
}

/* How often the steps' notes hold these words. */
static unsigned times_noted(const Made *made, const char *words)
{
    unsigned times = 0;
    const SheetRod *rod = &made->sheet->rods[0];
    for (uint32_t i = 0; i < rod->step_count; i++)
        for (const char *at = rod->steps[i].note; (at = strstr(at, words)); at++)
            times++;
    return times;
}

/* Where two pieces have tags in a step, it is said whose is trimmed. */
static void test_whose_tag(void **state)
{
    (void)state;
    Made made = make(FRONT "at 20 cm { band 40 turns of navy { inlay 2 turns of mist at: 11 turns } } }\n");
    const char *both = step_with(&made, "ay in mist 1")->says;
    assert_says(both, "ay in mist 1 under the next 6 turns, its tag and long end taped; wind ");
    assert_says(both, "untape and trim the tag of navy 1");
    assert_keeps_quiet(both, "trim its tag");
    turnlay_free(made.compilation);

    made = make(FRONT "at 20 cm { band 60 turns of navy { inlay 2 turns of mist at: 20 turns } } }\n");
    assert_says(step_with(&made, "Start navy 1")->says, "wind 6 turns; trim its tag");
    assert_says(step_with(&made, "rim the end of mist 1")->says, "rim the end of mist 1");
    assert_says(step_with(&made, "rim the end of mist 1")->says, "trim its tag");
    turnlay_free(made.compilation);
}

/* A piece that only waits meanwhile is not told, and does not count. */
static void test_whose_tag_in_a_fade(void **state)
{
    (void)state;
    Made made = make(FRONT "at 20 cm { band 20 turns of navy  fade to mist steps: 4 } }\n");
    assert_says(step_with(&made, "wrap 2 turns by hand")->says,
                "tape it down; untape and trim its tag, then wind 3 turns of navy 1");
    assert_int_equal(times_noted(&made, "Fade step 2 of 4."), 1);
    turnlay_free(made.compilation);

    /* Nor where it is packed in between, and the step goes on behind that. */
    made = make(FRONT "at 20 cm { band 20 turns of navy  fade to mist steps: 4  band 20 turns of mist } }\n");
    assert_says(step_with(&made, "wrap 2 turns by hand")->says,
                "tape it down; pack toward the butt; untape and trim its tag");
    assert_int_equal(times_noted(&made, "Fade step 2 of 4."), 2);
    assert_int_equal(times_noted(&made, "Fade step 4 of 4."), 1);
    turnlay_free(made.compilation);
}

/* How one packs, measures and trims is told once on a rod. */
static void test_told_once(void **state)
{
    (void)state;
    Made made = make(FRONT "for i in 1 to 3 { at 20 cm * i {\n"
                           "band 8 turns of navy  band 40 turns of mist { inlay 2 turns of navy at: 1/2 }\n"
                           "band 8 turns of navy } } }\n");
    assert_int_equal(times_noted(&made, "Push the turns together with something smooth"), 1);
    assert_int_equal(
        times_noted(&made, "The width is from where this layer begins to its last turn: write it down."), 1);
    assert_int_equal(
        times_noted(&made,
                    "If it is wider than it should be, pack and measure again. If it is still off by more than "),
        1);
    assert_int_equal(times_noted(&made, "plan the rest again with it: --measured and the step's number."), 1);
    assert_int_equal(times_noted(&made, "Draw what is trimmed tight"), 1);
    turnlay_free(made.compilation);
}

/* What is laid in from its spool has no long end to be coiled up; what is cut has. */
static void test_long_ends(void **state)
{
    (void)state;
    Made made = make(
        "edition 1\nthread navy { turns: 60 per cm }\nthread mist { turns: 60 per cm }\n"
        "bench { units: mm, hand: 1 m }\nblank tube { at 0 cm: 10 mm  at 100 cm: 10 mm }\nrod \"R\" on tube {\n"
        "at 20 cm { band 40 turns of navy  fade to mist steps: 2  band 40 turns of mist }\n"
        "at 40 cm { band 40 turns of navy { inlay 2 turns of mist at: 1/2 } } }\n");
    assert_int_equal(times_noted(&made, "From there mist 1 goes to its spool toward the tip, to your right."), 1);
    assert_int_equal(
        times_noted(
            &made,
            "The long end of mist 2 points toward the tip, to your right: coil it up, as it turns with the blank."),
        1);
    turnlay_free(made.compilation);
}

/* How a foot is dressed is told again where it is another one. */
static void test_dressing(void **state)
{
    (void)state;
    Made made = make("edition 1\nthread navy { turns: 60 per cm }\n"
                     "guide small { foot: 10 mm, ramp: 3 mm }\nguide large { foot: 20 mm, ramp: 5 mm }\n"
                     "bench { units: mm }\nblank tube { at 0 cm: 10 mm  at 100 cm: 10 mm }\nrod \"R\" on tube {\n"
                     "at 20 cm: large { band fill of navy }  at 30 cm: small { band fill of navy }\n"
                     "at 40 cm: small { band fill of navy }  at 50 cm: large { band fill of navy } }\n");
    assert_int_equal(times_noted(&made, "Keep filings off the blank"), 3);
    assert_int_equal(times_noted(&made, "to a ramp of 3"), 1);
    assert_int_equal(times_noted(&made, "to a ramp of 5"), 2);
    turnlay_free(made.compilation);
}

/* A crosswrap's strands are packed another way. */
static void test_strands_are_packed_their_way(void **state)
{
    (void)state;
    Made made = make(FRONT "at 20 cm length: 60 mm { under { band fill of navy }\n"
                           "chevron crossings: 3 ends: 12 turns of navy { strand 4 of mist } } }\n");
    assert_int_equal(times_noted(&made, "Push the turns together with something smooth"), 1);
    assert_true(times_noted(&made, "blunt and smooth, along each leg") >= 1);
    turnlay_free(made.compilation);
}

/* Two cautions at one step are two lines, or one is overlooked. */
static void test_cautions_a_line_each(void **state)
{
    (void)state;
    Made made = make(FRONT "at 20 cm { band 20 turns of navy } }\n");
    const char *caution = step_with(&made, "Start navy 1")->caution;
    assert_int_equal(strncmp(caution, "Caution: hair", 13), 0);
    assert_says(caution, "before you reach over it.\nCut away ");
    assert_says(text_from(&made, 1), "reach over it.\n         Cut away ");
    turnlay_free(made.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_whose_tag),
        cmocka_unit_test(test_whose_tag_in_a_fade),
        cmocka_unit_test(test_told_once),
        cmocka_unit_test(test_dressing),
        cmocka_unit_test(test_long_ends),
        cmocka_unit_test(test_strands_are_packed_their_way),
        cmocka_unit_test(test_cautions_a_line_each),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
