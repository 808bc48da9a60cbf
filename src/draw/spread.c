#include "draw/spread.h"

#include <math.h>

/* Labels that stand apart share their mean place as one block; blocks that meet become one. */
typedef struct Block {
    double sum;
    uint32_t count;
} Block;

static double block_mean(const Block *block) { return block->sum / block->count; }

void spread_labels(Arena *arena, SpreadLabel *labels, uint32_t count, double apart, double low, double high)
{
    Block *blocks = arena_take_many(arena, count, sizeof *blocks);
    uint32_t made = 0;
    for (uint32_t i = 0; i < count; i++) {
        blocks[made++] = (Block){labels[i].at - i * apart, 1};
        for (; made > 1 && block_mean(&blocks[made - 2]) > block_mean(&blocks[made - 1]); made--) {
            blocks[made - 2].sum += blocks[made - 1].sum;
            blocks[made - 2].count += blocks[made - 1].count;
        }
    }
    double highest = count ? high - (count - 1) * apart : high;
    for (uint32_t b = 0, i = 0; b < made; b++)
        for (uint32_t end = i + blocks[b].count; i < end; i++)
            labels[i].shown = fmax(low, fmin(highest, block_mean(&blocks[b]))) + i * apart;
}
