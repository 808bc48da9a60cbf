/* The curve of a fade's lightness on its card: what the words room makes of the course, and how the page draws it.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "plan/evenness.h"
#include "words/card.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static TurnlayCompilation *compiled(const char *bench, const char *places)
{
    char text[4000];
    snprintf(
        text, sizeof text,
        "edition 1\nthread navy { turns: 50 per cm, colour: #22346b }\n"
        "thread foam { turns: 50 per cm, colour: #dfe9ef }\n"
        "thread rose { turns: 50 per cm, colour: #c04040 }\nthread leaf { turns: 50 per cm, colour: #477a30 }\n"
        "thread plain { turns: 50 per cm }\nbench { units: mm, hand: 9 m, %s }\n"
        "blank tube { at 0 mm: 12 mm  at 200 cm: 8 mm }\nrod \"Curved\" on tube { %s }\n",
        bench, places);
    TurnlayCompilation *compilation = turnlay_new();
    assert_int_equal(turnlay_give(compilation, "tried.lay", text, strlen(text)), TURNLAY_DONE);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    return compilation;
}

static const Card *first_card(TurnlayCompilation *compilation)
{
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    const Sheet *sheet = answer_sheet(compilation);
    trap_clear(&compilation->trap);
    return &sheet->rods[0].cards[0];
}

static double lightness(uint32_t colour) { return lab_of(xyz_of(light_of(colour)), colour_white()).lightness; }

/* Rising along the blank, between the darker and the lighter shade, whichever way it is worked. */
static void test_course(void **state)
{
    (void)state;
    static const struct {
        const char *place;
        int direction;
    } cases[] = {
        {"at 20 cm { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }", 1},
        {"at 20 cm { band 20 turns of foam  fade to navy steps: 4  band 20 turns of navy }", 1},
        {"at 20 cm toward: butt { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }", -1}};
    double dark = lightness(0x22346b), light = lightness(0xdfe9ef);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *c = compiled("", cases[i].place);
        const CardLine *line = &first_card(c)->layers[0].lines[1];
        const PlannedRod *rod = &c->plan->rods[0];
        FadeAt at = {&c->job->bench, rod->rod, rod->places, 0, 1};
        FadeCourse course = fade_course(&c->arena, &at, VISION_ALL_CONES);
        assert_int_equal(course.count, 22);
        assert_int_equal(line->course_count, 22);
        for (uint32_t k = 0; k < 22; k++) {
            const SeenTurn *turn = &course.turns[cases[i].direction > 0 ? k : 21 - k];
            assert_true(fabs(line->course[k].along - k / 21.0) < 1e-6);
            assert_true(fabs(line->course[k].seen - (turn->lightness - dark) / (light - dark)) < 1e-6);
            assert_true(isnan(line->course[k].even) == (k == 0 || k == 21));
        }
        /* an even fade goes from the one shade to the other, a turn's half beside either */
        double first = line->course[1].even, last = line->course[20].even;
        assert_true(fabs(first - last) > 0.9 && fabs(first - last) < 1);
        assert_true((first < last) == (i == 0));
        for (uint32_t k = 2; k < 21; k++)
            assert_true((line->course[k].even > line->course[k - 1].even) == (i == 0));
        turnlay_free(c);
    }
}

/* The even curve of greys: lightness itself goes evenly then. */
static void test_even_is_even(void **state)
{
    (void)state;
    TurnlayCompilation *c =
        compiled("", "at 20 cm { band 20 turns of coal  fade to ash steps: 4  band 20 turns of ash }\n"
                     "}\nthread coal { turns: 50 per cm, colour: #202020 }\n"
                     "thread ash { turns: 50 per cm, colour: #d0d0d0 }\nrod \"Other\" on tube {");
    const CardLine *line = &first_card(c)->layers[0].lines[1];
    for (uint32_t k = 1; k < 21; k++)
        assert_true(fabs(line->course[k].even - (k - 0.5) / 20) < 1e-3);
    turnlay_free(c);
}

/* Of equal fades in a layer the first alone, of long ones so many turns, and none where there is nothing to see.
 */
static void test_which_have_one(void **state)
{
    (void)state;
    static const struct {
        const char *place;
        uint32_t line, count;
    } cases[] = {
        {"at 20 cm { repeat 2 { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam } }", 1, 22},
        {"at 20 cm { repeat 2 { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam } }", 4, 0},
        {"at 20 cm { band 20 turns of navy  fade to foam over: 45 turns  band 20 turns of foam }", 1, 47},
        {"at 20 cm { band 20 turns of navy  fade to foam over: 46 turns  band 20 turns of foam }", 1, 48},
        {"at 20 cm { band 20 turns of navy  fade to foam over: 300 turns  band 20 turns of foam }", 1, 48},
        {"at 20 cm { band 20 turns of rose  fade to leaf steps: 4  band 20 turns of leaf }", 1, 0},
        {"at 20 cm { band 20 turns of navy  fade to plain steps: 4  band 20 turns of plain }", 1, 0},
        {"at 20 cm { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }", 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        TurnlayCompilation *c = compiled("", cases[i].place);
        const CardLine *line = &first_card(c)->layers[0].lines[cases[i].line];
        assert_int_equal(line->course_count, cases[i].count);
        if (line->course_count) {
            assert_true(line->course[0].along == 0 && line->course[line->course_count - 1].along == 1);
            assert_true(*line->look);
        }
        turnlay_free(c);
    }
}

/* On the page as far from the left as its end lies, the lighter on top. */
static void test_on_the_page(void **state)
{
    (void)state;
    for (int tip = 0; tip < 2; tip++) {
        TurnlayCompilation *c =
            compiled(tip ? "left: tip" : "left: butt",
                     "at 20 cm { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }");
        const CardLine *line = &first_card(c)->layers[0].lines[1];
        TurnlayText page;
        assert_int_equal(turnlay_write_sheet(c, TURNLAY_HTML, 1, &page), TURNLAY_DONE);
        const char *svg = strstr(
            page.bytes, "<svg class=\"course\" viewBox=\"-2 -2 94 34\" role=\"img\" aria-label=\"from 2 m: ");
        assert_non_null(svg);
        assert_null(strstr(svg + 1, "<svg class=\"course\""));
        for (int even = 0; even < 2; even++) {
            const char *at =
                strstr(svg, even ? "<polyline class=\"even\" points=\"" : "<polyline class=\"seen\" points=\"");
            assert_non_null(at);
            at = strchr(strstr(at, "points"), '"') + 1;
            for (uint32_t k = even ? 1 : 0; k < 22u - (unsigned)even; k++) {
                char *next;
                double x = strtod(at, &next), y = strtod(next + 1, &next);
                double along = line->course[k].along, share = even ? line->course[k].even : line->course[k].seen;
                assert_true(fabs(x - 90 * (tip ? 1 - along : along)) <= 0.051);
                assert_true(fabs(y - 30 * (1 - share)) <= 0.051);
                at = next + 1;
            }
            assert_int_equal(at[-1], '"');
        }
        turnlay_text_free(&page);
        turnlay_free(c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_course),
        cmocka_unit_test(test_even_is_even),
        cmocka_unit_test(test_which_have_one),
        cmocka_unit_test(test_on_the_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
