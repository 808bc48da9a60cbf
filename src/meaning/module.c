#include "meaning/module.h"

#include "meaning/type.h"

#include <string.h>

static Declaration **chain_of(const Module *module, const Text *name)
{
    return &module->chains[name->hash & (module->chain_count - 1)];
}

bool is_size(const Declaration *declaration) { return declaration->node->kind == NODE_SIZE; }

Declaration *module_own(const Module *module, const Text *name, bool size)
{
    if (!module->chain_count)
        return NULL;
    for (Declaration *one = *chain_of(module, name); one; one = one->next)
        if (one->name == name && is_size(one) == size)
            return one;
    return NULL;
}

static Node *declared_name(const Node *node)
{
    switch (node->kind) {
    case NODE_SIZE:
    case NODE_THREAD:
    case NODE_GUIDE:
    case NODE_BLANK:
    case NODE_PATTERN: return node->first;
    case NODE_LET: return node->second;
    default: return NULL;
    }
}

static unsigned declared_type(const Node *node)
{
    return node->kind == NODE_THREAD  ? TYPE_THREAD
           : node->kind == NODE_BLANK ? TYPE_BLANK
           : node->kind == NODE_GUIDE ? TYPE_GUIDE
                                      : TYPE_BROKEN;
}

static Cause report_twice(const Declaration *first, const Node *name, const Module *module, Findings *findings)
{
    Finding *finding =
        finding_add(findings, FINDING_NAME_TWICE, name->span, "`%s` is declared twice", name->text->bytes);
    finding_relate(findings, finding, declared_name(first->node)->span, "first here");
    for (unsigned number = 2; number < 100 && !findings_full(findings); number++) {
        const char *other = text_format(findings->arena, "%s_%u", name->text->bytes, number);
        bool taken = false;
        for (uint32_t i = 0; i < module->names.count && !taken; i++)
            taken = strcmp(module->names.items[i]->name->bytes, other) == 0;
        if (taken)
            continue;
        finding_mend(findings, finding, "give one of them another name, such as %s", other);
        finding_edit(findings, finding, name->span, "%s", other);
        return finding->number;
    }
    finding_mend(findings, finding, "give one of them another name");
    return finding->number;
}

void module_declare(Arena *arena, Module *module, Findings *findings)
{
    uint32_t count = 0;
    for (Node *node = module->declarations; node; node = node->next)
        count += declared_name(node) != NULL;
    for (module->chain_count = 8; module->chain_count < count; module->chain_count *= 2)
        ;
    module->chains = arena_take_many(arena, module->chain_count, sizeof *module->chains);
    for (Node *node = module->declarations; node; node = node->next) {
        Node *name = declared_name(node);
        if (!name)
            continue;
        Declaration *same = module_own(module, name->text, node->kind == NODE_SIZE);
        Declaration *declaration = arena_take(arena, sizeof *declaration);
        *declaration =
            (Declaration){.node = node, .name = name->text, .module = module, .type = declared_type(node)};
        name->target = declaration;
        *LIST_ADD(arena, &module->names) = declaration;
        if (same) {
            /* Nobody can find it under its name. */
            declaration->cause = cause_mark(findings, report_twice(same, name, module, findings), name->span);
            continue;
        }
        module->marks |= UINT64_C(1) << (name->text->hash >> 58);
        declaration->next = *chain_of(module, name->text);
        *chain_of(module, name->text) = declaration;
    }
}

static NameFound find_in_alias(const Module *module, const Node *name, bool size)
{
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (use->alias != name->first->text)
            continue;
        if (!use->module)
            return (NameFound){0}; /* the file itself is reported */
        Declaration *found = module_own(use->module, name->text, size);
        return (NameFound){found, found ? NULL : use->module};
    }
    return (NameFound){NULL, module};
}

static void report_ambiguous(const Node *name, const Use *first, const Use *second, Findings *findings)
{
    Finding *finding = finding_add(findings, FINDING_NAME_AMBIGUOUS, name->span, "two used files declare `%s`",
                                   name->text->bytes);
    finding_relate(findings, finding, first->node->span, "this one");
    finding_relate(findings, finding, second->node->span, "and this one");
    finding_mend(findings, finding, "give one of the two files a name: `use \"%s\" as other`",
                 second->path->bytes);
    Span end = second->node->span;
    end.start = end.end = second->node->first->span.end;
    finding_edit(findings, finding, end, " as other");
}

NameFound module_find(const Module *module, const Module *sizes, const Node *name, bool size, Findings *findings)
{
    if (module_name(name))
        return find_in_alias(module, name, size);
    Declaration *found = module_own(module, name->text, size);
    if (found)
        return (NameFound){found, NULL};
    const Use *giver = NULL;
    bool refused = false;
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        refused |= !use->module && !use->alias;
        if (!use->module || use->alias || !use->node || !module_may_own(use->module, name->text))
            continue; /* sizes that no `use` names come last */
        Declaration *used = module_own(use->module, name->text, size);
        if (used && found && used != found) {
            report_ambiguous(name, giver, use, findings);
            return (NameFound){0};
        }
        if (used) {
            found = used;
            giver = use;
        }
    }
    if (!found && size && sizes)
        found = module_own(sizes, name->text, true);
    /* With a used file missing, its names cannot be known: that file is the finding. */
    return (NameFound){found, found || refused ? NULL : module};
}

Cause module_refused(const Module *module, const Node *name)
{
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (!use->module && use->refused && use->alias == (module_name(name) ? name->first->text : NULL))
            return use->refused;
    }
    return CAUSE_NONE;
}

bool module_circle(Module *module, Findings *findings)
{
    if (module->checked == DONE)
        return false;
    module->checked = IN_WORK;
    bool circle = false;
    for (uint32_t i = 0; i < module->uses.count && !circle; i++) {
        Use *use = &module->uses.items[i];
        if (!use->module || !use->node)
            continue;
        if (use->module->checked == IN_WORK) {
            Finding *finding =
                finding_add(findings, FINDING_USE_CIRCLE, use->node->span,
                            "\"%s\" uses this file: files cannot use each other in a circle", use->path->bytes);
            finding_mend(findings, finding, "take this `use` out, and put what both files need into a third");
            finding_edit(findings, finding, use->node->span, "%s", "");
            circle = true;
        } else
            circle = module_circle(use->module, findings);
    }
    module->checked = DONE;
    return circle;
}
