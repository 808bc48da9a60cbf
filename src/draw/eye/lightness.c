#include "draw/eye/lightness.h"

#include "base/halfway.h"

#include <math.h>

/* Of the curves, page mm. By eye. LEAST_HEIGHT: for the words beside them; ABOVE: the room of a number above the
 * highest. */
#define LEAST_HEIGHT 6.0
#define ABOVE 1.5
#define CURVE_PEN 0.3
#define EVEN_PEN 0.6
#define DOT 0.8
/* Dots of single turns stand so far apart at least. */
#define DOTS_APART 1.2
/* So far do letters reach above and below their line, of their size; and from one line of words to the next. */
#define RISE 0.75
#define FALL 0.25
#define LEADING 1.2
/* Below the lowest of them. */
#define WORDS_APART 0.8
/* Lines of words below the curves at most: what finds no room in them is not said. */
enum { MOST_LINES = 4 };

/* Along the axis. */
typedef struct RowSpan {
    double low, high;
} RowSpan;

/* Page mm. */
typedef struct Box {
    double left, right, top, bottom;
} Box;

/* Words that are set when all curves are drawn. */
typedef struct CurveWords {
    Point at;
    TextAlign align;
    const char *text;
} CurveWords;

typedef LIST_OF(FadeAt) FadeAts;

/* All curves of a row. */
typedef struct Curves {
    EyePage *page;
    Canvas *canvas;
    RowSpan row;
    RowSpan lightness;  /* from the least to the greatest; none yet where low is not below high */
    double top, height; /* page y of the highest place, and how far below it the lowest is */
    double bottom;      /* page y of that, or of the lowest words */
    LIST_OF(Box) taken; /* by words, and by dots of turns */
    LIST_OF(CurveWords) ends, jumps;
} Curves;

static FadeAt fade_at(const EyePage *page, const PlaceView *view, uint32_t place, uint32_t layer, uint32_t item)
{
    return (FadeAt){&page->canvas->plan->job->bench, page->canvas->rod->rod, &view->places[place], layer, item};
}

/* Of the fade, so much as lies in a row; none where low is not below high. */
static RowSpan in_row(const PlannedLayer *layer, const PlannedItem *item, RowSpan row)
{
    if (!fade_is_seen(item))
        return (RowSpan){0, 0};
    double one = layer->runs[item->first_run].start;
    double other = layer->runs[item->first_run + item->run_count - 1].end;
    return (RowSpan){fmax(fmin(one, other), row.low), fmin(fmax(one, other), row.high)};
}

/* Nothing that is wound later lies there. */
static bool is_on_top(const PlannedLayer *layer, const LightProfile *profile, double x)
{
    const Run *run = profile->list.items[profile_at(profile, x)].run;
    return run >= layer->runs && run < layer->runs + layer->run_count;
}

/* --- how light, and how high on the page --- */

/* Of the fade's two shades, to the eyes that the page is for: the least and the greatest; none where low is not
 * below high. */
static RowSpan lightness_of(const EyePage *page, const FadeAt *at, const FadeShades *shades)
{
    double from = lab_of_light(light_seen(page->vision, shades->from)).lightness;
    double to = lab_of_light(light_seen(page->vision, shades->to)).lightness;
    if (fabs(from - to) < at->bench->alike)
        return (RowSpan){0, 0};
    return (RowSpan){fmin(from, to), fmax(from, to)};
}

/* Where the curves are lower than the words beside them, in the middle. */
static Point on_curve(const Curves *curves, double x, double lightness)
{
    double middle = (curves->lightness.low + curves->lightness.high) / 2;
    return (Point){curves->page->left + (x - curves->row.low) * curves->canvas->scale,
                   curves->top + curves->height / 2 - (lightness - middle) * ONE_HIGH};
}

/* --- words that find room --- */

static Box box_of(double x, double y, TextAlign align, const char *words)
{
    double width = text_width(words, LETTERS_SMALL);
    double left = x - (align == ALIGN_END ? width : align == ALIGN_MIDDLE ? width / 2 : 0);
    return (Box){left, left + width, y - LETTERS_SMALL * RISE, y + LETTERS_SMALL * FALL};
}

static bool is_free(const Curves *curves, Box box)
{
    for (uint32_t i = 0; i < curves->taken.count; i++) {
        const Box *other = &curves->taken.items[i];
        if (box.left < other->right && other->left < box.right && box.top < other->bottom
            && other->top < box.bottom)
            return false;
    }
    return true;
}

static void take(Curves *curves, Box box) { *LIST_ADD(curves->canvas->arena, &curves->taken) = box; }

/* False, and nothing is said, where something stands. */
static bool say(Curves *curves, double x, double y, TextAlign align, uint32_t ink, const char *words)
{
    Box box = box_of(x, y, align, words);
    if (!is_free(curves, box))
        return false;
    draw_text(curves->canvas, x, y, LETTERS_SMALL, align, ink, words);
    take(curves, box);
    curves->bottom = fmax(curves->bottom, box.bottom);
    return true;
}

/* Beside the first curve what all of them are. */
static void say_what_it_is(Curves *curves)
{
    double x = curves->page->left - 2, y = curves->top + curves->height / 2;
    say(curves, x, y - LETTERS_SMALL * 0.15, ALIGN_END, INK, "lightness");
    say(curves, x, y + LETTERS_SMALL * 1.15, ALIGN_END, GREY_INK, curves->page->from[2]);
}

/* Below the curves, as near to its mark as may be. */
static void say_jump(Curves *curves, const CurveWords *jump)
{
    double half = text_width(jump->text, LETTERS_SMALL) / 2;
    double right = curves->canvas->drawing->width - MARGIN;
    double x = fmin(fmax(jump->at.x, curves->page->left + half), right - half);
    for (int line = 0; line < MOST_LINES; line++)
        if (say(curves, x, jump->at.y + line * LETTERS_SMALL * LEADING, jump->align, MARK_INK, jump->text))
            return;
}

static void say_words(Curves *curves)
{
    for (uint32_t i = 0; i < curves->ends.count; i++) {
        const CurveWords *end = &curves->ends.items[i];
        say(curves, end->at.x, end->at.y, end->align, INK, end->text);
    }
    for (uint32_t i = 0; i < curves->jumps.count; i++)
        say_jump(curves, &curves->jumps.items[i]);
}

/* --- a fade --- */

static void draw_even(const Curves *curves, const FadeCourse *course)
{
    Point *points = arena_take_many(curves->canvas->arena, course->count, sizeof *points);
    uint32_t count = 0;
    for (uint32_t i = 0; i < course->count; i++) {
        const SeenTurn *turn = &course->turns[i];
        if (!isnan(turn->even))
            points[count++] = on_curve(curves, turn->x, turn->even_lightness);
    }
    draw_path(curves->canvas, points, count, PALE_INK, EVEN_PEN);
}

static void draw_dot(Curves *curves, Point at)
{
    draw_rectangle(curves->canvas, at.x - DOT / 2, at.y - DOT / 2, DOT, DOT, INK, NO_COLOUR);
    take(curves, (Box){at.x - DOT / 2, at.x + DOT / 2, at.y - DOT / 2, at.y + DOT / 2});
}

static void draw_seen(Curves *curves, const FadeCourse *course)
{
    Point *points = arena_take_many(curves->canvas->arena, course->count, sizeof *points);
    double apart = INFINITY;
    for (uint32_t i = 0; i < course->count; i++) {
        points[i] = on_curve(curves, course->turns[i].x, course->turns[i].lightness);
        apart = i ? fmin(apart, fabs(points[i].x - points[i - 1].x)) : apart;
    }
    draw_path(curves->canvas, points, course->count, INK, CURVE_PEN);
    for (uint32_t i = 0; i < course->count && apart >= DOTS_APART; i++)
        draw_dot(curves, points[i]);
}

/* At either end of the curve its lightness. */
static void number_ends(Curves *curves, const FadeCourse *course)
{
    Arena *arena = curves->canvas->arena;
    const SeenTurn *ends[] = {&course->turns[0], &course->turns[course->count - 1]};
    for (int i = 0; i < 2; i++) {
        const SeenTurn *other = ends[1 - i];
        Point at = on_curve(curves, ends[i]->x, ends[i]->lightness);
        bool left = ends[i]->x < other->x, above = ends[i]->lightness < other->lightness;
        at.y += above ? -1 : LETTERS_SMALL;
        *LIST_ADD(arena, &curves->ends) = (CurveWords){
            at, left ? ALIGN_END : ALIGN_START, text_format(arena, left ? "%.0f " : " %.0f", ends[i]->lightness)};
    }
}

/* Where a line shows, in the row that it lies in. */
static void mark_jump(Curves *curves, const FadeSeen *seen)
{
    Canvas *canvas = curves->canvas;
    for (uint32_t i = 0; i + 1 < seen->course.count; i++) {
        const SeenTurn *turn = &seen->course.turns[i];
        double along = (turn->x + turn[1].x) / 2;
        if (turn->turn != seen->jump.jump_turn || along < curves->row.low || along >= curves->row.high)
            continue;
        double x = on_curve(curves, along, 0).x;
        draw_line(canvas, x, curves->top, x, curves->top + curves->height, MARK_INK, PEN);
        *LIST_ADD(canvas->arena, &curves->jumps) =
            (CurveWords){{x, curves->top + curves->height + LETTERS_SMALL},
                         ALIGN_MIDDLE,
                         text_format(canvas->arena, "line, jump %s",
                                     show_number(canvas->arena, ceil(seen->jump.jump * 100) / 100, 2))};
    }
}

/* How many of its turns come before an edge along the axis, as they are worked. */
static uint32_t turns_before(const FadeCourse *course, double edge, bool rising)
{
    uint32_t low = 0, high = course->count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        double x = course->turns[middle].x;
        if (rising ? x < edge : x > edge)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Those of its turns whose middles lie in the row. */
static FadeCourse course_in_row(const FadeCourse *course, RowSpan row)
{
    bool rising = course->count && course->turns[0].x < course->turns[course->count - 1].x;
    uint32_t first = turns_before(course, rising ? row.low : row.high, rising);
    uint32_t end = turns_before(course, rising ? row.high : row.low, rising);
    return (FadeCourse){course->turns + first, end - first};
}

/* Looked at once for all rows that it reaches into: these follow one another. */
static const FadeSeen *seen_fade(EyePage *page, const FadeAt *at)
{
    FadeSeen *seen = &page->seen;
    if (!seen->at.place || seen->at.place != at->place || seen->at.layer != at->layer || seen->at.item != at->item)
        *seen = (FadeSeen){*at, fade_course(page->canvas->arena, at, page->vision), fade_jump(at, page->vision),
                           fade_shades(at)};
    return seen;
}

static void draw_curve(Curves *curves, const FadeAt *at)
{
    const FadeSeen *seen = seen_fade(curves->page, at);
    FadeCourse course = course_in_row(&seen->course, curves->row);
    if (course.count < 2)
        return;
    draw_even(curves, &course);
    draw_seen(curves, &course);
    number_ends(curves, &course);
    if (seen->jump.jump > at->bench->jump)
        mark_jump(curves, seen);
    curves->page->curves++;
}

/* Whether it has a curve: the row reaches to its shades then. */
static bool take_in(Curves *curves, const FadeAt *at)
{
    FadeShades shades = fade_shades(at);
    RowSpan lightness = lightness_of(curves->page, at, &shades), *all = &curves->lightness;
    if (lightness.low >= lightness.high)
        return false;
    bool first = all->low >= all->high;
    all->low = first ? lightness.low : fmin(all->low, lightness.low);
    all->high = first ? lightness.high : fmax(all->high, lightness.high);
    return true;
}

/* All that have a curve in the row. */
static FadeAts fades_in_row(Curves *curves, const PlaceView *view, const LightProfile *profile)
{
    FadeAts fades = {0};
    for (uint32_t p = 0; p < view->count; p++)
        for (uint32_t l = 0; l < view->places[p].layer_count; l++)
            for (uint32_t i = 0; i < view->places[p].layers[l].item_count; i++) {
                const PlannedLayer *layer = &view->places[p].layers[l];
                RowSpan span = in_row(layer, &layer->items[i], curves->row);
                FadeAt at = fade_at(curves->page, view, p, l, i);
                if (span.low < span.high && is_on_top(layer, profile, (span.low + span.high) / 2)
                    && take_in(curves, &at))
                    *LIST_ADD(curves->canvas->arena, &fades) = at;
            }
    return fades;
}

void draw_lightness(EyePage *page, const PlaceView *view, const LightProfile *profile, double low, double high)
{
    double top = page->canvas->y + ABOVE;
    Curves curves = {.page = page, .canvas = page->canvas, .row = {low, high}, .top = top};
    FadeAts fades = fades_in_row(&curves, view, profile);
    if (!fades.count)
        return;
    curves.height = fmax((curves.lightness.high - curves.lightness.low) * ONE_HIGH, LEAST_HEIGHT);
    curves.bottom = top + curves.height;
    say_what_it_is(&curves);
    for (uint32_t i = 0; i < fades.count; i++)
        draw_curve(&curves, &fades.items[i]);
    say_words(&curves);
    page->canvas->y = curves.bottom + WORDS_APART;
}
