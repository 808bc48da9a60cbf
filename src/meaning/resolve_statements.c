/* Names and kinds of statements. A new one gets its row in the table at the end. */
#include "meaning/resolve_parts.h"

#include "base/table.h"
#include "meaning/convert.h"
#include "meaning/mend.h"

Finding *not_here(Resolver *resolver, Node *node, const char *why, const char *mend)
{
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_HERE, node->span, "%s", why);
    finding_mend(resolver->findings, finding, "%s", mend);
    resolve_broken(resolver, node, told);
    return finding;
}

static const TypeSet STRANDS = SET(TYPE_THREAD) | SET_THREADS;

static void check_extent(Resolver *resolver, Node *extent, const char *whose)
{
    if (extent->kind != NODE_FILL)
        want(resolver, extent, SET(TYPE_TURNS) | SET(TYPE_LENGTH), whose);
}

/* A single name in the place of a thread is what mends nearby can speak of. */
void note_thread(Resolver *resolver, const Node *node)
{
    if (node->kind == NODE_NAME && !module_name(node))
        resolver->near_thread = node->text;
}

/* `band navy of 20 turns`: said once, not for each side. */
static bool the_wrong_way_round(Resolver *resolver, Node *node)
{
    const Node *name = node->first;
    uint64_t told = resolver->findings->told;
    if (name->kind != NODE_NAME || module_name(name) || node->second->kind != NODE_NUMBER
        || !is_thread(resolver, name->text))
        return false;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, node->first->span,
                                   "how much comes before `of`, the thread after it");
    finding_label(resolver->findings, finding, "this is a thread");
    const char *extent = written(resolver->findings->words, resolver->sources, node->second->span);
    finding_mend(resolver->findings, finding, "write `%s of %s`", extent,
                 written(resolver->findings->words, resolver->sources, node->first->span));
    finding_edit(resolver->findings, finding, span_join(node->first->span, node->second->span), "%s of %s", extent,
                 written(resolver->findings->words, resolver->sources, node->first->span));
    resolve_broken(resolver, node->first, told);
    return true;
}

/* What cannot stand in a band or crosswrap. */
static void take_out(Resolver *resolver, Node *node, Within within, const char *what)
{
    const char *holder = within == IN_BAND ? "band" : "crosswrap";
    Finding *finding = not_here(
        resolver, node, finding_text(resolver->findings, "%s in a %s", what, holder),
        finding_text(resolver->findings, "take it out of the %s's braces, or close them before it", holder));
    edit_out(resolver->findings, finding, resolver->sources, node->span);
}

void check_body(Resolver *resolver, Node *body, Within within)
{
    uint32_t count = resolver->locals.count;
    resolve_statements(resolver, body, within);
    local_leave(resolver, count);
}

static void check_band(Resolver *resolver, Node *node, Within within)
{
    if (within == IN_CROSSWRAP) {
        take_out(resolver, node, within, "a band cannot stand");
        return;
    }
    if (within == IN_BAND) {
        Finding *finding = not_here(resolver, node, "a band cannot stand in a band",
                                    "make it an inlay, or close the band's braces before it");
        finding_edit(resolver->findings, finding, node->span, "inlay %s of %s at: 1/2",
                     written(resolver->findings->words, resolver->sources, node->first->span),
                     written(resolver->findings->words, resolver->sources, node->second->span));
        return;
    }
    note_thread(resolver, node->second);
    if (!the_wrong_way_round(resolver, node)) {
        check_extent(resolver, node->first, "the extent of a band");
        want(resolver, node->second, STRANDS, "what a band is wound of");
    }
    resolve_options(resolver, node);
    const Node *weight = option_node(node->options, BAND_WEIGHT);
    if (weight && node->first->kind != NODE_FILL) {
        Finding *finding =
            finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, weight->span, "only a fill has a weight");
        finding_mend(resolver->findings, finding, "take it out, or make the extent `fill`");
        edit_out(resolver->findings, finding, resolver->sources, weight->span);
    }
    check_body(resolver, node->body, IN_BAND);
}

static void check_inlay(Resolver *resolver, Node *node, Within within)
{
    if (within == IN_CROSSWRAP) {
        take_out(resolver, node, within, "an inlay cannot stand");
        return;
    }
    if (within != IN_BAND) {
        Finding *finding = not_here(resolver, node, "an inlay stands in a band's braces",
                                    "make it a band, or put it in braces after a band");
        finding_edit(resolver->findings, finding, node->span, "band %s of %s",
                     written(resolver->findings->words, resolver->sources, node->first->span),
                     written(resolver->findings->words, resolver->sources, node->second->span));
        return;
    }
    note_thread(resolver, node->second);
    if (node->first->kind == NODE_FILL) {
        Finding *finding =
            not_here(resolver, node->first, "an inlay cannot be a fill", "say its turns, such as `2 turns`");
        finding_edit(resolver->findings, finding, node->first->span, "2 turns");
    }
    check_extent(resolver, node->first, "the extent of an inlay");
    want(resolver, node->second, STRANDS, "what an inlay is wound of");
    resolve_options(resolver, node);
    exclude(resolver, node, INLAY_AT, INLAY_EVERY);
    if (!option_node(node->options, INLAY_AT) && !option_node(node->options, INLAY_EVERY))
        missing(resolver, node, "an inlay needs to know where",
                "write `at:` and where its middle lies, such as `at: 1/2`", " at: 1/2");
}

static void check_fade(Resolver *resolver, Node *node, Within within)
{
    if (within != IN_LAYER) {
        take_out(resolver, node, within, "a fade cannot stand");
        return;
    }
    note_thread(resolver, node->second);
    resolve_options(resolver, node);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_OVER);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_RUNS);
    exclude(resolver, node, FADE_OPTION_OVER, FADE_OPTION_RUNS);
    bool ruled = option_node(node->options, FADE_OPTION_STEPS) || option_node(node->options, FADE_OPTION_OVER)
                 || option_node(node->options, FADE_OPTION_RUNS);
    if (node->kind == NODE_FADE_TO) {
        want(resolver, node->second, SET(TYPE_THREAD), "what is faded to");
        if (!ruled)
            missing(resolver, node, "a fade needs to know how",
                    "write `steps: 4`, `over:` and an extent, or `runs:`", " steps: 4");
        return;
    }
    check_extent(resolver, node->first, "the extent of a fade");
    want(resolver, node->second, SET_THREADS, "what is faded through");
    if (node->first->kind == NODE_FILL && !ruled)
        missing(resolver, node, "a fade that fills needs to know how it crosses over",
                "write `steps: 4`, or `over:` and an extent", " steps: 4");
}

static void check_gap(Resolver *resolver, Node *node, Within within)
{
    if (within != IN_LAYER) {
        take_out(resolver, node, within, "a gap cannot stand");
        return;
    }
    if (node->second) {
        want(resolver, node->first, SET(TYPE_TURNS), "a gap `of` a thread");
        want(resolver, node->second, SET(TYPE_THREAD), "whose turns a gap is as wide as");
    } else if (infer(resolver, node->first) == TYPE_TURNS) {
        uint64_t told = resolver->findings->told;
        const char *thread = thread_nearby(resolver);
        missing(resolver, node, "a gap in turns needs to know of which thread",
                "write `of` and a thread, or give the gap as a length",
                thread ? finding_text(resolver->findings, " of %s", thread) : NULL);
        resolve_broken(resolver, node->first, told);
    } else
        want(resolver, node->first, SET(TYPE_LENGTH), "a gap");
}

static void check_for(Resolver *resolver, Node *node, Within within)
{
    unsigned type = TYPE_COUNT;
    Cause cause = CAUSE_NONE;
    if (node->second) {
        want(resolver, node->first, SET(TYPE_COUNT), "the first count");
        want(resolver, node->second, SET(TYPE_COUNT), "the last count");
    } else {
        unsigned list = want(resolver, node->first, ANY_LIST, "what `for` goes through");
        type = list == TYPE_BROKEN ? TYPE_BROKEN : type_element(list);
        cause = node->first->cause;
        if (type == TYPE_NOTHING) {
            type = TYPE_BROKEN;
            cause = CAUSE_NEVER_WOUND;
        }
    }
    uint32_t count = resolver->locals.count;
    node->options->slot = local_enter(resolver, node->options->text, type, cause);
    resolve_statements(resolver, node->body, within);
    local_leave(resolver, count);
}

static void check_if(Resolver *resolver, Node *node, Within within)
{
    while (node) {
        if (node->kind == NODE_IF)
            want(resolver, node->first, SET(TYPE_TRUTH), "what `if` asks");
        check_body(resolver, node->body, within);
        node = node->kind == NODE_IF ? node->second : NULL;
    }
}

static void check_nested(Resolver *resolver, Node *node, Within within)
{
    if (within != IN_LAYER) {
        take_out(resolver, node, within,
                 within == IN_BAND ? "only inlays, for, if, let and require stand"
                                   : "only strands, for, if, let and require stand");
        return;
    }
    if (node->kind == NODE_REPEAT)
        want(resolver, node->first, SET(TYPE_COUNT), "how often it repeats");
    check_body(resolver, node->body, IN_LAYER);
}

static void check_require(Resolver *resolver, Node *node, Within within)
{
    (void)within;
    want(resolver, node->first, SET(TYPE_TRUTH), "what is required");
}

static void check_let(Resolver *resolver, Node *node, Within within)
{
    (void)within;
    unsigned type = infer(resolver, node->first);
    node->slot = local_enter(resolver, node->second->text, type, node->first->cause);
}

static void check_call(Resolver *resolver, Node *node, Within within)
{
    if (within != IN_LAYER)
        take_out(resolver, node, within, "a pattern cannot be called");
    else
        resolve_call(resolver, node);
}

static void check_nothing(Resolver *resolver, Node *node, Within within)
{
    (void)resolver;
    (void)node;
    (void)within;
}

#define CHECKS(X)                                                                                                 \
    X(BAND, check_band)                                                                                           \
    X(INLAY, check_inlay)                                                                                         \
    X(FADE_TO, check_fade)                                                                                        \
    X(FADE_OF, check_fade)                                                                                        \
    X(GAP, check_gap)                                                                                             \
    X(FOR, check_for)                                                                                             \
    X(IF, check_if)                                                                                               \
    X(REPEAT, check_nested)                                                                                       \
    X(MIRROR, check_nested)                                                                                       \
    X(SYMMETRIC, check_nested)                                                                                    \
    X(CHEVRON, check_crosswrap)                                                                                   \
    X(DIAMOND, check_crosswrap)                                                                                   \
    X(SPIRAL, check_crosswrap)                                                                                    \
    X(STRAND, check_strand)                                                                                       \
    X(REQUIRE, check_require)                                                                                     \
    X(LET, check_let)                                                                                             \
    X(CALL, check_call)                                                                                           \
    X(BROKEN, check_nothing)
_Static_assert(TABLE_ROWS(CHECKS) == TABLE_ROWS(NODE_STATEMENT_TABLE), "every statement is looked at");

void resolve_statements(Resolver *resolver, Node *statements, Within within)
{
    static void (*const checks[NODE_KIND_COUNT])(Resolver *, Node *, Within) = {
#define X(name, function) [NODE_##name] = function,
        CHECKS(X)
#undef X
    };
    for (Node *node = statements; node; node = node->next)
        checks[node->kind](resolver, node, within);
}
