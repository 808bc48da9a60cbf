#include "meaning/evaluate.h"

#include "base/limits.h"
#include "base/table.h"
#include "meaning/likely.h"
#include "meaning/mend.h"
#include "meaning/resolver.h"

#include <math.h>
#include <string.h>

static Value broken_by(Cause cause) { return (Value){.type = TYPE_BROKEN, .cause = cause}; }

void evaluate_no_more(Evaluator *evaluator, const Finding *finding, Span span)
{
    evaluator->stopped = true;
    evaluator->stop = cause_mark(evaluator->findings, finding->number, span);
}

Cause cause_since(const Evaluator *evaluator, uint64_t told)
{
    Cause cause = findings_since(evaluator->findings, told);
    return cause ? cause : evaluator->met;
}

static Value number_of(unsigned type, double number) { return (Value){.type = (uint8_t)type, .number = number}; }
static Value truth_of(bool truth) { return (Value){.type = TYPE_TRUTH, .truth = truth}; }

bool evaluate_steps(Evaluator *evaluator, uint64_t count, Span span)
{
    Findings *findings = evaluator->findings;
    if (evaluator->stopped)
        return false;
    evaluator->steps += count;
    bool too_long = evaluator->steps > LIMIT_STEPS;
    if (!too_long && findings->made <= LIMIT_FINDINGS_MADE)
        return true;
    Finding *finding = too_long ? finding_add(findings, FINDING_TOO_MUCH_WORK, span,
                                              "working out this file takes more than %s steps",
                                              show_count(findings->words, LIMIT_STEPS))
                                : finding_add(findings, FINDING_TOO_MUCH_WORK, span,
                                              "this file has more than %s findings; the rest of it is not checked",
                                              show_count(findings->words, LIMIT_FINDINGS_MADE));
    evaluate_no_more(evaluator, finding, span);
    finding_mend(findings, finding,
                 too_long ? "use fewer or shorter loops and repeats" : "mend the first ones, then check again");
    return false;
}

/* How numbers of a kind are written in a source: in which unit, to how many decimals of it. */
typedef struct Writing {
    double unit;
    const char *word;
    int decimals;
} Writing;

static Writing writing_of(const Evaluator *evaluator, unsigned type)
{
    LengthWriting length = source_writing(evaluator->units, QUANTITY_WIDTH);
    switch (type) {
    case TYPE_LENGTH: return (Writing){unit_factor(length.unit), unit_spelling(length.unit), length.decimals};
    case TYPE_TURNS: return (Writing){1, "turns", 3};
    case TYPE_ANGLE: return (Writing){1, "deg", 3};
    case TYPE_RATE: return (Writing){0.1, "per cm", 3};
    default: return (Writing){1, "", 6};
    }
}

static const char *write_number(Evaluator *evaluator, unsigned type, Writing writing, double number)
{
    const char *digits = show_number(evaluator->findings->words, number / writing.unit, writing.decimals);
    if (!*writing.word)
        return digits;
    bool one = type == TYPE_TURNS && strcmp(digits, "1") == 0;
    return finding_text(evaluator->findings, "%s %s", digits, one ? "turn" : writing.word);
}

const char *source_value(Evaluator *evaluator, unsigned type, double number)
{
    return write_number(evaluator, type, writing_of(evaluator, type), number);
}

LimitWords limit_words(Evaluator *evaluator, unsigned type, double limit, double number)
{
    const double slack = 4e-16; /* relative: two roundings */
    enum { MOST_DECIMALS = 9 };
    bool least = number < limit;
    LimitWords words;
    for (Writing writing = writing_of(evaluator, type);; writing.decimals++) {
        double step = writing.unit / pow(10, writing.decimals), steps = limit / step;
        double loose = fabs(steps) * slack, kept = least ? ceil(steps - loose) : floor(steps + loose);
        bool last = writing.decimals == MOST_DECIMALS;
        words.limit = write_number(evaluator, type, writing, kept * step);
        words.number = write_number(evaluator, type, writing, number);
        if (strcmp(words.limit, words.number) == 0 && last)
            words.number = write_number(evaluator, type, writing, (least ? kept - 1 : kept + 1) * step);
        /* Where no more findings are kept there are no words, and so no difference. */
        if (last || strcmp(words.limit, words.number) != 0)
            return words;
    }
}

/* Numbers stay within all measure: nothing after this has to fear infinities. */
static Value checked(Evaluator *evaluator, const Node *node, unsigned type, double number)
{
    if (fabs(number) <= LIMIT_MAGNITUDE)
        return number_of(type, number);
    Finding *finding =
        finding_add(evaluator->findings, FINDING_TOO_LARGE, node->span, "this number is too large for any rod");
    finding_label(evaluator->findings, finding,
                  type == TYPE_LENGTH ? "more than a million kilometres" : "more than 1,000,000,000,000");
    finding_mend(evaluator->findings, finding, "use smaller numbers");
    return broken_by(finding->number);
}

/* One of every kind of number. */
#define ONES(X)                                                                                                   \
    X(COUNT, "1") X(RATIO, "1") X(LENGTH, "1 mm") X(TURNS, "1 turn") X(ANGLE, "1 deg") X(RATE, "1 per cm")
_Static_assert(TABLE_ROWS(ONES) == TYPE_RATE - TYPE_COUNT + 1, "every kind of number has its one");

static Value division_by_zero(Evaluator *evaluator, const Node *node)
{
    static const char *const ones[] = {
#define X(name, one) [TYPE_##name] = one,
        ONES(X)
#undef X
    };
    const Node *below = node->second;
    Finding *finding =
        finding_add(evaluator->findings, FINDING_DIVISION_BY_ZERO, node->span, "this divides by zero");
    if (!finding_is_kept(finding)) /* as in check_amount */
        return broken_by(finding->number);
    finding_label(evaluator->findings, finding, "this is 0");
    const char *one = ones[below->type];
    bool literal = below->kind == NODE_NUMBER;
    const char *least =
        literal ? one
                : finding_text(evaluator->findings, "max(%s, %s)",
                               written(evaluator->findings->words, evaluator->sources, below->span), one);
    finding_mend(evaluator->findings, finding,
                 "make sure you do not divide by 0: write `%s`, or ask first with `if` or `require`", least);
    finding_edit(evaluator->findings, finding, below->span, "%s", least);
    return broken_by(finding->number);
}

/* Numbers that agree to nine digits are equal: 3 * 1.1 mm is 3.3 mm, whatever the machine's binary fractions say.
 */
#define SAME 1e-9

static bool same_number(double left, double right)
{
    return fabs(left - right) <= SAME * fmax(fabs(left), fabs(right));
}

/* A number that is whole but for the machine's rounding, made whole. */
static double settled(double number)
{
    double whole = round(number);
    return same_number(number, whole) ? whole : number;
}

/* Halves go away from zero, also those that the machine's rounding has blurred. */
static double rounded(double number) { return round(settled(number * 2) / 2); }

static bool equal(Value left, Value right)
{
    switch (left.type) {
    case TYPE_TRUTH: return left.truth == right.truth;
    case TYPE_COLOUR: return left.colour == right.colour;
    case TYPE_TEXT: return left.text == right.text;
    case TYPE_THREAD: return left.thread == right.thread;
    case TYPE_GUIDE: return left.guide == right.guide;
    case TYPE_BLANK: return left.blank == right.blank;
    default: return same_number(left.number, right.number);
    }
}

static Value operate(Evaluator *evaluator, const Node *node)
{
    Value left = evaluate(evaluator, node->first);
    if (left.type == TYPE_BROKEN)
        return left;
    if ((node->detail == OPERATOR_AND && !left.truth) || (node->detail == OPERATOR_OR && left.truth))
        return left;
    Value right = evaluate(evaluator, node->second);
    if (right.type == TYPE_BROKEN)
        return right;
    switch ((Operator)node->detail) {
    case OPERATOR_AND:
    case OPERATOR_OR: return right;
    case OPERATOR_EQUAL: return truth_of(equal(left, right));
    case OPERATOR_UNEQUAL: return truth_of(!equal(left, right));
    case OPERATOR_LESS: return truth_of(left.number < right.number && !equal(left, right));
    case OPERATOR_LESS_EQUAL: return truth_of(left.number <= right.number || equal(left, right));
    case OPERATOR_GREATER: return truth_of(left.number > right.number && !equal(left, right));
    case OPERATOR_GREATER_EQUAL: return truth_of(left.number >= right.number || equal(left, right));
    case OPERATOR_ADD: return checked(evaluator, node, node->type, left.number + right.number);
    case OPERATOR_SUBTRACT: return checked(evaluator, node, node->type, left.number - right.number);
    case OPERATOR_MULTIPLY: return checked(evaluator, node, node->type, left.number * right.number);
    case OPERATOR_DIVIDE:
        return right.number == 0 ? division_by_zero(evaluator, node)
                                 : checked(evaluator, node, node->type, left.number / right.number);
    default: return broken_by(node->cause);
    }
}

static Value evaluate_list(Evaluator *evaluator, const Node *node)
{
    uint32_t count = 0;
    for (const Node *item = node->first; item; item = item->next)
        count++;
    ValueList *list = arena_take(evaluator->arena, sizeof *list);
    list->items = arena_take_many(evaluator->arena, count, sizeof *list->items);
    for (const Node *item = node->first; item; item = item->next) {
        list->items[list->count] = evaluate(evaluator, item);
        if (list->items[list->count++].type == TYPE_BROKEN)
            return list->items[list->count - 1];
    }
    return (Value){.type = node->type, .list = list};
}

static Value evaluate_let(Evaluator *evaluator, Declaration *declaration)
{
    if (declaration->valued == DONE)
        return *(const Value *)declaration->value;
    Value *value = arena_take(evaluator->arena, sizeof *value);
    *value = evaluate(evaluator, declaration->node->first);
    declaration->value = value;
    declaration->valued = DONE;
    return *value;
}

Value own_value(Evaluator *evaluator, Declaration *declaration)
{
    Value value = {.type = (uint8_t)declaration->type};
    switch (declaration->node->kind) {
    case NODE_LET: return evaluate_let(evaluator, declaration);
    case NODE_THREAD: value.thread = declared_thread(evaluator, declaration); break;
    case NODE_GUIDE: value.guide = declared_guide(evaluator, declaration); break;
    case NODE_BLANK: value.blank = declared_blank(evaluator, declaration); break;
    case NODE_SIZE: declared_size(evaluator, declaration); return value;
    default: return broken_by(CAUSE_NONE);
    }
    return value.thread ? value : broken_by(declaration->cause);
}

Value declared_value(Evaluator *evaluator, Declaration *declaration)
{
    if (evaluator->swaps)
        return swapped_value(evaluator, declaration);
    declaration->met |= evaluator->in_rods;
    return own_value(evaluator, declaration);
}

static Value empty_list(Evaluator *evaluator, const Node *node)
{
    Finding *finding = finding_add(evaluator->findings, FINDING_EMPTY_LIST, node->span, "this list is empty");
    finding_mend(evaluator->findings, finding,
                 "put at least one thing into the list, or ask with `if count(...) > 0`");
    return broken_by(finding->number);
}

static Value part_of_list(Evaluator *evaluator, const Node *node, Value value)
{
    const ValueList *list = value.list;
    Function function = (Function)node->slot;
    if (function == FUNCTION_COUNT)
        return number_of(TYPE_COUNT, list->count);
    if (!list->count)
        return function == FUNCTION_REVERSE ? value : empty_list(evaluator, node);
    if (function == FUNCTION_FIRST || function == FUNCTION_LAST)
        return list->items[function == FUNCTION_FIRST ? 0 : list->count - 1];
    if (function == FUNCTION_REVERSE && !evaluate_steps(evaluator, list->count, node->span))
        return broken_by(evaluator->stop);
    ValueList *part = arena_take(evaluator->arena, sizeof *part);
    if (function == FUNCTION_REST) {
        *part = (ValueList){list->count - 1, list->items + 1};
    } else {
        part->count = list->count;
        part->items = arena_take_many(evaluator->arena, list->count, sizeof *part->items);
        for (uint32_t i = 0; i < list->count; i++)
            part->items[i] = list->items[list->count - 1 - i];
    }
    return (Value){.type = value.type, .list = part};
}

static Value most_of(Evaluator *evaluator, const Node *node)
{
    Value best = evaluate(evaluator, node->options->first);
    for (const Node *argument = node->options->next; argument && best.type != TYPE_BROKEN;
         argument = argument->next) {
        Value value = evaluate(evaluator, argument->first);
        if (value.type == TYPE_BROKEN)
            return value;
        if (node->slot == FUNCTION_MIN ? value.number < best.number : value.number > best.number)
            best = value;
    }
    if (best.type != TYPE_BROKEN)
        best.type = node->type;
    return best;
}

static Value evaluate_call(Evaluator *evaluator, const Node *node)
{
    if (node->slot == FUNCTION_MIN || node->slot == FUNCTION_MAX)
        return most_of(evaluator, node);
    Value value = evaluate(evaluator, node->options->first);
    if (value.type == TYPE_BROKEN)
        return value;
    switch ((Function)node->slot) {
    case FUNCTION_ROUND: return number_of(node->type, rounded(value.number));
    case FUNCTION_FLOOR: return number_of(node->type, floor(settled(value.number)));
    case FUNCTION_CEIL: return number_of(node->type, ceil(settled(value.number)));
    case FUNCTION_ABS: return number_of(node->type, fabs(value.number));
    case FUNCTION_SPACER: value.spacer = true; return value;
    case FUNCTION_WIDTH: {
        Value thread = evaluate(evaluator, node->options->next->first);
        return thread.type == TYPE_BROKEN
                   ? thread
                   : checked(evaluator, node, TYPE_LENGTH, value.number * thread.thread->pitch);
    }
    default: return part_of_list(evaluator, node, value);
    }
}

static Value evaluate_rate(Evaluator *evaluator, const Node *node)
{
    Value turns = evaluate(evaluator, node->first), length = evaluate(evaluator, node->second);
    if (turns.type == TYPE_BROKEN || length.type == TYPE_BROKEN)
        return turns.type == TYPE_BROKEN ? turns : length;
    if (length.number == 0)
        return division_by_zero(evaluator, node);
    return checked(evaluator, node, TYPE_RATE, turns.number / length.number);
}

static Value evaluate_pair(Evaluator *evaluator, const Node *node)
{
    Value in = evaluate(evaluator, node->first), out = evaluate(evaluator, node->second);
    if (in.type == TYPE_BROKEN || out.type == TYPE_BROKEN)
        return in.type == TYPE_BROKEN ? in : out;
    if (in.number < 0 || out.number < 0 || in.number + out.number < 1 || in.number > LIMIT_TURNS
        || out.number > LIMIT_TURNS) {
        Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, node->span,
                                       "turns in and out are whole numbers from 0 up, not both 0");
        finding_mend(evaluator->findings, finding, "write whole numbers, such as `in 1 out 1`");
        finding_edit(evaluator->findings, finding, node->span, "in 1 out 1");
        return broken_by(finding->number);
    }
    return (Value){.type = TYPE_PAIR, .pair = {(uint32_t)in.number, (uint32_t)out.number}};
}

static Value evaluate_sign(Evaluator *evaluator, const Node *node)
{
    Value value = evaluate(evaluator, node->first);
    if (value.type == TYPE_TRUTH)
        value.truth = !value.truth;
    else if (value.type != TYPE_BROKEN)
        value.number = -value.number;
    return value;
}

static Value evaluate_turns(Evaluator *evaluator, const Node *node)
{
    Value value = evaluate(evaluator, node->first);
    return value.type == TYPE_BROKEN ? value : number_of(TYPE_TURNS, value.number);
}

/* A local of a series that rests on `here` is worked out when it is first read at a place, and those before it
 * with it: so none is read by another before it is, and however many rest on one another nothing is deep. */
static Value evaluate_local(Evaluator *evaluator, const Node *node)
{
    Value *locals = evaluator->frame;
    for (; locals[node->slot].later; evaluator->worked_out++) {
        Value *local = &locals[evaluator->worked_out];
        if (local->later)
            *local = evaluate(evaluator, local->value);
    }
    return locals[node->slot];
}

static Value evaluate_here(Evaluator *evaluator, const Node *node)
{
    const Here *here = evaluator->here;
    if (!here) /* told when names were settled */
        return broken_by(node->cause);
    double value = here->values[node->slot];
    if (here->no_blank && node->slot == HERE_DIAMETER)
        return broken_by(here->no_blank);
    if (!isnan(value))
        return number_of(node->type, value);
    Findings *findings = evaluator->findings;
    Finding *finding = finding_add(findings, FINDING_OPTION_MISSING, here->row,
                                   "this place has no guide and no length, and `here.foot` is asked for");
    finding_relate(findings, finding, node->span, "asked for here");
    const char *length = source_length(findings->words, evaluator->units, QUANTITY_PLACE,
                                       evaluator->units == SYSTEM_IN ? 2 * 25.4 : 50);
    finding_mend(findings, finding, "write `length: %s` after its mark, with your own length", length);
    finding_edit(findings, finding, (Span){here->row.end, here->row.end, here->row.file}, " length: %s", length);
    return broken_by(finding->number);
}

static Value evaluate_name(Evaluator *evaluator, const Node *node)
{
    if (node->scope == SCOPE_HERE)
        return evaluate_here(evaluator, node);
    if (node->scope == SCOPE_BUILT_IN)
        return (Value){.type = TYPE_COLOUR, .colour = node->slot};
    return node->scope == SCOPE_LOCAL ? evaluate_local(evaluator, node)
                                      : declared_value(evaluator, (Declaration *)node->target);
}

static Value evaluate_node(Evaluator *evaluator, const Node *node)
{
    if (node->type == TYPE_BROKEN)
        return broken_by(node->cause);
    if (!evaluate_steps(evaluator, 1, node->span))
        return broken_by(evaluator->stop);
    switch (node->kind) {
    case NODE_NUMBER: return checked(evaluator, node, node->type, node->number);
    case NODE_TEXT: return (Value){.type = TYPE_TEXT, .text = node->text};
    case NODE_COLOUR: return (Value){.type = TYPE_COLOUR, .colour = (uint32_t)node->number};
    case NODE_TRUTH: return truth_of(node->detail);
    case NODE_NAME: return evaluate_name(evaluator, node);
    case NODE_CALL: return evaluate_call(evaluator, node);
    case NODE_LIST: return evaluate_list(evaluator, node);
    case NODE_SIGN: return evaluate_sign(evaluator, node);
    case NODE_OPERATION: return operate(evaluator, node);
    case NODE_TURNS_OF: return evaluate_turns(evaluator, node);
    case NODE_RATE: return evaluate_rate(evaluator, node);
    case NODE_PAIR: return evaluate_pair(evaluator, node);
    default: return broken_by(node->cause);
    }
}

Value evaluate(Evaluator *evaluator, const Node *node)
{
    Value value = evaluate_node(evaluator, node);
    if (value.type == TYPE_BROKEN)
        value.cause = evaluator->met = cause_mark(evaluator->findings, value.cause, node->span);
    return value;
}

const Text *option_text(Evaluator *evaluator, const Node *owner, uint32_t rule)
{
    const Node *written = option_value(owner->options, rule);
    Value value = written ? evaluate(evaluator, written) : (Value){.type = TYPE_BROKEN};
    return value.type == TYPE_TEXT ? value.text : NULL;
}

uint32_t option_colour(Evaluator *evaluator, const Node *owner, uint32_t rule, uint32_t otherwise)
{
    const Node *written = option_value(owner->options, rule);
    Value value = written ? evaluate(evaluator, written) : (Value){.type = TYPE_BROKEN};
    return value.type == TYPE_COLOUR ? value.colour : otherwise;
}

Span option_value_span(const Node *owner, uint32_t rule)
{
    const Node *value = option_value(owner->options, rule);
    return value ? value->span : (Span){0, 0, owner->span.file};
}

const char *number_meant(Evaluator *evaluator, const Node *owner, uint32_t rule, const Node *node, Range range)
{
    enum { PLACES = 3 };
    const OptionRule *which = &option_rules((NodeKind)owner->kind)->rules[rule];
    if (node->kind != NODE_NUMBER)
        return NULL;
    double number = plain_number(node);
    if (unit_measure((Unit)node->detail) == MEASURE_NUMBER)
        return range.most <= 2 && number > range.most && number / 100 >= range.least && number <= range.most * 100
                   ? finding_text(evaluator->findings, "%s %%", show_number(evaluator->findings->words, number, 4))
                   : NULL;
    if (node->detail == UNIT_PERCENT && number >= range.least && number <= range.most)
        return finding_text(evaluator->findings, "%s %%",
                            show_number(evaluator->findings->words, number * 100, 4)); /* `0.75 %` */
    ValueSpot spot = {(NodeKind)owner->kind, which->name};
    if (unit_measure((Unit)node->detail) != MEASURE_LENGTH || !is_far_from_usual(node, spot))
        return NULL;
    for (Unit unit = UNIT_MM; unit <= UNIT_YD; unit++) {
        Node other = {.kind = NODE_NUMBER, .detail = (uint8_t)unit, .number = number * unit_factor(unit)};
        if (is_usual(&other, spot) && other.number >= range.least && other.number <= range.most)
            return finding_text(evaluator->findings, "%s %s", show_number(evaluator->findings->words, number, 6),
                                unit_spelling(unit));
    }
    for (int places = 1; places <= PLACES; places++) {
        Node other = {.kind = NODE_NUMBER, .detail = node->detail, .number = node->number / pow(10, places)};
        if (is_usual(&other, spot) && other.number >= range.least && other.number <= range.most)
            return finding_text(evaluator->findings, "%s %s",
                                show_number(evaluator->findings->words, plain_number(&other), 6),
                                unit_spelling((Unit)node->detail));
    }
    return NULL;
}

double option_number(Evaluator *evaluator, const Node *owner, uint32_t rule, Range range)
{
    const Node *node = option_value(owner->options, rule);
    return node ? number_within(evaluator, owner, rule, range, evaluate(evaluator, node)) : range.otherwise;
}

double number_within(Evaluator *evaluator, const Node *owner, uint32_t rule, Range range, Value value)
{
    const Node *node = option_value(owner->options, rule);
    if (value.type == TYPE_BROKEN)
        return range.otherwise;
    if (value.number >= range.least && value.number <= range.most)
        return value.number;
    bool low = value.number < range.least;
    double bound = low ? range.least : range.most;
    if (same_number(value.number, bound))
        return bound;
    const OptionRule *which = &option_rules((NodeKind)owner->kind)->rules[rule];
    LimitWords words = limit_words(evaluator, value.type, bound, value.number);
    Finding *finding =
        finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, node->span, "`%s` is %s %s, and this is %s",
                    which->name, low ? "at least" : "at most", words.limit, words.number);
    const char *meant = finding_is_kept(finding) ? number_meant(evaluator, owner, rule, node, range) : NULL;
    finding_mend(evaluator->findings, finding, "write `%s`", meant ? meant : words.limit);
    finding_edit(evaluator->findings, finding, node->span, "%s", meant ? meant : words.limit);
    return bound;
}
