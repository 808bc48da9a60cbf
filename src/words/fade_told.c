/* A fade told in words, "in 1, out 4; in 2, out 3": in working order, whichever way it was written. */
#include "words/sheet_maker.h"

/* Longer fades are told so far; the steps say the rest. */
enum { PAIRS_TOLD = 12 };

static bool comes_in(const Run *run) { return run->role == RUN_FADE_IN; }

static uint32_t count_pairs(const PlannedLayer *layer, const PlannedItem *item)
{
    uint32_t pairs = 0;
    for (uint32_t r = 0; r < item->run_count; r++)
        pairs += comes_in(&layer->runs[item->first_run + r]);
    return pairs;
}

/* The piece that makes the first of the fade's runs in this direction; NO_PIECE if none does. */
static uint32_t fading_piece(const SheetMaker *maker, const PlannedLayer *layer, const PlannedItem *item,
                             const Action *action, bool in)
{
    const PlannedRod *rod = maker->rod->rod;
    uint32_t end_run = item->first_run + item->run_count;
    for (uint32_t w = action->winding; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        if (winding->place != action->place || winding->layer != action->layer || winding->run >= end_run)
            break;
        if (comes_in(&layer->runs[winding->run]) == in)
            return winding->pieces.first;
    }
    return NO_PIECE;
}

static void put_fading(SheetMaker *maker, const PlannedItem *item, uint32_t piece, bool in)
{
    const Strands *strands = in ? item->to : item->from;
    buffer_text(&maker->words,
                piece == NO_PIECE ? maker->names[strands->items[0].thread->index] : piece_label(maker, piece));
}

static void tell_fade(SheetMaker *maker, const PlannedLayer *layer, const PlannedItem *item, const Action *action)
{
    buffer_text(&maker->words, "Fade from ");
    put_fading(maker, item, fading_piece(maker, layer, item, action, false), false);
    buffer_text(&maker->words, " to ");
    put_fading(maker, item, fading_piece(maker, layer, item, action, true), true);
    uint32_t pairs = 0;
    for (uint32_t r = 0; r < item->run_count; r++) {
        const Run *run = &layer->runs[item->first_run + r];
        bool in = comes_in(run);
        pairs += in;
        if (pairs > PAIRS_TOLD) {
            buffer_text(&maker->words, "; and so on, as the steps say");
            break;
        }
        buffer_format(&maker->words, "%s %s %u",
                      r == 0 ? ":"
                      : in   ? ";"
                             : ",",
                      in ? "in" : "out", (unsigned)run->turns);
    }
    buffer_text(&maker->words, ".");
}

void put_fade(SheetMaker *maker, const Action *action)
{
    const PlannedLayer *layer = layer_of_action(maker, action);
    const Winding *winding = &maker->rod->rod->windings[action->winding];
    const Run *run = &layer->runs[winding->run];
    const PlannedItem *item = &layer->items[run->item];
    if (item->item->kind != ITEM_FADE)
        return;
    if (action->band_count == action->turns) {
        maker->fade_pair = 0;
        maker->fade_pairs = count_pairs(layer, item);
        tell_fade(maker, layer, item, action);
    }
    bool begins = action->state.made == action->turns;
    maker->fade_pair += begins && comes_in(run);
    if (action->band_count > action->turns)
        maker->fade_now = (FadeStep){maker->fade_pair, maker->fade_pairs};
}

const char *words_of_fade(SheetMaker *maker, const SheetAction *actions, uint32_t count)
{
    FadeStep before = {0}, last = {0};
    for (uint32_t i = 0; i < count; i++)
        if (actions[i].fade.number) {
            before = last;
            last = actions[i].fade;
        }
    if (!last.number)
        return "";
    if (before.number && before.number + 1 == last.number)
        return text_format(maker->arena, "Fade steps %u and %u of %u.", (unsigned)before.number,
                           (unsigned)last.number, (unsigned)last.of);
    return text_format(maker->arena, "Fade step %u of %u.", (unsigned)last.number, (unsigned)last.of);
}
