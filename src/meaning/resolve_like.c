/* A rod like another: which one that is, and that what it puts in the place of something is of that kind. */
#include "meaning/resolve_parts.h"

#include "base/limits.h"
#include "meaning/mend.h"

/* --- which rod --- */

/* Two are enough to be one too many; as they stand in the file. */
typedef struct RodsFound {
    Declaration *first, *second;
} RodsFound;

static void add_rods(RodsFound *found, const Module *module, const Text *title, const Node *but)
{
    for (Declaration *one = NULL; !found->second && (one = module_rod(module, title, one));)
        if (one->node != but && one != found->first)
            *(found->first ? &found->second : &found->first) = one;
    if (found->second && found->second->module == found->first->module
        && found->second->node->span.start < found->first->node->span.start)
        *found = (RodsFound){found->second, found->first};
}

/* The file's own rods come before those of used files, as its names do. */
static RodsFound find_rods(const Module *module, const Text *title, const Node *but)
{
    RodsFound found = {0};
    add_rods(&found, module, title, but);
    if (found.first)
        return found;
    for (uint32_t i = 0; i < module->uses.count && !found.second; i++)
        if (module->uses.items[i].module)
            add_rods(&found, module->uses.items[i].module, title, but);
    return found;
}

/* Where something of the file could not be read, and no title is near, that may have been the `use`. */
static Cause report_no_rod(Resolver *resolver, const Declaration *rod, const Node *like)
{
    Findings *findings = resolver->findings;
    const char *near = nearest_rod(resolver, like->text, rod->node);
    if (!near && rod->module->tree->cause)
        return rod->module->tree->cause;
    Finding *finding = finding_add(findings, FINDING_ROD_UNKNOWN, like->span, "there is no%s rod of this title",
                                   like->text == rod->name ? " other" : "");
    finding_label(findings, finding, "the title of a rod in this file, or in one that it uses, belongs here");
    if (near) {
        finding_mend(findings, finding, "write `%s`", near);
        finding_edit(findings, finding, like->span, "%s", near);
    } else
        finding_mend(findings, finding, "`use` the file that has the rod");
    return finding->number;
}

static Cause report_two_rods(Resolver *resolver, const Node *like, RodsFound found)
{
    Findings *findings = resolver->findings;
    Finding *finding = finding_add(findings, FINDING_ROD_AMBIGUOUS, like->span, "two rods have this title");
    finding_relate(findings, finding, found.first->node->first->span, "this one");
    finding_relate(findings, finding, found.second->node->first->span, "and this one");
    bool own = found.second->module == resolver->module;
    finding_mend(findings, finding,
                 own ? "give one of them another title"
                     : "use only the file that has the one you mean, and for the other write a file of its own");
    Span end = found.second->node->first->span;
    end.start = --end.end;
    if (own)
        finding_edit(findings, finding, end, " (2)");
    return finding->number;
}

/* Why a used file that may hold the rod could not be had. */
static Cause any_refused(const Module *module)
{
    for (uint32_t i = 0; i < module->uses.count; i++)
        if (!module->uses.items[i].module && module->uses.items[i].refused)
            return module->uses.items[i].refused;
    return CAUSE_NONE;
}

/* The rod that this one is like, looked up once; NULL, with the cause, if it is none. */
static Declaration *rod_liked(Resolver *resolver, Declaration *rod)
{
    Node *like = rod->node->first->next;
    if (rod->checked == DONE)
        return (Declaration *)like->target;
    rod->checked = DONE;
    Module *here = resolver->module;
    resolver->module = rod->module;
    RodsFound found = find_rods(rod->module, like->text, rod->node);
    Cause cause = found.first ? CAUSE_NONE : any_refused(rod->module);
    if (found.second)
        cause = report_two_rods(resolver, like, found);
    else if (!found.first && !cause)
        cause = report_no_rod(resolver, rod, like);
    resolver->module = here;
    if (found.first && !found.second)
        like->target = found.first;
    else
        like->cause = cause_mark(resolver->findings, cause, like->span);
    return (Declaration *)like->target;
}

/* The rods one behind the other come to an end; where they do not, the one that closes the circle is like none. */
static void check_chain(Resolver *resolver, Declaration *rod)
{
    Declaration *met[LIMIT_CALL_DEPTH];
    uint32_t count = 0;
    for (Declaration *next = rod; next && next->node->first->next; next = rod_liked(resolver, next)) {
        Findings *findings = resolver->findings;
        Node *like = rod->node->first->next;
        Finding *finding = NULL;
        bool circle = false;
        for (uint32_t i = 0; i < count; i++)
            circle |= met[i] == next;
        if (circle) {
            like = met[count - 1]->node->first->next;
            finding = finding_add(findings, FINDING_ROD_CIRCLE, like->span,
                                  "this rod is like one that is like it: they go round in a circle");
            finding_relate(findings, finding, next->node->first->next->span, "and that is like this");
            finding_mend(findings, finding, "write out the places of one of them");
        } else if (count == LIMIT_CALL_DEPTH) {
            finding = finding_add(findings, FINDING_NESTED_TOO_DEEP, like->span,
                                  "rods are like one another more than %d deep", LIMIT_CALL_DEPTH);
            finding_mend(findings, finding, "make this one like a rod that has its places written out");
        }
        if (finding) {
            like->target = NULL;
            like->cause = cause_mark(findings, finding->number, like->span);
            return;
        }
        met[count++] = next;
    }
}

/* --- its swaps --- */

static unsigned type_of_swapped(Resolver *resolver, Declaration *found)
{
    switch (found->node->kind) {
    case NODE_PATTERN: return TYPE_NOTHING;
    case NODE_LET: return resolve_let(resolver, found);
    default: return found->type;
    }
}

/* `plum: navy`, where theirs is navy: the two in the other order. */
static bool are_exchanged(Resolver *resolver, const Module *theirs, const Node *swap)
{
    Findings unheard;
    findings_start_unheard(&unheard, resolver->findings);
    return swap->second->kind == NODE_NAME && is_name_here(resolver, swap->first->text)
           && !module_name(swap->first)
           && module_find(theirs, resolver->sizes, swap->second, false, &unheard).declaration;
}

static void report_unknown(Resolver *resolver, Module *theirs, const Node *swap, const Text *title)
{
    Findings *findings = resolver->findings;
    const Node *name = swap->first;
    Finding *finding = finding_add(findings, FINDING_UNKNOWN_NAME, name->span, "the file of \"%s\" knows no `%s`",
                                   title->bytes, written(findings->words, resolver->sources, name->span));
    if (!finding_is_kept(finding))
        return;
    if (are_exchanged(resolver, theirs, swap)) {
        const char *ours = written(findings->words, resolver->sources, name->span);
        const char *other = written(findings->words, resolver->sources, swap->second->span);
        finding_mend(findings, finding, "write its name first: `%s: %s`", other, ours);
        finding_edit(findings, finding, swap->span, "%s: %s", other, ours);
        return;
    }
    Module *here = resolver->module;
    resolver->module = theirs;
    const char *near = nearest_name(resolver, name->text->bytes, NAME_OF_VALUE, ~(TypeSet)0);
    resolver->module = here;
    if (near) {
        finding_mend(findings, finding, "write `%s`", near);
        finding_edit(findings, finding, name->span, "%s", near);
    } else {
        finding_mend(findings, finding, "name something that is used there, or take this out");
        edit_out(findings, finding, resolver->sources, swap->span);
    }
}

static void resolve_swap(Resolver *resolver, Declaration *liked, Node *swap)
{
    uint64_t told = resolver->findings->told;
    Node *name = swap->first;
    if (!module_name(name)) /* its colon is no part of it */
        name->span.end = name->span.start + name->text->length;
    NameFound found = module_find(liked->module, resolver->sizes, name, false, resolver->findings);
    if (found.unknown_in)
        report_unknown(resolver, liked->module, swap, liked->name);
    unsigned type = found.declaration ? type_of_swapped(resolver, found.declaration) : TYPE_BROKEN;
    if (type == TYPE_NOTHING) {
        Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, name->span,
                                       "`%s` is a pattern, which cannot be swapped", name->text->bytes);
        finding_label(resolver->findings, finding, "threads, guides, blanks and values can");
        finding_mend(resolver->findings, finding, "take it out, and swap what it winds with");
        edit_out(resolver->findings, finding, resolver->sources, swap->span);
    }
    if (!found.declaration || type == TYPE_NOTHING) {
        infer(resolver, swap->second);
        swap->cause = module_refused(liked->module, name);
        resolve_broken(resolver, swap, told);
        return;
    }
    name->target = found.declaration;
    if (type == TYPE_BROKEN) /* told where it is declared */
        infer(resolver, swap->second);
    else
        want(resolver, swap->second, SET(type),
             text_format(resolver->arena, "what stands for `%s`", name->text->bytes));
}

void resolve_like(Resolver *resolver, Node *rod)
{
    Declaration *own = (Declaration *)rod->first->target;
    check_chain(resolver, own);
    Declaration *liked = (Declaration *)rod->first->next->target;
    for (Node *swap = rod->body; swap; swap = swap->next)
        if (swap->kind == NODE_SWAP && liked)
            resolve_swap(resolver, liked, swap);
        else if (swap->kind == NODE_SWAP)
            infer(resolver, swap->second);
}
