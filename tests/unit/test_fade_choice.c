/* Which thread of a fade is led by hand, and what is on a bobbin: on small wraps every way that the reference
 * allows, worked out here turn by turn and with nothing of the plan's own reckoning, finds none that is lawful and
 * costs less than the one chosen. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "planned.h"

#include "plan/plan_sums.h"

#include <string.h>

enum { MOST_RUNS = 64, MOST_TURNS = 1000, MOST_PIECES = 32, MOST_DECISIONS = 6, TRIES = 1500 };

/* PITCH: of all threads of the shop, mm. */
static const double PITCH = 0.15;

typedef enum { SPOOL, CUT, BOBBIN } Kind;
typedef enum { AS_CUT_PIECE, FROM_ITS_SPOOL, ON_A_BOBBIN, DECISION_KINDS } Decision;

typedef struct OnePiece {
    Kind kind;
    bool tag_before;        /* laid under the turns before its first one */
    uint32_t first, end;    /* turns [first, end) of the wrap; not all of them its own */
    uint32_t loose;         /* from this turn on cut from its spool; MOST_TURNS if it is not */
    double length, in_hand; /* mm: cut length; of it what a hand has to manage */
    double wound;
} OnePiece;

/* A wrap, and one way to piece it. */
typedef struct Way {
    uint32_t total, run_count;
    uint32_t begin[MOST_RUNS], turns[MOST_RUNS];
    int thread[MOST_RUNS];
    RunRole role[MOST_RUNS];
    double turn_length[MOST_TURNS];
    uint32_t piece_of[MOST_TURNS], piece_count;
    OnePiece pieces[MOST_PIECES];
    bool lawful;
    uint32_t by_hand, bobbins;
    double waste;
} Way;

/* --- making a way --- */

static uint32_t add_piece(Way *way, uint32_t turn, Kind kind, bool tag_before)
{
    way->pieces[way->piece_count] =
        (OnePiece){.kind = kind, .tag_before = tag_before, .first = turn, .end = turn, .loose = MOST_TURNS};
    return way->piece_count++;
}

static void wind(Way *way, uint32_t piece, uint32_t turn, uint32_t turns)
{
    for (uint32_t i = turn; i < turn + turns; i++)
        way->piece_of[i] = piece;
    way->pieces[piece].end = turn + turns;
}

/* Its cut length, up to here. */
static double length_so_far(const Way *way, uint32_t piece, uint32_t from, const Bench *bench)
{
    double length = 0;
    for (uint32_t turn = from; turn < way->pieces[piece].end; turn++)
        length += way->piece_of[turn] == piece ? way->turn_length[turn] : PITCH;
    return length + 2 * bench->bind * PITCH + 2 * bench->free;
}

/* A band of a thread that a fade has brought: a spool goes on once the cut piece's end is bound, if that would be
 * too long. */
static uint32_t wind_band(Way *way, uint32_t piece, uint32_t run, const Bench *bench)
{
    uint32_t bind = (uint32_t)bench->bind, begin = way->begin[run], turns = way->turns[run];
    wind(way, piece, begin, turns);
    bool too_long = length_so_far(way, piece, way->pieces[piece].first, bench) > bench->hand;
    if (way->pieces[piece].kind != CUT || !too_long || turns < 2 * bind)
        return piece;
    way->pieces[piece].end = begin + bind;
    uint32_t spool = add_piece(way, begin + bind, SPOOL, true);
    wind(way, spool, begin + bind, turns - bind);
    return spool;
}

/* The old thread makes its last turns by hand: cut from its spool, or from its bobbin. False where it cannot. */
static bool leads_old_by_hand(Way *way, uint32_t run, const Bench *bench)
{
    uint32_t bind = (uint32_t)bench->bind;
    if (run == 0 || way->role[run - 1] != RUN_BAND || way->turns[run - 1] < 2 * bind)
        return false;
    OnePiece *old = &way->pieces[way->piece_of[way->begin[run] - 1]];
    if (old->kind == CUT || way->begin[run] - old->first <= bind) /* a spool that winds nothing is none */
        return false;
    if (old->kind == SPOOL)
        old->loose = way->begin[run] - bind;
    return true;
}

/* A decision for each thread that comes in by a fade or an inlay, in that order; false where one cannot be. */
static bool make_way(Way *way, const Decision *decisions, const Bench *bench)
{
    uint32_t live[SHOP_THREADS];
    memset(live, 0xff, sizeof live);
    way->piece_count = 0;
    for (uint32_t r = 0; r < way->run_count; r++) {
        uint32_t *piece = &live[way->thread[r]];
        bool band = way->role[r] == RUN_BAND, inlay = way->role[r] == RUN_INLAY;
        if (band && *piece == UINT32_MAX)
            *piece = add_piece(way, way->begin[r], SPOOL, false);
        if (!band && (inlay || *piece == UINT32_MAX)) {
            Decision how = *decisions++;
            if (how == FROM_ITS_SPOOL && (inlay || !leads_old_by_hand(way, r, bench)))
                return false;
            Kind kind = how == ON_A_BOBBIN ? BOBBIN : how == FROM_ITS_SPOOL ? SPOOL : CUT;
            *piece = add_piece(way, way->begin[r], kind, true);
        }
        if (band) {
            uint32_t goes_on = wind_band(way, *piece, r, bench);
            memset(live, 0xff, sizeof live);
            live[way->thread[r]] = goes_on;
        } else {
            wind(way, *piece, way->begin[r], way->turns[r]);
        }
        if (inlay)
            *piece = UINT32_MAX;
    }
    return true;
}

static uint32_t decisions_of(const Way *way)
{
    uint32_t count = 0;
    bool live[SHOP_THREADS] = {false};
    for (uint32_t r = 0; r < way->run_count; r++) {
        bool inlay = way->role[r] == RUN_INLAY;
        count += way->role[r] != RUN_BAND && (inlay || !live[way->thread[r]]);
        if (way->role[r] == RUN_BAND)
            memset(live, 0, sizeof live);
        live[way->thread[r]] = !inlay;
    }
    return count;
}

/* --- judging a way, turn by turn --- */

/* A spool feeds the piece at this turn, or waits. */
static bool spool_is_there(const OnePiece *piece, uint32_t turn, const Bench *bench)
{
    uint32_t from = piece->first - (piece->tag_before ? (uint32_t)bench->bind : 0);
    uint32_t until = piece->loose < piece->end ? piece->loose : piece->end;
    return piece->kind == SPOOL && turn >= from && turn < until;
}

static void judge_turn(Way *way, uint32_t turn, const Bench *bench)
{
    const OnePiece *winds = &way->pieces[way->piece_of[turn]];
    bool in_hand = winds->kind != SPOOL || turn >= winds->loose;
    uint32_t spools = 0, under = 0;
    for (uint32_t p = 0; p < way->piece_count; p++) {
        const OnePiece *piece = &way->pieces[p];
        uint32_t bind = (uint32_t)bench->bind, after = way->total - piece->end;
        uint32_t loop = (uint32_t)(after > 0 ? bench->loop : bench->final);
        bool tag = piece->tag_before ? turn + bind >= piece->first && turn < piece->first
                                     : turn >= piece->first && turn < piece->first + bind;
        bool end = after >= bind ? turn >= piece->end && turn < piece->end + bind
                                 : turn + loop >= piece->end && turn < piece->end;
        bool waits = turn >= piece->first && turn < piece->end && way->piece_of[turn] != p;
        spools += spool_is_there(piece, turn, bench) && piece != winds;
        under += (uint32_t)tag + (uint32_t)end + (uint32_t)waits;
    }
    way->lawful &= in_hand || spools == 0; /* the blank cannot turn with a spool that waits */
    way->by_hand += in_hand && spools > 0;
    way->lawful &= under <= bench->ridge;
}

static void judge_piece(Way *way, uint32_t index, const Bench *bench)
{
    OnePiece *piece = &way->pieces[index];
    uint32_t after = way->total - piece->end;
    bool held = piece->tag_before ? piece->first >= bench->bind : way->total - piece->first >= bench->bind;
    bool ended = after >= bench->bind || piece->end >= (after > 0 ? bench->loop : bench->final);
    piece->length = length_so_far(way, index, piece->first, bench);
    piece->wound = 0;
    for (uint32_t turn = piece->first; turn < piece->end; turn++)
        piece->wound += way->piece_of[turn] == index ? way->turn_length[turn] : 0;
    if (piece->kind == CUT)
        piece->in_hand = piece->length;
    else if (piece->kind == SPOOL && piece->loose < piece->end)
        piece->in_hand = length_so_far(way, index, piece->loose, bench) - bench->bind * PITCH - bench->free;
    way->lawful &= held && ended && piece->in_hand <= bench->hand;
    way->waste += piece->length - piece->wound;
    way->bobbins += piece->kind == BOBBIN;
}

static void judge(Way *way, const Bench *bench)
{
    way->lawful = true;
    way->by_hand = way->bobbins = 0;
    way->waste = 0;
    for (uint32_t p = 0; p < way->piece_count; p++)
        judge_piece(way, p, bench);
    for (uint32_t turn = 0; turn < way->total; turn++)
        judge_turn(way, turn, bench);
    way->lawful &= way->bobbins <= bench->bobbins;
}

static bool is_cheaper(const Way *a, const Way *b)
{
    if (a->piece_count != b->piece_count)
        return a->piece_count < b->piece_count;
    if (a->by_hand != b->by_hand)
        return a->by_hand < b->by_hand;
    if (fabs(a->waste - b->waste) > 1e-6)
        return a->waste < b->waste;
    return a->bobbins < b->bobbins;
}

/* The cheapest lawful way of all; its `lawful` is false if there is none. */
static Way best_of_all(const Way *wrap, const Bench *bench)
{
    Way best = *wrap;
    best.lawful = false;
    uint32_t count = decisions_of(wrap), ways = 1;
    for (uint32_t i = 0; i < count; i++)
        ways *= DECISION_KINDS;
    for (uint32_t n = 0; n < ways; n++) {
        Decision decisions[MOST_DECISIONS];
        for (uint32_t i = 0, rest = n; i < count; i++, rest /= DECISION_KINDS)
            decisions[i] = (Decision)(rest % DECISION_KINDS);
        Way way = *wrap;
        if (!make_way(&way, decisions, bench))
            continue;
        judge(&way, bench);
        if (way.lawful && (!best.lawful || is_cheaper(&way, &best)))
            best = way;
    }
    return best;
}

/* --- what the plan has --- */

static void read_runs(Way *way, const PlannedLayer *layer)
{
    memset(way, 0, sizeof *way);
    way->run_count = layer->run_count;
    for (uint32_t r = 0; r < layer->run_count; r++) {
        const Run *run = &layer->runs[r];
        way->begin[r] = way->total;
        way->turns[r] = run->turns;
        way->thread[r] = (int)run->strands->items[0].thread->index;
        way->role[r] = run->role;
        for (uint32_t i = 0; i < run->turns; i++)
            way->turn_length[way->total++] = run->lengths[0] / run->turns;
    }
}

static void read_pieces(Way *way, const PlannedRod *rod)
{
    way->piece_count = rod->piece_count;
    for (uint32_t p = 0; p < rod->piece_count; p++) {
        const Piece *piece = &rod->pieces[p];
        way->pieces[p] = (OnePiece){.kind = piece->bobbin    ? BOBBIN
                                            : piece->by_hand ? CUT
                                                             : SPOOL,
                                    .tag_before = piece->by_hand || piece->tag_before,
                                    .first = (uint32_t)piece->first_turn,
                                    .end = (uint32_t)piece->end_turn,
                                    .loose = piece->cut_turn == NO_TURN ? MOST_TURNS : (uint32_t)piece->cut_turn};
    }
    uint32_t turn = 0;
    for (uint32_t w = 0; w < rod->winding_count; w++)
        for (uint32_t i = 0; i < rod->windings[w].turns; i++)
            way->piece_of[turn++] = group_piece(rod->windings[w].pieces, 0);
}

/* --- wraps --- */

static unsigned next_random(unsigned *seed) { return (*seed = *seed * 1103515245u + 12345u) >> 16 & 0x7fff; }

/* Bands and fades between them, each of another thread; an inlay in some band. */
static void make_wrap(Shop *shop, unsigned *seed)
{
    static const uint32_t widths[] = {5, 8, 11, 12, 13, 20, 30, 45};
    uint32_t fades = 1 + next_random(seed) % 3, count = 0;
    bool inlaid = next_random(seed) % 2 && fades < 3;
    uint32_t which = 2 * (next_random(seed) % (fades + 1));
    Item items[7];
    for (uint32_t f = 0; f <= fades; f++) {
        uint32_t turns = widths[next_random(seed) % (sizeof widths / sizeof *widths)];
        items[count++] = band(shop, EXTENT_TURNS, f == 0 || f == fades ? turns + 3 : turns, (int)f);
        if (f < fades)
            items[count++] = fade_steps(shop, 1 + next_random(seed) % 3, (int)f, (int)f + 1);
    }
    if (inlaid) {
        Inlay across = inlay(shop, 2 + next_random(seed) % 30, SHOP_THREADS - 1, AT_RATIO, 0.5);
        items[which].extent.amount = 60;
        set_inlays(shop, &items[which], 1, &across);
    }
    Place *place = add_place(shop, 100, 1, NAN);
    add_layer(shop, place, true, count, items);
    Bench *bench = &shop->job.bench;
    bench->carry = 1;
    bench->apart = 0.1;
    bench->hand = 600 + 300 * (next_random(seed) % 4);
    bench->ridge = 2 + next_random(seed) % 3;
    bench->bobbins = next_random(seed) % 4;
}

static void test_no_way_is_cheaper(void **state)
{
    (void)state;
    unsigned seed = 5, lawful = 0, with_bobbins = 0, from_spools = 0, as_cut = 0;
    for (int i = 0; i < TRIES; i++) {
        Shop shop;
        shop_open(&shop);
        make_wrap(&shop, &seed);
        const Plan *plan = shop_plan(&shop);
        const Bench *bench = &shop.job.bench;
        Way chosen;
        read_runs(&chosen, laid(plan, 0, 0));
        assert_in_range(decisions_of(&chosen), 1, MOST_DECISIONS);
        Way best = best_of_all(&chosen, bench);
        read_pieces(&chosen, &plan->rods[0]);
        judge(&chosen, bench);
        if (best.lawful) {
            if (!chosen.lawful || is_cheaper(&best, &chosen) || is_cheaper(&chosen, &best))
                fail_msg(
                    "%d: %s; hand %g ridge %u bobbins %u: chosen %u pieces, %u by hand, %u bobbins, waste %g, "
                    "%s; best %u, %u, %u, %g",
                    i, runs_text(&shop, laid(plan, 0, 0)), bench->hand, (unsigned)bench->ridge,
                    (unsigned)bench->bobbins, (unsigned)chosen.piece_count, (unsigned)chosen.by_hand,
                    (unsigned)chosen.bobbins, chosen.waste, chosen.lawful ? "lawful" : "not lawful",
                    (unsigned)best.piece_count, (unsigned)best.by_hand, (unsigned)best.bobbins, best.waste);
            lawful++;
            with_bobbins += chosen.bobbins > 0;
            for (uint32_t p = 0; p < chosen.piece_count; p++) {
                from_spools += chosen.pieces[p].loose < MOST_TURNS;
                as_cut += chosen.pieces[p].kind == CUT;
            }
        }
        shop_close(&shop);
    }
    assert_true(lawful > TRIES / 2);
    assert_true(with_bobbins > TRIES / 5);
    assert_true(from_spools > TRIES / 10);
    assert_true(as_cut > TRIES / 10);
}

static uint32_t bobbins_of(const PlannedRod *rod, uint32_t first_place, uint32_t end_place)
{
    uint32_t bobbins = 0;
    for (uint32_t p = 0; p < rod->piece_count; p++)
        bobbins +=
            rod->pieces[p].place >= first_place && rod->pieces[p].place < end_place && rod->pieces[p].bobbin;
    return bobbins;
}

/* The bands of `long_bands` have 60 turns, the others 11: threads of those are short enough to be cut, and nothing
 * takes over from them. */
static Way many_fades(uint32_t bobbins, unsigned long_bands)
{
    enum { FADES = 12 };
    Shop shop;
    shop_open(&shop);
    Item items[2 * FADES + 1];
    for (int f = 0; f <= FADES; f++) {
        items[2 * f] = band(&shop, EXTENT_TURNS, long_bands >> f & 1 ? 60 : 11, f % 4);
        if (f < FADES)
            items[2 * f + 1] = fade_steps(&shop, 2, f % 4, (f + 1) % 4);
    }
    Place *place = add_place(&shop, 100, 1, NAN);
    add_layer(&shop, place, true, 2 * FADES + 1, items);
    shop.job.bench.carry = 1;
    shop.job.bench.apart = 0.1;
    shop.job.bench.bobbins = bobbins;
    const Plan *plan = shop_plan(&shop);
    Way way;
    read_runs(&way, laid(plan, 0, 0));
    read_pieces(&way, &plan->rods[0]);
    judge(&way, &shop.job.bench);
    assert_true(way.lawful);
    shop_close(&shop);
    return way;
}

/* Of more choices than are tried in all ways: bobbins go to the first that save something, and to no others. */
static void test_many_fades(void **state)
{
    (void)state;
    Way none = many_fades(0, ~0u), three = many_fades(3, ~0u);
    assert_int_equal(none.bobbins, 0);
    assert_int_equal(three.bobbins, 3);
    for (uint32_t p = 0; p < three.piece_count; p++)
        assert_int_equal(three.pieces[p].kind == BOBBIN, p > 0 && p < 4);
    assert_int_equal(none.piece_count, three.piece_count);
    assert_true(three.by_hand < none.by_hand);
    Way short_ones = many_fades(3, 1u << 3);
    for (uint32_t p = 0; p < short_ones.piece_count; p++)
        assert_int_equal(short_ones.pieces[p].kind == BOBBIN, p == 3);
}

/* Each stretch without a gap has them all; what it begins with has none, nor have threads together. */
static void test_bobbins_of_each_stretch(void **state)
{
    (void)state;
    static const int both[] = {1, 2};
    for (uint32_t bobbins = 0; bobbins < 2; bobbins++) {
        Shop shop;
        shop_open(&shop);
        Place *place = add_place(&shop, 100, 1, NAN);
        LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 20, 0), fade_steps(&shop, 2, 0, 1),
              band(&shop, EXTENT_TURNS, 20, 1), gap(&shop, 2), band(&shop, EXTENT_TURNS, 20, 1),
              fade_steps(&shop, 2, 1, 0), band(&shop, EXTENT_TURNS, 20, 0));
        Place *together = add_place(&shop, 300, 1, NAN);
        Inlay across = inlay(&shop, 30, 1, AT_RATIO, 0.5);
        across.strands = strands(&shop, 2, both);
        Item plain = band(&shop, EXTENT_TURNS, 60, 0);
        set_inlays(&shop, &plain, 1, &across);
        add_layer(&shop, together, true, 1, &plain);
        Place *first = add_place(&shop, 500, 1, NAN);
        LAYER(&shop, first, true, fade_steps(&shop, 2, 0, 1), band(&shop, EXTENT_TURNS, 40, 1));
        shop.job.bench.bobbins = bobbins;
        shop.job.bench.hand = 900;
        const PlannedRod *rod = &shop_plan(&shop)->rods[0];
        assert_int_equal(bobbins_of(rod, 0, 1), bobbins ? 2 : 0);
        assert_int_equal(bobbins_of(rod, 1, 3), 0);
        for (uint32_t p = 0; p < rod->piece_count; p++)
            assert_true(!rod->pieces[p].bobbin || (rod->pieces[p].first_turn > 0 && rod->pieces[p].by_hand));
        shop_close(&shop);
    }
}

static double length_of_second(Shop *shop)
{
    const Piece *piece = &shop_plan(shop)->rods[0].pieces[1];
    return piece->wound + piece->tags + piece->beneath + piece->free;
}

/* Only an inlay that would be too long as a cut piece: its turns, tags and free ends. */
static void test_long_inlays(void **state)
{
    (void)state;
    for (int over = 0; over < 2; over++) {
        Shop shop;
        shop_open(&shop);
        Place *place = add_place(&shop, 100, 1, NAN);
        Inlay across = inlay(&shop, 12, 1, AT_RATIO, 0.5);
        Item plain = band(&shop, EXTENT_TURNS, 60, 0);
        set_inlays(&shop, &plain, 1, &across);
        add_layer(&shop, place, true, 1, &plain);
        shop.job.bench.hand = 1e5;
        double length = length_of_second(&shop);
        shop.job.bench.bobbins = 1;
        shop.job.bench.hand = over ? length - 0.01 : length + 0.01;
        const PlannedRod *rod = &shop_plan(&shop)->rods[0];
        assert_int_equal(rod->piece_count, 2);
        assert_int_equal(rod->pieces[1].bobbin, over);
        assert_true(length_in_hand(&rod->pieces[1]) <= shop.job.bench.hand);
        shop_close(&shop);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_way_is_cheaper),
        cmocka_unit_test(test_many_fades),
        cmocka_unit_test(test_bobbins_of_each_stretch),
        cmocka_unit_test(test_long_inlays),
    };
    return cmocka_run_group_tests_name("choice of pieces in fades", tests, NULL, NULL);
}
