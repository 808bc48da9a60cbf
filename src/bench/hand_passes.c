#include "bench/hand_passes.h"

#include "base/halfway.h"

HandPasses find_hand_passes(Arena *arena, const Bench *bench, const PlannedRod *rod, const PlannedLayer *layer,
                            Wraps wraps, const uint32_t pieces[2], const uint32_t windings[2])
{
    uint32_t count = windings[1] - windings[0], piece = pieces[0], wrap = 0, spools = 0;
    uint64_t *until = arena_take_many(arena, count, sizeof *until), turn = 0;
    bool *by_hand = arena_take_many(arena, count, sizeof *by_hand);
    HandPasses passes = {rod, layer, windings[0], windings[1], until, by_hand, false};
    for (uint32_t i = 0; i < count; i++) {
        const Winding *winding = &rod->windings[windings[0] + i];
        turn += winding->turns;
        until[i] = turn;
        for (; piece < pieces[1]; piece++) {
            const Piece *next = &rod->pieces[piece];
            while (wrap + 1 < wraps.count && wraps.items[wrap].end_turn <= next->first_turn)
                wrap++;
            if (!next->by_hand && spool_from(bench, rod, piece, &wraps.items[wrap]) >= turn)
                break;
            if (next->first_turn >= turn && next->by_hand)
                break;
            spools += !next->by_hand;
        }
        by_hand[i] = all_cut_at(rod, winding->pieces, turn - winding->turns) && spools > 0;
        passes.any |= by_hand[i];
        spools -= spools_done(rod, winding, turn);
    }
    return passes;
}

/* The winding that the next turn belongs to, counted in the layer; their number behind the last turn. */
static uint32_t winding_at(const HandPasses *passes, uint64_t turn)
{
    uint32_t low = 0, high = passes->end - passes->first;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (passes->until[middle] <= turn)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static uint64_t begin_of(const HandPasses *passes, uint32_t winding)
{
    return winding ? passes->until[winding - 1] : 0;
}

/* One goes on with the pass of the one before. */
static bool goes_on(const HandPasses *passes, uint32_t winding)
{
    const Winding *each = &passes->rod->windings[passes->first + winding];
    return winding > 0 && passes->by_hand[winding] && passes->by_hand[winding - 1]
           && same_group(each[-1].pieces, each->pieces);
}

uint64_t before_hand_pass(const HandPasses *passes, uint64_t turn)
{
    uint32_t at = winding_at(passes, turn);
    if (at == passes->end - passes->first || !passes->by_hand[at])
        return turn;
    while (goes_on(passes, at))
        at--;
    return begin_of(passes, at);
}

uint64_t behind_hand_pass(const HandPasses *passes, uint64_t turn)
{
    if (!passes->any)
        return turn;
    uint32_t at = winding_at(passes, turn), count = passes->end - passes->first;
    bool within = at < count && passes->by_hand[at] && (begin_of(passes, at) < turn || goes_on(passes, at));
    if (!within)
        return turn;
    while (at + 1 < count && goes_on(passes, at + 1))
        at++;
    return passes->until[at];
}

static bool winds(const HandPasses *passes, uint32_t winding, uint32_t piece)
{
    return group_has(passes->rod->windings[passes->first + winding].pieces, piece);
}

uint64_t winds_again(const HandPasses *passes, uint32_t piece, uint64_t turn)
{
    for (uint32_t at = winding_at(passes, turn); at < passes->end - passes->first; at++)
        if (winds(passes, at, piece))
            return begin_of(passes, at) < turn ? turn : begin_of(passes, at);
    return UINT64_MAX;
}

uint64_t own_turns_made(const HandPasses *passes, uint32_t piece, uint64_t turns)
{
    uint32_t at = winding_at(passes, passes->rod->pieces[piece].first_turn);
    for (uint64_t made = 0; at < passes->end - passes->first; at++) {
        uint32_t more = winds(passes, at, piece) ? passes->rod->windings[passes->first + at].turns : 0;
        if (made + more >= turns)
            return begin_of(passes, at) + (turns - made);
        made += more;
        if (passes->until[at] >= passes->rod->pieces[piece].end_turn)
            break;
    }
    return passes->rod->pieces[piece].end_turn;
}
