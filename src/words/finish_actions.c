/* Words for what is done when the turns are wound: bringing into line, sealing, taking off fuzz, finish. */
#include "words/sheet_maker.h"

static Buffer *words(SheetMaker *maker) { return &maker->words; }

/* Where a sheet meets the first of its kind its caution says it. */
void put_air(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), maker->aired[action->kind] ? " Gloves and fresh air." : "");
    maker->aired[action->kind] = true;
}

void say_align(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_format(words(maker), "%s along the rod and bring %s",
                  several_sections(maker) ? "Put the sections together, sight" : "Sight",
                  maker->stands_round ? "each guide to its angle" : "the guides into line");
}

void explain_align(SheetMaker *maker, const Action *action)
{
    (void)action;
    if (maker->stands_round) {
        put_all_angles(maker);
        buffer_text(words(maker), "; the rod's line is at 12. ");
    }
    buffer_text(
        words(maker),
        "Nudge the feet, which lie under their wraps, a little at a time. After the finish nothing moves any more.");
    if (several_sections(maker))
        buffer_text(words(maker), " Then take the sections apart again.");
}

void say_seal(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), action->layer == WHOLE_ROD
                                  ? "Brush colour preserver on the wraps that need it and let it dry"
                                  : "Seal this layer and let it cure");
}

/* The rod's threads that need a colour preserver, each at its first piece. */
static void put_preserved(SheetMaker *maker)
{
    const PlannedRod *rod = maker->rod->rod;
    uint32_t count = 0, written = 0;
    buffer_text(words(maker), "Those with ");
    for (uint32_t i = 0; i < rod->piece_count; i++)
        count += rod->pieces[i].thread->preserver && maker->rod->piece_numbers[i] == 1;
    for (uint32_t i = 0; i < rod->piece_count; i++) {
        const Thread *thread = rod->pieces[i].thread;
        if (!thread->preserver || maker->rod->piece_numbers[i] != 1)
            continue;
        buffer_text(words(maker), written == 0 ? "" : written + 1 == count ? " and " : ", ");
        buffer_text(words(maker), maker->names[thread->index]);
        written++;
    }
    buffer_format(words(maker), ", which %s darker under finish without it.", count == 1 ? "goes" : "go");
}

void explain_seal(SheetMaker *maker, const Action *action)
{
    if (action->layer == WHOLE_ROD)
        put_preserved(maker);
    else
        buffer_text(words(maker),
                    "Brush the turns alone: tape that it reaches does not come off. It has to be hard "
                    "before the next layer lies on it.");
    put_air(maker, action);
}

void say_singe(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker), "Take off the fuzz");
}

void explain_singe(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker),
                "Move a small clean flame along, quickly, or trim the hairs one by one. No flame near solvent or "
                "finish, and none that rests on thread or blank.");
}

void say_coat(SheetMaker *maker, const Action *action)
{
    buffer_format(words(maker), "Coat %u of %u: brush finish over every wrap", (unsigned)action->turns,
                  (unsigned)maker->bench->coats);
}

void explain_coat(SheetMaker *maker, const Action *action)
{
    buffer_format(words(maker), "Keep %s turning until it no longer runs, then let it cure as its maker says.",
                  several_sections(maker) ? "each section" : "the rod");
    put_air(maker, action);
}
