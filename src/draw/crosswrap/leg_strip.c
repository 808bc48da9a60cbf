/* Strips in the plane of place along the axis and turn, where their edges are nearly straight; only the ground
 * knows how that plane is bent onto the page. */
#include "draw/crosswrap/leg_strip.h"

#include <math.h>

/* Of the radius along one curve, mm on the page. */
#define MOST_CHANGE 0.25
/* Left of a step of the surface, mm. */
#define BEFORE 1e-7

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
    uint32_t i = ground_cone(ground, from.x, tipward), last = ground_cone(ground, to.x, !tipward);
    for (; tipward ? i < last : i > last; i += tipward ? 1 : UINT32_MAX) {
        const Cone *cone = &ground->cones[i], *next = tipward ? cone + 1 : cone - 1;
        Spot end = {tipward ? cone->to : cone->from, to.turns};
        area_line(walk->area, ground_point(ground, cone, end));
        area_line(walk->area, ground_point(ground, next, end));
    }
}

static void walk_to(StripWalk *walk, const Cone *cone, Spot spot)
{
    Point point = ground_point(walk->ground, cone, spot);
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
    double change = fabs(cone_radius(cone, to.x) - cone_radius(cone, from.x)) * walk->ground->frame->scale;
    int parts = (int)fmin(1 + change / MOST_CHANGE, MOST_PARTS);
    double turns = (to.turns - from.turns) / parts, begin = from.turns;
    for (int i = 1; i < parts; i++) {
        Spot next = spot_between(walk, across, from, to, begin + i * turns);
        ground_stretch(walk->area, walk->ground, cone, from, next);
        from = next;
    }
    ground_stretch(walk->area, walk->ground, cone, from, to);
}

/* From the side a curve past the middle is drawn in two quarters where one would be seen to miss. */
static void walk_cone(StripWalk *walk, const Cone *cone, double across, Spot from, Spot to)
{
    walk_to(walk, cone, from);
    bool side = walk->ground->frame->shown <= 0.25;
    if (side && from.turns * to.turns < 0
        && ground_half_misses(walk->ground, cone, from.x, to.x, HALF_TANGENT_MISS)) {
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
    uint32_t i = ground_cone(walk->ground, from.x, tipward), last = ground_cone(walk->ground, to.x, !tipward);
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
    const Cone *cone = &walk->ground->cones[ground_cone(walk->ground, x, true)];
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
        if (!whole || !ladder_put(area, ground, strip->ladder, strip->bottom, strip->top, turn))
            put_window(area, ground, &window, middle, rising);
    }
}
