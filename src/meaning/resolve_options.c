/* Names and kinds of options, after the tables of option.c. */
#include "meaning/resolve_parts.h"

#include "meaning/mend.h"

#include <string.h>

Span option_name_span(const Node *option)
{
    Span span = option->span;
    span.end = span.start + option->text->length;
    return span;
}

void drop_option(Resolver *resolver, Node *option, uint64_t told)
{
    option->slot = UINT32_MAX;
    option->cause = cause_mark(resolver->findings, findings_since(resolver->findings, told), option->span);
}

/* Returns the number of the option that was very likely meant; UINT32_MAX if none is near. */
static uint32_t report_unknown_option(Resolver *resolver, const Node *option, const OptionRules *rules)
{
    const char *names[OPTIONS_MOST + 1] = {0}, *all = "";
    for (uint32_t i = 0; i < rules->count; i++) {
        all = finding_text(resolver->findings, "%s%s%s", all, i ? ", " : "", rules->rules[i].name);
        names[i] = rules->rules[i].name;
    }
    const char *nearest = nearest_word(resolver->findings->words, option->text->bytes, names);
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_OPTION, option_name_span(option),
                                   "%s has no option `%s`", rules->owner, option->text->bytes);
    if (nearest) {
        finding_mend(resolver->findings, finding, "did you mean %s?", nearest);
        finding_edit(resolver->findings, finding, option_name_span(option), "%s", nearest);
    } else {
        finding_mend(resolver->findings, finding, "take it out; the options are %s", all);
        edit_out(resolver->findings, finding, resolver->sources, option->span);
    }
    for (uint32_t i = 0; i < rules->count; i++)
        if (rules->rules[i].name == nearest)
            return i;
    return UINT32_MAX;
}

/* A word is one of the choices, or (without choices) a size's name, which is looked up when sizes are. */
static void check_word(Resolver *resolver, Node *option, const OptionRule *rule)
{
    Node *value = option->first;
    uint64_t told = resolver->findings->told;
    for (int i = 0; value->kind == NODE_NAME && !module_name(value) && rule->choices && rule->choices[i]; i++)
        if (strcmp(rule->choices[i], value->text->bytes) == 0)
            return;
    if (value->kind == NODE_NAME && !rule->choices)
        return;
    const char *all = "a size's name";
    for (int i = 0; rule->choices && rule->choices[i]; i++)
        all = finding_text(resolver->findings, "%s%s%s", i ? all : "",
                           i == 0                 ? ""
                           : rule->choices[i + 1] ? ", "
                                                  : " or ",
                           rule->choices[i]);
    const char *word = value->kind == NODE_NAME || value->kind == NODE_TEXT ? value->text->bytes : "";
    const char *nearest = rule->choices ? nearest_word(resolver->findings->words, word, rule->choices) : "A";
    if (!nearest)
        nearest = rule->choices[0];
    Finding *finding =
        finding_add(resolver->findings, FINDING_NOT_A_CHOICE, value->span, "`%s` is %s", rule->name, all);
    finding_mend(resolver->findings, finding, rule->choices ? "write %s" : "write a size's name, such as %s",
                 nearest);
    finding_edit(resolver->findings, finding, value->span, "%s", nearest);
    resolve_broken(resolver, value, told);
}

/* An option's name of before, still read: a finding with what is written now, and the number of the option that it
 * is; `otherwise` for any other name. */
static uint32_t read_old_option(Resolver *resolver, Node *option, const OptionRules *rules, uint32_t otherwise)
{
    static const struct {
        NodeKind owner;
        const char *name;
        uint32_t rule;
        const char *word, *now;
    } olds[] = {
#define X(...) {__VA_ARGS__},
        OLD_OPTIONS(X)
#undef X
    };
    Node *value = option->first;
    uint32_t rule = otherwise;
    const char *now = NULL;
    for (size_t i = 0; i < sizeof olds / sizeof *olds && !now; i++) {
        if (option_rules(olds[i].owner) != rules || strcmp(olds[i].name, option->text->bytes) != 0)
            continue;
        rule = olds[i].rule;
        if (value->kind == NODE_NAME && !module_name(value) && strcmp(value->text->bytes, olds[i].word) == 0)
            now = olds[i].now;
    }
    if (rule == otherwise)
        return otherwise;
    const char *name = rules->rules[rule].name;
    Span span = now ? option->span : option_name_span(option);
    Finding *finding = finding_add(resolver->findings, FINDING_OLD_WORD, span, "`%s:` is an old word for `%s:`",
                                   option->text->bytes, name);
    finding_mend(resolver->findings, finding, "write `%s:%s%s`", name, now ? " " : "", now ? now : "");
    finding_edit(resolver->findings, finding, span, "%s%s%s", name, now ? ": " : "", now ? now : "");
    if (now)
        value->text = text_of_string(resolver->texts, now);
    return rule;
}

static void check_option(Resolver *resolver, Node *option, const OptionRules *rules)
{
    uint32_t rule = 0;
    while (rule < rules->count && strcmp(rules->rules[rule].name, option->text->bytes) != 0)
        rule++;
    if (rule == rules->count)
        rule = read_old_option(resolver, option, rules, rule);
    uint64_t told = resolver->findings->told;
    if (rule == rules->count) {
        rule = report_unknown_option(resolver, option, rules);
        drop_option(resolver, option, told);
    }
    if (rule == UINT32_MAX)
        return; /* what its value should be is not known */
    option->slot = rule;
    if (rules->rules[rule].types == SET(TYPE_WORD))
        check_word(resolver, option, &rules->rules[rule]);
    else
        want(resolver, option->first, rules->rules[rule].types, rules->rules[rule].name);
}

static void drop_second(Resolver *resolver, Node *first, Node *second)
{
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_TWICE, option_name_span(second),
                                   "`%s` is given twice", second->text->bytes);
    finding_relate(resolver->findings, finding, option_name_span(first), "first here");
    finding_mend(resolver->findings, finding, "take one of them out");
    edit_out(resolver->findings, finding, resolver->sources, second->span);
    drop_option(resolver, second, told);
}

/* In its braces, before the options that are there. */
static void report_option_missing(Resolver *resolver, Node *node, const OptionRules *rules, const OptionRule *rule)
{
    uint64_t told = resolver->findings->told;
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
    resolve_broken(resolver, node, told);
}

void resolve_options(Resolver *resolver, Node *node)
{
    const OptionRules *rules = option_rules((NodeKind)node->kind);
    Node *seen[OPTIONS_MOST] = {0};
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

void exclude(Resolver *resolver, const Node *node, uint32_t one, uint32_t other)
{
    Node *first = option_node(node->options, one), *second = option_node(node->options, other);
    if (!first || !second)
        return;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, second->span,
                                   "`%s` and `%s` exclude each other", first->text->bytes, second->text->bytes);
    finding_relate(resolver->findings, finding, first->span, "this one");
    finding_mend(resolver->findings, finding, "take one of them out");
    edit_out(resolver->findings, finding, resolver->sources, second->span);
    drop_option(resolver, second, told);
}

Finding *missing(Resolver *resolver, Node *node, const char *what, const char *mend, const char *edit)
{
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_MISSING, node->span, "%s", what);
    resolve_broken(resolver, node, told);
    finding_mend(resolver->findings, finding, "%s", mend);
    if (edit)
        finding_edit(resolver->findings, finding, behind(node->span), "%s", edit);
    return finding;
}
