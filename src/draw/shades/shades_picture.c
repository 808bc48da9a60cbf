#include "draw/shades/shades_picture.h"

#include "base/buffer.h"
#include "base/unbroken.h"
#include "draw/shades/swatch.h"
#include "draw/spread.h"
#include "plan/shade_words.h"

#include <math.h>

/* Page mm; by eye. */
#define PAGE_WIDTH 210.0
#define SWATCH_WIDTH 25.0
#define SWATCH_HEIGHT 15.0
#define STEP_ROOM 13.0 /* between two swatches of the walk */
#define CELL_APART 5.0 /* between two swatches of a list */
#define ROW 27.0       /* from one row of swatches with their names to the next */
#define PATH_HEIGHT 9.0
#define JOIN 7.0 /* from the path to the swatches of those that lie on it */
enum { NAME_CHARACTERS = 17, LONG_NAME_CHARACTERS = 40, PATH_PARTS = 97, MOST_PAIRS_DRAWN = 60 };

typedef struct ShadesCanvas {
    Canvas *canvas;
    const Shades *shades;
    double x; /* where the next cell of a row stands */
} ShadesCanvas;

static void draw_heading(ShadesCanvas *page, const char *words)
{
    Canvas *canvas = page->canvas;
    canvas->y += 9;
    draw_text(canvas, MARGIN, canvas->y, LETTERS_HEADING, ALIGN_START, INK, words);
    canvas->y += 3;
    page->x = MARGIN;
}

/* In as many lines as it takes. */
static void draw_note(ShadesCanvas *page, const char *words)
{
    Canvas *canvas = page->canvas;
    double room = canvas->drawing->width - 2 * MARGIN;
    while (*words) {
        size_t taken = unbroken_length(words);
        while (words[taken]) {
            size_t more = taken + 1 + unbroken_length(words + taken + 1);
            if (text_width(text_format(canvas->arena, "%.*s", (int)more, words), LETTERS_TEXT) > room)
                break;
            taken = more;
        }
        canvas->y += LETTERS_TEXT * 1.5;
        draw_text(canvas, MARGIN, canvas->y, LETTERS_TEXT, ALIGN_START, GREY_INK,
                  text_format(canvas->arena, "%.*s", (int)taken, words));
        words += taken + (words[taken] == ' ');
    }
}

/* Where the next swatch of a row stands, `before` from the last one; in a new row where there is no room. A row of
 * the walk begins with what leads to its first swatch. */
static SwatchBox next_box(ShadesCanvas *page, double before, bool walks)
{
    Canvas *canvas = page->canvas;
    bool first = page->x == MARGIN;
    if (!first && page->x + before + SWATCH_WIDTH > canvas->drawing->width - MARGIN) {
        page->x = MARGIN;
        canvas->y += ROW;
        first = !walks;
    }
    SwatchBox box = {page->x + (first ? 0 : before), canvas->y, SWATCH_WIDTH, SWATCH_HEIGHT};
    page->x = box.x + box.width;
    return box;
}

static void draw_below(Canvas *canvas, SwatchBox box, const char *name, const char *below)
{
    double y = box.y + box.height + LETTERS_TEXT * 1.4;
    draw_text(canvas, box.x, y, LETTERS_TEXT, ALIGN_START, INK, fitted(canvas->arena, name, NAME_CHARACTERS));
    draw_text(canvas, box.x, y + LETTERS_TEXT * 1.4, LETTERS_SMALL, ALIGN_START, GREY_INK, below);
}

static const char *colour_words(Canvas *canvas, const ThreadShade *shade)
{
    return text_format(canvas->arena, "#%06x%s", (unsigned)shade->thread->colour & 0xffffff,
                       shade->thread->colour_count ? ", a mean" : "");
}

static void draw_cell(ShadesCanvas *page, const ThreadShade *shade, SwatchBox box, const char *below)
{
    draw_shade(page->canvas, shade, box);
    draw_below(page->canvas, box, name_read(page->canvas->arena, shade->name), below);
}

static const char *difference_words(Canvas *canvas, double difference)
{
    buffer_number(&canvas->words, difference, 1);
    return take_words(canvas);
}

/* An arrow that leads to the swatch. */
static void draw_lead(Canvas *canvas, SwatchBox box, uint32_t ink)
{
    double left = box.x - STEP_ROOM + 2, tip = box.x - 2, y = box.y + box.height / 2;
    draw_line(canvas, left, y, tip, y, ink, PEN);
    draw_polygon(canvas, (Point[]){{tip, y}, {tip - 2, y - 1}, {tip - 2, y + 1}}, 3, ink, SHADE_FLAT);
}

/* At the arrow of two shades that stand side by side. */
static void draw_numbers(Canvas *canvas, SwatchBox box, const ShadeStep *step)
{
    double x = box.x - STEP_ROOM / 2, y = box.y + box.height / 2;
    draw_text(canvas, x, y - 1.6, LETTERS_TEXT, ALIGN_MIDDLE, INK, difference_words(canvas, step->difference));
    buffer_text(&canvas->words, "jump ");
    draw_text(canvas, x, y + 3.2, LETTERS_SMALL, ALIGN_MIDDLE, INK, difference_words(canvas, step->jump));
}

/* To the next shade of the walk; where shades are missing, over them. */
static void draw_step(ShadesCanvas *page, const ShadeStep *step)
{
    Canvas *canvas = page->canvas;
    uint32_t ink = step->melts ? INK : MARK_INK;
    for (uint32_t i = 0; i < step->missing_count; i++) {
        SwatchBox box = next_box(page, STEP_ROOM, true);
        draw_lead(canvas, box, ink);
        draw_missing_shade(canvas, step->missing[i], box);
        draw_below(canvas, box, step->enough ? "missing" : "missing, and more",
                   text_format(canvas->arena, "near #%06x", (unsigned)step->missing[i]));
    }
    SwatchBox box = next_box(page, STEP_ROOM, true);
    draw_lead(canvas, box, ink);
    if (step->melts)
        draw_numbers(canvas, box, step);
    const ThreadShade *to = &page->shades->shades[step->to];
    draw_cell(page, to, box, colour_words(canvas, to));
}

/* Why shades are missing. */
static void draw_gap_note(ShadesCanvas *page, const ShadeStep *step)
{
    Canvas *canvas = page->canvas;
    const char *difference = difference_words(canvas, step->difference);
    draw_note(page,
              text_format(canvas->arena, "Too far apart to melt (%s, jump %s): %s.", difference,
                          difference_words(canvas, step->jump), missing_words(canvas->arena, page->shades, step)));
}

static void draw_walk(ShadesCanvas *page)
{
    const Shades *shades = page->shades;
    Canvas *canvas = page->canvas;
    draw_heading(page, "The smoothest walk");
    draw_cell(page, &shades->shades[0], next_box(page, 0, true), colour_words(canvas, &shades->shades[0]));
    for (uint32_t i = 0; i < shades->step_count; i++)
        draw_step(page, &shades->steps[i]);
    canvas->y += ROW - 3;
    for (uint32_t i = 0; i < shades->step_count; i++)
        if (!shades->steps[i].melts)
            draw_gap_note(page, &shades->steps[i]);
}

/* All that the two mix to, evenly along the path. */
static void draw_path_strip(ShadesCanvas *page)
{
    Canvas *canvas = page->canvas;
    const ShadesTask *task = &page->shades->task;
    Light from = light_of(task->from->colour), to = light_of(task->to->colour);
    MixPath seen = mix_path(light_seen(task->vision, from), light_seen(task->vision, to));
    double width = canvas->drawing->width - 2 * MARGIN, part = width / PATH_PARTS;
    for (int i = 0; i < PATH_PARTS; i++) /* each goes on below the next, so that no gap shows */
        draw_rectangle(canvas, MARGIN + i * part, canvas->y, width - i * part, PATH_HEIGHT,
                       colour_of(light_over(to, mix_share(&seen, (i + 0.5) / PATH_PARTS), from)), NO_COLOUR);
    draw_rectangle(canvas, MARGIN, canvas->y, width, PATH_HEIGHT, NO_COLOUR, PALE_INK);
    canvas->y += PATH_HEIGHT;
}

/* A shade between, joined to where it lies at the strip above. middle: page x of its swatch. */
static void draw_shade_between(ShadesCanvas *page, const ThreadShade *shade, double at, double middle)
{
    Canvas *canvas = page->canvas;
    SwatchBox box = {middle - SWATCH_WIDTH / 2, canvas->y + JOIN, SWATCH_WIDTH, SWATCH_HEIGHT};
    draw_polygon(canvas, (Point[]){{at, canvas->y + 0.4}, {at - 1, canvas->y + 2.4}, {at + 1, canvas->y + 2.4}}, 3,
                 INK, SHADE_FLAT);
    draw_line(canvas, at, canvas->y + 2.4, middle, box.y, INK, PEN);
    draw_cell(page, shade, box,
              text_format(canvas->arena, "%s, at %s %%", colour_words(canvas, shade),
                          show_number(canvas->arena, shade->position * 100, 0)));
}

/* The strip with as many of the shades between as have room below it, each as near to its place as may be. */
static void draw_between_row(ShadesCanvas *page, uint32_t first, uint32_t count)
{
    Canvas *canvas = page->canvas;
    double width = canvas->drawing->width - 2 * MARGIN;
    SpreadLabel *cells = arena_take_many(canvas->arena, count, sizeof *cells);
    draw_path_strip(page);
    for (uint32_t i = 0; i < count; i++)
        cells[i].at = MARGIN + page->shades->shades[first + i].position * width;
    if (count)
        spread_labels(canvas->arena, cells, count, SWATCH_WIDTH + CELL_APART, MARGIN + SWATCH_WIDTH / 2,
                      MARGIN + width - SWATCH_WIDTH / 2);
    for (uint32_t i = 0; i < count; i++)
        draw_shade_between(page, &page->shades->shades[first + i], cells[i].at, cells[i].shown);
    canvas->y += count ? JOIN + ROW - 3 : 0;
}

static void draw_between(ShadesCanvas *page)
{
    const Shades *shades = page->shades;
    double width = page->canvas->drawing->width - 2 * MARGIN;
    uint32_t most = (uint32_t)((width + CELL_APART) / (SWATCH_WIDTH + CELL_APART)), left = shades->count - 2, row;
    draw_heading(page, left ? "Between them" : "None of the file's threads lies between them");
    do {
        row = left < most ? left : most;
        draw_between_row(page, shades->count - 1 - left, row);
        left -= row;
    } while (left);
}

static void draw_list(ShadesCanvas *page)
{
    const Shades *shades = page->shades;
    page->canvas->y += 6;
    page->x = MARGIN;
    for (uint32_t i = 0; i < shades->count; i++)
        draw_cell(page, &shades->shades[i], next_box(page, CELL_APART, false),
                  colour_words(page->canvas, &shades->shades[i]));
    page->canvas->y += shades->count ? ROW - 5 : 0;
}

/* Side by side, as they lie on a table. */
static void draw_pair(ShadesCanvas *page, const ShadePair *pair)
{
    Canvas *canvas = page->canvas;
    const Shades *shades = page->shades;
    const ThreadShade *first = &shades->shades[pair->first], *second = &shades->shades[pair->second];
    double width = 12, height = 6;
    draw_shade(canvas, first, (SwatchBox){MARGIN, canvas->y, width, height});
    draw_shade(canvas, second, (SwatchBox){MARGIN + width, canvas->y, width, height});
    Arena *arena = canvas->arena;
    draw_text(canvas, MARGIN + 2 * width + 3, canvas->y + height / 2 + LETTERS_TEXT * 0.36, LETTERS_TEXT,
              ALIGN_START, INK,
              text_format(arena, "%s and %s: %s, by %s",
                          fitted(arena, name_read(arena, first->name), LONG_NAME_CHARACTERS),
                          fitted(arena, name_read(arena, second->name), LONG_NAME_CHARACTERS),
                          difference_words(canvas, pair->difference), pair_eyes(arena, pair)));
    canvas->y += height + 2;
}

static void draw_pairs(ShadesCanvas *page)
{
    const Shades *shades = page->shades;
    Canvas *canvas = page->canvas;
    draw_heading(page,
                 text_format(canvas->arena, "%s mistaken under the lamp by %s",
                             shades->pair_count ? "Would be" : "None of these would be", mistaking_eyes(shades)));
    uint32_t drawn = shades->pair_count < MOST_PAIRS_DRAWN ? shades->pair_count : MOST_PAIRS_DRAWN;
    for (uint32_t i = 0; i < drawn; i++)
        draw_pair(page, &shades->pairs[i]);
    uint32_t rest = shades->pair_count + shades->pairs_left_out - drawn;
    if (rest)
        draw_note(page, text_format(canvas->arena, "And %u pairs more, which differ by more.", rest));
}

static void draw_titles(ShadesCanvas *page)
{
    Canvas *canvas = page->canvas;
    canvas->y = MARGIN + LETTERS_TITLE * 0.8;
    draw_text(canvas, MARGIN, canvas->y, LETTERS_TITLE, ALIGN_START, INK, canvas->drawing->title);
    canvas->drawing->body = canvas->drawing->shapes.count;
    draw_note(page, picture_origin(canvas));
}

/* What the numbers are. */
static const char *closing_words(ShadesCanvas *page)
{
    Canvas *canvas = page->canvas;
    const Bench *bench = &canvas->plan->job->bench;
    const char *jumps =
        page->shades->task.from ? text_format(
            canvas->arena,
            "A jump is between two turns of a fade in %u steps, seen from %s: above %s it shows as a line. ",
            STEPS_BY_HEART, show_quantity(canvas->arena, canvas->units, QUANTITY_DISTANCE, bench->far),
            show_number(canvas->arena, bench->jump, 2))
                                : "";
    return text_format(
        canvas->arena,
        "Numbers are differences (CIEDE2000): about 1 is the least that is seen side by side. %sColours are "
        "as under finish. Shades with a pattern look like others to some eyes.",
        jumps);
}

Drawing *draw_shades(Arena *arena, const Plan *plan, const Shades *shades)
{
    Canvas canvas = {.arena = arena,
                     .drawing = arena_take(arena, sizeof(Drawing)),
                     .plan = plan,
                     .scale = 1,
                     .type = 1,
                     .units = plan->job->bench.units};
    ShadesCanvas page = {&canvas, shades, MARGIN};
    area_start(&canvas.area, arena);
    buffer_start(&canvas.words, arena);
    canvas.drawing->title = fitted(arena, shades_title(arena, shades), 2 * LONG_NAME_CHARACTERS);
    canvas.drawing->description = "swatches of threads, with their names";
    canvas.drawing->width = PAGE_WIDTH;
    draw_paper(&canvas);
    draw_titles(&page);
    if (shades->task.from) {
        draw_walk(&page);
        draw_between(&page);
    } else
        draw_list(&page);
    draw_pairs(&page);
    canvas.y += 2;
    draw_note(&page, closing_words(&page));
    cut_paper(&canvas, canvas.y + MARGIN);
    return canvas.drawing;
}
