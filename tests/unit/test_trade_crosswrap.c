/* What the trade knows of crosswraps: angle, slip and turning round of open helices. Published values are those
 * of Dalibor: I. H. Dalibor, T. V. Lisboa, R. J. Marczak, S. C. Amico, "A geometric approach for filament
 * winding pattern generation and study of the influence of the slippage coefficient", J. Braz. Soc. Mech. Sci.
 * Eng. 41:576 (2019), doi 10.1007/s40430-019-2083-2; there angles are taken from the axis. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"

#include "trade/trade.h"

#include <gsl/gsl_odeiv2.h>

#define DEGREES (180 / TRADE_PI)

/* A curve on a cone by its first two derivatives along the axis: radius, slope of the radius, angle round. */
typedef struct Curve {
    long double radius, slope, angle, turning, bending;
} Curve;
typedef struct Vector {
    long double x, y, z;
} Vector;
typedef struct Curvatures {
    long double geodesic, normal;
} Curvatures;

static long double product(Vector a, Vector b) { return a.x * b.x + a.y * b.y + a.z * b.z; }

/* Textbook: with P the curve and n the surface's normal, kg = n (P' x P'') / |P'|^3 and kn = n P'' / |P'|^2. */
static Curvatures curvatures(Curve at)
{
    long double c = cosl(at.angle), s = sinl(at.angle), k = at.slope, r = at.radius, t = at.turning;
    Vector first = {k * c - r * t * s, k * s + r * t * c, 1};
    long double along = -r * t * t, aside = 2 * k * t + r * at.bending;
    Vector second = {along * c - aside * s, along * s + aside * c, 0};
    Vector cross = {first.y * second.z - first.z * second.y, first.z * second.x - first.x * second.z,
                    first.x * second.y - first.y * second.x};
    long double unit = 1 / sqrtl(1 + k * k), speed = sqrtl(product(first, first));
    Vector normal = {c * unit, s * unit, -k * unit};
    return (Curvatures){product(normal, cross) / (speed * speed * speed),
                        product(normal, second) / (speed * speed)};
}

/* A path from z = 0: the angle round, its derivative, the length so far. */
enum { ANGLE, TURNING, LENGTH, PATH_SIZE };
typedef struct Cone {
    double r0, slope;
} Cone;

/* How the turning must change for no geodesic curvature, which is linear in that change. */
static int straight_on(double z, const double path[], double change[], void *given)
{
    const Cone *cone = given;
    Curve at = {cone->r0 + cone->slope * z, cone->slope, path[ANGLE], path[TURNING], 0};
    long double none = curvatures(at).geodesic;
    at.bending = 1;
    long double one = curvatures(at).geodesic;
    double r = (double)at.radius, round = r * path[TURNING];
    change[ANGLE] = path[TURNING];
    change[TURNING] = (double)(-none / (one - none));
    change[LENGTH] = sqrt(round * round + 1 + cone->slope * cone->slope);
    return GSL_SUCCESS;
}

/* From the axis, i.e. the cone's meridian. */
static double path_angle(const Cone *cone, double z, const double path[])
{
    return atan((cone->r0 + cone->slope * z) * path[TURNING] / sqrt(1 + cone->slope * cone->slope));
}

/* The geodesic that leaves z = 0 at the angle `from` to the meridian, by Runge, Kutta, Prince and Dormand's
 * rule. */
static void geodesic(Cone cone, double from, double z, double path[PATH_SIZE])
{
    path[ANGLE] = path[LENGTH] = 0;
    path[TURNING] = tan(from) * sqrt(1 + cone.slope * cone.slope) / cone.r0;
    gsl_odeiv2_system system = {straight_on, NULL, PATH_SIZE, &cone};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1e-2, 1e-13, 1e-13);
    double at = 0;
    int status = gsl_odeiv2_driver_apply(driver, &at, z, path);
    gsl_odeiv2_driver_free(driver);
    assert_int_equal(status, GSL_SUCCESS);
}

/* Derived for this project (closed form on the unrolled cone, and quadrature): r0 = 7, dr/dz = -0.006, 45 degrees.
 * These curvatures, which give the slip below, find the same path; and no helix between its ends is shorter. */
static void test_a_geodesic_on_a_cone(void **state)
{
    (void)state;
    Cone cone = {7, -0.006};
    static const double angles[][2] = {{50, 47.6265973}, {100, 50.6600184}, {200, 58.5839412}};
    double path[PATH_SIZE];
    for (int i = 0; i < 3; i++) {
        geodesic(cone, TRADE_PI / 4, angles[i][0], path);
        assert_within(path_angle(&cone, angles[i][0], path) * DEGREES, angles[i][1], 5.1e-8);
    }
    geodesic(cone, TRADE_PI / 4, 100, path);
    double turns = path[ANGLE] / (2 * TRADE_PI);
    assert_within(turns, 2.62042607322, 1e-10);
    assert_within(path[LENGTH], 148.778496822, 1e-8);
    double helix = cone_helix_length(7, 6.4, 100, 100 / turns);
    assert_true(helix > path[LENGTH] && helix < path[LENGTH] * 1.001);
}

/* Clairaut: r sin(alpha) is the same all along a geodesic, on 200 cones; and a helix of constant lead between
 * its ends is never shorter. */
static void test_clairaut(void **state)
{
    (void)state;
    uint64_t random = 61;
    for (int i = 0; i < 200; i++) {
        Cone cone = {between(&random, 3, 12), between(&random, -0.02, 0.02)};
        double from = between(&random, 0.3, 0.8), z = between(&random, 5, 60), path[PATH_SIZE];
        geodesic(cone, from, z, path);
        double r = cone.r0 + cone.slope * z;
        assert_near(r * sin(path_angle(&cone, z, path)), cone.r0 * sin(from), 1e-10);
        double helix = cone_helix_length(cone.r0, r, z, z * 2 * TRADE_PI / path[ANGLE]);
        assert_true(helix > path[LENGTH] * (1 - 1e-12));
    }
}

/* A geodesic has no tendency to slip; a helix of constant lead has just what helix_slippage says, on 5000 cones.
 * */
static void test_slippage_by_curvatures(void **state)
{
    (void)state;
    uint64_t random = 62;
    for (int i = 0; i < 5000; i++) {
        double r = between(&random, 1, 12), lead = pow(10, between(&random, -1, 2.3));
        double slope = between(&random, -0.2, 0.2);
        Curve helix = {r, slope, between(&random, 0, 7), 2 * (long double)TRADE_PI / lead, 0};
        Curvatures bent = curvatures(helix);
        assert_near(helix_slippage(r, slope, lead), (double)fabsl(bent.geodesic / bent.normal), 1e-12);
    }
    assert_true(helix_slippage(5, 0, 20) == 0);
}

/* lead of a circle of radius 25 at 60 degrees from the axis, remainder of 200 mm: Dalibor prints 90.7, 18.6,
 * 73.91. */
static void test_angles_and_leads(void **state)
{
    (void)state;
    double low = 1, high = 1000;
    for (int i = 0; i < 200; i++) {
        double middle = (low + high) / 2;
        *(helix_angle(25, middle) < TRADE_PI / 6 ? &low : &high) = middle;
    }
    assert_within(low, 90.68997, 5e-6);
    assert_within(200 - 2 * low, 18.62006, 1e-5);
    assert_within((200 - 2 * low) / low * 360, 73.9136, 5e-5);
    uint64_t random = 63;
    for (int i = 0; i < 1000; i++) {
        double radius = between(&random, 1, 15), lead = between(&random, 0.1, 300);
        double angle = helix_angle(radius, lead);
        assert_near(2 * TRADE_PI * radius * sin(angle), lead * cos(angle), 1e-13);
        /* unrolled, a turn is the long side */
        assert_near(helix_length(radius, lead, 1) * sin(angle), lead, 1e-13);
    }
    assert_near(helix_angle(3 / (2 * TRADE_PI), 4), atan2(4, 3), 1e-15);
}

/* Bands that go round once, side by side: Dalibor's eq. 2, N = 2 pi r cos(alpha) / w. The cover of 19 bands of 6
 * mm is printed there as 102.82 %, which does not follow from the number. */
static void test_bands_that_cover(void **state)
{
    (void)state;
    static const struct {
        double r, w, alpha, count, bands, cover;
    } rows[] = {
        {25, 2, 60, 39.2699, 40, 101.859},
        {25, 6, 45, 18.5120, 19, 102.636},
        {25, 6, 45, 18.5120, 20, 108.038},
        {30, 3.5, 60, 26.9279, 27, 100.268},
    };
    for (int i = 0; i < 4; i++) {
        double lead = 2 * TRADE_PI * rows[i].r / tan(rows[i].alpha / DEGREES);
        double count = lead * cos(helix_angle(rows[i].r, lead)) / rows[i].w;
        assert_within(count, rows[i].count, 5.1e-5);
        assert_within(100 * rows[i].bands / count, rows[i].cover, 5.1e-4);
    }
}

/* Dalibor's dwell at both ends of the turn together, 60 degrees. */
static void test_dwell_as_published(void **state)
{
    (void)state;
    static const double rows[][2] = {{0.1, 629.45847}, {0.2, 314.72924}, {0.3, 209.81949}, {0.4, 157.36462}};
    for (int i = 0; i < 4; i++)
        assert_within(turning_dwell(TRADE_PI / 3, TRADE_PI / 3, rows[i][0]) * DEGREES, rows[i][1], 5.1e-6);
}

/* On a cylinder kn = sin(a)^2 / r and kg = da/ds (textbook). A path that asks for all of the friction has kg =
 * friction kn: ds = r da / (friction sin(a)^2); the way along is the integral of cos(a) ds, the way round of
 * sin(a) ds / r. */
typedef struct Turning {
    double radius, friction;
} Turning;

static double way_along(double a, void *given)
{
    const Turning *turning = given;
    return cos(a) * turning->radius / (turning->friction * sin(a) * sin(a));
}

static double way_round(double a, void *given) { return 1 / (((const Turning *)given)->friction * sin(a)); }

static void test_turning_by_integration(void **state)
{
    (void)state;
    uint64_t random = 64;
    for (int i = 0; i < 1000; i++) {
        Turning turning = {between(&random, 1, 12), between(&random, 0.05, 0.6)};
        double from = between(&random, 0.15, 1.5), to = between(&random, 0.15, 1.5);
        assert_near(turning_way(turning.radius, from, turning.friction),
                    integral(way_along, &turning, from, TRADE_PI / 2), 1e-10);
        double round_way =
            integral(way_round, &turning, from, TRADE_PI / 2) + integral(way_round, &turning, to, TRADE_PI / 2);
        assert_near(turning_dwell(from, to, turning.friction), round_way, 1e-10);
    }
    /* a thread that goes straight round has turned already */
    assert_within(turning_way(5, TRADE_PI / 2, 0.2), 0, 1e-14);
    assert_within(turning_dwell(TRADE_PI / 2, TRADE_PI / 2, 0.2), 0, 1e-14);
}

/* Dalibor's eq. 17, sin(a) = sin(a0) / (1 - friction z sin(a0) / r), asks for the same friction everywhere by
 * its curvatures, and comes to 90 degrees after turning_way. */
static void test_turning_by_curvatures(void **state)
{
    (void)state;
    uint64_t random = 65;
    for (int i = 0; i < 1000; i++) {
        long double r = between(&random, 1, 12), friction = between(&random, 0.05, 0.6);
        long double s0 = sinl(between(&random, 0.15, 1.4));
        long double way = turning_way((double)r, (double)asinl(s0), (double)friction);
        long double end = s0 / (1 - friction * way * s0 / r);
        assert_within((double)end, 1, 1e-12);
        long double z = way * between(&random, 0, 0.9), s = s0 / (1 - friction * z * s0 / r), c = sqrtl(1 - s * s);
        long double rise = friction * s * s / r; /* ds/dz of eq. 17 */
        /* turning = tan(a) / r; its derivative by s is 1 / (r c^3) */
        Curvatures bent = curvatures((Curve){r, 0, 1, s / (c * r), rise / (r * c * c * c)});
        assert_near((double)fabsl(bent.geodesic / bent.normal), (double)friction, 1e-11);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_geodesic_on_a_cone),   cmocka_unit_test(test_clairaut),
        cmocka_unit_test(test_slippage_by_curvatures), cmocka_unit_test(test_angles_and_leads),
        cmocka_unit_test(test_bands_that_cover),       cmocka_unit_test(test_dwell_as_published),
        cmocka_unit_test(test_turning_by_integration), cmocka_unit_test(test_turning_by_curvatures),
    };
    return cmocka_run_group_tests_name("crosswraps: angle, slip, turning", tests, NULL, NULL);
}
