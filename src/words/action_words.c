/* One action in words: which kind of action says what. */
#include "words/sheet_maker.h"

#include "base/table.h"
#include "plan/plan_sums.h"
#include "trade/trade.h"

/* What a kind's facts are: where it happens, after how many turns, at which hour. */
enum { FACT_WHERE = 1, FACT_COUNT = 2, FACT_PASS = 4, FACT_ROUND = 8 };

typedef struct KindWords {
    PutWords *say, *explain;
    unsigned facts;
} KindWords;

#define ACTION_WORDS(X)                                                                                           \
    X(CLEAN, say_clean, explain_clean, 0)                                                                         \
    X(MARK_LINE, say_mark_line, explain_mark_line, 0)                                                             \
    X(PART, say_part, explain_part, 0)                                                                            \
    X(DRESS_FOOT, say_dress, explain_dress, 0)                                                                    \
    X(TAPE_GUIDE, say_tape, explain_tape, 0)                                                                      \
    X(MARK, say_mark, explain_mark, 0)                                                                            \
    X(LOAD, say_load, explain_load, 0)                                                                            \
    X(START, say_start, explain_start, FACT_WHERE | FACT_COUNT)                                                   \
    X(LAY_IN, say_lay_in, explain_lay_in, FACT_WHERE | FACT_COUNT)                                                \
    X(LAY_LOOP, say_loop, explain_loop, FACT_WHERE | FACT_COUNT)                                                  \
    X(TAKE_UP, say_take_up, explain_take_up, 0)                                                                   \
    X(WIND, say_wind, explain_wind, FACT_WHERE | FACT_COUNT)                                                      \
    X(STAND, say_stand, explain_stand, 0)                                                                         \
    X(CUT_FROM_SPOOL, say_cut_from_spool, explain_cut_from_spool, FACT_COUNT)                                     \
    X(LAY_END, say_lay_end, explain_lay_end, FACT_WHERE | FACT_COUNT)                                             \
    X(PULL_THROUGH, say_pull, explain_pull, FACT_COUNT)                                                           \
    X(TRIM_TAG, say_trim_tag, explain_trim_tag, 0)                                                                \
    X(TRIM_END, say_trim_end, explain_trim_end, 0)                                                                \
    X(TAPE_DOWN, say_tape_down, explain_tape_down, 0)                                                             \
    X(UNTAPE, say_untape, explain_untape, 0)                                                                      \
    X(PACK, say_pack, explain_pack, FACT_COUNT)                                                                   \
    X(MEASURE, say_measure, explain_measure, FACT_COUNT)                                                          \
    X(TAKE_TAPE, say_take_tape, explain_take_tape, FACT_COUNT)                                                    \
    X(TAKE_SPACER, say_take_spacer, explain_take_spacer, 0)                                                       \
    X(BIND_RING, say_bind_ring, explain_bind_ring, 0)                                                             \
    X(SET_OUT, say_set_out, explain_set_out, 0)                                                                   \
    X(HOLD_ENDS, say_hold_ends, explain_hold_ends, 0)                                                             \
    X(TIE_ON, say_tie_on, explain_tie_on, FACT_ROUND)                                                             \
    X(LEG, say_leg, explain_leg, FACT_PASS | FACT_ROUND)                                                          \
    X(TIE_OFF, say_tie_off, explain_tie_off, FACT_ROUND)                                                          \
    X(SYMMETRY, say_symmetry, explain_symmetry, 0)                                                                \
    X(UNWIND, say_unwind, explain_unwind, 0)                                                                      \
    X(TAKE_ENDS, say_take_ends, explain_take_ends, 0)                                                             \
    X(ALIGN, say_align, explain_align, 0)                                                                         \
    X(SEAL, say_seal, explain_seal, 0)                                                                            \
    X(SINGE, say_singe, explain_singe, 0)                                                                         \
    X(WIPE, say_wipe, explain_wipe, 0)                                                                            \
    X(COAT, say_coat, explain_coat, 0)

static const KindWords kinds[ACTION_KIND_COUNT] = {
#define X(name, ...) [ACTION_##name] = {__VA_ARGS__},
    ACTION_WORDS(X)
#undef X
};
_Static_assert(TABLE_ROWS(ACTION_WORDS) == ACTION_KIND_COUNT, "every kind of step needs its words");

/* What is said otherwise of a layer that is a crosswrap. */
static const KindWords of_crosswraps[ACTION_KIND_COUNT] = {
    [ACTION_PACK] = {say_pack_strands, explain_pack_strands, 0},
    [ACTION_SEAL] = {say_seal_crosswrap, explain_seal_crosswrap, 0},
};

/* --- facts --- */

static const char *words_where(SheetMaker *maker, const Action *action)
{
    maker_from_mark(maker, from_datum(place_of_action(maker, action), action->position));
    return maker_take(maker);
}

/* Turns of the layer before this run. */
static unsigned long long turns_before(const PlannedLayer *layer, uint32_t run)
{
    unsigned long long turns = 0;
    for (uint32_t i = 0; i < run; i++)
        turns += layer->runs[i].turns;
    return turns;
}

/* "12 in the band, 73 in the layer"; of one number "12 in the band and the layer". */
static const char *words_of_counts(SheetMaker *maker, unsigned long long own, const char *of,
                                   unsigned long long wrap)
{
    return own == wrap ? text_format(maker->arena, "%llu in the %s and the layer", own, of)
                       : text_format(maker->arena, "%llu in the %s, %llu in the layer", own, of, wrap);
}

static const char *words_count(SheetMaker *maker, const Action *action)
{
    unsigned long long wrap = action->layer_count;
    if (action->kind != ACTION_WIND)
        return wrap ? text_format(maker->arena, "after turn %llu of the layer", wrap) : "";
    const PlannedLayer *layer = layer_of_action(maker, action);
    const Winding *winding = &maker->rod->rod->windings[action->winding];
    ItemKind kind = layer->items[layer->runs[winding->run].item].item->kind;
    if (kind == ITEM_CROSSWRAP)
        return words_of_counts(maker, wrap - turns_before(layer, winding->run), "end band", wrap);
    return words_of_counts(maker, action->band_count, kind == ITEM_FADE ? "fade" : "band", wrap);
}

void put_rods_line(SheetMaker *maker)
{
    buffer_text(&maker->words, maker->line_told ? "" : ", the rod's line at 12");
    maker->line_told = true;
}

/* Strands that lie under turns are laid opposite this ring, wherever it stands. */
static const char *words_clock(SheetMaker *maker, const Action *action)
{
    if (!action->clock)
        return "";
    const Place *place = place_of_action(maker, action)->place;
    buffer_format(&maker->words, "%u o'clock", action->clock);
    if (place->guide)
        buffer_text(&maker->words, ", this ring at 12");
    else if (place->angle == 0)
        put_rods_line(maker);
    else
        buffer_format(&maker->words, ", the line at %s deg at 12",
                      show_number(maker->arena, clock_degrees(place->angle), 2));
    return maker_take(maker);
}

/* --- gaps --- */

/* mm left bare before the winding, 0 if none. */
static double gap_before(const SheetMaker *maker, uint32_t index)
{
    const PlannedRod *rod = maker->rod->rod;
    const Winding *winding = &rod->windings[index];
    const PlannedLayer *layer = &rod->places[winding->place].layers[winding->layer];
    double width = 0;
    for (uint32_t run = winding->run; run > 0 && layer->runs[run - 1].role == RUN_GAP; run--)
        width += run_width(&layer->runs[run - 1]);
    return width;
}

/* The first thing laid after a gap tells of it. */
static void put_gap(SheetMaker *maker, const Action *action)
{
    static const bool begins[ACTION_KIND_COUNT] = {
        [ACTION_START] = true, [ACTION_LAY_IN] = true, [ACTION_LAY_LOOP] = true};
    uint32_t next = action->state.due;
    if (!begins[action->kind] || action->state.made > 0 || maker->gap_told == next
        || next >= maker->rod->rod->winding_count)
        return;
    maker->gap_told = next;
    double width = gap_before(maker, next);
    if (!(width > 0) || layer_of_action(maker, action)->crosswrap)
        return;
    buffer_text(&maker->words, "Leave a gap of ");
    maker_callipers(maker, width);
    buffer_text(&maker->words, " first.");
}

/* --- stopping --- */

/* Of the lines that go to a spool: first tape them down. */
static const char *words_to_stop(SheetMaker *maker, const Action *action)
{
    const ActionState *state = &action->state;
    switch (state->to_stop) {
    case STOP_NOT: return NULL;
    case STOP_FINISHED: return "Safe to stop: no thread is in work";
    case STOP_HELD: return "Safe to stop: tape and turns hold everything";
    default: break;
    }
    uint32_t spools = 0;
    buffer_text(&maker->words, "Safe to stop: tape ");
    for (uint32_t i = 0; i < state->held_count; i++) {
        if (state->held[i].by != BY_SPOOL)
            continue;
        buffer_text(&maker->words, spools ? " and " : "");
        put_pieces(maker, (PieceGroup){.first = state->held[i].piece, .count = state->held[i].piece_count});
        spools += state->held[i].piece_count;
    }
    buffer_text(&maker->words, spools == 1 ? " down, ease its tension" : " down, ease their tension");
    return maker_take(maker);
}

/* --- the action --- */

static bool is_crosswrap(const SheetMaker *maker, const Action *action)
{
    return action->layer != WHOLE_ROD && layer_of_action(maker, action)->crosswrap;
}

/* Packing before the end bands pushes strands together, in them turns. */
static const KindWords *words_for(const SheetMaker *maker, const Action *action)
{
    bool of_strands = is_crosswrap(maker, action) && (action->kind != ACTION_PACK || action->layer_count == 0);
    return of_strands && of_crosswraps[action->kind].say ? &of_crosswraps[action->kind] : &kinds[action->kind];
}

void words_of_action(SheetMaker *maker, const Action *action, SheetAction *out)
{
    const KindWords *kind = words_for(maker, action);
    out->action = action;
    kind->say(maker, action);
    out->says = maker_take(maker);
    put_gap(maker, action);
    put_end_band(maker, action);
    put_end_of_loop(maker, action);
    out->own = maker_take(maker);
    maker->fade_now = (FadeStep){0};
    kind->explain(maker, action);
    out->how = maker_take(maker);
    out->fade = maker->fade_now;
    bool threads = action->piece != NO_PIECE;
    if (threads)
        put_pieces(maker, action_pieces(action));
    out->thread = !threads ? "" : action->piece_count == 1 ? piece_label(maker, action->piece) : maker_take(maker);
    maker->words.length = 0;
    out->colour = threads ? maker->rod->rod->pieces[action->piece].thread->colour : NO_COLOUR;
    out->where = kind->facts & FACT_WHERE   ? words_where(maker, action)
                 : kind->facts & FACT_ROUND ? words_round(maker, action)
                                            : "";
    out->count = kind->facts & FACT_COUNT  ? words_count(maker, action)
                 : kind->facts & FACT_PASS ? words_of_pass(maker, action)
                                           : "";
    out->clock = words_clock(maker, action);
    out->measure = action->kind == ACTION_MEASURE;
    out->stop = words_to_stop(maker, action);
}
