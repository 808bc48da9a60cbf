/* The builder's habits, and the units that lengths are printed in. */
#include "meaning/bench_settings.h"

#include "meaning/option.h"
#include "trade/trade.h"

#include <math.h>
#include <stddef.h>

/* In the order of BenchOption. The defaults are common practice, no source; the range of friction is the scope of
 * ASTM D3108 (yarn on solid, 10 to 80 tex); `bind` between 4 and 10 turns is common practice, no source. */
static const Range ranges[] = {
    [BENCH_BIND] = {4, 10, 6},
    [BENCH_LOOP] = {2, 20, 4},
    [BENCH_FINAL] = {2, 40, 8},
    [BENCH_FREE] = {10, 1000, 150},
    [BENCH_TOLERANCE] = {0.01, 100, 0.5},
    [BENCH_HAND] = {100, 100000, 1500},
    [BENCH_RIDGE] = {1, 100, 3},
    [BENCH_APART] = {0.1, 100, 0.5},
    [BENCH_FRICTION] = {0.1, 0.5, 0.2},
    [BENCH_MEASURE] = {1, 1e6, NAN},
    [BENCH_COAT] = {0.01, 5, 0.25},
    [BENCH_SPEED] = {1, 10000, 60},
    [BENCH_HANDLING] = {0, 3600, 60},
    [BENCH_HOLDERS] = {1, 16, 2},
    [BENCH_PACK] = {4, 1000, 40},
    [BENCH_COATS] = {0, 10, 2},
    [BENCH_FLATTEST] = {1, 89, 10},
    [BENCH_STEEPEST] = {1, 89, 70},
    [BENCH_STACK] = {2, 100, 6},
    [BENCH_PAPER] = {0, 2, 0.1},
};

/* Switches of the steps around the wrapping, and whether they are on if nothing is said. */
static const struct {
    BenchOption option;
    size_t field;
    bool otherwise;
} switches[] = {
    {BENCH_DRESS, offsetof(Bench, dress), true}, {BENCH_TAPE, offsetof(Bench, tape), true},
    {BENCH_ALIGN, offsetof(Bench, align), true}, {BENCH_SEAL, offsetof(Bench, seal), false},
    {BENCH_SINGE, offsetof(Bench, singe), true}, {BENCH_LOCK, offsetof(Bench, lock), false},
};

/* The system of the first length in the file: its yards and feet are inches to print, its metres millimetres. */
static UnitSystem system_of_first_length(const Tree *tree)
{
    static const UnitSystem systems[UNIT_COUNT] = {
        [UNIT_NONE] = SYSTEM_MM, [UNIT_MM] = SYSTEM_MM, [UNIT_CM] = SYSTEM_CM, [UNIT_M] = SYSTEM_MM,
        [UNIT_IN] = SYSTEM_IN,   [UNIT_FT] = SYSTEM_IN, [UNIT_YD] = SYSTEM_IN,
    };
    return systems[tree->first_length];
}

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

/* Habits in turns are whole. */
static double whole_turns(Evaluator *evaluator, const Node *owner, BenchOption option, double turns)
{
    const Node *value = option_value(owner->options, option);
    if (value && fabs(turns - round(turns)) > 1e-9) {
        const char *whole = show_turns(evaluator->arena, round(turns));
        Finding *finding =
            finding_add(evaluator->findings, FINDING_NOT_WHOLE, value->span, "turns are whole here");
        finding_label(evaluator->findings, finding, "this comes to %s", show_turns(evaluator->arena, turns));
        finding_mend(evaluator->findings, finding, "write %s", whole);
        finding_edit(evaluator->findings, finding, value->span, "%s", whole);
    }
    return round(turns);
}

/* The steepest angle has to be above the flattest. */
static void report_no_range(Evaluator *evaluator, const Node *owner)
{
    bool steepest = option_value(owner->options, BENCH_STEEPEST);
    Span span = option_value_span(owner, steepest ? BENCH_STEEPEST : BENCH_FLATTEST);
    Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, span,
                                   "`steepest` has to be more than `flattest`: no angle lies between");
    finding_mend(evaluator->findings, finding,
                 steepest ? "write the greater angle here, such as 89 deg"
                          : "write the smaller angle here, such as 1 deg");
    finding_edit(evaluator->findings, finding, span, steepest ? "89 deg" : "1 deg");
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
    Bench bench = {.written = node, .units = system_of_first_length(main->tree)};
    bench.span = node ? node->span : room_for_bench(main);
    static const Node nothing = {.kind = NODE_BENCH};
    const Node *owner = node ? node : &nothing;
    bench.units = evaluator->units = (UnitSystem)option_choice(owner, BENCH_UNITS, (int)bench.units);
    double values[BENCH_PAPER + 1];
    for (uint32_t option = BENCH_BIND; option <= BENCH_PAPER; option++)
        values[option] = option_number(evaluator, owner, option, ranges[option]);
    for (uint32_t option = BENCH_UNITS; option <= BENCH_LOCK; option++)
        bench.value_spans[option] = option_value_span(owner, option);
    read_switches(evaluator, owner, &bench);
    bench.bind = whole_turns(evaluator, owner, BENCH_BIND, values[BENCH_BIND]);
    bench.loop = whole_turns(evaluator, owner, BENCH_LOOP, values[BENCH_LOOP]);
    bench.final = whole_turns(evaluator, owner, BENCH_FINAL, values[BENCH_FINAL]);
    bench.free = values[BENCH_FREE];
    bench.tolerance = values[BENCH_TOLERANCE];
    bench.hand = values[BENCH_HAND];
    bench.ridge = (uint32_t)values[BENCH_RIDGE];
    bench.apart = values[BENCH_APART];
    bench.friction = values[BENCH_FRICTION];
    bench.measure = whole_turns(evaluator, owner, BENCH_MEASURE, values[BENCH_MEASURE]);
    bench.coat = values[BENCH_COAT];
    bench.speed = values[BENCH_SPEED];
    bench.handling = values[BENCH_HANDLING];
    bench.holders = (uint32_t)values[BENCH_HOLDERS];
    bench.pack = whole_turns(evaluator, owner, BENCH_PACK, values[BENCH_PACK]);
    bench.coats = (uint32_t)values[BENCH_COATS];
    bench.flattest = radians(values[BENCH_FLATTEST]);
    bench.steepest = radians(values[BENCH_STEEPEST]);
    if (bench.steepest <= bench.flattest)
        report_no_range(evaluator, owner);
    bench.stack = (uint32_t)values[BENCH_STACK];
    bench.paper = values[BENCH_PAPER];
    bench.ends = (EndHold)option_choice(owner, BENCH_ENDS, HOLD_TAPE);
    bench.butt_left = option_choice(owner, BENCH_LEFT, 0) == 0;
    bench.toward_you = option_choice(owner, BENCH_ROTATION, 0) == 0;
    bench.order = (PlaceOrder)option_choice(owner, BENCH_ORDER, ORDER_SOURCE);
    return bench;
}
