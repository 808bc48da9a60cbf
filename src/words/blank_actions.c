/* Words for what is done to the blank itself, before anything is wound on it and before the finish. */
#include "words/sheet_maker.h"
#include "base/visible.h"

static Buffer *words(SheetMaker *maker) { return &maker->words; }

const char *bare_blank(const SheetMaker *maker, const Action *action)
{
    const Section *sections = several_sections(maker);
    return sections ? visible(maker->arena, sections[action->section].name) : "The blank";
}

static void put_blank(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), several_sections(maker) ? bare_blank(maker, action) : "the blank");
}

void say_clean(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Take grease off ");
    put_blank(maker, action);
}

/* Common practice, no source: so is what wax and hands leave. */
void explain_clean(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(
        words(maker),
        "Wipe it with the cleaner that the finish's maker names, on a clean cloth, and let it dry. Keep the "
        "cleaner off grips and printing. From here on touch only with clean hands what is wrapped or finished.");
}

void say_mark_line(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Mark the rod's line along ");
    put_blank(maker, action);
}

/* How the two are found: common practice, no source. */
static const char *const finding[] = {
    [LINE_STRAIGHTEST] =
        "Sight along it and turn it until it looks straight; what bend it has goes up or down then. "
        "The line runs along its top.",
    [LINE_SPINE] =
        "Rest it on both ends, press its middle down and let it roll: it stops with its spine on the same "
        "side each time. The line runs along that side, or opposite, as you build.",
};

void explain_mark_line(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker), finding[maker->bench->line]);
    buffer_text(
        words(maker),
        " It is 0 deg and 12 o'clock: the middle of the reel's foot comes on it, and every ring that has no "
        "angle of its own. Wax pencil or narrow tape, in short pieces beside the wraps: under open or light "
        "thread it would show.");
    if (several_sections(maker))
        buffer_text(words(maker), " Put together, all sections have one line.");
}

void say_wipe(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker), "Take the marks off the blank");
}

/* Common practice, no source. */
void explain_wipe(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(
        words(maker),
        "Draw off tape, and wipe wax off the bare blank with the cleaner that the finish's maker names. Never "
        "wipe thread with it: from thread wax is lifted dry. Let the blank dry.");
}
