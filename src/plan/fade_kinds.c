#include "plan/fade_kinds.h"

#include "base/limits.h"

static void add(FadeKinds *kinds, double number) { *LIST_ADD(kinds->known.arena, &kinds->key) = number; }

static void add_light(FadeKinds *kinds, Light light)
{
    add(kinds, light.red);
    add(kinds, light.green);
    add(kinds, light.blue);
}

/* All that the look of a fade depends on. */
static void set_key(FadeKinds *kinds, const FadeAt *at, const PlannedItem *item)
{
    FadeShades shades = fade_shades(at);
    kinds->key.count = 0;
    add_light(kinds, shades.from);
    add_light(kinds, shades.to);
    add(kinds, item->from->pitch);
    add(kinds, item->to->pitch);
    const Run *runs = &at->place->layers[at->layer].runs[item->first_run];
    for (const Run *run = runs; run < runs + item->run_count; run++) {
        add(kinds, run->turns);
        add(kinds, run->role);
        add(kinds, run->pitch);
    }
}

uint32_t fade_kind(FadeKinds *kinds, const FadeAt *at)
{
    const PlannedItem *item = &at->place->layers[at->layer].items[at->item];
    set_key(kinds, at, item);
    size_t length = kinds->key.count * sizeof *kinds->key.items;
    uint32_t number = number_given(&kinds->known, kinds->key.items, length);
    if (number)
        return number - 1;
    if (item->turns > LIMIT_TURNS_SEEN - kinds->turns)
        return NO_KIND;
    kinds->turns += item->turns;
    return give_number(&kinds->known, kinds->key.items, length) - 1;
}
