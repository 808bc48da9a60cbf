/* The sheet's actions gathered by place and layer. */
#include "words/crosswrap_words.h"
#include "words/sheet_maker.h"
#include "base/visible.h"

static const char *when_words(const PlannedPlace *place, uint32_t begun)
{
    if (!begun)
        return "before wrapping";
    return begun == place->layer_count ? "after wrapping" : "before the next layer";
}

/* begun: layers of the place, if it is about one. */
static const char *heading(SheetMaker *maker, const Action *action, uint32_t begun)
{
    const PlannedRod *rod = maker->rod->rod;
    if (action->place == WHOLE_ROD && action->section == ALL_SECTIONS)
        return "The whole rod";
    if (action->place == WHOLE_ROD)
        return text_format(maker->arena, "%s: before wrapping", bare_blank(maker, action));
    const PlannedPlace *place = &rod->places[action->place];
    const char *label = visible(maker->arena, place_label(maker->arena, maker->plan->job, rod->rod, place));
    if (action->layer == WHOLE_ROD)
        return text_format(maker->arena, "%s: %s", label, when_words(place, begun));
    const char *words = layer_label(place, action->layer);
    if (place->layer_count == 1)
        return text_format(maker->arena, "%s: %s", label, words);
    return text_format(maker->arena, "%s: layer %u of %u, %s", label, (unsigned)action->layer + 1,
                       (unsigned)place->layer_count, words);
}

static const char *joined(Arena *arena, const char *first, const char *second)
{
    return !*first ? second : !*second ? first : text_format(arena, "%s %s", first, second);
}

void sheet_parts(SheetMaker *maker, SheetRod *rod)
{
    const BenchRod *bench = maker->rod;
    LIST_OF(SheetPart) parts = {0};
    uint32_t *begun = arena_take_many(maker->arena, bench->rod->place_count, sizeof *begun);
    rod->action_count = bench->action_count;
    rod->actions = arena_take_many(maker->arena, bench->action_count, sizeof *rod->actions);
    for (uint32_t i = 0; i < bench->action_count; i++) {
        const Action *action = &bench->actions[i];
        SheetPart *part = parts.count ? &parts.items[parts.count - 1] : NULL;
        if (!part || part->place != action->place || part->layer != action->layer) {
            const char *words = heading(maker, action, action->place == WHOLE_ROD ? 0 : begun[action->place]);
            if (action->place != WHOLE_ROD && action->layer != WHOLE_ROD)
                begun[action->place] = action->layer + 1;
            part = LIST_ADD(maker->arena, &parts);
            *part = (SheetPart){
                .heading = words, .changed = "", .place = action->place, .layer = action->layer, .first = i};
            maker->packed = maker->measured = maker->line_told = false;
            maker->crosswrap = (CrosswrapTold){.tied_on = false};
        }
        part->count++;
        rod->actions[i].number = maker->numbered + i + 1;
        words_of_action(maker, action, &rod->actions[i]);
        SheetAction *words = &rod->actions[i];
        if (part->count == 1 && layer_of_action(maker, action)) {
            part->changed = words_of_changes(maker, layer_of_action(maker, action));
            words->own = joined(maker->arena, part->changed, words->own);
        }
        words->detail =
            joined(maker->arena, joined(maker->arena, words->own, words->how), words_of_fade(maker, words, 1));
    }
    rod->parts = parts.items;
    rod->part_count = parts.count;
}
