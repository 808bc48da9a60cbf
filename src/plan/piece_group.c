#include "plan/piece_group.h"

PieceGroup one_piece(uint32_t piece) { return (PieceGroup){.first = piece, .count = 1}; }

PieceGroup part_of_group(PieceGroup group, uint32_t first, uint32_t count)
{
    return (PieceGroup){group_piece(group, first), count, group.all ? group.all + first : NULL};
}

uint32_t group_piece(PieceGroup group, uint32_t i) { return group.all ? group.all[i] : group.first + i; }

bool group_has(PieceGroup group, uint32_t piece)
{
    if (!group.all)
        return piece >= group.first && piece - group.first < group.count;
    for (uint32_t i = 0; i < group.count; i++)
        if (group.all[i] == piece)
            return true;
    return false;
}

bool same_group(PieceGroup a, PieceGroup b)
{
    bool same = a.count == b.count;
    for (uint32_t i = 0; same && i < a.count; i++)
        same = group_piece(a, i) == group_piece(b, i);
    return same;
}
