/* Names and kinds of options, after the tables of option.c. */
#include "meaning/resolve_parts.h"

#include "meaning/convert.h"
#include "meaning/likely.h"
#include "meaning/mend.h"
#include "meaning/option_meant.h"

#include <ctype.h>
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

static uint32_t rule_named(const OptionRules *rules, const char *name)
{
    uint32_t rule = 0;
    while (name && rule < rules->count && strcmp(rules->rules[rule].name, name) != 0)
        rule++;
    return name && rule < rules->count ? rule : UINT32_MAX;
}

static bool is_written(const Node *node, const char *name)
{
    for (const Node *option = node->options; option; option = option->next)
        if (option->kind == NODE_OPTION && strcmp(option->text->bytes, name) == 0)
            return true;
    return false;
}

/* The option that was meant by the word, and what its value then lacks. */
static OptionMeant option_meant(Resolver *resolver, const Node *node, const char *word, const OptionRules *rules)
{
    const char *names[OPTIONS_MOST + 1] = {0};
    for (uint32_t i = 0; i < rules->count; i++)
        names[i] = rules->rules[i].name;
    OptionMeant meant = option_by_other_word((NodeKind)node->kind, word);
    if (rule_named(rules, meant.option) == UINT32_MAX)
        meant = (OptionMeant){nearest_word(resolver->findings->words, word, names), "", 1};
    return meant;
}

/* What `gap: 2 mm` on the next line is read as an option of. */
static bool node_is_wound(const Node *node)
{
    return node->kind == NODE_BAND || node->kind == NODE_FADE_TO || node->kind == NODE_FADE_OF;
}

/* The choice that the word is, or means; NULL if it is none of them. */
static const char *choice_said(const char *const *choices, const char *word)
{
    for (int i = 0; choices && choices[i]; i++)
        if (strcmp(choices[i], word) == 0)
            return choices[i];
    return choices ? choice_by_other_word(choices, word) : NULL;
}

/* `metallic: yes`: the only rule that has the word for a choice; UINT32_MAX if none has, or several. */
static uint32_t rule_of_choice(const OptionRules *rules, const Node *option)
{
    uint32_t found = UINT32_MAX;
    bool said = option->first->kind == NODE_TRUTH && option->first->detail;
    for (uint32_t rule = 0; said && rule < rules->count; rule++)
        if (choice_said(rules->rules[rule].choices, option->text->bytes)) {
            if (found != UINT32_MAX)
                return UINT32_MAX;
            found = rule;
        }
    return found;
}

/* How such a statement begins; NULL if the word begins none that is one value. */
static const char *statement_named(const char *word)
{
    return strcmp(word, "gap") == 0 ? "gap" : strcmp(word, "fade") == 0 ? "fade to" : NULL;
}

static void mend_unknown_option(Resolver *resolver, Finding *finding, const Node *node, const Node *option,
                                const OptionRules *rules, OptionMeant meant, uint32_t choice)
{
    Findings *findings = resolver->findings;
    const Node *value = option->first;
    bool bare = value->kind == NODE_NUMBER && value->detail == UNIT_NONE;
    if (choice != UINT32_MAX) {
        const OptionRule *rule = &rules->rules[choice];
        const char *whole =
            finding_text(findings, "%s: %s", rule->name, choice_said(rule->choices, option->text->bytes));
        finding_mend(findings, finding, "write `%s`", whole);
        finding_edit(findings, finding, option->span, "%s", whole);
    } else if (meant.option && bare && (*meant.unit || meant.factor != 1)) {
        double number = value->number * meant.factor;
        const char *whole =
            finding_text(findings, "%s: %s%s", meant.option, show_number(findings->words, number, 6), meant.unit);
        finding_mend(findings, finding, "write `%s`", whole);
        finding_edit(findings, finding, option->span, "%s", whole);
    } else if (meant.option) {
        finding_mend(findings, finding, "write `%s:`", meant.option);
        finding_edit(findings, finding, option_name_span(option), "%s", meant.option);
    } else if (node_is_wound(node) && statement_named(option->text->bytes)) {
        const char *statement = finding_text(findings, "%s %s", statement_named(option->text->bytes),
                                             written(findings->words, resolver->sources, option->first->span));
        finding_mend(findings, finding, "this is a statement of its own: write `%s`", statement);
        finding_edit(findings, finding, option->span, "%s", statement);
    } else {
        const char *all = "", *owner = owner_of_option(option->text->bytes);
        for (uint32_t i = 0; i < rules->count; i++)
            all = finding_text(findings, "%s%s%s", all, i ? ", " : "", rules->rules[i].name);
        finding_mend(findings, finding,
                     owner ? "take it out (%s has it); the options here are %s"
                           : "take it out%s; the options here are %s",
                     owner ? owner : "", all);
        edit_out(findings, finding, resolver->sources, option->span);
    }
}

/* Returns the number of the option that was very likely meant; UINT32_MAX if none is near. */
static uint32_t report_unknown_option(Resolver *resolver, const Node *node, const Node *option,
                                      const OptionRules *rules)
{
    OptionMeant meant = option_meant(resolver, node, option->text->bytes, rules);
    uint32_t choice = rule_of_choice(rules, option);
    if (choice != UINT32_MAX && is_written(node, rules->rules[choice].name))
        choice = UINT32_MAX;
    if (choice != UINT32_MAX || (meant.option && is_written(node, meant.option)))
        meant.option = NULL;
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_OPTION, option_name_span(option),
                                   "%s has no option `%s`", rules->owner, option->text->bytes);
    mend_unknown_option(resolver, finding, node, option, rules, meant, choice);
    return *meant.unit || meant.factor != 1 ? UINT32_MAX : rule_named(rules, meant.option);
}

/* A size's name as it is meant by something else; sizes cannot begin with a figure. */
static const char *size_meant(Resolver *resolver, const Node *value)
{
    const char *text = written(resolver->findings->words, resolver->sources, value->span);
    if (value->kind == NODE_NUMBER)
        return strcmp(text, "00") == 0 || strcmp(text, "2/0") == 0 ? "double_nought" : "A";
    if (value->kind != NODE_TEXT)
        return "A";
    const char *word = value->text->bytes;
    return strcmp(word, "00") == 0 || strcmp(word, "2/0") == 0                    ? "double_nought"
           : isalpha((unsigned char)*word) && !strpbrk(word, " -.,;:/{}()[]\"\\") ? word
                                                                                  : "A";
}

static const char *choice_meant(Resolver *resolver, const Node *value, const OptionRule *rule)
{
    const char *word = value->kind == NODE_NAME || value->kind == NODE_TEXT ? value->text->bytes
                       : value->kind == NODE_TRUTH                          ? (value->detail ? "yes" : "no")
                       : value->kind == NODE_OPERATION && value->first && value->first->kind == NODE_NAME
                           ? value->first->text->bytes /* `tip-top` */
                           : "";
    const char *meant = choice_by_other_word(rule->choices, word);
    if (!meant)
        meant = nearest_word(resolver->findings->words, word, rule->choices);
    return meant ? meant : rule->choices[0];
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
    const char *meant = rule->choices ? choice_meant(resolver, value, rule) : size_meant(resolver, value);
    Finding *finding =
        finding_add(resolver->findings, FINDING_NOT_A_CHOICE, value->span, "`%s` has to be %s", rule->name, all);
    finding_mend(resolver->findings, finding,
                 rule->choices ? "write `%s`" : "write the size on the spool, such as `%s`", meant);
    finding_edit(resolver->findings, finding, value->span, "%s", meant);
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

static bool list_of_colours(const Node *value)
{
    const Node *first = value->kind == NODE_LIST ? value->first : NULL;
    return first
           && (first->kind == NODE_COLOUR || (first->kind == NODE_NAME && colour_of_name(first->text->bytes)));
}

/* The kind of a number or rate as it is written; TYPE_BROKEN of anything else. */
static unsigned literal_type(const Node *value)
{
    static const unsigned types[] = {
        [MEASURE_NUMBER] = TYPE_BROKEN, [MEASURE_LENGTH] = TYPE_LENGTH, [MEASURE_TURNS] = TYPE_TURNS,
        [MEASURE_ANGLE] = TYPE_ANGLE,   [MEASURE_RATIO] = TYPE_RATIO,   [MEASURE_UNKNOWN] = TYPE_BROKEN};
    if (value->kind == NODE_NUMBER)
        return types[unit_measure((Unit)value->detail)];
    return value->kind == NODE_RATE ? TYPE_RATE : list_of_colours(value) ? (unsigned)TYPE_LIST : TYPE_BROKEN;
}

/* `turns: 0.15 mm`: a value that another option of the same owner takes. */
static bool report_other_option(Resolver *resolver, const Node *node, Node *option, const OptionRules *rules)
{
    const char *name = option->text->bytes;
    unsigned type = literal_type(option->first);
    const char *other = option_for_type((NodeKind)node->kind, name, type);
    if (!other || is_written(node, other) || rule_named(rules, other) == UINT32_MAX
        || !is_usual(option->first, (ValueSpot){(NodeKind)node->kind, other}))
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, option->first->span,
                                   "`%s` does not take %s, but `%s` does", name,
                                   type == TYPE_LIST ? "a list" : type_phrase(type), other);
    finding_mend(resolver->findings, finding, "write `%s:`", other);
    finding_edit(resolver->findings, finding, option_name_span(option), "%s", other);
    resolve_broken(resolver, option->first, told);
    return true;
}

/* `ends: navy`: how wide they are is missing. */
static bool report_ends_of_thread(Resolver *resolver, const Node *node, Node *option)
{
    bool crosswrap = node->kind == NODE_CHEVRON || node->kind == NODE_DIAMOND || node->kind == NODE_SPIRAL;
    if (!crosswrap || strcmp(option->text->bytes, "ends") != 0 || option->second
        || type_at_sight(resolver, option->first) != TYPE_THREAD)
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_MISSING, option->first->span,
                                   "say how wide the end bands are");
    const char *text = finding_text(resolver->findings, "12 turns of %s",
                                    written(resolver->findings->words, resolver->sources, option->first->span));
    finding_mend(resolver->findings, finding, "write `%s`, with your own turns", text);
    finding_edit(resolver->findings, finding, option->first->span, "%s", text);
    resolve_broken(resolver, option->first, told);
    return true;
}

/* `foot1: 16 mm, foot2: 15 mm`: the two feet of a guide, one by one. */
static bool report_feet(Resolver *resolver, Node *node, Node *option)
{
    const char *word = "foot";
    Node *second = option->next;
    if (node->kind != NODE_GUIDE || !second || second->kind != NODE_OPTION || option->text == second->text
        || strncmp(option->text->bytes, word, strlen(word)) != 0 || option->text->length > strlen(word) + 2
        || strncmp(second->text->bytes, word, strlen(word)) != 0 || second->text->length > strlen(word) + 2
        || literal_type(option->first) != TYPE_LENGTH || literal_type(second->first) != TYPE_LENGTH)
        return false;
    uint64_t told = resolver->findings->told;
    Span both = span_join(option->span, second->span);
    const char *text = finding_text(resolver->findings, "foot: [%s, %s]",
                                    written(resolver->findings->words, resolver->sources, option->first->span),
                                    written(resolver->findings->words, resolver->sources, second->first->span));
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_OPTION, both, "two feet are one list");
    finding_mend(resolver->findings, finding, "write `%s`", text);
    finding_edit(resolver->findings, finding, both, "%s", text);
    drop_option(resolver, second, told);
    resolve_broken(resolver, option->first, told);
    option->slot = GUIDE_FOOT;
    return true;
}

static void check_option(Resolver *resolver, Node *node, Node *option, const OptionRules *rules)
{
    uint32_t rule = rule_named(rules, option->text->bytes);
    if (rule == UINT32_MAX)
        rule = read_old_option(resolver, option, rules, rule);
    uint64_t told = resolver->findings->told;
    bool known = rule != UINT32_MAX;
    if (!known) {
        rule = report_unknown_option(resolver, node, option, rules);
        drop_option(resolver, option, told);
    }
    if (rule == UINT32_MAX)
        return; /* what its value should be is not known */
    option->slot = rule;
    if (known && report_other_option(resolver, node, option, rules))
        return;
    const OptionRule *found = &rules->rules[rule];
    if (known && report_ends_of_thread(resolver, node, option))
        return;
    if (found->types == SET(TYPE_WORD))
        check_word(resolver, option, found);
    else
        want_at(resolver, option->first, found->types, found->name,
                (ValueSpot){(NodeKind)node->kind, found->name});
}

void drop_second(Resolver *resolver, const Node *first, Node *second)
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
                    "%s needs a `%s`", rules->owner, rule->name);
    const char *option = strcmp(rule->name, "foot") == 0 ? "foot: 14 mm" : "diameter: 0.15 mm";
    finding_mend(resolver->findings, finding, "measure it and write it in the braces, such as `%s`", option);
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
        if (report_feet(resolver, node, option)) {
            seen[GUIDE_FOOT] = option;
            option = option->next; /* said with the first */
            continue;
        }
        check_option(resolver, node, option, rules);
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
    if (node->kind != NODE_PLACE && node->kind != NODE_PART
        && second->span.start < first->span.start) { /* what a place is comes before its size */
        Node *earlier = second;
        second = first;
        first = earlier;
    }
    uint64_t told = resolver->findings->told;
    Finding *finding =
        finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, second->span,
                    "`%s` and `%s` cannot be used together", first->text->bytes, second->text->bytes);
    finding_relate(resolver->findings, finding, first->span, "`%s` is given here", first->text->bytes);
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
