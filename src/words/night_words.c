#include "words/night_words.h"

bool is_taped_down(const SheetRod *rod, const Held *held)
{
    return (held->by == BY_TAPE || held->by == BY_BOBBIN) && !rod->bench->rod->pieces[held->piece].pass_count;
}

void put_held_thing(Buffer *words, const SheetRod *rod, const Held *held)
{
    static const char *const things[HELD_THING_COUNT] = {[THING_TAG] = "the tag of ",
                                                         [THING_LINE] = "",
                                                         [THING_END] = "the end of ",
                                                         [THING_LOOP] = "the loop for "};
    buffer_text(words, held->by == BY_BOBBIN ? "the bobbin of " : things[held->thing]);
    buffer_text(words, rod->labels[held->piece]);
}

/* --- what holds what --- */

typedef struct Words {
    Buffer out;
    const SheetRod *rod;
    uint32_t index; /* of the step from which one looks */
} Words;

static const Held *same_thing(const ActionState *state, const Held *held)
{
    for (uint32_t i = 0; state && i < state->held_count; i++)
        if (state->held[i].piece == held->piece && state->held[i].thing == held->thing)
            return &state->held[i];
    return NULL;
}

/* On a spool; taped; taped, and at the other place not any more; not there yet at the other place, a piece once,
 * by its tag. */
typedef enum { ON_SPOOL, TAPED, TAPED_NO_MORE, NOT_YET } Which;

static bool is_one(const SheetRod *rod, Which which, const Held *held, const ActionState *other)
{
    const Held *same = same_thing(other, held);
    switch (which) {
    case ON_SPOOL: return held->by == BY_SPOOL;
    case TAPED: return is_taped_down(rod, held);
    case TAPED_NO_MORE: return is_taped_down(rod, held) && same && !is_taped_down(rod, same);
    default: return !same && (held->thing == THING_TAG || held->thing == THING_LOOP);
    }
}

/* "navy 2, the tag of mist 1 and mist 1"; how many they are. */
static uint32_t put_list(Words *words, const ActionState *state, Which which, const ActionState *other)
{
    uint32_t count = 0, put = 0;
    for (uint32_t i = 0; state && i < state->held_count; i++)
        count += is_one(words->rod, which, &state->held[i], other);
    for (uint32_t i = 0; put < count; i++) {
        const Held *held = &state->held[i];
        if (!is_one(words->rod, which, held, other))
            continue;
        buffer_text(&words->out, put == 0 ? "" : put + 1 == count ? " and " : ", ");
        if (which == NOT_YET && held->thing == THING_TAG)
            buffer_text(&words->out, words->rod->labels[held->piece]);
        else
            put_held_thing(&words->out, words->rod, held);
        put++;
    }
    return count;
}

/* How many there are, without a word of them. */
static uint32_t count_of(Words *words, const ActionState *state, Which which, const ActionState *other)
{
    size_t length = words->out.length;
    uint32_t count = put_list(words, state, which, other);
    words->out.length = length;
    return count;
}

/* --- how to leave it --- */

static void put_leaving(Words *words, const ActionState *state)
{
    Buffer *out = &words->out;
    StopWay way = state ? state->to_stop : STOP_FINISHED;
    if (way == STOP_TAPE) {
        buffer_text(out, "tape ");
        uint32_t spools = put_list(words, state, ON_SPOOL, NULL);
        buffer_text(out, spools == 1 ? " down, ease its tension" : " down, ease their tension");
    } else
        buffer_text(out, way == STOP_FINISHED ? "no thread is in work, there is nothing to tape"
                                              : "tape and turns hold everything");
    if (count_of(words, state, TAPED, NULL)) {
        buffer_text(out, "; ");
        uint32_t taped = put_list(words, state, TAPED, NULL);
        buffer_text(out, taped == 1 ? " stays taped" : " stay taped");
    }
}

/* --- where --- */

static unsigned number_of(const Words *words, uint32_t step)
{
    return (unsigned)(words->rod->steps[0].number + step);
}

static void put_turns(Words *words, uint64_t turns)
{
    buffer_format(&words->out, "%llu %s", (unsigned long long)turns, turns == 1 ? "turn" : "turns");
}

/* "turn 4 of step 92", "the end of step 91", "where step 1 begins", "where this is done in step 13: Tape navy 2
 * down", "in it" of the step from which one looks */
static void put_where(Words *words, const NightStop *stop)
{
    const SheetRod *rod = words->rod;
    Buffer *out = &words->out;
    bool inside = stop->steps < rod->step_count && stop->done + stop->of_next > rod->steps[stop->steps].first;
    bool at_turn = inside && (stop->of_next || rod->bench->actions[stop->done - 1].kind == ACTION_WIND);
    if (at_turn)
        buffer_format(out, "turn %u of step %u", (unsigned)stop->made, number_of(words, stop->steps));
    else if (inside)
        buffer_format(
            out, "where this is done in %s: %s",
            stop->steps == words->index ? "it" : text_format(out->arena, "step %u", number_of(words, stop->steps)),
            rod->actions[stop->done - 1].says);
    else if (stop->steps)
        buffer_format(out, "the end of step %u", number_of(words, stop->steps - 1));
    else
        buffer_format(out, "where step %u begins", number_of(words, 0));
}

static void put_going_on(Words *words, const NightStop *after)
{
    buffer_text(&words->out, "go on ");
    if (after->turns) {
        buffer_text(&words->out, "for ");
        put_turns(words, after->turns);
        buffer_text(&words->out, ", ");
    }
    buffer_text(&words->out, "to ");
    put_where(words, after);
    buffer_text(&words->out, "; then ");
    put_leaving(words, night_state(words->rod->bench, after));
}

static void put_unwinding(Words *words, const NightStop *before, const ActionState *now)
{
    Buffer *out = &words->out;
    const ActionState *there = night_state(words->rod->bench, before);
    buffer_text(out, "Or ");
    if (before->turns) {
        buffer_text(out, "unwind ");
        put_turns(words, before->turns);
        buffer_text(out, ", ");
    }
    buffer_text(out, "back to ");
    put_where(words, before);
    if (count_of(words, now, NOT_YET, there)) {
        buffer_text(out, ", and take off ");
        put_list(words, now, NOT_YET, there);
        buffer_text(out, ", laid since");
    }
    if (count_of(words, there, TAPED_NO_MORE, now)) {
        buffer_text(out, "; tape ");
        put_list(words, there, TAPED_NO_MORE, now);
        buffer_text(out, " again");
    }
    buffer_text(out, "; then ");
    put_leaving(words, there);
    buffer_text(out, ".");
}

/* --- within the step --- */

/* "after any of its turns", "after turns 4 to 7 or 10 of it"; false where there is none before its end. */
static bool put_within(Words *words, const StepNight *night, uint32_t turns)
{
    Buffer *out = &words->out;
    bool any = false;
    for (uint32_t i = 0; i < night->within_count; i++) {
        uint32_t from = night->within[i].from, to = night->within[i].to;
        from = from ? from : 1;
        if (to < from || from >= turns)
            continue;
        if (from == 1 && to == turns) {
            buffer_text(out, "after any of its turns");
            return true;
        }
        buffer_format(out, any ? " or %u" : to > from ? "after turns %u" : "after turn %u", (unsigned)from);
        if (to > from)
            buffer_format(out, " to %u", (unsigned)to);
        any = true;
    }
    buffer_text(out, any ? " of it" : "");
    return any;
}

static bool is_told(const StepNight *night, uint32_t made, uint32_t turns)
{
    for (uint32_t i = 0; i < night->within_count; i++)
        if (night->within[i].from < turns && night->within[i].from <= made && made <= night->within[i].to)
            return true;
    return false;
}

/* The next place behind these turns, before any others in the step, at which one may stop; NULL for none. */
static const ActionState *settled_state(const Words *words, const Step *step, uint32_t wound)
{
    const Action *actions = words->rod->bench->actions;
    for (uint32_t i = wound; i < step->first + step->count && (i == wound || !makes_turns(&actions[i])); i++)
        if (actions[i].state.may_stop)
            return &actions[i].state;
    return NULL;
}

/* "; after turn 4 tape rust 1 down first": what was wrapped by hand, and no tape holds yet. */
static void put_taped_first(Words *words, uint32_t index, const StepNight *night)
{
    const Step *step = &words->rod->bench->steps[index];
    uint32_t made = 0, turns = words->rod->steps[index].turns;
    for (uint32_t i = step->first; i < step->first + step->count; i++) {
        const Action *action = &words->rod->bench->actions[i];
        if (action->kind != ACTION_WIND)
            continue;
        made += action->turns;
        const ActionState *settled = settled_state(words, step, i);
        if (!is_told(night, made, turns) || !count_of(words, settled, TAPED_NO_MORE, &action->state))
            continue;
        buffer_format(&words->out, "; after turn %u tape ", (unsigned)made);
        put_list(words, settled, TAPED_NO_MORE, &action->state);
        buffer_text(&words->out, " down first");
    }
}

static void put_in_step(Words *words, uint32_t index, const StepNight *night, bool here)
{
    Buffer *out = &words->out;
    size_t length = out->length;
    unsigned number = number_of(words, index);
    buffer_format(out, " Within step %u you may stop ", number);
    if (put_within(words, night, words->rod->steps[index].turns)) {
        buffer_text(out, ": tape what goes to a spool down, ease its tension");
        put_taped_first(words, index, night);
        buffer_text(out, ".");
        return;
    }
    out->length = length;
    if (!here || !night->after.there)
        return;
    buffer_format(out, " Once step %u is begun, ", number);
    put_going_on(words, &night->after);
    buffer_text(out, ".");
}

const char *night_words(Arena *arena, const SheetRod *rod, uint32_t index, const StepNight *night)
{
    Words words = {.rod = rod, .index = index};
    const Step *step = &rod->bench->steps[index];
    const ActionState *now = step->first ? &rod->bench->actions[step->first - 1].state : NULL;
    bool here = !now || now->may_stop;
    buffer_start(&words.out, arena);
    buffer_format(&words.out,
                  here ? "To stop for the night where step %u begins: "
                       : "For the night, do not stop where step %u begins: ",
                  number_of(&words, index));
    if (here)
        put_leaving(&words, now);
    else if (night->after.there)
        put_going_on(&words, &night->after);
    buffer_text(&words.out, ".");
    if (!here && night->before.there) {
        buffer_text(&words.out, " ");
        put_unwinding(&words, &night->before, now);
    }
    put_in_step(&words, index, night, here);
    return buffer_string(&words.out);
}
