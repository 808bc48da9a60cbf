#include "meaning/convert.h"

#include "meaning/mend.h"

#include <string.h>

bool is_thread(Resolver *resolver, const Text *name)
{
    const Local *local = local_find(resolver, name);
    const Declaration *declared = local ? NULL : module_own(resolver->module, name, false);
    return local ? local->type == TYPE_THREAD : declared && declared->node->kind == NODE_THREAD;
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

/* --- values of one kind made into another, as source text; NULL where there is no plain way --- */

const char *number_as(Resolver *resolver, const Node *node, unsigned to)
{
    static const struct {
        unsigned type;
        const char *unit;
    } units[] = {
        {TYPE_TURNS, " turns"}, {TYPE_LENGTH, " mm"}, {TYPE_RATE, " per cm"},
        {TYPE_ANGLE, " deg"},   {TYPE_COUNT, ""},     {TYPE_RATIO, ""},
    };
    double number = node->number / unit_factor((Unit)node->detail);
    if (node->detail == UNIT_PERCENT || (to == TYPE_COUNT && number != (double)(long)number))
        return NULL;
    if (to == TYPE_TURNS)
        return show_turns(resolver->findings->words, number);
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (units[i].type == to)
            return finding_text(resolver->findings, "%s%s", show_number(resolver->findings->words, number, 6),
                                units[i].unit);
    return NULL;
}

static const char *text_as(Resolver *resolver, const Node *node, unsigned to)
{
    const Declaration *declared =
        to == TYPE_THREAD || to == TYPE_GUIDE ? module_own(resolver->module, node->text, false) : NULL;
    if (declared && declared->type == to)
        return node->text->bytes;
    return to == TYPE_COLOUR ? "#22346b" : NULL;
}

const char *list_as(Resolver *resolver, const Node *node, unsigned from, unsigned to)
{
    if (to == TYPE_LIST + TYPE_LENGTH && node->kind == NODE_LIST) {
        Buffer items;
        buffer_start(&items, resolver->findings->words);
        for (const Node *item = node->first; item; item = item->next) {
            const char *length = item->kind == NODE_NUMBER ? number_as(resolver, item, TYPE_LENGTH) : NULL;
            if (!length)
                return NULL;
            buffer_text(&items, items.length ? ", " : "[");
            buffer_text(&items, length);
        }
        buffer_text(&items, items.length ? "]" : "[]");
        return buffer_string(&items);
    }
    if (to != type_element(from))
        return NULL;
    if (node->kind != NODE_LIST)
        return finding_text(resolver->findings, "first(%s)",
                            written(resolver->findings->words, resolver->sources, node->span));
    return node->first && !node->first->next
               ? written(resolver->findings->words, resolver->sources, node->first->span)
               : NULL;
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
    if (node->kind == NODE_NUMBER)
        return number_as(resolver, node, to);
    if (node->kind == NODE_TEXT)
        return text_as(resolver, node, to);
    return type_is_list(from) ? list_as(resolver, node, from, to) : value_as(resolver, node, from, to);
}

const char *agreeing(Resolver *resolver, const Node *node, unsigned from, unsigned to)
{
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
