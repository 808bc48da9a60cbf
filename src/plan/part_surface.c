/* What a rod's places lie on: the blank, and in place of it the parts that are wrapped and have a diameter. Where
 * such parts lie over one another, the last of the source is on top. */
#include "plan/layout.h"

#include "base/sort.h"

#include <math.h>

/* Stretches from one end of a part to the next, each with the part that is on top there. */
typedef struct Cover {
    double *ends; /* rising; stretch i goes from number i to the next */
    uint32_t stretches;
    const Part **top; /* by stretch; NULL for the blank */
    uint32_t *next;   /* by stretch: itself while it is free, else one nearer to the next free one */
} Cover;

double part_knot(const Part *part, uint32_t knot)
{
    if (part->diameter_count < 2 || knot + 1 == part->diameter_count)
        return knot ? part->end : part->start;
    return part->start + (part->end - part->start) * knot / (part->diameter_count - 1);
}

/* Number of the last knot that lies not beyond x, so that another follows it. */
static uint32_t knot_before(const Part *part, double x)
{
    double share = (x - part->start) / (part->end - part->start) * (part->diameter_count - 1);
    return (uint32_t)fmin(fmax(floor(share), 0), part->diameter_count - 2);
}

double part_diameter(const Rod *rod, const Part *part, double x)
{
    if (!part->diameter_count)
        return rod->blank ? blank_diameter(rod->blank, x) : 0;
    if (part->diameter_count == 1 || !(part->end > part->start))
        return part->diameters[0];
    uint32_t knot = knot_before(part, x);
    double from = part_knot(part, knot), to = part_knot(part, knot + 1);
    double share = fmin(fmax((x - from) / (to - from), 0), 1);
    return part->diameters[knot] + share * (part->diameters[knot + 1] - part->diameters[knot]);
}

static bool is_surface(const Part *part)
{
    return part->wrapped && part->diameter_count && part->end > part->start;
}

/* The last end that is not beyond x. */
static uint32_t end_at(const Cover *cover, double x)
{
    uint32_t low = 0, high = cover->stretches;
    while (low < high) {
        uint32_t middle = low + (high - low + 1) / 2;
        if (cover->ends[middle] <= x + LAYOUT_SLACK)
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}

/* The first free stretch from this one on; what is passed leads there directly from now on. */
static uint32_t free_from(const Cover *cover, uint32_t stretch)
{
    while (stretch < cover->stretches && cover->next[stretch] != stretch) {
        uint32_t next = cover->next[stretch];
        if (next < cover->stretches)
            cover->next[stretch] = cover->next[next];
        stretch = next;
    }
    return stretch;
}

static void take_ends(Layout *layout, Cover *cover, uint32_t count)
{
    const Rod *rod = layout->rod->rod;
    uint32_t taken = 0;
    cover->ends = arena_take_many(layout->scratch, 2 * (size_t)count + 2, sizeof *cover->ends);
    cover->ends[taken++] = blank_butt(rod->blank);
    cover->ends[taken++] = blank_tip(rod->blank);
    for (uint32_t i = 0; i < rod->part_count; i++) {
        if (!is_surface(&rod->parts[i]))
            continue;
        cover->ends[taken++] = rod->parts[i].start;
        cover->ends[taken++] = rod->parts[i].end;
    }
    sort_numbers(cover->ends, taken);
    for (uint32_t i = 1; i < taken; i++)
        if (cover->ends[i] > cover->ends[cover->stretches] + LAYOUT_SLACK)
            cover->ends[++cover->stretches] = cover->ends[i];
}

/* From the last part to the first: each takes what is free still. */
static void take_tops(Layout *layout, Cover *cover)
{
    const Rod *rod = layout->rod->rod;
    cover->top = arena_take_many(layout->scratch, cover->stretches, sizeof(const Part *));
    cover->next = arena_take_many(layout->scratch, cover->stretches, sizeof *cover->next);
    for (uint32_t i = 0; i < cover->stretches; i++)
        cover->next[i] = i;
    for (uint32_t p = rod->part_count; p-- > 0;) {
        const Part *part = &rod->parts[p];
        if (!is_surface(part))
            continue;
        uint32_t end = end_at(cover, part->end);
        for (uint32_t i = free_from(cover, end_at(cover, part->start)); i < end; i = free_from(cover, i)) {
            cover->top[i] = part;
            cover->next[i] = i + 1;
        }
    }
}

static void add_station(Blank *surface, double at, double diameter)
{
    const Station *last = surface->station_count ? &surface->stations[surface->station_count - 1] : NULL;
    if (!last || last->at != at || last->diameter != diameter)
        surface->stations[surface->station_count++] = (Station){at, diameter};
}

static void add_blank(Blank *surface, const Blank *blank, double from, double to)
{
    add_station(surface, from, blank_diameter(blank, from));
    for (uint32_t i = blank_station_after(blank, from); i < blank->station_count && blank->stations[i].at < to;
         i++)
        add_station(surface, blank->stations[i].at, blank->stations[i].diameter);
    add_station(surface, to, blank_diameter_beside(blank, to, to - LAYOUT_SLACK));
}

static void add_part(Blank *surface, const Rod *rod, const Part *part, double from, double to)
{
    add_station(surface, from, part_diameter(rod, part, from));
    uint32_t knot = part->diameter_count > 1 ? knot_before(part, from) + 1 : 1;
    for (; knot + 1 < part->diameter_count && part_knot(part, knot) < to; knot++)
        add_station(surface, part_knot(part, knot), part->diameters[knot]);
    add_station(surface, to, part_diameter(rod, part, to));
}

void rod_surface(Layout *layout)
{
    const Rod *rod = layout->rod->rod;
    layout->rod->surface = rod->blank;
    uint32_t count = 0;
    uint64_t knots = 0;
    for (uint32_t i = 0; i < rod->part_count; i++) {
        if (!is_surface(&rod->parts[i]))
            continue;
        count++;
        knots += rod->parts[i].diameter_count;
    }
    if (!rod->blank || !count)
        return;
    /* At most 2 count + 1 stretches: a station at either end, what lies within, and one that rounding meets twice.
     */
    uint64_t room = 6 * ((uint64_t)count + 1) + rod->blank->station_count + knots;
    if (!takes_steps(layout, room))
        return;
    Cover cover = {0};
    take_ends(layout, &cover, count);
    take_tops(layout, &cover);
    Blank *surface = arena_take(layout->arena, sizeof *surface);
    *surface = (Blank){.name = rod->blank->name, .span = rod->blank->span};
    surface->stations = arena_take_many(layout->arena, room, sizeof *surface->stations);
    for (uint32_t i = 0; i < cover.stretches; i++) {
        if (cover.top[i])
            add_part(surface, rod, cover.top[i], cover.ends[i], cover.ends[i + 1]);
        else
            add_blank(surface, rod->blank, cover.ends[i], cover.ends[i + 1]);
    }
    layout->rod->surface = surface;
}
