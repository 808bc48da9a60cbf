/* The whole drawing: title, views of the places, legend. */
#include "draw/drawing.h"

#include "draw/crosswrap/variegated.h"
#include "draw/eye/eye_view.h"
#include "draw/eyes.h"
#include "draw/picture/sheen.h"
#include "draw/rod/whole_rod.h"

#include <math.h>

/* A canvas is never narrower than a heading and a legend look well in, page mm at true scale. */
#define NARROWEST 110.0
/* Beyond so many turns single ones are not shown: nobody looks at them all, and the picture stays small. */
enum { MOST_TEXTURED_TURNS = 100000, TITLE_CHARACTERS = 60 };

static uint32_t strand_lines(const PlannedLayer *layer)
{
    return layer->crosswrap ? layer->crosswrap->crosswrap->line_count : 0;
}

static void ids_start(Ids *ids, Arena *arena, const PlannedRod *rod)
{
    uint64_t runs = 0, room = 64;
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++)
            runs += rod->places[p].layers[l].run_count + strand_lines(&rod->places[p].layers[l]);
    while (room < runs * 2)
        room *= 2;
    *ids = (Ids){arena_take_many(arena, (size_t)room, sizeof *ids->slots), room - 1};
}

static bool shows_texture(const PlannedRod *rod)
{
    uint64_t turns = 0;
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++)
            turns += rod->places[p].layers[l].turns;
    return turns <= MOST_TEXTURED_TURNS;
}

/* "true size", "4 times true size", "0.5 times true size". */
static const char *scale_words(Canvas *canvas)
{
    if (canvas->scale == 1)
        return "true size";
    return text_format(canvas->arena, "%s times true size", show_number(canvas->arena, canvas->scale, 3));
}

static const char *view_words(View view)
{
    return view == VIEW_SIDE ? "side view" : "surface unrolled, its ring or own line in the middle";
}

static const char *name_of(Canvas *canvas, const Text *text)
{
    return text ? fitted(canvas->arena, text->bytes, TITLE_CHARACTERS) : "";
}

/* What a printed sheet must say of itself, below the rod's title. */
static const char *subtitle(Canvas *canvas)
{
    return text_format(canvas->arena, "%s, %s; butt on the left, tip on the right", view_words(canvas->view),
                       scale_words(canvas));
}

const char *picture_origin(Canvas *canvas)
{
    const Job *job = canvas->plan->job;
    Buffer *words = &canvas->words;
    if (job->about.title) {
        buffer_text(words, name_of(canvas, job->about.title));
        if (job->about.author)
            buffer_format(words, " by %s", name_of(canvas, job->about.author));
        buffer_text(words, "; ");
    }
    buffer_text(words, "file id ");
    for (int shift = 48; shift > 0; shift -= 16) /* as on every other page: three groups of four */
        buffer_format(words, "%s%04x", shift == 48 ? "" : "-", (unsigned)(job->pattern_hash >> shift & 0xffff));
    return take_words(canvas);
}

static void draw_titles(Canvas *canvas)
{
    double type = canvas->type;
    canvas->y = MARGIN + LETTERS_TITLE * type * 0.8;
    draw_text(canvas, MARGIN, canvas->y, LETTERS_TITLE * type, ALIGN_START, INK, canvas->drawing->title);
    canvas->y += LETTERS_TEXT * type * 1.7;
    draw_text(canvas, MARGIN, canvas->y, LETTERS_TEXT * type, ALIGN_START, GREY_INK, subtitle(canvas));
    canvas->y += LETTERS_TEXT * type * 1.4;
    draw_text(canvas, MARGIN, canvas->y, LETTERS_TEXT * type, ALIGN_START, GREY_INK, picture_origin(canvas));
}

static double titles_width(Canvas *canvas)
{
    double title = text_width(canvas->drawing->title, LETTERS_TITLE * canvas->type);
    double below = fmax(text_width(subtitle(canvas), LETTERS_TEXT * canvas->type),
                        text_width(picture_origin(canvas), LETTERS_TEXT * canvas->type));
    return fmax(fmax(title, below), NARROWEST * canvas->type);
}

/* Whether there is a guide, or a crosswrap, among the places that are drawn. */
static bool shows_guide(const Canvas *canvas)
{
    for (uint32_t p = 0; p < canvas->rod->place_count; p++)
        if (is_shown(canvas, &canvas->rod->places[p]) && canvas->rod->places[p].foot >= 0)
            return true;
    return false;
}

static bool shows_crosswraps(const Canvas *canvas)
{
    for (uint32_t p = 0; p < canvas->rod->place_count; p++)
        if (is_shown(canvas, &canvas->rod->places[p]) && has_crosswrap(&canvas->rod->places[p]))
            return true;
    return false;
}

static void draw_notes(Canvas *canvas)
{
    bool crossed = shows_crosswraps(canvas), side = canvas->view == VIEW_SIDE;
    const struct {
        bool said;
        const char *words;
    } notes[] = {
        {true, "Numbers between wrap and ruler are turns. Thread colours are as under finish."},
        {crossed && side, "Short ticks in a crosswrap's row are the crossings nearest to you."},
        {crossed && !side,
         "Short ticks in a crosswrap's row are the crossings on its middle line; red numbers are its crossing lines."},
        {side && shows_guide(canvas), "A guide's frame and ring are only sketched; its foot is to scale."},
        {side && stands_round(canvas->rod) && !isfinite(canvas->facing),
         "Seen with the rod's line on top where nothing else is said: rings at an angle stand as they do round the rod."},
        {!side || crossed || isfinite(canvas->facing) || stands_round(canvas->rod),
         "Degrees are clockwise seen from the butt; 0 is the rod's line."},
        {canvas->solid_through, NOTE_SOLID},
        {canvas->mean_through && !canvas->blended, NOTE_MEAN},
        {canvas->blended,
         "Threads of several colours are drawn in their mean colour: the changes are too many to show."},
    };
    double line = LETTERS_SMALL * canvas->type * 1.5;
    for (size_t i = 0; i < sizeof notes / sizeof *notes; i++) {
        if (!notes[i].said)
            continue;
        canvas->y += line;
        draw_text(canvas, MARGIN, canvas->y, LETTERS_SMALL * canvas->type, ALIGN_START, GREY_INK, notes[i].words);
    }
}

/* What it is a picture of: the rod, and which of its sections. */
static const char *title_of(Arena *arena, const Canvas *canvas)
{
    const Rod *rod = canvas->rod->rod;
    const char *title = fitted(arena, rod->title->bytes, TITLE_CHARACTERS);
    if (canvas->section == ALL_SECTIONS || rod->section_count < 2)
        return title;
    return text_format(arena, "%s, %s", title, section_label(arena, rod, canvas->section));
}

Canvas canvas_start(Arena *arena, const Plan *plan, const PlannedRod *rod, uint32_t section, View view,
                    double scale, double facing)
{
    Canvas canvas = {.arena = arena,
                     .drawing = arena_take(arena, sizeof(Drawing)),
                     .plan = plan,
                     .rod = rod,
                     .section = section,
                     .view = view,
                     .scale = isfinite(scale) && scale > 0 ? scale : 1,
                     .shown_low = -INFINITY,
                     .shown_high = INFINITY,
                     .texture = shows_texture(rod),
                     .sheens = has_sheens(plan, rod->rod),
                     .facing = facing,
                     .ramp_slices = 16,
                     .units = plan->job->bench.units};
    canvas.type = fmax(1, sqrt(canvas.scale));
    area_start(&canvas.area, arena);
    buffer_start(&canvas.words, arena);
    canvas.drawing->lines = plan->job->lines;
    canvas.drawing->title = title_of(arena, &canvas);
    return canvas;
}

Drawing *draw_rod(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale)
{
    return draw_rod_turned(arena, plan, rod, view, scale, NAN);
}

Drawing *draw_rod_turned(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale, double facing)
{
    return draw_section(arena, plan, rod, ALL_SECTIONS, view, scale, facing);
}

bool is_drawn(const Canvas *canvas)
{
    bool any = false;
    for (uint32_t p = 0; p < canvas->rod->place_count; p++)
        any |= is_shown(canvas, &canvas->rod->places[p]);
    return canvas->rod->rod->blank && any;
}

void draw_paper(Canvas *canvas) { draw_rectangle(canvas, 0, 0, canvas->drawing->width, 0, PAPER, NO_COLOUR); }

void cut_paper(Canvas *canvas, double height)
{
    Point *corners = canvas->drawing->shapes.items[0].points;
    canvas->drawing->height = corners[2].y = corners[3].y = height;
}

/* Of the whole drawing; makes the headings. */
static double drawing_width(Canvas *canvas, const Legend *legend)
{
    double width = fmax(titles_width(canvas), legend->width + 8 * canvas->type);
    if (is_drawn(canvas)) {
        headings_make(canvas);
        width = fmax(width, place_views_width(canvas, GUTTER * canvas->type));
    }
    return width + 2 * MARGIN;
}

double rod_drawing_width(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale)
{
    return section_drawing_width(arena, plan, rod, ALL_SECTIONS, view, scale);
}

double section_drawing_width(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view,
                             double scale)
{
    if (view == VIEW_ROD || view == VIEW_PRESENTATION)
        return whole_rod_width(scale);
    if (view == VIEW_EYE)
        return eye_view_width();
    Canvas canvas = canvas_start(arena, plan, &plan->rods[rod], section, view, scale, NAN);
    Legend legend = legend_make(&canvas);
    return drawing_width(&canvas, &legend);
}

Drawing *draw_section(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view, double scale,
                      double facing)
{
    return draw_in_pixels(arena, plan, rod, section, view, scale, facing, 0, VISION_ALL_CONES);
}

/* The bench views. */
static Drawing *draw_places(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view,
                            double scale, double facing)
{
    Canvas canvas = canvas_start(arena, plan, &plan->rods[rod], section, view, scale, facing);
    Drawing *drawing = canvas.drawing;
    Legend legend = legend_make(&canvas);
    drawing->width = drawing_width(&canvas, &legend);
    drawing->description = text_format(arena, "%s: %s", drawing->title, subtitle(&canvas));
    ids_start(&canvas.ids, arena, canvas.rod);
    colours_start(&canvas);

    draw_paper(&canvas);
    draw_titles(&canvas);
    drawing->body = drawing->shapes.count;
    if (is_drawn(&canvas)) {
        draw_place_views(&canvas, MARGIN + GUTTER * canvas.type);
        draw_legend(&canvas, &legend);
        draw_notes(&canvas);
    }
    cut_paper(&canvas, canvas.y + MARGIN);
    return drawing;
}

Drawing *draw_in_pixels(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view, double scale,
                        double facing, double pixels, Vision vision)
{
    Drawing *drawing;
    if (view == VIEW_ROD || view == VIEW_PRESENTATION)
        drawing = draw_whole_rod(arena, plan, rod, section, view, scale, facing, pixels);
    else if (view == VIEW_EYE)
        drawing = draw_eye_view(arena, plan, rod, section, scale, facing, vision);
    else
        drawing = draw_places(arena, plan, rod, section, view, scale, facing);
    drawing_seen(arena, drawing, vision);
    return drawing;
}
