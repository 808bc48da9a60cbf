/* The wrap-around template: what is laid flat is rolled back onto its cone here, by formulas of this test's own,
 * and lengths on paper are measured against lengths in space. Crosswraps are filled by hand. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "draw/template/template.h"
#include "trade/trade.h"
#include "near.h"

#include <string.h>

enum { TRIALS = 400, MOST_STRETCHES = 400 };

/* --- one crosswrap, filled by hand --- */

typedef struct Shop {
    Trap trap;
    Arena arena;
    Job job;
    Rod rod;
    Blank blank;
    Plan plan;
    PlannedRod planned_rod;
    Place written;
    PlannedPlace place;
    Layer layer;
    PlannedLayer planned_layer;
    Crosswrap crosswrap;
    PlannedCrosswrap planned;
    Thread thread;
    BundleStrand strand;
    SurfaceStretch stretches[MOST_STRETCHES];
} Shop;

static const Text *title_of(Shop *shop)
{
    Text *title = arena_take(&shop->arena, sizeof *title + 8);
    strcpy(title->bytes, "Ripple");
    title->length = 6;
    return title;
}

static void shop_open(Shop *shop)
{
    memset(shop, 0, sizeof *shop);
    arena_start(&shop->arena, &shop->trap);
    if (setjmp(*trap_set(&shop->trap)) != 0)
        fail_msg("the machine has no memory left");
    shop->job.bench.paper = 0.1;
    shop->rod = (Rod){.title = title_of(shop), .blank = &shop->blank};
    shop->thread = (Thread){.opacity = 1, .name = shop->rod.title, .pitch = 0.15, .diameter = 0.15};
    shop->strand = (BundleStrand){.thread = &shop->thread, .width = 0.15, .neighbour = NO_STRAND};
    shop->planned_rod = (PlannedRod){.rod = &shop->rod, .places = &shop->place, .place_count = 1};
    shop->plan = (Plan){.job = &shop->job, .rods = &shop->planned_rod, .rod_count = 1};
    shop->written = (Place){.mark = 100, .direction = 1};
    shop->place = (PlannedPlace){.place = &shop->written,
                                 .foot = -1,
                                 .direction = 1,
                                 .start = 100,
                                 .layers = &shop->planned_layer,
                                 .layer_count = 1};
    shop->layer.over = true;
    shop->planned_layer = (PlannedLayer){.layer = &shop->layer, .laid = true, .crosswrap = &shop->planned};
    shop->planned = (PlannedCrosswrap){.crosswrap = &shop->crosswrap,
                                       .direction = 1,
                                       .sense = -1,
                                       .starts = 1,
                                       .ratio = {1, 1},
                                       .thread_diameter = 0.15,
                                       .stretches = shop->stretches,
                                       .strands = &shop->strand,
                                       .strand_count = 1};
}

/* The surface goes on for so many mm, to another diameter. */
static void stretch_add(Shop *shop, double length, double diameter_from, double diameter_to)
{
    PlannedCrosswrap *planned = &shop->planned;
    double from = planned->stretch_count ? shop->stretches[planned->stretch_count - 1].to : 100;
    shop->stretches[planned->stretch_count++] = (SurfaceStretch){from, from + length, diameter_from, diameter_to};
}

/* A field of so many crossings over all stretches but an end band at each side. */
static void field_set(Shop *shop, uint32_t crossings, double end)
{
    PlannedCrosswrap *planned = &shop->planned;
    planned->low = shop->stretches[0].from;
    planned->high = shop->stretches[planned->stretch_count - 1].to;
    planned->field_start = planned->low + end;
    planned->field_end = planned->high - end;
    planned->end_width = end;
    planned->crossings = crossings;
    planned->spacing = (planned->field_end - planned->field_start) / crossings;
    planned->lead[LEG_OUT] = planned->lead[LEG_BACK] = planned->spacing;
    planned->base = 0.5;
}

static Template template_of(Shop *shop, double width, double height)
{
    return template_make(&shop->arena, &shop->plan, &shop->planned_rod, &shop->place, &shop->planned_layer,
                         (TemplateRoom){width, height});
}

/* --- laid flat and rolled back --- */

typedef struct Rolled {
    double x, turn;
} Rolled;

/* In polar coordinates about the apex, all multiplied by q so that a cylinder's, which is nowhere, does no harm.
 */
static Rolled roll(const FlatCone *cone, Point flat)
{
    double factor = sqrt(1 + cone->taper * cone->taper), q = cone->taper / factor;
    double r = hypot(q * flat.x, cone->radius + q * flat.y);
    double s = (q * (flat.x * flat.x + flat.y * flat.y) + 2 * flat.y * cone->radius) / (r + cone->radius);
    double round = q == 0 ? flat.x / cone->radius : atan2(q * flat.x, cone->radius + q * flat.y) / q;
    return (Rolled){cone->from + s / factor, cone->middle + round / (2 * TRADE_PI)};
}

static FlatCone any_cone(uint64_t *state, int trial)
{
    static const double tapers[] = {0, 1e-14, 1e-9, 1e-5, 0.004, 0.05, 0.4};
    double taper = tapers[trial % 7] * (trial % 2 ? 1 : -1);
    return (FlatCone){.from = between(state, 0, 2000),
                      .radius = between(state, 30, 40),
                      .taper = taper,
                      .middle = between(state, -0.5, 0.5)};
}

static void points_roll_back_to_their_places(void **state)
{
    (void)state;
    uint64_t random = 7;
    for (int i = 0; i < TRIALS; i++) {
        FlatCone cone = any_cone(&random, i);
        double x = cone.from + between(&random, 0, 60), turn = cone.middle + between(&random, -0.6, 0.6);
        Rolled rolled = roll(&cone, flat_point(&cone, x, turn));
        assert_within(rolled.x, x, 1e-8);
        assert_within((rolled.turn - turn) * 2 * TRADE_PI * flat_radius(&cone, x), 0, 1e-8);
    }
}

/* A helix over the cone: as long in space as on paper, both summed up from chords and brought to their limit
 * (Richardson: a chord's error goes with the square of its part). */
static double sum_of_chords(const FlatCone *cone, double length, double turns, int parts, bool on_paper)
{
    double sum = 0, last[3] = {0};
    for (int i = 0; i <= parts; i++) {
        double x = cone->from + length * i / parts, turn = cone->middle + turns * ((double)i / parts - 0.5);
        double r = cone->radius + cone->taper * (x - cone->from), round = turn * 2 * TRADE_PI;
        Point flat = flat_point(cone, x, turn);
        double at[3] = {on_paper ? flat.x : r * cos(round), on_paper ? flat.y : r * sin(round), on_paper ? 0 : x};
        if (i)
            sum += sqrt((at[0] - last[0]) * (at[0] - last[0]) + (at[1] - last[1]) * (at[1] - last[1])
                        + (at[2] - last[2]) * (at[2] - last[2]));
        memcpy(last, at, sizeof last);
    }
    return sum;
}

static double curve_length(const FlatCone *cone, double length, double turns, bool on_paper)
{
    double coarse = sum_of_chords(cone, length, turns, 2000, on_paper);
    return (4 * sum_of_chords(cone, length, turns, 4000, on_paper) - coarse) / 3;
}

static void lengths_are_kept(void **state)
{
    (void)state;
    uint64_t random = 11;
    for (int i = 0; i < 70; i++) {
        FlatCone cone = any_cone(&random, i);
        double length = between(&random, 1, 60), turns = between(&random, -1, 1);
        assert_within(curve_length(&cone, length, turns, true), curve_length(&cone, length, turns, false), 1e-6);
    }
}

/* The same across a ring and along a line, where the lengths are known outright. */
static void rings_and_lines_are_as_long_as_they_should_be(void **state)
{
    (void)state;
    uint64_t random = 13;
    for (int i = 0; i < TRIALS; i++) {
        FlatCone cone = any_cone(&random, i);
        double x = cone.from + between(&random, 1, 60), turn = cone.middle + between(&random, -0.5, 0.5), ring = 0;
        Point a = flat_point(&cone, cone.from, turn), b = flat_point(&cone, x, turn);
        assert_within(hypot(b.x - a.x, b.y - a.y), hypot(x - cone.from, cone.taper * (x - cone.from)), 1e-9);
        for (int part = 0; part < 20000; part++) {
            a = flat_point(&cone, x, cone.middle - 0.5 + part / 20000.0);
            b = flat_point(&cone, x, cone.middle - 0.5 + (part + 1) / 20000.0);
            ring += hypot(b.x - a.x, b.y - a.y);
        }
        assert_near(ring, 2 * TRADE_PI * flat_radius(&cone, x), 1e-7);
        double lean = flat_lean(&cone, turn) * TRADE_PI / 180;
        a = flat_point(&cone, cone.from, turn);
        b = flat_point(&cone, x, turn);
        assert_within((b.x - a.x) * cos(lean) - (b.y - a.y) * sin(lean), 0, 1e-9);
    }
}

/* --- pieces --- */

/* All pieces together are the surface, each once, and each fits its room. */
static void check_pieces(const Shop *shop, const Template *template, double width, double height)
{
    double x = shop->planned.low, right = -0.5, from = x;
    for (uint32_t i = 0; i < template->pieces.count; i++) {
        const TemplatePiece *piece = &template->pieces.items[i];
        if (piece->left == -0.5)
            from = x;
        assert_within(piece->from, from, 1e-9);
        assert_within(piece->left, right, 1e-12);
        right = piece->right == 0.5 ? -0.5 : piece->right;
        x = piece->to;
        Point points[TEMPLATE_POINTS];
        double least[2] = {INFINITY, INFINITY}, most[2] = {-INFINITY, -INFINITY};
        for (uint32_t p = template_outline(piece, points); p--;) {
            least[0] = fmin(least[0], points[p].x);
            most[0] = fmax(most[0], points[p].x);
            least[1] = fmin(least[1], points[p].y);
            most[1] = fmax(most[1], points[p].y);
        }
        assert_true(most[0] - least[0] < width && most[1] - least[1] < height);
        const Drawing *drawing = template_draw((Arena *)&shop->arena, template, i);
        assert_true(drawing->height <= height);
    }
    assert_within(x, shop->planned.high, 1e-9);
    assert_within(right, -0.5, 0);
}

static void a_straight_taper_is_one_piece(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    stretch_add(&shop, 60, 12.93, 12.605);
    stretch_add(&shop, 40, 12.605, 12.41); /* 0.01 mm off one cone at the break: nothing to be seen */
    stretch_add(&shop, 20, 12.41, 12.3);
    field_set(&shop, 4, 1.8);
    Template template = template_of(&shop, 186, 200);
    assert_int_equal(template.pieces.count, 1);
    assert_string_equal(template.pieces.items[0].name, "A");
    assert_within(template.pieces.items[0].diameter_from, 12.93, 0);
    assert_within(template.pieces.items[0].diameter_to, 12.3, 1e-12);
    assert_within(template.pieces.items[0].cone.radius, 12.93 / 2 + 0.05, 1e-12);
    assert_null(template.pieces.items[0].above);
    assert_null(template.pieces.items[0].below);
    check_pieces(&shop, &template, 186, 200);
    arena_end(&shop.arena);
}

static void a_break_that_shows_parts_pieces(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    stretch_add(&shop, 60, 13, 12);
    stretch_add(&shop, 60, 12, 11.9);
    stretch_add(&shop, 5, 12.2, 12.19); /* a step: up onto an underwrap */
    field_set(&shop, 4, 1.8);
    Template template = template_of(&shop, 186, 200);
    assert_int_equal(template.pieces.count, 3);
    assert_within(template.pieces.items[2].diameter_from, 12.2, 1e-12);
    assert_string_equal(template.pieces.items[1].below, "A");
    assert_string_equal(template.pieces.items[1].above, "C");
    assert_null(template.pieces.items[2].above);
    check_pieces(&shop, &template, 186, 200);
    arena_end(&shop.arena);
}

/* An underwrap that ends a hair before the crosswrap does, at both ends. */
static void paper_bridges_what_it_cannot_follow(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    stretch_add(&shop, 0.4, 12.7, 12.7);
    stretch_add(&shop, 60, 13, 12.7);
    stretch_add(&shop, 0.3, 12.4, 12.4);
    stretch_add(&shop, 0.8, 13, 13); /* together with the one before too long to be bridged */
    stretch_add(&shop, 30, 12.7, 12.6);
    stretch_add(&shop, 0.02, 12.3, 12.3);
    field_set(&shop, 4, 1.8);
    TemplateCones cones = template_cones(&shop.arena, &shop.planned);
    assert_int_equal(cones.list.count, 3);
    const SurfaceStretch *items = cones.list.items;
    assert_within(items[0].from, 100, 0);
    assert_within(items[0].diameter_from, 13 + 0.4 * 0.005, 1e-12); /* the taper of the long stretch goes on */
    assert_within(items[0].to, 160.7, 1e-9);
    assert_within(items[0].diameter_to, 12.7 - 0.3 * 0.005, 1e-12);
    assert_within(items[1].diameter_to, 13, 0);
    assert_within(items[2].to, shop.planned.high, 1e-9);
    Template template = template_of(&shop, 186, 200);
    check_pieces(&shop, &template, 186, 200);
    arena_end(&shop.arena);
}

/* Stretches that bend by little each, but by much together. */
static void a_slow_bend_is_followed_within_what_shows(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    double diameter = 14, taper = 0;
    for (int i = 0; i < MOST_STRETCHES; i++, taper += 1e-4) {
        stretch_add(&shop, 0.5, diameter, diameter - taper * 0.5);
        diameter -= taper * 0.5;
    }
    field_set(&shop, 4, 1.8);
    TemplateCones cones = template_cones(&shop.arena, &shop.planned);
    assert_true(cones.list.count > 3 && cones.list.count < 30);
    for (uint32_t c = 0, i = 0; c < cones.list.count; c++) {
        const SurfaceStretch *cone = &cones.list.items[c];
        double slope = (cone->diameter_to - cone->diameter_from) / (cone->to - cone->from), along = 0;
        for (; i < MOST_STRETCHES && shop.stretches[i].to <= cone->to; i++) {
            const SurfaceStretch *stretch = &shop.stretches[i];
            double there = cone->diameter_from + slope * (stretch->to - cone->from);
            assert_within(TRADE_PI * there, TRADE_PI * stretch->diameter_to, TEMPLATE_MISS + 1e-12);
            along += hypot(stretch->to - stretch->from, (stretch->diameter_to - stretch->diameter_from) / 2);
        }
        assert_within(along, hypot(cone->to - cone->from, (cone->diameter_to - cone->diameter_from) / 2),
                      TEMPLATE_MISS);
        assert_within(cone->to, c + 1 < cones.list.count ? cones.list.items[c + 1].from : shop.planned.high, 0);
    }
    arena_end(&shop.arena);
}

static void what_is_too_large_is_cut(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    stretch_add(&shop, 500, 70, 40);
    field_set(&shop, 4, 1.8);
    Template template = template_of(&shop, 186, 200);
    check_pieces(&shop, &template, 186, 200);
    assert_int_equal(template.pieces.count, 6);
    assert_string_equal(template.pieces.items[0].name, "A1");
    assert_string_equal(template.pieces.items[0].behind, "A2");
    assert_string_equal(template.pieces.items[1].behind, "A1");
    assert_string_equal(template.pieces.items[3].behind, "B1");
    arena_end(&shop.arena);

    shop_open(&shop);
    stretch_add(&shop, 4000000, 70, 40); /* that long: none at all, and in no time */
    field_set(&shop, 4, 1.8);
    template = template_of(&shop, 186, 200);
    assert_int_equal(template.pieces.count, 0);
    assert_string_equal(
        template_refusal(&shop.arena, &template),
        "Ripple, 100 mm from the butt, toward the tip: chevron: no template; it would come in too many parts.");
    arena_end(&shop.arena);
}

/* A cone alone would not be too many pieces, nor are four of these; together with one more they are. */
static void cones_together_are_too_many(void **state)
{
    (void)state;
    for (uint32_t cones = 1; cones <= 5; cones++) {
        Shop shop;
        shop_open(&shop);
        for (uint32_t i = 0; i < cones; i++)
            stretch_add(&shop, 5000, i % 2 ? 40 : 10, i % 2 ? 10 : 40);
        field_set(&shop, 4, 1.8);
        Template template = template_of(&shop, 186, 200);
        assert_int_equal(template.pieces.count, cones < 5 ? 26 * cones : 0);
        arena_end(&shop.arena);
    }
}

/* As columns of a spreadsheet are: A to Z, then AA to AZ, BA ... */
static void pieces_have_names_of_letters(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < 60; i++)
        stretch_add(&shop, 5, i % 2 ? 13 : 12, i % 2 ? 13 : 12); /* a step each */
    field_set(&shop, 4, 1.8);
    Template template = template_of(&shop, 186, 200);
    assert_int_equal(template.pieces.count, 60);
    for (uint32_t i = 0; i < 60; i++) {
        char name[3] = {(char)('A' + i / 26 - 1), (char)('A' + i % 26)};
        const TemplatePiece *piece = &template.pieces.items[i];
        assert_string_equal(piece->name, i < 26 ? name + 1 : name);
        assert_string_equal(piece->behind, piece->name);
        if (i > 0)
            assert_string_equal(piece->below, piece[-1].name);
        if (i + 1 < 60)
            assert_string_equal(piece->above, piece[1].name);
    }
    assert_null(template.pieces.items[0].below);
    assert_null(template.pieces.items[59].above);
    arena_end(&shop.arena);
}

/* --- a piece as drawn --- */

/* The flat cone's foot on the page, found again from the line on which edges meet. */
static Point foot_of(const Drawing *drawing, const TemplatePiece *piece)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->stroke == TEMPLATE_MEET && shape->kind == SHAPE_LINE) {
            Point flat = flat_point(&piece->cone, piece->from, piece->right);
            return (Point){shape->points[0].x - flat.x, shape->points[0].y + flat.y};
        }
    }
    fail_msg("no line on which edges meet");
    return (Point){0};
}

static Rolled rolled_back(const TemplatePiece *piece, Point foot, Point page)
{
    return roll(&piece->cone, (Point){page.x - foot.x, foot.y - page.y});
}

/* Every crossing that the plan has is on the pieces just where it should be, and no other; those where pieces meet
 * on both. */
static void check_crossings(Shop *shop, const Template *template)
{
    uint32_t wanted = 0, found = 0, again = 0;
    for (uint32_t i = 0; i < crosswrap_line_count(&shop->planned); i++)
        wanted += crosswrap_mark_count(&shop->planned, i);
    for (uint32_t i = 0; i < template->pieces.count; i++) {
        const TemplatePiece *piece = &template->pieces.items[i];
        const Drawing *drawing = template_draw(&shop->arena, template, i);
        Point foot = foot_of(drawing, piece);
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            if (shape->stroke != TEMPLATE_CROSSING)
                continue;
            Rolled a = rolled_back(piece, foot, shape->points[0]), b = rolled_back(piece, foot, shape->points[1]);
            double turn = (a.turn + b.turn) / 2, nearest = INFINITY;
            assert_within(a.x, b.x, 1e-6);
            /* 3 mm long; where lines lie closer a third of the room between them stays free at the narrower end.
             */
            double narrow = fmin(flat_radius(&piece->cone, piece->from), flat_radius(&piece->cone, piece->to));
            double room = 2 * TRADE_PI * narrow / crosswrap_line_count(&shop->planned);
            double mark = (b.turn - a.turn) * 2 * TRADE_PI * flat_radius(&piece->cone, a.x);
            assert_within(mark, fmin(3, room * 2 / 3), 1e-6);
            for (uint32_t l = 0; l < crosswrap_line_count(&shop->planned); l++)
                for (uint32_t m = 0; m < crosswrap_mark_count(&shop->planned, l); m++) {
                    double round = remainder(crosswrap_line_turn(&shop->planned, l) - turn, 1) * TRADE_PI * 20;
                    nearest = fmin(nearest, hypot(crosswrap_mark(&shop->planned, l, m) - a.x, round));
                }
            assert_within(nearest, 0, 1e-6);
            found++;
            again += fabs(turn - piece->left) < 1e-6 || (piece->below && a.x - piece->from < 1e-6);
        }
    }
    assert_int_equal(found - again, wanted);
}

static void assert_on_page(const Drawing *drawing, Point point)
{
    if (point.x < 0 || point.x > drawing->width || point.y < 0 || point.y > drawing->height)
        fail_msg("%g, %g is off a piece of %g by %g mm", point.x, point.y, drawing->width, drawing->height);
}

/* Nothing of a piece is cut off at its picture's edges, and no room is wasted: its outline fills the half of it.
 */
static void check_inside(Shop *shop, const Template *template)
{
    for (uint32_t i = 0; i < template->pieces.count; i++) {
        const Drawing *drawing = template_draw(&shop->arena, template, i);
        double left = INFINITY, right = -INFINITY, top = INFINITY, bottom = -INFINITY;
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            if (shape->kind == SHAPE_TEXT)
                assert_on_page(drawing, shape->at);
            for (uint32_t p = 0; p < shape->point_count; p++) {
                assert_on_page(drawing, shape->points[p]);
                left = fmin(left, shape->points[p].x);
                right = fmax(right, shape->points[p].x);
                top = fmin(top, shape->points[p].y);
                bottom = fmax(bottom, shape->points[p].y);
            }
        }
        assert_true(right - left > drawing->width / 2 && bottom - top > drawing->height / 2);
    }
}

/* The ways drawn lie on the plan's helices, and the whole of each leg is there. */
static void check_ways(Shop *shop, const Template *template)
{
    double length = 0;
    for (uint32_t i = 0; i < template->pieces.count; i++) {
        const TemplatePiece *piece = &template->pieces.items[i];
        const Drawing *drawing = template_draw(&shop->arena, template, i);
        Point foot = foot_of(drawing, piece);
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            if (shape->stroke != 0x3f6fae)
                continue;
            Rolled before = {0};
            for (uint32_t p = 0; p < shape->point_count; p++) {
                Rolled rolled = rolled_back(piece, foot, shape->points[p]);
                double nearest = INFINITY;
                for (uint32_t start = 0; start < shop->planned.starts; start++)
                    for (Leg leg = LEG_OUT; leg < (Leg)leg_count(&shop->planned); leg++)
                        nearest = fmin(nearest, fabs(remainder(rolled.turn
                                                                   - crosswrap_turn(&shop->planned, start, leg,
                                                                                    shop->strand.middle, rolled.x),
                                                               1)));
                /* Ends of dashes lie on chords of the way, the rest on the way itself. */
                bool inside = p && p + 1 < shape->point_count;
                assert_within(nearest * TRADE_PI * 13, 0, inside ? 1e-6 : 0.005);
                length += p ? fabs(rolled.turn - before.turn) : 0;
                before = rolled;
            }
        }
    }
    double turns = shop->planned.starts * (shop->planned.high - shop->planned.low);
    double out = turns / shop->planned.lead[LEG_OUT];
    double back = leg_count(&shop->planned) == 1 ? 0 : turns / shop->planned.lead[LEG_BACK];
    /* Back is broken: 2 mm of every 3.2. */
    assert_within(length, out + back * 2 / 3.2, 0.03 * (out + back));
}

static void check_drawn(double taper, double paper, uint32_t starts, int sense, double across)
{
    Shop shop;
    shop_open(&shop);
    shop.job.bench.paper = paper;
    stretch_add(&shop, 120, 13, 13 + taper * 120);
    field_set(&shop, 5, 2.4);
    shop.planned.starts = starts;
    shop.planned.sense = sense;
    shop.planned.lead[0] = shop.planned.lead[1] = shop.planned.spacing * starts;
    shop.strand.middle = across;
    shop.planned.base = 0.5 / starts;
    Template template = template_of(&shop, 186, 80);
    assert_int_equal(template.pieces.count, 2);
    check_pieces(&shop, &template, 186, 80);
    check_crossings(&shop, &template);
    check_inside(&shop, &template);
    check_ways(&shop, &template);
    arena_end(&shop.arena);
}

static void crossings_and_ways_roll_back(void **state)
{
    (void)state;
    uint64_t random = 17;
    for (int i = 0; i < 40; i++) {
        double taper = i % 5 == 0 ? 0 : between(&random, -0.05, 0.05);
        check_drawn(taper, between(&random, 0, 0.3), 1 + (uint32_t)i % 3, i % 2 ? 1 : -1,
                    i % 4 ? 0 : between(&random, -0.5, 0.5));
    }
}

/* --- words on pieces --- */

static const Shape *text_on(const Drawing *drawing, const char *words)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, words) == 0)
            return &drawing->shapes.items[i];
    return NULL;
}

/* Where a word stands: along the blank and round it. */
static Rolled text_place(const Drawing *drawing, const TemplatePiece *piece, const char *words)
{
    const Shape *text = text_on(drawing, words);
    if (!text)
        fail_msg("not on piece %s: %s", piece->name, words);
    return rolled_back(piece, foot_of(drawing, piece), text->at);
}

/* Its edges: the ends that meet others say which, near that end; the tab says what goes over it. */
static void check_joints(Shop *shop, const Template *template, const TemplatePiece *piece, const Drawing *drawing)
{
    double length = piece->to - piece->from;
    for (uint32_t i = 0; i < template->pieces.count; i++) {
        char letter = template->pieces.items[i].name[0], last = piece->name[0];
        const char *words = text_format(&shop->arena, "%c joins here", letter);
        if (letter == last + 1 || letter == last - 1) {
            Rolled joint = text_place(drawing, piece, words);
            assert_true(letter > last ? joint.x > piece->to - length / 8 : joint.x < piece->from + length / 8);
        } else {
            assert_null(text_on(drawing, words));
        }
    }
    bool alone = strcmp(piece->name, piece->behind) == 0;
    const char *whose = alone ? "" : text_format(&shop->arena, "%s's ", piece->behind);
    Rolled tab =
        text_place(drawing, piece, text_format(&shop->arena, "goes under; %sleft edge meets the red line", whose));
    double right = (tab.turn - piece->right) * 2 * TRADE_PI * flat_radius(&piece->cone, tab.x);
    assert_true(right > 0 && right < TEMPLATE_TAB);
}

/* The rod's line says so wherever it is drawn; beside its crossings, and on the other side of it at
 * the field's ends and the layer's, how far from the mark they are. */
static void check_distances(Shop *shop, const TemplatePiece *piece, const Drawing *drawing)
{
    const PlannedCrosswrap *planned = &shop->planned;
    const double edges[] = {planned->low, planned->field_start, planned->field_end, planned->high};
    for (uint32_t m = 0; m < crosswrap_mark_count(planned, 0); m++) {
        double x = crosswrap_mark(planned, 0, m), turn = remainder(crosswrap_line_turn(planned, 0), 1);
        const char *words = text_format(&shop->arena, "%.2f", x - 100);
        bool here = x > piece->from && x < piece->to && turn >= piece->left && turn < piece->right;
        if (!here) {
            assert_null(text_on(drawing, words));
            continue;
        }
        Rolled place = text_place(drawing, piece, words);
        assert_within(place.x, x, 1.5);
        assert_true(place.turn > turn);
    }
    for (int i = 0; i < 4; i++) {
        const char *words = text_format(&shop->arena, "%.2f", edges[i] - 100);
        bool here =
            edges[i] >= piece->from && edges[i] <= piece->to && piece->left < -1e-9 && piece->right > -1e-9;
        if (!here) {
            assert_null(text_on(drawing, words));
            continue;
        }
        Rolled place = text_place(drawing, piece, words);
        assert_within(place.x, edges[i], 2.5);
        assert_true(place.turn < 0);
        assert_true(place.x > planned->low && place.x < planned->high);
    }
}

/* Upright in the middle: the way to the tip, and below it which piece this is. */
static void check_arrow(const TemplatePiece *piece, const Drawing *drawing)
{
    Rolled way = text_place(drawing, piece, "toward the tip"), name = text_place(drawing, piece, piece->name);
    double middle = (piece->from + piece->to) / 2;
    assert_true(name.x < way.x && fabs(name.x - middle) < 20 && fabs(way.x - middle) < 16);
    assert_true(text_on(drawing, piece->name)->size > 2 * text_on(drawing, "toward the tip")->size);
    const Shape *head = NULL;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_POLYGON && drawing->shapes.items[i].point_count == 3)
            head = &drawing->shapes.items[i];
    assert_non_null(head);
    Point foot = foot_of(drawing, piece);
    Rolled tip = rolled_back(piece, foot, head->points[0]);
    for (int i = 1; i < 3; i++)
        assert_within(tip.x - rolled_back(piece, foot, head->points[i]).x, 2.4, 0.05); /* the head's length */
    assert_within(tip.x, middle + 8, 0.05);                                            /* 16 mm long */
}

static void words_stand_where_they_belong(void **state)
{
    (void)state;
    for (int taper = 0; taper < 2; taper++) {
        Shop shop;
        shop_open(&shop);
        stretch_add(&shop, 380, 66, taper ? 56 : 66);
        field_set(&shop, 10, 5);
        Template template = template_of(&shop, 186, 200);
        assert_int_equal(template.pieces.count, 4);
        for (uint32_t i = 0; i < template.pieces.count; i++) {
            const TemplatePiece *piece = &template.pieces.items[i];
            const Drawing *drawing = template_draw(&shop.arena, &template, i);
            const char *caption = text_format(&shop.arena, "%s, for %.2f to %.2f mm", piece->name,
                                              piece->diameter_from, piece->diameter_to);
            assert_non_null(text_on(drawing, caption));
            assert_string_equal(drawing->title, caption);
            check_joints(&shop, &template, piece, drawing);
            check_distances(&shop, piece, drawing);
            check_arrow(piece, drawing);
            /* The line at 0 lies on the edge of both parts. */
            assert_within(text_place(drawing, piece, "0° rod's line").turn, 0, 0.02);
        }
        arena_end(&shop.arena);
    }
}

/* Many lines: their marks are short. */
static void marks_keep_apart(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    stretch_add(&shop, 120, 13, 12);
    field_set(&shop, 5, 2.4);
    shop.planned.starts = 7;
    shop.planned.lead[0] = shop.planned.lead[1] = shop.planned.spacing * 7;
    shop.planned.base = 0.5 / 7;
    Template template = template_of(&shop, 186, 200);
    assert_int_equal(template.pieces.count, 1);
    check_crossings(&shop, &template);
    arena_end(&shop.arena);
}

/* Where crossings stand closer than their numbers are high, the first and every so-manieth has its number: as many
 * as have room. */
static void numbers_of_crossings_have_room(void **state)
{
    (void)state;
    static const uint32_t crossings[] = {10, 30, 60, 90};
    for (size_t c = 0; c < sizeof crossings / sizeof *crossings; c++) {
        Shop shop;
        shop_open(&shop);
        stretch_add(&shop, 120, 13, 13);
        field_set(&shop, crossings[c], 2.4);
        Template template = template_of(&shop, 186, 200);
        assert_int_equal(template.pieces.count, 1);
        const Drawing *drawing = template_draw(&shop.arena, &template, 0);
        uint32_t count = crosswrap_mark_count(&shop.planned, 0), every = 0, last = 0;
        double size = 0;
        for (uint32_t m = 0; m < count; m++) {
            double x = crosswrap_mark(&shop.planned, 0, m);
            const Shape *number = text_on(drawing, text_format(&shop.arena, "%.2f", x - 100));
            assert_true(number || m > 0);
            if (!number)
                continue;
            size = number->size;
            assert_true(!every || m - last == every);
            every = m - last;
            last = m;
        }
        double apart = crosswrap_mark(&shop.planned, 0, 1) - crosswrap_mark(&shop.planned, 0, 0);
        assert_true(count - last <= every);
        assert_true(every * apart >= 1.3 * size && (every - 1) * apart < 1.3 * size);
        arena_end(&shop.arena);
    }
}

/* --- all of a rod --- */

static uint32_t times_said(const Drawing *drawing, const char *words)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        count += drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, words) == 0;
    return count;
}

/* Of every crosswrap that is laid out one template, in order, each below the one before; nothing of what lies
 * behind the last place or layer. */
static void a_rod_has_one_template_a_crosswrap(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    stretch_add(&shop, 60, 13, 12);
    field_set(&shop, 3, 2.4);
    PlannedLayer layers[] = {shop.planned_layer, shop.planned_layer, shop.planned_layer, shop.planned_layer,
                             shop.planned_layer};
    layers[1].crosswrap = NULL;
    layers[2].laid = false;
    PlannedPlace places[] = {shop.place, shop.place, shop.place};
    places[0].layers = layers;
    places[0].layer_count = 4;
    shop.planned_rod.places = places;
    shop.planned_rod.place_count = 2;
    const Drawing *drawing = draw_templates(&shop.arena, &shop.plan, 0);
    static const struct {
        const char *words;
        uint32_t times;
    } wanted[] = {{"Ripple: wrap-around template, true size", 1},
                  {"Ripple, 100 mm from the butt, toward the tip: layer 1 of 4, chevron", 1},
                  {"Ripple, 100 mm from the butt, toward the tip: layer 2 of 4, chevron", 0},
                  {"Ripple, 100 mm from the butt, toward the tip: layer 3 of 4, chevron", 0},
                  {"Ripple, 100 mm from the butt, toward the tip: layer 4 of 4, chevron", 1},
                  {"Ripple, 100 mm from the butt, toward the tip: layer 5 of 4, chevron", 0},
                  {"Ripple, 100 mm from the butt, toward the tip: chevron", 1},
                  {"A, for 13.00 to 12.00 mm", 3},
                  {"100 mm from end to end", 1},
                  {"4 in from end to end", 1}};
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (times_said(drawing, wanted[i].words) != wanted[i].times)
            fail_msg("%u times: %s", (unsigned)times_said(drawing, wanted[i].words), wanted[i].words);
    double lowest = 0;
    uint32_t cuts = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_POLYGON && shape->stroke == TEMPLATE_CUT) {
            double top = INFINITY, bottom = 0;
            for (uint32_t p = 0; p < shape->point_count; p++) {
                assert_on_page(drawing, shape->points[p]);
                top = fmin(top, shape->points[p].y);
                bottom = fmax(bottom, shape->points[p].y);
            }
            assert_true(top > lowest);
            lowest = bottom;
            cuts++;
        }
    }
    assert_int_equal(cuts, 3);
    assert_within(drawing->width, 186 + 2 * 8, 1e-9);
    assert_true(drawing->height > lowest && drawing->height < lowest + 16);
    assert_true(has_template(&shop.planned_rod));
    places[1].layer_count = 0;
    layers[0].laid = layers[3].laid = false;
    assert_false(has_template(&shop.planned_rod));
    arena_end(&shop.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(points_roll_back_to_their_places),
        cmocka_unit_test(lengths_are_kept),
        cmocka_unit_test(rings_and_lines_are_as_long_as_they_should_be),
        cmocka_unit_test(a_straight_taper_is_one_piece),
        cmocka_unit_test(a_break_that_shows_parts_pieces),
        cmocka_unit_test(paper_bridges_what_it_cannot_follow),
        cmocka_unit_test(a_slow_bend_is_followed_within_what_shows),
        cmocka_unit_test(what_is_too_large_is_cut),
        cmocka_unit_test(cones_together_are_too_many),
        cmocka_unit_test(pieces_have_names_of_letters),
        cmocka_unit_test(crossings_and_ways_roll_back),
        cmocka_unit_test(marks_keep_apart),
        cmocka_unit_test(numbers_of_crossings_have_room),
        cmocka_unit_test(words_stand_where_they_belong),
        cmocka_unit_test(a_rod_has_one_template_a_crosswrap),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
