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
#include "plan/evenness.h"
#include "trade/mixing.h"

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
    assert_int_equal(times_said(drawing, "fade"), 3); /* its name, and what the ticks and the curve are */
    assert_int_equal(times_said(drawing, "Two ticks below a sharp strip are where a fade begins"), 1);
    assert_int_equal(times_said(drawing, "The curves say how light each turn of a fade is seen from far"), 1);
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

/* --- curves of lightness --- */

/* The lines of that ink and pen, up to `most`. */
static uint32_t lines_of(const Drawing *drawing, uint32_t ink, double pen, const Shape **lines, uint32_t most)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_LINE && shape->stroke == ink && shape->stroke_width == pen && count < most)
            lines[count++] = shape;
    }
    return count;
}

static double lightness(Light light) { return lab_of(xyz_of(light), colour_white()).lightness; }

static const Shape *words_at(const Drawing *drawing, const char *words)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, words) == 0)
            return &drawing->shapes.items[i];
    fail_msg("not said: %s", words);
    return NULL;
}

/* Its dots, a turn each. */
static uint32_t dots(const Drawing *drawing)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        count += shape->kind == SHAPE_POLYGON && shape->fill == 0x17242a && shape->point_count == 4
                 && fabs(shape->points[2].x - shape->points[0].x) < 0.9;
    }
    return count;
}

/* Turn by turn below its strip, as high as it is light; the even one from the one shade to the other. */
static void check_curve(Compilation *c, const FadeAt *at, const Shape *seen, const Shape *even, double middle,
                        double low)
{
    enum { SCALE = 6, LEFT = 8 + 26 };
    FadeCourse course = fade_course(&c->arena, at, VISION_ALL_CONES);
    FadeShades shades = fade_shades(at);
    double one = lightness(shades.from), other = lightness(shades.to), half = (one + other) / 2;
    MixPath path = mix_path(shades.from, shades.to);
    assert_int_equal(seen->point_count, course.count);
    assert_int_equal(even->point_count, course.count - 2);
    for (uint32_t i = 0; i < course.count; i++) {
        assert_true(fabs(seen->points[i].x - (LEFT + (course.turns[i].x - low) * SCALE)) < 1e-6);
        double up = (course.turns[i].lightness - half) * 0.3;
        assert_true(fabs(seen->points[i].y - (middle - up)) < 1e-6);
        if (i == 0 || i + 1 == course.count)
            continue;
        double share = mix_share(&path, (i - 0.5) / (course.count - 2));
        up = (lightness(mixed_light(&path, share)) - half) * 0.3;
        assert_true(fabs(even->points[i - 1].x - seen->points[i].x) < 1e-9);
        assert_true(fabs(even->points[i - 1].y - (middle - up)) < 1e-6);
    }
    for (uint32_t i = 1; i < even->point_count; i++)
        assert_true((even->points[i].y < even->points[i - 1].y) == (other > one));
}

static void test_lightness_of_fades(void **state)
{
    (void)state;
    static const char *const places[] = {
        "at 20 cm { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }",
        "at 20 cm { band 20 turns of foam  fade to navy steps: 4  band 20 turns of navy }"};
    for (size_t i = 0; i < 2; i++) {
        Compilation *c = compile(places[i]);
        const Drawing *drawing = view_of(c, 6);
        const Shape *seen[3], *even[3];
        assert_int_equal(lines_of(drawing, 0x17242a, 0.3, seen, 3), 1);
        assert_int_equal(lines_of(drawing, 0xa8b2b4, 0.6, even, 3), 1);
        const PlannedRod *rod = &c->plan->rods[0];
        FadeAt at = {&c->job->bench, rod->rod, rod->places, 0, 1};
        check_curve(c, &at, seen[0], even[0], words_at(drawing, "lightness")->at.y + 0.3, 200 - 2);
        assert_int_equal(dots(view_of(c, 7)), 22);
        assert_int_equal(dots(view_of(c, 5)), 0); /* they would touch */
        FadeCourse course = fade_course(&c->arena, &at, VISION_ALL_CONES);
        const Shape *left = words_at(drawing, text_format(&c->arena, "%.0f ", course.turns[0].lightness));
        const Shape *right =
            words_at(drawing, text_format(&c->arena, " %.0f", course.turns[course.count - 1].lightness));
        assert_true(left->align == ALIGN_END && right->align == ALIGN_START && left->at.x < right->at.x);
        assert_true((left->at.y > right->at.y) == (i == 0));
        /* above the darker end, below the lighter one: beside the curve */
        assert_true(fabs(left->at.y - seen[0]->points[0].y - (i ? 2 : -1)) < 1e-9);
        turnlay_free(c);
    }
}

/* Where the jump is above the bench's the line is marked, between the turns that it lies between. */
static void test_lightness_marks_lines(void **state)
{
    (void)state;
    static const char *const fades[] = {"fade to foam steps: 6", "fade to foam runs: [in 0 out 30, in 30 out 0]"};
    for (size_t i = 0; i < 2; i++) {
        char text[200];
        snprintf(text, sizeof text, "at 20 cm { band 20 turns of navy  %s  band 20 turns of foam }", fades[i]);
        Compilation *c = compile(text);
        const PlannedRod *rod = &c->plan->rods[0];
        FadeAt at = {&c->job->bench, rod->rod, rod->places, 0, 1};
        FadeLook look = fade_look(&at, VISION_ALL_CONES);
        FadeCourse course = fade_course(&c->arena, &at, VISION_ALL_CONES);
        const Drawing *drawing = view_of(c, 6);
        const Shape *marks[3];
        uint32_t count = lines_of(drawing, 0xaa3020, 0.16, marks, 3);
        if ((look.jump > 3) != (i == 1))
            fail_msg("%f", look.jump);
        assert_int_equal(count, i);
        assert_int_equal(times_said(drawing, "line, jump "), i);
        const char *words =
            text_format(&c->arena, "line, jump %s", show_number(&c->arena, ceil(look.jump * 100) / 100, 2));
        assert_int_equal(times_said(drawing, words), i);
        if (count) {
            double x = (course.turns[look.jump_turn].x + course.turns[look.jump_turn + 1].x) / 2;
            assert_true(fabs(marks[0]->points[0].x - (34 + (x - 198) * 6)) < 1e-6);
        }
        turnlay_free(c);
    }
}

/* What is wound over has none, nor have shades that differ in hue alone; and where there is no fade, no words. */
static void test_no_lightness(void **state)
{
    (void)state;
    static const struct {
        const char *places;
        uint32_t curves, words;
    } cases[] = {
        {"at 20 cm { under { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }"
         " over { band 60 turns of navy } }",
         0, 0},
        {"at 20 cm { under { band 60 turns of navy }"
         " over { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam } }",
         1, 1},
        {"at 20 cm { band 20 turns of same  fade to rose steps: 4  band 20 turns of rose }", 0, 0},
        {"at 20 cm { band 20 turns of navy  band 20 turns of foam }", 0, 0},
        {"at 20 cm { band 20 turns of navy  fade to foam steps: 4  fade to rose steps: 4  fade to same steps: 4 }",
         2, 1},
        /* in two rows */
        {"at 20 cm { band 100 turns of navy  fade to foam steps: 4  band 120 turns of foam  fade to navy steps: 4 }",
         2, 2},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *c = compile(cases[i].places);
        const Drawing *drawing = view_of(c, 6);
        const Shape *seen[3];
        assert_int_equal(lines_of(drawing, 0x17242a, 0.3, seen, 3), cases[i].curves);
        uint32_t said = 0;
        for (uint32_t k = 0; k < drawing->shapes.count; k++)
            said += drawing->shapes.items[k].kind == SHAPE_TEXT
                    && strcmp(drawing->shapes.items[k].text, "lightness") == 0;
        assert_int_equal(said, cases[i].words);
        turnlay_free(c);
    }
}

/* A fade that is longer than a row goes on in the next, and its curve with it. */
static void test_lightness_in_rows(void **state)
{
    (void)state;
    static const char *const places[] = {
        "at 20 cm { band 20 turns of navy  fade to foam over: 400 turns  band 20 turns of foam }",
        "at 40 cm toward: butt { band 20 turns of navy  fade to foam over: 400 turns  band 20 turns of foam }"};
    for (size_t p = 0; p < 2; p++) {
        Compilation *c = compile(places[p]);
        const Drawing *drawing = view_of(c, 6);
        const Shape *seen[9];
        uint32_t count = lines_of(drawing, 0x17242a, 0.3, seen, 9), points = 0;
        assert_true(count > 1);
        for (uint32_t i = 0; i < count; i++) {
            points += seen[i]->point_count;
            for (uint32_t k = 0; k < seen[i]->point_count; k++)
                assert_true(seen[i]->points[k].x >= 34 && seen[i]->points[k].x <= 297 - 8);
        }
        assert_int_equal(points, 402);
        turnlay_free(c);
    }
}

/* Of a fade that goes over several rows the line is marked in the row that it lies in, and in no other. */
static void test_lines_in_rows(void **state)
{
    (void)state;
    static const char *const runs[] = {"[in 0 out 30, in 370 out 0]", "[in 0 out 200, in 200 out 0]",
                                       "[in 0 out 370, in 30 out 0]"};
    for (size_t i = 0; i < 6; i++) {
        char text[200];
        snprintf(text, sizeof text,
                 "at 20 cm toward: %s { band 20 turns of navy  fade to foam runs: %s  band 20 turns of foam }",
                 i < 3 ? "tip" : "butt", runs[i % 3]);
        Compilation *c = compile(text);
        const Drawing *drawing = view_of(c, 6);
        const Shape *curves[9], *marks[9];
        assert_true(lines_of(drawing, 0x17242a, 0.3, curves, 9) > 1);
        assert_int_equal(lines_of(drawing, 0xaa3020, 0.16, marks, 9), 1);
        assert_int_equal(times_said(drawing, "line, jump "), 1);
        assert_true(marks[0]->points[0].x >= 34 && marks[0]->points[0].x <= 297 - 8);
        turnlay_free(c);
    }
}

/* Curves take the room that they need, and their words. */
static void test_room_for_lightness(void **state)
{
    (void)state;
    Compilation *with =
        compile("at 20 cm { band 20 turns of navy  fade to foam steps: 6  band 20 turns of foam }");
    Compilation *without =
        compile("at 20 cm { band 20 turns of navy  fade to navy steps: 6  band 20 turns of foam }");
    const Drawing *one = view_of(with, 6), *other = view_of(without, 6);
    const Shape *curve[1];
    assert_int_equal(lines_of(one, 0x17242a, 0.3, curve, 1), 1);
    assert_true(times_said(one, "The curves say") == 1 && times_said(other, "The curves say") == 0);
    double from = lightness(light_of(0x22346b)), to = lightness(light_of(0xdfe9ef));
    double note = 1.5 * 2, room = 1.5 + (to - from) * 0.3 + 0.8; /* above it, the curve, below it */
    assert_true(fabs(one->height - other->height - note - room) < 1e-9);
    turnlay_free(with);
    turnlay_free(without);
}

/* All curves have one scale, in a row and from row to row: a small fade is low. */
static void test_one_scale(void **state)
{
    (void)state;
    Compilation *c = compile("at 20 cm { band 20 turns of navy  fade to foam steps: 3  fade to rose steps: 3 }\n"
                             "at 60 cm { band 20 turns of navy  fade to same steps: 4  band 20 turns of same }");
    const PlannedRod *rod = &c->plan->rods[0];
    const Drawing *drawing = view_of(c, 6);
    const Shape *seen[4];
    assert_int_equal(lines_of(drawing, 0x17242a, 0.3, seen, 4), 3);
    for (uint32_t i = 0; i < 3; i++) {
        FadeAt at = {&c->job->bench, rod->rod, &rod->places[i == 2], 0, i == 1 ? 2 : 1};
        FadeCourse course = fade_course(&c->arena, &at, VISION_ALL_CONES);
        assert_int_equal(seen[i]->point_count, course.count);
        uint32_t last = course.count - 1;
        double up = seen[i]->points[0].y - seen[i]->points[last].y;
        assert_true(fabs(up - (course.turns[last].lightness - course.turns[0].lightness) * 0.3) < 1e-9);
    }
    /* in one row as high as it is light */
    FadeAt at = {&c->job->bench, rod->rod, &rod->places[0], 0, 1}, next = {at.bench, at.rod, at.place, 0, 2};
    double apart = fade_course(&c->arena, &at, VISION_ALL_CONES).turns[0].lightness
                   - fade_course(&c->arena, &next, VISION_ALL_CONES).turns[0].lightness;
    assert_true(fabs(seen[1]->points[0].y - seen[0]->points[0].y - apart * 0.3) < 1e-9);
    turnlay_free(c);
}

/* Below the sharp strip a tick at the edge of a fade's first turn and of its last, though both may be of the old
 * thread; none where the fade goes on in another row, or lies below other turns. */
static void test_ticks_of_fades(void **state)
{
    (void)state;
    static const struct {
        const char *places;
        uint32_t ticks;
    } cases[] = {
        {"at 20 cm { band 20 turns of navy  fade to foam runs: [in 0 out 9, in 8 out 3]  band 20 turns of foam }",
         2},
        {"at 40 cm toward: butt { band 20 turns of navy  fade to foam steps: 4  band 20 turns of foam }", 2},
        {"at 20 cm { band 20 turns of navy  fade to foam over: 400 turns  band 20 turns of foam }", 2},
        {"at 20 cm { band 20 turns of navy  fade to foam steps: 3  fade to rose steps: 3  band 20 turns of rose }",
         4},
        {"at 20 cm { under { band 20 turns of navy  fade to foam steps: 9  band 20 turns of foam }"
         " over { band 60 turns of navy } }",
         1},
        {"at 20 cm { band 20 turns of navy  band 20 turns of foam }", 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *c = compile(cases[i].places);
        const PlannedLayer *layer = &c->plan->rods[0].places[0].layers[0];
        const Drawing *drawing = view_of(c, 6);
        const Shape *lines[400];
        uint32_t count = lines_of(drawing, 0x17242a, 0.16, lines, 400);
        assert_int_equal(count, cases[i].ticks);
        assert_int_equal(times_said(drawing, "Two ticks"), count > 0);
        for (uint32_t k = 0; k < count; k++)
            assert_true(lines[k]->points[0].x == lines[k]->points[1].x
                        && lines[k]->points[1].y > lines[k]->points[0].y);
        if (i == 0) {
            const PlannedItem *fade = &layer->items[1];
            double from = layer->runs[fade->first_run].start,
                   to = layer->runs[fade->first_run + fade->run_count - 1].end;
            assert_true(fabs(lines[0]->points[0].x - (34 + (from - 198) * 6)) < 1e-6);
            assert_true(fabs(lines[1]->points[0].x - (34 + (to - 198) * 6)) < 1e-6);
        }
        turnlay_free(c);
    }
}

/* What is said of curves is of the eyes that the picture is for. */
static void test_curves_of_other_eyes(void **state)
{
    (void)state;
    Compilation *c = compile("at 20 cm { band 20 turns of navy  fade to rose runs: [in 0 out 30, in 30 out 0]"
                             "  band 20 turns of rose }");
    const PlannedRod *rod = &c->plan->rods[0];
    FadeAt at = {&c->job->bench, rod->rod, rod->places, 0, 1};
    for (int vision = 0; vision < VISION_COUNT; vision++) {
        const Drawing *drawing =
            draw_in_pixels(&c->arena, c->plan, 0, ALL_SECTIONS, VIEW_EYE, 6, NAN, 0, (Vision)vision);
        FadeCourse course = fade_course(&c->arena, &at, (Vision)vision);
        double jump = fade_jump(&at, (Vision)vision).jump;
        assert_true(jump > 3);
        words_at(drawing,
                 text_format(&c->arena, "line, jump %s", show_number(&c->arena, ceil(jump * 100) / 100, 2)));
        words_at(drawing, text_format(&c->arena, "%.0f ", course.turns[0].lightness));
        words_at(drawing, text_format(&c->arena, " %.0f", course.turns[course.count - 1].lightness));
    }
    turnlay_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_scale),
        cmocka_unit_test(test_ticks_of_fades),
        cmocka_unit_test(test_curves_of_other_eyes),
        cmocka_unit_test(test_what_it_says),
        cmocka_unit_test(test_strips_before_finish),
        cmocka_unit_test(test_wraps_alike_are_shown_once),
        cmocka_unit_test(test_more_than_anybody_looks_at),
        cmocka_unit_test(test_notes_on_crosswraps),
        cmocka_unit_test(test_rows_leave_fades_whole),
        cmocka_unit_test(test_turns_below_a_gap),
        cmocka_unit_test(test_light_runs_together),
        cmocka_unit_test(test_lightness_of_fades),
        cmocka_unit_test(test_lightness_marks_lines),
        cmocka_unit_test(test_no_lightness),
        cmocka_unit_test(test_lightness_in_rows),
        cmocka_unit_test(test_lines_in_rows),
        cmocka_unit_test(test_room_for_lightness),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
