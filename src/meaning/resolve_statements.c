/* Names and kinds of statements. A new one gets its row in the table at the end. */
#include "meaning/resolve_parts.h"

#include "base/table.h"
#include "meaning/content.h"
#include "meaning/convert.h"
#include "meaning/likely.h"
#include "meaning/mend.h"
#include "syntax/misplaced.h"

#include <string.h>
#include <strings.h>

Finding *not_here(Resolver *resolver, Node *node, const char *why, const char *mend)
{
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_HERE, node->span, "%s", why);
    finding_mend(resolver->findings, finding, "%s", mend);
    resolve_broken(resolver, node, told);
    return finding;
}

/* The first word of a statement. */
static Span first_word(const Resolver *resolver, const Node *node)
{
    if (node->kind == NODE_CALL)
        return node->first->span;
    const char *bytes = resolver->sources->list.items[node->span.file].bytes + node->span.start;
    Span span = node->span;
    span.end = span.start + (uint32_t)strspn(bytes, "abcdefghijklmnopqrstuvwxyz");
    return span;
}

Cause misplace(Resolver *resolver, Node *node, Cause told)
{
    if (!told && node->next && node->next->kind == NODE_BROKEN) { /* likely one fault with it */
        node->cause = cause_mark(resolver->findings, node->next->cause, node->span);
        node->type = TYPE_BROKEN;
        return CAUSE_NONE;
    }
    Span span = first_word(resolver, node);
    const char *word = written(resolver->findings->words, resolver->sources, span);
    if (!told)
        told = report_misplaced_statement(resolver->findings, (NodeKind)node->kind, span,
                                          finding_text(resolver->findings, "`%s`", word))
                   ->number;
    node->cause = cause_mark(resolver->findings, told, node->span);
    node->type = TYPE_BROKEN;
    return told;
}

static const TypeSet STRANDS = SET(TYPE_THREAD) | SET_THREADS;

/* `band 100 % of main` takes all the room that is left. */
static bool report_all_the_room(Resolver *resolver, NodeKind owner, Node *extent)
{
    if (owner != NODE_BAND || extent->kind != NODE_NUMBER || extent->detail != UNIT_PERCENT
        || plain_number(extent) != 100)
        return false;
    uint64_t told = resolver->findings->told;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, extent->span,
                                   "a band that takes all the room is a `fill`");
    finding_mend(resolver->findings, finding, "write `fill`");
    finding_edit(resolver->findings, finding, extent->span, "fill");
    resolve_broken(resolver, extent, told);
    return true;
}

static void check_extent(Resolver *resolver, NodeKind owner, Node *extent, const char *whose)
{
    if (report_all_the_room(resolver, owner, extent))
        return;
    if (extent->kind != NODE_FILL)
        want_at(resolver, extent, SET(TYPE_TURNS) | SET(TYPE_LENGTH), whose, (ValueSpot){owner, SPOT_EXTENT});
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
                                   "the width comes before `of`, the thread after it");
    finding_label(resolver->findings, finding, "this is a thread");
    const char *extent = written(resolver->findings->words, resolver->sources, node->second->span);
    finding_mend(resolver->findings, finding, "write `%s of %s`", extent,
                 written(resolver->findings->words, resolver->sources, node->first->span));
    finding_edit(resolver->findings, finding, span_join(node->first->span, node->second->span), "%s of %s", extent,
                 written(resolver->findings->words, resolver->sources, node->first->span));
    resolve_broken(resolver, node->first, told);
    return true;
}

/* Only blanks lie between the two. */
static bool is_right_behind(const Resolver *resolver, Span before, Span after)
{
    const char *bytes = resolver->sources->list.items[before.file].bytes;
    return before.file == after.file && before.end <= after.start
           && before.end + strspn(bytes + before.end, " \t\r\n") == after.start;
}

/* An inlay behind a band instead of in its braces: the edit that puts it there; false where none stands there. */
static bool mend_into_band(Resolver *resolver, Finding *finding, const Node *inlay)
{
    const Node *band = resolver->before;
    if (!band || band->kind != NODE_BAND || !is_right_behind(resolver, band->span, inlay->span))
        return false;
    const char *bytes = resolver->sources->list.items[band->span.file].bytes;
    bool braces = bytes[band->span.end - 1] == '}';
    Span span = {band->span.end - braces, inlay->span.end, band->span.file};
    finding_mend(resolver->findings, finding, "put it in the braces of the band before it");
    const char *text = written(resolver->findings->words, resolver->sources, inlay->span);
    finding_edit(resolver->findings, finding, span,
                 braces ? " inlay%s }" : " { inlay%s }", /* whatever it begins with */
                 text + strcspn(text, " \t\r\n"));
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

/* A band or inlay in a crosswrap is meant as strands. */
static void make_strand(Resolver *resolver, Node *node, const char *what)
{
    enum { MOST_STRANDS = 12 }; /* common practice, no source: of more, turns are meant */
    const Node *extent = node->first;
    if (extent->kind == NODE_NUMBER && plain_number(extent) > MOST_STRANDS) {
        take_out(resolver, node, IN_CROSSWRAP, finding_text(resolver->findings, "%s cannot stand", what));
        return;
    }
    const char *count = extent->kind == NODE_FILL ? "fill"
                        : extent->kind == NODE_NUMBER
                            ? show_number(resolver->findings->words, plain_number(extent), 0)
                            : "1";
    const char *strand = finding_text(resolver->findings, "strand %s of %s", count,
                                      written(resolver->findings->words, resolver->sources, node->second->span));
    Finding *finding =
        not_here(resolver, node, finding_text(resolver->findings, "%s cannot stand in a crosswrap", what),
                 finding_text(resolver->findings, "write `%s`", strand));
    finding_edit(resolver->findings, finding, node->span, "%s", strand);
}

/* Something right behind the statement, on its line, could not be read: it is likely the rest of it. */
static bool goes_on_unread(const Resolver *resolver, const Node *node)
{
    const char *behind = resolver->sources->list.items[node->span.file].bytes + node->span.end;
    behind += strspn(behind, " \t");
    return node->next && node->next->kind == NODE_BROKEN && !strchr("\r\n}/", *behind);
}

void check_body(Resolver *resolver, Node *body, Within within)
{
    uint32_t count = resolver->locals.count;
    resolve_statements(resolver, body, within);
    local_leave(resolver, count);
}

/* `gap 2 mm of nothing`, `band 2 mm of nothing`: read on as the gap that is meant. */
static bool report_nothing(Resolver *resolver, Node *node)
{
    static const char *const words[] = {"nothing", "bare", "none", "air", "space", "empty"};
    const Node *name = node->second;
    bool nothing = false;
    for (size_t i = 0; i < sizeof words / sizeof *words && name->kind == NODE_NAME && !module_name(name); i++)
        nothing |= strcasecmp(words[i], name->text->bytes) == 0;
    if (!nothing || is_name_here(resolver, name->text) || node->first->kind == NODE_FILL
        || infer(resolver, node->first) != TYPE_LENGTH)
        return false;
    Finding *finding =
        finding_add(resolver->findings, FINDING_WRONG_KIND, name->span, "bare blank is a gap, of no thread");
    const char *gap = written(resolver->findings->words, resolver->sources, node->first->span);
    finding_mend(resolver->findings, finding, "write `gap %s`", gap);
    finding_edit(resolver->findings, finding, (Span){node->span.start, name->span.end, node->span.file}, "gap %s",
                 gap);
    node->kind = NODE_GAP;
    node->second = NULL;
    return true;
}

static void check_band(Resolver *resolver, Node *node, Within within)
{
    if (within == IN_CROSSWRAP) {
        make_strand(resolver, node, "a band");
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
    if (!node->options && !node->body && report_nothing(resolver, node))
        return;
    note_thread(resolver, node->second);
    if (!the_wrong_way_round(resolver, node)) {
        check_extent(resolver, NODE_BAND, node->first, "the width of a band");
        want(resolver, node->second, STRANDS, "what a band is wound with");
    }
    resolve_options(resolver, node);
    const Node *weight = option_node(node->options, BAND_WEIGHT);
    if (weight && node->first->kind != NODE_FILL) {
        Finding *finding =
            finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, weight->span, "only a fill has a weight");
        finding_mend(resolver->findings, finding, "take it out, or make the width `fill`");
        edit_out(resolver->findings, finding, resolver->sources, weight->span);
    }
    check_body(resolver, node->body, IN_BAND);
}

/* `at: [1/4, 2/4, 3/4]`: an inlay for each. */
static void report_several_places(Resolver *resolver, Node *node)
{
    Node *option = node->options;
    if (!option || option->next || option->kind != NODE_OPTION || strcmp(option->text->bytes, "at") != 0
        || option->first->kind != NODE_LIST || !option->first->first || !option->first->first->next)
        return;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, option->first->span,
                                   "an inlay lies at one place, and these are several");
    Span head = {node->span.start, option->first->span.start, node->span.file};
    const char *lines = "", *before = written(resolver->findings->words, resolver->sources, head);
    for (const Node *item = option->first->first; item; item = item->next)
        lines = finding_text(resolver->findings, "%s%s%s%s", lines, *lines ? "  " : "", before,
                             written(resolver->findings->words, resolver->sources, item->span));
    finding_mend(resolver->findings, finding, "write an inlay for each: `%s`", lines);
    finding_edit(resolver->findings, finding, node->span, "%s", lines);
    option->first = option->first->first; /* read on with the first */
}

static void check_inlay(Resolver *resolver, Node *node, Within within)
{
    if (within == IN_CROSSWRAP) {
        make_strand(resolver, node, "an inlay");
        return;
    }
    if (within != IN_BAND) {
        Finding *finding = not_here(resolver, node, "an inlay belongs in a band's braces",
                                    "make it a band, or put it in the braces of a band");
        if (mend_into_band(resolver, finding, node))
            return;
        finding_edit(resolver->findings, finding, node->span, "band %s of %s",
                     written(resolver->findings->words, resolver->sources, node->first->span),
                     written(resolver->findings->words, resolver->sources, node->second->span));
        return;
    }
    note_thread(resolver, node->second);
    if (node->first->kind == NODE_FILL) {
        Finding *finding =
            not_here(resolver, node->first, "an inlay cannot be a fill", "write its turns, such as `2 turns`");
        finding_edit(resolver->findings, finding, node->first->span, "2 turns");
    }
    report_several_places(resolver, node);
    check_extent(resolver, NODE_INLAY, node->first, "the width of an inlay");
    want(resolver, node->second, STRANDS, "what an inlay is wound with");
    resolve_options(resolver, node);
    exclude(resolver, node, INLAY_AT, INLAY_EVERY);
    if (!option_node(node->options, INLAY_AT) && !option_node(node->options, INLAY_EVERY))
        missing(resolver, node, "say where the inlay lies", "write where its middle lies, such as `at: 1/2`",
                " at: 1/2");
}

static void check_fade(Resolver *resolver, Node *node, Within within)
{
    if (among_parts(within)) {
        take_out(resolver, node, within, "a fade cannot stand");
        return;
    }
    note_thread(resolver, node->second);
    resolve_options(resolver, node);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_OVER);
    exclude(resolver, node, FADE_OPTION_STEPS, FADE_OPTION_RUNS);
    exclude(resolver, node, FADE_OPTION_OVER, FADE_OPTION_RUNS);
    exclude(resolver, node, FADE_OPTION_BY, FADE_OPTION_RUNS);
    bool ruled = option_node(node->options, FADE_OPTION_STEPS) || option_node(node->options, FADE_OPTION_OVER)
                 || option_node(node->options, FADE_OPTION_RUNS);
    if (node->kind == NODE_FADE_TO) {
        want(resolver, node->second, SET(TYPE_THREAD), "the thread to fade to");
        bool called = node->second->kind == NODE_CALL && node->second->cause; /* `foam(steps: 4)` */
        if (!ruled && (called || goes_on_unread(resolver, node))) {
            Cause cause = called ? node->second->cause : node->next->cause;
            node->cause = cause_mark(resolver->findings, cause, node->span);
            node->type = TYPE_BROKEN;
        } else if (!ruled) {
            missing(resolver, node, "say how to fade",
                    "write `steps: 4`, `over:` and turns or a length, or `runs:`", " steps: 4");
        }
        return;
    }
    check_extent(resolver, NODE_FADE_OF, node->first, "the width of a fade");
    want(resolver, node->second, SET_THREADS, "what a fade goes through");
    if (node->first->kind == NODE_FILL && !ruled)
        missing(resolver, node, "say how the fade changes from thread to thread",
                "write `steps: 4`, or `over:` and turns or a length", " steps: 4");
}

static void check_gap(Resolver *resolver, Node *node, Within within)
{
    if (among_parts(within)) {
        take_out(resolver, node, within, "a gap cannot stand");
        return;
    }
    if (node->second && !report_nothing(resolver, node)) {
        want_at(resolver, node->first, SET(TYPE_TURNS), "a gap `of` a thread", (ValueSpot){NODE_GAP, SPOT_EXTENT});
        want(resolver, node->second, SET(TYPE_THREAD), "the thread of a gap");
    } else if (infer(resolver, node->first) == TYPE_TURNS && goes_on_unread(resolver, node)) {
        node->first->cause = cause_mark(resolver->findings, node->next->cause, node->first->span);
        node->first->type = TYPE_BROKEN;
    } else if (node->first->type == TYPE_TURNS) {
        uint64_t told = resolver->findings->told;
        const char *thread = thread_nearby(resolver);
        missing(resolver, node, "say which thread the turns of this gap are of",
                "write `of` and a thread, or give the gap as a length",
                thread ? finding_text(resolver->findings, " of %s", thread) : NULL);
        resolve_broken(resolver, node->first, told);
    } else
        want_at(resolver, node->first, SET(TYPE_LENGTH), "the width of a gap", (ValueSpot){NODE_GAP, SPOT_EXTENT});
}

/* `for i in 3`, `in 1-3`, `in range(1, 3)`: counts. */
static bool report_course(Resolver *resolver, Node *node)
{
    Node *course = node->first;
    if (course->kind == NODE_LIST && course->first && !course->first->next
        && course->first->kind == NODE_OPERATION)
        course = course->first; /* `in [1-3]` */
    const Node *from = NULL, *to = NULL;
    bool range = course->kind == NODE_CALL && course->options && course->options->next
                 && strcasecmp(course->first->text->bytes, "range") == 0;
    if (course->kind == NODE_NUMBER)
        to = course;
    else if (course->kind == NODE_OPERATION && course->detail == OPERATOR_SUBTRACT) {
        from = course->first;
        to = course->second;
    } else if (range) {
        from = course->options->first;
        to = course->options->next->first;
    }
    if (!to || (from && from->kind != NODE_NUMBER) || (!range && to->kind != NODE_NUMBER))
        return false;
    uint64_t told = resolver->findings->told;
    const char *text = finding_text(resolver->findings, "%s to %s",
                                    from ? written(resolver->findings->words, resolver->sources, from->span) : "1",
                                    written(resolver->findings->words, resolver->sources, to->span));
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, course->span,
                                   "`for` goes through a list, or from one count to another");
    edit_to(resolver, finding, node->first, text, "");
    resolve_broken(resolver, node->first, told);
    return true;
}

/* `for one in shades`, where `shades` is a parameter of kind `thread`: its kind is the slip. */
static bool report_one_thread(Resolver *resolver, Node *node)
{
    Node *course = node->first;
    const Local *local =
        course->kind == NODE_NAME && !module_name(course) ? local_find(resolver, course->text) : NULL;
    if (!local || local->type != TYPE_THREAD || !local->parameter)
        return false;
    uint64_t told = resolver->findings->told;
    const Node *kind = local->parameter->second;
    Finding *finding = finding_add(resolver->findings, FINDING_WRONG_KIND, course->span,
                                   "`for` goes through a list, and `%s` is one thread", course->text->bytes);
    finding_relate(resolver->findings, finding, kind->span, "the kind of `%s`", course->text->bytes);
    finding_mend(resolver->findings, finding, "write `%s: threads`", course->text->bytes);
    finding_edit(resolver->findings, finding, kind->span, "threads");
    resolve_broken(resolver, course, told);
    return true;
}

static void check_for(Resolver *resolver, Node *node, Within within)
{
    unsigned type = TYPE_COUNT, reads = resolver->reads;
    Cause cause = CAUSE_NONE;
    resolver->reads = 0;
    if (node->second) {
        want(resolver, node->first, SET(TYPE_COUNT), "the first count");
        want(resolver, node->second, SET(TYPE_COUNT), "the last count");
    } else if (report_one_thread(resolver, node)) {
        type = TYPE_THREAD;
        cause = node->first->cause;
    } else if (report_course(resolver, node)) {
        type = TYPE_COUNT; /* that is what was meant */
        cause = node->first->cause;
    } else {
        unsigned list = want(resolver, node->first, ANY_LIST, "what `for` goes through");
        type = list == TYPE_BROKEN ? TYPE_BROKEN : type_element(list);
        cause = node->first->cause;
        if (type == TYPE_NOTHING) {
            type = TYPE_BROKEN;
            cause = CAUSE_NEVER_WOUND;
        }
    }
    node->detail = (uint8_t)resolver->reads;
    resolver->reads |= reads;
    uint32_t count = resolver->locals.count;
    node->options->slot = local_enter(resolver, node->options->text, type, cause);
    resolve_statements(resolver, node->body, within);
    local_leave(resolver, count);
}

static void check_if(Resolver *resolver, Node *node, Within within)
{
    while (node) {
        unsigned reads = resolver->reads;
        resolver->reads = 0;
        if (node->kind == NODE_IF)
            want(resolver, node->first, SET(TYPE_TRUTH), "what `if` asks");
        node->detail = (uint8_t)resolver->reads;
        resolver->reads |= reads;
        check_body(resolver, node->body, within);
        node = node->kind == NODE_IF ? node->second : NULL;
    }
}

static void check_nested(Resolver *resolver, Node *node, Within within)
{
    if (among_parts(within)) {
        take_out(resolver, node, within,
                 within == IN_BAND ? "only inlays, for, if, let and require stand"
                                   : "only strands, for, if, let and require stand");
        return;
    }
    if (node->kind == NODE_REPEAT)
        want(resolver, node->first, SET(TYPE_COUNT), "the number of repeats");
    check_body(resolver, node->body, IN_LAYER);
}

static void check_require(Resolver *resolver, Node *node, Within within)
{
    (void)within;
    want(resolver, node->first, SET(TYPE_TRUTH), "what `require` asks");
}

static void check_let(Resolver *resolver, Node *node, Within within)
{
    (void)within;
    unsigned reads = resolver->reads;
    resolver->reads = 0;
    unsigned type = infer(resolver, node->first);
    node->slot = local_enter(resolver, node->second->text, type, node->first->cause);
    node->detail = (uint8_t)resolver->reads;
    resolver->locals.items[resolver->locals.count - 1].reads = resolver->reads;
    resolver->reads = reads;
}

/* A pattern of places is called in a rod, one of layers in a place, one of turns in either of the two or a layer.
 */
static void check_content_of_call(Resolver *resolver, Node *call, Within within)
{
    static const struct {
        unsigned holds;
        const char *what, *where, *mend;
    } rows[] = {
        {HOLDS_PLACES, "places", "rod", "call it in the braces of a rod, or of a pattern that a rod calls"},
        {HOLDS_LAYERS, "layers", "place", "put it into a place, as in `at 60 cm { ... }`"},
        {HOLDS_CROSSWRAP | HOLDS_TURNS, "turns", "place", "put it into a place, as in `at 60 cm { ... }`"},
    };
    static const unsigned fit[] = {[IN_ROD] = HOLDS_PLACES,
                                   [IN_SERIES] = HOLDS_LAYERS | HOLDS_CROSSWRAP | HOLDS_TURNS,
                                   [IN_PLACE] = HOLDS_LAYERS | HOLDS_CROSSWRAP | HOLDS_TURNS,
                                   [IN_LAYER] = HOLDS_CROSSWRAP | HOLDS_TURNS,
                                   [IN_PATTERN] = HOLDS_PLACES | HOLDS_LAYERS | HOLDS_CROSSWRAP | HOLDS_TURNS};
    unsigned wrong = content_of_statement(call) & ~fit[within];
    if (!wrong || call->cause)
        return;
    if (call->next && call->next->kind == NODE_BROKEN) { /* likely one fault with it */
        call->cause = cause_mark(resolver->findings, call->next->cause, call->span);
        call->target = NULL;
        return;
    }
    unsigned row = 0;
    while (!(rows[row].holds & wrong))
        row++;
    not_here(resolver, call,
             finding_text(resolver->findings, "`%s` holds %s, which stand in a %s",
                          written(resolver->findings->words, resolver->sources, call->first->span), rows[row].what,
                          rows[row].where),
             within == IN_LAYER && rows[row].holds == HOLDS_LAYERS ? "call it directly in the braces of a place"
                                                                   : rows[row].mend);
    call->target = NULL;
}

static void check_call(Resolver *resolver, Node *node, Within within)
{
    if (among_parts(within)) {
        take_out(resolver, node, within, "a pattern cannot be called");
        return;
    }
    resolve_call(resolver, node);
    check_content_of_call(resolver, node, within);
}

static void check_nothing(Resolver *resolver, Node *node, Within within)
{
    (void)resolver;
    (void)node;
    (void)within;
}

/* Where each may stand, or is met with words of its own; anywhere else it is misplaced. */
#define IN(within) (1u << IN_##within)
enum {
    WOUND = IN(SERIES) | IN(PLACE) | IN(PATTERN) | IN(LAYER) | IN(BAND) | IN(CROSSWRAP),
    ANYWHERE = WOUND | IN(ROD),
    LAYERED = IN(SERIES) | IN(PLACE) | IN(PATTERN),
};
#define CHECKS(X)                                                                                                 \
    X(BAND, check_band, WOUND)                                                                                    \
    X(INLAY, check_inlay, WOUND)                                                                                  \
    X(FADE_TO, check_fade, WOUND)                                                                                 \
    X(FADE_OF, check_fade, WOUND)                                                                                 \
    X(GAP, check_gap, WOUND)                                                                                      \
    X(FOR, check_for, ANYWHERE)                                                                                   \
    X(IF, check_if, ANYWHERE)                                                                                     \
    X(REPEAT, check_nested, WOUND)                                                                                \
    X(MIRROR, check_nested, WOUND)                                                                                \
    X(SYMMETRIC, check_nested, WOUND)                                                                             \
    X(CHEVRON, check_crosswrap, WOUND)                                                                            \
    X(DIAMOND, check_crosswrap, WOUND)                                                                            \
    X(SPIRAL, check_crosswrap, WOUND)                                                                             \
    X(STRAND, check_strand, WOUND)                                                                                \
    X(REQUIRE, check_require, ANYWHERE)                                                                           \
    X(LET, check_let, ANYWHERE)                                                                                   \
    X(CALL, check_call, ANYWHERE)                                                                                 \
    X(UNDER, resolve_layer, LAYERED)                                                                              \
    X(OVER, resolve_layer, LAYERED)                                                                               \
    X(PLACE, resolve_place, IN(ROD) | IN(SERIES) | IN(PATTERN))                                                   \
    X(SERIES, resolve_series, IN(ROD) | IN(PATTERN))                                                              \
    X(PART, resolve_part, IN(ROD) | IN(PATTERN))                                                                  \
    X(BROKEN, check_nothing, ANYWHERE)
_Static_assert(TABLE_ROWS(CHECKS) == TABLE_ROWS(NODE_STATEMENT_TABLE), "every statement is looked at");

void resolve_statements(Resolver *resolver, Node *statements, Within within)
{
    static const struct {
        void (*check)(Resolver *, Node *, Within);
        unsigned within;
    } rows[NODE_KIND_COUNT] = {
#define X(name, function, places) [NODE_##name] = {function, places},
        CHECKS(X)
#undef X
    };
    const Node *before = NULL;
    Cause misplaced = CAUSE_NONE;
    for (Node *node = statements; node; before = node, node = node->next) {
        resolver->before = before;
        if (rows[node->kind].within & 1u << within)
            rows[node->kind].check(resolver, node, within);
        else
            misplaced = misplace(resolver, node, misplaced);
    }
}
