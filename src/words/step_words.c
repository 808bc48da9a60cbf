/* One step in words: which kind of step says what. */
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

#define STEP_WORDS(X)                                                                                             \
    X(DRESS_FOOT, say_dress, explain_dress, 0)                                                                    \
    X(TAPE_GUIDE, say_tape, explain_tape, 0)                                                                      \
    X(MARK, say_mark, explain_mark, 0)                                                                            \
    X(START, say_start, explain_start, FACT_WHERE | FACT_COUNT)                                                   \
    X(LAY_IN, say_lay_in, explain_lay_in, FACT_WHERE | FACT_COUNT)                                                \
    X(LAY_LOOP, say_loop, explain_loop, FACT_WHERE | FACT_COUNT)                                                  \
    X(TAKE_UP, say_take_up, explain_take_up, 0)                                                                   \
    X(WIND, say_wind, explain_wind, FACT_WHERE | FACT_COUNT)                                                      \
    X(STAND, say_stand, explain_stand, 0)                                                                         \
    X(LAY_END, say_lay_end, explain_lay_end, FACT_WHERE | FACT_COUNT)                                             \
    X(PULL_THROUGH, say_pull, explain_pull, FACT_COUNT)                                                           \
    X(TRIM_TAG, say_trim_tag, explain_trim_tag, 0)                                                                \
    X(TRIM_END, say_trim_end, explain_trim_end, 0)                                                                \
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
    X(COAT, say_coat, explain_coat, 0)

static const KindWords kinds[STEP_KIND_COUNT] = {
#define X(name, ...) [STEP_##name] = {__VA_ARGS__},
    STEP_WORDS(X)
#undef X
};
_Static_assert(TABLE_ROWS(STEP_WORDS) == STEP_KIND_COUNT, "every kind of step needs its words");

/* What is said otherwise of a layer that is a crosswrap. */
static const KindWords of_crosswraps[STEP_KIND_COUNT] = {
    [STEP_PACK] = {say_pack_strands, explain_pack_strands, 0},
    [STEP_SEAL] = {say_seal_crosswrap, explain_seal_crosswrap, 0},
};

/* --- facts --- */

static const char *words_where(SheetMaker *maker, const Step *step)
{
    maker_length(maker, from_datum(place_of_step(maker, step), step->position));
    buffer_text(&maker->words, " from the mark");
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

static const char *words_count(SheetMaker *maker, const Step *step)
{
    unsigned long long wrap = step->layer_count;
    if (step->kind != STEP_WIND)
        return wrap ? text_format(maker->arena, "after turn %llu of the layer", wrap) : "";
    const PlannedLayer *layer = layer_of_step(maker, step);
    const Winding *winding = &maker->rod->rod->windings[step->winding];
    ItemKind kind = layer->items[layer->runs[winding->run].item].item->kind;
    if (kind == ITEM_CROSSWRAP)
        return text_format(maker->arena, "%llu in the end band, %llu in the layer",
                           wrap - turns_before(layer, winding->run), wrap);
    return text_format(maker->arena, "%llu in the %s, %llu in the layer", (unsigned long long)step->band_count,
                       kind == ITEM_FADE ? "fade" : "band", wrap);
}

/* Strands that lie under turns are laid opposite this ring, wherever it stands. */
static const char *words_clock(const SheetMaker *maker, const Step *step)
{
    if (!step->clock)
        return "";
    const Place *place = place_of_step(maker, step)->place;
    if (place->guide || place->angle == 0)
        return text_format(maker->arena, "%u o'clock, %s at 12", step->clock,
                           place->guide ? "this ring" : "the rod's line");
    return text_format(maker->arena, "%u o'clock, the line at %s deg at 12", step->clock,
                       show_number(maker->arena, clock_degrees(place->angle), 2));
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
static void put_gap(SheetMaker *maker, const Step *step)
{
    static const bool begins[STEP_KIND_COUNT] = {
        [STEP_START] = true, [STEP_LAY_IN] = true, [STEP_LAY_LOOP] = true};
    uint32_t next = step->state.due;
    if (!begins[step->kind] || step->state.made > 0 || maker->gap_told == next
        || next >= maker->rod->rod->winding_count)
        return;
    maker->gap_told = next;
    double width = gap_before(maker, next);
    if (!(width > 0) || layer_of_step(maker, step)->crosswrap)
        return;
    buffer_text(&maker->words, "Leave a gap of ");
    maker_length(maker, width);
    buffer_text(&maker->words, " first. ");
}

/* --- the step --- */

static bool is_crosswrap(const SheetMaker *maker, const Step *step)
{
    return step->layer != WHOLE_ROD && layer_of_step(maker, step)->crosswrap;
}

/* Packing before the end bands pushes strands together, in them turns. */
static const KindWords *words_for(const SheetMaker *maker, const Step *step)
{
    bool of_strands = is_crosswrap(maker, step) && (step->kind != STEP_PACK || step->layer_count == 0);
    return of_strands && of_crosswraps[step->kind].say ? &of_crosswraps[step->kind] : &kinds[step->kind];
}

void words_of_step(SheetMaker *maker, const Step *step, SheetStep *out)
{
    const KindWords *kind = words_for(maker, step);
    out->step = step;
    kind->say(maker, step);
    out->action = maker_take(maker);
    put_gap(maker, step);
    kind->explain(maker, step);
    out->detail = maker_take(maker);
    bool threads = step->piece != NO_PIECE;
    if (threads)
        put_pieces(maker, step->piece, step->piece_count);
    out->thread = !threads ? "" : step->piece_count == 1 ? piece_label(maker, step->piece) : maker_take(maker);
    maker->words.length = 0;
    out->colour = threads ? maker->rod->rod->pieces[step->piece].thread->colour : NO_COLOUR;
    out->where = kind->facts & FACT_WHERE   ? words_where(maker, step)
                 : kind->facts & FACT_ROUND ? words_round(maker, step)
                                            : "";
    out->count = kind->facts & FACT_COUNT  ? words_count(maker, step)
                 : kind->facts & FACT_PASS ? words_of_pass(maker, step)
                                           : "";
    out->clock = words_clock(maker, step);
    out->measure = step->kind == STEP_MEASURE;
    out->pause = step->state.may_stop;
}
