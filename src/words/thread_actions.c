/* Words for what hands do with threads: laying, winding, standing, ending, trimming. */
#include "words/sheet_maker.h"
#include "words/trade_words.h"

#include <math.h>

static Buffer *words(SheetMaker *maker) { return &maker->words; }

static void say_of(SheetMaker *maker, const char *before, const Action *action, const char *after)
{
    buffer_text(words(maker), before);
    put_pieces(maker, action_pieces(action));
    buffer_text(words(maker), after);
}

static int direction_of(const SheetMaker *maker, const Action *action)
{
    return place_of_action(maker, action)->direction;
}

/* "toward the tip, to your right". */
static void put_direction(SheetMaker *maker, const Action *action)
{
    int direction = direction_of(maker, action);
    buffer_format(words(maker), "toward the %s, to your %s", toward_word(direction), side_word(maker, direction));
}

static const char *it_or_them(const Action *action) { return action->piece_count == 1 ? "it" : "them"; }

static const char *one_or_more(const Action *action, const char *one, const char *more)
{
    return action->piece_count == 1 ? one : more;
}

typedef enum { FINGER_NOT, FINGER_UNTIL_TURNS, FINGER_UNTIL_TAPE } FingerHolds;

/* Whether a finger holds this of the piece while turns are made, and until when. */
static FingerHolds finger_holds(const SheetMaker *maker, const Action *action, HeldThing thing)
{
    const Action *end = maker->rod->actions + maker->rod->action_count;
    bool wound = false;
    for (const Action *next = action + 1; next < end && next->layer == action->layer; next++) {
        if (next->kind == ACTION_TAPE_DOWN && next->thing == thing && next->piece == action->piece)
            return wound ? FINGER_UNTIL_TAPE : FINGER_NOT;
        if (next->kind != ACTION_WIND)
            continue;
        wound = true;
        bool still = false;
        for (uint32_t i = 0; i < next->state.held_count; i++) {
            const Held *held = &next->state.held[i];
            still |= held->piece == action->piece && held->thing == thing && held->by == BY_FINGER;
        }
        if (!still)
            return FINGER_UNTIL_TURNS;
    }
    return FINGER_NOT;
}

/* "hold it with a finger until 6 turns lie over it" */
static void put_finger(SheetMaker *maker, const Action *action, HeldThing thing, const char *before,
                       uint32_t turns)
{
    FingerHolds holds = finger_holds(maker, action, thing);
    if (holds == FINGER_NOT)
        return;
    buffer_format(words(maker), "%shold %s with a finger until ", before, it_or_them(action));
    if (holds == FINGER_UNTIL_TAPE)
        buffer_text(words(maker), one_or_more(action, "it is taped", "they are taped"));
    else
        buffer_format(words(maker), "%u %s lie over %s", (unsigned)turns, turns_word(turns), it_or_them(action));
}

static bool is_cut_piece(const SheetMaker *maker, const Action *action)
{
    return is_cut_at(&maker->rod->rod->pieces[action->piece], action->layer_count);
}

/* Where an end comes out that a loop draws back: at the first turn over the loop. */
static void put_way_out(SheetMaker *maker, uint64_t loop_at)
{
    if (loop_at)
        buffer_format(words(maker), "between turns %llu and %llu of the layer", (unsigned long long)loop_at,
                      (unsigned long long)loop_at + 1);
    else
        buffer_text(words(maker), "before the first turn of the layer");
}

static bool is_on_bobbin(const SheetMaker *maker, const Action *action)
{
    return maker->rod->rod->pieces[action->piece].bobbin;
}

/* --- laying --- */

void say_load(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Load a bobbin with ");
    maker_cut(maker, action->length);
    buffer_format(words(maker), " of %s", maker->names[maker->rod->rod->pieces[action->piece].thread->index]);
    say_of(maker, ": ", action, "");
}

void explain_load(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker),
                "Wind it off its spool and cut it there. The bobbin is taped to the blank and turns with "
                "it, or goes round it from hand to hand.");
}

void say_start(SheetMaker *maker, const Action *action)
{
    bool spacer = maker->rod->rod->pieces[action->piece].spacer;
    say_of(maker, spacer ? "Start the spacer " : "Start ", action, " over its own tag");
}

/* The first three turns: P. D. Frazer, The Angler's Workshop I: Rodmaking for Beginners (1908), p. 158. */
void explain_start(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Lay its tag along the blank ");
    put_direction(maker, action);
    put_finger(maker, action, THING_TAG, ", and ", (uint32_t)maker->bench->bind);
    buffer_text(words(maker), ". Wind the first three of the turns that follow as tight as possible.");
}

void say_lay_in(SheetMaker *maker, const Action *action)
{
    say_of(maker, "Lay in ", action, ": its tag along the blank, under the next turns");
}

void explain_lay_in(SheetMaker *maker, const Action *action)
{
    bool bobbin = is_on_bobbin(maker, action), spool = !bobbin && !is_cut_piece(maker, action);
    say_of(maker, spool ? "From there " : "The long end of ", action,
           spool    ? " goes to its spool "
           : bobbin ? ", with its bobbin, points "
                    : " points ");
    put_direction(maker, action);
    buffer_text(words(maker), spool || bobbin ? "" : ": coil it up, as it turns with the blank");
    buffer_format(words(maker),
                  ". The next %u %s lie over the tag; it is only lightly held until the piece makes its own first "
                  "turns.",
                  (unsigned)action->turns, turns_word(action->turns));
}

void say_loop(SheetMaker *maker, const Action *action)
{
    say_of(maker, "Lay a loop for ", action, ", eye toward the ");
    buffer_text(words(maker), toward_word(direction_of(maker, action)));
}

void explain_loop(SheetMaker *maker, const Action *action)
{
    int direction = direction_of(maker, action);
    buffer_format(words(maker),
                  "The loop's eye to your %s, beyond the last of these turns; its two ends to your %s. ",
                  side_word(maker, direction), side_word(maker, -direction));
    buffer_format(words(maker), "%u %s will lie over it", (unsigned)action->turns, turns_word(action->turns));
    put_finger(maker, action, THING_LOOP, ": ", (uint32_t)fmin(maker->bench->loop, maker->bench->bind));
    buffer_text(words(maker), ".");
}

void put_end_of_loop(SheetMaker *maker, const Action *action)
{
    if (action->kind != ACTION_LAY_LOOP)
        return;
    buffer_text(words(maker), words(maker)->length ? " " : "");
    say_of(maker, "The end of ", action, " comes out ");
    put_way_out(maker, action->layer_count);
    buffer_text(words(maker), ".");
}

/* --- changing --- */

void say_take_up(SheetMaker *maker, const Action *action) { say_of(maker, "Take up ", action, ""); }

/* Told the first time that the piece comes back. */
static void explain_coming_back(SheetMaker *maker, const Action *action)
{
    PieceTold *piece = &maker->told[action->piece];
    if (piece->came_back)
        return;
    piece->came_back = true;
    say_of(maker, "Draw ", action, " tight");
    buffer_format(words(maker), ": the turns made meanwhile lie over %s.", it_or_them(action));
}

void explain_take_up(SheetMaker *maker, const Action *action)
{
    if (action->state.before == PIECE_STANDING)
        explain_coming_back(maker, action);
    else
        say_of(maker, "Make the first turns of ", action,
               one_or_more(action, " as tight as possible: few turns hold its tag.",
                           " as tight as possible: few turns hold their tags."));
}

void say_stand(SheetMaker *maker, const Action *action)
{
    say_of(maker, "Let ", action, " stand");
    if (!is_cut_piece(maker, action))
        buffer_text(words(maker), action->piece_count == 1 ? ": its spool rests, the blank too"
                                                           : ": the spools rest, the blank too");
}

void explain_stand(SheetMaker *maker, const Action *action)
{
    PieceTold *piece = &maker->told[action->piece];
    bool spool = !is_cut_piece(maker, action);
    if (!piece->stood) {
        say_of(maker, "Lay ", action, " along the blank ");
        put_direction(maker, action);
        buffer_format(words(maker), ": the turns made meanwhile go over %s.", it_or_them(action));
    }
    if (spool) {
        buffer_text(words(maker), piece->stood ? "" : " ");
        say_of(maker, "Do not turn the blank until ", action,
               one_or_more(action, " is taken up again", " are taken up again"));
        buffer_text(words(maker), piece->stood ? "." : ": a spool cannot turn with it.");
    }
    piece->stood = true;
}

/* What an action lays along the blank, for the next turns to lie over. */
static const char *const laid_parts[ACTION_KIND_COUNT] = {[ACTION_START] = "the tag of ",
                                                          [ACTION_LAY_IN] = "the tag of ",
                                                          [ACTION_LAY_END] = "the end of ",
                                                          [ACTION_LAY_LOOP] = "the loop for "};

enum { MOST_NAMED_UNDER = 2 }; /* more that lies under the next turns is not named */

/* " over its tag", " over the end of navy 1 and its tag": what was laid since the last turns lies under these. */
static void put_over(SheetMaker *maker, const Action *action)
{
    uint32_t laid = action->state.laid;
    if (laid == 0)
        return;
    if (laid == action->state.own_tags && laid == action->piece_count) {
        buffer_text(words(maker), action->piece_count == 1 ? " over its tag" : " over their tags");
        return;
    }
    const Action *before = action;
    while (before > maker->rod->actions && before[-1].kind != ACTION_WIND)
        before--;
    uint32_t lays = 0;
    for (const Action *each = before; each < action; each++)
        lays += laid_parts[each->kind] != NULL;
    if (lays > MOST_NAMED_UNDER || lays == 0) {
        buffer_text(words(maker), laid == 1 ? " over it" : " over all that is laid there");
        return;
    }
    const char *joint = " over ";
    for (; before < action; before++) {
        if (!laid_parts[before->kind])
            continue;
        bool own = before->kind == ACTION_START && before->piece == action->piece;
        buffer_text(words(maker), joint);
        buffer_text(words(maker),
                    own ? action->piece_count == 1 ? "its tag" : "their tags" : laid_parts[before->kind]);
        if (!own)
            put_pieces(maker, action_pieces(before));
        joint = " and ";
    }
}

void say_wind(SheetMaker *maker, const Action *action)
{
    buffer_format(words(maker), "%s %u %s of ", action->by_hand ? "Wrap" : "Wind", (unsigned)action->turns,
                  turns_word(action->turns));
    say_of(maker, "", action, action->piece_count > 1 ? " together" : "");
    buffer_text(words(maker), action->by_hand ? " by hand" : "");
    put_over(maker, action);
    buffer_text(words(maker), action->by_hand ? ", blank still" : "");
}

void say_cut_from_spool(SheetMaker *maker, const Action *action)
{
    say_of(maker, "Cut ", action, " from its spool, ");
    maker_cut(maker, action->length);
    buffer_text(words(maker), " from its last turn");
}

void explain_cut_from_spool(SheetMaker *maker, const Action *action)
{
    say_of(maker, "From here on ", action,
           " is wrapped by hand: what is cut is enough for its last turns and its end.");
}

/* "In each turn navy 1 lies next to the turns before, then slate 1, then mist 1.": of threads together, once, and
 * where one comes beside others. */
static void put_side_by_side(SheetMaker *maker, const Action *action)
{
    bool told = true;
    if (action->piece_count == 1)
        return;
    for (uint32_t i = 0; i < action->piece_count; i++) {
        PieceTold *piece = &maker->told[group_piece(action_pieces(action), i)];
        told &= piece->together;
        piece->together = true;
    }
    if (told)
        return;
    buffer_format(words(maker), "In each turn %s lies next to the turns before",
                  piece_label(maker, action->piece));
    for (uint32_t i = 1; i < action->piece_count; i++)
        buffer_format(words(maker), ", then %s", piece_label(maker, group_piece(action_pieces(action), i)));
    buffer_text(words(maker), ".");
}

void explain_wind(SheetMaker *maker, const Action *action)
{
    put_side_by_side(maker, action);
    put_fade(maker, action);
}

/* --- ending --- */

void say_lay_end(SheetMaker *maker, const Action *action)
{
    say_of(maker, "Cut ", action,
           action->piece_count == 1 ? ", lay its end along the blank, under the next turns"
                                    : ", lay their ends along the blank, under the next turns");
}

void explain_lay_end(SheetMaker *maker, const Action *action)
{
    say_of(maker, "Hold the last turn of ", action, " with a finger and cut ");
    maker_cut(maker, maker->bench->free);
    buffer_text(words(maker), " from the blank. Lay the end ");
    put_direction(maker, action);
    static const char *const by_finger[] = {[FINGER_NOT] = "",
                                            [FINGER_UNTIL_TURNS] = ", a finger until then",
                                            [FINGER_UNTIL_TAPE] = ", a finger until it is taped"};
    if (maker->rod->rod->pieces[action->piece].spacer) {
        buffer_text(words(maker), ": it comes off again with the spacer");
        put_finger(maker, action, THING_END, "; ", (uint32_t)maker->bench->bind);
    } else
        buffer_format(words(maker), ": the next %u %s hold it%s", (unsigned)action->turns,
                      turns_word(action->turns), by_finger[finger_holds(maker, action, THING_END)]);
    buffer_text(words(maker), ".");
}

void say_pull(SheetMaker *maker, const Action *action)
{
    uint32_t turns = action->state.covered;
    say_of(maker, "Cut ", action, ", end through the loop, draw it back under the last ");
    buffer_format(words(maker), "%u %s", (unsigned)turns, turns_word(turns));
}

void explain_pull(SheetMaker *maker, const Action *action)
{
    say_of(maker, "Hold the last turn of ", action, " with a finger, cut ");
    maker_cut(maker, maker->bench->free);
    buffer_text(words(maker),
                " from the blank, put the end through the loop's eye, and draw the loop by its two ends, "
                "slowly. The end comes out ");
    put_way_out(maker, action->layer_count - action->state.covered);
    buffer_text(words(maker), ".");
}

static void explain_trim(SheetMaker *maker)
{
    buffer_text(
        words(maker),
        "Draw what is trimmed tight and cut away from the blank: never press, never draw the blade round.");
}

void say_trim_tag(SheetMaker *maker, const Action *action) { say_of(maker, "Trim the tag of ", action, ""); }

void explain_trim_tag(SheetMaker *maker, const Action *action)
{
    buffer_format(words(maker), "%u turns hold ", (unsigned)action->state.covered);
    say_of(maker, "the tag of ", action, ". ");
    explain_trim(maker);
}

void say_trim_end(SheetMaker *maker, const Action *action) { say_of(maker, "Trim the end of ", action, ""); }

void explain_trim_end(SheetMaker *maker, const Action *action)
{
    (void)action;
    explain_trim(maker);
}

/* --- tape --- */

/* "the tag of navy 1"; of a line its bobbin, or the piece itself. */
static void put_thing(SheetMaker *maker, const Action *action)
{
    static const char *const of_one[HELD_THING_COUNT] = {[THING_TAG] = "the tag of ",
                                                         [THING_LINE] = "",
                                                         [THING_END] = "the end of ",
                                                         [THING_LOOP] = "the loop for "};
    bool bobbin = action->thing == THING_LINE && is_on_bobbin(maker, action);
    say_of(maker, bobbin ? "the bobbin of " : of_one[action->thing], action, "");
}

void say_tape_down(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Tape down ");
    put_thing(maker, action);
}

void explain_tape_down(SheetMaker *maker, const Action *action)
{
    bool spool_line = action->thing == THING_LINE && !is_cut_piece(maker, action);
    if (action->turns > 0) {
        buffer_text(words(maker), "Put the tape on ");
        put_thing(maker, action);
    }
    if (action->turns == CLEAR_OF_ALL)
        buffer_text(words(maker), " behind the turns.");
    else if (action->turns > 0) {
        buffer_text(words(maker), " clear of the next ");
        if (action->turns > 1)
            buffer_format(words(maker), "%u ", (unsigned)action->turns);
        buffer_text(words(maker), turns_word(action->turns));
        if (action->thing == THING_LINE && !spool_line)
            buffer_format(words(maker), ": of all that come before %s taken up",
                          one_or_more(action, "it is", "they are"));
        buffer_text(words(maker), ".");
    }
    if (spool_line)
        say_of(maker, action->turns > 0 ? " Ease the tension of " : "Ease the tension of ", action, ".");
}

void say_untape(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Take the tape off ");
    put_thing(maker, action);
}

void explain_untape(SheetMaker *maker, const Action *action)
{
    (void)maker;
    (void)action;
}

void say_take_spacer(SheetMaker *maker, const Action *action) { say_of(maker, "Unwind the spacer ", action, ""); }

void explain_take_spacer(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(
        words(maker),
        "Draw its end out from under the turns that lie over it, turn the blank back and unwind it from its "
        "last turn to its first; its tag comes last. Its even gap stays.");
}
