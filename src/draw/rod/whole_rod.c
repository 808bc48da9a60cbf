#include "draw/rod/whole_rod.h"

#include "draw/crosswrap/variegated.h"
#include "draw/rod/block.h"

#include <math.h>
#include <string.h>

/* A page of the usual size, as wide as a sheet of A4 paper, and the narrowest; mm. */
#define USUAL_WIDTH 210.0
#define NARROWEST_WIDTH 90.0
/* From line to line of a title, in heights of its letters: by eye. */
#define TITLE_LEADING 1.2

double whole_rod_width(double scale)
{
    return fmax(USUAL_WIDTH * (isfinite(scale) && scale > 0 ? scale : 1), NARROWEST_WIDTH);
}

static const char *subtitle(Canvas *canvas, const RodRows *rows)
{
    const char *scale = show_number(canvas->arena, rows->scale, 2);
    bool one = canvas->section != ALL_SECTIONS && canvas->rod->rod->section_count > 1;
    return text_format(canvas->arena, "the whole %s, %s%s, from butt (left) to tip%s; its wraps from near by",
                       one ? "section" : "rod", rows->scale == 1 ? "at true size" : scale,
                       rows->scale == 1 ? "" : " times true size",
                       rows->count > 1 ? text_format(canvas->arena, " in %u rows", rows->count) : "");
}

static const char *made_by(Canvas *canvas)
{
    const Text *author = canvas->plan->job->about.author;
    return author ? text_format(canvas->arena, "by %s", fitted(canvas->arena, author->bytes, 60)) : "";
}

/* Bytes of the words for which a line of the page has room: whole words, if there is room for one. */
static size_t line_length(const RodPage *page, const char *words, double size)
{
    size_t letters = 0, whole = 0;
    for (size_t at = 1;; at++) {
        if (inside_character(words[at]))
            continue;
        const char *line = text_format(page->canvas->arena, "%.*s", (int)at, words);
        if (text_width(line, size) > page->room)
            return whole ? whole : letters ? letters : at;
        letters = at;
        if (!words[at])
            return at;
        whole = words[at] == ' ' ? at : whole;
    }
}

/* Below canvas->y, in as many lines as it takes, each so many heights of its letters below the last. */
static void draw_words(RodPage *page, double size, double leading, uint32_t ink, const char *words)
{
    Canvas *canvas = page->canvas;
    while (*words) {
        size_t length = line_length(page, words, size);
        canvas->y += size * leading;
        draw_text(canvas, page->left, canvas->y, size, ALIGN_START, ink,
                  text_format(canvas->arena, "%.*s", (int)length, words));
        words += length;
        words += strspn(words, " ");
    }
}

static void draw_titles(RodPage *page, const char *below)
{
    Canvas *canvas = page->canvas;
    double type = canvas->type, large = LETTERS_TITLE * type * (page->presentation ? 1.4 : 1);
    const char *origin = page->presentation ? made_by(canvas) : picture_origin(canvas);
    canvas->y = EDGE * type - large * (TITLE_LEADING - 0.8);
    draw_words(page, large, TITLE_LEADING, INK, canvas->drawing->title);
    canvas->drawing->body = canvas->drawing->shapes.count;
    if (!page->presentation)
        draw_words(page, LETTERS_TEXT * type, 1.7, GREY_INK, below);
    draw_words(page, LETTERS_TEXT * type, 1.4, GREY_INK, origin);
    canvas->y += (page->presentation ? 9 : 6) * type;
}

/* The threads' colours by name, for a customer. */
static void draw_palette(RodPage *page, const Legend *legend)
{
    Canvas *canvas = page->canvas;
    double type = canvas->type, swatch = 9 * type, size = LETTERS_TEXT * type, x = page->left;
    canvas->y += 2 * type;
    for (uint32_t i = 0; i < legend->count; i++) {
        const char *name = fitted(canvas->arena, name_read(canvas->arena, legend->threads[i]->name->bytes), 40);
        double width = swatch + 2 * type + text_width(name, size) + 6 * type;
        if (x > page->left && x + width > page->left + page->room) {
            x = page->left;
            canvas->y += 6.5 * type;
        }
        draw_swatch(canvas, legend->threads[i], x, canvas->y, swatch, 4 * type);
        draw_text(canvas, x + swatch + 2 * type, canvas->y + 2 * type + size * 0.36, size, ALIGN_START, INK, name);
        x += width;
    }
    canvas->y += 4 * type;
}

static bool has_guide(const RodPage *page)
{
    for (uint32_t i = 0; i < page->view_count; i++)
        if (page->views[i].places[0].foot >= 0)
            return true;
    return false;
}

static void draw_notes(RodPage *page, uint32_t left_out)
{
    Canvas *canvas = page->canvas;
    UnitSystem units = canvas->units;
    const struct {
        bool said;
        const char *words;
    } notes[] = {
        {true, text_format(canvas->arena,
                           "Numbers below the rod are %s from the butt. Thread colours are as under finish.",
                           quantity_unit(units, QUANTITY_PLACE))},
        {true, "Turns too narrow to be seen one by one are drawn in the mean of their light."},
        {canvas->solid_through, NOTE_SOLID},
        {canvas->mean_through && !canvas->blended, NOTE_MEAN},
        {has_guide(page),
         "Rings are as wide and as high as their guides say, or as would suit their feet; they are "
         "turned a little toward you."},
        {stands_round(canvas->rod) && !isfinite(canvas->facing),
         "The rod's line is on top: rings at an angle stand as they do round the rod."},
        {isfinite(canvas->facing),
         text_format(canvas->arena,
                     "What faces you lies at %s deg, clockwise seen from the butt; 0 is the rod's line.",
                     show_number(canvas->arena, canvas->facing, 1))},
        {page->unsaid > 0,
         text_format(canvas->arena, "%u more parts and notes have no words here.", page->unsaid)},
        {left_out > 0, text_format(canvas->arena, "%u more wraps are not shown from near by.", left_out)},
    };
    for (size_t i = 0; i < sizeof notes / sizeof *notes; i++)
        if (notes[i].said)
            draw_words(page, LETTERS_SMALL * canvas->type, 1.5, GREY_INK, notes[i].words);
}

static void draw_rows(RodPage *page)
{
    RodRows rows = rows_make(page);
    CloseUps close_ups = close_ups_make(page, &rows);
    Legend legend = legend_make(page->canvas);
    const char *words = subtitle(page->canvas, &rows);
    page->canvas->drawing->description = text_format(page->canvas->arena, "%s: %s", page->canvas->drawing->title,
                                                     page->presentation ? "the whole rod" : words);
    draw_titles(page, words);
    if (rows.count > 1)
        draw_overview(page);
    for (uint32_t i = 0; i < rows.count; i++)
        draw_block(page, &rows, i, &close_ups);
    if (page->presentation) {
        draw_palette(page, &legend);
        return;
    }
    draw_legend(page->canvas, &legend);
    draw_notes(page, close_ups.left_out);
}

Drawing *draw_whole_rod(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view, double scale,
                        double facing, double pixels)
{
    Canvas canvas = canvas_start(arena, plan, &plan->rods[rod], section, VIEW_SIDE, scale, facing);
    canvas.drawing->width = whole_rod_width(scale);
    RodPage page = rod_page_make(&canvas, view == VIEW_PRESENTATION, pixels);
    colours_start(&canvas);
    draw_paper(&canvas);
    if (canvas.rod->rod->blank) {
        draw_rows(&page);
    } else {
        canvas.drawing->description = canvas.drawing->title;
        draw_titles(&page, "");
    }
    cut_paper(&canvas, canvas.y + EDGE * canvas.type);
    return canvas.drawing;
}
