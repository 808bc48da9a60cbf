#include "plan/wraps.h"

Wraps layer_wraps(Arena *arena, const PlannedLayer *layer)
{
    LIST_OF(Wrap) wraps = {0};
    uint64_t turn = 0;
    bool open = false;
    for (uint32_t i = 0; i < layer->run_count; i++) {
        if (layer->runs[i].role == RUN_GAP) {
            open = false;
            continue;
        }
        if (!open)
            *LIST_ADD(arena, &wraps) = (Wrap){.first_run = i, .first_turn = turn};
        open = true;
        turn += layer->runs[i].turns;
        wraps.items[wraps.count - 1].end_run = i + 1;
        wraps.items[wraps.count - 1].end_turn = turn;
    }
    return (Wraps){wraps.items, wraps.count};
}
