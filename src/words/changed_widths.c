/* What a measured width changed, in words: they stand before a part's first action. */
#include "words/sheet_maker.h"
#include "base/visible.h"

#include <math.h>

static void put_change(SheetMaker *maker, const PlannedLayer *layer, const Replanned *change)
{
    const Item *item = layer->items[change->item].item;
    bool same_turns = change->turns == change->turns_before; /* what was measured, or a part of it */
    buffer_format(&maker->words, "line %u, ", (unsigned)line_map_line(maker->plan->job->lines, item->span));
    buffer_text(&maker->words, visible(maker->arena, first_thread_name(item->strands)));
    if (same_turns) {
        buffer_text(&maker->words, ": ");
        maker_callipers(maker, change->width);
        buffer_text(&maker->words, " wide instead of ");
        maker_callipers(maker, change->width_before);
    } else
        buffer_format(&maker->words, ": %u turns instead of %u", (unsigned)change->turns,
                      (unsigned)change->turns_before);
    buffer_text(&maker->words, "; ");
}

/* Other turns, or a width that callipers tell from the one before, and that is not printed as that one. */
static bool is_told(const SheetMaker *maker, const Replanned *change)
{
    MeasuringTool callipers = maker->bench->callipers;
    return change->turns != change->turns_before
           || (!reads_nothing(callipers, change->width - change->width_before)
               && round(change->width / callipers.step) != round(change->width_before / callipers.step));
}

/* Those that wait for an answer. */
static void put_left_out(SheetMaker *maker, const PlannedLayer *layer)
{
    for (uint32_t i = 0; i < layer->left_out_count; i++) {
        const LeftOut *left_out = &layer->left_out[i];
        if (left_out->answered)
            continue;
        buffer_text(&maker->words, maker->words.length ? " " : "");
        buffer_text(&maker->words, "Left out, for it is too far off: ");
        maker_callipers(maker, left_out->width);
        buffer_format(&maker->words, " measured after turn %llu of the layer, where ",
                      (unsigned long long)left_out->turn);
        maker_callipers(maker, left_out->expected);
        buffer_text(&maker->words, " was expected. Measure and count again before you go on.");
    }
}

static void put_planned_again(SheetMaker *maker, const PlannedLayer *layer)
{
    buffer_text(&maker->words, "Planned again after measuring. ");
    bool told = false;
    for (uint32_t i = 0; i < layer->change_count; i++)
        if (is_told(maker, &layer->changes[i])) {
            put_change(maker, layer, &layer->changes[i]);
            told = true;
        }
    buffer_text(&maker->words, told ? "the layer's end " : "The layer's end ");
    if (reads_nothing(maker->bench->callipers, layer->moved))
        buffer_text(&maker->words, "stays.");
    else {
        buffer_text(&maker->words, layer->moved > 0 ? "lies further on by " : "lies nearer by ");
        maker_callipers(maker, fabs(layer->moved));
        buffer_text(&maker->words, ".");
    }
}

const char *words_of_changes(SheetMaker *maker, const PlannedLayer *layer)
{
    put_left_out(maker, layer);
    if (layer->change_count) {
        buffer_text(&maker->words, maker->words.length ? " " : "");
        put_planned_again(maker, layer);
    }
    return maker->words.length ? maker_take(maker) : "";
}
