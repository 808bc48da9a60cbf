#include "draw/rod/rows.h"

#include "base/sort.h"
#include "draw/rod/reach.h"

#include <math.h>
#include <stdlib.h>

/* A rod is drawn about so large, by as many rows as that takes, but for one longer than any rod; never larger than
 * in truth. It gets no further row for less than that part of one. By eye: a foot's wrap and its lines can be
 * seen. */
#define USUAL_SCALE 0.25
#define SPARE 0.35
enum { MOST_ROWS = 16 };
/* A row may end so far from its even share, as a part of it, and stays so far from what is on the rod, mm. */
#define SHARE_OFF 0.3
#define CLEAR 14.0
/* Rows begin at whole centimetres, or half inches, mm. */
#define EVEN 10.0
#define EVEN_INCHES 12.7

static int by_low(const void *one, const void *other)
{
    const Reach *a = one, *b = other;
    return a->low != b->low ? ORDER(a->low, b->low) : ORDER(a->high, b->high);
}

typedef struct Reaches {
    Reach *items; /* what is on the rod, rising, apart from one another */
    uint32_t count;
} Reaches;

static Reaches reaches_of(const RodPage *page)
{
    const Rod *rod = page->canvas->rod->rod;
    uint32_t count = page->view_count + rod->part_count;
    Reaches reaches = {arena_take_many(page->canvas->arena, count, sizeof *reaches.items), 0};
    for (uint32_t i = 0; i < rod->part_count; i++)
        reaches.items[page->view_count + i] =
            (Reach){rod->parts[i].start - CLEAR, rod->parts[i].end + CLEAR, 0, 0};
    for (uint32_t i = 0; i < page->view_count; i++) {
        Reach reach = view_reach(page, &page->views[i], 0.25);
        reaches.items[i] = (Reach){reach.low - CLEAR, reach.high + CLEAR, 0, 0};
    }
    if (count)
        qsort(reaches.items, count, sizeof *reaches.items, by_low);
    for (uint32_t i = 0; i < count; i++) {
        Reach *last = reaches.count ? &reaches.items[reaches.count - 1] : NULL;
        if (last && reaches.items[i].low <= last->high)
            last->high = fmax(last->high, reaches.items[i].high);
        else
            reaches.items[reaches.count++] = reaches.items[i];
    }
    return reaches;
}

static double nearer(double x, double one, double other) { return fabs(one - x) <= fabs(other - x) ? one : other; }

/* Where a part begins or ends, the nearest to x. */
static double part_end_near(const Rod *rod, double x)
{
    double end = INFINITY;
    for (uint32_t i = 0; i < rod->part_count; i++)
        end = nearer(x, nearer(x, rod->parts[i].start, rod->parts[i].end), end);
    return end;
}

/* A whole measure in the bare place nearest to x; or else where a part ends; or else near x. All as far off as it
 * may be. */
static double row_end(const RodPage *page, const Reaches *reaches, double x, double may)
{
    double even = page->canvas->units == SYSTEM_IN ? EVEN_INCHES : EVEN, bare = x;
    for (uint32_t i = 0; i < reaches->count; i++)
        if (x > reaches->items[i].low && x < reaches->items[i].high)
            bare = nearer(x, reaches->items[i].low, reaches->items[i].high);
    if (fabs(bare - x) <= may)
        return round(bare / even) * even;
    double end = part_end_near(page->canvas->rod->rod, x);
    return fabs(end - x) <= may ? end : round(x / even) * even;
}

RodRows rows_make(const RodPage *page)
{
    double butt = page->low, length = page->high - butt, longest = 0;
    double count = fmin(fmax(ceil(length * USUAL_SCALE / page->room - SPARE), 1), MOST_ROWS);
    RodRows rows = {arena_take_many(page->canvas->arena, (size_t)count, sizeof *rows.items), (uint32_t)count, 1};
    Reaches reaches = reaches_of(page);
    double share = length / count, from = butt;
    for (uint32_t i = 0; i < rows.count; i++) {
        double even = butt + (i + 1) * share, end = page->high;
        if (i + 1 < rows.count) {
            end = row_end(page, &reaches, even, share * SHARE_OFF);
            end = end > from && end < page->high ? end : even;
        }
        rows.items[i] = (RodRow){from, end};
        longest = fmax(longest, end - from);
        from = end;
    }
    rows.scale = fmin(1, page->room / longest);
    return rows;
}

uint32_t row_at(const RodRows *rows, double x)
{
    uint32_t row = 0;
    while (row + 1 < rows->count && x >= rows->items[row].to)
        row++;
    return row;
}
