/* The eye's view: which wraps it shows, in which rows, and what it says of them. That turns have the colours that
 * are seen is held by tests/draw. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "compilation.h"
#include "draw/drawing.h"
#include "draw/eye/profile.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char head[] = "edition 1\n"
                           "thread navy { turns: 50 per cm, colour: #22346b }\n"
                           "thread foam { turns: 50 per cm, colour: #dfe9ef }\n"
                           "thread rose { turns: 50 per cm, colour: #d02040, bare: #e08090 }\n"
                           "thread same { turns: 50 per cm, colour: #d02040, bare: #d02040 }\n"
                           "thread motley { turns: 50 per cm, colours: [#d02020, #2020d0], period: 30 mm }\n"
                           "guide ring { foot: [14 mm, 14 mm], gap: 8 mm }\n"
                           "bench { units: mm, near: 40 cm, far: 3 m, sight: 1 }\n"
                           "blank tube { at 0 mm: 12 mm  at 200 cm: 8 mm }\n";

static Compilation *compile(const char *places)
{
    static char text[65536];
    int length = snprintf(text, sizeof text, "%srod \"Seen\" on tube { %s }", head, places);
    assert_true(length < (int)sizeof text);
    Compilation *compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", text, (size_t)length);
    assert_null(turnlay_want(compilation).path);
    if (turnlay_finish(compilation) != TURNLAY_DONE)
        fail_msg("%s: %s", compilation->findings.list.items[0].message, places);
    return compilation;
}

static Drawing *view_of(Compilation *c, double scale) { return draw_rod(&c->arena, c->plan, 0, VIEW_EYE, scale); }

static uint32_t times_said(const Drawing *drawing, const char *words)
{
    uint32_t times = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        times += drawing->shapes.items[i].kind == SHAPE_TEXT && strstr(drawing->shapes.items[i].text, words);
    return times;
}

/* So many strips of each kind. */
static uint32_t strips(const Drawing *drawing, const char *title)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        count += drawing->shapes.items[i].kind == SHAPE_GROUP_START
                 && strcmp(drawing->shapes.items[i].text, title) == 0;
    return count;
}

static void test_what_it_says(void **state)
{
    (void)state;
    Compilation *c = compile("at 20 cm { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }");
    const Drawing *drawing = view_of(c, 6);
    static const char *const words[] = {
        "Seen",
        "wraps as the eye sees them, 6 times true size; butt on the left",
        "file id",
        "200 mm from the butt, toward the tip",
        "as wound",
        "from 0.4 m",
        "in the hand",
        "from 3 m",
        "across the room",
        "Light runs together: from 0.4 m over 0.116 mm, from 3 m over 0.873 mm; that is 0.6 and "
        "4.4 turns of navy (one standard deviation).",
        "Each turn has the colour that is seen at its middle",
        "navy, #22346b"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (!times_said(drawing, words[i]))
            fail_msg("not said: %s", words[i]);
    static const char *const unsaid[] = {"before finish", "Before finish", "several colours", "Crosswraps",
                                         "its middle is", "more wraps",    "looks much like"};
    for (size_t i = 0; i < sizeof unsaid / sizeof *unsaid; i++)
        assert_int_equal(times_said(drawing, unsaid[i]), 0);
    assert_int_equal(times_said(drawing, "fade"), 1);
    assert_non_null(strstr(drawing->description, "as the eye sees them"));
    assert_true(times_said(view_of(c, 1), "at true size; butt"));
    assert_true(drawing->width == 297 && rod_drawing_width(&c->arena, c->plan, 0, VIEW_EYE, 20) == 297);
    turnlay_free(c);
}

static void test_strips_before_finish(void **state)
{
    (void)state;
    static const struct {
        const char *places;
        uint32_t bare;
    } cases[] = {
        {"at 20 cm { band 20 turns of navy }", 0},
        {"at 20 cm { band 20 turns of same }", 0},
        {"at 20 cm { band 20 turns of [navy, rose] }", 1},
        {"at 20 cm { under { band 40 turns of rose } over { band 20 turns of navy } }", 1},
        {"at 20 cm length: 30 mm { chevron crossings: 2 ends: 12 turns of navy { strand 3 of rose } }", 1}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *c = compile(cases[i].places);
        const Drawing *drawing = view_of(c, 4);
        assert_int_equal(strips(drawing, "sharp"), 1);
        assert_int_equal(strips(drawing, "from 0.4 m"), 1);
        assert_int_equal(strips(drawing, "from 3 m"), 1);
        assert_int_equal(strips(drawing, "from 0.4 m, before finish"), cases[i].bare);
        assert_int_equal(strips(drawing, "from 3 m, before finish"), cases[i].bare);
        assert_int_equal(times_said(drawing, "Before finish threads have"), cases[i].bare);
        assert_int_equal(times_said(drawing, "before finish"), 2 * cases[i].bare);
        turnlay_free(c);
    }
}

static void test_wraps_alike_are_shown_once(void **state)
{
    (void)state;
    Compilation *c = compile("for i in 1 to 7 { at 10 cm * i { band 20 turns of navy  band 4 turns of foam } }\n"
                             "at 90 cm: ring { band fill of navy }  at 110 cm: ring { band fill of navy }\n"
                             "at 150 cm { band 40 turns of foam }");
    const Drawing *drawing = view_of(c, 6);
    assert_int_equal(strips(drawing, "sharp"), 3);
    assert_int_equal(
        times_said(drawing, "looks much like it: 200 mm from the butt, toward the tip; 300 mm from the "
                            "butt, toward the tip; 400 mm from the butt, toward the tip; 500 mm from the butt, "
                            "toward the tip; and 2 more"),
        1);
    assert_int_equal(times_said(drawing, "ring at 900 mm from the butt"), 1);
    assert_int_equal(times_said(drawing, "looks much like it: ring at 1100 mm from the butt"), 1);
    turnlay_free(c);
}

static void test_more_than_anybody_looks_at(void **state)
{
    (void)state;
    for (int more = 0; more < 2; more++) {
        static const char *const threads[] = {"navy", "foam", "rose", "same", "motley"};
        char places[8192] = "";
        int length = 0;
        for (int i = 0; i < 60 + more; i++) /* none alike */
            length += snprintf(places + length, sizeof places - (size_t)length,
                               "at %d mm { band 9 turns of %s band 9 turns of %s band 9 turns of %s }\n",
                               100 + i * 30, threads[i % 5], threads[i / 5 % 5], threads[i / 25]);
        Compilation *c = compile(places);
        const Drawing *drawing = view_of(c, 1);
        assert_int_equal(times_said(drawing, "more wraps are not shown"), more);
        turnlay_free(c);
    }
}

static void test_notes_on_crosswraps(void **state)
{
    (void)state;
    Compilation *c = compile("at 20 cm length: 120 mm {\n"
                             "    chevron crossings: 4 ends: 12 turns of navy { strand 3 of motley } }");
    for (int scale = 2; scale <= 6; scale += 4) {
        const Drawing *drawing = view_of(c, scale);
        assert_int_equal(times_said(drawing, "Crosswraps are seen from one side"), 1);
        assert_int_equal(times_said(drawing, "several colours are in their mean colour, but in crosswraps"), 1);
        assert_int_equal(times_said(drawing, "its middle is shown"), scale == 6);
        assert_int_equal(strips(drawing, "sharp"), 1);
    }
    turnlay_free(c);
}

/* Rows break before a fade that would be cut, not within it. */
static void test_rows_leave_fades_whole(void **state)
{
    (void)state;
    Compilation *c = compile("at 20 cm { band 140 turns of navy  fade to foam steps: 6  band 140 turns of foam }");
    const PlannedLayer *layer = &c->plan->rods[0].places[0].layers[0];
    const Drawing *drawing = view_of(c, 6);
    assert_int_equal(strips(drawing, "sharp"), 2);
    double left = INFINITY, right = -INFINITY;
    bool within = false;
    for (uint32_t i = 0; i < drawing->shapes.count && !isfinite(right - left + (within ? INFINITY : 0)); i++) {
        const Shape *shape = &drawing->shapes.items[i];
        within = shape->kind == SHAPE_GROUP_START || (within && shape->kind != SHAPE_GROUP_END);
        for (uint32_t p = 0; within && p < shape->point_count; p++) {
            left = fmin(left, shape->points[p].x);
            right = fmax(right, shape->points[p].x);
        }
    }
    double fade = layer->runs[1].start - 198; /* two mm of the blank are shown before the mark */
    assert_true(fabs((right - left) / 6 - fade) < 1e-6);
    turnlay_free(c);
}

/* Turns of a layer that shows in a gap of the one on it are shown where they lie, though the gap begins within
 * one. */
static void test_turns_below_a_gap(void **state)
{
    (void)state;
    Compilation *c =
        compile("at 20 cm { under { band 100 turns of navy }\n"
                "    over offset: 0.33 mm { band 20 turns of foam  gap 5 mm  band 20 turns of foam } }");
    const Drawing *drawing = view_of(c, 6);
    double begin = c->plan->rods[0].places[0].layers[1].runs[1].start, left = INFINITY;
    uint32_t compared = 0;
    bool far = false;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        far = shape->kind == SHAPE_GROUP_START ? strcmp(shape->text, "from 3 m") == 0 : far;
        if (shape->kind != SHAPE_POLYGON || shape->fill == NO_COLOUR)
            continue;
        left = far ? fmin(left, shape->points[0].x) : left;
        double at = 198 + (shape->points[0].x - left) / 6; /* two mm of the blank before the mark */
        if (!far || at < begin + 1e-6 || at > begin + 5 - 1e-6)
            continue;
        assert_true(fabs(remainder(at - 200, 0.2)) < 1e-6);
        compared++;
    }
    assert_true(compared > 10);
    turnlay_free(c);
}

/* Behind the first piece that is seen alone, and within a turn's reach of its end, the same: 10 turns of each. */
static void test_light_runs_together(void **state)
{
    (void)state;
    Compilation *c = compile("at 20 cm { band 40 turns of navy  band 40 turns of foam }");
    const PlannedRod *rod = &c->plan->rods[0];
    LightProfile profile = profile_of_places(&c->arena, rod->rod, rod->places, 1, 190, 230, false);
    assert_int_equal(profile.list.count, 4); /* blank, navy, foam, blank */
    double edge = rod->places[0].layers[0].runs[0].end;
    Light navy = light_of(0x22346b), foam = light_of(0xdfe9ef);
    Light seen = profile_seen(&profile, 0.3, edge), near = profile_seen(&profile, 0.3, edge - 0.3);
    assert_true(fabs(seen.green - (navy.green + foam.green) / 2) < 1e-8);
    double share = erfc(1 / sqrt(2)) / 2; /* of a normal distribution beyond one standard deviation */
    assert_true(fabs(near.blue - (navy.blue + share * (foam.blue - navy.blue))) < 1e-8);
    assert_int_equal(profile_at(&profile, edge), 2);
    assert_int_equal(profile_at(&profile, edge - 1e-6), 1);
    turnlay_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_it_says),
        cmocka_unit_test(test_strips_before_finish),
        cmocka_unit_test(test_wraps_alike_are_shown_once),
        cmocka_unit_test(test_more_than_anybody_looks_at),
        cmocka_unit_test(test_notes_on_crosswraps),
        cmocka_unit_test(test_rows_leave_fades_whole),
        cmocka_unit_test(test_turns_below_a_gap),
        cmocka_unit_test(test_light_runs_together),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
