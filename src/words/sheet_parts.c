/* The sheet's steps gathered by place and layer. */
#include "words/crosswrap_words.h"
#include "words/sheet_maker.h"
#include "base/visible.h"

/* before: the part before this one; NULL for none. */
static const char *when_words(const PlannedPlace *place, const Step *step, const SheetPart *before)
{
    if (!before || before->place != step->place)
        return "before wrapping";
    return before->layer + 1 == place->layer_count ? "after wrapping" : "before the next layer";
}

static const char *heading(SheetMaker *maker, const Step *step, const SheetPart *before)
{
    const PlannedRod *rod = maker->rod->rod;
    if (step->place == WHOLE_ROD)
        return "The whole rod";
    const PlannedPlace *place = &rod->places[step->place];
    const char *label = visible(maker->arena, place_label(maker->arena, maker->plan->job, rod->rod, place));
    if (step->layer == WHOLE_ROD)
        return text_format(maker->arena, "%s: %s", label, when_words(place, step, before));
    const char *words = layer_label(place, step->layer);
    if (place->layer_count == 1)
        return text_format(maker->arena, "%s: %s", label, words);
    return text_format(maker->arena, "%s: layer %u of %u, %s", label, (unsigned)step->layer + 1,
                       (unsigned)place->layer_count, words);
}

/* Before a crosswrap is cut free its sealing has to cure. */
static bool has_to_wait(const SheetRod *rod, uint32_t step)
{
    return rod->steps[step].step->kind == STEP_SEAL && rod->steps[step + 1].step->kind == STEP_TAKE_ENDS;
}

/* A series of pauses is one: after the last of them. */
static void keep_last_pauses(SheetRod *rod)
{
    for (uint32_t i = 0; i + 1 < rod->step_count; i++)
        rod->steps[i].pause &= !rod->steps[i + 1].pause || has_to_wait(rod, i);
}

void sheet_parts(SheetMaker *maker, SheetRod *rod)
{
    const BenchRod *bench = maker->rod;
    LIST_OF(SheetPart) parts = {0};
    rod->step_count = bench->step_count;
    rod->steps = arena_take_many(maker->arena, bench->step_count, sizeof *rod->steps);
    for (uint32_t i = 0; i < bench->step_count; i++) {
        const Step *step = &bench->steps[i];
        SheetPart *part = parts.count ? &parts.items[parts.count - 1] : NULL;
        if (!part || part->place != step->place || part->layer != step->layer) {
            const char *words = heading(maker, step, part);
            part = LIST_ADD(maker->arena, &parts);
            *part = (SheetPart){words, step->place, step->layer, i, 0};
            maker->packed = maker->measured = false;
            maker->crosswrap = (CrosswrapTold){.tied_on = false};
        }
        part->count++;
        rod->steps[i].number = maker->numbered + i + 1;
        words_of_step(maker, step, &rod->steps[i]);
        if (part->count == 1 && layer_of_step(maker, step))
            rod->steps[i].detail = words_of_changes(maker, layer_of_step(maker, step), rod->steps[i].detail);
    }
    rod->parts = parts.items;
    rod->part_count = parts.count;
    keep_last_pauses(rod);
}
