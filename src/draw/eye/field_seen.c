#include "draw/eye/field_seen.h"

#include "trade/eye.h"
#include "trade/trade.h"

#include <math.h>

/* Cells of a picture of fields; as long as they are small beside the blur nobody tells them from finer ones. */
#define MOST_CELLS 48000.0
/* Rows of cells across the rod, at least. */
#define LEAST_ROWS 8.0
/* Points that are looked at lie so close, parts of the narrowest strand. */
#define POINTS_A_STRAND 3.0

/* A layer of the places, or of those they lie on: its turns, and the strands of its crosswrap. */
typedef struct FieldLayer {
    TurnCovers covers;
    const PlannedCrosswrap *planned; /* NULL for none */
} FieldLayer;

typedef struct FieldLook {
    LightProfile blank;
    LIST_OF(FieldLayer) layers; /* the lowest first */
    bool bare;
    double facing;    /* turns */
    double narrowest; /* of the strands */
    double strands;   /* that a look at a point takes */
} FieldLook;

typedef struct SeenCells {
    double low, top;      /* where the first one begins: along the axis, and down from it */
    double along, across; /* of one */
    uint32_t columns, rows;
    Light *lights;  /* by rows: of what lies on the rod, */
    double *shares; /* times how much of the cell does */
} SeenCells;

static void include_fields(const PlannedPlace *place, FieldSpan *span)
{
    for (uint32_t i = 0; i < place->layer_count; i++) {
        const PlannedCrosswrap *planned = place->layers[i].crosswrap;
        if (!planned)
            continue;
        span->low = fmin(span->low, fmin(planned->field_start, planned->field_end));
        span->high = fmax(span->high, fmax(planned->field_start, planned->field_end));
    }
    if (place->host)
        include_fields(place->host, span);
}

FieldSpan field_span(const PlaceView *view)
{
    FieldSpan span = {INFINITY, -INFINITY};
    for (uint32_t i = 0; i < view->count; i++)
        include_fields(&view->places[i], &span);
    return span;
}

/* --- what lies at a point --- */

static void add_layers(Arena *arena, FieldLook *look, const PlannedPlace *place)
{
    for (uint32_t i = 0; i < place->layer_count; i++) {
        FieldLayer *layer = LIST_ADD(arena, &look->layers);
        *layer = (FieldLayer){layer_covers(arena, place, i, look->bare), place->layers[i].crosswrap};
        if (!layer->planned)
            continue;
        look->strands += (double)layer->planned->strand_count * layer->planned->starts;
        for (uint32_t s = 0; s < layer->planned->strand_count; s++)
            look->narrowest = fmin(look->narrowest, layer->planned->strands[s].width);
    }
}

static void add_hosts(Arena *arena, FieldLook *look, const PlannedPlace *place)
{
    if (!place->host)
        return;
    add_hosts(arena, look, place->host);
    add_layers(arena, look, place->host);
}

static FieldLook look_of(const Canvas *canvas, const PlaceView *view, double facing, bool bare)
{
    Arena *arena = canvas->arena;
    FieldLook look = {.blank = profile_of_blank(arena, canvas->rod->rod, view->low, view->high),
                      .bare = bare,
                      .facing = facing,
                      .narrowest = INFINITY,
                      .strands = 1};
    add_hosts(arena, &look, view->places);
    for (uint32_t i = 0; i < view->count; i++)
        add_layers(arena, &look, &view->places[i]);
    return look;
}

static Light strand_light(const FieldLook *look, const PlannedCrosswrap *planned, SeenStrand seen, double x)
{
    const Thread *thread = planned->strands[pass_strand(planned, seen.pass)].thread;
    if (!thread->colour_count || (look->bare && thread->has_bare))
        return thread_light(thread, look->bare);
    return light_of(thread_colour_at(thread, crosswrap_wound(planned, seen.pass, seen.leg, x)));
}

static Light light_at(const FieldLook *look, double x, double turns)
{
    Light light = look->blank.list.items[profile_at(&look->blank, x)].light;
    for (uint32_t i = 0; i < look->layers.count; i++) {
        const FieldLayer *layer = &look->layers.items[i];
        const PlannedCrosswrap *planned = layer->planned;
        SeenStrand seen;
        if (planned && (x - planned->field_start) * (x - planned->field_end) <= 0
            && crosswrap_shows(planned, x, look->facing + turns, &seen)) {
            const Thread *thread = planned->strands[pass_strand(planned, seen.pass)].thread;
            light = light_over(strand_light(look, planned, seen, x), thread->opacity, light);
        }
        const TurnCover *cover = cover_at(&layer->covers, x);
        if (cover)
            light = (Light){cover->light.red + (1 - cover->hides) * light.red,
                            cover->light.green + (1 - cover->hides) * light.green,
                            cover->light.blue + (1 - cover->hides) * light.blue};
    }
    return light;
}

/* --- cells --- */

static void add_light(Light *light, double share, Light more)
{
    light->red += share * more.red;
    light->green += share * more.green;
    light->blue += share * more.blue;
}

/* From `from` to `to` along the axis, and as far across as the skin reaches. */
static SeenCells cells_of(Arena *arena, const FieldLook *look, double from, double to, double radius, double blur,
                          double looks)
{
    double most = fmin(MOST_CELLS, fmax(looks / look->strands, 1));
    double side = fmax(blur / 2, sqrt((to - from) * 2 * radius / most));
    SeenCells cells = {.low = from, .top = -radius};
    cells.columns = (uint32_t)ceil((to - from) / side);
    cells.rows = (uint32_t)ceil(fmax(2 * radius / side, LEAST_ROWS));
    cells.along = (to - from) / cells.columns;
    cells.across = 2 * radius / cells.rows;
    size_t count = (size_t)cells.columns * cells.rows;
    cells.lights = arena_take_many(arena, count, sizeof *cells.lights);
    cells.shares = arena_take_many(arena, count, sizeof *cells.shares);
    return cells;
}

/* How many points of a cell are looked at along its side. */
static uint32_t points_along(const FieldLook *look, double side, double most)
{
    return (uint32_t)fmax(1, fmin(floor(most), ceil(side * POINTS_A_STRAND / look->narrowest)));
}

/* Of points that lie in a row along the axis, the skin's radius at each. */
typedef struct PointRow {
    uint32_t count;
    double *radii;
} PointRow;

static void look_at_cell(const FieldLook *look, SeenCells *cells, const PointRow *points, uint32_t column,
                         uint32_t row, uint32_t high)
{
    Light *light = &cells->lights[(size_t)row * cells->columns + column];
    double *share = &cells->shares[(size_t)row * cells->columns + column], part = 1.0 / points->count / high;
    for (uint32_t i = 0; i < points->count; i++) {
        double x = cells->low + (column + (i + 0.5) / points->count) * cells->along;
        for (uint32_t j = 0; j < high; j++) {
            double off = (cells->top + (row + (j + 0.5) / high) * cells->across) / points->radii[i];
            if (fabs(off) >= 1)
                continue;
            add_light(light, part, light_at(look, x, asin(off) / (2 * TRADE_PI)));
            *share += part;
        }
    }
}

static void look_at_cells(Arena *arena, const FieldLook *look, SeenCells *cells, const Outline *skin, double looks)
{
    double most = sqrt(looks / look->strands / ((double)cells->columns * cells->rows));
    uint32_t near = 0, high = points_along(look, cells->across, most);
    PointRow points = {.count = points_along(look, cells->along, most)};
    points.radii = arena_take_many(arena, points.count, sizeof *points.radii);
    for (uint32_t column = 0; column < cells->columns; column++) {
        for (uint32_t i = 0; i < points.count; i++)
            points.radii[i] =
                outline_at(skin, cells->low + (column + (i + 0.5) / points.count) * cells->along, &near).down;
        for (uint32_t row = 0; row < cells->rows; row++)
            look_at_cell(look, cells, &points, column, row, high);
    }
}

/* --- the blur --- */

/* One line of cells, each so far from the next in memory. */
static void spread_line(Light *lights, double *shares, size_t apart, uint32_t count, const double *weights,
                        uint32_t reach, Light *line, double *parts)
{
    for (uint32_t i = 0; i < count; i++) {
        uint32_t first = i > reach ? i - reach : 0, end = i + reach + 1 < count ? i + reach + 1 : count;
        line[i] = (Light){0, 0, 0};
        parts[i] = 0;
        for (uint32_t j = first; j < end; j++) {
            double weight = weights[i > j ? i - j : j - i];
            add_light(&line[i], weight, lights[j * apart]);
            parts[i] += weight * shares[j * apart];
        }
    }
    for (uint32_t i = 0; i < count; i++) {
        lights[i * apart] = line[i];
        shares[i * apart] = parts[i];
    }
}

/* How much of the light that is seen in a cell's middle comes from each of the next ones; as many as count. */
static const double *weights_of(Arena *arena, double blur, double side, uint32_t *reach)
{
    *reach = (uint32_t)ceil(SEEN_WITHIN * blur / side);
    double *weights = arena_take_many(arena, (size_t)*reach + 1, sizeof *weights);
    for (uint32_t i = 0; i <= *reach; i++)
        weights[i] = eye_share(blur, 0, (i - 0.5) * side, (i + 0.5) * side);
    return weights;
}

static void spread(Arena *arena, SeenCells *cells, double blur)
{
    size_t most = cells->columns > cells->rows ? cells->columns : cells->rows;
    Light *line = arena_take_many(arena, most, sizeof *line);
    double *parts = arena_take_many(arena, most, sizeof *parts);
    uint32_t reach;
    const double *weights = weights_of(arena, blur, cells->along, &reach);
    for (uint32_t row = 0; row < cells->rows; row++) {
        size_t first = (size_t)row * cells->columns;
        spread_line(&cells->lights[first], &cells->shares[first], 1, cells->columns, weights, reach, line, parts);
    }
    weights = weights_of(arena, blur, cells->across, &reach);
    for (uint32_t column = 0; column < cells->columns; column++)
        spread_line(&cells->lights[column], &cells->shares[column], cells->columns, cells->rows, weights, reach,
                    line, parts);
}

/* --- the picture --- */

static uint32_t cell_colour(const SeenCells *cells, uint32_t column, uint32_t row)
{
    size_t at = (size_t)row * cells->columns + column;
    double share = cells->shares[at];
    Light light = cells->lights[at];
    return share > 0 ? colour_of((Light){light.red / share, light.green / share, light.blue / share}) : NO_COLOUR;
}

/* Each goes on a little below what is painted next. */
static void draw_row(Canvas *canvas, const Frame *frame, const SeenCells *cells, FieldSpan span, uint32_t row)
{
    double y = frame->axis + (cells->top + row * cells->across) * frame->across, right = frame_x(frame, span.high);
    for (uint32_t from = 0, to; from < cells->columns; from = to) {
        uint32_t colour = cell_colour(cells, from, row);
        for (to = from + 1; to < cells->columns && cell_colour(cells, to, row) == colour;)
            to++;
        double low = fmax(cells->low + from * cells->along, span.low);
        double high = fmin(cells->low + to * cells->along, span.high);
        if (low < high && colour != NO_COLOUR)
            draw_rectangle(canvas, frame_x(frame, low), y,
                           fmin((high - low) * frame->scale + LAP, right - frame_x(frame, low)),
                           cells->across * frame->across + LAP, colour, NO_COLOUR);
    }
}

void draw_field_seen(Canvas *canvas, const PlaceView *view, const Frame *frame, const Outline *skin, double blur,
                     FieldSpan span, bool bare, double looks)
{
    Arena *arena = canvas->arena;
    FieldLook look = look_of(canvas, view, frame->facing, bare);
    double radius = 0, margin = SEEN_WITHIN * blur;
    for (uint32_t i = 0; i < skin->count; i++)
        radius = fmax(radius, skin->edges[i].down);
    SeenCells cells = cells_of(arena, &look, span.low - margin, span.high + margin, radius, blur, looks);
    look_at_cells(arena, &look, &cells, skin, looks);
    spread(arena, &cells, blur);
    for (uint32_t row = 0; row < cells.rows; row++)
        draw_row(canvas, frame, &cells, span, row);
}
