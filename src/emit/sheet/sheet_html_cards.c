#include "emit/sheet/sheet_html_cards.h"

#include "draw/spread.h"
#include "emit/html_page.h"

#include <math.h>
#include <string.h>

/* A strip on a screen is as wide as that, in its own measure; heights of its colours and of the numbers below. */
#define STRIP_WIDTH 1000.0
#define COLOURS_HEIGHT 56.0
#define NUMBERS_BASE 96.0
#define STRIP_HEIGHT 104.0
#define DIGIT_WIDTH 22.0
#define NUMBERS_APART 12.0
/* Of the curve of a fade's lightness. */
#define COURSE_WIDTH 90.0
#define COURSE_HEIGHT 30.0

/* Where along the strip, its left end at the left end of the layer. */
static double strip_x(const PlannedLayer *layer, const Bench *bench, double axial)
{
    double low = fmin(layer->start, layer->end), high = fmax(layer->start, layer->end);
    double share = (axial - low) / (high - low);
    return (bench->butt_left ? share : 1 - share) * STRIP_WIDTH;
}

static void put_box(Buffer *out, double x, double y, double width, double height, uint32_t colour)
{
    buffer_text(out, "<rect x=\"");
    buffer_number_short(out, x, 2);
    buffer_text(out, "\" y=\"");
    buffer_number_short(out, y, 2);
    buffer_text(out, "\" width=\"");
    buffer_number_short(out, width, 2);
    buffer_text(out, "\" height=\"");
    buffer_number_short(out, height, 2);
    buffer_format(out, "\" fill=\"#%06x\"/>", (unsigned)colour & 0xffffff);
}

/* Strands together lie side by side as lanes. */
static void put_lanes(Buffer *out, double x, double width, double height, const Strands *strands)
{
    double lane = height / strands->count;
    for (uint32_t i = 0; i < strands->count; i++)
        put_box(out, x, i * lane, width, lane, strands->items[i].thread->colour);
}

/* The numbers of the lines, each below its turns; where there is no room for all, every so-manieth. */
static void put_numbers(Buffer *out, const PlannedLayer *layer, const CardLayer *card, const Bench *bench)
{
    uint32_t digits = 1, count = 0;
    for (uint32_t most = card->line_count; most >= 10; most /= 10)
        digits++;
    double apart = digits * DIGIT_WIDTH + NUMBERS_APART;
    uint32_t room = 1 + (uint32_t)((STRIP_WIDTH - apart) / apart), every = (card->line_count + room - 1) / room;
    SpreadLabel *labels = arena_take_many(out->arena, card->line_count, sizeof *labels);
    const uint32_t last = card->line_count - 1;
    bool rising = strip_x(layer, bench, layer->end) > strip_x(layer, bench, layer->start);
    for (uint32_t i = 0; i < card->line_count; i += every) {
        const CardLine *line = &card->lines[rising ? i : last - i];
        const Run *first = &layer->runs[line->first_run], *end = first + line->run_count - 1;
        labels[count++].at = strip_x(layer, bench, (first->start + end->end) / 2);
    }
    spread_labels(out->arena, labels, count, apart, apart / 2, STRIP_WIDTH - apart / 2);
    for (uint32_t i = 0; i < count; i++) {
        buffer_text(out, "<text x=\"");
        buffer_number_short(out, labels[i].shown, 1);
        buffer_format(out, "\" y=\"%g\">%u</text>", NUMBERS_BASE,
                      (unsigned)card->lines[rising ? i * every : last - i * every].number);
    }
}

static void put_strip(Buffer *out, const PlannedLayer *layer, const CardLayer *card, const Bench *bench)
{
    if (!layer->run_count || !(layer->end != layer->start))
        return;
    buffer_format(out, "<svg class=\"strip\" viewBox=\"0 0 %g %g\" aria-hidden=\"true\">", STRIP_WIDTH,
                  STRIP_HEIGHT);
    for (uint32_t i = 0; i < layer->run_count; i++) {
        const Run *run = &layer->runs[i];
        double a = strip_x(layer, bench, run->start), b = strip_x(layer, bench, run->end);
        if (run->strands)
            put_lanes(out, fmin(a, b), fabs(b - a), COLOURS_HEIGHT, run->strands);
    }
    buffer_format(out, "<rect class=\"outline\" x=\"1\" y=\"1\" width=\"%g\" height=\"%g\"/>", STRIP_WIDTH - 2,
                  COLOURS_HEIGHT - 2);
    put_numbers(out, layer, card, bench);
    buffer_text(out, "</svg>\n");
}

/* Of a fade half and half. */
static void put_line_swatch(Buffer *out, const CardLine *line)
{
    enum { WIDTH = 24, HEIGHT = 14 };
    buffer_format(out, "<svg class=\"chip\" viewBox=\"0 0 %d %d\" aria-hidden=\"true\">", WIDTH, HEIGHT);
    if (line->strands)
        put_lanes(out, 0, line->into ? WIDTH / 2 : WIDTH, HEIGHT, line->strands);
    if (line->into)
        put_lanes(out, WIDTH / 2, WIDTH / 2, HEIGHT, line->into);
    buffer_text(out, "</svg>");
}

static void put_course_line(Buffer *out, const CardLine *line, const char *kind, bool even, bool butt_left)
{
    bool begun = false;
    buffer_format(out, "<polyline class=\"%s\" points=\"", kind);
    for (uint32_t i = 0; i < line->course_count; i++) {
        const CardCourse *point = &line->course[i];
        double share = even ? point->even : point->seen;
        if (isnan(share))
            continue;
        buffer_text(out, begun ? " " : "");
        buffer_number_short(out, COURSE_WIDTH * (butt_left ? point->along : 1 - point->along), 1);
        buffer_text(out, ",");
        buffer_number_short(out, COURSE_HEIGHT * (1 - fmin(fmax(share, 0), 1)), 1);
        begun = true;
    }
    buffer_text(out, "\"/>");
}

/* How light a fade is along its turns, the lighter shade on top, beside an even one. */
static void put_course(Buffer *out, const CardLine *line, const Bench *bench)
{
    buffer_format(out, "<svg class=\"course\" viewBox=\"-2 -2 %g %g\" role=\"img\" aria-label=\"",
                  COURSE_WIDTH + 4, COURSE_HEIGHT + 4);
    html_text(out, line->look);
    buffer_text(out, "\"><title>");
    html_text(out, line->look);
    buffer_text(out, "</title>");
    put_course_line(out, line, "even", true, bench->butt_left);
    put_course_line(out, line, "seen", false, bench->butt_left);
    buffer_text(out, "</svg>");
}

/* The curve stands behind the words, where it seldom takes a line of its own. */
static void put_how(Buffer *out, const CardLine *line, const Bench *bench)
{
    if (!line->course_count) {
        html_element(out, "p", "line-how", line->how);
        return;
    }
    buffer_text(out, "<p class=\"line-how\" dir=\"auto\">");
    html_unbroken(out, line->how);
    buffer_text(out, " ");
    put_course(out, line, bench);
    buffer_text(out, "</p>\n");
}

/* "should be 8.96 mm", with a line to write on in print. */
static void put_measure(Buffer *out, const char *tag, const CardMeasure *measure)
{
    buffer_format(out, "<%s class=\"line-measure\">", tag);
    html_text(out, measure->after);
    buffer_text(out, *measure->after ? ": should be " : "should be ");
    html_unbroken(out, measure->width);
    buffer_format(out, "<span class=\"to-write\"></span></%s>\n", tag);
}

/* The width at the line's end stands beside it; where it is measured from the mark it is the end. */
static void put_end(Buffer *out, const CardLine *line)
{
    const CardMeasure *last = line->measures.count ? &line->measures.items[line->measures.count - 1] : NULL;
    bool measured = last && !*last->after;
    if (!measured || strcmp(last->width, line->end) != 0)
        html_element(out, "span", "line-end", line->end);
    if (measured)
        put_measure(out, "span", last);
}

static void put_line(Buffer *out, const CardLine *line, const Bench *bench)
{
    buffer_format(out, "<li><span class=\"line-number\">%u</span>", (unsigned)line->number);
    put_line_swatch(out, line);
    html_element(out, "span", "line-count", line->count);
    html_element(out, "span", "line-thread", line->thread);
    put_end(out, line);
    put_how(out, line, bench);
    for (uint32_t i = 0; i < line->measures.count; i++)
        if (*line->measures.items[i].after)
            put_measure(out, "p", &line->measures.items[i]);
    buffer_text(out, "</li>\n");
}

static void put_layer(Buffer *out, const SheetRod *rod, const CardLayer *layer, const Bench *bench)
{
    const SheetPart *part = &rod->parts[layer->parts[0]];
    html_element(out, "h4", "layer", layer->heading);
    put_strip(out, &rod->bench->rod->places[part->place].layers[part->layer], layer, bench);
    html_element(out, "p", "setting", layer->setting);
    buffer_text(out, "<ol class=\"lines\" role=\"list\">\n");
    for (uint32_t i = 0; i < layer->line_count; i++)
        put_line(out, &layer->lines[i], bench);
    buffer_text(out, "</ol>\n");
    html_element(out, "p", "after", layer->after);
}

static void put_cuts(Buffer *out, const Card *card)
{
    if (!card->cut_count)
        return;
    buffer_text(out, "<ul class=\"card-cuts\" role=\"list\">\n");
    for (uint32_t i = 0; i < card->cut_count; i++) {
        const CutLine *cut = &card->cuts[i];
        buffer_text(out, "<li><span class=\"box\"></span><bdi>");
        html_text(out, cut->labels);
        buffer_text(out, cut->colour == NO_COLOUR ? "</bdi> " : "</bdi>: ");
        html_text(out, cut->what);
        buffer_text(out, ", ");
        html_unbroken(out, cut->length);
        buffer_text(out, cut->count > 1 ? " each</li>\n" : "</li>\n");
    }
    buffer_text(out, "</ul>\n");
}

void html_card(Buffer *out, const SheetRod *rod, const Card *card, const Bench *bench, uint32_t section,
               uint32_t number)
{
    buffer_format(out, "<section class=\"place-card\" id=\"r%uc%u\" aria-labelledby=\"r%uc%uh\">\n",
                  (unsigned)section, (unsigned)number, (unsigned)section, (unsigned)number);
    buffer_format(out, "<h3 id=\"r%uc%uh\" dir=\"auto\">", (unsigned)section, (unsigned)number);
    html_unbroken(out, card->heading);
    buffer_text(out, "</h3>\n");
    for (uint32_t i = 0; i < card->place_count; i++)
        html_element(out, "p", "place-mark", card->marks[i]);
    html_element(out, "p", "before", card->before);
    put_cuts(out, card);
    for (uint32_t i = 0; i < card->layer_count; i++)
        put_layer(out, rod, &card->layers[i], bench);
    buffer_text(out, "</section>\n");
}
