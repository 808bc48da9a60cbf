/* Which of the lawful ways to piece a wrap costs least. Where a thread comes again after other bands, or after its
 * own inlay, it may be carried there beneath what lies between, at most bench { carry: } turns; or it is ended and
 * begins anew. Fewer pieces come first (each has two ends), then fewer turns by hand, then less thread that is not
 * wound. Every way winds the same turns. Nothing is carried where some tag or end would not be held (T401 to
 * T403), and none of these ways has more for the findings about ridges and long pieces (T404 to T406) to say than
 * that in which nothing is carried. */
#include "plan/lengthwise.h"
#include "plan/piece_ends.h"
#include "plan/piece_work.h"
#include "plan/plan_sums.h"
#include "trade/colour.h"

#include <math.h>
#include <string.h>

/* Limits of the program's own, no numbers of the trade. So many places to choose at are tried in all ways, two to
 * their power. Of more, all that can be carried are, but for those that lie where something is wrong then, and
 * none where too much is; then bobbins are given out in working order, each where it makes the way cheaper. */
enum { MOST_IN_ALL_WAYS = 6, MOST_ROUNDS = 4, MOST_WRONG = 64, MOST_BOBBINS_TRIED = 16 };

typedef struct Cost {
    uint32_t unheld, faults, pieces; /* faults: unheld ones, too */
    uint32_t bobbins;
    uint64_t by_hand; /* turns */
    double waste;     /* mm */
} Cost;

/* Turns of the layer [from, to) where something is wrong with a way. */
typedef struct Wrong {
    uint64_t from, to;
} Wrong;

/* What may be chosen of a run: that its thread is carried to it, that a new one begins from a spool, or on a
 * bobbin. */
typedef enum { CHOICE_GO_ON, CHOICE_TAKE_OVER, CHOICE_BOBBIN } ChoiceKind;
typedef struct Choice {
    uint32_t run;
    ChoiceKind kind;
    bool left_out;
} Choice;

typedef struct Choices {
    PieceWork *work;
    Choice *all;
    uint32_t count;   /* but for bobbins, */
    uint32_t bobbins; /* which come behind */
    uint32_t first_piece, first_winding;
    LIST_OF(Wrong) wrong; /* with the way tried last */
    uint32_t unheld;      /* of these tags and ends */
} Choices;

/* --- what may be carried --- */

static double lightness(const Thread *thread)
{
    return lab_of(xyz_of(light_of(thread->colour)), colour_white()).lightness;
}

/* What lies between may lie over the thread: no spacer, and nothing lighter through which it would show. */
static bool covers(const Run *run, const Thread *carried)
{
    bool covers = true;
    for (uint32_t i = 0; covers && i < run->strands->count; i++) {
        const Strand *strand = &run->strands->items[i];
        covers =
            !strand->spacer && (strand->thread->opacity >= 1 || lightness(strand->thread) <= lightness(carried));
    }
    return covers;
}

static bool covers_all(const Run *run, const Strands *carried)
{
    bool all = true;
    for (uint32_t i = 0; all && i < carried->count; i++)
        all = carried->items[i].spacer || covers(run, carried->items[i].thread);
    return all;
}

/* Threads side by side go on in bands alone, and no more than there are spools for. */
static bool may_be_together(const PieceWork *work, const Run *before, const Run *run)
{
    uint32_t holders = work->layout->job->bench.holders;
    bool single = before->strands->count == 1 && run->strands->count == 1;
    return single
           || (run->role == RUN_BAND && before->strands->count <= holders && run->strands->count <= holders);
}

/* Since it was last wound a band has ended it, or it was an inlay: without a choice it begins anew. */
static bool begins_anew(const PieceWork *work, uint32_t run)
{
    const RunUse *use = &work->uses[run];
    const Run *runs = work->planned->runs;
    bool inlay = runs[run].role == RUN_INLAY || runs[use->previous].role == RUN_INLAY;
    return inlay || use->bands - work->uses[use->previous + 1].bands > 0;
}

static bool may_go_on(const PieceWork *work, uint32_t run)
{
    const RunUse *use = &work->uses[run];
    if (use->previous == NO_RUN || use->previous + 1 == run || !begins_anew(work, run))
        return false;
    const Run *runs = work->planned->runs, *before = &runs[use->previous];
    uint64_t beneath = use->first_turn - work->uses[use->previous].first_turn - before->turns;
    bool may = (double)beneath <= work->layout->job->bench.carry && may_be_together(work, before, &runs[run]);
    for (uint32_t r = use->previous + 1; may && r < run; r++)
        may = covers_all(&runs[r], before->strands);
    return may;
}

/* A fade's new thread may begin from a spool where the band before it has turns enough to be cut from its own. */
static bool may_take_over(const PieceWork *work, uint32_t run)
{
    const Run *runs = work->planned->runs;
    if (run == work->wrap.first_run || runs[run].role != RUN_FADE_IN || runs[run - 1].role != RUN_BAND)
        return false;
    const Strands *old = runs[run - 1].strands, *new = runs[run].strands;
    return old->count == 1 && new->count == 1 && !old->items[0].spacer
           && !new->items[0].spacer &&runs[run - 1].turns >= 2 * work->layout->job->bench.bind;
}

/* A thread that comes in by a fade, or by an inlay that is too long to be passed by hand. Several at once would
 * twist round each other: common practice, no source. What the wrap begins with would not be held. */
static bool may_be_on_bobbin(const PieceWork *work, uint32_t index)
{
    const Bench *bench = &work->layout->job->bench;
    const Run *run = &work->planned->runs[index];
    if (bench->bobbins == 0 || run->strands->count > 1 || run->strands->items[0].spacer)
        return false;
    if (run->role == RUN_INLAY)
        return run->lengths[0] + 2 * bench->bind * run->strands->pitch + 2 * bench->free > bench->hand;
    return run->role == RUN_FADE_IN && (work->uses[index].previous == NO_RUN || begins_anew(work, index));
}

/* --- what a way costs --- */

/* Its tag and its end. */
static bool is_held(const PieceWork *work, const Piece *piece)
{
    const Bench *bench = &work->layout->job->bench;
    double before = (double)(piece->first_turn - work->wrap.first_turn);
    double behind = (double)(work->wrap.end_turn - piece->first_turn);
    double end = (double)(piece->end_turn - work->wrap.first_turn);
    double after = (double)(work->wrap.end_turn - piece->end_turn);
    bool held = piece->by_hand ? before >= bench->bind : fmax(before, behind) >= bench->bind;
    bool ended = after >= bench->bind || end >= (after > 0 ? bench->loop : bench->final);
    return piece->spacer || (held && ended);
}

static void note_wrong(Choices *choices, uint64_t from, uint64_t to)
{
    *LIST_ADD(choices->work->trial, &choices->wrong) = (Wrong){from, to};
}

static void find_wrong(Choices *choices)
{
    PieceWork *work = choices->work;
    const Bench *bench = &work->layout->job->bench;
    LengthwiseList lengthwise = {0};
    arena_clear(work->trial);
    memset(&choices->wrong, 0, sizeof choices->wrong);
    choices->unheld = 0;
    for (uint32_t i = choices->first_piece; i < work->rod->piece_count; i++) {
        const Piece *piece = &work->rod->pieces[i];
        bool held = is_held(work, piece);
        choices->unheld += !held;
        bool long_piece = length_in_hand(piece) > bench->hand;
        if (!held || long_piece)
            note_wrong(choices, piece->first_turn, piece->end_turn);
        add_lengthwise(work->trial, bench, work->rod, work->planned, &work->wrap, i, &lengthwise);
    }
    Stretches stretches = find_stretches(work->trial, work->planned, &work->wrap, &lengthwise);
    for (uint32_t i = 0; i < stretches.count; i++) {
        Stretch here = stretches.items[i];
        if (here.strands > bench->ridge || (here.strands >= 2 && stretch_room(here) < bench->apart))
            note_wrong(choices, here.from, here.to);
    }
}

/* The turn from which on a piece's spool feeds it, or waits. */
static uint64_t spool_from(const PieceWork *work, uint32_t piece)
{
    PieceEnds ends = piece_ends(&work->layout->job->bench, work->rod, piece, &work->wrap);
    bool waits = ends.laid_in && !work->rod->pieces[piece].spacer;
    return waits ? ends.tag.from : work->rod->pieces[piece].first_turn;
}

/* Turns of cut pieces that are made while some spool feeds, or waits: the blank stands still. */
static uint64_t turns_by_hand(const Choices *choices)
{
    const PieceWork *work = choices->work;
    const PlannedRod *rod = work->rod;
    uint64_t turn = work->wrap.first_turn, by_hand = 0;
    uint32_t spools = 0, next = choices->first_piece;
    for (uint32_t w = choices->first_winding; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        uint64_t begin = turn;
        turn += winding->turns;
        for (; next < rod->piece_count && spool_from(work, next) < turn; next++)
            spools += !rod->pieces[next].by_hand;
        by_hand += is_cut_at(&rod->pieces[winding->pieces.first], begin) && spools > 0 ? turn - begin : 0;
        for (uint32_t k = 0; k < winding->pieces.count; k++) {
            const Piece *wound = &rod->pieces[group_piece(winding->pieces, k)];
            spools -=
                !wound->by_hand && (wound->cut_turn < wound->end_turn ? wound->cut_turn : wound->end_turn) == turn;
        }
    }
    return by_hand;
}

static uint32_t bobbins_of(const Choices *choices)
{
    uint32_t bobbins = 0;
    for (uint32_t i = choices->first_piece; i < choices->work->rod->piece_count; i++)
        bobbins += choices->work->rod->pieces[i].bobbin;
    return bobbins;
}

static Cost try_this_way(Choices *choices)
{
    PieceWork *work = choices->work;
    work->rod->piece_count = choices->first_piece;
    work->rod->winding_count = choices->first_winding;
    lay_wrap_pieces(work);
    find_wrong(choices);
    uint32_t bobbins = bobbins_of(choices), most = work->layout->job->bench.bobbins;
    Cost cost = {.unheld = choices->unheld + (bobbins > most ? bobbins - most : 0),
                 .bobbins = bobbins,
                 .faults = choices->wrong.count,
                 .pieces = work->rod->piece_count - choices->first_piece,
                 .by_hand = turns_by_hand(choices)};
    for (uint32_t i = choices->first_piece; i < work->rod->piece_count; i++)
        cost.waste += piece_length(&work->rod->pieces[i]) - work->rod->pieces[i].wound;
    return cost;
}

/* Lengths that differ by less are one, mm: far above rounding, far below what is cut. Common practice, no source.
 */
#define WASTE_SLACK 1e-6

/* Of a way in which something is carried, and another. */
static bool is_cheaper(Cost a, Cost b)
{
    if (a.unheld)
        return false;
    if (a.faults != b.faults)
        return a.faults < b.faults;
    if (a.pieces != b.pieces)
        return a.pieces < b.pieces;
    if (a.by_hand != b.by_hand)
        return a.by_hand < b.by_hand;
    if (fabs(a.waste - b.waste) > WASTE_SLACK)
        return a.waste < b.waste;
    return a.bobbins < b.bobbins;
}

/* --- choosing --- */

static void choose_one(const Choices *choices, uint32_t choice, bool chosen)
{
    RunUse *use = &choices->work->uses[choices->all[choice].run];
    bool *const fields[] = {
        [CHOICE_GO_ON] = &use->goes_on, [CHOICE_TAKE_OVER] = &use->takes_over, [CHOICE_BOBBIN] = &use->on_bobbin};
    *fields[choices->all[choice].kind] = chosen;
}

static void choose(const Choices *choices, uint32_t way)
{
    for (uint32_t i = 0; i < choices->count; i++)
        choose_one(choices, i, way >> i & 1);
}

/* Gives what the way costs that is laid then. */
static Cost try_all_ways(Choices *choices)
{
    uint32_t best = 0, tried = 0;
    Cost least = try_this_way(choices);
    for (uint32_t way = 1; way < 1u << choices->count; way++) {
        choose(choices, way);
        Cost cost = try_this_way(choices);
        tried = way;
        if (is_cheaper(cost, least)) {
            least = cost;
            best = way;
        }
    }
    choose(choices, best);
    if (tried != best)
        try_this_way(choices);
    return least;
}

/* Turns that have to do with a choice: from those before the piece that it is about to those of its run. */
static Wrong reach_of(const Choices *choices, uint32_t choice)
{
    const PieceWork *work = choices->work;
    uint32_t run = choices->all[choice].run;
    const RunUse *use = &work->uses[run];
    uint32_t first = choices->all[choice].kind == CHOICE_GO_ON ? use->previous : run - 1;
    return (Wrong){work->uses[first].first_turn, use->first_turn + work->planned->runs[run].turns};
}

/* What has to do with something that is wrong is not chosen. Gives how many are left. */
static uint32_t choose_nothing_there(Choices *choices)
{
    uint32_t left = 0;
    for (uint32_t i = 0; i < choices->count; i++) {
        Wrong reach = reach_of(choices, i);
        bool wrong = false;
        for (uint32_t k = 0; k < choices->wrong.count && !wrong; k++)
            wrong = choices->wrong.items[k].to > reach.from && choices->wrong.items[k].from < reach.to;
        choices->all[i].left_out |= wrong;
        choose_one(choices, i, !choices->all[i].left_out);
        left += !choices->all[i].left_out;
    }
    return left;
}

static Cost choose_all_that_can_be(Choices *choices)
{
    Cost plain = try_this_way(choices), cost = plain;
    for (uint32_t i = 0; i < choices->count; i++)
        choose_one(choices, i, true);
    bool more = true;
    for (uint32_t round = 0; round < MOST_ROUNDS && more; round++) {
        cost = try_this_way(choices);
        more = cost.faults > 0 && cost.faults <= MOST_WRONG && choose_nothing_there(choices) > 0;
    }
    if (is_cheaper(cost, plain) && !more)
        return cost;
    choose(choices, 0);
    return try_this_way(choices);
}

/* One after the other, behind all other choices. */
static void give_out_bobbins(Choices *choices, Cost least)
{
    bool lies = true; /* the cheapest way is the one that was laid last */
    for (uint32_t i = 0; i < choices->bobbins && i < MOST_BOBBINS_TRIED; i++) {
        choose_one(choices, choices->count + i, true);
        Cost cost = try_this_way(choices);
        lies = is_cheaper(cost, least);
        if (lies)
            least = cost;
        else
            choose_one(choices, choices->count + i, false);
    }
    if (!lies)
        try_this_way(choices);
}

static void add_choice(Choices *choices, uint32_t run, ChoiceKind kind)
{
    choices->all[choices->count++] = (Choice){.run = run, .kind = kind};
}

static void find_choices(Choices *choices)
{
    PieceWork *work = choices->work;
    for (uint32_t r = work->wrap.first_run; r < work->wrap.end_run; r++) {
        if (may_go_on(work, r))
            add_choice(choices, r, CHOICE_GO_ON);
        if (may_take_over(work, r))
            add_choice(choices, r, CHOICE_TAKE_OVER);
    }
    uint32_t others = choices->count;
    for (uint32_t r = work->wrap.first_run; r < work->wrap.end_run; r++)
        if (may_be_on_bobbin(work, r))
            add_choice(choices, r, CHOICE_BOBBIN);
    choices->bobbins = choices->count - others;
    if (choices->count > MOST_IN_ALL_WAYS)
        choices->count = others;
    else
        choices->bobbins = 0;
}

void choose_wrap_pieces(PieceWork *work)
{
    arena_clear(work->choosing);
    Choices choices = {.work = work,
                       .first_piece = work->rod->piece_count,
                       .first_winding = work->rod->winding_count,
                       .all =
                           arena_take_many(work->choosing, 3 * (size_t)(work->wrap.end_run - work->wrap.first_run),
                                           sizeof(Choice))};
    find_choices(&choices);
    if (choices.count + choices.bobbins == 0) {
        lay_wrap_pieces(work);
        return;
    }
    Cost cost = choices.count <= MOST_IN_ALL_WAYS ? try_all_ways(&choices) : choose_all_that_can_be(&choices);
    give_out_bobbins(&choices, cost);
}
