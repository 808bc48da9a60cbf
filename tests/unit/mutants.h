/* Lawful actions spoilt one at a time: the frame that both tests of mutants share. Every operator declares, by
 * rows of Expected, what the replay has to say of what it spoilt; survivors are printed with their reasons. */
#ifndef TURNLAY_TESTS_MUTANTS_H
#define TURNLAY_TESTS_MUTANTS_H

#include "bench_sheet.h"

#include "compilation.h"
#include "words/step_letters.h"

static const char *const kind_names[] = {
#define X(name, ...) #name,
    ACTION_TABLE(X)
#undef X
};

/* Sets of action kinds and of verdicts, as bits. */
#define K(name) (UINT64_C(1) << ACTION_##name)
#define V(name) (1u << REPLAY_##name)
#define ANY (~UINT64_C(0))

/* A copy of a rod's actions, to spoil. */
typedef struct Mutant {
    const PlannedRod *rod;
    Action *actions;
    uint32_t count;
} Mutant;

/* Spoils the action `at`; false where it does not apply. */
typedef bool Spoil(Mutant *mutant, uint32_t at);

/* What the replay has to say of a action spoilt in some way: the first row that fits counts. A row with LAWFUL
 * among its verdicts needs a reason. */
typedef struct Expected {
    Spoil *spoil;
    uint64_t kinds, next; /* of the action and of the one behind it; the last action counts as its own */
    unsigned verdicts;
    const char *reason;
} Expected;

typedef struct Spoiler {
    Spoil *spoil;
    const char *name;
} Spoiler;

typedef struct Mutating {
    const Expected *expected;
    const Spoiler *operators;
    uint32_t expected_count, operator_count;
} Mutating;

enum { MOST_ROWS = 128, MOST_OPERATORS = 48 };

/* What became of all mutants. */
typedef struct Tally {
    uint32_t mutants, killed, survivors, unexpected;
    uint32_t applied[MOST_OPERATORS], met[MOST_ROWS];
    uint32_t survived[MOST_ROWS][ACTION_KIND_COUNT];
} Tally;

static inline void leave_out(Mutant *mutant, uint32_t at)
{
    memmove(&mutant->actions[at], &mutant->actions[at + 1], (mutant->count - at - 1) * sizeof *mutant->actions);
    mutant->count--;
}

static inline void do_twice(Mutant *mutant, uint32_t at)
{
    memmove(&mutant->actions[at + 1], &mutant->actions[at], (mutant->count - at) * sizeof *mutant->actions);
    mutant->count++;
}

static inline void exchange_with_next(Mutant *mutant, uint32_t at)
{
    Action action = mutant->actions[at];
    mutant->actions[at] = mutant->actions[at + 1];
    mutant->actions[at + 1] = action;
}

/* The counts that every WIND carries. */
static inline void count_anew(Mutant *mutant)
{
    Progress progress = {0};
    for (uint32_t i = 0; i < mutant->count; i++)
        if (mutant->actions[i].kind == ACTION_WIND)
            count_turns(mutant->rod, &progress, &mutant->actions[i]);
}

static inline uint32_t expected_row(const Mutating *by, uint32_t operator, ActionKind kind, ActionKind next)
{
    for (uint32_t i = 0; i < by->expected_count; i++)
        if (by->expected[i].spoil == by->operators[operator].spoil && by->expected[i].kinds & UINT64_C(1) << kind
            && by->expected[i].next & UINT64_C(1) << next)
            return i;
    return MOST_ROWS;
}

static inline void judge(const Mutating *by, Tally *tally, uint32_t operator, const Action * action,
                         const Action *next, Replay replay)
{
    uint32_t row = expected_row(by, operator, action->kind, next->kind);
    bool survives = replay.verdict == REPLAY_LAWFUL;
    if (row == MOST_ROWS || !(by->expected[row].verdicts & 1u << replay.verdict)) {
        tally->unexpected++;
        print_message("step %u, %s before %s, %s: %s\n", (unsigned)replay.action, kind_names[action->kind],
                      kind_names[next->kind], by->operators[operator].name,
                      row == MOST_ROWS ? "nothing is declared" : verdict_words(replay.verdict));
        return;
    }
    tally->mutants++;
    tally->applied[operator]++;
    tally->met[row]++;
    tally->killed += !survives;
    tally->survivors += survives;
    tally->survived[row][action->kind] += survives;
}

static inline void spoil_every_action(const Mutating *by, Tally *tally, const BenchRod *made, const Bench *bench)
{
    Replay whole = replay_of(made, bench);
    if (whole.verdict)
        fail_msg("step %u before anything is spoilt: %s", (unsigned)whole.action, verdict_words(whole.verdict));
    Action *copy = calloc(made->action_count + 4, sizeof *copy);
    assert_non_null(copy);
    for (uint32_t operator= 0; operator<by->operator_count; operator++)
        for (uint32_t at = 0; at < made->action_count; at++) {
            memcpy(copy, made->actions, made->action_count * sizeof *copy);
            Mutant mutant = {made->rod, copy, made->action_count};
            if (!by->operators[operator].spoil(&mutant, at))
                continue;
            BenchRod spoilt = *made;
            spoilt.actions = copy;
            spoilt.action_count = mutant.count;
            uint32_t next = at + 1 < made->action_count ? at + 1 : at;
            judge(by, tally, operator, & made->actions[at], &made->actions[next], replay_of(&spoilt, bench));
        }
    free(copy);
}

/* Steps of a text without findings of error level. */
static inline void spoil_pattern(const Mutating *by, Tally *tally, const char *text)
{
    Compilation *compilation = compilation_new(0);
    assert_non_null(compilation);
    turnlay_give(compilation, "pattern.lay", text, strlen(text));
    while (turnlay_want(compilation).path)
        turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "it is nowhere");
    TurnlayStatus result = turnlay_finish(compilation);
    for (uint32_t i = 0; result != TURNLAY_DONE && i < compilation->findings.list.count; i++)
        print_message("%s\n", compilation->findings.list.items[i].message);
    assert_int_equal(result, TURNLAY_DONE);
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    const BenchPlan *made =
        bench_make(&compilation->arena, compilation->plan, step_letters(&compilation->arena, compilation->plan));
    assert_true(made->rod_count > 0);
    for (uint32_t i = 0; i < made->rod_count; i++)
        spoil_every_action(by, tally, &made->rods[i], &compilation->job->bench);
    turnlay_free(compilation);
}

static inline const char *operator_name(const Mutating *by, Spoil *spoil)
{
    uint32_t i = 0;
    while (by->operators[i].spoil != spoil)
        i++;
    return by->operators[i].name;
}

static inline void print_tally(const Mutating *by, const Tally *tally)
{
    for (uint32_t row = 0; row < by->expected_count; row++)
        for (uint32_t kind = 0; kind < ACTION_KIND_COUNT; kind++)
            if (tally->survived[row][kind])
                print_message("survive: %4u %-12s %s: %s\n", (unsigned)tally->survived[row][kind],
                              kind_names[kind], operator_name(by, by->expected[row].spoil),
                              by->expected[row].reason);
    print_message("mutants %u, killed %u, survivors by design %u\n", (unsigned)tally->mutants,
                  (unsigned)tally->killed, (unsigned)tally->survivors);
}

/* All patterns; no operator is idle, and no row of what is expected. */
static inline void spoil_patterns(const Mutating *by, const char *const *patterns, int count)
{
    assert_true(by->expected_count <= MOST_ROWS && by->operator_count <= MOST_OPERATORS);
    Tally *tally = calloc(1, sizeof *tally);
    assert_non_null(tally);
    for (int i = 0; i < count; i++)
        spoil_pattern(by, tally, patterns[i]);
    print_tally(by, tally);
    assert_int_equal(tally->unexpected, 0);
    for (uint32_t i = 0; i < by->operator_count; i++)
        if (!tally->applied[i])
            fail_msg("no step was spoilt by: %s", by->operators[i].name);
    for (uint32_t i = 0; i < by->expected_count; i++)
        if (!tally->met[i])
            fail_msg("no mutant met row %u, of: %s", (unsigned)i, operator_name(by, by->expected[i].spoil));
    assert_true(tally->killed > tally->survivors);
    free(tally);
}

/* No row is taken as an excuse without a reason, and none without a lawful verdict carries one. */
static inline void every_survivor_has_a_reason(const Mutating *by)
{
    for (uint32_t i = 0; i < by->expected_count; i++)
        assert_true(!(by->expected[i].verdicts & V(LAWFUL)) == !by->expected[i].reason);
}

#endif
