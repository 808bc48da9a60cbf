/* Fades: to a thread, or through several. */
#include "meaning/lay_value.h"

#include "meaning/mend.h"

#include <math.h>

/* The thread of the last turn of a fade that is laid back to front: that of the first one as written. An even fade
 * begins with the old thread. */
static const Strands *laid_last(const Item *fade)
{
    bool begins_with_new = fade->fade_rule == FADE_STEPS || (fade->fade_rule == FADE_RUNS && fade->runs[0].in > 0);
    return begins_with_new ? fade->strands : fade->from;
}

static const Item *last_item(const Laying *laying)
{
    return laying->items.count ? &laying->items.items[laying->items.count - 1] : NULL;
}

/* Which thread makes its last turn is known once its turns are chosen, by the plan. */
static bool ends_unknown(const Item *item) { return item->kind == ITEM_FADE && item->by_eye && item->reversed; }

/* A turn of each thread: with less it is none. */
enum { FEWEST_OF_FADE = 2 };

static double pitch_of(const Strands *strands) { return strands ? strands->pitch : 0; }

/* The thread that is running where the next statement begins: that of the last run, if it is just one. */
static const Strands *running(const Laying *laying)
{
    const Item *last = last_item(laying);
    if (!last || last->kind == ITEM_GAP || ends_unknown(last))
        return NULL;
    const Strands *strands = last->kind == ITEM_FADE && last->reversed ? laid_last(last) : last->strands;
    return strands->count == 1 ? strands : NULL;
}

static const CrossoverStep *take_runs(Laying *laying, const Node *node, uint32_t *count)
{
    Value value;
    if (!lay_value(laying, node, &value))
        return NULL;
    if (!value.list->count) {
        Finding *finding =
            lay_fault(laying, FINDING_EMPTY_LIST, node->span, "`runs` needs at least one fade step");
        finding_mend(laying->evaluator->findings, finding, "write its steps, such as `[in 1 out 2, in 2 out 1]`");
        finding_edit(laying->evaluator->findings, finding, node->span, "[in 1 out 2, in 2 out 1]");
        return NULL;
    }
    if (!lay_steps(laying, value.list->count, node->span))
        return NULL;
    CrossoverStep *runs = arena_take_many(laying->evaluator->arena, value.list->count, sizeof *runs);
    for (uint32_t i = 0; i < value.list->count; i++)
        runs[i] = value.list->items[i].pair;
    *count = value.list->count;
    return runs;
}

/* Largest crossover by steps: n(n+1) turns stay below the limit of turns. */
enum { MOST_STEPS = 3000 };

/* Whether the options say how it crosses over, and not just by what. */
static bool is_ruled(const Node *node)
{
    for (const Node *option = node->options; option; option = option->next)
        if (option->kind != NODE_OPTION || option->slot != FADE_OPTION_BY)
            return true;
    return false;
}

static Span span_of_options(const Node *node)
{
    Span span = node->options->span;
    for (const Node *option = node->options; option; option = option->next)
        span = span_join(span, option->span);
    return span;
}

/* NULL unless the eye decides. */
static ByEye *by_eye(const Laying *laying, const Node *node)
{
    if (option_choice(node, FADE_OPTION_BY, FADE_BY_COUNT) != FADE_BY_EYE)
        return NULL;
    ByEye *eye = arena_take(laying->evaluator->arena, sizeof *eye);
    *eye = (ByEye){.choice = option_value(node->options, FADE_OPTION_BY)->span, .options = span_of_options(node)};
    return eye;
}

static Offered so_many_turns(double turns, double pitch) { return (Offered){turns, turns * pitch}; }

/* How the fade crosses over, between threads that take so much a turn at most. Returns false once there is a
 * finding. */
static bool take_rule(Laying *laying, const Node *node, double pitch, Item *item)
{
    const Node *steps = option_value(node->options, FADE_OPTION_STEPS),
               *over = option_value(node->options, FADE_OPTION_OVER),
               *runs = option_value(node->options, FADE_OPTION_RUNS);
    if (steps) {
        item->fade_rule = FADE_STEPS;
        item->extent.span = steps->span;
        return (item->steps = evaluate_count(laying, steps, 1, MOST_STEPS)) > 0;
    }
    if (over) {
        item->fade_rule = FADE_EVEN;
        return evaluate_extent_of(laying, over, so_many_turns(FEWEST_OF_FADE, pitch), &item->extent);
    }
    if (runs) {
        item->fade_rule = FADE_RUNS;
        item->extent.span = runs->span;
        return (item->runs = take_runs(laying, runs, &item->run_count)) != NULL;
    }
    lay_spoil(laying, cause_of_options(node), node->span); /* the one that says how was dropped, or is missing */
    return false;
}

static bool fades_to(const Node *fade, const Thread *thread)
{
    return fade->second->kind == NODE_NAME && fade->second->text == thread->name;
}

/* A thread of this file that is not the one faded to; NULL if there is none, or in a pattern, where it is not
 * known which names may be used. */
static const char *other_thread(const Laying *laying, const Node *node)
{
    const Evaluator *evaluator = laying->evaluator;
    for (uint32_t i = 0; i < evaluator->thread_count && !evaluator->call; i++) {
        const Thread *thread = evaluator->threads[i];
        if (thread->span.file == node->span.file && !fades_to(node, thread))
            return thread->name->bytes;
    }
    return NULL;
}

/* The last single thread before the fade that is another, or else one declared in this file that is not the one
 * faded to. In patterns it is not known which names may be used. */
static const char *thread_to_fade_from(const Laying *laying, const Node *node)
{
    const Evaluator *evaluator = laying->evaluator;
    if (evaluator->call || findings_full(evaluator->findings))
        return NULL;
    for (uint32_t i = laying->items.count; i; i--) {
        const Item *item = &laying->items.items[i - 1];
        if (item->kind == ITEM_BAND && item->strands->count == 1 && !fades_to(node, item->strands->items->thread))
            return first_thread_name(item->strands);
    }
    return other_thread(laying, node);
}

static void report_no_running_thread(Laying *laying, const Node *node)
{
    Findings *findings = laying->evaluator->findings;
    const Item *last = last_item(laying);
    Finding *finding = lay_fault(
        laying, FINDING_FADE_FROM_NOTHING, header_span(node),
        !last                    ? "there is no thread to fade from"
        : last->kind == ITEM_GAP ? "no thread runs on after a gap"
        : ends_unknown(last) ? "which thread runs here is not known: the turns of the fade before it are chosen"
                             : "a fade starts from one thread, and several run together here");
    if (last)
        finding_relate(findings, finding, last->span, "this comes before it");
    finding_mend(findings, finding, "wind a band of one thread before the fade");
    const char *thread = thread_to_fade_from(laying, node);
    if (thread) /* where the room is limited, what holds its tag */
        finding_edit(findings, finding, (Span){node->span.start, node->span.start, node->span.file},
                     laying->length_known ? "band 8 turns of %s  " : "band 20 turns of %s  ", thread);
}

/* Legal, and its turns are laid, but hardly meant. */
static void warn_of_fade_to_itself(Laying *laying, const Node *node)
{
    Findings *findings = laying->evaluator->findings;
    Finding *finding =
        finding_add(findings, FINDING_FADE_TO_ITSELF, node->second->span, "this thread is running already");
    finding_relate(findings, finding, last_item(laying)->span, "it runs from here");
    const char *other = other_thread(laying, node);
    finding_mend(findings, finding,
                 other ? "fade to another thread, such as `%s`, or take the fade out"
                       : "name another thread to fade to, or take the fade out",
                 other);
    if (other)
        finding_edit(findings, finding, node->second->span, "%s", other);
}

/* What is chosen by eye is chosen by colours. False after a finding. */
static bool eye_sees(Laying *laying, const Item *fade)
{
    const Thread *old = fade->from->items[0].thread, *new = fade->strands->items[0].thread;
    if (!fade->by_eye || (old->coloured && new->coloured))
        return true;
    Findings *findings = laying->evaluator->findings;
    const char *name = (new->coloured ? old : new)->name->bytes;
    Finding *finding = lay_fault(laying, FINDING_OPTION_MISSING, fade->by_eye->choice,
                                 "turns are chosen by eye where both threads say their `colour`");
    finding_label(findings, finding, "%s has none", name);
    finding_mend(findings, finding, "give %s its colour, such as `colour: #9db8d6`, or write `count`", name);
    finding_edit(findings, finding, fade->by_eye->choice, "count");
    return false;
}

void lay_fade_to(Laying *laying, const Node *node)
{
    Item item = {.kind = ITEM_FADE, .span = header_span(node), .strands_span = node->second->span};
    item.strands = evaluate_strands(laying, node->second);
    item.from = running(laying);
    item.by_eye = by_eye(laying, node);
    bool ruled = take_rule(laying, node, fmax(pitch_of(item.from), pitch_of(item.strands)), &item);
    if (!item.strands || !ruled)
        return;
    /* After a fault it is not known what ran before. */
    if (!item.from && laying->cause)
        return;
    if (!item.from)
        report_no_running_thread(laying, node);
    else {
        if (item.from->items[0].thread == item.strands->items[0].thread)
            warn_of_fade_to_itself(laying, node);
        if (eye_sees(laying, &item))
            lay_item(laying, item);
    }
}

/* The threads of `fade EXTENT of LIST`, each as strands of its own; NULL once there is a finding. */
static const Strands **shades_of(Laying *laying, const Node *node, uint32_t *count)
{
    Value value;
    if (!lay_value(laying, node, &value))
        return NULL;
    if (value.list->count < 2) {
        Finding *finding =
            lay_fault(laying, FINDING_OUT_OF_RANGE, node->span, "a fade of several threads needs at least two");
        finding_mend(laying->evaluator->findings, finding, "name the threads in order, such as `[navy, mist]`");
        return NULL;
    }
    if (!lay_steps(laying, value.list->count, node->span))
        return NULL;
    const Strands **shades = arena_take_many(laying->evaluator->arena, value.list->count, sizeof *shades);
    for (uint32_t i = 0; i < value.list->count; i++)
        if (!(shades[i] = strands_of(laying, value.list->items[i], node->span)))
            return NULL;
    *count = value.list->count;
    return shades;
}

static void note_shades(const Laying *laying, const Node *list, uint32_t count, ByEye *eye)
{
    eye->shade_count = count;
    eye->list = list->span;
    if (list->kind != NODE_LIST)
        return;
    Span *spans = arena_take_many(laying->evaluator->arena, count, sizeof *spans);
    const Node *shade = list->first;
    for (uint32_t i = 0; i < count; i++, shade = shade->next)
        spans[i] = shade->span;
    eye->shades = spans;
}

static double widest_pitch(const Strands *const *shades, uint32_t count)
{
    double widest = 0;
    for (uint32_t i = 0; shades && i < count; i++)
        widest = fmax(widest, shades[i]->pitch);
    return widest;
}

/* Turns of one of its fades that says how it crosses over. */
static double turns_of_rule(const Item *fade, double pitch)
{
    if (fade->fade_rule == FADE_STEPS)
        return fade->steps * (fade->steps + 1.0);
    if (fade->extent.kind == EXTENT_TURNS)
        return fade->extent.amount;
    return pitch > 0 ? ceil(fade->extent.amount / pitch) : 0;
}

/* What a fade through so many shades needs: two turns a fade, or those that its rule takes and one a band. */
static Offered needed_of(const Item *fade, bool ruled, double pitch, uint32_t count)
{
    double fades = count > 1 ? count - 1 : 1;
    return so_many_turns(ruled ? fades * turns_of_rule(fade, pitch) + count : fades * FEWEST_OF_FADE, pitch);
}

static Extent shared(const Spread *spread, uint32_t index)
{
    return (Extent){.kind = EXTENT_SHARE, .amount = index, .spread = spread, .span = spread->span};
}

/* Bands with crossovers between them, or crossovers alone. */
void lay_fade_of(Laying *laying, const Node *node)
{
    uint32_t count = 0;
    const Strands **shades = shades_of(laying, node->second, &count);
    bool fill = node->first->kind == NODE_FILL, ruled = is_ruled(node);
    ByEye *eye = by_eye(laying, node);
    Item fade = {.kind = ITEM_FADE,
                 .fade_rule = FADE_EVEN,
                 .by_eye = eye,
                 .span = header_span(node),
                 .strands_span = node->second->span};
    Extent extent = {.span = node->first->span};
    double pitch = widest_pitch(shades, count);
    bool sound =
        (!ruled || take_rule(laying, node, pitch, &fade))
        && (fill || evaluate_extent_of(laying, node->first, needed_of(&fade, ruled, pitch, count), &extent));
    if (fill && !ruled)
        lay_spoil(laying, node->cause, node->span);
    if (!shades || !sound || (fill && !ruled))
        return;
    Spread *spread = arena_take(laying->evaluator->arena, sizeof *spread);
    *spread = (Spread){.kind = extent.kind,
                       .amount = extent.amount,
                       .band_count = ruled ? count : 0,
                       .fade_count = count - 1,
                       .span = extent.span};
    if (eye) {
        note_shades(laying, node->second, count, eye);
        eye->bands = ruled;
    }
    for (uint32_t i = 0; i < count; i++) {
        Item band = {
            .kind = ITEM_BAND, .span = fade.span, .strands_span = fade.strands_span, .strands = shades[i]};
        if (ruled && fill && !make_fill(laying, node->first, 1, &band.extent))
            return;
        if (!fill)
            band.extent = shared(spread, i);
        if (ruled && !lay_item(laying, band))
            return;
        fade.from = shades[i];
        fade.strands = i + 1 < count ? shades[i + 1] : NULL;
        if (!ruled)
            fade.extent = shared(spread, i);
        if (fade.strands && (!eye_sees(laying, &fade) || !lay_item(laying, fade)))
            return;
    }
}
