/* The sheet's steps: the actions that each tells of, its facts, and what is said beside it. */
#include "words/crosswrap_words.h"
#include "words/sheet_maker.h"

#include "base/visible.h"

#include <string.h>

static Buffer *words(SheetMaker *maker) { return &maker->words; }

/* Of these how it is done is told once on a rod; who wants it each time has it action by action. Of all others it
 * differs from place to place. */
static const bool told_once[ACTION_KIND_COUNT] = {
    [ACTION_START] = true,        [ACTION_LAY_IN] = true,    [ACTION_LAY_LOOP] = true,
    [ACTION_TAKE_UP] = true,      [ACTION_STAND] = true,     [ACTION_LAY_END] = true,
    [ACTION_PULL_THROUGH] = true, [ACTION_TRIM_TAG] = true,  [ACTION_TRIM_END] = true,
    [ACTION_TAKE_TAPE] = true,    [ACTION_TAPE_DOWN] = true, [ACTION_CUT_FROM_SPOOL] = true,
    [ACTION_PACK] = true,         [ACTION_MEASURE] = true,   [ACTION_LOAD] = true,
};

/* Whether how it is done has been told: tape by what it holds, strands and turns packed each in their way, what is
 * laid along the blank for each way of working, from a spool or cut; taken up for the first time or again; a tag
 * is trimmed as an end is. */
static bool *told_how(SheetMaker *maker, const Action *action)
{
    ActionKind kind = action->kind == ACTION_TRIM_TAG ? ACTION_TRIM_END : action->kind;
    bool one_way = kind == ACTION_START || kind == ACTION_LAY_IN || kind == ACTION_STAND || kind == ACTION_LAY_LOOP
                   || kind == ACTION_LAY_END;
    unsigned way = kind == ACTION_TAPE_DOWN ? action->thing
                   : kind == ACTION_TAKE_UP ? action->state.before == PIECE_STANDING
                   : kind == ACTION_PACK    ? layer_of_action(maker, action)->crosswrap != NULL
                   : one_way                ? toward_tip(place_of_action(maker, action)->direction)
                                            : 0;
    /* For a spool that stands the blank stands, too. */
    if ((kind == ACTION_LAY_IN || kind == ACTION_STAND)
        && !is_cut_at(&maker->rod->rod->pieces[action->piece], action->layer_count))
        way += 2; /* from its spool */
    return &maker->told_how[kind][way];
}

static void put_sentence(SheetMaker *maker, const char *sentence)
{
    if (!*sentence)
        return;
    buffer_text(words(maker), words(maker)->length ? " " : "");
    buffer_text(words(maker), sentence);
}

/* "At the butt end by 345 deg." behind "At the tip end carry the thread round the tape by 12 deg." */
static const char *way_again(SheetMaker *maker, const char *before, const char *how)
{
    static const char carry[] = " carry the thread round ";
    const char *from = before && strstr(before, carry) ? strstr(how, carry) : NULL;
    return from ? text_format(maker->arena, "%.*s%s", (int)(from - how), how, strstr(from, " by ")) : how;
}

static const char *note_of(SheetMaker *maker, const SheetAction *actions, uint32_t count)
{
    const char *how = NULL; /* told last: two of one thing may be done alike */
    for (uint32_t i = 0; i < count; i++) {
        ActionKind kind = actions[i].action->kind;
        bool *told = told_how(maker, actions[i].action);
        put_sentence(maker, actions[i].own);
        bool again = told_once[kind] ? *told : how && !strcmp(how, actions[i].how);
        if (kind == ACTION_DRESS_FOOT) { /* told again of feet that differ */
            again = maker->dressed && !strcmp(maker->dressed, actions[i].how);
            maker->dressed = actions[i].how;
        }
        if (!again) {
            put_sentence(maker, kind == ACTION_LEG ? way_again(maker, how, actions[i].how) : actions[i].how);
            how = actions[i].how;
        }
        *told |= *actions[i].how != '\0';
    }
    put_sentence(maker, words_of_fade(maker, actions, count));
    return maker_take(maker);
}

/* --- facts --- */

static const SheetAction *last_of_kind(const SheetAction *actions, uint32_t count, ActionKind kind)
{
    while (count > 0)
        if (actions[--count].action->kind == kind)
            return &actions[count];
    return NULL;
}

/* Where the last turns end, how many there are by then; before any of them, where the first thing happens. */
static void put_facts(const SheetAction *actions, SheetStep *step)
{
    const SheetAction *told = last_of_kind(actions, step->count, ACTION_WIND);
    told = told ? told : actions;
    step->where = told->where;
    step->progress = told->count;
}

/* The turns and crossings of a leg, behind "pass 3 of 8". */
static const char *behind_pass(const char *count) { return count + strcspn(count, ";"); }

/* Where the leg begins and ends: after the first pass in whole degrees alone. */
static const char *where_of_leg(SheetMaker *maker, const SheetAction *leg, bool later)
{
    if (!later)
        return leg->where;
    buffer_text(words(maker), "from ");
    put_whole_degrees(words(maker), leg->action->leg.from_clock);
    buffer_text(words(maker), " to ");
    put_whole_degrees(words(maker), leg->action->leg.to_clock);
    buffer_text(words(maker), " deg");
    return maker_take(maker);
}

/* Of a pass: of each leg in turn, of the second what it has of its own; of those after the first of a layer what
 * they have of their own. Where its piece is taped on and down the legs say. */
static void put_pass_facts(SheetMaker *maker, const SheetAction *actions, SheetStep *step)
{
    const SheetAction *first = NULL, *before = maker->first_pass;
    const char *where = NULL;
    for (uint32_t i = 0; i < step->count; i++) {
        const SheetAction *leg = &actions[i];
        if (leg->action->kind != ACTION_LEG)
            continue;
        bool same_layer =
            before && before->action->place == leg->action->place && before->action->layer == leg->action->layer;
        if (!first) {
            first = leg;
            before = same_layer ? before : NULL;
            maker->first_pass = same_layer ? maker->first_pass : leg;
            bool alike = before && !strcmp(behind_pass(leg->count), behind_pass(before->count));
            step->progress =
                !alike ? leg->count : text_format(maker->arena, "%.*s", (int)strcspn(leg->count, ";"), leg->count);
            where = where_of_leg(maker, leg, before);
            continue;
        }
        bool alike = !strcmp(leg->count, first->count);
        where = text_format(maker->arena, alike ? "%s; back %s%s" : "%s; then %s; %s", where,
                            alike ? "" : leg->count, where_of_leg(maker, leg, before));
    }
    step->where = first ? where : actions->where;
    step->progress = first ? step->progress : "";
}

/* "6 o'clock, this ring at 12; then 5 o'clock": of each thing that is laid, in their order. */
static const char *clock_of(SheetMaker *maker, const SheetAction *actions, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        const char *clock = actions[i].clock;
        if (!*clock)
            continue;
        bool first = words(maker)->length == 0;
        buffer_text(words(maker), first ? "" : "; then ");
        buffer_put(words(maker), clock, first ? strlen(clock) : strcspn(clock, ","));
    }
    return maker_take(maker);
}

/* Threads that are wound in it, each once; without turns the first that it is about. */
static void put_threads(SheetMaker *maker, const SheetAction *actions, SheetStep *step)
{
    const SheetAction *last = NULL;
    step->thread = "";
    step->colour = NO_COLOUR;
    for (uint32_t i = 0; i < step->count; i++) {
        const SheetAction *action = &actions[i];
        bool winds = action->action->kind == ACTION_WIND || action->action->kind == ACTION_LEG;
        if (*action->thread && step->colour == NO_COLOUR) {
            step->thread = action->thread;
            step->colour = action->colour;
        }
        if (!winds || (last && last->action->piece == action->action->piece))
            continue;
        if (!last)
            step->colour = action->colour;
        step->thread =
            last ? text_format(maker->arena, "%s, then %s", step->thread, action->thread) : action->thread;
        last = action;
    }
}

static uint32_t turns_of(const SheetAction *actions, uint32_t count)
{
    uint32_t turns = 0;
    for (uint32_t i = 0; i < count; i++)
        turns += actions[i].action->kind == ACTION_WIND ? actions[i].action->turns : 0;
    return turns;
}

/* --- where one may stop --- */

static bool turns_in(const SheetAction *actions, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++)
        if (makes_turns(actions[i].action))
            return true;
    return false;
}

/* Whether it is not enough to tell of the next place to stop: what the next one says goes on elsewhere, when all
 * is finished here; or it comes when a crosswrap's sealing has cured. */
static bool is_told_anyway(const SheetAction *last, const SheetAction *next)
{
    const Action *action = last->action, *after = next->action;
    bool is_left = action->place != after->place || action->layer != after->layer;
    return (is_left && action->layer != WHOLE_ROD)
           || (action->kind == ACTION_SEAL && after->kind == ACTION_TAKE_ENDS);
}

/* Of places to stop without a turn between them the last is told, of actions as of steps. */
static void keep_last_stops(SheetRod *rod)
{
    for (uint32_t i = 0; i + 1 < rod->step_count; i++) {
        const SheetStep *step = &rod->steps[i], *next = step + 1;
        const SheetAction *after = &rod->actions[next->first];
        if (next->stop && !turns_in(after, next->count) && !is_told_anyway(after - 1, after))
            rod->steps[i].stop = NULL;
    }
    for (uint32_t i = 0; i + 1 < rod->action_count; i++) {
        SheetAction *action = &rod->actions[i];
        if (action[1].stop && !makes_turns(action[1].action) && !is_told_anyway(action, action + 1))
            action->stop = NULL;
    }
}

/* --- the steps --- */

static void number_actions(SheetAction *actions, const SheetStep *step)
{
    for (uint32_t i = 0; i < step->count; i++) {
        actions[i].step = step->number;
        actions[i].within = step->count > 1 ? i + 1 : 0;
    }
}

/* What the builder wrote down at the step, by the record; "" for nothing. Steps come one after the other. */
static const char *noted_at(SheetMaker *maker, uint32_t number)
{
    const Job *job = maker->plan->job;
    for (; maker->next_noted < job->note_count && job->notes[maker->next_noted].step == number;
         maker->next_noted++) {
        const RecordedNote *noted = &job->notes[maker->next_noted];
        const char *date =
            *noted->date ? text_format(maker->arena, ", %s", visible(maker->arena, noted->date)) : "";
        put_sentence(maker, text_format(maker->arena, "Noted%s: %s", date, visible(maker->arena, noted->text)));
    }
    return maker_take(maker);
}

static SheetStep words_of_one(SheetMaker *maker, const SheetRod *rod, uint32_t index)
{
    const Step *step = &rod->bench->steps[index];
    SheetAction *actions = &rod->actions[step->first];
    SheetStep made = {.number = maker->numbered_steps + index + 1,
                      .kind = step->kind,
                      .first = step->first,
                      .count = step->count,
                      .says = words_of_step(maker, rod, step),
                      .note = note_of(maker, actions, step->count),
                      .clock = clock_of(maker, actions, step->count),
                      .caution = "",
                      .turns = turns_of(actions, step->count),
                      .measure = last_of_kind(actions, step->count, ACTION_MEASURE),
                      .stop = actions[step->count - 1].stop};
    if (step->kind == STEP_PASS)
        put_pass_facts(maker, actions, &made);
    else
        put_facts(actions, &made);
    put_threads(maker, actions, &made);
    number_actions(actions, &made);
    const char *noted = noted_at(maker, made.number);
    if (*noted) {
        made.note = text_format(maker->arena, "%s%s%s", made.note, *made.note ? " " : "", noted);
        actions->detail = text_format(maker->arena, "%s%s%s", actions->detail, *actions->detail ? " " : "", noted);
    }
    return made;
}

void sheet_steps(SheetMaker *maker, SheetRod *rod)
{
    uint32_t part = 0;
    rod->step_count = rod->bench->step_count;
    rod->steps = arena_take_many(maker->arena, rod->step_count, sizeof *rod->steps);
    memset(maker->told_how, 0, sizeof maker->told_how);
    maker->dressed = NULL;
    for (uint32_t i = 0; i < rod->step_count; i++) {
        rod->steps[i] = words_of_one(maker, rod, i);
        while (rod->steps[i].first >= rod->parts[part].first + rod->parts[part].count)
            part++;
        if (rod->parts[part].step_count++ == 0)
            rod->parts[part].first_step = i;
    }
    keep_last_stops(rod);
}
