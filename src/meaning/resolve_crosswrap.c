/* Names and kinds of crosswraps and their strands. */
#include "meaning/resolve_parts.h"

#include "meaning/convert.h"
#include "meaning/job.h"
#include "meaning/likely.h"
#include "meaning/mend.h"

#include <string.h>

/* Right behind the statement's first word: there an option can always be written. */
static Span behind_the_word(const Node *node)
{
    static const uint32_t lengths[NODE_KIND_COUNT] = {
#define X(name, word) [NODE_##name] = sizeof word - 1,
        CROSSWRAP_TABLE(X)
#undef X
    };
    uint32_t end = node->span.start + lengths[node->kind];
    return (Span){end, end, node->span.file};
}

static void option_missing(Resolver *resolver, Node *node, const char *what, const char *mend, const char *edit)
{
    uint64_t told = resolver->findings->told;
    Span word = behind_the_word(node);
    word.start = node->span.start;
    Finding *finding = finding_add(resolver->findings, FINDING_OPTION_MISSING, word, "%s", what);
    finding_mend(resolver->findings, finding, "%s", mend);
    finding_edit(resolver->findings, finding, behind_the_word(node), "%s", edit);
    resolve_broken(resolver, node, told);
}

/* `ends: [12 turns, navy]` */
static void report_ends_as_list(Resolver *resolver, Node *option)
{
    Node *list = option->first;
    Node *width = list->kind == NODE_LIST ? list->first : NULL, *thread = width ? width->next : NULL;
    if (option->second || !thread || thread->next || thread->kind != NODE_NAME || width->kind != NODE_NUMBER)
        return;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, list->span,
                                   "end bands are a width `of` a thread, not a list");
    edit_to(resolver, finding, list,
            finding_text(resolver->findings, "%s of %s",
                         written(resolver->findings->words, resolver->sources, width->span),
                         written(resolver->findings->words, resolver->sources, thread->span)),
            "");
    option->first = width; /* read on as it is meant */
    option->second = thread;
    width->next = NULL;
}

/* `ends:` and no other option is of a thread. */
static void check_ends(Resolver *resolver, Node *node)
{
    const char *thread = thread_nearby(resolver);
    for (Node *option = node->options; option; option = option->next) {
        bool ends = option->slot == CROSSWRAP_ENDS;
        if (option->slot == UINT32_MAX)
            continue; /* unknown or given twice: reported */
        if (ends && option->second) {
            want(resolver, option->second, SET(TYPE_THREAD), "the thread of an end band");
        } else if (ends && option->first->type == TYPE_BROKEN) {
            option->slot = UINT32_MAX; /* what stands there is broken for a reason of its own */
            option->cause = option->first->cause;
        } else if (ends) {
            missing(resolver, option, "say which thread the end bands are wound with",
                    "write `of` and a thread after it",
                    thread ? finding_text(resolver->findings, " of %s", thread) : NULL);
            option->slot = UINT32_MAX;
        } else if (option->second) {
            Finding *finding = finding_add(resolver->findings, FINDING_NOT_HERE, option->second->span,
                                           "`%s` is not of a thread; only `ends` is", option->text->bytes);
            finding_mend(resolver->findings, finding, "take it out");
            finding_edit(resolver->findings, finding,
                         (Span){option->first->span.end, option->second->span.end, option->span.file}, "%s", "");
        }
    }
    bool written = false;
    for (const Node *option = node->options; option; option = option->next)
        written |= option->slot == CROSSWRAP_ENDS || strcmp(option->text->bytes, "ends") == 0;
    if (!written)
        option_missing(resolver, node, "a crosswrap needs end bands, which hold its cut strands",
                       "say how wide and of which thread: `ends: 12 turns of` and a thread",
                       finding_text(resolver->findings, " ends: 12 turns of %s", thread ? thread : "navy"));
}

/* What gives the spacing: just one of these. */
static void check_spacing(Resolver *resolver, Node *node)
{
    bool spiral = node->kind == NODE_SPIRAL;
    const uint32_t ways[] = {CROSSWRAP_ANGLE, spiral ? (uint32_t)SPIRAL_TURNS : (uint32_t)CROSSWRAP_CROSSINGS,
                             spiral ? (uint32_t)SPIRAL_LEAD : (uint32_t)CROSSWRAP_SPACING};
    for (int i = 0; i < 3; i++)
        for (int j = i + 1; j < 3; j++)
            exclude(resolver, node, ways[i], ways[j]);
    for (int i = 0; i < 3; i++)
        if (option_node(node->options, ways[i]))
            return;
    for (const Node *option = node->options; option; option = option->next)
        if (option->slot == UINT32_MAX)
            return; /* what was meant by that is not known */
    if (spiral)
        option_missing(resolver, node, "say how steep the spiral is",
                       "write `turns:`, `lead:` or `angle:`, such as `turns: 4 turns`", " turns: 4 turns");
    else
        option_missing(resolver, node, "say how far apart the crossings are",
                       "write `crossings:`, `spacing:` or `angle:`, such as `crossings: 4`", " crossings: 4");
}

/* The threads of its strands are what mends can name. */
static void note_strands(Resolver *resolver, const Node *body)
{
    for (const Node *node = body; node; node = node->next)
        if (node->kind == NODE_STRAND)
            note_thread(resolver, node->second);
}

void check_crosswrap(Resolver *resolver, Node *node, Within within)
{
    if (among_parts(within)) {
        const char *holder = within == IN_BAND ? "band" : "crosswrap";
        Finding *finding = not_here(
            resolver, node, finding_text(resolver->findings, "a crosswrap cannot stand in a %s", holder),
            finding_text(resolver->findings, "take it out of the %s's braces, or close them before it", holder));
        edit_out(resolver->findings, finding, resolver->sources, node->span);
        return;
    }
    note_strands(resolver, node->body);
    for (Node *option = node->options; option; option = option->next)
        if (strcmp(option->text->bytes, "ends") == 0)
            report_ends_as_list(resolver, option);
    resolve_options(resolver, node);
    check_ends(resolver, node);
    check_spacing(resolver, node);
    check_body(resolver, node->body, IN_CROSSWRAP);
}

static bool is_spacer_word(const Node *node)
{
    return node->kind == NODE_NAME && !module_name(node) && strcmp(node->text->bytes, "spacer") == 0;
}

/* `strand spacer of navy` */
static void report_spacer(Resolver *resolver, Node *node)
{
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, node->first->span,
                                   "the number of strands comes before `of`, `spacer(...)` after it");
    const char *thread = written(resolver->findings->words, resolver->sources, node->second->span);
    finding_mend(resolver->findings, finding, "write `1 of spacer(%s)`", thread);
    finding_edit(resolver->findings, finding, span_join(node->first->span, node->second->span), "1 of spacer(%s)",
                 thread);
    resolve_broken(resolver, node->first, told);
    resolve_broken(resolver, node->second, told);
}

void check_strand(Resolver *resolver, Node *node, Within within)
{
    if (within != IN_CROSSWRAP) {
        Finding *finding =
            not_here(resolver, node, "a strand belongs in the braces of a chevron, diamond or spiral",
                     "make it a band, or put it into a crosswrap's braces");
        bool plain = node->first->kind == NODE_NUMBER;
        bool measured = plain && node->first->detail != UNIT_NONE;
        const char *count = written(resolver->findings->words, resolver->sources, node->first->span);
        if (within == IN_BAND)
            edit_out(resolver->findings, finding, resolver->sources, node->span);
        else
            finding_edit(resolver->findings, finding, node->span, "band %s of %s",
                         node->first->kind == NODE_FILL ? "fill"
                                                        : finding_text(resolver->findings,
                                                                       measured ? "%s"
                                                                       : plain  ? "%s turns"
                                                                                : "(%s) turns",
                                                                       count),
                         written(resolver->findings->words, resolver->sources, node->second->span));
        return;
    }
    note_thread(resolver, node->second);
    if (is_spacer_word(node->first)) {
        report_spacer(resolver, node);
        return;
    }
    if (node->first->kind != NODE_FILL)
        want_at(resolver, node->first, SET(TYPE_COUNT), "the number of strands",
                (ValueSpot){NODE_STRAND, SPOT_EXTENT});
    want(resolver, node->second, SET(TYPE_THREAD), "the thread of a strand");
}
