/* An action of the bench sheet as data. A member that says nothing of its kind of action is left out. */
#include "emit/sheet/sheet_json.h"

#include "base/table.h"
#include "plan/plan_sums.h"
#include "words/night_words.h"

/* Which of an action's numbers mean something for its kind. */
enum {
    TURNS = 1,    /* that it makes */
    TO_COVER = 2, /* that will lie over what it lays */
    COVERED = 4,  /* that lie over what it trims, draws back or relies on */
    COUNT = 8,    /* of the layer, after it */
    WHERE = 16,
    WIDTH = 32, /* that should be there */
    THREAD = 64,
    FINAL = 128,
    LEG_MADE = 256,
    ROUND = 512,  /* where round the blank it happens */
    PART = 1024,  /* of the rod, that it puts on */
    THING = 2048, /* of its pieces, that it is about */
    CLEAR = 4096  /* of so many turns its tape is */
};

/* What the bench protocol calls each kind, and which members it has. */
#define KINDS(X)                                                                                                  \
    X(CLEAN, "clean", 0)                                                                                          \
    X(MARK_LINE, "mark line", 0)                                                                                  \
    X(PART, "part", PART)                                                                                         \
    X(DRESS_FOOT, "dress foot", 0)                                                                                \
    X(TAPE_GUIDE, "tape guide", 0)                                                                                \
    X(MARK, "mark", 0)                                                                                            \
    X(LOAD, "load bobbin", COUNT | THREAD)                                                                        \
    X(START, "start", TO_COVER | COUNT | WHERE)                                                                   \
    X(LAY_IN, "lay in", TO_COVER | COUNT | WHERE)                                                                 \
    X(LAY_LOOP, "lay loop", TO_COVER | COUNT | WHERE | FINAL)                                                     \
    X(TAKE_UP, "take up", COVERED | COUNT | WHERE)                                                                \
    X(WIND, "wind", TURNS | COUNT | WHERE | THREAD)                                                               \
    X(STAND, "stand", COUNT | WHERE)                                                                              \
    X(CUT_FROM_SPOOL, "cut from spool", COUNT | WHERE | THREAD)                                                   \
    X(LAY_END, "lay end", TO_COVER | COUNT | WHERE)                                                               \
    X(PULL_THROUGH, "pull through", COVERED | COUNT | WHERE | FINAL)                                              \
    X(TRIM_TAG, "trim tag", COVERED | COUNT | WHERE)                                                              \
    X(TRIM_END, "trim end", COVERED | COUNT | WHERE)                                                              \
    X(TAPE_DOWN, "tape down", THING | CLEAR | COUNT | WHERE)                                                      \
    X(UNTAPE, "untape", THING | COUNT | WHERE)                                                                    \
    X(PACK, "pack", COUNT | WHERE)                                                                                \
    X(MEASURE, "measure", COUNT | WHERE | WIDTH)                                                                  \
    X(TAKE_TAPE, "take tape", COUNT | WHERE)                                                                      \
    X(TAKE_SPACER, "take spacer", COUNT | WHERE)                                                                  \
    X(BIND_RING, "bind ring", 0)                                                                                  \
    X(SET_OUT, "set out", WHERE)                                                                                  \
    X(HOLD_ENDS, "hold ends", 0)                                                                                  \
    X(TIE_ON, "tape on", WHERE | ROUND)                                                                           \
    X(LEG, "leg", WHERE | ROUND | THREAD | LEG_MADE)                                                              \
    X(TIE_OFF, "tape off", WHERE | ROUND)                                                                         \
    X(SYMMETRY, "symmetry", 0)                                                                                    \
    X(UNWIND, "unwind", 0)                                                                                        \
    X(TAKE_ENDS, "take ends", 0)                                                                                  \
    X(ALIGN, "align", 0)                                                                                          \
    X(SEAL, "seal", 0)                                                                                            \
    X(SINGE, "singe", 0)                                                                                          \
    X(WIPE, "wipe", 0)                                                                                            \
    X(COAT, "coat", 0)

static const struct {
    const char *word;
    unsigned members;
} kinds[ACTION_KIND_COUNT] = {
#define X(name, ...) [ACTION_##name] = {__VA_ARGS__},
    KINDS(X)
#undef X
};
_Static_assert(TABLE_ROWS(KINDS) == ACTION_KIND_COUNT, "every kind of action needs its name and members");

void put_words(JsonPage *page, const char *name, const char *words)
{
    if (words && *words)
        page_text(page, name, words);
}

static const char *thing_word(HeldThing thing)
{
    static const char *const words[HELD_THING_COUNT] = {
#define X(name, word) [THING_##name] = word,
        HELD_THING_TABLE(X)
#undef X
    };
    return words[thing];
}

void put_piece_list(JsonPage *page, PieceGroup pieces)
{
    page_open(page, "pieces", '[');
    for (uint32_t i = 0; i < pieces.count; i++)
        page_whole(page, NULL, group_piece(pieces, i));
    page_close(page, ']');
}

static void put_position(SheetData *data, const Action *action)
{
    const PlannedPlace *place = &data->rod->bench->rod->places[action->place];
    Rounding digits = rounding_of_programs();
    page_number(&data->page, "position_mm", shown_position(place, action->position, digits));
    page_number(&data->page, "from_mark_mm", shown_from_datum(place, action->position, digits));
}

static void put_leg(JsonPage *page, const LegAction *leg)
{
    page_whole(page, "pass", leg->pass);
    page_text(page, "leg", leg->leg == LEG_OUT ? "out" : "back");
    page_number(page, "leg_turns", leg->turns);
    page_number(page, "dwell_deg", leg->dwell);
    page_whole(page, "crossings", leg->marks);
    if (leg->side)
        page_text(page, "side", leg->side > 0 ? "tip" : "butt");
    if (leg->neighbour != NO_PASS)
        page_whole(page, "beside_pass", leg->neighbour);
}

static void put_winding_of(JsonPage *page, const Action *action)
{
    page_whole(page, "turns", action->turns);
    page_truth(page, "by_hand", action->by_hand);
    page_whole(page, "winding", action->winding);
    page_whole(page, "band_count", action->band_count);
}

/* What lies between there and where the layer was measured before, and which band it is. */
static void put_measured(SheetData *data, const Action *action)
{
    JsonPage *page = &data->page;
    double gaps_before = data->so_far.gaps;
    turns_go_on(&data->so_far, &data->widths, action->layer_count);
    page_number(page, "width_mm", action->length);
    page_open(page, "made", '[');
    for (uint32_t i = 0; i < data->widths.list.count; i++) {
        const ThreadWidth *one = &data->widths.list.items[i];
        page_open(page, NULL, '{');
        page_text(page, "thread", one->thread->name->bytes);
        page_number(page, "nominal_turn_mm", one->thread->pitch);
        page_whole(page, "turns", (uint64_t)one->turns);
        page_close(page, '}');
    }
    page_close(page, ']');
    thread_widths_clear(&data->widths);
    page_number(page, "gaps_mm", data->so_far.gaps - gaps_before);
    page_whole(page, "band_count", action->layer_count - data->so_far.band_first);
    page_open(page, "band_threads", '[');
    for (uint32_t i = 0; data->so_far.last && i < data->so_far.last->count; i++)
        page_text(page, NULL, data->so_far.last->items[i].thread->name->bytes);
    page_close(page, ']');
}

static void put_numbers(SheetData *data, const Action *action)
{
    JsonPage *page = &data->page;
    unsigned kind = kinds[action->kind].members;
    if (kind & PART)
        page_whole(page, "part", action->part);
    if (kind & TURNS)
        put_winding_of(page, action);
    if (kind & TO_COVER)
        page_whole(page, "to_cover", action->turns);
    if (kind & COVERED)
        page_whole(page, "covered", action->state.covered);
    if (kind & THING)
        page_text(page, "thing", thing_word(action->thing));
    if (kind & CLEAR && action->turns != CLEAR_OF_ALL)
        page_whole(page, "clear_of", action->turns);
    if (kind & FINAL)
        page_truth(page, "final", action->final);
    if (kind & COUNT)
        page_whole(page, "layer_count", action->layer_count);
    if (kind & WHERE)
        put_position(data, action);
    if (action->clock)
        page_whole(page, "hour", action->clock);
    if (kind & ROUND) {
        page_number(page, "from_deg", action->leg.from_clock);
        page_number(page, "to_deg", action->leg.to_clock);
    }
    if (kind & LEG_MADE)
        put_leg(page, &action->leg);
    if (kind & THREAD)
        page_number(page, "thread_mm", action->length);
    if (kind & WIDTH)
        put_measured(data, action);
}

static void put_held(JsonPage *page, const Held *held)
{
    static const char *const holders[HOLDER_COUNT] = {[BY_TURNS] = "turns",
                                                      [BY_TAPE] = "tape",
                                                      [BY_SPOOL] = "spool",
                                                      [BY_BOBBIN] = "bobbin",
                                                      [BY_FINGER] = "finger"};
    page_open(page, NULL, '{');
    /* Of many together the first and the last: all of them after each pass would grow with the square of these. */
    page_open(page, "pieces", '[');
    page_whole(page, NULL, held->piece);
    page_whole(page, NULL, held->piece + held->piece_count - 1);
    page_close(page, ']');
    page_text(page, "thing", thing_word(held->thing));
    page_text(page, "by", holders[held->by]);
    page_close(page, '}');
}

static const char *stop_word(StopWay way)
{
    static const char *const words[STOP_COUNT] = {
        [STOP_NOT] = "no", [STOP_FINISHED] = "finished", [STOP_HELD] = "held", [STOP_TAPE] = "tape"};
    return words[way];
}

/* What the replay found when the action was done. */
static void put_state(JsonPage *page, const ActionState *state)
{
    page_open(page, "after", '{');
    page_whole(page, "running", state->running);
    page_whole(page, "standing", state->standing);
    page_whole(page, "laid_in", state->laid_in);
    page_whole(page, "fingers", state->fingers);
    page_truth(page, "blank_held", state->blank_held);
    page_open(page, "held", '[');
    for (uint32_t i = 0; i < state->held_count; i++)
        put_held(page, &state->held[i]);
    page_close(page, ']');
    page_text(page, "stop", stop_word(state->to_stop));
    page_close(page, '}');
}

static void put_action(SheetData *data, const SheetAction *told)
{
    JsonPage *page = &data->page;
    const Action *action = told->action;
    page_open_flat(page, NULL, '{');
    page_whole(page, "number", told->number);
    page_text(page, "kind", kinds[action->kind].word);
    if (action->piece != NO_PIECE)
        put_piece_list(page, action_pieces(action));
    page_whole(page, "hands", action->state.hands);
    put_numbers(data, action);
    put_state(page, &action->state);
    put_words(page, "says", told->says);
    put_words(page, "detail", told->detail);
    put_words(page, "where", told->where);
    put_words(page, "count", told->count);
    put_words(page, "clock", told->clock);
    put_words(page, "caution", told->caution);
    put_words(page, "stop", told->stop);
    page_close(page, '}');
}

/* What pages say of a step that an equal wrap's step tells at length. */
static void put_row(JsonPage *page, const ToldRow *row)
{
    page_open_flat(page, "as", '{');
    page_whole(page, "step", row->as);
    put_words(page, "turns", row->turns);
    put_words(page, "layer", row->layer);
    put_words(page, "at", row->at);
    put_words(page, "width", row->width);
    put_words(page, "hour", row->hour);
    put_words(page, "note", row->note);
    page_open_flat(page, "own", '[');
    const struct {
        bool own;
        const char *member;
    } words[] = {{row->own_says, "says"}, {row->own_clock, "clock"}, {row->own_stop, "stop"}};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (words[i].own)
            page_text(page, NULL, words[i].member);
    page_close(page, ']');
    page_close(page, '}');
}

/* Turns of the layer when the step is done. */
static void put_layer_turn(SheetData *data, const SheetStep *step)
{
    for (uint32_t i = step->first + step->count; i-- > step->first;) {
        const Action *action = data->rod->actions[i].action;
        if (action->layer == WHOLE_ROD || !(kinds[action->kind].members & COUNT))
            continue;
        page_whole(&data->page, "layer_turn", action->layer_count);
        return;
    }
}

/* --- where to stop for the night --- */

static void put_night_stop(SheetData *data, const char *name, const NightStop *stop)
{
    JsonPage *page = &data->page;
    const SheetRod *rod = data->rod;
    const ActionState *state = night_state(rod->bench, stop);
    if (!stop->there)
        return;
    page_open_flat(page, name, '{');
    page_whole(page, "steps_done", rod->steps[0].number - 1 + stop->steps);
    page_whole(page, "turns_made", stop->made);
    page_whole(page, "actions_done", rod->actions[0].number - 1 + stop->done);
    page_whole(page, "turns", stop->turns);
    page_text(page, "stop", stop_word(state ? state->to_stop : STOP_FINISHED));
    page_close(page, '}');
}

static void put_night(SheetData *data, const SheetStep *step)
{
    JsonPage *page = &data->page;
    uint32_t index = step->number - data->rod->steps[0].number;
    const StepNight *night = &data->nights[index];
    page_open(page, "night", '{');
    put_night_stop(data, "before", &night->before);
    put_night_stop(data, "after", &night->after);
    page_open_flat(page, "within", '[');
    for (uint32_t i = 0; i < night->within_count; i++) {
        page_open_flat(page, NULL, '[');
        page_whole(page, NULL, night->within[i].from);
        page_whole(page, NULL, night->within[i].to);
        page_close(page, ']');
    }
    page_close(page, ']');
    page_text(page, "says", night_words(data->aside, data->rod, index, night));
    arena_clear(data->aside);
    page_close(page, '}');
}

void put_step(SheetData *data, const SheetStep *step, const ToldRow *row)
{
    static const char *const words[STEP_KIND_COUNT] = {
        [STEP_OTHER] = "other", [STEP_LAY] = "lay",   [STEP_CUT] = "cut",   [STEP_CHANGE] = "change",
        [STEP_WIND] = "wind",   [STEP_DRAW] = "draw", [STEP_TEND] = "tend", [STEP_PASS] = "pass"};
    JsonPage *page = &data->page;
    page_open(page, NULL, '{');
    page_whole(page, "number", step->number);
    page_text(page, "kind", words[step->kind]);
    page_whole(page, "turns", step->turns);
    put_layer_turn(data, step);
    page_text(page, "says", step->says);
    put_words(page, "thread", step->thread);
    put_words(page, "note", step->note);
    put_words(page, "progress", step->progress);
    put_words(page, "where", step->where);
    put_words(page, "clock", step->clock);
    put_words(page, "caution", step->caution);
    page_truth(page, "measure", step->measure);
    put_words(page, "stop", step->stop);
    put_night(data, step);
    if (row)
        put_row(page, row);
    page_open(page, "actions", '[');
    for (uint32_t i = 0; i < step->count; i++)
        put_action(data, &data->rod->actions[step->first + i]);
    page_close(page, ']');
    page_close(page, '}');
}
