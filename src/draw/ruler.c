/* Rulers and the marks of bands. All ticks of one kind are one line that goes to and fro. */
#include "base/whole.h"
#include "draw/canvas.h"
#include "draw/graduations.h"

#include <math.h>

/* More ticks and numbers than these in one ruler are of no use to anybody: it is graduated coarser. */
enum { MOST_TICKS = 5000, MOST_NUMBERS = 1000 };

/* Ticks closer than this on the page, and numbers closer than that, run together. */
#define TICKS_APART 0.6
#define NUMBERS_APART 6.0

double ruler_height(const Canvas *canvas) { return (LONGEST_TICK + LETTERS_SMALL * 1.3) * canvas->type; }

typedef struct Comb {
    Canvas *canvas;
    LIST_OF(Point) points;
} Comb;

static void comb_tick(Comb *comb, double x, double y, double length)
{
    Arena *arena = comb->canvas->arena;
    *LIST_ADD(arena, &comb->points) = (Point){x, y};
    *LIST_ADD(arena, &comb->points) = (Point){x, y + length};
    *LIST_ADD(arena, &comb->points) = (Point){x, y};
}

static void comb_draw(Comb *comb, uint32_t colour, double pen)
{
    if (comb->points.count)
        draw_path(comb->canvas, comb->points.items, comb->points.count, colour, pen);
}

static void draw_ticks(Canvas *canvas, const Frame *frame, double datum, int direction, double length, double y)
{
    const RulerScale *scale = ruler_scale(canvas->units);
    const Graduation *ticks = scale->ticks;
    int finest = 0;
    while (finest + 1 < GRADUATIONS && ticks[finest + 1].step > 0
           && (ticks[finest].step * frame->scale < TICKS_APART || length / ticks[finest].step > MOST_TICKS))
        finest++;
    double count = whole_below(length / ticks[finest].step);
    Comb comb = {.canvas = canvas};
    for (double i = 0; i <= count && count <= MOST_TICKS; i++) {
        double at = i * ticks[finest].step;
        comb_tick(&comb, frame_x(frame, datum + direction * at), y, tick_length(scale, finest, at) * canvas->type);
    }
    comb_draw(&comb, INK, PEN_FINE);
}

/* "12", or "1 3/4" for quarters of an inch. */
static const char *number_text(Canvas *canvas, double value)
{
    static const char *quarters[] = {"", "1/4", "1/2", "3/4"};
    double whole = whole_below(value);
    int part = (int)lround((value - whole) * 4);
    if (canvas->units != SYSTEM_IN || part == 0) {
        buffer_number_short(&canvas->words, value, 1);
    } else {
        if (whole > 0) {
            buffer_number(&canvas->words, whole, 0);
            buffer_text(&canvas->words, " ");
        }
        buffer_text(&canvas->words, quarters[part]);
    }
    return take_words(canvas);
}

static void draw_numbers(Canvas *canvas, const Frame *frame, double datum, int direction, double length, double y)
{
    const double *steps = ruler_scale(canvas->units)->numbers;
    int chosen = 0;
    while (
        chosen + 1 < NUMBER_STEPS
        && (steps[chosen] * frame->scale < NUMBERS_APART * canvas->type || length / steps[chosen] > MOST_NUMBERS))
        chosen++;
    double count = whole_below(length / steps[chosen]), size = LETTERS_SMALL * canvas->type;
    double baseline = y + (LONGEST_TICK + LETTERS_SMALL) * canvas->type;
    for (double i = 0; i <= count && count <= MOST_NUMBERS; i++)
        draw_text(canvas, frame_x(frame, datum + direction * i * steps[chosen]), baseline, size, ALIGN_MIDDLE, INK,
                  number_text(canvas, i * steps[chosen] / ruler_scale(canvas->units)->unit));
    draw_text(canvas, frame_x(frame, datum) - direction * 1.5 * size, baseline, size,
              toward_tip(direction) ? ALIGN_END : ALIGN_START, GREY_INK,
              quantity_unit(canvas->units, QUANTITY_WIDTH));
}

void draw_ruler(Canvas *canvas, const Frame *frame, double datum, int direction, double length, double y)
{
    draw_line(canvas, frame_x(frame, datum), y, frame_x(frame, datum + direction * length), y, INK, PEN_FINE);
    draw_ticks(canvas, frame, datum, direction, length, y);
    draw_numbers(canvas, frame, datum, direction, length, y);
}

/* First run after those that people see as one band: a crossover's runs belong together. */
static uint32_t band_end(const PlannedLayer *layer, uint32_t first, uint64_t *turns)
{
    uint32_t end = first;
    *turns = 0;
    do
        *turns += layer->runs[end++].turns;
    while (end < layer->run_count && run_fades(&layer->runs[first]) && run_fades(&layer->runs[end])
           && layer->runs[end].item == layer->runs[first].item);
    return end;
}

/* "navy 20", or "20" where that is all that fits, or nothing. */
static void draw_band_words(Canvas *canvas, double middle, double width, double y, const Run *run, uint64_t turns)
{
    double size = LETTERS_SMALL * canvas->type;
    if (!run->strands || width < size)
        return;
    const char *number = text_format(canvas->arena, "%llu", (unsigned long long)turns);
    if (run_fades(run))
        buffer_text(&canvas->words, "fade");
    else
        put_thread_names(&canvas->words, run->strands);
    buffer_format(&canvas->words, " %s", number);
    const char *words = take_words(canvas);
    const char *fits = text_width(words, size) + size / 2 < width    ? words
                       : text_width(number, size) + size / 3 < width ? number
                                                                     : NULL;
    if (fits)
        draw_text(canvas, middle, y, size, ALIGN_MIDDLE, GREY_INK, fits);
}

/* The crossings on the line that faces the viewer as short ticks, and words below them. */
static void draw_field(Canvas *canvas, const Frame *frame, const PlannedCrosswrap *planned, Comb *comb, double y,
                       double height)
{
    double size = LETTERS_SMALL * canvas->type;
    double start = frame_x(frame, planned->field_start), end = frame_x(frame, planned->field_end);
    uint32_t line = crosswrap_line_count(planned) ? nearest_line(planned, frame->facing) : 0;
    uint32_t marks = crosswrap_line_count(planned) ? crosswrap_mark_count(planned, line) : 0;
    for (uint32_t i = 0; i < marks && planned->spacing * frame->scale >= TICKS_APART; i++)
        comb_tick(comb, frame_x(frame, crosswrap_mark(planned, line, i)), y, height * 0.25);
    buffer_format(&canvas->words, "%s, ", crosswrap_word(planned));
    put_crossings(&canvas->words, planned);
    const char *words = take_words(canvas);
    if (text_width(words, size) + size / 2 < fabs(end - start))
        draw_text(canvas, (start + end) / 2, y + height * 0.9, size, ALIGN_MIDDLE, GREY_INK, words);
}

void draw_bands(Canvas *canvas, const Frame *frame, const PlannedLayer *layer, double y, double height)
{
    Comb comb = {.canvas = canvas};
    double baseline = y + height / 2 + LETTERS_SMALL * canvas->type * 0.36;
    for (uint32_t first = 0, end; first < layer->run_count; first = end) {
        uint64_t turns;
        end = band_end(layer, first, &turns);
        double a = frame_x(frame, layer->runs[first].start), b = frame_x(frame, layer->runs[end - 1].end);
        if (first == 0)
            comb_tick(&comb, a, y, height);
        comb_tick(&comb, b, y, height);
        if (layer->crosswrap && !layer->runs[first].strands)
            draw_field(canvas, frame, layer->crosswrap, &comb, y, height);
        else
            draw_band_words(canvas, (a + b) / 2, fabs(b - a), baseline, &layer->runs[first], turns);
    }
    comb_draw(&comb, GREY_INK, PEN_FINE);
}
