/* An action of the bench sheet as data. A member that says nothing of its kind of action is left out. */
#include "emit/sheet/sheet_json.h"

#include "plan/plan_sums.h"

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
    PART = 1024,
    ROUND = 512 /* where round the blank it happens */
};

/* What the bench protocol calls each kind, and which members it has. */
static const struct {
    const char *word;
    unsigned members;
} kinds[ACTION_KIND_COUNT] = {
    [ACTION_CLEAN] = {"clean", 0},
    [ACTION_MARK_LINE] = {"mark line", 0},
    [ACTION_PART] = {"part", PART},
    [ACTION_DRESS_FOOT] = {"dress foot", 0},
    [ACTION_TAPE_GUIDE] = {"tape guide", 0},
    [ACTION_MARK] = {"mark", 0},
    [ACTION_START] = {"start", TO_COVER | COUNT | WHERE},
    [ACTION_LAY_IN] = {"lay in", TO_COVER | COUNT | WHERE},
    [ACTION_LAY_LOOP] = {"lay loop", TO_COVER | COUNT | WHERE | FINAL},
    [ACTION_TAKE_UP] = {"take up", COVERED | COUNT | WHERE},
    [ACTION_WIND] = {"wind", TURNS | COUNT | WHERE | THREAD},
    [ACTION_STAND] = {"stand", COUNT | WHERE},
    [ACTION_LAY_END] = {"lay end", TO_COVER | COUNT | WHERE},
    [ACTION_PULL_THROUGH] = {"pull through", COVERED | COUNT | WHERE | FINAL},
    [ACTION_TRIM_TAG] = {"trim tag", COVERED | COUNT | WHERE},
    [ACTION_TRIM_END] = {"trim end", COVERED | COUNT | WHERE},
    [ACTION_TAPE_DOWN] = {"tape down", COUNT | WHERE},
    [ACTION_UNTAPE] = {"untape", COUNT | WHERE},
    [ACTION_PACK] = {"pack", COUNT | WHERE},
    [ACTION_MEASURE] = {"measure", COUNT | WHERE | WIDTH},
    [ACTION_TAKE_TAPE] = {"take tape", COUNT | WHERE},
    [ACTION_TAKE_SPACER] = {"take spacer", COUNT | WHERE},
    [ACTION_BIND_RING] = {"bind ring", 0},
    [ACTION_SET_OUT] = {"set out", WHERE},
    [ACTION_HOLD_ENDS] = {"hold ends", 0},
    [ACTION_TIE_ON] = {"tape on", WHERE | ROUND},
    [ACTION_LEG] = {"leg", WHERE | ROUND | THREAD | LEG_MADE},
    [ACTION_TIE_OFF] = {"tape off", WHERE | ROUND},
    [ACTION_SYMMETRY] = {"symmetry", 0},
    [ACTION_UNWIND] = {"unwind", 0},
    [ACTION_TAKE_ENDS] = {"take ends", 0},
    [ACTION_ALIGN] = {"align", 0},
    [ACTION_SEAL] = {"seal", 0},
    [ACTION_SINGE] = {"singe", 0},
    [ACTION_WIPE] = {"wipe", 0},
    [ACTION_COAT] = {"coat", 0},
};

void put_words(JsonPage *page, const char *name, const char *words)
{
    if (words && *words)
        page_text(page, name, words);
}

static void put_pieces_of(JsonPage *page, const Action *action)
{
    if (action->piece == NO_PIECE)
        return;
    page_open(page, "pieces", '[');
    for (uint32_t i = 0; i < action->piece_count; i++)
        page_whole(page, NULL, action->piece + i);
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
        page_number(page, "width_mm", action->length);
}

/* What the replay found when the action was done. */
static void put_state(JsonPage *page, const ActionState *state)
{
    page_open(page, "after", '{');
    page_whole(page, "running", state->running);
    page_whole(page, "standing", state->standing);
    page_whole(page, "laid_in", state->laid_in);
    page_truth(page, "may_stop", state->may_stop);
    page_close(page, '}');
}

void put_action_data(SheetData *data, const SheetAction *told)
{
    JsonPage *page = &data->page;
    const Action *action = told->action;
    page_open_flat(page, NULL, '{');
    page_whole(page, "number", told->number);
    page_text(page, "kind", kinds[action->kind].word);
    put_pieces_of(page, action);
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
