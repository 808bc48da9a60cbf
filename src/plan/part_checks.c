/* Parts of a rod that lie beyond its blank or are thinner than it, and wraps that run into a part which no thread
 * may lie on. */
#include "plan/layout.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_in_the_way(const Part *part) { return !part->wrapped && part->end > part->start; }

bool part_in_the_way(const Rod *rod, double low, double high)
{
    for (uint32_t i = 0; i < rod->part_count; i++) {
        const Part *part = &rod->parts[i];
        if (is_in_the_way(part) && low < part->end - LAYOUT_SLACK && part->start < high - LAYOUT_SLACK)
            return true;
    }
    return false;
}

static const char *show_place(Layout *layout, double x)
{
    return show_quantity(layout->findings->words, layout->job->bench.units, QUANTITY_PLACE, x);
}

/* One of several that the same words of the source make: a change of them would change them all. */
static bool part_is_copy(const Rod *rod, const Part *part)
{
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (&rod->parts[i] != part && same_span(rod->parts[i].mark_span, part->mark_span))
            return true;
    return false;
}

/* Adds an option to the part, behind its mark. */
static void edit_part(Layout *layout, Finding *finding, const Part *part, const char *option)
{
    Span behind = {part->mark_span.end, part->mark_span.end, part->mark_span.file};
    finding_edit(layout->findings, finding, behind, " %s", option);
}

/* --- beyond the blank --- */

/* Of a part that begins beyond the tip or at it: measured from there, it goes on toward the tip where nothing else
 * is said. */
static bool is_turned_round(const Layout *layout, const Part *part)
{
    return part->from_tip && !part->toward_written
           && part->start < blank_tip(layout->rod->rod->blank) + LAYOUT_SLACK;
}

/* A part may stand out beyond an end of the blank, as a tip-top does, but has to lie on it. */
static void check_on_the_blank(Layout *layout, const Part *part)
{
    const Blank *blank = layout->rod->rod->blank;
    bool mark = !(part->end > part->start);
    double slack = mark ? LAYOUT_SLACK : -LAYOUT_SLACK;
    bool beyond_tip = part->start > blank_tip(blank) + slack, beyond_butt = part->end < blank_butt(blank) - slack;
    if (!beyond_tip && !beyond_butt)
        return;
    const char *end = beyond_tip ? "last" : "first";
    Finding *finding =
        finding_add(layout->findings, FINDING_PART_OFF_THE_BLANK, part->mark_span,
                    "%s lies beyond the %s station of %s", part->name->bytes, end, blank->name->bytes);
    if (mark)
        finding_label(layout->findings, finding, "%s from the butt", show_place(layout, part->start));
    else
        finding_label(layout->findings, finding, "from %s to %s from the butt", show_place(layout, part->start),
                      show_place(layout, part->end));
    finding_relate(layout->findings, finding, blank->span, "stations from %s to %s",
                   show_place(layout, blank_butt(blank)), show_place(layout, blank_tip(blank)));
    finding_mend(layout->findings, finding, "move it onto the blank, or measure the blank further");
    if (!beyond_tip || !is_turned_round(layout, part) || part_is_copy(layout->rod->rod, part))
        return;
    finding_mend(layout->findings, finding, "let it go from there toward the butt: `toward: butt`");
    edit_part(layout, finding, part, "toward: butt");
}

/* --- thinner than the blank --- */

/* The blank's diameter at one of the part's ends or between them, on the part's side of a step. */
static double blank_beneath(const Blank *blank, const Part *part, uint32_t knot, uint32_t knots)
{
    double at = part_knot(part, knot);
    return blank_diameter_beside(blank, at, knot + 1 == knots ? at - LAYOUT_SLACK : at);
}

static const char *diameter_text(Layout *layout, LengthWriting writing, double diameter, double blank)
{
    double least = blank > diameter + LAYOUT_SLACK ? written_above(writing, blank) : diameter;
    return write_length(layout->findings->words, writing, least);
}

/* All of the part's diameters, each no less than the blank's. */
static const char *safe_diameters(Layout *layout, const Part *part)
{
    const Blank *blank = layout->rod->rod->blank;
    LengthWriting writing = diameter_writing(layout, part->diameter_span);
    if (part->diameter_count == 1)
        return diameter_text(layout, writing, part->diameters[0],
                             fmax(blank_beneath(blank, part, 0, 2), blank_beneath(blank, part, 1, 2)));
    Buffer list;
    buffer_start(&list, layout->findings->words);
    for (uint32_t i = 0; i < part->diameter_count; i++)
        buffer_format(&list, "%s%s", i ? ", " : "[",
                      diameter_text(layout, writing, part->diameters[i],
                                    blank_beneath(blank, part, i, part->diameter_count)));
    buffer_text(&list, "]");
    buffer_put(&list, "", 1);
    return list.bytes;
}

static void check_thickness(Layout *layout, const Part *part)
{
    const Blank *blank = layout->rod->rod->blank;
    uint32_t count = part->diameter_count == 1 ? 2 : part->diameter_count, worst = 0;
    double most = 0;
    for (uint32_t i = 0; i < count && part->diameters; i++) {
        double missing = blank_beneath(blank, part, i, count) - part->diameters[part->diameter_count == 1 ? 0 : i];
        if (missing > most + LAYOUT_SLACK) {
            most = missing;
            worst = i;
        }
    }
    if (!(most > LAYOUT_SLACK))
        return;
    double at = part_knot(part, worst), there = blank_beneath(blank, part, worst, count);
    LengthPair shown =
        show_apart(layout->findings->words, layout->job->bench.units, QUANTITY_DIAMETER, there - most, there);
    Finding *finding = finding_add(layout->findings, FINDING_PART_TOO_THIN, part->diameter_span,
                                   "%s is thinner than the blank that it lies on", part->name->bytes);
    finding_label(layout->findings, finding, "%s at %s from the butt, where %s is %s", shown.one,
                  show_place(layout, at), blank->name->bytes, shown.other);
    const char *diameters = safe_diameters(layout, part);
    finding_mend(layout->findings, finding, "measure both again; this is the least that it can be: `diameter: %s`",
                 diameters);
    if (!part_is_copy(layout->rod->rod, part))
        finding_edit(layout->findings, finding, part->diameter_span, "%s", diameters);
}

/* --- in the way --- */

/* Parts in the order of their starts; with each the one of those so far that reaches furthest. */
typedef struct PartReach {
    const Part *part, *furthest;
} PartReach;

static int by_start(const void *left, const void *right)
{
    const PartReach *a = left, *b = right;
    int order = ORDER(a->part->start, b->part->start);
    return order ? order : ORDER(a->part, b->part);
}

static PartReach *sorted_parts(Layout *layout, uint32_t *count)
{
    const Rod *rod = layout->rod->rod;
    PartReach *reaches = arena_take_many(layout->scratch, rod->part_count, sizeof *reaches);
    *count = 0;
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (is_in_the_way(&rod->parts[i]))
            reaches[(*count)++].part = &rod->parts[i];
    if (*count)
        qsort(reaches, *count, sizeof *reaches, by_start);
    for (uint32_t i = 0; i < *count; i++)
        reaches[i].furthest =
            i && reaches[i - 1].furthest->end >= reaches[i].part->end ? reaches[i - 1].furthest : reaches[i].part;
    return reaches;
}

/* Of those that begin before `high` the one that reaches furthest; NULL if none reaches beyond `low`. */
static const Part *part_between(const PartReach *reaches, uint32_t count, double low, double high)
{
    uint32_t from = 0, to = count;
    while (from < to) {
        uint32_t middle = from + (to - from) / 2;
        if (reaches[middle].part->start < high - LAYOUT_SLACK)
            from = middle + 1;
        else
            to = middle;
    }
    return from && reaches[from - 1].furthest->end > low + LAYOUT_SLACK ? reaches[from - 1].furthest : NULL;
}

static const Part *part_beneath(const PartReach *reaches, uint32_t count, double start, double end)
{
    return part_between(reaches, count, fmin(start, end), fmax(start, end));
}

/* What lies in a gap is in nobody's way: a decal, say. */
static const Part *part_under_turns(const PartReach *reaches, uint32_t count, const PlannedLayer *layer)
{
    if (layer->crosswrap)
        return part_beneath(reaches, count, layer->start, layer->end);
    const Part *part = NULL;
    for (uint32_t from = 0, to; from < layer->run_count && !part; from = to + 1) {
        for (to = from; to < layer->run_count && layer->runs[to].role != RUN_GAP;)
            to++;
        if (to > from)
            part = part_beneath(reaches, count, layer->runs[from].start, layer->runs[to - 1].end);
    }
    return part;
}

/* The one that is told of a place: under its guide's foot, or under turns of a layer. */
static const Part *part_under(const PartReach *reaches, uint32_t count, const PlannedPlace *place)
{
    const Part *part = place->foot >= 0 ? part_beneath(reaches, count, place->foot_tip, place->foot_end) : NULL;
    for (uint32_t l = 0; l < place->layer_count && !part; l++)
        if (place->layers[l].laid)
            part = part_under_turns(reaches, count, &place->layers[l]);
    return part;
}

/* How a wrap and a part lie: one within the other, or each beyond the other. */
typedef enum { WRAP_WITHIN, PART_WITHIN, WRAP_REACHES_IN } Meeting;

static Meeting meeting_of(const Part *part, double low, double high)
{
    if (low >= part->start - LAYOUT_SLACK && high <= part->end + LAYOUT_SLACK)
        return WRAP_WITHIN;
    return low <= part->start + LAYOUT_SLACK && high >= part->end - LAYOUT_SLACK ? PART_WITHIN : WRAP_REACHES_IN;
}

static void say_in_the_way(Layout *layout, const PlannedPlace *place, const Part *part, double low, double high)
{
    Findings *findings = layout->findings;
    Meeting meeting = meeting_of(part, low, high);
    bool from_below = low < part->start;
    double by = from_below ? part->start - high : part->end - low;
    const char *what = place->foot >= 0
                           ? text_format(findings->words, "the wrap of %s", place->place->guide->name->bytes)
                           : "this wrap";
    const char *name = part->name->bytes;
    const char *deep = show_length(findings->words, layout->job->bench.units, fabs(by));
    Finding *finding =
        finding_add(findings, FINDING_PART_IN_THE_WAY, place->place->mark_span, "%s %s", what,
                    meeting == WRAP_WITHIN   ? text_format(findings->words, "lies where %s is", name)
                    : meeting == PART_WITHIN ? text_format(findings->words, "runs over all of %s", name)
                                             : text_format(findings->words, "runs %s into %s", deep, name));
    finding_label(findings, finding, "from %s to %s from the butt", show_place(layout, low),
                  show_place(layout, high));
    finding_relate(findings, finding, part->span, "from %s to %s from the butt; no thread is to lie on it",
                   show_place(layout, part->start), show_place(layout, part->end));
    if (meeting == WRAP_REACHES_IN) {
        finding_mend(findings, finding, "move it, make it shorter, or let thread lie on %s: `wrapped: yes`", name);
        mend_by_moving(layout, finding, place->place, by);
        return;
    }
    finding_mend(findings, finding, "let thread lie on %s: `wrapped: yes`; or move the wrap", name);
    /* Over the edges of a part that has a diameter turns may slip. */
    if (!part->wrapped_written && !part_is_copy(layout->rod->rod, part)
        && (meeting == WRAP_WITHIN || !part->diameters))
        edit_part(layout, finding, part, "wrapped: yes");
}

/* Each place is told of one part; of a guide's feet the first that meets one. */
static void check_wraps(Layout *layout)
{
    const PlannedRod *rod = layout->rod;
    uint32_t count;
    const PartReach *reaches = sorted_parts(layout, &count);
    const Place *told = NULL;
    for (uint32_t i = 0; i < rod->place_count && count; i++) {
        const PlannedPlace *place = &rod->places[i];
        double low, high;
        if (place->place == told || !place_reach(place, &low, &high))
            continue;
        const Part *part = part_between(reaches, count, low, high) ? part_under(reaches, count, place) : NULL;
        if (!part)
            continue;
        say_in_the_way(layout, place, part, low, high);
        told = place->place;
    }
}

void check_parts(Layout *layout)
{
    const Rod *rod = layout->rod->rod;
    for (uint32_t i = 0; i < rod->part_count; i++) {
        check_on_the_blank(layout, &rod->parts[i]);
        check_thickness(layout, &rod->parts[i]);
    }
    check_wraps(layout);
}
