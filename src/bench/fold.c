/* Which action goes on with the step at hand, and which begins one: a state machine of two tables. */
#include "bench/fold.h"

#include "bench/step_length.h"

#include <math.h>

/* What an action is within a step: name; the kind of the step that it begins; where that has come to then. */
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

/* So few turns after a measuring are no step by themselves: common practice, no source. */
enum { A_FEW = 10 };

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
    /* A few turns after a measuring, up to where something is laid under the next ones. */
    [FOLD_FEW] = {[ROLE_LAY] = FOLD_READY,
                  [ROLE_CUT] = FOLD_READY,
                  [ROLE_TAPE] = FOLD_TENDED,
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
                    [ROLE_TRIM] = FOLD_DRAWN,
                    [ROLE_PACK] = FOLD_TENDED,
                    [ROLE_MEASURE] = FOLD_TENDED},
    /* A pass of a crosswrap, out and back. */
    [FOLD_TIED] = {[ROLE_LEG_OUT] = FOLD_OUT},
    [FOLD_OUT] = {[ROLE_LEG_BACK] = FOLD_HOME, [ROLE_TIE_OFF] = FOLD_WHOLE},
    [FOLD_HOME] = {[ROLE_TIE_OFF] = FOLD_WHOLE},
};

static Role role_of(const Action *action)
{
    if (action->kind == ACTION_WIND && action->by_hand)
        return ROLE_HAND;
    if (action->kind == ACTION_UNTAPE && action->thing == THING_LINE)
        return ROLE_UNTAPE_LINE;
    if (action->kind == ACTION_LEG && action->leg.leg != LEG_OUT)
        return ROLE_LEG_BACK;
    return (Role)roles[action->kind];
}

static bool same_layer(const Folding *folding, const Action *action)
{
    return folding->any && folding->place == action->place && folding->layer == action->layer;
}

static bool is_of_turns(Role role) { return role == ROLE_WIND || role == ROLE_HAND; }

/* The step at hand with this action, too. Winding on after packing is told with the winding before. */
static Folding with_action(const Folding *folding, const StepLetters *letters, const PlannedRod *rod,
                           const Action *action)
{
    Role role = role_of(action);
    bool winds_on = folding->state == FOLD_PACKED && role == ROLE_WIND;
    Folding with = *folding;
    with.state = goes_on[folding->state][role];
    with.changes = is_of_turns(role) ? 0 : folding->changes + letters_of_change(letters, rod, action);
    if (winds_on)
        with.letters += letters_of_packing(folding, letters, action) - letters->told[ACTION_PACK];
    else
        with.letters += letters_told(folding, letters, rod, action);
    with.packings += winds_on;
    name_told(&with, action);
    return with;
}

static Folding begun_with(const Folding *before, const StepLetters *letters, const PlannedRod *rod,
                          const Action *action)
{
    Role role = role_of(action);
    bool winds_few = role == ROLE_WIND && action->turns <= A_FEW && same_layer(before, action)
                     && before->last == ACTION_MEASURE;
    Folding begun = {.any = true,
                     .place = action->place,
                     .layer = action->layer,
                     .state = winds_few ? FOLD_FEW : begun_by[role].state,
                     .wound_to = same_layer(before, action) ? before->wound_to : NAN,
                     .kind = begun_by[role].kind,
                     .last = ACTION_KIND_COUNT,
                     .named = ACTION_KIND_COUNT};
    begun.letters = letters_told(&begun, letters, rod, action);
    begun.changes = letters_of_change(letters, rod, action);
    name_told(&begun, action);
    return begun;
}

/* Whether it is told in few enough letters, whatever has to follow. */
static bool is_short(const Folding *before, const Folding *with, const StepLetters *letters, const PlannedRod *rod,
                     const Action *action)
{
    /* A packing of turns whose thread is taped down comes with the measuring that needs the hands. */
    bool measured_next = action->kind == ACTION_PACK && before->state == FOLD_TENDED;
    uint32_t to_come = measured_next ? letters->told[ACTION_MEASURE] : letters_to_come(with, letters, rod, action);
    return with->letters + (to_come > with->changes ? to_come : with->changes) <= MOST_LETTERS;
}

bool fold_begins(Folding *folding, const StepLetters *letters, const PlannedRod *rod, const Action *action)
{
    bool begins = !same_layer(folding, action) || goes_on[folding->state][role_of(action)] == FOLD_NOWHERE;
    if (!begins) {
        Folding with = with_action(folding, letters, rod, action);
        begins = !is_short(folding, &with, letters, rod, action);
        if (!begins)
            *folding = with;
    }
    if (begins)
        *folding = begun_with(folding, letters, rod, action);
    if (action->kind == ACTION_WIND || action->kind == ACTION_START)
        folding->wound_to = action->position;
    return begins;
}

Step *fold_actions(Arena *arena, const StepLetters *letters, const BenchRod *rod, uint32_t *step_count)
{
    LIST_OF(Step) steps = {0};
    Folding folding = {.any = false};
    for (uint32_t i = 0; i < rod->action_count; i++) {
        if (fold_begins(&folding, letters, rod->rod, &rod->actions[i]))
            *LIST_ADD(arena, &steps) = (Step){.kind = folding.kind, .first = i};
        Step *step = &steps.items[steps.count - 1];
        step->count++;
        step->letters = folding.letters + folding.changes;
    }
    *step_count = steps.count;
    return steps.items;
}
