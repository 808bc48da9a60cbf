/* Words for what goes onto the rod beside guides and wraps, when its moment has come. */
#include "words/sheet_maker.h"
#include "bench/part_moments.h"
#include "base/visible.h"

static Buffer *words(SheetMaker *maker) { return &maker->words; }

static const Part *part_of(const SheetMaker *maker, const Action *action)
{
    return &maker->rod->rod->rod->parts[action->part];
}

/* "0 to 24 cm from the butt", "at 62 cm from the butt end of tip_piece". */
static void put_where(SheetMaker *maker, const Action *action)
{
    const Part *part = part_of(maker, action);
    const Section *sections = several_sections(maker);
    const Section *own = sections ? &sections[section_at(maker->rod->rod->rod, part->start)] : NULL;
    buffer_format(words(maker), "%s from the butt",
                  part_where(maker->arena, maker->bench->units, part, own ? own->butt : 0));
    if (own)
        buffer_format(words(maker), " end of %s", visible(maker->arena, own->name));
}

void say_part(SheetMaker *maker, const Action *action)
{
    const Part *part = part_of(maker, action);
    const char *name = visible(maker->arena, part->name->bytes);
    bool lies_on = !part->slides && action->place != WHOLE_ROD;
    buffer_format(words(maker), lies_on ? "Lay %s on: " : "Put %s on: ", name);
    put_where(maker, action);
}

/* Behind what is said already. */
static void put_sentence(SheetMaker *maker, const char *sentence)
{
    buffer_format(words(maker), "%s%s", maker->words.length ? " " : "", sentence);
}

/* It covers the end of the blank that places are measured from. */
static bool hides_tip(const SheetMaker *maker, const Part *part)
{
    double tip = blank_tip(maker->rod->rod->rod->blank);
    return maker->from_tip && part->start < tip && part->end >= tip;
}

/* That parts slide on over the tip, the thin end: common practice, no source. */
static void explain_sliding(SheetMaker *maker, const Part *part)
{
    if (hides_tip(maker, part))
        put_sentence(maker,
                     "It hides the bare tip: first put a mark a round distance from that, to measure from later.");
    if (!maker->slid_on)
        put_sentence(
            maker,
            "What slides on over the tip goes on before anything lies in its way. Glue it as its maker says.");
    maker->slid_on = true;
}

void explain_part(SheetMaker *maker, const Action *action)
{
    const Part *part = part_of(maker, action);
    if (part->note)
        buffer_format(words(maker), "Your note: %s.", visible(maker->arena, part->note->bytes));
    if (part->slides)
        explain_sliding(maker, part);
    else
        put_sentence(maker, action->place == WHOLE_ROD ? "Nothing goes under the finish later."
                                                       : "The turns that follow go over it.");
}
