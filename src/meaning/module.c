#include "meaning/module.h"

#include "meaning/type.h"

#include <string.h>

/* What is named in each of these ways does not meet what is named in another. */
typedef enum { AMONG_NAMES, AMONG_SIZES, AMONG_TITLES, AMONG_PASSED } NameSpace;

static NameSpace space_of(const Declaration *declaration)
{
    return declaration->node->kind == NODE_SIZE   ? AMONG_SIZES
           : declaration->node->kind == NODE_ROD  ? AMONG_TITLES
           : declaration->node->kind == NODE_NAME ? AMONG_PASSED
                                                  : AMONG_NAMES;
}

/* Many rods of one title do not hold up who looks for a thread of that name. */
static Declaration **chain_of(const Module *module, const Text *name, NameSpace space)
{
    return &module->chains[(name->hash + space) & (module->chain_count - 1)];
}

/* The first one from here on. */
static Declaration *find_in_chain(Declaration *one, const Text *name, NameSpace space)
{
    while (one && !(one->name == name && space_of(one) == space))
        one = one->next;
    return one;
}

Declaration *module_own(const Module *module, const Text *name, bool size)
{
    NameSpace space = size ? AMONG_SIZES : AMONG_NAMES;
    return module->chain_count ? find_in_chain(*chain_of(module, name, space), name, space) : NULL;
}

Declaration *module_rod(const Module *module, const Text *title, const Declaration *after)
{
    if (after)
        return find_in_chain(after->next, title, AMONG_TITLES);
    return module->chain_count ? find_in_chain(*chain_of(module, title, AMONG_TITLES), title, AMONG_TITLES) : NULL;
}

Declaration *module_pass(const Module *module, const Text *name)
{
    return module->passes.count ? find_in_chain(*chain_of(module, name, AMONG_PASSED), name, AMONG_PASSED) : NULL;
}

static Declaration *passed_on(const Module *module, const Text *name, bool size)
{
    const Declaration *pass = module_pass(module, name);
    return pass ? ((const Passed *)pass->value)->of[size] : NULL;
}

Declaration *module_gives(const Module *module, const Text *name, bool size)
{
    Declaration *own = module_own(module, name, size);
    return own ? own : passed_on(module, name, size);
}

Node *names_passed_on(const Node *use)
{
    for (const Node *option = use->first->next; option; option = option->next)
        if (option->kind == NODE_OPTION && strcmp(option->text->bytes, "pass_on") == 0
            && option->first->kind == NODE_LIST)
            return option->first->first;
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

static void put_into_chain(Module *module, Declaration *declaration)
{
    Declaration **chain = chain_of(module, declaration->name, space_of(declaration));
    declaration->next = *chain;
    *chain = declaration;
}

/* Titles are no names: several rods may have one, and nothing is looked for among them but what a rod is like. */
static void declare_rod(Arena *arena, Module *module, Node *node)
{
    Declaration *declaration = arena_take(arena, sizeof *declaration);
    *declaration = (Declaration){.node = node, .name = node->first->text, .module = module};
    node->first->target = declaration;
    put_into_chain(module, declaration);
}

static void declare_passes(Arena *arena, Module *module, Node *use, uint32_t index)
{
    for (Node *name = names_passed_on(use); name; name = name->next) {
        if (name->kind != NODE_NAME)
            continue;
        Passed *passed = arena_take(arena, sizeof *passed);
        passed->use = index;
        Declaration *pass = arena_take(arena, sizeof *pass);
        *pass = (Declaration){.node = name, .name = name->text, .module = module, .value = passed};
        *LIST_ADD(arena, &module->passes) = pass;
        module->marks |= UINT64_C(1) << (name->text->hash >> 58);
        put_into_chain(module, pass);
    }
}

/* So many at most are entered. */
static uint32_t count_of_entries(const Module *module)
{
    uint32_t count = 0;
    for (Node *node = module->declarations; node; node = node->next) {
        count += declared_name(node) || node->kind == NODE_ROD;
        for (const Node *name = node->kind == NODE_USE ? names_passed_on(node) : NULL; name; name = name->next)
            count++;
    }
    return count;
}

void module_declare(Arena *arena, Module *module, Findings *findings)
{
    uint32_t count = count_of_entries(module), uses = 0;
    for (module->chain_count = 8; module->chain_count < count; module->chain_count *= 2)
        ;
    module->chains = arena_take_many(arena, module->chain_count, sizeof *module->chains);
    for (Node *node = module->declarations; node; node = node->next) {
        Node *name = declared_name(node);
        if (node->kind == NODE_ROD)
            declare_rod(arena, module, node);
        if (node->kind == NODE_USE)
            declare_passes(arena, module, node, uses++);
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
        put_into_chain(module, declaration);
    }
}

/* Why a name that the module hands on stands for nothing. */
static Cause cause_of_pass(const Module *module, const Text *name)
{
    const Declaration *pass = module_pass(module, name);
    return pass ? pass->cause : CAUSE_NONE;
}

static NameFound find_in_alias(const Module *module, const Node *name, bool size)
{
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (use->alias != name->first->text)
            continue;
        if (!use->module)
            return (NameFound){0}; /* the file itself is reported */
        Declaration *found = module_gives(use->module, name->text, size);
        return (NameFound){found, found || cause_of_pass(use->module, name->text) ? NULL : use->module};
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
    Declaration *found = module_gives(module, name->text, size);
    if (found)
        return (NameFound){found, NULL};
    const Use *giver = NULL;
    bool refused = cause_of_pass(module, name->text);
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        refused |= !use->module && !use->alias;
        if (!use->module || use->alias || !use->node || !module_may_own(use->module, name->text))
            continue; /* sizes that no `use` names come last */
        Declaration *used = module_gives(use->module, name->text, size);
        refused |= cause_of_pass(use->module, name->text) != CAUSE_NONE;
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
    Cause cause = cause_of_pass(module, name->text);
    for (uint32_t i = 0; i < module->uses.count && !cause; i++) {
        const Use *use = &module->uses.items[i];
        if (use->alias != (module_name(name) ? name->first->text : NULL))
            continue;
        cause = use->module ? cause_of_pass(use->module, name->text) : use->refused;
    }
    return cause;
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
