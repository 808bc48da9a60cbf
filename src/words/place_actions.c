/* Words for what is done to a place besides winding: guide, marks, tape, and the binding beyond a ring. */
#include "words/sheet_maker.h"
#include "base/visible.h"
#include "plan/plan_sums.h"
#include "words/trade_words.h"

#include <math.h>

static Buffer *words(SheetMaker *maker) { return &maker->words; }

static const char *guide_name(SheetMaker *maker, const Action *action)
{
    return visible(maker->arena, place_of_action(maker, action)->place->guide->name->bytes);
}

void put_along_rod(SheetMaker *maker, const PlannedPlace *place, double x)
{
    const Blank *blank = maker->rod->rod->rod->blank;
    bool from_tip = place->place->from_tip && blank;
    maker_place(maker, from_tip ? blank_tip(blank) - x : x);
    buffer_format(words(maker), " from the %s", from_tip ? "bare tip" : "butt");
}

void put_from_end(SheetMaker *maker, const PlannedPlace *place, double x)
{
    const Section *sections = several_sections(maker);
    if (!sections) {
        put_along_rod(maker, place, x);
        return;
    }
    const Section *own = &sections[place->section];
    bool at_end = reads_nothing(maker->bench->rule, x - own->butt);
    if (!at_end)
        maker_place(maker, x - own->butt);
    buffer_format(words(maker), "%s the butt end of %s", at_end ? "at" : " from",
                  visible(maker->arena, own->name));
}

void say_dress(SheetMaker *maker, const Action *action)
{
    bool several = place_of_action(maker, action)->place->guide->foot_count > 1;
    buffer_format(words(maker), "Dress the %s of %s", several ? "feet" : "foot", guide_name(maker, action));
}

/* That filing weakens a foot, and that its maker has the word on it: common practice, no source. */
void explain_dress(SheetMaker *maker, const Action *action)
{
    const Guide *guide = place_of_action(maker, action)->place->guide;
    buffer_format(words(maker), "File %s to a ramp", guide->foot_count > 1 ? "each foot's tip" : "its tip");
    if (guide->ramp > 0) {
        buffer_text(words(maker), " of ");
        maker_callipers(maker, guide->ramp);
    }
    buffer_text(words(maker),
                " that turns can climb, without step or burr. File no further than the guide's maker allows: "
                "filing weakens a foot. Keep filings off the blank.");
}

void say_mark(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Put the mark ");
    put_from_end(maker, place_of_action(maker, action), action->position);
}

void explain_mark(SheetMaker *maker, const Action *action)
{
    const PlannedPlace *place = place_of_action(maker, action);
    double end = 0;
    for (uint32_t i = 0; i < place->layer_count; i++)
        if (place->layers[i].turns)
            end = fmax(end, from_datum(place, place->layers[i].end));
    if (several_sections(maker)) {
        buffer_text(words(maker), "Along the whole rod that is ");
        put_along_rod(maker, place, action->position);
        buffer_text(words(maker), ". ");
    }
    buffer_format(words(maker), "The wrap is worked from there toward the %s, to your %s",
                  toward_word(place->direction), side_word(maker, place->direction));
    if (end > 0) {
        buffer_text(words(maker), ", and ends ");
        maker_rule(maker, end);
        buffer_text(words(maker), " on: mark that too");
    }
    if (place->place->angle != 0 && (place->foot < 0 || !maker->bench->tape)) {
        buffer_format(words(maker), ". Mark %s line, too, ", place->foot < 0 ? "its own" : "the ring's");
        put_angle(maker, place);
    }
    if (place->foot >= 0 && maker->taped == place->place) {
        buffer_text(words(maker), ". The tip of this foot, which is taped already, lies ");
        maker_from_mark(maker, from_datum(place, place->foot_tip));
    }
    buffer_text(words(maker), maker->marked ? "." : ". Mark with wax pencil or tape, never with a point.");
    maker->marked = true;
    maker->marked_place = action->place;
}

void say_tape(SheetMaker *maker, const Action *action)
{
    const Guide *guide = place_of_action(maker, action)->place->guide;
    buffer_format(words(maker), "Tape %s in place by %s", guide_name(maker, action),
                  guide->foot_count < 2 ? "the ring's side of its foot" : "the inner halves of both feet");
}

/* Where something is wound below its feet, both are marked before it goes on: alike, from their tips. */
static bool both_are_marked(const SheetMaker *maker, const Action *action)
{
    return maker->marked_place != action->place
           && maker->rod->rod->places[maker->marked_place].place == place_of_action(maker, action)->place;
}

void explain_tape(SheetMaker *maker, const Action *action)
{
    const PlannedPlace *place = place_of_action(maker, action);
    buffer_text(words(maker), "Its ring comes ");
    put_from_end(maker, place, place->place->mark);
    buffer_text(words(maker), ", ");
    put_angle(maker, place);
    bool both = both_are_marked(maker, action);
    buffer_text(words(maker), both ? ". The tip of each foot lies " : ". The tip of this foot lies ");
    maker_from(maker, from_datum(place, action->position), both ? "its mark" : "the mark");
    buffer_format(words(maker), ". Leave the %s free for the turns.",
                  place->place->guide->foot_count < 2 ? "foot's tip" : "tips of both feet");
    maker->taped = place->place;
}

void say_take_tape(SheetMaker *maker, const Action *action)
{
    buffer_format(words(maker), "Take the tape off this foot of %s", guide_name(maker, action));
}

/* Half way up the foot: common practice, no source. */
void explain_take_tape(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker),
                action->layer == WHOLE_ROD
                    ? "The turns end before it and hold the foot as far as they go."
                    : "The turns have come about half way up the foot and hold it; the tape would lie in "
                      "their way.");
}

void say_bind_ring(SheetMaker *maker, const Action *action)
{
    buffer_text(words(maker), "Bind beyond the ring of ");
    buffer_text(words(maker), visible(maker->arena, place_of_action(maker, action)->place->guide->name->bytes));
}

/* Three or four turns: common practice, no source. What a guide holds is for its maker to say. */
void explain_bind_ring(SheetMaker *maker, const Action *action)
{
    (void)action;
    buffer_text(
        words(maker),
        "A short piece of the same thread, three or four turns on the far side of the ring, to keep the guide in its "
        "wrap. They rate it for no load: ask its maker. Their thread is not in the cut list.");
}
