/* Threads wound together of which one was running, or goes on alone: how many pieces that takes, reckoned here
 * from nothing but which thread is in which band, and each plan proven at the bench. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/bench.h"
#include "near.h"
#include "planned.h"
#include "words/step_letters.h"

enum { MOST_BANDS = 8, TRIES = 800 };

typedef struct Bands {
    uint32_t count, turns[MOST_BANDS], strand_count[MOST_BANDS];
    int threads[MOST_BANDS][SHOP_THREADS];
} Bands;

static void open_bench(Shop *shop)
{
    shop_open(shop);
    shop->job.bench.holders = 4;
    shop->job.bench.carry = 1;
    shop->job.bench.ridge = 8;
    shop->job.bench.apart = 0.1;
    shop->job.bench.pack = 40;
    shop->job.bench.brake = true;
}

static const PlannedRod *plan_of(Shop *shop, const Bands *bands)
{
    Item items[MOST_BANDS];
    for (uint32_t b = 0; b < bands->count; b++) {
        items[b] = band(shop, EXTENT_TURNS, bands->turns[b], 0);
        items[b].strands = strands(shop, bands->strand_count[b], bands->threads[b]);
    }
    add_layer(shop, add_place(shop, 100, 1, NAN), true, bands->count, items);
    const Plan *plan = shop_plan(shop);
    const BenchPlan *bench = bench_prove(&shop->arena, plan, step_letters(&shop->arena, plan), &shop->findings);
    assert_findings(shop, 0);
    /* handlings, as the actions count them: the rest of the minutes is turns */
    const Bench *habits = &shop->job.bench;
    double handled = (bench->minutes - (double)plan->turns / habits->speed) * 60 / habits->handling;
    assert_within((double)plan->rods[0].handled, handled, 1e-6);
    return &plan->rods[0];
}

static const Piece *piece_of(const PlannedRod *rod, uint32_t winding, uint32_t strand)
{
    return &rod->pieces[group_piece(rod->windings[winding].pieces, strand)];
}

static void test_one_goes_on_beside_another(void **state)
{
    (void)state;
    Shop shop;
    open_bench(&shop);
    const PlannedRod *rod = plan_of(&shop, &(Bands){3, {12, 18, 12}, {1, 2, 1}, {{0}, {1, 0}, {0}}});
    assert_int_equal(rod->piece_count, 2);
    const Piece *navy = piece_of(rod, 0, 0), *slate = piece_of(rod, 1, 0);
    assert_ptr_equal(piece_of(rod, 1, 1), navy);
    assert_ptr_equal(piece_of(rod, 2, 0), navy);
    assert_int_equal(navy->turns, 42);
    assert_int_equal(slate->turns, 18);
    assert_false(navy->by_hand || slate->by_hand);
    /* six turns of one, and of both, lie over their two ends; nothing runs beneath */
    assert_within(navy->tags, 6 * 0.15 + 6 * 0.15, 1e-9);
    assert_within(slate->tags, 6 * 0.3 + 6 * 0.3, 1e-9);
    assert_within(navy->beneath + slate->beneath, 0, 1e-9);
    const Run *runs = rod->places[0].layers[0].runs;
    assert_within(navy->wound, runs[0].lengths[0] + runs[1].lengths[1] + runs[2].lengths[0], 1e-9);
    shop_close(&shop);
    open_bench(&shop);
    rod = plan_of(&shop, &(Bands){2, {12, 18}, {1, 2}, {{0}, {0, 1}}});
    assert_within(rod->pieces[0].tags, 6 * 0.15 + 6 * 0.3, 1e-9);
    shop_close(&shop);
}

typedef struct Told {
    const char *name;
    uint32_t pieces, carry, by_hand;
    Bands bands;
} Told;

static void test_which_go_on(void **state)
{
    (void)state;
    static const Told cases[] = {
        {"in the same order", 4, 1, 0, {2, {12, 12}, {3, 3}, {{0, 1, 2}, {0, 2, 3}}}},
        {"threads do not cross", 3, 1, 0, {2, {12, 12}, {2, 2}, {{0, 1}, {1, 0}}}},
        {"one that is there twice", 2, 1, 0, {2, {12, 12}, {1, 2}, {{0}, {0, 0}}}},
        {"of one that is there twice one", 2, 1, 0, {2, {12, 12}, {2, 1}, {{0, 0}, {0}}}},
        {"a spacer beside it comes and goes", 2, 1, 0, {3, {12, 12, 12}, {1, 2, 1}, {{0}, {0, -2}, {0}}}},
        {"a spacer is not a thread", 3, 1, 0, {2, {12, 12}, {2, 1}, {{0, -2}, {1}}}},
        {"turns enough for the new one's tag", 2, 1, 0, {2, {12, 6}, {1, 2}, {{0}, {0, 1}}}},
        {"too few: both are laid in", 3, 1, 0, {2, {12, 5}, {1, 2}, {{0}, {0, 1}}}},
        {"few turns suffice for none that is new", 2, 1, 0, {2, {12, 5}, {2, 1}, {{0, 1}, {1}}}},
        {"carried together", 3, 6, 6, {3, {12, 6, 12}, {2, 1, 2}, {{0, 1}, {2}, {0, 1}}}},
        {"one of them carried", 3, 6, 6, {3, {12, 6, 12}, {2, 1, 1}, {{0, 1}, {2}, {1}}}},
        {"carried to go on beside another", 3, 6, 6, {3, {12, 6, 12}, {1, 1, 2}, {{0}, {2}, {1, 0}}}},
        {"carried under two", 3, 6, 6, {3, {12, 6, 12}, {1, 2, 1}, {{0}, {1, 2}, {0}}}},
        {"further than may be", 4, 5, 0, {3, {12, 6, 12}, {1, 1, 2}, {{0}, {2}, {1, 0}}}},
        {"not under a spacer", 4, 6, 0, {3, {12, 6, 12}, {1, 2, 1}, {{0}, {1, -3}, {0}}}},
        {"those that stand side by side alone",
         6,
         6,
         6,
         {3, {12, 6, 12}, {3, 1, 3}, {{0, 1, 2}, {3}, {0, -2, 2}}}},
        {"a spacer begins beside what was laid in", 3, 1, 4, {2, {12, 4}, {1, 2}, {{0}, {1, -3}}}},
        {"a spacer begins before it", 3, 1, 4, {2, {12, 4}, {1, 2}, {{0}, {-3, 1}}}},
        {"not while it winds", 3, 6, 0, {3, {12, 6, 12}, {2, 1, 2}, {{0, 1}, {0}, {0, 1}}}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Shop shop;
        open_bench(&shop);
        shop.job.bench.carry = cases[i].carry;
        const PlannedRod *rod = plan_of(&shop, &cases[i].bands);
        uint32_t by_hand = 0;
        for (uint32_t p = 0; p < rod->piece_count; p++)
            by_hand += rod->pieces[p].by_hand ? (uint32_t)rod->pieces[p].turns : 0;
        if (rod->piece_count != cases[i].pieces)
            fail_msg("%s: %u pieces", cases[i].name, (unsigned)rod->piece_count);
        if (cases[i].by_hand && by_hand < cases[i].by_hand)
            fail_msg("%s: %u turns of cut pieces", cases[i].name, (unsigned)by_hand);
        shop_close(&shop);
    }
}

/* More threads than there are holders for go on with nothing: they cannot be wound at all. */
static void test_not_more_than_holders(void **state)
{
    (void)state;
    Shop shop;
    open_bench(&shop);
    shop.job.bench.holders = 2;
    Item items[] = {band(&shop, EXTENT_TURNS, 12, 0), band(&shop, EXTENT_TURNS, 12, 0)};
    items[1].strands = strands(&shop, 3, (int[]){0, 1, 2});
    add_layer(&shop, add_place(&shop, 100, 1, NAN), true, 2, items);
    assert_int_equal(shop_plan(&shop)->rods[0].piece_count, 4);
    shop_close(&shop);
}

/* A cut piece does not go on beside spools: the slate of a fade. */
static void test_a_cut_piece_does_not(void **state)
{
    (void)state;
    Shop shop;
    open_bench(&shop);
    Item items[] = {band(&shop, EXTENT_TURNS, 8, 0), fade_steps(&shop, 2, 0, 1), band(&shop, EXTENT_TURNS, 12, 0)};
    items[2].strands = strands(&shop, 2, (int[]){1, 2});
    add_layer(&shop, add_place(&shop, 100, 1, NAN), true, 3, items);
    const Plan *plan = shop_plan(&shop);
    bench_prove(&shop.arena, plan, step_letters(&shop.arena, plan), &shop.findings);
    assert_findings(&shop, 0);
    const PlannedRod *rod = &plan->rods[0];
    assert_true(rod->pieces[1].by_hand);
    assert_int_equal(rod->piece_count, 4);
    shop_close(&shop);
}

static unsigned next_random(unsigned *seed) { return (*seed = *seed * 1103515245u + 12345u) >> 16 & 0x7fff; }

/* Threads in the order of their numbers, in bands long enough for every tag: a thread is a new piece where the
 * band before does not have it. */
static void test_a_thread_is_begun_where_it_was_not(void **state)
{
    (void)state;
    unsigned seed = 4;
    for (int i = 0; i < TRIES; i++) {
        Shop shop;
        open_bench(&shop);
        shop.job.bench.brake = next_random(&seed) % 2;
        Bands bands = {.count = 2 + next_random(&seed) % (MOST_BANDS - 1)};
        uint32_t begun = 0;
        unsigned before = 0;
        uint64_t turns[SHOP_THREADS] = {0}, found[SHOP_THREADS] = {0};
        for (uint32_t b = 0; b < bands.count; b++) {
            unsigned in = 1 + next_random(&seed) % ((1 << SHOP_THREADS) - 1);
            bands.turns[b] = 12 + next_random(&seed) % 40;
            for (int thread = 0; thread < SHOP_THREADS; thread++)
                if (in >> thread & 1) {
                    bands.threads[b][bands.strand_count[b]++] = thread;
                    begun += !(before >> thread & 1);
                    turns[thread] += bands.turns[b];
                }
            before = in;
        }
        const PlannedRod *rod = plan_of(&shop, &bands);
        assert_int_equal(rod->piece_count, begun);
        for (uint32_t p = 0; p < rod->piece_count; p++)
            found[rod->pieces[p].thread->index] += rod->pieces[p].turns;
        assert_memory_equal(found, turns, sizeof found);
        shop_close(&shop);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_goes_on_beside_another),
        cmocka_unit_test(test_which_go_on),
        cmocka_unit_test(test_not_more_than_holders),
        cmocka_unit_test(test_a_cut_piece_does_not),
        cmocka_unit_test(test_a_thread_is_begun_where_it_was_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
