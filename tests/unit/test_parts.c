/* Parts of a rod: the surface that those which are wrapped make, the thread wound on it, and what lies in the way.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "planned.h"

#include "trade/trade.h"

enum { PARTS_MOST = 12, DIAMETERS_MOST = 5 };

static Part *add_part(Shop *shop, double start, double end, uint32_t count, const double *diameters)
{
    if (!shop->rod.parts)
        shop->rod.parts = arena_take_many(&shop->arena, PARTS_MOST, sizeof *shop->rod.parts);
    Part *part = &shop->rod.parts[shop->rod.part_count++];
    *part = (Part){.name = text_of_string(&shop->texts, "sleeve"),
                   .span = next_span(shop),
                   .mark_span = next_span(shop),
                   .start = start,
                   .end = end,
                   .diameter_count = count,
                   .diameter_span = next_span(shop)};
    if (count)
        part->diameters = arena_copy(&shop->arena, diameters, count * sizeof *diameters);
    return part;
}

static Part *wrapped_part(Shop *shop, double start, double end, uint32_t count, const double *diameters)
{
    Part *part = add_part(shop, start, end, count, diameters);
    part->wrapped = true;
    return part;
}

/* --- the surface --- */

/* By the rule's words: the last of the source that is wrapped, has a diameter and lies there; else the blank. */
static double diameter_by_the_rule(const Shop *shop, double x)
{
    for (uint32_t i = shop->rod.part_count; i-- > 0;) {
        const Part *part = &shop->rod.parts[i];
        if (!part->wrapped || !part->diameter_count || x <= part->start || x >= part->end)
            continue;
        if (part->diameter_count == 1)
            return part->diameters[0];
        double step = (part->end - part->start) / (part->diameter_count - 1), at = part->start;
        uint32_t knot = 0;
        while (knot + 2 < part->diameter_count && x > at + step) {
            at += step;
            knot++;
        }
        return part->diameters[knot] * (1 - (x - at) / step) + part->diameters[knot + 1] * ((x - at) / step);
    }
    return 12 - x * 8 / 1000;
}

static void assert_rising(const Blank *surface)
{
    for (uint32_t i = 1; i < surface->station_count; i++) {
        assert_true(surface->stations[i].at >= surface->stations[i - 1].at);
        assert_true(i < 2 || surface->stations[i].at > surface->stations[i - 2].at);
    }
}

static void test_surface_of_random_parts(void **state)
{
    (void)state;
    uint64_t random = 20261128;
    for (int round = 0; round < 400; round++) {
        Shop shop;
        shop_open(&shop);
        uint32_t count = (uint32_t)between(&random, 1, PARTS_MOST + 0.999);
        for (uint32_t i = 0; i < count; i++) {
            double start = floor(between(&random, 0, 90)) * 10; /* often where another begins or ends */
            double end = start + floor(between(&random, 1, 40)) * 10;
            double diameters[DIAMETERS_MOST];
            uint32_t knots = (uint32_t)between(&random, 0, DIAMETERS_MOST + 0.999);
            for (uint32_t k = 0; k < knots; k++)
                diameters[k] = between(&random, 12, 20);
            Part *part = add_part(&shop, start, end > 1000 ? 1000 : end, knots, diameters);
            part->wrapped = between(&random, 0, 1) < 0.8;
        }
        const Blank *surface = shop_plan(&shop)->rods[0].surface;
        assert_rising(surface);
        for (int i = 0; i < 200; i++) {
            double x = between(&random, 0, 1000);
            assert_within(blank_diameter(surface, x), diameter_by_the_rule(&shop, x), 1e-9);
        }
        shop_close(&shop);
    }
}

/* Nothing of a rod without wrapped parts is made anew; ends that nearly meet leave no sliver of blank between. */
static void test_surface_of_plain_rods(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    add_part(&shop, 0, 240, 1, (double[]){26});
    wrapped_part(&shop, 300, 340, 0, NULL);
    wrapped_part(&shop, 400, 400, 1, (double[]){14});
    assert_ptr_equal(shop_plan(&shop)->rods[0].surface, &shop.blank);
    wrapped_part(&shop, 500, 520, 1, (double[]){10});
    wrapped_part(&shop, 520 + 1e-9, 540, 1, (double[]){11});
    const Blank *surface = shop_plan(&shop)->rods[0].surface;
    assert_ptr_equal(surface->name, shop.blank.name);
    static const double wanted[][2] = {{0, 12},   {500, 8},  {500, 10},   {520, 10},
                                       {520, 11}, {540, 11}, {540, 7.68}, {1000, 4}};
    assert_int_equal(surface->station_count, 8);
    for (uint32_t i = 0; i < 8; i++) {
        assert_within(surface->stations[i].at, wanted[i][0], 0);
        assert_within(surface->stations[i].diameter, wanted[i][1], 1e-7);
    }
    shop.rod.blank = NULL;
    assert_null(shop_plan(&shop)->rods[0].surface);
    shop_close(&shop);
}

/* A tip-top's tube that stands out beyond the blank is the surface there, too. */
static void test_surface_beyond_the_blank(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    wrapped_part(&shop, 990, 1010, 1, (double[]){5});
    wrapped_part(&shop, -20, 10, 2, (double[]){16, 13});
    const Blank *surface = shop_plan(&shop)->rods[0].surface;
    assert_within(blank_diameter(surface, 1005), 5, 1e-12);
    assert_within(blank_diameter(surface, 989), 12 - 989 * 0.008, 1e-12);
    assert_within(blank_diameter(surface, -10), 15, 1e-12);
    assert_within(blank_diameter(surface, 11), 12 - 11 * 0.008, 1e-12);
    shop_close(&shop);
}

static void test_part_diameters(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    const Part *flat = add_part(&shop, 100, 140, 0, NULL), *plain = add_part(&shop, 100, 140, 1, (double[]){20});
    const Part *shaped = add_part(&shop, 100, 140, 3, (double[]){20, 26, 24});
    assert_within(part_diameter(&shop.rod, flat, 100), 11.2, 1e-12);
    assert_within(part_diameter(&shop.rod, plain, 133), 20, 0);
    assert_within(part_diameter(&shop.rod, shaped, 100), 20, 0);
    assert_within(part_diameter(&shop.rod, shaped, 110), 23, 1e-12);
    assert_within(part_diameter(&shop.rod, shaped, 120), 26, 1e-12);
    assert_within(part_diameter(&shop.rod, shaped, 135), 24.5, 1e-12);
    assert_within(part_diameter(&shop.rod, shaped, 140), 24, 0);
    assert_within(part_diameter(&shop.rod, shaped, 150), 24, 0);
    shop.rod.blank = NULL;
    assert_within(part_diameter(&shop.rod, flat, 100), 0, 0);
    shop_close(&shop);
}

/* --- thread on it --- */

/* A ferrule's sleeve: a length that swells to its middle, with a lip at its tip end. Turns run on it from one side
 * and off it on the other; every run against the sum over the cones written out by hand. */
static void test_turns_on_a_sleeve(void **state)
{
    (void)state;
    for (int direction = -1; direction <= 1; direction += 2) {
        Shop shop;
        shop_open(&shop);
        shop.stations[1].diameter = 12;
        wrapped_part(&shop, 500, 512, 3, (double[]){12, 12.6, 12.9});
        LAYER(&shop, add_place(&shop, direction > 0 ? 497 : 515, direction, NAN), true,
              band(&shop, EXTENT_TURNS, 120, 0));
        const Plan *plan = shop_plan(&shop);
        const Run *run = &laid(plan, 0, 0)->runs[0];
        double wanted = 2 * helix_length(12.15 / 2, 0.15, 20) + cone_helix_length(12.15 / 2, 12.75 / 2, 6, 0.15)
                        + cone_helix_length(12.75 / 2, 13.05 / 2, 6, 0.15);
        assert_near(run->lengths[0], wanted, 1e-11);
        assert_within(run->start_diameter, 12, 1e-12);
        assert_within(run->end_diameter, 12, 1e-12);
        double mean = (6 * 12 + 6 * 12.3 + 6 * 12.75) / 18 + 2 * 0.15;
        assert_near(plan->finish_volume, coat_volume(mean, 2 * 0.25, 18), 1e-10);
        shop_close(&shop);
    }
}

/* Turns that end right at a check's face have its diameter or the blank's, by the side that they lie on. */
static void test_turns_up_to_a_face(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.stations[1].diameter = 12;
    wrapped_part(&shop, 500, 506, 1, (double[]){13});
    LAYER(&shop, add_place(&shop, 497, 1, NAN), true, band(&shop, EXTENT_TURNS, 20, 0));
    LAYER(&shop, add_place(&shop, 500, 1, NAN), true, band(&shop, EXTENT_TURNS, 20, 0));
    LAYER(&shop, add_place(&shop, 506, -1, NAN), true, band(&shop, EXTENT_TURNS, 20, 0));
    LAYER(&shop, add_place(&shop, 509, -1, NAN), true, band(&shop, EXTENT_TURNS, 20, 0));
    const Plan *plan = shop_plan(&shop);
    for (uint32_t i = 0; i < 4; i++) {
        double diameter = i % 3 ? 13 : 12;
        const Run *run = &laid(plan, i, 0)->runs[0];
        assert_within(run->start_diameter, diameter, 1e-12);
        assert_within(run->end_diameter, diameter, 1e-12);
        assert_near(run->lengths[0], helix_length((diameter + 0.15) / 2, 0.15, 20), 1e-12);
    }
    shop_close(&shop);
}

static double hull_turn(double x, void *given)
{
    const PlannedPlace *foot = given;
    const Guide *guide = foot->place->guide;
    double way = foot->direction * (x - foot->foot_tip), part = way <= 0            ? 0
                                                                : way < guide->ramp ? way / guide->ramp
                                                                                    : 1;
    double perimeter = hull_perimeter(13.5 + (x - 480) / 40, part * guide->width, part * guide->height);
    return hypot(perimeter + 2 * TRADE_PI * 0.075, 0.15) / 0.15;
}

/* A guide whose foot stands on a sleeve: the hull is that of the sleeve. */
static void test_a_foot_on_a_sleeve(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    wrapped_part(&shop, 480, 520, 2, (double[]){13.5, 14.5});
    const Guide *guide = new_guide(
        &shop, (Guide){.feet = {14}, .foot_count = 1, .width = 2.4, .height = 0.8, .ramp = 5, .before = 2});
    LAYER(&shop, add_guide(&shop, 500, guide), true, band(&shop, EXTENT_TURNS, 100, 0));
    const Plan *plan = shop_plan(&shop);
    PlannedPlace *foot = &plan->rods[0].places[0];
    const Run *run = &foot->layers[0].runs[0];
    double wanted = 0, edges[] = {run->start, foot->foot_tip, foot->ramp_end, run->end};
    for (int i = 0; i < 3; i++)
        wanted += fabs(integral(hull_turn, foot, edges[i], edges[i + 1]));
    assert_near(run->lengths[0], wanted, 1e-9);
    shop_close(&shop);
}

/* A crosswrap's legs on a sleeve are helices on its cones. */
static void test_a_field_on_a_sleeve(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.stations[1].diameter = 12;
    wrapped_part(&shop, 500, 520, 2, (double[]){12.4, 13.2});
    StrandLine line = {
        .thread = &shop.threads[0], .count = 1, .count_span = next_span(&shop), .span = next_span(&shop)};
    Crosswrap crosswrap = {.kind = CROSSWRAP_SPIRAL,
                           .spaced_by = SPACED_BY_TURNS,
                           .spaced = 3,
                           .starts = 1,
                           .leads = {1, 1},
                           .facing = 1,
                           .ends = {.kind = EXTENT_TURNS, .amount = 20, .span = next_span(&shop)},
                           .ends_strands = one(&shop, 0),
                           .lines = &line,
                           .line_count = 1};
    Item item = {.kind = ITEM_CROSSWRAP,
                 .span = next_span(&shop),
                 .extent = crosswrap.ends,
                 .strands = crosswrap.ends_strands,
                 .crosswrap = &crosswrap};
    LAYER(&shop, add_place(&shop, 490, 1, 40), true, item);
    shop.job.bench.flattest = 0.1;
    shop.job.bench.steepest = 1.5;
    const PlannedCrosswrap *planned = laid(shop_plan(&shop), 0, 0)->crosswrap;
    double lead = (40 - 2 * 3) / 3.0;
    double wanted = helix_length(12.15 / 2, lead, 20 / lead) + cone_helix_length(12.55 / 2, 13.35 / 2, 20, lead);
    assert_int_equal(planned->pass_count, 1);
    assert_near(planned->passes[0].length[LEG_OUT], wanted, 1e-9);
    assert_within(crosswrap_diameter(planned, 510), 12.8, 1e-12);
    assert_within(crosswrap_diameter(planned, 495), 12, 1e-12);
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_surface_of_random_parts),  cmocka_unit_test(test_surface_of_plain_rods),
        cmocka_unit_test(test_surface_beyond_the_blank), cmocka_unit_test(test_part_diameters),
        cmocka_unit_test(test_turns_on_a_sleeve),        cmocka_unit_test(test_turns_up_to_a_face),
        cmocka_unit_test(test_a_foot_on_a_sleeve),       cmocka_unit_test(test_a_field_on_a_sleeve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
