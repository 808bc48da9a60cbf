/* Colour: sRGB, CIELAB, CIEDE2000 and eyes without one kind of cone, against published values and liblcms2. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <gsl/gsl_linalg.h>
#include <lcms2.h>

#include "near.h"
#include "published.h"

#include "trade/colour.h"
#include "trade/colour_names.h"

/* tests/published/ciede2000.csv, printed to four decimals. Exactly opposite hues (rows 10 and 14) included. */
static void test_ciede2000_as_published(void **state)
{
    (void)state;
    Published table = published("tests/published/ciede2000.csv");
    assert_int_equal(table.rows, 34);
    for (int i = 0; i < table.rows; i++) {
        const double *row = table.cells[i];
        Lab first = {row[0], row[1], row[2]}, second = {row[3], row[4], row[5]};
        assert_within(ciede2000(first, second), row[6], 1e-4);
        assert_within(ciede2000(second, first), row[6], 1e-4);
    }
}

/* Close and distant pairs, none with hues exactly opposite, where rounding would decide. */
static void test_ciede2000_as_liblcms2(void **state)
{
    (void)state;
    uint64_t random = 7;
    for (int i = 0; i < 20000; i++) {
        double near = i % 2 ? 5 : 100;
        Lab first = {between(&random, 0, 100), between(&random, -100, 100), between(&random, -100, 100)};
        Lab second = {fmin(fmax(first.lightness + between(&random, -near, near), 0), 100),
                      first.a + between(&random, -near, near), first.b + between(&random, -near, near)};
        cmsCIELab a = {first.lightness, first.a, first.b}, b = {second.lightness, second.a, second.b};
        assert_within(ciede2000(first, second), cmsCIE2000DeltaE(&a, &b, 1, 1, 1), 1e-9);
    }
}

/* White and black differ by 100: from data of an ICC working group, secondary. */
static void test_ciede2000_ends(void **state)
{
    (void)state;
    assert_within(ciede2000((Lab){100, 0, 0}, (Lab){0, 0, 0}), 100, 1e-12);
    assert_within(ciede2000((Lab){50, 20, -30}, (Lab){50, 20, -30}), 0, 1e-12);
}

/* tests/published/colour.csv: red, green, blue, (six columns of another matrix), XYZ and Lab of ours. The names
 * come first there, so that the numbers begin in the second column. */
static void test_srgb_to_lab_as_published(void **state)
{
    (void)state;
    Published table = published("tests/published/colour.csv");
    assert_int_equal(table.rows, 17);
    for (int i = 0; i < table.rows; i++) {
        const double *row = table.cells[i];
        uint32_t colour = (uint32_t)row[1] << 16 | (uint32_t)row[2] << 8 | (uint32_t)row[3];
        Xyz xyz = xyz_of(light_of(colour));
        assert_within(xyz.x, row[10], 1e-11);
        assert_within(xyz.y, row[11], 1e-11);
        assert_within(xyz.z, row[12], 1e-11);
        Lab lab = lab_of(xyz, colour_white());
        assert_within(lab.lightness, row[13], 1e-9);
        assert_within(lab.a, row[14], 1e-9);
        assert_within(lab.b, row[15], 1e-9);
        assert_int_equal(colour_of(light_of(colour)), colour);
    }
}

/* encode(0.18): colour-science/colour, colour/models/rgb/transfer_functions/tests/test_srgb.py, published. 128 200
 * 255: documentation of the R package munsellinterpol 2.0.1 (srgb2xyz), published. Half black, half white gives
 * code 187.516, mixed as light: worked out by hand from the standard's formula. */
static void test_srgb_values(void **state)
{
    (void)state;
    assert_within(srgb_encode(0.18), 0.461356129500442, 1e-15);
    assert_within(srgb_encode(0.5) * 255, 187.516, 5e-4);
    Xyz xyz = xyz_of(light_of(0x80c8ff));
    assert_within(xyz.x * 100, 47.60334, 5e-6);
    assert_within(xyz.y * 100, 53.11601, 5e-6);
    assert_within(xyz.z * 100, 102.3549, 6e-5);
    for (int i = 0; i <= 1000; i++)
        assert_within(srgb_encode(srgb_decode(i / 1000.0)), i / 1000.0, 2e-7); /* the branches do not quite meet */
}

/* XYZ to Lab: MathWorks' page of xyz2lab (R2021a) and colour-science/colour, colour/models/tests/test_cie_lab.py,
 * both published. The second one's white is x 0.3127, y 0.3290. */
static void test_lab_values(void **state)
{
    (void)state;
    Lab lab = lab_of((Xyz){0.25, 0.40, 0.10}, (Xyz){0.95047, 1, 1.08883});
    assert_within(lab.lightness, 69.4695, 5e-5);
    assert_within(lab.a, -48.0439, 5e-5);
    assert_within(lab.b, 57.1259, 5e-5);
    lab = lab_of((Xyz){0.07049534, 0.10080000, 0.09558313},
                 (Xyz){0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290});
    assert_within(lab.lightness, 37.98562910, 1e-8);
    assert_within(lab.a, -22.61920654, 1e-8);
    assert_within(lab.b, 4.19811236, 1e-8);
}

static void test_lab_as_liblcms2(void **state)
{
    (void)state;
    uint64_t random = 9;
    Xyz white = colour_white();
    cmsCIEXYZ their_white = {white.x, white.y, white.z};
    for (int i = 0; i < 10000; i++) {
        Xyz xyz = xyz_of(light_of((uint32_t)between(&random, 0, 0x1000000)));
        cmsCIEXYZ theirs = {xyz.x, xyz.y, xyz.z};
        cmsCIELab lab;
        cmsXYZ2Lab(&their_white, &lab, &theirs);
        Lab ours = lab_of(xyz, white);
        assert_within(ours.lightness, lab.L, 1e-9);
        assert_within(ours.a, lab.a, 1e-9);
        assert_within(ours.b, lab.b, 1e-9);
    }
}

/* Light, XYZ: a profile of the same primaries, white and curve. Profiles are adapted to another white, which is
 * done to ours as well. */
static void test_xyz_as_liblcms2(void **state)
{
    (void)state;
    cmsCIExyY white = {0.3127, 0.3290, 1};
    cmsCIExyYTRIPLE primaries = {{0.64, 0.33, 1}, {0.30, 0.60, 1}, {0.15, 0.06, 1}};
    cmsCIEXYZ white_xyz;
    cmsxyY2XYZ(&white_xyz, &white);
    assert_within(colour_white().x, white_xyz.X, 1e-12);
    assert_within(colour_white().y, 1, 1e-12);
    assert_within(colour_white().z, white_xyz.Z, 1e-12);
    double curve[] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    cmsToneCurve *decode = cmsBuildParametricToneCurve(NULL, 4, curve);
    cmsToneCurve *curves[] = {decode, decode, decode};
    cmsHPROFILE profile = cmsCreateRGBProfile(&white, &primaries, curves);
    assert_non_null(profile);
    static const cmsTagSignature tags[] = {cmsSigRedColorantTag, cmsSigGreenColorantTag, cmsSigBlueColorantTag};
    static const Light lights[] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    for (int i = 0; i < 3; i++) {
        const cmsCIEXYZ *wanted = cmsReadTag(profile, tags[i]);
        Xyz ours = xyz_of(lights[i]);
        cmsCIEXYZ plain = {ours.x, ours.y, ours.z}, adapted;
        assert_true(cmsAdaptToIlluminant(&adapted, &white_xyz, cmsD50_XYZ(), &plain));
        assert_within(adapted.X, wanted->X, 1e-6);
        assert_within(adapted.Y, wanted->Y, 1e-6);
        assert_within(adapted.Z, wanted->Z, 1e-6);
    }
    for (int code = 0; code < 256; code++)
        assert_within(light_of((uint32_t)code).blue, cmsEvalToneCurveFloat(decode, (float)code / 255), 1e-6);
    cmsCloseProfile(profile);
    cmsFreeToneCurve(decode);
}

static Light random_light(uint64_t *random)
{
    return (Light){between(random, 0, 1), between(random, 0, 1), between(random, 0, 1)};
}

static void assert_same_light(Light light, Light wanted, double tolerance)
{
    assert_within(light.red, wanted.red, tolerance);
    assert_within(light.green, wanted.green, tolerance);
    assert_within(light.blue, wanted.blue, tolerance);
}

/* To the last digit. */
static void test_greys_are_seen_alike_by_all(void **state)
{
    (void)state;
    for (int vision = 0; vision < VISION_COUNT; vision++)
        for (uint32_t grey = 0; grey < 256; grey++) {
            Light light = light_of(grey * 0x010101);
            assert_same_light(light_seen((Vision)vision, light), light, 0);
        }
}

static void test_all_cones_see_what_is_there(void **state)
{
    (void)state;
    uint64_t random = 21;
    for (int i = 0; i < 100; i++) {
        Light light = random_light(&random);
        assert_same_light(light_seen(VISION_ALL_CONES, light), light, 0);
    }
}

/* Three rows and columns, worked out again from what the papers begin with. */
typedef struct Square {
    double cells[9];
} Square;

/* matrix x = y, by GSL. */
static void solve(Square matrix, const double *y, double *x)
{
    double right[] = {y[0], y[1], y[2]};
    gsl_matrix_view a = gsl_matrix_view_array(matrix.cells, 3, 3);
    gsl_vector_view b = gsl_vector_view_array(right, 3), out = gsl_vector_view_array(x, 3);
    assert_int_equal(gsl_linalg_HH_solve(&a.matrix, &b.vector, &out.vector), 0);
}

static void apply(const Square *matrix, const double *x, double *y)
{
    for (int i = 0; i < 3; i++)
        y[i] = matrix->cells[3 * i] * x[0] + matrix->cells[3 * i + 1] * x[1] + matrix->cells[3 * i + 2] * x[2];
}

/* Cones over XYZ as modified by Judd and Vos: V. C. Smith and J. Pokorny, "Spectral sensitivity of the foveal cone
 * photopigments between 400 and 500 nm", Vision Research 15, 161-171 (1975), secondary: two copies agree. */
static const Square smith_pokorny = {{0.15514, 0.54312, -0.03286, -0.15514, 0.45684, 0.03286, 0, 0, 0.01608}};

/* A place in CIE's diagram in that of the modified observer: J. J. Vos, "Colorimetric and photometric properties
 * of a 2 deg fundamental observer", Color Research & Application 3(3), 125-128 (1978). The formula is from memory;
 * the four places that the paper of 1999 prints come out of it. */
static void modified(double x, double y, double *place)
{
    double whole = 0.03845 * x + 0.01496 * y + 1;
    place[0] = (1.0271 * x - 0.00008 * y - 0.00009) / whole;
    place[1] = (0.00376 * x + 1.0072 * y + 0.00764) / whole;
    place[2] = 1 - place[0] - place[1];
}

/* Cones over light: the screen's primaries (IEC 61966-2-1) weighted so that they add up to its white. */
static Square cones_of_light(void)
{
    static const double corners[4][2] = {{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}, {0.3127, 0.3290}};
    /* F. Vienot, H. Brettel and J. D. Mollon, "Digital video colourmaps for checking the legibility of displays by
     * dichromats", Color Research & Application 24(4), 243-252 (1999), secondary. */
    static const double printed[4][2] = {{0.6384, 0.3326}, {0.3018, 0.6008}, {0.1530, 0.0682}, {0.3157, 0.3345}};
    double places[4][3], weights[3];
    Square xyz, cones;
    for (int i = 0; i < 4; i++) {
        modified(corners[i][0], corners[i][1], places[i]);
        assert_within(places[i][0], printed[i][0], 5.1e-5);
        assert_within(places[i][1], printed[i][1], 5.1e-5);
    }
    for (int i = 0; i < 9; i++)
        xyz.cells[i] = places[i % 3][i / 3];
    double white[] = {places[3][0] / places[3][1], 1, places[3][2] / places[3][1]};
    solve(xyz, white, weights);
    for (int i = 0; i < 3; i++) {
        double column[3], seen[3];
        for (int j = 0; j < 3; j++)
            column[j] = places[i][j] * weights[i];
        apply(&smith_pokorny, column, seen);
        for (int j = 0; j < 3; j++)
            cones.cells[3 * j + i] = seen[j];
    }
    return cones;
}

/* As the papers do it: in what the cones see, the missing one's share from the plane through black, white and an
 * anchor. Of 485 and 660 nm (Vos's observer, secondary) that on whose side of white the other two cones are. */
static Light seen_by_cones(const Square *cones, Vision vision, Light light)
{
    static const double waves[2][3] = {{0.056985, 0.16987, 0.5864}, {0.16161, 0.061, 1.1906e-5}};
    static const double all[] = {1, 1, 1}, blue[] = {0, 0, 1};
    double of[] = {light.red, light.green, light.blue}, seen[3], white[3], anchor[3];
    apply(cones, of, seen);
    apply(cones, all, white);
    if (vision == VISION_TRITANOPIA)
        apply(&smith_pokorny, waves[seen[1] / seen[0] < white[1] / white[0]], anchor);
    else
        apply(cones, blue, anchor);
    double normal[3];
    for (int i = 0; i < 3; i++) {
        int j = (i + 1) % 3, k = (i + 2) % 3;
        normal[i] = white[j] * anchor[k] - white[k] * anchor[j];
    }
    int missing = (int)vision - VISION_PROTANOPIA, j = (missing + 1) % 3, k = (missing + 2) % 3;
    seen[missing] = -(normal[j] * seen[j] + normal[k] * seen[k]) / normal[missing];
    solve(*cones, seen, of);
    return (Light){of[0], of[1], of[2]};
}

/* The matrix is printed to six digits, the anchors to five. */
static void test_seen_by_the_other_cones(void **state)
{
    (void)state;
    uint64_t random = 23;
    Square cones = cones_of_light();
    for (int i = 0; i < 3000; i++) {
        Vision vision = VISION_PROTANOPIA + i % 3;
        Light light = i % 2 ? random_light(&random) : light_of((uint32_t)between(&random, 1, 0x1000000));
        assert_same_light(light_seen(vision, light), seen_by_cones(&cones, vision, light), 1e-4);
    }
}

/* Red, green and blue as libDaltonLens prints them (secondary, and an implementation of the same papers):
 * columns of its matrices to five decimals; of two half planes the one on which that primary comes to lie. */
static void test_primaries_as_seen(void **state)
{
    (void)state;
    static const double columns[][3][3] = {
        [VISION_PROTANOPIA] = {{0.11238, 0.11238, 0.00401}, {0.88762, 0.88762, -0.00401}, {0, 0, 1}},
        [VISION_DEUTERANOPIA] = {{0.29275, 0.29275, -0.02234}, {0.70725, 0.70725, 0.02234}, {0, 0, 1}},
        [VISION_TRITANOPIA] = {{1.01277, -0.01243, 0.07589},
                               {0.18979, 0.81526, 1.12767},
                               {-0.12657, 0.12320, 0.24796}},
    };
    for (int vision = VISION_PROTANOPIA; vision < VISION_COUNT; vision++)
        for (int i = 0; i < 3; i++) {
            Light light = {i == 0, i == 1, i == 2};
            const double *wanted = columns[vision][i];
            assert_same_light(light_seen((Vision)vision, light), (Light){wanted[0], wanted[1], wanted[2]}, 2.5e-5);
        }
}

/* Twice is once, more light is more light, and what lies on one half plane with greys mixes as light does. */
static void test_seen_twice_is_seen_once(void **state)
{
    (void)state;
    uint64_t random = 25;
    for (int i = 0; i < 3000; i++) {
        Vision vision = VISION_PROTANOPIA + i % 3;
        Light light = random_light(&random), seen = light_seen(vision, light);
        assert_same_light(light_seen(vision, seen), seen, 1e-14);
        Light half = {light.red / 2, light.green / 2, light.blue / 2};
        assert_same_light(light_seen(vision, half), (Light){seen.red / 2, seen.green / 2, seen.blue / 2}, 1e-15);
        assert_same_light(light_seen(vision, light_over(light, 0.25, (Light){1, 1, 1})),
                          light_over(seen, 0.25, (Light){1, 1, 1}), 1e-14);
    }
}

/* Lights that differ to one cone alone: as far apart as the screen allows. */
static void test_what_the_missing_cone_alone_tells_apart(void **state)
{
    (void)state;
    uint64_t random = 27;
    Square cones = {{17.8824, 43.5161, 4.11935, 3.45565, 27.1554, 3.86714, 0.0299566, 0.184309, 1.46709}};
    double widest[VISION_COUNT] = {0};
    for (int i = 0; i < 3000; i++) {
        Vision vision = VISION_PROTANOPIA + i % 3;
        double one[3] = {0}, along[3];
        one[vision - VISION_PROTANOPIA] = 1;
        solve(cones, one, along);
        Light light = random_light(&random);
        const double from[] = {light.red, light.green, light.blue};
        double most = INFINITY;
        for (int j = 0; j < 3; j++)
            most = fmin(most, (along[j] > 0 ? 1 - from[j] : -from[j]) / along[j]);
        Light other = {from[0] + most * along[0], from[1] + most * along[1], from[2] + most * along[2]};
        Light seen = light_seen(vision, light);
        assert_same_light(light_seen(vision, other), seen, 1e-12);
        Xyz white = colour_white();
        widest[vision] =
            fmax(widest[vision], ciede2000(lab_of(xyz_of(light), white), lab_of(xyz_of(other), white)));
    }
    for (int vision = VISION_PROTANOPIA; vision < VISION_COUNT; vision++)
        assert_true(widest[vision] > 30);
}

/* What the names say: without the cones for red or green, a moss green and a rust brown of one lightness come
 * together; without those for blue, a blue and a green do; dark and light stay apart for all. */
static void test_what_is_mistaken(void **state)
{
    (void)state;
    assert_true(difference_seen(VISION_ALL_CONES, 0x5b7a3a, 0x8f5a35) > 30);
    assert_true(difference_seen(VISION_DEUTERANOPIA, 0x5b7a3a, 0x8f5a35) < 10);
    assert_true(difference_seen(VISION_ALL_CONES, 0x00a0b0, 0x2fa37c) > 15);
    assert_true(difference_seen(VISION_TRITANOPIA, 0x00a0b0, 0x2fa37c) < 10);
    for (int vision = 0; vision < VISION_COUNT; vision++)
        assert_true(difference_seen((Vision)vision, 0x22346b, 0x9db8d6) > 30);
    /* Both are seen by the same eye. */
    uint64_t random = 29;
    for (int i = 0; i < 400; i++) {
        uint32_t a = (uint32_t)between(&random, 0, 0x1000000), b = (uint32_t)between(&random, 0, 0x1000000);
        assert_near(difference_seen((Vision)(i % 4), a, b), difference_seen((Vision)(i % 4), b, a), 1e-9);
    }
}

/* A part of one light and the rest of the other, each by the code values of IEC 61966-2-1 worked out here. */
static void test_light_over(void **state)
{
    (void)state;
    uint64_t random = 11;
    for (int i = 0; i < 2000; i++) {
        uint32_t top = (uint32_t)between(&random, 0, 0x1000000), ground = (uint32_t)between(&random, 0, 0x1000000);
        double opacity = i % 10 == 0 ? 0 : i % 10 == 1 ? 1 : between(&random, 0, 1);
        uint32_t look = colour_of(light_over(light_of(top), opacity, light_of(ground)));
        if (i % 10 < 2)
            assert_int_equal(look, i % 10 ? top : ground);
        for (int shift = 0; shift <= 16; shift += 8) {
            double codes[] = {(top >> shift & 0xff) / 255.0, (ground >> shift & 0xff) / 255.0}, light = 0;
            for (int j = 0; j < 2; j++) {
                double code = codes[j];
                light += (j ? 1 - opacity : opacity)
                         * (code <= 0.04045 ? code / 12.92 : exp(2.4 * log((code + 0.055) / 1.055)));
            }
            double level = light <= 0.0031308 ? 12.92 * light : 1.055 * exp(log(light) / 2.4) - 0.055;
            assert_true(fabs(255 * level - (look >> shift & 0xff)) <= 0.5 + 1e-6);
        }
    }
    /* Half of white over black; 188 of 255 is that of test_srgb_values. */
    assert_int_equal(colour_of(light_over(light_of(0xffffff), 0.5, light_of(0))), 0xbcbcbc);
}

/* tests/published/css_colours.csv: name, colour as six digits. All of them, in their order, and nothing else. */
static void test_named_colours_as_published(void **state)
{
    (void)state;
    FILE *table = fopen("tests/published/css_colours.csv", "r");
    assert_non_null(table);
    char line[64], name[64];
    assert_non_null(fgets(line, sizeof line, table));
    uint32_t count = 0;
    for (unsigned colour; fgets(line, sizeof line, table); count++) {
        assert_int_equal(sscanf(line, "%63[a-z],%6x", name, &colour), 2);
        assert_int_equal(colour_named(name), colour);
        assert_string_equal(colour_name(count), name);
    }
    fclose(table);
    assert_int_equal(count, 148);
    assert_null(colour_name(count));
    static const char *const others[] = {"", "Navy", "nav", "navyy", "transparent", "currentcolor", "a", "zebra"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        assert_int_equal(colour_named(others[i]), NO_COLOUR);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ciede2000_as_published),
        cmocka_unit_test(test_ciede2000_as_liblcms2),
        cmocka_unit_test(test_ciede2000_ends),
        cmocka_unit_test(test_srgb_to_lab_as_published),
        cmocka_unit_test(test_srgb_values),
        cmocka_unit_test(test_lab_values),
        cmocka_unit_test(test_lab_as_liblcms2),
        cmocka_unit_test(test_xyz_as_liblcms2),
        cmocka_unit_test(test_greys_are_seen_alike_by_all),
        cmocka_unit_test(test_all_cones_see_what_is_there),
        cmocka_unit_test(test_seen_by_the_other_cones),
        cmocka_unit_test(test_primaries_as_seen),
        cmocka_unit_test(test_seen_twice_is_seen_once),
        cmocka_unit_test(test_what_the_missing_cone_alone_tells_apart),
        cmocka_unit_test(test_what_is_mistaken),
        cmocka_unit_test(test_light_over),
        cmocka_unit_test(test_named_colours_as_published),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
