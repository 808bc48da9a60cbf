/* What a marking strip marks, and where its words find room. */
#include "emit/pdf/pdf_strip.h"

#include "words/crosswrap_words.h"
#include "plan/plan_sums.h"
#include "words/trade_words.h"

#include <math.h>
#include <stdlib.h>

/* Bare strip beyond the outermost marks; a short strip is made longer before the datum, where the blank is
 * free. */
#define STRIP_END 6.0
#define SHORTEST_STRIP 110.0
/* Marks closer than this are one. */
#define SAME_MARK 0.005

double strip_at(const Strip *strip, double axial) { return (axial - strip->origin) * strip->side; }

static StripMark *add_mark(Arena *arena, Strip *strip, double axial, uint32_t colour, const char *words)
{
    StripMark *mark = LIST_ADD(arena, &strip->marks);
    *mark = (StripMark){.at = strip_at(strip, axial), .words = words, .colour = colour, .kind = MARK_EDGE};
    return mark;
}

/* "18.35 mm" from the datum, in working direction. */
static void put_distance(Buffer *words, const Strip *strip, UnitSystem units, double axial)
{
    put_length_bare(words, units, from_datum(strip->place, axial));
    buffer_format(words, " %s", system_unit(units));
}

static const char *words_end(Buffer *words)
{
    buffer_put(words, "", 1);
    return words->bytes;
}

/* "18.35 mm  navy, 12 turns" at the end of what makes these turns. */
static void mark_end(Arena *arena, Strip *strip, UnitSystem units, double axial, const Strands *from,
                     const Strands *to, uint32_t turns)
{
    Buffer words;
    buffer_start(&words, arena);
    put_distance(&words, strip, units, axial);
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
    add_mark(arena, strip, axial, PDF_INK, words_end(&words));
}

/* Its end bands, and between them the field. */
static void mark_crosswrap(Arena *arena, Strip *strip, UnitSystem units, const Run *runs, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        if (runs[i].strands) {
            mark_end(arena, strip, units, runs[i].end, NULL, runs[i].strands, runs[i].turns);
            continue;
        }
        Buffer words;
        buffer_start(&words, arena);
        put_distance(&words, strip, units, runs[i].end);
        buffer_format(&words, "  field of the %s", crosswrap_word(strip->layer->crosswrap));
        add_mark(arena, strip, runs[i].end, PDF_INK, words_end(&words));
    }
}

/* A fade is one stretch; a band ends at each inlay. */
static void mark_item(Arena *arena, Strip *strip, UnitSystem units, const PlannedItem *planned)
{
    const Run *runs = &strip->layer->runs[planned->first_run];
    const Item *item = planned->item;
    if (!planned->run_count)
        return;
    if (item->kind == ITEM_CROSSWRAP) {
        mark_crosswrap(arena, strip, units, runs, planned->run_count);
        return;
    }
    if (item->kind == ITEM_FADE) {
        const Strands *from = item->reversed ? item->strands : item->from;
        const Strands *to = item->reversed ? item->from : item->strands;
        mark_end(arena, strip, units, runs[planned->run_count - 1].end, from, to, planned->turns);
        return;
    }
    for (uint32_t i = 0; i < planned->run_count; i++)
        mark_end(arena, strip, units, runs[i].end, NULL, runs[i].strands, runs[i].turns);
}

static void mark_datum(Arena *arena, Strip *strip, UnitSystem units)
{
    add_mark(arena, strip, strip->place->start, PDF_RED, "datum")->kind = MARK_DATUM;
    double start = strip->layer->start;
    if (fabs(start - strip->place->start) < SAME_MARK)
        return;
    Buffer words;
    buffer_start(&words, arena);
    put_distance(&words, strip, units, start);
    buffer_text(&words, "  start");
    add_mark(arena, strip, start, PDF_INK, words_end(&words));
}

static void mark_foot(Arena *arena, Strip *strip, UnitSystem units)
{
    double tip = strip->place->foot_tip;
    if (strip->place->foot < 0 || !isfinite(tip))
        return;
    Buffer words;
    buffer_start(&words, arena);
    put_distance(&words, strip, units, tip);
    buffer_text(&words, "  foot begins");
    add_mark(arena, strip, tip, PDF_GREY, words_end(&words));
}

static int compare_marks(const void *a, const void *b)
{
    const StripMark *first = a, *second = b;
    if (first->at != second->at)
        return first->at < second->at ? -1 : 1;
    return (int)first->kind - (int)second->kind;
}

static void sort_marks(Strip *strip)
{
    qsort(strip->marks.items, strip->marks.count, sizeof *strip->marks.items, compare_marks);
}

/* The edge at a place of the strip; `edges` of the marks are edges, from left to right. */
static StripMark *edge_at(const Strip *strip, uint32_t edges, double at)
{
    uint32_t low = 0, high = edges;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
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

static void mark_measuring(Arena *arena, Strip *strip, uint32_t edges, UnitSystem units, const Step *step)
{
    StripMark *mark = edge_at(strip, edges, strip_at(strip, step->position));
    if (!mark) {
        Buffer words;
        buffer_start(&words, arena);
        put_distance(&words, strip, units, step->position);
        mark = add_mark(arena, strip, step->position, PDF_GREY, words_end(&words));
        mark->kind = MARK_POINT;
    }
    mark->measure = true;
}

/* The axial extent of all that is marked. */
static void set_extent(Strip *strip)
{
    double low = fmin(strip->place->start, fmin(strip->layer->start, strip->layer->end));
    double high = fmax(strip->place->start, fmax(strip->layer->start, strip->layer->end));
    if (strip->place->foot >= 0 && isfinite(strip->place->foot_tip)) {
        low = fmin(low, strip->place->foot_tip);
        high = fmax(high, strip->place->foot_tip);
    }
    double bare = fmax(0, SHORTEST_STRIP - (high - low) - 2 * STRIP_END);
    low -= STRIP_END + (strip->place->direction > 0 ? bare : 0);
    high += STRIP_END + (strip->place->direction > 0 ? 0 : bare);
    strip->origin = strip->side > 0 ? low : high;
    strip->length = high - low;
}

Strip strip_make(Arena *arena, const SheetRod *rod, uint32_t part, const Bench *bench)
{
    const SheetPart *about = &rod->parts[part];
    const PlannedPlace *place = &rod->bench->rod->places[about->place];
    Strip strip = {.place = place,
                   .layer = &place->layers[about->layer],
                   .heading = about->heading,
                   .side = bench->butt_left ? 1 : -1};
    strip.direction = place->direction * strip.side;
    set_extent(&strip);
    strip.datum = strip_at(&strip, place->start);
    mark_datum(arena, &strip, bench->units);
    for (uint32_t i = 0; i < strip.layer->item_count; i++)
        mark_item(arena, &strip, bench->units, &strip.layer->items[i]);
    mark_foot(arena, &strip, bench->units);
    sort_marks(&strip);
    uint32_t edges = strip.marks.count;
    for (uint32_t i = about->first; i < about->first + about->count; i++)
        if (rod->steps[i].step->kind == STEP_MEASURE)
            mark_measuring(arena, &strip, edges, bench->units, rod->steps[i].step);
    sort_marks(&strip);
    return strip;
}

/* Labels that stand apart share their mean place as one block; blocks that meet become one. */
typedef struct Block {
    double sum;
    uint32_t count;
} Block;

static double block_mean(const Block *block) { return block->sum / block->count; }

void spread_labels(Arena *arena, StripLabel *labels, uint32_t count, double apart, double low, double high)
{
    Block *blocks = arena_take_many(arena, count, sizeof *blocks);
    uint32_t made = 0;
    for (uint32_t i = 0; i < count; i++) {
        blocks[made++] = (Block){labels[i].at - i * apart, 1};
        for (; made > 1 && block_mean(&blocks[made - 2]) > block_mean(&blocks[made - 1]); made--) {
            blocks[made - 2].sum += blocks[made - 1].sum;
            blocks[made - 2].count += blocks[made - 1].count;
        }
    }
    double highest = count ? high - (count - 1) * apart : high;
    for (uint32_t b = 0, i = 0; b < made; b++)
        for (uint32_t end = i + blocks[b].count; i < end; i++)
            labels[i].shown = fmax(low, fmin(highest, block_mean(&blocks[b]))) + i * apart;
}
