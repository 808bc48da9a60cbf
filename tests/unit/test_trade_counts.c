/* Counting: turns in a width, the even crossover, and sums that lose nothing. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"

#include "trade/trade.h"

/* The reference: W / p, rounded to a whole number, halves away from zero. */
static void test_turns_round_half_away(void **state)
{
    (void)state;
    static const struct {
        double width, pitch, turns;
    } cases[] = {
        {12, 0.15, 80},   {9, 0.15, 60},    {0.5, 1, 1},   {1.5, 1, 2},   {2.5, 1, 3},  {0.499999, 1, 0},
        {2.499999, 1, 2}, {2.500001, 1, 3}, {-0.5, 1, -1}, {-2.5, 1, -3}, {0, 0.15, 0}, {12.7, 25.4 / 172, 86},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_within(turns_in_width(cases[i].width, cases[i].pitch), cases[i].turns, 0);
}

/* A half is a half in decimals, as people write it: (n + 1/2) pitches of 0.150 to 0.299 mm, to the micrometre.
 * */
static void test_decimal_halves(void **state)
{
    (void)state;
    for (int pitch = 150; pitch < 300; pitch++) {
        for (int n = 0; n < 2000; n++) {
            double width = (2 * n + 1) * pitch / 2000.0;
            assert_within(turns_in_width(width, pitch / 1000.0), n + 1, 0);
            assert_within(turns_in_width(width - 0.0001, pitch / 1000.0), n, 0);
        }
    }
}

/* The pattern of 24 turns listed for error diffusion sampled at the middle of each turn with threshold 1/2, x
 * for the new thread (arithmetic; R. W. Floyd and L. Steinberg 1976 for the method, taken to one dimension). */
static void test_crossover_of_24_turns(void **state)
{
    (void)state;
    char pattern[25] = {0};
    for (uint64_t i = 1; i <= 24; i++)
        pattern[i - 1] = even_crossover_turns(i, 24) > even_crossover_turns(i - 1, 24) ? 'x' : '.';
    assert_string_equal(pattern, "....x...x.x.x.x.xxx.xxxx");
}

/* The same error diffusion carried out, in parts of 1 / (2 N): turn i owes 2 i - 1 of them to the new thread. */
static void test_crossovers_by_error_diffusion(void **state)
{
    (void)state;
    for (int64_t total = 1; total <= 500; total++) {
        int64_t owed = 0;
        uint64_t made = 0;
        for (int64_t i = 1; i <= total; i++) {
            owed += 2 * i - 1;
            if (owed >= total) {
                owed -= 2 * total;
                made++;
            }
            assert_int_equal(even_crossover_turns((uint64_t)i, (uint64_t)total), made);
        }
    }
}

static void check_crossover_turn(uint64_t turn, uint64_t total)
{
    uint64_t made = even_crossover_turns(turn, total);
    int64_t error = (int64_t)(2 * total * made) - (int64_t)(turn * turn);
    assert_true(error <= (int64_t)total && error >= -(int64_t)total);
    assert_true(made - even_crossover_turns(turn - 1, total) <= 1);
}

/* After every turn the new thread is within half a turn of i^2 / (2 N), and no turn counts twice. */
static void test_crossover_error(void **state)
{
    (void)state;
    for (uint64_t total = 1; total <= 1000; total++) {
        assert_int_equal(even_crossover_turns(0, total), 0);
        for (uint64_t turn = 1; turn <= total; turn++)
            check_crossover_turn(turn, total);
        assert_int_equal(even_crossover_turns(total, total), (total + 1) / 2);
    }
    uint64_t random = 10;
    const uint64_t largest = 1000000000;
    for (int i = 0; i < 10000; i++)
        check_crossover_turn((uint64_t)between(&random, 1, (double)largest), largest);
    assert_int_equal(even_crossover_turns(largest, largest), largest / 2);
}

/* Turns that the old thread makes in the last `turn` turns of a crossover. */
static uint64_t old_turns_from_the_end(uint64_t turn, uint64_t total)
{
    return turn - (even_crossover_turns(total, total) - even_crossover_turns(total - turn, total));
}

/* Read backwards with the threads exchanged, a crossover of an even number of turns is itself. In an odd number
 * the new thread makes one turn more than the old one, which cannot hold both ways: read backwards, the halves
 * fall downward, to floor(i^2 / (2 N)). */
static void test_crossover_backwards(void **state)
{
    (void)state;
    for (uint64_t total = 1; total <= 1000; total++) {
        for (uint64_t turn = 0; turn <= total; turn++) {
            uint64_t same = even_crossover_turns(turn, total), rounded_down = turn * turn / (2 * total);
            assert_int_equal(old_turns_from_the_end(turn, total), total % 2 == 0 ? same : rounded_down);
        }
    }
}

/* Of as many turns each, counts give the mean of their widths, and its standard uncertainty is that of repeated
 * readings, s / sqrt(n) (JCGM 100:2008, Evaluation of measurement data - Guide to the expression of uncertainty in
 * measurement, 4.2.3, from memory), but never less than the ruler's. */
static void test_pitch_of_repeated_counts(void **state)
{
    (void)state;
    const Count apart[] = {{40, 6.0}, {40, 6.2}, {40, 5.9}, {40, 6.3}};
    double scatter = sqrt((0.01 + 0.01 + 0.04 + 0.04) / 3);
    CountedPitch pitch = counted_pitch(apart, 4, 0.05);
    assert_near(pitch.pitch, 6.1 / 40, 1e-12);
    assert_near(pitch.uncertainty, scatter / sqrt(4) / 40, 1e-12);
    pitch = counted_pitch(apart, 4, 0.2);
    assert_near(pitch.uncertainty, 0.2 / sqrt(4) / 40, 1e-12);
    const Count unlike[] = {{10, 1.5}, {20, 3.1}}; /* (15 + 62) / (100 + 400) */
    pitch = counted_pitch(unlike, 2, 0.05);
    assert_near(pitch.pitch, 0.154, 1e-12);
    assert_near(pitch.uncertainty, 0.05 / sqrt(500), 1e-12);
}

/* 1/(1*2) + 1/(2*3) + ... + 1/(n(n+1)) = n / (n + 1), a million terms. */
static void test_sum_of_a_million(void **state)
{
    (void)state;
    const int terms = 1000000;
    Sum sum = {0};
    for (int i = 1; i <= terms; i++)
        sum_add(&sum, 1 / ((double)i * (i + 1.0)));
    assert_near(sum_value(&sum), terms / (terms + 1.0), 1e-15);
    Sum tenths = {0};
    for (int i = 0; i < terms; i++)
        sum_add(&tenths, 0.1);
    assert_near(sum_value(&tenths), 100000, 1e-15);
}

/* The case by which A. Neumaier's sum ("Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen",
 * Z. Angew. Math. Mech. 54, 39-51, 1974, from memory) is told from plain and from Kahan's summing
 * (en.wikipedia.org, "Kahan summation algorithm" [from memory]): 1 + 10^100 + 1 - 10^100 is 2. */
static void test_sum_where_plain_adding_fails(void **state)
{
    (void)state;
    static const double terms[] = {1, 1e100, 1, -1e100};
    volatile double plain = 0;
    Sum sum = {0};
    for (int i = 0; i < 4; i++) {
        plain += terms[i];
        sum_add(&sum, terms[i]);
    }
    assert_true(plain == 0);
    assert_true(sum_value(&sum) == 2);
}

/* A second way: walk the gaps, each the ratio times the one before, and stretch the way to the whole. */
static double walked(double first, double last, double ratio, uint32_t count, uint32_t place)
{
    double gap = 1, way = 0, all = 0;
    for (uint32_t i = 0; i + 1 < count; i++, gap *= ratio) {
        way += i < place ? gap : 0;
        all += gap;
    }
    return first + (last - first) * way / all;
}

static void test_spaced_places(void **state)
{
    (void)state;
    static const double ratios[] = {0.5, 0.8, 0.99, 1 - 1e-10, 1, 1 + 1e-10, 1.000001, 1.15, 2};
    for (unsigned r = 0; r < sizeof ratios / sizeof *ratios; r++)
        for (uint32_t count = 2; count < 20; count++)
            for (uint32_t place = 0; place < count; place++) {
                double is = spaced_place(100, 1500, ratios[r], count, place);
                assert_within(is, walked(100, 1500, ratios[r], count, place), 1e-6);
                assert_within(spaced_place(1500, 100, ratios[r], count, place),
                              walked(1500, 100, ratios[r], count, place), 1e-6);
            }
    assert_within(spaced_place(0, 700, 2, 4, 2), 300, 1e-9); /* gaps of 100, 200, 400 */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_spaced_places),
        cmocka_unit_test(test_turns_round_half_away),
        cmocka_unit_test(test_decimal_halves),
        cmocka_unit_test(test_crossover_of_24_turns),
        cmocka_unit_test(test_crossovers_by_error_diffusion),
        cmocka_unit_test(test_crossover_error),
        cmocka_unit_test(test_crossover_backwards),
        cmocka_unit_test(test_pitch_of_repeated_counts),
        cmocka_unit_test(test_sum_of_a_million),
        cmocka_unit_test(test_sum_where_plain_adding_fails),
    };
    return cmocka_run_group_tests_name("counts and sums", tests, NULL, NULL);
}
