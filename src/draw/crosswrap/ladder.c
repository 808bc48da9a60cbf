#include "draw/crosswrap/ladder.h"

#include "trade/trade.h"

#include <math.h>

static double on_rung(const Rung *rung, double across)
{
    return rung->low + across * (rung->across + across * rung->bend);
}

/* Through three lines of the strip. On one cone what lies between is off by less than can be seen. */
static Rung rung_at(const LegLines *lines, double turn)
{
    double x[3], half = (lines->top - lines->bottom) / 2;
    for (int i = 0; i < 3; i++)
        x[i] = crosswrap_position(lines->planned, lines->start, lines->leg, lines->bottom + i * half, turn);
    double bend = (x[0] + x[2] - 2 * x[1]) / (2 * half * half);
    return (Rung){x[0], (x[1] - x[0]) / half - bend * half, bend};
}

static LadderTurn ladder_turn_at(const Ground *ground, const LegLines *lines, double middle)
{
    const Frame *frame = ground->frame;
    LadderTurn turn = {.enters = rung_at(lines, middle - frame->shown),
                       .leaves = rung_at(lines, middle + frame->shown)};
    double width = lines->top - lines->bottom, low = fmin(turn.enters.low, turn.leaves.low);
    double high = fmax(on_rung(&turn.enters, width), on_rung(&turn.leaves, width));
    const Cone *cone = &ground->cones[ground_cone(ground, low, true)];
    bool one_cone = low >= cone->from && high <= cone->to;
    /* Unrolled, an edge on a cone is a parabola, which one curve follows. */
    bool misses = frame->shown <= 0.25 && ground_half_misses(ground, cone, low, high, HALF_RISE_MISS);
    turn.cone = one_cone && !misses ? cone : NULL;
    return turn;
}

TurnRange turns_shown(const Frame *frame, double enters, double leaves)
{
    double first = floor(enters - frame->facing - frame->shown) + 1;
    return (TurnRange){first, ceil(leaves - frame->facing + frame->shown) - 1};
}

static double turn_of(const LegLines *lines, double across, double x)
{
    return crosswrap_turn(lines->planned, lines->start, lines->leg, across, x);
}

void ladder_start(Ladder *ladder, Arena *arena, const Ground *ground, const LegLines *lines, double low,
                  double high)
{
    const Frame *frame = ground->frame;
    /* A line nearer to the tip comes to the same turn farther on. */
    double first = turn_of(lines, lines->top, low), last = turn_of(lines, lines->bottom, high);
    TurnRange range = turns_shown(frame, fmin(first, last), fmax(first, last));
    uint32_t count = (uint32_t)fmax(0, range.last - range.first + 1);
    *ladder = (Ladder){range.first, lines->bottom, arena_take_many(arena, count, sizeof *ladder->turns), count};
    for (uint32_t i = 0; i < count; i++)
        ladder->turns[i] = ladder_turn_at(ground, lines, range.first + i + frame->facing);
}

/* A strip's corners where it comes into view and goes, along the axis. */
typedef struct Corners {
    double top_from, top_to, bottom_from, bottom_to;
} Corners;

static Corners corners_on(const Ladder *ladder, const LadderTurn *turn, double bottom, double top)
{
    top -= ladder->bottom;
    bottom -= ladder->bottom;
    return (Corners){on_rung(&turn->enters, top), on_rung(&turn->leaves, top), on_rung(&turn->enters, bottom),
                     on_rung(&turn->leaves, bottom)};
}

/* Half a sine from one edge of the side view to the other; `down` is 1, or upward -1. x, off the axis: page mm. */
static inline void put_half(Point *points, double axis, double down, double x, double x_end, double off,
                            double off_end)
{
    double reach = HALF_REACH * (x_end - x), rise = HALF_RISE * (off_end - off);
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

bool ladder_put(Area *area, const Ground *ground, const Ladder *ladder, double bottom, double top, double number)
{
    if (number < ladder->first || number >= ladder->first + ladder->count)
        return false;
    const LadderTurn *turn = &ladder->turns[(uint32_t)(number - ladder->first)];
    if (!turn->cone)
        return false;
    Corners at = corners_on(ladder, turn, bottom, top);
    double shown = ground->frame->shown;
    if (shown <= 0.25) {
        put_halves(area, ground, turn->cone, &at);
        return true;
    }
    Spot begin = {at.top_from, -shown}, end = {at.top_to, shown};
    Spot back = {at.bottom_to, shown}, last = {at.bottom_from, -shown};
    area_begin(area, ground_point(ground, turn->cone, begin));
    ground_stretch(area, ground, turn->cone, begin, end);
    area_line(area, ground_point(ground, turn->cone, back));
    ground_stretch(area, ground, turn->cone, back, last);
    return true;
}
