/* One piece of a marking strip: from the edge that is laid along the blank downward, lines at all marks, the
 * colours of the runs, a ruler from the datum, and words. */
#include "emit/pdf/pdf_marking_strip.h"

#include "base/table.h"

#include <math.h>

#define MARKS_HEIGHT 5.0
#define COLOURS_HEIGHT 4.0
#define LEADERS_HEIGHT 3.6
#define LABELS_APART 2.7
#define LABELS_INSIDE 2.2 /* of the strip's ends */
#define NAME_HEIGHT 7.0

#define MARK_COLOURS(X) X(DATUM, MARK_INK) X(EDGE, INK) X(FOOT, GREY_INK) X(PART, MARK_INK) X(POINT, GREY_INK)

static const uint32_t mark_colours[MARK_KINDS] = {
#define X(name, colour) [MARK_##name] = colour,
    MARK_COLOURS(X)
#undef X
};
_Static_assert(TABLE_ROWS(MARK_COLOURS) == MARK_KINDS, "every mark has its colour");

const Style strip_words = {.points = 6.5, .colour = INK, .lines = 1};

static double page_x(const Paper *paper, const StripPiece *piece, double at)
{
    return paper->left + at - piece->from;
}

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
            double x = page_x(paper, piece, mark->at);
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
        paper_box(paper, page_x(paper, piece, low), piece->y + MARKS_HEIGHT + i * lane, high - low, lane,
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
            paper_trace(paper, page_x(paper, piece, low), piece->y + MARKS_HEIGHT + i * COLOURS_HEIGHT,
                        page_x(paper, piece, high), piece->y + MARKS_HEIGHT + i * COLOURS_HEIGHT);
    paper_stroke(paper, GREY_INK, 0.1);
}

static double leaders_top(const StripPiece *piece)
{
    return piece->y + MARKS_HEIGHT + COLOURS_HEIGHT + RULER_HEIGHT;
}

static void trace_leader(Paper *paper, const StripPiece *piece, const StripLabel *label)
{
    double at = page_x(paper, piece, label->at), x = page_x(paper, piece, label->shown), y = leaders_top(piece);
    paper_trace(paper, at, y, x, y + LEADERS_HEIGHT - 1.2);
    paper_trace(paper, x, y + LEADERS_HEIGHT - 1.2, x, y + LEADERS_HEIGHT - 0.4);
}

static void print_label(Paper *paper, const StripPiece *piece, const StripMark *mark, double shown)
{
    Style style = strip_words;
    style.colour = mark_colours[mark->kind];
    style.bold = mark->kind == MARK_DATUM;
    double half = paper_text_height(paper, &style, LONGEST_WORDS, mark->words) / 2;
    cairo_save(paper->pen);
    cairo_translate(paper->pen, page_x(paper, piece, shown), leaders_top(piece) + LEADERS_HEIGHT);
    cairo_rotate(paper->pen, acos(-1) / 2);
    paper_text(paper, &style, 0, -half, LONGEST_WORDS, mark->words);
    cairo_restore(paper->pen);
}

/* Which marks of a piece have words: of each kind every so-manieth, 0 for none. Edges come before other points. */
typedef struct Worded {
    uint32_t every[MARK_KINDS];
} Worded;

static Worded words_at(const StripPiece *piece)
{
    double width = piece->to - piece->from - 2 * LABELS_INSIDE;
    uint32_t counts[MARK_KINDS] = {0}, room = 1 + (uint32_t)(width / LABELS_APART);
    Worded worded = {{0}};
    for (uint32_t i = 0; i < piece->strip->marks.count; i++)
        counts[piece->strip->marks.items[i].kind] += shows(piece, piece->strip->marks.items[i].at);
    for (int kind = 0; kind < MARK_KINDS && room; kind++) {
        uint32_t every = worded.every[kind] = counts[kind] <= room ? 1 : (counts[kind] + room - 1) / room;
        room -= (counts[kind] + every - 1) / every;
    }
    return worded;
}

static void print_labels(Paper *paper, const StripPiece *piece, const Worded *worded)
{
    const MarkingStrip *strip = piece->strip;
    uint32_t seen[MARK_KINDS] = {0}, count = 0;
    uint32_t *which = arena_take_many(paper->arena, strip->marks.count, sizeof *which);
    StripLabel *labels = arena_take_many(paper->arena, strip->marks.count, sizeof *labels);
    for (uint32_t i = 0; i < strip->marks.count; i++) {
        const StripMark *mark = &strip->marks.items[i];
        uint32_t every = worded->every[mark->kind];
        if (!shows(piece, mark->at) || !every || seen[mark->kind]++ % every)
            continue;
        which[count] = i;
        labels[count++].at = mark->at;
    }
    spread_labels(paper->arena, labels, count, LABELS_APART, piece->from + LABELS_INSIDE,
                  piece->to - LABELS_INSIDE);
    for (uint32_t i = 0; i < count; i++)
        trace_leader(paper, piece, &labels[i]);
    paper_stroke(paper, PALE_INK, 0.1);
    for (uint32_t i = 0; i < count; i++)
        print_label(paper, piece, &strip->marks.items[which[i]], labels[i].shown);
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
static void print_joint(Paper *paper, const StripPiece *piece, double at, uint32_t number, double height)
{
    static const Style style = {.points = 7, .bold = true, .colour = MARK_INK, .align = ALIGN_MIDDLE};
    double x = page_x(paper, piece, at), bottom = piece->y + height - NAME_HEIGHT, middle = bottom - 3.5;
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

double piece_height(const StripPiece *piece)
{
    return MARKS_HEIGHT + COLOURS_HEIGHT + RULER_HEIGHT + LEADERS_HEIGHT + piece->label_height + NAME_HEIGHT;
}

/* "piece 1 of 2; words at one edge in 3; pattern 3f2a-91bc-07de". */
static const char *particulars(Paper *paper, const StripPiece *piece, uint32_t every)
{
    Buffer words;
    buffer_start(&words, paper->arena);
    if (piece->count > 1)
        buffer_format(&words, "part %u of %u; ", piece->number, piece->count);
    if (every > 1)
        buffer_format(&words, "words at one edge in %u; ", every);
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
    double y = piece->y + piece_height(piece) - NAME_HEIGHT + 0.4;
    double x0 = paper->left + 1.5, x1 = page_x(paper, piece, piece->to) - 1.5;
    paper_text(paper, &left, x0, y, 0, tip_right ? "< butt" : "< tip");
    paper_text(paper, &right, x1, y, 0, tip_right ? "tip >" : "butt >");
    double ends = paper_text_width(paper, &left, "< butt") + 3, width = x1 - x0 - 2 * ends;
    y += paper_text(paper, &middle, x0 + ends, y, width, piece->name);
    paper_text(paper, &middle, x0 + ends, y, width, particulars(paper, piece, every));
}

static void print_frame(Paper *paper, const StripPiece *piece)
{
    double x0 = page_x(paper, piece, piece->from), x1 = page_x(paper, piece, piece->to);
    double bottom = piece->y + piece_height(piece);
    paper_line(paper, x0, piece->y, x1, piece->y, INK, 0.15);
    paper_trace(paper, x0, piece->y, x0, bottom);
    paper_trace(paper, x1, piece->y, x1, bottom);
    paper_trace(paper, x0, bottom, x1, bottom);
    stroke_dashed(paper, PALE_INK);
}

void paper_piece(Paper *paper, const StripPiece *piece, UnitSystem units)
{
    const MarkingStrip *strip = piece->strip;
    Worded worded = words_at(piece);
    RulerWindow window = {page_x(paper, piece, piece->from), page_x(paper, piece, piece->to)};
    double worked = toward_tip(strip->direction) ? strip->length - strip->datum : strip->datum;
    print_frame(paper, piece);
    print_colours(paper, piece);
    for (MarkKind kind = 0; kind < MARK_KINDS; kind++)
        print_marks(paper, piece, kind);
    paper_ruler(paper, units, page_x(paper, piece, strip->datum), piece->y + MARKS_HEIGHT + COLOURS_HEIGHT + 0.4,
                strip->direction, worked, window);
    print_labels(paper, piece, &worded);
    if (piece->number > 1)
        print_joint(paper, piece, piece->from + STRIP_OVERLAP / 2, piece->number - 1, piece_height(piece));
    if (piece->number < piece->count)
        print_joint(paper, piece, piece->to - STRIP_OVERLAP / 2, piece->number, piece_height(piece));
    print_name(paper, piece, worded.every[MARK_EDGE]);
}
