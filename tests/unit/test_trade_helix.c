/* Lengths of helices on cylinders and cones. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "published.h"

#include "trade/trade.h"

enum { R0 = 1, R1 = 2, LEAD = 4, TURNS = 5, AXIAL = 6, LENGTH = 7 };

/* tests/published/helix.csv; its README names source and tolerance. Case 6 runs to the apex. */
static void test_cones_as_published(void **state)
{
    (void)state;
    Published table = published("tests/published/helix.csv");
    assert_int_equal(table.rows, 6);
    for (int i = 0; i < table.rows; i++) {
        const double *row = table.cells[i];
        assert_near(cone_helix_length(row[R0], row[R1], row[AXIAL], row[LEAD]), row[LENGTH], 1e-13);
    }
    const double *cylinder = table.cells[0];
    assert_near(helix_length(cylinder[R0], cylinder[LEAD], cylinder[TURNS]), cylinder[LENGTH], 1e-14);
}

/* Conical spiral r = a phi, z = m a phi, from its apex (en.wikipedia.org, "Conical spiral", the formula [from
 * memory]): a/2 (phi sqrt(phi^2 + 1 + m^2) + (1 + m^2) ln(phi + sqrt(phi^2 + 1 + m^2)) - its value at 0), the
 * difference of logarithms taken together as asinh. */
static void test_conical_spiral_to_the_apex(void **state)
{
    (void)state;
    const double radii[] = {0.01, 1, 10, 200}, axials[] = {0.05, 3, 40, 900};
    for (int i = 0; i < 16; i++) {
        double radius = radii[i / 4], axial = axials[i % 4], turns = 8;
        double phi = 2 * TRADE_PI * turns, a = radius / phi, m = axial / radius, q = 1 + m * m;
        double wanted = a / 2 * (phi * sqrt(phi * phi + q) + q * asinh(phi / sqrt(q)));
        assert_near(cone_helix_length(radius, 0, axial, axial / turns), wanted, 1e-13);
        assert_near(cone_helix_length(0, radius, axial, axial / turns), wanted, 1e-13);
    }
}

typedef struct Cone {
    double r0, r1, axial, lead;
} Cone;

/* ds/dz = sqrt((2 pi r / lead)^2 + 1 + (dr/dz)^2): arc length in cylindrical coordinates, written anew. */
static double arc(double z, void *given)
{
    const Cone *cone = given;
    double slope = (cone->r1 - cone->r0) / cone->axial;
    double round_way = 2 * TRADE_PI * (cone->r0 + slope * z) / cone->lead;
    return sqrt(round_way * round_way + 1 + slope * slope);
}

static void check_cone(Cone cone)
{
    assert_near(cone_helix_length(cone.r0, cone.r1, cone.axial, cone.lead), integral(arc, &cone, 0, cone.axial),
                1e-11);
}

/* Numerical integration by gsl_integration_qag on 2000 cones, tapers from 1e-9 of the radius to all of it. */
static void test_cones_by_integration(void **state)
{
    (void)state;
    uint64_t random = 1;
    for (int i = 0; i < 2000; i++) {
        double r0 = between(&random, 0.5, 15), taper = pow(10, between(&random, -9, 0));
        double r1 = i % 2 ? r0 * (1 - taper) : r0 * (1 + taper);
        check_cone((Cone){r0, r1, between(&random, 0.1, 300), pow(10, between(&random, -1, 2))});
    }
}

/* From one thousandth of the radius upward in small steps, past the taper where the closed form takes over from
 * quadrature: never a step off the integral, and a larger cone always takes more thread. */
static void test_closed_form_and_quadrature_meet(void **state)
{
    (void)state;
    const double leads[] = {0.15, 5, 60};
    for (int i = 0; i < 3; i++) {
        double last = 0;
        for (double taper = 1e-3; taper < 20; taper *= 1.02) {
            Cone cone = {4, 4 * (1 + taper), 50, leads[i]};
            check_cone(cone);
            double length = cone_helix_length(cone.r0, cone.r1, cone.axial, cone.lead);
            assert_true(length > last);
            last = length;
        }
    }
}

/* A cone cut in two takes the thread of both parts. */
static void test_parts_of_a_cone_add_up(void **state)
{
    (void)state;
    uint64_t random = 2;
    for (int i = 0; i < 1000; i++) {
        double r0 = between(&random, 0, 10), r1 = between(&random, 0, 10), axial = between(&random, 1, 100);
        double lead = between(&random, 0.1, 50), share = between(&random, 0, 1), middle = r0 + (r1 - r0) * share;
        double parts = cone_helix_length(r0, middle, axial * share, lead)
                       + cone_helix_length(middle, r1, axial * (1 - share), lead);
        assert_near(parts, cone_helix_length(r0, r1, axial, lead), 1e-12);
    }
}

static void test_no_taper_is_a_cylinder(void **state)
{
    (void)state;
    uint64_t random = 3;
    for (int i = 0; i < 1000; i++) {
        double radius = between(&random, 0, 15), lead = between(&random, 0.05, 50);
        double turns = between(&random, 0, 500), wanted = helix_length(radius, lead, turns);
        assert_near(cone_helix_length(radius, radius, lead * turns, lead), wanted, 1e-14);
    }
    assert_true(helix_length(5, 0.15, 0) == 0);
    assert_true(cone_helix_length(5, 5, 0, 0.15) == 0);
}

/* 3, 4, 5: a helix round 3 whose lead is 4, unrolled, is the long side of that triangle. */
static void test_unrolled_turn(void **state)
{
    (void)state;
    assert_near(helix_length(3 / (2 * TRADE_PI), 4, 10), 50, 1e-15);
    assert_true(helix_length(7, 0, 1) == 2 * TRADE_PI * 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_cones_as_published),     cmocka_unit_test(test_conical_spiral_to_the_apex),
        cmocka_unit_test(test_cones_by_integration),   cmocka_unit_test(test_closed_form_and_quadrature_meet),
        cmocka_unit_test(test_parts_of_a_cone_add_up), cmocka_unit_test(test_no_taper_is_a_cylinder),
        cmocka_unit_test(test_unrolled_turn),
    };
    return cmocka_run_group_tests_name("helix", tests, NULL, NULL);
}
