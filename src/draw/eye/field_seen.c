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
    Light *lights;                   /* of its strands; of variegated ones the mean */
} FieldLayer;

typedef struct FieldLook {
    LightProfile blank;
    LIST_OF(FieldLayer) layers; /* the lowest first */
    bool bare;
    double facing;    /* turns */
    double narrowest; /* of the strands */
    double strands;   /* that a look at a point takes */
} FieldLook;

/* What lies on the rod in a cell: the sum of its light, and how much of the cell that is. */
typedef struct SeenCell {
    Light light;
    double share;
} SeenCell;

typedef struct SeenCells {
    double low, top;      /* where the first one begins: along the axis, and down from it */
    double along, across; /* of one */
    uint32_t columns, rows;
    SeenCell *list; /* by rows */
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

static void add_strands(Arena *arena, FieldLook *look, FieldLayer *layer)
{
    const PlannedCrosswrap *planned = layer->planned;
    look->strands += (double)planned->strand_count * planned->starts;
    layer->lights = arena_take_many(arena, planned->strand_count, sizeof *layer->lights);
    for (uint32_t i = 0; i < planned->strand_count; i++) {
        look->narrowest = fmin(look->narrowest, planned->strands[i].width);
        layer->lights[i] = thread_light(planned->strands[i].thread, look->bare);
    }
}

static void add_layers(Arena *arena, FieldLook *look, const PlannedPlace *place)
{
    for (uint32_t i = 0; i < place->layer_count; i++) {
        FieldLayer *layer = LIST_ADD(arena, &look->layers);
        *layer = (FieldLayer){layer_covers(arena, place, i, look->bare), place->layers[i].crosswrap, NULL};
        if (layer->planned)
            add_strands(arena, look, layer);
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

/* What of a layer is the same all round the rod. */
typedef struct LayerSlice {
    const FieldLayer *layer;
    const TurnCover *cover;   /* NULL for none */
    CrosswrapSlice crosswrap; /* none of them where `planned` is NULL */
} LayerSlice;

/* What is the same for all points at one place along the axis. */
typedef struct LookSlice {
    double x, radius; /* of the skin */
    Light blank;
    LayerSlice *layers;
} LookSlice;

static void look_from(const FieldLook *look, LookSlice *slice, double x)
{
    slice->x = x;
    slice->blank = look->blank.list.items[profile_at(&look->blank, x)].light;
    for (uint32_t i = 0; i < look->layers.count; i++) {
        const FieldLayer *layer = &look->layers.items[i];
        const PlannedCrosswrap *planned = layer->planned;
        bool within = planned && (x - planned->field_start) * (x - planned->field_end) <= 0;
        slice->layers[i] = (LayerSlice){.layer = layer, .cover = cover_at(&layer->covers, x)};
        if (within)
            slice->layers[i].crosswrap = crosswrap_slice(planned, x);
    }
}

static Light strand_light(const FieldLook *look, const FieldLayer *layer, SeenStrand seen, double x)
{
    uint32_t strand = pass_strand(layer->planned, seen.pass);
    const Thread *thread = layer->planned->strands[strand].thread;
    if (!thread->colour_count || (look->bare && thread->has_bare))
        return layer->lights[strand];
    return light_of(thread_colour_at(thread, crosswrap_wound(layer->planned, seen.pass, seen.leg, x)));
}

static Light light_at(const FieldLook *look, const LookSlice *slice, double turns)
{
    Light light = slice->blank;
    for (uint32_t i = 0; i < look->layers.count; i++) {
        const LayerSlice *here = &slice->layers[i];
        const PlannedCrosswrap *planned = here->crosswrap.planned;
        SeenStrand seen;
        if (planned && slice_shows(&here->crosswrap, look->facing + turns, &seen)) {
            const Thread *thread = planned->strands[pass_strand(planned, seen.pass)].thread;
            light = light_over(strand_light(look, here->layer, seen, slice->x), thread->opacity, light);
        }
        const TurnCover *cover = here->cover;
        if (cover)
            light = (Light){cover->light.red + (1 - cover->hides) * light.red,
                            cover->light.green + (1 - cover->hides) * light.green,
                            cover->light.blue + (1 - cover->hides) * light.blue};
    }
    return light;
}

/* --- cells --- */

static void add_cell(SeenCell *cell, double part, SeenCell more)
{
    cell->light.red += part * more.light.red;
    cell->light.green += part * more.light.green;
    cell->light.blue += part * more.light.blue;
    cell->share += part * more.share;
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
    cells.list = arena_take_many(arena, (size_t)cells.columns * cells.rows, sizeof *cells.list);
    return cells;
}

/* How many points of a cell are looked at along its side. */
static uint32_t points_along(const FieldLook *look, double side, double most)
{
    return (uint32_t)fmax(1, fmin(floor(most), ceil(side * POINTS_A_STRAND / look->narrowest)));
}

/* From so many places within the column, so many points of the cell at each. */
static void look_at_cell(const FieldLook *look, SeenCells *cells, const LookSlice *slices, uint32_t wide,
                         uint32_t high, uint32_t column, uint32_t row)
{
    SeenCell *cell = &cells->list[(size_t)row * cells->columns + column];
    double part = 1.0 / wide / high;
    for (uint32_t i = 0; i < wide; i++) {
        for (uint32_t j = 0; j < high; j++) {
            double off = (cells->top + (row + (j + 0.5) / high) * cells->across) / slices[i].radius;
            if (fabs(off) >= 1)
                continue;
            add_cell(cell, part, (SeenCell){light_at(look, &slices[i], asin(off) / (2 * TRADE_PI)), 1});
        }
    }
}

static void look_at_cells(Arena *arena, const FieldLook *look, SeenCells *cells, const Outline *skin, double looks)
{
    double most = sqrt(looks / look->strands / ((double)cells->columns * cells->rows));
    uint32_t near = 0, high = points_along(look, cells->across, most);
    uint32_t wide = points_along(look, cells->along, most);
    LookSlice *slices = arena_take_many(arena, wide, sizeof *slices);
    for (uint32_t i = 0; i < wide; i++)
        slices[i].layers = arena_take_many(arena, look->layers.count, sizeof *slices[i].layers);
    for (uint32_t column = 0; column < cells->columns; column++) {
        for (uint32_t i = 0; i < wide; i++) {
            look_from(look, &slices[i], cells->low + (column + (i + 0.5) / wide) * cells->along);
            slices[i].radius = outline_at(skin, slices[i].x, &near).down;
        }
        for (uint32_t row = 0; row < cells->rows; row++)
            look_at_cell(look, cells, slices, wide, high, column, row);
    }
}

/* --- the blur --- */

/* One line of cells, each so far from the next in memory; weights: of the cells before, the cell and those behind.
 */
static void spread_line(SeenCell *cells, size_t apart, uint32_t count, const double *weights, uint32_t reach,
                        SeenCell *line)
{
    for (uint32_t i = 0; i < count; i++) {
        uint32_t first = i > reach ? i - reach : 0, end = i + reach + 1 < count ? i + reach + 1 : count;
        const double *weight = &weights[first + reach - i];
        SeenCell sum = {{0, 0, 0}, 0};
        for (const SeenCell *cell = &cells[first * apart]; first < end; first++, cell += apart)
            add_cell(&sum, *weight++, *cell);
        line[i] = sum;
    }
    for (uint32_t i = 0; i < count; i++)
        cells[i * apart] = line[i];
}

/* How much of the light that is seen in a cell's middle comes from each of the cells around, as far as they count.
 */
static const double *weights_of(Arena *arena, double blur, double side, uint32_t *reach)
{
    *reach = (uint32_t)ceil(SEEN_WITHIN * blur / side);
    double *weights = arena_take_many(arena, (size_t)*reach * 2 + 1, sizeof *weights), *middle = weights + *reach;
    for (uint32_t i = 0; i <= *reach; i++)
        middle[i] = *(middle - i) = eye_share(blur, 0, (i - 0.5) * side, (i + 0.5) * side);
    return weights;
}

static void spread(Arena *arena, SeenCells *cells, double blur)
{
    size_t most = cells->columns > cells->rows ? cells->columns : cells->rows;
    SeenCell *line = arena_take_many(arena, most, sizeof *line);
    uint32_t reach;
    const double *weights = weights_of(arena, blur, cells->along, &reach);
    for (uint32_t row = 0; row < cells->rows; row++)
        spread_line(&cells->list[(size_t)row * cells->columns], 1, cells->columns, weights, reach, line);
    weights = weights_of(arena, blur, cells->across, &reach);
    for (uint32_t column = 0; column < cells->columns; column++)
        spread_line(&cells->list[column], cells->columns, cells->rows, weights, reach, line);
}

/* --- the picture --- */

static uint32_t cell_colour(const SeenCells *cells, uint32_t column, uint32_t row)
{
    SeenCell cell = cells->list[(size_t)row * cells->columns + column];
    Light light = cell.light;
    return cell.share > 0
               ? colour_of((Light){light.red / cell.share, light.green / cell.share, light.blue / cell.share})
               : NO_COLOUR;
}

/* Each goes on a little below what is painted next. */
static void draw_row(Canvas *canvas, const Frame *frame, const SeenCells *cells, FieldSpan span, uint32_t row)
{
    double y = frame->axis + (cells->top + row * cells->across) * frame->across, right = frame_x(frame, span.high);
    for (uint32_t from = 0, to, colour = cell_colour(cells, 0, row), next; from < cells->columns;
         from = to, colour = next) {
        next = NO_COLOUR;
        for (to = from + 1; to < cells->columns && (next = cell_colour(cells, to, row)) == colour;)
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
