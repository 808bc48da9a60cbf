/* Kinds of values. */
#include "meaning/resolver.h"

#include "base/limits.h"
#include "meaning/convert.h"
#include "meaning/mend.h"

#include <string.h>

static const struct {
    const char *name;
    unsigned fewest, most;
    const char *usage;
} functions[] = {
#define X(name, ...) {__VA_ARGS__},
    FUNCTION_TABLE(X)
#undef X
};

Function function_of(const char *name)
{
    for (Function function = FUNCTION_COUNT; function < FUNCTION_NONE; function++)
        if (strcmp(functions[function].name, name) == 0)
            return function;
    return FUNCTION_NONE;
}

const Local *local_find(Resolver *resolver, const Text *name)
{
    uint32_t at = resolver->buckets[name->hash % LOCAL_BUCKETS];
    while (at > resolver->floor && resolver->locals.items[at - 1].name != name)
        at = resolver->locals.items[at - 1].older;
    return at > resolver->floor ? &resolver->locals.items[at - 1] : NULL;
}

uint32_t local_enter(Resolver *resolver, const Text *name, unsigned type, Cause cause)
{
    uint32_t *bucket = &resolver->buckets[name->hash % LOCAL_BUCKETS];
    *LIST_ADD(resolver->arena, &resolver->locals) = (Local){name, type, cause, *bucket};
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
    return strchr(wanted, ' ') ? wanted : finding_text(resolver->findings, "`%s`", wanted);
}

static void report_bare_number(Resolver *resolver, Node *node, TypeSet set, const char *wanted)
{
    Findings *findings = resolver->findings;
    const char *number = show_number(resolver->findings->words, node->number, 6);
    Finding *finding =
        finding_add(findings, FINDING_BARE_NUMBER, node->span, "%s needs a unit", quoted(resolver, wanted));
    finding_label(findings, finding, "wanted: %s; this is a bare number",
                  type_set_phrase(resolver->findings->words, set));
    bool either = set & SET(TYPE_TURNS) && set & SET(TYPE_LENGTH), whole = number_as(resolver, node, TYPE_COUNT);
    unsigned type = set & SET(TYPE_TURNS) && (whole || !either) ? TYPE_TURNS
                    : set & SET(TYPE_RATE)                      ? TYPE_RATE
                    : set & SET(TYPE_ANGLE)                     ? TYPE_ANGLE
                                                                : TYPE_LENGTH;
    if (either)
        finding_mend(findings, finding, "write `%s` if you count, or `%s mm` if you measure",
                     show_turns(resolver->findings->words, node->number), number);
    else if (type == TYPE_RATE)
        finding_mend(findings, finding, "write `%s per cm`, or `per in`", number);
    else
        finding_mend(findings, finding, "write `%s`", number_as(resolver, node, type));
    finding_edit(findings, finding, node->span, "%s", number_as(resolver, node, type));
}

/* `foot: [19, 17]`: all of a list's numbers want the unit at once. */
static void report_bare_list(Resolver *resolver, Node *node, const char *edit, const char *wanted)
{
    Finding *finding = finding_add(resolver->findings, FINDING_BARE_NUMBER, node->span, "%s needs a unit",
                                   quoted(resolver, wanted));
    finding_label(resolver->findings, finding, "wanted: a list of lengths; these are bare numbers");
    edit_to(resolver, finding, node, edit, "");
}

static const char *example_of(TypeSet set)
{
    static const struct {
        unsigned type;
        const char *example;
    } examples[] = {
        {TYPE_TURNS, "`8 turns`"},
        {TYPE_LENGTH, "`9 mm`"},
        {TYPE_RATE, "`68 per cm`"},
        {TYPE_ANGLE, "`30 deg`"},
        {TYPE_COUNT, "`4`"},
        {TYPE_RATIO, "`1/3` or `30 %`"},
        {TYPE_COLOUR, "`#22346b`"},
        {TYPE_TEXT, "a text in quotes"},
        {TYPE_TRUTH, "`yes` or `no`"},
        {TYPE_THREAD, "a thread's name"},
        {TYPE_GUIDE, "a guide's name"},
        {TYPE_LIST + TYPE_THREAD, "`[navy, mist]`"},
        {TYPE_LIST + TYPE_PAIR, "`[in 1 out 3, in 2 out 2]`"},
    };
    for (size_t i = 0; i < sizeof examples / sizeof *examples; i++)
        if (set & SET(examples[i].type))
            return examples[i].example;
    return "a value of that kind";
}

/* The value made into the first of these kinds that it can be made into. */
static const char *as_one_of(Resolver *resolver, const Node *node, unsigned from, TypeSet set)
{
    static const unsigned order[] = {TYPE_TURNS,
                                     TYPE_RATE,
                                     TYPE_LENGTH,
                                     TYPE_ANGLE,
                                     TYPE_COUNT,
                                     TYPE_RATIO,
                                     TYPE_COLOUR,
                                     TYPE_TEXT,
                                     TYPE_TRUTH,
                                     TYPE_THREAD,
                                     TYPE_GUIDE,
                                     TYPE_LIST + TYPE_THREAD,
                                     TYPE_LIST + TYPE_LENGTH};
    const char *text = NULL;
    for (size_t i = 0; i < sizeof order / sizeof *order && !text; i++)
        text = set & SET(order[i]) ? as_kind(resolver, node, from, order[i]) : NULL;
    return text;
}

/* "this is a length", "these are turns": how a finding names what stands at a place. */
static const char *naming(unsigned type)
{
    return type == TYPE_TURNS || type == TYPE_LIST + TYPE_THREAD ? "these are %s" : "this is %s";
}

static void report_wrong_kind(Resolver *resolver, Node *node, unsigned type, TypeSet set, const char *wanted)
{
    Findings *findings = resolver->findings;
    Finding *finding =
        finding_add(findings, FINDING_WRONG_KIND, node->span, "%s is %s, not %s", quoted(resolver, wanted),
                    type_set_phrase(resolver->findings->words, set), type_phrase(type));
    finding_label(findings, finding, naming(type), type_phrase(type));
    const char *otherwise = finding_text(resolver->findings, "write %s", example_of(set));
    edit_to(resolver, finding, node, as_one_of(resolver, node, type, set), otherwise);
    if (type == TYPE_COUNT && set & SET(TYPE_TURNS))
        finding_mend(findings, finding, "write `turns` after it to make turns of the count");
}

unsigned want(Resolver *resolver, Node *node, TypeSet set, const char *wanted)
{
    resolver->wanted = node->kind == NODE_NAME ? set : 0;
    unsigned type = infer(resolver, node);
    resolver->wanted = 0;
    if (type == TYPE_BROKEN || type_fits(type, set))
        return type;
    uint64_t told = resolver->findings->told;
    const TypeSet measures = SET(TYPE_LENGTH) | SET(TYPE_TURNS) | SET(TYPE_RATE) | SET(TYPE_ANGLE);
    bool measure = set & measures && !(set & SET(TYPE_RATIO));
    bool bare = type == TYPE_LIST + TYPE_COUNT || type == TYPE_LIST + TYPE_RATIO;
    const char *list =
        bare && set & SET(TYPE_LIST + TYPE_LENGTH) ? list_as(resolver, node, type, TYPE_LIST + TYPE_LENGTH) : NULL;
    bool bare_number = node->kind == NODE_NUMBER && node->detail == UNIT_NONE;
    if (measure && bare_number && (type == TYPE_COUNT || type == TYPE_RATIO))
        report_bare_number(resolver, node, set, wanted);
    else if (list)
        report_bare_list(resolver, node, list, wanted);
    else
        report_wrong_kind(resolver, node, type, set, wanted);
    return resolve_broken(resolver, node, told);
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

static bool known_to_module(const Module *module, const Text *name)
{
    bool known = module_own(module, name, false);
    for (uint32_t i = 0; i < module->uses.count && !known; i++)
        known = !module->uses.items[i].module || module_own(module->uses.items[i].module, name, false);
    return known;
}

/* A word where only a text, a colour, or yes or no can stand: written another way, it is no name. */
static bool report_plain_word(Resolver *resolver, const Node *node, TypeSet set)
{
    static const char *const yes_words[] = {"true", "y", "ja", "oui", NULL};
    bool text = set == SET(TYPE_TEXT), truth = set == SET(TYPE_TRUTH);
    if (module_name(node) || !(text || truth || set == SET(TYPE_COLOUR))
        || known_to_module(resolver->module, node->text))
        return false;
    const char *edit = text    ? finding_text(resolver->findings, "\"%s\"", node->text->bytes)
                       : truth ? "no"
                               : "#22346b";
    for (const char *const *word = yes_words; truth && *word; word++)
        edit = strcmp(*word, node->text->bytes) == 0 ? "yes" : edit;
    Finding *finding =
        finding_add(resolver->findings, FINDING_WRONG_KIND, node->span, "%s is wanted here, and this is a name",
                    text ? "a text in quotes" : type_set_phrase(resolver->findings->words, set));
    finding_mend(resolver->findings, finding,
                 text    ? "write %s"
                 : truth ? "write %s"
                         : "write # and six digits, such as %s",
                 edit);
    finding_edit(resolver->findings, finding, node->span, "%s", edit);
    return true;
}

static unsigned infer_name(Resolver *resolver, Node *node)
{
    TypeSet set = resolver->wanted;
    resolver->wanted = 0;
    const Local *local = module_name(node) ? NULL : local_find(resolver, node->text);
    if (local) {
        node->scope = SCOPE_LOCAL;
        node->slot = (uint32_t)(local - resolver->locals.items) - resolver->floor;
        node->cause = local->cause;
        return local->type;
    }
    if (report_plain_word(resolver, node, set))
        return TYPE_BROKEN;
    Declaration *found =
        module_find(resolver->module, resolver->sizes, node, false,
                    set ? type_set_phrase(resolver->findings->words, set) : "a value", resolver->findings);
    if (!found) {
        node->cause = module_refused(resolver->module, node);
        return TYPE_BROKEN;
    }
    node->scope = SCOPE_DECLARED;
    node->target = found;
    if (found->node->kind == NODE_LET) {
        unsigned type = resolve_let(resolver, found);
        node->cause = found->node->first->cause;
        return type;
    }
    if (found->node->kind == NODE_PATTERN) {
        Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, node->span,
                                       "`%s` is a pattern, not a value", node->text->bytes);
        finding_mend(resolver->findings, finding, "call it as a statement of its own: %s(...)", node->text->bytes);
        return TYPE_BROKEN;
    }
    return found->type;
}

/* Of two numbers that do not go together, which is meant: wraps are measured and counted, turns have a width, and
 * a bare number lacks its unit. All else is as likely as what is measured. */
static bool likelier(unsigned one, unsigned other)
{
    static const unsigned char unlikely[TYPE_COUNT_OF_ELEMENTS] = {
        [TYPE_TURNS] = 1, [TYPE_ANGLE] = 2, [TYPE_RATE] = 2, [TYPE_COUNT] = 3, [TYPE_RATIO] = 3};
    unsigned of_one = one < TYPE_COUNT_OF_ELEMENTS ? unlikely[one] : 0;
    return of_one < (other < TYPE_COUNT_OF_ELEMENTS ? unlikely[other] : 0);
}

/* Two neighbours of a list, or two arguments, of two kinds: the second becomes what the first is, or the other way
 * round where that is likelier and nothing stands before it. */
static void mend_neighbours(Resolver *resolver, Finding *finding, const Node *first, unsigned first_type,
                            const Node *second, unsigned second_type, bool alone, const char *otherwise)
{
    bool change_first = alone && likelier(second_type, first_type);
    const Node *changed = change_first ? first : second;
    edit_to(resolver, finding, changed,
            change_first ? agreeing(resolver, first, first_type, second_type)
                         : agreeing(resolver, second, second_type, first_type),
            otherwise);
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
            Finding *finding =
                finding_add(resolver->findings, FINDING_KINDS_DISAGREE, item->span,
                            type_is_list(type) ? "a list cannot hold a list" : "a list holds values of one kind");
            finding_label(resolver->findings, finding, naming(type), type_phrase(type));
            if (item != node->first)
                finding_relate(resolver->findings, finding, node->first->span, naming(element),
                               type_phrase(element));
            mend_neighbours(resolver, finding, node->first, element, item, type, item == node->first->next,
                            "make all of one kind");
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

/* Two sides that do not go together: one of them made into what the other is. */
static void mend_operation(Resolver *resolver, Finding *finding, const Node *node, unsigned left, unsigned right)
{
    bool scales = node->detail == OPERATOR_MULTIPLY || node->detail == OPERATOR_DIVIDE;
    if (left == TYPE_THREAD && right == TYPE_THREAD) {
        const char *list = finding_text(resolver->findings, "[%s, %s]",
                                        written(resolver->findings->words, resolver->sources, node->first->span),
                                        written(resolver->findings->words, resolver->sources, node->second->span));
        edit_to(resolver, finding, node, list, "");
        return;
    }
    bool turn_left = !scales && likelier(right, left);
    const Node *side = turn_left ? node->first : node->second;
    unsigned from = turn_left ? left : right, to = turn_left ? right : left;
    if (scales)
        to = side->kind == NODE_NUMBER ? TYPE_RATIO : TYPE_BROKEN;
    edit_to(resolver, finding, side, agreeing(resolver, side, from, to),
            from == TYPE_TURNS && to == TYPE_LENGTH
                ? "turn the turns into the width they take with a thread: width(turns, thread)"
                : "bring both sides to one kind");
}

/* `67/cm`: a unit where only a value can stand. */
static bool report_unit_alone(Resolver *resolver, const Node *node)
{
    const Node *name = node->second;
    if (node->detail != OPERATOR_DIVIDE || name->kind != NODE_NAME || module_name(name)
        || local_find(resolver, name->text) || known_to_module(resolver->module, name->text))
        return false;
    for (Unit unit = UNIT_MM; unit < UNIT_UNKNOWN; unit++) {
        if (unit_measure(unit) != MEASURE_LENGTH || strcmp(unit_spelling(unit), name->text->bytes) != 0)
            continue;
        Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_UNIT, name->span,
                                       "a unit is known only right after a number");
        finding_mend(resolver->findings, finding, "write `per %s`", unit_spelling(unit));
        finding_edit(resolver->findings, finding, (Span){node->first->span.end, name->span.end, name->span.file},
                     " per %s", unit_spelling(unit));
        return true;
    }
    return false;
}

static unsigned infer_operation(Resolver *resolver, Node *node)
{
    if (report_unit_alone(resolver, node))
        return TYPE_BROKEN;
    unsigned left = infer(resolver, node->first), right = infer(resolver, node->second);
    if (left == TYPE_BROKEN || right == TYPE_BROKEN)
        return TYPE_BROKEN;
    unsigned type = type_of_operation((Operator)node->detail, left, right);
    if (type != TYPE_BROKEN)
        return type;
    Finding *finding =
        finding_add(resolver->findings, FINDING_KINDS_DISAGREE, node->span, "`%s` cannot join %s and %s",
                    operator_spelling((Operator)node->detail), type_phrase(left), type_phrase(right));
    finding_relate(resolver->findings, finding, node->first->span, naming(left), type_phrase(left));
    finding_relate(resolver->findings, finding, node->second->span, naming(right), type_phrase(right));
    mend_operation(resolver, finding, node, left, right);
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
    Finding *finding =
        finding_add(resolver->findings, FINDING_EMPTY_LIST, list->span, "an empty list has nothing to take");
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
            Finding *finding =
                finding_add(resolver->findings, FINDING_KINDS_DISAGREE, argument->first->span,
                            "%s cannot be compared with %s", type_phrase(type), type_phrase(common));
            mend_neighbours(resolver, finding, arguments->first, common, argument->first, type,
                            argument == arguments->next, "bring all to one kind");
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

static unsigned report_unknown_function(Resolver *resolver, const Node *name)
{
    const char *names[FUNCTION_NONE + 1] = {0};
    for (Function function = FUNCTION_COUNT; function < FUNCTION_NONE; function++)
        names[function] = functions[function].name;
    const char *nearest = nearest_word(resolver->findings->words, name->text->bytes, names);
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_NAME, name->span,
                                   "there is no function `%s`", name->text->bytes);
    finding_mend(resolver->findings, finding,
                 nearest ? "did you mean %s?"
                         : "the functions are count, first, last, rest, reverse, round, floor, ceil, min, max, "
                           "abs, width and spacer",
                 nearest);
    if (nearest)
        finding_edit(resolver->findings, finding, name->span, "%s", nearest);
    return TYPE_BROKEN;
}

/* The call without names before its arguments and without arguments too many, with a thread if that is missing. */
static const char *call_corrected(Resolver *resolver, const Node *node, Function function, unsigned count)
{
    Buffer text;
    buffer_start(&text, resolver->findings->words);
    unsigned number = 0;
    for (const Node *argument = node->options; argument && number < functions[function].most;
         argument = argument->next, number++) {
        buffer_text(&text, number ? ", " : "");
        buffer_text(&text, written(resolver->findings->words, resolver->sources, argument->first->span));
    }
    const char *thread = function == FUNCTION_WIDTH && count == 1 ? thread_nearby(resolver) : NULL;
    if (count < functions[function].fewest && !thread)
        return NULL;
    return finding_text(resolver->findings, "%s(%s%s%s)", functions[function].name, buffer_string(&text),
                        thread ? ", " : "", thread ? thread : "");
}

static unsigned infer_call(Resolver *resolver, Node *node)
{
    const Node *name = node->first;
    Function function = module_name(name) ? FUNCTION_NONE : function_of(name->text->bytes);
    unsigned count = 0;
    const Node *labelled = NULL;
    for (const Node *argument = node->options; argument; argument = argument->next, count++)
        labelled = argument->text ? argument : labelled;
    if (function == FUNCTION_NONE)
        return report_unknown_function(resolver, name);
    node->scope = SCOPE_BUILT_IN;
    node->slot = function;
    if (labelled || count < functions[function].fewest || count > functions[function].most) {
        Finding *finding =
            finding_add(resolver->findings, FINDING_ARGUMENTS, node->span, "%s takes %s", functions[function].name,
                        labelled                        ? "its arguments without names"
                        : functions[function].most == 1 ? "one argument"
                        : functions[function].most == 2 ? "two arguments: turns and a thread"
                                                        : "at least one argument");
        edit_to(resolver, finding, node, call_corrected(resolver, node, function, count),
                finding_text(resolver->findings, "write it as %s", functions[function].usage));
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
        return want(resolver, node->first, SET(TYPE_COUNT), "what stands before `turns`") == TYPE_BROKEN
                   ? TYPE_BROKEN
                   : TYPE_TURNS;
    case NODE_RATE: return infer_rate(resolver, node);
    case NODE_PAIR: return infer_pair(resolver, node);
    default: return TYPE_BROKEN;
    }
}

/* Why a part of the value is broken; CAUSE_NONE if none is. */
static Cause cause_of_parts(const Node *node)
{
    if (is_leaf(node))
        return CAUSE_NONE;
    const Node *lists[] = {node->first, node->kind == NODE_CALL ? NULL : node->second, node->options};
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
        for (const Node *part = lists[i]; part; part = i == 1 ? NULL : part->next) {
            const Node *value = part->kind == NODE_ARGUMENT ? part->first : part;
            if (value->type == TYPE_BROKEN && value->cause)
                return value->cause;
        }
    return CAUSE_NONE;
}

/* What was told on the way is the cause, or else what is known of the node, or of its parts. */
unsigned resolve_broken(Resolver *resolver, Node *node, uint64_t told)
{
    Cause cause = findings_since(resolver->findings, told);
    if (!cause)
        cause = node->cause ? node->cause : cause_of_parts(node);
    node->cause =
        cause == CAUSE_NEVER_WOUND ? CAUSE_NEVER_WOUND : cause_mark(resolver->findings, cause, node->span);
    return node->type = TYPE_BROKEN;
}

/* Told once of a value, not for each side of the operation that is too deep. */
static unsigned too_deep(Resolver *resolver, Node *node, uint64_t told)
{
    if (!resolver->value_too_deep) {
        Finding *finding =
            finding_add(resolver->findings, FINDING_NESTED_TOO_DEEP, node->span,
                        "this value has more than %d parts one within the other", LIMIT_EXPRESSION_DEPTH);
        finding_mend(resolver->findings, finding, "give a part of it a name with `let`");
        resolver->value_too_deep = finding->number;
    }
    node->cause = resolver->value_too_deep;
    return resolve_broken(resolver, node, told);
}

unsigned infer(Resolver *resolver, Node *node)
{
    uint64_t told = resolver->findings->told;
    if (resolver->depth >= LIMIT_EXPRESSION_DEPTH)
        return too_deep(resolver, node, told);
    if (!resolver->depth)
        resolver->value_too_deep = CAUSE_NONE;
    resolver->depth++;
    node->type = (uint8_t)infer_kind(resolver, node);
    resolver->depth--;
    return node->type == TYPE_BROKEN ? resolve_broken(resolver, node, told) : node->type;
}
