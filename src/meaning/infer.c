/* Kinds of values. */
#include "meaning/resolve.h"

#include "base/limits.h"

#include <string.h>

static const TypeSet ANY_NUMBER = SET(TYPE_COUNT) | SET(TYPE_RATIO) | SET(TYPE_LENGTH) | SET(TYPE_TURNS) | SET(TYPE_ANGLE) | SET(TYPE_RATE);
static const TypeSet ANY_LIST = ~(TypeSet)0 << TYPE_LIST;

/* name, fewest and most arguments, what the first may be. */
static const struct {
    const char *name;
    unsigned fewest, most;
} functions[] = {
    [FUNCTION_COUNT] = {"count", 1, 1}, [FUNCTION_FIRST] = {"first", 1, 1}, [FUNCTION_LAST] = {"last", 1, 1},
    [FUNCTION_REST] = {"rest", 1, 1},   [FUNCTION_REVERSE] = {"reverse", 1, 1}, [FUNCTION_ROUND] = {"round", 1, 1},
    [FUNCTION_FLOOR] = {"floor", 1, 1}, [FUNCTION_CEIL] = {"ceil", 1, 1},   [FUNCTION_MIN] = {"min", 1, 1000},
    [FUNCTION_MAX] = {"max", 1, 1000},  [FUNCTION_ABS] = {"abs", 1, 1},     [FUNCTION_WIDTH] = {"width", 2, 2},
    [FUNCTION_SPACER] = {"spacer", 1, 1},
};

Function function_of(const char *name)
{
    for (Function function = FUNCTION_COUNT; function < FUNCTION_NONE; function++)
        if (strcmp(functions[function].name, name) == 0)
            return function;
    return FUNCTION_NONE;
}

const char *function_name(Function function) { return functions[function].name; }

static Local *local_find(Resolver *resolver, const Text *name)
{
    uint32_t at = resolver->buckets[name->hash % LOCAL_BUCKETS];
    while (at > resolver->floor && resolver->locals.items[at - 1].name != name)
        at = resolver->locals.items[at - 1].older;
    return at > resolver->floor ? &resolver->locals.items[at - 1] : NULL;
}

uint32_t local_enter(Resolver *resolver, const Text *name, unsigned type)
{
    uint32_t *bucket = &resolver->buckets[name->hash % LOCAL_BUCKETS];
    *LIST_ADD(resolver->arena, &resolver->locals) = (Local){name, type, *bucket};
    *bucket = resolver->locals.count;
    uint32_t slot = resolver->locals.count - 1 - resolver->floor;
    if (slot >= resolver->slots)
        resolver->slots = slot + 1;
    return slot;
}

void local_leave(Resolver *resolver, uint32_t count)
{
    while (resolver->locals.count > count) {
        const Local *local = &resolver->locals.items[--resolver->locals.count];
        resolver->buckets[local->name->hash % LOCAL_BUCKETS] = local->older;
    }
}

/* A single word is an option's or a parameter's name. */
static const char *quoted(Resolver *resolver, const char *wanted)
{
    return strchr(wanted, ' ') ? wanted : text_format(resolver->arena, "`%s`", wanted);
}

static void report_bare_number(Resolver *resolver, Node *node, TypeSet set, const char *wanted)
{
    Findings *findings = resolver->findings;
    const char *written = text_format(resolver->arena, "%s", show_number(resolver->arena, node->number, 6));
    Finding *finding = finding_add(findings, FINDING_BARE_NUMBER, node->span, "%s needs a unit", quoted(resolver, wanted));
    finding_label(findings, finding, "wanted: %s; this is a bare number", type_set_phrase(resolver->arena, set));
    if (set & SET(TYPE_TURNS) && set & SET(TYPE_LENGTH))
        finding_mend(findings, finding, "write `%s turns` if you count, or `%s mm` if you measure", written, written);
    else if (set & SET(TYPE_RATE))
        finding_mend(findings, finding, "write `%s per cm`, or `per in`", written);
    else
        finding_mend(findings, finding, "write `%s %s`", written, set & SET(TYPE_TURNS) ? "turns" : "mm");
    finding_edit(findings, finding, node->span, "%s %s", written,
                 set & SET(TYPE_TURNS) ? "turns" : set & SET(TYPE_RATE) ? "per cm" : "mm");
}

static const char *example_of(TypeSet set)
{
    static const struct { unsigned type; const char *example; } examples[] = {
        {TYPE_TURNS, "`8 turns`"}, {TYPE_LENGTH, "`9 mm`"}, {TYPE_RATE, "`68 per cm`"}, {TYPE_COUNT, "`4`"}, {TYPE_RATIO, "`1/3` or `30 %`"},
        {TYPE_COLOUR, "`#22346b`"}, {TYPE_TEXT, "a text in quotes"}, {TYPE_TRUTH, "`yes` or `no`"}, {TYPE_THREAD, "a thread's name"},
        {TYPE_GUIDE, "a guide's name"}, {TYPE_BLANK, "a blank's name"},
        {TYPE_LIST + TYPE_THREAD, "`[navy, mist]`"}, {TYPE_LIST + TYPE_PAIR, "`[in 1 out 3, in 2 out 2]`"},
    };
    for (size_t i = 0; i < sizeof examples / sizeof *examples; i++)
        if (set & SET(examples[i].type))
            return examples[i].example;
    return "a value of that kind";
}

unsigned want(Resolver *resolver, Node *node, TypeSet set, const char *wanted)
{
    unsigned type = infer(resolver, node);
    if (type == TYPE_BROKEN || type_fits(type, set))
        return type;
    bool measure = set & (SET(TYPE_LENGTH) | SET(TYPE_TURNS) | SET(TYPE_RATE)) && !(set & SET(TYPE_RATIO));
    if (measure && node->kind == NODE_NUMBER && (type == TYPE_COUNT || type == TYPE_RATIO)) {
        report_bare_number(resolver, node, set, wanted);
        return TYPE_BROKEN;
    }
    Findings *findings = resolver->findings;
    Finding *finding = finding_add(findings, FINDING_WRONG_KIND, node->span, "%s is %s, not %s", quoted(resolver, wanted),
                                   type_set_phrase(resolver->arena, set), type_phrase(type));
    finding_label(findings, finding, type == TYPE_TURNS ? "these are turns" : "this is %s", type_phrase(type));
    if (type == TYPE_COUNT && set & SET(TYPE_TURNS))
        finding_mend(findings, finding, "write `turns` after it to make turns of the count");
    else
        finding_mend(findings, finding, "write %s", example_of(set));
    return TYPE_BROKEN;
}

static unsigned infer_number(const Node *node)
{
    switch (unit_measure((Unit)node->detail)) {
    case MEASURE_NUMBER: return node->slot ? TYPE_COUNT : TYPE_RATIO;
    case MEASURE_LENGTH: return TYPE_LENGTH;
    case MEASURE_TURNS: return TYPE_TURNS;
    case MEASURE_ANGLE: return TYPE_ANGLE;
    case MEASURE_RATIO: return TYPE_RATIO;
    default: return TYPE_BROKEN;
    }
}

static unsigned infer_name(Resolver *resolver, Node *node)
{
    const Local *local = node->first ? NULL : local_find(resolver, node->text);
    if (local) {
        node->scope = SCOPE_LOCAL;
        node->slot = (uint32_t)(local - resolver->locals.items) - resolver->floor;
        return local->type;
    }
    Declaration *found = module_find(resolver->arena, resolver->module, resolver->sizes, node, false, "a value", resolver->findings);
    if (!found)
        return TYPE_BROKEN;
    node->scope = SCOPE_DECLARED;
    node->target = found;
    if (found->node->kind == NODE_LET)
        return resolve_let(resolver, found);
    if (found->node->kind == NODE_PATTERN) {
        Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, node->span, "`%s` is a pattern, not a value", node->text->bytes);
        finding_mend(resolver->findings, finding, "call it as a statement of its own: %s(...)", node->text->bytes);
        return TYPE_BROKEN;
    }
    return found->type;
}

static unsigned infer_list(Resolver *resolver, Node *node)
{
    unsigned element = TYPE_NOTHING;
    bool broken = false;
    for (Node *item = node->first; item; item = item->next) {
        unsigned type = infer(resolver, item);
        broken |= type == TYPE_BROKEN;
        if (broken || type == element)
            continue;
        if (element == TYPE_NOTHING && !type_is_list(type))
            element = type;
        else if ((element == TYPE_COUNT && type == TYPE_RATIO) || (element == TYPE_RATIO && type == TYPE_COUNT))
            element = TYPE_RATIO;
        else {
            Finding *finding = finding_add(resolver->findings, FINDING_KINDS_DISAGREE, item->span,
                                           type_is_list(type) ? "a list cannot hold a list" : "a list holds values of one kind");
            finding_label(resolver->findings, finding, "this is %s", type_phrase(type));
            if (item != node->first)
                finding_relate(resolver->findings, finding, node->first->span, "this is %s", type_phrase(element));
            finding_mend(resolver->findings, finding, "make all of one kind");
            broken = true;
        }
    }
    return broken ? TYPE_BROKEN : TYPE_LIST + element;
}

static unsigned infer_sign(Resolver *resolver, Node *node)
{
    if (node->detail == OPERATOR_NOT)
        return want(resolver, node->first, SET(TYPE_TRUTH), "what `not` turns round");
    return want(resolver, node->first, ANY_NUMBER, "what the sign stands before");
}

static unsigned infer_operation(Resolver *resolver, Node *node)
{
    unsigned left = infer(resolver, node->first), right = infer(resolver, node->second);
    if (left == TYPE_BROKEN || right == TYPE_BROKEN)
        return TYPE_BROKEN;
    unsigned type = type_of_operation((Operator)node->detail, left, right);
    if (type != TYPE_BROKEN)
        return type;
    Finding *finding = finding_add(resolver->findings, FINDING_KINDS_DISAGREE, node->span, "`%s` cannot join %s and %s",
                                   operator_spelling((Operator)node->detail), type_phrase(left), type_phrase(right));
    finding_relate(resolver->findings, finding, node->first->span, left == TYPE_TURNS ? "these are turns" : "this is %s", type_phrase(left));
    finding_relate(resolver->findings, finding, node->second->span, right == TYPE_TURNS ? "these are turns" : "this is %s", type_phrase(right));
    if ((left == TYPE_LENGTH && right == TYPE_TURNS) || (left == TYPE_TURNS && right == TYPE_LENGTH)) {
        const Node *turns = left == TYPE_TURNS ? node->first : node->second;
        finding_mend(resolver->findings, finding, "turn the turns into the width they take with a thread: width(..., thread)");
        (void)turns;
    } else
        finding_mend(resolver->findings, finding, "bring both sides to one kind");
    return TYPE_BROKEN;
}

static unsigned infer_rate(Resolver *resolver, Node *node)
{
    unsigned turns = want(resolver, node->first, SET(TYPE_RATIO) | SET(TYPE_TURNS), "what stands before `per`");
    unsigned length = want(resolver, node->second, SET(TYPE_LENGTH), "what stands after `per`");
    return turns == TYPE_BROKEN || length == TYPE_BROKEN ? TYPE_BROKEN : TYPE_RATE;
}

static unsigned infer_pair(Resolver *resolver, Node *node)
{
    unsigned in = want(resolver, node->first, SET(TYPE_COUNT), "turns in");
    unsigned out = want(resolver, node->second, SET(TYPE_COUNT), "turns out");
    return in == TYPE_BROKEN || out == TYPE_BROKEN ? TYPE_BROKEN : TYPE_PAIR;
}

static unsigned list_element(Resolver *resolver, const Node *list, unsigned type)
{
    if (type != TYPE_LIST + TYPE_NOTHING)
        return type_element(type);
    Finding *finding = finding_add(resolver->findings, FINDING_EMPTY_LIST, list->span, "an empty list has nothing to take");
    finding_mend(resolver->findings, finding, "put at least one thing into the list");
    return TYPE_BROKEN;
}

/* All numbers of one kind; counts and ratios mix to ratios. */
static unsigned infer_most(Resolver *resolver, Node *arguments)
{
    unsigned common = TYPE_BROKEN;
    for (Node *argument = arguments; argument; argument = argument->next) {
        unsigned type = want(resolver, argument->first, ANY_NUMBER, "an argument");
        if (type == TYPE_BROKEN)
            return TYPE_BROKEN;
        unsigned joined = argument == arguments ? type : type_of_operation(OPERATOR_ADD, common, type);
        if (joined == TYPE_BROKEN) {
            Finding *finding = finding_add(resolver->findings, FINDING_KINDS_DISAGREE, argument->first->span, "%s cannot be compared with %s",
                                           type_phrase(type), type_phrase(common));
            finding_mend(resolver->findings, finding, "bring all to one kind");
            return TYPE_BROKEN;
        }
        common = joined;
    }
    return common;
}

static unsigned infer_function(Resolver *resolver, Function function, Node *arguments)
{
    Node *first = arguments->first;
    unsigned type;
    switch (function) {
    case FUNCTION_COUNT:
        return want(resolver, first, ANY_LIST, "what is counted") == TYPE_BROKEN ? TYPE_BROKEN : TYPE_COUNT;
    case FUNCTION_FIRST:
    case FUNCTION_LAST:
        type = want(resolver, first, ANY_LIST, "where one is taken from");
        return type == TYPE_BROKEN ? type : list_element(resolver, first, type);
    case FUNCTION_REST:
    case FUNCTION_REVERSE: return want(resolver, first, ANY_LIST, "the argument");
    case FUNCTION_ROUND:
    case FUNCTION_FLOOR:
    case FUNCTION_CEIL:
        type = want(resolver, first, SET(TYPE_TURNS) | SET(TYPE_RATIO), "what is rounded");
        return type == TYPE_RATIO ? TYPE_COUNT : type;
    case FUNCTION_MIN:
    case FUNCTION_MAX: return infer_most(resolver, arguments);
    case FUNCTION_ABS: return want(resolver, first, ANY_NUMBER, "the argument");
    case FUNCTION_WIDTH: {
        unsigned turns = want(resolver, first, SET(TYPE_TURNS), "the first argument");
        unsigned thread = want(resolver, arguments->next->first, SET(TYPE_THREAD), "the second argument");
        return turns == TYPE_BROKEN || thread == TYPE_BROKEN ? TYPE_BROKEN : TYPE_LENGTH;
    }
    case FUNCTION_SPACER: return want(resolver, first, SET(TYPE_THREAD), "a spacer");
    default: return TYPE_BROKEN;
    }
}

static unsigned infer_call(Resolver *resolver, Node *node)
{
    const Node *name = node->first;
    Function function = name->first ? FUNCTION_NONE : function_of(name->text->bytes);
    unsigned count = 0;
    const Node *labelled = NULL;
    for (const Node *argument = node->options; argument; argument = argument->next, count++)
        labelled = argument->text ? argument : labelled;
    if (function == FUNCTION_NONE) {
        Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_NAME, name->span, "there is no function `%s`", name->text->bytes);
        finding_mend(resolver->findings, finding, "the functions are count, first, last, rest, reverse, round, floor, ceil, min, max, abs, width and spacer");
        return TYPE_BROKEN;
    }
    node->scope = SCOPE_BUILT_IN;
    node->slot = function;
    if (labelled || count < functions[function].fewest || count > functions[function].most) {
        Finding *finding = finding_add(resolver->findings, FINDING_ARGUMENTS, node->span, "%s takes %s", functions[function].name,
                                       labelled ? "its arguments without names" : functions[function].most == 1 ? "one argument"
                                       : functions[function].most == 2 ? "two arguments: turns and a thread" : "at least one argument");
        finding_mend(resolver->findings, finding, "write it so");
        return TYPE_BROKEN;
    }
    return infer_function(resolver, function, node->options);
}

static unsigned infer_kind(Resolver *resolver, Node *node)
{
    switch (node->kind) {
    case NODE_NUMBER: return infer_number(node);
    case NODE_TEXT: return TYPE_TEXT;
    case NODE_COLOUR: return node->detail == UNIT_UNKNOWN ? TYPE_BROKEN : TYPE_COLOUR;
    case NODE_TRUTH: return TYPE_TRUTH;
    case NODE_NAME: return infer_name(resolver, node);
    case NODE_CALL: return infer_call(resolver, node);
    case NODE_LIST: return infer_list(resolver, node);
    case NODE_SIGN: return infer_sign(resolver, node);
    case NODE_OPERATION: return infer_operation(resolver, node);
    case NODE_TURNS_OF:
        return want(resolver, node->first, SET(TYPE_COUNT), "what stands before `turns`") == TYPE_BROKEN ? TYPE_BROKEN : TYPE_TURNS;
    case NODE_RATE: return infer_rate(resolver, node);
    case NODE_PAIR: return infer_pair(resolver, node);
    default: return TYPE_BROKEN;
    }
}

unsigned infer(Resolver *resolver, Node *node)
{
    if (resolver->depth >= LIMIT_EXPRESSION_DEPTH) {
        Finding *finding = finding_add(resolver->findings, FINDING_NESTED_TOO_DEEP, node->span, "this value has more than %d parts one within the other", LIMIT_EXPRESSION_DEPTH);
        finding_mend(resolver->findings, finding, "give a part of it a name with `let`");
        return node->type = TYPE_BROKEN;
    }
    resolver->depth++;
    node->type = (uint8_t)infer_kind(resolver, node);
    resolver->depth--;
    return node->type;
}
