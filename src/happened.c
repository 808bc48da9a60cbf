/* What happened at the bench, in its order: the plan is made again with each. */
#include "recorded.h"

#include "base/limits.h"
#include "base/units.h"
#include "bench/mishaps.h"
#include "check/check.h"
#include "words/step_letters.h"

/* --- what is given --- */

static TurnlayStatus add_happening(Compilation *compilation, Happening happening)
{
    *LIST_ADD(&compilation->arena, &compilation->happened) = happening;
    return TURNLAY_DONE;
}

static TurnlayStatus give_happening(Compilation *compilation, Happening happening, bool sound)
{
    TurnlayStatus status = status_while_reading(compilation);
    if (status != TURNLAY_DONE)
        return status;
    if (!sound || compilation->happened.count >= LIMIT_READINGS)
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, add_happening(compilation, happening));
}

TurnlayStatus turnlay_measure(Compilation *compilation, TurnlayMeasured measured)
{
    bool sound = measured.step && measured.width > 0 && measured.width < LIMIT_MEASURED;
    return give_happening(compilation, (Happening){.measured = measured}, sound);
}

TurnlayStatus turnlay_mishap(Compilation *compilation, TurnlayMishap mishap)
{
    bool sound = mishap.step && (unsigned)mishap.kind < TURNLAY_MISHAP_KIND_COUNT
                 && (unsigned)mishap.way < TURNLAY_WAY_COUNT;
    return give_happening(compilation, (Happening){.is_mishap = true, .mishap = mishap}, sound);
}

const char *turnlay_mishap_fault(const Compilation *compilation)
{
    return compilation ? compilation->mishap_fault : NULL;
}

uint32_t turnlay_step_to_go_on(const Compilation *compilation)
{
    return compilation ? compilation->go_on_step : 0;
}

uint32_t turnlay_step_not_measured(const Compilation *compilation)
{
    return compilation ? compilation->not_measured : 0;
}

/* --- widths --- */

/* NULL for a step in which nothing is measured. */
static const Action *measuring_of(const BenchRod *rod, uint32_t index)
{
    const Step *step = &rod->steps[index];
    for (uint32_t i = step->first; i < step->first + step->count; i++)
        if (rod->actions[i].kind == ACTION_MEASURE)
            return &rod->actions[i];
    return NULL;
}

/* The step with this number, if a width is measured in it; NULL else. `rod` is where it is. Steps that were made
 * for this. */
static const Action *measured_at(const BenchPlan *bench, uint32_t number, uint32_t *rod)
{
    for (uint32_t r = 0; r < bench->rod_count; number -= bench->rods[r++].step_count) {
        *rod = r;
        if (number <= bench->rods[r].step_count)
            return measuring_of(&bench->rods[r], number - 1);
    }
    return NULL;
}

/* Turns of the layer up to where the band begins that such a turn ends, or lies in. */
static uint64_t turns_before_band(const PlannedLayer *layer, uint64_t turn)
{
    uint64_t before = 0;
    for (uint32_t i = 0; i < layer->item_count && before + layer->items[i].turns < turn; i++)
        before += layer->items[i].turns;
    return before;
}

/* What lies there by the sheet on which the step is counted, of which these are the steps. */
static void find_measured(Compilation *compilation, const BenchPlan *steps, Happening *happening)
{
    const TurnlayMeasured *measured = &happening->measured;
    uint32_t rod = 0;
    const Action *action = measured_at(steps, measured->step, &rod);
    happening->found = action != NULL;
    if (!action)
        return;
    const PlannedLayer *layer = &compilation->plan->rods[rod].places[action->place].layers[action->layer];
    uint64_t before = turns_before_band(layer, action->layer_count);
    happening->width = (MeasuredWidth){.rod = rod,
                                       .place = action->place,
                                       .layer = action->layer,
                                       .turn = action->layer_count,
                                       .made = measured->turns ? before + measured->turns : action->layer_count,
                                       .width = measured->width,
                                       .sure = measured->sure};
    happening->event = event_of_width(compilation, measured, &happening->width);
}

/* --- mishaps --- */

_Static_assert(TURNLAY_MISHAP_KIND_COUNT == (int)MISHAP_KIND_COUNT && TURNLAY_WAY_COUNT == (int)WAY_COUNT
                   && TURNLAY_BROKE == (int)MISHAP_BROKE && TURNLAY_SPOOL_EMPTY == (int)MISHAP_SPOOL_EMPTY
                   && TURNLAY_UNWOUND == (int)MISHAP_UNWOUND && TURNLAY_LOOP_TORN == (int)MISHAP_LOOP_TORN
                   && TURNLAY_TAG_OUT == (int)MISHAP_TAG_OUT && TURNLAY_WAY_EITHER == (int)WAY_AGAIN
                   && TURNLAY_WAY_SPLICE == (int)WAY_SPLICE && TURNLAY_WAY_RESTART == (int)WAY_RESTART,
               "the same in the same order");

/* The plan with one splice more: proven, and it goes on from what lies there. */
static bool try_splice(Compilation *compilation, Arena *scratch, const MishapAt *at, Mishap *mishap)
{
    const Job *job = compilation->job;
    Findings unheard;
    findings_start_unheard(&unheard, &compilation->findings);
    unheard.forgiving = true;
    const Plan *plan = plan_make(scratch, job, &unheard);
    check_plan(scratch, plan, &unheard);
    const StepLetters *letters = step_letters(scratch, plan);
    if (!unheard.errors)
        bench_prove(scratch, plan, letters, &unheard);
    if (unheard.errors) {
        mishap->ways[WAY_SPLICE].fault = WAY_FAULT_NOT_HELD;
        return false;
    }
    const BenchPlan *spliced = bench_make(scratch, plan, letters);
    return splice_goes_on(&compilation->arena, &job->bench, at, &spliced->rods[mishap->rod], mishap);
}

static void find_splice(Compilation *compilation, const MishapAt *at, Mishap *mishap)
{
    Job *job = compilation->job;
    Arena *scratch = arena_child(&compilation->arena);
    uint64_t turn = mishap->turn + 1;
    bool found = false;
    for (uint32_t tries = 0; tries < LIMIT_SPLICES_TRIED && !found; tries++) {
        turn = splice_below(&job->bench, at, mishap, turn);
        if (turn == NO_TURN)
            break;
        *LIST_ADD(&compilation->arena, &job->splices) =
            (Splice){.rod = mishap->rod, .place = mishap->place, .layer = mishap->layer, .turn = turn};
        found = try_splice(compilation, scratch, at, mishap);
        job->splices.count--;
        arena_clear(scratch);
    }
}

/* What is asked for, if it is open; else what takes fewer turns. */
static WayOn way_to_follow(const Mishap *mishap)
{
    const MishapWay *ways = mishap->ways;
    if (mishap->asked != WAY_AGAIN && ways[mishap->asked].open)
        return mishap->asked;
    if (ways[WAY_AGAIN].open)
        return WAY_AGAIN;
    bool splice = ways[WAY_SPLICE].open && mishap->asked == WAY_AGAIN
                  && ways[WAY_SPLICE].unwound <= ways[WAY_RESTART].unwound;
    return splice ? WAY_SPLICE : WAY_RESTART;
}

/* A width of turns that came off, of the layer all behind that one. */
static void forget_widths(Job *job, uint32_t rod, uint32_t place, uint32_t layer, uint64_t turn)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < job->measured.count; i++) {
        const MeasuredWidth *width = &job->measured.items[i];
        bool off = width->rod == rod && width->place == place && width->layer == layer && width->made > turn;
        if (!off)
            job->measured.items[kept++] = *width;
    }
    job->measured.count = kept;
}

/* A splice of turns that came off as a whole is gone. */
static void forget_splices(Job *job, const Mishap *mishap, const MishapWay *way)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < job->splices.count; i++) {
        const Splice *splice = &job->splices.items[i];
        bool off = splice->rod == mishap->rod && splice->place == mishap->place && splice->layer == mishap->layer
                   && splice->turn > way->turn;
        if (!off || !way->lost_count)
            job->splices.items[kept++] = *splice;
    }
    job->splices.count = kept;
}

static void follow(Compilation *compilation, Mishap *mishap)
{
    Job *job = compilation->job;
    mishap->followed = way_to_follow(mishap);
    const MishapWay *way = &mishap->ways[mishap->followed];
    forget_widths(job, mishap->rod, mishap->place, mishap->layer, way->turn);
    if (mishap->followed == WAY_SPLICE)
        *LIST_ADD(&compilation->arena, &job->splices) =
            (Splice){.rod = mishap->rod, .place = mishap->place, .layer = mishap->layer, .turn = way->splice};
    else
        forget_splices(job, mishap, way);
    *LIST_ADD(&compilation->arena, &job->mishaps) = *mishap;
    compilation->go_on_step = way->step;
}

/* false: it cannot have been in that step. */
static bool take_mishap(Compilation *compilation, const BenchPlan *made, const TurnlayMishap *given)
{
    Arena *arena = &compilation->arena;
    const Bench *bench = &compilation->job->bench;
    Mishap mishap = {
        .kind = (MishapKind)given->kind, .step = given->step, .turns = given->turns, .asked = (WayOn)given->way};
    MishapAt at;
    compilation->mishap_fault = mishap_find(arena, made, &mishap, &at);
    if (compilation->mishap_fault)
        return false;
    Arena *scratch = arena_child(arena);
    mishap_undo(arena, scratch, bench, &at, &mishap);
    arena_clear(scratch);
    find_splice(compilation, &at, &mishap);
    follow(compilation, &mishap);
    return true;
}

static bool counts_turns(const TurnlayMishap *mishap)
{
    return mishap->kind == TURNLAY_BROKE || mishap->kind == TURNLAY_SPOOL_EMPTY;
}

/* Where it is, by an earlier sheet; a step that is none stays as it is, and is refused then. */
static void find_mishap(const BenchPlan *steps, Happening *happening)
{
    const TurnlayMishap *mishap = &happening->mishap;
    happening->found = step_place(steps, mishap->step, &happening->place);
    happening->turn = happening->place.before + mishap->turns;
    if (counts_turns(mishap) && happening->turn < happening->place.turn)
        happening->place.turn = happening->turn;
}

/* The same on this sheet. */
static TurnlayMishap mishap_here(const BenchPlan *steps, const Happening *happening)
{
    TurnlayMishap mishap = happening->mishap;
    StepPlace place;
    uint32_t step = happening->back && happening->found ? step_at_place(steps, happening->place) : 0;
    if (!step || !step_place(steps, step, &place))
        return mishap;
    mishap.step = step;
    if (counts_turns(&mishap))
        mishap.turns = (uint32_t)(happening->turn > place.before ? happening->turn - place.before : 0);
    return mishap;
}

/* --- all --- */

/* Of all that is counted on the sheet that the first so many make. */
static void find_counted(Compilation *compilation, const BenchPlan *steps, uint32_t count)
{
    for (uint32_t i = count; i < compilation->happened.count; i++) {
        Happening *happening = &compilation->happened.items[i];
        if (happening->back != i - count)
            continue;
        if (happening->is_mishap)
            find_mishap(steps, happening);
        else
            find_measured(compilation, steps, happening);
    }
}

/* One with its turns, of which as many or more were measured before: those were taken off, or are measured again.
 */
static void take_width(Compilation *compilation, const Happening *happening)
{
    const MeasuredWidth *width = &happening->width;
    if (happening->measured.turns)
        forget_widths(compilation->job, width->rod, width->place, width->layer, width->made - 1);
    *LIST_ADD(&compilation->arena, &compilation->job->measured) = *width;
}

/* It is in the plan from now on; false where it cannot have been in its step. */
static bool take(Compilation *compilation, const BenchPlan *steps, Happening *happening, uint32_t number)
{
    if (happening->is_mishap) {
        TurnlayMishap mishap = mishap_here(steps, happening);
        if (!take_mishap(compilation, steps, &mishap))
            return false;
        compilation->went_on = !happening->recorded.end;
        happening->event = event_of_mishap(&happening->mishap);
    } else if (happening->found) {
        happening->width.event = compilation->job->happened.count + 1;
        take_width(compilation, happening);
    } else {
        return false;
    }
    happening->event.sheet = number - happening->back;
    *LIST_ADD(&compilation->arena, &compilation->job->happened) = happening->event;
    return true;
}

/* --- how much that is --- */

static uint64_t runs_of(const Plan *plan)
{
    uint64_t runs = 0;
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t p = 0; p < plan->rods[r].place_count; p++)
            for (uint32_t l = 0; l < plan->rods[r].places[p].layer_count; l++)
                runs += plan->rods[r].places[p].layers[l].run_count;
    return runs;
}

/* Each thing that happens plans all of it again. */
static void tell_too_much(Compilation *compilation, const Happening *happening)
{
    Findings *findings = &compilation->findings;
    Finding *finding = finding_add(findings, FINDING_TOO_MUCH_WORK, happening->recorded,
                                   "with what happened from here on, more than %s runs are planned again",
                                   show_count(findings->words, LIMIT_RUNS_AGAIN));
    finding_mend(findings, finding, "give fewer widths: of a layer the last ones count");
}

/* The first plan gives the sheet that the first step is counted on. */
void plan_again(Compilation *compilation, Findings before)
{
    if (too_many_steps(compilation->bench)) {
        tell_beyond(compilation, BEYOND_STEPS);
        compilation->errors_of_pages = 0; /* no page goes by the widths that were measured */
        return;
    }
    Arena *arena = arena_child(&compilation->arena);
    uint64_t runs = 0;
    for (uint32_t i = 0; i < compilation->happened.count && compilation->bench; i++) {
        Happening *happening = &compilation->happened.items[i];
        runs += runs_of(compilation->plan);
        if (runs > LIMIT_RUNS_AGAIN) {
            tell_too_much(compilation, happening);
            return;
        }
        const BenchPlan *steps = bench_make(arena, compilation->plan, step_letters(arena, compilation->plan));
        find_counted(compilation, steps, i);
        place_recorded_steps(compilation, steps, i);
        bool taken = !compilation->findings.errors && take(compilation, steps, happening, i);
        arena_clear(arena);
        if (compilation->findings.errors)
            return;
        if (!taken) {
            tell_not_happened(compilation, happening);
            return;
        }
        compilation->findings = before;
        compilation->findings.forgiving = true;
        plan_and_prove(compilation);
    }
}
