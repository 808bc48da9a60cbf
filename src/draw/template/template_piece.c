/* One piece of a template as a drawing: what is cut, which edges meet, lines, crossings, the way of a thread. */
#include "draw/template/template.h"

#include "draw/canvas.h"
#include "trade/trade.h"

#include <math.h>
#include <string.h>

/* Letters, mm. */
#define SMALL 1.8
#define CAPTION 2.4
#define NAME 4.5
/* Pens, mm. */
#define PEN_CUT 0.2
#define PEN_LINE 0.12
#define PEN_HEAVY 0.25
#define PEN_CROSSING 0.3
#define PEN_WAY 0.18
/* Half of the short mark at a crossing, and of a dash and the gap behind it. */
#define CROSSING_HALF 1.5
#define DASH 2.0
#define DASH_GAP 1.2
/* Points of a thread's way in one turn: its bend on paper is slight. */
enum { POINTS_A_TURN = 96, MOST_POINTS = POINTS_A_TURN + 2 };
/* Distances closer than this would run into one another. */
#define LABELS_APART (SMALL * 1.3)
#define NEAR_EDGE 1e-9

enum { WAY_INK = 0x3f6fae, BAND_TINT = 0xe4e6e8 };

typedef struct Sketch {
    Canvas *canvas;
    const Template *template;
    const TemplatePiece *piece;
    const PlannedCrosswrap *planned;
    double x, y; /* on the page, of the foot of the upright line */
} Sketch;

static Point at(const Sketch *sketch, double x, double turn)
{
    Point flat = flat_point(&sketch->piece->cone, x, turn);
    return (Point){sketch->x + flat.x, sketch->y - flat.y};
}

/* mm round the paper as turns. */
static double across(const Sketch *sketch, double x, double mm)
{
    return mm / (2 * TRADE_PI * flat_radius(&sketch->piece->cone, x));
}

/* --- words --- */

static Shape *words_at(const Sketch *sketch, Point point, double size, TextAlign align, uint32_t colour,
                       const char *words)
{
    draw_text(sketch->canvas, point.x, point.y, size, align, colour, words);
    return &sketch->canvas->drawing->shapes.items[sketch->canvas->drawing->shapes.count - 1];
}

/* Upward along the line at this turn, `right` mm beside it, cut where they are longer than so many mm. */
static void words_along(const Sketch *sketch, double x, double turn, double right, double size, double longest,
                        uint32_t colour, const char *words)
{
    double letters = floor(longest / text_width("n", size)) - 3;
    if (letters < 1 && text_width(words, size) > longest)
        return;
    if (text_width(words, size) > longest)
        words = fitted(sketch->canvas->arena, words, (uint32_t)letters);
    Point point = at(sketch, x, turn + across(sketch, x, right));
    Shape *shape = words_at(sketch, point, size, ALIGN_START, colour, words);
    shape->turned = 90 - flat_lean(&sketch->piece->cone, turn);
}

static const char *bare_length(const Sketch *sketch, double mm)
{
    put_digits(&sketch->canvas->words, sketch->canvas->units, QUANTITY_WIDTH, mm);
    return take_words(sketch->canvas);
}

static const char *distance(const Sketch *sketch, double x)
{
    const PlannedPlace *place = sketch->template->place;
    return bare_length(sketch, (x - place->start) * place->direction);
}

/* --- what lies along a ring round the blank --- */

static uint32_t put_ring(const Sketch *sketch, double x, double from, double to, Point *points)
{
    int parts = sketch->piece->cone.taper == 0 ? 1 : TEMPLATE_ARC;
    for (int i = 0; i <= parts; i++)
        points[i] = at(sketch, x, from + (to - from) * i / parts);
    return (uint32_t)parts + 1;
}

static bool lies_on(const Sketch *sketch, double x)
{
    return x >= sketch->piece->from - NEAR_EDGE && x <= sketch->piece->to + NEAR_EDGE;
}

static void draw_band(const Sketch *sketch, double low, double high)
{
    Point points[2 * (TEMPLATE_ARC + 1)];
    low = fmax(low, sketch->piece->from);
    high = fmin(high, sketch->piece->to);
    if (low >= high)
        return;
    uint32_t count = put_ring(sketch, low, sketch->piece->left, sketch->piece->right, points);
    count += put_ring(sketch, high, sketch->piece->right, sketch->piece->left, points + count);
    draw_polygon(sketch->canvas, points, count, BAND_TINT, SHADE_FLAT);
}

static void draw_field_edge(const Sketch *sketch, double x)
{
    Point points[TEMPLATE_ARC + 1];
    if (!lies_on(sketch, x))
        return;
    uint32_t count = put_ring(sketch, x, sketch->piece->left, sketch->piece->right, points);
    draw_path(sketch->canvas, points, count, INK, PEN_CUT);
}

static double field_low(const Sketch *sketch)
{
    return fmin(sketch->planned->field_start, sketch->planned->field_end);
}

static double field_high(const Sketch *sketch)
{
    return fmax(sketch->planned->field_start, sketch->planned->field_end);
}

/* --- the way of the first strand --- */

static double apart(Point a, Point b) { return hypot(b.x - a.x, b.y - a.y); }

static Point between(Point a, Point b, double share)
{
    return (Point){a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

/* The path from one mm along it to another. */
static void draw_stretch(const Sketch *sketch, const Point *points, const double *marks, uint32_t count,
                         double from, double to)
{
    Point part[MOST_POINTS + 2];
    uint32_t made = 0, i = 1;
    while (i + 1 < count && marks[i] <= from)
        i++;
    part[made++] = between(points[i - 1], points[i], (from - marks[i - 1]) / (marks[i] - marks[i - 1]));
    for (; i + 1 < count && marks[i] < to; i++)
        part[made++] = points[i];
    part[made++] = between(points[i - 1], points[i], (to - marks[i - 1]) / (marks[i] - marks[i - 1]));
    draw_path(sketch->canvas, part, made, WAY_INK, PEN_WAY);
}

static void draw_dashes(const Sketch *sketch, const Point *points, uint32_t count)
{
    double marks[MOST_POINTS] = {0};
    for (uint32_t i = 1; i < count; i++)
        marks[i] = marks[i - 1] + apart(points[i - 1], points[i]);
    double length = marks[count - 1];
    for (double from = 0; from < length; from += DASH + DASH_GAP)
        draw_stretch(sketch, points, marks, count, from, fmin(from + DASH, length));
}

/* A leg of one start. */
typedef struct ThreadWay {
    uint32_t start;
    Leg leg;
    double across;
} ThreadWay;

static double way_turn(const Sketch *sketch, const ThreadWay *way, double x)
{
    return crosswrap_turn(sketch->planned, way->start, way->leg, way->across, x);
}

/* From the turn a to b, at most one on, which lie on the piece when taken back by so many whole turns. */
static void draw_way_round(const Sketch *sketch, const ThreadWay *way, double a, double b, double whole)
{
    Point points[MOST_POINTS];
    uint32_t count = 2 + (uint32_t)(fmin(1, b - a) * POINTS_A_TURN);
    for (uint32_t i = 0; i < count; i++) {
        double turn = a + (b - a) * i / (count - 1);
        double x = crosswrap_position(sketch->planned, way->start, way->leg, way->across, turn);
        points[i] = at(sketch, fmin(fmax(x, sketch->piece->from), sketch->piece->to), turn - whole);
    }
    if (way->leg == LEG_OUT)
        draw_path(sketch->canvas, points, count, WAY_INK, PEN_WAY);
    else
        draw_dashes(sketch, points, count);
}

static void draw_way(const Sketch *sketch, const ThreadWay *way)
{
    const TemplatePiece *piece = sketch->piece;
    double one = way_turn(sketch, way, piece->from), other = way_turn(sketch, way, piece->to);
    double low = fmin(one, other), high = fmax(one, other);
    for (double whole = ceil(low - piece->right); whole <= high - piece->left; whole++) {
        double a = fmax(low, piece->left + whole), b = fmin(high, piece->right + whole);
        if (b - a > NEAR_EDGE)
            draw_way_round(sketch, way, a, b, whole);
    }
}

static void draw_ways(const Sketch *sketch)
{
    const PlannedCrosswrap *planned = sketch->planned;
    for (uint32_t start = 0; start < planned->starts; start++)
        for (Leg leg = LEG_OUT; leg < (Leg)leg_count(planned); leg++)
            draw_way(sketch, &(ThreadWay){start, leg, planned->strands[0].middle});
}

/* --- lines and crossings --- */

/* Distance of the lines from one another, mm of paper at the piece's narrower end. */
static double lines_apart(const Sketch *sketch)
{
    double narrow = fmin(flat_radius(&sketch->piece->cone, sketch->piece->from),
                         flat_radius(&sketch->piece->cone, sketch->piece->to));
    uint32_t count = crosswrap_line_count(sketch->planned);
    return 2 * TRADE_PI * narrow / (count ? count : 2);
}

static void draw_crossing(const Sketch *sketch, double x, double turn)
{
    double half = across(sketch, x, fmin(CROSSING_HALF, lines_apart(sketch) / 3));
    Point a = at(sketch, x, turn - half), b = at(sketch, x, turn + half);
    draw_line(sketch->canvas, a.x, a.y, b.x, b.y, TEMPLATE_CROSSING, PEN_CROSSING);
}

/* Numbers to the right of the line, every so-manieth where all have no room. */
static void draw_distances(const Sketch *sketch, const TemplateLine *line)
{
    double least = INFINITY;
    for (uint32_t i = 1; i < line->marks.count; i++)
        least = fmin(least, fabs(line->marks.items[i] - line->marks.items[i - 1]));
    uint32_t every = least >= LABELS_APART ? 1 : 1 + (uint32_t)(LABELS_APART / least);
    for (uint32_t i = 0; i < line->marks.count; i += every) {
        double x = line->marks.items[i];
        if (!lies_on(sketch, x))
            continue;
        double inside = fmin(fmax(x, sketch->piece->from + SMALL * 0.6), sketch->piece->to - SMALL * 0.6);
        Point point = at(sketch, inside, line->turn + across(sketch, x, CROSSING_HALF + 0.5));
        point.y += SMALL * 0.36;
        words_at(sketch, point, SMALL, ALIGN_START, INK, distance(sketch, x));
    }
}

/* To the left of the facing line: of the field's edges inside the field, of the ends inside the end bands where
 * these have room. */
static void draw_edge_distances(const Sketch *sketch, const TemplateLine *line)
{
    const PlannedCrosswrap *planned = sketch->planned;
    double low = field_low(sketch), high = field_high(sketch), above = -0.5, below = SMALL * 0.72 + 0.5;
    bool room = planned->end_width > SMALL + 1;
    const struct {
        double x, down;
        bool shown;
    } edges[] = {
        {planned->low, above, room}, {low, above, true}, {high, below, true}, {planned->high, below, room}};
    for (size_t i = 0; i < sizeof edges / sizeof *edges; i++) {
        if (!edges[i].shown || !lies_on(sketch, edges[i].x))
            continue;
        Point point = at(sketch, edges[i].x, line->turn - across(sketch, edges[i].x, 0.6));
        point.y += edges[i].down;
        words_at(sketch, point, SMALL, ALIGN_END, INK, distance(sketch, edges[i].x));
    }
}

static const char *clock_words(const Sketch *sketch, const TemplateLine *line)
{
    double turn = line->turn - floor(line->turn);
    buffer_number_short(&sketch->canvas->words, turn * 360, 1);
    buffer_text(&sketch->canvas->words, line->rods ? "° rod's line" : "°");
    return take_words(sketch->canvas);
}

/* Beside the line at both ends; on the left edge to its right, or else it would be cut off. */
static void draw_clock_words(const Sketch *sketch, const TemplateLine *line)
{
    const TemplatePiece *piece = sketch->piece;
    double spare = 2 * SMALL + 1.5, low = fmax(piece->from, field_low(sketch)) + spare;
    double end = fmin(piece->to, field_high(sketch)) - spare;
    const char *words = clock_words(sketch, line);
    if (line->rods && text_width(words, SMALL) > end - low)
        words = "0°";
    double length = text_width(words, SMALL), high = end - length;
    double right = line->turn - piece->left < across(sketch, piece->from, SMALL) ? SMALL * 0.72 + 0.5 : -0.8;
    if (high < low || lines_apart(sketch) < SMALL * 1.2)
        return;
    words_along(sketch, low, line->turn, right, SMALL, length, INK, words);
    if (high - low > 2 * length)
        words_along(sketch, high, line->turn, right, SMALL, length, INK, words);
}

static void draw_line_along(const Sketch *sketch, const TemplateLine *line)
{
    const TemplatePiece *piece = sketch->piece;
    Point a = at(sketch, piece->from, line->turn), b = at(sketch, piece->to, line->turn);
    draw_line(sketch->canvas, a.x, a.y, b.x, b.y, INK, line->rods ? PEN_HEAVY : PEN_LINE);
    draw_clock_words(sketch, line);
    if (line->facing && line->turn < piece->right - NEAR_EDGE)
        draw_distances(sketch, line);
    if (line->facing && line->turn > piece->left + NEAR_EDGE)
        draw_edge_distances(sketch, line);
}

static void draw_crossings(const Sketch *sketch, const TemplateLine *line)
{
    for (uint32_t i = 0; i < line->marks.count; i++)
        if (lies_on(sketch, line->marks.items[i]))
            draw_crossing(sketch, line->marks.items[i], line->turn);
}

typedef void DrawLine(const Sketch *sketch, const TemplateLine *line);

/* Wherever the line lies on the piece: one on an edge lies on both edges that meet. */
static void draw_wherever(const Sketch *sketch, TemplateLine line, DrawLine *draw)
{
    double turn = line.turn;
    for (int whole = -1; whole <= 1; whole++) {
        line.turn = turn + whole;
        if (line.turn >= sketch->piece->left - NEAR_EDGE && line.turn <= sketch->piece->right + NEAR_EDGE)
            draw(sketch, &line);
    }
}

/* A spiral has no crossings: its line is marked where the first strands of all starts come by. */
static void add_passings(TemplateLine *line, Arena *arena, const PlannedCrosswrap *planned)
{
    double across = planned->strands[0].middle;
    for (uint32_t start = 0; start < planned->starts; start++) {
        double one = crosswrap_turn(planned, start, LEG_OUT, across, planned->field_start);
        double other = crosswrap_turn(planned, start, LEG_OUT, across, planned->field_end);
        double low = fmin(one, other) - line->turn, high = fmax(one, other) - line->turn;
        for (double whole = ceil(low); whole <= high; whole++)
            *LIST_ADD(arena, &line->marks) =
                crosswrap_position(planned, start, LEG_OUT, across, line->turn + whole);
    }
}

static bool same_turn(double a, double b) { return fabs(remainder(a - b, 1)) < NEAR_EDGE; }

static TemplateLine *add_line(TemplateLines *lines, Arena *arena, const PlannedCrosswrap *planned, double turn)
{
    TemplateLine *line = LIST_ADD(arena, &lines->list);
    *line = (TemplateLine){.turn = turn, .facing = same_turn(turn, planned->angle), .rods = same_turn(turn, 0)};
    return line;
}

TemplateLines template_lines(Arena *arena, const PlannedCrosswrap *planned)
{
    TemplateLines lines = {0};
    uint32_t count = crosswrap_line_count(planned);
    bool rods = false;
    if (!count)
        add_passings(add_line(&lines, arena, planned, planned->angle), arena, planned);
    for (uint32_t i = 0; i < count; i++) {
        TemplateLine *line = add_line(&lines, arena, planned, crosswrap_line_turn(planned, i));
        for (uint32_t m = 0; m < crosswrap_mark_count(planned, i); m++)
            *LIST_ADD(arena, &line->marks) = crosswrap_mark(planned, i, m);
    }
    for (uint32_t i = 0; i < lines.list.count; i++)
        rods |= lines.list.items[i].rods;
    if (!rods)
        add_line(&lines, arena, planned, 0);
    return lines;
}

static void draw_lines(const Sketch *sketch, DrawLine *draw)
{
    const TemplateLines *lines = &sketch->template->lines;
    for (uint32_t i = 0; i < lines->list.count; i++)
        draw_wherever(sketch, lines->list.items[i], draw);
}

/* --- what is cut, and what tells the piece from others --- */

static void draw_cut(const Sketch *sketch)
{
    Point points[TEMPLATE_POINTS];
    const TemplatePiece *piece = sketch->piece;
    uint32_t count = template_outline(piece, points);
    for (uint32_t i = 0; i < count; i++)
        points[i] = (Point){sketch->x + points[i].x, sketch->y - points[i].y};
    draw_polygon(sketch->canvas, points, count, NO_COLOUR, SHADE_FLAT);
    Shape *outline = &sketch->canvas->drawing->shapes.items[sketch->canvas->drawing->shapes.count - 1];
    outline->stroke = TEMPLATE_CUT;
    outline->stroke_width = PEN_CUT;
    Point a = at(sketch, piece->from, piece->right), b = at(sketch, piece->to, piece->right);
    draw_line(sketch->canvas, a.x, a.y, b.x, b.y, TEMPLATE_MEET, PEN_CUT);
}

static const char *diameters(const Sketch *sketch)
{
    Buffer *words = &sketch->canvas->words;
    buffer_text(words, "for ");
    put_digits(words, sketch->canvas->units, QUANTITY_DIAMETER, sketch->piece->diameter_from);
    buffer_text(words, " to ");
    put_quantity(words, sketch->canvas->units, QUANTITY_DIAMETER, sketch->piece->diameter_to);
    return take_words(sketch->canvas);
}

static void draw_tab_words(const Sketch *sketch, const char *sizes)
{
    const TemplatePiece *piece = sketch->piece;
    double low = piece->from + 1.5, longest = piece->to - piece->from - 3;
    bool alone = strcmp(piece->name, piece->behind) == 0;
    const char *whose = alone ? "" : text_format(sketch->canvas->arena, "%s's ", piece->behind);
    const char *full = text_format(sketch->canvas->arena, "goes under; %sleft edge meets the red line", whose);
    const char *under = text_width(full, SMALL) <= longest ? full : "goes under";
    const char *what =
        text_format(sketch->canvas->arena, "%s  %s  %s", piece->name, sizes, sketch->template->heading);
    words_along(sketch, low, piece->right, SMALL * 0.72 + 0.7, SMALL, longest, TEMPLATE_MEET, under);
    words_along(sketch, low, piece->right, SMALL * 2 + 1.1, SMALL, longest, INK, what);
}

static void draw_joint_words(const Sketch *sketch)
{
    const TemplatePiece *piece = sketch->piece;
    Arena *arena = sketch->canvas->arena;
    if (piece->to - piece->from < 5 * SMALL)
        return;
    for (int i = 0; i < 2; i++) {
        const char *name = i ? piece->above : piece->below;
        if (!name)
            continue;
        double x = i ? piece->to : piece->from;
        Point point = at(sketch, x, piece->right - across(sketch, x, 1));
        point.y += i ? SMALL * 0.72 + 2.2 : -2.2;
        words_at(sketch, point, SMALL, ALIGN_END, TEMPLATE_MEET, text_format(arena, "%s joins here", name));
    }
}

/* In the middle between the lines next to a turn of the piece; all lines are evenly set out from 0. */
static double between_lines(const Sketch *sketch, double turn)
{
    uint32_t count = crosswrap_line_count(sketch->planned), parts = count ? count : 2;
    double middle = (floor(turn * parts) + 0.5) / parts;
    return middle > sketch->piece->left && middle < sketch->piece->right ? middle : turn;
}

/* An arrow up, and the piece's name below it. */
static void draw_arrow(const Sketch *sketch)
{
    const TemplatePiece *piece = sketch->piece;
    double middle = (piece->from + piece->to) / 2, length = fmin(16, (piece->to - piece->from) / 2);
    double turn = between_lines(sketch, piece->left + (piece->right - piece->left) / 4);
    if (length < 3)
        return;
    Point foot = at(sketch, middle - length / 2, turn), head = at(sketch, middle + length / 2, turn);
    double ux = (head.x - foot.x) / apart(foot, head), uy = (head.y - foot.y) / apart(foot, head);
    Point neck = {head.x - ux * 2.4, head.y - uy * 2.4};
    Point barbs[] = {head, {neck.x - uy * 0.9, neck.y + ux * 0.9}, {neck.x + uy * 0.9, neck.y - ux * 0.9}};
    draw_line(sketch->canvas, foot.x, foot.y, neck.x, neck.y, INK, PEN_HEAVY);
    draw_polygon(sketch->canvas, barbs, 3, INK, SHADE_FLAT);
    words_along(sketch, middle - length / 2, turn, -0.7, SMALL, 1.6 * length, INK,
                length > 12 ? "toward the tip" : "tip");
    double size = fmin(NAME, length / 2);
    foot.y += size * 0.72 + 0.6;
    words_at(sketch, foot, size, ALIGN_MIDDLE, GREY_INK, piece->name);
}

/* Page mm that the outline reaches beyond the foot of the upright line. */
typedef struct PieceExtent {
    double left, right, above, below;
} PieceExtent;

static PieceExtent reach_of(const TemplatePiece *piece)
{
    Point points[TEMPLATE_POINTS];
    PieceExtent reach = {0};
    uint32_t count = template_outline(piece, points);
    for (uint32_t i = 0; i < count; i++) {
        reach.left = fmax(reach.left, -points[i].x);
        reach.right = fmax(reach.right, points[i].x);
        reach.above = fmax(reach.above, points[i].y);
        reach.below = fmax(reach.below, -points[i].y);
    }
    return reach;
}

Drawing *template_draw(Arena *arena, const Template *template, uint32_t index)
{
    const TemplatePiece *piece = &template->pieces.items[index];
    Canvas canvas = {.arena = arena,
                     .drawing = arena_take(arena, sizeof(Drawing)),
                     .plan = template->plan,
                     .rod = template->rod,
                     .scale = 1,
                     .type = 1,
                     .units = template->plan->job->bench.units};
    buffer_start(&canvas.words, arena);
    PieceExtent reach = reach_of(piece);
    Sketch sketch = {
        &canvas, template, piece, template->layer->crosswrap, 2 + reach.left, 2 * CAPTION + reach.above};
    const char *sizes = diameters(&sketch);
    const char *caption = text_format(arena, "%s, %s", piece->name, sizes);
    canvas.drawing->title = caption;
    canvas.drawing->description = template->heading;
    canvas.drawing->width = fmax(sketch.x + reach.right + 2, text_width(caption, CAPTION));
    canvas.drawing->height = sketch.y + reach.below + 1.5;
    draw_text(&canvas, 0, CAPTION, CAPTION, ALIGN_START, INK, caption);
    draw_band(&sketch, sketch.planned->low, field_low(&sketch));
    draw_band(&sketch, field_high(&sketch), sketch.planned->high);
    draw_ways(&sketch);
    draw_field_edge(&sketch, field_low(&sketch));
    draw_field_edge(&sketch, field_high(&sketch));
    draw_lines(&sketch, draw_line_along);
    draw_arrow(&sketch);
    draw_joint_words(&sketch);
    draw_tab_words(&sketch, sizes);
    draw_lines(&sketch, draw_crossings); /* over all words */
    draw_cut(&sketch);
    return canvas.drawing;
}
