/* What a way to piece a wrap costs, and what is wrong with it. */
#include "plan/lengthwise.h"
#include "plan/piece_ends.h"
#include "plan/piece_work.h"
#include "plan/plan_sums.h"

#include <math.h>
#include <string.h>

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

static void note_wrong(PieceWork *work, WrongTurns *wrong, uint64_t from, uint64_t to)
{
    *LIST_ADD(work->trial, wrong) = (Wrong){from, to};
}

/* Gives how many tags and ends are not held. */
static uint32_t find_wrong(PieceWork *work, uint32_t first_piece, WrongTurns *wrong)
{
    const Bench *bench = &work->layout->job->bench;
    LengthwiseList lengthwise = {0};
    uint32_t unheld = 0;
    arena_clear(work->trial);
    memset(wrong, 0, sizeof *wrong);
    for (uint32_t i = first_piece; i < work->rod->piece_count; i++) {
        const Piece *piece = &work->rod->pieces[i];
        bool held = is_held(work, piece);
        unheld += !held;
        bool long_piece = length_in_hand(piece) > bench->hand;
        if (!held || long_piece)
            note_wrong(work, wrong, piece->first_turn, piece->end_turn);
        add_lengthwise(work->trial, bench, work->rod, work->planned, &work->wrap, i, &lengthwise);
    }
    Stretches stretches = find_stretches(work->trial, work->planned, &work->wrap, &lengthwise);
    for (uint32_t i = 0; i < stretches.count; i++) {
        Stretch here = stretches.items[i];
        if (here.strands > bench->ridge || (here.strands >= 2 && stretch_room(here) < bench->apart))
            note_wrong(work, wrong, here.from, here.to);
    }
    return unheld;
}

/* Turns of cut pieces that are made while some spool feeds, or waits: the blank stands still. */
static uint64_t turns_by_hand(const PieceWork *work, uint32_t first_piece, uint32_t first_winding)
{
    const PlannedRod *rod = work->rod;
    const Bench *bench = &work->layout->job->bench;
    uint64_t turn = work->wrap.first_turn, by_hand = 0;
    uint32_t spools = 0, next = first_piece;
    for (uint32_t w = first_winding; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        uint64_t begin = turn;
        turn += winding->turns;
        for (; next < rod->piece_count && spool_from(bench, rod, next, &work->wrap) < turn; next++)
            spools += !rod->pieces[next].by_hand;
        by_hand += all_cut_at(rod, winding->pieces, begin) && spools > 0 ? turn - begin : 0;
        spools -= spools_done(rod, winding, turn);
    }
    return by_hand;
}

/* --- how often a thread is handled: as the table of actions counts it --- */

/* As it begins and ends: wound onto its bobbin; started, or laid in; its end laid, or a loop laid and drawn; cut
 * from its spool. */
static uint32_t handled_at_ends(const PieceWork *work, uint32_t index)
{
    const Piece *piece = &work->rod->pieces[index];
    if (piece->spacer) /* started, its end laid, taken off */
        return 2 + (piece->end_turn < work->wrap.end_turn);
    PieceEnds ends = piece_ends(&work->layout->job->bench, work->rod, index, &work->wrap);
    return 1 + piece->bobbin + (ends.end_way == END_UNDER_NEXT_TURNS ? 1u : 2u) + (piece->cut_turn != NO_TURN);
}

/* Laid in before; strands together are taken up as one. */
static bool is_taken_up_first(const PieceWork *work, uint32_t index, uint32_t first_piece)
{
    const Piece *piece = &work->rod->pieces[index];
    bool laid_in = !piece->spacer && (piece->by_hand || piece->tag_before);
    bool follows = index > first_piece && !piece[-1].spacer && piece[-1].first_run == piece->first_run
                   && piece[-1].first_turn == piece->first_turn;
    return laid_in && !follows;
}

/* Pieces of the winding that come back after others, as many as follow one another at a time. */
static uint32_t taken_up_again(const PlannedRod *rod, const Winding *winding, const Winding *before, uint64_t turn)
{
    uint32_t count = 0;
    bool again = false;
    for (uint32_t i = 0; i < winding->pieces.count; i++) {
        uint32_t piece = group_piece(winding->pieces, i);
        bool comes_back = rod->pieces[piece].first_turn != turn && !(before && group_has(before->pieces, piece));
        count += comes_back && !again;
        again = comes_back;
    }
    return count;
}

static uint64_t times_handled(const PieceWork *work, uint32_t first_piece, uint32_t first_winding)
{
    const PlannedRod *rod = work->rod;
    uint64_t times = 0, turn = work->wrap.first_turn;
    for (uint32_t i = first_piece; i < rod->piece_count; i++)
        times += handled_at_ends(work, i) + is_taken_up_first(work, i, first_piece);
    for (uint32_t w = first_winding; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w], *before = w > first_winding ? winding - 1 : NULL;
        times += taken_up_again(rod, winding, before, turn);
        turn += winding->turns;
    }
    return times;
}

/* --- all together --- */

WorkSums wrap_sums(const PieceWork *work, uint32_t first_piece, uint32_t first_winding)
{
    WorkSums sums = {.pieces = work->rod->piece_count - first_piece,
                     .hand_turns = turns_by_hand(work, first_piece, first_winding),
                     .handled = times_handled(work, first_piece, first_winding)};
    for (uint32_t i = first_piece; i < work->rod->piece_count; i++)
        sums.waste += piece_length(&work->rod->pieces[i]) - work->rod->pieces[i].wound;
    return sums;
}

Cost wrap_cost(PieceWork *work, uint32_t first_piece, uint32_t first_winding, WrongTurns *wrong)
{
    uint32_t unheld = find_wrong(work, first_piece, wrong), bobbins = 0, most = work->layout->job->bench.bobbins;
    for (uint32_t i = first_piece; i < work->rod->piece_count; i++)
        bobbins += work->rod->pieces[i].bobbin;
    unheld += bobbins > most ? bobbins - most : 0;
    return (Cost){unheld, wrong->count, bobbins, wrap_sums(work, first_piece, first_winding)};
}

/* --- which costs less --- */

typedef enum { COST_PIECES, COST_HAND_TURNS, COST_WASTE, COST_HANDLED, COST_COUNT } CostPart;

/* What counts first, and what only where that is the same. Common practice, no source. */
static const CostPart orders[PREFER_COUNT][COST_COUNT] = {
    [PREFER_ENDS] = {COST_PIECES, COST_HAND_TURNS, COST_WASTE, COST_HANDLED},
    [PREFER_TIME] = {COST_HANDLED, COST_HAND_TURNS, COST_PIECES, COST_WASTE},
    [PREFER_THREAD] = {COST_WASTE, COST_PIECES, COST_HAND_TURNS, COST_HANDLED},
};

/* Lengths that differ by less are one, mm: far above rounding, far below what is cut. Common practice, no source.
 */
#define WASTE_SLACK 1e-6

static double part_of(const WorkSums *sums, CostPart part)
{
    return part == COST_PIECES       ? (double)sums->pieces
           : part == COST_HAND_TURNS ? (double)sums->hand_turns
           : part == COST_HANDLED    ? (double)sums->handled
                                     : sums->waste;
}

bool costs_less(Preference prefer, Cost a, Cost b)
{
    if (a.unheld)
        return false;
    if (a.faults != b.faults)
        return a.faults < b.faults;
    for (int i = 0; i < COST_COUNT; i++) {
        double less = part_of(&b.sums, orders[prefer][i]) - part_of(&a.sums, orders[prefer][i]);
        if (fabs(less) > WASTE_SLACK)
            return less > 0;
    }
    return a.bobbins < b.bobbins;
}
