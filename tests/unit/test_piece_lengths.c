/* What pieces are cut to, and what a plan takes of hands, reckoned here turn by turn from the windings and from
 * the actions of the bench, for wraps of bands, fades and inlays: carried threads, threads together, pieces that
 * are cut from their spools. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/bench.h"
#include "near.h"
#include "plan/ways.h"
#include "planned.h"
#include "words/step_letters.h"

enum { MOST_ITEMS = 7, TRIES = 1500 };

static unsigned next_random(unsigned *seed) { return (*seed = *seed * 1103515245u + 12345u) >> 16 & 0x7fff; }

static unsigned below(unsigned *seed, unsigned count) { return next_random(seed) % count; }

static const Plan *random_plan(Shop *shop, unsigned *seed)
{
    static const double widths[] = {3, 6, 9, 13, 20, 34, 60};
    Item items[MOST_ITEMS];
    uint32_t count = 0;
    int running = (int)below(seed, SHOP_THREADS);
    for (uint32_t i = 0; i < SHOP_THREADS; i++)
        shop->threads[i].pitch = shop->threads[i].diameter = i % 2 ? 0.2 : 0.15;
    items[count++] = band(shop, EXTENT_TURNS, widths[below(seed, 7)], running);
    for (unsigned wanted = 2 + below(seed, MOST_ITEMS - 2); count < wanted;) {
        int other = (running + 1 + (int)below(seed, SHOP_THREADS - 1)) % SHOP_THREADS;
        double turns = widths[below(seed, 7)];
        unsigned kind = below(seed, 8);
        bool change = kind == 1 || kind > 4;
        if (kind == 0) {
            items[count++] = fade_steps(shop, 1 + below(seed, 3), running, other);
            running = other;
        }
        items[count] = band(shop, EXTENT_TURNS, turns, change ? other : running);
        if (kind == 2)
            items[count].strands = strands(shop, 2, (int[]){running, other});
        if (kind == 3 && turns >= 20) {
            Inlay inlays[] = {inlay(shop, 3 + below(seed, 10), other, AT_RATIO, 0.5)};
            set_inlays(shop, &items[count], 1, inlays);
        }
        running = change ? other : running;
        count++;
        if (kind == 2 && below(seed, 2))
            items[count < MOST_ITEMS ? count++ : count - 1] = band(shop, EXTENT_TURNS, turns, running);
    }
    add_layer(shop, add_place(shop, 100, 1, NAN), true, count, items);
    return shop_plan(shop);
}

typedef struct Reckoned {
    bool begun;
    double wound, beneath, since_cut, first_pitch, last_pitch;
} Reckoned;

/* Every turn of a piece's own is wound, those between lie over it. */
static void reckon(const PlannedRod *rod, uint32_t index, Reckoned *piece)
{
    const Run *runs = rod->places[0].layers[0].runs;
    uint64_t turn = 0;
    *piece = (Reckoned){0};
    double pending = 0;
    for (uint32_t w = 0; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        const Run *run = &runs[winding->run];
        bool own = false;
        for (uint32_t k = 0; k < winding->pieces.count; k++) {
            if (group_piece(winding->pieces, k) != index)
                continue;
            double each = run->lengths[k] / run->turns * winding->turns;
            own = true;
            piece->beneath += piece->begun ? pending : 0;
            if (turn >= rod->pieces[index].cut_turn)
                piece->since_cut += each + pending;
            piece->wound += each;
            piece->first_pitch = piece->begun ? piece->first_pitch : run->strands->pitch;
            piece->last_pitch = run->strands->pitch;
            piece->begun = true;
        }
        pending = own || !piece->begun ? 0 : pending + run->strands->pitch * winding->turns;
        turn += winding->turns;
    }
}

static void check_pieces(const PlannedRod *rod, const Bench *bench, unsigned found[3])
{
    for (uint32_t i = 0; i < rod->piece_count; i++) {
        const Piece *piece = &rod->pieces[i];
        Reckoned own;
        reckon(rod, i, &own);
        double tags = bench->bind * (own.first_pitch + own.last_pitch);
        assert_within(piece->wound, own.wound, 1e-6);
        assert_within(piece->beneath, own.beneath, 1e-6);
        assert_within(piece_length(piece), own.wound + own.beneath + tags + 2 * bench->free, 1e-6);
        if (piece->cut_turn != NO_TURN)
            assert_within(piece->cut_off, own.since_cut + bench->bind * own.last_pitch + bench->free, 1e-6);
        found[0] += own.beneath > 0;
        found[1] += piece->cut_turn != NO_TURN;
        found[2] += own.first_pitch != own.last_pitch;
    }
}

/* As the actions say it, which are made by another part of the program. */
static void check_work(Arena *arena, const Plan *plan)
{
    const BenchPlan *bench = bench_make(arena, plan, step_letters(arena, plan));
    const BenchRod *rod = &bench->rods[0];
    uint64_t by_hand = 0;
    for (uint32_t i = 0; i < rod->action_count; i++)
        by_hand += rod->actions[i].kind == ACTION_WIND && rod->actions[i].by_hand ? rod->actions[i].turns : 0;
    const Bench *habits = &plan->job->bench;
    double handled = (bench->minutes - (double)plan->turns / habits->speed) * 60 / habits->handling;
    assert_int_equal(plan->rods[0].hand_turns, by_hand);
    assert_within((double)plan->rods[0].handled, handled, 1e-6);
}

static void test_lengths_and_hands(void **state)
{
    (void)state;
    unsigned seed = 7, found[3] = {0}, hands = 0;
    for (int i = 0; i < TRIES; i++) {
        Shop shop;
        shop_open(&shop);
        shop.job.bench.holders = 3;
        shop.job.bench.pack = 40;
        shop.job.bench.brake = true;
        shop.job.bench.carry = 1 + below(&seed, 30);
        shop.job.bench.hand = below(&seed, 2) ? 700 : 2500;
        shop.job.bench.ridge = 2 + below(&seed, 4);
        shop.job.bench.apart = 0.1;
        shop.job.bench.prefer = (Preference)below(&seed, PREFER_COUNT);
        shop.job.bench.bobbins = below(&seed, 3);
        const Plan *plan = random_plan(&shop, &seed);
        check_pieces(&plan->rods[0], &shop.job.bench, found);
        Findings findings;
        findings_start(&findings, &shop.arena);
        bench_prove(&shop.arena, plan, step_letters(&shop.arena, plan), &findings);
        if (findings.list.count == 0) /* else some thread has too few turns to be held by */
            check_work(&shop.arena, plan);
        hands += findings.list.count == 0;
        shop_close(&shop);
    }
    for (int i = 0; i < 3; i++)
        assert_true(found[i] > TRIES / 50);
    assert_true(hands > TRIES / 3);
}

/* What the page says that another preference would give, a plan with that preference has. */
static void test_other_preferences(void **state)
{
    (void)state;
    const Rounding rounding = rounding_of_programs();
    unsigned differ = 0;
    for (unsigned seed = 1; seed < TRIES / 5; seed++) {
        Shop shops[PREFER_COUNT];
        Ways ways = {0};
        double minutes[PREFER_COUNT] = {0};
        for (Preference prefer = 0; prefer < PREFER_COUNT; prefer++) {
            Shop *shop = &shops[prefer];
            unsigned same = seed * 7919;
            shop_open(shop);
            shop->job.bench.holders = 3;
            shop->job.bench.pack = 40;
            shop->job.bench.carry = 15;
            shop->job.bench.prefer = prefer;
            const Plan *plan = random_plan(shop, &same);
            const PlannedRod *rod = &plan->rods[0];
            const BenchPlan *bench =
                bench_prove(&shop->arena, plan, step_letters(&shop->arena, plan), &shop->findings);
            if (prefer == PREFER_ENDS) {
                ways = plan_ways(&shop->arena, plan, rounding);
                for (Preference other = 0; other < PREFER_COUNT; other++)
                    minutes[other] = minutes_of_way(bench, &ways, other);
            }
            double waste = 0;
            for (uint32_t i = 0; i < rod->piece_count; i++)
                waste += rod->pieces[i].tags + rod->pieces[i].beneath + rod->pieces[i].free;
            assert_int_equal(ways.by[prefer].pieces, rod->piece_count);
            assert_int_equal(ways.by[prefer].hand_turns, rod->hand_turns);
            assert_int_equal(ways.by[prefer].handled, rod->handled);
            assert_within(ways.by[prefer].waste, waste, 1e-4);
            if (shop->findings.list.count == 0)
                assert_within(minutes[prefer], bench->minutes, 1e-6);
            differ += ways.by[prefer].pieces != ways.by[PREFER_ENDS].pieces;
            assert_true(ways.by[prefer].handled >= ways.by[PREFER_TIME].handled || prefer != PREFER_TIME);
        }
        for (Preference prefer = 0; prefer < PREFER_COUNT; prefer++)
            shop_close(&shops[prefer]);
    }
    assert_true(differ > TRIES / 200);
}

/* An inlay of so many turns in the middle of a band. */
static const Plan *plan_of_inlay(Shop *shop, double turns, double band_turns)
{
    shop_open(shop);
    shop->job.bench.holders = 2;
    shop->job.bench.pack = 40;
    shop->job.bench.brake = true;
    Item items[] = {band(shop, EXTENT_TURNS, band_turns, 0)};
    Inlay inlays[] = {inlay(shop, turns, 1, AT_RATIO, 0.5)};
    set_inlays(shop, &items[0], 1, inlays);
    add_layer(shop, add_place(shop, 100, 1, NAN), true, 1, items);
    return shop_plan(shop);
}

static void test_a_long_inlay_has_a_spool(void **state)
{
    (void)state;
    static const struct {
        double turns, band;
        uint32_t pieces;
        bool cut;
    } cases[] = {
        {10, 80, 2, true},   /* by hand */
        {60, 120, 3, false}, /* longer than the hand passes */
        {34, 94, 3, false},  /* with its ends */
        {60, 72, 3, false},  /* just turns enough for every tag and end */
        {60, 70, 3, false},  /* the band's last turns are a cut piece's */
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Shop shop;
        const Plan *plan = plan_of_inlay(&shop, cases[i].turns, cases[i].band);
        const PlannedRod *rod = &plan->rods[0];
        bench_prove(&shop.arena, plan, step_letters(&shop.arena, plan), &shop.findings);
        assert_findings(&shop, 0);
        assert_int_equal(rod->piece_count, cases[i].pieces);
        const Piece *piece = &rod->pieces[1];
        assert_int_equal(piece->thread->index, 1);
        assert_int_equal(piece->by_hand, cases[i].cut);
        assert_int_equal(piece->turns, cases[i].turns);
        assert_int_equal(rod->hand_turns, cases[i].cut ? cases[i].turns : 0);
        shop_close(&shop);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lengths_and_hands),
        cmocka_unit_test(test_other_preferences),
        cmocka_unit_test(test_a_long_inlay_has_a_spool),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
