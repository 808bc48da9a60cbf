#include "trade/trade.h"

#include "trade/gauss.h"

#include <math.h>

enum { PANELS = 4 }; /* of eight points, in each smooth piece of a stretch */

/* From either top corner of the foot a tangent runs down to the circle; the rest of the hull is an arc. Seen from
 * the middle, the corner lies at the angle of (half_width, to_top) from the top, and where the tangent touches at
 * that of (tangent, radius) more: less than half a turn together. */
static double narrow_foot(double radius, double half_width, double height)
{
    double tangent = sqrt(half_width * half_width + height * (2 * radius + height)), to_top = radius + height;
    double to_touch = atan2(half_width * radius + to_top * tangent, to_top * radius - half_width * tangent);
    return 2 * half_width + 2 * tangent + 2 * radius * (TRADE_PI - to_touch);
}

/* The foot's underside rests on the circle; tangents run from its lower corners. */
static double wide_foot(double radius, double half_width, double height)
{
    return 4 * half_width + 2 * height + radius * (2 * TRADE_PI - 4 * atan2(half_width, radius));
}

double hull_perimeter(double diameter, double width, double height)
{
    return width > diameter ? wide_foot(diameter / 2, width / 2, height)
                            : narrow_foot(diameter / 2, width / 2, height);
}

/* A part of a stretch, from and to as shares of it, on which the foot stays narrower or wider than the circle. */
typedef struct HullPart {
    const HullStretch *stretch;
    double lead, from, to;
} HullPart;

static double between(double a, double b, double share) { return a + (b - a) * share; }

static double turn_length(const HullStretch *stretch, double share, double lead)
{
    double perimeter = hull_perimeter(between(stretch->diameter_a, stretch->diameter_b, share),
                                      between(stretch->width_a, stretch->width_b, share),
                                      between(stretch->height_a, stretch->height_b, share));
    double round = perimeter + 2 * TRADE_PI * between(stretch->above_a, stretch->above_b, share);
    return sqrt(round * round + lead * lead); /* of mm: nothing overflows */
}

/* Where the foot rises from nothing, the perimeter grows as the distance to the power 3/2, which the rule
 * follows badly. With share = s^2 (3 - 2 s) it grows as s^3 there, and at the other end likewise. */
static double graded_turn_length(double s, const void *given)
{
    const HullPart *piece = given;
    double share = between(piece->from, piece->to, s * s * (3 - 2 * s));
    return 6 * s * (1 - s) * turn_length(piece->stretch, share, piece->lead);
}

/* Mean length of a turn on the piece, times the piece's share of the stretch. */
static double piece_length(HullPart piece)
{
    double sum = 0;
    for (int i = 0; i < PANELS; i++)
        sum += gauss_mean(graded_turn_length, &piece, (double)i / PANELS, (double)(i + 1) / PANELS);
    return sum / PANELS * (piece.to - piece.from);
}

/* The share of the stretch at which the foot gets as wide as the circle, or 0. */
static double widening(const HullStretch *stretch)
{
    double room_a = stretch->diameter_a - stretch->width_a, room_b = stretch->diameter_b - stretch->width_b;
    return (room_a < 0) != (room_b < 0) ? room_a / (room_a - room_b) : 0;
}

double hull_helix_length(const HullStretch *stretch, double lead)
{
    double split = widening(stretch);
    double mean = piece_length((HullPart){stretch, lead, split, 1});
    if (split > 0)
        mean += piece_length((HullPart){stretch, lead, 0, split});
    return stretch->axial / lead * mean;
}
