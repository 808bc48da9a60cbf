/* Kinds of values. */
#include "meaning/resolver.h"

#include "base/limits.h"
#include "meaning/convert.h"
#include "meaning/likely.h"
#include "meaning/mend.h"
#include "trade/colour.h"
#include "trade/colour_names.h"

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
    *LIST_ADD(resolver->arena, &resolver->locals) =
        (Local){.name = name, .type = type, .cause = cause, .older = *bucket};
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

/* A number whose unit is missing: the edit has the one that is likely here. */
static void report_bare_number(Resolver *resolver, Node *node, TypeSet set, const char *wanted, ValueSpot spot)
{
    Findings *findings = resolver->findings;
    Finding *finding =
        finding_add(findings, FINDING_BARE_NUMBER, node->span, "%s needs a unit", quoted(resolver, wanted));
    finding_label(findings, finding, "%s belongs here; this is a number without a unit",
                  type_set_phrase(findings->words, set));
    const char *likely = likely_value(resolver, node, set, spot);
    if (!likely) {
        finding_mend(findings, finding, "write its unit");
        return;
    }
    if (set & SET(TYPE_TURNS) && set & SET(TYPE_LENGTH) && node->slot)
        finding_mend(findings, finding, "write `%s` if you count, or `%s` if you measure",
                     likely_value(resolver, node, SET(TYPE_TURNS), spot), likely_length(resolver, node, spot));
    else
        finding_mend(findings, finding, "write `%s`", likely);
    finding_edit(findings, finding, node->span, "%s", likely);
}

/* `foot: [19, 17]`: all of a list's numbers need the unit at once. */
static void report_bare_list(Resolver *resolver, Node *node, const char *edit, const char *wanted)
{
    Finding *finding = finding_add(resolver->findings, FINDING_BARE_NUMBER, node->span, "%s needs a unit",
                                   quoted(resolver, wanted));
    finding_label(resolver->findings, finding, "lengths belong here; these are numbers without a unit");
    edit_to(resolver, finding, node, edit, "");
}

/* The value made into the first of these kinds that it can be made into. */
static const char *as_one_of(Resolver *resolver, const Node *node, unsigned from, TypeSet set, ValueSpot spot)
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
                                     TYPE_LIST + TYPE_LENGTH,
                                     TYPE_LIST + TYPE_COLOUR};
    const char *text = likely_value(resolver, node, set, spot);
    for (size_t i = 0; i < sizeof order / sizeof *order && !text; i++)
        text = set & SET(order[i]) ? as_kind(resolver, node, from, order[i]) : NULL;
    return text;
}

/* "this is a length", "these are turns": how a finding names what stands at a place. */
static const char *naming(unsigned type)
{
    return type == TYPE_TURNS || type == TYPE_PAIR ? "these are %s" : "this is %s";
}

/* Numbers can be made into one another, and threads into lists of them: of such a value it is not clear which is
 * wrong, the value or its use. */
static bool could_be_meant(unsigned type, unsigned wanted)
{
    bool threads = type == TYPE_LIST + TYPE_THREAD || type == TYPE_THREAD;
    bool wanted_threads = wanted == TYPE_LIST + TYPE_THREAD || wanted == TYPE_THREAD;
    return (type_is_number(type) && type_is_number(wanted)) || (threads && wanted_threads);
}

/* The kind that is most likely wanted of several; TYPE_BROKEN if a parameter cannot be of it. */
static unsigned wanted_kind(TypeSet set)
{
    static const unsigned order[] = {TYPE_THREAD, TYPE_TURNS, TYPE_LENGTH, TYPE_COUNT, TYPE_RATIO,
                                     TYPE_ANGLE,  TYPE_TRUTH, TYPE_TEXT,   TYPE_COLOUR};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++)
        if (set & SET(order[i]))
            return order[i];
    return set == SET_THREADS ? TYPE_LIST + TYPE_THREAD : TYPE_BROKEN;
}

/* `edge: thread` beside `edge >= 6 turns`: the kind of the parameter is the slip. */
static bool mend_kind_of_parameter(Resolver *resolver, Finding *finding, const Node *side, unsigned type,
                                   unsigned wanted)
{
    const Local *local = side->kind == NODE_NAME && !module_name(side) ? local_find(resolver, side->text) : NULL;
    const char *kind = wanted == TYPE_BROKEN ? NULL : type_word(wanted);
    if (!local || !local->parameter || !kind || could_be_meant(type, wanted))
        return false;
    const Node *word = local->parameter->second, *value = local->parameter->first;
    if (value && value->type == type) /* its own value says that the kind is meant */
        return false;
    if (parameter_used_as(resolver, local->parameter, side,
                          type)) /* another use says so: it would be changed back */
        return false;
    finding_relate(resolver->findings, finding, word->span, "the kind of `%s`", side->text->bytes);
    finding_mend(resolver->findings, finding, "write `%s: %s`", side->text->bytes, kind);
    finding_edit(resolver->findings, finding, word->span, "%s", kind);
    return true;
}

/* `let shades = ["navy", "mist"]`, where threads belong: the slip is there, not where the name is used. NULL if it
 * is none, or there is no plain way to mend it. */
static const Node *let_in_quotes(Resolver *resolver, const Node *node, TypeSet set, ValueSpot spot,
                                 const char **meant)
{
    const Declaration *found = node->kind == NODE_NAME && node->scope == SCOPE_DECLARED ? node->target : NULL;
    if (!found || found->node->kind != NODE_LET || found->module != resolver->module)
        return NULL;
    const Node *value = found->node->first;
    bool quoted_values = value->type == TYPE_TEXT || value->type == TYPE_LIST + TYPE_TEXT;
    bool literal = value->kind == NODE_TEXT || value->kind == NODE_LIST;
    *meant = quoted_values && literal ? as_one_of(resolver, value, value->type, set, spot) : NULL;
    return *meant ? value : NULL;
}

static bool names_colour(const Node *node)
{
    return node->kind == NODE_NAME && !module_name(node) && colour_named(node->text->bytes) != NO_COLOUR;
}

/* How long the colour is that stands there, by its digits or its name; 0 if none does. */
static size_t colour_at(Arena *words, const char *bytes)
{
    size_t digits = *bytes == '#' ? strspn(bytes + 1, "0123456789abcdefABCDEF") : 0;
    if (digits == 6)
        return 1 + digits;
    size_t letters = strspn(bytes, "abcdefghijklmnopqrstuvwxyz");
    char *word = arena_copy(words, bytes, letters + 1);
    word[letters] = 0;
    return colour_named(word) != NO_COLOUR ? letters : 0;
}

/* `colours: #22346b, navy`: without the brackets; all that follow belong to the list. */
static void mend_colours(Resolver *resolver, Finding *finding, const Node *first)
{
    Span span = first->span;
    const char *bytes = resolver->sources->list.items[span.file].bytes;
    for (;;) {
        const char *next = bytes + span.end;
        next += strspn(next, " \t");
        next += *next == ',';
        next += strspn(next, " \t");
        size_t length = colour_at(resolver->findings->words, next);
        if (!length)
            break;
        span.end = (uint32_t)(next + length - bytes);
    }
    const char *list =
        finding_text(resolver->findings, "[%s]", written(resolver->findings->words, resolver->sources, span));
    finding_mend(resolver->findings, finding, "write `%s`", list);
    finding_edit(resolver->findings, finding, span, "%s", list);
}

/* `frame: slate`, where `slate` is a thread: its colour as it is written, or what its name may mean; NULL if
 * neither is known. */
static const char *colour_of_thread(Resolver *resolver, const Node *node)
{
    const Declaration *thread = node->scope == SCOPE_DECLARED ? node->target : NULL;
    for (const Node *option = thread ? thread->node->options : NULL; option; option = option->next)
        if (option->kind == NODE_OPTION && strcmp(option->text->bytes, "colour") == 0
            && (option->first->kind == NODE_COLOUR || names_colour(option->first)))
            return written(resolver->findings->words, resolver->sources, option->first->span);
    return colour_meant(resolver, node->text->bytes);
}

/* A ratio to the language, money to the builder. */
static bool is_price(ValueSpot spot)
{
    return spot.owner == NODE_THREAD && spot.part && strcmp(spot.part, "price") == 0;
}

static void report_wrong_kind(Resolver *resolver, Node *node, unsigned type, TypeSet set, const char *wanted,
                              ValueSpot spot)
{
    Findings *findings = resolver->findings;
    bool figure = set == SET(TYPE_TEXT) && node->kind == NODE_NUMBER && node->detail == UNIT_NONE;
    const char *phrase = figure ? "a number" : type_phrase(type);
    Finding *finding =
        finding_add(findings, FINDING_WRONG_KIND, node->span, "%s has to be %s, not %s", quoted(resolver, wanted),
                    is_price(spot) ? "a number alone" : type_set_phrase(findings->words, set), phrase);
    finding_label(findings, finding, naming(type), phrase);
    if (mend_kind_of_parameter(resolver, finding, node, type, wanted_kind(set)))
        return;
    const char *in_let = NULL;
    const Node *let = let_in_quotes(resolver, node, set, spot, &in_let);
    if (let) {
        finding_relate(findings, finding, let->span, "its value");
        edit_to(resolver, finding, let, in_let, "");
        return;
    }
    if (node->kind == NODE_COLOUR && set & SET(TYPE_LIST + TYPE_COLOUR)) {
        mend_colours(resolver, finding, node);
        return;
    }
    const char *meant = set == SET(TYPE_COLOUR) && node->kind == NODE_NAME
                            ? colour_of_thread(resolver, node)
                            : as_one_of(resolver, node, type, set, spot);
    if (meant)
        edit_to(resolver, finding, node, meant, "");
    else
        mend_by_example(resolver, finding, node, set, spot);
    if (type == TYPE_COUNT && set & SET(TYPE_TURNS) && node->kind != NODE_NUMBER)
        finding_mend(findings, finding, "write `turns` after it");
}

static bool is_length(const Node *node)
{
    return node->kind == NODE_NUMBER && unit_measure((Unit)node->detail) == MEASURE_LENGTH;
}

/* Two values where a list belongs: `foot: 16 mm and 16 mm`, `16 mm / 16 mm`. */
static const char *two_as_list(Resolver *resolver, const Node *node, TypeSet set)
{
    bool two = node->kind == NODE_OPERATION && (node->detail == OPERATOR_AND || node->detail == OPERATOR_DIVIDE);
    if (!two || !(set & SET(TYPE_LIST + TYPE_LENGTH)) || !is_length(node->first) || !is_length(node->second))
        return NULL;
    return finding_text(resolver->findings, "[%s, %s]",
                        written(resolver->findings->words, resolver->sources, node->first->span),
                        written(resolver->findings->words, resolver->sources, node->second->span));
}

/* `[1, 3]`, `1/3` or `1-3`: the figures of two whole numbers. */
static bool two_numbers(Resolver *resolver, const Node *node, const char **first, const char **second)
{
    const char *text = written(resolver->findings->words, resolver->sources, node->span);
    text += *text == '[';
    size_t digits = strspn(text, "0123456789");
    const char *rest = text + digits + strspn(text + digits, " ");
    if (!digits || !*rest || !strchr("/-,", *rest))
        return false;
    rest++;
    rest += strspn(rest, " ");
    size_t more = strspn(rest, "0123456789");
    *first = finding_text(resolver->findings, "%.*s", (int)digits, text);
    *second = finding_text(resolver->findings, "%.*s", (int)more, rest);
    rest += more;
    rest += strspn(rest, " ]");
    return more && !*rest;
}

/* `runs: [[1, 3], [2, 2]]`: two numbers each where turns in and out belong. */
static const char *lists_as_pairs(Resolver *resolver, const Node *node, TypeSet set)
{
    if (node->kind != NODE_LIST || (set & ANY_LIST) != SET(TYPE_LIST + TYPE_PAIR) || !node->first)
        return NULL;
    Buffer text;
    buffer_start(&text, resolver->findings->words);
    for (const Node *item = node->first; item; item = item->next) {
        const char *in, *out;
        if (!two_numbers(resolver, item, &in, &out))
            return NULL;
        buffer_text(&text, text.length ? ", in " : "[in ");
        buffer_text(&text, in);
        buffer_text(&text, " out ");
        buffer_text(&text, out);
    }
    buffer_text(&text, "]");
    return buffer_string(&text);
}

/* `diameter: 0.15 mm +- 10 %` */
static const char *with_uncertainty(Resolver *resolver, const Node *node, ValueSpot spot)
{
    bool diameter =
        (spot.owner == NODE_SIZE || spot.owner == NODE_THREAD) && spot.part && strcmp(spot.part, "diameter") == 0;
    if (!diameter || node->kind != NODE_OPERATION || node->detail != OPERATOR_ADD || !is_length(node->first))
        return NULL;
    const Node *spread = node->second->kind == NODE_SIGN ? node->second->first : node->second;
    if (spread->kind != NODE_NUMBER || spread->detail != UNIT_PERCENT)
        return NULL;
    return finding_text(resolver->findings, "%s, uncertainty: %s",
                        written(resolver->findings->words, resolver->sources, node->first->span),
                        written(resolver->findings->words, resolver->sources, spread->span));
}

/* What is one value in two, or a list in lists: said of the whole, not of its parts. */
static bool report_parts(Resolver *resolver, Node *node, TypeSet set, const char *wanted, ValueSpot spot)
{
    const char *text = two_as_list(resolver, node, set);
    if (!text)
        text = lists_as_pairs(resolver, node, set);
    if (!text)
        text = with_uncertainty(resolver, node, spot);
    if (!text)
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, node->span, "%s has to be %s",
                                   quoted(resolver, wanted), type_set_phrase(resolver->findings->words, set));
    edit_to(resolver, finding, node, text, "");
    resolve_broken(resolver, node, told);
    return true;
}

unsigned want_at(Resolver *resolver, Node *node, TypeSet set, const char *wanted, ValueSpot spot)
{
    if (report_parts(resolver, node, set, wanted, spot))
        return TYPE_BROKEN;
    resolver->wanted = node->kind == NODE_NAME || node->kind == NODE_LIST ? set : 0;
    resolver->spot = spot;
    unsigned type = infer(resolver, node);
    resolver->wanted = 0;
    resolver->spot = (ValueSpot){0};
    if (type == TYPE_BROKEN || type_fits(type, set))
        return type;
    uint64_t told = resolver->findings->told;
    const TypeSet measures = SET(TYPE_LENGTH) | SET(TYPE_TURNS) | SET(TYPE_RATE) | SET(TYPE_ANGLE);
    bool measure = set & measures && !(set & SET(TYPE_RATIO));
    bool bare = type == TYPE_LIST + TYPE_COUNT || type == TYPE_LIST + TYPE_RATIO;
    const char *list = bare && set & SET(TYPE_LIST + TYPE_LENGTH) ? list_of_lengths(resolver, node, spot) : NULL;
    bool bare_number = node->kind == NODE_NUMBER && node->detail == UNIT_NONE;
    if (measure && bare_number && (type == TYPE_COUNT || type == TYPE_RATIO))
        report_bare_number(resolver, node, set, wanted, spot);
    else if (list)
        report_bare_list(resolver, node, list, wanted);
    else
        report_wrong_kind(resolver, node, type, set, wanted, spot);
    return resolve_broken(resolver, node, told);
}

unsigned want(Resolver *resolver, Node *node, TypeSet set, const char *wanted)
{
    return want_at(resolver, node, set, wanted, (ValueSpot){0});
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
    bool known = module_gives(module, name, false);
    for (uint32_t i = 0; i < module->uses.count && !known; i++)
        known = !module->uses.items[i].module || module_gives(module->uses.items[i].module, name, false);
    return known;
}

/* "true", "off": what is said for yes and no. Anything else is taken for no. */
static const char *truth_meant(const char *word)
{
    static const char *const yes_words[] = {"true", "on", "y",      "ja",       "oui",
                                            "yep",  "ok", "always", "required", "needed"};
    for (size_t i = 0; i < sizeof yes_words / sizeof *yes_words; i++)
        if (strcasecmp(yes_words[i], word) == 0)
            return "yes";
    return strcasecmp(word, "yes") == 0 ? "yes" : "no";
}

/* `a1b2c3` and `abc`: a colour without its #. */
static const char *hex_colour(Resolver *resolver, const char *word)
{
    if (strspn(word, "0123456789abcdefABCDEF") != strlen(word))
        return NULL;
    if (strlen(word) == 6)
        return finding_text(resolver->findings, "#%s", word);
    return strlen(word) == 3 ? finding_text(resolver->findings, "#%c%c%c%c%c%c", word[0], word[0], word[1],
                                            word[1], word[2], word[2])
                             : NULL;
}

/* A word that is no name of this file, where only something else can stand: what it means, or NULL. */
static const char *word_meant(Resolver *resolver, const Node *node, TypeSet set, ValueSpot spot)
{
    const char *word = node->text->bytes;
    if (!set)
        return strcasecmp(word, "true") == 0    ? "yes"
               : strcasecmp(word, "false") == 0 ? "no"
                                                : word_as_number(word);
    const TypeSet numbers = SET(TYPE_COUNT) | SET(TYPE_RATIO) | SET(TYPE_TURNS) | SET(TYPE_LENGTH);
    if (set == SET(TYPE_TEXT))
        return finding_text(resolver->findings, "\"%s\"", word);
    if (set == SET(TYPE_TRUTH))
        return truth_meant(word);
    if (set == SET(TYPE_COLOUR)) {
        const char *hex = hex_colour(resolver, word), *named = hex ? NULL : colour_meant(resolver, word);
        return hex ? hex : named ? named : "#22346b";
    }
    if (takes_fill(spot) && fill_word(word))
        return "fill";
    if (spot.part && strcmp(spot.part, SPOT_MARK) == 0 && strcasecmp(word, "butt") == 0)
        return "0 mm";
    return set & numbers ? word_as_value(resolver, word, set, spot) : NULL;
}

static bool report_plain_word(Resolver *resolver, const Node *node, TypeSet set, ValueSpot spot)
{
    if (module_name(node) || known_to_module(resolver->module, node->text))
        return false;
    const char *meant = word_meant(resolver, node, set, spot);
    if (!meant)
        return false;
    Findings *findings = resolver->findings;
    if (set == SET(TYPE_COLOUR)) {
        Finding *finding = finding_add(findings, FINDING_WRONG_KIND, node->span, "no colour has the name `%s`",
                                       node->text->bytes);
        finding_mend(findings, finding, "write the name of a colour, or # and six digits, such as `%s`", meant);
        finding_edit(findings, finding, node->span, "%s", meant);
        return true;
    }
    Finding *finding = finding_add(findings, FINDING_WRONG_KIND, node->span, "%s belongs here, not a name",
                                   takes_fill(spot) ? "turns, a length or `fill`"
                                   : set            ? type_set_phrase(findings->words, set)
                                                    : "a value");
    finding_mend(findings, finding, "write `%s`", meant);
    finding_edit(findings, finding, node->span, "%s", meant);
    return true;
}

/* Whether the file itself calls a colour so. What else it calls so does not matter where a colour belongs. */
static bool is_own_colour(Resolver *resolver, const Text *name)
{
    const Local *local = local_find(resolver, name);
    if (local)
        return local->type == TYPE_COLOUR || local->type == TYPE_BROKEN;
    const Module *module = resolver->module;
    Declaration *found = module_gives(module, name, false);
    for (uint32_t i = 0; i < module->uses.count && !found; i++)
        if (module->uses.items[i].module && !module->uses.items[i].alias)
            found = module_gives(module->uses.items[i].module, name, false);
    if (!found || found->node->kind != NODE_LET)
        return false;
    unsigned type = resolve_let(resolver, found);
    return type == TYPE_COLOUR || type == TYPE_BROKEN;
}

/* `colour: navy`, one of the colours that have a name; and `colours: navy`, where they are to be a list. */
static unsigned infer_named_colour(Resolver *resolver, Node *node, TypeSet set)
{
    if (set == SET(TYPE_COLOUR)) {
        node->scope = SCOPE_BUILT_IN;
        node->slot = colour_named(node->text->bytes);
        return TYPE_COLOUR;
    }
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, node->span,
                                   "a list of colours belongs here, also where it is one");
    mend_colours(resolver, finding, node);
    return TYPE_BROKEN;
}

/* Of `grip.tip` that end of the part; of `grip` alone the part itself. */
static const Local *find_local(Resolver *resolver, const Node *node)
{
    const Node *module = module_name(node);
    const Local *local = local_find(resolver, module ? module->text : node->text);
    if (!module || !local)
        return module ? NULL : local;
    if (!local->part)
        return NULL;
    int end = part_end_named(node->text->bytes);
    return end < 0 ? local : local + 1 + end;
}

static unsigned infer_name(Resolver *resolver, Node *node)
{
    TypeSet set = resolver->wanted;
    ValueSpot spot = resolver->spot;
    resolver->wanted = 0;
    resolver->spot = (ValueSpot){0};
    bool colours = set == SET(TYPE_COLOUR) || set == SET(TYPE_LIST + TYPE_COLOUR);
    if (colours && names_colour(node) && !is_own_colour(resolver, node->text))
        return infer_named_colour(resolver, node, set);
    const Local *local = find_local(resolver, node);
    if (local && local->part) {
        report_part_as_value(resolver, node, local, set, spot);
        return TYPE_BROKEN;
    }
    if (local) {
        node->scope = SCOPE_LOCAL;
        node->slot = (uint32_t)(local - resolver->locals.items) - resolver->floor;
        node->cause = local->cause;
        resolver->reads |= local->reads;
        return local->type;
    }
    if (names_here(resolver, node))
        return infer_here(resolver, node);
    if (report_plain_word(resolver, node, set, spot) || report_unknown_part(resolver, node))
        return TYPE_BROKEN;
    Declaration *found = find_name(resolver, node, NAME_OF_VALUE, set, spot);
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
        if (set)
            mend_by_example(resolver, finding, node, set, spot);
        if (!set || !finding->has_edit)
            finding_mend(resolver->findings, finding, "call it as a statement of its own: %s(...)",
                         node->text->bytes);
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
            change_first ? agreeing(resolver, first, first_type, second, second_type)
                         : agreeing(resolver, second, second_type, first, first_type),
            otherwise);
}

/* What may stand in a list that may be of these kinds; 0 for anything. */
static TypeSet elements_of(TypeSet set) { return set == ANY_LIST ? 0 : set >> TYPE_LIST & ~SET(TYPE_NOTHING); }

/* What stands between a list's brackets. */
static const char *items_written(Resolver *resolver, const Node *list)
{
    const Node *last = list->first;
    while (last->next)
        last = last->next;
    return written(resolver->findings->words, resolver->sources, span_join(list->first->span, last->span));
}

static unsigned infer_list(Resolver *resolver, Node *node)
{
    unsigned element = TYPE_NOTHING;
    TypeSet set = elements_of(resolver->wanted);
    ValueSpot spot = resolver->spot;
    bool broken = false;
    for (Node *item = node->first; item; item = item->next) {
        resolver->wanted = item->kind == NODE_NAME ? set : 0;
        resolver->spot = spot;
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
                                           type_is_list(type) ? "a list cannot hold a list"
                                                              : "all values of a list have to be of one kind");
            finding_label(resolver->findings, finding, naming(type), type_phrase(type));
            if (item != node->first)
                finding_relate(resolver->findings, finding, node->first->span, naming(element),
                               type_phrase(element));
            const char *flat = item->kind == NODE_LIST && item->first ? items_written(resolver, item) : NULL;
            bool alone = type_is_list(type) && !node->first->next;
            if (flat)
                edit_to(resolver, finding, item, flat, "");
            else if (alone)
                edit_to(resolver, finding, node, written(resolver->findings->words, resolver->sources, item->span),
                        "");
            else
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
        return want(resolver, node->first, SET(TYPE_TRUTH), "what stands after `not`");
    return want(resolver, node->first, ANY_NUMBER, "what stands after the sign");
}

/* `1 / 2 in`, `10 and 1/2 in` and `1-1/2 in`: a mixed number or fraction with signs between its parts; and
 * `4 ft and 3 in`. NULL if it is none. */
static const char *one_number(Resolver *resolver, const Node *node)
{
    const Node *left = node->first, *right = node->second;
    if (node->detail == OPERATOR_AND && is_length(left) && is_length(right))
        return finding_text(resolver->findings, left->detail == right->detail ? "%s, %s" : "%s + %s",
                            written(resolver->findings->words, resolver->sources, left->span),
                            written(resolver->findings->words, resolver->sources, right->span));
    bool numbers = left->kind == NODE_NUMBER && left->detail == UNIT_NONE && left->slot
                   && right->kind == NODE_NUMBER && unit_measure((Unit)right->detail) != MEASURE_NUMBER;
    if (!numbers)
        return NULL;
    const char *whole = written(resolver->findings->words, resolver->sources, left->span),
               *rest = written(resolver->findings->words, resolver->sources, right->span);
    bool fraction = strchr(rest, '/');
    if (node->detail == OPERATOR_DIVIDE && !fraction && !strchr(whole, '/') && !strchr(rest, '.'))
        return finding_text(resolver->findings, "%s/%s", whole, rest);
    bool joins = node->detail == OPERATOR_SUBTRACT || node->detail == OPERATOR_ADD || node->detail == OPERATOR_AND;
    bool mixed = joins && fraction && strspn(rest, "0123456789") == (size_t)(strchr(rest, '/') - rest);
    return mixed ? finding_text(resolver->findings, "%s %s", whole, rest) : NULL;
}

/* Two sides that do not go together: one of them made into what the other is. */
/* `navy + mist`, and `[navy, mist] + foam`: threads that are to be in one list; NULL if they are none. */
static const char *threads_in_one_list(Resolver *resolver, const Node *node, unsigned left, unsigned right)
{
    const Node *first = node->first, *second = node->second;
    bool listed = left == TYPE_LIST + TYPE_THREAD && first->kind == NODE_LIST && first->first;
    if (right != TYPE_THREAD || !(left == TYPE_THREAD || listed))
        return NULL;
    return finding_text(resolver->findings, "[%s, %s]",
                        listed ? items_written(resolver, first)
                               : written(resolver->findings->words, resolver->sources, first->span),
                        written(resolver->findings->words, resolver->sources, second->span));
}

/* `edge >= 6 mm`, where `edge` is turns, and `twice == 1`: the number is to be of the other side's kind. NULL if
 * it cannot be. */
static const char *literal_compared(Resolver *resolver, const Node *node, unsigned left, unsigned right,
                                    const Node **literal)
{
    bool compares = node->detail >= OPERATOR_EQUAL && node->detail <= OPERATOR_GREATER_EQUAL;
    bool on_left = node->first->kind == NODE_NUMBER;
    if (!compares || on_left == (node->second->kind == NODE_NUMBER))
        return NULL;
    *literal = on_left ? node->first : node->second;
    unsigned from = on_left ? left : right, to = on_left ? right : left;
    return as_kind(resolver, *literal, from, to);
}

/* `#22346b / #dfe9ef`: two of a list. */
static const char *colours_in_list(Resolver *resolver, const Node *node, unsigned left, unsigned right)
{
    if (left != TYPE_COLOUR || right != TYPE_COLOUR)
        return NULL;
    return finding_text(resolver->findings, "%s, %s",
                        written(resolver->findings->words, resolver->sources, node->first->span),
                        written(resolver->findings->words, resolver->sources, node->second->span));
}

static void mend_operation(Resolver *resolver, Finding *finding, const Node *node, unsigned left, unsigned right)
{
    bool scales = node->detail == OPERATOR_MULTIPLY || node->detail == OPERATOR_DIVIDE;
    if (mend_kind_of_parameter(resolver, finding, node->first, left, right)
        || mend_kind_of_parameter(resolver, finding, node->second, right, left))
        return;
    const char *number = one_number(resolver, node);
    if (number) {
        edit_to(resolver, finding, node, number, "");
        return;
    }
    const char *other = threads_in_one_list(resolver, node, left, right);
    if (!other)
        other = colours_in_list(resolver, node, left, right);
    if (other) {
        edit_to(resolver, finding, node, other, "");
        return;
    }
    const Node *literal = NULL;
    other = literal_compared(resolver, node, left, right, &literal);
    if (other) {
        edit_to(resolver, finding, literal, other, "");
        return;
    }
    bool turn_left = !scales && likelier(right, left);
    const Node *side = turn_left ? node->first : node->second;
    unsigned from = turn_left ? left : right, to = turn_left ? right : left;
    if (scales)
        to = side->kind == NODE_NUMBER ? TYPE_RATIO : TYPE_BROKEN;
    edit_to(resolver, finding, side, agreeing(resolver, side, from, turn_left ? node->second : node->first, to),
            from == TYPE_TURNS && to == TYPE_LENGTH ? "write the width that the turns take: `width(turns, thread)`"
                                                    : "give both sides a value of the same kind");
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
                                       "write the unit right after its number");
        finding_mend(resolver->findings, finding, "write `per %s`", unit_spelling(unit));
        finding_edit(resolver->findings, finding, (Span){node->first->span.end, name->span.end, name->span.file},
                     " per %s", unit_spelling(unit));
        return true;
    }
    return false;
}

/* `dark-blue`, where the name has a stroke below. */
static bool report_hyphen(Resolver *resolver, const Node *node)
{
    const Node *left = node->first, *right = node->second;
    bool names = node->detail == OPERATOR_SUBTRACT && left->kind == NODE_NAME && right->kind == NODE_NAME;
    if (!names || module_name(left) || module_name(right) || is_name_here(resolver, left->text)
        || is_name_here(resolver, right->text))
        return false;
    const char *joined = text_format(resolver->findings->words, "%s_%s", left->text->bytes, right->text->bytes);
    Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_NAME, node->span, "`%s` is not declared",
                                   written(resolver->findings->words, resolver->sources, node->span));
    const char *nearest = nearest_name(resolver, joined, NAME_OF_VALUE, 0);
    finding_label(resolver->findings, finding, "a name has no - in it");
    edit_to(resolver, finding, node, nearest ? nearest : joined, "");
    return true;
}

/* `7 - 8 mm`, which would be less than nothing: from the one to the other. */
static bool report_range(Resolver *resolver, const Node *node)
{
    const Node *left = node->first, *right = node->second;
    bool numbers = node->detail == OPERATOR_SUBTRACT && left->kind == NODE_NUMBER && right->kind == NODE_NUMBER;
    if (!numbers || unit_measure((Unit)left->detail) != MEASURE_NUMBER
        || unit_measure((Unit)right->detail) == MEASURE_NUMBER || plain_number(left) >= plain_number(right))
        return false;
    Finding *finding =
        finding_add(resolver->findings, FINDING_KINDS_DISAGREE, node->span, "this is a range: give one number");
    edit_to(resolver, finding, node, written(resolver->findings->words, resolver->sources, right->span), "");
    return true;
}

/* One side of an operation. What a name that nobody declares has to be shows from the other side. */
static unsigned infer_side(Resolver *resolver, const Node *node, Node *side, const Node *other)
{
    if (side->kind != NODE_NAME || module_name(side) || is_name_here(resolver, side->text))
        return infer(resolver, side);
    const TypeSet plain = SET(TYPE_COUNT) | SET(TYPE_RATIO);
    unsigned type = type_at_sight(resolver, other);
    bool scales = node->detail == OPERATOR_MULTIPLY || node->detail == OPERATOR_DIVIDE;
    bool truth = node->detail == OPERATOR_AND || node->detail == OPERATOR_OR;
    TypeSet set = truth                    ? SET(TYPE_TRUTH)
                  : !type_is_number(type)  ? 0
                  : !scales                ? SET(type)
                  : type_fits(type, plain) ? SET(TYPE_TURNS) | SET(TYPE_LENGTH) | plain
                                           : plain;
    resolver->wanted = set;
    unsigned found = infer(resolver, side);
    resolver->wanted = 0;
    return found;
}

static unsigned infer_operation(Resolver *resolver, Node *node)
{
    if (report_unit_alone(resolver, node) || report_hyphen(resolver, node) || report_range(resolver, node))
        return TYPE_BROKEN;
    unsigned left = infer_side(resolver, node, node->first, node->second);
    unsigned right = infer_side(resolver, node, node->second, node->first);
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
    Finding *finding = finding_add(resolver->findings, FINDING_EMPTY_LIST, list->span, "this list is empty");
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
                            argument == arguments->next, "make all of one kind");
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
        return want(resolver, first, ANY_LIST, "what `count` counts") == TYPE_BROKEN ? TYPE_BROKEN : TYPE_COUNT;
    case FUNCTION_FIRST:
    case FUNCTION_LAST:
        type = want(resolver, first, ANY_LIST, "what one is taken from");
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

/* The arguments as they are written, between commas. */
static const char *arguments_written(Resolver *resolver, const Node *arguments)
{
    const Node *last = arguments;
    while (last->next)
        last = last->next;
    return written(resolver->findings->words, resolver->sources, span_join(arguments->span, last->span));
}

/* `rgb(34, 52, 107)` */
static const char *colour_of_parts(Resolver *resolver, const Node *arguments)
{
    unsigned parts[3], count = 0;
    for (const Node *argument = arguments; argument; argument = argument->next) {
        const Node *value = argument->first;
        if (count == 3 || value->kind != NODE_NUMBER || !(value->number >= 0 && value->number <= 255))
            return NULL;
        parts[count++] = (unsigned)value->number;
    }
    return count == 3 ? finding_text(resolver->findings, "#%02x%02x%02x", parts[0], parts[1], parts[2]) : NULL;
}

/* What other notations write as a call; NULL if this is none of them. */
static const char *instead_of_call(Resolver *resolver, const Node *call)
{
    const char *name = call->first->text->bytes;
    if (!call->options)
        return NULL;
    if (strcasecmp(name, "rgb") == 0)
        return colour_of_parts(resolver, call->options);
    return strcasecmp(name, "list") == 0
               ? finding_text(resolver->findings, "[%s]", arguments_written(resolver, call->options))
               : NULL;
}

/* Functions by the names that they have elsewhere. */
static const char *function_elsewhere(const char *name)
{
    static const struct {
        const char *name;
        Function function;
    } others[] = {
        {"length", FUNCTION_COUNT},     {"len", FUNCTION_COUNT},   {"number", FUNCTION_COUNT},
        {"reversed", FUNCTION_REVERSE}, {"head", FUNCTION_FIRST},  {"tail", FUNCTION_REST},
        {"minimum", FUNCTION_MIN},      {"maximum", FUNCTION_MAX}, {"int", FUNCTION_FLOOR},
        {"whole", FUNCTION_ROUND},      {"least", FUNCTION_MIN},   {"most", FUNCTION_MAX},
    };
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcasecmp(others[i].name, name) == 0)
            return functions[others[i].function].name;
    return NULL;
}

/* `navy (light)` is navy; `fade to foam (steps: 3)` has its options behind the thread. */
static const char *without_parentheses(Resolver *resolver, const Node *call)
{
    bool options = call->options;
    for (const Node *argument = call->options; argument; argument = argument->next)
        options &= argument->text != NULL;
    const char *name = call->first->text->bytes;
    return options ? finding_text(resolver->findings, "%s %s", name, arguments_written(resolver, call->options))
                   : name;
}

static unsigned report_unknown_function(Resolver *resolver, const Node *call)
{
    const Node *name = call->first;
    const char *names[FUNCTION_NONE + 1] = {0};
    for (Function function = FUNCTION_COUNT; function < FUNCTION_NONE; function++)
        names[function] = functions[function].name;
    bool value = !module_name(name) && is_name_here(resolver, name->text);
    Finding *finding =
        finding_add(resolver->findings, FINDING_UNKNOWN_NAME, name->span,
                    value ? "`%s` takes no parentheses" : "there is no function `%s`", name->text->bytes);
    const char *instead = module_name(name) ? NULL : instead_of_call(resolver, call);
    if (instead) {
        edit_to(resolver, finding, call, instead, "");
        return TYPE_BROKEN;
    }
    if (value) {
        edit_to(resolver, finding, call, without_parentheses(resolver, call), "");
        return TYPE_BROKEN;
    }
    const char *nearest = function_elsewhere(name->text->bytes);
    if (!nearest)
        nearest = nearest_word(resolver->findings->words, name->text->bytes, names);
    finding_mend(resolver->findings, finding,
                 nearest ? "write `%s`"
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
        return report_unknown_function(resolver, node);
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
                        "this value has more than %d parts inside one another", LIMIT_EXPRESSION_DEPTH);
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
