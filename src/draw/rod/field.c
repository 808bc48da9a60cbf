#include "draw/rod/field.h"

#include "base/whole.h"
#include "trade/trade.h"

#include <math.h>

/* Points of a pixel that are looked at, each way. */
enum { POINTS = 3 };
/* Points times strands that a field may take: about a second's work for the largest picture. */
#define MOST_LOOKS 4e6

typedef struct FieldView {
    const Frame *frame;
    const PlannedCrosswrap *planned;
    const Cells *cells;
    Light *lights;  /* of the bundle's strands */
    uint32_t first; /* cell */
    uint32_t columns, rows;
    double top, pixel; /* page y of the first row of pixels; mm of the page */
    double low, high;  /* along the axis */
    double *radius;    /* page mm at each cell's lower end, and behind the last */
    uint32_t *colours; /* by rows; NO_COLOUR beyond the edges */
} FieldView;

bool field_is_fine(const PlannedCrosswrap *planned, const Frame *frame, double pixel)
{
    double narrowest = INFINITY;
    for (uint32_t i = 0; i < planned->strand_count; i++) {
        const Thread *thread = planned->strands[i].thread;
        if (thread->colour_count || thread->opacity < 1)
            return false;
        narrowest = fmin(narrowest, planned->strands[i].width);
    }
    double along = crosswrap_field(planned) * frame->scale / pixel * POINTS;
    double across = crosswrap_diameter(planned, planned->low) * frame->across / pixel * POINTS;
    return narrowest * frame->scale < pixel
           && along * across * planned->strand_count * planned->starts <= MOST_LOOKS;
}

/* The light of a point, so far round from the picture's middle. */
static Light light_at(const FieldView *field, const CrosswrapSlice *slice, double x, double turns)
{
    SeenStrand seen;
    if (slice_shows(slice, field->frame->facing + turns, &seen))
        return field->lights[pass_strand(field->planned, seen.pass)];
    return cells_light(field->cells, x);
}

/* A column of pixels. */
typedef struct PixelColumn {
    double radius; /* of the blank on the page */
    double x[POINTS];
    CrosswrapSlice slices[POINTS];
} PixelColumn;

static PixelColumn pixel_column(const FieldView *field, uint32_t column)
{
    PixelColumn pixels = {.radius = (field->radius[column] + field->radius[column + 1]) / 2};
    for (int j = 0; j < POINTS; j++) {
        double x = field->cells->low + (field->first + column + (j + 0.5) / POINTS) * field->cells->step;
        pixels.x[j] = fmin(fmax(x, field->low), field->high);
        pixels.slices[j] = crosswrap_slice(field->planned, pixels.x[j]);
    }
    return pixels;
}

/* Points beyond the blank's edge do not count. */
static uint32_t pixel_colour(const FieldView *field, const PixelColumn *column, uint32_t row)
{
    Light sum = {0, 0, 0};
    uint32_t points = 0;
    for (int i = 0; i < POINTS; i++) {
        double y = field->top + (row + (i + 0.5) / POINTS) * field->pixel;
        double off = (y - field->frame->axis) / column->radius;
        if (!(fabs(off) < 1))
            continue;
        double turns = asin(off) / (2 * TRADE_PI);
        for (int j = 0; j < POINTS; j++) {
            Light light = light_at(field, &column->slices[j], column->x[j], turns);
            sum = (Light){sum.red + light.red, sum.green + light.green, sum.blue + light.blue};
            points++;
        }
    }
    if (!points)
        return NO_COLOUR;
    return colour_of((Light){sum.red / points, sum.green / points, sum.blue / points});
}

static double column_x(const FieldView *field, uint32_t column)
{
    double x = field->cells->low + (field->first + column) * field->cells->step;
    return fmin(fmax(x, field->low), field->high);
}

/* Neighbours of one colour in a row, as far as they lie on the rod. */
static void draw_pixels(Canvas *canvas, const FieldView *field, uint32_t row, uint32_t from, uint32_t to)
{
    double y = field->top + row * field->pixel, axis = field->frame->axis;
    uint32_t colour = field->colours[(size_t)row * field->columns + from];
    Point points[4];
    for (int i = 0; i < 4; i++) {
        uint32_t column = i == 1 || i == 2 ? to : from;
        double edge = field->radius[column], x = frame_x(field->frame, column_x(field, column));
        points[i] = (Point){x, i < 2 ? fmax(y, axis - edge) : fmin(y + field->pixel, axis + edge)};
    }
    draw_polygon(canvas, points, 4, colour, SHADE_FLAT);
}

static void look_at_pixels(FieldView *field)
{
    for (uint32_t column = 0; column < field->columns; column++) {
        PixelColumn pixels = pixel_column(field, column);
        for (uint32_t row = 0; row < field->rows; row++)
            field->colours[(size_t)row * field->columns + column] = pixel_colour(field, &pixels, row);
    }
}

static void measure_field(FieldView *field, Canvas *canvas, const Surface *surface, const OutlineCut *cut)
{
    double widest = 0;
    field->radius = arena_take_many(canvas->arena, (size_t)field->columns + 1, sizeof *field->radius);
    for (uint32_t i = 0; i <= field->columns; i++) {
        double x = column_x(field, i), inside = column_x(field, i < field->columns ? i + 1 : i - 1);
        field->radius[i] = surface_edge(surface, cut, x, (x + inside) / 2).down * field->frame->across;
        widest = fmax(widest, field->radius[i]);
    }
    double axis = field->frame->axis, first = floor((axis - widest) / field->pixel);
    field->top = first * field->pixel;
    field->rows = (uint32_t)(ceil((axis + widest) / field->pixel) - first);
    field->colours = arena_take_many(canvas->arena, (size_t)field->columns * field->rows, sizeof *field->colours);
}

void draw_field(Canvas *canvas, const Frame *frame, const Surface *surface, const OutlineCut *cut,
                const PlannedCrosswrap *planned, const Cells *cells, double low, double high)
{
    if (low >= high)
        return;
    double first = whole_below((low - cells->low) / cells->step),
           end = whole_above((high - cells->low) / cells->step);
    FieldView field = {.frame = frame,
                       .planned = planned,
                       .cells = cells,
                       .lights = arena_take_many(canvas->arena, planned->strand_count, sizeof(Light)),
                       .first = (uint32_t)fmax(first, 0),
                       .columns = (uint32_t)(fmax(end, first + 1) - fmax(first, 0)),
                       .pixel = cells->step * frame->scale,
                       .low = low,
                       .high = high};
    for (uint32_t i = 0; i < planned->strand_count; i++)
        field.lights[i] = light_of(planned->strands[i].thread->colour);
    measure_field(&field, canvas, surface, cut);
    look_at_pixels(&field);
    for (uint32_t row = 0; row < field.rows; row++)
        for (uint32_t from = 0, to; from < field.columns; from = to) {
            const uint32_t *colours = &field.colours[(size_t)row * field.columns];
            for (to = from + 1; to < field.columns && colours[to] == colours[from];)
                to++;
            if (colours[from] != NO_COLOUR)
                draw_pixels(canvas, &field, row, from, to);
        }
}
