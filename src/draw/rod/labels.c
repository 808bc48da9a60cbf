#include "draw/rod/labels.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

enum { MOST_LANES = 6, LABEL_CHARACTERS = 60 };
/* Page mm at true scale: from lane to lane, between words in one, and from the last down to the rod. */
#define LANE_HIGH 2.9
#define WORDS_APART 2.0
#define LINE_CLEAR 0.6
#define LINE_FINE 0.08

static double words_size(const RodPage *page) { return LETTERS_SMALL * page->canvas->type; }

/* "seat", "decal: 40 mm of it" */
static const char *part_words(Canvas *canvas, const Part *part)
{
    buffer_text(&canvas->words, part->name->bytes);
    if (part->note)
        buffer_format(&canvas->words, ": %s", part->note->bytes);
    return fitted(canvas->arena, take_words(canvas), LABEL_CHARACTERS);
}

static int from_butt(const void *one, const void *other)
{
    const RowLabel *a = one, *b = other;
    return a->at != b->at ? ORDER(a->at, b->at) : ORDER(a->number, b->number);
}

static void gather(const RodPage *page, RodRow row, RowLabels *labels)
{
    Canvas *canvas = page->canvas;
    const Rod *rod = canvas->rod->rod;
    for (uint32_t i = 0; i < rod->part_count; i++) {
        double middle = (rod->parts[i].start + rod->parts[i].end) / 2;
        if (middle >= row.from && (middle < row.to || (middle == row.to && row.to == page->high)))
            *LIST_ADD(canvas->arena, &labels->list) =
                (RowLabel){.at = middle, .words = part_words(canvas, &rod->parts[i]), .number = i};
    }
    for (uint32_t i = 1; i < rod->section_count; i++)
        if (rod->sections[i].start > row.from && rod->sections[i].start < row.to)
            *LIST_ADD(canvas->arena, &labels->list) =
                (RowLabel){.at = rod->sections[i].start, .words = "joint", .number = rod->part_count + i};
    if (labels->list.count)
        qsort(labels->list.items, labels->list.count, sizeof *labels->list.items, from_butt);
}

RowLabels labels_make(const RodPage *page, const Frame *frame, RodRow row)
{
    RowLabels labels = {{NULL, 0, 0}, 0, 0};
    double ends[MOST_LANES], right = page->left + page->room;
    if (page->presentation)
        return labels;
    gather(page, row, &labels);
    for (int i = 0; i < MOST_LANES; i++)
        ends[i] = -INFINITY;
    uint32_t kept = 0;
    for (uint32_t i = 0; i < labels.list.count; i++) {
        RowLabel label = labels.list.items[i];
        double width = text_width(label.words, words_size(page));
        label.left = frame_x(frame, label.at);
        if (label.left + width > right) /* back from the line */
            label.left = fmax(label.left - width, page->left);
        label.right = label.left + width;
        for (uint32_t lane = 0; lane < MOST_LANES; lane++)
            if (ends[lane] > label.left)
                label.lane = lane + 1;
        if (label.lane == MOST_LANES) {
            labels.left_out++;
            continue;
        }
        ends[label.lane] = label.right + WORDS_APART * page->canvas->type;
        labels.lanes = label.lane + 1 > labels.lanes ? label.lane + 1 : labels.lanes;
        labels.list.items[kept++] = label;
    }
    labels.list.count = kept;
    return labels;
}

double labels_height(const RodPage *page, const RowLabels *labels)
{
    return labels->lanes * LANE_HIGH * page->canvas->type;
}

/* Of the rod and of a part on it, mm. */
static double radius_at(const RodPage *page, double x)
{
    const PlannedRod *rod = page->canvas->rod;
    double diameter = blank_diameter(rod->surface, x);
    for (uint32_t i = 0; i < rod->rod->part_count; i++) {
        const Part *part = &rod->rod->parts[i];
        if (part->start <= x && x <= part->end && part->diameter_count)
            diameter = fmax(diameter, part_diameter(rod->rod, part, x));
    }
    return diameter / 2;
}

void draw_labels(const RodPage *page, const Frame *frame, const RowLabels *labels, double y)
{
    Canvas *canvas = page->canvas;
    double size = words_size(page), type = canvas->type;
    for (uint32_t i = 0; i < labels->list.count; i++) {
        const RowLabel *label = &labels->list.items[i];
        double x = frame_x(frame, label->at), base = y + label->lane * LANE_HIGH * type + size;
        double top = frame->axis - radius_at(page, label->at) * frame->across - LINE_CLEAR * type;
        bool leftward = label->left < x - 1e-9;
        draw_line(canvas, x, base - size, x, fmax(top, base), GREY_INK, LINE_FINE);
        draw_text(canvas, leftward ? x - LINE_CLEAR * type : x + LINE_CLEAR * type, base, size,
                  leftward ? ALIGN_END : ALIGN_START, GREY_INK, label->words);
    }
}
