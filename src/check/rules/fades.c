#include "check/rules.h"

#include "plan/fade_kinds.h"

#include <math.h>

/* T508, T509: fades as they are seen from across the room (plan/evenness.h). */

/* The looks of each kind of fade, and what is wrong with them. */
typedef struct Looks {
    FadeKinds kinds;
    LIST_OF(FadeLook) of;
    Cases lines, alike;
} Looks;

/* A fade of the view's layer, by the number of its item. */
static FadeAt fade_at(const Check *check, const LayerView *view, uint32_t item)
{
    return (FadeAt){check->bench, view->rod->rod, view->place, (uint32_t)(view->layer - view->place->layers),
                    item};
}

static bool is_new(const PlannedLayer *layer, const PlannedItem *fade, uint32_t turn)
{
    const Run *run = &layer->runs[fade->first_run];
    for (uint32_t before = 0; before + run->turns < turn; run++)
        before += run->turns;
    return run->role == RUN_FADE_IN;
}

/* "between turns 12 and 13 of this fade, navy and foam". */
static const char *where_it_jumps(const Check *check, const PlannedLayer *layer, const PlannedItem *fade,
                                  uint32_t turn)
{
    if (turn == 0)
        return "before the first turn of this fade";
    if (turn == fade->turns)
        return "behind the last turn of this fade";
    bool first = is_new(layer, fade, turn), second = is_new(layer, fade, turn + 1);
    const char *one = first_thread_name(first ? fade->to : fade->from),
               *other = first_thread_name(first ? fade->from : fade->to);
    return text_format(check->findings->words,
                       first == second ? "between turns %u and %u of this fade: both are %s, but %s mixes in"
                                       : "between turns %u and %u of this fade, %s and %s",
                       turn, turn + 1, one, other);
}

/* Fades that show a line whose shades are named: to find them costs more than to lay the fade. */
enum { MOST_NAMED = 4 };

static void say_line(const Check *check, Looks *looks, Case place, bool by_name)
{
    const LayerView *view = &check->layers[place.view];
    const PlannedItem *fade = &view->layer->items[place.detail];
    FadeAt at = fade_at(check, view, place.detail);
    FadeLook look = looks->of.items[fade_kind(&looks->kinds, &at)];
    Arena *words = check->findings->words;
    Finding *finding =
        finding_add(check->findings, FINDING_FADE_SHOWS_A_LINE, place.span, "seen from %s, a line will show %s",
                    show_quantity(words, check->bench->units, QUANTITY_DISTANCE, check->bench->far),
                    where_it_jumps(check, view->layer, fade, look.jump_turn));
    finding->times = place.times;
    finding_of_rod(finding, view->rod->rod->title->bytes);
    const char *jump = show_number(words, ceil(look.jump * 100) / 100, 2);
    finding_label(check->findings, finding,
                  "from %s to %s; the two turns differ by %s (CIEDE2000), above %s it shows",
                  first_thread_name(fade->from), first_thread_name(fade->to), jump,
                  show_number(words, check->bench->jump, 2));
    if (!finding_is_kept(finding))
        return;
    const char *way = shades_to_put(check, &at, by_name);
    double allowed = ceil(look.jump * 10) / 10;
    if (allowed > bench_most(BENCH_JUMP)) {
        finding_mend(check->findings, finding, "%s", way);
        return;
    }
    const char *limit = show_number(words, allowed, 1);
    finding_mend(check->findings, finding, "%s, or, where a line may show, write `jump: %s` in bench { }", way,
                 limit);
    edit_bench(check, finding, BENCH_JUMP, limit);
}

static void say_alike(const Check *check, Case place)
{
    const LayerView *view = &check->layers[place.view];
    const PlannedItem *fade = &view->layer->items[place.detail];
    Arena *words = check->findings->words;
    double difference = -place.badness, allowed = floor(difference * 10) / 10;
    Finding *finding = finding_add(check->findings, FINDING_SHADES_ALIKE, place.span, "%s and %s look the same",
                                   first_thread_name(fade->from), first_thread_name(fade->to));
    finding->times = place.times;
    finding_of_rod(finding, view->rod->rod->title->bytes);
    finding_label(
        check->findings, finding, "as they lie here they differ by %s (CIEDE2000); shades differ from %s on",
        show_number(words, floor(difference * 100) / 100, 2), show_number(words, check->bench->alike, 2));
    const char *limit = show_number(words, allowed, 1);
    finding_mend(check->findings, finding,
                 "use another shade, or leave this fade out; if you can see the two apart, write `alike: %s` in "
                 "bench { }",
                 limit);
    edit_bench(check, finding, BENCH_ALIKE, limit);
}

/* T213 says that already. */
static bool goes_to_itself(const PlannedItem *fade)
{
    return fade->from->items[0].thread == fade->to->items[0].thread;
}

static void look_at_fade(const Check *check, Looks *looks, uint32_t index, uint32_t item)
{
    const LayerView *view = &check->layers[index];
    const PlannedItem *fade = &view->layer->items[item];
    if (!fade_is_seen(fade) || goes_to_itself(fade))
        return;
    FadeAt at = fade_at(check, view, item);
    uint32_t kind = fade_kind(&looks->kinds, &at);
    if (kind == NO_KIND)
        return;
    if (kind == looks->of.count)
        *LIST_ADD(check->arena, &looks->of) = fade_jump(&at, VISION_ALL_CONES);
    const FadeLook *look = &looks->of.items[kind];
    if (look->difference < check->bench->alike)
        cases_add(check->arena, &looks->alike, fade->item->span, -look->difference, index, item);
    else if (look->jump > check->bench->jump)
        cases_add(check->arena, &looks->lines, fade->item->span, look->jump, index, item);
}

void check_fades(const Check *check)
{
    Looks looks = {.kinds.known.arena = check->arena};
    for (uint32_t i = 0; i < check->layer_count; i++)
        for (uint32_t j = 0; j < check->layers[i].layer->item_count; j++)
            look_at_fade(check, &looks, i, j);
    cases_keep_worst(&looks.lines);
    cases_keep_worst(&looks.alike);
    /* What is wrong with how a fade is written is mended first: it may then look otherwise. */
    for (uint32_t i = 0; i < looks.lines.list.count; i++)
        if (!has_error(check, looks.lines.list.items[i].span))
            say_line(check, &looks, looks.lines.list.items[i], i < MOST_NAMED);
    for (uint32_t i = 0; i < looks.alike.list.count; i++)
        if (!has_error(check, looks.alike.list.items[i].span))
            say_alike(check, looks.alike.list.items[i]);
}
