#include "words/where_work_stands.h"

#include "words/crosswrap_words.h"

/* "; still to trim: the tag of navy 1, the end of mist 1": what is on the blank, and a later step trims. */
static void put_untrimmed(const SheetRod *rod, const PieceState *states, Buffer *words, uint32_t skipped)
{
    bool any = false;
    for (uint32_t i = skipped; i < rod->step_count; i++) {
        const Step *step = rod->steps[i].step;
        bool tag = step->kind == STEP_TRIM_TAG, end = step->kind == STEP_TRIM_END;
        if ((!tag && !end) || states[step->piece] == PIECE_OFF || (end && states[step->piece] != PIECE_ENDED))
            continue;
        for (uint32_t p = 0; p < step->piece_count; p++)
            buffer_format(words, "%s the %s of %s", any || p ? "," : "; still to trim:", tag ? "tag" : "end",
                          rod->labels[step->piece + p]);
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
    put_untrimmed(rod, states, words, skipped);
    buffer_text(words, ".");
}

/* The last step of that kind among those skipped, in the layer of the step that comes next; NULL if none. */
static const Step *last_of(const SheetRod *rod, StepKind kind, uint32_t skipped)
{
    const Step *next = rod->steps[skipped].step;
    for (uint32_t i = skipped; i > 0; i--) {
        const Step *step = rod->steps[i - 1].step;
        if (step->place != next->place || step->layer != next->layer)
            return NULL;
        if (step->kind == kind)
            return step;
    }
    return NULL;
}

/* "4 of 9 passes of this chevron are laid, and the next one out. " */
static void put_passes(const SheetRod *rod, const PlannedCrosswrap *planned, Buffer *words, uint32_t skipped)
{
    const Step *last = last_of(rod, STEP_LEG, skipped);
    bool half = last && leg_count(planned) > 1 && last->leg.leg == LEG_OUT;
    uint32_t passes = last ? last->leg.pass + !half : 0;
    buffer_format(words, "%u of %u passes of this %s are laid%s. ", (unsigned)passes,
                  (unsigned)planned->pass_count, crosswrap_word(planned), half ? ", and the next one out" : "");
}

static void put_made(const SheetRod *rod, Buffer *words, uint32_t skipped)
{
    const Step *next = rod->steps[skipped].step, *last = last_of(rod, STEP_WIND, skipped);
    const PlannedCrosswrap *planned = rod->bench->rod->places[next->place].layers[next->layer].crosswrap;
    if (planned)
        put_passes(rod, planned, words, skipped);
    if (last || !planned)
        buffer_format(words, "%llu turns of %s are made. ", last ? (unsigned long long)last->layer_count : 0,
                      planned ? "its end bands" : "this layer");
}

/* Between two layers, whose steps follow one another: each is finished before the next one begins. */
static bool anything_wound(const SheetRod *rod, uint32_t skipped)
{
    for (uint32_t i = 0; i < skipped; i++) {
        StepKind kind = rod->steps[i].step->kind;
        if (kind == STEP_WIND || kind == STEP_LEG)
            return true;
    }
    return false;
}

const char *where_work_stands(Arena *arena, const Sheet *sheet, const SheetRod *rod, uint32_t skipped)
{
    const SheetStep *steps = rod->steps;
    const Step *before = steps[skipped - 1].step, *next = steps[skipped].step;
    Buffer words;
    buffer_start(&words, arena);
    buffer_format(&words, "When step %u begins, ", (unsigned)steps[skipped].number);
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
