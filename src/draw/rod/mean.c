#include "draw/rod/mean.h"

#include "base/whole.h"

#include <math.h>
#include <string.h>

/* Each cell is reckoned in so many parts, so that what lies below a layer's end in it is taken there alone. */
enum { PARTS = 8 };

Cells cells_make(Arena *arena, const Frame *frame, double low, double high, double pixel)
{
    double first = whole_below(frame_x(frame, low) / pixel), end = whole_above(frame_x(frame, high) / pixel);
    Cells cells = {.arena = arena,
                   .low = frame->low + (first * pixel - frame->left) / frame->scale,
                   .step = pixel / frame->scale,
                   .count = end > first ? (uint32_t)(end - first) : 1};
    size_t parts = (size_t)cells.count * PARTS;
    cells.parts = arena_take_many(arena, parts, sizeof *cells.parts);
    cells.layer = arena_take_many(arena, parts, sizeof *cells.layer);
    cells.wound = arena_take_many(arena, cells.count, 1);
    return cells;
}

void cells_clear(Cells *cells) { memset(cells->wound, 0, cells->count); }

static void add_light(Light *light, double share, Light more)
{
    light->red += share * more.red;
    light->green += share * more.green;
    light->blue += share * more.blue;
}

/* What a turn shows, spacers left out. */
static Veil turn_of(const Strands *strands)
{
    Veil turn = {{0, 0, 0}, 0};
    for (uint32_t i = 0; i < strands->count; i++) {
        const Thread *thread = strands->items[i].thread;
        double share = strands->items[i].spacer ? 0 : thread->pitch / strands->pitch * thread->opacity;
        turn.hides += share;
        add_light(&turn.light, share, light_of(thread->colour));
    }
    return turn;
}

typedef struct CellParts {
    size_t first, end;
} CellParts;

/* The parts that a stretch of the axis touches. */
static CellParts parts_of(const Cells *cells, double one, double other)
{
    double size = cells->step / PARTS, most = (double)cells->count * PARTS;
    double from = floor((fmin(one, other) - cells->low) / size), to = ceil((fmax(one, other) - cells->low) / size);
    return (CellParts){(size_t)fmin(fmax(from, 0), most), (size_t)fmin(fmax(to, 0), most)};
}

static void wind_run(Cells *cells, const Run *run)
{
    Veil turn = turn_of(run->strands);
    double size = cells->step / PARTS;
    double from = (fmin(run->start, run->end) - cells->low) / size;
    double to = (fmax(run->start, run->end) - cells->low) / size;
    CellParts parts = parts_of(cells, run->start, run->end);
    for (size_t i = parts.first; i < parts.end; i++) {
        double share = fmin(to, (double)i + 1) - fmax(from, (double)i);
        cells->layer[i].hides += share * turn.hides;
        add_light(&cells->layer[i].light, share, turn.light);
    }
}

void cells_lay(Cells *cells, double low, double high, uint32_t colour)
{
    double size = cells->step / PARTS;
    double begin = (low - cells->low) / size, end = (high - cells->low) / size;
    Light light = light_of(colour);
    CellParts parts = parts_of(cells, low, high);
    for (size_t i = parts.first; low < high && i < parts.end; i++) {
        double share = fmin(end, (double)i + 1) - fmax(begin, (double)i);
        Light mixed = {0, 0, 0};
        if (share < 1) { /* at the ends; most are covered whole */
            add_light(&mixed, share, light);
            add_light(&mixed, 1 - share, cells->parts[i]);
        }
        cells->parts[i] = share < 1 ? mixed : light;
    }
}

void cells_wind(Cells *cells, const PlannedLayer *layer)
{
    if (!layer->run_count)
        return;
    for (uint32_t i = 0; i < layer->run_count; i++)
        if (layer->runs[i].strands)
            wind_run(cells, &layer->runs[i]);
    CellParts parts = parts_of(cells, layer->runs[0].start, layer->runs[layer->run_count - 1].end);
    for (size_t i = parts.first; i < parts.end; i++) {
        Veil *veil = &cells->layer[i];
        if (veil->hides <= 0)
            continue;
        Light below = cells->parts[i];
        cells->parts[i] = veil->light;
        add_light(&cells->parts[i], 1 - veil->hides, below);
        cells->wound[i / PARTS] = 1;
        *veil = (Veil){{0, 0, 0}, 0};
    }
}

Light cells_light(const Cells *cells, double x)
{
    double part = (x - cells->low) / cells->step * PARTS;
    return cells->parts[(size_t)fmin(fmax(part, 0), (double)cells->count * PARTS - 1)];
}

uint32_t cell_colour(const Cells *cells, uint32_t cell)
{
    Light mean = {0, 0, 0};
    for (size_t i = 0; i < PARTS; i++)
        add_light(&mean, 1.0 / PARTS, cells->parts[(size_t)cell * PARTS + i]);
    return colour_of(mean);
}

bool turns_are_fine(const PlannedPlace *place, double scale, double pixel)
{
    for (uint32_t l = 0; l < place->layer_count; l++)
        for (uint32_t r = 0; r < place->layers[l].run_count; r++) {
            const Run *run = &place->layers[l].runs[r];
            if (run->strands && run->pitch * scale < pixel)
                return true;
        }
    return false;
}

static bool is_seen_through(const PlannedLayer *layer)
{
    for (uint32_t r = 0; r < layer->run_count; r++)
        for (uint32_t i = 0; layer->runs[r].strands && i < layer->runs[r].strands->count; i++)
            if (layer->runs[r].strands->items[i].thread->opacity < 1)
                return true;
    return false;
}

bool shows_crosswrap_below(const PlannedPlace *place)
{
    bool crossed = place->host != NULL;
    for (uint32_t l = 0; l < place->layer_count; l++) {
        if (crossed && is_seen_through(&place->layers[l]))
            return true;
        crossed |= place->layers[l].crosswrap != NULL;
    }
    return false;
}
