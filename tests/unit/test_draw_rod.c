/* The picture of a whole rod, measured back from its shapes and from what it is made of. Its pixels are measured
 * by tests/draw/. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "draw/rod/close_up.h"
#include "draw/rod/field.h"
#include "draw/picture/guide.h"
#include "draw/rod/labels.h"
#include "draw/rod/mean.h"
#include "draw/rod/reach.h"
#include "draw/rod/whole_rod.h"
#include "trade/trade.h"
#include "compilation.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char head[] =
    "edition 1\n"
    "thread navy { turns: 50 per cm, colour: #22346b }\n"
    "thread pale_blue { turns: 50 per cm, colour: #aabbcc }\n"
    "guide ring_for_fly { foot: 10 mm }\n"
    "thread foam { turns: 50 per cm, colour: #dfe9ef }\n"
    "thread veil { turns: 50 per cm, colour: #ff0000, opacity: 40 % }\n"
    "thread gold { turns: 50 per cm, colour: #c9a24a, sheen: metallic }\n"
    "thread chalk { turns: 50 per cm, colour: #cfc8b8, sheen: matt }\n"
    "bench { units: mm }\n"
    "guide ring6  { foot: 10 mm, gap: 4 mm, width: 1.4 mm, height: 0.5 mm, ramp: 4 mm, before: 3 mm }\n"
    "guide long  { foot: [20 cm, 20 cm], gap: 12 mm }\n"
    "guide ring25 { foot: [18 mm, 18 mm], gap: 12 mm, width: 2.6 mm, height: 0.9 mm, ramp: 6 mm, before: 4 mm,\n"
    "               ring: 25 mm, tall: 40 mm, frame: #c0a060, insert: #104020 }\n"
    "blank dull { sheen: matt, colour: #203040, at 0 mm: 14 mm  at 200 cm: 2 mm }\n"
    "blank bright { sheen: metallic, at 0 mm: 12 mm  at 50 cm: 10 mm }\n"
    "blank tube { at 0 mm: 14 mm  at 50 cm: 10 mm  at 200 cm: 2 mm }\n";

/* The blank of the rods that tests compile. */
static const char *on = "tube";

/* What every test has: a compiled rod, and the page it is drawn on. */
typedef struct Easel {
    Compilation *compilation;
    Canvas canvas;
    RodPage page;
    RodRows rows;
    CloseUps close_ups;
} Easel;

/* What that rod is called. */
static const char *called = "R";

static Easel *easel_start(const char *places, double scale, double facing, bool presentation)
{
    static Easel easel;
    char text[8192];
    int length = snprintf(text, sizeof text, "%srod \"%s\" on %s { %s }", head, called, on, places);
    assert_true(length < (int)sizeof text);
    easel.compilation = compilation_new(0);
    turnlay_give(easel.compilation, "test.lay", text, (size_t)length);
    assert_int_equal(turnlay_finish(easel.compilation), TURNLAY_DONE);
    easel.canvas = canvas_start(&easel.compilation->arena, easel.compilation->plan,
                                &easel.compilation->plan->rods[0], ALL_SECTIONS, VIEW_SIDE, scale, facing);
    easel.canvas.drawing->width = whole_rod_width(scale);
    easel.page = rod_page_make(&easel.canvas, presentation, 0);
    easel.rows = rows_make(&easel.page);
    easel.close_ups = close_ups_make(&easel.page, &easel.rows);
    return &easel;
}

static Easel *easel_of(const char *places) { return easel_start(places, 1, NAN, false); }

static Drawing *draw(Easel *easel, View view, double scale, double facing)
{
    return draw_rod_turned(&easel->compilation->arena, easel->compilation->plan, 0, view, scale, facing);
}

static bool says(const Drawing *drawing, const char *words)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strstr(drawing->shapes.items[i].text, words))
            return true;
    return false;
}

#define GUIDES                                                                                                    \
    "at 30 cm { band 20 mm of navy }\n"                                                                           \
    "at 150 cm from: tip guide: ring25 { band fill of navy }\n"                                                   \
    "at 60 cm from: tip guide: ring6 { band fill of navy }\n"                                                     \
    "at 40 cm from: tip guide: ring6 { band fill of navy }\n"                                                     \
    "at 20 cm from: tip guide: ring6 { band fill of foam }\n"

/* --- rows --- */

/* From butt to tip without a gap, each as long as the page has room for, none within a wrap. */
static void test_rows_cover_the_rod(void **state)
{
    (void)state;
    static const double scales[] = {0.5, 1, 2, 4, 30};
    static const uint32_t counts[] = {6, 3, 1, 1, 1};
    for (size_t s = 0; s < sizeof scales / sizeof *scales; s++) {
        Easel *easel = easel_start(GUIDES, scales[s], NAN, false);
        const RodRows *rows = &easel->rows;
        double longest = 0, at = 0;
        assert_int_equal(rows->count, counts[s]);
        for (uint32_t i = 0; i < rows->count; i++) {
            assert_true(rows->items[i].from == at && rows->items[i].to > at);
            longest = fmax(longest, rows->items[i].to - at);
            at = rows->items[i].to;
            assert_true(fabs(remainder(at, 10)) < 1e-9);
            for (uint32_t v = 0; v < easel->page.view_count; v++)
                assert_true(easel->page.views[v].inner_high < at || easel->page.views[v].inner_low > at);
            assert_int_equal(row_at(rows, at - 0.01), i);
        }
        assert_true(at == 2000);
        assert_true(rows->scale == 1 || fabs(longest * rows->scale - easel->page.room) < 1e-9);
        assert_true(rows->scale >= 0.18 && rows->scale <= 1);
        turnlay_free(easel->compilation);
    }
}

/* A wrap that fills the rod is broken all the same; no row is drawn larger than in truth. */
static void test_rows_without_a_bare_place(void **state)
{
    (void)state;
    Easel *easel = easel_of("at 1 cm length: 198 cm { band fill of navy }");
    assert_int_equal(easel->rows.count, 3);
    assert_true(fabs(easel->rows.items[0].to - 2000 / 3.0) <= 5);
    turnlay_free(easel->compilation);
}

/* Where parts follow one on the other, a row ends between two. */
static void test_rows_end_between_parts(void **state)
{
    (void)state;
    Easel *easel = easel_of("part one at 0 cm length: 701 mm { diameter: 20 mm }\n"
                            "part two at 701 mm length: 600 mm { diameter: 18 mm }\n"
                            "part three at 1301 mm length: 500 mm { diameter: 16 mm }");
    assert_int_equal(easel->rows.count, 3);
    assert_true(fabs(easel->rows.items[0].to - 701) < 1e-9 && fabs(easel->rows.items[1].to - 1301) < 1e-9);
    turnlay_free(easel->compilation);
}

/* --- guides --- */

static void test_guides_look_as_they_are(void **state)
{
    (void)state;
    Easel *easel = easel_of(GUIDES);
    const Guide *large = easel->page.views[1].places[0].place->guide;
    const Guide *small = easel->page.views[2].places[0].place->guide;
    GuideLook look = guide_look(large);
    assert_true(look.ring == 25 && look.tall == 40 && look.frame == 0xc0a060 && look.insert == 0x104020);
    Guide unsaid = *large;
    unsaid.ring = unsaid.tall = NAN;
    unsaid.frame = unsaid.insert = NO_COLOUR;
    look = guide_look(&unsaid);
    assert_true(fabs(look.ring - 24) < 1e-9 && fabs(look.tall - 36) < 1e-9); /* twice the gap */
    assert_int_equal(look.frame, STEEL);
    assert_true(look.insert != NO_COLOUR && look.insert != STEEL);
    assert_true(fabs(guide_look(small).ring - 6.4) < 1e-9); /* 1.6 times it */
    unsaid.gap = 100;
    assert_true(fabs(guide_look(&unsaid).ring - 1.4 * 18) < 1e-9); /* no more than suits the foot */
    unsaid.gap = 0;
    assert_true(fabs(guide_look(&unsaid).ring - 0.6 * 18) < 1e-9);
    unsaid.tall = 7;
    assert_true(guide_look(&unsaid).ring == 7 && guide_look(&unsaid).tall == 7);
    unsaid.ring = 5;
    assert_true(guide_look(&unsaid).ring == 5 && guide_look(&unsaid).tall == 7);
    turnlay_free(easel->compilation);
}

/* A ring of 25 mm whose top is 40 mm above the blank, from every side: the page y of its middle follows a sine, by
 * hand at the quarters. */
static void test_guides_from_every_side(void **state)
{
    (void)state;
    Easel *easel = easel_of(GUIDES);
    const PlaceView *view = &easel->page.views[1];
    double radius = 10 / 2.0,
           middle = radius + 40 - 12.5; /* the blank is 10 mm thick at its ring, 50 cm from the butt */
    const struct {
        double facing, up, down;
        bool behind;
    } cases[] = {{0.25, radius + 40, radius, false},
                 {0.75, radius, radius + 40, false},
                 {0, 12.5, 12.5, false},
                 {0.5, 12.5, 12.5, true},
                 {0.125, middle * sqrt(0.5) + 12.5, radius, false},
                 {0.375, middle * sqrt(0.5) + 12.5, radius, true},
                 {0.875, radius, middle * sqrt(0.5) + 12.5, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Reach reach = guide_reach(easel->page.canvas, view->places, cases[i].facing);
        assert_true(fabs(reach.up - cases[i].up) < 1e-9 && fabs(reach.down - cases[i].down) < 1e-9);
        assert_true(reach.low < 500 && reach.high > 500 && fabs(reach.low + reach.high - 1000) < 1e-9);
        assert_int_equal(guide_is_behind(view->places, cases[i].facing), cases[i].behind);
        Reach all = view_reach(&easel->page, view, cases[i].facing);
        assert_true(all.up >= reach.up && all.down >= reach.down && all.low <= view->inner_low);
    }
    turnlay_free(easel->compilation);
}

/* A guide that stands at an angle is seen as another is that stands at 0, from as far round; near by with its ring
 * on top. */
static void test_guides_at_an_angle(void **state)
{
    (void)state;
    Easel *easel = easel_of("at 50 cm guide: ring25 { band fill of navy }\n"
                            "at 70 cm guide: ring25 angle: 126 deg { band fill of navy }");
    const PlaceView *straight = &easel->page.views[0], *turned = &easel->page.views[1];
    for (double facing = 0; facing < 1; facing += 0.05) {
        assert_true(
            fabs(remainder(guide_lean(turned->places, facing + 0.35) - guide_lean(straight->places, facing), 1))
            < 1e-9);
        Reach one = guide_reach(&easel->canvas, straight->places, facing),
              other = guide_reach(&easel->canvas, turned->places, facing + 0.35);
        assert_true(fabs(one.up - other.up) < 1.5
                    && fabs(one.down - other.down) < 1.5); /* the blank is thinner there */
    }
    assert_true(guide_is_behind(turned->places, 0.25 + 0.5) && !guide_is_behind(turned->places, 0.25));
    assert_int_equal(easel->close_ups.list.count, 2); /* in two rows */
    assert_true(fabs(easel->close_ups.list.items[1].facing - 0.6) < 1e-9);
    turnlay_free(easel->compilation);
}

/* A foot 2 mm wide and 1 mm high on a blank of 10 mm, turned round: corners by hand. */
static void test_feet_from_every_side(void **state)
{
    (void)state;
    const Guide guide = {.width = 2, .height = 1};
    const struct {
        double lean, rise, up, down;
    } cases[] = {{0, 1, 6, -5},
                 {0, 0.5, 5.5, -5},
                 {0.5, 1, -5, 6},
                 {0.25, 1, 1, 1},
                 {0.25, 0.5, 0.5, 0.5},
                 {0.125, 1, 7 * sqrt(0.5), -4 * sqrt(0.5)},
                 {-0.125, 1, 7 * sqrt(0.5), -4 * sqrt(0.5)}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        OutlineEdge edge = foot_edge(&guide, 3, 5, cases[i].rise, cases[i].lean);
        assert_true(edge.x == 3 && fabs(edge.up - cases[i].up) < 1e-9 && fabs(edge.down - cases[i].down) < 1e-9);
    }
}

/* --- mean light --- */

static uint32_t mixed(uint32_t one, uint32_t other, double share)
{
    Light a = light_of(one), b = light_of(other);
    return colour_of((Light){a.red + share * (b.red - a.red), a.green + share * (b.green - a.green),
                             a.blue + share * (b.blue - a.blue)});
}

/* Cells of a layer on a frame of a quarter of true size, a pixel of 0.25 mm: 1 mm of the rod. */
static Cells cells_of(const Easel *easel, const Frame *frame, uint32_t bare)
{
    Cells cells = cells_make(&easel->compilation->arena, frame, 300, 340, 0.25);
    cells_lay(&cells, -INFINITY, INFINITY, bare);
    const PlannedPlace *place = easel->page.views[0].places;
    for (uint32_t i = 0; i < place->layer_count; i++)
        cells_wind(&cells, &place->layers[i]);
    return cells;
}

static uint32_t cell_at(const Cells *cells, double x)
{
    assert_true(x >= cells->low && x < cells->low + cells->count * cells->step);
    return cell_colour(cells, (uint32_t)((x - cells->low) / cells->step));
}

/* The closed formula: light times its share of the width. Turns are 0.2 mm wide, a cell holds five. Where two
 * layers end in one cell, the lower one shows by as much as an eighth of it. */
static void test_mean_light(void **state)
{
    (void)state;
    const Frame frame = {.left = 10, .low = 300, .scale = 0.25, .across = 0.25, .shown = 0.25};
    const uint32_t navy = 0x22346b, foam = 0xdfe9ef, bare = 0x404448;
    const struct {
        const char *wound;
        double at;
        uint32_t colour;
    } cases[] = {
        {"band 50 turns of navy", 5.5, navy},
        {"band 50 turns of navy", 10.5, bare},
        {"repeat 10 { band 5 turns of navy band 5 turns of foam }", 4.5, navy},
        {"repeat 10 { band 5 turns of navy band 5 turns of foam }", 5.5, foam},
        {"repeat 20 { band 2 turns of navy band 3 turns of foam }", 7.5, mixed(navy, foam, 0.6)},
        {"band 40 turns of [navy, foam]", 5.5, mixed(navy, foam, 0.5)},
        {"band 40 turns of [navy, spacer(foam)]", 5.5, mixed(navy, bare, 0.5)},
        {"band 50 turns of veil", 5.5, mixed(bare, 0xff0000, 0.4)},
        {"under { band 60 turns of navy } over { band 50 turns of veil }", 5.5, mixed(navy, 0xff0000, 0.4)},
        {"under { band 60 turns of navy } over { band 50 turns of foam }", 5.5, foam},
        {"under { band 60 turns of navy } over { band 50 turns of foam }", 11.5, navy},
        {"under { band 40 turns of foam } over offset: 3 mm { band 12 turns of navy gap 2 mm band 20 turns of navy }",
         5.5, mixed(foam, navy, 0.4)},
        {"under { band 52 turns of foam } over { band 52 turns of navy }", 10.3, mixed(bare, navy, 0.4)},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char place[256];
        snprintf(place, sizeof place, "at 30 cm { %s }", cases[i].wound);
        Easel *easel = easel_of(place);
        Cells cells = cells_of(easel, &frame, bare);
        assert_int_equal(cells.count, 40);
        assert_true(fabs(cells.step - 1) < 1e-12 && fabs(cells.low - 300) < 1e-9);
        uint32_t got = cell_at(&cells, 300 + cases[i].at), want = cases[i].colour;
        for (int shift = 0; shift < 24; shift += 8)
            assert_true(abs((int)(got >> shift & 0xff) - (int)(want >> shift & 0xff))
                        <= (cases[i].at == 10.3 ? 12 : 1));
        assert_int_equal(cells.wound[39], 0);
        turnlay_free(easel->compilation);
    }
}

/* What lies on the blank is laid in the parts that it covers, and no others. */
static void test_light_of_what_lies_on_the_blank(void **state)
{
    (void)state;
    Easel *easel = easel_of("at 30 cm { band 50 turns of veil }");
    const Frame frame = {.left = 10, .low = 300, .scale = 0.25, .across = 0.25, .shown = 0.25};
    Cells cells = cells_of(easel, &frame, 0x404448);
    cells_lay(&cells, 302.3, 305.5, 0x00ff00);
    cells_lay(&cells, 304, 304, 0x0000ff);
    cells_lay(&cells, 304, 303, 0x0000ff);
    const struct {
        double at;
        uint32_t colour;
    } wanted[] = {{300.5, mixed(0x404448, 0xff0000, 0.4)},
                  {302.5, mixed(mixed(0x404448, 0xff0000, 0.4), 0x00ff00, 0.7)},
                  {303.5, 0x00ff00},
                  {304.5, 0x00ff00},
                  {305.5, mixed(mixed(0x404448, 0xff0000, 0.4), 0x00ff00, 0.5)},
                  {320.5, 0x404448}};
    for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++) {
        uint32_t got = cell_at(&cells, wanted[w].at);
        for (int shift = 0; shift < 24; shift += 8)
            assert_true(abs((int)(got >> shift & 0xff) - (int)(wanted[w].colour >> shift & 0xff)) <= 1);
    }
    turnlay_free(easel->compilation);
}

/* Through a thread that hides only a part of what it lies on, rows show the same as close-ups: the blank of each
 * section, and what is wrapped over. */
static void test_rows_show_what_lies_below(void **state)
{
    (void)state;
    on = "[bright, dull] overlap: 5 cm";
    Easel *easel = easel_of("part decal at 20 cm length: 40 mm { colour: #00ff00, wrapped: yes }\n"
                            "part note at 70 cm length: 40 mm { wrapped: yes }\n"
                            "at 19 cm { band 60 mm of veil }\nat 69 cm { band 60 mm of veil }\n");
    on = "tube";
    const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
    double scale = easel->rows.scale;
    const struct {
        uint32_t below;
        double width; /* mm of the rod */
    } wanted[] = {{0x00ff00, 40}, {0x3a4143, 20}, {0x203040, 60}};
    for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++) {
        double widths[2] = {0}; /* in rows, and near by */
        int depth = 0;
        bool row = false;
        for (uint32_t i = 0; i < drawing->shapes.count; i++) {
            const Shape *shape = &drawing->shapes.items[i];
            if (shape->kind == SHAPE_GROUP_START && depth++ == 0)
                row = strstr(shape->text, "from the butt") && strstr(shape->text, " to ");
            depth -= shape->kind == SHAPE_GROUP_END;
            if (shape->kind != SHAPE_POLYGON || shape->fill == NO_COLOUR)
                continue;
            uint32_t want = mixed(wanted[w].below, 0xff0000, 0.4);
            int off = 0;
            for (int shift = 0; shift < 24; shift += 8)
                off |= abs((int)(shape->fill >> shift & 0xff) - (int)(want >> shift & 0xff)) > 1;
            if (!off && row)
                widths[0] += fabs(shape->points[shape->point_count / 2].x - shape->points[0].x) / scale;
            widths[1] += !off && !row;
        }
        assert_true(fabs(widths[0] - wanted[w].width) < 2.3); /* but for a pixel at either edge */
        assert_true(widths[1] > 0);
    }
    turnlay_free(easel->compilation);
}

/* Cells begin where pixels do, counted from the page's edge. */
static void test_cells_lie_on_pixels(void **state)
{
    (void)state;
    Easel *easel = easel_of("at 30 cm { band 50 turns of navy }");
    const Frame frame = {.left = 10.1, .low = 300, .scale = 0.5, .across = 0.5, .shown = 0.25};
    Cells cells = cells_make(&easel->compilation->arena, &frame, 300, 340, 0.25);
    assert_true(fabs(frame_x(&frame, cells.low) - 10) < 1e-9);
    assert_true(frame_x(&frame, cells.low + cells.count * cells.step) >= frame_x(&frame, 340) - 1e-9);
    assert_true(turns_are_fine(easel->page.views[0].places, 1, 0.2001));
    assert_false(turns_are_fine(easel->page.views[0].places, 1, 0.2));
    assert_true(turns_are_fine(easel->page.views[0].places, 0.5, 0.11));
    turnlay_free(easel->compilation);
}

/* Turns too narrow to be seen one by one, through which a crosswrap shows: on its host, or over it in its own
 * place. */
static void test_crosswraps_show_through_fine_turns(void **state)
{
    (void)state;
#define CROSSED "chevron crossings: 4 ends: 12 turns of navy { strand 6 of foam }"
    static const struct {
        const char *places;
        bool shows;
    } cases[] = {
        {"at 30 cm length: 100 mm { " CROSSED " }\nat 33 cm length: 30 mm { band fill of veil }", true},
        {"at 30 cm length: 100 mm { " CROSSED " }\nat 33 cm length: 30 mm { band fill of gold }", false},
        {"at 30 cm length: 100 mm { " CROSSED " }\n"
         "at 33 cm length: 30 mm { band 10 mm of gold  band fill of [veil, gold] }",
         true},
        {"at 30 cm length: 100 mm { under { " CROSSED " } over offset: 3 cm length: 3 cm { band fill of veil } }",
         true},
        {"at 30 cm length: 100 mm { under { band fill of veil } " CROSSED " }", false},
        {"at 30 cm length: 100 mm { band fill of veil }", false},
    };
    uint32_t through = colour_of(light_over(light_of(0xff0000), 0.4, light_of(0xdfe9ef)));
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Easel *easel = easel_of(cases[i].places);
        const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
        bool shows = false, seen = false;
        for (uint32_t v = 0; v < easel->page.view_count; v++)
            shows |= shows_crosswrap_below(easel->page.views[v].places);
        for (uint32_t k = 0; k < drawing->shapes.count; k++)
            seen |= drawing->shapes.items[k].fill == through;
        if (shows != cases[i].shows || (seen != shows && i != 2))
            fail_msg("%s: %d %d", cases[i].places, shows, seen);
        turnlay_free(easel->compilation);
    }
}

/* --- close-ups --- */

static void test_wraps_that_look_alike(void **state)
{
    (void)state;
    const struct {
        const char *one, *other;
        bool alike;
    } cases[] = {
        {"{ band 50 turns of navy }", "{ band 50 turns of navy }", true},
        {"{ band 50 turns of navy }", "{ band 54 turns of navy }", true},
        {"{ band 50 turns of navy }", "{ band 60 turns of navy }", false},
        {"{ band 12 turns of navy }", "{ band 14 turns of navy }", true},
        {"{ band 12 turns of navy }", "{ band 15 turns of navy }", false},
        {"{ band 50 turns of navy }", "{ band 50 turns of foam }", false},
        {"{ band 20 turns of navy band 20 turns of foam }",
         "toward: butt { band 20 turns of navy band 20 turns of foam }", true},
        {"{ band 20 turns of navy band 20 turns of foam }", "{ band 20 turns of foam band 20 turns of navy }",
         false},
        {"{ band 20 turns of navy }", "{ band 20 turns of navy band 20 turns of foam }", false},
        {"{ band 20 turns of [navy, foam] }", "{ band 20 turns of [navy, spacer(foam)] }", false},
        {"{ band 20 turns of navy gap 2 mm band 20 turns of navy }",
         "{ band 20 turns of navy gap 4 mm band 20 turns of navy }", false},
        {"{ under { band 20 turns of navy } over { band 20 turns of foam } }", "{ band 20 turns of navy }", false},
        {"length: 6 cm { chevron crossings: 3 ends: 12 turns of navy { strand 2 of foam } }",
         "length: 6 cm { chevron crossings: 3 ends: 12 turns of navy { strand 2 of foam } }", true},
        {"length: 6 cm { chevron crossings: 3 ends: 12 turns of navy { strand 2 of foam } }",
         "length: 6 cm { chevron crossings: 4 ends: 12 turns of navy { strand 2 of foam } }", false},
        {"length: 6 cm { chevron crossings: 3 ends: 12 turns of navy { strand 2 of foam } }",
         "length: 6 cm { diamond crossings: 3 ends: 12 turns of navy { strand 2 of foam } }", false},
        {"guide: ring6 { band fill of navy }", "guide: ring6 { band fill of navy }", true},
        {"guide: ring6 { band fill of navy }", "guide: ring25 { band fill of navy }", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char places[512];
        snprintf(places, sizeof places, "at 30 cm %s\nat 45 cm %s", cases[i].one, cases[i].other);
        Easel *easel = easel_of(places);
        assert_int_equal(look_alike(&easel->page.views[0], &easel->page.views[1]), cases[i].alike);
        assert_int_equal(easel->close_ups.list.count, cases[i].alike ? 1 : 2);
        assert_int_equal(easel->close_ups.list.items[0].like.count, cases[i].alike ? 2 : 1);
        turnlay_free(easel->compilation);
    }
}

static void test_what_close_ups_say(void **state)
{
    (void)state;
    Easel *easel = easel_of(GUIDES);
    const CloseUps *close_ups = &easel->close_ups;
    static const struct {
        uint32_t row, count;
        const char *words[3];
    } wanted[] = {{0, 1, {"wrap", "at 300 mm from the butt", "true size"}},
                  {0, 1, {"ring25", "at 1500 mm from the tip", "0.75 times true size"}},
                  {2, 2, {"ring6, 2 guides", "at 600 mm and 400 mm from the tip", "0.75 times true size"}},
                  {2, 1, {"ring6", "at 200 mm from the tip", "0.75 times true size"}}};
    assert_int_equal(close_ups->list.count, 4);
    for (uint32_t i = 0; i < close_ups->list.count; i++) {
        const CloseUp *close = &close_ups->list.items[i];
        assert_int_equal(close->row, wanted[i].row);
        assert_int_equal(close->like.count, wanted[i].count);
        for (uint32_t w = 0; w < 3; w++)
            assert_string_equal(close->words[w], wanted[i].words[w]);
        assert_true(close->low < close->view->inner_low && close->high > close->view->inner_high);
    }
    assert_int_equal(close_ups->left_out, 0);
    turnlay_free(easel->compilation);
}

/* A customer sees rings as they stand in the row, and reads how, also of a turned rod. */
static void test_rings_of_a_presentation_stand_as_they_do(void **state)
{
    (void)state;
    static const struct {
        double facing; /* degrees */
        const char *words[9];
    } wanted[] = {{NAN,
                   {"ring on top", "ring on top, toward you", "ring on top, toward you", "ring toward you",
                    "ring below, toward you", "ring below", "ring below, on the far side", "ring on the far side",
                    "ring on top, on the far side"}},
                  {180,
                   {"ring on the far side", "ring on top, on the far side", "ring on top, on the far side",
                    "ring on top", "ring on top, toward you", "ring toward you", "ring below, toward you",
                    "ring below", "ring below, on the far side"}}};
    static const double angles[] = {0, 30, 60, 90, 130, 180, 240, 270, 330};
    char places[1024] = "at 30 cm { band 20 mm of navy }\n";
    for (int i = 0; i < 9; i++)
        snprintf(places + strlen(places), sizeof places - strlen(places),
                 "at %d cm angle: %g deg guide: ring6 { band fill of navy }\n", 40 + 10 * i, angles[i]);
    for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++) {
        Easel *easel = easel_start(places, 1, wanted[w].facing, true);
        const CloseUps *close_ups = &easel->close_ups;
        assert_int_equal(close_ups->list.count, 10);
        assert_null(close_ups->list.items[0].words[1]);
        for (uint32_t i = 0; i < 9; i++) {
            const CloseUp *close = &close_ups->list.items[i + 1];
            assert_string_equal(close->words[1], wanted[w].words[i]);
            assert_null(close->words[2]);
            assert_true(close->facing == (w ? 0.5 : 0.25));
            /* a ring that hangs takes room below */
            if (!w && i == 5)
                assert_true(close->down > close->up + 4);
        }
        turnlay_free(easel->compilation);
    }
    Easel *easel = easel_start(places, 1, NAN, false);
    assert_string_equal(easel->close_ups.list.items[3].words[2], "1.25 times true size, 150 deg toward you");
    turnlay_free(easel->compilation);
    easel = easel_start(GUIDES, 1, NAN, true);
    assert_null(easel->close_ups.list.items[1].words[1]);
    turnlay_free(easel->compilation);
}

static void test_places_of_many_guides_are_named_shortly(void **state)
{
    (void)state;
    char places[1024] = "";
    for (int i = 0; i < 7; i++)
        snprintf(places + strlen(places), sizeof places - strlen(places),
                 "at %d mm from: tip guide: ring6 { band fill of navy }\n", 100 + 40 * i);
    Easel *easel = easel_of(places);
    assert_int_equal(easel->close_ups.list.count, 1);
    assert_string_equal(easel->close_ups.list.items[0].words[0], "ring6, 7 guides");
    assert_string_equal(easel->close_ups.list.items[0].words[1], "at 340 mm to 100 mm from the tip");
    turnlay_free(easel->compilation);
}

/* Guides are of one magnification in all rows, others of a row's own; one without room for that is smaller. */
static void test_guides_are_of_one_magnification(void **state)
{
    (void)state;
    static const struct {
        const char *places;
        double scales[4]; /* of close-ups from butt to tip */
    } wanted[] = {
        {"at 15 cm { band 20 mm of navy }\nat 90 cm guide: ring25 { band fill of navy }\n"
         "at 160 cm guide: ring6 { band fill of navy }\nat 170 cm { band 12 mm of navy }",
         {2, 0.75, 0.75, 1}},
        {"at 30 cm guide: ring6 { band fill of navy }\nat 160 cm guide: ring6 { band fill of foam }", {2, 2}},
        /* of which the last is longer than the page */
        {"at 90 cm guide: ring6 { band fill of navy }\n"
         "at 150 cm guide: long { band fill of navy }",
         {0.75, 0.45}},
    };
    for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++)
        for (int presentation = 0; presentation < 2; presentation++) {
            Easel *easel = easel_start(wanted[w].places, 1, NAN, presentation);
            assert_int_equal(easel->close_ups.list.count, w ? 2 : 4);
            for (uint32_t i = 0; i < easel->close_ups.list.count; i++)
                assert_true(fabs(easel->close_ups.list.items[i].scale - wanted[w].scales[i]) < 0.01);
            turnlay_free(easel->compilation);
        }
}

/* Two wraps that begin at one mark, one worked each way, are two ways and not two marks. */
static void test_places_at_one_mark(void **state)
{
    (void)state;
    static const struct {
        const char *places, *words;
    } wanted[] = {{"at 300 mm { band 5 mm of navy }\nat 300 mm toward: butt { band 5 mm of navy }\n",
                   "at 300 mm from the butt, toward the butt and toward the tip"},
                  {"at 300 mm { band 5 mm of navy }\nat 300 mm toward: butt { band 5 mm of navy }\n"
                   "at 330 mm { band 5 mm of navy }\nat 360 mm { band 5 mm of navy }\n",
                   "at 300 mm both ways, 330 mm and 360 mm from the butt"},
                  {"at 270 mm { band 5 mm of navy }\n"
                   "at 300 mm { band 5 mm of navy }\nat 300 mm toward: butt { band 5 mm of navy }\n",
                   "at 270 mm and 300 mm both ways from the butt"},
                  {"at 300 mm { band 5 mm of navy }\n", "at 300 mm from the butt"},
                  {"at 290 mm { band 5 mm of navy }\nat 300 mm toward: butt { band 5 mm of navy }\n",
                   "at 290 mm and 300 mm from the butt"}};
    for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++) {
        Easel *easel = easel_of(wanted[w].places);
        assert_int_equal(easel->close_ups.list.count, 1);
        assert_string_equal(easel->close_ups.list.items[0].words[1], wanted[w].words);
        turnlay_free(easel->compilation);
    }
}

/* So many wraps that nobody looks at them all: the rest is counted, and said. */
static void test_too_many_close_ups(void **state)
{
    (void)state;
    static const char *const threads[] = {"navy", "foam", "veil"};
    char places[8000] = "";
    for (int i = 0; i < 30; i++)
        snprintf(places + strlen(places), sizeof places - strlen(places),
                 "at %d mm { band 8 turns of %s band 8 turns of %s band 8 turns of %s band 8 turns of %s }\n",
                 20 + 20 * i, threads[i % 3], threads[i / 3 % 3], threads[i / 9 % 3], threads[i / 27]);
    Easel *easel = easel_of(places);
    uint32_t shown = 0;
    for (uint32_t i = 0; i < easel->close_ups.list.count; i++)
        shown += easel->close_ups.list.items[i].like.count;
    assert_true(easel->close_ups.left_out > 0);
    assert_int_equal(shown + easel->close_ups.left_out, 30);
    char words[64];
    snprintf(words, sizeof words, "%u more wraps are not shown from near by.", easel->close_ups.left_out);
    assert_true(says(draw(easel, VIEW_ROD, 1, NAN), words));
    turnlay_free(easel->compilation);
}

/* --- the whole drawing --- */

/* All that is drawn lies on the page; titles, rows and close-ups are groups with words. */
static void test_all_lies_on_the_page(void **state)
{
    (void)state;
    static const double scales[] = {0.01, 0.6, 1, 3}, facings[] = {NAN, 0, 130, 270};
    Easel *easel = easel_of(
        GUIDES "at 80 cm length: 10 cm { chevron crossings: 3 ends: 12 turns of navy { strand 2 of foam } }");
    for (size_t s = 0; s < 4; s++)
        for (size_t f = 0; f < 4; f++)
            for (int view = VIEW_ROD; view <= VIEW_PRESENTATION; view++) {
                const Drawing *drawing = draw(easel, (View)view, scales[s], facings[f]);
                uint32_t groups = 0;
                assert_true(drawing->width == whole_rod_width(scales[s]));
                assert_true(drawing->width
                            == rod_drawing_width(&easel->compilation->arena, easel->compilation->plan, 0,
                                                 (View)view, scales[s]));
                for (uint32_t i = 0; i < drawing->shapes.count; i++) {
                    const Shape *shape = &drawing->shapes.items[i];
                    groups += shape->kind == SHAPE_GROUP_START && shape->text && *shape->text;
                    for (uint32_t p = 0; p < shape->point_count; p++)
                        assert_true(shape->points[p].x >= 0 && shape->points[p].x <= drawing->width
                                    && shape->points[p].y >= 0 && shape->points[p].y <= drawing->height);
                    if (shape->kind == SHAPE_TEXT)
                        assert_true(shape->at.x >= 0 && shape->at.x < drawing->width && shape->at.y > 0
                                    && shape->at.y < drawing->height);
                }
                assert_true(groups
                            >= 5 + 2 * (scales[s] < 3)); /* five close-ups, the rod, and above rows all of it */
            }
    turnlay_free(easel->compilation);
}

/* A customer reads names alone: no counts, no lengths, no word of the bench. */
static void test_a_presentation_is_for_customers(void **state)
{
    (void)state;
    static const char *const bench[] = {"mark", "turn",    " mm",     "true size", "butt",
                                        "tip",  "file id", "#22346b", "underwrap"};
    Easel *easel = easel_of(GUIDES);
    const Drawing *drawing = draw(easel, VIEW_PRESENTATION, 1, NAN);
    for (size_t i = 0; i < sizeof bench / sizeof *bench; i++)
        assert_false(says(drawing, bench[i]));
    assert_true(says(drawing, "R") && says(drawing, "ring25") && says(drawing, "ring6, 2 guides"));
    assert_true(says(drawing, "navy") && says(drawing, "foam"));
    drawing = draw(easel, VIEW_ROD, 1, NAN);
    assert_true(says(drawing, "the whole rod") && says(drawing, "file id") && says(drawing, "#22346b"));
    assert_true(says(drawing, "0 mm to 670 mm from the butt"));
    assert_false(says(drawing, "faces you"));
    assert_true(says(draw(easel, VIEW_ROD, 1, 40), "What faces you lies at 40 deg"));
    turnlay_free(easel->compilation);
}

static const Shape *text_shape(const Drawing *drawing, const char *words)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, words) == 0)
            return &drawing->shapes.items[i];
    return NULL;
}

/* Page y of the highest thing that is drawn at x below y. */
static double top_at(const Drawing *drawing, double x, double y)
{
    double top = INFINITY;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        double low = INFINITY, high = -INFINITY, here = INFINITY;
        for (uint32_t p = 0; shape->kind == SHAPE_POLYGON && p < shape->point_count; p++) {
            low = fmin(low, shape->points[p].x);
            high = fmax(high, shape->points[p].x);
            here = fmin(here, shape->points[p].y);
        }
        if (low <= x && x <= high && here > y)
            top = fmin(top, here);
    }
    return top;
}

static bool is_pointer(const Shape *shape)
{
    return shape->kind == SHAPE_LINE && shape->point_count >= 4 && shape->stroke == GREY_INK;
}

/* The line to a close-up ends at what it shows, be that one wrap or several, and runs through no number of the
 * ruler, of which none is left out. */
static void test_lines_to_close_ups(void **state)
{
    (void)state;
    Easel *easel = easel_of(GUIDES "at 170 cm { band 9 mm of navy band 2 mm of foam }");
    const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
    uint32_t pointers = 0, numbers = 0;
    for (uint32_t i = 0; i < easel->close_ups.list.count; i++) {
        const CloseUp *close = &easel->close_ups.list.items[i];
        bool beside = strncmp(close->words[0], "ring6", 5) == 0; /* the ring stands before the middle */
        assert_true(beside ? close->rise < close->up - 4 : close->rise > close->up - 1e-9);
    }
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *one = &drawing->shapes.items[i];
        if (is_pointer(one)) {
            Point end = one->points[one->point_count - 1];
            assert_true(fabs(top_at(drawing, end.x, end.y) - end.y) < 2);
            pointers++;
        }
        if (one->kind != SHAPE_TEXT || one->align != ALIGN_MIDDLE
            || strspn(one->text, "0123456789") != strlen(one->text))
            continue;
        numbers++;
        for (uint32_t j = 0; j < drawing->shapes.count; j++) {
            const Shape *line = &drawing->shapes.items[j];
            for (uint32_t p = 1; line->kind == SHAPE_LINE && p < line->point_count; p++)
                for (double part = 0; part <= 1; part += 1 / 64.0) {
                    double x = line->points[p - 1].x + part * (line->points[p].x - line->points[p - 1].x);
                    double y = line->points[p - 1].y + part * (line->points[p].y - line->points[p - 1].y);
                    assert_false(fabs(x - one->at.x) < text_width(one->text, one->size) / 2
                                 && y > one->at.y - one->size * 0.75 && y < one->at.y);
                }
        }
    }
    assert_int_equal(pointers, 6);
    assert_int_equal(numbers, 41); /* each 50 mm up to 2000 mm; no row ends at one */
    turnlay_free(easel->compilation);
}

/* Titles, and what is said below the rod, have as many lines as the page needs, with every word. */
static void test_long_words_stay_on_the_page(void **state)
{
    (void)state;
    static const struct {
        const char *called, *first;
    } titles[] = {{"A rod for a long summer of slow water and of quiet evenings",
                   "A rod for a long summer of slow water and of"},
                  {"Rod-for-a-long-summer-of-slow-water-and-of-quiet-evenings-99",
                   "Rod-for-a-long-summer-of-slow-water-and-of-qui"}};
    for (size_t t = 0; t < sizeof titles / sizeof *titles; t++)
        for (int narrow = 0; narrow < 2; narrow++)
            for (int view = VIEW_ROD; view <= VIEW_PRESENTATION; view++) {
                called = titles[t].called;
                Easel *easel = easel_of(GUIDES);
                const Drawing *drawing = draw(easel, (View)view, narrow ? 0.01 : 1, NAN);
                char title[256] = "";
                double below = 0;
                for (uint32_t i = 0; i < drawing->shapes.count; i++) {
                    const Shape *shape = &drawing->shapes.items[i];
                    if (shape->kind != SHAPE_TEXT || shape->align != ALIGN_START)
                        continue;
                    assert_true(shape->at.x + text_width(shape->text, shape->size)
                                <= drawing->width - EDGE + 1e-9);
                    if (i < drawing->body) {
                        assert_true(shape->at.y >= below + shape->size);
                        below = shape->at.y;
                        strcat(strcat(title, *title && !t ? " " : ""), shape->text);
                    }
                }
                assert_string_equal(title, called);
                assert_true(narrow || view == VIEW_ROD || text_shape(drawing, titles[t].first));
                turnlay_free(easel->compilation);
            }
    called = "R";
}

/* Names are read with blanks, wherever a picture says them; notes are said as they are written. */
static void test_names_are_read_with_blanks(void **state)
{
    (void)state;
    static const struct {
        View view;
        const char *words[5];
    } wanted[] = {
        {VIEW_ROD, {"fore grip: as_is", "ring for fly, 2 guides", "pale blue, #aabbcc"}},
        {VIEW_PRESENTATION, {"ring for fly, 2 guides", "pale blue"}},
        {VIEW_SIDE, {"ring for fly at 400 mm", "pale blue, #aabbcc", "fore grip: as_is", "pale blue 40"}}};
    Easel *easel = easel_of("part fore_grip at 39 cm length: 10 cm { wrapped: yes, note: \"as_is\" }\n"
                            "at 40 cm guide: ring_for_fly { band 8 mm of pale_blue }\n"
                            "at 50 cm guide: ring_for_fly { band 8 mm of pale_blue }");
    for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++) {
        const Drawing *drawing = draw(easel, wanted[w].view, 4, NAN);
        for (int i = 0; i < 5 && wanted[w].words[i]; i++)
            assert_true(says(drawing, wanted[w].words[i]));
        for (uint32_t i = 0; i < drawing->shapes.count; i++)
            if (drawing->shapes.items[i].text && drawing->shapes.items[i].kind == SHAPE_TEXT)
                assert_true(!strchr(drawing->shapes.items[i].text, '_')
                            || strstr(drawing->shapes.items[i].text, "as_is"));
    }
    turnlay_free(easel->compilation);
}

/* Close-ups of a row do not overlap, nor do their words, however many there are. */
static void test_close_ups_stand_apart(void **state)
{
    (void)state;
    char places[4096] = "";
    for (int i = 0; i < 12; i++)
        snprintf(places + strlen(places), sizeof places - strlen(places),
                 "at %d mm { band %d turns of navy band %d turns of foam }\n", 150 + 36 * i, 60 + 7 * i % 40,
                 5 + i * 2);
    Easel *easel = easel_of(places);
    const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
    uint32_t pairs = 0;
    for (uint32_t a = 0; a < drawing->shapes.count; a++)
        for (uint32_t b = 0; b < a; b++) {
            const Shape *one = &drawing->shapes.items[a], *other = &drawing->shapes.items[b];
            if (one->kind != SHAPE_TEXT || other->kind != SHAPE_TEXT || one->align != ALIGN_MIDDLE
                || other->align != ALIGN_MIDDLE || fabs(one->at.y - other->at.y) > 0.5)
                continue;
            double apart = (text_width(one->text, one->size) + text_width(other->text, other->size)) / 2;
            assert_true(fabs(one->at.x - other->at.x) >= apart - 1e-6);
            pairs++;
        }
    assert_true(pairs > 20);
    assert_non_null(text_shape(drawing, "wrap"));
    turnlay_free(easel->compilation);
}

/* Where the picture has more pixels, single turns are drawn; with fewer the picture has fewer parts. */
static void test_pixels_decide_what_is_seen(void **state)
{
    (void)state;
    Easel *easel = easel_of("at 30 cm { repeat 40 { band 1 turns of navy  band 1 turns of foam } }");
    Arena *arena = &easel->compilation->arena;
    const Plan *plan = easel->compilation->plan;
    uint32_t usual =
        draw_in_pixels(arena, plan, 0, ALL_SECTIONS, VIEW_ROD, 1, NAN, 0, VISION_ALL_CONES)->shapes.count;
    uint32_t same =
        draw_in_pixels(arena, plan, 0, ALL_SECTIONS, VIEW_ROD, 1, NAN, 210 * 96 / 25.4, VISION_ALL_CONES)
            ->shapes.count;
    uint32_t many =
        draw_in_pixels(arena, plan, 0, ALL_SECTIONS, VIEW_ROD, 1, NAN, 210 * 40.0, VISION_ALL_CONES)->shapes.count;
    assert_int_equal(usual, same);
    assert_true(many > usual + 40);
    turnlay_free(easel->compilation);
}

/* A crosswrap in a picture of known pixels: each pixel against a second mean, of many points of crosswrap_shows.
 */
static void test_fields_in_pixels(void **state)
{
    (void)state;
    enum { MANY = 24 };
    Easel *easel = easel_of("at 30 cm length: 60 mm { under { band fill of navy }\n"
                            "chevron crossings: 3 ends: 12 turns of navy { strand 3 of foam } }");
    Canvas *canvas = &easel->canvas;
    Arena *arena = canvas->arena;
    const PlannedPlace *place = easel->page.views[0].places;
    const PlannedCrosswrap *planned = place->layers[1].crosswrap;
    const Frame frame = {
        .left = 10, .low = 300, .axis = 20.05, .scale = 0.5, .across = 0.5, .facing = 0.1, .shown = 0.25};
    Cells cells = cells_make(arena, &frame, 300, 360, 0.25);
    cells_lay(&cells, 0, 500, 0x404040);
    cells_wind(&cells, &place->layers[0]);
    Surface surface;
    surface_start(&surface, arena, canvas->rod->surface, NULL, place, 1, 300, 360);
    OutlineCut cut = {place, 1, UINT32_MAX, 0, false, 0};
    assert_true(field_is_fine(planned, &frame, 0.25));
    assert_false(field_is_fine(planned, &frame, 0.05));
    uint32_t first = canvas->drawing->shapes.count, pixels = 0;
    draw_field(canvas, &frame, &surface, &cut, planned, &cells, 310, 350);
    double most = 0;
    for (uint32_t i = first; i < canvas->drawing->shapes.count; i++) {
        const Shape *shape = &canvas->drawing->shapes.items[i];
        double x = shape->points[0].x + 0.125, y = floor(shape->points[0].y / 0.25 + 1e-9) * 0.25;
        double radius = surface_edge(&surface, &cut, 300 + (x - 10) / 0.5, 300 + (x - 10) / 0.5).down * 0.5;
        assert_true(shape->points[0].x >= 10 + 5 - 1e-9 && shape->points[1].x <= 10 + 25 + 1e-9);
        if (fabs(y + 0.125 - 20.05) > radius * 0.8)
            continue; /* near the edges points crowd */
        double foam = 0;
        for (int a = 0; a < MANY; a++)
            for (int b = 0; b < MANY; b++) {
                SeenStrand seen;
                double along = 300 + (x - 0.125 + (a + 0.5) / MANY * 0.25 - 10) / 0.5;
                double off = (y + (b + 0.5) / MANY * 0.25 - 20.05) / radius;
                foam += crosswrap_shows(planned, along, 0.1 + asin(off) / (2 * TRADE_PI), &seen);
            }
        double got = light_of(shape->fill).red, want = light_of(mixed(0x22346b, 0xdfe9ef, foam / MANY / MANY)).red;
        most = fmax(most, fabs(got - want));
        assert_true(fabs(got - want) < 0.2); /* nine points against many */
        pixels++;
    }
    assert_true(pixels > 300 && most > 0);
    turnlay_free(easel->compilation);
}

/* Light by what is on top: where metallic or matt thread is wound, and no further. */
static void test_light_goes_by_the_sheen(void **state)
{
    (void)state;
    const struct {
        const char *place;
        double metallic, matt; /* widths lit so, mm of the rod */
    } cases[] = {
        {"at 30 cm { band 100 turns of navy }", 0, 0},
        {"at 30 cm { band 50 turns of navy band 20 turns of gold band 50 turns of navy }", 4, 0},
        {"at 30 cm { band 50 turns of chalk band 20 turns of gold band 50 turns of navy }", 4, 10},
        {"at 30 cm toward: butt { band 50 turns of chalk band 20 turns of gold }", 4, 10},
        {"at 30 cm { under { band 100 turns of gold } over { band 60 turns of navy } }", 8, 0},
        {"at 30 cm { under { band 100 turns of gold } over { band 30 turns of navy gap 3 mm band 20 turns of chalk } }",
         10, 4},
        {"at 30 cm { band 100 turns of navy { inlay 20 turns of gold at: 1/2 } }", 4, 0},
        {"at 30 cm guide: ring6 { band fill of gold }", 13, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Easel *easel = easel_of(cases[i].place);
        const Drawing *drawing = draw(easel, VIEW_SIDE, 2, NAN);
        double widths[SHADE_COUNT] = {0};
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            if (shape->kind == SHAPE_POLYGON && shape->fill == NO_COLOUR && shape->shade != SHADE_FLAT)
                widths[shape->shade] += fabs(shape->points[shape->point_count / 2].x - shape->points[0].x) / 2;
        }
        assert_true(fabs(widths[SHADE_METALLIC] - cases[i].metallic) < 1e-6);
        assert_true(fabs(widths[SHADE_MATT] - cases[i].matt) < 1e-6);
        assert_true(widths[SHADE_CYLINDER] > 0);
        turnlay_free(easel->compilation);
    }
}

/* A blank has its own light, each section its own. */
static void test_light_on_blanks(void **state)
{
    (void)state;
    on = "[bright, dull] overlap: 5 cm";
    Easel *easel = easel_of("at 80 cm { band 50 turns of navy }");
    on = "tube";
    const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
    double widths[SHADE_COUNT] = {0}, whole = 0;
    for (uint32_t s = 0; s < drawing->shapes.count; s++) {
        const Shape *shape = &drawing->shapes.items[s];
        if (shape->kind == SHAPE_GROUP_END)
            break; /* behind the first line, which shows all of it */
        if (shape->kind == SHAPE_POLYGON && shape->fill == NO_COLOUR && shape->shade != SHADE_FLAT)
            widths[shape->shade] += fabs(shape->points[shape->point_count / 2].x - shape->points[0].x);
    }
    for (int shade = 0; shade < SHADE_COUNT; shade++)
        whole += widths[shade];
    assert_true(fabs(whole - easel->page.room) < 1e-6);
    assert_true(fabs(widths[SHADE_METALLIC] / whole - 450 / 2450.0) < 1e-6); /* up to the joint */
    assert_true(fabs(widths[SHADE_CYLINDER] / whole - 10 / 2450.0) < 1e-6);
    turnlay_free(easel->compilation);
}

/* Parts are as long and as thick as they are, wherever a row shows them; one is not parted where a row may end
 * elsewhere. */
static void test_parts_are_to_scale(void **state)
{
    (void)state;
    Easel *easel =
        easel_of("part grip at 0 cm length: 24 cm { diameter: [24 mm, 30 mm], colour: #7a5a3a }\n"
                 "part hook at 60 cm length: 10 cm { diameter: 16 mm, colour: #112233 }\n"
                 "part sleeve at 90 cm length: 4 cm { diameter: 12 mm, colour: #445566, wrapped: yes }\n"
                 "at 120 cm { band 50 turns of navy }");
    const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
    double scale = easel->rows.scale, widest[3] = {0}, thickest[3] = {0};
    const uint32_t colours[] = {0x7a5a3a, 0x112233, 0x445566};
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        for (int c = 0; c < 3; c++) {
            const Shape *shape = &drawing->shapes.items[i];
            double low = INFINITY, high = -INFINITY, top = INFINITY, bottom = -INFINITY;
            for (uint32_t p = 0;
                 shape->kind == SHAPE_POLYGON && shape->fill == colours[c] && p < shape->point_count; p++) {
                low = fmin(low, shape->points[p].x);
                high = fmax(high, shape->points[p].x);
                top = fmin(top, shape->points[p].y);
                bottom = fmax(bottom, shape->points[p].y);
            }
            widest[c] = fmax(widest[c], high - low);
            thickest[c] = fmax(thickest[c], bottom - top);
        }
    assert_int_equal(easel->rows.count, 3);
    assert_true(fabs(widest[0] - 240 * scale) < 1e-6 && fabs(thickest[0] - 30 * scale) < 1e-6);
    assert_true(fabs(widest[1] - 100 * scale) < 1e-6 && fabs(thickest[1] - 16 * scale) < 1e-6);
    assert_true(fabs(widest[2] - 40 * scale) < 1e-6 && fabs(thickest[2] - 12 * scale) < 1e-6);
    for (uint32_t i = 0; i + 1 < easel->rows.count; i++)
        assert_true(easel->rows.items[i].to <= 600 || easel->rows.items[i].to >= 700);
    turnlay_free(easel->compilation);
}

/* No words run over others, nor over a line that goes down to the rod; a customer has none. */
static void test_labels_keep_clear(void **state)
{
    (void)state;
    char places[4096] = "at 150 cm { band 50 turns of navy }\n";
    static const int at[] = {20, 60, 75, 90, 300, 480, 560, 600, 640, 655};
    for (int i = 0; i < 10; i++)
        snprintf(places + strlen(places), sizeof places - strlen(places), "part p%d at %d mm { note: \"%.*s\" }\n",
                 i, at[i], 4 + 5 * i % 23, "as much as may be said of it here");
    Easel *easel = easel_of(places);
    const Frame frame = {easel->page.left, 0, 30, easel->rows.scale, easel->rows.scale, 0.25, 0.25};
    RowLabels labels = labels_make(&easel->page, &frame, easel->rows.items[0]);
    assert_int_equal(labels.list.count + labels.left_out, 10);
    assert_true(labels.left_out <= 2);
    bool leftward = false;
    for (uint32_t i = 0; i < labels.list.count; i++) {
        const RowLabel *one = &labels.list.items[i];
        double left = one->leftward ? one->x - one->width : one->x, right = left + one->width;
        assert_true(fabs(one->x - frame_x(&frame, at[one->number])) < 1e-9 && one->lane < labels.lanes);
        assert_true(left >= easel->page.left - 1e-9 && right <= easel->page.left + easel->page.room + 1e-9);
        leftward |= one->leftward;
        for (uint32_t j = 0; j < labels.list.count; j++) {
            const RowLabel *other = &labels.list.items[j];
            if (i == j)
                continue;
            double begin = other->leftward ? other->x - other->width : other->x, end = begin + other->width;
            assert_true(one->lane != other->lane || right < begin || end < left);
            if (other->lane < one->lane) /* its line comes down past these words */
                assert_true(other->x <= left || other->x >= right);
        }
    }
    assert_true(leftward && labels.lanes >= 3);
    assert_true(says(draw(easel, VIEW_ROD, 1, NAN), "p0: as m"));
    assert_false(says(draw(easel, VIEW_PRESENTATION, 1, NAN), "p0"));
    turnlay_free(easel->compilation);
}

/* So many of them in one row that some are only counted; where all are named nothing is said. */
static void test_labels_without_room(void **state)
{
    (void)state;
    char places[6000] = "at 150 cm { band 50 turns of navy }\n";
    for (int i = 0; i < 40; i++)
        snprintf(places + strlen(places), sizeof places - strlen(places),
                 "part p%d at %d mm { note: \"words\" }\n", i, 20 + 3 * i);
    Easel *easel = easel_of(places);
    uint32_t named = 0;
    for (uint32_t row = 0; row < easel->rows.count; row++) {
        const Frame frame = {easel->page.left, 0, 30, easel->rows.scale, easel->rows.scale, 0.25, 0.25};
        named += labels_make(&easel->page, &frame, easel->rows.items[row]).list.count;
    }
    assert_true(named > 10 && named < 40);
    char words[64];
    snprintf(words, sizeof words, "%u more parts and notes have no words here.", 40 - (unsigned)named);
    assert_true(says(draw(easel, VIEW_ROD, 1, NAN), words));
    turnlay_free(easel->compilation);
    easel = easel_of("at 150 cm { band 50 turns of navy }  part p at 20 mm { note: \"words\" }");
    assert_false(says(draw(easel, VIEW_ROD, 1, NAN), "more parts and notes"));
    turnlay_free(easel->compilation);
}

/* A close-up that reaches over a guide's foot shows that, but no ring that stands beyond its edge. */
static void test_rings_beyond_the_edge(void **state)
{
    (void)state;
    Easel *easel = easel_of("at 40 cm { band 20 mm of navy }\nat 450 mm guide: ring25 { band fill of foam }");
    const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
    uint32_t rings[3] = {0}, feet = 0;
    int group = -1; /* all of it, the row, close-ups of the wrap and of the guide */
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        group += shape->kind == SHAPE_GROUP_START;
        if (shape->kind != SHAPE_POLYGON || group < 1 || group > 3)
            continue;
        rings[group - 1] += shape->fill == 0x104020;
        feet += group == 2 && shape->fill == 0xdfe9ef;
    }
    assert_true(easel->close_ups.list.items[0].high > easel->page.views[1].inner_low);
    assert_int_equal(rings[0], 1);
    assert_int_equal(rings[1], 0);
    assert_int_equal(rings[2], 1);
    assert_true(feet > 0);
    turnlay_free(easel->compilation);
}

/* --- as seen from across the room --- */

static bool is_rectangle(const Shape *shape, double height)
{
    return shape->kind == SHAPE_POLYGON && shape->point_count == 4 && shape->fill != NO_COLOUR
           && shape->fill != PAPER && shape->points[0].y == shape->points[1].y
           && fabs(shape->points[2].y - shape->points[0].y - height) < 1e-9;
}

/* What is painted last at that page x in the strip below a close-up. */
static uint32_t strip_colour(const Drawing *drawing, double x, double height)
{
    uint32_t colour = NO_COLOUR;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (is_rectangle(shape, height) && shape->points[0].x <= x && x < shape->points[1].x)
            colour = shape->fill;
    }
    return colour;
}

/* A fade that is the same from both ends: in its middle it is seen as half of each. */
static void test_fades_have_a_strip(void **state)
{
    (void)state;
    static const double heights[] = {2.4, 2.4 * 2}; /* letters grow with the root of the scale */
    for (int large = 0; large < 2; large++)
        for (int view = VIEW_ROD; view <= VIEW_PRESENTATION; view++) {
            double scale = large ? 4 : 1;
            Easel *easel =
                easel_start("at 30 cm { band 60 turns of navy  fade to foam steps: 6  band 60 turns of foam }",
                            scale, NAN, view == VIEW_PRESENTATION);
            const CloseUp *close = &easel->close_ups.list.items[0];
            const Drawing *drawing = draw(easel, (View)view, scale, NAN);
            assert_true(says(drawing, view == VIEW_ROD ? "true size; below, as seen from 2 m"
                                                       : "below, as it looks from 2 m"));
            double left = INFINITY, right = -INFINITY;
            for (uint32_t i = 0; i < drawing->shapes.count; i++)
                if (is_rectangle(&drawing->shapes.items[i], heights[large])) {
                    left = fmin(left, drawing->shapes.items[i].points[0].x);
                    right = fmax(right, drawing->shapes.items[i].points[1].x);
                }
            assert_true(fabs((right - left) - (close->high - close->low) * close->scale) < 1e-6);
            double begin = left + (300 - close->low) * close->scale, turn = 0.2 * close->scale;
            assert_int_equal(strip_colour(drawing, left + turn, heights[large]), 0x3a4143);
            assert_int_equal(strip_colour(drawing, begin + 30 * turn, heights[large]), 0x22346b);
            assert_int_equal(strip_colour(drawing, begin + (60 + 42 + 30) * turn, heights[large]), 0xdfe9ef);
            Light before = light_of(strip_colour(drawing, begin + (60 + 20.5) * turn, heights[large]));
            Light behind = light_of(strip_colour(drawing, begin + (60 + 21.5) * turn, heights[large]));
            Light navy = light_of(0x22346b), foam = light_of(0xdfe9ef);
            assert_true(fabs(before.green + behind.green - navy.green - foam.green) < 0.02);
            assert_true(fabs(before.red + behind.red - navy.red - foam.red) < 0.02);
            turnlay_free(easel->compilation);
        }
}

static void test_other_wraps_have_none(void **state)
{
    (void)state;
    static const char *const places[] = {
        GUIDES, "at 30 cm length: 60 mm { chevron crossings: 2 ends: 12 turns of navy { strand 3 of foam } }"};
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        Easel *easel = easel_of(places[i]);
        assert_false(says(draw(easel, VIEW_ROD, 1, NAN), "below, as"));
        assert_false(says(draw(easel, VIEW_PRESENTATION, 1, NAN), "below, as"));
        turnlay_free(easel->compilation);
    }
}

/* A strip takes room of its own: what is said of the close-up stands below it. */
static void test_words_stand_below_the_strip(void **state)
{
    (void)state;
    Easel *easel = easel_of("at 30 cm { band 60 turns of navy  fade to foam steps: 6  band 60 turns of foam }");
    const Drawing *drawing = draw(easel, VIEW_ROD, 1, NAN);
    double bottom = 0, words = INFINITY;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (is_rectangle(shape, 2.4))
            bottom = fmax(bottom, shape->points[2].y);
        if (shape->kind == SHAPE_TEXT && strcmp(shape->text, "wrap") == 0)
            words = shape->at.y - shape->size;
    }
    assert_true(bottom > 0 && words > bottom);
    assert_true(words < bottom + 3);
    turnlay_free(easel->compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rows_cover_the_rod),
        cmocka_unit_test(test_rows_without_a_bare_place),
        cmocka_unit_test(test_rows_end_between_parts),
        cmocka_unit_test(test_guides_look_as_they_are),
        cmocka_unit_test(test_guides_from_every_side),
        cmocka_unit_test(test_guides_at_an_angle),
        cmocka_unit_test(test_feet_from_every_side),
        cmocka_unit_test(test_mean_light),
        cmocka_unit_test(test_light_of_what_lies_on_the_blank),
        cmocka_unit_test(test_rows_show_what_lies_below),
        cmocka_unit_test(test_cells_lie_on_pixels),
        cmocka_unit_test(test_crosswraps_show_through_fine_turns),
        cmocka_unit_test(test_wraps_that_look_alike),
        cmocka_unit_test(test_what_close_ups_say),
        cmocka_unit_test(test_rings_of_a_presentation_stand_as_they_do),
        cmocka_unit_test(test_places_of_many_guides_are_named_shortly),
        cmocka_unit_test(test_guides_are_of_one_magnification),
        cmocka_unit_test(test_places_at_one_mark),
        cmocka_unit_test(test_too_many_close_ups),
        cmocka_unit_test(test_all_lies_on_the_page),
        cmocka_unit_test(test_a_presentation_is_for_customers),
        cmocka_unit_test(test_names_are_read_with_blanks),
        cmocka_unit_test(test_lines_to_close_ups),
        cmocka_unit_test(test_long_words_stay_on_the_page),
        cmocka_unit_test(test_close_ups_stand_apart),
        cmocka_unit_test(test_pixels_decide_what_is_seen),
        cmocka_unit_test(test_fields_in_pixels),
        cmocka_unit_test(test_light_goes_by_the_sheen),
        cmocka_unit_test(test_light_on_blanks),
        cmocka_unit_test(test_parts_are_to_scale),
        cmocka_unit_test(test_labels_keep_clear),
        cmocka_unit_test(test_labels_without_room),
        cmocka_unit_test(test_rings_beyond_the_edge),
        cmocka_unit_test(test_fades_have_a_strip),
        cmocka_unit_test(test_other_wraps_have_none),
        cmocka_unit_test(test_words_stand_below_the_strip),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
