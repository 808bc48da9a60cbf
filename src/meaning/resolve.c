/* Names and kinds of statements and declarations. */
#include "meaning/resolve.h"

#include "base/limits.h"
#include "meaning/convert.h"
#include "meaning/mend.h"

#include <string.h>

static Finding *not_here(Resolver *resolver, const Node *node, const char *why, const char *mend)
{
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_HERE, node->span, "%s", why);
    finding_mend(resolver->findings, finding, "%s", mend);
    return finding;
}

/* --- options --- */

Span option_name_span(const Node *option)
{
    Span span = option->span;
    span.end = span.start + option->text->length;
    return span;
}

/* Returns the number of the option that was very likely meant; UINT32_MAX if none is near. */
static uint32_t report_unknown_option(Resolver *resolver, const Node *option, const OptionRules *rules)
{
    enum { MOST = 32 };
    const char *names[MOST + 1] = {0}, *all = "";
    for (uint32_t i = 0; i < rules->count && i < MOST; i++) {
        all = text_format(resolver->arena, "%s%s%s", all, i ? ", " : "", rules->rules[i].name);
        names[i] = rules->rules[i].name;
    }
    const char *nearest = nearest_word(resolver->arena, option->text->bytes, names);
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_OPTION, option_name_span(option),
                                   "%s has no option `%s`", rules->owner, option->text->bytes);
    if (nearest) {
        finding_mend(resolver->findings, finding, "did you mean %s?", nearest);
        finding_edit(resolver->findings, finding, option_name_span(option), "%s", nearest);
    } else {
        finding_mend(resolver->findings, finding,
                     rules->count == 1 ? "take it out; the one option is %s" : "take it out; the options are %s",
                     all);
        edit_out(resolver->findings, finding, resolver->sources, option->span);
    }
    for (uint32_t i = 0; i < rules->count; i++)
        if (rules->rules[i].name == nearest)
            return i;
    return UINT32_MAX;
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
        all = text_format(resolver->arena, "%s%s%s", i ? all : "",
                          i == 0                 ? ""
                          : rule->choices[i + 1] ? ", "
                                                 : " or ",
                          rule->choices[i]);
    const char *word = value->kind == NODE_NAME || value->kind == NODE_TEXT ? value->text->bytes : "";
    const char *nearest = rule->choices ? nearest_word(resolver->arena, word, rule->choices) : "A";
    if (!nearest)
        nearest = rule->choices[0];
    Finding *finding =
        finding_add(resolver->findings, FINDING_NOT_A_CHOICE, value->span, "`%s` is %s", rule->name, all);
    finding_mend(resolver->findings, finding, rule->choices ? "write %s" : "write a size's name, such as %s",
                 nearest);
    finding_edit(resolver->findings, finding, value->span, "%s", nearest);
}

static void check_option(Resolver *resolver, Node *option, const OptionRules *rules)
{
    uint32_t rule = 0;
    while (rule < rules->count && strcmp(rules->rules[rule].name, option->text->bytes) != 0)
        rule++;
    option->slot = UINT32_MAX;
    if (rule == rules->count)
        rule = report_unknown_option(resolver, option, rules);
    if (rule == UINT32_MAX)
        return;   /* what its value should be is not known */
    option->slot = rule;
    if (rules->rules[rule].types == SET(TYPE_WORD))
        check_word(resolver, option, &rules->rules[rule]);
    else
        want(resolver, option->first, rules->rules[rule].types, rules->rules[rule].name);
}

static void drop_second(Resolver *resolver, Node *first, Node *second)
{
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_TWICE, option_name_span(second),
                                   "`%s` is given twice", second->text->bytes);
    finding_relate(resolver->findings, finding, option_name_span(first), "first here");
    finding_mend(resolver->findings, finding, "take one of them out");
    edit_out(resolver->findings, finding, resolver->sources, second->span);
    second->slot = UINT32_MAX;
}

/* In its braces, before the options that are there. */
static void report_option_missing(Resolver *resolver, const Node *node, const OptionRules *rules,
                                  const OptionRule *rule)
{
    Finding *finding =
        finding_add(resolver->findings, FINDING_OPTION_MISSING, node->first ? node->first->span : node->span,
                    "%s needs its `%s`", rules->owner, rule->name);
    const char *option = strcmp(rule->name, "foot") == 0 ? "foot: 14 mm" : "diameter: 0.15 mm";
    finding_mend(resolver->findings, finding, "measure it and write it in the braces: `%s` with your number",
                 option);
    Span inside = {node->span.end - 1, node->span.end - 1, node->span.file};
    if (node->options)
        inside.start = inside.end = node->options->span.start;
    finding_edit(resolver->findings, finding, inside, node->options ? "%s, " : "%s ", option);
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
        if (rules->rules[rule].required && !seen[rule] && !list_broken(node->options))
            report_option_missing(resolver, node, rules, &rules->rules[rule]);
    }
}

static void exclude(Resolver *resolver, const Node *node, uint32_t one, uint32_t other)
{
    Node *first = option_node(node->options, one), *second = option_node(node->options, other);
    if (!first || !second)
        return;
    Finding *finding = finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, second->span,
                                   "`%s` and `%s` exclude each other", first->text->bytes, second->text->bytes);
    finding_relate(resolver->findings, finding, first->span, "this one");
    finding_mend(resolver->findings, finding, "take one of them out");
    edit_out(resolver->findings, finding, resolver->sources, second->span);
    second->slot = UINT32_MAX;
}

static void missing(Resolver *resolver, const Node *node, const char *what, const char *mend, const char *edit)
{
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_MISSING, node->span, "%s", what);
    finding_mend(resolver->findings, finding, "%s", mend);
    if (edit)
        finding_edit(resolver->findings, finding, behind(node->span), "%s", edit);
}

/* --- statements --- */

static const TypeSet STRANDS = SET(TYPE_THREAD) | SET_THREADS;

static void check_extent(Resolver *resolver, Node *extent, const char *whose)
{
    if (extent->kind != NODE_FILL)
        want(resolver, extent, SET(TYPE_TURNS) | SET(TYPE_LENGTH), whose);
}

/* A single name in the place of a thread is what mends nearby can speak of. */
static void note_thread(Resolver *resolver, const Node *node)
{
    if (node->kind == NODE_NAME && !node->first)
        resolver->near_thread = node->text;
}

/* `band navy of 20 turns`: said once, not for each side. */
static bool the_wrong_way_round(Resolver *resolver, Node *node)
{
    const Node *name = node->first;
    if (name->kind != NODE_NAME || name->first || node->second->kind != NODE_NUMBER
        || !is_thread(resolver, name->text))
        return false;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, node->first->span,
                                   "how much comes before `of`, the thread after it");
    finding_label(resolver->findings, finding, "this is a thread");
    const char *extent = written(resolver->arena, resolver->sources, node->second->span);
    finding_mend(resolver->findings, finding, "write `%s of %s`", extent,
                 written(resolver->arena, resolver->sources, node->first->span));
    finding_edit(resolver->findings, finding, span_join(node->first->span, node->second->span), "%s of %s", extent,
                 written(resolver->arena, resolver->sources, node->first->span));
    node->first->type = TYPE_BROKEN;   /* never evaluated */
    return true;
}

static void take_out_of_band(Resolver *resolver, const Node *node, const char *why)
{
    Finding *finding = not_here(resolver, node, why, "take it out of the band's braces, or close them before it");
    edit_out(resolver->findings, finding, resolver->sources, node->span);
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
        Finding *finding = not_here(resolver, node, "a band cannot stand in a band",
                                    "make it an inlay, or close the band's braces before it");
        finding_edit(resolver->findings, finding, node->span, "inlay %s of %s at: 1/2",
                     written(resolver->arena, resolver->sources, node->first->span),
                     written(resolver->arena, resolver->sources, node->second->span));
        return;
    }
    note_thread(resolver, node->second);
    if (!the_wrong_way_round(resolver, node)) {
        check_extent(resolver, node->first, "the extent of a band");
        want(resolver, node->second, STRANDS, "what a band is wound of");
    }
    resolve_options(resolver, node);
    const Node *weight = option_node(node->options, BAND_WEIGHT);
    if (weight && node->first->kind != NODE_FILL) {
        Finding *finding =
            finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, weight->span, "only a fill has a weight");
        finding_mend(resolver->findings, finding, "take it out, or make the extent `fill`");
        edit_out(resolver->findings, finding, resolver->sources, weight->span);
    }
    check_body(resolver, node->body, true);
}

static void check_inlay(Resolver *resolver, Node *node, bool in_band)
{
    if (!in_band) {
        Finding *finding = not_here(resolver, node, "an inlay stands in a band's braces",
                                    "make it a band, or put it in braces after a band");
        finding_edit(resolver->findings, finding, node->span, "band %s of %s",
                     written(resolver->arena, resolver->sources, node->first->span),
                     written(resolver->arena, resolver->sources, node->second->span));
        return;
    }
    note_thread(resolver, node->second);
    if (node->first->kind == NODE_FILL) {
        Finding *finding =
            not_here(resolver, node->first, "an inlay cannot be a fill", "say its turns, such as `2 turns`");
        finding_edit(resolver->findings, finding, node->first->span, "2 turns");
    }
    check_extent(resolver, node->first, "the extent of an inlay");
    want(resolver, node->second, STRANDS, "what an inlay is wound of");
    resolve_options(resolver, node);
    exclude(resolver, node, INLAY_AT, INLAY_EVERY);
    if (!option_node(node->options, INLAY_AT) && !option_node(node->options, INLAY_EVERY))
        missing(resolver, node, "an inlay needs to know where",
                "write `at:` and where its middle lies, such as `at: 1/2`", " at: 1/2");
}

static void check_fade(Resolver *resolver, Node *node, bool in_band)
{
    if (in_band) {
        take_out_of_band(resolver, node, "a fade cannot stand in a band");
        return;
    }
    note_thread(resolver, node->second);
    resolve_options(resolver, node);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_OVER);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_RUNS);
    exclude(resolver, node, FADE_OPTION_OVER, FADE_OPTION_RUNS);
    bool ruled = option_node(node->options, FADE_OPTION_STEPS) || option_node(node->options, FADE_OPTION_OVER)
                 || option_node(node->options, FADE_OPTION_RUNS);
    if (node->kind == NODE_FADE_TO) {
        want(resolver, node->second, SET(TYPE_THREAD), "what is faded to");
        if (!ruled)
            missing(resolver, node, "a fade needs to know how",
                    "write `steps: 4`, `over:` and an extent, or `runs:`", " steps: 4");
        return;
    }
    check_extent(resolver, node->first, "the extent of a fade");
    want(resolver, node->second, SET_THREADS, "what is faded through");
    if (node->first->kind == NODE_FILL && !ruled) {
        missing(resolver, node, "a fade that fills needs to know how it crosses over",
                "write `steps: 4`, or `over:` and an extent", " steps: 4");
        node->second->type = TYPE_BROKEN;   /* never evaluated */
    }
}

static void check_gap(Resolver *resolver, Node *node, bool in_band)
{
    if (in_band) {
        take_out_of_band(resolver, node, "a gap cannot stand in a band");
        return;
    }
    if (node->second) {
        want(resolver, node->first, SET(TYPE_TURNS), "a gap `of` a thread");
        want(resolver, node->second, SET(TYPE_THREAD), "whose turns a gap is as wide as");
    } else if (infer(resolver, node->first) == TYPE_TURNS) {
        const char *thread = thread_nearby(resolver);
        missing(resolver, node, "a gap in turns needs to know of which thread",
                "write `of` and a thread, or give the gap as a length",
                thread ? text_format(resolver->arena, " of %s", thread) : NULL);
        node->first->type = TYPE_BROKEN;   /* never evaluated */
    } else
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
        take_out_of_band(resolver, node, "only inlays, for, if, let and require stand in a band");
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
        take_out_of_band(resolver, node, "a pattern cannot be called in a band");
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
        [NODE_BAND] = check_band,       [NODE_INLAY] = check_inlay,
        [NODE_FADE_TO] = check_fade,    [NODE_FADE_OF] = check_fade,
        [NODE_GAP] = check_gap,         [NODE_FOR] = check_for,
        [NODE_IF] = check_if,           [NODE_REPEAT] = check_nested,
        [NODE_MIRROR] = check_nested,   [NODE_SYMMETRIC] = check_nested,
        [NODE_REQUIRE] = check_require, [NODE_LET] = check_let,
        [NODE_CALL] = check_call,       [NODE_UNDER] = check_misplaced,
        [NODE_OVER] = check_misplaced,  [NODE_BROKEN] = check_nothing,
    };
    for (Node *node = statements; node; node = node->next)
        checks[node->kind](resolver, node, in_band);
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
        Finding *finding = finding_add(resolver->findings, FINDING_LET_CIRCLE, declaration->node->span,
                                       "`%s` rests on itself", declaration->name->bytes);
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

static void report_no_kind(Resolver *resolver, const Node *word)
{
    static const char *const kinds[] = {"length", "turns",  "angle",   "ratio", "count", "rate",
                                        "colour", "thread", "threads", "text",  "truth", NULL};
    static const struct {
        const char *word, *kind;
    } others[] = {
        {"number", "count"},  {"integer", "count"}, {"int", "count"},   {"string", "text"},  {"bool", "truth"},
        {"boolean", "truth"}, {"width", "length"},  {"size", "length"}, {"list", "threads"}, {"percent", "ratio"},
    };
    const char *meant = nearest_word(resolver->arena, word->text->bytes, kinds);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(others[i].word, word->text->bytes) == 0)
            meant = others[i].kind;
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_A_CHOICE, word->span,
                                   "`%s` is no kind of value", word->text->bytes);
    finding_mend(
        resolver->findings, finding,
        meant ? "write `%s`"
              : "write one of length, turns, angle, ratio, count, rate, colour, thread, threads, text, truth",
        meant);
    if (meant)
        finding_edit(resolver->findings, finding, word->span, "%s", meant);
}

static void check_parameter(Resolver *resolver, Node *parameter)
{
    unsigned type = type_of_word(parameter->second->text->bytes);
    parameter->type = (uint8_t)type;
    if (type == TYPE_BROKEN) {
        report_no_kind(resolver, parameter->second);
    } else if (parameter->first)
        want(resolver, parameter->first, SET(type), parameter->text->bytes);
    parameter->slot = local_enter(resolver, parameter->text, type);
}

static void check_parameter_names(Resolver *resolver, Node *pattern)
{
    for (Node *parameter = pattern->options; parameter; parameter = parameter->next)
        for (Node *earlier = pattern->options; earlier != parameter; earlier = earlier->next)
            if (earlier->text == parameter->text) {
                Finding *finding = finding_add(resolver->findings, FINDING_NAME_TWICE, option_name_span(parameter),
                                               "`%s` is declared twice", parameter->text->bytes);
                finding_relate(resolver->findings, finding, option_name_span(earlier), "first here");
                finding_mend(resolver->findings, finding, "give one of them another name, such as %s_2",
                             parameter->text->bytes);
                finding_edit(resolver->findings, finding, option_name_span(parameter), "%s_2",
                             parameter->text->bytes);
                break;
            }
}

/* A pattern with more parameters than anybody could call is as good as unreadable. */
static void limit_parameters(Resolver *resolver, Node *pattern)
{
    uint32_t count = 0;
    for (const Node *parameter = pattern->options; parameter; parameter = parameter->next)
        count++;
    if (count <= LIMIT_PARAMETERS)
        return;
    Finding *finding = finding_add(resolver->findings, FINDING_TOO_MUCH_WORK, pattern->first->span,
                                   "this pattern has %u parameters, more than %d", count, LIMIT_PARAMETERS);
    finding_mend(resolver->findings, finding, "part it into several patterns");
    pattern->options->kind = NODE_BROKEN;
}

void resolve_pattern(Resolver *resolver, Declaration *declaration)
{
    if (declaration->checked != UNSEEN)
        return;
    limit_parameters(resolver, declaration->node);
    if (resolver->pattern_depth >= LIMIT_CALL_DEPTH) {
        Finding *finding = finding_add(resolver->findings, FINDING_NESTED_TOO_DEEP, declaration->node->first->span,
                                       "patterns call one another deeper than %d", LIMIT_CALL_DEPTH);
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

static bool is_statement(const Node *node)
{
    return node->kind != NODE_UNDER && node->kind != NODE_OVER && node->kind != NODE_LET
           && node->kind != NODE_REQUIRE && node->kind != NODE_BROKEN;
}

/* The mend puts the statements that stand in no layer into one, up to the next layer. */
static void report_mixed(Resolver *resolver, const Node *place, const Node *layer, const Node *statement)
{
    bool layer_first = layer->span.start < statement->span.start;
    const Node *first = layer_first ? statement : place->body;
    while (!is_statement(first))
        first = first->next;
    const Node *last = first;
    for (const Node *node = first; node && node->kind != NODE_UNDER && node->kind != NODE_OVER; node = node->next)
        last = node;
    Finding *finding = not_here(resolver, layer_first ? statement : layer,
                                "statements beside layers: it is not clear on which layer they lie",
                                "put the statements into `over { ... }`");
    finding_relate(resolver->findings, finding, layer_first ? layer->span : statement->span,
                   layer_first ? "a layer" : "a statement");
    Span all = span_join(first->span, last->span);
    finding_edit(resolver->findings, finding, all, "over { %s }",
                 written(resolver->arena, resolver->sources, all));
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
        else if (is_statement(node))
            statement = node;
        if (layer && statement && !list_broken(place->body)) {
            report_mixed(resolver, place, layer, statement);
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
    Declaration *blank = module_find(resolver->arena, resolver->module, resolver->sizes, rod->second, false,
                                     "a blank", resolver->findings);
    rod->second->target = blank && blank->node->kind == NODE_BLANK ? blank : NULL;
    if (blank && blank->node->kind != NODE_BLANK)
        report_other_kind(resolver, rod->second, blank, NODE_BLANK, "blank");
    for (Node *place = rod->body; place; place = place->next)
        if (place->kind == NODE_PLACE)
            resolve_place(resolver, place);
    rod->slot = resolver->slots;
}

static void resolve_size(Resolver *resolver, Node *thread)
{
    Node *size = option_value(thread->options, THREAD_SIZE);
    if (size && size->kind == NODE_NAME)
        size->target = module_find(resolver->arena, resolver->module, resolver->sizes, size, true, "a thread size",
                                   resolver->findings);
    const Node *tex = option_node(thread->options, THREAD_TEX),
               *fibre = option_node(thread->options, THREAD_FIBRE);
    if (tex && !fibre)
        missing(resolver, tex, "`tex` gives a width only with its `fibre`",
                "write `fibre:` beside it, such as `fibre: nylon`", ", fibre: nylon");
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

/* A bench's span begins with its brace, behind the word. */
static Span with_its_word(const Resolver *resolver, const Node *node)
{
    Span span = node->span;
    const char *bytes = resolver->sources->list.items[span.file].bytes;
    if (bytes[span.start] != '{')
        return span;
    uint32_t end = span.start, length = (uint32_t)strlen("bench");
    while (end > length && strchr(" \t\r\n", bytes[end - 1]))
        end--;
    if (end >= length && strncmp(bytes + end - length, "bench", length) == 0)
        span.start = end - length;
    return span;
}

static void once(Resolver *resolver, Node **first, Node *node, const char *what)
{
    if (!*first) {
        *first = node;
        return;
    }
    Finding *finding = finding_add(resolver->findings, FINDING_NAME_TWICE, node->span, "%s stands twice", what);
    finding_relate(resolver->findings, finding, (*first)->span, "first here");
    finding_mend(resolver->findings, finding, "write all of it in one place, and take this one out");
    Span all = with_its_word(resolver, node);
    if (all.start < node->span.start || node->kind != NODE_BENCH)
        edit_out(resolver->findings, finding, resolver->sources, all);
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
