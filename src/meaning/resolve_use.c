/* What a `use` says beside the file: which version it asks for, and which names it hands on. */
#include "meaning/resolve_parts.h"

#include "meaning/mend.h"

#include <ctype.h>

static void report_not_passed(Resolver *resolver, const Use *use, const Node *name)
{
    Findings *findings = resolver->findings;
    Finding *finding = finding_add(findings, FINDING_UNKNOWN_NAME, name->span, "\"%s\" knows no `%s`",
                                   use->path->bytes, name->text->bytes);
    if (!finding_is_kept(finding))
        return;
    Module *here = resolver->module;
    resolver->module = use->module;
    const char *near = nearest_name(resolver, name->text->bytes, NAME_OF_VALUE, ~(TypeSet)0);
    if (!near)
        near = nearest_name(resolver, name->text->bytes, NAME_OF_PATTERN, 0);
    resolver->module = here;
    finding_mend(findings, finding, near ? "write `%s`" : "take it out", near);
    if (near)
        finding_edit(findings, finding, name->span, "%s", near);
    else
        edit_out(findings, finding, resolver->sources, name->span);
}

/* One name is handed on for one thing. */
static void report_passed_twice(Resolver *resolver, const Node *name, Span other, const char *what)
{
    Findings *findings = resolver->findings;
    Finding *finding = finding_add(findings, FINDING_NAME_TWICE, name->span, what, name->text->bytes);
    finding_relate(findings, finding, other, "the other one");
    finding_mend(findings, finding, "take it out");
    edit_out(findings, finding, resolver->sources, name->span);
}

static void resolve_pass(Resolver *resolver, Module *module, Declaration *pass)
{
    Passed *passed = (Passed *)pass->value;
    Node *name = pass->node;
    Module *used = module->uses.items[passed->use].module;
    Declaration *own = module_own(module, name->text, false), *last = module_pass(module, name->text);
    uint64_t told = resolver->findings->told;
    if (own)
        report_passed_twice(resolver, name, own->node->span, "this file declares `%s` itself");
    else if (last != pass)
        report_passed_twice(resolver, name, last->node->span, "`%s` is handed on twice");
    else if (used) {
        Findings unheard;
        findings_start_unheard(&unheard, resolver->findings);
        NameFound found = module_find(used, NULL, name, true, &unheard);
        passed->of[1] = found.declaration;
        if (!passed->of[1])
            found = module_find(used, NULL, name, false, resolver->findings);
        else
            found = module_find(used, NULL, name, false, &unheard);
        passed->of[0] = found.declaration;
        if (found.unknown_in && !passed->of[1])
            report_not_passed(resolver, &module->uses.items[passed->use], name);
        if (passed->of[0] || passed->of[1])
            return;
    }
    Cause cause = findings_since(resolver->findings, told);
    if (!cause)
        cause = used ? module_refused(used, name) : module->uses.items[passed->use].refused;
    pass->cause = name->cause = cause_mark(resolver->findings, cause, name->span);
}

void resolve_passes(Resolver *resolver, Module *module)
{
    if (module->passed != UNSEEN)
        return;
    module->passed = IN_WORK;
    for (uint32_t i = 0; i < module->uses.count; i++)
        if (module->uses.items[i].module)
            resolve_passes(resolver, module->uses.items[i].module);
    for (uint32_t i = 0; i < module->passes.count; i++)
        resolve_pass(resolver, module, module->passes.items[i]);
    module->passed = DONE;
}

static void resolve_version(Resolver *resolver, Node *option)
{
    want(resolver, option->first, SET(TYPE_TEXT), "version");
}

/* Whether it can be a name. */
static bool is_word(const char *text)
{
    bool good = isalpha((unsigned char)*text) || *text == '_';
    for (; *text && good; text++)
        good = isalnum((unsigned char)*text) || *text == '_';
    return good;
}

/* `pass_on: navy`, and what is no name in the list. */
static void check_names(Resolver *resolver, Node *option)
{
    Node *list = option->first;
    uint64_t told = resolver->findings->told;
    if (list->kind == NODE_NAME) {
        Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, list->span,
                                       "`pass_on` takes a list of names, also where it is one");
        const char *one = written(resolver->findings->words, resolver->sources, list->span);
        finding_mend(resolver->findings, finding, "write `[%s]`", one);
        finding_edit(resolver->findings, finding, list->span, "[%s]", one);
        resolve_broken(resolver, list, told);
        return;
    }
    for (Node *name = list->kind == NODE_LIST ? list->first : list; name;
         name = list->kind == NODE_LIST ? name->next : NULL) {
        if (name->kind == NODE_NAME || name->kind == NODE_BROKEN)
            continue;
        told = resolver->findings->told;
        Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, name->span,
                                       "`pass_on` takes names of the used file");
        const char *word = name->kind == NODE_TEXT ? name->text->bytes : "navy";
        finding_mend(resolver->findings, finding, "write a name without quotes, such as `%s`", word);
        if (name->kind == NODE_TEXT && is_word(word))
            finding_edit(resolver->findings, finding, name->span, "%s", word);
        resolve_broken(resolver, name, told);
    }
}

void resolve_use(Resolver *resolver, Node *use)
{
    const Node *first[2] = {NULL, NULL};
    for (Node *option = use->first->next; option; option = option->next) {
        if (option->kind != NODE_OPTION)
            continue;
        bool names = strcmp(option->text->bytes, "pass_on") == 0;
        if (first[names]) {
            drop_second(resolver, first[names], option);
            continue;
        }
        first[names] = option;
        (names ? check_names : resolve_version)(resolver, option);
    }
}
