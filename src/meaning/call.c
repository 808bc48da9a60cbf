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

static const char *argument_text(Resolver *resolver, const Node *argument)
{
    return written(resolver->findings->words, resolver->sources, argument->span);
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
    finding_mend(resolver->findings, finding, "%s; the pattern is called as `%s(%s)`", mend, pattern->name->bytes,
                 buffer_string(&signature));
    return finding;
}

static bool is_given(const Node *call, const Node *parameter, uint32_t position)
{
    uint32_t number = 0;
    for (const Node *argument = call->options; argument; argument = argument->next, number++)
        if (argument->text ? argument->text == parameter->text : number == position)
            return true;
    return false;
}

/* The parameter that the call gives nothing for; of several, the one that takes a value like this. NULL if it is
 * not known which is meant. */
static const Node *parameter_left(Resolver *resolver, const Declaration *pattern, const Node *call,
                                  const Node *value)
{
    unsigned type = type_at_sight(resolver, value);
    const Node *left = NULL, *fitting = NULL;
    uint32_t position = 0, lefts = 0, fittings = 0;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next, position++) {
        if (is_given(call, parameter, position))
            continue;
        left = parameter;
        lefts++;
        if (type == TYPE_BROKEN || !type_fits(type, SET(parameter->type)))
            continue;
        fitting = parameter;
        fittings++;
    }
    return lefts == 1 ? left : fittings == 1 ? fitting : NULL;
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
    const Node *left = shown ? parameter_left(resolver, pattern, call, argument->first) : NULL;
    if (!nearest && left)
        nearest = left->text->bytes;
    Finding *finding = arguments_misfit(resolver, option_name_span(argument), pattern,
                                        finding_text(resolver->findings, "`%s` has no parameter `%s`",
                                                     pattern->name->bytes, argument->text->bytes),
                                        nearest ? finding_text(resolver->findings, "write `%s`", nearest)
                                                : "name one that it has");
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
        const char *mend = finding_text(resolver->findings, "take `%s` out", argument_text(resolver, argument));
        Finding *finding = arguments_misfit(resolver, argument->span, pattern, what, mend);
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

/* --- arguments that fit, but elsewhere --- */

/* The unnamed arguments of a call, with the kinds that can be seen at sight. */
typedef struct Positional {
    const Node *arguments[LIMIT_PARAMETERS], *parameters[LIMIT_PARAMETERS];
    unsigned types[LIMIT_PARAMETERS];
    uint32_t count, parameter_count; /* of parameters: those that no argument names */
} Positional;

/* False where not all kinds are known, or all fit where they stand. */
static bool look_at_positional(Resolver *resolver, const Declaration *pattern, const Node *call, Positional *found)
{
    for (const Node *argument = call->options; argument; argument = argument->next) {
        if (argument->text)
            continue;
        if (found->count == LIMIT_PARAMETERS)
            return false;
        found->types[found->count] = type_at_sight(resolver, argument->first);
        if (found->types[found->count] == TYPE_BROKEN)
            return false;
        found->arguments[found->count++] = argument;
    }
    bool fits = true;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next) {
        bool named = false;
        for (const Node *argument = call->options; argument; argument = argument->next)
            named |= argument->text == parameter->text;
        if (named)
            continue;
        uint32_t index = found->parameter_count++;
        found->parameters[index] = parameter;
        fits &= index >= found->count || type_fits(found->types[index], SET(parameter->type));
    }
    return !fits || found->count > found->parameter_count;
}

/* `shades(navy, mist, span: 3 mm)`: threads one by one where a list of them belongs. */
static const char *threads_as_list(Resolver *resolver, const Positional *found)
{
    const char *text = "";
    uint32_t next = 0, lists = 0;
    for (uint32_t i = 0; i < found->parameter_count && next < found->count; i++) {
        unsigned type = found->parameters[i]->type;
        const char *value;
        if (type == TYPE_LIST + TYPE_THREAD && found->types[next] == TYPE_THREAD) {
            value = "";
            for (lists++; next < found->count && found->types[next] == TYPE_THREAD; next++)
                value = finding_text(resolver->findings, "%s%s%s", value, *value ? ", " : "[",
                                     argument_text(resolver, found->arguments[next]));
            value = finding_text(resolver->findings, "%s]", value);
        } else if (type_fits(found->types[next], SET(type)))
            value = argument_text(resolver, found->arguments[next++]);
        else
            return NULL;
        text = finding_text(resolver->findings, "%s%s%s", text, *text ? ", " : "", value);
    }
    return lists && next == found->count ? text : NULL;
}

/* `foot([navy, mist])`: a list where its threads belong one by one; NULL if it is none. */
static const char *list_as_threads(Resolver *resolver, const Positional *found)
{
    const Node *list = found->arguments[0]->first;
    if (list->kind != NODE_LIST || found->types[0] != TYPE_LIST + TYPE_THREAD)
        return NULL;
    uint32_t count = 0;
    const Node *last = list->first;
    for (const Node *item = list->first; item; item = item->next, count++)
        last = item;
    if (count < 2) /* a list for one thread is another slip */
        return NULL;
    for (uint32_t i = 0; i < count; i++)
        if (i >= found->parameter_count || found->parameters[i]->type != TYPE_THREAD)
            return NULL;
    const char *text =
        written(resolver->findings->words, resolver->sources, span_join(list->first->span, last->span));
    for (uint32_t i = 1; i < found->count; i++)
        text = finding_text(resolver->findings, "%s, %s", text, argument_text(resolver, found->arguments[i]));
    return text;
}

/* `collar(8 mm, navy)`: each argument at the first place whose kind it has; NULL if they have no such places. */
static const char *in_order(Resolver *resolver, const Positional *found)
{
    const Node *placed[LIMIT_PARAMETERS] = {0};
    for (uint32_t i = 0; i < found->count; i++) {
        uint32_t place = 0;
        while (place < found->count
               && (place >= found->parameter_count || placed[place]
                   || !type_fits(found->types[i], SET(found->parameters[place]->type))))
            place++;
        if (place == found->count)
            return NULL;
        placed[place] = found->arguments[i];
    }
    const char *text = "";
    for (uint32_t i = 0; i < found->count; i++)
        text = finding_text(resolver->findings, "%s%s%s", text, i ? ", " : "", argument_text(resolver, placed[i]));
    return text;
}

/* `foot(navy and mist)`: two arguments. */
static bool report_joined(Resolver *resolver, const Declaration *pattern, Node *call)
{
    uint64_t told = resolver->findings->told;
    uint32_t position = 0;
    for (Node *argument = call->options; argument; argument = argument->next, position++) {
        const Node *value = argument->first;
        if (argument->text || value->kind != NODE_OPERATION || value->detail != OPERATOR_AND
            || type_at_sight(resolver, value->first) != TYPE_THREAD
            || type_at_sight(resolver, value->second) != TYPE_THREAD)
            continue;
        const Node *next = parameter_at(pattern->node, position + 1);
        if (!next || next->type != TYPE_THREAD || is_given(call, next, position + 1))
            continue;
        Finding *finding =
            finding_add(resolver->findings, FINDING_ARGUMENTS, value->span, "arguments have commas between them");
        const char *text =
            finding_text(resolver->findings, "%s, %s",
                         written(resolver->findings->words, resolver->sources, value->first->span),
                         written(resolver->findings->words, resolver->sources, value->second->span));
        edit_to(resolver, finding, value, text, "");
        resolve_broken(resolver, argument->first, told);
        return true;
    }
    return false;
}

/* As far as can be seen at sight: most calls need no second look. */
static bool fit_where_they_stand(Resolver *resolver, const Declaration *pattern, const Node *call)
{
    const Node *parameter = pattern->node->options;
    for (const Node *argument = call->options; argument; argument = argument->next) {
        unsigned type = argument->text ? TYPE_BROKEN : type_at_sight(resolver, argument->first);
        if (type != TYPE_BROKEN && (!parameter || !type_fits(type, SET(parameter->type))))
            return false;
        parameter = parameter ? parameter->next : NULL;
    }
    return true;
}

/* Arguments that would fit in another order, or as a list: one fault, not one for each. */
static bool report_positional(Resolver *resolver, const Declaration *pattern, Node *call)
{
    if (fit_where_they_stand(resolver, pattern, call) || findings_full(resolver->findings))
        return false;
    Positional found = {0};
    if (!look_at_positional(resolver, pattern, call, &found) || !found.count)
        return false;
    const char *list = threads_as_list(resolver, &found),
               *ordered = list ? NULL : list_as_threads(resolver, &found);
    bool spread = ordered;
    if (!list && !ordered)
        ordered = in_order(resolver, &found);
    if (!list && !ordered)
        return false;
    const Node *first = found.arguments[0], *last = found.arguments[found.count - 1];
    Finding *finding = finding_add(resolver->findings, FINDING_ARGUMENTS, call->span,
                                   list     ? "`%s` takes its threads as a list"
                                   : spread ? "`%s` takes its threads one by one"
                                            : "the arguments of `%s` come in another order",
                                   pattern->name->bytes);
    finding_relate(resolver->findings, finding, pattern->node->first->span, "the pattern");
    finding_mend(resolver->findings, finding, "write `%s`", list ? list : ordered);
    for (const Node *argument = first; argument != last; argument = argument->next)
        if (argument->text)
            return true; /* a named one stands between them */
    finding_edit(resolver->findings, finding, span_join(first->span, last->span), "%s", list ? list : ordered);
    return true;
}

/* A thread of the file that the call does not name yet; NULL if it names all. */
static const char *other_thread(Resolver *resolver, const Node *call)
{
    for (uint32_t i = 0; i < resolver->module->names.count; i++) {
        const Declaration *one = resolver->module->names.items[i];
        bool named = one->node->kind != NODE_THREAD;
        for (const Node *argument = call->options; argument && !named; argument = argument->next)
            named = argument->first->kind == NODE_NAME && argument->first->text == one->name;
        if (!named)
            return one->name->bytes;
    }
    return NULL;
}

/* Something of the parameter's kind to begin with; NULL if there is nothing one could take for it. */
static const char *first_value(Resolver *resolver, const Node *call, unsigned type)
{
    static const char *const values[TYPE_COUNT_OF_ELEMENTS] = {
        [TYPE_COUNT] = "4",        [TYPE_RATIO] = "1/2",     [TYPE_LENGTH] = "9 mm",
        [TYPE_TURNS] = "8 turns",  [TYPE_ANGLE] = "45 deg",  [TYPE_RATE] = "67 per cm",
        [TYPE_COLOUR] = "#22346b", [TYPE_TEXT] = "\"text\"", [TYPE_TRUTH] = "yes",
    };
    const char *other =
        findings_full(resolver->findings) || resolver->pattern_depth ? NULL : other_thread(resolver, call);
    const char *thread = other ? other : thread_nearby(resolver);
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
    const char *value = first_value(resolver, call, parameter->type);
    Span end = {call->span.end - 1, call->span.end - 1, call->span.file};
    if (value)
        finding_edit(resolver->findings, finding, end, "%s%s: %s", call->options ? ", " : "",
                     parameter->text->bytes, value);
}

/* `collar(span: 8 mm, navy)`: an argument without a name behind one that has one. */
static bool report_behind_named(Resolver *resolver, const Declaration *pattern, const Node *call,
                                const Node *given, const Node *argument)
{
    const Node *left = parameter_left(resolver, pattern, call, argument->first);
    if (argument->text || !given->text || !left)
        return false;
    const char *text = finding_text(resolver->findings, "%s: %s", left->text->bytes,
                                    written(resolver->findings->words, resolver->sources, argument->span));
    Finding *finding =
        arguments_misfit(resolver, argument->span, pattern, "an argument without a name follows one with a name",
                         finding_text(resolver->findings, "write `%s`", text));
    finding_edit(resolver->findings, finding, argument->span, "%s", text);
    return true;
}

/* `stripe: 8 turns, stripe: 3`: another parameter is meant by the second one, if one takes its value. */
static void report_given_twice(Resolver *resolver, const Declaration *pattern, const Node *call,
                               const Node *argument, const Node *parameter)
{
    enum { SLIPS = 2 };
    const Node *left = parameter_left(resolver, pattern, call, argument->first);
    unsigned type = type_at_sight(resolver, argument->first);
    bool near = left && argument->text
                && (text_distance(left->text->bytes, argument->text->bytes, SLIPS) <= SLIPS
                    || (type != TYPE_BROKEN && !type_fits(type, SET(parameter->type))));
    Finding *finding = arguments_misfit(
        resolver, argument->span, pattern,
        finding_text(resolver->findings, "`%s` is given twice", parameter->text->bytes),
        near ? finding_text(resolver->findings, "write `%s:`", left->text->bytes) : "take one of them out");
    if (near)
        finding_edit(resolver->findings, finding, option_name_span(argument), "%s", left->text->bytes);
    else
        edit_out(resolver->findings, finding, resolver->sources, argument->span);
}

/* `stripes(shades, twice)`: the name of a parameter alone, for yes. */
static bool report_own_name(Resolver *resolver, Node *argument, const Node *parameter)
{
    Node *value = argument->first;
    if (argument->text || parameter->type != TYPE_TRUTH || value->kind != NODE_NAME
        || value->text != parameter->text || is_name_here(resolver, value->text))
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, value->span, "`%s` is yes or no",
                                   parameter->text->bytes);
    finding_mend(resolver->findings, finding, "write `%s: yes`", parameter->text->bytes);
    finding_edit(resolver->findings, finding, value->span, "%s: yes", parameter->text->bytes);
    resolve_broken(resolver, value, told);
    return true;
}

/* `collar(span: 8 mm, navy)`: where the second would stand, the first one's name is. */
static bool report_names_first(Resolver *resolver, const Declaration *pattern, Node *call)
{
    const Node *late = NULL, *last = NULL;
    const char *plain = "", *named = "";
    uint32_t position = 0, count = 0;
    for (const Node *argument = call->options; argument; last = argument, argument = argument->next, position++) {
        const char *text = argument_text(resolver, argument);
        if (argument->text) {
            named = finding_text(resolver->findings, "%s, %s", named, text);
            continue;
        }
        const Node *at = parameter_at(pattern->node, position), *meant = parameter_at(pattern->node, count++);
        for (const Node *other = call->options; other; other = other->next) {
            if (meant && other->text == meant->text)
                return false;
            late = at && other->text == at->text ? argument : late;
        }
        unsigned type = type_at_sight(resolver, argument->first);
        if (!meant || (type != TYPE_BROKEN && !type_fits(type, SET(meant->type))))
            return false;
        plain = finding_text(resolver->findings, "%s%s%s", plain, *plain ? ", " : "", text);
    }
    if (!late)
        return false;
    Finding *finding = finding_add(resolver->findings, FINDING_ARGUMENTS, late->span,
                                   "what has no name comes before what has one");
    finding_relate(resolver->findings, finding, pattern->node->first->span, "the pattern");
    finding_mend(resolver->findings, finding, "write `%s(%s%s)`", pattern->name->bytes, plain, named);
    finding_edit(resolver->findings, finding, span_join(call->options->span, last->span), "%s%s", plain, named);
    return true;
}

/* `part: 0,66` */
static bool report_decimal_comma(Resolver *resolver, Node *call)
{
    for (const Node *argument = call->options; argument && argument->next; argument = argument->next) {
        const Node *whole = argument->first, *after = argument->next->first;
        const char *bytes = resolver->sources->list.items[call->span.file].bytes;
        if (!argument->text || argument->next->text || whole->kind != NODE_NUMBER || after->kind != NODE_NUMBER
            || whole->detail != UNIT_NONE || whole->span.end + 1 != after->span.start
            || bytes[whole->span.end] != ',')
            continue;
        Finding *finding = finding_add(resolver->findings, FINDING_ARGUMENTS, span_join(whole->span, after->span),
                                       "a comma stands between two arguments");
        edit_to(resolver, finding, &(Node){.span = span_join(whole->span, after->span)},
                finding_text(resolver->findings, "%s.%s",
                             written(resolver->findings->words, resolver->sources, whole->span),
                             written(resolver->findings->words, resolver->sources, after->span)),
                "");
        return true;
    }
    return false;
}

static void check_arguments(Resolver *resolver, const Declaration *pattern, Node *call)
{
    uint64_t before = resolver->findings->told;
    if (report_decimal_comma(resolver, call) || report_names_first(resolver, pattern, call)
        || report_joined(resolver, pattern, call) || report_positional(resolver, pattern, call)) {
        for (Node *argument = call->options; argument; argument = argument->next)
            if (!argument->first->cause)
                infer(resolver, argument->first);
        call->target = NULL;
        resolve_broken(resolver, call, before);
        return;
    }
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
            Node *first = given[argument->slot];
            wrong = true;
            if (report_behind_named(resolver, pattern, call, first, argument)) {
                argument->slot = UINT32_MAX;
                resolve_broken(resolver, argument, told);
                resolve_broken(resolver, first->first, told);
            } else
                report_given_twice(resolver, pattern, call, argument, parameter);
            infer(resolver, argument->first); /* the first one counts */
            continue;
        }
        given[argument->slot] = argument;
        if (report_own_name(resolver, argument, parameter))
            continue;
        if (parameter->type == TYPE_BROKEN)
            infer(resolver, argument->first); /* of no kind that is known */
        else
            want(resolver, argument->first, SET(parameter->type), parameter->text->bytes);
    }
    for (Node *argument = call->options; argument; argument = argument->next)
        if (argument->first->kind == NODE_NAME && module_name(argument->first) && argument->first->cause) {
            wrong = true; /* a point for a comma, perhaps: then one is missing for that reason */
            argument->slot = UINT32_MAX;
            resolve_broken(resolver, argument, resolver->findings->told);
        }
    uint32_t number = 0;
    for (const Node *parameter = pattern->node->options; parameter; parameter = parameter->next, number++)
        if (!parameter->first && !given[number]) {
            if (!wrong)
                report_argument_missing(resolver, pattern, call, parameter);
            resolve_broken(resolver, call, before);
            return;
        }
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
    Declaration *found = find_name(resolver, call->first, NAME_OF_PATTERN, 0, (ValueSpot){0});
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
