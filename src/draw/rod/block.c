#include "draw/rod/block.h"

#include "base/whole.h"
#include "draw/rod/far_strip.h"
#include "draw/rod/labels.h"
#include "draw/rod/reach.h"
#include "draw/rod/stretch.h"

#include <math.h>

/* Page mm at true scale. */
#define LANES_APART 1.2 /* lines that run down past a shelf */
#define LANES 4.0       /* that there is room for; more lie on one another */
#define LINES_LONG 6.0  /* from the row's ruler, or the rod, down to the close-ups */
#define LINE_CLEAR 0.9  /* between lines and what they point at */
#define SHELVES_APART 4.5
#define RULER_TICK 1.1
#define RULER_CLEAR 2.2 /* below the rod */
#define NUMBERS_APART 14.0
#define TICKS_APART 1.4
#define NUMBERS (LETTERS_SMALL * 0.9)
#define FINE 0.08
#define OVERVIEW_CLEAR 9.0

typedef struct RowBlock {
    RodPage *page;
    Canvas *canvas;
    Frame frame; /* of the row */
    RodRow row;
    CloseUp *first; /* those of the row */
    uint32_t count, shelves;
    double foot;         /* page y where the lines to the close-ups begin */
    double ruler, below; /* of the ruler's upper edge, and below its numbers */
} RowBlock;

/* --- groups that say what is shown --- */

static void start_part(Canvas *canvas, const char *title)
{
    Shape *shape = LIST_ADD(canvas->arena, &canvas->drawing->shapes);
    *shape = (Shape){.kind = SHAPE_GROUP_START, .fill = NO_COLOUR, .stroke = NO_COLOUR, .text = title};
}

/* --- where close-ups lie --- */

static double row_x(const RowBlock *block, const PlaceView *view)
{
    return frame_x(&block->frame, (view->inner_low + view->inner_high) / 2);
}

static double ideal_x(const RowBlock *block, const CloseUp *close)
{
    double sum = 0;
    for (uint32_t i = 0; i < close->like.count; i++)
        sum += row_x(block, close->like.items[i]);
    return sum / close->like.count;
}

/* As many side by side as there is room for. */
static void fill_shelves(RowBlock *block)
{
    double gap = CLOSE_UPS_APART * block->canvas->type, taken = -gap, room = block->page->room;
    uint32_t shelf = 0;
    for (uint32_t i = 0; i < block->count; i++)
        taken += gap + block->first[i].width;
    if (taken > room)
        room -= LANES * LANES_APART * block->canvas->type;
    taken = 0;
    for (uint32_t i = 0; i < block->count; i++) {
        CloseUp *close = &block->first[i];
        if (taken > 0 && taken + gap + close->width > room) {
            shelf++;
            taken = 0;
        }
        taken += (taken > 0 ? gap : 0) + close->width;
        close->shelf = shelf;
    }
    block->shelves = block->count ? shelf + 1 : 0;
}

/* Neighbours that would overlap, moved together so that they are off as little as can be. */
typedef struct Cluster {
    double sum; /* of where each would like the first to begin */
    double width;
    uint32_t count;
} Cluster;

static double cluster_start(const Cluster *cluster) { return cluster->sum / cluster->count; }

static void place_shelf(RowBlock *block, CloseUp *items, uint32_t count)
{
    double gap = CLOSE_UPS_APART * block->canvas->type, left = block->page->left;
    Cluster *clusters = arena_take_many(block->canvas->arena, count, sizeof *clusters);
    uint32_t made = 0;
    for (uint32_t i = 0; i < count; i++) {
        Cluster *last = &clusters[made++];
        *last = (Cluster){ideal_x(block, &items[i]) - items[i].width / 2, items[i].width, 1};
        while (made > 1 && cluster_start(last - 1) + last[-1].width + gap > cluster_start(last)) {
            Cluster *before = last - 1;
            before->sum += last->sum - last->count * (before->width + gap);
            before->width += gap + last->width;
            before->count += last->count;
            last = before;
            made--;
        }
    }
    double most = left + block->page->room, total = (made - 1) * gap;
    for (uint32_t i = 0; i < made; i++)
        total += clusters[i].width;
    double at = left;
    for (uint32_t i = 0, item = 0; i < made; i++) {
        double start = fmax(at, fmin(cluster_start(&clusters[i]), most - total));
        at = start + clusters[i].width + gap;
        total -= clusters[i].width + gap;
        for (uint32_t end = item + clusters[i].count; item < end; item++) {
            items[item].x = start + items[item].width / 2;
            start += items[item].width + gap;
        }
    }
}

/* --- the row --- */

/* Reaches of what stands in the row, mm of the rod. */
static Reach row_reach(const RowBlock *block)
{
    const RodPage *page = block->page;
    const Blank *blank = block->canvas->rod->rod->blank;
    Reach reach = {block->row.from, block->row.to, 0, 0};
    for (double x = block->row.from;;) { /* thickest at its ends or at a station between */
        uint32_t next = blank_station_after(blank, x);
        reach.up = reach.down = fmax(reach.up, blank_diameter(blank, x) / 2);
        if (x >= block->row.to)
            break;
        x = next < blank->station_count ? fmin(blank->stations[next].at, block->row.to) : block->row.to;
    }
    PartsSeen parts = parts_seen(block->canvas, &(PlaceView){.low = block->row.from, .high = block->row.to});
    reach.up = reach.down = fmax(reach.up, parts.radius);
    for (uint32_t i = 0; i < page->view_count; i++) {
        Reach view = view_reach(page, &page->views[i], block->frame.facing);
        if (view.low >= block->row.to || view.high <= block->row.from)
            continue;
        reach.up = fmax(reach.up, view.up);
        reach.down = fmax(reach.down, view.down);
    }
    return reach;
}

/* The first of 1, 2, 5, 10, 20 ... cm or inches that does not run together on the page. */
static double step_of(const RowBlock *block, double least)
{
    static const double times[] = {2, 2.5, 2};
    double unit = block->canvas->units == SYSTEM_IN ? 25.4 : 10, count = 1;
    for (int i = 0; count * unit * block->frame.scale < least * block->canvas->type; i++)
        count *= times[i % 3];
    return count * unit;
}

/* What stands at a number of the ruler; NULL for no number. */
static const char *number_at(const RowBlock *block, double x)
{
    Canvas *canvas = block->canvas;
    if (fabs(remainder(x, step_of(block, NUMBERS_APART))) > 1e-6)
        return NULL;
    buffer_number_short(&canvas->words, x / unit_factor(print_writing(canvas->units, QUANTITY_PLACE).unit), 1);
    return take_words(canvas);
}

/* Whether a line that runs down there would run through a number. */
static bool meets_number(const RowBlock *block, double page_x)
{
    double apart = step_of(block, NUMBERS_APART), low = block->row.from;
    double nearest = round((low + (page_x - block->frame.left) / block->frame.scale) / apart) * apart;
    if (block->page->presentation || nearest < low - 1e-9 || nearest > block->row.to + 1e-9)
        return false;
    double width = text_width(number_at(block, nearest), NUMBERS * block->canvas->type);
    return fabs(frame_x(&block->frame, nearest) - page_x) < width / 2 + 0.8;
}

static void draw_row_ruler(const RowBlock *block, double y)
{
    Canvas *canvas = block->canvas;
    double size = NUMBERS * canvas->type, tick = RULER_TICK * canvas->type, ticks = step_of(block, TICKS_APART);
    double from = block->row.from, to = block->row.to;
    draw_line(canvas, frame_x(&block->frame, from), y, frame_x(&block->frame, to), y, PALE_INK, FINE);
    for (double i = whole_above(from / ticks), last = whole_below(to / ticks); i <= last; i++) {
        double x = frame_x(&block->frame, i * ticks);
        const char *number = number_at(block, i * ticks);
        draw_line(canvas, x, y, x, y + (number ? tick * 1.5 : tick), PALE_INK, FINE);
        if (number)
            draw_text(canvas, x, y + tick * 1.5 + size, size, ALIGN_MIDDLE, GREY_INK, number);
    }
}

/* "0 cm to 71 cm from the butt" */
static const char *row_words(const RowBlock *block)
{
    Canvas *canvas = block->canvas;
    put_quantity(&canvas->words, canvas->units, QUANTITY_PLACE, round(block->row.from * 10) / 10);
    buffer_text(&canvas->words, " to ");
    put_quantity(&canvas->words, canvas->units, QUANTITY_PLACE, round(block->row.to * 10) / 10);
    buffer_text(&canvas->words, " from the butt");
    return take_words(canvas);
}

/* The rod itself, from canvas->y on, which goes below it. */
static void draw_rod_row(RowBlock *block, const char *title)
{
    Canvas *canvas = block->canvas;
    Reach reach = row_reach(block);
    block->frame.axis = canvas->y + reach.up * block->frame.across;
    start_part(canvas, title);
    draw_stretch(block->page, &block->frame, block->row.from, block->row.to);
    group_end(canvas);
    canvas->y = block->foot = block->frame.axis + reach.down * block->frame.across;
}

static void draw_row(RowBlock *block, bool named)
{
    RodPage *page = block->page;
    Canvas *canvas = block->canvas;
    double type = canvas->type;
    const char *words = row_words(block);
    if (named && !page->presentation) {
        canvas->y += LETTERS_SMALL * type;
        draw_text(canvas, page->left, canvas->y, LETTERS_SMALL * type, ALIGN_START, GREY_INK, words);
        canvas->y += 1.5 * type;
    }
    RowLabels labels = labels_make(page, &block->frame, block->row);
    double top = canvas->y;
    canvas->y += labels_height(page, &labels);
    draw_rod_row(block, words);
    draw_labels(page, &block->frame, &labels, top);
    page->unsaid += labels.left_out;
    if (!page->presentation) {
        canvas->y += RULER_CLEAR * type;
        block->ruler = canvas->y;
        draw_row_ruler(block, canvas->y);
        canvas->y += (RULER_TICK * 1.5 + LETTERS_SMALL) * type;
        block->below = canvas->y;
        canvas->y += LINE_CLEAR * type;
    }
}

/* --- lines and close-ups --- */

/* Lines to lower shelves, whose wraps lie further on toward the tip, run down behind the last close-up of a shelf.
 */
static double lane_x(const RowBlock *block, uint32_t shelf, const CloseUp *close)
{
    double end = block->page->left, lane = 0;
    for (const CloseUp *other = block->first; other < close; other++) {
        if (other->shelf == shelf)
            end = fmax(end, other->x + other->width / 2);
        else if (other->shelf > shelf)
            lane = fmin(lane + 1, LANES);
    }
    return end + CLOSE_UPS_APART * block->canvas->type / 2 + lane * LANES_APART * block->canvas->type;
}

/* Page y of the shelves' upper and lower ends. */
typedef struct Shelf {
    double top, bottom, axis;
} Shelf;

/* From a wrap on the rod to its close-up, past the shelves above. */
static void draw_pointer(const RowBlock *block, const Shelf *shelves, const CloseUp *close, const PlaceView *view)
{
    Canvas *canvas = block->canvas;
    uint32_t ink = block->page->presentation ? PALE_INK : GREY_INK;
    double clear = LINE_CLEAR * canvas->type, y = block->foot + clear, x = row_x(block, view);
    double low = fmax(frame_x(&block->frame, view->inner_low), frame_x(&block->frame, block->row.from));
    double high = fmin(frame_x(&block->frame, view->inner_high), frame_x(&block->frame, block->row.to));
    Point *points = arena_take_many(canvas->arena, (size_t)close->shelf * 2 + 4, sizeof *points);
    uint32_t count = 0;
    if (!block->page->presentation)
        draw_line(canvas, low, y, high, y, ink, FINE);
    bool broken = meets_number(block, x);
    if (broken)
        draw_line(canvas, x, y, x, block->ruler, ink, FINE);
    points[count++] = (Point){x, broken ? block->below : y};
    points[count++] = (Point){x, shelves[0].top - LINES_LONG * canvas->type};
    for (uint32_t s = 0; s < close->shelf; s++) {
        double lane = lane_x(block, s, close);
        points[count++] = (Point){lane, shelves[s].top};
        points[count++] = (Point){lane, shelves[s].bottom};
    }
    double end =
        close->x
        + ((close->view->inner_low + close->view->inner_high) - (close->low + close->high)) / 2 * close->scale;
    points[count++] = (Point){end, shelves[close->shelf].top};
    points[count++] = (Point){end, shelves[close->shelf].axis - close->rise - clear};
    draw_path(canvas, points, count, ink, FINE);
}

static void draw_close_up(RodPage *page, const CloseUp *close, double axis)
{
    Canvas *canvas = page->canvas;
    double width = (close->high - close->low) * close->scale, y = axis + close->down + 1.2 * canvas->type;
    Frame frame = {close->x - width / 2, close->low, axis, close->scale, close->scale, close->facing, 0.25};
    start_part(canvas, close->words[0] ? close->words[0] : "wrap");
    page->near_by = close->view;
    draw_stretch(page, &frame, close->low, close->high);
    page->near_by = NULL;
    draw_far_strip(page, close->view, &frame, close->high, axis + close->down);
    group_end(canvas);
    y += far_strip_height(page, close->view);
    for (uint32_t i = 0; i < sizeof close->words / sizeof *close->words; i++) {
        if (!close->words[i])
            continue;
        double size = words_size(page, i);
        y += size * (i ? 1.35 : 1.2);
        draw_text(canvas, close->x, y, size, ALIGN_MIDDLE, i ? GREY_INK : INK, close->words[i]);
    }
}

static double words_height(const RodPage *page, const CloseUp *close)
{
    double height = 0;
    for (uint32_t i = 0; i < sizeof close->words / sizeof *close->words; i++)
        height += close->words[i] ? words_size(page, i) * 1.35 : 0;
    height += far_strip_height(page, close->view);
    return height > 0 ? height + 1.6 * page->canvas->type : 0;
}

/* Where each shelf lies, from canvas->y on, which goes below the last. */
static Shelf *stack_shelves(const RowBlock *block)
{
    Canvas *canvas = block->canvas;
    Shelf *shelves = arena_take_many(canvas->arena, block->shelves, sizeof *shelves);
    canvas->y += LINES_LONG * canvas->type;
    for (uint32_t s = 0; s < block->shelves; s++) {
        double up = 0, down = 0;
        for (uint32_t i = 0; i < block->count; i++) {
            const CloseUp *close = &block->first[i];
            if (close->shelf != s)
                continue;
            up = fmax(up, close->up);
            down = fmax(down, close->down + words_height(block->page, close));
        }
        up += LINE_CLEAR * 2 * canvas->type;
        shelves[s] = (Shelf){canvas->y, canvas->y + up + down, canvas->y + up};
        canvas->y = shelves[s].bottom + SHELVES_APART * canvas->type;
    }
    return shelves;
}

static void draw_close_ups(RowBlock *block)
{
    const Shelf *shelves = stack_shelves(block);
    for (uint32_t i = 0; i < block->count; i++) {
        const CloseUp *close = &block->first[i];
        for (uint32_t j = 0; j < close->like.count; j++)
            draw_pointer(block, shelves, close, close->like.items[j]);
    }
    for (uint32_t i = 0; i < block->count; i++)
        draw_close_up(block->page, &block->first[i], shelves[block->first[i].shelf].axis);
}

static RowBlock block_of(RodPage *page, RodRow row, double scale)
{
    Canvas *canvas = page->canvas;
    double facing = isfinite(canvas->facing) ? canvas->facing / 360 : 0.25;
    RowBlock block = {.page = page, .canvas = canvas, .row = row};
    block.frame = (Frame){
        .left = page->left, .low = row.from, .scale = scale, .across = scale, .facing = facing, .shown = 0.25};
    return block;
}

void draw_overview(RodPage *page)
{
    RodRow row = {page->low, page->high};
    RowBlock block = block_of(page, row, page->room / (row.to - row.from));
    draw_rod_row(&block, "the rod in one piece");
    page->canvas->y += OVERVIEW_CLEAR * page->canvas->type;
}

void draw_block(RodPage *page, const RodRows *rows, uint32_t row, CloseUps *close_ups)
{
    Canvas *canvas = page->canvas;
    RowBlock block = block_of(page, rows->items[row], rows->scale);
    for (uint32_t i = 0; i < close_ups->list.count; i++)
        if (close_ups->list.items[i].row == row) {
            block.first = block.first ? block.first : &close_ups->list.items[i];
            block.count++;
        }
    fill_shelves(&block);
    for (uint32_t i = 0, end; i < block.count; i = end) {
        for (end = i; end < block.count && block.first[end].shelf == block.first[i].shelf;)
            end++;
        place_shelf(&block, &block.first[i], end - i);
    }
    draw_row(&block, rows->count > 1);
    if (block.count)
        draw_close_ups(&block);
    else
        canvas->y += SHELVES_APART * canvas->type;
}
