/* The legend of a picture: the threads that the rod uses, each with its colours. */
#include "base/sort.h"
#include "draw/canvas.h"

#include <math.h>

enum { NAME_CHARACTERS = 40, MOST_COLOURS_NAMED = 4 };

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
    buffer_text(words, fitted(canvas->arena, name_read(canvas->arena, thread->name->bytes), NAME_CHARACTERS));
    if (!thread->colour_count)
        buffer_format(words, ", #%06x", (unsigned)thread->colour & 0xffffff);
    for (uint32_t i = 0; i < thread->colour_count && i < MOST_COLOURS_NAMED; i++)
        buffer_format(words, "%s#%06x", i ? " " : ", ", (unsigned)thread->colours[i] & 0xffffff);
    if (thread->colour_count) {
        buffer_text(words, thread->colour_count > MOST_COLOURS_NAMED ? " ... in " : " in ");
        put_quantity(words, canvas->units, QUANTITY_PERIOD, thread->period);
    }
    if (thread->opacity < 1)
        buffer_format(words, ", opacity %s %%", show_number(canvas->arena, thread->opacity * 100, 1));
    buffer_format(words, ", %s a turn%s", show_fine(canvas->arena, canvas->units, thread->pitch),
                  stays ? "" : ", spacer, taken off again");
    return take_words(canvas);
}

Legend legend_make(Canvas *canvas)
{
    const Job *job = canvas->plan->job;
    Uses uses = {.arena = canvas->arena};
    for (uint32_t p = 0; p < canvas->rod->place_count; p++)
        for (uint32_t l = 0; is_shown(canvas, &canvas->rod->places[p]) && l < canvas->rod->places[p].layer_count;
             l++)
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

void draw_swatch(Canvas *canvas, const Thread *thread, double x, double y, double width, double height)
{
    double part = width / thread->colour_count; /* infinite where there is one colour */
    for (uint32_t i = 0; i < thread->colour_count; i++)
        draw_rectangle(canvas, x + i * part, y, width - i * part, height, thread->colours[i], NO_COLOUR);
    draw_rectangle(canvas, x, y, width, height, thread->colour_count ? NO_COLOUR : thread->colour, PALE_INK);
}

void draw_legend(Canvas *canvas, const Legend *legend)
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
