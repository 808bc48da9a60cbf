/* Strips in the plane of place along the axis and turn, where their edges are nearly straight; only the pen
 * knows how that plane is bent onto the page. */
#include "draw/crosswrap/leg_strip.h"

#include "trade/trade.h"

#include <math.h>

/* Edges this close to a straight line on the page are drawn straight, mm. */
#define STRAIGHT 0.004
/* Of the radius along one curve, mm on the page. */
#define MOST_CHANGE 0.25
/* Left of a step of the surface, mm. */
#define BEFORE 1e-7

/* The surface. */

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

static double radius_at(const Cone *cone, double x)
{
    return cone->radius_from + (cone->radius_to - cone->radius_from) * (x - cone->from) / (cone->to - cone->from);
}

/* Number of the cone in which x lies; where two meet, that on the tip's side, or else on the butt's. */
static uint32_t cone_of(const Ground *ground, double x, bool tipward)
{
    uint32_t low = 0, high = ground->count - 1;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        if (tipward ? ground->cones[middle].to <= x : ground->cones[middle].to < x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* The pen. */

/* A place on an edge; turns on from the middle of the picture. */
typedef struct Spot {
    double x, turns;
} Spot;

static Point on_page(const Ground *ground, const Cone *cone, Spot spot)
{
    return (Point){frame_x(ground->frame, spot.x), frame_y(ground->frame, spot.turns, radius_at(cone, spot.x))};
}

/* Arcs of a sine as Bezier curves: a quarter by the handles (A, A) and (pi/2 - B, 1) on (0, 0) to (pi/2, 1), a
 * half by (-pi/2 + C, -1) and (pi/2 - C, 1) on (-pi/2, -1) to (pi/2, 1). Chosen so that the greatest error is
 * least: 0.00006 and 0.0004 of the radius (found by search; a unit test measures it). */
#define HANDLE_RISING 0.51228666
#define HANDLE_TURNING 0.56848263
#define HANDLE_HALF 1.1445
#define HALF_MISS 0.0004
/* Where the radius changes, the handles of a half reach out by so much of the change: the curve is then off by so
 * much of it, but by much more with handles along the tangents (found by search). */
#define HALF_RISE 0.605
#define HALF_RISE_MISS 0.036
#define HALF_TANGENT_MISS 0.22
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

/* One stretch of an edge on one cone. */
static void put_stretch(Area *area, const Ground *ground, const Cone *cone, Spot from, Spot to)
{
    const Frame *frame = ground->frame;
    Point begin = on_page(ground, cone, from), end = on_page(ground, cone, to);
    double radius = radius_at(cone, from.x), radius_end = radius_at(cone, to.x), grows = radius_end - radius;
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

/* Edges. */

typedef struct StripWalk {
    Area *area;
    const Ground *ground;
    const LegStrip *strip;
    double middle;    /* turn in the middle of the picture */
    bool down;        /* the part has begun */
    Spot first, last; /* where it began, and where the pen is */
} StripWalk;

/* Over the steps and bends of the surface between two places at one turn, neither of them included. */
static void walk_across(StripWalk *walk, Spot from, Spot to)
{
    const Ground *ground = walk->ground;
    bool tipward = to.x >= from.x;
    if (from.turns != to.turns)
        return;
    uint32_t i = cone_of(ground, from.x, tipward), last = cone_of(ground, to.x, !tipward);
    for (; tipward ? i < last : i > last; i += tipward ? 1 : UINT32_MAX) {
        const Cone *cone = &ground->cones[i], *next = tipward ? cone + 1 : cone - 1;
        Spot end = {tipward ? cone->to : cone->from, to.turns};
        area_line(walk->area, on_page(ground, cone, end));
        area_line(walk->area, on_page(ground, next, end));
    }
}

static void walk_to(StripWalk *walk, const Cone *cone, Spot spot)
{
    Point point = on_page(walk->ground, cone, spot);
    if (walk->down) {
        walk_across(walk, walk->last, spot);
        area_line(walk->area, point);
    } else {
        area_begin(walk->area, point);
        walk->first = spot;
        walk->down = true;
    }
    walk->last = spot;
}

static double edge_turn(const LegStrip *strip, double across, double x)
{
    return crosswrap_turn(strip->planned, strip->start, strip->leg, across, x);
}

static Spot spot_between(const StripWalk *walk, double across, Spot from, Spot to, double turns)
{
    const LegStrip *strip = walk->strip;
    double x = crosswrap_position(strip->planned, strip->start, strip->leg, across, walk->middle + turns);
    return (Spot){fmin(fmax(x, fmin(from.x, to.x)), fmax(from.x, to.x)), turns};
}

/* In parts where the surface's radius changes much: one curve would be off by a thirtieth of the change. */
static void walk_stretch(StripWalk *walk, const Cone *cone, double across, Spot from, Spot to)
{
    enum { MOST_PARTS = 16 };
    double change = fabs(radius_at(cone, to.x) - radius_at(cone, from.x)) * walk->ground->frame->scale;
    int parts = (int)fmin(1 + change / MOST_CHANGE, MOST_PARTS);
    double turns = (to.turns - from.turns) / parts, begin = from.turns;
    for (int i = 1; i < parts; i++) {
        Spot next = spot_between(walk, across, from, to, begin + i * turns);
        put_stretch(walk->area, walk->ground, cone, from, next);
        from = next;
    }
    put_stretch(walk->area, walk->ground, cone, from, to);
}

/* Whether one curve from the picture's upper part to its lower would be seen to miss. share: of the radius's
 * change, by which it is off as well. */
static bool half_misses(const Ground *ground, const Cone *cone, double from, double to, double share)
{
    double radius = fmax(cone->radius_from, cone->radius_to), change = radius_at(cone, to) - radius_at(cone, from);
    return (radius * HALF_MISS + fabs(change) * share) * ground->frame->across > HALF_MAY_MISS;
}

/* From the side a curve past the middle is drawn in two quarters where one would be seen to miss. */
static void walk_cone(StripWalk *walk, const Cone *cone, double across, Spot from, Spot to)
{
    walk_to(walk, cone, from);
    bool side = walk->ground->frame->shown <= 0.25;
    if (side && from.turns * to.turns < 0 && half_misses(walk->ground, cone, from.x, to.x, HALF_TANGENT_MISS)) {
        Spot top = spot_between(walk, across, from, to, 0);
        walk_stretch(walk, cone, across, from, top);
        from = top;
    }
    walk_stretch(walk, cone, across, from, to);
    walk->last = to;
}

/* Along the line that lies so far across, over every step and bend of the surface between. */
static void walk_edge(StripWalk *walk, double across, Spot from, Spot to)
{
    bool tipward = to.x >= from.x;
    uint32_t i = cone_of(walk->ground, from.x, tipward), last = cone_of(walk->ground, to.x, !tipward);
    for (; tipward ? i < last : i > last; i += tipward ? 1 : UINT32_MAX) {
        const Cone *cone = &walk->ground->cones[i];
        double x = tipward ? cone->to : cone->from;
        double left = edge_turn(walk->strip, across, x - BEFORE) - walk->middle;
        double right = edge_turn(walk->strip, across, x) - walk->middle;
        walk_cone(walk, cone, across, from, (Spot){x, tipward ? left : right});
        from = (Spot){x, tipward ? right : left};
    }
    walk_cone(walk, &walk->ground->cones[i], across, from, to);
}

/* The strip in the plane of x and turn: of its two edges the one ahead comes to any x in fewer turns. Each
 * enters at `near` and leaves at `far`. */
typedef struct StripExtent {
    double across;
    double enters, leaves; /* turns */
} StripExtent;

typedef struct StripWindow {
    const LegStrip *strip;
    StripExtent ahead, behind;
    double near, far; /* x */
    double from, to;  /* turns shown */
} StripWindow;

static Spot spot_at(const StripWindow *window, const StripExtent *reach, double turn, double middle)
{
    double x = turn <= reach->enters   ? window->near
               : turn >= reach->leaves ? window->far
                                       : crosswrap_position(window->strip->planned, window->strip->start,
                                                            window->strip->leg, reach->across, turn);
    return (Spot){fmin(fmax(x, fmin(window->near, window->far)), fmax(window->near, window->far)), turn - middle};
}

static void walk_corner(StripWalk *walk, double x, double turn)
{
    const Cone *cone = &walk->ground->cones[cone_of(walk->ground, x, true)];
    walk_to(walk, cone, (Spot){x, turn - walk->middle});
}

/* One edge within the window, to the far side or back; or the corner that is all the window has of it. */
static void walk_reach(StripWalk *walk, const StripWindow *window, const StripExtent *reach, bool onward)
{
    double from = fmax(window->from, reach->enters), to = fmin(window->to, reach->leaves);
    if (reach->leaves <= window->from) {
        walk_corner(walk, window->far, window->from);
    } else if (reach->enters >= window->to) {
        walk_corner(walk, window->near, window->to);
    } else {
        Spot begin = spot_at(window, reach, from, walk->middle), end = spot_at(window, reach, to, walk->middle);
        walk_edge(walk, reach->across, onward ? begin : end, onward ? end : begin);
    }
}

/* Up one edge, past the corner, down the other, past the corner: with the edge toward the tip first, so that
 * all parts of an area turn the same way. */
static void put_window(Area *area, const Ground *ground, const StripWindow *window, double middle, bool rising)
{
    const StripExtent *ahead = &window->ahead, *behind = &window->behind;
    if (behind->leaves <= window->from || ahead->enters >= window->to)
        return;
    StripWalk walk = {.area = area, .ground = ground, .strip = window->strip, .middle = middle};
    walk_reach(&walk, window, rising ? ahead : behind, true);
    if (ahead->leaves < window->to && behind->leaves >= window->to)
        walk_corner(&walk, window->far, window->to);
    walk_reach(&walk, window, rising ? behind : ahead, false);
    if (behind->enters > window->from && ahead->enters <= window->from)
        walk_corner(&walk, window->near, window->from);
    walk_across(&walk, walk.last, walk.first);
}

/* --- whole turns of the picture --- */

static double on_rung(const Rung *rung, double across)
{
    return rung->low + across * (rung->across + across * rung->bend);
}

/* Through three lines of the strip. On one cone what lies between is off by less than can be seen. */
static Rung rung_at(const LegStrip *widest, double turn)
{
    double x[3], half = (widest->top - widest->bottom) / 2;
    for (int i = 0; i < 3; i++)
        x[i] = crosswrap_position(widest->planned, widest->start, widest->leg, widest->bottom + i * half, turn);
    double bend = (x[0] + x[2] - 2 * x[1]) / (2 * half * half);
    return (Rung){x[0], (x[1] - x[0]) / half - bend * half, bend};
}

static LadderTurn ladder_turn_at(const Ground *ground, const LegStrip *widest, double middle)
{
    const Frame *frame = ground->frame;
    LadderTurn turn = {.enters = rung_at(widest, middle - frame->shown),
                       .leaves = rung_at(widest, middle + frame->shown)};
    double width = widest->top - widest->bottom, low = fmin(turn.enters.low, turn.leaves.low);
    double high = fmax(on_rung(&turn.enters, width), on_rung(&turn.leaves, width));
    const Cone *cone = &ground->cones[cone_of(ground, low, true)];
    bool one_cone = low >= cone->from && high <= cone->to;
    if (one_cone && !(frame->shown <= 0.25 && half_misses(ground, cone, low, high, HALF_RISE_MISS)))
        turn.cone = cone;
    return turn;
}

/* The strip's extent on the way that the leg is wound: turns at which its first edge comes by the first place,
 * and its last the last. */
typedef struct TurnRange {
    double first, last; /* whole turns whose windows show something of it */
} TurnRange;

static TurnRange turns_shown(const Frame *frame, double enters, double leaves)
{
    double first = floor(enters - frame->facing - frame->shown) + 1;
    return (TurnRange){first, ceil(leaves - frame->facing + frame->shown) - 1};
}

void ladder_start(Ladder *ladder, Arena *arena, const Ground *ground, const LegStrip *widest, double low,
                  double high)
{
    const Frame *frame = ground->frame;
    double ends[] = {edge_turn(widest, widest->bottom, low), edge_turn(widest, widest->bottom, high),
                     edge_turn(widest, widest->top, low), edge_turn(widest, widest->top, high)};
    double least = fmin(fmin(ends[0], ends[1]), fmin(ends[2], ends[3]));
    double most = fmax(fmax(ends[0], ends[1]), fmax(ends[2], ends[3]));
    TurnRange range = turns_shown(frame, least, most);
    uint32_t count = (uint32_t)fmax(0, range.last - range.first + 1);
    *ladder = (Ladder){range.first, widest->bottom, arena_take_many(arena, count, sizeof *ladder->turns), count};
    for (uint32_t i = 0; i < count; i++)
        ladder->turns[i] = ladder_turn_at(ground, widest, range.first + i + frame->facing);
}

/* A strip's corners where it comes into view and goes, along the axis. */
typedef struct Corners {
    double top_from, top_to, bottom_from, bottom_to;
} Corners;

static Corners corners_on(const Ladder *ladder, const LadderTurn *turn, const LegStrip *strip)
{
    double top = strip->top - ladder->bottom, bottom = strip->bottom - ladder->bottom;
    return (Corners){on_rung(&turn->enters, top), on_rung(&turn->leaves, top), on_rung(&turn->enters, bottom),
                     on_rung(&turn->leaves, bottom)};
}

/* Half a sine from one edge of the side view to the other; `down` is 1, or upward -1. x, off the axis: page mm. */
static inline void put_half(Point *points, double axis, double down, double x, double x_end, double off,
                            double off_end)
{
    double reach = HANDLE_HALF / TRADE_PI * (x_end - x), rise = HALF_RISE * (off_end - off);
    points[0] = (Point){x, axis - down * off};
    points[1] = (Point){x + reach, axis - down * (off + rise)};
    points[2] = (Point){x_end - reach, axis + down * (off_end - rise)};
    points[3] = (Point){x_end, axis + down * off_end};
}

/* Both edges. */
static void put_halves(Area *area, const Ground *ground, const Cone *cone, const Corners *at)
{
    static const unsigned char traces[] = {TRACE_BEGIN, TRACE_CURVE, TRACE_LINE, TRACE_CURVE};
    const Frame *frame = ground->frame;
    double scale = frame->scale, left = frame->left - frame->low * scale, axis = frame->axis;
    double grows = (cone->radius_to - cone->radius_from) / (cone->to - cone->from) * frame->across;
    double first = cone->radius_from * frame->across - cone->from * grows;
    Point *points = area_parts(area, traces, sizeof traces, 8);
    put_half(points, axis, 1, left + at->top_from * scale, left + at->top_to * scale, first + at->top_from * grows,
             first + at->top_to * grows);
    put_half(points + 4, axis, -1, left + at->bottom_to * scale, left + at->bottom_from * scale,
             first + at->bottom_to * grows, first + at->bottom_from * grows);
}

/* The strip over the whole of a turn, if nothing cuts it there and the surface is one cone. */
static bool put_whole(Area *area, const Ground *ground, const LegStrip *strip, double number)
{
    const Ladder *ladder = strip->ladder;
    if (number < ladder->first || number >= ladder->first + ladder->count)
        return false;
    const LadderTurn *turn = &ladder->turns[(uint32_t)(number - ladder->first)];
    if (!turn->cone)
        return false;
    Corners at = corners_on(ladder, turn, strip);
    double shown = ground->frame->shown;
    if (shown <= 0.25) {
        put_halves(area, ground, turn->cone, &at);
        return true;
    }
    Spot begin = {at.top_from, -shown}, end = {at.top_to, shown};
    Spot back = {at.bottom_to, shown}, last = {at.bottom_from, -shown};
    area_begin(area, on_page(ground, turn->cone, begin));
    put_stretch(area, ground, turn->cone, begin, end);
    area_line(area, on_page(ground, turn->cone, back));
    put_stretch(area, ground, turn->cone, back, last);
    return true;
}

void put_strip(Area *area, const Ground *ground, const LegStrip *strip, double low, double high)
{
    if (low >= high || strip->bottom >= strip->top)
        return;
    const Frame *frame = ground->frame;
    bool rising = edge_turn(strip, 0, high) > edge_turn(strip, 0, low);
    StripWindow window = {.strip = strip, .near = rising ? low : high, .far = rising ? high : low};
    StripExtent *ahead = &window.ahead, *behind = &window.behind;
    ahead->across = rising ? strip->top : strip->bottom;
    behind->across = rising ? strip->bottom : strip->top;
    for (int i = 0; i < 2; i++) {
        StripExtent *edge = i ? behind : ahead;
        edge->enters = edge_turn(strip, edge->across, window.near);
        edge->leaves = edge_turn(strip, edge->across, window.far);
    }
    TurnRange range = turns_shown(frame, ahead->enters, behind->leaves);
    for (double turn = range.first; turn <= range.last; turn++) {
        double middle = turn + frame->facing;
        window.from = middle - frame->shown;
        window.to = middle + frame->shown;
        bool whole = behind->enters <= window.from && ahead->leaves >= window.to;
        if (!whole || !put_whole(area, ground, strip, turn))
            put_window(area, ground, &window, middle, rising);
    }
}
