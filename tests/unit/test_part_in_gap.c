/* A part that no thread may lie on may lie in a gap, with its edges on those of the gap; under turns of any layer,
 * under a crosswrap and under a guide's foot it is in the way. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"

#include <stdio.h>
#include <string.h>

/* Whether a rod with this in its braces is told of a part in the way (T314); of nothing else may it be. 5 turns a
 * millimetre. */
static bool is_in_the_way(const char *holds)
{
    char text[1000];
    snprintf(text, sizeof text,
             "edition 1\nthread navy { turns: 50 per cm }\nthread mist { turns: 50 per cm }\n"
             "bench { measure: 80 turns }\n"
             "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\nguide ring { foot: 20 mm }\n"
             "rod \"R\" on tube {\n%s\n}\n",
             holds);
    Compilation *made = compilation_new(0);
    turnlay_give(made, "gap.lay", text, strlen(text));
    assert_null(turnlay_want(made).path);
    assert_int_not_equal(turnlay_finish(made), TURNLAY_OUT_OF_MEMORY);
    bool told = false;
    for (uint32_t i = 0; i < made->findings.list.count; i++) {
        const Finding *finding = &made->findings.list.items[i];
        if (finding->code == FINDING_PART_IN_THE_WAY)
            told = true;
        else if (finding->severity == SEVERITY_ERROR)
            fail_msg("%s: %s", holds, finding->message);
    }
    turnlay_free(made);
    return told;
}

/* Bands to 104 mm, the gap to 120 mm, bands to 124 mm. */
#define GAPPED "at 100 mm { band 20 turns of navy  gap 16 mm  band 20 turns of navy }\n"

static void test_decal(void **state)
{
    (void)state;
    static const struct {
        const char *holds;
        bool told;
    } cases[] = {
        {GAPPED "part decal at 106 mm length: 10 mm", false},
        {GAPPED "part decal at 104 mm length: 16 mm", false}, /* from edge to edge */
        {GAPPED "part decal at 103.9 mm length: 16 mm", true},
        {GAPPED "part decal at 104.1 mm length: 16 mm", true},
        {GAPPED "part decal at 101 mm length: 2 mm", true},
        {GAPPED "part decal at 102 mm length: 20 mm", true},
        {GAPPED "part check at 110 mm length: 4 mm { diameter: 15 mm }", false},
        {GAPPED "part one at 105 mm length: 4 mm  part two at 112 mm length: 8 mm", false},
        {GAPPED "part one at 105 mm length: 4 mm  part two at 119 mm length: 2 mm", true},
        {GAPPED "part one at 105 mm length: 14 mm  part two at 90 mm length: 11 mm", true},
        {"at 200 mm toward: butt { band 20 turns of navy  gap 16 mm  band 20 turns of navy }\n"
         "part decal at 182 mm length: 12 mm",
         false},
        {"at 200 mm toward: butt { band 20 turns of navy  gap 16 mm  band 20 turns of navy }\n"
         "part decal at 182 mm length: 15 mm",
         true},
        {"at 100 mm { gap 5 mm  gap 5 mm  band 20 turns of navy }\npart decal at 101 mm length: 9 mm", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        if (is_in_the_way(cases[i].holds) != cases[i].told)
            fail_msg("%s: %s", cases[i].holds, cases[i].told ? "not told" : "told");
}

/* A gap of one layer is covered by another. */
static void test_layers(void **state)
{
    (void)state;
    const char *const over = "at 100 mm length: 40 mm {\n"
                             "under { band 50 turns of navy  gap 20 mm  band 50 turns of navy }\n"
                             "over { %s }\n}\npart decal at 112 mm length: 15 mm";
    char text[400];
    snprintf(text, sizeof text, over, "band 20 turns of mist  gap 32 mm  band 20 turns of mist");
    assert_false(is_in_the_way(text));
    snprintf(text, sizeof text, over, "band fill of mist");
    assert_true(is_in_the_way(text));
    snprintf(text, sizeof text, over, "chevron crossings: 2 ends: 12 turns of navy { strand 1 of mist }");
    assert_true(is_in_the_way(text));
}

/* The foot lies from 480 mm on; turns begin beyond it, behind a gap. */
static void test_foot(void **state)
{
    (void)state;
    assert_true(is_in_the_way("at 500 mm: ring { gap 6 mm  band 20 turns of navy }\n"
                              "part decal at 515 mm length: 4 mm"));
    assert_false(is_in_the_way("at 500 mm: ring { gap 6 mm  band 20 turns of navy }\n"
                               "part decal at 521 mm length: 4 mm"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_decal),
        cmocka_unit_test(test_layers),
        cmocka_unit_test(test_foot),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
