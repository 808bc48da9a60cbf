/* What is on a rod beside its wraps: its parts and the notes on it, from the butt on. */
#include "words/sheet_maker.h"

#include "base/visible.h"
#include "words/trade_words.h"

enum { MOST_DIAMETERS = 6 }; /* of more the first and the last are said */

/* "; diameters 18.00 mm, 13.00 mm" */
static void put_diameters(Buffer *words, UnitSystem units, const Part *part)
{
    uint32_t count = part->diameter_count, shown = count < MOST_DIAMETERS ? count : MOST_DIAMETERS;
    if (!count)
        return;
    buffer_text(words, count == 1 ? "; diameter " : "; diameters ");
    for (uint32_t i = 0; i + 1 < shown; i++) {
        put_quantity(words, units, QUANTITY_DIAMETER, part->diameters[i]);
        buffer_text(words, ", ");
    }
    buffer_text(words, shown < count ? "... " : "");
    put_quantity(words, units, QUANTITY_DIAMETER, part->diameters[count - 1]);
}

const char *part_words(Arena *arena, UnitSystem units, const Part *part, double butt)
{
    Buffer words;
    buffer_start(&words, arena);
    buffer_text(&words, part_where(arena, units, part, butt));
    put_diameters(&words, units, part);
    if (part->note)
        buffer_format(&words, "; %s", visible(arena, part->note->bytes));
    if (*part_use(part))
        buffer_format(&words, "; %s", part_use(part));
    buffer_put(&words, "", 1);
    return words.bytes;
}

/* Where a section lies alone, its own butt is what is measured from. */
static double butt_of(const Section *sections, uint32_t section) { return sections ? sections[section].butt : 0; }

/* Those of the whole rod, or of a section where that is first worked on. */
static void give_notes(SheetRod *rod, uint32_t section, uint32_t first)
{
    for (uint32_t i = 0; i < rod->section_count; i++) {
        SheetSection *at = &rod->sections[i];
        if (at->heading && at->section != section)
            continue;
        at->first_note = first;
        at->note_count = rod->note_count - first;
        return;
    }
}

void sheet_notes(SheetMaker *maker, SheetRod *rod)
{
    const PlannedRod *planned = maker->rod->rod;
    const Section *sections = several_sections(maker);
    uint32_t section = 0, first = 0;
    rod->notes = arena_take_many(maker->arena, planned->rod->part_count, sizeof *rod->notes);
    for (uint32_t i = 0; i < planned->part_end_count; i++) {
        const PartEnd *end = &planned->part_ends[i];
        if (end->at_tip)
            continue;
        while (sections && section + 1 < planned->rod->section_count && sections[section + 1].start <= end->at) {
            give_notes(rod, section++, first);
            first = rod->note_count;
        }
        rod->notes[rod->note_count++] =
            (SheetNote){visible(maker->arena, end->part->name->bytes),
                        part_words(maker->arena, maker->bench->units, end->part, butt_of(sections, section))};
    }
    give_notes(rod, section, first);
}
