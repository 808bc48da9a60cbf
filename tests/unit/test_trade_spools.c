/* Pieces cut from spools, against every way of cutting them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"

#include "trade/trade.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_PIECES = 3000 };

static uint32_t bought(const double *lengths, uint32_t count, double spool, double stock)
{
    static double own[MOST_PIECES], scratch[10 * MOST_PIECES + 10];
    memcpy(own, lengths, count * sizeof *own);
    return spools_to_buy(own, count, spool, stock, scratch);
}

/* The fewest, by every piece on every spool: no order, no bound, no use of equal ones. rooms: of the spools at
 * hand, then of one for each piece. */
static uint32_t fewest(const double *lengths, uint32_t count, double *rooms, uint32_t at_hand, const double *full)
{
    if (!count) {
        uint32_t used = 0;
        for (const double *room = rooms + at_hand; room < full; room++)
            used += *room >= 0;
        return used;
    }
    uint32_t least = UINT32_MAX;
    for (double *room = rooms; room < full; room++) {
        double before = *room;
        double left = (before < 0 ? -before : before) - *lengths; /* negative: a whole one that is not bought */
        if (left < -1e-9)
            continue;
        *room = left < 0 ? 0 : left;
        uint32_t got = fewest(lengths + 1, count - 1, rooms, at_hand, full);
        least = got < least ? got : least;
        *room = before;
    }
    return least;
}

static uint32_t brute(const double *lengths, uint32_t count, double spool, double stock)
{
    double rooms[40];
    uint32_t at_hand = 0;
    for (; stock >= spool; stock -= spool)
        rooms[at_hand++] = spool;
    rooms[at_hand++] = stock;
    for (uint32_t i = 0; i < count; i++)
        rooms[at_hand + i] = -spool;
    return fewest(lengths, count, rooms, at_hand, rooms + at_hand + count);
}

static void test_by_hand(void **state)
{
    (void)state;
    static const double lengths[] = {15.65, 15.65, 15.65, 26};
    assert_int_equal(bought(lengths, 4, 30, 60), 2); /* four spools, two of them at hand */
    assert_int_equal(bought(lengths, 3, 30, 60), 1);
    assert_int_equal(bought(lengths, 3, 31.3, 0), 2);
    assert_int_equal(bought(lengths, 0, 30, 0), 0);
    static const double thirds[] = {10, 10, 10, 10, 10, 10};
    assert_int_equal(bought(thirds, 6, 30, 0), 2);
    assert_int_equal(bought(thirds, 6, 30, 25), 2); /* 25 m hold two of them */
    assert_int_equal(bought(thirds, 6, 30, 30), 1);
    /* first-fit decreasing puts 6 with 2 and needs three */
    static const double mislaid[] = {6, 5, 3, 2, 2, 2};
    assert_int_equal(bought(mislaid, 6, 10, 0), 2);
    /* the same with two whole spools at hand for the two longest */
    static const double with_stock[] = {10, 10, 6, 5, 3, 2, 2, 2};
    assert_int_equal(bought(with_stock, 8, 10, 20), 2);
    static const double tenths[] = {0.1, 0.2, 0.3, 0.4};
    assert_int_equal(bought(tenths, 4, 1, 0), 1); /* whatever the machine makes of tenths */
    assert_int_equal(bought(tenths, 4, 1, 1e12), 0);
}

/* Up to 64 pieces fewer spools are sought than first-fit decreasing finds, whatever else has to be cut. */
static void test_fewer_are_sought_among_64(void **state)
{
    (void)state;
    double lengths[64] = {6, 5, 3, 2, 2, 2};
    for (uint32_t count = 6; count <= 64; count++) {
        assert_int_equal(bought(lengths, count, 10, 0), count - 6 + 2);
        if (count < 64)
            lengths[count] = 10; /* a spool for itself */
    }
}

/* Nobody can try all ways of cutting these; spools with as much left are one way. Of 37.1 m two pieces of 18 m are
 * cut, five spools give 31 and 18 m each, and one the last two: first-fit decreasing cuts the 37.1 m for 31. */
static void test_spools_alike_are_tried_once(void **state)
{
    (void)state;
    double lengths[] = {31, 31, 31, 31, 31, 18, 18, 18, 18, 18, 18, 18, 18, 18};
    assert_int_equal(bought(lengths, sizeof lengths / sizeof *lengths, 53, 37.1), 6);
}

/* Two of these go on a spool, and by their length alone three would: all ways are too many to be tried, and what
 * first-fit decreasing found stays. */
static void test_search_has_an_end(void **state)
{
    (void)state;
    double lengths[40];
    for (uint32_t i = 0; i < 40; i++)
        lengths[i] = 3.4 + 0.001 * i;
    assert_int_equal(bought(lengths, 40, 10, 0), 20);
}

/* Random pieces, long and short, on spools that divide evenly and do not. */
static void test_against_every_way(void **state)
{
    (void)state;
    uint64_t random = 71;
    uint32_t more = 0;
    for (int i = 0; i < 3000; i++) {
        double lengths[6], sum = 0;
        uint32_t count = 1 + (uint32_t)between(&random, 0, 5.999);
        double grain = i % 2 ? 1 : 0.001, spool = 10;
        for (uint32_t p = 0; p < count; p++) {
            lengths[p] = grain * ceil(between(&random, 0.5, i % 3 ? 10 : 5) / grain);
            lengths[p] = lengths[p] > spool ? spool : lengths[p];
            sum += lengths[p];
        }
        double stock = i % 5 ? 0 : grain * floor(between(&random, 0, 25) / grain);
        uint32_t expected = brute(lengths, count, spool, stock);
        assert_int_equal(bought(lengths, count, spool, stock), expected);
        more += expected > ceil(fmax(0, sum - stock) / spool);
    }
    assert_in_range(more, 100, 3000); /* where the whole length alone would have said fewer */
}

/* Many pieces: never fewer than their length takes, never more than half as many again, and soon. */
static void test_many(void **state)
{
    (void)state;
    static double lengths[MOST_PIECES];
    uint64_t random = 72;
    for (int i = 0; i < 60; i++) {
        uint32_t count = i < 30 ? 9 + (uint32_t)i : MOST_PIECES;
        double sum = 0;
        for (uint32_t p = 0; p < count; p++)
            sum += lengths[p] = between(&random, 0.1, i % 2 ? 3 : 9.5);
        double stock = between(&random, 0, 30);
        uint32_t got = bought(lengths, count, 10, stock);
        assert_true(got >= (sum - stock) / 10 - 1e-9);
        assert_true(got <= 1.5 * sum / 10 + 1 + count * (i % 2 ? 0 : 0.15));
    }
}

static int falling(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a < b) - (a > b);
}

/* First-fit decreasing, spool by spool: the opened one at hand, the whole ones, those bought. */
static uint32_t bought_first_fit(double *lengths, uint32_t count, double spool, double stock)
{
    static double room[2 * MOST_PIECES + 2];
    uint32_t whole = (uint32_t)floor(stock / spool), most = 0;
    if (whole > count)
        whole = count;
    qsort(lengths, count, sizeof *lengths, falling);
    for (uint32_t i = 0; i < whole + 1 + count; i++)
        room[i] = i ? spool : stock - floor(stock / spool) * spool;
    for (uint32_t p = 0; p < count; p++) {
        uint32_t at = 0;
        while (room[at] < lengths[p])
            at++;
        room[at] -= lengths[p];
        if (at > whole && at - whole > most)
            most = at - whole;
    }
    return most;
}

/* Beyond 64 pieces no better way is sought, and none that is worse is taken. */
static void test_very_many_are_first_fit(void **state)
{
    (void)state;
    static double lengths[MOST_PIECES];
    uint64_t random = 9;
    for (int i = 0; i < 40; i++) {
        for (uint32_t p = 0; p < MOST_PIECES; p++)
            lengths[p] = between(&random, 0.2, i % 2 ? 4 : 9.5);
        double stock = between(&random, 0, 45);
        uint32_t got = bought(lengths, MOST_PIECES, 10, stock);
        assert_int_equal(got, bought_first_fit(lengths, MOST_PIECES, 10, stock));
    }
    /* A spool for each. */
    for (uint32_t count = 65; count < 140; count++) {
        for (uint32_t p = 0; p < count; p++)
            lengths[p] = 6;
        assert_int_equal(bought(lengths, count, 10, 0), count);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_by_hand),
        cmocka_unit_test(test_fewer_are_sought_among_64),
        cmocka_unit_test(test_spools_alike_are_tried_once),
        cmocka_unit_test(test_search_has_an_end),
        cmocka_unit_test(test_against_every_way),
        cmocka_unit_test(test_many),
        cmocka_unit_test(test_very_many_are_first_fit),
    };
    return cmocka_run_group_tests_name("pieces cut from spools", tests, NULL, NULL);
}
