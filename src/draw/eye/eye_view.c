#include "draw/eye/eye_view.h"

#include "draw/crosswrap/variegated.h"
#include "draw/eye/lightness.h"
#include "draw/eye/magnified.h"
#include "draw/rod/close_up.h"
#include "trade/eye.h"

#include <math.h>

/* As wide as a sheet of A4 paper is long, mm; and left of the strips what is said of them. */
#define PAGE_WIDTH 297.0
#define WORDS_ROOM 26.0
/* Looks at points of crosswraps, times strands, that a picture may take: about a second's work. */
#define MOST_LOOKS 4e6
/* More wraps than these nobody looks at; those that look alike are sought among so many. */
enum { MOST_SHOWN = 60, MOST_TRIED = 8, MOST_NAMED = 4 };

/* A wrap that is shown, and all that look like it. */
typedef struct ShownWrap {
    PlaceView view;
    LIST_OF(const PlannedPlace *) like;
} ShownWrap;

typedef struct ShownWraps {
    LIST_OF(ShownWrap) list;
    uint32_t left_out;
} ShownWraps;

double eye_view_width(void) { return PAGE_WIDTH; }

/* --- which wraps --- */

static ShownWrap *shown_already(ShownWraps *wraps, const PlaceView *view)
{
    uint32_t count = wraps->list.count;
    for (uint32_t i = 0; i < count && i < MOST_TRIED; i++)
        if (look_alike(&wraps->list.items[count - 1 - i].view, view))
            return &wraps->list.items[count - 1 - i];
    return NULL;
}

static ShownWraps wraps_of(Canvas *canvas)
{
    ShownWraps wraps = {{NULL, 0, 0}, 0};
    for (uint32_t i = 0, next; i < canvas->rod->place_count; i = next) {
        PlaceView view = place_view_of(canvas, i);
        next = i + view.count;
        if (!is_shown(canvas, view.places))
            continue;
        ShownWrap *wrap = shown_already(&wraps, &view);
        if (wrap)
            *LIST_ADD(canvas->arena, &wrap->like) = view.places;
        else if (wraps.list.count < MOST_SHOWN)
            *LIST_ADD(canvas->arena, &wraps.list) = (ShownWrap){.view = view};
        else
            wraps.left_out++;
    }
    return wraps;
}

/* --- words --- */

static const char *away_words(Canvas *canvas, double mm)
{
    return show_quantity(canvas->arena, canvas->units, QUANTITY_DISTANCE, mm);
}

/* "6 times true size" */
static const char *subtitle(Canvas *canvas)
{
    const char *scale = show_number(canvas->arena, canvas->scale, 3);
    return text_format(canvas->arena, "wraps as the eye sees them, %s%s; butt on the left, tip on the right",
                       canvas->scale == 1 ? "at true size" : scale, canvas->scale == 1 ? "" : " times true size");
}

/* How far light runs together, in turns of a thread as well. */
static const char *blur_words(Canvas *canvas, const EyePage *page, const Legend *legend)
{
    Buffer *words = &canvas->words;
    for (int i = 1; i < 3; i++) {
        buffer_text(words, i == 1 ? "Light runs together: " : ", ");
        buffer_format(words, "%s over %s", page->from[i], show_fine(canvas->arena, canvas->units, page->blur[i]));
    }
    if (legend->count)
        buffer_format(words, "; that is %s and %s turns of %s",
                      show_number(canvas->arena, page->blur[1] / legend->threads[0]->pitch, 1),
                      show_number(canvas->arena, page->blur[2] / legend->threads[0]->pitch, 1),
                      fitted(canvas->arena, name_read(canvas->arena, legend->threads[0]->name->bytes), 40));
    buffer_text(words, " (one standard deviation).");
    return take_words(canvas);
}

static void draw_line_of(Canvas *canvas, double size, double leading, uint32_t ink, const char *words)
{
    canvas->y += size * leading;
    draw_text(canvas, MARGIN, canvas->y, size, ALIGN_START, ink, words);
}

static void draw_titles(Canvas *canvas, const char *below)
{
    canvas->y = MARGIN - LETTERS_TITLE * 0.2;
    draw_line_of(canvas, LETTERS_TITLE, 1, INK, canvas->drawing->title);
    canvas->drawing->body = canvas->drawing->shapes.count;
    draw_line_of(canvas, LETTERS_TEXT, 1.7, GREY_INK, below);
    draw_line_of(canvas, LETTERS_TEXT, 1.4, GREY_INK, picture_origin(canvas));
}

static const char *wrap_words(Canvas *canvas, const PlannedPlace *place)
{
    const Job *job = canvas->plan->job;
    const Rod *rod = canvas->rod->rod;
    if (place->foot < 0)
        return place_label(canvas->arena, job, rod, place);
    return text_format(canvas->arena, "%s at %s", name_read(canvas->arena, place->place->guide->name->bytes),
                       place_mark(canvas->arena, job, rod, place));
}

static void draw_heading(Canvas *canvas, const ShownWrap *wrap)
{
    canvas->y += 3;
    draw_line(canvas, MARGIN, canvas->y, canvas->drawing->width - MARGIN, canvas->y, PALE_INK, PEN_FINE);
    canvas->y += 2;
    draw_line_of(canvas, LETTERS_HEADING, 1, INK, wrap_words(canvas, wrap->view.places));
    for (uint32_t i = 0; i < wrap->like.count && i < MOST_NAMED; i++) {
        buffer_text(&canvas->words, i ? "; " : "looks much like it: ");
        buffer_text(&canvas->words, wrap_words(canvas, wrap->like.items[i]));
    }
    if (wrap->like.count > MOST_NAMED)
        buffer_format(&canvas->words, "; and %u more", wrap->like.count - MOST_NAMED);
    if (wrap->like.count)
        draw_line_of(canvas, LETTERS_TEXT, 1.5, GREY_INK, take_words(canvas));
    canvas->y += 2;
}

static bool any_bare(const ShownWraps *wraps)
{
    for (uint32_t i = 0; i < wraps->list.count; i++)
        if (shows_bare(&wraps->list.items[i].view))
            return true;
    return false;
}

static bool any_cut_short(const EyePage *page, const ShownWraps *wraps)
{
    for (uint32_t i = 0; i < wraps->list.count; i++)
        if (is_cut_short(page, &wraps->list.items[i].view))
            return true;
    return false;
}

static bool any_variegated(const Legend *legend)
{
    for (uint32_t i = 0; i < legend->count; i++)
        if (legend->threads[i]->colour_count)
            return true;
    return false;
}

static void draw_notes(Canvas *canvas, const EyePage *page, const ShownWraps *wraps, const Legend *legend)
{
    const struct {
        bool said;
        const char *words;
    } notes[] = {
        {true, blur_words(canvas, page, legend)},
        {true,
         "Each turn has the colour that is seen at its middle, in even light: without gleam and shadow. Sharp "
         "colours are as under finish."},
        {page->ticks > 0, "Two ticks below a sharp strip are where a fade begins and where it ends."},
        {page->curves > 0,
         text_format(
             canvas->arena,
             "The curves say how light each turn of a fade is seen from far (CIELAB, 0 to 100; 10 are %g mm "
             "high); the broad pale one is an even fade's. A line shows where it is marked so.",
             10 * ONE_HIGH)},
        {any_bare(wraps),
         "Before finish threads have the colours that they have bare, or those under finish where "
         "none are said."},
        {any_variegated(legend), "Threads of several colours are in their mean colour, but in crosswraps."},
        {page->looks > 0, "Crosswraps are seen from one side, as in the side view."},
        {any_cut_short(page, wraps),
         "Of a long crosswrap its middle is shown; a smaller --scale shows more of it."},
        {canvas->solid_through, NOTE_SOLID},
        {canvas->mean_through, NOTE_MEAN},
        {wraps->left_out > 0, text_format(canvas->arena, "%u more wraps are not shown.", wraps->left_out)},
    };
    for (size_t i = 0; i < sizeof notes / sizeof *notes; i++)
        if (notes[i].said)
            draw_line_of(canvas, LETTERS_SMALL, 1.5, GREY_INK, notes[i].words);
}

/* --- the page --- */

/* Looks at points that a mm of a crosswrap has, in each of its strips. */
static double looks_of(const EyePage *page, const ShownWraps *wraps)
{
    double strips = 0;
    for (uint32_t i = 0; i < wraps->list.count; i++) {
        const PlaceView *view = &wraps->list.items[i].view;
        strips += crossed_length(page, view) * (shows_bare(view) ? 4 : 2);
    }
    return strips > 0 ? MOST_LOOKS / strips : 0;
}

static EyePage page_of(Canvas *canvas, const ShownWraps *wraps, Vision vision)
{
    const Bench *bench = &canvas->plan->job->bench;
    double left = MARGIN + WORDS_ROOM;
    EyePage page = {
        .canvas = canvas,
        .left = left,
        .room = PAGE_WIDTH - left - MARGIN,
        .blur = {0, eye_blur(bench->sight, bench->near), eye_blur(bench->sight, bench->far)},
        .from = {"sharp", text_format(canvas->arena, "from %s", away_words(canvas, bench->near)),
                 text_format(canvas->arena, "from %s", away_words(canvas, bench->far))},
        .away = {"as wound", "in the hand", "across the room"},
        .vision = vision,
    };
    page.looks = looks_of(&page, wraps);
    return page;
}

Drawing *draw_eye_view(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, double scale, double facing,
                       Vision vision)
{
    Canvas canvas = canvas_start(arena, plan, &plan->rods[rod], section, VIEW_SIDE, scale, facing);
    Drawing *drawing = canvas.drawing;
    canvas.type = 1; /* the page does not grow with the scale */
    drawing->width = PAGE_WIDTH;
    const char *words = subtitle(&canvas);
    drawing->description = text_format(arena, "%s: %s", drawing->title, words);
    colours_start(&canvas);
    draw_paper(&canvas);
    draw_titles(&canvas, words);
    if (is_drawn(&canvas)) {
        ShownWraps wraps = wraps_of(&canvas);
        Legend legend = legend_make(&canvas);
        EyePage page = page_of(&canvas, &wraps, vision);
        for (uint32_t i = 0; i < wraps.list.count; i++) {
            draw_heading(&canvas, &wraps.list.items[i]);
            draw_magnified(&page, &wraps.list.items[i].view);
        }
        draw_legend(&canvas, &legend);
        draw_notes(&canvas, &page, &wraps, &legend);
    }
    cut_paper(&canvas, canvas.y + MARGIN);
    return drawing;
}
