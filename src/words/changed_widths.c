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

static uint64_t turns_made(const PlannedLayer *layer)
{
    uint64_t made = 0;
    for (uint32_t i = 0; i < layer->run_count; i++)
        made += layer->runs[i].made ? layer->runs[i].turns : 0;
    return made;
}

/* Whether nothing happened since a width of this layer was measured up to that turn. */
static bool is_measured_last(const SheetMaker *maker, const PlannedLayer *layer, uint64_t turn)
{
    const Job *job = maker->plan->job;
    const MeasuredWidth *last = job->measured.count ? &job->measured.items[job->measured.count - 1] : NULL;
    return last && last->event && last->event == job->happened.count && last->made == turn
           && &maker->plan->rods[last->rod].places[last->place].layers[last->layer] == layer;
}

/* In which step the next turn is made. */
static void put_next_turn(SheetMaker *maker, const PlannedLayer *layer)
{
    uint64_t made = turns_made(layer), begun = 0;
    if (!is_measured_last(maker, layer, made))
        return;
    buffer_format(&maker->words, " Measured up to turn %llu of the layer%s", (unsigned long long)made,
                  made < layer->turns ? "" : ", its last");
    for (uint32_t i = 0; i < maker->rod->step_count; i++) {
        const Step *step = &maker->rod->steps[i];
        const Action *action = &maker->rod->actions[step->first + step->count - 1];
        if (layer_of_action(maker, action) != layer)
            continue;
        if (action->layer_count > made) {
            buffer_format(&maker->words, "; turn %llu comes next, in step %u", (unsigned long long)made + 1,
                          (unsigned)(maker->numbered_steps + i + 1));
            if (made > begun)
                buffer_format(&maker->words, " after %llu turn%s of it", (unsigned long long)(made - begun),
                              made - begun == 1 ? "" : "s");
            break;
        }
        begun = action->layer_count;
    }
    buffer_text(&maker->words, ".");
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
    put_next_turn(maker, layer);
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
