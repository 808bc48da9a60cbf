/* The whole sheet: title, panels, legend. */
#include "draw/drawing.h"

#include "draw/variegated.h"

#include <math.h>

/* A sheet is never narrower than a heading and a legend look well in, page mm at true scale. */
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
static const char *scale_words(Sheet *sheet)
{
    if (sheet->scale == 1)
        return "true size";
    return text_format(sheet->arena, "%s times true size", show_number(sheet->arena, sheet->scale, 3));
}

static const char *view_words(View view)
{
    return view == VIEW_SIDE ? "side view" : "surface unrolled, cut open opposite the ring";
}

static const char *name_of(Sheet *sheet, const Text *text)
{
    return text ? fitted(sheet->arena, text->bytes, TITLE_CHARACTERS) : "";
}

/* What a printed sheet must say of itself, below the rod's title. */
static const char *subtitle(Sheet *sheet)
{
    return text_format(sheet->arena, "%s, %s; butt on the left, tip on the right", view_words(sheet->view),
                       scale_words(sheet));
}

static const char *origin(Sheet *sheet)
{
    const Job *job = sheet->plan->job;
    Buffer *words = &sheet->words;
    if (job->about.title) {
        buffer_text(words, name_of(sheet, job->about.title));
        if (job->about.author)
            buffer_format(words, " by %s", name_of(sheet, job->about.author));
        buffer_text(words, "; ");
    }
    buffer_text(words, "pattern ");
    for (int shift = 48; shift > 0; shift -= 16) /* as on every other sheet: three groups of four */
        buffer_format(words, "%s%04x", shift == 48 ? "" : "-", (unsigned)(job->pattern_hash >> shift & 0xffff));
    return take_words(sheet);
}

static void draw_titles(Sheet *sheet)
{
    double type = sheet->type;
    sheet->y = MARGIN + LETTERS_TITLE * type * 0.8;
    draw_text(sheet, MARGIN, sheet->y, LETTERS_TITLE * type, ALIGN_START, INK, sheet->drawing->title);
    sheet->y += LETTERS_TEXT * type * 1.7;
    draw_text(sheet, MARGIN, sheet->y, LETTERS_TEXT * type, ALIGN_START, GREY_INK, subtitle(sheet));
    sheet->y += LETTERS_TEXT * type * 1.4;
    draw_text(sheet, MARGIN, sheet->y, LETTERS_TEXT * type, ALIGN_START, GREY_INK, origin(sheet));
}

static double titles_width(Sheet *sheet)
{
    double title = text_width(sheet->drawing->title, LETTERS_TITLE * sheet->type);
    double below = fmax(text_width(subtitle(sheet), LETTERS_TEXT * sheet->type),
                        text_width(origin(sheet), LETTERS_TEXT * sheet->type));
    return fmax(fmax(title, below), NARROWEST * sheet->type);
}

/* How a thread is used: bit 0 as a spacer, bit 1 to stay. */
enum { USED_AS_SPACER = 1, USED_TO_STAY = 2 };

static void note_uses(unsigned char *uses, const PlannedLayer *layer)
{
    for (uint32_t r = 0; r < layer->run_count; r++) {
        const Strands *strands = layer->runs[r].strands;
        for (uint32_t i = 0; strands && i < strands->count; i++)
            uses[strands->items[i].thread->index] |= strands->items[i].spacer ? USED_AS_SPACER : USED_TO_STAY;
    }
    const PlannedCrosswrap *planned = layer->crosswrap;
    for (uint32_t i = 0; planned && i < planned->strand_count; i++)
        uses[planned->strands[i].thread->index] |= planned->strands[i].spacer ? USED_AS_SPACER : USED_TO_STAY;
}

static const char *legend_words(Sheet *sheet, const Thread *thread, unsigned uses)
{
    Buffer *words = &sheet->words;
    buffer_text(words, fitted(sheet->arena, thread->name->bytes, NAME_CHARACTERS));
    if (!thread->colour_count)
        buffer_format(words, ", #%06x", (unsigned)thread->colour & 0xffffff);
    for (uint32_t i = 0; i < thread->colour_count && i < MOST_COLOURS_NAMED; i++)
        buffer_format(words, "%s#%06x", i ? " " : ", ", (unsigned)thread->colours[i] & 0xffffff);
    if (thread->colour_count) {
        buffer_text(words, thread->colour_count > MOST_COLOURS_NAMED ? " ... in " : " in ");
        put_length(words, sheet->units, thread->period);
    }
    buffer_format(words, ", %s a turn%s", show_fine(sheet->arena, sheet->units, thread->pitch),
                  uses == USED_AS_SPACER ? ", spacer, taken off again" : "");
    return take_words(sheet);
}

typedef struct Legend {
    const Thread **threads;
    const char **words;
    uint32_t count;
    double width; /* of the longest words */
} Legend;

static Legend legend_of(Sheet *sheet)
{
    const Job *job = sheet->plan->job;
    unsigned char *uses = arena_take(sheet->arena, job->thread_count);
    for (uint32_t p = 0; p < sheet->rod->place_count; p++)
        for (uint32_t l = 0; l < sheet->rod->places[p].layer_count; l++)
            note_uses(uses, &sheet->rod->places[p].layers[l]);
    Legend legend = {arena_take_many(sheet->arena, job->thread_count, sizeof *legend.threads),
                     arena_take_many(sheet->arena, job->thread_count, sizeof *legend.words), 0, 0};
    for (uint32_t i = 0; i < job->thread_count; i++) {
        if (!uses[i])
            continue;
        const char *words = legend_words(sheet, job->threads[i], uses[i]);
        legend.threads[legend.count] = job->threads[i];
        legend.words[legend.count++] = words;
        legend.width = fmax(legend.width, text_width(words, LETTERS_TEXT * sheet->type));
    }
    return legend;
}

/* All colours of a thread, side by side. */
static void draw_swatch(Sheet *sheet, const Thread *thread, double x, double y, double width, double height)
{
    double part = width / thread->colour_count; /* infinite where there is one colour */
    for (uint32_t i = 0; i < thread->colour_count; i++)
        draw_rectangle(sheet, x + i * part, y, width - i * part, height, thread->colours[i], NO_COLOUR);
    draw_rectangle(sheet, x, y, width, height, thread->colour_count ? NO_COLOUR : thread->colour, PALE_INK);
}

static void draw_legend(Sheet *sheet, const Legend *legend)
{
    double type = sheet->type, swatch = 6 * type, line = 4.4 * type;
    double column = swatch + 2 * type + legend->width + 4 * type;
    double room = (sheet->drawing->width - 2 * MARGIN + 4 * type) / column;
    uint32_t columns = room < 1 ? 1 : room > legend->count ? legend->count : (uint32_t)room;
    sheet->y += 5 * type;
    draw_line(sheet, MARGIN, sheet->y, sheet->drawing->width - MARGIN, sheet->y, PALE_INK, PEN_FINE);
    sheet->y += 2.5 * type;
    for (uint32_t i = 0; i < legend->count; i++) {
        double x = MARGIN + (i % columns) * column, y = sheet->y + (i / columns) * line;
        draw_swatch(sheet, legend->threads[i], x, y, swatch, 3.2 * type);
        draw_text(sheet, x + swatch + 2 * type, y + 1.6 * type + LETTERS_TEXT * type * 0.36, LETTERS_TEXT * type,
                  ALIGN_START, INK, legend->words[i]);
    }
    sheet->y += columns ? (legend->count + columns - 1) / columns * line : 0;
}

static void draw_notes(Sheet *sheet)
{
    bool crossed = rod_has_crosswrap(sheet->rod), side = sheet->view == VIEW_SIDE;
    const struct {
        bool said;
        const char *words;
    } notes[] = {
        {true, "Numbers between wrap and ruler are turns. Thread colours are as under finish."},
        {crossed && side,
         "Short ticks in a crosswrap's row are the crossings on the line nearest to what faces you."},
        {crossed && !side,
         "Short ticks in a crosswrap's row are the crossings on the line at 0; red numbers are its lines."},
        {side, "A guide's frame and ring are only sketched; its foot is to scale."},
        {!side || crossed || isfinite(sheet->facing),
         "Clock angles in degrees, clockwise seen from the butt; 0 is the ring's side."},
        {sheet->blended,
         "Threads of several colours are drawn in their mean: their changes are too many to show."},
    };
    double line = LETTERS_SMALL * sheet->type * 1.5;
    for (size_t i = 0; i < sizeof notes / sizeof *notes; i++) {
        if (!notes[i].said)
            continue;
        sheet->y += line;
        draw_text(sheet, MARGIN, sheet->y, LETTERS_SMALL * sheet->type, ALIGN_START, GREY_INK, notes[i].words);
    }
}

static Sheet sheet_start(Arena *arena, const Plan *plan, const PlannedRod *rod, View view, double scale,
                         double facing)
{
    Sheet sheet = {.arena = arena,
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
    sheet.type = fmax(1, sqrt(sheet.scale));
    sheet.lines = line_map_make(arena, plan->job->sources);
    ids_start(&sheet.ids, arena, rod);
    colours_start(&sheet);
    buffer_start(&sheet.words, arena);
    sheet.drawing->sources = plan->job->sources;
    sheet.drawing->title = fitted(arena, rod->rod->title->bytes, TITLE_CHARACTERS);
    return sheet;
}

Drawing *draw_rod(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale)
{
    return draw_rod_turned(arena, plan, rod, view, scale, NAN);
}

Drawing *draw_rod_turned(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale, double facing)
{
    Sheet sheet = sheet_start(arena, plan, &plan->rods[rod], view, scale, facing);
    Drawing *drawing = sheet.drawing;
    bool drawn = sheet.rod->rod->blank && sheet.rod->place_count;
    Legend legend = legend_of(&sheet);
    double gutter = GUTTER * sheet.type, width = fmax(titles_width(&sheet), legend.width + 8 * sheet.type);
    if (drawn)
        width = fmax(width, fmax(panels_width(&sheet) + 2 * gutter, headings_width(&sheet)));
    drawing->width = width + 2 * MARGIN;
    drawing->description = text_format(arena, "%s: %s", drawing->title, subtitle(&sheet));

    draw_rectangle(&sheet, 0, 0, drawing->width, 0, PAPER, NO_COLOUR);
    draw_titles(&sheet);
    if (drawn) {
        draw_panels(&sheet, MARGIN + gutter);
        draw_legend(&sheet, &legend);
        draw_notes(&sheet);
    }
    drawing->height = sheet.y + MARGIN;
    drawing->shapes.items[0].points[2].y = drawing->shapes.items[0].points[3].y = drawing->height;
    return drawing;
}
