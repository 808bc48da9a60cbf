/* Words for keeping the turns to their width: packing and measuring. */
#include "words/sheet_maker.h"
#include "words/trade_words.h"

static Buffer *words(SheetMaker *maker) { return &maker->words; }

/* The way is said each time: pushed the wrong way, turns leave the place that they were measured from. */
void say_pack(SheetMaker *maker, const Action *action)
{
    int back = -place_of_action(maker, action)->direction;
    buffer_format(words(maker), "Pack the turns toward the %s, to your %s", toward_word(back),
                  side_word(maker, back));
}

void explain_pack(SheetMaker *maker, const Action *action)
{
    (void)action;
    if (maker->packed)
        return;
    maker->packed = true;
    buffer_text(words(maker), "Push the turns together with something smooth until nothing shows between them.");
}

void say_measure(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Measure the width: it should be ");
    maker_callipers(maker, action->length);
}

void explain_measure(SheetMaker *maker, const Action *action)
{
    (void)action;
    if (maker->measured)
        return;
    maker->measured = true;
    buffer_text(
        words(maker),
        "The width is from where this layer begins to its last turn: write it down. If it is wider than it should be, "
        "pack and measure again. If it is still off by more than ");
    put_quantity(words(maker), maker->bench->callipers.system, QUANTITY_TOLERANCE, maker->bench->tolerance);
    buffer_text(words(maker), ", plan the rest again with it: --measured and the step's number.");
}
