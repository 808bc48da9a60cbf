/* Steps in words: what several actions do, told in one sentence. A step of one action says what that says. */
#include "words/sheet_maker.h"

#include "plan/plan_sums.h"
#include "words/trade_words.h"

#include <math.h>

static Buffer *words(SheetMaker *maker) { return &maker->words; }

/* The step at hand, told action by action. */
typedef struct Telling {
    SheetMaker *maker;
    const SheetAction *all; /* of the step, in words */
    const Action *first, *at, *end;
    const Action *named; /* whose pieces were named last */
    bool trimmed;        /* told last: a tag or an end is trimmed; */
    bool trimmed_taped;  /* the tape taken off it */
} Telling;

static void begin_clause(Telling *telling, const char *joint)
{
    buffer_text(words(telling->maker), words(telling->maker)->length ? joint : "");
}

static void name_pieces(Telling *telling)
{
    put_pieces(telling->maker, action_pieces(telling->at));
    telling->named = telling->at;
}

static bool same_pieces(const Action *one, const Action *other)
{
    return one && same_group(action_pieces(one), action_pieces(other));
}

static bool frees_line(const Action *action)
{
    return action->kind == ACTION_UNTAPE && action->thing == THING_LINE;
}

static bool several(const Telling *telling) { return telling->at->piece_count > 1; }

/* --- what is laid --- */

static void put_under(Telling *telling)
{
    unsigned turns = telling->at->turns;
    if (turns == 0)
        buffer_text(words(telling->maker), " along the blank");
    else /* several: tags, ends and loops take more than one */
        buffer_format(words(telling->maker), " under the next %u turns", turns);
}

/* Whether no turn lies beside it that was made before: the layer begins with it, or what comes after a gap. */
static bool begins_stretch(const SheetMaker *maker, const Action *action)
{
    for (const Action *before = action; before-- > maker->rod->actions;) {
        if (before->place != action->place || before->layer != action->layer || before->kind == ACTION_LEG)
            return true;
        if (before->kind == ACTION_START)
            return false;
        if (before->kind == ACTION_WIND)
            return fabs(before->position - action->position) > NO_GAP;
    }
    return true;
}

/* Turns that begin elsewhere than at the mark: where. */
static void put_beginning(Telling *telling)
{
    SheetMaker *maker = telling->maker;
    double from = from_datum(place_of_action(maker, telling->at), telling->at->position);
    if (reads_nothing(maker->bench->rule, from) || !begins_stretch(maker, telling->at))
        return;
    buffer_text(words(maker), ", ");
    maker_from_mark(maker, from);
}

static void tell_start(Telling *telling)
{
    bool spacer = telling->maker->rod->rod->pieces[telling->at->piece].spacer;
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), spacer ? "start the spacer " : "start ");
    name_pieces(telling);
    buffer_text(words(telling->maker), several(telling) ? " over their own tags" : " over its own tag");
    put_beginning(telling);
}

static void tell_lay_in(Telling *telling)
{
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), "lay in ");
    name_pieces(telling);
    put_under(telling);
}

static void tell_loop(Telling *telling)
{
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), "lay a loop for ");
    name_pieces(telling);
    put_under(telling);
}

/* "cut ", "untape and cut ": tape comes off a thread right before it is cut. */
static void begin_cut(Telling *telling)
{
    const Action *before = telling->at > telling->first ? telling->at - 1 : NULL;
    bool untaped = before && frees_line(before) && same_pieces(before, telling->at);
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), untaped ? "untape and cut " : "cut ");
}

static void tell_cut(Telling *telling)
{
    begin_cut(telling);
    name_pieces(telling);
    buffer_text(words(telling->maker), several(telling) ? ", their ends" : ", its end");
    put_under(telling);
}

static void tell_cut_from_spool(Telling *telling)
{
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), "cut ");
    name_pieces(telling);
    buffer_text(words(telling->maker),
                several(telling) ? " from their spools, leaving " : " from its spool, leaving ");
    maker_cut(telling->maker, telling->at->length);
}

static void tell_draw(Telling *telling)
{
    unsigned turns = telling->at->state.covered;
    begin_cut(telling);
    name_pieces(telling);
    buffer_format(words(telling->maker), ", draw its end back by the loop under the last %u %s", turns,
                  turns_word(turns));
}

/* --- changing: told where no turns follow that name the thread --- */

static bool winds_later(const Telling *telling)
{
    for (const Action *action = telling->at; action < telling->end; action++)
        if (action->kind == ACTION_WIND)
            return true;
    return false;
}

static void tell_stand(Telling *telling)
{
    if (winds_later(telling))
        return;
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), "let ");
    name_pieces(telling);
    buffer_text(words(telling->maker), " stand");
}

static void tell_take_up(Telling *telling)
{
    if (winds_later(telling))
        return;
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), "take up ");
    name_pieces(telling);
}

/* --- turns --- */

/* Winding and packing by turns: the last of them, how many turns, and where they are packed between. */
typedef struct Winds {
    const Action *last; /* the last winding */
    uint32_t turns, packings;
    uint32_t first_pack, apart; /* turns before the first packing; between the others, 0 where that differs */
} Winds;

static Winds winds_of(const Telling *telling)
{
    Winds winds = {.last = telling->at, .turns = telling->at->turns};
    uint32_t since = winds.turns;
    const Action *action = telling->at + 1;
    for (; action + 1 < telling->end && action->kind == ACTION_PACK && action[1].kind == ACTION_WIND;
         action += 2) {
        if (winds.packings == 0)
            winds.first_pack = since;
        else if (winds.packings == 1)
            winds.apart = since;
        else if (winds.apart != since)
            winds.apart = 0;
        winds.packings++;
        winds.turns += since = action[1].turns;
        winds.last = action + 1;
    }
    return winds;
}

static void put_packings(Telling *telling, const Winds *winds)
{
    const Action *at = telling->at;
    if (winds->packings == 0)
        return;
    buffer_format(words(telling->maker), ", packing toward the %s ",
                  toward_word(-place_of_action(telling->maker, at)->direction));
    if (winds->packings == 1)
        buffer_format(words(telling->maker), "after %u", (unsigned)winds->first_pack);
    else if (winds->apart == winds->first_pack)
        buffer_format(words(telling->maker), "every %u", (unsigned)winds->apart);
    else if (winds->apart)
        buffer_format(words(telling->maker), "after %u, then every %u", (unsigned)winds->first_pack,
                      (unsigned)winds->apart);
    else
        buffer_format(words(telling->maker), "%u times on the way", (unsigned)winds->packings);
}

static void tell_wind(Telling *telling)
{
    const Action *at = telling->at;
    bool after_hand = telling->named && telling->named->kind == ACTION_WIND;
    bool untaped = telling->named && frees_line(telling->named) && same_pieces(telling->named, at);
    Winds winds = winds_of(telling);
    begin_clause(telling, after_hand ? ", then " : untaped ? ", " : "; ");
    buffer_format(words(telling->maker), "%s %u %s", at->by_hand ? "wrap" : "wind", (unsigned)winds.turns,
                  turns_word(winds.turns));
    bool named = untaped
                 || (same_pieces(telling->named, at)
                     && (telling->named->kind == ACTION_START || telling->named->kind == ACTION_CUT_FROM_SPOOL));
    if (!named) {
        buffer_text(words(telling->maker), " of ");
        name_pieces(telling);
        buffer_text(words(telling->maker), several(telling) ? " together" : "");
    }
    buffer_text(words(telling->maker), at->by_hand ? " by hand" : "");
    put_packings(telling, &winds);
    telling->named = at;
    telling->at = winds.last;
}

/* --- after the turns --- */

static void tell_pack(Telling *telling)
{
    begin_clause(telling, "; ");
    buffer_format(words(telling->maker), "pack toward the %s",
                  toward_word(-place_of_action(telling->maker, telling->at)->direction));
}

static void tell_measure(Telling *telling)
{
    begin_clause(telling, "; ");
    buffer_text(words(telling->maker), "measure: it should be ");
    maker_callipers(telling->maker, telling->at->length);
}

/* Of the step, from `from` up to `to`, the action of this kind on the same thing of the same pieces; NULL for
 * none. */
static const Action *found(const Action *from, const Action *to, ActionKind kind, const Action *like,
                           HeldThing thing)
{
    for (; from < to; from++)
        if (from->kind == kind && same_pieces(from, like) && (kind != ACTION_UNTAPE || from->thing == thing))
            return from;
    return NULL;
}

/* Whose tag or end it is goes without saying behind another trim of that piece, and where the step is of that
 * piece alone: what only waits meanwhile is not told. */
static bool is_plainly_its(const Telling *telling)
{
    const Action *at = telling->at;
    if (several(telling) || !same_pieces(telling->named, at))
        return false;
    if (telling->trimmed)
        return true;
    for (const Action *before = telling->first; before < at; before++)
        if (before->piece != NO_PIECE && before->kind != ACTION_STAND && before->kind != ACTION_TAKE_UP
            && !same_pieces(before, at))
            return false;
    return true;
}

static void tell_trim(Telling *telling)
{
    const Action *at = telling->at;
    bool tag = at->kind == ACTION_TRIM_TAG;
    HeldThing thing = tag ? THING_TAG : THING_END;
    bool taped = found(telling->first, at, ACTION_UNTAPE, at, thing);
    bool goes_on = telling->trimmed && telling->trimmed_taped == taped;
    begin_clause(telling, goes_on ? " and " : "; ");
    if (!goes_on)
        buffer_text(words(telling->maker), taped ? "untape and trim " : "trim ");
    bool its = is_plainly_its(telling);
    telling->trimmed = true;
    telling->trimmed_taped = taped;
    if (its) {
        buffer_text(words(telling->maker), tag ? "its tag" : "its end");
        return;
    }
    buffer_text(words(telling->maker), tag ? "the tag of " : "the end of ");
    name_pieces(telling);
}

/* Every action's own words begin with a capital. */
static void tell_as_it_is(Telling *telling)
{
    const char *says = telling->all[telling->at - telling->first].says;
    begin_clause(telling, "; ");
    buffer_format(words(telling->maker), "%c%s", says[0] + ('a' - 'A'), says + 1);
}

/* --- tape --- */

static bool lays(const Action *action)
{
    return action->kind == ACTION_LAY_IN || action->kind == ACTION_LAY_LOOP || action->kind == ACTION_LAY_END
           || action->kind == ACTION_START;
}

/* Right after it was laid, or led by hand. */
static void tell_tape_down(Telling *telling)
{
    static const char *const just_laid[HELD_THING_COUNT] = {[THING_TAG] = ", its tag taped",
                                                            [THING_LINE] = ", its long end taped",
                                                            [THING_END] = ", taped",
                                                            [THING_LOOP] = ", taped"};
    const Action *at = telling->at, *before = at > telling->first ? at - 1 : NULL;
    bool bobbin = telling->maker->rod->rod->pieces[at->piece].bobbin;
    bool both = at->thing == THING_TAG && at + 1 < telling->end && at[1].kind == ACTION_TAPE_DOWN
                && at[1].thing == THING_LINE && same_pieces(at, at + 1);
    if (!before || !same_pieces(telling->named, at) || several(telling)) {
        tell_as_it_is(telling);
        telling->named = at;
    } else if (before->kind == ACTION_WIND && at->thing == THING_LINE)
        buffer_text(words(telling->maker), bobbin ? ", tape its bobbin down" : ", tape it down");
    else if (lays(before) && both) {
        buffer_format(words(telling->maker), ", its tag and %s taped", bobbin ? "bobbin" : "long end");
        telling->at++;
    } else if (lays(before))
        buffer_text(words(telling->maker),
                    bobbin && at->thing == THING_LINE ? ", its bobbin taped" : just_laid[at->thing]);
    else
        tell_as_it_is(telling);
}

/* Of a tag or an end it is told where that is trimmed, if it is trimmed in this step; of a line where it is cut.
 */
static void tell_untape(Telling *telling)
{
    const Action *at = telling->at, *after = at + 1;
    bool cut = after < telling->end && (after->kind == ACTION_LAY_END || after->kind == ACTION_PULL_THROUGH);
    if (cut && frees_line(at) && same_pieces(at, after))
        return;
    if ((at->thing == THING_TAG && found(after, telling->end, ACTION_TRIM_TAG, at, THING_TAG))
        || (at->thing == THING_END && found(after, telling->end, ACTION_TRIM_END, at, THING_END)))
        return;
    static const char *const things[HELD_THING_COUNT] = {[THING_TAG] = "the tag of ",
                                                         [THING_LINE] = "",
                                                         [THING_END] = "the end of ",
                                                         [THING_LOOP] = "the loop for "};
    begin_clause(telling, "; ");
    buffer_format(words(telling->maker), "untape %s", things[at->thing]);
    name_pieces(telling);
}

/* Back beside the same pass, on the same side, as the leg out. */
static void tell_leg(Telling *telling)
{
    const Action *at = telling->at, *out = at > telling->first ? at - 1 : NULL;
    bool alike = out && out->kind == ACTION_LEG && at->leg.leg == LEG_BACK && out->leg.side == at->leg.side
                 && out->leg.neighbour == at->leg.neighbour;
    if (!alike) {
        tell_as_it_is(telling);
        return;
    }
    begin_clause(telling, "; ");
    buffer_format(words(telling->maker), "back toward the %s likewise",
                  at->leg.to > at->leg.from ? "tip" : "butt");
}

typedef void Tell(Telling *telling);

/* Kinds without a row are told in their own words. */
static Tell *const tells[ACTION_KIND_COUNT] = {
    [ACTION_START] = tell_start,
    [ACTION_LAY_IN] = tell_lay_in,
    [ACTION_LAY_LOOP] = tell_loop,
    [ACTION_LAY_END] = tell_cut,
    [ACTION_STAND] = tell_stand,
    [ACTION_TAKE_UP] = tell_take_up,
    [ACTION_WIND] = tell_wind,
    [ACTION_PACK] = tell_pack,
    [ACTION_MEASURE] = tell_measure,
    [ACTION_LEG] = tell_leg,
    [ACTION_CUT_FROM_SPOOL] = tell_cut_from_spool,
    [ACTION_TAPE_DOWN] = tell_tape_down,
    [ACTION_UNTAPE] = tell_untape,
    [ACTION_PULL_THROUGH] = tell_draw,
    [ACTION_TRIM_TAG] = tell_trim,
    [ACTION_TRIM_END] = tell_trim,
};

static void capitalise(Buffer *buffer)
{
    if (buffer->length && buffer->bytes[0] >= 'a' && buffer->bytes[0] <= 'z')
        buffer->bytes[0] = (char)(buffer->bytes[0] - ('a' - 'A'));
}

const char *words_of_step(SheetMaker *maker, const SheetRod *rod, const Step *step)
{
    const Action *first = rod->bench->actions + step->first;
    Telling telling = {maker, rod->actions + step->first, first, first, first + step->count, NULL, false, false};
    if (step->count == 1)
        return telling.all->says;
    for (; telling.at < telling.end; telling.at++) {
        ActionKind kind = telling.at->kind;
        Tell *tell = tells[kind];
        if (kind != ACTION_TRIM_TAG && kind != ACTION_TRIM_END && kind != ACTION_UNTAPE)
            telling.trimmed = false;
        (tell ? tell : tell_as_it_is)(&telling);
    }
    capitalise(words(maker));
    return maker_take(maker);
}
