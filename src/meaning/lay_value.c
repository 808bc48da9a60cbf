/* What statements are made of: extents, strands, counts, loops. */
#include "meaning/lay_value.h"

#include "base/limits.h"
#include "base/whole.h"
#include "meaning/mend.h"

#include <math.h>

Span header_span(const Node *node)
{
    Span span = node->span;
    const Node *last = node->second ? node->second : node->first;
    for (const Node *option = node->options; option; option = option->next)
        if (option->span.file == node->span.file && option->span.start >= node->span.start) /* not a series' own */
            last = option;
    if (last)
        span.end = last->span.end;
    return span;
}

void lay_spoil(Laying *laying, Cause cause, Span span)
{
    cause = cause_mark(laying->evaluator->findings, cause, span);
    if (!laying->cause)
        laying->cause = cause;
}

Finding *lay_fault(Laying *laying, FindingCode code, Span span, const char *what)
{
    Finding *finding = finding_add(laying->evaluator->findings, code, span, "%s", what);
    lay_spoil(laying, finding->number, span);
    if (laying->evaluator->call)
        finding_relate(laying->evaluator->findings, finding, laying->evaluator->call->span, "called here");
    return finding;
}

bool lay_fits(Laying *laying, double more, Span span)
{
    Findings *findings = laying->evaluator->findings;
    if ((double)laying->evaluator->items + more <= LIMIT_ITEMS)
        return true;
    if (laying->evaluator->stopped) { /* said already, of what is repeated in this */
        lay_spoil(laying, laying->evaluator->stop, span);
        return false;
    }
    Finding *finding = finding_add(findings, FINDING_TOO_MUCH_WORK, span,
                                   "this file has more than %s bands, fades, gaps and inlays",
                                   show_count(findings->words, LIMIT_ITEMS));
    finding_mend(findings, finding, "use fewer repeats");
    evaluate_no_more(laying->evaluator, finding, span);
    lay_spoil(laying, finding->number, span);
    return false;
}

Item *lay_item(Laying *laying, Item item)
{
    if (!lay_fits(laying, 1, item.span))
        return NULL;
    laying->evaluator->items++;
    Item *added = LIST_ADD(laying->evaluator->arena, &laying->items);
    *added = item;
    return added;
}

/* The list as source text, its first thread to stay. */
static const char *without_spacer(Evaluator *evaluator, Value value)
{
    Buffer text;
    buffer_start(&text, evaluator->findings->words);
    for (uint32_t i = 0; i < value.list->count; i++) {
        buffer_text(&text, i ? ", spacer(" : "[");
        buffer_text(&text, value.list->items[i].thread->name->bytes);
        buffer_text(&text, i ? ")" : "");
    }
    buffer_text(&text, "]");
    return buffer_string(&text);
}

bool lay_steps(Laying *laying, uint64_t count, Span span)
{
    if (evaluate_steps(laying->evaluator, count, span))
        return true;
    lay_spoil(laying, laying->evaluator->stop, span);
    return false;
}

bool lay_value(Laying *laying, const Node *node, Value *value)
{
    *value = evaluate(laying->evaluator, node);
    if (value->type == TYPE_BROKEN)
        lay_spoil(laying, value->cause, node->span);
    return value->type != TYPE_BROKEN;
}

double lay_number(Laying *laying, const Node *owner, uint32_t rule, Range range)
{
    Evaluator *evaluator = laying->evaluator;
    evaluator->met = CAUSE_NONE;
    double number = option_number(evaluator, owner, rule, range);
    if (evaluator->met)
        lay_spoil(laying, evaluator->met, option_value_span(owner, rule));
    return number;
}

/* One thread or several side by side. NULL once there is a finding. */
const Strands *strands_of(Laying *laying, Value value, Span span)
{
    Evaluator *evaluator = laying->evaluator;
    bool list = type_is_list(value.type);
    uint32_t count = list ? value.list->count : 1;
    if (!lay_steps(laying, count, span))
        return NULL;
    Strands *strands = arena_take(evaluator->arena, sizeof *strands);
    strands->items = arena_take_many(evaluator->arena, count, sizeof *strands->items);
    strands->count = count;
    uint32_t staying = 0;
    for (uint32_t i = 0; i < count; i++) {
        const Value *one = list ? &value.list->items[i] : &value;
        strands->items[i] = (Strand){one->thread, one->spacer};
        strands->pitch += one->thread->pitch;
        staying += !one->spacer;
        if (!one->spacer && one->thread->diameter > strands->thickness)
            strands->thickness = one->thread->diameter;
    }
    if (!count) {
        Finding *finding = lay_fault(laying, FINDING_EMPTY_LIST, span, "there is no thread in this list");
        finding_mend(evaluator->findings, finding, "name at least one thread");
        return NULL;
    }
    if (!staying) {
        Finding *finding = lay_fault(laying, FINDING_OUT_OF_RANGE, span, "all threads here are spacers");
        finding_mend(evaluator->findings, finding, "name at least one thread that is not a spacer");
        if (!finding_is_kept(finding))
            return NULL;
        if (list && !laying->evaluator->call)
            finding_edit(evaluator->findings, finding, span, "%s", without_spacer(evaluator, value));
        else if (!laying->evaluator->call)
            finding_edit(evaluator->findings, finding, span, "%s", value.thread->name->bytes);
        return NULL;
    }
    return strands;
}

const Strands *evaluate_strands(Laying *laying, const Node *node)
{
    Value value;
    if (!lay_value(laying, node, &value))
        return NULL;
    return strands_of(laying, value, node->span);
}

/* To whole mm or sixteenths of an inch. */
static const char *offered_length(const Evaluator *evaluator, double mm)
{
    Arena *words = evaluator->findings->words;
    double unit = evaluator->units == SYSTEM_IN ? 25.4 / 16 : 1, units = fmax(1, ceil(mm / unit));
    if (evaluator->units != SYSTEM_IN)
        return text_format(words, "%s mm", show_number(words, units, 0));
    return units < 2 ? "1/16 in" : text_format(words, "%s in", show_number(words, units / 16, 4));
}

/* Turns that are whole and at least `least`, or a length of at least so much; false once there is a finding. */
static bool is_enough(Laying *laying, Value value, const Node *node, double least, Offered offered)
{
    Evaluator *evaluator = laying->evaluator;
    Span span = node->span;
    if (value.type == TYPE_TURNS && !is_whole(value.number)) {
        bool literal = node->kind == NODE_NUMBER || value.number < offered.turns - 0.5;
        Finding *finding = lay_fault(laying, FINDING_NOT_WHOLE, span, "turns have to be whole here");
        if (!finding_is_kept(finding)) /* what is written may be long, and come a thousand times */
            return false;
        const char *whole = literal
                                ? show_turns(evaluator->findings->words, fmax(offered.turns, round(value.number)))
                                : finding_text(evaluator->findings, "round(%s)",
                                               written(evaluator->findings->words, evaluator->sources, span));
        finding_label(evaluator->findings, finding, "this comes to %s",
                      show_turns(evaluator->findings->words, value.number));
        finding_mend(evaluator->findings, finding, "write `%s`", whole);
        finding_edit(evaluator->findings, finding, span, "%s", whole);
        return false;
    }
    if (value.number >= least)
        return true;
    const char *turns = show_turns(evaluator->findings->words, offered.turns);
    const char *bound = value.type == TYPE_LENGTH ? offered_length(evaluator, offered.mm) : turns;
    Finding *finding =
        lay_fault(laying, FINDING_OUT_OF_RANGE, span,
                  value.type == TYPE_LENGTH ? "a length here has to be more than 0 mm"
                                            : text_format(evaluator->findings->words, "at least %s %s needed here",
                                                          turns, offered.turns > 1 ? "are" : "is"));
    finding_label(evaluator->findings, finding, "this comes to %s",
                  value.type == TYPE_LENGTH
                      ? show_length(evaluator->findings->words, evaluator->units, value.number)
                      : show_turns(evaluator->findings->words, value.number));
    finding_mend(evaluator->findings, finding, "write more, such as %s", bound);
    finding_edit(evaluator->findings, finding, span, "%s", bound);
    return false;
}

bool check_amount(Laying *laying, Value value, const Node *node, double least)
{
    return is_enough(laying, value, node, least, (Offered){1, 0});
}

bool evaluate_extent(Laying *laying, const Node *node, Extent *extent)
{
    return evaluate_extent_of(laying, node, (Offered){1, 0}, extent);
}

bool evaluate_extent_of(Laying *laying, const Node *node, Offered offered, Extent *extent)
{
    Value value;
    if (!lay_value(laying, node, &value))
        return false;
    if (!is_enough(laying, value, node, value.type == TYPE_TURNS ? 1 : LEAST_LENGTH, offered))
        return false;
    *extent = (Extent){.kind = value.type == TYPE_TURNS ? EXTENT_TURNS : EXTENT_LENGTH,
                       .span = node->span,
                       .amount = value.type == TYPE_TURNS ? round(value.number) : value.number};
    return true;
}

/* A fill, if the room for it is known. */
bool make_fill(Laying *laying, const Node *node, double weight, Extent *extent)
{
    *extent = (Extent){.kind = EXTENT_FILL, .amount = weight, .group = laying->next_group++, .span = node->span};
    if (laying->length_known)
        return true;
    Evaluator *evaluator = laying->evaluator;
    Finding *finding = lay_fault(laying, FINDING_FILL_WITHOUT_LENGTH, node->span, "`fill` needs a length to fill");
    finding_relate(evaluator->findings, finding, laying->place_header, "this place has no length");
    const char *length = source_length(evaluator->findings->words, evaluator->units, QUANTITY_PLACE,
                                       evaluator->units == SYSTEM_IN ? 2 * 25.4 : 50);
    finding_mend(evaluator->findings, finding, "give the place a length: write `length: %s` after its mark",
                 length);
    Span end = laying->place_header;
    end.start = end.end;
    finding_edit(evaluator->findings, finding, end, " length: %s", length);
    return false;
}

/* A count of at least `least`; 0 once there is a finding. */
uint32_t evaluate_count(Laying *laying, const Node *node, double least, double most)
{
    Evaluator *evaluator = laying->evaluator;
    Value value;
    if (!lay_value(laying, node, &value))
        return 0;
    if (value.number >= least && value.number <= most)
        return (uint32_t)value.number;
    bool low = value.number < least;
    const char *bound = show_number(evaluator->findings->words, low ? least : most, 0);
    Finding *finding = lay_fault(laying, FINDING_OUT_OF_RANGE, node->span,
                                 low ? "this number is too small" : "this number is too large");
    finding_label(evaluator->findings, finding, "at %s %s; this is %s", low ? "least" : "most", bound,
                  show_number(evaluator->findings->words, value.number, 0));
    finding_mend(evaluator->findings, finding, "write %s", bound);
    finding_edit(evaluator->findings, finding, node->span, "%s", bound);
    return 0;
}

bool course_of(Laying *laying, const Node *node, Course *course)
{
    Value first, last;
    bool good = lay_value(laying, node->first, &first);
    if (node->second)
        good &= lay_value(laying, node->second, &last);
    if (!good)
        return false;
    if (node->second)
        *course = (Course){NULL, first.number, fmax(0, last.number - first.number + 1)};
    else
        *course = (Course){first.list, 0, first.list->count};
    return true;
}

Value course_value(const Course *course, double step)
{
    if (course->list)
        return course->list->items[(uint32_t)step];
    return (Value){.type = TYPE_COUNT, .number = course->from + step};
}

/* The branch of an if that holds; NULL if none. */
const Node *chosen_branch(Laying *laying, const Node *node)
{
    while (node && node->kind == NODE_IF) {
        Value value;
        if (!lay_value(laying, node->first, &value))
            return NULL;
        if (value.truth)
            return node;
        node = node->second;
    }
    return node;
}
