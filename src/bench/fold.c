/* Which action goes on with the step at hand, and which begins one: a state machine of two tables. */
#include "bench/fold.h"

#include <math.h>

/* What an action is within a step: name; the kind of the step that it begins; where that has come to then; in
 * about how many letters it is told. */
#define ROLE_TABLE(X)                                                                                             \
    X(OTHER, OTHER, WHOLE) /* done by itself: guides, marks, sealing, finish */                                   \
    X(LAY, LAY, READY)     /* laid for the turns that follow: a tag, a loop */                                    \
    X(CUT, CUT, READY)     /* cut, the end laid for the turns that follow */                                      \
    X(STAND, CHANGE, CHANGED)                                                                                     \
    X(TAKE_UP, CHANGE, READY)                                                                                     \
    X(WIND, WIND, WOUND)                                                                                          \
    X(HAND, WIND, HANDED) /* turns led by hand */                                                                 \
    X(DRAW, DRAW, DRAWN)  /* an end drawn back by its loop */                                                     \
    X(TAPE, LAY, READY)   /* tape put on a thread */                                                              \
    X(UNTAPE, TEND, TENDED)                                                                                       \
    X(UNTAPE_LINE, WIND, READY) /* a thread is taken off its tape to be led on */                                 \
    X(TRIM, TEND, TENDED)                                                                                         \
    X(PACK, TEND, TENDED)                                                                                         \
    X(MEASURE, TEND, TENDED)                                                                                      \
    X(TIE_ON, PASS, TIED)                                                                                         \
    X(LEG_OUT, PASS, OUT)                                                                                         \
    X(LEG_BACK, PASS, HOME)                                                                                       \
    X(TIE_OFF, PASS, WHOLE)

/* More are not kept in mind while hands are busy: common practice, no source. */
enum { MOST_LETTERS = 160 };

typedef enum {
#define X(name, kind, state) ROLE_##name,
    ROLE_TABLE(X)
#undef X
        ROLE_COUNT
} Role;

static const struct {
    StepKind kind;
    FoldState state;
} begun_by[ROLE_COUNT] = {
#define X(name, kind, state) {STEP_##kind, FOLD_##state},
    ROLE_TABLE(X)
#undef X
};

/* Kinds without a row are done by themselves. */
static const uint8_t roles[ACTION_KIND_COUNT] = {
    [ACTION_START] = ROLE_LAY,          [ACTION_LAY_IN] = ROLE_LAY,        [ACTION_LAY_LOOP] = ROLE_LAY,
    [ACTION_LAY_END] = ROLE_CUT,        [ACTION_STAND] = ROLE_STAND,       [ACTION_TAKE_UP] = ROLE_TAKE_UP,
    [ACTION_WIND] = ROLE_WIND,          [ACTION_PULL_THROUGH] = ROLE_DRAW, [ACTION_TRIM_TAG] = ROLE_TRIM,
    [ACTION_TRIM_END] = ROLE_TRIM,      [ACTION_TAKE_TAPE] = ROLE_TRIM,    [ACTION_PACK] = ROLE_PACK,
    [ACTION_MEASURE] = ROLE_MEASURE,    [ACTION_TIE_ON] = ROLE_TIE_ON,     [ACTION_LEG] = ROLE_LEG_OUT,
    [ACTION_TIE_OFF] = ROLE_TIE_OFF,    [ACTION_TAPE_DOWN] = ROLE_TAPE,    [ACTION_UNTAPE] = ROLE_UNTAPE,
    [ACTION_CUT_FROM_SPOOL] = ROLE_CUT,
};

/* In about how many letters an action is told, first in a step and after others; what is not here is told with
 * those. */
static const struct {
    uint8_t first, later;
} letters[ACTION_KIND_COUNT] = {
    [ACTION_START] = {29, 31},          [ACTION_LAY_IN] = {34, 36},
    [ACTION_LAY_LOOP] = {44, 46},       [ACTION_LAY_END] = {41, 43},
    [ACTION_WIND] = {20, 22},           [ACTION_PULL_THROUGH] = {64, 64},
    [ACTION_TAPE_DOWN] = {26, 15},      [ACTION_UNTAPE] = {29, 33},
    [ACTION_TRIM_TAG] = {22, 8},        [ACTION_TRIM_END] = {22, 8},
    [ACTION_PACK] = {22, 22},           [ACTION_MEASURE] = {33, 33},
    [ACTION_TIE_ON] = {16, 16},         [ACTION_LEG] = {50, 40},
    [ACTION_TIE_OFF] = {30, 32},        [ACTION_TAKE_TAPE] = {36, 38},
    [ACTION_CUT_FROM_SPOOL] = {41, 43},
};

/* Beside no turn that was made before: then it is told where, unless that is at the mark. */
static bool begins_turns(const Folding *folding, const Action *action)
{
    return action->kind == ACTION_START
           && (action->layer_count == 0 || fabs(action->position - folding->wound_to) > NO_GAP);
}

/* A thread that is taken off its tape to be led on is said with less, what is taped after the turns with more.
 * Counted in the sheet's own sentences: common practice, no source. */
static uint32_t letters_of(const Folding *folding, const Action *action, bool first)
{
    enum { LINE_UNTAPED = 16, EACH_MORE = 26, WHERE_BEGUN = 28, TAPED_LATER = 30 };
    uint32_t more = action->piece_count > 1 ? (action->piece_count - 1) * EACH_MORE : 0;
    if (begins_turns(folding, action))
        more += WHERE_BEGUN;
    if (action->kind == ACTION_UNTAPE && action->thing == THING_LINE)
        return more + LINE_UNTAPED;
    if (action->kind == ACTION_TAPE_DOWN && action->thing != THING_LINE && folding->state == FOLD_WOUND)
        return more + TAPED_LATER;
    return more + (first ? letters[action->kind].first : letters[action->kind].later);
}

/* What goes on with the step at hand: where that has come to, by what, and where it comes to then; FOLD_NOWHERE
 * where that begins another step. */
static const uint8_t goes_on[FOLD_STATE_COUNT][ROLE_COUNT] = {
    /* All that the next turns need is made ready, then they are made. */
    [FOLD_READY] = {[ROLE_LAY] = FOLD_READY,
                    [ROLE_CUT] = FOLD_READY,
                    [ROLE_STAND] = FOLD_READY,
                    [ROLE_TAKE_UP] = FOLD_READY,
                    [ROLE_TAPE] = FOLD_READY,
                    [ROLE_UNTAPE] = FOLD_READY,
                    [ROLE_UNTAPE_LINE] = FOLD_READY,
                    [ROLE_WIND] = FOLD_WOUND,
                    [ROLE_HAND] = FOLD_HANDED,
                    [ROLE_DRAW] = FOLD_DRAWN,
                    [ROLE_TRIM] = FOLD_CLEARED},
    /* The same, begun by one thread standing for another. */
    [FOLD_CHANGED] = {[ROLE_LAY] = FOLD_READY,
                      [ROLE_CUT] = FOLD_READY,
                      [ROLE_STAND] = FOLD_CHANGED,
                      [ROLE_TAKE_UP] = FOLD_CHANGED,
                      [ROLE_TAPE] = FOLD_CHANGED,
                      [ROLE_UNTAPE] = FOLD_CHANGED,
                      [ROLE_UNTAPE_LINE] = FOLD_CHANGED,
                      [ROLE_WIND] = FOLD_LED,
                      [ROLE_HAND] = FOLD_HANDED,
                      [ROLE_TRIM] = FOLD_CLEARED},
    /* Trimmed before the turns: these are enough for one step, with their packing and measuring. */
    [FOLD_CLEARED] = {[ROLE_LAY] = FOLD_CLEARED,
                      [ROLE_STAND] = FOLD_CLEARED,
                      [ROLE_TAKE_UP] = FOLD_CLEARED,
                      [ROLE_TAPE] = FOLD_CLEARED,
                      [ROLE_UNTAPE] = FOLD_CLEARED,
                      [ROLE_UNTAPE_LINE] = FOLD_CLEARED,
                      [ROLE_TRIM] = FOLD_CLEARED,
                      [ROLE_WIND] = FOLD_DONE,
                      [ROLE_HAND] = FOLD_DONE},
    [FOLD_DONE] = {[ROLE_PACK] = FOLD_DONE, [ROLE_MEASURE] = FOLD_DONE},
    /* An exchange: turns by hand, then the thread that stood goes on. An inlay: then its end under the next ones.
     */
    [FOLD_HANDED] = {[ROLE_TAPE] = FOLD_HANDED,
                     [ROLE_UNTAPE] = FOLD_HANDED,
                     [ROLE_TRIM] = FOLD_HANDED,
                     [ROLE_STAND] = FOLD_BACK,
                     [ROLE_CUT] = FOLD_READY,
                     [ROLE_PACK] = FOLD_TENDED,
                     [ROLE_MEASURE] = FOLD_TENDED},
    /* The same of two that are led while the drive turns: each is taped down again, a tag trimmed meanwhile. */
    [FOLD_LED] = {[ROLE_TAPE] = FOLD_PARKED,
                  [ROLE_PACK] = FOLD_PACKED,
                  [ROLE_MEASURE] = FOLD_TENDED,
                  [ROLE_TRIM] = FOLD_TENDED,
                  [ROLE_UNTAPE] = FOLD_TENDED},
    [FOLD_PARKED] = {[ROLE_STAND] = FOLD_BACK,
                     [ROLE_TAPE] = FOLD_TENDED,
                     [ROLE_UNTAPE] = FOLD_PARKED,
                     [ROLE_TRIM] = FOLD_PARKED,
                     [ROLE_PACK] = FOLD_TENDED,
                     [ROLE_MEASURE] = FOLD_TENDED},
    [FOLD_BACK] = {[ROLE_TAPE] = FOLD_BACK,
                   [ROLE_UNTAPE] = FOLD_BACK,
                   [ROLE_UNTAPE_LINE] = FOLD_BACK,
                   [ROLE_TAKE_UP] = FOLD_BACK,
                   [ROLE_WIND] = FOLD_WOUND,
                   [ROLE_HAND] = FOLD_WOUND},
    /* Winding goes on after packing. After the last turn: tape what a finger holds, pack, measure, trim. */
    [FOLD_WOUND] = {[ROLE_TAPE] = FOLD_TENDED,
                    [ROLE_PACK] = FOLD_PACKED,
                    [ROLE_MEASURE] = FOLD_TENDED,
                    [ROLE_TRIM] = FOLD_TENDED,
                    [ROLE_UNTAPE] = FOLD_TENDED},
    [FOLD_PACKED] = {[ROLE_WIND] = FOLD_WOUND,
                     [ROLE_TAPE] = FOLD_TENDED,
                     [ROLE_UNTAPE] = FOLD_TENDED,
                     [ROLE_MEASURE] = FOLD_TENDED,
                     [ROLE_TRIM] = FOLD_TENDED},
    [FOLD_TENDED] = {[ROLE_TAPE] = FOLD_TENDED,
                     [ROLE_UNTAPE] = FOLD_TENDED,
                     [ROLE_TRIM] = FOLD_TENDED,
                     [ROLE_PACK] = FOLD_TENDED,
                     [ROLE_MEASURE] = FOLD_TENDED},
    [FOLD_DRAWN] = {[ROLE_UNTAPE] = FOLD_DRAWN,
                    [ROLE_TRIM] = FOLD_TENDED,
                    [ROLE_PACK] = FOLD_TENDED,
                    [ROLE_MEASURE] = FOLD_TENDED},
    /* A pass of a crosswrap, out and back. */
    [FOLD_TIED] = {[ROLE_LEG_OUT] = FOLD_OUT},
    [FOLD_OUT] = {[ROLE_LEG_BACK] = FOLD_HOME, [ROLE_TIE_OFF] = FOLD_WHOLE},
    [FOLD_HOME] = {[ROLE_TIE_OFF] = FOLD_WHOLE},
};

static Role role_of(const Action *action)
{
    if (action->kind == ACTION_WIND)
        return action->by_hand ? ROLE_HAND : ROLE_WIND;
    if (action->kind == ACTION_UNTAPE && action->thing == THING_LINE)
        return ROLE_UNTAPE_LINE;
    if (action->kind == ACTION_LEG)
        return action->leg.leg == LEG_OUT ? ROLE_LEG_OUT : ROLE_LEG_BACK;
    return (Role)roles[action->kind];
}

/* What goes together: a thread that stands, is taken up or started, its tag under a finger, with the turns that
 * follow; a packing of turns whose thread is taped down with the measuring that needs the hands. Not in a step
 * that has no room for both. */
static uint32_t letters_to_come(FoldState state, ActionKind kind)
{
    if (kind == ACTION_STAND || kind == ACTION_TAKE_UP || kind == ACTION_START)
        return letters[ACTION_WIND].later;
    return kind == ACTION_PACK && state == FOLD_TENDED ? letters[ACTION_MEASURE].later : 0;
}

static bool begins_step(Folding *folding, const Action *action)
{
    Role role = role_of(action);
    bool same_layer = folding->any && folding->place == action->place && folding->layer == action->layer;
    folding->letters += letters_of(folding, action, false);
    bool short_enough = folding->letters + letters_to_come(folding->state, action->kind) <= MOST_LETTERS;
    FoldState next = goes_on[folding->state][role];
    if (same_layer && short_enough && next != FOLD_NOWHERE) {
        if (folding->state == FOLD_PACKED && role == ROLE_WIND)
            folding->letters -= letters[ACTION_PACK].later;
        folding->state = next;
        return false;
    }
    *folding = (Folding){.any = true,
                         .place = action->place,
                         .layer = action->layer,
                         .state = begun_by[role].state,
                         .letters = letters_of(folding, action, true),
                         .wound_to = folding->wound_to,
                         .kind = begun_by[role].kind};
    return true;
}

bool fold_begins(Folding *folding, const Action *action)
{
    bool begins = begins_step(folding, action);
    if (action->kind == ACTION_WIND)
        folding->wound_to = action->position;
    return begins;
}

Step *fold_actions(Arena *arena, const Action *actions, uint32_t count, uint32_t *step_count)
{
    LIST_OF(Step) steps = {0};
    Folding folding = {.any = false};
    for (uint32_t i = 0; i < count; i++) {
        if (fold_begins(&folding, &actions[i]))
            *LIST_ADD(arena, &steps) = (Step){folding.kind, i, 0};
        steps.items[steps.count - 1].count++;
    }
    *step_count = steps.count;
    return steps.items;
}
