/* Colour: sRGB, CIELAB, CIEDE2000 and eyes without one kind of cone, against published values and liblcms2. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
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

/* Rows of the matrices (G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A Physiologically-based Model for
 * Simulation of Color Vision Deficiency", IEEE Transactions on Visualization and Computer Graphics 15(6),
 * 1291-1298, 2009, severity 1.0; secondary) add up to 1: a grey stays what it is. */
static void test_greys_are_seen_alike_by_all(void **state)
{
    (void)state;
    for (uint32_t grey = 0; grey < 256; grey++) {
        uint32_t colour = grey << 16 | grey << 8 | grey;
        for (int vision = 0; vision < VISION_COUNT; vision++)
            assert_int_equal(colour_of(light_seen((Vision)vision, light_of(colour))), colour);
    }
    /* Three numbers of six decimals each. */
    for (int vision = 0; vision < VISION_COUNT; vision++) {
        Light seen = light_seen((Vision)vision, (Light){0.5, 0.5, 0.5});
        assert_within(seen.red, 0.5, 1e-6);
        assert_within(seen.green, 0.5, 1e-6);
        assert_within(seen.blue, 0.5, 1e-6);
    }
}

/* Pure red as such eyes see it: the first columns of the matrices, negative light cut off. */
static void test_red_as_seen(void **state)
{
    (void)state;
    static const double wanted[][3] = {[VISION_ALL_CONES] = {1, 0, 0},
                                       [VISION_PROTANOPIA] = {0.152286, 0.114503, 0},
                                       [VISION_DEUTERANOPIA] = {0.367322, 0.280085, 0},
                                       [VISION_TRITANOPIA] = {1, 0, 0.004733}};
    for (int vision = 0; vision < VISION_COUNT; vision++) {
        Light seen = light_seen((Vision)vision, (Light){1, 0, 0});
        assert_within(seen.red, wanted[vision][0], 1e-12);
        assert_within(seen.green, wanted[vision][1], 1e-12);
        assert_within(seen.blue, wanted[vision][2], 1e-12);
    }
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
        cmocka_unit_test(test_greys_are_seen_alike_by_all),
        cmocka_unit_test(test_red_as_seen),
        cmocka_unit_test(test_what_is_mistaken),
        cmocka_unit_test(test_light_over),
        cmocka_unit_test(test_named_colours_as_published),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
