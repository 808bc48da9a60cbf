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

/* "Seal this layer and let it cure", behind "Brush colour preserver on this layer and let it dry, then" where some
 * thread of it needs that. */
void say_sealing(SheetMaker *maker, const Action *action, const char *what, const char *cured)
{
    bool preserved = action->preserving.count;
    if (preserved)
        buffer_format(words(maker), "Brush colour preserver on %s and let it dry, then ", what);
    buffer_format(words(maker), "%s %s and let it %s", preserved ? "seal" : "Seal", preserved ? "it" : what,
                  cured);
}

void say_seal(SheetMaker *maker, const Action *action)
{
    if (action->layer == WHOLE_ROD)
        buffer_text(words(maker), "Brush colour preserver on the wraps that need it and let it dry");
    else
        say_sealing(maker, action, "this layer", "cure");
}

/* "mist and foam, which go darker under finish without it." */
static void put_preserved(SheetMaker *maker, const Preservings *preserving, const char *under)
{
    for (uint32_t i = 0; i < preserving->count; i++) {
        buffer_text(words(maker), i == 0 ? "" : i + 1 == preserving->count ? " and " : ", ");
        buffer_text(words(maker), maker->names[preserving->items[i].thread->index]);
    }
    buffer_format(words(maker), ", which %s darker under %s without it.", preserving->count == 1 ? "goes" : "go",
                  under);
}

void explain_preserving(SheetMaker *maker, const Action *action)
{
    if (!action->preserving.count)
        return;
    buffer_text(words(maker), "Colour preserver is for ");
    put_preserved(maker, &action->preserving, "sealer or finish");
    buffer_text(words(maker), " ");
}

void explain_seal(SheetMaker *maker, const Action *action)
{
    if (action->layer == WHOLE_ROD) {
        buffer_text(words(maker), "Those with ");
        put_preserved(maker, &action->preserving, "finish");
    } else {
        explain_preserving(maker, action);
        buffer_text(words(maker),
                    "Brush the turns alone: tape that it reaches does not come off. It has to be hard "
                    "before the next layer lies on it.");
    }
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
