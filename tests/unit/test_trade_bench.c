/* What threads do under the hand: slip, hold, and how thick they are. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "published.h"

#include "trade/trade.h"

/* tests/published/slip.csv; its README names source and tolerance. */
static void test_slippage_as_published(void **state)
{
    (void)state;
    Published table = published("tests/published/slip.csv");
    assert_int_equal(table.rows, 6);
    for (int i = 0; i < table.rows; i++) {
        const double *row = table.cells[i];
        assert_near(helix_slippage(row[0], row[1], row[2]), row[4], 1e-11);
        assert_near(helix_slippage(row[0], -row[1], row[2]), row[4], 1e-11);
    }
}

/* Steepest ramp that holds at a friction mu is atan(mu): .1 5.711, .12 6.843, .15 8.531, .2 11.310, .3 16.699
 * degrees (arithmetic of the model in tests/published/README.md). */
static void test_steepest_ramps(void **state)
{
    (void)state;
    const double ramps[][2] = {{0.1, 5.711}, {0.12, 6.843}, {0.15, 8.531}, {0.2, 11.310}, {0.3, 16.699}};
    for (int i = 0; i < 5; i++) {
        double slope = tan(ramps[i][1] * TRADE_PI / 180);
        assert_within(close_turn_slippage(slope), ramps[i][0], 1e-5);
        assert_within(close_turn_slippage(-slope), ramps[i][0], 1e-5);
    }
}

/* Close turns are the limit of a small lead, and a wider lead only slips more. */
static void test_close_turns_slip_least(void **state)
{
    (void)state;
    uint64_t random = 9;
    for (int i = 0; i < 1000; i++) {
        double radius = between(&random, 1, 10), slope = between(&random, -0.3, 0.3);
        double close = close_turn_slippage(slope);
        assert_near(helix_slippage(radius, slope, 1e-6), close, 1e-9);
        assert_true(helix_slippage(radius, slope, 20) > helix_slippage(radius, slope, 2));
        assert_true(helix_slippage(radius, slope, 2) > close);
    }
}

/* T2/T1 = e^(mu theta): W. E. Morton and J. W. S. Hearle, Physical Properties of Textile Fibres, 4th ed.
 * (Woodhead, 2008), section 25.1.1, eq. (25.2), table 25.1: published, the heading and the sentence were read. One
 * turn at 0.1 to 0.5 by arithmetic, to the eight digits listed. */
static void test_capstan_one_turn(void **state)
{
    (void)state;
    const double listed[] = {1.8744561, 3.5135856, 6.5860620, 12.345284, 23.140693};
    for (int i = 0; i < 5; i++)
        assert_near(capstan_ratio((i + 1) / 10.0, 1), listed[i], 5e-8);
}

/* 3 turns at 0.25 hold 111.3 times (printed as about 111 in an engineering explainer, secondary); 10 turns at
 * 0.12 hold 1881.50 times, and these turns a hundred times (arithmetic). */
static void test_capstan_turns(void **state)
{
    (void)state;
    assert_within(capstan_ratio(0.25, 3), 111.3, 0.05);
    assert_within(capstan_ratio(0.12, 10), 1881.50, 0.005);
    const double hundredfold[][2] = {{0.1, 7.32936}, {0.2, 3.66468}, {0.3, 2.44312}};
    for (int i = 0; i < 3; i++)
        assert_near(capstan_ratio(hundredfold[i][0], hundredfold[i][1]), 100, 1e-5);
    assert_true(capstan_ratio(0.2, 0) == 1);
}

/* d = 0.03568248232 sqrt(T / (rho phi)) in mm, tex and g/cm3: the definition of tex (ISO 1144:2016) and a circle's
 * area, worked out apart from the program to four decimals. Nylon 1.14 and polyester 1.39 g/cm3: Morton and
 * Hearle, as above, section 5.3, table 5.1, published; at fullness 1, 0.75 and 0.60. (A. R. Bunsell (ed.),
 * Handbook of Properties of Textile and Technical Fibres, 2nd ed. (2018), table 1.1, has 1.38 for polyester,
 * secondary: it is not used, since all densities of the program are of one table.) */
static void test_diameters_from_tex(void **state)
{
    (void)state;
    assert_near(yarn_diameter(1, 1, 1), 0.03568248232, 1e-9);
    static const double fullness[] = {1, 0.75, 0.60};
    static const struct {
        double tex, density, diameter[3];
    } listed[] = {
        {16, 1.14, {0.1337, 0.1544, 0.1726}}, {21, 1.14, {0.1531, 0.1768, 0.1977}},
        {24, 1.14, {0.1637, 0.1891, 0.2114}}, {30, 1.14, {0.1830, 0.2114, 0.2363}},
        {45, 1.14, {0.2242, 0.2589, 0.2894}}, {70, 1.14, {0.2796, 0.3229, 0.3610}},
        {90, 1.14, {0.3170, 0.3661, 0.4093}}, {135, 1.14, {0.3883, 0.4484, 0.5013}},
        {21, 1.39, {0.1387, 0.1601, 0.1791}}, {45, 1.39, {0.2030, 0.2344, 0.2621}},
    };
    for (unsigned i = 0; i < sizeof listed / sizeof *listed; i++)
        for (int k = 0; k < 3; k++)
            assert_within(yarn_diameter(listed[i].tex, listed[i].density, fullness[k]), listed[i].diameter[k],
                          5e-5);
}

/* F. T. Peirce, "The Geometry of Cloth Structure", J. Text. Inst. 28 (1937) T45, as derived in textile teaching
 * pages (secondary): cotton yarn takes 1.1 cm3 a gram, so that d = 0.003742410 cm times sqrt(tex). */
static void test_peirces_yarn(void **state)
{
    (void)state;
    assert_near(yarn_diameter(20, 1 / 1.1, 1), 0.03742410 * sqrt(20), 2e-7);
}

/* J. T. Taylor, Cotton Weaving and Designing, 6th ed. (Longmans, after 1905),
 * ch. XII, pp. 307-346, table of diameters: threads that lie side
 * by side in an inch for cotton counts (hanks of 840 yards to the pound), made by the rule 0.95 sqrt(yards a
 * pound).
 *
 * What is checked: that rule has the form of ours, so it stands for one product of density and fullness. In mm
 * and tex (yards a pound = 496054.647857 / tex, exact units) d = 25.4 / (0.95 sqrt(496054.647857 / T)), and
 * with d = sqrt(4 T / (1000 pi rho c)) follows rho c = 4 * 0.95^2 * 496054.647857 / (1000 pi 25.4^2) = 0.8835
 * g/cm3: for cotton of 1.52 g/cm3 a fullness of 0.581. With this one fullness the printed counts have to come
 * back. They are printed to the half or the whole thread, the last one 0.6 of a thread above its own rule
 * (389.4). */
static void test_threads_in_an_inch(void **state)
{
    (void)state;
    const double yards_a_pound_tex = 496054.647857, cotton = 1.52;
    const double fullness = 4 * 0.95 * 0.95 * yards_a_pound_tex / (1000 * TRADE_PI * 25.4 * 25.4) / cotton;
    assert_within(fullness, 0.581, 0.0005);
    static const struct {
        double count, printed, rounding;
    } table[] = {
        {15, 106.5, 0.25},
        {32, 156, 0.5},
        {60, 213, 0.5},
        {200, 390, 0.65},
    };
    for (int i = 0; i < 4; i++) {
        double tex = yards_a_pound_tex / (840 * table[i].count);
        assert_within(25.4 / yarn_diameter(tex, cotton, fullness), table[i].printed, table[i].rounding);
    }
}

/* Annulus pi L t (D + t): three coats by arithmetic, each to half of its last digit, and their mass. */
static void test_coats(void **state)
{
    (void)state;
    static const struct {
        double diameter, thickness, width, volume, half_digit, density, gram, half_gram_digit;
    } coats[] = {
        {10, 0.25, 100, 805.0331, 5e-5, 1.15, 0.92579, 5e-6},
        {6, 0.15, 50, 144.9060, 5e-5, 1.10, 0.15940, 5e-6},
        {14, 0.3, 250, 3369.358, 5e-4, 1.15, 3.8748, 5e-5},
    };
    for (int i = 0; i < 3; i++) {
        double volume = coat_volume(coats[i].diameter, coats[i].thickness, coats[i].width);
        assert_within(volume, coats[i].volume, coats[i].half_digit);
        assert_within(volume / 1000 * coats[i].density, coats[i].gram, coats[i].half_gram_digit);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_slippage_as_published),
        cmocka_unit_test(test_steepest_ramps),
        cmocka_unit_test(test_close_turns_slip_least),
        cmocka_unit_test(test_capstan_one_turn),
        cmocka_unit_test(test_capstan_turns),
        cmocka_unit_test(test_diameters_from_tex),
        cmocka_unit_test(test_peirces_yarn),
        cmocka_unit_test(test_threads_in_an_inch),
        cmocka_unit_test(test_coats),
    };
    return cmocka_run_group_tests_name("slip, hold, yarn, coat", tests, NULL, NULL);
}
