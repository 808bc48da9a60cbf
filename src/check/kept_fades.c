#include "check/kept_fades.h"

#include "base/sort.h"

#include <stdlib.h>
#include <string.h>

/* Where the list is a name, each shade is written by what takes it from there, longer from shade to shade. */
enum { MOST_UNWRITTEN = 16 };

typedef LIST_OF(KeptFade) KeptList;

/* A statement as it is laid once: its items, in working order. */
typedef struct LaidFade {
    Arena *arena;
    const Plan *plan;
    const PlannedLayer *layer;
    uint32_t first, count;
    const ByEye *eye;
    bool reversed;
} LaidFade;

/* As it is written: of a mirrored one the last comes first. */
static const PlannedItem *item_of(const LaidFade *laid, uint32_t index)
{
    return &laid->layer->items[laid->first + (laid->reversed ? laid->count - 1 - index : index)];
}

static void put_source(Buffer *out, const Plan *plan, Span span)
{
    size_t length = 0;
    const char *text = source_at(plan->job->sources, span, &length);
    buffer_put(out, text, length);
}

static void put_runs(Buffer *out, const ChosenTurns *turns)
{
    for (uint32_t i = 0; i < turns->run_count; i++)
        buffer_format(out, "%sin %u out %u", i ? ", " : "[", (unsigned)turns->runs[i].in,
                      (unsigned)turns->runs[i].out);
    buffer_text(out, "]");
}

/* Of a list that is a name: "first(rest(shades))". */
static void put_shade(Buffer *out, const LaidFade *laid, uint32_t index)
{
    if (laid->eye->shades) {
        put_source(out, laid->plan, laid->eye->shades[index]);
        return;
    }
    buffer_text(out, "first(");
    for (uint32_t i = 0; i < index; i++)
        buffer_text(out, "rest(");
    put_source(out, laid->plan, laid->eye->list);
    for (uint32_t i = 0; i <= index; i++)
        buffer_text(out, ")");
}

static void put_band(Buffer *out, const LaidFade *laid, const PlannedItem *band, uint32_t index)
{
    if (band->item->extent.kind == EXTENT_FILL)
        buffer_text(out, "band fill of ");
    else
        buffer_format(out, "band %s of ", show_turns(laid->arena, band->turns));
    put_shade(out, laid, index);
}

static void put_fade(Buffer *out, const LaidFade *laid, const PlannedItem *fade, uint32_t index)
{
    buffer_text(out, "fade to ");
    put_shade(out, laid, index);
    buffer_text(out, " runs: ");
    put_runs(out, turns_chosen(laid->plan->chosen, fade->chosen));
}

/* Bands and fades by turns, or fades alone. */
static void put_shades(Buffer *out, const LaidFade *laid)
{
    for (uint32_t i = 0; i < laid->count; i++) {
        const PlannedItem *item = item_of(laid, i);
        uint32_t shade = laid->eye->bands ? (i + 1) / 2 : i + 1;
        buffer_text(out, i ? "  " : "");
        if (item->chosen)
            put_fade(out, laid, item, shade);
        else
            put_band(out, laid, item, shade);
    }
}

/* Whether the thread that its first fade begins with runs before it, as it is written. What comes before a
 * mirrored one lies behind it, and stands before it in the source. */
static bool runs_on(const LaidFade *laid)
{
    const PlannedLayer *layer = laid->layer;
    uint32_t index = laid->reversed ? laid->first + laid->count : laid->first - 1;
    if (index >= layer->item_count)
        return false;
    const Item *before = layer->items[index].item, *fade = item_of(laid, 0)->item;
    bool near =
        before->reversed == laid->reversed
        && (!laid->reversed || (before->span.file == fade->span.file && before->span.start < fade->span.start));
    return near && (before->kind == ITEM_BAND || before->kind == ITEM_FADE) && before->strands->count == 1
           && before->strands->items[0].thread == fade->from->items[0].thread
           && before->strands->items[0].spacer == fade->from->items[0].spacer;
}

static Keeping keeping_of(const LaidFade *laid)
{
    const ByEye *eye = laid->eye;
    return eye->shade_count && !eye->bands && !runs_on(laid)   ? KEPT_NOT_FROM
           : eye->shade_count > MOST_UNWRITTEN && !eye->shades ? KEPT_TOO_MANY
                                                               : KEPT;
}

static const ChosenTurns *furthest_off(const LaidFade *laid)
{
    const ChosenTurns *worst = NULL;
    for (uint32_t i = 0; i < laid->count; i++) {
        uint32_t chosen = item_of(laid, i)->chosen;
        const ChosenTurns *turns = chosen ? turns_chosen(laid->plan->chosen, chosen) : NULL;
        if (turns && (!worst || turns->departure > worst->departure))
            worst = turns;
    }
    return worst;
}

static KeptFade kept_of(const LaidFade *laid)
{
    KeptFade kept = {.choice = laid->eye->choice,
                     .keeping = keeping_of(laid),
                     .span = laid->eye->shade_count ? item_of(laid, 0)->item->span : laid->eye->options,
                     .turns = furthest_off(laid),
                     .times = 1};
    Buffer runs, text;
    buffer_start(&runs, laid->arena);
    for (uint32_t i = 0; i < laid->count; i++)
        if (item_of(laid, i)->chosen) {
            buffer_text(&runs, runs.length ? "; " : "");
            put_runs(&runs, turns_chosen(laid->plan->chosen, item_of(laid, i)->chosen));
        }
    kept.runs = buffer_string(&runs);
    buffer_start(&text, laid->arena);
    if (!laid->eye->shade_count)
        buffer_format(&text, "runs: %s", kept.runs);
    else if (kept.keeping == KEPT)
        put_shades(&text, laid);
    kept.text = buffer_string(&text);
    return kept;
}

/* Of one statement those laid first stand first. */
static int by_choice(const void *left, const void *right)
{
    const KeptFade *a = left, *b = right;
    int order = ORDER(a->choice.file, b->choice.file);
    order = order ? order : ORDER(a->choice.start, b->choice.start);
    return order ? order : ORDER(a->times, b->times);
}

/* One for each statement. */
static void join_copies(KeptFades *kept)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < kept->count; i++)
        kept->items[i].times = i; /* as they were laid */
    if (kept->count)
        qsort(kept->items, kept->count, sizeof *kept->items, by_choice);
    for (uint32_t i = 0; i < kept->count; i++) {
        KeptFade *last = count ? &kept->items[count - 1] : NULL, *now = &kept->items[i];
        if (!last || last->choice.file != now->choice.file || last->choice.start != now->choice.start) {
            kept->items[count] = *now;
            kept->items[count++].times = 1;
            continue;
        }
        last->times++;
        if (last->keeping == KEPT && now->keeping != KEPT)
            last->keeping = now->keeping;
        if (last->keeping == KEPT && strcmp(last->text, now->text) != 0)
            last->keeping = KEPT_NOT_ALIKE;
        if (now->turns->departure > last->turns->departure)
            last->turns = now->turns;
    }
    kept->count = count;
}

static void keep_layer(Arena *arena, const Plan *plan, const PlannedLayer *layer, KeptList *list)
{
    for (uint32_t i = 0; i < layer->item_count;) {
        const Item *item = layer->items[i].item;
        const ByEye *eye = item->by_eye;
        if (!eye) {
            i++;
            continue;
        }
        uint32_t before = eye->shade_count && eye->bands ? 1 : 0; /* the first band */
        uint32_t count = !eye->shade_count ? 1 : eye->bands ? 2 * eye->shade_count - 1 : eye->shade_count - 1;
        LaidFade laid = {arena, plan, layer, i - before, count, eye, item->reversed};
        *LIST_ADD(arena, list) = kept_of(&laid);
        i += count - before;
    }
}

KeptFades kept_fades(Arena *arena, const Plan *plan)
{
    KeptList list = {0};
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t p = 0; p < plan->rods[r].place_count; p++)
            for (uint32_t l = 0; l < plan->rods[r].places[p].layer_count; l++)
                if (plan->rods[r].places[p].layers[l].laid)
                    keep_layer(arena, plan, &plan->rods[r].places[p].layers[l], &list);
    KeptFades kept = {list.items, list.count};
    join_copies(&kept);
    return kept;
}
