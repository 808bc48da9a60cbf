#include "words/marking_strip.h"

#include "base/halfway.h"
#include "base/sort.h"
#include "base/visible.h"
#include "plan/plan_sums.h"
#include "words/crosswrap_words.h"
#include "words/trade_words.h"

#include <math.h>
#include <stdlib.h>

/* Bare strip beyond the outermost marks, mm; a short strip is made longer before the datum, where the blank is
 * free. Common practice, no source. */
#define STRIP_END 6.0
#define SHORTEST_STRIP 88.0
/* Marks closer than this are one, mm: common practice, no source. */
#define SAME_MARK 0.005

double along_strip(const MarkingStrip *strip, double axial) { return (axial - strip->origin) * strip->side; }

static StripMark *add_mark(Arena *arena, MarkingStrip *strip, double axial, MarkKind kind, const char *words)
{
    StripMark *mark = LIST_ADD(arena, &strip->marks);
    *mark = (StripMark){.at = along_strip(strip, axial), .words = words, .kind = kind};
    return mark;
}

/* "18.35 mm" from the datum, in working direction. */
static void put_distance(Buffer *words, const MarkingStrip *strip, MeasuringTool rule, double axial)
{
    double mm = from_datum(strip->place, axial);
    if (reads_nothing(rule, mm))
        buffer_text(words, "at the mark");
    else
        put_read(words, rule, QUANTITY_WIDTH, mm);
}

static const char *words_end(Buffer *words)
{
    buffer_put(words, "", 1);
    return words->bytes;
}

/* "18.35 mm  navy, 12 turns" at the end of what makes these turns. */
static void mark_end(Arena *arena, MarkingStrip *strip, MeasuringTool rule, double axial, const Strands *from,
                     const Strands *to, uint32_t turns)
{
    Buffer words;
    buffer_start(&words, arena);
    put_distance(&words, strip, rule, axial);
    buffer_text(&words, "  ");
    if (from) {
        put_strands(&words, from);
        buffer_text(&words, " to ");
    }
    if (to) {
        put_strands(&words, to);
        buffer_format(&words, turns == 1 ? ", %u turn" : ", %u turns", turns);
    } else {
        buffer_text(&words, "gap");
    }
    add_mark(arena, strip, axial, MARK_EDGE, words_end(&words));
}

/* Its end bands, and between them the field. */
static void mark_crosswrap(Arena *arena, MarkingStrip *strip, MeasuringTool rule, const Run *runs, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        if (runs[i].strands) {
            mark_end(arena, strip, rule, runs[i].end, NULL, runs[i].strands, runs[i].turns);
            continue;
        }
        Buffer words;
        buffer_start(&words, arena);
        put_distance(&words, strip, rule, runs[i].end);
        buffer_format(&words, "  field of the %s", crosswrap_word(strip->layer->crosswrap));
        add_mark(arena, strip, runs[i].end, MARK_EDGE, words_end(&words));
    }
}

/* A fade is one stretch; a band ends at each inlay. */
static void mark_item(Arena *arena, MarkingStrip *strip, MeasuringTool rule, const PlannedItem *planned)
{
    const Run *runs = &strip->layer->runs[planned->first_run];
    const Item *item = planned->item;
    if (item->kind == ITEM_CROSSWRAP) {
        mark_crosswrap(arena, strip, rule, runs, planned->run_count);
        return;
    }
    if (item->kind == ITEM_FADE) {
        const Strands *from = item->reversed ? item->strands : item->from;
        const Strands *to = item->reversed ? item->from : item->strands;
        mark_end(arena, strip, rule, runs[planned->run_count - 1].end, from, to, planned->turns);
        return;
    }
    for (uint32_t i = 0; i < planned->run_count; i++)
        mark_end(arena, strip, rule, runs[i].end, NULL, runs[i].strands, runs[i].turns);
}

/* "grip, tip end"; of a part without a length "initials". */
static void put_part_end(Buffer *words, const PartEnd *end)
{
    buffer_text(words, visible(words->arena, end->part->name->bytes));
    if (end->part->end > end->part->start)
        buffer_format(words, ", %s end", end->at_tip ? "tip" : "butt");
}

/* "mark; grip, tip end" where a part ends right there. */
static const char *datum_words(Arena *arena, const MarkingStrip *strip)
{
    Buffer words;
    buffer_start(&words, arena);
    buffer_text(&words, "mark");
    const PlannedRod *rod = strip->rod;
    double at = strip->place->start;
    for (uint32_t i = part_end_from(rod, at - SAME_MARK);
         i < rod->part_end_count && rod->part_ends[i].at <= at + SAME_MARK; i++) {
        buffer_text(&words, "; ");
        put_part_end(&words, &rod->part_ends[i]);
    }
    return words_end(&words);
}

/* Where parts end beside the wrap or under it: "18.35 mm  feather, butt end"; before the mark their names alone.
 */
static void mark_parts(Arena *arena, MarkingStrip *strip, MeasuringTool rule)
{
    const PlannedRod *rod = strip->rod;
    double far = strip->origin + strip->side * strip->length;
    double low = fmin(strip->origin, far), high = fmax(strip->origin, far);
    for (uint32_t i = part_end_from(rod, low); i < rod->part_end_count && rod->part_ends[i].at <= high; i++) {
        const PartEnd *end = &rod->part_ends[i];
        double from_mark = from_datum(strip->place, end->at);
        if (fabs(from_mark) <= SAME_MARK)
            continue;
        Buffer words;
        buffer_start(&words, arena);
        if (from_mark > 0) {
            put_distance(&words, strip, rule, end->at);
            buffer_text(&words, "  ");
        }
        put_part_end(&words, end);
        add_mark(arena, strip, end->at, MARK_PART, words_end(&words));
    }
}

static void mark_datum(Arena *arena, MarkingStrip *strip, MeasuringTool rule)
{
    add_mark(arena, strip, strip->place->start, MARK_DATUM, datum_words(arena, strip));
    double start = strip->layer->start;
    if (fabs(start - strip->place->start) < SAME_MARK)
        return;
    Buffer words;
    buffer_start(&words, arena);
    put_distance(&words, strip, rule, start);
    buffer_text(&words, "  start");
    add_mark(arena, strip, start, MARK_EDGE, words_end(&words));
}

static void mark_foot(Arena *arena, MarkingStrip *strip, MeasuringTool rule)
{
    double tip = strip->place->foot_tip;
    if (strip->place->foot < 0 || !isfinite(tip))
        return;
    Buffer words;
    buffer_start(&words, arena);
    put_distance(&words, strip, rule, tip);
    buffer_text(&words, "  foot begins");
    add_mark(arena, strip, tip, MARK_FOOT, words_end(&words));
}

static int compare_marks(const void *a, const void *b)
{
    const StripMark *first = a, *second = b;
    int order = ORDER(first->at, second->at);
    return order ? order : ORDER(first->kind, second->kind);
}

static void sort_marks(MarkingStrip *strip)
{
    qsort(strip->marks.items, strip->marks.count, sizeof *strip->marks.items, compare_marks);
}

/* The edge at a place of the strip; `edges` of the marks are edges, from left to right. */
static StripMark *edge_at(const MarkingStrip *strip, uint32_t edges, double at)
{
    uint32_t low = 0, high = edges;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (strip->marks.items[middle].at < at - SAME_MARK)
            low = middle + 1;
        else
            high = middle;
    }
    while (low < edges && strip->marks.items[low].kind == MARK_DATUM)
        low++;
    bool near = low < edges && strip->marks.items[low].at <= at + SAME_MARK;
    return near ? &strip->marks.items[low] : NULL;
}

static void mark_measuring(Arena *arena, MarkingStrip *strip, uint32_t edges, MeasuringTool rule,
                           const Action *action)
{
    StripMark *mark = edge_at(strip, edges, along_strip(strip, action->position));
    if (!mark) {
        Buffer words;
        buffer_start(&words, arena);
        put_distance(&words, strip, rule, action->position);
        mark = add_mark(arena, strip, action->position, MARK_POINT, words_end(&words));
    }
    mark->measure = true;
}

/* The axial extent of all that is marked. */
static void set_extent(MarkingStrip *strip)
{
    double low = fmin(strip->place->start, fmin(strip->layer->start, strip->layer->end));
    double high = fmax(strip->place->start, fmax(strip->layer->start, strip->layer->end));
    if (strip->place->foot >= 0 && isfinite(strip->place->foot_tip)) {
        low = fmin(low, strip->place->foot_tip);
        high = fmax(high, strip->place->foot_tip);
    }
    double bare = fmax(0, SHORTEST_STRIP - (high - low) - 2 * STRIP_END);
    low -= STRIP_END + (toward_tip(strip->place->direction) ? bare : 0);
    high += STRIP_END + (toward_tip(strip->place->direction) ? 0 : bare);
    strip->origin = strip->side > 0 ? low : high;
    strip->length = high - low;
}

/* Strips of all sections lie on one sheet of paper: each says which section it is for. */
static const char *heading_of(Arena *arena, const SheetRod *rod, const SheetPart *part)
{
    const Rod *about = rod->bench->rod->rod;
    uint32_t section = rod->bench->rod->places[part->place].section;
    return about && about->section_count > 1
               ? text_format(arena, "%s, %s", about->sections[section].name, part->heading)
               : part->heading;
}

MarkingStrip marking_strip(Arena *arena, const SheetRod *rod, uint32_t part, const Bench *bench)
{
    const SheetPart *about = &rod->parts[part];
    const PlannedPlace *place = &rod->bench->rod->places[about->place];
    MarkingStrip strip = {.rod = rod->bench->rod,
                          .place = place,
                          .layer = &place->layers[about->layer],
                          .heading = heading_of(arena, rod, about),
                          .side = bench->butt_left ? 1 : -1};
    strip.direction = place->direction * strip.side;
    set_extent(&strip);
    strip.datum = along_strip(&strip, place->start);
    mark_datum(arena, &strip, bench->rule);
    for (uint32_t i = 0; i < strip.layer->item_count; i++)
        mark_item(arena, &strip, bench->rule, &strip.layer->items[i]);
    mark_foot(arena, &strip, bench->rule);
    mark_parts(arena, &strip, bench->rule);
    sort_marks(&strip);
    uint32_t edges = strip.marks.count;
    for (uint32_t i = about->first; i < about->first + about->count; i++)
        if (rod->actions[i].action->kind == ACTION_MEASURE)
            mark_measuring(arena, &strip, edges, bench->rule, rod->actions[i].action);
    sort_marks(&strip);
    return strip;
}
