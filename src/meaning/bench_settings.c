/* The builder's habits, and the units that lengths are printed in. */
#include "meaning/bench_settings.h"

#include "base/whole.h"
#include "meaning/option.h"
#include "trade/trade.h"

#include <math.h>
#include <stddef.h>

/* Of the options that are numbers; `most` 0 for all others. */
static const Range ranges[BENCH_OPTION_COUNT] = {
#define NUMBER(name, word, type, least, most, otherwise) [BENCH_##name] = {least, most, otherwise},
#define NO_NUMBER(...)
    BENCH_TABLE(NUMBER, NO_NUMBER, NO_NUMBER)
#undef NUMBER
};

/* Switches of the steps around the wrapping, and whether they are on if nothing is said. */
static const struct {
    BenchOption option;
    size_t field;
    bool otherwise;
} switches[] = {
#define SWITCH(name, word, field, otherwise) {BENCH_##name, offsetof(Bench, field), otherwise},
    BENCH_TABLE(NO_NUMBER, NO_NUMBER, SWITCH)
#undef SWITCH
};

static const Node *bench_of(const Module *module)
{
    for (const Node *node = module->declarations; node; node = node->next)
        if (node->kind == NODE_BENCH)
            return node;
    return NULL;
}

static const Node *bench_that_counts(const Module *main)
{
    const Node *bench = bench_of(main);
    for (uint32_t i = 0; i < main->uses.count && !bench; i++)
        if (main->uses.items[i].module)
            bench = bench_of(main->uses.items[i].module);
    return bench;
}

/* Where a bench could be written: behind the edition's line. */
static Span room_for_bench(const Module *main)
{
    Span span = {0, 0, main->tree->file};
    if (main->tree->edition)
        span.start = span.end = main->tree->edition->span.end;
    return span;
}

/* The unit of the first plain length that is a place's mark; UNIT_NONE if none is. A file holds no deeper blocks
 * than LIMIT_NESTING. */
static Unit unit_of_marks(const Node *list)
{
    Unit unit = UNIT_NONE;
    for (const Node *node = list; node && unit == UNIT_NONE; node = node->next) {
        const Node *mark = node->kind == NODE_PLACE ? node->first : NULL;
        mark = mark && mark->kind == NODE_LIST ? mark->first : mark;
        if (mark && mark->kind == NODE_NUMBER && unit_measure((Unit)mark->detail) == MEASURE_LENGTH)
            unit = (Unit)mark->detail;
        else if (node->kind == NODE_FOR || node->kind == NODE_IF || node->kind == NODE_SERIES)
            unit = unit_of_marks(node->body);
    }
    return unit;
}

/* The rod that it is like in the end; NULL where that is not known. */
static const Node *rod_with_places(const Node *rod)
{
    while (rod && rod->first->next)
        rod = rod->first->next->target ? ((const Declaration *)rod->first->next->target)->node : NULL;
    return rod;
}

/* The unit that the file's own places are written in, as far as they are plain lengths; or that of its first
 * length; or that of the places of a rod that one of its own is like. */
static Unit unit_of_places(const Module *main)
{
    for (const Node *rod = main->declarations; rod; rod = rod->next) {
        Unit unit = rod->kind == NODE_ROD && !rod->first->next ? unit_of_marks(rod->body) : UNIT_NONE;
        if (unit != UNIT_NONE)
            return unit;
    }
    Unit unit = main->tree->first_length;
    for (const Node *node = main->declarations; node && unit == UNIT_NONE; node = node->next) {
        const Node *rod = node->kind == NODE_ROD ? rod_with_places(node) : NULL;
        unit = rod ? unit_of_marks(rod->body) : UNIT_NONE;
    }
    return unit;
}

/* Habits in turns are whole. */
static double whole_turns(Evaluator *evaluator, const Node *owner, BenchOption option, double turns)
{
    const Node *value = option_value(owner->options, option);
    if (value && !is_whole(turns)) {
        const char *whole = show_turns(evaluator->findings->words, round(turns));
        Finding *finding =
            finding_add(evaluator->findings, FINDING_NOT_WHOLE, value->span, "turns have to be whole here");
        finding_label(evaluator->findings, finding, "this comes to %s",
                      show_turns(evaluator->findings->words, turns));
        finding_mend(evaluator->findings, finding, "write %s", whole);
        finding_edit(evaluator->findings, finding, value->span, "%s", whole);
    }
    return round(turns);
}

double bench_most(BenchOption option) { return ranges[option].most; }

/* The steepest angle has to be above the flattest, which it cannot be where that is as steep as any. */
static void report_no_range(Evaluator *evaluator, const Node *owner, double flattest)
{
    bool steepest = option_value(owner->options, BENCH_STEEPEST) && flattest < ranges[BENCH_STEEPEST].most;
    Span span = option_value_span(owner, steepest ? BENCH_STEEPEST : BENCH_FLATTEST);
    Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, span,
                                   "`steepest` has to be a greater angle than `flattest`");
    finding_mend(evaluator->findings, finding,
                 steepest ? "write the greater angle here, such as 89 deg"
                          : "write the smaller angle here, such as 1 deg");
    finding_edit(evaluator->findings, finding, span, steepest ? "89 deg" : "1 deg");
}

/* What rules and callipers are read to, in mm and in inches: common practice, no source. */
static const struct {
    double step[2]; /* mm */
    const char *words[2];
} tool_steps[] = {
#define X(metric, inches, written) {{metric, (inches)*25.4}, {#metric " mm", written " in"}},
    X(0.01, 0.0005, "0.0005") X(0.02, 0.001, "0.001") X(0.05, 0.002, "0.002") X(0.1, 0.005, "0.005")
        X(0.2, 0.01, "0.01") X(0.5, 1.0 / 64, "1/64") X(1, 1.0 / 32, "1/32") X(2, 1.0 / 16, "1/16")
            X(5, 1.0 / 8, "1/8")
#undef X
};

/* In mm, if left out at a bench in mm and at one in inches (1/64 in, 0.005 in): common practice, no source. */
static const double rule_steps[] = {0.5, 25.4 / 64};
static const double calliper_steps[] = {0.1, 0.127};

/* The nearest of the steps that the option may be. */
static const char *usual_step(BenchOption option, double step, bool in_inches)
{
    const char *nearest = NULL;
    double off = INFINITY;
    for (size_t i = 0; i < sizeof tool_steps / sizeof *tool_steps; i++) {
        double usual = tool_steps[i].step[in_inches], far = fabs(log(usual / step));
        if (usual < ranges[option].least || usual > ranges[option].most || far >= off)
            continue;
        off = far;
        nearest = tool_steps[i].words[in_inches];
    }
    return nearest;
}

/* A rule or callipers: what they are read to is an even part of a centimetre or of an inch. */
static MeasuringTool read_tool(Evaluator *evaluator, const Node *owner, BenchOption option, double step,
                               const double usual[2])
{
    bool in_inches = evaluator->units == SYSTEM_IN;
    bool is_rule = option == BENCH_RULE;
    if (isnan(step))
        step = usual[in_inches];
    if (!step_is_metric(step) && !step_is_of_an_inch(step)) {
        const char *even = usual_step(option, step, in_inches);
        Span span = option_value_span(owner, option);
        Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, span,
                                       "%s to even parts of a centimetre or of an inch, and this is none",
                                       is_rule ? "a rule is read" : "callipers are read");
        finding_mend(evaluator->findings, finding, "write `%s`", even);
        finding_edit(evaluator->findings, finding, span, "%s", even);
        step = usual[in_inches];
    }
    return tool_read_to(evaluator->units, step, !is_rule);
}

static void read_switches(Evaluator *evaluator, const Node *owner, Bench *bench)
{
    for (size_t i = 0; i < sizeof switches / sizeof *switches; i++) {
        const Node *node = option_value(owner->options, switches[i].option);
        Value value = node ? evaluate(evaluator, node) : (Value){.type = TYPE_BROKEN};
        *(bool *)((char *)bench + switches[i].field) =
            value.type == TYPE_TRUTH ? value.truth : switches[i].otherwise;
    }
}

Bench bench_read(Evaluator *evaluator, const Module *main)
{
    const Node *node = bench_that_counts(main);
    Bench bench = {.written = node, .units = unit_system(unit_of_places(main))};
    bench.span = node ? node->span : room_for_bench(main);
    static const Node nothing = {.kind = NODE_BENCH};
    const Node *owner = node ? node : &nothing;
    bench.units = evaluator->units = (UnitSystem)option_choice(owner, BENCH_UNITS, (int)bench.units);
    double values[BENCH_OPTION_COUNT];
    for (uint32_t option = 0; option < BENCH_OPTION_COUNT; option++) {
        bench.value_spans[option] = option_value_span(owner, option);
        if (ranges[option].most > 0)
            values[option] = option_number(evaluator, owner, option, ranges[option]);
    }
    read_switches(evaluator, owner, &bench);
    bench.bind = whole_turns(evaluator, owner, BENCH_BIND, values[BENCH_BIND]);
    bench.loop = whole_turns(evaluator, owner, BENCH_LOOP, values[BENCH_LOOP]);
    bench.final = whole_turns(evaluator, owner, BENCH_FINAL, values[BENCH_FINAL]);
    bench.free = values[BENCH_FREE];
    bench.tolerance = values[BENCH_TOLERANCE];
    bench.rule = read_tool(evaluator, owner, BENCH_RULE, values[BENCH_RULE], rule_steps);
    bench.callipers = read_tool(evaluator, owner, BENCH_CALLIPERS, values[BENCH_CALLIPERS], calliper_steps);
    bench.hand = values[BENCH_HAND];
    bench.carry = whole_turns(evaluator, owner, BENCH_CARRY, values[BENCH_CARRY]);
    bench.ridge = (uint32_t)values[BENCH_RIDGE];
    bench.apart = values[BENCH_APART];
    bench.friction = values[BENCH_FRICTION];
    bench.measure = whole_turns(evaluator, owner, BENCH_MEASURE, values[BENCH_MEASURE]);
    bench.reading = values[BENCH_READING];
    bench.varies = values[BENCH_VARIES];
    bench.coat = values[BENCH_COAT];
    bench.speed = values[BENCH_SPEED];
    bench.handling = values[BENCH_HANDLING];
    bench.holders = (uint32_t)values[BENCH_HOLDERS];
    bench.bobbins = (uint32_t)values[BENCH_BOBBINS];
    bench.pack = whole_turns(evaluator, owner, BENCH_PACK, values[BENCH_PACK]);
    bench.coats = (uint32_t)values[BENCH_COATS];
    bench.flattest = radians(values[BENCH_FLATTEST]);
    bench.steepest = radians(values[BENCH_STEEPEST]);
    if (bench.steepest <= bench.flattest)
        report_no_range(evaluator, owner, values[BENCH_FLATTEST]);
    bench.stack = (uint32_t)values[BENCH_STACK];
    bench.shortest = (uint32_t)whole_turns(evaluator, owner, BENCH_SHORTEST, values[BENCH_SHORTEST]);
    bench.paper = values[BENCH_PAPER];
    bench.sight = values[BENCH_SIGHT];
    bench.near = values[BENCH_NEAR];
    bench.far = values[BENCH_FAR];
    bench.jump = values[BENCH_JUMP];
    bench.alike = values[BENCH_ALIKE];
    bench.ends = (EndHold)option_choice(owner, BENCH_ENDS, HOLD_TAPE);
    bench.butt_left = option_choice(owner, BENCH_LEFT, 0) == 0;
    bench.toward_you = option_choice(owner, BENCH_ROTATION, 0) == 0;
    bench.line = (RodLine)option_choice(owner, BENCH_LINE, LINE_STRAIGHTEST);
    bench.prefer = (Preference)option_choice(owner, BENCH_PREFER, PREFER_ENDS);
    bench.drive = (Drive)option_choice(owner, BENCH_DRIVE, DRIVE_PEDAL);
    bench.order = (PlaceOrder)option_choice(owner, BENCH_ORDER, ORDER_SOURCE);
    return bench;
}
