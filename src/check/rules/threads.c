#include "check/rules.h"

#include <math.h>

/* T501, T502, T503: what threads have to do with one another, and how well they are known. */

/* Thicker than its neighbour by more than a quarter, a thread stands out: common practice, no source. */
#define MOST_DIFFERENCE 0.25

static bool differ(const Strands *a, const Strands *b)
{
    double thin = fmin(a->thickness, b->thickness), thick = fmax(a->thickness, b->thickness);
    return thin > 0 && thick - thin > MOST_DIFFERENCE * thin * (1 + 1e-9);
}

static void say_differ(const Check *check, Span span, const Strands *a, const Strands *b, Span other)
{
    const Strands *thick = a->thickness > b->thickness ? a : b, *thin = thick == a ? b : a;
    UnitSystem units = check->bench->units;
    double more = (thick->thickness / thin->thickness - 1) * 100;
    Finding *finding = finding_add(check->findings, FINDING_THREADS_DIFFER, span,
                                   "%s is clearly thicker than %s and will stand out", first_thread_name(thick),
                                   first_thread_name(thin));
    finding_label(check->findings, finding, "%s is %s thick, %s %s: %s %% more; up to 25 %% does not show",
                  first_thread_name(thick), show_fine(check->findings->words, units, thick->thickness),
                  first_thread_name(thin), show_fine(check->findings->words, units, thin->thickness),
                  show_number(check->findings->words, more, 1));
    if (other.end)
        finding_relate(check->findings, finding, other, "the band it lies in");
    finding_mend(check->findings, finding,
                 "use a thread no thicker than %s beside %s, or set bands of the two side by side",
                 show_fine(check->findings->words, units, thin->thickness * (1 + MOST_DIFFERENCE)),
                 first_thread_name(thin));
}

void check_thicknesses(const Check *check)
{
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const PlannedLayer *layer = check->layers[i].layer;
        for (uint32_t j = 0; j < layer->item_count; j++) {
            const Item *item = layer->items[j].item;
            if (item->kind == ITEM_FADE && item->from && differ(item->strands, item->from))
                say_differ(check, item->strands_span, item->strands, item->from, (Span){0});
            for (uint32_t k = 0; k < item->inlay_count; k++)
                if (differ(item->inlays[k].strands, item->strands))
                    say_differ(check, item->inlays[k].span, item->inlays[k].strands, item->strands,
                               item->strands_span);
        }
    }
}

/* The threads of one layer that need a colour preserver and those that do not. */
typedef struct Mix {
    const Thread *needs, *plain; /* the first of each, in working order */
    bool several_plain;
} Mix;

static void mix_in(Mix *mix, const Thread *thread)
{
    if (thread->preserver && !mix->needs)
        mix->needs = thread;
    if (!thread->preserver && mix->plain && mix->plain != thread)
        mix->several_plain = true;
    if (!thread->preserver && !mix->plain)
        mix->plain = thread;
}

/* A spacer is taken off before the finish. */
static Mix mix_of(const LayerView *view)
{
    Mix mix = {0};
    for (uint32_t i = 0; i < view->piece_count; i++)
        if (!view->pieces[i]->spacer)
            mix_in(&mix, view->pieces[i]->thread);
    return mix;
}

/* Threads that lie beside other threads without preserver somewhere: to give these a preserver would only move
 * the finding to another layer. */
static bool *find_beside_plain(const Check *check)
{
    bool *beside = arena_take_many(check->arena, (size_t)check->plan->job->thread_count + 1, sizeof *beside);
    for (uint32_t i = 0; i < check->layer_count; i++) {
        Mix mix = mix_of(&check->layers[i]);
        for (uint32_t j = 0; mix.several_plain && j < check->layers[i].piece_count; j++)
            beside[check->layers[i].pieces[j]->thread->index] = true;
    }
    return beside;
}

static void say_mixed(const Check *check, Span span, Mix mix, bool can_treat)
{
    const char *needs = mix.needs->name->bytes, *plain = mix.plain->name->bytes;
    Finding *finding = finding_add(check->findings, FINDING_PRESERVER_MIXED, span,
                                   "this layer mixes threads with and without colour preserver");
    finding_label(check->findings, finding, "%s needs a preserver, %s does not", needs, plain);
    finding_relate(check->findings, finding, mix.needs->preserver_span, "%s needs it", needs);
    finding_relate(check->findings, finding, mix.plain->preserver_span, "%s goes without", plain);
    if (!can_treat) {
        finding_mend(check->findings, finding, "use threads here that all need preserver or all go without");
        return;
    }
    finding_mend(
        check->findings, finding,
        "use threads that all need preserver or all go without, or give it to %s too: write `preserver: yes`",
        plain);
    edit_option(check, finding, mix.plain->span, mix.plain->preserver_span, "preserver", "yes");
}

void check_preserver(const Check *check)
{
    const bool *beside_plain = find_beside_plain(check);
    for (uint32_t i = 0; i < check->layer_count; i++) {
        Mix mix = mix_of(&check->layers[i]);
        if (mix.needs && mix.plain)
            say_mixed(check, check->layers[i].layer->layer->span, mix, !beside_plain[mix.plain->index]);
    }
}

void check_measured(const Check *check)
{
    bool inches = check->bench->units == SYSTEM_IN;
    for (uint32_t i = 0; i < check->plan->total_count; i++) {
        const Thread *thread = check->plan->totals[i].thread;
        if (thread->width_source != WIDTH_NOMINAL && thread->width_source != WIDTH_FROM_TEX)
            continue;
        const char *name = thread->name->bytes;
        Finding *finding = finding_add(check->findings, FINDING_NOMINAL_DIAMETER, thread->width_span,
                                       thread->width_source == WIDTH_NOMINAL
                                           ? "the pitch of %s is nominal, not measured"
                                           : "the pitch of %s is worked out from its weight, not measured",
                                       name);
        const char *doubt = show_number(check->findings->words, thread->uncertainty * 100, 1);
        finding_label(check->findings, finding, "%s a turn from its %s, give or take %s %%",
                      show_fine(check->findings->words, check->bench->units, thread->pitch),
                      thread->width_source == WIDTH_NOMINAL ? "nominal size" : "weight", doubt);
        const char *rate = text_format(
            check->findings->words, "turns: %s per %s",
            show_number(check->findings->words, (inches ? 25.4 : 10) / thread->pitch, 3), inches ? "in" : "cm");
        if (!thread->uncertainty_written)
            rate = text_format(check->findings->words, "%s, uncertainty: %s %%", rate, doubt);
        finding_mend(
            check->findings, finding,
            "wind 20 close turns of %s, measure their width, and write the turns for a length; until then "
            "write this width and how uncertain it is: `%s`",
            name, rate);
        if (!has_error(check, thread->width_span))
            finding_edit(check->findings, finding, thread->width_span, "%s", rate);
    }
}
