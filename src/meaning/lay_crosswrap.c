/* Crosswraps with their strands. */
#include "meaning/lay_value.h"

#include "base/limits.h"
#include "meaning/mend.h"
#include "trade/trade.h"

#include <math.h>

/* Beyond these, crossings and bundles are so close that nobody could lay them: common practice, no source. */
enum { MOST_LEAD = 8, MOST_STARTS = 64 };

typedef LIST_OF(StrandLine) StrandLines;

/* --- strands --- */

static void add_strand(Laying *laying, StrandLines *lines, const Node *node)
{
    StrandLine line = {
        .fill = node->first->kind == NODE_FILL, .count_span = node->first->span, .span = node->span};
    if (!line.fill && !(line.count = evaluate_count(laying, node->first, 1, LIMIT_PASSES)))
        return;
    Value value;
    if (!lay_value(laying, node->second, &value))
        return;
    line.thread = value.thread;
    line.spacer = value.spacer;
    laying->strands += line.count;
    if (laying->strands > LIMIT_PASSES) {
        Finding *finding = lay_fault(
            laying, FINDING_TOO_MUCH_WORK, node->span,
            finding_text(laying->evaluator->findings, "this bundle has more than %d strands", LIMIT_PASSES));
        finding_mend(laying->evaluator->findings, finding, "use fewer strands of thicker thread");
        evaluate_no_more(laying->evaluator, finding, node->span);
        return;
    }
    for (uint32_t i = 0; line.fill && i < lines->count; i++) {
        if (!lines->items[i].fill)
            continue;
        Finding *finding =
            lay_fault(laying, FINDING_OPTIONS_EXCLUDE, node->first->span, "two backgrounds cannot fill one field");
        finding_relate(laying->evaluator->findings, finding, lines->items[i].count_span, "the other one");
        finding_mend(laying->evaluator->findings, finding, "say how many strands one of the two has, such as 4");
        finding_edit(laying->evaluator->findings, finding, node->first->span, "4");
        return;
    }
    *LIST_ADD(laying->evaluator->arena, lines) = line;
}

static void gather_strands(Laying *laying, StrandLines *lines, const Node *statements);

static void gather_for(Laying *laying, StrandLines *lines, const Node *node)
{
    Course course;
    if (!course_of(laying, node, &course))
        return;
    /* A fault comes round with the loop: it is told once. */
    for (double step = 0; step < course.count && !laying->cause; step++) {
        if (!lay_step(laying, node))
            return;
        laying->evaluator->frame[node->options->slot] = course_value(&course, step);
        gather_strands(laying, lines, node->body);
    }
}

static void gather_strands(Laying *laying, StrandLines *lines, const Node *statements)
{
    for (const Node *node = statements; node && lay_step(laying, node); node = node->next) {
        const Node *branch;
        switch (node->kind) {
        case NODE_STRAND: add_strand(laying, lines, node); break;
        case NODE_FOR: gather_for(laying, lines, node); break;
        case NODE_IF:
            if ((branch = chosen_branch(laying, node)))
                gather_strands(laying, lines, branch->body);
            break;
        case NODE_LET: lay_let(laying, node); break;
        case NODE_REQUIRE: lay_require(laying, node); break;
        default: lay_spoil(laying, node->cause, node->span); break;
        }
    }
}

/* The error that a line in its braces has, which may have been a strand: CAUSE_NONE if none has. */
static Cause fault_inside(const Findings *findings, Span span)
{
    for (uint32_t i = 0; i < findings->list.count; i++) {
        const Finding *other = &findings->list.items[i];
        if (other->severity == SEVERITY_ERROR && other->at.span.file == span.file
            && other->at.span.start >= span.start && other->at.span.end <= span.end)
            return other->number;
    }
    return CAUSE_NONE;
}

/* Some thread has to stay. */
static void require_strands(Laying *laying, const StrandLines *lines, const Node *node)
{
    Span span = header_span(node);
    for (uint32_t i = 0; i < lines->count; i++)
        if (!lines->items[i].spacer)
            return;
    Span inside = {span.end, node->span.end, node->span.file};
    Cause cause = lines->count ? CAUSE_NONE : fault_inside(laying->evaluator->findings, inside);
    if (cause)
        lay_spoil(laying, cause, span);
    if (laying->cause)
        return;
    Finding *finding =
        lay_fault(laying, FINDING_NO_STRANDS, span,
                  lines->count ? "all strands of this crosswrap are spacers" : "this crosswrap has no strands");
    finding_mend(laying->evaluator->findings, finding,
                 "write its strands in the braces: `strand 4 of` and a thread");
    const Node *ends = option_node(node->options, CROSSWRAP_ENDS);
    if (!lines->count && !node->body && ends && ends->second) {
        const Evaluator *evaluator = laying->evaluator;
        inside.start = inside.end = node->span.end - 1;
        finding_edit(evaluator->findings, finding, inside, " strand 4 of %s ",
                     written(evaluator->findings->words, evaluator->sources, ends->second->span));
    }
}

/* --- options --- */

static uint32_t count_option(Laying *laying, const Node *node, uint32_t rule, uint32_t otherwise, double most)
{
    const Node *value = option_value(node->options, rule);
    return value ? evaluate_count(laying, value, 1, most) : otherwise;
}

static uint32_t common_divisor(uint32_t a, uint32_t b)
{
    while (b) {
        uint32_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

static void take_leads(Laying *laying, const Node *node, Crosswrap *made)
{
    made->leads[0] = made->leads[1] = 1;
    const Node *value = option_value(node->options, CROSSWRAP_LEADS);
    if (!value)
        return;
    made->leads_span = value->span;
    Value list;
    if (!lay_value(laying, value, &list))
        return;
    bool good = list.list->count == 2;
    for (uint32_t i = 0; good && i < 2; i++)
        good = list.list->items[i].number >= 1 && list.list->items[i].number <= 1e6;
    if (good) {
        uint32_t out = (uint32_t)list.list->items[0].number, back = (uint32_t)list.list->items[1].number;
        uint32_t divisor = common_divisor(out, back);
        made->leads[0] = out / divisor;
        made->leads[1] = back / divisor;
        if (made->leads[0] <= MOST_LEAD && made->leads[1] <= MOST_LEAD)
            return;
    }
    Finding *finding = lay_fault(laying, FINDING_OUT_OF_RANGE, value->span,
                                 "`leads` are two whole numbers, one out and one back, in lowest terms at most 8");
    finding_mend(laying->evaluator->findings, finding, "write `[1, 1]` for two lines, `[2, 1]` for three");
    finding_edit(laying->evaluator->findings, finding, value->span, "[2, 1]");
}

/* What the spacing may be given by. */
typedef struct Way {
    uint32_t rule;
    SpacedBy by;
} Way;

static void take_spacing(Laying *laying, const Node *node, Crosswrap *made)
{
    static const Way crossing[] = {{CROSSWRAP_CROSSINGS, SPACED_BY_CROSSINGS},
                                   {CROSSWRAP_SPACING, SPACED_BY_SPACING},
                                   {CROSSWRAP_ANGLE, SPACED_BY_ANGLE}};
    static const Way spiral[] = {
        {SPIRAL_TURNS, SPACED_BY_TURNS}, {SPIRAL_LEAD, SPACED_BY_LEAD}, {CROSSWRAP_ANGLE, SPACED_BY_ANGLE}};
    const Way *ways = made->kind == CROSSWRAP_SPIRAL ? spiral : crossing;
    for (int i = 0; i < 3; i++) {
        const Way *way = &ways[i];
        if (!option_value(node->options, way->rule))
            continue;
        made->spaced_by = way->by;
        made->spaced_span = option_value_span(node, way->rule);
        SpacedRange range = spaced_range(way->by);
        made->spaced = lay_number(laying, node, way->rule, (Range){range.least, range.most, NAN});
        if (way->by == SPACED_BY_ANGLE)
            made->spaced = radians(made->spaced);
        return;
    }
    lay_spoil(laying, cause_of_options(node), node->span); /* told when names and kinds were settled */
}

static void take_ends(Laying *laying, const Node *node, Crosswrap *made)
{
    const Node *option = option_node(node->options, CROSSWRAP_ENDS);
    if (!option || !option->second) {
        lay_spoil(laying, cause_of_options(node), node->span);
        return;
    }
    if (!evaluate_extent(laying, option->first, &made->ends))
        return;
    made->ends_span = option->first->span;
    made->ends_strands = evaluate_strands(laying, option->second);
}

/* A background closes the field: `field: open` beside it contradicts it. */
static void take_field(Laying *laying, const Node *node, Crosswrap *made)
{
    bool fill = false;
    for (uint32_t i = 0; i < made->line_count; i++)
        fill |= made->lines[i].fill;
    const Node *value = option_value(node->options, CROSSWRAP_FIELD);
    made->closed = fill || option_choice(node, CROSSWRAP_FIELD, 0) == 1;
    if (!value)
        return;
    made->field_span = value->span;
    if (!fill || option_choice(node, CROSSWRAP_FIELD, 0) == 1)
        return;
    Finding *finding = lay_fault(laying, FINDING_OPTIONS_EXCLUDE, value->span,
                                 "`field: open` cannot be used beside a background that fills the field");
    finding_mend(laying->evaluator->findings, finding,
                 "write `field: closed`, or say how many strands the background has");
    finding_edit(laying->evaluator->findings, finding, value->span, "closed");
}

static void take_facing(Laying *laying, const Node *node, Crosswrap *made)
{
    made->facing = count_option(laying, node, CROSSWRAP_FACING, 1, made->leads[0] + made->leads[1]);
    if (option_value(node->options, CROSSWRAP_FACING))
        made->facing_span = option_value_span(node, CROSSWRAP_FACING);
}

/* Suggested for a crosswrap's place where no length is said, mm: common practice, no source. */
static const double usual_length = 120, usual_length_in_inches = 5 * 25.4;

/* The length that it takes has to be known. */
static void say_unknown_length(Laying *laying, Span span)
{
    if (laying->length_known)
        return;
    Evaluator *evaluator = laying->evaluator;
    const char *usual = source_length(evaluator->findings->words, evaluator->units, QUANTITY_PLACE,
                                      evaluator->units == SYSTEM_IN ? usual_length_in_inches : usual_length);
    Finding *finding = lay_fault(laying, FINDING_FILL_WITHOUT_LENGTH, span, "a crosswrap needs a length");
    finding_relate(evaluator->findings, finding, laying->place_header, "this place has no length");
    finding_mend(evaluator->findings, finding, "give the place a length: write `length: %s` after its mark",
                 usual);
    Span end = laying->place_header;
    end.start = end.end;
    finding_edit(evaluator->findings, finding, end, " length: %s", usual);
}

void lay_crosswrap(Laying *laying, const Node *node)
{
    static const CrosswrapKind kinds[NODE_KIND_COUNT] = {
#define X(name, word) [NODE_##name] = CROSSWRAP_##name,
        CROSSWRAP_TABLE(X)
#undef X
    };
    Evaluator *evaluator = laying->evaluator;
    uint32_t before = laying->items.count;
    if (before > 1 && laying->items.items[before - 1].kind == ITEM_CROSSWRAP)
        return; /* one more beside those that are one too many already */
    Crosswrap *made = arena_take(evaluator->arena, sizeof *made);
    made->kind = kinds[node->kind];
    uint64_t told = evaluator->findings->told;
    StrandLines lines = {0};
    laying->strands = 0;
    gather_strands(laying, &lines, node->body);
    made->lines = lines.items;
    made->line_count = lines.count;
    take_spacing(laying, node, made);
    take_ends(laying, node, made);
    take_field(laying, node, made);
    made->starts = count_option(laying, node, CROSSWRAP_STARTS, 1, MOST_STARTS);
    if (option_value(node->options, CROSSWRAP_STARTS))
        made->starts_span = option_value_span(node, CROSSWRAP_STARTS);
    made->leads[0] = 1;
    if (made->kind != CROSSWRAP_SPIRAL) {
        take_leads(laying, node, made);
        take_facing(laying, node, made);
    }
    made->points_to_butt = made->kind == CROSSWRAP_CHEVRON && option_choice(node, CHEVRON_POINTING, 1) == 0;
    require_strands(laying, &lines, node);
    say_unknown_length(laying, header_span(node));
    if (findings_since(evaluator->findings, told))
        lay_spoil(laying, findings_since(evaluator->findings, told), header_span(node));
    if (made->ends_strands)
        lay_item(laying, (Item){.kind = ITEM_CROSSWRAP,
                                .span = header_span(node),
                                .extent = made->ends,
                                .strands = made->ends_strands,
                                .strands_span = made->ends_span,
                                .crosswrap = made});
}
