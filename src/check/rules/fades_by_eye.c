#include "check/kept_fades.h"
#include "check/rules.h"

#include "base/halfway.h"
#include "plan/fade_kinds.h"

#include <math.h>

/* T321: what was chosen for a fade by eye, and how to keep it. */

/* What a statement's fades are off at most, as they lie: turns are as wide as they are there, as the plan says it.
 */
typedef struct AsLaid {
    FadeKinds kinds;
    LIST_OF(double) of_kinds;
    const KeptFades *fades;
    double *off; /* of each of these */
} AsLaid;

static double *off_of(const AsLaid *laid, Span choice)
{
    uint32_t low = 0, high = laid->fades->count - 1;
    while (low < high) { /* they are in the order of the source */
        uint32_t middle = halfway(low, high);
        Span there = laid->fades->items[middle].choice;
        if (there.file < choice.file || (there.file == choice.file && there.start < choice.start))
            low = middle + 1;
        else
            high = middle;
    }
    return &laid->off[low];
}

/* Of more fades than are looked at, as they were chosen. */
static double off_as_laid(const Check *check, AsLaid *laid, const FadeAt *at, uint32_t chosen)
{
    uint32_t kind = fade_kind(&laid->kinds, at);
    if (kind == NO_KIND)
        return turns_chosen(check->plan->chosen, chosen)->departure;
    if (kind == laid->of_kinds.count)
        *LIST_ADD(check->arena, &laid->of_kinds) = fade_look(at, VISION_ALL_CONES).departure;
    return laid->of_kinds.items[kind];
}

static void look_at_layer(const Check *check, AsLaid *laid, const LayerView *view)
{
    for (uint32_t i = 0; i < view->layer->item_count; i++) {
        const PlannedItem *item = &view->layer->items[i];
        if (!item->chosen)
            continue;
        FadeAt at = {check->bench, view->rod->rod, view->place, (uint32_t)(view->layer - view->place->layers), i};
        double *off = off_of(laid, item->item->by_eye->choice);
        *off = fmax(*off, off_as_laid(check, laid, &at, item->chosen));
    }
}

static const double *look_at_fades(const Check *check, const KeptFades *fades)
{
    AsLaid laid = {.kinds.known.arena = check->arena,
                   .fades = fades,
                   .off = arena_take_many(check->arena, fades->count, sizeof *laid.off)};
    for (uint32_t i = 0; i < check->layer_count && fades->count; i++)
        look_at_layer(check, &laid, &check->layers[i]);
    return laid.off;
}

/* Where it is not proven that nothing is better. */
static const char *at_best(const Check *check, const ChosenTurns *turns, double off)
{
    Arena *words = check->findings->words;
    return turns->bound < fmin(turns->departure, off)
               ? text_format(words, " (at best %s)", show_bound(words, turns->bound))
               : "";
}

static void say_how_to_keep(const Check *check, Finding *finding, const KeptFade *kept)
{
    static const char *const ways[] = {
        [KEPT_NOT_ALIKE] =
            "its turns are not the same wherever it is laid: to keep them, write each of these fades out",
        [KEPT_NOT_FROM] = "to keep its turns, wind a band of its first thread before it",
        [KEPT_TOO_MANY] = "to keep its turns, write its threads out in square brackets",
    };
    if (kept->keeping != KEPT) {
        finding_mend(check->findings, finding, "%s", ways[kept->keeping]);
        return;
    }
    finding_mend(check->findings, finding, "to keep these turns for ever, write them in its place");
    finding_edit(check->findings, finding, kept->span, "%s", kept->text);
}

void check_fades_by_eye(const Check *check)
{
    Arena *words = check->findings->words;
    KeptFades fades = kept_fades(check->arena, check->plan);
    const double *off = look_at_fades(check, &fades);
    for (uint32_t i = 0; i < fades.count; i++) {
        const KeptFade *kept = &fades.items[i];
        Finding *finding =
            finding_add(check->findings, FINDING_FADE_CHOSEN, kept->choice,
                        "turns chosen by eye: off by %s of the way%s, by count %s", show_departure(words, off[i]),
                        at_best(check, kept->turns, off[i]), show_departure(words, kept->turns->by_count));
        finding->times = kept->times;
        finding_label(check->findings, finding, "%s",
                      kept->keeping == KEPT_NOT_ALIKE ? "`turnlay plan` shows the turns of each" : kept->runs);
        say_how_to_keep(check, finding, kept);
    }
}
