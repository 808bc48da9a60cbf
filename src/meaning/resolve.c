/* Names and kinds of statements and declarations. */
#include "meaning/resolve.h"

#include "base/limits.h"

#include <string.h>

static Finding *not_here(Resolver *resolver, const Node *node, const char *why, const char *mend)
{
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_HERE, node->span, "%s", why);
    finding_mend(resolver->findings, finding, "%s", mend);
    return finding;
}

/* --- options --- */

static Span option_name_span(const Node *option)
{
    Span span = option->span;
    span.end = span.start + option->text->length;
    return span;
}

static void report_unknown_option(Resolver *resolver, const Node *option, const OptionRules *rules)
{
    const char *nearest = NULL, *all = "";
    unsigned best = 4;
    for (uint32_t i = 0; i < rules->count; i++) {
        all = text_format(resolver->arena, "%s%s%s", all, i ? ", " : "", rules->rules[i].name);
        unsigned distance = text_distance(option->text->bytes, rules->rules[i].name, best - 1);
        if (distance < best && distance < option->text->length) {
            best = distance;
            nearest = rules->rules[i].name;
        }
    }
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_OPTION, option_name_span(option), "%s has no option `%s`",
                                   rules->owner, option->text->bytes);
    if (nearest) {
        finding_mend(resolver->findings, finding, "did you mean %s?", nearest);
        finding_edit(resolver->findings, finding, option_name_span(option), "%s", nearest);
    } else {
        finding_mend(resolver->findings, finding, "its options are %s", all);
        finding_edit(resolver->findings, finding, option->span, "%s", "");
    }
}

/* A word is one of the choices, or (without choices) a size's name, which is looked up when sizes are. */
static void check_word(Resolver *resolver, const Node *option, const OptionRule *rule)
{
    const Node *value = option->first;
    for (int i = 0; value->kind == NODE_NAME && !value->first && rule->choices && rule->choices[i]; i++)
        if (strcmp(rule->choices[i], value->text->bytes) == 0)
            return;
    if (value->kind == NODE_NAME && !rule->choices)
        return;
    const char *all = "a size's name";
    for (int i = 0; rule->choices && rule->choices[i]; i++)
        all = text_format(resolver->arena, "%s%s%s", i ? all : "", i == 0 ? "" : rule->choices[i + 1] ? ", " : " or ", rule->choices[i]);
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_A_CHOICE, value->span, "`%s` is %s", rule->name, all);
    finding_mend(resolver->findings, finding, "write %s", rule->choices ? rule->choices[0] : "a size's name, such as A");
    finding_edit(resolver->findings, finding, value->span, "%s", rule->choices ? rule->choices[0] : "A");
}

static void check_option(Resolver *resolver, Node *option, const OptionRules *rules)
{
    uint32_t rule = 0;
    while (rule < rules->count && strcmp(rules->rules[rule].name, option->text->bytes) != 0)
        rule++;
    option->slot = UINT32_MAX;
    if (rule == rules->count) {
        report_unknown_option(resolver, option, rules);
        infer(resolver, option->first);
        return;
    }
    option->slot = rule;
    if (rules->rules[rule].types == SET(TYPE_WORD))
        check_word(resolver, option, &rules->rules[rule]);
    else
        want(resolver, option->first, rules->rules[rule].types, rules->rules[rule].name);
}

static void drop_second(Resolver *resolver, Node *first, Node *second)
{
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_TWICE, option_name_span(second), "`%s` is given twice", second->text->bytes);
    finding_relate(resolver->findings, finding, option_name_span(first), "first here");
    finding_mend(resolver->findings, finding, "take one of them out");
    finding_edit(resolver->findings, finding, second->span, "%s", "");
    second->slot = UINT32_MAX;
}

void resolve_options(Resolver *resolver, Node *node)
{
    const OptionRules *rules = option_rules((NodeKind)node->kind);
    Node *seen[32] = {0};
    for (Node *option = node->options; option; option = option->next) {
        if (option->kind == NODE_BROKEN)
            continue;
        check_option(resolver, option, rules);
        if (option->slot == UINT32_MAX)
            continue;
        if (seen[option->slot])
            drop_second(resolver, seen[option->slot], option);
        else
            seen[option->slot] = option;
    }
    for (uint32_t rule = 0; rule < rules->count; rule++) {
        if (!rules->rules[rule].required || seen[rule] || list_broken(node->options))
            continue;
        Finding *finding = finding_add(resolver->findings, FINDING_OPTION_MISSING, node->first ? node->first->span : node->span,
                                       "%s needs its `%s`", rules->owner, rules->rules[rule].name);
        finding_mend(resolver->findings, finding, "write `%s:` and a value in its braces", rules->rules[rule].name);
    }
}

static void exclude(Resolver *resolver, const Node *node, uint32_t one, uint32_t other)
{
    const Node *first = option_node(node->options, one), *second = option_node(node->options, other);
    if (!first || !second)
        return;
    Finding *finding = finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, second->span, "`%s` and `%s` exclude each other",
                                   first->text->bytes, second->text->bytes);
    finding_relate(resolver->findings, finding, first->span, "this one");
    finding_mend(resolver->findings, finding, "take one of them out");
    finding_edit(resolver->findings, finding, second->span, "%s", "");
}

static void missing(Resolver *resolver, const Node *node, const char *what, const char *mend, const char *edit)
{
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_MISSING, node->span, "%s", what);
    finding_mend(resolver->findings, finding, "%s", mend);
    Span end = node->span;
    end.start = end.end;
    if (edit)
        finding_edit(resolver->findings, finding, end, "%s", edit);
}

/* --- statements --- */

static const TypeSet STRANDS = SET(TYPE_THREAD) | SET_THREADS;

static void check_extent(Resolver *resolver, Node *extent, const char *whose)
{
    if (extent->kind != NODE_FILL)
        want(resolver, extent, SET(TYPE_TURNS) | SET(TYPE_LENGTH), whose);
}

static void check_body(Resolver *resolver, Node *body, bool in_band)
{
    uint32_t count = resolver->locals.count;
    resolve_statements(resolver, body, in_band);
    local_leave(resolver, count);
}

static void check_band(Resolver *resolver, Node *node, bool in_band)
{
    if (in_band) {
        not_here(resolver, node, "a band cannot stand in a band", "close the band's braces before it, or make it an inlay");
        return;
    }
    check_extent(resolver, node->first, "the extent of a band");
    want(resolver, node->second, STRANDS, "what a band is wound of");
    resolve_options(resolver, node);
    const Node *weight = option_node(node->options, BAND_WEIGHT);
    if (weight && node->first->kind != NODE_FILL) {
        Finding *finding = finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, weight->span, "only a fill has a weight");
        finding_mend(resolver->findings, finding, "take it out, or make the extent `fill`");
        finding_edit(resolver->findings, finding, weight->span, "%s", "");
    }
    check_body(resolver, node->body, true);
}

static void check_inlay(Resolver *resolver, Node *node, bool in_band)
{
    if (!in_band) {
        not_here(resolver, node, "an inlay stands in a band's braces", "put it in braces after a band, or make it a band");
        return;
    }
    if (node->first->kind == NODE_FILL)
        not_here(resolver, node->first, "an inlay cannot be a fill", "say its turns, such as `2 turns`");
    check_extent(resolver, node->first, "the extent of an inlay");
    want(resolver, node->second, STRANDS, "what an inlay is wound of");
    resolve_options(resolver, node);
    exclude(resolver, node, INLAY_AT, INLAY_EVERY);
    if (!option_node(node->options, INLAY_AT) && !option_node(node->options, INLAY_EVERY))
        missing(resolver, node, "an inlay needs to know where", "write `at:` and where its middle lies, such as `at: 1/2`", " at: 1/2");
}

static void check_fade(Resolver *resolver, Node *node, bool in_band)
{
    if (in_band) {
        not_here(resolver, node, "a fade cannot stand in a band", "close the band's braces before it");
        return;
    }
    resolve_options(resolver, node);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_OVER);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_RUNS);
    exclude(resolver, node, FADE_OPTION_OVER, FADE_OPTION_RUNS);
    bool ruled = option_node(node->options, FADE_OPTION_STEPS) || option_node(node->options, FADE_OPTION_OVER)
                 || option_node(node->options, FADE_OPTION_RUNS);
    if (node->kind == NODE_FADE_TO) {
        want(resolver, node->second, SET(TYPE_THREAD), "what is faded to");
        if (!ruled)
            missing(resolver, node, "a fade needs to know how", "write `steps: 4`, `over:` and an extent, or `runs:`", " steps: 4");
        return;
    }
    check_extent(resolver, node->first, "the extent of a fade");
    want(resolver, node->second, SET_THREADS, "what is faded through");
    if (node->first->kind == NODE_FILL && !ruled)
        missing(resolver, node, "a fade that fills needs to know how it crosses over", "write `steps: 4`, or `over:` and an extent", " steps: 4");
}

static void check_gap(Resolver *resolver, Node *node, bool in_band)
{
    if (in_band) {
        not_here(resolver, node, "a gap cannot stand in a band", "close the band's braces before it");
        return;
    }
    if (node->second) {
        want(resolver, node->first, SET(TYPE_TURNS), "a gap `of` a thread");
        want(resolver, node->second, SET(TYPE_THREAD), "whose turns a gap is as wide as");
    } else if (infer(resolver, node->first) == TYPE_TURNS)
        missing(resolver, node, "a gap in turns needs to know of which thread", "write `of` and a thread, or give the gap as a length", NULL);
    else
        want(resolver, node->first, SET(TYPE_LENGTH), "a gap");
}

static void check_for(Resolver *resolver, Node *node, bool in_band)
{
    unsigned type = TYPE_COUNT;
    if (node->second) {
        want(resolver, node->first, SET(TYPE_COUNT), "the first count");
        want(resolver, node->second, SET(TYPE_COUNT), "the last count");
    } else {
        unsigned list = want(resolver, node->first, ~(TypeSet)0 << TYPE_LIST, "what `for` goes through");
        type = list == TYPE_BROKEN ? TYPE_BROKEN : type_element(list);
        if (type == TYPE_NOTHING)
            type = TYPE_BROKEN;   /* never laid */
    }
    uint32_t count = resolver->locals.count;
    node->options->slot = local_enter(resolver, node->options->text, type);
    resolve_statements(resolver, node->body, in_band);
    local_leave(resolver, count);
}

static void check_if(Resolver *resolver, Node *node, bool in_band)
{
    while (node) {
        if (node->kind == NODE_IF)
            want(resolver, node->first, SET(TYPE_TRUTH), "what `if` asks");
        check_body(resolver, node->body, in_band);
        node = node->kind == NODE_IF ? node->second : NULL;
    }
}

static void check_nested(Resolver *resolver, Node *node, bool in_band)
{
    if (in_band) {
        not_here(resolver, node, "only inlays, for, if, let and require stand in a band", "close the band's braces before it");
        return;
    }
    if (node->kind == NODE_REPEAT)
        want(resolver, node->first, SET(TYPE_COUNT), "how often it repeats");
    check_body(resolver, node->body, false);
}

static void check_require(Resolver *resolver, Node *node, bool in_band)
{
    (void)in_band;
    want(resolver, node->first, SET(TYPE_TRUTH), "what is required");
}

static void check_let(Resolver *resolver, Node *node, bool in_band)
{
    (void)in_band;
    unsigned type = infer(resolver, node->first);
    node->slot = local_enter(resolver, node->second->text, type);
}

static void check_call(Resolver *resolver, Node *node, bool in_band)
{
    if (in_band)
        not_here(resolver, node, "a pattern cannot be called in a band", "close the band's braces before it");
    else
        resolve_call(resolver, node);
}

static void check_nothing(Resolver *resolver, Node *node, bool in_band)
{
    (void)resolver;
    (void)node;
    (void)in_band;
}

static void check_misplaced(Resolver *resolver, Node *node, bool in_band)
{
    (void)in_band;
    not_here(resolver, node, "a layer stands directly in a place", "close the braces before it");
}

void resolve_statements(Resolver *resolver, Node *statements, bool in_band)
{
    static void (*const checks[NODE_KIND_COUNT])(Resolver *, Node *, bool) = {
        [NODE_BAND] = check_band,       [NODE_INLAY] = check_inlay,   [NODE_FADE_TO] = check_fade, [NODE_FADE_OF] = check_fade,
        [NODE_GAP] = check_gap,         [NODE_FOR] = check_for,       [NODE_IF] = check_if,        [NODE_REPEAT] = check_nested,
        [NODE_MIRROR] = check_nested,   [NODE_SYMMETRIC] = check_nested, [NODE_REQUIRE] = check_require, [NODE_LET] = check_let,
        [NODE_CALL] = check_call,       [NODE_UNDER] = check_misplaced,  [NODE_OVER] = check_misplaced,
        [NODE_BROKEN] = check_nothing,
    };
    for (Node *node = statements; node; node = node->next)
        checks[node->kind](resolver, node, in_band);
}

/* --- calls --- */

static Node *parameter_at(Node *pattern, uint32_t number)
{
    Node *parameter = pattern->options;
    while (parameter && number--)
        parameter = parameter->next;
    return parameter;
}

static void arguments_misfit(Resolver *resolver, Span span, const Declaration *pattern, const char *what)
{
    const char *signature = "";
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next)
        signature = text_format(resolver->arena, "%s%s%s", signature, *signature ? ", " : "", parameter->text->bytes);
    Finding *finding = finding_add(resolver->findings, FINDING_ARGUMENTS, span, "%s", what);
    finding_relate(resolver->findings, finding, pattern->node->first->span, "the pattern");
    finding_mend(resolver->findings, finding, "call it as %s(%s)", pattern->name->bytes, signature);
}

/* Which parameter the argument is for; UINT32_MAX after a finding. */
static uint32_t match_argument(Resolver *resolver, const Declaration *pattern, const Node *argument, uint32_t position)
{
    if (!argument->text) {
        if (parameter_at(pattern->node, position))
            return position;
        arguments_misfit(resolver, argument->span, pattern, text_format(resolver->arena, "`%s` has only %u parameters", pattern->name->bytes, position));
        return UINT32_MAX;
    }
    uint32_t number = 0;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next, number++)
        if (parameter->text == argument->text)
            return number;
    arguments_misfit(resolver, option_name_span(argument), pattern,
                     text_format(resolver->arena, "`%s` has no parameter `%s`", pattern->name->bytes, argument->text->bytes));
    return UINT32_MAX;
}

static void check_arguments(Resolver *resolver, const Declaration *pattern, Node *call)
{
    enum { MOST = 64 };
    Node *given[MOST] = {0};
    uint32_t position = 0;
    bool wrong = false;
    for (Node *argument = call->options; argument; argument = argument->next, position++) {
        argument->slot = match_argument(resolver, pattern, argument, position);
        if (argument->slot == UINT32_MAX || argument->slot >= MOST) {
            wrong = true;
            infer(resolver, argument->first);
            continue;
        }
        const Node *parameter = parameter_at(pattern->node, argument->slot);
        if (given[argument->slot]) {
            wrong = true;
            arguments_misfit(resolver, argument->span, pattern, text_format(resolver->arena, "`%s` is given twice", parameter->text->bytes));
        }
        given[argument->slot] = argument;
        if (parameter->type != TYPE_BROKEN)
            want(resolver, argument->first, SET(parameter->type), parameter->text->bytes);
    }
    uint32_t number = 0;
    for (const Node *parameter = pattern->node->options; parameter && !wrong; parameter = parameter->next, number++)
        if (!parameter->first && number < MOST && !given[number]) {
            arguments_misfit(resolver, call->span, pattern, text_format(resolver->arena, "`%s` is missing", parameter->text->bytes));
            return;
        }
}

void resolve_call(Resolver *resolver, Node *call)
{
    Declaration *found = module_find(resolver->arena, resolver->module, resolver->sizes, call->first, false, "a pattern", resolver->findings);
    call->target = NULL;
    for (Node *argument = call->options; !found && argument; argument = argument->next)
        infer(resolver, argument->first);
    if (!found)
        return;
    if (found->node->kind != NODE_PATTERN) {
        Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, call->first->span, "`%s` is not a pattern", found->name->bytes);
        finding_relate(resolver->findings, finding, found->node->span, "declared here");
        finding_mend(resolver->findings, finding, "call a pattern");
        return;
    }
    if (found->checked == IN_WORK) {
        Finding *finding = finding_add(resolver->findings, FINDING_PATTERN_CIRCLE, call->span, "`%s` calls itself, directly or through others", found->name->bytes);
        finding_relate(resolver->findings, finding, found->node->first->span, "the pattern");
        finding_mend(resolver->findings, finding, "use `repeat` or `for` instead; take this call out");
        finding_edit(resolver->findings, finding, call->span, "%s", "");
        return;
    }
    resolve_pattern(resolver, found);
    for (Node *argument = list_broken(found->node->options) ? call->options : NULL; argument; argument = argument->next)
        infer(resolver, argument->first);
    if (list_broken(found->node->options))
        return;   /* its header could not be read */
    call->target = found;
    check_arguments(resolver, found, call);
}

/* --- declarations --- */

/* Works in another module or with fresh locals, and comes back. */
typedef struct Standpoint { Module *module; uint32_t floor, slots; unsigned depth; } Standpoint;

static Standpoint go_to(Resolver *resolver, Module *module)
{
    Standpoint back = {resolver->module, resolver->floor, resolver->slots, resolver->depth};
    resolver->module = module;
    resolver->floor = resolver->locals.count;
    resolver->slots = 0;
    return back;
}

static void go_back(Resolver *resolver, Standpoint back)
{
    local_leave(resolver, resolver->floor);
    resolver->module = back.module;
    resolver->floor = back.floor;
    resolver->slots = back.slots;
    resolver->depth = back.depth;
}

unsigned resolve_let(Resolver *resolver, Declaration *declaration)
{
    if (declaration->checked == DONE)
        return declaration->type;
    if (declaration->checked == IN_WORK) {
        Finding *finding = finding_add(resolver->findings, FINDING_LET_CIRCLE, declaration->node->span, "`%s` rests on itself", declaration->name->bytes);
        finding_mend(resolver->findings, finding, "give it a value that does not use it");
        return TYPE_BROKEN;
    }
    declaration->checked = IN_WORK;
    Standpoint back = go_to(resolver, declaration->module);
    declaration->type = infer(resolver, declaration->node->first);
    go_back(resolver, back);
    declaration->checked = DONE;
    return declaration->type;
}

static void check_parameter(Resolver *resolver, Node *parameter)
{
    unsigned type = type_of_word(parameter->second->text->bytes);
    parameter->type = (uint8_t)type;
    if (type == TYPE_BROKEN) {
        Finding *finding = finding_add(resolver->findings, FINDING_NOT_A_CHOICE, parameter->second->span, "`%s` is no kind of value", parameter->second->text->bytes);
        finding_mend(resolver->findings, finding, "write one of length, turns, angle, ratio, count, rate, colour, thread, threads, text, truth");
    } else if (parameter->first)
        want(resolver, parameter->first, SET(type), parameter->text->bytes);
    parameter->slot = local_enter(resolver, parameter->text, type);
}

static void check_parameter_names(Resolver *resolver, Node *pattern)
{
    for (Node *parameter = pattern->options; parameter; parameter = parameter->next)
        for (Node *earlier = pattern->options; earlier != parameter; earlier = earlier->next)
            if (earlier->text == parameter->text) {
                Finding *finding = finding_add(resolver->findings, FINDING_NAME_TWICE, option_name_span(parameter), "`%s` is declared twice", parameter->text->bytes);
                finding_relate(resolver->findings, finding, option_name_span(earlier), "first here");
                finding_mend(resolver->findings, finding, "give one of them another name, such as %s_2", parameter->text->bytes);
                finding_edit(resolver->findings, finding, option_name_span(parameter), "%s_2", parameter->text->bytes);
                break;
            }
}

void resolve_pattern(Resolver *resolver, Declaration *declaration)
{
    if (declaration->checked != UNSEEN)
        return;
    if (resolver->pattern_depth >= LIMIT_CALL_DEPTH) {
        Finding *finding = finding_add(resolver->findings, FINDING_NESTED_TOO_DEEP, declaration->node->first->span, "patterns call one another deeper than %d", LIMIT_CALL_DEPTH);
        finding_mend(resolver->findings, finding, "join some of them");
        return;
    }
    declaration->checked = IN_WORK;
    resolver->pattern_depth++;
    Standpoint back = go_to(resolver, declaration->module);
    resolver->depth = 0;
    if (!list_broken(declaration->node->options)) {
        check_parameter_names(resolver, declaration->node);
        for (Node *parameter = declaration->node->options; parameter; parameter = parameter->next)
            check_parameter(resolver, parameter);
    }
    resolve_statements(resolver, declaration->node->body, false);
    declaration->slots = resolver->slots;
    go_back(resolver, back);
    resolver->pattern_depth--;
    declaration->checked = DONE;
}

static void check_layer(Resolver *resolver, Node *layer)
{
    resolve_options(resolver, layer);
    check_body(resolver, layer->body, false);
}

/* Layers, or statements; not both. */
static void check_content(Resolver *resolver, Node *place)
{
    const Node *layer = NULL, *statement = NULL;
    uint32_t count = resolver->locals.count;
    for (Node *node = place->body; node; node = node->next) {
        bool is_layer = node->kind == NODE_UNDER || node->kind == NODE_OVER;
        Node *after = node->next;
        node->next = NULL;
        if (is_layer)
            check_layer(resolver, node);
        else
            resolve_statements(resolver, node, false);
        node->next = after;
        if (is_layer)
            layer = node;
        else if (node->kind != NODE_LET && node->kind != NODE_REQUIRE && node->kind != NODE_BROKEN)
            statement = node;
        if (layer && statement) {
            Finding *finding = not_here(resolver, node, "statements beside layers: it is not clear on which layer they lie", "put them into `over { ... }`");
            finding_relate(resolver->findings, finding, is_layer ? statement->span : layer->span, is_layer ? "a statement" : "a layer");
            break;
        }
    }
    local_leave(resolver, count);
}

static void resolve_place(Resolver *resolver, Node *place)
{
    want(resolver, place->first, SET(TYPE_LENGTH), "a place's mark");
    resolve_options(resolver, place);
    exclude(resolver, place, PLACE_GUIDE, PLACE_TOWARD);
    exclude(resolver, place, PLACE_GUIDE, PLACE_LENGTH);
    check_content(resolver, place);
}

static void resolve_rod(Resolver *resolver, Node *rod)
{
    Declaration *blank = module_find(resolver->arena, resolver->module, resolver->sizes, rod->second, false, "a blank", resolver->findings);
    rod->second->target = blank && blank->node->kind == NODE_BLANK ? blank : NULL;
    if (blank && blank->node->kind != NODE_BLANK) {
        Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, rod->second->span, "`%s` is not a blank", blank->name->bytes);
        finding_relate(resolver->findings, finding, blank->node->span, "declared here");
        finding_mend(resolver->findings, finding, "name a blank");
    }
    for (Node *place = rod->body; place; place = place->next)
        if (place->kind == NODE_PLACE)
            resolve_place(resolver, place);
    rod->slot = resolver->slots;
}

static void resolve_size(Resolver *resolver, Node *thread)
{
    Node *size = option_value(thread->options, THREAD_SIZE);
    if (size && size->kind == NODE_NAME)
        size->target = module_find(resolver->arena, resolver->module, resolver->sizes, size, true, "a thread size", resolver->findings);
    const Node *tex = option_node(thread->options, THREAD_TEX), *fibre = option_node(thread->options, THREAD_FIBRE);
    if (tex && !fibre)
        missing(resolver, tex, "`tex` gives a width only with its `fibre`", "write `fibre:` beside it, such as `fibre: nylon`", ", fibre: nylon");
}

static void resolve_declaration(Resolver *resolver, Node *node)
{
    switch (node->kind) {
    case NODE_LET: resolve_let(resolver, (Declaration *)node->target); break;
    case NODE_PATTERN: resolve_pattern(resolver, (Declaration *)node->target); break;
    case NODE_ROD: resolve_rod(resolver, node); break;
    case NODE_BLANK:
        for (Node *station = node->body; station && station->kind == NODE_STATION; station = station->next) {
            want(resolver, station->first, SET(TYPE_LENGTH), "a station's place");
            want(resolver, station->second, SET(TYPE_LENGTH), "a station's diameter");
        }
        break;
    case NODE_THREAD:
        resolve_options(resolver, node);
        resolve_size(resolver, node);
        break;
    case NODE_USE:
    case NODE_EDITION: break;
    default: resolve_options(resolver, node); break;
    }
}

static void once(Resolver *resolver, Node **first, Node *node, const char *what)
{
    if (!*first) {
        *first = node;
        return;
    }
    Finding *finding = finding_add(resolver->findings, FINDING_NAME_TWICE, node->span, "%s stands twice", what);
    finding_relate(resolver->findings, finding, (*first)->span, "first here");
    finding_mend(resolver->findings, finding, "write all of it in one place");
}

void resolve_module(Resolver *resolver, Module *module)
{
    Standpoint back = go_to(resolver, module);
    Node *bench = NULL, *about = NULL;
    for (Node *node = module->declarations; node; node = node->next) {
        resolver->slots = 0;
        resolve_declaration(resolver, node);
        if (node->kind == NODE_BENCH)
            once(resolver, &bench, node, "the bench");
        if (node->kind == NODE_ABOUT)
            once(resolver, &about, node, "`about`");
    }
    go_back(resolver, back);
}
