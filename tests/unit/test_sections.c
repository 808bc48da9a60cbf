/* Rods of several sections: where each lies, what shows of it, and what the plan makes of places on them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "planned.h"

#include "meaning/sections.h"
#include "trade/trade.h"

enum { MOST_SECTIONS = 4, MOST_STATIONS = 5 };

/* A rod of several sections whose stations a test may choose. */
typedef struct Several {
    Shop shop;
    Blank blanks[MOST_SECTIONS];
    Station stations[MOST_SECTIONS][MOST_STATIONS];
    Section sections[MOST_SECTIONS];
} Several;

static void several_open(Several *several, uint32_t count)
{
    static const char *const names[] = {"low", "high", "upper", "top"};
    memset(several, 0, sizeof *several);
    shop_open(&several->shop);
    for (uint32_t i = 0; i < count; i++) {
        several->blanks[i] = (Blank){.name = text_of_string(&several->shop.texts, names[i]),
                                     .span = next_span(&several->shop),
                                     .stations = several->stations[i]};
        several->sections[i] =
            (Section){.blank = &several->blanks[i], .name = names[i], .span = next_span(&several->shop)};
    }
}

static void several_join(Several *several, uint32_t count, const double *overlaps, Fit fit)
{
    several->shop.rod.blank = join_sections(&several->shop.arena, several->sections, count, overlaps, fit);
    several->shop.rod.sections = several->sections;
    several->shop.rod.section_count = count;
}

static void add_station(Several *several, uint32_t section, double at, double diameter)
{
    Blank *blank = &several->blanks[section];
    blank->stations[blank->station_count++] = (Station){at, diameter};
}

/* Two sections of 600 mm: 12 mm to 8 mm, and 9 mm to 3 mm. */
static void two_open(Several *several, double overlap, Fit fit)
{
    several_open(several, 2);
    add_station(several, 0, 0, 12);
    add_station(several, 0, 600, 8);
    add_station(several, 1, 0, 9);
    add_station(several, 1, 600, 3);
    several_join(several, 2, &overlap, fit);
}

static void test_where_two_lie(void **state)
{
    (void)state;
    for (Fit fit = FIT_OVER; fit <= FIT_INTO; fit++) {
        Several several;
        two_open(&several, 60, fit);
        const Section *low = &several.sections[0], *high = &several.sections[1];
        const Blank *all = several.shop.rod.blank;
        double joint = fit == FIT_OVER ? 540 : 600;
        assert_within(low->butt, 0, 0);
        assert_within(low->tip, 600, 0);
        assert_within(low->start, 0, 0);
        assert_within(low->end, joint, 0);
        assert_within(high->butt, 540, 0);
        assert_within(high->tip, 1140, 0);
        assert_within(high->start, joint, 0);
        assert_within(high->end, 1140, 0);
        assert_int_equal(all->station_count, 4);
        assert_within(blank_butt(all), 0, 0);
        assert_within(blank_tip(all), 1140, 0);
        assert_within(blank_diameter_beside(all, joint, joint - 1), 12 - joint / 150, 1e-12);
        assert_within(blank_diameter_beside(all, joint, joint + 1), 9 - (joint - 540) / 100, 1e-12);
        assert_within(blank_diameter(all, 700), 9 - 1.6, 1e-12);
        assert_int_equal(section_at(&several.shop.rod, joint - 0.001), 0);
        assert_int_equal(section_at(&several.shop.rod, joint), 1);
        assert_within(from_section_end(high, 700, false), 160, 0);
        assert_within(from_section_end(high, 700, true), 440, 0);
        assert_within(from_section_end(low, 100, true), 500, 0);
        assert_string_equal(blanks_named(&several.shop.arena, &several.shop.rod), "low and high");
        shop_close(&several.shop);
    }
}

/* A station within the joint that does not show is left out; one right at it is not there twice. */
static void test_stations_in_a_joint(void **state)
{
    (void)state;
    Several several;
    several_open(&several, 2);
    add_station(&several, 0, 0, 12);
    add_station(&several, 0, 540, 8.5);
    add_station(&several, 0, 570, 8.2);
    add_station(&several, 0, 600, 8);
    add_station(&several, 1, 0, 9);
    add_station(&several, 1, 30, 8.8);
    add_station(&several, 1, 600, 3);
    const double overlap = 60;
    several_join(&several, 2, &overlap, FIT_OVER);
    const Blank *all = several.shop.rod.blank;
    const Station wanted[] = {{0, 12}, {540, 8.5}, {540, 9}, {570, 8.8}, {1140, 3}};
    assert_int_equal(all->station_count, 5);
    for (uint32_t i = 0; i < 5; i++) {
        assert_within(all->stations[i].at, wanted[i].at, 1e-12);
        assert_within(all->stations[i].diameter, wanted[i].diameter, 1e-12);
    }
    shop_close(&several.shop);
}

/* The diameter that shows at x, by another way: whichever section is on the outside there, read off its own
 * stations. */
static double seen_diameter(const Several *several, uint32_t count, Fit fit, double x)
{
    uint32_t outer = fit == FIT_OVER ? 0 : count - 1;
    for (uint32_t i = 0; i < count; i++) {
        uint32_t one = fit == FIT_OVER ? i : count - 1 - i;
        double from = several->sections[one].butt;
        const Blank *blank = &several->blanks[one];
        if (x >= from + blank->stations[0].at && x <= from + blank->stations[blank->station_count - 1].at)
            outer = one;
    }
    const Blank *blank = &several->blanks[outer];
    double own = x - several->sections[outer].butt;
    for (uint32_t s = 0; s + 1 < blank->station_count; s++) {
        Station a = blank->stations[s], b = blank->stations[s + 1];
        if (own >= a.at && own <= b.at)
            return a.diameter + (b.diameter - a.diameter) * (own - a.at) / (b.at - a.at);
    }
    return NAN;
}

static void random_sections(Several *several, uint32_t count, uint64_t *seed, double *overlaps)
{
    for (uint32_t i = 0; i < count; i++) {
        double at = i ? 0 : between(seed, -20, 20), diameter = 14 - 3 * i;
        uint32_t stations = 2 + (uint32_t)between(seed, 0, 3);
        for (uint32_t s = 0; s < stations; s++) {
            add_station(several, i, at, diameter);
            at += between(seed, 80, 300);
            diameter -= between(seed, 0, 0.8);
        }
    }
    for (uint32_t i = 0; i + 1 < count; i++)
        overlaps[i] = between(seed, 0, 70);
}

static void test_any_sections(void **state)
{
    (void)state;
    uint64_t seed = 20;
    for (int round = 0; round < 200; round++) {
        Several several;
        uint32_t count = 2 + (uint32_t)round % 3;
        double overlaps[MOST_SECTIONS];
        Fit fit = round % 2 ? FIT_INTO : FIT_OVER;
        several_open(&several, count);
        random_sections(&several, count, &seed, overlaps);
        several_join(&several, count, overlaps, fit);
        const Blank *all = several.shop.rod.blank;
        for (uint32_t i = 1; i < all->station_count; i++)
            assert_true(all->stations[i].at >= all->stations[i - 1].at);
        for (uint32_t i = 1; i < count; i++)
            assert_within(several.sections[i].butt, several.sections[i - 1].tip - overlaps[i - 1], 1e-9);
        for (int i = 0; i < 100; i++) {
            double x = between(&seed, blank_butt(all), blank_tip(all));
            assert_within(blank_diameter(all, x), seen_diameter(&several, count, fit, x), 1e-9);
        }
        shop_close(&several.shop);
    }
}

/* Turns that end or begin right at a joint lie on their own section alone. */
static void test_turns_up_to_a_joint(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, FIT_OVER);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 534, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    LAYER(shop, add_place(shop, 540, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    const Plan *plan = shop_plan(shop);
    assert_findings(shop, 0);
    double at_joint = 12 - 540.0 / 150;
    double below = cone_helix_length((at_joint + 6.0 / 150 + 0.15) / 2, (at_joint + 0.15) / 2, 6, 0.15);
    double above = cone_helix_length(9.15 / 2, 9.09 / 2, 6, 0.15);
    assert_near(laid(plan, 0, 0)->runs[0].lengths[0], below, 1e-11);
    assert_within(laid(plan, 0, 0)->runs[0].end_diameter, at_joint, 1e-9);
    assert_near(laid(plan, 1, 0)->runs[0].lengths[0], above, 1e-11);
    assert_within(laid(plan, 1, 0)->runs[0].start_diameter, 9, 1e-9);
    assert_int_equal(plan->rods[0].places[0].section, 0);
    assert_int_equal(plan->rods[0].places[1].section, 1);
    shop_close(shop);
}

/* The same toward the butt: what begins at a joint lies on the section below it. */
static void test_turns_from_a_joint(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, FIT_OVER);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 546, -1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    LAYER(shop, add_place(shop, 540, -1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    const Plan *plan = shop_plan(shop);
    assert_findings(shop, 0);
    assert_int_equal(plan->rods[0].places[0].section, 1);
    assert_int_equal(plan->rods[0].places[1].section, 0);
    assert_within(laid(plan, 0, 0)->runs[0].end_diameter, 9, 1e-9);
    assert_within(laid(plan, 1, 0)->runs[0].start_diameter, 12 - 540.0 / 150, 1e-9);
    shop_close(shop);
}

/* The next place in working order, by its mark. */
static double mark_of(const Plan *plan, uint32_t place) { return plan->rods[0].places[place].place->mark; }

/* Sections are worked one after the other, in the order in which their first places are written; in each its
 * places stay in order. */
static void test_order_of_work(void **state)
{
    (void)state;
    static const double wanted[][4] = {{700, 900, 100, 300}, {100, 300, 700, 900}, {900, 700, 300, 100}};
    for (PlaceOrder order = ORDER_SOURCE; order <= ORDER_TIP; order++) {
        Several several;
        two_open(&several, 60, FIT_OVER);
        Shop *shop = &several.shop;
        shop->job.bench.order = order;
        const double marks[] = {700, 100, 900, 300};
        for (int i = 0; i < 4; i++)
            LAYER(shop, add_place(shop, marks[i], 1, NAN), true, band(shop, EXTENT_TURNS, 20, 0));
        const Plan *plan = shop_plan(shop);
        for (uint32_t i = 0; i < 4; i++)
            assert_within(mark_of(plan, i), wanted[order][i], 0);
        shop_close(shop);
    }
}

/* The mark of a guide may lie beyond the joint; its foot says where it is. */
static void test_guide_by_its_foot(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, FIT_OVER);
    Shop *shop = &several.shop;
    const Guide *guide = new_guide(
        shop, (Guide){.feet = {10}, .foot_count = 1, .gap = 8, .on_butt_side = true, .width = 2, .height = 1});
    LAYER(shop, add_guide(shop, 543, guide), true, band(shop, EXTENT_TURNS, 40, 0)); /* its foot from 529 to 539 */
    const Plan *plan = shop_plan(shop);
    assert_findings(shop, 0);
    assert_int_equal(plan->rods[0].places[0].section, 0);
    shop_close(shop);
}

/* A mend of another finding does not move a place across a joint. */
static void test_mends_mind_the_joint(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, FIT_OVER);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 526, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0)); /* to 532 */
    LAYER(shop, add_place(shop, 531, 1, NAN), true, band(shop, EXTENT_TURNS, 56, 0)); /* to 539.4 */
    shop_plan(shop);
    assert_findings(shop, 1);
    assert_string_equal(found(shop, FINDING_PLACES_OVERLAP)->edit.text, "525 mm");
    shop_close(shop);
}

/* Off the end of the rod it is the blank of that end that is named. */
static void test_off_the_end(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, FIT_OVER);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 1138, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    shop_plan(shop);
    assert_string_equal(found(shop, FINDING_OFF_THE_BLANK)->message,
                        "this place reaches 4.00 mm past the last station of high");
    shop_close(shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_where_two_lie),      cmocka_unit_test(test_stations_in_a_joint),
        cmocka_unit_test(test_any_sections),       cmocka_unit_test(test_turns_up_to_a_joint),
        cmocka_unit_test(test_turns_from_a_joint), cmocka_unit_test(test_order_of_work),
        cmocka_unit_test(test_guide_by_its_foot),  cmocka_unit_test(test_mends_mind_the_joint),
        cmocka_unit_test(test_off_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
