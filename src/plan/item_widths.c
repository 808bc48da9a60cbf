/* Turns and widths of a layer's items, before anything is placed. Fills get theirs in fill.c. */
#include "plan/layout.h"

#include "base/limits.h"

#include <math.h>

bool fills_left(const Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    for (uint32_t i = 0; i < layer->item_count; i++)
        if (is_fill(&layer->items[i]) && !layout->measures[i].stays)
            return true;
    return false;
}

bool is_fill(const Item *item) { return item->kind == ITEM_BAND && item->extent.kind == EXTENT_FILL; }
double item_pitch(const Layout *layout, const Item *item) { return turn_here(layout->learning, item->strands); }

static const char *strands_name(Arena *arena, const Strands *strands)
{
    const char *name = first_thread_name(strands);
    return strands->count == 1 ? name
                               : text_format(arena, "%s and %u more together", name, (unsigned)strands->count - 1);
}

static bool enough_for_a_turn(Layout *layout, const Extent *extent, const Strands *strands, double turns)
{
    if (turns >= 1)
        return true;
    UnitSystem units = layout->job->bench.units;
    const char *name = strands_name(layout->findings->words, strands);
    const char *one = show_fine(layout->findings->words, units, turn_here(layout->learning, strands));
    Finding *finding = finding_add(layout->findings, FINDING_LESS_THAN_A_TURN, extent->span,
                                   "%s of %s is less than half a turn: nothing would be wound",
                                   show_fine(layout->findings->words, units, extent->amount), name);
    finding_label(layout->findings, finding, "one turn of %s is %s wide", name, one);
    finding_mend(layout->findings, finding, "make it at least one turn, %s wide: write `1 turn`", one);
    finding_edit(layout->findings, finding, extent->span, "1 turn");
    return false;
}

/* A length that comes out far from what was asked: what is obtained can be written as turns. */
static void compare_width(Layout *layout, Span span, double asked, double obtained, double turns)
{
    double tolerance = layout->job->bench.tolerance;
    if (!(fabs(asked - obtained) > tolerance + LAYOUT_SLACK))
        return;
    UnitSystem units = layout->job->bench.units;
    const char *count = show_turns(layout->findings->words, turns);
    LengthPair shown = show_apart(layout->findings->words, units, QUANTITY_WIDTH, asked, obtained);
    Finding *finding = finding_add(layout->findings, FINDING_ROUNDS_FAR, span, "%s comes out as %s, %s wide",
                                   shown.one, count, shown.other);
    finding_label(layout->findings, finding, "off by %s; your tolerance is %s", shown.apart,
                  show_quantity(layout->findings->words, units, QUANTITY_TOLERANCE, tolerance));
    finding_mend(layout->findings, finding, "if %s will do, write `%s`", shown.other, count);
    finding_edit(layout->findings, finding, span, "%s", count);
}

/* A crosswrap's field shorter than this is none, mm: common practice, no source. */
#define LEAST_FIELD 1.0

static void no_room_for_field(Layout *layout, const Item *item, double bands)
{
    UnitSystem units = layout->job->bench.units;
    Finding *finding = finding_add(layout->findings, FINDING_LONGER_THAN_PLACE, item->extent.span,
                                   "two end bands this wide leave no room for the strands between them");
    finding_label(layout->findings, finding, "the two take %s; the layer is %s long",
                  show_length(layout->findings->words, units, bands),
                  show_length(layout->findings->words, units, layout->layer->length));
    finding_relate(layout->findings, finding, layout->place->place->mark_span, "%s",
                   place_label(layout->findings->words, layout->job, layout->rod->rod, layout->place));
    finding_mend(layout->findings, finding, "make the end bands narrower, or the place longer");
}

static bool measure_inlays(Layout *layout, const Item *item)
{
    bool good = true;
    for (uint32_t i = 0; i < item->inlay_count; i++) {
        const Inlay *inlay = &item->inlays[i];
        if (inlay->extent.kind != EXTENT_LENGTH)
            continue;
        double turns = turns_in_width(inlay->extent.amount, turn_here(layout->learning, inlay->strands));
        if (enough_for_a_turn(layout, &inlay->extent, inlay->strands, turns))
            compare_width(layout, inlay->extent.span, inlay->extent.amount,
                          turns * turn_here(layout->learning, inlay->strands), turns);
        else
            good = false;
    }
    return good;
}

static bool measure_band(Layout *layout, const Item *item, ItemMeasure *measure)
{
    const Extent *extent = &item->extent;
    if (!measure_inlays(layout, item))
        return false;
    if (extent->kind == EXTENT_TURNS)
        measure->turns = extent->amount;
    if (extent->kind == EXTENT_LENGTH) {
        measure->asked = extent->amount;
        measure->turns = turns_in_width(extent->amount, item_pitch(layout, item));
        if (!enough_for_a_turn(layout, extent, item->strands, measure->turns))
            return false;
    }
    measure->width = measure->turns * item_pitch(layout, item);
    if (extent->kind == EXTENT_LENGTH)
        compare_width(layout, extent->span, measure->asked, measure->width, measure->turns);
    return true;
}

static bool measure_gap(Layout *layout, const Item *item, ItemMeasure *measure)
{
    bool as_turns = item->extent.kind == EXTENT_TURNS;
    measure->width = as_turns ? item->extent.amount * item_pitch(layout, item) : item->extent.amount;
    measure->asked = as_turns ? NAN : item->extent.amount;
    return true;
}

/* Two end bands and, between them, the field: all that the layer's length leaves. */
static bool measure_crosswrap(Layout *layout, const Item *item, ItemMeasure *measure)
{
    const Extent *extent = &item->extent;
    double turns =
        extent->kind == EXTENT_TURNS ? extent->amount : turns_in_width(extent->amount, item_pitch(layout, item));
    if (!enough_for_a_turn(layout, extent, item->strands, turns))
        return false;
    if (extent->kind == EXTENT_LENGTH)
        compare_width(layout, extent->span, extent->amount, turns * item_pitch(layout, item), turns);
    measure->turns = 2 * turns;
    measure->width = layout->layer->length;
    if (measure->width - measure->turns * item_pitch(layout, item) >= LEAST_FIELD)
        return true;
    no_room_for_field(layout, item, measure->turns * item_pitch(layout, item));
    return false;
}

static double mean_pitch(const Layout *layout, const Item *fade)
{
    return (item_pitch(layout, fade) + turn_here(layout->learning, fade->from)) / 2;
}

/* Turns of the new and of the old thread in a fade. */
static void set_fade(const Layout *layout, const Item *item, ItemMeasure *measure, double in, double out)
{
    measure->turns = in + out;
    measure->width = in * item_pitch(layout, item) + out * turn_here(layout->learning, item->from);
}

/* Of a fade by eye the choice says how many are the new thread's. False after a finding: it is too long for that.
 */
static bool set_chosen(Layout *layout, const Item *item, ItemMeasure *measure, double turns)
{
    if (turns > LIMIT_CHOSEN_TURNS) {
        Arena *words = layout->findings->words;
        Finding *finding =
            finding_add(layout->findings, FINDING_OUT_OF_RANGE, item->by_eye->choice,
                        "turns are chosen by eye for a fade of at most %s", show_turns(words, LIMIT_CHOSEN_TURNS));
        finding_label(layout->findings, finding, "this fade has %s", show_turns(words, turns));
        finding_mend(layout->findings, finding, "make it narrower, or write `count`");
        finding_edit(layout->findings, finding, item->by_eye->choice, "count");
        return false;
    }
    measure->chosen = choose_turns(layout, item, (uint32_t)turns);
    double in = turns_chosen(layout->chosen, measure->chosen)->in;
    set_fade(layout, item, measure, in, turns - in);
    return true;
}

/* After its last turn the new thread has made floor(N^2 / 2N + 1/2) of N. False after a finding. */
static bool set_even(Layout *layout, const Item *item, ItemMeasure *measure, double turns)
{
    if (item->by_eye)
        return set_chosen(layout, item, measure, turns);
    double in = floor(turns / 2 + 0.5);
    set_fade(layout, item, measure, in, turns - in);
    return true;
}

static const char one_step[] = "a fade needs at least one turn in and one turn out";

static Finding *fade_too_short(Layout *layout, Span span, const char *has, const char *needs, const char *why)
{
    Finding *finding = finding_add(layout->findings, FINDING_FADE_DOES_NOT_FIT, span,
                                   "this fade has %s and needs at least %s", has, needs);
    finding_label(layout->findings, finding, "%s", why);
    finding_mend(layout->findings, finding, "make it wider: write `%s` or more", needs);
    finding_edit(layout->findings, finding, span, "%s", needs);
    return finding;
}

static bool measure_even(Layout *layout, const Item *item, ItemMeasure *measure)
{
    const Extent *extent = &item->extent;
    bool as_length = extent->kind == EXTENT_LENGTH;
    double mean = mean_pitch(layout, item);
    double turns = as_length ? turns_in_width(extent->amount, mean) : extent->amount;
    if (turns < 2) {
        Arena *words = layout->findings->words;
        fade_too_short(layout, extent->span, show_turns(words, turns), show_turns(words, 2), one_step);
        return false;
    }
    if (!set_even(layout, item, measure, turns))
        return false;
    if (as_length) {
        measure->asked = extent->amount;
        compare_width(layout, extent->span, measure->asked, measure->width, turns);
    }
    return true;
}

static bool measure_fade(Layout *layout, const Item *item, ItemMeasure *measure)
{
    double in = 0, out = 0;
    if (item->fade_rule == FADE_EVEN)
        return item->extent.kind == EXTENT_SHARE || measure_even(layout, item, measure);
    if (item->by_eye)
        return set_chosen(layout, item, measure, (double)item->steps * ((double)item->steps + 1));
    if (item->fade_rule == FADE_STEPS)
        in = out = (double)item->steps * ((double)item->steps + 1) / 2;
    for (uint32_t i = 0; item->fade_rule == FADE_RUNS && i < item->run_count; i++) {
        in += item->runs[i].in;
        out += item->runs[i].out;
    }
    set_fade(layout, item, measure, in, out);
    return true;
}

/* A copy begins with an item that shares, whichever way it is laid. */
uint32_t spread_end(const Layer *layer, uint32_t first)
{
    const Spread *spread = layer->items[first].extent.spread;
    uint32_t count = spread->band_count + spread->fade_count;
    return count && count < layer->item_count - first ? first + count : layer->item_count;
}

/* What a fade of several threads has, all in all. */
typedef struct SpreadRoom {
    double shared, fixed;      /* turns for those that share, and of the fades that say their own */
    double fixed_width, pitch; /* of those fades, and the mean pitch of the sharers: mm */
} SpreadRoom;

static const char *why_too_short(const Layout *layout, const Spread *spread, SpreadRoom room)
{
    Arena *words = layout->findings->words;
    if (spread->band_count)
        return text_format(words, "its fade steps take %s, %s, and each of its %u bands needs one turn",
                           show_turns(words, room.fixed),
                           show_length(words, layout->job->bench.units, room.fixed_width),
                           (unsigned)spread->band_count);
    return spread->fade_count == 1
               ? one_step
               : text_format(words, "each of its %u fades needs two turns", (unsigned)spread->fade_count);
}

/* In the words in which it was asked for: turns, or a length. */
/* The first fade by steps of the spread; NULL if there is none. */
static const Item *fade_by_steps(const Layout *layout, uint32_t first, uint32_t end)
{
    const Item *items = layout->layer->layer->items;
    for (uint32_t i = first; i < end; i++)
        if (items[i].kind == ITEM_FADE && items[i].fade_rule == FADE_STEPS)
            return &items[i];
    return NULL;
}

/* The most steps with which those that share have their least turns; 0 if none are few enough. */
static uint32_t steps_that_fit(const Item *fade, const Spread *spread, SpreadRoom room, double least)
{
    double now = (double)fade->steps * (fade->steps + 1.0);
    for (uint32_t steps = fade->steps - 1; steps; steps--) {
        double part = steps * (steps + 1.0) / now, width = spread->amount - room.fixed_width * part;
        double left = spread->kind == EXTENT_TURNS ? spread->amount - room.fixed * part
                      : width > 0                  ? turns_in_width(width, room.pitch)
                                                   : 0;
        if (left >= least)
            return steps;
    }
    return 0;
}

/* A fade that would have to be half as wide again is meant to have fewer steps. */
static void offer_fewer_steps(Layout *layout, Finding *finding, const Item *fade, const Spread *spread,
                              SpreadRoom room, double least)
{
    const double WIDER = 1.5;
    bool in_turns = spread->kind == EXTENT_TURNS;
    double needed = in_turns ? room.fixed + least : room.fixed_width + least * room.pitch;
    uint32_t steps = fade && needed > spread->amount * WIDER ? steps_that_fit(fade, spread, room, least) : 0;
    if (!steps)
        return;
    LengthWriting writing = writing_by_hand(width_writing(layout, spread->span));
    finding_mend(layout->findings, finding, "use fewer steps: `steps: %u`, or make it wider: `%s` or more",
                 (unsigned)steps,
                 in_turns ? show_turns(layout->findings->words, needed)
                          : write_length(layout->findings->words, writing, round_up_mm(writing, needed)));
    finding_edit(layout->findings, finding, fade->extent.span, "%u", (unsigned)steps);
}

static bool spread_too_short(Layout *layout, const Spread *spread, SpreadRoom room, const Item *fade)
{
    double least = spread->band_count ? spread->band_count : 2.0 * spread->fade_count;
    if (room.shared >= least)
        return false;
    Arena *words = layout->findings->words;
    UnitSystem units = layout->job->bench.units;
    LengthWriting writing = writing_by_hand(width_writing(layout, spread->span));
    double length = round_up_mm(writing, room.fixed_width + least * room.pitch);
    const char *why = why_too_short(layout, spread, room);
    Finding *finding = spread->kind == EXTENT_LENGTH
                           ? fade_too_short(layout, spread->span, show_length(words, units, spread->amount),
                                            write_length(words, writing, length), why)
                           : fade_too_short(layout, spread->span, show_turns(words, room.shared + room.fixed),
                                            show_turns(words, room.fixed + least), why);
    offer_fewer_steps(layout, finding, fade, spread, room, least);
    return true;
}

/* Turns that are left for those that share are a whole number. Of an extent in turns: what the fades of their
 * own do not take. Of a length: what is left of it, in turns of the sharers' mean pitch, rounded. */
static SpreadRoom room_of_spread(const Layout *layout, uint32_t first, uint32_t end)
{
    const Item *items = layout->layer->layer->items;
    const Spread *spread = items[first].extent.spread;
    SpreadRoom room = {0};
    double pitches = 0, sharers = 0;
    for (uint32_t i = first; i < end; i++) {
        const Item *item = &items[i];
        if (item->extent.kind != EXTENT_SHARE) {
            room.fixed += layout->measures[i].turns;
            room.fixed_width += layout->measures[i].width;
            continue;
        }
        pitches += item->kind == ITEM_FADE ? mean_pitch(layout, item) : item_pitch(layout, item);
        sharers++;
    }
    room.pitch = pitches / sharers;
    double left = spread->amount - room.fixed_width;
    room.shared = spread->kind == EXTENT_TURNS ? spread->amount - room.fixed
                  : left > 0                   ? turns_in_width(left, room.pitch)
                                               : 0;
    return room;
}

/* Shares what the fades of their own leave; the first ones, as written, take what does not share out. */
static bool measure_spread(Layout *layout, uint32_t first, uint32_t end)
{
    const Item *items = layout->layer->layer->items;
    const Spread *spread = items[first].extent.spread;
    double sharers = spread->band_count ? spread->band_count : spread->fade_count;
    SpreadRoom room = room_of_spread(layout, first, end);
    bool begun = share_is_begun(layout, first, end);
    if (!begun && spread_too_short(layout, spread, room, fade_by_steps(layout, first, end)))
        return false;
    double each = floor(room.shared / sharers), rest = room.shared - each * sharers;
    bool backwards = items[first].extent.amount > items[end - 1].extent.amount;
    Sum width = {0};
    double rank = 0;
    bool good = true;
    for (uint32_t i = first; i < end; i++) {
        ItemMeasure *measure = &layout->measures[i];
        if (items[i].extent.kind == EXTENT_SHARE) {
            double turns = each + ((backwards ? sharers - 1 - rank : rank) < rest);
            if (begun)
                turns = layout->made.last.measures[i].turns;
            rank++;
            if (items[i].kind == ITEM_FADE)
                good &= set_even(layout, &items[i], measure, turns);
            else
                *measure =
                    (ItemMeasure){.turns = turns, .asked = NAN, .width = turns * item_pitch(layout, &items[i])};
        }
        sum_add(&width, measure->width);
    }
    if (spread->kind == EXTENT_LENGTH && !begun)
        compare_width(layout, spread->span, spread->amount, sum_value(&width), room.shared + room.fixed);
    return good;
}

static bool measure_spreads(Layout *layout)
{
    const Layer *layer = layout->layer->layer;
    bool good = true;
    for (uint32_t i = 0; i < layer->item_count;) {
        if (layer->items[i].extent.kind != EXTENT_SHARE) {
            i++;
            continue;
        }
        uint32_t end = spread_end(layer, i);
        good &= measure_spread(layout, i, end);
        i = end;
    }
    return good;
}

bool measure_items(Layout *layout)
{
    static bool (*const by_kind[])(Layout *, const Item *, ItemMeasure *) = {
#define X(name, word) [ITEM_##name] = measure_##word,
        ITEM_TABLE(X)
#undef X
    };
    const Layer *layer = layout->layer->layer;
    if (layer->item_count > layout->measure_room) {
        layout->measure_room = layer->item_count;
        layout->measures = arena_take_many(layout->scratch, layer->item_count, sizeof *layout->measures);
    }
    bool good = true;
    for (uint32_t i = 0; i < layer->item_count; i++) {
        layout->measures[i] = (ItemMeasure){.asked = NAN};
        good &= by_kind[layer->items[i].kind](layout, &layer->items[i], &layout->measures[i]);
    }
    good = good && measure_spreads(layout);
    restore_made(layout);
    return good;
}
