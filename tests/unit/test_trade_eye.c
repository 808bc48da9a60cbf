/* What the eye makes of fine stripes, and the path of colours that two lights mix to, against GSL and liblcms2. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <gsl/gsl_fft_complex.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_randist.h>
#include <lcms2.h>

#include "near.h"

#include "trade/eye.h"
#include "trade/mixing.h"

#define HALF_TURN 3.141592653589793

/* tan x = x + x^3 / 3, x = 0.5 / 60 degrees = pi / 21600: 0.000145444105 of the distance. */
static void test_blur_by_hand(void **state)
{
    (void)state;
    assert_within(eye_blur(0.5, 2000), 0.2908882107, 1e-10);
    assert_within(eye_blur(0.5, 600), 0.0872664632, 1e-10);
    assert_within(eye_blur(60, 1000), 17.4550649282, 1e-9); /* tan 1 degree, from memory */
    assert_within(eye_blur(0, 2000), 0, 0);
}

typedef struct Stripes {
    int count;
    double edges[33], lights[32]; /* stripe i from edge i to the next */
} Stripes;

static double seen_at(const Stripes *stripes, double blur, double x)
{
    double light = 0;
    for (int i = 0; i < stripes->count; i++)
        light += stripes->lights[i] * eye_share(blur, x, stripes->edges[i], stripes->edges[i + 1]);
    return light;
}

typedef struct Spread {
    double blur, x;
} Spread;

static double spread_of(double at, void *given)
{
    const Spread *spread = given;
    return gsl_ran_gaussian_pdf(at - spread->x, spread->blur);
}

/* The normal distribution over each stripe by quadrature, in pieces that are small beside the blur. */
static double quadrature(const Stripes *stripes, Spread spread)
{
    double light = 0;
    for (int i = 0; i < stripes->count; i++) {
        double from = stripes->edges[i], length = stripes->edges[i + 1] - from;
        int pieces = (int)ceil(length / spread.blur / 8);
        for (int j = 0; j < pieces; j++)
            light += stripes->lights[i]
                     * integral(spread_of, &spread, from + length * j / pieces, from + length * (j + 1) / pieces);
    }
    return light;
}

static void test_seen_light_by_quadrature(void **state)
{
    (void)state;
    uint64_t random = 3;
    for (int i = 0; i < 200; i++) {
        Stripes stripes = {.count = 1 + (int)between(&random, 0, 8)};
        stripes.edges[0] = between(&random, -3, 3);
        for (int j = 0; j < stripes.count; j++) {
            stripes.edges[j + 1] = stripes.edges[j] + exp(between(&random, -4, 2));
            stripes.lights[j] = between(&random, 0, 1);
        }
        Spread spread = {exp(between(&random, -3, 1)), between(&random, -5, 10)};
        assert_within(seen_at(&stripes, spread.blur, spread.x), quadrature(&stripes, spread), 1e-12);
    }
}

/* Stripes that repeat, blurred where sums of waves are blurred: wave k of n cells by exp(-2 (pi k blur / n)^2). A
 * sample of each cell is taken for the whole cell by sin(pi k / n) / (pi k / n), so that nothing is lost. */
static void test_seen_light_by_waves(void **state)
{
    (void)state;
    enum { CELLS = 512 };
    uint64_t random = 5;
    for (int i = 0; i < 100; i++) {
        Stripes stripes = {0};
        double waves[2 * CELLS] = {0};
        for (int cell = 0; cell < CELLS;) {
            int end = stripes.count == 31 ? CELLS : cell + 1 + (int)between(&random, 0, 60);
            stripes.lights[stripes.count] = between(&random, 0, 1);
            for (; cell < end && cell < CELLS; cell++)
                waves[2 * cell] = stripes.lights[stripes.count];
            stripes.edges[++stripes.count] = cell;
        }
        double blur = between(&random, 4, 40);
        gsl_fft_complex_radix2_forward(waves, 1, CELLS);
        for (int k = 1; k < CELLS; k++) {
            double turn = HALF_TURN * (k < CELLS / 2 ? k : k - CELLS) / CELLS;
            double factor = sin(turn) / turn * exp(-2 * turn * blur * turn * blur);
            waves[2 * k] *= factor;
            waves[2 * k + 1] *= factor;
        }
        gsl_fft_complex_radix2_inverse(waves, 1, CELLS);
        for (int cell = 0; cell < CELLS; cell++) {
            double x = cell + 0.5;
            double seen = seen_at(&stripes, blur, x - CELLS) + seen_at(&stripes, blur, x)
                          + seen_at(&stripes, blur, x + CELLS);
            assert_within(seen, waves[2 * cell], 1e-12);
        }
    }
}

/* Nothing is lost, nothing is seen twice; without blur it is sharp. */
static void test_shares(void **state)
{
    (void)state;
    uint64_t random = 7;
    for (int i = 0; i < 1000; i++) {
        double blur = i % 4 ? exp(between(&random, -8, 3)) : 0, x = between(&random, -5, 5);
        double edges[] = {-INFINITY, between(&random, -5, 0), i % 8 ? 0 : x, between(&random, 0, 5), INFINITY};
        double sum = 0;
        for (int j = 0; j < 4; j++) {
            double share = eye_share(blur, x, fmin(edges[j], edges[j + 1]), fmax(edges[j], edges[j + 1]));
            assert_true(share >= 0 && share <= 1);
            sum += edges[j] < edges[j + 1] ? share : -share;
        }
        assert_within(sum, 1, 1e-15);
        assert_within(eye_share(blur, x, x, INFINITY), 0.5, 0);
        assert_within(eye_share(blur, x, x - 1, x), eye_share(blur, x, x, x + 1), 1e-15);
    }
    assert_within(eye_share(0, 1, 0.5, 1.5), 1, 0);
    assert_within(eye_share(0, 1, 1, 1.5), 0.5, 0);
    assert_within(eye_share(0, 1, 1.25, 1.5), 0, 0);
    assert_within(eye_share(1, 0, -1, 1), 0.682689492137, 1e-12); /* within one standard deviation: from memory */
}

static double secant(double x) { return 2 / (exp(x) + exp(-x)); }

/* The five numbers of A. B. Watson and A. J. Ahumada, "A standard model for foveal detection of spatial contrast",
 * Journal of Vision 5(9), 717-740 (2005): gain, f0, f1, a, p (secondary). */
static double sensitivity(double f)
{
    return 373.08 * (secant(pow(f / 4.1726, 0.7786)) - 0.8493 * secant(f / 1.3625));
}

static void test_contrast_threshold(void **state)
{
    (void)state;
    double least = INFINITY, at = 0;
    for (double f = 1e-6; f < 300; f *= 1.0003) {
        double threshold = contrast_threshold(f);
        assert_near(threshold, 1 / sensitivity(f), 1e-12);
        assert_true(threshold > 0);
        if (threshold < least) {
            least = threshold;
            at = f;
        }
    }
    /* Found apart, by search in the formula. */
    assert_within(at, 3.44945, 0.002);
    assert_near(least, 1 / 217.29227, 1e-6);
    assert_near(contrast_threshold(47.233967), 1, 1e-6);
    assert_near(contrast_threshold(0), 1 / (373.08 * (1 - 0.8493)), 1e-12);
}

/* Never less than nothing, and beyond its least only up: finer stripes are never easier to see. */
static void test_contrast_threshold_at_its_limits(void **state)
{
    (void)state;
    double before = contrast_threshold(3.45);
    for (double f = 3.5; f < 1e300; f *= 1.01) {
        double threshold = contrast_threshold(f);
        assert_true(threshold > before || isinf(threshold));
        before = threshold;
    }
    assert_true(isinf(before) && before > 0);
    for (double f = 0; f < 2; f += 1e-4)
        assert_true(contrast_threshold(f) > 0 && contrast_threshold(f) <= 1 / 56.2);
}

/* Two ways to the wave that counts: its samples' transform, each taken for its whole cell. */
static void test_stripes_by_their_wave(void **state)
{
    (void)state;
    enum { CELLS = 256 };
    uint64_t random = 11;
    for (int i = 0; i < 500; i++) {
        int wide = 1 + (int)between(&random, 0, CELLS - 1);
        double one = between(&random, 0, 1), other = i % 5 ? between(&random, 0, 1) : 0;
        double period = exp(between(&random, -3, 2)), distance = between(&random, 200, 5000);
        double wave[2 * CELLS];
        for (int cell = 0; cell < CELLS; cell++) {
            wave[2 * cell] = cell < wide ? one : other;
            wave[2 * cell + 1] = 0;
        }
        gsl_fft_complex_radix2_forward(wave, 1, CELLS);
        double turn = HALF_TURN / CELLS, amplitude = 2 * hypot(wave[2], wave[3]) * sin(turn) / turn;
        double degrees_wide = atan2(period, distance) * 180 / HALF_TURN;
        double wanted = amplitude / wave[0] * sensitivity(1 / degrees_wide);
        assert_within(stripes_visible(one, other, wide / (double)CELLS, period, distance), wanted,
                      1e-10 * wanted + 1e-10);
    }
}

static void test_stripes_at_their_limits(void **state)
{
    (void)state;
    assert_within(stripes_visible(0.3, 0.3, 0.4, 1, 600), 0, 0);
    assert_within(stripes_visible(0, 0, 0.4, 1, 600), 0, 0);
    assert_within(stripes_visible(1, 0, 0, 1, 600), 0, 0);
    assert_within(stripes_visible(1, 0.5, 1, 1, 600), 0, 1e-12);
    assert_within(stripes_visible(1, 0, 0.5, 0, 600), 0, 0);
    assert_within(stripes_visible(1, 0, 0.5, 1e-300, 600), 0, 0);
    /* Black and white, of one width: 4 / pi of the mean. Wider than the view they are still stripes. */
    assert_near(stripes_visible(1, 0, 0.5, 1e12, 600), 4 / HALF_TURN * sensitivity(1.0 / 90), 1e-6);
    /* Turns of 0.3 mm, black and white: plain to see in the hand, not from across the room. */
    assert_true(stripes_visible(1, 0, 0.5, 0.6, 600) > 10);
    assert_true(stripes_visible(1, 0, 0.5, 0.6, 2000) < 1);
}

/* XYZ of light of sRGB's primaries, from their places in the diagram (IEC 61966-2-1), solved by GSL. */
typedef struct Primaries {
    double xyz[3][3]; /* [X, Y, Z][red, green, blue] */
    cmsCIEXYZ white;
} Primaries;

static Primaries primaries(void)
{
    static const double places[3][2] = {{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}};
    double matrix[9], weights[3], white[] = {0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290};
    Primaries out = {.white = {white[0], white[1], white[2]}};
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            out.xyz[j][i] = j < 2 ? places[i][j] : 1 - places[i][0] - places[i][1];
    for (int i = 0; i < 9; i++)
        matrix[i] = out.xyz[i / 3][i % 3];
    gsl_matrix_view a = gsl_matrix_view_array(matrix, 3, 3);
    gsl_vector_view b = gsl_vector_view_array(white, 3), x = gsl_vector_view_array(weights, 3);
    assert_int_equal(gsl_linalg_HH_solve(&a.matrix, &b.vector, &x.vector), 0);
    for (int i = 0; i < 9; i++)
        out.xyz[i / 3][i % 3] *= weights[i % 3];
    return out;
}

static cmsCIELab lab_mixed(const Primaries *primaries, Light from, Light to, double share)
{
    double light[] = {from.red * (1 - share) + to.red * share, from.green * (1 - share) + to.green * share,
                      from.blue * (1 - share) + to.blue * share};
    double xyz[3] = {0};
    for (int i = 0; i < 9; i++)
        xyz[i / 3] += primaries->xyz[i / 3][i % 3] * light[i % 3];
    cmsCIEXYZ colour = {xyz[0], xyz[1], xyz[2]};
    cmsCIELab lab;
    cmsXYZ2Lab(&primaries->white, &lab, &colour);
    return lab;
}

static double away(cmsCIELab a, cmsCIELab b)
{
    return sqrt((a.L - b.L) * (a.L - b.L) + (a.a - b.a) * (a.a - b.a) + (a.b - b.b) * (a.b - b.b));
}

/* One of three with a light near black, some from black itself, some of neighbouring codes. */
static void random_pair(uint64_t *random, int i, Light *from, Light *to)
{
    uint32_t colours[2];
    for (int j = 0; j < 2; j++)
        colours[j] = (uint32_t)between(random, 0, 0x1000000);
    if (i % 3 == 0)
        colours[0] &= i % 2 ? 0x0f0f0f : 0;
    if (i % 7 == 0)
        colours[1] = colours[0] ^ 0x010000;
    *from = light_of(colours[i % 2]);
    *to = light_of(colours[1 - i % 2]);
}

/* The bounds in trade/mixing.h. */
static void test_path_by_fine_steps(void **state)
{
    (void)state;
    enum { STEPS = 4096 };
    static double shares[STEPS + 1], lengths[STEPS + 1];
    Primaries srgb = primaries();
    uint64_t random = 13;
    double worst = 0, worst_length = 0, sum = 0;
    for (int i = 0; i < 300; i++) {
        Light from, to;
        random_pair(&random, i, &from, &to);
        cmsCIELab before = lab_mixed(&srgb, from, to, 0);
        for (int j = 1; j <= STEPS; j++) {
            double t = (double)j / STEPS;
            shares[j] = t * t * (3 - 2 * t);
            cmsCIELab here = lab_mixed(&srgb, from, to, shares[j]);
            lengths[j] = lengths[j - 1] + away(before, here);
            before = here;
        }
        MixPath path = mix_path(from, to);
        double off = 0;
        for (int j = 0; j <= STEPS; j++)
            off = fmax(off, fabs(mix_position(&path, shares[j]) - lengths[j] / lengths[STEPS]));
        worst = fmax(worst, off);
        sum += off;
        worst_length = fmax(worst_length, fabs(path.length / lengths[STEPS] - 1));
    }
    assert_true(worst <= 5e-4);
    assert_true(worst_length <= 1e-4);
    assert_true(sum / 300 <= 8e-5);
}

static void test_positions_turned_round(void **state)
{
    (void)state;
    uint64_t random = 17;
    for (int i = 0; i < 500; i++) {
        Light from, to;
        random_pair(&random, i, &from, &to);
        MixPath path = mix_path(from, to), back = mix_path(to, from);
        assert_near(back.length, path.length, 1e-12);
        assert_within(mix_position(&path, 0), 0, 0);
        assert_within(mix_position(&path, 1), 1, 0);
        assert_within(mix_share(&path, 0), 0, 0);
        assert_within(mix_share(&path, 1), 1, 0);
        assert_within(mix_share(&path, -0.5), 0, 0);
        assert_within(mix_position(&path, -0.5), 0, 0);
        assert_within(mix_share(&path, 1.5), 1, 0);
        assert_within(mix_position(&path, 1.5), 1, 0);
        double before = -1;
        for (int j = 0; j <= 1000; j++) {
            double share = j / 1000.0, position = mix_position(&path, share);
            assert_true(position > before);
            before = position;
            assert_within(mix_share(&path, position), share, 1e-12);
            assert_within(mix_position(&path, mix_share(&path, share)), share, 1e-12);
            assert_within(mix_position(&back, 1 - share), 1 - position, 1e-9); /* short paths: rounding */
        }
    }
}

/* Lights that are equal, or all but equal, have no path: a position on it is the share, not what rounding makes.
 */
static void test_paths_without_length(void **state)
{
    (void)state;
    uint64_t random = 19;
    for (int i = 0; i < 200; i++) {
        Light from = light_of((uint32_t)between(&random, 0, 0x1000000)), to = from;
        if (i % 2) {
            to.red += between(&random, -1e-15, 1e-15);
            to.blue += between(&random, -1e-15, 1e-15);
        }
        MixPath path = mix_path(from, to);
        assert_within(path.length, 0, 0);
        for (int j = 0; j <= 100; j++) {
            assert_within(mix_position(&path, j / 100.0), j / 100.0, 1e-15);
            assert_within(mix_share(&path, j / 100.0), j / 100.0, 1e-15);
        }
    }
    /* The least that two colours of a file differ by is a path. */
    assert_true(mix_path(light_of(0), light_of(0x000001)).length > 0.01);
}

static void test_mixed_light(void **state)
{
    (void)state;
    MixPath path = mix_path((Light){0.2, 0, 1}, (Light){0.6, 1, 0.5});
    Light light = mixed_light(&path, 0.25);
    assert_within(light.red, 0.3, 1e-15);
    assert_within(light.green, 0.25, 1e-15);
    assert_within(light.blue, 0.875, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_blur_by_hand),          cmocka_unit_test(test_seen_light_by_quadrature),
        cmocka_unit_test(test_seen_light_by_waves),   cmocka_unit_test(test_shares),
        cmocka_unit_test(test_contrast_threshold),    cmocka_unit_test(test_contrast_threshold_at_its_limits),
        cmocka_unit_test(test_stripes_by_their_wave), cmocka_unit_test(test_stripes_at_their_limits),
        cmocka_unit_test(test_path_by_fine_steps),    cmocka_unit_test(test_positions_turned_round),
        cmocka_unit_test(test_paths_without_length),  cmocka_unit_test(test_mixed_light),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
