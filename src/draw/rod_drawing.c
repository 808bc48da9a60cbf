/* The whole drawing: title, views of the places, legend. */
#include "draw/drawing.h"

#include "base/sort.h"
#include "draw/crosswrap/variegated.h"

#include <math.h>

/* A canvas is never narrower than a heading and a legend look well in, page mm at true scale. */
#define NARROWEST 110.0
/* Beyond so many turns single ones are not shown: nobody looks at them all, and the picture stays small. */
enum { MOST_TEXTURED_TURNS = 100000, TITLE_CHARACTERS = 60, NAME_CHARACTERS = 40, MOST_COLOURS_NAMED = 4 };

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
    return view == VIEW_SIDE ? "side view" : "surface unrolled, cut open opposite the ring";
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

static const char *origin(Canvas *canvas)
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
    draw_text(canvas, MARGIN, canvas->y, LETTERS_TEXT * type, ALIGN_START, GREY_INK, origin(canvas));
}

static double titles_width(Canvas *canvas)
{
    double title = text_width(canvas->drawing->title, LETTERS_TITLE * canvas->type);
    double below = fmax(text_width(subtitle(canvas), LETTERS_TEXT * canvas->type),
                        text_width(origin(canvas), LETTERS_TEXT * canvas->type));
    return fmax(fmax(title, below), NARROWEST * canvas->type);
}

/* A thread's index twice, one more where it stays: each use of a thread in the rod. */
typedef struct Uses {
    Arena *arena;
    LIST_OF(double) list;
} Uses;

static void note_use(Uses *uses, const Thread *thread, bool spacer)
{
    double use = 2.0 * thread->index + !spacer;
    if (!uses->list.count || uses->list.items[uses->list.count - 1] != use)
        *LIST_ADD(uses->arena, &uses->list) = use;
}

static void note_uses(Uses *uses, const PlannedLayer *layer)
{
    for (uint32_t r = 0; r < layer->run_count; r++) {
        const Strands *strands = layer->runs[r].strands;
        for (uint32_t i = 0; strands && i < strands->count; i++)
            note_use(uses, strands->items[i].thread, strands->items[i].spacer);
    }
    const PlannedCrosswrap *planned = layer->crosswrap;
    for (uint32_t i = 0; planned && i < planned->strand_count; i++)
        note_use(uses, planned->strands[i].thread, planned->strands[i].spacer);
}

static const char *legend_words(Canvas *canvas, const Thread *thread, bool stays)
{
    Buffer *words = &canvas->words;
    buffer_text(words, fitted(canvas->arena, thread->name->bytes, NAME_CHARACTERS));
    if (!thread->colour_count)
        buffer_format(words, ", #%06x", (unsigned)thread->colour & 0xffffff);
    for (uint32_t i = 0; i < thread->colour_count && i < MOST_COLOURS_NAMED; i++)
        buffer_format(words, "%s#%06x", i ? " " : ", ", (unsigned)thread->colours[i] & 0xffffff);
    if (thread->colour_count) {
        buffer_text(words, thread->colour_count > MOST_COLOURS_NAMED ? " ... in " : " in ");
        put_quantity(words, canvas->units, QUANTITY_PERIOD, thread->period);
    }
    buffer_format(words, ", %s a turn%s", show_fine(canvas->arena, canvas->units, thread->pitch),
                  stays ? "" : ", spacer, taken off again");
    return take_words(canvas);
}

typedef struct Legend {
    const Thread **threads;
    const char **words;
    uint32_t count;
    double width; /* of the longest words */
} Legend;

/* In the order of declaration. */
static Legend legend_of(Canvas *canvas)
{
    const Job *job = canvas->plan->job;
    Uses uses = {.arena = canvas->arena};
    for (uint32_t p = 0; p < canvas->rod->place_count; p++)
        for (uint32_t l = 0; l < canvas->rod->places[p].layer_count; l++)
            note_uses(&uses, &canvas->rod->places[p].layers[l]);
    uint32_t count = uses.list.count;
    const double *items = uses.list.items;
    sort_numbers(uses.list.items, count);
    Legend legend = {arena_take_many(canvas->arena, count, sizeof *legend.threads),
                     arena_take_many(canvas->arena, count, sizeof *legend.words), 0, 0};
    for (uint32_t i = 0; i < count; i++) {
        uint32_t index = (uint32_t)(items[i] / 2);
        if (i + 1 < count && (uint32_t)(items[i + 1] / 2) == index) /* the last tells whether it stays */
            continue;
        const char *words = legend_words(canvas, job->threads[index], fmod(items[i], 2) != 0);
        legend.threads[legend.count] = job->threads[index];
        legend.words[legend.count++] = words;
        legend.width = fmax(legend.width, text_width(words, LETTERS_TEXT * canvas->type));
    }
    return legend;
}

/* All colours of a thread, side by side. */
static void draw_swatch(Canvas *canvas, const Thread *thread, double x, double y, double width, double height)
{
    double part = width / thread->colour_count; /* infinite where there is one colour */
    for (uint32_t i = 0; i < thread->colour_count; i++)
        draw_rectangle(canvas, x + i * part, y, width - i * part, height, thread->colours[i], NO_COLOUR);
    draw_rectangle(canvas, x, y, width, height, thread->colour_count ? NO_COLOUR : thread->colour, PALE_INK);
}

static void draw_legend(Canvas *canvas, const Legend *legend)
{
    double type = canvas->type, swatch = 6 * type, line = 4.4 * type;
    double column = swatch + 2 * type + legend->width + 4 * type;
    double room = (canvas->drawing->width - 2 * MARGIN + 4 * type) / column;
    uint32_t columns = room < 1 ? 1 : room > legend->count ? legend->count : (uint32_t)room;
    canvas->y += 5 * type;
    draw_line(canvas, MARGIN, canvas->y, canvas->drawing->width - MARGIN, canvas->y, PALE_INK, PEN_FINE);
    canvas->y += 2.5 * type;
    for (uint32_t i = 0; i < legend->count; i++) {
        double x = MARGIN + (i % columns) * column, y = canvas->y + (i / columns) * line;
        draw_swatch(canvas, legend->threads[i], x, y, swatch, 3.2 * type);
        draw_text(canvas, x + swatch + 2 * type, y + 1.6 * type + LETTERS_TEXT * type * 0.36, LETTERS_TEXT * type,
                  ALIGN_START, INK, legend->words[i]);
    }
    canvas->y += columns ? (legend->count + columns - 1) / columns * line : 0;
}

static bool rod_has_guide(const PlannedRod *rod)
{
    for (uint32_t p = 0; p < rod->place_count; p++)
        if (rod->places[p].foot >= 0)
            return true;
    return false;
}

static void draw_notes(Canvas *canvas)
{
    bool crossed = rod_has_crosswrap(canvas->rod), side = canvas->view == VIEW_SIDE;
    const struct {
        bool said;
        const char *words;
    } notes[] = {
        {true, "Numbers between wrap and ruler are turns. Thread colours are as under finish."},
        {crossed && side, "Short ticks in a crosswrap's row are the crossings nearest to you."},
        {crossed && !side,
         "Short ticks in a crosswrap's row are the crossings at 0; red numbers are its crossing lines."},
        {side && rod_has_guide(canvas->rod), "A guide's frame and ring are only sketched; its foot is to scale."},
        {!side || crossed || isfinite(canvas->facing),
         "Degrees are clockwise seen from the butt; 0 is the ring's side."},
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

static Canvas canvas_start(Arena *arena, const Plan *plan, const PlannedRod *rod, View view, double scale,
                           double facing)
{
    Canvas canvas = {.arena = arena,
                     .drawing = arena_take(arena, sizeof(Drawing)),
                     .plan = plan,
                     .rod = rod,
                     .view = view,
                     .scale = isfinite(scale) && scale > 0 ? scale : 1,
                     .shown_low = -INFINITY,
                     .shown_high = INFINITY,
                     .texture = shows_texture(rod),
                     .facing = facing,
                     .units = plan->job->bench.units};
    canvas.type = fmax(1, sqrt(canvas.scale));
    area_start(&canvas.area, arena);
    buffer_start(&canvas.words, arena);
    canvas.drawing->lines = plan->job->lines;
    canvas.drawing->title = fitted(arena, rod->rod->title->bytes, TITLE_CHARACTERS);
    return canvas;
}

Drawing *draw_rod(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale)
{
    return draw_rod_turned(arena, plan, rod, view, scale, NAN);
}

static bool is_drawn(const Canvas *canvas) { return canvas->rod->rod->blank && canvas->rod->place_count; }

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
    Canvas canvas = canvas_start(arena, plan, &plan->rods[rod], view, scale, NAN);
    Legend legend = legend_of(&canvas);
    return drawing_width(&canvas, &legend);
}

Drawing *draw_rod_turned(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale, double facing)
{
    Canvas canvas = canvas_start(arena, plan, &plan->rods[rod], view, scale, facing);
    Drawing *drawing = canvas.drawing;
    Legend legend = legend_of(&canvas);
    drawing->width = drawing_width(&canvas, &legend);
    drawing->description = text_format(arena, "%s: %s", drawing->title, subtitle(&canvas));
    ids_start(&canvas.ids, arena, canvas.rod);
    colours_start(&canvas);

    draw_rectangle(&canvas, 0, 0, drawing->width, 0, PAPER, NO_COLOUR);
    draw_titles(&canvas);
    if (is_drawn(&canvas)) {
        draw_place_views(&canvas, MARGIN + GUTTER * canvas.type);
        draw_legend(&canvas, &legend);
        draw_notes(&canvas);
    }
    drawing->height = canvas.y + MARGIN;
    drawing->shapes.items[0].points[2].y = drawing->shapes.items[0].points[3].y = drawing->height;
    return drawing;
}
