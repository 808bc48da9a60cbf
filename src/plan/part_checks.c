/* Which stretches of a rod parts keep from being wrapped. */
#include "plan/layout.h"

static bool is_in_the_way(const Part *part) { return !part->wrapped && part->end > part->start; }

bool part_in_the_way(const Rod *rod, double low, double high)
{
    for (uint32_t i = 0; i < rod->part_count; i++) {
        const Part *part = &rod->parts[i];
        if (is_in_the_way(part) && low < part->end - LAYOUT_SLACK && part->start < high - LAYOUT_SLACK)
            return true;
    }
    return false;
}
