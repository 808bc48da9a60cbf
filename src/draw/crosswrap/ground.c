#include "draw/crosswrap/ground.h"

#include "base/halfway.h"
#include "trade/trade.h"

#include <math.h>

/* Edges this close to a straight line on the page are drawn straight, mm. */
#define STRAIGHT 0.004

/* Cones are made longer as long as one line stays near all points of the outline: the steepest and the least
 * steep such line. */
typedef struct Sleeve {
    OutlineEdge from, last;
    double least, most;
} Sleeve;

static bool sleeve_takes(Sleeve *sleeve, OutlineEdge edge, double tolerance)
{
    double way = edge.x - sleeve->from.x, rise = edge.down - sleeve->from.down;
    if (way <= 0)
        return fabs(rise) <= tolerance;
    double least = fmax(sleeve->least, (rise - tolerance) / way);
    double most = fmin(sleeve->most, (rise + tolerance) / way);
    if (least > most)
        return false;
    sleeve->least = least;
    sleeve->most = most;
    return true;
}

static void add_cone(Ground *ground, const Sleeve *sleeve)
{
    double way = sleeve->last.x - sleeve->from.x;
    if (way <= 0)
        return;
    double gradient = (sleeve->last.down - sleeve->from.down) / way;
    gradient = fmin(fmax(gradient, sleeve->least), sleeve->most);
    ground->cones[ground->count++] =
        (Cone){sleeve->from.x, sleeve->last.x, sleeve->from.down, sleeve->from.down + gradient * way};
}

void ground_start(Ground *ground, Arena *arena, const Frame *frame, const Outline *outline)
{
    *ground = (Ground){frame, arena_take_many(arena, outline->count, sizeof *ground->cones), 0};
    Sleeve sleeve = {outline->edges[0], outline->edges[0], -INFINITY, INFINITY};
    for (uint32_t i = 1; i < outline->count; i++) {
        OutlineEdge edge = outline->edges[i];
        if (!sleeve_takes(&sleeve, edge, STRAIGHT / frame->across)) {
            add_cone(ground, &sleeve);
            OutlineEdge from = edge.x > sleeve.last.x ? sleeve.last : edge;
            sleeve = (Sleeve){from, from, -INFINITY, INFINITY};
            sleeve_takes(&sleeve, edge, STRAIGHT / frame->across);
        }
        sleeve.last = edge;
    }
    add_cone(ground, &sleeve);
}

double cone_radius(const Cone *cone, double x)
{
    return cone->radius_from + (cone->radius_to - cone->radius_from) * (x - cone->from) / (cone->to - cone->from);
}

uint32_t ground_cone(const Ground *ground, double x, bool tipward)
{
    uint32_t low = 0, high = ground->count - 1;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (tipward ? ground->cones[middle].to <= x : ground->cones[middle].to < x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

Point ground_point(const Ground *ground, const Cone *cone, Spot spot)
{
    return (Point){frame_x(ground->frame, spot.x), frame_y(ground->frame, spot.turns, cone_radius(cone, spot.x))};
}

/* Arcs of a sine as Bezier curves: a quarter by the handles (A, A) and (pi/2 - B, 1) on (0, 0) to (pi/2, 1), a
 * half by (-pi/2 + C, -1) and (pi/2 - C, 1) on (-pi/2, -1) to (pi/2, 1). Chosen so that the greatest error is
 * least: 0.00006 and 0.0004 of the radius (found by search; a unit test measures it). */
#define HANDLE_RISING 0.51228666
#define HANDLE_TURNING 0.56848263
#define HALF_MISS 0.0004
/* As much may a half be off, mm on the page. */
#define HALF_MAY_MISS 0.006
#define QUARTER (TRADE_PI / 2)

/* The angles of such a curve's ends and handles. */
typedef struct Arc {
    double at[4];
} Arc;
static const Arc quarter_arc = {{0, HANDLE_RISING, QUARTER - HANDLE_TURNING, QUARTER}};
static const Arc half_arc = {{-QUARTER, -QUARTER + HANDLE_HALF, QUARTER - HANDLE_HALF, QUARTER}};

static double arc_angle(const Arc *arc, double u)
{
    double v = 1 - u;
    return v * v * (v * arc->at[0] + 3 * u * arc->at[1]) + u * u * (3 * v * arc->at[2] + u * arc->at[3]);
}

static double arc_speed(const Arc *arc, double u)
{
    double v = 1 - u, first = arc->at[1] - arc->at[0], middle = arc->at[2] - arc->at[1];
    return 3 * (v * v * first + 2 * v * u * middle + u * u * (arc->at[3] - arc->at[2]));
}

/* Where on that curve the angle lies. */
static double arc_place(const Arc *arc, double angle)
{
    double u = (angle - arc->at[0]) / (arc->at[3] - arc->at[0]);
    if (u <= 0 || u >= 1)
        return u <= 0 ? 0 : 1;
    for (int i = 0; i < 4; i++)
        u -= (arc_angle(arc, u) - angle) / arc_speed(arc, u);
    return u;
}

/* How far along a stretch of an edge, as ratios of it, its two handles reach. */
typedef struct Handles {
    double first, second;
} Handles;

static Handles side_handles(double from, double to)
{
    const Arc *arc = from * to < 0 ? &half_arc : &quarter_arc;
    double sign = arc == &half_arc || from + to > 0 ? 1 : -1;
    double begin = arc_place(arc, sign * from), end = arc_place(arc, sign * to);
    double part = sign * (end - begin) / 3 / (to - from);
    return (Handles){part * arc_speed(arc, begin), part * arc_speed(arc, end)};
}

void ground_stretch(Area *area, const Ground *ground, const Cone *cone, Spot from, Spot to)
{
    const Frame *frame = ground->frame;
    Point begin = ground_point(ground, cone, from), end = ground_point(ground, cone, to);
    double radius = cone_radius(cone, from.x), radius_end = cone_radius(cone, to.x), grows = radius_end - radius;
    double turns = to.turns - from.turns, bend, slope, slope_end;
    Handles handles = {1 / 3.0, 1 / 3.0};
    if (frame->shown > 0.25) {
        bend = fabs(grows * turns) / 2;
        slope = 2 * (grows * from.turns + radius * turns);
        slope_end = 2 * (grows * to.turns + radius_end * turns);
    } else {
        double a = 2 * TRADE_PI * from.turns, b = 2 * TRADE_PI * to.turns, angle = b - a;
        bend = radius * angle * angle * fmax(fabs(sin(a)), fabs(sin(b))) / 8 + fabs(grows * angle) / 4;
        slope = grows * sin(a) + radius * cos(a) * angle;
        slope_end = grows * sin(b) + radius_end * cos(b) * angle;
        if (fabs(angle) > 1e-6)
            handles = side_handles(a, b);
    }
    if (bend * frame->across <= STRAIGHT) {
        area_line(area, end);
        return;
    }
    Point handle = {begin.x + handles.first * (end.x - begin.x), begin.y + handles.first * slope * frame->across};
    Point before = {end.x - handles.second * (end.x - begin.x),
                    end.y - handles.second * slope_end * frame->across};
    area_curve(area, handle, before, end);
}

bool ground_half_misses(const Ground *ground, const Cone *cone, double from, double to, double share)
{
    double radius = fmax(cone->radius_from, cone->radius_to),
           change = cone_radius(cone, to) - cone_radius(cone, from);
    return (radius * HALF_MISS + fabs(change) * share) * ground->frame->across > HALF_MAY_MISS;
}
