/* What a reader works out by eye from the plan: sums, ranges, places from the mark, and how they are rounded. By
 * hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"

#include "plan/plan_sums.h"

static void test_lengths_add_up(void **state)
{
    (void)state;
    Piece piece = {.wound = 1000, .tags = 20, .beneath = 3, .free = 300};
    assert_within(piece_length(&piece), 1323, 0);
    Need need = {.wound = 1000, .ends = 323};
    assert_within(need_length(&need), 1323, 0);
    Run up = {.start = 100, .end = 107.5}, down = {.start = 107.5, .end = 100};
    assert_within(run_width(&up), 7.5, 0);
    assert_within(run_width(&down), 7.5, 0);
    Pass passes[] = {{.length = {30, 40}}, {.length = {10, 50}}, {.length = {40, 20}}, {.length = {20, 60}}};
    PlannedCrosswrap planned = {.passes = passes, .pass_count = 4};
    assert_within(legs_length(&planned), 270, 0);
    static const struct {
        Leg leg;
        uint32_t first, end;
        double shortest, longest;
    } ranges[] = {
        {LEG_OUT, 0, 4, 10, 40}, {LEG_OUT, 0, 2, 10, 30},  {LEG_OUT, 1, 3, 10, 40},
        {LEG_OUT, 3, 4, 20, 20}, {LEG_BACK, 0, 4, 20, 60}, {LEG_BACK, 0, 2, 40, 50},
    };
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
        LegRange range = leg_range(&planned, ranges[i].leg, ranges[i].first, ranges[i].end);
        assert_within(range.shortest, ranges[i].shortest, 0);
        assert_within(range.longest, ranges[i].longest, 0);
    }
}

static const Rounding hundredths = {0.01, false}, hundredths_up = {0.01, true};

static void test_rounding(void **state)
{
    (void)state;
    static const struct {
        double mm, nearest, up, down; /* down: where the other goes up */
    } cases[] = {
        {1.234, 1.23, 1.24, 1.23},     {1.236, 1.24, 1.24, 1.23}, {1.23, 1.23, 1.23, 1.23}, {0, 0, 0, 0},
        {-1.234, -1.23, -1.23, -1.24}, {0.001, 0, 0.01, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_within(rounded(cases[i].mm, hundredths), cases[i].nearest, 1e-12);
        assert_within(rounded(cases[i].mm, hundredths_up), cases[i].up, 1e-12);
        assert_within(rounded_down(cases[i].mm, hundredths_up), cases[i].down, 1e-12);
        assert_within(rounded_down(cases[i].mm, hundredths), cases[i].nearest, 1e-12);
    }
    /* What rounding alone has put beyond a step is that step. */
    assert_within(rounded(0.1 + 0.2, (Rounding){0.1, true}), 0.3, 1e-12);
    /* To the last digit that is printed: 0.01 m or 0.01 yd of thread, up; 0.01 mm or 0.001 in; 0.000001 mm. */
    static const struct {
        double step;
        bool up;
    } steps[] = {{10, true}, {9.144, true}, {0.01, false}, {0.0254, false}, {1e-6, false}};
    const Rounding made[] = {rounding_of_thread(SYSTEM_MM), rounding_of_thread(SYSTEM_IN),
                             rounding_of_lengths(SYSTEM_MM), rounding_of_lengths(SYSTEM_IN),
                             rounding_of_programs()};
    for (size_t i = 0; i < sizeof made / sizeof *made; i++) {
        assert_near(made[i].step, steps[i].step, 1e-12);
        assert_int_equal(made[i].up, steps[i].up);
    }
    Thread thread = {.stock = 5.239};
    Need need = {.thread = &thread, .wound = 4, .ends = 1};
    assert_within(stock_left(&need, hundredths_up), 0.23, 1e-12);
    need.wound = 5;
    assert_within(stock_left(&need, hundredths_up), -0.77, 1e-12);
}

/* From the mark, and so that from, to and width add up in print: 100.004 is 100.00, 3.006 from there 3.01. */
static void test_places_from_the_mark(void **state)
{
    (void)state;
    for (int direction = -1; direction <= 1; direction += 2) {
        PlannedPlace place = {.start = 100.004, .direction = direction};
        double a = 100.004 + direction * 3.006, b = 100.004 + direction * 7.512;
        assert_within(from_datum(&place, a), 3.006, 1e-12);
        assert_within(shown_from_datum(&place, a, hundredths), 3.01, 1e-12);
        assert_within(shown_position(&place, a, hundredths), 100 + direction * 3.01, 1e-12);
        assert_within(shown_width(&place, a, b, hundredths), 4.5, 1e-12); /* 7.51 - 3.01; 4.506 is not */
        assert_within(shown_width(&place, b, a, hundredths), 4.5, 1e-12);
        Run runs[] = {{.start = 100.004, .end = a}, {.start = a, .end = b}, {.start = b, .end = b + direction}};
        PlannedItem items[] = {{.first_run = 0, .run_count = 1},
                               {.first_run = 1, .run_count = 1},
                               {.first_run = 2, .run_count = 0},
                               {.first_run = 2, .run_count = 1}};
        PlannedLayer layer = {.start = 100.004,
                              .end = b + direction,
                              .length = 10,
                              .unfilled = 1.488,
                              .runs = runs,
                              .run_count = 3,
                              .items = items,
                              .item_count = 4};
        assert_within(shown_items_width(&place, &layer, 0, 1, hundredths), 3.01, 1e-12);
        assert_within(shown_items_width(&place, &layer, 1, 1, hundredths), 4.5, 1e-12);
        assert_within(shown_items_width(&place, &layer, 2, 1, hundredths), 0, 0); /* no turn of it is wound */
        assert_within(shown_items_width(&place, &layer, 0, 4, hundredths), 8.51, 1e-12);
        assert_within(shown_layer_width(&place, &layer, hundredths), 8.51, 1e-12);
        assert_within(shown_unfilled(&place, &layer, hundredths), 1.49, 1e-12);
        layer.unfilled = NAN;
        assert_true(isnan(shown_unfilled(&place, &layer, hundredths)));
    }
    PlannedCrosswrap planned = {.width = 4.326};
    FieldEnd open = {.room = 5.124}, over = {.room = 4.124};
    assert_within(shown_opening(&planned, &open, hundredths), 0.79, 1e-12); /* 5.12 - 4.33 */
    assert_within(shown_opening(&planned, &over, hundredths), -0.21, 1e-12);
    Piece piece = {.wound = 1.001, .tags = 2.001, .beneath = 3.001, .free = 4.001};
    assert_within(shown_piece_length(&piece, hundredths_up), 1.01 + 2.01 + 3.01 + 4.01, 1e-12);
    assert_within(shown_piece_length(&piece, hundredths), 10, 1e-12);
    Pass pass = {.length = {1.006, 2.006}};
    assert_within(shown_pass_length(&pass, hundredths), 3.02, 1e-12);
}

/* What has a price is added up; what is to be bought without one is counted, and what the stock holds is neither.
 */
static void test_cost_in_all(void **state)
{
    (void)state;
    Thread enough = {.stock = 40}, short_of = {.stock = 39}, none = {.stock = NAN};
    static const struct {
        double spools, cost;
        int thread;
        double all;
        uint32_t not_known;
    } cases[] = {
        {NAN, NAN, 0, NAN, 0}, /* no spool is known, and the stock is enough */
        {NAN, NAN, 1, NAN, 1}, {NAN, NAN, 2, NAN, 2}, {0, NAN, 1, NAN, 2}, /* nothing to buy */
        {1, NAN, 1, NAN, 3},   {2, 2.5, 0, 2.5, 3},   {0, 0, 0, 2.5, 3},   {3, 4.25, 2, 6.75, 3},
    };
    const Thread *threads[] = {&enough, &short_of, &none};
    Need totals[sizeof cases / sizeof *cases] = {0};
    Supply supplies[sizeof cases / sizeof *cases] = {0};
    Plan plan = {.totals = totals, .supplies = supplies};
    assert_true(isnan(cost_in_all(&plan).cost));
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        totals[i] = (Need){.thread = threads[cases[i].thread], .wound = 30, .ends = 10};
        supplies[i] = (Supply){.spools = cases[i].spools, .cost = cases[i].cost, .too_long = i > 4 ? 2 : 0};
        plan.total_count++;
        CostInAll all = cost_in_all(&plan);
        assert_int_equal(all.not_known, cases[i].not_known);
        assert_int_equal(all.too_long, i > 4 ? 2 * (i - 4) : 0);
        if (isnan(cases[i].all))
            assert_true(isnan(all.cost));
        else
            assert_within(all.cost, cases[i].all, 1e-12);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lengths_add_up),
        cmocka_unit_test(test_rounding),
        cmocka_unit_test(test_places_from_the_mark),
        cmocka_unit_test(test_cost_in_all),
    };
    return cmocka_run_group_tests_name("sums of the plan", tests, NULL, NULL);
}
