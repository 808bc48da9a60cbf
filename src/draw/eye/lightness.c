#include "draw/eye/lightness.h"

#include "base/halfway.h"

#include <math.h>

/* Of a curve, page mm. By eye. */
#define HEIGHT 10.0
#define CURVE_PEN 0.3
#define EVEN_PEN 0.6
#define DOT 0.8
/* Dots of single turns stand so far apart at least. */
#define DOTS_APART 1.2

/* Along the axis. */
typedef struct RowSpan {
    double low, high;
} RowSpan;

static FadeAt fade_at(const EyePage *page, const PlaceView *view, uint32_t place, uint32_t layer, uint32_t item)
{
    return (FadeAt){&page->canvas->plan->job->bench, page->canvas->rod->rod, &view->places[place], layer, item};
}

bool shows_lightness(const EyePage *page, const PlaceView *view)
{
    for (uint32_t p = 0; p < view->count; p++)
        for (uint32_t l = 0; l < view->places[p].layer_count; l++)
            for (uint32_t i = 0; i < view->places[p].layers[l].item_count; i++)
                if (is_shown(page->canvas, &view->places[p]) && fade_is_seen(&view->places[p].layers[l].items[i]))
                    return true;
    return false;
}

/* Of the fade, so much as lies in a row; none where low is not below high. */
static RowSpan in_row(const PlannedLayer *layer, const PlannedItem *item, double low, double high)
{
    if (!fade_is_seen(item))
        return (RowSpan){0, 0};
    double one = layer->runs[item->first_run].start;
    double other = layer->runs[item->first_run + item->run_count - 1].end;
    return (RowSpan){fmax(fmin(one, other), low), fmin(fmax(one, other), high)};
}

/* Nothing that is wound later lies there. */
static bool is_on_top(const PlannedLayer *layer, const LightProfile *profile, double x)
{
    const Run *run = profile->list.items[profile_at(profile, x)].run;
    return run >= layer->runs && run < layer->runs + layer->run_count;
}

/* From the darker of the fade's ends at the bottom to the lighter one at the top. */
typedef struct Curve {
    Canvas *canvas;
    double left, scale, low; /* page x of an axial position low, page mm a mm */
    double top;              /* page y */
    double dark, light;      /* CIELAB lightness */
} Curve;

static Point on_curve(const Curve *curve, double x, double lightness)
{
    double up = (lightness - curve->dark) / (curve->light - curve->dark);
    return (Point){curve->left + (x - curve->low) * curve->scale,
                   curve->top + HEIGHT * (1 - fmin(fmax(up, 0), 1))};
}

static double lightness_of(Light light) { return lab_of_light(light).lightness; }

static void draw_even(const Curve *curve, const FadeCourse *course)
{
    Point *points = arena_take_many(curve->canvas->arena, course->count, sizeof *points);
    uint32_t count = 0;
    for (uint32_t i = 0; i < course->count; i++) {
        const SeenTurn *turn = &course->turns[i];
        if (!isnan(turn->even))
            points[count++] = on_curve(curve, turn->x, turn->even_lightness);
    }
    draw_path(curve->canvas, points, count, PALE_INK, EVEN_PEN);
}

static void draw_seen(const Curve *curve, const FadeCourse *course)
{
    Point *points = arena_take_many(curve->canvas->arena, course->count, sizeof *points);
    double apart = INFINITY;
    for (uint32_t i = 0; i < course->count; i++) {
        points[i] = on_curve(curve, course->turns[i].x, course->turns[i].lightness);
        apart = i ? fmin(apart, fabs(points[i].x - points[i - 1].x)) : apart;
    }
    draw_path(curve->canvas, points, course->count, INK, CURVE_PEN);
    for (uint32_t i = 0; i < course->count && apart >= DOTS_APART; i++)
        draw_rectangle(curve->canvas, points[i].x - DOT / 2, points[i].y - DOT / 2, DOT, DOT, INK, NO_COLOUR);
}

/* Where a line shows. */
static void draw_jump(const Curve *curve, const FadeCourse *course, const FadeLook *look)
{
    for (uint32_t i = 0; i + 1 < course->count; i++) {
        if (course->turns[i].turn != look->jump_turn)
            continue;
        double x = on_curve(curve, (course->turns[i].x + course->turns[i + 1].x) / 2, 0).x;
        draw_line(curve->canvas, x, curve->top, x, curve->top + HEIGHT, MARK_INK, PEN);
        draw_text(curve->canvas, x, curve->top + HEIGHT + LETTERS_SMALL, LETTERS_SMALL, ALIGN_MIDDLE, MARK_INK,
                  text_format(curve->canvas->arena, "line, jump %s",
                              show_number(curve->canvas->arena, ceil(look->jump * 100) / 100, 2)));
    }
}

/* At either end of the curve its lightness. */
static void draw_ends(const Curve *curve, const FadeCourse *course)
{
    const SeenTurn *ends[] = {&course->turns[0], &course->turns[course->count - 1]};
    for (int i = 0; i < 2; i++) {
        const SeenTurn *other = ends[1 - i];
        Point at = on_curve(curve, ends[i]->x, ends[i]->lightness);
        bool left = ends[i]->x < other->x, above = ends[i]->lightness < other->lightness;
        draw_text(curve->canvas, at.x, at.y + (above ? -1 : LETTERS_SMALL), LETTERS_SMALL,
                  left ? ALIGN_END : ALIGN_START, INK,
                  text_format(curve->canvas->arena, left ? "%.0f " : " %.0f", ends[i]->lightness));
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
static FadeCourse course_in_row(const FadeCourse *course, double low, double high)
{
    bool rising = course->count && course->turns[0].x < course->turns[course->count - 1].x;
    uint32_t first = turns_before(course, rising ? low : high, rising);
    uint32_t end = turns_before(course, rising ? high : low, rising);
    return (FadeCourse){course->turns + first, end - first};
}

/* Looked at once for all rows that it reaches into: these follow one another. */
static const FadeSeen *seen_fade(EyePage *page, const FadeAt *at)
{
    FadeSeen *seen = &page->seen;
    if (!seen->at.place || seen->at.place != at->place || seen->at.layer != at->layer || seen->at.item != at->item)
        *seen = (FadeSeen){*at, fade_course(page->canvas->arena, at, VISION_ALL_CONES),
                           fade_jump(at, VISION_ALL_CONES), fade_shades(at)};
    return seen;
}

static bool draw_curve(EyePage *page, const FadeAt *at, double low, double high)
{
    Canvas *canvas = page->canvas;
    const FadeSeen *seen = seen_fade(page, at);
    FadeCourse course = course_in_row(&seen->course, low, high);
    double from = lightness_of(seen->shades.from), to = lightness_of(seen->shades.to);
    if (course.count < 2 || fabs(from - to) < at->bench->alike)
        return false;
    Curve curve = {canvas, page->left, canvas->scale, low, canvas->y, fmin(from, to), fmax(from, to)};
    draw_even(&curve, &course);
    draw_seen(&curve, &course);
    draw_ends(&curve, &course);
    if (seen->jump.jump > at->bench->jump)
        draw_jump(&curve, &course, &seen->jump);
    return true;
}

void draw_lightness(EyePage *page, const PlaceView *view, const LightProfile *profile, double low, double high)
{
    Canvas *canvas = page->canvas;
    bool any = false;
    for (uint32_t p = 0; p < view->count; p++)
        for (uint32_t l = 0; l < view->places[p].layer_count; l++)
            for (uint32_t i = 0; i < view->places[p].layers[l].item_count; i++) {
                const PlannedLayer *layer = &view->places[p].layers[l];
                RowSpan span = in_row(layer, &layer->items[i], low, high);
                FadeAt at = fade_at(page, view, p, l, i);
                if (span.low < span.high && is_on_top(layer, profile, (span.low + span.high) / 2))
                    any |= draw_curve(page, &at, low, high);
            }
    if (!any)
        return;
    double y = canvas->y + HEIGHT / 2;
    draw_text(canvas, page->left - 2, y - LETTERS_SMALL * 0.15, LETTERS_SMALL, ALIGN_END, INK, "lightness");
    draw_text(canvas, page->left - 2, y + LETTERS_SMALL * 1.15, LETTERS_SMALL, ALIGN_END, GREY_INK, page->from[2]);
    canvas->y += HEIGHT + LETTERS_SMALL;
}
