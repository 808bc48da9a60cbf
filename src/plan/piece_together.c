/* Threads side by side of which some run already: those go on, the others begin beside them. */
#include "plan/piece_work.h"

Live *live_strand(PieceWork *work, const Strand *strand)
{
    return &work->live[2 * (size_t)strand->thread->index + strand->spacer];
}

void note_strands(PieceWork *work, const Strands *strands, PieceGroup pieces)
{
    /* Of a thread that is there twice, the first. */
    for (uint32_t i = strands->count; i-- > 0;) {
        Live *live = live_strand(work, &strands->items[i]);
        live->strand_era = work->era;
        live->strand_piece = group_piece(pieces, i);
        live->strand_at = i;
    }
}

/* Made the turns just before, or waits for its next ones. */
static bool is_running(const PieceWork *work, uint32_t piece)
{
    return work->rod->pieces[piece].end_turn == work->turn;
}

/* The piece on its spool that winds this strand, and has gone before none that `list` has; else NO_PIECE. */
static uint32_t piece_on_its_spool(PieceWork *work, const Strand *strand, uint32_t *next_at)
{
    const Live *live = live_strand(work, strand);
    if (live->strand_era != work->era || live->strand_at < *next_at
        || is_cut_at(&work->rod->pieces[live->strand_piece], work->turn))
        return NO_PIECE;
    *next_at = live->strand_at + 1;
    return live->strand_piece;
}

/* Those that run; where none does, the first that stand, as many as are taken up together. Gives how many. */
static uint32_t choose_those_at_work(const PieceWork *work, uint32_t *list, uint32_t count)
{
    bool any_runs = false, before = false, over = false;
    uint32_t chosen = 0;
    for (uint32_t i = 0; i < count; i++)
        any_runs |= list[i] != NO_PIECE && is_running(work, list[i]);
    for (uint32_t i = 0; i < count; i++) {
        bool there = list[i] != NO_PIECE;
        over |= before && !there;
        before |= there;
        if (there && (any_runs ? !is_running(work, list[i]) : over))
            list[i] = NO_PIECE;
        chosen += list[i] != NO_PIECE;
    }
    return chosen;
}

PieceGroup pieces_side_by_side(PieceWork *work, uint32_t index)
{
    const Run *run = &work->planned->runs[index];
    const Bench *bench = &work->layout->job->bench;
    uint32_t count = run->strands->count, next_at = 0, *list = work->uses[index].list;
    if (count > bench->holders)
        return NO_PIECES;
    for (uint32_t i = 0; i < count; i++)
        list[i] = piece_on_its_spool(work, &run->strands->items[i], &next_at);
    uint32_t found = choose_those_at_work(work, list, count);
    /* One that begins too late for turns to hold its tag would have to be a cut piece. */
    bool late = work->wrap.end_turn - work->turn < (uint64_t)bench->bind;
    if (found == 0 || (found < count && late))
        return NO_PIECES;
    for (uint32_t i = 0; i < count; i++)
        if (list[i] == NO_PIECE)
            list[i] = lay_in_strand(work, run->strands, i, index);
    return (PieceGroup){list[0], count, count > 1 ? list : NULL};
}
