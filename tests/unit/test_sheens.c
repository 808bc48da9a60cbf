/* How wraps take the light in pictures from the side, measured back from their shapes; and what guides are painted
 * in. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "compilation.h"
#include "draw/drawing.h"
#include "draw/shading.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char head[] = "edition 1\n"
                           "thread navy { turns: 20 per cm, colour: #22346b }\n"
                           "thread slate { turns: 20 per cm, colour: #4c6a9c, sheen: gloss }\n"
                           "thread gold { turns: 20 per cm, colour: #daa520, sheen: metallic }\n"
                           "thread brass { turns: 20 per cm, colour: #b5a642, sheen: metallic, opacity: 60 % }\n"
                           "thread wool { turns: 20 per cm, colour: #8a2b2b, sheen: matt }\n"
                           "bench { units: mm, ends: pins }\n"
                           "guide ring { foot: 14 mm, gap: 4 mm, frame: #303438, insert: #16181b }\n"
                           "blank tube { at 0 mm: 12 mm  at 100 cm: 9 mm, sheen: matt }\n"
                           "blank plain { at 0 mm: 12 mm  at 100 cm: 9 mm }\n";

static Compilation *compile(const char *blank, const char *places)
{
    char text[4096];
    int length = snprintf(text, sizeof text, "%srod \"R\" on %s { %s }", head, blank, places);
    Compilation *compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", text, (size_t)length);
    assert_null(turnlay_want(compilation).path);
    if (turnlay_finish(compilation) != TURNLAY_DONE)
        fail_msg("%s: %s", compilation->findings.list.items[0].message, places);
    return compilation;
}

static bool is_light(const Shape *shape)
{
    return shape->kind == SHAPE_POLYGON && shape->fill == NO_COLOUR && shape->shade != SHADE_FLAT;
}

static double end_of(const Shape *shape, bool right)
{
    double end = shape->points[0].x;
    for (uint32_t i = 1; i < shape->point_count; i++)
        end = right ? fmax(end, shape->points[i].x) : fmin(end, shape->points[i].x);
    return end;
}

/* The light along the rod, "matt 5 gloss 10": sheens with the mm that they go on; gleams of metal alone left out.
 */
static const char *light_along(Compilation *c, View view)
{
    static const char *const words[SHADE_COUNT] = {
        [SHADE_CYLINDER] = "gloss", [SHADE_MATT] = "matt", [SHADE_METALLIC] = "metallic"};
    const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, view, 1);
    const char *all = "";
    double before = -1;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (!is_light(shape) || shape->shade == SHADE_GLINT)
            continue;
        double from = end_of(shape, false), to = end_of(shape, true);
        assert_true(before < 0 || fabs(from - before) < 1e-6); /* without a gap */
        before = to;
        all = text_format(&c->arena, "%s%s%s %.10g", all, *all ? " " : "", words[shape->shade],
                          round((to - from) * 1e6) / 1e6);
    }
    return all;
}

static void test_light_follows_the_sheen_on_top(void **state)
{
    (void)state;
    static const struct {
        const char *blank, *places, *light;
    } cases[] = {
        {"plain", "at 10 cm { band 20 turns of navy  band 10 turns of slate }", "gloss 25"},
        {"tube", "at 10 cm { band 20 turns of navy  band 10 turns of slate }", "matt 5 gloss 15 matt 5"},
        {"plain",
         "at 10 cm { band 20 turns of navy  band 10 turns of gold  band 10 turns of wool  band 8 turns of navy }",
         "gloss 15 metallic 5 matt 5 gloss 9"},
        {"plain", "at 10 cm toward: butt { band 20 turns of navy  band 12 turns of gold }",
         "gloss 5 metallic 6 gloss 15"},
        /* an inlay, and a gap that shows the blank */
        {"plain",
         "at 10 cm { band 20 turns of wool { inlay 4 turns of gold at: 1/2 }  gap 3 mm  band 20 turns of wool }",
         "gloss 5 matt 4 metallic 2 matt 4 gloss 3 matt 10 gloss 5"},
        /* what lies on top counts, and below a gap what lies there */
        {"plain",
         "at 10 cm { under { band 40 turns of gold }  over { band 10 turns of navy  gap 2 mm  band 10 turns of wool } }",
         "gloss 10 metallic 2 matt 5 metallic 8 gloss 5"},
        /* together: all alike, or gloss */
        {"plain",
         "at 10 cm { band 10 turns of [gold, brass]  band 10 turns of [gold, navy] band 10 turns of [wool, spacer(gold)] }",
         "gloss 5 metallic 10 gloss 10 matt 10 gloss 5"},
        /* a part that thread lies on, where it shows; one that thread does not lie on is none of it */
        {"plain",
         "part sleeve at 112 mm length: 2 mm { wrapped: yes, sheen: metallic, diameter: 12 mm }"
         " part decal at 114 mm { sheen: matt } at 10 cm { band 20 turns of navy  gap 6 mm  band 20 turns of navy }",
         "gloss 17 metallic 2 gloss 17"},
        /* fields of crosswraps */
        {"plain", "at 10 cm length: 60 mm { chevron crossings: 2 ends: 10 turns of gold { strand 2 of wool } }",
         "gloss 5 metallic 5 matt 50 metallic 5 gloss 5"},
        {"plain",
         "at 10 cm length: 60 mm { chevron crossings: 2 ends: 10 turns of wool { strand 2 of wool strand 2 of gold } }",
         "gloss 5 matt 5 gloss 50 matt 5 gloss 5"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *c = compile(cases[i].blank, cases[i].places);
        assert_string_equal(light_along(c, VIEW_SIDE), cases[i].light);
        assert_string_equal(light_along(c, VIEW_UNROLLED), "");
        turnlay_free(c);
    }
}

/* Metal among others gleams by itself: the groups whose thread it is have its gleam, in the side view. */
static void test_metal_gleams_among_others(void **state)
{
    (void)state;
    static const struct {
        const char *places;
        uint32_t gleams;
    } cases[] = {
        {"at 10 cm { band 10 turns of gold }", 0},
        {"at 10 cm { band 10 turns of [navy, gold] }", 1},
        {"at 10 cm { band 10 turns of [wool, slate] }", 0},
        {"at 10 cm length: 60 mm { chevron crossings: 2 ends: 10 turns of navy { strand 2 of wool strand 2 of gold } }",
         1},
        {"at 10 cm length: 60 mm { chevron crossings: 2 ends: 10 turns of navy { strand 2 of wool strand 2 of brass } }",
         2},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (int view = VIEW_SIDE; view <= VIEW_UNROLLED; view++) {
            Compilation *c = compile("plain", cases[i].places);
            const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, (View)view, 1);
            uint32_t gleams = 0;
            const char *group = "";
            for (uint32_t s = 0; s < drawing->shapes.count; s++) {
                const Shape *shape = &drawing->shapes.items[s];
                group = shape->kind == SHAPE_GROUP_START ? shape->text : group;
                bool gleam = is_light(shape) && shape->shade == SHADE_GLINT;
                assert_true(!gleam || strstr(group, "gold") || strstr(group, "brass"));
                gleams += gleam;
            }
            assert_int_equal(gleams, view == VIEW_SIDE ? cases[i].gleams : 0);
            turnlay_free(c);
        }
}

static uint32_t painted(const Drawing *drawing, uint32_t colour)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        count += drawing->shapes.items[i].kind == SHAPE_POLYGON && drawing->shapes.items[i].fill == colour;
    return count;
}

static void test_guides_in_their_colours(void **state)
{
    (void)state;
    Compilation *c = compile("plain", "at 30 cm guide: ring { band fill of navy }");
    const Drawing *side = draw_rod(&c->arena, c->plan, 0, VIEW_SIDE, 1);
    assert_int_equal(painted(side, 0x303438), 2); /* foot and frame */
    assert_int_equal(painted(side, 0x16181b), 1);
    assert_int_equal(painted(draw_rod(&c->arena, c->plan, 0, VIEW_UNROLLED, 1), 0x303438), 1);
    turnlay_free(c);
}

/* The legs of its frame: with a dark rim in gloss, none in matt, and a bright line too in metal. */
static void test_sheens_of_frames(void **state)
{
    (void)state;
    static const struct {
        const char *sheen;
        uint32_t rims, gleams;
    } cases[] = {{"gloss", 1, 0}, {"matt", 0, 0}, {"metallic", 1, 1}};
    Light frame = light_of(0x806040), half = {frame.red / 2, frame.green / 2, frame.blue / 2};
    uint32_t rim = colour_of(half), gleam = colour_of((Light){half.red + 0.5, half.green + 0.5, half.blue + 0.5});
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char places[256];
        snprintf(
            places, sizeof places,
            "at 30 cm guide: one { band fill of navy } }\nguide one { foot: 14 mm, gap: 4 mm, frame: #806040, "
            "sheen: %s }\nlet rest = no\npattern none() { band 20 turns of navy ",
            cases[i].sheen);
        Compilation *c = compile("plain", places);
        const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, VIEW_ROD, 1);
        uint32_t rims = 0, gleams = 0;
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            rims += shape->kind == SHAPE_LINE && shape->stroke == rim;
            gleams += shape->kind == SHAPE_LINE && shape->stroke == gleam;
        }
        assert_int_equal(rims > 0, cases[i].rims);
        assert_int_equal(gleams > 0, cases[i].gleams);
        turnlay_free(c);
    }
}

/* Stops rise from edge to edge, so that every format paints them alike; names differ. */
static void test_shadings(void **state)
{
    (void)state;
    assert_int_equal(shadings[SHADE_FLAT].count, 0);
    for (int i = SHADE_CYLINDER; i < SHADE_COUNT; i++) {
        const Shading *shading = &shadings[i];
        assert_true(shading->stops[0].at == 0 && shading->stops[shading->count - 1].at == 1);
        for (uint32_t s = 0; s < shading->count; s++) {
            const ShadeStop *stop = &shading->stops[s];
            assert_true(stop->colour == 0 || stop->colour == 0xffffff);
            assert_true(stop->opacity >= 0 && stop->opacity < 0.7);
            if (!s)
                continue;
            assert_true(stop->at >= stop[-1].at);
            /* Black goes over into white only where neither is seen. */
            assert_true(stop->colour == stop[-1].colour || (stop->opacity == 0 && stop[-1].opacity == 0));
        }
        for (int j = SHADE_CYLINDER; j < i; j++)
            assert_string_not_equal(shading->name, shadings[j].name);
    }
    assert_int_equal(shade_of(SHEEN_GLOSS), SHADE_CYLINDER);
    assert_int_equal(shade_of(SHEEN_MATT), SHADE_MATT);
    assert_int_equal(shade_of(SHEEN_METALLIC), SHADE_METALLIC);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_light_follows_the_sheen_on_top),
        cmocka_unit_test(test_metal_gleams_among_others),
        cmocka_unit_test(test_guides_in_their_colours),
        cmocka_unit_test(test_sheens_of_frames),
        cmocka_unit_test(test_shadings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
