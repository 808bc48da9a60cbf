#include "words/where_work_stands.h"

#include "words/crosswrap_words.h"
#include "words/night_words.h"

/* "; still to trim: the tag of navy 1, the end of mist 1": what is on the blank, and a later action trims, each
 * by itself. */
static void put_untrimmed(const SheetRod *rod, const PieceState *states, Buffer *words, uint32_t skipped)
{
    bool any = false;
    for (uint32_t i = skipped; i < rod->action_count; i++) {
        const Action *action = rod->actions[i].action;
        bool tag = action->kind == ACTION_TRIM_TAG, end = action->kind == ACTION_TRIM_END;
        if ((!tag && !end) || states[action->piece] == PIECE_OFF || (end && states[action->piece] != PIECE_ENDED))
            continue;
        buffer_format(words, "%s the %s of %s", any ? "," : "; still to trim:", tag ? "tag" : "end",
                      rod->labels[action->piece]);
        any = true;
    }
}

/* "; taped: the tag of mist 1, mist 1", "; taped: the bobbin of mist 1": what tape holds after the action before.
 * Of passes nothing is said: all lie so. */
static void put_taped(const SheetRod *rod, Buffer *words, uint32_t skipped)
{
    const ActionState *state = &rod->actions[skipped - 1].action->state;
    bool any = false;
    for (uint32_t i = 0; i < state->held_count; i++) {
        if (!is_taped_down(rod, &state->held[i]))
            continue;
        buffer_text(words, any ? ", " : "; taped: ");
        put_held_thing(words, rod, &state->held[i]);
        any = true;
    }
}

/* "navy 1 (running), mist 1 (standing)" */
static void put_on_blank(const Bench *bench, const SheetRod *rod, Buffer *words, uint32_t skipped)
{
    /* All others are off the blank, or done with. */
    static const char *const in_work[PIECE_STATE_COUNT] = {[PIECE_LAID_IN] = "laid in",
                                                           [PIECE_RUNNING] = "running",
                                                           [PIECE_STANDING] = "standing",
                                                           [PIECE_TIED_ON] = "running"};
    const PieceState *states = states_after(words->arena, rod->bench, bench, skipped);
    bool any = false;
    for (uint32_t p = 0; p < rod->bench->rod->piece_count; p++) {
        if (!in_work[states[p]])
            continue;
        buffer_format(words, "%s%s (%s)", any ? ", " : "", rod->labels[p], in_work[states[p]]);
        any = true;
    }
    buffer_text(words, any ? "" : "no thread in work");
    put_taped(rod, words, skipped);
    put_untrimmed(rod, states, words, skipped);
    buffer_text(words, ".");
}

/* The last action of that kind among those skipped, in the layer of the action that comes next; NULL if none. A
 * rod begins with actions that are of no layer. */
static const Action *last_of(const SheetRod *rod, ActionKind kind, uint32_t skipped)
{
    const Action *next = rod->actions[skipped].action, *action;
    do {
        action = rod->actions[--skipped].action;
        if (action->place != next->place || action->layer != next->layer)
            return NULL;
    } while (action->kind != kind);
    return action;
}

/* "4 of 9 passes of this chevron are laid. " */
static void put_passes(const SheetRod *rod, const PlannedCrosswrap *planned, Buffer *words, uint32_t skipped)
{
    const Action *last = last_of(rod, ACTION_LEG, skipped);
    buffer_format(words, "%u of %u passes of this %s are laid. ", last ? (unsigned)last->leg.pass + 1 : 0,
                  (unsigned)planned->pass_count, crosswrap_word(planned));
}

static void put_made(const SheetRod *rod, Buffer *words, uint32_t skipped)
{
    const Action *next = rod->actions[skipped].action, *last = last_of(rod, ACTION_WIND, skipped);
    const PlannedCrosswrap *planned = rod->bench->rod->places[next->place].layers[next->layer].crosswrap;
    if (planned)
        put_passes(rod, planned, words, skipped);
    if (last || !planned)
        buffer_format(words, "%llu turns of %s are made. ", last ? (unsigned long long)last->layer_count : 0,
                      planned ? "its end bands" : "this layer");
}

/* Between two layers, whose actions follow one another: each is finished before the next one begins. */
static bool anything_wound(const SheetRod *rod, uint32_t skipped)
{
    for (uint32_t i = 0; i < skipped; i++) {
        ActionKind kind = rod->actions[i].action->kind;
        if (kind == ACTION_WIND || kind == ACTION_LEG)
            return true;
    }
    return false;
}

const char *where_work_stands(Arena *arena, const Sheet *sheet, const SheetRod *rod, uint32_t skipped_steps)
{
    uint32_t skipped = rod->steps[skipped_steps].first;
    const SheetAction *actions = rod->actions;
    const Action *before = actions[skipped - 1].action, *next = actions[skipped].action;
    Buffer words;
    buffer_start(&words, arena);
    buffer_format(&words, "When step %u begins, ", (unsigned)rod->steps[skipped_steps].number);
    if (next->layer != WHOLE_ROD && before->place == next->place && before->layer == next->layer)
        put_made(rod, &words, skipped);
    else
        buffer_text(&words,
                    anything_wound(rod, skipped) ? "all wraps before it are finished. " : "no wrap is begun. ");
    buffer_text(&words, "On the blank: ");
    put_on_blank(&sheet->bench->plan->job->bench, rod, &words, skipped);
    buffer_put(&words, "", 1);
    return words.bytes;
}
