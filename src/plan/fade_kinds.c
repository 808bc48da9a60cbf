#include "plan/fade_kinds.h"

#include "base/limits.h"

static const PlannedItem *item_of(const FadeAt *at) { return &at->place->layers[at->layer].items[at->item]; }
static const Run *runs_of(const FadeAt *at) { return &at->place->layers[at->layer].runs[item_of(at)->first_run]; }

static uint64_t hash_number(uint64_t hash, double number) { return hash_bytes(hash, &number, sizeof number); }

static uint64_t hash_of(const FadeAt *at, const FadeShades *shades)
{
    const PlannedItem *item = item_of(at);
    uint64_t hash = hash_bytes(HASH_START, shades, sizeof *shades);
    hash = hash_number(hash_number(hash, item->from->pitch), item->to->pitch);
    for (const Run *run = runs_of(at), *end = run + item->run_count; run < end; run++)
        hash = hash_number(hash_word(hash, (uint64_t)run->turns << 8 | run->role), run->pitch);
    return hash;
}

static bool is_known(const KnownFade *known, const FadeAt *at, const FadeShades *shades)
{
    const PlannedItem *one = item_of(&known->first), *other = item_of(at);
    if (one->run_count != other->run_count || one->from->pitch != other->from->pitch
        || one->to->pitch != other->to->pitch || !same_light(known->shades.from, shades->from)
        || !same_light(known->shades.to, shades->to))
        return false;
    const Run *runs = runs_of(&known->first), *others = runs_of(at);
    for (uint32_t r = 0; r < one->run_count; r++)
        if (runs[r].role != others[r].role || runs[r].turns != others[r].turns || runs[r].pitch != others[r].pitch)
            return false;
    return true;
}

static uint32_t *empty_slot(uint32_t *slots, uint32_t count, uint64_t hash)
{
    uint32_t at = (uint32_t)hash & (count - 1);
    while (slots[at])
        at = (at + 1) & (count - 1);
    return &slots[at];
}

/* Half of the slots stay empty. */
static void make_room(FadeKinds *kinds)
{
    if (kinds->known.count * 2 < kinds->slot_count)
        return;
    kinds->slot_count = kinds->slot_count ? 2 * kinds->slot_count : 16;
    kinds->slots = arena_take_many(kinds->arena, kinds->slot_count, sizeof *kinds->slots);
    for (uint32_t i = 0; i < kinds->known.count; i++)
        *empty_slot(kinds->slots, kinds->slot_count, kinds->known.items[i].hash) = i + 1;
}

uint32_t fade_kind(FadeKinds *kinds, const FadeAt *at)
{
    FadeShades shades = fade_shades(at);
    uint64_t hash = hash_of(at, &shades);
    make_room(kinds);
    for (uint32_t slot = (uint32_t)hash & (kinds->slot_count - 1); kinds->slots[slot];
         slot = (slot + 1) & (kinds->slot_count - 1))
        if (is_known(&kinds->known.items[kinds->slots[slot] - 1], at, &shades))
            return kinds->slots[slot] - 1;
    if (item_of(at)->turns > LIMIT_TURNS_SEEN - kinds->turns)
        return NO_KIND;
    kinds->turns += item_of(at)->turns;
    *LIST_ADD(kinds->arena, &kinds->known) = (KnownFade){*at, shades, hash};
    *empty_slot(kinds->slots, kinds->slot_count, hash) = kinds->known.count;
    return kinds->known.count - 1;
}
