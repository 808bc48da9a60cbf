/* Surfaces that a page turns, measured back from their shapes. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "compilation.h"
#include "draw/picture/all_round.h"
#include "emit/sheet/sheet_html_round.h"
#include "trade/trade.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char head[] =
    "edition 1\n"
    "thread navy { turns: 60 per cm, colour: #22346b }\n"
    "thread foam { turns: 60 per cm, colour: #dfe9ef }\n"
    "thread foil { turns: 60 per cm, colour: #b08d2e, sheen: metallic }\n"
    "bench { units: mm, ends: pins }\n"
    "guide ring { foot: [14 mm, 12 mm], gap: 5 mm, width: 2 mm, height: 0.8 mm, ramp: 6 mm, before: 2 mm }\n"
    "blank tube { at 0 mm: 16 mm  at 100 cm: 4 mm }\n";

#define CROSSED                                                                                                   \
    "at 10 cm angle: 30 deg length: 60 mm { under { band fill of navy }"                                          \
    " chevron crossings: 2 field: open ends: 12 turns of navy { strand 3 of foam } }"
#define FADED "at 30 cm { band 20 turns of navy  fade to foam steps: 4  band 10 turns of foil }"
#define PLAIN "at 40 cm { band 20 turns of navy }"
#define GUIDED "at 60 cm guide: ring angle: 60 deg { band fill of navy  fade to foam steps: 2 }"

enum { FOAM = 0xdfe9ef, MANY = 100000 };
static const double SCALE = 2;

static Compilation *compile(const char *places)
{
    char text[4096];
    int length = snprintf(text, sizeof text, "%srod \"R\" on tube { %s }", head, places);
    Compilation *compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", text, (size_t)length);
    assert_null(turnlay_want(compilation).path);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    return compilation;
}

static AllRounds rounds_of(Compilation *compilation, uint32_t most, uint32_t in_all)
{
    return draw_all_round(&compilation->page_arena, compilation->plan, 0, ALL_SECTIONS, SCALE, most, in_all);
}

/* The rod's half on the page there, on the tip's side of a step. */
static double half_at(const AllRound *round, double x)
{
    uint32_t i = 0;
    while (i + 2 < round->outline_count && round->outline[i + 1].x <= x)
        i++;
    Point a = round->outline[i], b = round->outline[i + 1];
    assert_true(a.x <= x && x <= b.x + 1e-9);
    return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
}

/* Crosswraps and fades, and no others; of a guide both feet in one, seen with the guide toward one. */
static void test_which_places(void **state)
{
    (void)state;
    static const struct {
        double start, facing;
        bool guide;
    } wanted[] = {{100, 30, false}, {300, 0, false}, {0, 60, true}};
    Compilation *c = compile(CROSSED PLAIN FADED GUIDED);
    AllRounds rounds = rounds_of(c, MANY, MANY);
    assert_int_equal(rounds.count, 3);
    for (uint32_t i = 0; i < 3; i++) {
        const PlannedPlace *place = &c->plan->rods[0].places[rounds.items[i].place];
        assert_true(wanted[i].guide || place->start == wanted[i].start);
        assert_true(fabs(rounds.items[i].facing - wanted[i].facing) < 1e-9);
        assert_true(rounds.items[i].guide == wanted[i].guide && (place->foot >= 0) == wanted[i].guide);
        assert_true(place->foot <= 0);
        if (wanted[i].guide) {
            double feet = fabs(place[1].foot_tip - place[0].foot_tip);
            assert_true(rounds.items[i].drawing->width > feet * SCALE);
        }
    }
    turnlay_free(c);
}

/* A foot lies on the surface as wide as it is, below the layers that cover it; light takes no notice of it. */
static void test_feet_are_flat(void **state)
{
    (void)state;
    Compilation *c = compile(GUIDED);
    AllRound round = rounds_of(c, MANY, MANY).items[0];
    uint32_t feet = 0;
    for (uint32_t i = 0; i < round.drawing->shapes.count; i++) {
        const Shape *shape = &round.drawing->shapes.items[i];
        double low = INFINITY, high = -INFINITY;
        for (uint32_t p = 0; p < shape->point_count; p++) {
            low = fmin(low, shape->points[p].y);
            high = fmax(high, shape->points[p].y);
        }
        assert_true(fabs(low + high - 2 * round.axis) < 1e-6); /* nothing stands up */
        feet += fabs(high - low - 2 * SCALE) < 1e-9;
        for (uint32_t p = 0; shape->shade != SHADE_FLAT && p < shape->point_count / 2; p++)
            assert_true(round.axis - shape->points[p].y < 16.0 / 2 * SCALE);
    }
    assert_int_equal(feet, 2);
    turnlay_free(c);
}

/* The blank, one layer and both, on the page; from 5 mm before the wrap to 5 mm behind it. */
static void test_outline(void **state)
{
    (void)state;
    Compilation *c = compile(CROSSED);
    AllRound round = rounds_of(c, MANY, MANY).items[0];
    const PlannedCrosswrap *planned = c->plan->rods[0].places[0].layers[1].crosswrap;
    double blank[] = {95, 165}, across = 1.0 / 60 * 10; /* a thread is as thick as it is wide */
    assert_true(fabs(round.drawing->width - 70 * SCALE) < 1e-9);
    assert_true(round.outline[0].x == 0 && fabs(round.outline[round.outline_count - 1].x - 70 * SCALE) < 1e-9);
    for (int i = 0; i < 2; i++)
        assert_true(fabs(round.outline[i ? round.outline_count - 1 : 0].y - (16 - 0.012 * blank[i]) / 2 * SCALE)
                    < 1e-9);
    double middle = (planned->field_start + planned->field_end) / 2;
    double shown = half_at(&round, (middle - 95) * SCALE) / SCALE - (16 - 0.012 * middle) / 2;
    assert_true(shown > across * 0.9 && shown < across * 3.1);
    assert_true(fabs(crosswrap_diameter(planned, middle) / 2 + planned->thickness
                     - half_at(&round, (middle - 95) * SCALE) / SCALE)
                < 1e-9);
    assert_true(round.axis >= half_at(&round, 6 * SCALE) * TRADE_PI - 1e-9);
    assert_true(round.drawing->height == 2 * round.axis);
    turnlay_free(c);
}

/* Every corner of the strands lies on an edge of theirs or at the cut, but where the field ends below its bands.
 */
static void test_strands_lie_where_they_are_wound(void **state)
{
    (void)state;
    Compilation *c = compile(CROSSED);
    AllRound round = rounds_of(c, MANY, MANY).items[0];
    const PlannedCrosswrap *planned = c->plan->rods[0].places[0].layers[1].crosswrap;
    const Shape *strands = NULL;
    for (uint32_t i = 0; i < round.drawing->shapes.count; i++)
        if (round.drawing->shapes.items[i].fill == FOAM)
            strands = &round.drawing->shapes.items[i];
    assert_non_null(strands);
    uint32_t checked = 0;
    for (uint32_t i = 0, p = 0; i < strands->trace_count; i++) {
        p += strands->traces[i] == TRACE_CURVE ? 2 : 0; /* handles */
        Point point = strands->points[p++];
        double x = 95 + point.x / SCALE, half = half_at(&round, point.x);
        double turn = (point.y - round.axis) / (2 * TRADE_PI * half), least = INFINITY;
        bool ends = x < fmin(planned->field_start, planned->field_end) + 0.5
                    || x > fmax(planned->field_start, planned->field_end) - 0.5;
        if (ends)
            continue;
        assert_true(fabs(turn) < 0.5 + 1e-4);
        for (int leg = 0; leg < 2; leg++)
            for (int side = -1; side <= 1; side += 2) {
                double edge = (side < 0 ? planned->bottom : planned->bottom + planned->width);
                double lies = crosswrap_turn(planned, 0, (Leg)leg, edge, x) - 30.0 / 360;
                least = fmin(least, fabs(remainder(lies - turn, 1)));
            }
        assert_true(least < 0.002 || fabs(fabs(turn) - 0.5) < 1e-4);
        checked += least < 0.002;
    }
    assert_true(checked > 10);
    turnlay_free(c);
}

/* What is not turned comes behind the surface: light from end to end, as thick as the rod is seen, by its sheens.
 */
static void test_light_comes_last(void **state)
{
    (void)state;
    Compilation *c = compile(FADED);
    AllRound round = rounds_of(c, MANY, MANY).items[0];
    bool begun = false, metallic = false;
    double right = 0;
    for (uint32_t i = 0; i < round.drawing->shapes.count; i++) {
        const Shape *shape = &round.drawing->shapes.items[i];
        begun |= shape->shade != SHADE_FLAT;
        assert_true(begun == (shape->shade != SHADE_FLAT));
        assert_true(shape->kind == SHAPE_POLYGON || shape->kind == SHAPE_LINE); /* no groups, no words */
        if (!begun)
            continue;
        assert_true(fabs(shape->points[0].x - right) < 1e-9);
        metallic |= shape->shade == SHADE_METALLIC;
        for (uint32_t p = 0; p < shape->point_count; p++) {
            right = fmax(right, shape->points[p].x);
            assert_true(fabs(shape->points[p].y - round.axis) < 20);
        }
        assert_true(fabs(round.axis - shape->points[0].y - half_at(&round, shape->points[0].x)) < 1e-6);
    }
    assert_true(begun && metallic && fabs(right - round.drawing->width) < 1e-9);
    turnlay_free(c);
}

static uint32_t points_of(const AllRound *round)
{
    uint32_t points = round->outline_count;
    for (uint32_t i = 0; i < round->drawing->shapes.count; i++)
        points += round->drawing->shapes.items[i].point_count;
    return points;
}

/* What would be too much is there without a drawing: by itself, or with those before it. */
static void test_limits(void **state)
{
    (void)state;
    Compilation *c = compile(CROSSED FADED);
    AllRounds all = rounds_of(c, MANY, MANY);
    uint32_t first = points_of(&all.items[0]), second = points_of(&all.items[1]);
    assert_true(all.points == first + second && first != second);
    uint32_t larger = first > second ? first : second, smaller = first + second - larger;
    const struct {
        uint32_t most, in_all, points;
    } cases[] = {{larger, MANY, first + second},
                 {larger - 1, MANY, smaller},
                 {MANY, first + second, first + second},
                 {MANY, first + second - 1, first},
                 {MANY, first, first},
                 {0, MANY, 0},
                 {MANY, 0, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        AllRounds rounds = rounds_of(c, cases[i].most, cases[i].in_all);
        assert_int_equal(rounds.count, 2);
        assert_int_equal(rounds.points, cases[i].points);
        assert_int_equal((rounds.items[0].drawing ? first : 0) + (rounds.items[1].drawing ? second : 0),
                         cases[i].points);
    }
    turnlay_free(c);
}

/* How many places of the page have a drawing, after so many points of others; how many points there are then. */
static uint32_t drawn_on_page(Compilation *c, uint32_t before, uint32_t *points)
{
    Buffer out;
    buffer_start(&out, &c->page_arena);
    *points = before;
    html_rounds(&out, c->plan, 0, ALL_SECTIONS, SCALE, 1, points);
    uint32_t drawn = 0;
    const char *page = buffer_string(&out);
    while ((page = strstr(page, " data-outline="))) {
        drawn++;
        page++;
    }
    return drawn;
}

/* A page of several rods counts the points of all of them. */
static void test_limit_of_page(void **state)
{
    (void)state;
    enum { MOST_ON_PAGE = 300000 };
    Compilation *c = compile(CROSSED FADED);
    uint32_t of_rod = rounds_of(c, MANY, MANY).points, points;
    assert_int_equal(drawn_on_page(c, 0, &points), 2);
    assert_int_equal(points, of_rod);
    assert_int_equal(drawn_on_page(c, of_rod, &points), 2);
    assert_int_equal(points, 2 * of_rod);
    assert_int_equal(drawn_on_page(c, MOST_ON_PAGE - of_rod, &points), 2);
    assert_int_equal(points, MOST_ON_PAGE);
    assert_int_equal(drawn_on_page(c, MOST_ON_PAGE - of_rod + 1, &points), 1);
    assert_int_equal(drawn_on_page(c, MOST_ON_PAGE, &points), 0);
    assert_int_equal(points, MOST_ON_PAGE);
    turnlay_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_which_places),     cmocka_unit_test(test_feet_are_flat),
        cmocka_unit_test(test_outline),          cmocka_unit_test(test_strands_lie_where_they_are_wound),
        cmocka_unit_test(test_light_comes_last), cmocka_unit_test(test_limits),
        cmocka_unit_test(test_limit_of_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
