/* Statements to items. Loops, calls and mirrors are gone after this; fades know the thread they come from. A new
 * statement gets its row in the table at the end. */
#include "meaning/lay_value.h"

#include "base/limits.h"
#include "base/table.h"
#include "meaning/mend.h"
#include "meaning/resolver.h"

static void lay_gap(Laying *laying, const Node *node)
{
    Item item = {.kind = ITEM_GAP, .span = header_span(node)};
    if (!evaluate_extent(laying, node->first, &item.extent))
        return;
    if (node->second && !(item.strands = evaluate_strands(laying, node->second)))
        return;
    lay_item(laying, item);
}

static void lay_repeat(Laying *laying, const Node *node)
{
    Value value;
    if (!lay_value(laying, node->first, &value))
        return;
    if (value.number < 0) {
        evaluate_count(laying, node->first, 0, LIMIT_ITEMS);
        return;
    }
    /* Every time around the fills are numbered alike: they are copies of one another. */
    uint32_t group = laying->next_group, first = laying->items.count;
    for (double time = 0; time < value.number && lay_step(laying, node); time++) {
        laying->next_group = group;
        lay_statements(laying, node->body);
        /* Every time lays as many: known after the first. */
        uint32_t each = laying->items.count - first;
        if (time == 0 && each && !lay_fits(laying, each * (value.number - 1), laying->items.items[first].span))
            break;
    }
}

static void reverse(Item *items, uint32_t count)
{
    for (uint32_t i = 0; i < count / 2; i++) {
        Item item = items[i];
        items[i] = items[count - 1 - i];
        items[count - 1 - i] = item;
    }
    for (uint32_t i = 0; i < count; i++)
        items[i].reversed = !items[i].reversed;
}

static void lay_mirror(Laying *laying, const Node *node)
{
    uint32_t first = laying->items.count;
    lay_statements(laying, node->body);
    if (laying->items.count > first)
        reverse(laying->items.items + first, laying->items.count - first);
}

static void lay_symmetric(Laying *laying, const Node *node)
{
    uint32_t first = laying->items.count;
    lay_statements(laying, node->body);
    uint32_t end = laying->items.count;
    if (end > first && !lay_fits(laying, end - first, laying->items.items[first].span))
        return;
    for (uint32_t i = end; i > first; i--) {
        Item copy = laying->items.items[i - 1];
        copy.reversed = !copy.reversed;
        if (!lay_item(laying, copy))
            return;
    }
}

static void lay_for(Laying *laying, const Node *node)
{
    Course course;
    if (!course_of(laying, node, &course))
        return;
    for (double step = 0; step < course.count && lay_step(laying, node); step++) {
        laying->evaluator->frame[node->options->slot] = course_value(&course, step);
        lay_statements(laying, node->body);
    }
}

static void lay_if(Laying *laying, const Node *node)
{
    const Node *branch = chosen_branch(laying, node);
    if (branch)
        lay_statements(laying, branch->body);
}

/* `require edge >= 6 turns`: the argument of the call that is to be the number, if it is written plainly. */
static void mend_argument(Laying *laying, Finding *finding, const Node *required)
{
    Evaluator *evaluator = laying->evaluator;
    bool bounds = required->kind == NODE_OPERATION
                  && (required->detail == OPERATOR_GREATER_EQUAL || required->detail == OPERATOR_LESS_EQUAL)
                  && required->first->kind == NODE_NAME && required->first->scope == SCOPE_LOCAL
                  && required->second->kind == NODE_NUMBER;
    if (!bounds)
        return;
    const Node *call = evaluator->call;
    const Declaration *pattern = call->target;
    for (const Node *argument = call->options; argument; argument = argument->next) {
        const Node *parameter = pattern->node->options;
        for (uint32_t number = argument->slot; parameter && number; number--)
            parameter = parameter->next;
        if (!parameter || parameter->text != required->first->text || argument->first->kind != NODE_NUMBER)
            continue;
        const char *bound = written(evaluator->findings->words, evaluator->sources, required->second->span);
        finding_mend(evaluator->findings, finding, "write `%s`", bound);
        finding_edit(evaluator->findings, finding, argument->first->span, "%s", bound);
    }
}

void lay_require(Laying *laying, const Node *node)
{
    Value value;
    if (!lay_value(laying, node->first, &value) || value.truth)
        return;
    Findings *findings = laying->evaluator->findings;
    const Node *call = laying->evaluator->call;
    const char *why = node->second ? node->second->text->bytes : "a requirement is not met";
    Finding *finding =
        finding_add(findings, FINDING_REQUIRE_FAILS, call ? call->span : node->first->span, "%s", why);
    lay_spoil(laying, finding->number, finding->at.span);
    if (call) {
        finding_label(findings, finding, "called here");
        finding_relate(findings, finding, node->first->span, "this is not met");
    }
    finding_mend(findings, finding,
                 call ? "change the arguments so that it is met" : "change the values it depends on");
    if (call)
        mend_argument(laying, finding, node->first);
    laying->refused = true;
}

/* In a series it may rest on what is known at a place alone. */
void lay_let(Laying *laying, const Node *node)
{
    Value value;
    if (node->detail && !laying->evaluator->here)
        value = (Value){.type = node->first->type, .later = true, .value = node->first};
    else
        lay_value(laying, node->first, &value);
    laying->evaluator->frame[node->slot] = value;
}

/* Whether an earlier argument is for the same parameter: the first one counts. */
static bool stands_before(const Node *arguments, const Node *argument)
{
    while (arguments != argument && arguments->slot != argument->slot)
        arguments = arguments->next;
    return arguments != argument;
}

/* Arguments are worked out with the caller's locals, defaults with the pattern's own. */
/* Returns why one of them is broken, CAUSE_NONE if none is. */
static Cause fill_frame(Laying *laying, const Node *call, const Declaration *pattern, Value *frame)
{
    Evaluator *evaluator = laying->evaluator;
    Cause cause = CAUSE_NONE;
    for (const Node *argument = call->options; argument; argument = argument->next) {
        if (argument->slot == UINT32_MAX)
            return argument->cause;
        if (stands_before(call->options, argument))
            continue;
        const Node *parameter = pattern->node->options;
        for (uint32_t number = argument->slot; parameter && number; number--)
            parameter = parameter->next;
        Value *value = &frame[parameter->slot];
        *value = evaluate(evaluator, argument->first);
        if (value->type == TYPE_BROKEN || parameter->type == TYPE_BROKEN)
            cause = value->cause ? value->cause : parameter->cause;
        else
            value->type = parameter->type;
    }
    Value *callers = evaluator->frame;
    evaluator->frame = frame;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next) {
        bool given = false;
        uint32_t number = 0;
        for (const Node *before = pattern->node->options; before != parameter; before = before->next)
            number++;
        for (const Node *argument = call->options; argument; argument = argument->next)
            given |= argument->slot == number;
        if (given)
            continue;
        Value *value = &frame[parameter->slot];
        *value = parameter->first ? evaluate(evaluator, parameter->first)
                                  : (Value){.type = TYPE_BROKEN, .cause = call->cause};
        if (value->type == TYPE_BROKEN)
            cause = value->cause;
    }
    evaluator->frame = callers;
    return cause;
}

static void lay_call(Laying *laying, const Node *node)
{
    const Declaration *pattern = node->target;
    Evaluator *evaluator = laying->evaluator;
    if (!pattern || pattern->checked != DONE || pattern->cause || evaluator->call_depth >= LIMIT_CALL_DEPTH) {
        lay_spoil(laying, node->cause, node->span); /* told when names and kinds were settled */
        return;
    }
    if (!lay_steps(laying, CALL_STEPS + pattern->slots, node->span))
        return;
    Value *frame = arena_take_many(evaluator->arena, pattern->slots, sizeof *frame), *callers = evaluator->frame;
    uint32_t slots = evaluator->frame_slots;
    Cause cause = fill_frame(laying, node, pattern, frame);
    if (cause) {
        lay_spoil(laying, cause, node->span);
        return;
    }
    const Node *outer = evaluator->call;
    evaluator->frame = frame;
    evaluator->frame_slots = pattern->slots;
    evaluator->call = node;
    evaluator->call_depth++;
    lay_statements(laying, pattern->node->body);
    laying->refused = false;
    evaluator->call_depth--;
    evaluator->call = outer;
    evaluator->frame = callers;
    evaluator->frame_slots = slots;
}

static void lay_nothing(Laying *laying, const Node *node)
{
    lay_spoil(laying, node->cause, node->span); /* out of place or broken: told before */
}

/* What a series holds is laid in two rounds: its rows, and at each of them what is wound there. */
static void lay_elsewhere(Laying *laying, const Node *node)
{
    if (node->cause && laying->into != INTO_SERIES)
        lay_nothing(laying, node);
}

static void lay_for_of_rows(Laying *laying, const Node *node)
{
    if (node->slot)
        lay_for(laying, node);
}

static void lay_if_of_rows(Laying *laying, const Node *node)
{
    if (node->slot)
        lay_if(laying, node);
}

/* Statement; what lays it into a layer, a place with layers, a series, a rod. Turns beside layers are told of
 * already, and laid for their own faults. */
#define LAYS(X)                                                                                                   \
    X(BAND, lay_band, lay_band, lay_elsewhere, lay_nothing)                                                       \
    X(INLAY, lay_nothing, lay_nothing, lay_nothing, lay_nothing)                                                  \
    X(FADE_TO, lay_fade_to, lay_fade_to, lay_elsewhere, lay_nothing)                                              \
    X(FADE_OF, lay_fade_of, lay_fade_of, lay_elsewhere, lay_nothing)                                              \
    X(GAP, lay_gap, lay_gap, lay_elsewhere, lay_nothing)                                                          \
    X(REPEAT, lay_repeat, lay_repeat, lay_elsewhere, lay_nothing)                                                 \
    X(MIRROR, lay_mirror, lay_mirror, lay_elsewhere, lay_nothing)                                                 \
    X(SYMMETRIC, lay_symmetric, lay_symmetric, lay_elsewhere, lay_nothing)                                        \
    X(FOR, lay_for, lay_for, lay_for_of_rows, lay_for)                                                            \
    X(IF, lay_if, lay_if, lay_if_of_rows, lay_if)                                                                 \
    X(CHEVRON, lay_crosswrap, lay_layer_of_crosswrap, lay_elsewhere, lay_nothing)                                 \
    X(DIAMOND, lay_crosswrap, lay_layer_of_crosswrap, lay_elsewhere, lay_nothing)                                 \
    X(SPIRAL, lay_crosswrap, lay_layer_of_crosswrap, lay_elsewhere, lay_nothing)                                  \
    X(STRAND, lay_nothing, lay_nothing, lay_nothing, lay_nothing)                                                 \
    X(REQUIRE, lay_require, lay_require, lay_elsewhere, lay_require)                                              \
    X(LET, lay_let, lay_let, lay_let, lay_let)                                                                    \
    X(CALL, lay_call, lay_call, lay_elsewhere, lay_call)                                                          \
    X(UNDER, lay_nothing, lay_written_layer, lay_elsewhere, lay_nothing)                                          \
    X(OVER, lay_nothing, lay_written_layer, lay_elsewhere, lay_nothing)                                           \
    X(PLACE, lay_elsewhere, lay_elsewhere, lay_row, lay_place)                                                    \
    X(SERIES, lay_nothing, lay_nothing, lay_nothing, lay_series)                                                  \
    X(PART, lay_nothing, lay_nothing, lay_nothing, lay_part)                                                      \
    X(BROKEN, lay_nothing, lay_nothing, lay_nothing, lay_nothing)
_Static_assert(TABLE_ROWS(LAYS) == TABLE_ROWS(NODE_STATEMENT_TABLE),
               "every statement is laid, or is known not to be");

void lay_statements(Laying *laying, const Node *statements)
{
    static void (*const lays[NODE_KIND_COUNT][INTO_COUNT])(Laying *, const Node *) = {
#define X(name, layer, place, series, rod)                                                                        \
    [NODE_##name] = {[INTO_LAYER] = layer, [INTO_PLACE] = place, [INTO_SERIES] = series, [INTO_ROD] = rod},
        LAYS(X)
#undef X
    };
    /* What follows a requirement that does not hold rests on it. */
    for (const Node *node = statements; node && !laying->refused && lay_step(laying, node); node = node->next)
        lays[node->kind][laying->into](laying, node);
}
