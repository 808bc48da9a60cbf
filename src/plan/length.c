/* How long the thread of each run is. A run is split where its surface changes: at the blank's stations,
 * where the foot's tip, ramp and inner end lie, and where layers below begin, end or change. */
#include "plan/layout.h"

#include <math.h>

/* Steps that lie nearer than this are met together: sums in another order differ by so little. mm. */
static const double snap = 1e-11;

/* Where on its way a layer is: next station, next step of either profile. */
typedef struct Cursor {
    const Layout *layout;
    int direction;
    uint32_t station, stations_left;
    uint32_t under, over;                  /* steps passed */
    ThicknessStep below_under, below_over; /* the steps passed last */
} Cursor;

uint64_t most_stretches(const Layout *layout, double end)
{
    const Blank *blank = layout->rod->surface;
    double start = layout->layer->start;
    uint64_t stations =
        blank_station_after(blank, fmax(start, end)) - blank_station_after(blank, fmin(start, end));
    return stations + layout->under.count + layout->over.count;
}

static void start_cursor(Cursor *cursor, const Layout *layout)
{
    const Blank *blank = layout->rod->surface;
    *cursor = (Cursor){.layout = layout, .direction = layout->place->direction};
    uint32_t low = blank_station_after(blank, layout->layer->start);
    bool forward = toward_tip(cursor->direction);
    cursor->stations_left = forward ? blank->station_count - low : low;
    cursor->station = forward || !low ? low : low - 1;
}

static double pass_steps(const Profile *profile, int direction, double x, uint32_t *passed, ThicknessStep *step)
{
    while (*passed < profile->count && direction * profile->steps[*passed].start <= direction * x + snap)
        *step = profile->steps[(*passed)++];
    return *passed < profile->count ? profile->steps[*passed].start : direction * (double)INFINITY;
}

static double pass_stations(Cursor *cursor, double x)
{
    const Blank *blank = cursor->layout->rod->surface;
    int direction = cursor->direction;
    while (cursor->stations_left && direction * blank->stations[cursor->station].at <= direction * x + snap) {
        cursor->stations_left--;
        cursor->station += cursor->stations_left ? (uint32_t)direction : 0;
    }
    return cursor->stations_left ? blank->stations[cursor->station].at : direction * (double)INFINITY;
}

static double nearer(int direction, double a, double b) { return direction * a <= direction * b ? a : b; }

/* Takes in all that begins at x; gives where the surface changes next, at most `end`. */
static double advance(Cursor *cursor, double x, double end)
{
    const Layout *layout = cursor->layout;
    int direction = cursor->direction;
    const double surfaces[] = {
        pass_stations(cursor, x),
        pass_steps(&layout->under, direction, x, &cursor->under, &cursor->below_under),
        pass_steps(&layout->over, direction, x, &cursor->over, &cursor->below_over),
    };
    double next = end;
    for (int i = 0; i < 3; i++)
        next = nearer(direction, next, surfaces[i]);
    const double marks[] = {layout->place->foot_tip, layout->place->ramp_end, layout->place->foot_end};
    for (int i = 0; i < 3; i++)
        if (direction * marks[i] > direction * x)
            next = nearer(direction, next, marks[i]);
    return next;
}

/* How much of the foot's full section has risen at x. */
static double risen(const PlannedPlace *place, double x)
{
    double ramp = fabs(place->ramp_end - place->foot_tip);
    double way = fabs(x - place->foot_tip);
    return way >= ramp ? 1 : way / ramp;
}

static bool over_foot(const Cursor *cursor, double from, double to)
{
    const PlannedPlace *place = cursor->layout->place;
    if (place->foot < 0 || !cursor->layout->layer->layer->over)
        return false;
    double middle = cursor->direction * (from + to) / 2;
    return middle > cursor->direction * place->foot_tip && middle < cursor->direction * place->foot_end;
}

static double foot_length(const Cursor *cursor, double from, double to, double thread, double lead)
{
    const PlannedPlace *place = cursor->layout->place;
    const Guide *guide = place->place->guide;
    const Blank *blank = cursor->layout->rod->surface;
    double a = risen(place, from), b = risen(place, to), above = cursor->below_over.thickness + thread / 2;
    HullStretch stretch = {
        .axial = fabs(to - from),
        .diameter_a = blank_diameter_beside(blank, from, to) + 2 * cursor->below_under.thickness,
        .diameter_b = blank_diameter_beside(blank, to, from) + 2 * cursor->below_under.thickness,
        .width_a = a * guide->width,
        .width_b = b * guide->width,
        .height_a = a * guide->height,
        .height_b = b * guide->height,
        .above_a = above,
        .above_b = above};
    return hull_helix_length(&stretch, lead);
}

/* A crosswrap's end bands lie on its strands. */
static double own_thickness(const Cursor *cursor)
{
    const PlannedCrosswrap *crosswrap = cursor->layout->layer->crosswrap;
    return crosswrap ? crosswrap->thickness : 0;
}

static double stretch_length(const Cursor *cursor, double from, double to, double thread, double lead)
{
    if (over_foot(cursor, from, to))
        return foot_length(cursor, from, to, thread, lead);
    const Blank *blank = cursor->layout->rod->surface;
    double above =
        cursor->below_under.thickness + cursor->below_over.thickness + own_thickness(cursor) + thread / 2;
    return cone_helix_length(blank_diameter_beside(blank, from, to) / 2 + above,
                             blank_diameter_beside(blank, to, from) / 2 + above, fabs(to - from), lead);
}

/* On the side of x where `inside` lies. */
static double surface_diameter(const Cursor *cursor, double x, double inside)
{
    double thickness = cursor->below_under.thickness + cursor->below_over.thickness + own_thickness(cursor);
    return blank_diameter_beside(cursor->layout->rod->surface, x, inside) + 2 * thickness;
}

double diameter_at_start(const Layout *layout)
{
    Cursor cursor;
    start_cursor(&cursor, layout);
    double start = layout->layer->start;
    return surface_diameter(&cursor, start, advance(&cursor, start, cursor.direction * (double)INFINITY));
}

SurfaceStretch *surface_stretches(const Layout *layout, uint32_t *count)
{
    const PlannedLayer *layer = layout->layer;
    Cursor cursor;
    start_cursor(&cursor, layout);
    LIST_OF(SurfaceStretch) list = {0};
    for (double x = layer->start; cursor.direction * (layer->end - x) > snap;) {
        double next = advance(&cursor, x, layer->end);
        *LIST_ADD(layout->arena, &list) =
            (SurfaceStretch){x, next, surface_diameter(&cursor, x, next), surface_diameter(&cursor, next, x)};
        x = next;
    }
    for (uint32_t i = 0; i < list.count && !toward_tip(cursor.direction); i++) {
        SurfaceStretch *one = &list.items[i];
        *one = (SurfaceStretch){one->to, one->from, one->diameter_to, one->diameter_from};
    }
    for (uint32_t i = 0, j = list.count; !toward_tip(cursor.direction) && i + 1 < j; i++) {
        SurfaceStretch one = list.items[i];
        list.items[i] = list.items[--j];
        list.items[j] = one;
    }
    *count = list.count;
    return list.items;
}

/* How sure the turns' lengths are, but for what their own thread adds: a turn gets longer by pi times what the
 * surface is wider. */
static void add_sure(const Cursor *cursor, double from, double to, Run *run)
{
    const PlannedLayer *layer = cursor->layout->layer;
    double round = TRADE_PI * fabs(to - from) / run->pitch, middle = (from + to) / 2;
    double own = layer->crosswrap ? crosswrap_thickness_sure(layer->crosswrap) : 0;
    run->length_sure.blank +=
        (float)(round * blank_diameter_sure(cursor->layout->rod->surface, middle, &cursor->layout->job->bench));
    run->length_sure.threads += (float)(2 * round * (cursor->below_under.sure + cursor->below_over.sure + own));
}

/* Thread lengths are summed in double: a run has few stretches, and all terms are positive. */
static void measure_run(Cursor *cursor, Run *run, double *lengths)
{
    double x = run->start, before = x, next = advance(cursor, x, run->end);
    const Strands *strands = run->strands;
    run->start_diameter = surface_diameter(cursor, x, next);
    while (cursor->direction * (run->end - x) > snap) {
        for (uint32_t i = 0; strands && i < strands->count; i++)
            lengths[i] += stretch_length(cursor, x, next, strands->items[i].thread->diameter, run->pitch);
        if (strands)
            add_sure(cursor, x, next, run);
        before = x;
        x = next;
        if (cursor->direction * (run->end - x) > snap)
            next = advance(cursor, x, run->end);
    }
    run->end_diameter = surface_diameter(cursor, run->end, before);
    run->lengths = strands ? lengths : NULL;
}

void measure_lengths(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    size_t count = 0;
    for (uint32_t i = 0; i < layer->run_count; i++)
        count += layer->runs[i].strands ? layer->runs[i].strands->count : 0;
    double *lengths = arena_take_many(layout->arena, count, sizeof *lengths);
    Cursor cursor;
    start_cursor(&cursor, layout);
    for (uint32_t i = 0; i < layer->run_count; i++) {
        Run *run = &layer->runs[i];
        measure_run(&cursor, run, lengths);
        lengths += run->strands ? run->strands->count : 0;
    }
}
