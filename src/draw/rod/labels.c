#include "draw/rod/labels.h"

#include "base/sort.h"

#include <math.h>
#include <stdlib.h>

enum { MOST_LANES = 6 };
/* Page mm at true scale: from lane to lane, between words in one, and from the last down to the rod. */
#define LANE_HIGH 2.9
#define WORDS_APART 2.0
#define LINE_CLEAR 0.6
#define LINE_FINE 0.08

static double words_size(const RodPage *page) { return LETTERS_SMALL * page->canvas->type; }

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
                (RowLabel){.at = middle, .words = part_label(canvas, &rod->parts[i]), .number = i};
    }
    for (uint32_t i = 1; i < rod->section_count; i++)
        if (rod->sections[i].start > row.from && rod->sections[i].start < row.to)
            *LIST_ADD(canvas->arena, &labels->list) =
                (RowLabel){.at = rod->sections[i].start, .words = "joint", .number = rod->part_count + i};
    if (labels->list.count)
        qsort(labels->list.items, labels->list.count, sizeof *labels->list.items, from_butt);
}

/* The lowest lane of these that still holds words beyond x, + 1; right: words that lie to the right of their
 * lines. */
static uint32_t lane_below(const double *ends, double x, bool right)
{
    uint32_t lane = 0;
    for (uint32_t i = 0; i < MOST_LANES; i++)
        if (right ? ends[i] > x : ends[i] < x)
            lane = i + 1;
    return lane;
}

/* Those that would run off the page, or over the line of one that does, stand to the left of their lines, in lanes
 * above all others. Returns how many lanes they take; lanes beyond are for those without room. */
static uint32_t turn_back(const RodPage *page, RowLabels *labels)
{
    double ends[MOST_LANES], most = page->left + page->room, apart = WORDS_APART * page->canvas->type;
    uint32_t lanes = 0;
    for (int i = 0; i < MOST_LANES; i++)
        ends[i] = INFINITY;
    for (uint32_t i = labels->list.count; i-- > 0;) {
        RowLabel *label = &labels->list.items[i];
        label->leftward = label->x + label->width > most && label->x - label->width >= page->left;
        if (!label->leftward)
            continue;
        most = label->x - apart;
        label->lane = lane_below(ends, label->x, false);
        if (label->lane < MOST_LANES)
            ends[label->lane] = label->x - label->width - apart;
        lanes = label->lane + 1 > lanes ? label->lane + 1 : lanes;
    }
    return lanes;
}

RowLabels labels_make(const RodPage *page, const Frame *frame, RodRow row)
{
    RowLabels labels = {{NULL, 0, 0}, 0, 0};
    double ends[MOST_LANES];
    if (page->presentation)
        return labels;
    gather(page, row, &labels);
    for (uint32_t i = 0; i < labels.list.count; i++) {
        labels.list.items[i].x = frame_x(frame, labels.list.items[i].at);
        labels.list.items[i].width =
            text_width(labels.list.items[i].words, words_size(page)) + LINE_CLEAR * page->canvas->type;
    }
    uint32_t kept = 0, above = turn_back(page, &labels);
    for (int i = 0; i < MOST_LANES; i++)
        ends[i] = -INFINITY;
    for (uint32_t i = 0; i < labels.list.count; i++) {
        RowLabel label = labels.list.items[i];
        if (!label.leftward) {
            uint32_t lane = lane_below(ends, label.x, true);
            if (lane < MOST_LANES)
                ends[lane] = label.x + label.width + WORDS_APART * page->canvas->type;
            label.lane = above + lane;
        }
        if (label.lane >= MOST_LANES) {
            labels.left_out++;
            continue;
        }
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
        double x = label->x, base = y + label->lane * LANE_HIGH * type + size;
        double top = frame->axis - radius_at(page, label->at) * frame->across - LINE_CLEAR * type;
        draw_line(canvas, x, base - size, x, fmax(top, base), GREY_INK, LINE_FINE);
        draw_text(canvas, label->leftward ? x - LINE_CLEAR * type : x + LINE_CLEAR * type, base, size,
                  label->leftward ? ALIGN_END : ALIGN_START, GREY_INK, label->words);
    }
}
