#include "meaning/convert.h"

#include "meaning/likely.h"
#include "meaning/mend.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

bool is_thread(Resolver *resolver, const Text *name)
{
    const Local *local = local_find(resolver, name);
    const Declaration *declared = local ? NULL : module_own(resolver->module, name, false);
    return local ? local->type == TYPE_THREAD : declared && declared->node->kind == NODE_THREAD;
}

static unsigned type_of_number(const Node *node)
{
    static const unsigned types[] = {[MEASURE_LENGTH] = TYPE_LENGTH,
                                     [MEASURE_TURNS] = TYPE_TURNS,
                                     [MEASURE_ANGLE] = TYPE_ANGLE,
                                     [MEASURE_RATIO] = TYPE_RATIO,
                                     [MEASURE_UNKNOWN] = TYPE_BROKEN};
    Measure measure = unit_measure((Unit)node->detail);
    return measure == MEASURE_NUMBER ? node->slot ? TYPE_COUNT : TYPE_RATIO : types[measure];
}

static unsigned type_of_name(Resolver *resolver, const Node *node)
{
    if (module_name(node))
        return TYPE_BROKEN;
    const Local *local = local_find(resolver, node->text);
    if (local)
        return local->type;
    Findings unheard;
    findings_start_unheard(&unheard, resolver->findings);
    const Declaration *found = module_find(resolver->module, resolver->sizes, node, false, &unheard).declaration;
    return found && (found->node->kind != NODE_LET || found->checked == DONE) ? found->type : TYPE_BROKEN;
}

unsigned type_at_sight(Resolver *resolver, const Node *node)
{
    switch (node->kind) {
    case NODE_NUMBER: return type_of_number(node);
    case NODE_TEXT: return TYPE_TEXT;
    case NODE_COLOUR: return TYPE_COLOUR;
    case NODE_TRUTH: return TYPE_TRUTH;
    case NODE_RATE: return TYPE_RATE;
    case NODE_NAME: return type_of_name(resolver, node);
    case NODE_LIST: {
        unsigned element =
            node->first && node->first->kind != NODE_LIST ? type_at_sight(resolver, node->first) : TYPE_BROKEN;
        return element == TYPE_BROKEN ? TYPE_BROKEN : TYPE_LIST + element;
    }
    default: return TYPE_BROKEN;
    }
}

const char *thread_nearby(Resolver *resolver)
{
    if (findings_full(resolver->findings))
        return NULL;
    if (resolver->near_thread && is_thread(resolver, resolver->near_thread))
        return resolver->near_thread->bytes;
    for (uint32_t i = resolver->locals.count; i > resolver->floor; i--)
        if (resolver->locals.items[i - 1].type == TYPE_THREAD)
            return resolver->locals.items[i - 1].name->bytes;
    for (uint32_t i = 0; i < resolver->module->names.count; i++)
        if (resolver->module->names.items[i]->node->kind == NODE_THREAD)
            return resolver->module->names.items[i]->name->bytes;
    return NULL;
}

const char *only_one(const Module *module, NodeKind kind)
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

/* --- values of one kind made into another, as source text; NULL where there is no plain way --- */

const char *number_as(Resolver *resolver, const Node *node, unsigned to)
{
    static const struct {
        unsigned type;
        const char *unit;
    } units[] = {
        {TYPE_LENGTH, " mm"}, {TYPE_RATE, " per cm"}, {TYPE_ANGLE, " deg"}, {TYPE_COUNT, ""}, {TYPE_RATIO, ""},
    };
    double number = node->number / unit_factor((Unit)node->detail);
    if (node->detail == UNIT_PERCENT)
        return NULL;
    if (to == TYPE_COUNT)
        return show_number(resolver->findings->words, fmax(1, round(number)), 0);
    if (to == TYPE_TURNS)
        return show_turns(resolver->findings->words, number);
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (units[i].type == to)
            return finding_text(resolver->findings, "%s%s", show_number(resolver->findings->words, number, 6),
                                units[i].unit);
    return NULL;
}

/* The thread that has this colour; NULL if none has. */
static const char *thread_of_colour(const Resolver *resolver, double colour)
{
    for (const Node *node = resolver->module->declarations; node; node = node->next)
        for (const Node *option = node->kind == NODE_THREAD ? node->options : NULL; option; option = option->next)
            if (option->kind == NODE_OPTION && option->first->kind == NODE_COLOUR
                && option->first->number == colour)
                return node->first->text->bytes;
    return NULL;
}

/* `colour: 223344`: the # is missing. */
static const char *digits_as_colour(Resolver *resolver, const Node *node)
{
    const char *digits = written(resolver->findings->words, resolver->sources, node->span);
    return strlen(digits) == 6 && strspn(digits, "0123456789") == 6
               ? finding_text(resolver->findings, "#%s", digits)
               : NULL;
}

/* `"8 turns"`: what stands in quotes, if it is a quantity of this kind; a bare number gets its unit. */
static const char *quantity_of(Resolver *resolver, const char *text, unsigned to)
{
    const char *unit = text + strspn(text, "0123456789./ ");
    if (to == TYPE_RATE)
        return strncmp(unit, "per ", 4) == 0 ? text : NULL;
    if (!*unit)
        return to == TYPE_TURNS    ? finding_text(resolver->findings, "%s turns", text)
               : to == TYPE_LENGTH ? finding_text(resolver->findings, "%s mm", text)
               : to == TYPE_RATIO  ? text
                                   : NULL;
    static const unsigned types[] = {
        [MEASURE_NUMBER] = TYPE_BROKEN, [MEASURE_LENGTH] = TYPE_LENGTH, [MEASURE_TURNS] = TYPE_TURNS,
        [MEASURE_ANGLE] = TYPE_ANGLE,   [MEASURE_RATIO] = TYPE_RATIO,   [MEASURE_UNKNOWN] = TYPE_BROKEN};
    for (Unit one = UNIT_MM; one < UNIT_UNKNOWN; one++)
        if (strcmp(unit_spelling(one), unit) == 0)
            return types[unit_measure(one)] == to ? text : NULL;
    return NULL;
}

/* What stands in quotes, without them. */
static const char *text_as(Resolver *resolver, const Node *node, unsigned to)
{
    const char *text = node->text->bytes;
    const Declaration *declared = module_own(resolver->module, node->text, false);
    if (declared && declared->type == to)
        return text;
    if (to == TYPE_THREAD || to == TYPE_GUIDE)
        return nearest_name(resolver, text, NAME_OF_VALUE, SET(to));
    if (to == TYPE_COLOUR) {
        size_t digits = strspn(text + (*text == '#'), "0123456789abcdefABCDEF");
        bool hex = digits == 6 && !text[(*text == '#') + 6];
        const char *named = hex ? NULL : colour_meant(resolver, text);
        return hex ? finding_text(resolver->findings, "#%s", text + (*text == '#')) : named ? named : "#22346b";
    }
    if (isdigit((unsigned char)*text) && to != TYPE_COUNT)
        return quantity_of(resolver, text, to);
    if (to == TYPE_COUNT)
        return *text && strspn(text, "0123456789") == node->text->length ? text : word_as_number(text);
    return to == TYPE_TRUTH ? strcasecmp(text, "yes") == 0  ? "yes"
                              : strcasecmp(text, "no") == 0 ? "no"
                                                            : NULL
                            : NULL;
}

const char *list_of_lengths(Resolver *resolver, const Node *node, ValueSpot spot)
{
    if (node->kind != NODE_LIST)
        return NULL;
    Buffer items;
    buffer_start(&items, resolver->findings->words);
    for (const Node *item = node->first; item; item = item->next) {
        const char *length = item->kind != NODE_NUMBER ? NULL
                             : unit_measure((Unit)item->detail) == MEASURE_LENGTH
                                 ? written(resolver->findings->words, resolver->sources, item->span)
                                 : likely_length(resolver, item, spot);
        if (!length)
            return NULL;
        buffer_text(&items, items.length ? ", " : "[");
        buffer_text(&items, length);
    }
    buffer_text(&items, items.length ? "]" : "[]");
    return buffer_string(&items);
}

/* `["#22346b", "navy"]`: what stands in quotes, each without them. */
static const char *list_of_texts_as(Resolver *resolver, const Node *node, unsigned to)
{
    enum { MOST_LISTED = 16 }; /* each is looked for among all names */
    const char *text = "";
    uint32_t count = 0;
    for (const Node *item = node->first; item; item = item->next) {
        const char *one = item->kind == NODE_TEXT && count++ < MOST_LISTED ? text_as(resolver, item, to) : NULL;
        if (!one)
            return NULL;
        text = finding_text(resolver->findings, "%s%s%s", text, *text ? ", " : "", one);
    }
    return *text ? finding_text(resolver->findings, "[%s]", text) : NULL;
}

/* `[34, 52, 107]`: red, green and blue of a colour. */
static const char *list_as_colour(Resolver *resolver, const Node *node)
{
    unsigned parts[3], count = 0;
    for (const Node *item = node->first; item; item = item->next) {
        if (count == 3 || item->kind != NODE_NUMBER || !(item->number >= 0 && item->number <= 255))
            return NULL;
        parts[count++] = (unsigned)item->number;
    }
    return count == 3 ? finding_text(resolver->findings, "#%02x%02x%02x", parts[0], parts[1], parts[2]) : NULL;
}

const char *list_as(Resolver *resolver, const Node *node, unsigned from, unsigned to)
{
    if (node->kind == NODE_LIST && from == TYPE_LIST + TYPE_TEXT && type_is_list(to))
        return list_of_texts_as(resolver, node, type_element(to));
    if (node->kind == NODE_LIST && to == TYPE_COLOUR && from != TYPE_LIST + TYPE_COLOUR)
        return list_as_colour(resolver, node);
    if (to == TYPE_LIST + TYPE_LENGTH)
        return list_of_lengths(resolver, node, (ValueSpot){0});
    if (to != type_element(from))
        return NULL;
    if (node->kind != NODE_LIST)
        return finding_text(resolver->findings, "first(%s)",
                            written(resolver->findings->words, resolver->sources, node->span));
    return node->first ? written(resolver->findings->words, resolver->sources, node->first->span) : NULL;
}

static const char *as_width(Resolver *resolver, const Node *node)
{
    const char *thread = thread_nearby(resolver);
    return thread ? finding_text(resolver->findings, "width(%s, %s)",
                                 written(resolver->findings->words, resolver->sources, node->span), thread)
                  : NULL;
}

const char *list_of_two(Resolver *resolver, const char *one)
{
    const Module *module = resolver->module;
    for (uint32_t i = 0; i < module->names.count; i++)
        if (module->names.items[i]->node->kind == NODE_THREAD
            && strcmp(module->names.items[i]->name->bytes, one) != 0)
            return finding_text(resolver->findings, "[%s, %s]", one, module->names.items[i]->name->bytes);
    return finding_text(resolver->findings, "[%s]", one);
}

void mend_by_example(Resolver *resolver, Finding *finding, const Node *node, TypeSet set, ValueSpot spot)
{
    Findings *findings = resolver->findings;
    const char *thread = set & (SET(TYPE_THREAD) | SET_THREADS) ? thread_nearby(resolver) : NULL;
    const char *example = thread ? set & SET(TYPE_THREAD) ? thread : list_of_two(resolver, thread)
                          : set & SET(TYPE_GUIDE) && !findings_full(findings)
                              ? only_one(resolver->module, NODE_GUIDE)
                              : usual_value(resolver, set, spot);
    if (!example) {
        finding_mend(findings, finding, "write %s", type_set_phrase(findings->words, set));
        return;
    }
    finding_mend(findings, finding, thread ? "write a thread, such as `%s`" : "write a value such as `%s`",
                 example);
    finding_edit(findings, finding, node->span, "%s", example);
}

static const char *value_as(Resolver *resolver, const Node *node, unsigned from, unsigned to)
{
    bool simple = node->kind == NODE_NUMBER || node->kind == NODE_NAME || node->kind == NODE_CALL;
    const char *text = written(resolver->findings->words, resolver->sources, node->span);
    bool plain = from == TYPE_COUNT || from == TYPE_RATIO;
    if (from == TYPE_COUNT && to == TYPE_TURNS)
        return finding_text(resolver->findings, simple ? "%s turns" : "(%s) turns", text);
    if (plain && to == TYPE_LENGTH)
        return finding_text(resolver->findings, simple ? "%s * 1 mm" : "(%s) * 1 mm", text);
    if (from == TYPE_TURNS && to == TYPE_COUNT)
        return finding_text(resolver->findings, simple ? "round(%s / 1 turn)" : "round((%s) / 1 turn)", text);
    if (from == TYPE_TURNS && to == TYPE_LENGTH)
        return as_width(resolver, node);
    if (from == TYPE_THREAD && to == TYPE_LIST + TYPE_THREAD)
        return list_of_two(resolver, text);
    return NULL;
}

const char *as_kind(Resolver *resolver, const Node *node, unsigned from, unsigned to)
{
    if (findings_full(resolver->findings))
        return NULL; /* nobody sees it */
    if (to == TYPE_TEXT && node->kind == NODE_NUMBER)
        return finding_text(resolver->findings, "\"%s\"",
                            written(resolver->findings->words, resolver->sources, node->span));
    if (to == TYPE_TRUTH && node->kind == NODE_NUMBER)
        return node->number == 1 ? "yes" : node->number == 0 ? "no" : NULL;
    if (to == TYPE_COLOUR && node->kind == NODE_NUMBER)
        return digits_as_colour(resolver, node);
    if (node->kind == NODE_NUMBER)
        return number_as(resolver, node, to);
    if (node->kind == NODE_TEXT)
        return text_as(resolver, node, to);
    if (node->kind == NODE_COLOUR && to == TYPE_THREAD)
        return thread_of_colour(resolver, node->number);
    return type_is_list(from) ? list_as(resolver, node, from, to) : value_as(resolver, node, from, to);
}

const char *agreeing(Resolver *resolver, const Node *node, unsigned from, const Node *other, unsigned to)
{
    if (to == TYPE_LENGTH && node->kind == NODE_NUMBER && other->kind == NODE_NUMBER && from != TYPE_TURNS
        && !findings_full(resolver->findings)) {
        const char *length = likely_length(resolver, node, (ValueSpot){0});
        size_t digits = length ? strspn(length, "0123456789./ ") : 0;
        return length ? finding_text(resolver->findings, "%.*s%s", (int)digits, length,
                                     unit_spelling((Unit)other->detail))
                      : NULL;
    }
    return from == TYPE_TURNS && to == TYPE_LENGTH ? as_width(resolver, node) : as_kind(resolver, node, from, to);
}

void edit_to(Resolver *resolver, Finding *finding, const Node *node, const char *text, const char *otherwise)
{
    if (text) {
        finding_mend(resolver->findings, finding, "write `%s`", text);
        finding_edit(resolver->findings, finding, node->span, "%s", text);
    } else
        finding_mend(resolver->findings, finding, "%s", otherwise);
}
