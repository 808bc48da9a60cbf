/* Calls of patterns: arguments are matched to parameters. */
#include "base/limits.h"
#include "meaning/convert.h"
#include "meaning/mend.h"
#include "meaning/resolver.h"

static Node *parameter_at(Node *pattern, uint32_t number)
{
    Node *parameter = pattern->options;
    while (parameter && number--)
        parameter = parameter->next;
    return parameter;
}

static Finding *arguments_misfit(Resolver *resolver, Span span, const Declaration *pattern, const char *what,
                                 const char *mend)
{
    Finding *finding = finding_add(resolver->findings, FINDING_ARGUMENTS, span, "%s", what);
    if (!finding_is_kept(finding))
        return finding;
    Buffer signature;
    buffer_start(&signature, resolver->findings->words);
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next) {
        buffer_text(&signature, signature.length ? ", " : "");
        buffer_text(&signature, parameter->text->bytes);
    }
    finding_relate(resolver->findings, finding, pattern->node->first->span, "the pattern");
    finding_mend(resolver->findings, finding, "%s; the pattern is called as %s(%s)", mend, pattern->name->bytes,
                 buffer_string(&signature));
    return finding;
}

/* Parameters that the call gives nothing for; with more than one, which is meant is not known. */
static const Node *only_parameter_left(const Declaration *pattern, const Node *call)
{
    const Node *left = NULL;
    uint32_t position = 0;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next, position++) {
        bool given = false;
        uint32_t number = 0;
        for (const Node *argument = call->options; argument; argument = argument->next, number++)
            given |= argument->text ? argument->text == parameter->text : number == position;
        if (!given && left)
            return NULL;
        left = given ? left : parameter;
    }
    return left;
}

static void report_unknown_parameter(Resolver *resolver, const Declaration *pattern, const Node *call,
                                     const Node *argument)
{
    const char *names[LIMIT_PARAMETERS + 1] = {0};
    uint32_t count = 0;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next)
        names[count++] = parameter->text->bytes;
    bool shown = !findings_full(resolver->findings);
    const char *nearest = shown ? nearest_word(resolver->findings->words, argument->text->bytes, names) : NULL;
    const Node *left = shown ? only_parameter_left(pattern, call) : NULL;
    if (!nearest && left)
        nearest = left->text->bytes;
    Finding *finding =
        arguments_misfit(resolver, option_name_span(argument), pattern,
                         finding_text(resolver->findings, "`%s` has no parameter `%s`", pattern->name->bytes,
                                      argument->text->bytes),
                         nearest ? finding_text(resolver->findings, "write %s", nearest) : "name one that it has");
    if (nearest)
        finding_edit(resolver->findings, finding, option_name_span(argument), "%s", nearest);
}

/* Which parameter the argument is for; UINT32_MAX after a finding. */
static uint32_t match_argument(Resolver *resolver, const Declaration *pattern, const Node *call,
                               const Node *argument, uint32_t position)
{
    if (!argument->text) {
        if (parameter_at(pattern->node, position))
            return position;
        const char *what = finding_text(
            resolver->findings, position == 1 ? "`%s` has only %u parameter" : "`%s` has only %u parameters",
            pattern->name->bytes, position);
        Finding *finding = arguments_misfit(resolver, argument->span, pattern, what, "take it out");
        edit_out(resolver->findings, finding, resolver->sources, argument->span);
        return UINT32_MAX;
    }
    uint32_t number = 0;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next, number++)
        if (parameter->text == argument->text)
            return number;
    report_unknown_parameter(resolver, pattern, call, argument);
    return UINT32_MAX;
}

/* Something of the parameter's kind to begin with; NULL if there is nothing one could take for it. */
static const char *first_value(Resolver *resolver, unsigned type)
{
    static const char *const values[TYPE_COUNT_OF_ELEMENTS] = {
        [TYPE_COUNT] = "4",        [TYPE_RATIO] = "1/2",     [TYPE_LENGTH] = "9 mm",
        [TYPE_TURNS] = "8 turns",  [TYPE_ANGLE] = "45 deg",  [TYPE_RATE] = "67 per cm",
        [TYPE_COLOUR] = "#22346b", [TYPE_TEXT] = "\"text\"", [TYPE_TRUTH] = "yes",
    };
    const char *thread = thread_nearby(resolver);
    if (type == TYPE_THREAD || type == TYPE_LIST + TYPE_THREAD)
        return !thread || type == TYPE_THREAD ? thread : list_of_two(resolver, thread);
    return type_is_list(type) ? NULL : values[type];
}

static void report_argument_missing(Resolver *resolver, const Declaration *pattern, const Node *call,
                                    const Node *parameter)
{
    Finding *finding = arguments_misfit(
        resolver, call->span, pattern, finding_text(resolver->findings, "`%s` is missing", parameter->text->bytes),
        finding_text(resolver->findings, "say what `%s` is", parameter->text->bytes));
    const char *value = first_value(resolver, parameter->type);
    Span end = {call->span.end - 1, call->span.end - 1, call->span.file};
    if (value)
        finding_edit(resolver->findings, finding, end, "%s%s: %s", call->options ? ", " : "",
                     parameter->text->bytes, value);
}

static void check_arguments(Resolver *resolver, const Declaration *pattern, Node *call)
{
    Node *given[LIMIT_PARAMETERS] = {0};
    uint32_t position = 0;
    bool wrong = false;
    for (Node *argument = call->options; argument; argument = argument->next, position++) {
        uint64_t told = resolver->findings->told;
        argument->slot = match_argument(resolver, pattern, call, argument, position);
        if (argument->slot == UINT32_MAX) {
            wrong = true;
            resolve_broken(resolver, argument, told);
            infer(resolver, argument->first);
            continue;
        }
        const Node *parameter = parameter_at(pattern->node, argument->slot);
        if (given[argument->slot]) {
            wrong = true;
            Finding *finding =
                arguments_misfit(resolver, argument->span, pattern,
                                 finding_text(resolver->findings, "`%s` is given twice", parameter->text->bytes),
                                 "take one of them out");
            edit_out(resolver->findings, finding, resolver->sources, argument->span);
        }
        given[argument->slot] = argument;
        if (parameter->type == TYPE_BROKEN)
            infer(resolver, argument->first); /* of no kind that is known */
        else
            want(resolver, argument->first, SET(parameter->type), parameter->text->bytes);
    }
    uint32_t number = 0;
    for (const Node *parameter = pattern->node->options; parameter && !wrong;
         parameter = parameter->next, number++)
        if (!parameter->first && !given[number]) {
            uint64_t told = resolver->findings->told;
            report_argument_missing(resolver, pattern, call, parameter);
            resolve_broken(resolver, call, told);
            return;
        }
}

/* The one declaration of the kind in the module that mends can speak of; NULL if there is none or more than one.
 */
static const char *only_one(const Module *module, NodeKind kind)
{
    const char *name = NULL;
    for (uint32_t i = 0; i < module->names.count; i++) {
        if (module->names.items[i]->node->kind != kind)
            continue;
        if (name)
            return NULL;
        name = module->names.items[i]->name->bytes;
    }
    return name;
}

void report_other_kind(Resolver *resolver, const Node *name, const Declaration *found, NodeKind kind,
                       const char *wanted)
{
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, name->span, "`%s` is not a %s",
                                   found->name->bytes, wanted);
    finding_relate(resolver->findings, finding, found->node->span, "declared here");
    const char *one = findings_full(resolver->findings) ? NULL : only_one(resolver->module, kind);
    finding_mend(resolver->findings, finding, one ? "write %s%s" : "write the name of a %s%s", one ? one : wanted,
                 "");
    if (one)
        finding_edit(resolver->findings, finding, name->span, "%s", one);
}

static void infer_arguments(Resolver *resolver, Node *call)
{
    for (Node *argument = call->options; argument; argument = argument->next)
        infer(resolver, argument->first);
}

/* The pattern that is called; NULL if it cannot be. */
static Declaration *pattern_called(Resolver *resolver, Node *call)
{
    Declaration *found =
        module_find(resolver->module, resolver->sizes, call->first, false, "a pattern", resolver->findings);
    if (!found) {
        infer_arguments(resolver, call);
        call->cause = module_refused(resolver->module, call->first);
        return NULL;
    }
    if (found->node->kind != NODE_PATTERN) {
        report_other_kind(resolver, call->first, found, NODE_PATTERN, "pattern");
        return NULL;
    }
    if (found->checked == IN_WORK) {
        Finding *finding = finding_add(resolver->findings, FINDING_PATTERN_CIRCLE, call->span,
                                       "`%s` calls itself, directly or through others", found->name->bytes);
        finding_relate(resolver->findings, finding, found->node->first->span, "the pattern");
        finding_mend(resolver->findings, finding, "use `repeat` or `for` instead; take this call out");
        edit_out(resolver->findings, finding, resolver->sources, call->span);
        return NULL;
    }
    resolve_pattern(resolver, found);
    const Node *unread = list_broken(found->node->options); /* its header */
    call->cause = unread ? unread->cause : found->cause;
    if (found->height > resolver->height)
        resolver->height = found->height;
    if (!unread)
        return found;
    infer_arguments(resolver, call);
    return NULL;
}

void resolve_call(Resolver *resolver, Node *call)
{
    uint64_t told = resolver->findings->told;
    const Declaration *pattern = pattern_called(resolver, call);
    call->target = pattern;
    if (pattern)
        check_arguments(resolver, pattern, call);
    else
        resolve_broken(resolver, call, told);
}
