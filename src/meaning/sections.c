#include "meaning/sections.h"

#include "meaning/blank.h"

/* Stations nearer to a joint are at it, mm: far below what anybody measures, far above rounding. Common
 * practice, no source. */
static const double AT_JOINT = 1e-6;

double own_length(const Blank *blank)
{
    return blank->stations[blank->station_count - 1].at - blank->stations[0].at;
}

static void set_out(Section *sections, uint32_t count, const double *overlaps, bool tip_inside)
{
    for (uint32_t i = 0; i < count; i++) {
        Section *one = &sections[i];
        const Section *before = i ? one - 1 : NULL;
        one->butt = before ? before->tip - overlaps[i - 1] : 0;
        one->tip = one->butt + one->blank->stations[one->blank->station_count - 1].at;
        one->start = before ? (tip_inside ? before->tip : one->butt) : one->blank->stations[0].at;
        one->end = one->tip;
        if (before)
            one[-1].end = one->start;
    }
}

/* What shows of the section, with its own diameters where it begins and ends. */
static void add_stations(Blank *all, const Section *section)
{
    const Blank *own = section->blank;
    Station *next = all->stations + all->station_count;
    *next++ = (Station){section->start, blank_diameter(own, section->start - section->butt)};
    for (uint32_t i = 0; i < own->station_count; i++) {
        double at = section->butt + own->stations[i].at;
        if (at > section->start + AT_JOINT && at < section->end - AT_JOINT)
            *next++ = (Station){at, own->stations[i].diameter};
    }
    *next++ = (Station){section->end, blank_diameter(own, section->end - section->butt)};
    all->station_count = (uint32_t)(next - all->stations);
}

Blank *join_sections(Arena *arena, Section *sections, uint32_t count, const double *overlaps, bool tip_inside)
{
    set_out(sections, count, overlaps, tip_inside);
    uint32_t room = 0;
    for (uint32_t i = 0; i < count; i++)
        room += sections[i].blank->station_count + 2;
    Blank *all = arena_take(arena, sizeof *all);
    *all = (Blank){.name = sections[0].blank->name,
                   .span = sections[0].blank->span,
                   .colour = sections[0].blank->colour,
                   .coloured = sections[0].blank->coloured,
                   .sheen = sections[0].blank->sheen,
                   .stations = arena_take_many(arena, room, sizeof *all->stations)};
    for (uint32_t i = 0; i < count; i++)
        add_stations(all, &sections[i]);
    return all;
}
