/* The plan's diameters, thread lengths, pieces, needs, finish and time. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "planned.h"

#include "trade/trade.h"

static void test_blank(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.stations[0] = (Station){100, 12};
    shop.stations[1] = (Station){600, 7};
    shop.stations[2] = (Station){1000, 6};
    shop.blank.station_count = 3;
    assert_within(blank_butt(&shop.blank), 100, 0);
    assert_within(blank_tip(&shop.blank), 1000, 0);
    assert_within(blank_diameter(&shop.blank, 0), 12, 0);
    assert_within(blank_diameter(&shop.blank, 350), 9.5, 1e-12);
    assert_within(blank_diameter(&shop.blank, 600), 7, 1e-12);
    assert_within(blank_diameter(&shop.blank, 800), 6.5, 1e-12);
    assert_within(blank_diameter(&shop.blank, 2000), 6, 0);
    shop_close(&shop);
}

/* A run over two tapers is two helices on cones, split at the station; both directions. */
static void test_split_at_stations(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.stations[1] = (Station){500, 8};
    shop.stations[2] = (Station){1000, 7};
    shop.blank.station_count = 3;
    LAYER(&shop, add_place(&shop, 497, 1, NAN), true, band(&shop, EXTENT_TURNS, 40, 0));
    LAYER(&shop, add_place(&shop, 503, -1, NAN), true, band(&shop, EXTENT_TURNS, 40, 0));
    const Plan *plan = shop_plan(&shop);
    double steep = 4.0 / 500, flat = 1.0 / 500;
    double wanted = cone_helix_length((8 + 3 * steep + 0.15) / 2, 8.15 / 2, 3, 0.15)
                    + cone_helix_length(8.15 / 2, (8.15 - 3 * flat) / 2, 3, 0.15);
    for (uint32_t i = 0; i < 2; i++) {
        const Run *run = &laid(plan, i, 0)->runs[0];
        assert_near(run->lengths[0], wanted, 1e-11);
        assert_within(run->start_diameter, i ? 8 - 3 * flat : 8 + 3 * steep, 1e-12);
        assert_within(run->end_diameter, i ? 8 + 3 * steep : 8 - 3 * flat, 1e-12);
    }
    shop_close(&shop);
}

/* Where two stations lie at one place the surface steps: each side has its own diameter, both ways, also for turns
 * that end or begin right there. */
static void test_a_step_between_stations(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Station stations[] = {{0, 12}, {500, 8}, {500, 9}, {1000, 7}};
    shop.blank.stations = stations;
    shop.blank.station_count = 4;
    assert_within(blank_diameter(&shop.blank, 500), 9, 0);
    assert_within(blank_diameter_beside(&shop.blank, 500, 499), 8, 1e-12);
    assert_within(blank_diameter_beside(&shop.blank, 500, 501), 9, 1e-12);
    assert_within(blank_diameter_beside(&shop.blank, -3, -2), 12, 0);
    assert_within(blank_diameter_beside(&shop.blank, 1003, 1002), 7, 0);
    LAYER(&shop, add_place(&shop, 497, 1, NAN), true, band(&shop, EXTENT_TURNS, 40, 0));
    LAYER(&shop, add_place(&shop, 503, -1, NAN), true, band(&shop, EXTENT_TURNS, 40, 0));
    LAYER(&shop, add_place(&shop, 497, 1, NAN), true, band(&shop, EXTENT_TURNS, 20, 0),
          band(&shop, EXTENT_TURNS, 20, 1));
    LAYER(&shop, add_place(&shop, 503, -1, NAN), true, band(&shop, EXTENT_TURNS, 20, 0),
          band(&shop, EXTENT_TURNS, 20, 1));
    const Plan *plan = shop_plan(&shop);
    double below = cone_helix_length((8 + 3 * 0.008 + 0.15) / 2, 8.15 / 2, 3, 0.15);
    double above = cone_helix_length(9.15 / 2, (9.15 - 3 * 0.004) / 2, 3, 0.15);
    for (uint32_t i = 0; i < 4; i++) {
        const Run *runs = laid(plan, i, 0)->runs;
        bool back = i % 2;
        const Run *last = &runs[i / 2];
        assert_within(runs->start_diameter, back ? 9 - 3 * 0.004 : 8 + 3 * 0.008, 1e-12);
        assert_within(last->end_diameter, back ? 8 + 3 * 0.008 : 9 - 3 * 0.004, 1e-12);
        if (i < 2) {
            assert_near(runs->lengths[0], below + above, 1e-11);
            continue;
        }
        assert_within(runs[0].end_diameter, back ? 9 : 8, 1e-9);
        assert_within(runs[1].start_diameter, back ? 8 : 9, 1e-9);
        assert_near(runs[0].lengths[0], back ? above : below, 1e-11);
        assert_near(runs[1].lengths[0], back ? below : above, 1e-11);
    }
    double mean = (8 + 3 * 0.008 / 2 + 9 - 3 * 0.004 / 2) / 2 + 2 * 0.15;
    assert_near(plan->finish_volume, 4 * coat_volume(mean, 2 * 0.25, 6), 1e-10);
    shop_close(&shop);
}

/* Each strand has the lead of all together and its own radius; a spacer adds nothing to what lies above. */
static void test_strands_together(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.stations[1].diameter = 12;
    shop.threads[1].diameter = shop.threads[1].pitch = 0.3;
    Place *place = add_place(&shop, 500, 1, NAN);
    Item item = band(&shop, EXTENT_TURNS, 20, 0);
    item.strands = strands(&shop, 2, (int[]){0, -2});
    LAYER(&shop, place, true, item);
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 80, 0));
    const Plan *plan = shop_plan(&shop);
    const Run *run = &laid(plan, 0, 0)->runs[0];
    assert_within(laid(plan, 0, 0)->width, 9, 1e-12);
    assert_near(run->lengths[0], helix_length((12 + 0.15) / 2, 0.45, 20), 1e-12);
    assert_near(run->lengths[1], helix_length((12 + 0.3) / 2, 0.45, 20), 1e-12);
    /* 9 mm lie on the thread of 0.15 mm, the rest on the blank */
    const Run *above = &laid(plan, 0, 1)->runs[0];
    double wanted = helix_length((12.3 + 0.15) / 2, 0.15, 60) + helix_length(12.15 / 2, 0.15, 20);
    assert_near(above->lengths[0], wanted, 1e-12);
    assert_within(above->start_diameter, 12.3, 1e-12);
    assert_within(above->end_diameter, 12, 1e-12);
    assert_int_equal(plan->rods[0].piece_count, 3);
    assert_true(plan->rods[0].pieces[1].spacer);
    assert_within(plan->rods[0].pieces[1].tags, 2 * 6 * 0.45, 1e-12);
    shop_close(&shop);
}

/* Layers on layers, with gaps and offsets: each run against a sum over the stretches written out by hand. */
static void test_layers_on_layers(void **state)
{
    (void)state;
    for (int direction = -1; direction <= 1; direction += 2) {
        Shop shop;
        shop_open(&shop);
        shop.stations[1].diameter = 12;
        shop.threads[1].diameter = shop.threads[1].pitch = 0.25;
        Place *place = add_place(&shop, 500, direction, NAN);
        LAYER(&shop, place, false, band(&shop, EXTENT_TURNS, 20, 0), gap(&shop, 2),
              band(&shop, EXTENT_TURNS, 8, 1));
        Layer *second = LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 20, 1)); /* 1 to 6 mm */
        second->offset = 1;
        LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 60, 0)); /* 0 to 9 mm */
        const Plan *plan = shop_plan(&shop);
        /* below the third: 0-1: .15; 1-3: .15 + .25; 3-5: .25; 5-6: .25 + .25; 6-7: .25; 7-9: nothing */
        static const double stretches[][2] = {{1, 0.15}, {2, 0.4}, {2, 0.25}, {1, 0.5}, {1, 0.25}, {2, 0}};
        double wanted = 0;
        for (int i = 0; i < 6; i++)
            wanted += helix_length((12 + 2 * stretches[i][1] + 0.15) / 2, 0.15, stretches[i][0] / 0.15);
        const PlannedLayer *third = laid(plan, 0, 2);
        assert_near(third->runs[0].lengths[0], wanted, 1e-11);
        assert_within(third->runs[0].start_diameter, 12.3, 1e-12);
        assert_within(third->runs[0].end_diameter, 12, 1e-12);
        const PlannedLayer *first = laid(plan, 0, 0);
        assert_int_equal(first->surface_count, 4);
        assert_within(first->surface[0].start, 500, 0);
        assert_within(first->surface[1].thickness, 0, 0);
        assert_within(first->surface[2].start, 500 + direction * 5, 1e-12);
        assert_within(first->surface[3].thickness, 0, 0);
        shop_close(&shop);
    }
}

/* What a turn over the foot needs, for the integral: the place and what lies below and above the foot. */
typedef struct Foot {
    const PlannedPlace *place;
    const Blank *blank;
    double below, above, lead;
} Foot;

static double length_on_foot(double x, void *given)
{
    const Foot *foot = given;
    const Guide *guide = foot->place->place->guide;
    double way = foot->place->direction * (x - foot->place->foot_tip);
    double part = way <= 0 ? 0 : way < guide->ramp ? way / guide->ramp : 1;
    double perimeter =
        hull_perimeter(blank_diameter(foot->blank, x) + 2 * foot->below, part * guide->width, part * guide->height)
        + 2 * TRADE_PI * foot->above;
    return sqrt(perimeter * perimeter + foot->lead * foot->lead) / foot->lead;
}

/* One turn, parted where it crosses the foot's tip or the end of the ramp. */
static double turn_on_foot(Foot *foot, double from, double to)
{
    double edges[] = {from, foot->place->foot_tip, foot->place->ramp_end, to}, length = 0;
    int direction = foot->place->direction;
    for (int i = 1; i < 4; i++) {
        if (direction * edges[i] < direction * from)
            edges[i] = from;
        if (direction * edges[i] > direction * to)
            edges[i] = to;
        length += fabs(integral(length_on_foot, foot, edges[i - 1], edges[i]));
    }
    return length;
}

/* Runs over a foot against an integral turn by turn. */
static void test_over_a_ramp(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    const Guide *guide = new_guide(
        &shop,
        (Guide){.feet = {19, 19}, .foot_count = 2, .gap = 9, .width = 2.6, .height = 0.9, .ramp = 6, .before = 4});
    Place *place = add_guide(&shop, 500, guide);
    LAYER(&shop, place, false, band(&shop, EXTENT_TURNS, 150, 1));
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 150, 1));
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 20, 1), band(&shop, EXTENT_TURNS, 130, 0));
    const Plan *plan = shop_plan(&shop);
    for (uint32_t f = 0; f < 2; f++) {
        const PlannedPlace *foot = &plan->rods[0].places[f];
        Foot given = {foot, &shop.blank, 0.15, 0.15 + 0.15 / 2, 0.15};
        for (uint32_t r = 0; r < 2; r++) {
            const Run *run = &laid(plan, f, 2)->runs[r];
            double wanted = 0;
            for (double turn = 0; turn < run->turns; turn++)
                wanted += turn_on_foot(&given, run->start + foot->direction * turn * 0.15,
                                       run->start + foot->direction * (turn + 1) * 0.15);
            assert_near(run->lengths[0], wanted, 1e-9);
        }
        /* the underwrap lies below the foot: a plain cone */
        const Run *under = &laid(plan, f, 0)->runs[0];
        double from = (under->start_diameter + 0.15) / 2, to = (under->end_diameter + 0.15) / 2;
        assert_near(under->lengths[0], cone_helix_length(from, to, 22.5, 0.15), 1e-11);
        const Run *top = &laid(plan, f, 2)->runs[0];
        assert_within(top->start_diameter, blank_diameter(&shop.blank, foot->start) + 0.6, 1e-9);
    }
    shop_close(&shop);
}

/* A band, a fade, a band: the old thread's piece goes into the fade, the new one's out of it. */
static void test_pieces_of_a_fade(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 20, 0), fade_steps(&shop, 2, 0, 1),
          band(&shop, EXTENT_TURNS, 20, 1), band(&shop, EXTENT_TURNS, 20, 0));
    const Plan *plan = shop_plan(&shop);
    const PlannedRod *rod = &plan->rods[0];
    assert_int_equal(rod->piece_count, 3);
    const Piece *old = &rod->pieces[0], *new = &rod->pieces[1], *last = &rod->pieces[2];
    /* navy 20 | slate 1, navy 2, slate 2, navy 1 | slate 20 | navy 20 */
    assert_int_equal(old->turns, 23);
    assert_int_equal(old->first_turn, 0);
    assert_int_equal(old->end_turn, 26);
    assert_int_equal(old->first_run, 0);
    assert_int_equal(old->last_run, 4);
    assert_false(old->by_hand); /* it waits on its spool while the blank stands still */
    assert_within(old->beneath, 3 * 0.15, 1e-9);
    assert_within(old->tags, 2 * 6 * 0.15, 1e-12);
    assert_within(old->free, 300, 0);
    assert_int_equal(new->turns, 23);
    assert_int_equal(new->first_turn, 20);
    assert_int_equal(new->end_turn, 46);
    assert_within(new->beneath, 3 * 0.15, 1e-9);
    assert_true(new->by_hand);
    assert_int_equal(last->turns, 20);
    assert_false(last->by_hand);
    assert_within(last->beneath, 0, 0);
    const Run *runs = laid(plan, 0, 0)->runs;
    assert_near(old->wound, runs[0].lengths[0] + runs[2].lengths[0] + runs[4].lengths[0], 1e-12);

    assert_int_equal(plan->need_count, 2);
    assert_ptr_equal(plan->needs[0].thread, &shop.threads[0]);
    assert_int_equal(plan->needs[0].pieces, 2);
    assert_int_equal(plan->needs[0].turns, 43);
    assert_near(plan->needs[0].wound, old->wound + last->wound, 1e-12);
    assert_near(plan->needs[0].ends, 0.45 + 2 * (1.8 + 300), 1e-9);
    assert_int_equal(plan->total_count, 2);
    assert_int_equal(plan->totals[1].place, NEED_ALL);
    assert_int_equal(plan->turns, 66);
    shop_close(&shop);
}

/* Where the band after a fade is too long for a cut piece, a spool goes on once its end is bound. */
static void test_spool_after_a_fade(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 11, 0), fade_steps(&shop, 2, 0, 1),
          band(&shop, EXTENT_TURNS, 200, 1));
    const Plan *plan = shop_plan(&shop);
    const PlannedRod *rod = &plan->rods[0];
    assert_int_equal(rod->piece_count, 3);
    const Piece *cut = &rod->pieces[1], *spool = &rod->pieces[2];
    assert_true(cut->by_hand);
    assert_int_equal(cut->turns, 3 + 6);
    assert_int_equal(cut->end_turn, 17 + 6);
    assert_within(cut->beneath, 3 * 0.15, 1e-9);
    assert_false(spool->by_hand);
    assert_int_equal(spool->first_turn, 23);
    assert_int_equal(spool->turns, 194);
    assert_within(spool->beneath, 0, 0);
    const Run *runs = laid(plan, 0, 0)->runs;
    assert_near(cut->wound + spool->wound, runs[1].lengths[0] + runs[3].lengths[0] + runs[5].lengths[0], 1e-12);
    shop_close(&shop);
}

/* Where the band before a fade has turns enough, its thread is cut from its spool, and makes its last turns by
 * hand; the new one comes from its spool, its tag under the turns before. */
static void test_old_thread_by_hand(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 12, 0), fade_steps(&shop, 2, 0, 1),
          band(&shop, EXTENT_TURNS, 200, 1));
    const Plan *plan = shop_plan(&shop);
    const PlannedRod *rod = &plan->rods[0];
    assert_int_equal(rod->piece_count, 2);
    const Piece *old = &rod->pieces[0], *new = &rod->pieces[1];
    assert_false(old->by_hand);
    assert_int_equal(old->cut_turn, 12 - 6);
    assert_int_equal(old->turns, 15);
    const Run *runs = laid(plan, 0, 0)->runs;
    /* six turns of the band and those of the fade, the way under the new thread's, one end, half of what is free
     */
    assert_within(old->cut_off,
                  runs[0].lengths[0] / 2 + runs[2].lengths[0] + runs[4].lengths[0] + 3 * 0.15 + 6 * 0.15 + 150,
                  1e-9);
    assert_false(new->by_hand);
    assert_true(new->tag_before);
    assert_int_equal(new->cut_turn, NO_TURN);
    assert_int_equal(new->turns, 203);
    assert_int_equal(rod->windings[0].turns, 6);
    assert_int_equal(rod->windings[1].turns, 6);
    assert_int_equal(rod->windings[1].pieces.first, 0);
    shop_close(&shop);
}

/* The cut piece's end is bound by as many turns as the spool's beginning: a band of fewer is not shared out. */
static void test_a_band_too_short_for_a_spool(void **state)
{
    (void)state;
    for (uint32_t bind = 4; bind <= 10; bind += 3)
        for (uint32_t turns = 2 * bind - 2; turns <= 2 * bind + 1; turns++) {
            Shop shop;
            shop_open(&shop);
            shop.job.bench.hand = 100;
            shop.job.bench.bind = bind;
            Place *place = add_place(&shop, 100, 1, NAN);
            LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 2 * bind - 1, 0), fade_steps(&shop, 2, 0, 1),
                  band(&shop, EXTENT_TURNS, turns, 1));
            const PlannedRod *rod = &shop_plan(&shop)->rods[0];
            bool shared = turns >= 2 * bind;
            assert_int_equal(rod->piece_count, shared ? 3 : 2);
            for (uint32_t i = 0; i < rod->piece_count; i++)
                assert_within(rod->pieces[i].tags, 2 * bind * 0.15, 1e-12);
            for (uint32_t i = 1; shared && i < 3; i++)
                assert_true(rod->pieces[i].end_turn - rod->pieces[i].first_turn >= bind);
            shop_close(&shop);
        }
}

/* A band goes on beneath its inlays as one piece; each inlay is a piece; a gap ends all. */
static void test_pieces_of_inlays_and_gaps(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    Item item = band(&shop, EXTENT_TURNS, 30, 0);
    set_inlays(&shop, &item, 2, (Inlay[]){inlay(&shop, 2, 1, AT_TURNS, 10), inlay(&shop, 3, 1, AT_TURNS, 20)});
    LAYER(&shop, place, true, item, gap(&shop, 1), band(&shop, EXTENT_TURNS, 20, 0),
          band(&shop, EXTENT_TURNS, 20, 0));
    const Plan *plan = shop_plan(&shop);
    const PlannedRod *rod = &plan->rods[0];
    assert_int_equal(rod->piece_count, 4);
    assert_int_equal(rod->pieces[0].turns, 25);
    assert_false(rod->pieces[0].by_hand);
    assert_within(rod->pieces[0].beneath, 5 * 0.15, 1e-9);
    assert_int_equal(rod->pieces[1].turns, 2);
    assert_true(rod->pieces[1].by_hand);
    assert_within(rod->pieces[1].beneath, 0, 0);
    assert_int_equal(rod->pieces[2].turns, 3);
    assert_ptr_equal(rod->pieces[3].thread, &shop.threads[0]);
    assert_int_equal(rod->pieces[3].turns, 40);
    assert_int_equal(rod->pieces[3].first_turn, 30);
    shop_close(&shop);
}

/* A coat over one layer of 9 mm on a cylinder; on a taper that of the mean diameter. */
static void test_finish(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    LAYER(&shop, add_place(&shop, 500, -1, NAN), true, band(&shop, EXTENT_TURNS, 60, 0));
    const Plan *plan = shop_plan(&shop);
    assert_near(plan->finish_volume, coat_volume(8 + 4.5 * 8 / 1000 + 0.3, 2 * 0.25, 9), 1e-10);
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_blank),
        cmocka_unit_test(test_split_at_stations),
        cmocka_unit_test(test_a_step_between_stations),
        cmocka_unit_test(test_strands_together),
        cmocka_unit_test(test_layers_on_layers),
        cmocka_unit_test(test_over_a_ramp),
        cmocka_unit_test(test_pieces_of_a_fade),
        cmocka_unit_test(test_spool_after_a_fade),
        cmocka_unit_test(test_old_thread_by_hand),
        cmocka_unit_test(test_a_band_too_short_for_a_spool),
        cmocka_unit_test(test_pieces_of_inlays_and_gaps),
        cmocka_unit_test(test_finish),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
