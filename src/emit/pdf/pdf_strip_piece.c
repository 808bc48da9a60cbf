/* One piece of a marking strip: from the edge that is laid along the blank downward, lines at all marks, the
 * colours of the runs, their numbers on the card and letters at other marks, a ruler from the datum, and a name.
 */
#include "emit/pdf/pdf_marking_strip.h"

#include "base/sort.h"
#include "base/table.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DIGIT_WIDTH 1.6
#define NUMBERS_APART 1.0

#define MARK_COLOURS(X) X(DATUM, MARK_INK) X(EDGE, INK) X(FOOT, GREY_INK) X(PART, MARK_INK) X(POINT, GREY_INK)

static const uint32_t mark_colours[MARK_KINDS] = {
#define X(name, colour) [MARK_##name] = colour,
    MARK_COLOURS(X)
#undef X
};
_Static_assert(TABLE_ROWS(MARK_COLOURS) == MARK_KINDS, "every mark has its colour");

static const Style label_style = {.points = 7, .colour = INK, .align = ALIGN_MIDDLE, .lines = 1};

static double page_x(const StripPiece *piece, double at) { return piece->x + at - piece->from; }

static bool shows(const StripPiece *piece, double at) { return at >= piece->from && at <= piece->to; }

static void print_triangle(Paper *paper, double x, double y, double size, uint32_t colour)
{
    if (paper->counting)
        return;
    cairo_move_to(paper->pen, x, y);
    cairo_line_to(paper->pen, x - size * 0.45, y + size);
    cairo_line_to(paper->pen, x + size * 0.45, y + size);
    cairo_close_path(paper->pen);
    paper_source(paper, colour);
    cairo_fill(paper->pen);
}

/* The lines of one kind of mark, and triangles at those that are looked for most. */
static void print_marks(Paper *paper, const StripPiece *piece, MarkKind kind)
{
    bool datum = kind == MARK_DATUM;
    double bottom = piece->y + MARKS_HEIGHT;
    for (int triangles = 0; triangles < 2; triangles++) {
        for (uint32_t i = 0; i < piece->strip->marks.count; i++) {
            const StripMark *mark = &piece->strip->marks.items[i];
            double x = page_x(piece, mark->at);
            if (mark->kind != kind || !shows(piece, mark->at))
                continue;
            if (!triangles)
                paper_trace(paper, x, piece->y, x, bottom + (datum ? COLOURS_HEIGHT : 0));
            else if (datum || mark->measure)
                print_triangle(paper, x, bottom - 1.8, 1.8, datum ? MARK_INK : INK);
        }
        if (!triangles)
            paper_stroke(paper, mark_colours[kind], datum ? 0.3 : 0.1);
    }
}

/* Strands together lie side by side as lanes. */
static void print_run(Paper *paper, const StripPiece *piece, const Run *run)
{
    double a = along_strip(piece->strip, run->start), b = along_strip(piece->strip, run->end);
    double low = fmax(fmin(a, b), piece->from), high = fmin(fmax(a, b), piece->to);
    if (!run->strands || low >= high)
        return;
    double lane = COLOURS_HEIGHT / run->strands->count;
    for (uint32_t i = 0; i < run->strands->count; i++)
        paper_box(paper, page_x(piece, low), piece->y + MARKS_HEIGHT + i * lane, high - low, lane,
                  run->strands->items[i].thread->colour, NO_COLOUR);
}

static void print_colours(Paper *paper, const StripPiece *piece)
{
    const PlannedLayer *layer = piece->strip->layer;
    for (uint32_t i = 0; i < layer->run_count; i++)
        print_run(paper, piece, &layer->runs[i]);
    double a = along_strip(piece->strip, layer->start), b = along_strip(piece->strip, layer->end);
    double low = fmax(fmin(a, b), piece->from), high = fmin(fmax(a, b), piece->to);
    if (low < high)
        for (int i = 0; i < 2; i++)
            paper_trace(paper, page_x(piece, low), piece->y + MARKS_HEIGHT + i * COLOURS_HEIGHT,
                        page_x(piece, high), piece->y + MARKS_HEIGHT + i * COLOURS_HEIGHT);
    paper_stroke(paper, GREY_INK, 0.1);
}

/* --- numbers and letters --- */

/* "a" to "z", then "aa". */
static const char *letters_of(Arena *arena, uint32_t index)
{
    enum { LETTERS = 26 };
    if (index < LETTERS)
        return text_format(arena, "%c", 'a' + (int)index);
    return text_format(arena, "%c%c", 'a' + (int)((index / LETTERS - 1) % LETTERS), 'a' + (int)(index % LETTERS));
}

/* An edge is where a line ends, and the red line needs no words. */
static bool has_letters(const StripMark *mark)
{
    return mark->kind == MARK_DATUM ? strcmp(mark->words, "mark") != 0 : mark->kind != MARK_EDGE;
}

/* In the order in which the work comes to them: feet that are alike have the same letters. */
static const StripMark *mark_in_order(const MarkingStrip *strip, uint32_t index)
{
    return &strip->marks.items[strip->direction > 0 ? index : strip->marks.count - 1 - index];
}

const char *marks_with_letters(Arena *arena, const MarkingStrip *strip)
{
    Buffer words;
    uint32_t letters = 0;
    buffer_start(&words, arena);
    for (uint32_t i = 0; i < strip->marks.count; i++) {
        const StripMark *mark = mark_in_order(strip, i);
        if (has_letters(mark))
            buffer_format(&words, "%s%s: %s", letters ? "; " : "", letters_of(arena, letters), mark->words);
        letters += has_letters(mark);
    }
    return buffer_string(&words);
}

/* What stands below the colours: which line or mark, and where. */
typedef struct Numbered {
    const char *words;
    uint32_t colour;
    double at;
} Numbered;

static int compare_numbered(const void *a, const void *b)
{
    return ORDER(((const Numbered *)a)->at, ((const Numbered *)b)->at);
}

typedef LIST_OF(Numbered) NumberedList;

/* Each line's number in the middle of what shows of it. */
static void find_numbers(Paper *paper, const StripPiece *piece, NumberedList *list)
{
    const MarkingStrip *strip = piece->strip;
    for (uint32_t i = 0; i < piece->card->line_count; i++) {
        const CardLine *line = &piece->card->lines[i];
        const Run *first = &strip->layer->runs[line->first_run], *last = first + line->run_count - 1;
        double a = along_strip(strip, first->start), b = along_strip(strip, last->end);
        double low = fmax(fmin(a, b), piece->from), high = fmin(fmax(a, b), piece->to);
        if (low < high)
            *LIST_ADD(paper->arena, list) =
                (Numbered){text_format(paper->arena, "%u", (unsigned)line->number), INK, (low + high) / 2};
    }
}

static void find_letters(Paper *paper, const StripPiece *piece, NumberedList *list)
{
    uint32_t letters = 0;
    for (uint32_t i = 0; i < piece->strip->marks.count; i++) {
        const StripMark *mark = mark_in_order(piece->strip, i);
        if (has_letters(mark) && shows(piece, mark->at))
            *LIST_ADD(paper->arena, list) =
                (Numbered){letters_of(paper->arena, letters), mark_colours[mark->kind], mark->at};
        letters += has_letters(mark);
    }
}

static double leaders_top(const StripPiece *piece) { return piece->y + MARKS_HEIGHT + COLOURS_HEIGHT; }

/* Where there is no room for all, every so-manieth. */
static uint32_t print_labels(Paper *paper, const StripPiece *piece)
{
    NumberedList all = {0};
    find_numbers(paper, piece, &all);
    find_letters(paper, piece, &all);
    if (!all.count)
        return 1;
    qsort(all.items, all.count, sizeof *all.items, compare_numbered);
    size_t digits = 1;
    for (uint32_t i = 0; i < all.count; i++)
        digits = strlen(all.items[i].words) > digits ? strlen(all.items[i].words) : digits;
    double apart = (double)digits * DIGIT_WIDTH + NUMBERS_APART, room = piece->to - piece->from - apart;
    uint32_t most = 1 + (uint32_t)(room / apart), every = (all.count + most - 1) / most, count = 0;
    SpreadLabel *labels = arena_take_many(paper->arena, all.count, sizeof *labels);
    for (uint32_t i = 0; i < all.count; i += every)
        labels[count++].at = all.items[i].at;
    spread_labels(paper->arena, labels, count, apart, piece->from + apart / 2, piece->to - apart / 2);
    double y = leaders_top(piece);
    for (uint32_t i = 0; i < count; i++)
        paper_trace(paper, page_x(piece, labels[i].at), y + 0.3, page_x(piece, labels[i].shown),
                    y + LEADERS_HEIGHT);
    paper_stroke(paper, GREY_INK, 0.1);
    for (uint32_t i = 0; i < count; i++) {
        Style style = label_style;
        style.colour = all.items[i * every].colour;
        paper_text(paper, &style, page_x(piece, labels[i].shown), y + LEADERS_HEIGHT, 0,
                   all.items[i * every].words);
    }
    return every;
}

static void stroke_dashed(Paper *paper, uint32_t colour)
{
    if (paper->counting)
        return;
    paper_source(paper, colour);
    paper_stroke_path(paper, 0.15, 1.5, 1);
    cairo_new_path(paper->pen);
}

/* Where two pieces overlap, the same line on both, with the same number. */
static void print_joint(Paper *paper, const StripPiece *piece, double at, uint32_t number)
{
    static const Style style = {.points = 7, .bold = true, .colour = MARK_INK, .align = ALIGN_MIDDLE};
    double x = page_x(piece, at), bottom = piece->y + STRIP_HEIGHT - NAME_HEIGHT, middle = bottom - 3.5;
    paper_trace(paper, x, piece->y, x, bottom);
    stroke_dashed(paper, MARK_INK);
    if (paper->counting)
        return;
    paper_source(paper, PAPER);
    cairo_new_sub_path(paper->pen);
    cairo_arc(paper->pen, x, middle, 2.6, 0, 2 * acos(-1));
    cairo_fill_preserve(paper->pen);
    paper_source(paper, MARK_INK);
    paper_stroke_path(paper, 0.2, 0, 0);
    cairo_new_path(paper->pen);
    const char *words = text_format(paper->arena, "%u", number);
    double tall = paper_text_height(paper, &style, 0, words);
    paper_text(paper, &style, x, middle - tall / 2, 0, words);
}

/* "part 1 of 2; every third number; file id 3f2a-91bc-07de". */
static const char *particulars(Paper *paper, const StripPiece *piece, uint32_t every)
{
    Buffer words;
    buffer_start(&words, paper->arena);
    if (piece->count > 1)
        buffer_format(&words, "part %u of %u; ", piece->number, piece->count);
    if (every > 1)
        buffer_format(&words, "one number in %u; ", every);
    buffer_format(&words, "file id %s", paper->mark);
    buffer_put(&words, "", 1);
    return words.bytes;
}

/* What tells the strip from others once it is cut out, in two lines between its ends. */
static void print_name(Paper *paper, const StripPiece *piece, uint32_t every)
{
    static const Style middle = {.points = 7, .colour = INK, .align = ALIGN_MIDDLE, .lines = 1};
    static const Style left = {.points = 7, .bold = true, .colour = INK};
    static const Style right = {.points = 7, .bold = true, .colour = INK, .align = ALIGN_END};
    bool tip_right = piece->strip->side > 0;
    double y = piece->y + STRIP_HEIGHT - NAME_HEIGHT + 0.4;
    double x0 = piece->x + 1.5, x1 = page_x(piece, piece->to) - 1.5;
    y += paper_text(paper, &middle, x0, y, x1 - x0, piece->name);
    double ends = paper_text_width(paper, &left, "< butt") + 3;
    paper_text(paper, &left, x0, y, 0, tip_right ? "< butt" : "< tip");
    paper_text(paper, &right, x1, y, 0, tip_right ? "tip >" : "butt >");
    paper_text(paper, &middle, x0 + ends, y, x1 - x0 - 2 * ends, particulars(paper, piece, every));
}

static void print_frame(Paper *paper, const StripPiece *piece)
{
    double x0 = page_x(piece, piece->from), x1 = page_x(piece, piece->to);
    double bottom = piece->y + STRIP_HEIGHT;
    paper_line(paper, x0, piece->y, x1, piece->y, INK, 0.15);
    paper_trace(paper, x0, piece->y, x0, bottom);
    paper_trace(paper, x1, piece->y, x1, bottom);
    paper_trace(paper, x0, bottom, x1, bottom);
    stroke_dashed(paper, PALE_INK);
}

void paper_piece(Paper *paper, const StripPiece *piece, UnitSystem units)
{
    const MarkingStrip *strip = piece->strip;
    RulerWindow window = {page_x(piece, piece->from), page_x(piece, piece->to)};
    double worked = toward_tip(strip->direction) ? strip->length - strip->datum : strip->datum;
    print_frame(paper, piece);
    print_colours(paper, piece);
    for (MarkKind kind = 0; kind < MARK_KINDS; kind++)
        print_marks(paper, piece, kind);
    uint32_t every = print_labels(paper, piece);
    paper_ruler(paper, units, page_x(piece, strip->datum),
                leaders_top(piece) + LEADERS_HEIGHT + NUMBERS_HEIGHT + 0.2, strip->direction, worked, window);
    if (piece->number > 1)
        print_joint(paper, piece, piece->from + STRIP_OVERLAP / 2, piece->number - 1);
    if (piece->number < piece->count)
        print_joint(paper, piece, piece->to - STRIP_OVERLAP / 2, piece->number);
    print_name(paper, piece, every);
}
