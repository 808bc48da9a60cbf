#include "plan/piece_ends.h"

/* Where the wrap has no room for all of the turns, those that are there. */
static LiesUnder before(uint64_t turn, double turns, const Wrap *wrap)
{
    uint64_t count = (uint64_t)turns, room = turn - wrap->first_turn;
    return (LiesUnder){turn - (count < room ? count : room), turn};
}

static LiesUnder behind(uint64_t turn, double turns, const Wrap *wrap)
{
    uint64_t count = (uint64_t)turns, room = wrap->end_turn - turn;
    return (LiesUnder){turn, turn + (count < room ? count : room)};
}

PieceEnds piece_ends(const Bench *bench, const PlannedRod *rod, uint32_t index, const Wrap *wrap)
{
    const Piece *piece = &rod->pieces[index];
    LiesUnder own = behind(piece->first_turn, bench->bind, wrap);
    /* What is laid in is held weakly until its own turns lie: the tag waits for some of them where the wrap has
     * any. */
    PieceEnds ends = {.laid_in = piece->by_hand || piece->tag_before, .tag_held = own.to};
    ends.tag = ends.laid_in ? before(piece->first_turn, bench->bind, wrap) : own;
    uint64_t end = piece->end_turn, after = wrap->end_turn - end;
    ends.end_way = (double)after >= bench->bind ? END_UNDER_NEXT_TURNS
                   : after > 0                  ? END_THROUGH_LOOP
                                                : END_THROUGH_FINAL_LOOP;
    ends.end = ends.end_way == END_UNDER_NEXT_TURNS
                   ? behind(end, bench->bind, wrap)
                   : before(end, ends.end_way == END_THROUGH_LOOP ? bench->loop : bench->final, wrap);
    return ends;
}

uint64_t spool_from(const Bench *bench, const PlannedRod *rod, uint32_t piece, const Wrap *wrap)
{
    if (rod->pieces[piece].spacer)
        return rod->pieces[piece].first_turn;
    PieceEnds ends = piece_ends(bench, rod, piece, wrap);
    return ends.laid_in ? ends.tag.from : rod->pieces[piece].first_turn;
}

uint32_t spools_done(const PlannedRod *rod, const Winding *winding, uint64_t turn)
{
    uint32_t done = 0;
    for (uint32_t k = 0; k < winding->pieces.count; k++) {
        const Piece *wound = &rod->pieces[group_piece(winding->pieces, k)];
        done += !wound->by_hand && (wound->cut_turn < wound->end_turn ? wound->cut_turn : wound->end_turn) == turn;
    }
    return done;
}
