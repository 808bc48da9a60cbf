/* Which section of a rod is where. */
#include "plan/plan.h"

#include <string.h>

uint32_t section_at(const Rod *rod, double x)
{
    uint32_t section = 0;
    while (section + 1 < rod->section_count && rod->sections[section + 1].start <= x)
        section++;
    return section;
}

const char *blanks_named(Arena *arena, const Rod *rod)
{
    if (!rod->blank)
        return NULL;
    const char *words = rod->section_count ? rod->sections[0].name : rod->blank->name->bytes;
    for (uint32_t i = 1; i < rod->section_count; i++)
        words = text_format(arena, "%s%s%s", words, i + 1 < rod->section_count ? ", " : " and ",
                            rod->sections[i].name);
    return words;
}

const char *section_label(Arena *arena, const Rod *rod, uint32_t section)
{
    return text_format(arena, "section %u of %u: %s", (unsigned)section + 1, (unsigned)rod->section_count,
                       rod->sections[section].name);
}

double hidden_in_joint(const Rod *rod, uint32_t section, bool tip)
{
    const Section *one = &rod->sections[section];
    if (tip)
        return section + 1 < rod->section_count ? one->tip - one->end : 0;
    return section > 0 ? one->start - one->butt : 0;
}

uint32_t section_named(const Rod *rod, const char *name)
{
    for (uint32_t i = 0; rod->section_count > 1 && i < rod->section_count; i++)
        if (strcmp(rod->sections[i].name, name) == 0)
            return i;
    return ALL_SECTIONS;
}
