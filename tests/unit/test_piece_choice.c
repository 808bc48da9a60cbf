/* Which pieces a wrap is wound with: on small wraps every way that there is, worked out here turn by turn and with
 * nothing of the plan's own reckoning, finds none that is lawful and cheaper than the one chosen. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "plan/plan_sums.h"
#include "planned.h"

enum { MOST_RUNS = 7, MOST_TURNS = 300, TRIES = 1500 };

/* A wrap of bands, and what its pieces come to when each thread goes on where `way` has its run's bit. */
typedef struct Way {
    uint32_t count, turns[MOST_RUNS], begin[MOST_RUNS];
    int thread[MOST_RUNS];
    double length[MOST_RUNS];
    unsigned way;
    uint32_t piece_count, by_hand, handled, of_run[MOST_RUNS];
    double waste;
    struct {
        int thread;
        bool cut, goes_on; /* goes_on: a spool, its tag laid while the cut piece before it was wound */
        uint32_t first, end;
        double wound, beneath, length; /* length: as the plan has it */
    } pieces[2 * MOST_RUNS];
    bool lawful;
} Way;

static int before(const Way *way, uint32_t run)
{
    for (int r = (int)run - 1; r >= 0; r--)
        if (way->thread[r] == way->thread[run])
            return r;
    return -1;
}

static bool carried(const Way *way, uint32_t run)
{
    int r = before(way, run);
    return r >= 0 && (r + 1 == (int)run || way->way >> run & 1);
}

/* Whether the piece winds again at this run or later. */
static bool winds_again(const Way *way, uint32_t piece, uint32_t run)
{
    uint32_t last = 0;
    for (uint32_t r = 0; r < run; r++)
        if (way->of_run[r] == piece)
            last = r;
    for (uint32_t r = run; r < way->count; r++)
        if (way->thread[r] == way->pieces[piece].thread)
            return before(way, r) == (int)last && carried(way, r);
    return false;
}

static bool spool_stands(const Way *way, uint32_t run)
{
    for (uint32_t p = 0; p < way->piece_count; p++)
        if (!way->pieces[p].cut && winds_again(way, p, run) && way->pieces[p].thread != way->thread[run]
            && way->pieces[p].end <= way->begin[run])
            return true;
    return false;
}

static uint32_t new_piece(Way *way, uint32_t run, uint32_t turn)
{
    uint32_t piece = way->piece_count++;
    memset(&way->pieces[piece], 0, sizeof *way->pieces);
    way->pieces[piece].thread = way->thread[run];
    way->pieces[piece].first = way->pieces[piece].end = turn;
    return piece;
}

static double cut_length(const Way *way, uint32_t piece, const Bench *bench)
{
    return way->pieces[piece].wound + way->pieces[piece].beneath + 2 * bench->bind * 0.15 + 2 * bench->free;
}

static void wind(Way *way, uint32_t piece, uint32_t run, uint32_t turns, uint32_t turn)
{
    way->pieces[piece].beneath += (turn - way->pieces[piece].end) * 0.15;
    way->pieces[piece].wound += way->length[run] * turns / way->turns[run];
    way->pieces[piece].end = turn + turns;
    way->of_run[run] = piece;
}

static void wind_all(Way *way, const Bench *bench)
{
    uint32_t bind = (uint32_t)bench->bind;
    way->piece_count = 0;
    for (uint32_t r = 0; r < way->count; r++) {
        bool stands = spool_stands(way, r);
        uint32_t piece = carried(way, r) ? way->of_run[before(way, r)] : new_piece(way, r, way->begin[r]);
        if (!carried(way, r))
            way->pieces[piece].cut = stands;
        uint32_t turns = way->turns[r], turn = way->begin[r];
        double cut = cut_length(way, piece, bench) + way->length[r] + (turn - way->pieces[piece].end) * 0.15;
        if (way->pieces[piece].cut && !stands && cut > bench->hand && turns >= 2 * bind) {
            wind(way, piece, r, bind, turn);
            piece = new_piece(way, r, turn + bind);
            way->pieces[piece].goes_on = true;
            wind(way, piece, r, turns - bind, turn + bind);
        } else {
            wind(way, piece, r, turns, turn);
        }
    }
    /* one that comes too late for its own turns to hold it */
    uint32_t total = way->begin[way->count - 1] + way->turns[way->count - 1];
    for (uint32_t p = 0; p < way->piece_count; p++)
        way->pieces[p].cut |= way->pieces[p].first >= bind && total - way->pieces[p].first < bind;
}

static void lie(unsigned *under, double from, double to, uint32_t total)
{
    for (uint32_t turn = 0; turn < total; turn++)
        under[turn] += turn >= from && turn < to;
}

/* What a piece lies under, besides the turns of its own runs. */
static void lie_under(const Way *way, uint32_t p, const Bench *bench, unsigned *under, uint32_t total)
{
    uint32_t first = way->pieces[p].first, end = way->pieces[p].end;
    bool laid_in = way->pieces[p].cut || way->pieces[p].goes_on;
    lie(under, laid_in ? first - bench->bind : first, laid_in ? first : first + bench->bind, total);
    if (total - end >= bench->bind)
        lie(under, end, end + bench->bind, total);
    else
        lie(under, end - (end < total ? bench->loop : bench->final), end, total);
    for (uint32_t r = 0; r < way->count; r++)
        if (way->begin[r] >= first && way->begin[r] < end && way->thread[r] != way->pieces[p].thread)
            lie(under, way->begin[r], way->begin[r] + way->turns[r], total);
}

static void judge(Way *way, const Bench *bench)
{
    uint32_t total = way->begin[way->count - 1] + way->turns[way->count - 1];
    unsigned under[MOST_TURNS] = {0};
    way->lawful = true;
    way->by_hand = 0;
    for (uint32_t p = 0; p < way->piece_count; p++) {
        double first = way->pieces[p].first, end = way->pieces[p].end;
        way->lawful &= way->pieces[p].cut ? first >= bench->bind && cut_length(way, p, bench) <= bench->hand
                                          : fmax(first, total - first) >= bench->bind;
        way->lawful &= total - end >= bench->bind || end >= (end < total ? bench->loop : bench->final);
        lie_under(way, p, bench, under, total);
    }
    for (uint32_t r = 0; r < way->count; r++) {
        int last = before(way, r);
        bool chosen = carried(way, r) && last + 1 != (int)r;
        way->lawful &= !chosen || way->begin[r] - way->begin[last] - way->turns[last] <= bench->carry;
    }
    for (uint32_t turn = 0; turn < total; turn++)
        way->lawful &= under[turn] <= bench->ridge;
}

/* Turns of cut pieces, one by one, while a piece from a spool is there. */
static void count_by_hand(Way *way, const Bench *bench)
{
    for (uint32_t r = 0; r < way->count; r++)
        for (uint32_t turn = way->begin[r]; turn < way->begin[r] + way->turns[r]; turn++) {
            bool cut = false, spool = false;
            for (uint32_t p = 0; p < way->piece_count; p++) {
                bool winds = way->pieces[p].thread == way->thread[r] && way->pieces[p].first <= turn
                             && turn < way->pieces[p].end;
                double from = way->pieces[p].first - (way->pieces[p].goes_on ? bench->bind : 0);
                cut |= winds && way->pieces[p].cut;
                spool |= !way->pieces[p].cut && turn >= from && turn < way->pieces[p].end;
            }
            way->by_hand += cut && spool;
        }
}

/* As often as a thread is laid in or started, taken up, ended, or a loop laid for it; and what is not wound. */
static void count_work(Way *way, const Bench *bench)
{
    uint32_t total = way->begin[way->count - 1] + way->turns[way->count - 1];
    way->handled = 0;
    way->waste = 0;
    for (uint32_t p = 0; p < way->piece_count; p++) {
        bool laid_in = way->pieces[p].cut || way->pieces[p].goes_on;
        way->handled += (laid_in ? 2u : 1u) + (total - way->pieces[p].end >= bench->bind ? 1u : 2u);
        way->waste += cut_length(way, p, bench) - way->pieces[p].wound;
    }
    for (uint32_t r = 0; r < way->count; r++)
        way->handled += carried(way, r) && before(way, r) + 1 != (int)r;
}

/* In the order of the reference's table. */
static bool is_cheaper(const Way *a, const Way *b, Preference prefer)
{
    double costs[][2] = {{a->piece_count, b->piece_count},
                         {a->by_hand, b->by_hand},
                         {floor(a->waste * 1000 + 0.5), floor(b->waste * 1000 + 0.5)},
                         {a->handled, b->handled}};
    static const int orders[PREFER_COUNT][4] = {{0, 1, 2, 3}, {3, 1, 0, 2}, {2, 0, 1, 3}};
    for (int i = 0; i < 4; i++) {
        const double *cost = costs[orders[prefer][i]];
        if (cost[0] != cost[1])
            return cost[0] < cost[1];
    }
    return false;
}

static unsigned next_random(unsigned *seed) { return (*seed = *seed * 1103515245u + 12345u) >> 16 & 0x7fff; }

static void make_way(Shop *shop, Way *way, unsigned *seed)
{
    static const uint32_t widths[] = {2, 3, 4, 6, 8, 11, 13, 16, 21, 30};
    Item items[MOST_RUNS];
    way->count = 3 + next_random(seed) % (MOST_RUNS - 2);
    for (uint32_t r = 0, turn = 0; r < way->count; turn += way->turns[r++]) {
        way->thread[r] = (int)(next_random(seed) % 3);
        way->turns[r] = widths[next_random(seed) % (sizeof widths / sizeof *widths)];
        way->begin[r] = turn;
        items[r] = band(shop, EXTENT_TURNS, way->turns[r], way->thread[r]);
    }
    Place *place = add_place(shop, 100, 1, NAN);
    add_layer(shop, place, true, way->count, items);
    shop->job.bench.carry = 1 + next_random(seed) % 30;
    shop->job.bench.hand = next_random(seed) % 2 ? 700 : 1500;
    shop->job.bench.ridge = 2 + next_random(seed) % 3;
    shop->job.bench.prefer = (Preference)(next_random(seed) % PREFER_COUNT);
}

/* The cheapest lawful way of all; its `lawful` is false if there is none. */
static Way best_of(const Way *wrap, const Bench *bench, Preference prefer)
{
    Way best = *wrap;
    best.lawful = false;
    for (unsigned bits = 0; bits < 1u << wrap->count; bits++) {
        Way way = *wrap;
        way.way = bits;
        wind_all(&way, bench);
        judge(&way, bench);
        count_by_hand(&way, bench);
        count_work(&way, bench);
        if (way.lawful && (!best.lawful || is_cheaper(&way, &best, prefer)))
            best = way;
    }
    return best;
}

static void read_plan(Way *way, const PlannedRod *rod)
{
    way->piece_count = rod->piece_count;
    for (uint32_t i = 0; i < rod->piece_count; i++) {
        const Piece *piece = &rod->pieces[i];
        way->pieces[i].thread = (int)piece->thread->index;
        way->pieces[i].cut = piece->by_hand;
        way->pieces[i].goes_on = i > 0 && !piece->by_hand && piece[-1].by_hand && piece[-1].thread == piece->thread
                                 && piece[-1].end_turn == piece->first_turn;
        way->pieces[i].first = (uint32_t)piece->first_turn;
        way->pieces[i].end = (uint32_t)piece->end_turn;
        way->pieces[i].wound = piece->wound;
        way->pieces[i].beneath = piece->beneath;
        way->pieces[i].length = piece_length(piece);
    }
}

/* Of the ways worked out here one has the plan's pieces, and they are as long. */
static bool lengths_agree(const Way *wrap, const Way *chosen, const Bench *bench)
{
    for (unsigned bits = 0; bits < 1u << wrap->count; bits++) {
        Way way = *wrap;
        way.way = bits;
        wind_all(&way, bench);
        bool same = way.piece_count == chosen->piece_count;
        for (uint32_t p = 0; same && p < way.piece_count; p++)
            same = way.pieces[p].thread == chosen->pieces[p].thread && way.pieces[p].cut == chosen->pieces[p].cut
                   && way.pieces[p].first == chosen->pieces[p].first && way.pieces[p].end == chosen->pieces[p].end
                   && fabs(cut_length(&way, p, bench) - chosen->pieces[p].length) < 1e-6
                   && fabs(way.pieces[p].beneath - chosen->pieces[p].beneath) < 1e-6;
        if (same)
            return true;
    }
    return false;
}

static void test_no_way_is_cheaper(void **state)
{
    (void)state;
    unsigned seed = 11, found_lawful = 0, carries = 0, differ[PREFER_COUNT] = {0};
    for (int i = 0; i < TRIES; i++) {
        Shop shop;
        shop_open(&shop);
        shop.job.bench.apart = 0.1;
        Way wrap = {0};
        make_way(&shop, &wrap, &seed);
        const Plan *plan = shop_plan(&shop);
        for (uint32_t r = 0; r < wrap.count; r++)
            wrap.length[r] = laid(plan, 0, 0)->runs[r].lengths[0];
        const Bench *bench = &shop.job.bench;
        Way best = best_of(&wrap, bench, bench->prefer), chosen = wrap;
        read_plan(&chosen, &plan->rods[0]);
        judge(&chosen, bench);
        count_by_hand(&chosen, bench);
        count_work(&chosen, bench);
        chosen.handled = (uint32_t)plan->rods[0].handled; /* which runs it is carried to is not read */
        if (best.lawful) {
            if (!chosen.lawful || is_cheaper(&best, &chosen, bench->prefer)
                || is_cheaper(&chosen, &best, bench->prefer)) {
                for (uint32_t r = 0; r < wrap.count; r++)
                    print_error("%u of %d, ", (unsigned)wrap.turns[r], wrap.thread[r]);
                print_error("carry %g hand %g ridge %u: chosen %u pieces, %u by hand, %s; best %u, %u\n",
                            bench->carry, bench->hand, (unsigned)bench->ridge, (unsigned)chosen.piece_count,
                            (unsigned)chosen.by_hand, chosen.lawful ? "lawful" : "not lawful",
                            (unsigned)best.piece_count, (unsigned)best.by_hand);
                fail();
            }
            assert_true(lengths_agree(&wrap, &chosen, bench));
            found_lawful++;
            Way plain = wrap;
            wind_all(&plain, bench);
            count_by_hand(&plain, bench);
            carries += chosen.piece_count < plain.piece_count;
            differ[bench->prefer] += chosen.piece_count > best_of(&wrap, bench, PREFER_ENDS).piece_count;
        }
        shop_close(&shop);
    }
    assert_true(found_lawful > TRIES / 2);
    assert_true(carries > TRIES / 10);
    /* Ends are most dear where they are preferred; time is spared by more of them, here and there. */
    assert_int_equal(differ[PREFER_ENDS], 0);
    assert_true(differ[PREFER_TIME] > TRIES / 50);
}

static uint32_t pieces_of(Shop *shop)
{
    uint32_t pieces = shop_plan(shop)->rods[0].piece_count;
    shop_close(shop);
    return pieces;
}

/* A band of navy, some slate, navy again. */
static void open_with_slate(Shop *shop, uint32_t turns)
{
    shop_open(shop);
    shop->job.bench.carry = 15;
    shop->threads[0].colour = 0x22346b;
    shop->threads[1].colour = 0x9db8d6;
    Place *place = add_place(shop, 100, 1, NAN);
    Item items[] = {band(shop, EXTENT_TURNS, 20, 0), band(shop, EXTENT_TURNS, turns, 1),
                    band(shop, EXTENT_TURNS, 20, 0)};
    add_layer(shop, place, true, 3, items);
}

static void test_a_band_goes_on_beneath_another(void **state)
{
    (void)state;
    Shop shop;
    open_with_slate(&shop, 15);
    const PlannedRod *rod = &shop_plan(&shop)->rods[0];
    assert_int_equal(rod->piece_count, 2);
    const Piece *navy = &rod->pieces[0], *slate = &rod->pieces[1];
    assert_false(navy->by_hand);
    assert_int_equal(navy->turns, 40);
    assert_within(navy->beneath, 15 * 0.15, 1e-9);
    assert_int_equal(navy->last_run, 2);
    assert_true(slate->by_hand);
    assert_int_equal(slate->turns, 15);
    shop_close(&shop);
    open_with_slate(&shop, 16);
    assert_int_equal(pieces_of(&shop), 3); /* further than it may be carried */
    open_with_slate(&shop, 8);
    shop.job.bench.hand = 400;
    assert_int_equal(pieces_of(&shop), 3); /* slate is too long to wrap by hand */
}

/* What lies beneath is thread, too: where ends are short, it is more than theirs. */
static void test_thread_may_be_dearer_than_ends(void **state)
{
    (void)state;
    static const uint32_t pieces[PREFER_COUNT] = {[PREFER_ENDS] = 2, [PREFER_TIME] = 3, [PREFER_THREAD] = 3};
    for (Preference prefer = 0; prefer < PREFER_COUNT; prefer++) {
        Shop shop;
        open_with_slate(&shop, 180);
        shop.job.bench.prefer = prefer;
        shop.job.bench.free = 10;
        shop.job.bench.carry = 200;
        shop.job.bench.hand = 1e5;
        assert_int_equal(pieces_of(&shop), pieces[prefer]);
        open_with_slate(&shop, 14);
        shop.job.bench.prefer = prefer;
        shop.job.bench.free = 10;
        assert_int_equal(pieces_of(&shop), prefer == PREFER_TIME ? 3 : 2);
    }
}

/* A thread that would show is not carried: one that is darker than the translucent one over it. */
static void test_what_shows_is_not_carried(void **state)
{
    (void)state;
    for (int lighter = 0; lighter < 2; lighter++)
        for (int translucent = 0; translucent < 2; translucent++) {
            Shop shop;
            open_with_slate(&shop, 8);
            shop.threads[1].colour = lighter ? 0x9db8d6 : 0x101010;
            shop.threads[1].opacity = translucent ? 0.99 : 1;
            assert_int_equal(pieces_of(&shop), lighter && translucent ? 3 : 2);
        }
}

/* Where many threads come again and again, all of it is carried but where it would lie too thick. */
static void test_many_are_carried(void **state)
{
    (void)state;
    enum { BANDS = 61 };
    for (int crowd = 0; crowd < 2; crowd++) {
        Shop shop;
        shop_open(&shop);
        shop.job.bench.carry = 15;
        shop.job.bench.hand = 1e5;
        Place *place = add_place(&shop, 100, 1, NAN);
        Item items[BANDS];
        for (int i = 0; i < BANDS; i++)
            items[i] = band(&shop, EXTENT_TURNS, i == 0 || i + 1 == BANDS ? 20 : 5, i % 2);
        if (crowd) /* four in turn: three would stand beneath every turn, beside tags and ends */
            for (int i = 20; i < 40; i++)
                items[i] = band(&shop, EXTENT_TURNS, 3, i % 4);
        add_layer(&shop, place, true, BANDS, items);
        const PlannedRod *rod = &shop_plan(&shop)->rods[0];
        assert_true(crowd ? rod->piece_count > 2 && rod->piece_count < BANDS / 2 : rod->piece_count == 2);
        shop_close(&shop);
    }
}

/* Five turns of each in turn: slate, passed by hand, would have too few turns over its tag before its first one.
 * Each begins over its own tag, five turns of it and all that follow. */
static void test_what_would_not_be_held_is_not_carried(void **state)
{
    (void)state;
    enum { BANDS = 6 };
    Shop shop;
    shop_open(&shop);
    shop.job.bench.carry = 15;
    shop.job.bench.ridge = 2; /* cut and started again, more threads lie under a turn than carried */
    Place *place = add_place(&shop, 100, 1, NAN);
    Item items[BANDS];
    for (int i = 0; i < BANDS; i++)
        items[i] = band(&shop, EXTENT_TURNS, 5, i % 2);
    add_layer(&shop, place, true, BANDS, items);
    const PlannedRod *rod = &shop_plan(&shop)->rods[0];
    assert_true(rod->piece_count > 2);
    for (uint32_t i = 0; i < rod->piece_count; i++)
        assert_true(!rod->pieces[i].by_hand || rod->pieces[i].first_turn >= 6);
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_way_is_cheaper),
        cmocka_unit_test(test_a_band_goes_on_beneath_another),
        cmocka_unit_test(test_thread_may_be_dearer_than_ends),
        cmocka_unit_test(test_what_shows_is_not_carried),
        cmocka_unit_test(test_many_are_carried),
        cmocka_unit_test(test_what_would_not_be_held_is_not_carried),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
