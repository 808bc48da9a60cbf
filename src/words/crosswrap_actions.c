/* Words for crosswraps: setting out, the legs of every pass, and what becomes of their ends. */
#include "words/crosswrap_words.h"
#include "words/sheet_maker.h"
#include "base/table.h"
#include "plan/plan_sums.h"
#include "trade/trade.h"
#include "words/trade_words.h"

#include <math.h>

static Buffer *words(SheetMaker *maker) { return &maker->words; }

static const PlannedCrosswrap *crosswrap_of(const SheetMaker *maker, const Action *action)
{
    return layer_of_action(maker, action)->crosswrap;
}

static void put_from_datum(SheetMaker *maker, const Action *action, double x)
{
    maker_rule(maker, from_datum(place_of_action(maker, action), x));
}

/* What is said once in a layer; true the first time. */
static bool not_yet_told(bool *told)
{
    bool first = !*told;
    *told = true;
    return first;
}

/* Name; what the passes turn round on; how it is put there, in short and at length: there is no such action where
 * nothing but friction holds the ends. Two turns of tape, and where pins go: common practice, no source. */
#define HOLDERS(X)                                                                                                \
    X(TAPE, "the tape", "Tape round the blank, just outside both end bands",                                      \
      "At each end two turns of it, with the sticky side out in the last: every pass turns round on it")          \
    X(PINS, "the pins", "Set pins round the blank, just outside both end bands",                                  \
      "In a collar, never in the blank, heads leaning outward: every pass turns round on them")                   \
    X(NONE, "the blank", "", "")

static const struct {
    const char *name, *says, *how;
} holders[HOLD_COUNT] = {
#define X(name, ...) [HOLD_##name] = {__VA_ARGS__},
    HOLDERS(X)
#undef X
};
_Static_assert(TABLE_ROWS(HOLDERS) == HOLD_COUNT, "whatever holds the ends has its words");

static const char *holder(const SheetMaker *maker) { return holders[maker->bench->ends].name; }

/* --- before the passes ---
 *
 * How marks, pins, sealing and cut ends are seen to: common practice, no source. */

void say_set_out(SheetMaker *maker, const Action *action)
{
    const PlannedCrosswrap *planned = crosswrap_of(maker, action);
    buffer_format(words(maker), "Set out the %s: ", crosswrap_word(planned));
    if (!crosswrap_line_count(planned)) {
        buffer_format(words(maker), planned->starts == 1 ? "where it begins" : "where its %u starts begin",
                      (unsigned)planned->starts);
        return;
    }
    uint32_t lines = crosswrap_line_count(planned);
    buffer_format(words(maker), "%u %s, crossings ", (unsigned)lines,
                  lines == 1 ? "crossing line" : "crossing lines");
    maker_callipers(maker, planned->spacing);
    buffer_text(words(maker), " apart");
}

static const char template_words[] =
    "Wrap the PDF sheet's template round the blank, its mark on yours, and mark the blank through it with a wax "
    "pencil; or by hand: ";

static void put_spiral_starts(SheetMaker *maker, const Action *action, const PlannedCrosswrap *planned)
{
    buffer_text(words(maker), template_words);
    buffer_text(words(maker), planned->starts == 1 ? "the first strand enters the field at "
                                                   : "the first strand of each start enters the field at ");
    for (uint32_t start = 0; start < planned->starts; start++) {
        buffer_text(words(maker), start == 0 ? "" : start + 1 == planned->starts ? " and " : ", ");
        put_clock(words(maker), clock_degrees(crosswrap_turn(planned, start, LEG_OUT, planned->strands[0].middle,
                                                             planned->field_start)));
    }
    buffer_text(words(maker), ", ");
    put_from_datum(maker, action, planned->field_start);
    buffer_text(words(maker), " from the mark. ");
}

static void put_lines(SheetMaker *maker, const Action *action, const PlannedCrosswrap *planned)
{
    buffer_text(words(maker), template_words);
    for (uint32_t family = 1; family <= crosswrap_families(planned); family++) {
        buffer_text(words(maker), family > 1 ? "; " : "");
        put_family(words(maker), maker->bench->units, &maker->bench->rule, place_of_action(maker, action), planned,
                   family);
    }
    buffer_text(words(maker), ". ");
}

void explain_set_out(SheetMaker *maker, const Action *action)
{
    const PlannedLayer *layer = layer_of_action(maker, action);
    const PlannedCrosswrap *planned = layer->crosswrap;
    if (crosswrap_line_count(planned))
        put_lines(maker, action, planned);
    else
        put_spiral_starts(maker, action, planned);
    buffer_text(words(maker), "Mark also where the end bands end: ");
    put_from_datum(maker, action, planned->field_start);
    buffer_text(words(maker), " and ");
    put_from_datum(maker, action, planned->field_end);
    buffer_text(words(maker),
                ". Degrees go round the blank as hours do, clockwise as you look from the butt to the tip, with 0 "
                "at 12 o'clock, the rod's line. Wax pencil, never a point");
    buffer_text(words(maker), action->layer > 0 || place_of_action(maker, action)->host
                                  ? "; small marks where strands will lie, since wax is not wiped off thread."
                                  : ".");
}

void say_hold_ends(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker), holders[maker->bench->ends].says);
}

/* "2 pins to your left, at 43 deg (about 1:30) and 313 deg (about 10:30)": where the first strand comes to this
 * end of the layer and where it leaves it; those of further starts lie evenly round the blank. */
static void put_pins(SheetMaker *maker, const PlannedCrosswrap *planned, double x, int side)
{
    uint32_t legs = leg_count(planned), starts = planned->starts;
    buffer_format(words(maker), "%u %s to your %s, at ", (unsigned)(starts * legs),
                  starts * legs == 1 ? "pin" : "pins", side_word(maker, side));
    for (uint32_t leg = 0; leg < legs; leg++) {
        buffer_text(words(maker), leg ? " and " : "");
        put_clock(words(maker),
                  clock_degrees(crosswrap_turn(planned, 0, (Leg)leg, planned->strands[0].middle, x)));
    }
    if (starts > 1) {
        buffer_text(words(maker), ", and every ");
        put_way_round(words(maker), 360.0 / starts);
        buffer_text(words(maker), " from there");
    }
}

static void explain_pins(SheetMaker *maker, const Action *action)
{
    const PlannedLayer *layer = layer_of_action(maker, action);
    int direction = place_of_action(maker, action)->direction;
    put_pins(maker, layer->crosswrap, layer->start, -direction);
    buffer_text(words(maker), "; ");
    put_pins(maker, layer->crosswrap, layer->end, direction);
    buffer_text(words(maker), "; the rod's line is at 12. Where strands crowd on a pin, set another beside it. ");
}

void explain_hold_ends(SheetMaker *maker, const Action *action)
{
    const PlannedLayer *layer = layer_of_action(maker, action);
    int direction = place_of_action(maker, action)->direction;
    double start = from_datum(place_of_action(maker, action), layer->start);
    buffer_format(words(maker), "To the %s of ", side_word(maker, -direction));
    if (!reads_nothing(maker->bench->rule, start)) {
        maker_rule(maker, start);
        buffer_text(words(maker), " from ");
    }
    buffer_format(words(maker), "the mark, and to the %s of ", side_word(maker, direction));
    put_from_datum(maker, action, layer->end);
    buffer_text(words(maker), " from it. ");
    if (maker->bench->ends == HOLD_PINS)
        explain_pins(maker, action);
    buffer_format(words(maker), "%s, ", holders[maker->bench->ends].how);
    maker_cut(maker, TURNED_BEYOND);
    buffer_text(words(maker), " out at most: that much thread is cut for it.");
}

/* --- a piece comes and goes --- */

/* The side, "left" or "right", of the end of the layer where the action happens. */
static const char *side_of_action(const SheetMaker *maker, const Action *action)
{
    const PlannedLayer *layer = layer_of_action(maker, action);
    return side_word(maker, action->position > (layer->start + layer->end) / 2 ? 1 : -1);
}

static void put_piece(SheetMaker *maker, const Action *action)
{
    if (maker->rod->rod->pieces[action->piece].spacer)
        buffer_text(words(maker), "the spacer ");
    put_pieces(maker, action_pieces(action));
}

void say_tie_on(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Tape on ");
    put_piece(maker, action);
}

void explain_tie_on(SheetMaker *maker, const Action *action)
{
    const Thread *thread = maker->rod->rod->pieces[action->piece].thread;
    if (not_yet_told(&maker->crosswrap.tied_on)) {
        buffer_text(words(maker), "Tape ");
        maker_cut(maker, maker->bench->free);
        buffer_format(words(maker),
                      " of its end to the blank, to your %s, beyond %s, where its first leg begins. Its spool "
                      "then feeds it without a stop.",
                      side_of_action(maker, action), holder(maker));
    }
    if (!thread->colour_count)
        return;
    buffer_text(words(maker), maker->words.length ? " " : "");
    if (not_yet_told(&maker->crosswrap.coloured))
        buffer_format(words(maker),
                      "Draw it off until its first colour, #%06x, begins where it is led over the end band.",
                      (unsigned)thread->colours[0] & 0xffffff);
    else
        buffer_format(words(maker), "Its first colour, #%06x, begins there, too.",
                      (unsigned)thread->colours[0] & 0xffffff);
}

void say_tie_off(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Tape down and cut ");
    put_piece(maker, action);
}

void explain_tie_off(SheetMaker *maker, const Action *action)
{
    if (!not_yet_told(&maker->crosswrap.tied_off))
        return;
    buffer_format(words(maker), "Tape its end to the blank, to your %s, beyond %s, and cut it ",
                  side_of_action(maker, action), holder(maker));
    maker_cut(maker, maker->bench->free);
    buffer_text(words(maker), " from there.");
}

/* --- legs --- */

static const char *leg_word(const LegAction *leg)
{
    bool up = leg->to > leg->from;
    if (leg->leg == LEG_BACK)
        return up ? "Back toward the tip" : "Back toward the butt";
    return up ? "Out toward the tip" : "Out toward the butt";
}

void say_leg(SheetMaker *maker, const Action *action)
{
    const LegAction *leg = &action->leg;
    buffer_format(words(maker), "%s: ", leg_word(leg));
    put_pieces(maker, action_pieces(action));
    if (leg->neighbour == NO_PASS)
        buffer_text(words(maker),
                    leg_count(crosswrap_of(maker, action)) > 1 ? ", along the marks" : ", from its mark");
    else
        buffer_format(words(maker), ", against pass %u, on its %s side", (unsigned)leg->neighbour + 1,
                      leg->side > 0 ? "tip" : "butt");
}

/* How legs are wound: once a way. */
static void explain_way(SheetMaker *maker, const Action *action)
{
    const LegAction *leg = &action->leg;
    int way = leg->to > leg->from ? 1 : -1;
    if (!not_yet_told(&maker->crosswrap.legs[leg->leg]))
        return;
    if (leg->leg == LEG_OUT)
        buffer_format(words(maker),
                      "The tip side of a thread is to your %s. Let the blank turn "
                      "and lead the thread steadily to your %s",
                      side_word(maker, 1), side_word(maker, way));
    else
        buffer_format(words(maker),
                      "The blank goes on turning the same way; lead the thread to your %s, across "
                      "all that lies there",
                      side_word(maker, way));
    buffer_text(words(maker), leg->neighbour == NO_PASS && leg->marks ? ", over every mark. " : ". ");
}

/* "At the tip end carry the thread round the tape by 43 deg." */
static void explain_dwell(SheetMaker *maker, const Action *action)
{
    if (lround(action->leg.dwell) == 0)
        return;
    buffer_format(words(maker), "At the %s end carry the thread round %s by ",
                  action->leg.to > action->leg.from ? "tip" : "butt", holder(maker));
    put_way_round(words(maker), action->leg.dwell);
    buffer_text(words(maker), ".");
}

void explain_leg(SheetMaker *maker, const Action *action)
{
    explain_way(maker, action);
    explain_dwell(maker, action);
    /* Nothing goes on from here: no blank at the end. */
    while (maker->words.length && maker->words.bytes[maker->words.length - 1] == ' ')
        maker->words.length--;
}

const char *words_of_pass(SheetMaker *maker, const Action *action)
{
    const PlannedCrosswrap *planned = crosswrap_of(maker, action);
    const LegAction *leg = &action->leg;
    buffer_format(words(maker), "pass %u of %u", (unsigned)leg->pass + 1, (unsigned)planned->pass_count);
    if (planned->starts > 1)
        buffer_format(words(maker), ", strand %u, start %u", (unsigned)pass_strand(planned, leg->pass) + 1,
                      (unsigned)pass_start(planned, leg->pass) + 1);
    if (leg->marks)
        buffer_format(words(maker), leg->marks == 1 ? "; %u crossing" : "; %u crossings", (unsigned)leg->marks);
    buffer_text(words(maker), "; ");
    buffer_number(words(maker), leg->turns, 2);
    buffer_text(words(maker), " turns");
    return maker_take(maker);
}

const char *words_round(SheetMaker *maker, const Action *action)
{
    const LegAction *leg = &action->leg;
    buffer_text(words(maker), action->kind == ACTION_LEG ? "from " : "at ");
    put_clock(words(maker), leg->from_clock);
    if (action->kind == ACTION_LEG) {
        buffer_text(words(maker), " to ");
        put_clock(words(maker), leg->to_clock);
    }
    put_rods_line(maker);
    return maker_take(maker);
}

/* --- between and after --- */

void say_symmetry(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), crosswrap_of(maker, action)->starts == 1
                                  ? "Check the first pass before adding strands: is it even?"
                                  : "Check the first passes before adding strands: are they even?");
}

void explain_symmetry(SheetMaker *maker, const Action *action)
{
    const PlannedCrosswrap *planned = crosswrap_of(maker, action);
    if (crosswrap_line_count(planned)) {
        buffer_text(words(maker),
                    "Turn the blank slowly by hand. On every crossing line, the far side's too, each "
                    "crossing lies on its mark, and from one to the next it is ");
        maker_callipers(maker, planned->spacing);
        buffer_text(words(maker), ".");
    } else {
        buffer_text(words(maker), "Turn the blank slowly by hand. From turn to turn, and from start to start, the "
                                  "way along the blank is the same all over the field.");
    }
    buffer_text(words(maker),
                " Push what is off into place with something blunt: later strands lie against these. "
                "A thread that still runs is taped down while you stop.");
}

void say_unwind(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Take off ");
    put_piece(maker, action);
}

void explain_unwind(SheetMaker *maker, const Action *action)
{
    if (!not_yet_told(&maker->crosswrap.unwound))
        return;
    if (leg_count(crosswrap_of(maker, action)) > 1)
        buffer_format(words(maker),
                      "Cut it on %s, where it turns round, and draw its legs out lengthwise from "
                      "under the others, the last first. Its even gap stays.",
                      holder(maker));
    else
        buffer_text(words(maker), "Loosen its ends, turn the blank back and unwind it. Its even gap stays.");
}

void say_take_ends(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker), "Cut all strands at both end bands");
    if (maker->bench->ends != HOLD_NONE)
        buffer_format(words(maker), " and take %s %s", holder(maker),
                      maker->bench->ends == HOLD_PINS ? "out" : "off");
}

void explain_take_ends(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(
        words(maker),
        "Only when the sealing is hard. Just outside the end bands slide something thin and smooth under a few "
        "strands at a time, lift them off what lies below, and cut them on it with a new blade: away from the blank, "
        "never press, never draw the blade round. All that lies outside comes off.");
}

void say_pack_strands(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(words(maker), "Close up the strands");
}

void explain_pack_strands(SheetMaker *maker, const Action *action)
{
    if (!not_yet_told(&maker->packed))
        return;
    buffer_text(words(maker),
                "With something blunt and smooth, along each leg, until they touch from one end to the other");
    buffer_text(words(maker), crosswrap_line_count(crosswrap_of(maker, action))
                                  ? " and the crossings lie on their crossing lines."
                                  : ".");
}

void say_seal_crosswrap(SheetMaker *maker, const Action *action)
{
    const char *what = text_format(maker->arena, "the %s", crosswrap_word(crosswrap_of(maker, action)));
    say_sealing(maker, action, what, "cure hard");
}

void explain_seal_crosswrap(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Marks that show in the field come off first, lifted dry. ");
    explain_preserving(maker, action);
    buffer_text(words(maker),
                "Brush field and end bands, and nothing outside them: what is sealed there would not come off.");
    if (maker->bench->ends != HOLD_NONE)
        buffer_format(words(maker),
                      " It has to be hard before %s: until then nothing else holds the strands' ends.",
                      maker->bench->ends == HOLD_PINS ? "the pins come out" : "the tape comes off");
    put_air(maker, action);
}

void put_end_band(SheetMaker *maker, const Action *action)
{
    if (action->kind != ACTION_START || !layer_of_action(maker, action)->crosswrap)
        return;
    const PlannedCrosswrap *planned = crosswrap_of(maker, action);
    buffer_format(words(maker), "This end band, %u %s, lies over all strands and holds them.",
                  (unsigned)planned->end_turns, turns_word(planned->end_turns));
}
