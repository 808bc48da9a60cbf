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

enum { MOST_RUNS = 64, MOST_TURNS = 1000, MOST_PIECES = 32, MOST_CHOICES = 6, TRIES = 10000 };

/* PITCH: of all threads of the shop, mm. */
static const double PITCH = 0.15;

typedef enum { SPOOL, CUT, BOBBIN } Kind;
/* Of a thread that begins at a run: as it comes, from its spool behind a band, on a bobbin; or it was carried
 * there. */
typedef enum { PLAIN, FROM_ITS_SPOOL, ON_A_BOBBIN, CARRIED, DECISION_KINDS } Decision;

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
    uint32_t by_hand, bobbins, handled;
    double waste;
} Way;

/* --- making a way --- */

/* The run that the same thread wound before this one; -1 if there is none. */
static int before(const Way *way, uint32_t run)
{
    int r = (int)run - 1;
    while (r >= 0 && way->thread[r] != way->thread[run])
        r--;
    return r;
}

/* Its thread begins here, unless it is carried here: a band has ended it since, or it is an inlay's. */
static bool begins(const Way *way, uint32_t run)
{
    int last = before(way, run);
    if (last < 0 || way->role[run] == RUN_INLAY || way->role[last] == RUN_INLAY)
        return true;
    for (uint32_t r = (uint32_t)last + 1; r < run; r++)
        if (way->role[r] == RUN_BAND)
            return true;
    return false;
}

/* An inlay that would be too long as a cut piece. */
static bool is_long_inlay(const Way *way, uint32_t run, const Bench *bench)
{
    double wound = way->turns[run] * way->turn_length[way->begin[run]];
    return way->role[run] == RUN_INLAY && wound + 2 * bench->bind * PITCH + 2 * bench->free > bench->hand;
}

/* Whether the reference allows it at this run. */
static bool may_be(const Way *way, uint32_t run, Decision how, const Bench *bench)
{
    int last = before(way, run);
    bool fades_in = way->role[run] == RUN_FADE_IN, behind_band = run > 0 && way->role[run - 1] == RUN_BAND;
    if (how == PLAIN)
        return true;
    if (!begins(way, run))
        return false;
    if (how == FROM_ITS_SPOOL)
        return is_long_inlay(way, run, bench)
               || (fades_in && behind_band && way->turns[run - 1] >= 2 * bench->bind);
    if (how == ON_A_BOBBIN)
        return bench->bobbins > 0 && (fades_in || is_long_inlay(way, run, bench));
    return last >= 0 && last + 1 < (int)run
           && way->begin[run] - way->begin[last] - way->turns[last] <= bench->carry;
}

/* What is to be chosen, each as the plan counts it. */
static uint32_t choices_of(const Way *way, const Bench *bench)
{
    uint32_t count = 0;
    for (uint32_t r = 0; r < way->run_count; r++)
        for (Decision how = PLAIN + 1; how < DECISION_KINDS; how++)
            count += may_be(way, r, how, bench);
    return count;
}

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

/* A spool waits from before this run until its thread goes on behind it. */
static bool spool_waits(const Way *way, uint32_t run, const Decision *decisions)
{
    for (uint32_t r = run + 1; r < way->run_count; r++) {
        int last = before(way, r);
        if (decisions[r] != CARRIED || last < 0 || last >= (int)run)
            continue;
        const OnePiece *piece = &way->pieces[way->piece_of[way->begin[last] + way->turns[last] - 1]];
        if (piece->kind == SPOOL && piece->loose == MOST_TURNS)
            return true;
    }
    return false;
}

/* A band of a thread that a fade has brought: a spool goes on once the cut piece's end is bound, if that would be
 * too long. */
static uint32_t wind_band(Way *way, uint32_t piece, uint32_t run, const Decision *decisions, const Bench *bench)
{
    uint32_t bind = (uint32_t)bench->bind, begin = way->begin[run], turns = way->turns[run];
    wind(way, piece, begin, turns);
    bool too_long = length_so_far(way, piece, way->pieces[piece].first, bench) > bench->hand;
    if (way->pieces[piece].kind != CUT || !too_long || turns < 2 * bind || spool_waits(way, run, decisions))
        return piece;
    way->pieces[piece].end = begin + bind;
    uint32_t spool = add_piece(way, begin + bind, SPOOL, true);
    wind(way, spool, begin + bind, turns - bind);
    return spool;
}

/* The old thread makes its last turns by hand: cut from its spool, or from its bobbin. False where it cannot. */
static bool leads_old_by_hand(Way *way, uint32_t run, const Decision *decisions, const Bench *bench)
{
    uint32_t bind = (uint32_t)bench->bind;
    OnePiece *old = &way->pieces[way->piece_of[way->begin[run] - 1]];
    bool loose = old->kind == SPOOL && old->loose < MOST_TURNS;
    if (old->kind == CUT || loose || way->begin[run] - old->first <= bind) /* a spool that winds nothing is none */
        return false;
    if (old->kind == BOBBIN)
        return !spool_waits(way, run, decisions);
    old->loose = way->begin[run] - bind;
    return true;
}

/* False where one of the decisions, a run each, cannot be. */
static bool make_way(Way *way, const Decision *decisions, const Bench *bench)
{
    uint32_t live[SHOP_THREADS], bind = (uint32_t)bench->bind;
    memset(live, 0xff, sizeof live);
    way->piece_count = 0;
    for (uint32_t r = 0; r < way->run_count; r++) {
        bool band = way->role[r] == RUN_BAND, inlay = way->role[r] == RUN_INLAY;
        uint32_t piece = inlay ? UINT32_MAX : live[way->thread[r]];
        int last = before(way, r);
        if (decisions[r] == CARRIED) {
            piece = way->piece_of[way->begin[last] + way->turns[last] - 1];
        } else if (piece == UINT32_MAX) {
            bool own_spool = decisions[r] == FROM_ITS_SPOOL, takes_over = own_spool && !inlay;
            if (takes_over && !leads_old_by_hand(way, r, decisions, bench))
                return false;
            if (own_spool && inlay && spool_waits(way, r, decisions))
                return false;
            bool waits = band ? spool_waits(way, r, decisions) : r > 0;
            Kind kind = decisions[r] == ON_A_BOBBIN               ? BOBBIN
                        : waits && decisions[r] != FROM_ITS_SPOOL ? CUT
                                                                  : SPOOL;
            piece = add_piece(way, way->begin[r], kind, kind != SPOOL || takes_over);
        }
        if (band) {
            piece = wind_band(way, piece, r, decisions, bench);
            memset(live, 0xff, sizeof live);
        } else {
            wind(way, piece, way->begin[r], way->turns[r]);
        }
        if (inlay && decisions[r] == FROM_ITS_SPOOL) /* what was there ended before it */
            memset(live, 0xff, sizeof live);
        if (!inlay)
            live[way->thread[r]] = piece;
    }
    /* What comes too late for its own turns to hold it has its tag under the turns before: that is a cut piece. */
    for (uint32_t p = 0; p < way->piece_count; p++)
        if (way->pieces[p].first >= bind && way->total - way->pieces[p].first < bind
            && way->pieces[p].kind == SPOOL) {
            way->pieces[p].kind = CUT;
            way->pieces[p].tag_before = true;
        }
    return true;
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

/* How often the piece is taken in hand: wound onto its bobbin, started or laid in, taken up, cut from its spool,
 * its end laid, or a loop laid and the end drawn back by it. */
static uint32_t handlings(const Way *way, uint32_t index, const Bench *bench)
{
    const OnePiece *piece = &way->pieces[index];
    uint32_t times = 1u + (piece->kind == BOBBIN) + (piece->loose < MOST_TURNS)
                     + (way->total - piece->end >= bench->bind ? 1u : 2u);
    for (uint32_t turn = piece->first; turn < piece->end; turn++) {
        bool goes_on = turn > 0 && way->piece_of[turn - 1] == index, starts = turn == piece->first;
        times += way->piece_of[turn] == index && !goes_on && (!starts || piece->tag_before);
    }
    return times;
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
    way->handled += handlings(way, index, bench);
}

static void judge(Way *way, const Bench *bench)
{
    way->lawful = true;
    way->by_hand = way->bobbins = way->handled = 0;
    way->waste = 0;
    for (uint32_t p = 0; p < way->piece_count; p++)
        judge_piece(way, p, bench);
    for (uint32_t turn = 0; turn < way->total; turn++)
        judge_turn(way, turn, bench);
    way->lawful &= way->bobbins <= bench->bobbins;
}

static int order_of(double a, double b) { return fabs(a - b) <= 1e-6 ? 0 : a < b ? -1 : 1; }

static bool is_cheaper(const Way *a, const Way *b, Preference prefer)
{
    int pieces = order_of(a->piece_count, b->piece_count), by_hand = order_of(a->by_hand, b->by_hand),
        waste = order_of(a->waste, b->waste), handled = order_of(a->handled, b->handled);
    const int orders[PREFER_COUNT][4] = {[PREFER_ENDS] = {pieces, by_hand, waste, handled},
                                         [PREFER_TIME] = {handled, by_hand, pieces, waste},
                                         [PREFER_THREAD] = {waste, pieces, by_hand, handled}};
    for (int i = 0; i < 4; i++)
        if (orders[prefer][i])
            return orders[prefer][i] < 0;
    return a->bobbins < b->bobbins;
}

/* The cheapest lawful way of all; its `lawful` is false if there is none. */
static void try_from(const Way *wrap, uint32_t run, Decision *decisions, const Bench *bench, Way *best)
{
    if (run < wrap->run_count) {
        for (Decision how = PLAIN; how < DECISION_KINDS; how++) {
            decisions[run] = how;
            if (may_be(wrap, run, how, bench))
                try_from(wrap, run + 1, decisions, bench, best);
        }
        return;
    }
    Way way = *wrap;
    if (!make_way(&way, decisions, bench))
        return;
    judge(&way, bench);
    if (way.lawful && (!best->lawful || is_cheaper(&way, best, bench->prefer)))
        *best = way;
}

static Way best_of_all(const Way *wrap, const Bench *bench)
{
    Decision decisions[MOST_RUNS];
    Way best = *wrap;
    best.lawful = false;
    try_from(wrap, 0, decisions, bench, &best);
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

/* Bands, and fades between most of them; an inlay in some band. again: threads come again, and may be carried. */
static void make_wrap(Shop *shop, unsigned *seed, bool again)
{
    static const uint32_t widths[] = {5, 8, 11, 12, 13, 20, 30, 45};
    uint32_t fades = 1 + next_random(seed) % 3, count = 0;
    bool inlaid = next_random(seed) % 2 && fades < 3;
    uint32_t which = next_random(seed) % (fades + 1);
    Item items[7];
    int thread = 0;
    for (uint32_t f = 0; f <= fades; f++) {
        uint32_t turns = widths[next_random(seed) % (sizeof widths / sizeof *widths)];
        int next = again ? (thread + 1 + (int)(next_random(seed) % 2)) % 3 : (int)f + 1;
        items[count] = band(shop, EXTENT_TURNS, f == 0 || f == fades ? turns + 3 : turns, thread);
        if (inlaid && f == which) {
            Inlay across = inlay(shop, 2 + next_random(seed) % 30, again ? next : SHOP_THREADS - 1, AT_RATIO, 0.5);
            items[count].extent.amount = 60;
            set_inlays(shop, &items[count], 1, &across);
        }
        count++;
        if (f < fades && !(again && next_random(seed) % 3 == 0))
            items[count++] = fade_steps(shop, 1 + next_random(seed) % 3, thread, next);
        thread = next;
    }
    Place *place = add_place(shop, 100, 1, NAN);
    add_layer(shop, place, true, count, items);
    Bench *bench = &shop->job.bench;
    bench->carry = again ? 1 + next_random(seed) % 40 : 1;
    bench->apart = 0.1;
    bench->holders = 2;
    bench->hand = 600 + 300 * (next_random(seed) % 4);
    bench->ridge = 2 + next_random(seed) % 3;
    bench->bobbins = next_random(seed) % 4;
    bench->prefer = (Preference)(next_random(seed) % PREFER_COUNT);
}

/* What the plan chose in so many wraps. */
typedef struct Chosen {
    unsigned lawful, with_bobbins, from_spools, as_cut, carried, inlaid_from_spools;
} Chosen;

static Chosen compare_all(unsigned seed, bool again)
{
    Chosen all = {0};
    for (int i = 0; i < TRIES; i++) {
        Shop shop;
        shop_open(&shop);
        make_wrap(&shop, &seed, again);
        const Plan *plan = shop_plan(&shop);
        const Bench *bench = &shop.job.bench;
        Way chosen, best = {.lawful = false};
        read_runs(&chosen, laid(plan, 0, 0));
        if (choices_of(&chosen, bench) <= MOST_CHOICES)
            best = best_of_all(&chosen, bench);
        read_pieces(&chosen, &plan->rods[0]);
        judge(&chosen, bench);
        if (best.lawful) {
            if (!chosen.lawful || is_cheaper(&best, &chosen, bench->prefer)
                || is_cheaper(&chosen, &best, bench->prefer))
                fail_msg("%d: %s; hand %g ridge %u carry %g bobbins %u: chosen %u pieces, %u by hand, %u bobbins, "
                         "waste %g, %s; best %u, %u, %u, %g",
                         i, runs_text(&shop, laid(plan, 0, 0)), bench->hand, (unsigned)bench->ridge, bench->carry,
                         (unsigned)bench->bobbins, (unsigned)chosen.piece_count, (unsigned)chosen.by_hand,
                         (unsigned)chosen.bobbins, chosen.waste, chosen.lawful ? "lawful" : "not lawful",
                         (unsigned)best.piece_count, (unsigned)best.by_hand, (unsigned)best.bobbins, best.waste);
            all.lawful++;
            all.with_bobbins += chosen.bobbins > 0;
            for (uint32_t p = 0; p < chosen.piece_count; p++) {
                all.from_spools += chosen.pieces[p].loose < MOST_TURNS;
                all.as_cut += chosen.pieces[p].kind == CUT;
            }
            for (uint32_t r = 0; r < chosen.run_count; r++) {
                int last = before(&chosen, r);
                all.inlaid_from_spools +=
                    chosen.role[r] == RUN_INLAY && chosen.pieces[chosen.piece_of[chosen.begin[r]]].kind == SPOOL;
                all.carried += last >= 0 && last + 1 < (int)r && begins(&chosen, r)
                               && chosen.piece_of[chosen.begin[r]]
                                      == chosen.piece_of[chosen.begin[last] + chosen.turns[last] - 1];
            }
        }
        shop_close(&shop);
    }
    return all;
}

static void test_no_way_is_cheaper(void **state)
{
    (void)state;
    Chosen all = compare_all(5, false);
    assert_true(all.lawful > TRIES / 2);
    assert_true(all.with_bobbins > TRIES / 5);
    assert_true(all.from_spools > TRIES / 10);
    assert_true(all.as_cut > TRIES / 10);
    assert_true(all.inlaid_from_spools > TRIES / 100);
}

static void test_none_where_threads_come_again(void **state)
{
    (void)state;
    Chosen all = compare_all(7, true);
    assert_true(all.lawful > TRIES / 3);
    assert_true(all.with_bobbins > TRIES / 10);
    assert_true(all.carried > TRIES / 10);
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
        cmocka_unit_test(test_no_way_is_cheaper), cmocka_unit_test(test_none_where_threads_come_again),
        cmocka_unit_test(test_many_fades),        cmocka_unit_test(test_bobbins_of_each_stretch),
        cmocka_unit_test(test_long_inlays),
    };
    return cmocka_run_group_tests_name("choice of pieces in fades", tests, NULL, NULL);
}
