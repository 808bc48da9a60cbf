/* Drawings of crosswraps measured back from their shapes. What shows where is tested by tests/draw/. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "draw/canvas.h"
#include "draw/drawing.h"
#include "trade/trade.h"
#include "compilation.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* On a blank with a bend at 140 mm, so that the wraps below lie on both sides of it. */
static const char head[] =
    "edition 1\n"
    "thread navy { turns: 60 per cm, colour: #22346b }\n"
    "thread foam { turns: 40 per cm, colour: #dfe9ef }\n"
    "thread dusk { turns: 50 per cm, colours: [#303a9c, #9d38d6, #dfc9ff], period: 70 mm }\n"
    "thread haze { turns: 40 per cm, colour: #dfe9ef, opacity: 40 % } "
    "thread dream { turns: 50 per cm, colours: [#303a9c, #9d38d6], period: 70 mm, opacity: 40 % } "
    "thread blur { turns: 50 per cm, colours: [#000000, #ffffff], period: 1 mm }\n"
    "bench { units: mm, ends: pins }\n"
    "guide ring { foot: 14 mm, gap: 5 mm, width: 2 mm, height: 0.8 mm, ramp: 6 mm, before: 2 mm }\n"
    "blank tube { at 0 mm: 16 mm  at 14 cm: 9 mm  at 100 cm: 4 mm }\n";

#define CROSSED "at 10 cm length: 80 mm { chevron crossings: 3 ends: 12 turns of navy { strand 1 of foam } }"

/* Of a blank whose colour is not said. */
enum { BARE = 0x3a4143 };

#define HAZY(strands) "at 10 cm length: 80 mm { chevron crossings: 1 ends: 12 turns of navy { " strands " } }"

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

static const PlannedCrosswrap *crosswrap_of(const Compilation *compilation)
{
    const PlannedPlace *place = &compilation->plan->rods[0].places[0];
    assert_non_null(place->layers[place->layer_count - 1].crosswrap);
    return place->layers[place->layer_count - 1].crosswrap;
}

/* The group number `nth` of those that show a strand line, or with `field` that of the gap; count_shapes past
 * it. */
static const Shape *group_of(const Drawing *drawing, bool field, uint32_t nth)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind != SHAPE_GROUP_START)
            continue;
        bool sought = field ? strncmp(shape->text, "gap", 3) == 0 : shape->strand_line != 0;
        if (sought && nth-- == 0)
            return shape;
    }
    return NULL;
}

/* Where the picture lies: measured from the outline of the field, two edges along the axis and two across. */
typedef struct Placed {
    const PlannedCrosswrap *planned;
    View view;
    double facing; /* turns */
    const Point *outline;
    uint32_t half; /* points of one edge */
    double left, right, low, high;
} Placed;

static Placed placed_of(const Drawing *drawing, const PlannedCrosswrap *planned, View view, double facing)
{
    const Shape *field = group_of(drawing, true, 0) + 1;
    assert_int_equal(field->kind, SHAPE_POLYGON);
    Placed placed = {.planned = planned,
                     .view = view,
                     .facing = view == VIEW_UNROLLED ? 0 : facing / 360,
                     .outline = field->points,
                     .half = field->point_count / 2,
                     .low = fmin(planned->field_start, planned->field_end),
                     .high = fmax(planned->field_start, planned->field_end)};
    double a = field->points[0].x, b = field->points[placed.half - 1].x;
    placed.left = fmin(a, b);
    placed.right = fmax(a, b);
    return placed;
}

static double left_of(const Shape *shape)
{
    double low = INFINITY;
    for (uint32_t i = 0; i < shape->point_count; i++)
        low = fmin(low, shape->points[i].x);
    return low;
}

static double breadth(const Shape *shape)
{
    double high = -INFINITY;
    for (uint32_t i = 0; i < shape->point_count; i++)
        high = fmax(high, shape->points[i].x);
    return high - left_of(shape);
}

static double along(const Placed *placed, double page_x)
{
    return placed->low + (page_x - placed->left) / (placed->right - placed->left) * (placed->high - placed->low);
}

/* Half the field's height at x, and its middle. The strands go on a little below the end bands. */
static double half_height(const Placed *placed, double x, double *middle)
{
    const Point *upper = placed->outline;
    uint32_t last = placed->half * 2 - 1, i = 0;
    double way = upper[placed->half - 1].x > upper[0].x ? 1 : -1;
    while (i + 2 < placed->half && (upper[i + 1].x - x) * way < 0)
        i++;
    double part = (x - upper[i].x) / (upper[i + 1].x - upper[i].x);
    double top = upper[i].y + part * (upper[i + 1].y - upper[i].y);
    const Point *lower = &placed->outline[last - i];
    double bottom = lower[0].y + part * (lower[-1].y - lower[0].y);
    *middle = (top + bottom) / 2;
    return (bottom - top) / 2;
}

/* How far the point lies off the nearest edge of the only strand, across the page. */
static double off_edges(const Placed *placed, Point point)
{
    double middle, half = half_height(placed, point.x, &middle), x = along(placed, point.x), least = INFINITY;
    for (uint32_t start = 0; start < placed->planned->starts; start++)
        for (uint32_t leg = 0; leg < leg_count(placed->planned); leg++)
            for (int edge = -1; edge <= 1; edge += 2) {
                double across = placed->planned->strands[0].width / 2 * edge;
                double turn = crosswrap_turn(placed->planned, start, (Leg)leg, across, x) - placed->facing;
                turn -= floor(turn + 0.5);
                double y = placed->view == VIEW_UNROLLED ? 2 * turn : sin(2 * TRADE_PI * turn);
                if (placed->view == VIEW_UNROLLED || fabs(turn) <= 0.2501)
                    least = fmin(least, fabs(middle + y * half - point.y));
                if (placed->view == VIEW_UNROLLED && fabs(turn) > 0.4999)
                    least = fmin(least, fabs(middle - y * half - point.y));
            }
    return least;
}

static Point on_curve(const Point *from, const Point *by, double u)
{
    double v = 1 - u;
    double a = v * v * v, b = 3 * v * v * u, c = 3 * v * u * u, d = u * u * u;
    return (Point){a * from->x + b * by[0].x + c * by[1].x + d * by[2].x,
                   a * from->y + b * by[0].y + c * by[1].y + d * by[2].y};
}

/* Every point of every edge, curved or straight, but for cuts across and along the axis. Returns how many were
 * looked at. */
static uint32_t check_edges(const Placed *placed, const Shape *area, double most)
{
    uint32_t looked = 0;
    const Point *at = area->points, *pen = NULL;
    for (uint32_t i = 0; i < area->trace_count; i++) {
        int kind = area->traces[i];
        const Point *end = kind == TRACE_CURVE ? at + 2 : at;
        double middle, half = half_height(placed, end->x, &middle);
        bool at_edge = kind == TRACE_LINE && fabs(fabs(end->y - middle) - half) < 0.006;
        bool cut = pen && (at_edge || fabs(end->x - pen->x) < 1e-6);
        for (int part = 1; kind != TRACE_BEGIN && !cut && part < 8; part++) {
            double u = part / 8.0;
            Point straight = {pen->x + u * (end->x - pen->x), pen->y + u * (end->y - pen->y)};
            Point point = kind == TRACE_CURVE ? on_curve(pen, at, u) : straight;
            if (point.x < placed->left || point.x > placed->right) /* below the end bands */
                continue;
            double off = off_edges(placed, point);
            if (off > most)
                fail_msg("%g mm off at %g, %g: %s from %g, %g to %g, %g", off, point.x, point.y,
                         kind == TRACE_CURVE ? "curve" : "line", pen->x, pen->y, end->x, end->y);
            looked++;
        }
        at = end + 1;
        pen = end;
    }
    assert_ptr_equal(at, area->points + area->point_count);
    return looked;
}

/* A strand's edges are where the plan has them, to 0.01 mm of the page, in both views and from any side. */
static void test_edges_are_exact(void **state)
{
    (void)state;
    static const char *const wraps[] = {
        "at 10 cm length: 80 mm { chevron crossings: 3 ends: 12 turns of navy { strand 1 of foam } }",
        ("at 19 cm toward: butt length: 90 mm {\n"
         "diamond crossings: 2 starts: 2 leads: [1, 2] ends: 3 mm of navy { strand 1 of foam } }"),
        "at 10 cm length: 80 mm { spiral turns: 2.5 turns starts: 2 ends: 3 mm of navy { strand 1 of foam } }",
    };
    static const double facings[] = {0, 37, 180, 301};
    uint32_t looked = 0;
    for (size_t i = 0; i < sizeof wraps / sizeof *wraps; i++) {
        Compilation *c = compile(wraps[i]);
        for (int turn = 0; turn < 4; turn++)
            for (int view = VIEW_SIDE; view <= VIEW_UNROLLED; view++) {
                const Drawing *drawing = draw_rod_turned(&c->arena, c->plan, 0, (View)view, 1, facings[turn]);
                Placed placed = placed_of(drawing, crosswrap_of(c), (View)view, facings[turn]);
                const Shape *area = group_of(drawing, false, 0) + 1;
                assert_non_null(area->traces);
                looked += check_edges(&placed, area, 0.01);
            }
        turnlay_free(c);
    }
    assert_true(looked > 2000);
}

/* Twice the signed area of each part; curves by their handles' polygon, which turns the same way. */
static void assert_one_sense(const Shape *area)
{
    const Point *at = area->points, *begin = at, *pen = at;
    double sum = 0;
    int sense = 0;
    for (uint32_t i = 0; i <= area->trace_count; i++) {
        int kind = i < area->trace_count ? area->traces[i] : TRACE_BEGIN;
        if (kind == TRACE_BEGIN && i) {
            sum += pen->x * begin->y - pen->y * begin->x;
            if (fabs(sum) > 1e-6) {
                assert_true(sense == 0 || sense == (sum > 0 ? 1 : -1));
                sense = sum > 0 ? 1 : -1;
            }
            sum = 0;
        }
        if (i == area->trace_count)
            break;
        for (int point = 0; point < (kind == TRACE_CURVE ? 3 : 1); point++, at++) {
            if (kind == TRACE_BEGIN)
                begin = at;
            else
                sum += pen->x * at->y - pen->y * at->x;
            pen = at;
        }
    }
    assert_int_not_equal(sense, 0);
}

/* Parts that turned unlike ways would cut holes into one another where the legs cross. */
static void test_parts_turn_one_way(void **state)
{
    (void)state;
    Compilation *c = compile("at 19 cm toward: butt length: 90 mm { under { band fill of navy }\n"
                             "over { diamond crossings: 3 starts: 2 ends: 3 mm of navy {\n"
                             "strand 2 of foam strand 2 of dusk strand 1 of navy } } }");
    for (int view = VIEW_SIDE; view <= VIEW_UNROLLED; view++) {
        const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, (View)view, 1);
        uint32_t areas = 0;
        for (uint32_t i = 0; i < drawing->shapes.count; i++)
            if (drawing->shapes.items[i].traces) {
                assert_one_sense(&drawing->shapes.items[i]);
                areas++;
            }
        assert_true(areas >= 3);
    }
    turnlay_free(c);
}

/* A group a strand line: in laying order, of the field's run, with its place in the source; spacers leave
 * nothing. */
static void test_groups_of_strand_lines(void **state)
{
    (void)state;
    Compilation *c = compile("at 10 cm length: 80 mm {\n diamond crossings: 3 ends: 12 turns of navy {\n"
                             "strand 3 of foam\nstrand 2 of spacer(navy)\nstrand 1 of navy } }");
    const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, VIEW_SIDE, 1);
    static const char *const titles[] = {"foam, 3 strands a bundle, line 11",
                                         "spacer navy, 4 strands a bundle, line 12",
                                         "navy, 2 strands a bundle, line 13"};
    for (uint32_t i = 0; i < 3; i++) {
        const Shape *group = group_of(drawing, false, i);
        assert_non_null(group);
        assert_string_equal(group->text, titles[i]);
        assert_int_equal(group->strand_line, i + 1);
        assert_int_equal(group->run, 1);
        assert_true(group->id != 0 && group->span.end != 0);
        assert_int_equal(group[1].kind, i == 1 ? SHAPE_GROUP_END : SHAPE_POLYGON);
    }
    assert_null(group_of(drawing, false, 3));
    assert_int_equal(group_of(drawing, true, 0)->strand_line, 0);
    turnlay_free(c);
}

/* Page y of the first text with these words in it; 0 if there is none. */
static double y_of_text(const Drawing *drawing, const char *part)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strstr(drawing->shapes.items[i].text, part))
            return drawing->shapes.items[i].at.y;
    return 0;
}

static bool has_text(const Drawing *drawing, const char *part) { return y_of_text(drawing, part) > 0; }

/* Page y of the text with these words that ends, or begins, where it stands; fails if there is none. */
static double text_y(const Drawing *drawing, const char *text, TextAlign align)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_TEXT && shape->align == align && strcmp(shape->text, text) == 0)
            return shape->at.y;
    }
    fail_msg("not in the picture: %s", text);
    return 0;
}

/* On the surface cut open the numbers of the clock at the butt's end, and of the crossings' lines at the tip's,
 * stand where a strand of that clock angle is drawn (test_edges_are_exact: two half heights a turn, downward). */
static void test_clock_numbers_and_strands(void **state)
{
    (void)state;
    Compilation *c = compile("at 80 cm length: 80 mm { chevron crossings: 3 ends: 12 turns of navy {\n"
                             "strand 1 of foam } }");
    const PlannedCrosswrap *planned = crosswrap_of(c);
    const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, VIEW_UNROLLED, 4);
    Placed placed = placed_of(drawing, planned, VIEW_UNROLLED, 0);
    double middle, half = half_height(&placed, placed.left, &middle),
                   ring = text_y(drawing, "0 rod's line", ALIGN_END);
    static const struct {
        const char *text;
        double turn;
    } numbers[] = {{"270", -0.25}, {"90", 0.25}};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        double y = middle + text_y(drawing, numbers[i].text, ALIGN_END) - ring;
        /* The strand passes this clock angle somewhere in the field: there its edge's middle is drawn at this y.
         */
        assert_true(fabs(y - middle - 2 * numbers[i].turn * half) < 0.1 * half);
    }
    uint32_t lines = crosswrap_line_count(planned);
    assert_true(lines >= 2);
    for (uint32_t i = 0; i < lines; i++) { /* the blank is thinner there */
        double turn = remainder(crosswrap_line_turn(planned, i), 1);
        const char *text = text_format(&c->arena, "%g", crosswrap_line_turn(planned, i) * 360);
        double y = middle + text_y(drawing, text, ALIGN_START) - ring;
        assert_true(fabs(y - middle - 2 * turn * half) < 0.3 * half);
    }
    turnlay_free(c);
}

/* What faces the viewer is said; guides are not turned. */
static void test_facing_is_said(void **state)
{
    (void)state;
    Compilation *c = compile("at 10 cm length: 80 mm { chevron crossings: 3 ends: 12 turns of navy {\n"
                             "strand 2 of foam } }\nat 30 cm { band 20 turns of navy }");
    const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, VIEW_SIDE, 1);
    assert_true(has_text(drawing, "the rod's line (0 deg) faces you"));
    assert_true(has_text(drawing, "chevron: 80.00 mm, 3 crossings every 25.33 mm, 2 strands a bundle"));
    assert_false(has_text(drawing, "90 deg faces you"));
    assert_true(has_text(draw_rod_turned(&c->arena, c->plan, 0, VIEW_SIDE, 1, 90), "90 deg faces you"));
    assert_false(has_text(draw_rod(&c->arena, c->plan, 0, VIEW_UNROLLED, 1), "faces you"));
    turnlay_free(c);
}

/* Every picture is filled from edge to edge: where the light falls on a wrap between whose strands the blank
 * shows, no paper shows. */
static void check_filled(const Drawing *drawing, uint32_t pictures)
{
    const Shape *blank = NULL;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_POLYGON && shape->fill == BARE) {
            blank = shape;
            pictures--;
        }
        if (!blank || shape->kind != SHAPE_POLYGON || shape->fill != NO_COLOUR || shape->shade != SHADE_CYLINDER)
            continue;
        for (int lower = 0; lower < 2; lower++) { /* at the left end of the picture */
            Point edge = blank->points[lower ? blank->point_count - 1 : 0];
            Point lit = shape->points[lower ? shape->point_count - 1 : 0];
            if (fabs(edge.x - lit.x) < 1e-9 && fabs(edge.y - lit.y) > 1e-9)
                fail_msg("at %g, %g the blank is drawn, at %g the light", edge.x, edge.y, lit.y);
        }
        assert_true(fabs(breadth(shape)) <= breadth(blank) + 1e-9);
    }
    assert_int_equal(pictures, 0);
}

/* What stands on a crosswrap's field has a picture of its own, and the crosswrap is seen there, as far as the
 * picture goes, without any group. */
static void test_what_stands_on_a_crosswrap(void **state)
{
    (void)state;
    Compilation *c =
        compile("at 10 cm length: 80 mm { chevron crossings: 3 ends: 12 turns of navy { strand 1 of foam } }\n"
                "at 12 cm { band 20 turns of dusk }  at 155 mm guide: ring { band fill of dusk }");
    for (int view = VIEW_SIDE; view <= VIEW_UNROLLED; view++) {
        const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, (View)view, 1);
        uint32_t groups[3] = {0}, place = 0, strands[3] = {0};
        double left = 0, right = 0;
        for (uint32_t i = 0; i < drawing->shapes.count; i++) {
            const Shape *shape = &drawing->shapes.items[i];
            if (shape->kind == SHAPE_POLYGON && shape->fill == BARE) {
                place = left > 0 ? place + 1 : 0;
                left = left_of(shape);
                right = left + breadth(shape);
            }
            if (shape->kind == SHAPE_GROUP_START) {
                assert_int_equal(shape->place, place);
                groups[place]++;
            }
            if (shape->kind != SHAPE_POLYGON || shape->fill != 0xdfe9ef || !shape->traces)
                continue;
            strands[place]++;
            assert_true(left_of(shape) >= left - 1e-9 && left_of(shape) + breadth(shape) <= right + 1e-9);
        }
        assert_int_equal(place, 2);
        assert_int_equal(groups[0], 4); /* two end bands, the field, a strand line */
        assert_int_equal(groups[1], 1);
        assert_int_equal(groups[2], 1);
        for (int p = 0; p < 3; p++)
            assert_true(strands[p] > 0);
        if (view == VIEW_SIDE)
            check_filled(drawing, 3);
    }
    turnlay_free(c);
}

/* Below the legend a picture says what is to be known to read it, and nothing of what is not in it. */
static void test_notes_are_of_what_is_there(void **state)
{
    (void)state;
    enum {
        TURNS = 1,
        CROSSINGS_SIDE = 2,
        CROSSINGS_UNROLLED = 4,
        GUIDE = 8,
        CLOCK = 16,
        SOLID = 32,
        THROUGH = 64,
        MEAN = 128,
        NOTES = 8
    };
    static const char *const notes[NOTES] = {
        "Numbers between wrap and ruler are turns. Thread colours are as under finish.",
        "Short ticks in a crosswrap's row are the crossings nearest to you.",
        "Short ticks in a crosswrap's row are the crossings on its middle line; red numbers are its crossing lines.",
        "A guide's frame and ring are only sketched; its foot is to scale.",
        "Degrees are clockwise seen from the butt; 0 is the rod's line.",
        "Strands are drawn as if they hid all below: what shows through them would be too much to draw.",
        "Strands through which something shows are drawn in the mean of their colours.",
        "Threads of several colours are drawn in their mean colour: the changes are too many to show."};
    static const struct {
        const char *places;
        View view;
        double facing;
        unsigned said;
    } cases[] = {
        {"at 30 cm { band 20 turns of navy }", VIEW_SIDE, NAN, TURNS},
        {"at 30 cm { band 20 turns of navy }", VIEW_SIDE, 90, TURNS | CLOCK},
        {"at 30 cm { band 20 turns of navy }", VIEW_UNROLLED, NAN, TURNS | CLOCK},
        {"at 30 cm { band 20 turns of dusk }", VIEW_SIDE, NAN, TURNS},
        {"at 30 cm length: 20 cm { band fill of blur }", VIEW_SIDE, NAN, TURNS | MEAN},
        {"at 30 cm guide: ring { band fill of navy }", VIEW_SIDE, NAN, TURNS | GUIDE},
        {"at 30 cm guide: ring { band fill of navy }", VIEW_UNROLLED, NAN, TURNS | CLOCK},
        {CROSSED, VIEW_SIDE, NAN, TURNS | CROSSINGS_SIDE | CLOCK},
        {HAZY("strand 1 of haze"), VIEW_SIDE, NAN, TURNS | CROSSINGS_SIDE | CLOCK},
        {HAZY("strand 1 of dream"), VIEW_SIDE, NAN, TURNS | CROSSINGS_SIDE | CLOCK | THROUGH},
        {HAZY("for i in 1 to 32 { strand 1 of haze strand 1 of foam }"), VIEW_SIDE, NAN,
         TURNS | CROSSINGS_SIDE | CLOCK | SOLID},
        {HAZY(
             "for i in 1 to 32 { strand 1 of haze strand 1 of foam }") " at 30 cm length: 80 mm { chevron crossings: 1 ends: "
                                                                       "12 turns of navy { strand 1 of dream } }",
         VIEW_SIDE, NAN, TURNS | CROSSINGS_SIDE | CLOCK | SOLID | THROUGH},
        {CROSSED, VIEW_UNROLLED, NAN, TURNS | CROSSINGS_UNROLLED | CLOCK},
        {CROSSED " at 30 cm guide: ring { band fill of navy }", VIEW_SIDE, 0,
         TURNS | CROSSINGS_SIDE | GUIDE | CLOCK},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *c = compile(cases[i].places);
        const Drawing *drawing = draw_rod_turned(&c->arena, c->plan, 0, cases[i].view, 1, cases[i].facing);
        double last = 0;
        for (int note = 0; note < NOTES; note++) {
            if (has_text(drawing, notes[note]) != (cases[i].said >> note & 1))
                fail_msg("case %zu, note %d", i, note);
            double line = y_of_text(drawing, notes[note]);
            assert_true(!line || line > last); /* in this order */
            last = fmax(last, line);
        }
        turnlay_free(c);
    }
}

/* Where its legs cross one another a strand line that hides a part is seen twice: its colour over the blank, and
 * over that once more, within the strip of the leg that was laid last. Nothing else is cut off. */
static void test_strands_seen_through(void **state)
{
    (void)state;
    Compilation *c = compile(HAZY("strand 1 of haze strand 1 of foam"));
    const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, VIEW_UNROLLED, 1);
    Light haze = light_of(0xdfe9ef), bare = light_of(BARE);
    uint32_t once = colour_of(light_over(haze, 0.4, bare));
    uint32_t twice = colour_of(light_over(haze, 0.4, light_over(haze, 0.4, bare)));
    uint32_t seen_once = 0, seen_twice = 0, cut = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        cut += shape->clip != NULL;
        seen_once += shape->clip && shape->fill == once;
        seen_twice += shape->clip && shape->clip->within && shape->fill == twice;
        assert_true(!shape->clip || shape->clip == drawing->clips.items[shape->clip->number]);
    }
    assert_int_equal(drawing->clips.count, 3); /* either leg, and of the one below within the one above */
    assert_int_equal(seen_once, 2);
    assert_int_equal(seen_twice, 1);
    assert_int_equal(cut, 3);
    turnlay_free(c);
}

/* The picture of the whole rod says so, too, and that of how the eye sees it; what goes to a customer does not. */
static void test_what_is_left_out_is_said(void **state)
{
    (void)state;
    static const struct {
        const char *strands;
        bool solid, mean;
    } cases[] = {{"strand 1 of haze", false, false},
                 {"strand 1 of dream", false, true},
                 {"for i in 1 to 32 { strand 1 of haze strand 1 of foam }", true, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char places[512];
        snprintf(places, sizeof places,
                 "at 10 cm length: 80 mm { chevron crossings: 1 ends: 12 turns of navy { %s } }",
                 cases[i].strands);
        Compilation *c = compile(places);
        for (int view = VIEW_ROD; view <= VIEW_PRESENTATION; view++) {
            const Drawing *drawing = draw_rod(&c->arena, c->plan, 0, (View)view, 1);
            assert_int_equal(has_text(drawing, NOTE_SOLID), view == VIEW_ROD && cases[i].solid);
            assert_int_equal(has_text(drawing, NOTE_MEAN), view == VIEW_ROD && cases[i].mean);
        }
        const Drawing *seen = draw_rod(&c->arena, c->plan, 0, VIEW_EYE, 1);
        assert_int_equal(has_text(seen, NOTE_SOLID), cases[i].solid);
        assert_int_equal(has_text(seen, NOTE_MEAN), cases[i].mean);
        turnlay_free(c);
    }
}

static void test_thread_colours(void **state)
{
    (void)state;
    uint32_t colours[] = {0x111111, 0x222222, 0x333333};
    Thread plain = {.colour = 0xabcdef}, dusk = {.colours = colours, .colour_count = 3, .period = 90};
    assert_int_equal(thread_colour_at(&plain, 1234.5), 0xabcdef);
    static const struct {
        double wound;
        uint32_t colour;
    } cases[] = {{0, 0x111111},      {29.999, 0x111111}, {30.001, 0x222222},  {60.001, 0x333333},
                 {89.999, 0x333333}, {90.001, 0x111111}, {9e6 + 45, 0x222222}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_int_equal(thread_colour_at(&dusk, cases[i].wound), cases[i].colour);
}

/* The crossings' line nearest to a clock angle, round the blank; of two as near the first. */
static void test_nearest_line(void **state)
{
    (void)state;
    Compilation *c = compile("at 80 cm length: 80 mm { diamond crossings: 3 starts: 2 ends: 12 turns of navy {\n"
                             "strand 1 of foam } }");
    const PlannedCrosswrap *planned = crosswrap_of(c);
    uint32_t lines = crosswrap_line_count(planned);
    assert_int_equal(lines, 4);
    double middle = 0.5 / lines;
    for (uint32_t i = 0; i < lines; i++)
        for (int near = -9; near <= 9; near++) {
            double turn = crosswrap_line_turn(planned, i) + middle * near / 10;
            assert_int_equal(nearest_line(planned, turn), i);
            assert_int_equal(nearest_line(planned, turn + 3), i);
        }
    assert_int_equal(nearest_line(planned, crosswrap_line_turn(planned, 0) + middle), 0);
    turnlay_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_edges_are_exact),
        cmocka_unit_test(test_parts_turn_one_way),
        cmocka_unit_test(test_groups_of_strand_lines),
        cmocka_unit_test(test_facing_is_said),
        cmocka_unit_test(test_strands_seen_through),
        cmocka_unit_test(test_what_is_left_out_is_said),
        cmocka_unit_test(test_thread_colours),
        cmocka_unit_test(test_clock_numbers_and_strands),
        cmocka_unit_test(test_what_stands_on_a_crosswrap),
        cmocka_unit_test(test_notes_are_of_what_is_there),
        cmocka_unit_test(test_nearest_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
