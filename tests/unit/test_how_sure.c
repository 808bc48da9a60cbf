/* How sure positions, widths and lengths are: what the plan says, against many plans of threads, blanks and marks
 * that are off as their uncertainties say (JCGM 101:2008, Evaluation of measurement data - Supplement 1 to the
 * Guide to the expression of uncertainty in measurement - Propagation of distributions using a Monte Carlo
 * method), and against the closed form. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "planned.h"

#include <stdio.h>

static const double rule = 0.5, callipers = 0.1, varies = 0.01;

/* --- draws --- */

static uint64_t state;

static double normal(void)
{
    double first = between(&state, 1e-12, 1), second = between(&state, 0, 1);
    return sqrt(-2 * log(first)) * cos(2 * acos(-1) * second);
}

/* Read to such steps: once, as likely anywhere within half a step; and from end to end. */
static double reading(double step) { return between(&state, -step / 2, step / 2); }
static double from_end_to_end(double step) { return reading(step) + reading(step); }

typedef struct Draws {
    double sum, squares;
    uint32_t count;
} Draws;

static void add(Draws *spread, double off)
{
    spread->sum += off;
    spread->squares += off * off;
    spread->count++;
}

static double standard(const Draws *spread)
{
    double mean = spread->sum / spread->count;
    return sqrt(spread->squares / spread->count - mean * mean);
}

static void expect(const char *what, double says, const Draws *spread, double ratio)
{
    print_message("  %s: said %.4f mm, %u draws %.4f mm\n", what, says, (unsigned)spread->count, standard(spread));
    assert_near(says, standard(spread), ratio);
}

/* --- a shop whose things are off --- */

/* Three threads that are known to 2 %, 6 % and 1 %; a blank with three stations. */
static void open_shop(Shop *shop, bool off)
{
    static const double sure[] = {0.02, 0.06, 0.01, 0.02};
    shop_open(shop);
    shop->job.bench.rule.step = rule;
    shop->job.bench.callipers.step = callipers;
    shop->job.bench.varies = varies;
    shop->job.bench.reading = 0.15;
    shop->stations[0] = (Station){0, 12};
    shop->stations[1] = (Station){300, 9};
    shop->stations[2] = (Station){1000, 4};
    shop->blank.station_count = 3;
    for (uint32_t i = 0; i < SHOP_THREADS; i++) {
        Thread *thread = &shop->threads[i];
        thread->pitch = 0.15 + 0.02 * i;
        thread->diameter = 0.14 + 0.03 * i;
        thread->uncertainty = sure[i];
        if (!off)
            continue;
        double share = sure[i] * normal();
        thread->pitch *= 1 + share;
        thread->diameter *= 1 + share;
    }
    for (uint32_t i = 0; off && i < 3; i++) {
        shop->stations[i].diameter += reading(callipers);
        shop->stations[i].at += from_end_to_end(rule);
    }
}

/* --- positions and widths --- */

/* One layer, since each has a packing of its own: here that of its threads, at the blank's thick end. */
static const PlannedLayer *some_bands(Shop *shop, bool off)
{
    open_shop(shop, off);
    double packing = off ? varies * normal() : 0, mark = off ? from_end_to_end(rule) : 0;
    for (uint32_t i = 0; off && i < SHOP_THREADS; i++)
        shop->threads[i].pitch *= 1 + packing;
    LAYER(shop, add_place(shop, 100 + mark, 1, NAN), true, band(shop, EXTENT_TURNS, 60, 0),
          band(shop, EXTENT_TURNS, 25, 1), gap(shop, 3), band(shop, EXTENT_TURNS, 90, 0),
          fade_steps(shop, 4, 0, 2), band(shop, EXTENT_TURNS, 40, 2));
    return laid(shop_plan(shop), 0, 0);
}

static void positions_and_widths(void **unused)
{
    (void)unused;
    enum { DRAWS = 40000, RUNS = 13, ITEMS = 6 };
    Shop plain;
    const PlannedLayer *as_written = some_bands(&plain, false);
    Draws ends[RUNS] = {{0}}, from_mark[RUNS] = {{0}}, items[ITEMS] = {{0}};
    assert_int_equal(as_written->run_count, RUNS);
    state = 3;
    for (int i = 0; i < DRAWS; i++) {
        Shop shop;
        const PlannedLayer *layer = some_bands(&shop, true);
        for (uint32_t r = 0; r < RUNS; r++) {
            add(&ends[r], layer->runs[r].end - as_written->runs[r].end);
            add(&from_mark[r], layer->runs[r].end - layer->start - (as_written->runs[r].end - as_written->start));
        }
        for (uint32_t t = 0; t < ITEMS; t++)
            add(&items[t], layer->items[t].obtained - as_written->items[t].obtained);
        shop_close(&shop);
    }
    for (uint32_t r = 0; r < RUNS; r++) {
        expect("from the mark", as_written->runs[r].sure, &from_mark[r], 0.02);
        expect("along the blank", hypot(as_written->runs[r].sure, mark_sure(&plain.job.bench)), &ends[r], 0.02);
    }
    for (uint32_t t = 0; t < ITEMS; t++)
        if (as_written->items[t].turns)
            expect("one statement's width", as_written->items[t].sure, &items[t], 0.02);
        else
            assert_within(as_written->items[t].sure, 0, 0);
    /* Closed form: navy 150 + 10 turns, slate 25, mist 40 + 10. */
    double navy = 160 * 0.15 * 0.02, slate = 25 * 0.17 * 0.06, mist = 50 * 0.19 * 0.01;
    double packed = (160 * 0.15 + 25 * 0.17 + 50 * 0.19) * varies;
    assert_within(as_written->runs[RUNS - 1].sure, hypot(hypot(navy, slate), hypot(mist, packed)), 1e-12);
    shop_close(&plain);
}

/* 120 turns of 0.160 mm, each known to 0.004 mm, all off alike, are 19.20 mm, known to 0.48 mm. A million draws.
 */
static void a_hundred_and_twenty_turns(void **unused)
{
    (void)unused;
    enum { DRAWS = 1000000 };
    Shop shop;
    shop_open(&shop);
    shop.threads[0].pitch = 0.160;
    shop.threads[0].uncertainty = 0.004 / 0.160;
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, band(&shop, EXTENT_TURNS, 50, 0),
          band(&shop, EXTENT_TURNS, 70, 0));
    const PlannedLayer *layer = laid(shop_plan(&shop), 0, 0);
    Draws width = {0};
    state = 11;
    for (int i = 0; i < DRAWS; i++)
        add(&width, (double)layer->turns * (0.160 + 0.004 * normal()));
    print_message(
        "  120 turns of 0.160 mm, give or take 0.004: said %.4f mm, give or take %.4f; mean of draws %.4f\n",
        layer->width, layer->runs[1].sure, width.sum / DRAWS);
    expect("120 turns", layer->runs[1].sure, &width, 0.003);
    assert_within(layer->width, 19.2, 1e-12);
    assert_within(layer->runs[1].sure, 0.48, 1e-12);
    assert_within(width.sum / DRAWS, 19.2, 0.002);
    shop_close(&shop);
}

/* After a reading the end is as sure as that and what follows it. */
static void read_positions(void **unused)
{
    (void)unused;
    Shop shop;
    const PlannedLayer *layer = some_bands(&shop, false);
    double before = layer->runs[0].sure;
    shop_close(&shop);
    open_shop(&shop, false);
    Item first = band(&shop, EXTENT_TURNS, 60, 0);
    first.measured = 9.1;
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, first, band(&shop, EXTENT_TURNS, 25, 1));
    layer = laid(shop_plan(&shop), 0, 0);
    double known = 9 * hypot(0.02, varies), read = 0.15;
    assert_within(before, known, 1e-12);
    assert_within(layer->runs[0].sure, known * read / hypot(known, read), 1e-12);
    assert_true(layer->runs[1].sure > layer->runs[0].sure);
    shop_close(&shop);
}

/* --- lengths --- */

/* An underwrap and an overwrap of the same thread and of another; bands beside them; one beyond a station. */
static const Plan *some_lengths(Shop *shop, bool off)
{
    open_shop(shop, off);
    Place *place = add_place(shop, 100 + (off ? from_end_to_end(rule) : 0), 1, NAN);
    LAYER(shop, place, false, band(shop, EXTENT_TURNS, 200, 0));
    LAYER(shop, place, true, band(shop, EXTENT_TURNS, 100, 0), band(shop, EXTENT_TURNS, 20, 1));
    LAYER(shop, add_place(shop, 500, -1, NAN), true, band(shop, EXTENT_TURNS, 300, 1));
    LAYER(shop, add_place(shop, 290, 1, NAN), true, band(shop, EXTENT_TURNS, 120, 2));
    return shop_plan(shop);
}

static const Run *run_of(const Plan *plan, uint32_t which)
{
    static const uint32_t runs[][3] = {{0, 0, 0}, {0, 1, 0}, {0, 1, 1}, {1, 0, 0}, {2, 0, 0}};
    return &laid(plan, runs[which][0], runs[which][1])->runs[runs[which][2]];
}

static void lengths_of_thread(void **unused)
{
    (void)unused;
    enum { DRAWS = 40000, RUNS = 5 };
    static const char *const what[RUNS] = {"underwrap", "over its own thread", "over another thread",
                                           "toward the butt", "over a station"};
    /* Threads that differ count as off alike, and so do the stations of two stretches; and toward the tip a
     * thicker thread lies where the blank is thinner: said to be less sure than that by so much at most. */
    static const double more[RUNS] = {1.04, 1.04, 1.25, 1, 1.25};
    Shop plain;
    const Plan *as_written = some_lengths(&plain, false);
    Draws lengths[RUNS] = {{0}}, pieces[RUNS] = {{0}};
    assert_int_equal(as_written->rods[0].piece_count, RUNS);
    state = 5;
    for (int i = 0; i < DRAWS; i++) {
        Shop shop;
        const Plan *plan = some_lengths(&shop, true);
        for (uint32_t r = 0; r < RUNS; r++) {
            add(&lengths[r], run_of(plan, r)->lengths[0] - run_of(as_written, r)->lengths[0]);
            add(&pieces[r], plan->rods[0].pieces[r].wound - as_written->rods[0].pieces[r].wound);
        }
        shop_close(&shop);
    }
    for (uint32_t r = 0; r < RUNS; r++) {
        double says = sum_of_sure(length_sure(run_of(as_written, r), 0)), drawn = standard(&lengths[r]);
        print_message("  %s: said %.3f mm, drawn %.3f mm, of %.0f mm\n", what[r], says, drawn,
                      run_of(as_written, r)->lengths[0]);
        assert_true(says > drawn * 0.98 && says < drawn * more[r] * 1.02);
        assert_near(piece_sure(&as_written->rods[0].pieces[r]) / standard(&pieces[r]), says / drawn, 1e-9);
    }
    shop_close(&plain);
}

/* Lengths' uncertainties are floats: as a share. */
#define NARROW 1.2e-7

/* A second way to the same number: pi times the turns times what the diameters are off. */
static void a_length_by_hand(void **unused)
{
    (void)unused;
    Shop shop;
    const Plan *plan = some_lengths(&shop, false);
    LengthSure sure = length_sure(run_of(plan, 1), 0);
    double diameter = callipers / sqrt(12), lies = 3.0 / 300 * rule / sqrt(6), part = 107.5 / 300;
    double station = sqrt(diameter * diameter + lies * lies);
    assert_within(sure.blank, acos(-1) * 100 * station * sqrt(part * part + (1 - part) * (1 - part)), NARROW * 7);
    assert_within(sure.threads, acos(-1) * 100 * 0.14 * 0.02 * 3, NARROW * 3);
    assert_within(sum_of_sure((LengthSure){2, 3, 6}), 7, 1e-12);
    double middle = 100 * 0.15 * hypot(0.02, varies) / 2;
    assert_within(sure.along, acos(-1) * 100 * 3 / 300 * hypot(middle, rule / sqrt(6)), NARROW);
    shop_close(&shop);
}

/* Where pieces share a run, each has its part of it. */
static void pieces_share_runs(void **unused)
{
    (void)unused;
    Shop shop;
    open_shop(&shop, false);
    shop.job.bench.hand = 700;
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, band(&shop, EXTENT_TURNS, 8, 0), fade_steps(&shop, 3, 0, 1),
          band(&shop, EXTENT_TURNS, 60, 1));
    const Plan *plan = shop_plan(&shop);
    const PlannedLayer *layer = laid(plan, 0, 0);
    LengthSure runs = {0}, pieces = {0};
    for (uint32_t r = 0; r < layer->run_count; r++) {
        runs.blank += length_sure(&layer->runs[r], 0).blank;
        runs.threads += length_sure(&layer->runs[r], 0).threads;
        runs.along += length_sure(&layer->runs[r], 0).along;
    }
    assert_int_equal(layer->runs[layer->run_count - 1].turns, 60);
    assert_true(plan->rods[0].windings[plan->rods[0].winding_count - 1].turns < 60);
    for (uint32_t p = 0; p < plan->rods[0].piece_count; p++) {
        pieces.blank += plan->rods[0].pieces[p].sure.blank;
        pieces.threads += plan->rods[0].pieces[p].sure.threads;
        pieces.along += plan->rods[0].pieces[p].sure.along;
    }
    assert_near(pieces.blank, runs.blank, NARROW);
    assert_near(pieces.threads, runs.threads, NARROW);
    assert_near(pieces.along, runs.along, NARROW);
    shop_close(&shop);
}

/* Of threads together the thickest that stays makes the surface. */
static void threads_that_make_a_surface(void **unused)
{
    (void)unused;
    Shop shop;
    open_shop(&shop, false);
    assert_within(thickness_sure(strands(&shop, 3, (int[]){0, 2, -4})), 0.20 * 0.01, 1e-15);
    assert_within(thickness_sure(strands(&shop, 2, (int[]){0, 1})), 0.17 * 0.06, 1e-15);
    BundleStrand bundle[] = {{.thread = &shop.threads[2]}, {.thread = &shop.threads[0]}};
    PlannedCrosswrap crosswrap = {.thickness = 0.4, .strands = bundle, .strand_count = 2};
    assert_within(crosswrap_thickness_sure(&crosswrap), 0.4 * 0.02, 1e-15);
    shop_close(&shop);
}

/* A surface of one thickness counts as sure as where it is least so: in one layer, and where one layer ends and
 * another begins. */
static void surfaces_as_thick(void **unused)
{
    (void)unused;
    for (int layers = 1; layers <= 2; layers++)
        for (int over = 0; over < 2; over++) {
            Shop shop;
            open_shop(&shop, false);
            shop.threads[1].diameter = 0.14;
            Place *place = add_place(&shop, 100, 1, NAN);
            if (layers == 1)
                LAYER(&shop, place, over, band(&shop, EXTENT_TURNS, 50, 0), band(&shop, EXTENT_TURNS, 50, 1));
            else {
                LAYER(&shop, place, over, band(&shop, EXTENT_TURNS, 50, 0));
                LAYER(&shop, place, over, gap(&shop, 7.5), band(&shop, EXTENT_TURNS, 50, 1));
            }
            LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 100, 0));
            const Run *run = &laid(shop_plan(&shop), 0, (uint32_t)layers)->runs[0];
            assert_within(run->length_sure.threads, acos(-1) * 100 * 2 * 0.14 * 0.06, NARROW * 6);
            shop_close(&shop);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(positions_and_widths),
        cmocka_unit_test(a_hundred_and_twenty_turns),
        cmocka_unit_test(read_positions),
        cmocka_unit_test(lengths_of_thread),
        cmocka_unit_test(a_length_by_hand),
        cmocka_unit_test(pieces_share_runs),
        cmocka_unit_test(threads_that_make_a_surface),
        cmocka_unit_test(surfaces_as_thick),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
