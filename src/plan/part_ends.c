/* Where a rod's parts begin and end, and what is said of it. */
#include "plan/layout.h"

#include "base/halfway.h"
#include "base/sort.h"

#include <stdlib.h>
#include <string.h>

static int along_the_blank(const void *left, const void *right)
{
    const PartEnd *a = left, *b = right;
    int order = ORDER(a->at, b->at);
    order = order ? order : ORDER(b->at_tip, a->at_tip);
    return order ? order : ORDER(a->part, b->part); /* of one rod, so in the source's order */
}

void rod_part_ends(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    const Rod *written = rod->rod;
    rod->part_ends = arena_take_many(layout->arena, 2 * (size_t)written->part_count, sizeof *rod->part_ends);
    rod->part_end_count = 0;
    for (uint32_t i = 0; i < written->part_count; i++) {
        const Part *part = &written->parts[i];
        rod->part_ends[rod->part_end_count++] = (PartEnd){.at = part->start, .part = part};
        if (part->end > part->start)
            rod->part_ends[rod->part_end_count++] = (PartEnd){.at = part->end, .part = part, .at_tip = true};
    }
    if (rod->part_end_count)
        qsort(rod->part_ends, rod->part_end_count, sizeof *rod->part_ends, along_the_blank);
    const Part *furthest = NULL;
    for (uint32_t i = 0; i < rod->part_end_count; i++) {
        PartEnd *end = &rod->part_ends[i];
        if (!end->at_tip && (!furthest || end->part->end > furthest->end))
            furthest = end->part;
        end->furthest = furthest;
    }
}

uint32_t part_end_from(const PlannedRod *rod, double x)
{
    uint32_t low = 0, high = rod->part_end_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (rod->part_ends[middle].at < x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

const Part *part_over(const PlannedRod *rod, double low, double high)
{
    uint32_t behind = part_end_from(rod, low);
    while (behind < rod->part_end_count && rod->part_ends[behind].at == low)
        behind++;
    const Part *part = behind ? rod->part_ends[behind - 1].furthest : NULL;
    return part && part->end >= high ? part : NULL;
}

/* Inches keep their unit at both: fractions of an inch run together with a "to". */
const char *part_where(Arena *arena, UnitSystem units, const Part *part, double butt)
{
    const char *from = show_quantity(arena, units, QUANTITY_PLACE, part->start - butt);
    if (!(part->end > part->start))
        return text_format(arena, "at %s", from);
    const char *to = show_quantity(arena, units, QUANTITY_PLACE, part->end - butt);
    const char *unit = quantity_unit(units, QUANTITY_PLACE);
    size_t length = strlen(from) - strlen(unit) - 1;
    if (units == SYSTEM_IN)
        return text_format(arena, "%s to %s", from, to);
    return text_format(arena, "%.*s to %s", (int)length, from, to);
}

const char *part_use(const Part *part)
{
    if (!(part->end > part->start))
        return "";
    return part->wrapped ? "thread lies on it" : "keep it free of thread";
}
