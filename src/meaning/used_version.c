#include "meaning/used_version.h"

#include "meaning/mend.h"

static const Node *version_asked(const Use *use)
{
    for (const Node *option = use->node ? use->node->first->next : NULL; option; option = option->next)
        if (option->kind == NODE_OPTION && strcmp(option->text->bytes, "version") == 0)
            return option;
    return NULL;
}

/* What the file says; NULL if it says nothing. */
static const Node *version_said(const Module *module)
{
    for (const Node *node = module->declarations; node; node = node->next)
        if (node->kind == NODE_ABOUT)
            return option_value(node->options, ABOUT_VERSION);
    return NULL;
}

static void report(Evaluator *evaluator, const Node *option, const char *path, const Node *said,
                   const Text *version)
{
    Findings *findings = evaluator->findings;
    Finding *finding = version ? finding_add(findings, FINDING_OTHER_VERSION, option->first->span,
                                             "\"%s\" is version \"%s\"", path, version->bytes)
                               : finding_add(findings, FINDING_OTHER_VERSION, option->first->span,
                                             "\"%s\" does not say which version it is", path);
    if (!version) {
        finding_mend(findings, finding, "look at the plan; if it is as you want it, take this out");
        edit_out(findings, finding, evaluator->sources, option->span);
        return;
    }
    const char *words = written(findings->words, evaluator->sources, said->span);
    bool plain = said->kind == NODE_TEXT;
    finding_relate(findings, finding, said->span, "as it says");
    finding_mend(findings, finding, "look at the plan; if it is as you want it, write `%s`",
                 plain ? words : finding_text(findings, "\"%s\"", version->bytes));
    if (plain)
        finding_edit(findings, finding, option->first->span, "%s", words);
}

static void compare(Evaluator *evaluator, const Use *use)
{
    const Node *option = version_asked(use);
    if (!option || !use->module)
        return;
    Value asked = evaluate(evaluator, option->first);
    const Node *said = version_said(use->module);
    Value version = said ? evaluate(evaluator, said) : (Value){.type = TYPE_NOTHING};
    if (asked.type != TYPE_TEXT || version.type == TYPE_BROKEN)
        return;
    const Text *text = version.type == TYPE_TEXT ? version.text : NULL;
    if (text != asked.text)
        report(evaluator, option, use->path->bytes, said, text);
}

void compare_versions(Evaluator *evaluator, const Modules *modules)
{
    for (uint32_t i = 0; i < modules->list.count; i++)
        for (uint32_t j = 0; j < modules->list.items[i]->uses.count; j++)
            compare(evaluator, &modules->list.items[i]->uses.items[j]);
}
