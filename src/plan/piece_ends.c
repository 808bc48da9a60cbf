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
