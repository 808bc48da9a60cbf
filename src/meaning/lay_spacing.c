/* Series by rule: from the first place to the last, with gaps that grow by a ratio; and the note that tells the
 * table made of it. */
#include "base/limits.h"
#include "meaning/lay_value.h"
#include "meaning/mend.h"
#include "trade/trade.h"

#include <math.h>
#include <string.h>

/* Guides beyond these are no spacing that anybody tests. Common practice, no source. */
static const Range progression = {0.5, 2, 1};

/* Marks are made for a ruler: whole mm, or 1/16 in. Common practice, no source. */
static double on_the_ruler(UnitSystem units, double mm)
{
    double step = units == SYSTEM_IN ? 25.4 / 16 : 1;
    return round(mm / step) * step;
}

/* What is asked for. */
typedef struct Spacing {
    double first, last, ratio; /* mm, mm, of a gap to the one before it */
    uint32_t count;
    const ValueList *guides; /* NULL for plain places, or the series' guide at each */
} Spacing;

static bool read_spacing(Laying *laying, const Node *series, Spacing *spacing)
{
    Value first, last, guides;
    const Node *listed = option_value(series->options, SERIES_GUIDES);
    bool good = lay_value(laying, option_value(series->options, SERIES_FIRST), &first);
    good &= lay_value(laying, option_value(series->options, SERIES_LAST), &last);
    *spacing = (Spacing){.ratio = lay_number(laying, series, SERIES_PROGRESSION, progression)};
    if (!listed)
        spacing->count = evaluate_count(laying, option_value(series->options, SERIES_COUNT), 2, LIMIT_PLACES);
    else if (lay_value(laying, listed, &guides)) {
        spacing->guides = guides.list;
        spacing->count = guides.list->count;
        if (spacing->count < 2) {
            Finding *finding =
                lay_fault(laying, FINDING_OUT_OF_RANGE, listed->span, "a spacing needs at least 2 guides");
            finding_mend(laying->evaluator->findings, finding, "name them all, from the first to the last");
            return false;
        }
    }
    if (!good || !spacing->count)
        return false;
    spacing->first = first.number;
    spacing->last = last.number;
    return true;
}

/* --- the table --- */

static const char *length_text(Evaluator *evaluator, double mm)
{
    return source_length(evaluator->findings->words, evaluator->units, QUANTITY_PLACE, mm);
}

static const char *table_of(Evaluator *evaluator, const Node *series, const double *marks, uint32_t count)
{
    Buffer text;
    buffer_start(&text, evaluator->findings->words);
    for (uint32_t i = 0; i < count; i++) {
        buffer_text(&text, i ? ", " : "");
        buffer_text(&text, length_text(evaluator, marks[i]));
    }
    buffer_text(&text, option_choice(series, PLACE_FROM, 0) == 1 ? " from the tip; gaps of "
                                                                 : " from the butt; gaps of ");
    for (uint32_t i = 0; i + 1 < count; i++) {
        buffer_text(&text, i ? ", " : "");
        buffer_text(&text, length_text(evaluator, fabs(marks[i + 1] - marks[i])));
    }
    return buffer_string(&text);
}

/* The name of each guide as it is written in the list; NULL where it is not written there. */
static const Node *first_name(const Node *guides)
{
    const Node *name = guides && guides->kind == NODE_LIST ? guides->first : NULL;
    for (const Node *node = name; node; node = node->next)
        if (node->kind != NODE_NAME)
            return NULL;
    return name;
}

static bool same_name(Evaluator *evaluator, const Node *one, const Node *other)
{
    return strcmp(written(evaluator->findings->words, evaluator->sources, one->span),
                  written(evaluator->findings->words, evaluator->sources, other->span))
           == 0;
}

/* Rows for the marks; those of one guide after the other stand in one. */
static void put_rows(Evaluator *evaluator, Buffer *text, const Node *series, const double *marks, uint32_t count,
                     uint32_t indent)
{
    const Node *name = first_name(option_value(series->options, SERIES_GUIDES));
    const Node *ends[] = {option_value(series->options, SERIES_FIRST), option_value(series->options, SERIES_LAST)};
    for (uint32_t i = 0, next; i < count; i = next) {
        const Node *guide = name;
        next = i;
        do {
            next++;
            name = name ? name->next : NULL;
        } while (next < count && (!guide || same_name(evaluator, guide, name)));
        buffer_format(text, "\n%*sat %s", (int)indent, "", next > i + 1 ? "[" : "");
        for (uint32_t j = i; j < next; j++) {
            const Node *end = j == 0 ? ends[0] : j + 1 == count ? ends[1] : NULL;
            buffer_text(text, j > i ? ", " : "");
            buffer_text(text, end ? written(evaluator->findings->words, evaluator->sources, end->span)
                                  : length_text(evaluator, marks[j]));
        }
        buffer_text(text, next > i + 1 ? "]" : "");
        if (guide)
            buffer_format(text, ": %s", written(evaluator->findings->words, evaluator->sources, guide->span));
    }
}

/* The { of the series, behind its header and what is written between. */
static uint32_t brace_behind(const char *bytes, uint32_t at)
{
    while (bytes[at] != '{')
        at += bytes[at] == '/' ? (uint32_t)strcspn(bytes + at, "\n") : 1;
    return at;
}

/* How far in the line begins on which this stands. */
static uint32_t indent_of(const char *bytes, uint32_t at)
{
    while (at && bytes[at - 1] != '\n')
        at--;
    return (uint32_t)strspn(bytes + at, " ");
}

/* The series as it is written out: its other options, then a row for each place. */
static void edit_rows(Evaluator *evaluator, Finding *finding, const Node *series, const double *marks,
                      uint32_t count)
{
    enum { INDENT = 4 };
    const char *bytes = evaluator->sources->list.items[series->span.file].bytes;
    uint32_t brace = brace_behind(bytes, header_span(series).end), indent = indent_of(bytes, series->span.start);
    Buffer text;
    buffer_start(&text, evaluator->findings->words);
    buffer_text(&text, "series");
    for (const Node *option = series->options; option; option = option->next)
        if (option->kind == NODE_OPTION && option->slot <= PLACE_LAST)
            buffer_format(&text, " %s", written(evaluator->findings->words, evaluator->sources, option->span));
    buffer_text(&text, " {");
    put_rows(evaluator, &text, series, marks, count, indent + INDENT);
    uint32_t behind = brace + 1 + (uint32_t)strspn(bytes + brace + 1, " \t");
    bool own_line = bytes[behind] == '\n' || bytes[behind] == '\r';
    if (!own_line)
        buffer_format(&text, "\n%*s", (int)(bytes[behind] == '}' ? indent : indent + INDENT), "");
    finding_edit(evaluator->findings, finding,
                 (Span){series->span.start, own_line ? brace + 1 : behind, series->span.file}, "%s",
                 buffer_string(&text));
}

static void tell_table(Evaluator *evaluator, const Node *series, const Spacing *spacing, const double *marks)
{
    /* A pattern is told of where it is called: on each rod its table is another. */
    Findings *findings = evaluator->findings;
    Span header = header_span(series);
    Finding *finding =
        finding_add(findings, FINDING_SPACED_BY_RULE, evaluator->call ? evaluator->call->span : header,
                    "%u places set out by rule", spacing->count);
    if (!finding_is_kept(finding))
        return;
    if (evaluator->call)
        finding_relate(findings, finding, header, "by this series");
    finding_label(findings, finding, "%s", table_of(evaluator, series, marks, spacing->count));
    finding_mend(
        findings, finding,
        "tape the guides on and load the rod: where the line leaves the blank's curve, move them, and write the "
        "places out");
    const Node *guides = option_value(series->options, SERIES_GUIDES);
    if (!evaluator->call && (!guides || first_name(guides)))
        edit_rows(evaluator, finding, series, marks, spacing->count);
}

void lay_spacing(Laying *laying, const Node *series)
{
    Evaluator *evaluator = laying->evaluator;
    Spacing spacing;
    uint64_t told = evaluator->findings->told;
    if (!option_node(series->options, SERIES_FIRST) || !read_spacing(laying, series, &spacing)
        || !lay_steps(laying, spacing.count, series->span))
        return;
    double *marks = arena_take_many(evaluator->arena, spacing.count, sizeof *marks);
    for (uint32_t i = 0; i < spacing.count; i++) {
        bool end = i == 0 || i + 1 == spacing.count;
        double mark = spaced_place(spacing.first, spacing.last, spacing.ratio, spacing.count, i);
        marks[i] = end ? mark : on_the_ruler(evaluator->units, mark);
        add_row(laying, (SeriesRow){.node = series->second,
                                    .mark = marks[i],
                                    .mark_span = header_span(series),
                                    .guide = spacing.guides ? spacing.guides->items[i].guide : NULL});
    }
    if (!cause_of_options(series)
        && !findings_since(evaluator->findings, told)) /* else something else is likely meant */
        tell_table(evaluator, series, &spacing, marks);
}
