/* Turns over a guide's foot: the hull's perimeter and the thread's length over a ramp. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "published.h"

#include "trade/trade.h"

/* tests/published/hull.csv; its README names source and tolerance. The last row is the foot wider than the
 * blank. */
static void test_perimeters_as_published(void **state)
{
    (void)state;
    Published table = published("tests/published/hull.csv");
    assert_int_equal(table.rows, 6);
    for (int i = 0; i < table.rows; i++) {
        const double *row = table.cells[i];
        assert_near(hull_perimeter(row[0], row[1], row[2]), row[3], 1e-14);
    }
}

/* The limits listed beside the table: no foot is pi D; a foot without width, 2 sqrt(H^2 - R^2) + 2 R (pi -
 * acos(R/H)) with H = R + h (two tangents from a point). */
static void test_limits(void **state)
{
    (void)state;
    uint64_t random = 4;
    for (int i = 0; i < 1000; i++) {
        double radius = between(&random, 0.5, 10), height = between(&random, 0.05, 4), top = radius + height;
        assert_near(hull_perimeter(2 * radius, 0, 0), TRADE_PI * 2 * radius, 1e-15);
        double wanted = 2 * sqrt(top * top - radius * radius) + 2 * radius * (TRADE_PI - acos(radius / top));
        assert_near(hull_perimeter(2 * radius, 0, height), wanted, 1e-13);
    }
    assert_near(hull_perimeter(0, 3, 2), 10, 1e-15); /* no blank: round the bare rectangle */
}

/* How far the hull reaches from the middle of the blank in direction `angle` (its support function). */
static double reach(double angle, double radius, double width, double height)
{
    double across = fabs(cos(angle)) * width / 2, up = sin(angle);
    double top = across + up * (radius + height), underside = across + up * radius;
    double foot = top > underside ? top : underside;
    /* A foot narrower than the blank has its underside within the blank. */
    if (width <= 2 * radius)
        foot = top;
    return foot > radius ? foot : radius;
}

/* Cauchy's formula: the perimeter of a convex shape is the integral of its support function over all
 * directions. */
static void test_perimeter_by_cauchy(void **state)
{
    (void)state;
    enum { DIRECTIONS = 20000 };
    uint64_t random = 5;
    for (int i = 0; i < 200; i++) {
        double radius = between(&random, 0.5, 8), width = between(&random, 0, 4 * radius);
        double height = between(&random, 0, 3), sum = 0;
        for (int k = 0; k < DIRECTIONS; k++)
            sum += reach(2 * TRADE_PI * (k + 0.5) / DIRECTIONS, radius, width, height);
        assert_near(hull_perimeter(2 * radius, width, height), 2 * TRADE_PI * sum / DIRECTIONS, 1e-7);
    }
}

/* Where the foot gets as wide as the blank, both cases agree in value and slope. */
static void test_cases_meet_at_the_blanks_width(void **state)
{
    (void)state;
    uint64_t random = 6;
    for (int i = 0; i < 1000; i++) {
        double d = between(&random, 1, 20), height = between(&random, 0.1, 3), step = 1e-6 * d;
        double below = hull_perimeter(d, d - step, height), at = hull_perimeter(d, d, height);
        double above = hull_perimeter(d, d + step, height);
        assert_within(at - below, step, 1e-4 * step);
        assert_within(above - at, step, 1e-4 * step);
    }
}

static void test_a_larger_foot_takes_more_thread(void **state)
{
    (void)state;
    uint64_t random = 7;
    for (int i = 0; i < 1000; i++) {
        double d = between(&random, 1, 20), width = between(&random, 0, 20), height = between(&random, 0, 3);
        double plain = hull_perimeter(d, width, height);
        assert_true(hull_perimeter(d, width + 0.01, height + 0.001) > plain);
        assert_true(hull_perimeter(d, width, height + 0.01) > plain);
        assert_true(plain >= TRADE_PI * d * (1 - 1e-15));
    }
}

typedef struct Wound {
    const HullStretch *stretch;
    double lead;
} Wound;

static double at(double a, double b, double share) { return a * (1 - share) + b * share; }

/* sqrt(P^2 + lead^2) / lead at x mm of the stretch, P the hull and 2 pi times what lies on it. */
static double thread_per_mm(double x, void *given)
{
    const Wound *wound = given;
    const HullStretch *s = wound->stretch;
    double share = x / s->axial;
    double p = hull_perimeter(at(s->diameter_a, s->diameter_b, share), at(s->width_a, s->width_b, share),
                              at(s->height_a, s->height_b, share))
               + 2 * TRADE_PI * at(s->above_a, s->above_b, share);
    return sqrt(p * p + wound->lead * wound->lead) / wound->lead;
}

/* gsl_integration_qag on either side of the place where foot and blank are equally wide. */
static void check_stretch(const HullStretch *s, double lead)
{
    Wound wound = {s, lead};
    double split =
        s->axial * (s->diameter_a - s->width_a) / ((s->diameter_a - s->width_a) - (s->diameter_b - s->width_b));
    if (!(split > 0 && split < s->axial))
        split = 0;
    double wanted = integral(thread_per_mm, &wound, 0, split) + integral(thread_per_mm, &wound, split, s->axial);
    assert_near(hull_helix_length(s, lead), wanted, 1e-9);
}

/* 4000 random stretches: ramps that rise from nothing, ramps that fall to nothing, and feet cut anywhere; feet
 * up to one and a half times as wide as the blank, blanks down to 1 mm. */
static void test_ramps_by_integration(void **state)
{
    (void)state;
    uint64_t random = 8;
    for (int i = 0; i < 4000; i++) {
        double d = between(&random, 1, 20), lead = pow(10, between(&random, -1, 1.5));
        HullStretch s = {.axial = between(&random, 0.05, 30),
                         .diameter_a = d,
                         .diameter_b = d * between(&random, 0.8, 1.2),
                         .width_a = i % 3 == 0 ? 0 : between(&random, 0, 1.5 * d),
                         .width_b = i % 3 == 1 ? 0 : between(&random, 0, 1.5 * d),
                         .height_a = i % 3 == 0 ? 0 : between(&random, 0, 3),
                         .height_b = i % 3 == 1 ? 0 : between(&random, 0, 3),
                         .above_a = between(&random, 0.05, 0.5),
                         .above_b = between(&random, 0.05, 0.5)};
        check_stretch(&s, lead);
    }
}

/* A foot whose tip is cut just after it has begun to rise is the hardest to integrate: near the corner of the
 * tangents' growth, and not on it. */
static void test_cut_near_the_tip_of_a_foot(void **state)
{
    (void)state;
    for (double tip = 1e-8; tip < 0.5; tip *= 1.5) {
        HullStretch s = {.axial = 6,
                         .diameter_a = 9,
                         .diameter_b = 8.9,
                         .width_a = 2.6 * tip,
                         .width_b = 2.6,
                         .height_a = 0.9 * tip,
                         .height_b = 0.9,
                         .above_a = 0.075,
                         .above_b = 0.075};
        check_stretch(&s, 0.15);
        HullStretch steep = {.axial = 2,
                             .diameter_a = 2,
                             .diameter_b = 2,
                             .width_a = 0,
                             .width_b = 2.5,
                             .height_a = 2 * tip,
                             .height_b = 2,
                             .above_a = 0.075,
                             .above_b = 0.075};
        check_stretch(&steep, 0.15);
    }
}

/* Without a foot it is a helix: on a cylinder at the thread's centre line, on a taper within what the slope of
 * the surface adds, less than slope^2 lead^2 / (2 perimeter^2). */
static void test_no_foot_is_a_helix(void **state)
{
    (void)state;
    HullStretch cylinder = {.axial = 15, .diameter_a = 10, .diameter_b = 10, .above_a = 0.075, .above_b = 0.075};
    assert_near(hull_helix_length(&cylinder, 0.15), helix_length(5.075, 0.15, 100), 1e-14);
    HullStretch taper = {.axial = 40, .diameter_a = 12, .diameter_b = 11.6, .above_a = 0.08, .above_b = 0.08};
    assert_near(hull_helix_length(&taper, 0.16), cone_helix_length(6.08, 5.88, 40, 0.16), 1e-9);
}

static void test_nothing_to_wind(void **state)
{
    (void)state;
    HullStretch none = {.diameter_a = 10, .diameter_b = 10, .width_a = 2, .width_b = 2, .height_b = 1};
    assert_true(hull_helix_length(&none, 0.15) == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_perimeters_as_published),
        cmocka_unit_test(test_limits),
        cmocka_unit_test(test_perimeter_by_cauchy),
        cmocka_unit_test(test_cases_meet_at_the_blanks_width),
        cmocka_unit_test(test_a_larger_foot_takes_more_thread),
        cmocka_unit_test(test_ramps_by_integration),
        cmocka_unit_test(test_cut_near_the_tip_of_a_foot),
        cmocka_unit_test(test_no_foot_is_a_helix),
        cmocka_unit_test(test_nothing_to_wind),
    };
    return cmocka_run_group_tests_name("hull", tests, NULL, NULL);
}
