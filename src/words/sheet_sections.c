/* The sheet's parts and cuts, section by section of the rod. */
#include "base/visible.h"
#include "words/sheet_maker.h"

#include <string.h>

/* The one that lies at the bench for this part; ALL_SECTIONS for what is done to the whole rod, and where the rod
 * is of one piece. */
static uint32_t section_of_part(const SheetMaker *maker, const SheetPart *part)
{
    return several_sections(maker) ? maker->rod->actions[part->first].section : ALL_SECTIONS;
}

/* " Its tip end goes 6 cm into tip_piece: keep thread and finish off it.": a joint shows the outer one.
 */
static void put_hidden(SheetMaker *maker, const char *end, double length, const Section *outer)
{
    if (!(length > 0))
        return;
    buffer_format(&maker->words, " Its %s end goes ", end);
    maker_place(maker, length);
    buffer_format(&maker->words, " into %s: keep thread and finish off it.", visible(maker->arena, outer->name));
}

static const char *note(SheetMaker *maker, uint32_t section)
{
    const Section *all = several_sections(maker);
    if (!all)
        return "";
    if (section == ALL_SECTIONS)
        return "All sections are wound.";
    const Section *own = &all[section];
    buffer_format(
        &maker->words,
        "Only %s lies at the bench: marks count from its own butt end, headings name places along the whole rod.",
        visible(maker->arena, own->name));
    put_hidden(maker, "butt", hidden_in_joint(maker->rod->rod->rod, section, false), own - 1);
    put_hidden(maker, "tip", hidden_in_joint(maker->rod->rod->rod, section, true), own + 1);
    return maker_take(maker);
}

static SheetSection begin(SheetMaker *maker, const SheetRod *rod, uint32_t section, uint32_t part)
{
    SheetSection made = {.title = rod->title,
                         .section = section,
                         .note = note(maker, section),
                         .first_part = part,
                         .first_step = part < rod->part_count ? rod->parts[part].first_step : 0,
                         .first_action = part < rod->part_count ? rod->parts[part].first : 0};
    if (!several_sections(maker))
        return made;
    made.heading = section == ALL_SECTIONS
                       ? "all sections"
                       : visible(maker->arena, section_label(maker->arena, maker->rod->rod->rod, section));
    made.title = text_format(maker->arena, "%s, %s", rod->title, made.heading);
    return made;
}

/* Cuts come in the order of the actions that need them first. */
static void give_cuts(SheetRod *rod)
{
    uint32_t cut = 0, numbered = rod->action_count ? rod->actions[0].number : 0;
    for (uint32_t i = 0; i < rod->section_count; i++) {
        SheetSection *section = &rod->sections[i];
        section->first_cut = cut;
        while (cut < rod->cut_count
               && rod->cuts[cut].first_action < numbered + section->first_action + section->action_count)
            cut++;
        section->cut_count = cut - section->first_cut;
    }
}

void sheet_sections(SheetMaker *maker, SheetRod *rod)
{
    LIST_OF(SheetSection) sections = {0};
    if (!rod->part_count)
        *LIST_ADD(maker->arena, &sections) = begin(maker, rod, ALL_SECTIONS, 0);
    for (uint32_t i = 0; i < rod->part_count; i++) {
        uint32_t section = section_of_part(maker, &rod->parts[i]);
        SheetSection *last = sections.count ? &sections.items[sections.count - 1] : NULL;
        if (!last || last->section != section) {
            last = LIST_ADD(maker->arena, &sections);
            *last = begin(maker, rod, section, i);
        }
        last->part_count++;
        last->action_count += rod->parts[i].count;
        last->step_count += rod->parts[i].step_count;
    }
    rod->sections = sections.items;
    rod->section_count = sections.count;
    give_cuts(rod);
}

/* The loop of that number among the rod's cuts. */
static const SheetCut *loop_numbered(const SheetRod *rod, uint32_t number)
{
    uint32_t cut = 0;
    for (uint32_t loops = 0; cut < rod->cut_count; cut++)
        if (rod->cuts[cut].loop && loops++ == number)
            break;
    return &rod->cuts[cut];
}

/* A loop is used again and again: what is cut for one section alone has those that lie at once in it, too. */
static void cut_for_section(Arena *arena, SheetRod *rod, SheetSection *section)
{
    SheetCut *cuts = arena_take_many(arena, section->cut_count + section->action_count, sizeof *cuts);
    const SheetCut *own = rod->cuts + section->first_cut, *end = own + section->cut_count;
    uint32_t count = 0, lying = 0, most = 0;
    for (uint32_t i = 0; i < section->action_count; i++) {
        const SheetAction *action = &rod->actions[section->first_action + i];
        for (; own < end && own->first_action <= action->number; own++)
            if (!own->loop)
                cuts[count++] = *own;
        lying -= action->action->kind == ACTION_PULL_THROUGH;
        if (action->action->kind != ACTION_LAY_LOOP || ++lying <= most)
            continue;
        cuts[count] = *loop_numbered(rod, most++);
        cuts[count].first_step = action->step;
        cuts[count++].first_action = action->number;
    }
    rod->cuts = cuts;
    rod->cut_count = section->cut_count = count;
    section->first_cut = 0;
}

void sheet_keep_section(Arena *arena, Sheet *sheet, const char *name)
{
    uint32_t rods = 0;
    for (uint32_t r = 0; r < sheet->rod_count; r++) {
        SheetRod *rod = &sheet->rods[r];
        uint32_t wanted = section_named(rod->bench->rod->rod, name), kept = 0;
        for (uint32_t s = 0; wanted != ALL_SECTIONS && s < rod->section_count; s++) {
            SheetSection one = rod->sections[s];
            if (one.section == wanted)
                cut_for_section(arena, rod, &one);
            if (one.section == wanted || one.section == ALL_SECTIONS)
                rod->sections[kept++] = one;
        }
        rod->section_count = kept;
        if (kept)
            sheet->rods[rods++] = *rod;
    }
    sheet->rod_count = rods;
    sheet_begin_at(arena, sheet, 1);
}

bool sheet_shows(const SheetRod *rod, uint32_t place)
{
    for (uint32_t s = 0; s < rod->section_count; s++) {
        const SheetSection *one = &rod->sections[s];
        if (!one->heading || rod->bench->rod->places[place].section == one->section)
            return true;
    }
    return false;
}
