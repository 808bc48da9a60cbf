#include "draw/picture/guide.h"

#include "trade/trade.h"

#include <math.h>

/* Where nothing is said of its look, a guide's ring is so many times as wide as the gap between its feet, or from
 * its one foot to the ring; without a gap, and at most, so many times as wide as its longest foot. Its top stands
 * so many times the ring's diameter above the blank. Common practice, no source: chosen so that a large guide
 * looks large. */
#define RING_OF_TWO_FEET 2.0
#define RING_OF_ONE_FOOT 1.6
#define RING_OF_FOOT 0.6
#define RING_AT_MOST 1.4
#define TALL_OF_RING 1.5
/* A ring stands across the rod, so that it would be seen edge on: it is drawn so much turned that one looks
 * through it. Its height stays true. By eye. */
#define RING_TURNED 0.34
/* The frame round the ring and the ring itself, the thickness of both along the rod, and a leg of the frame, as
 * ratios of the ring's diameter; where the legs meet the ring, from its middle as ratios of its radius. By eye. */
#define FRAME_WIRE 0.055
#define RING_WIRE 0.1
#define RING_DEEP 0.05
#define LEG_WIRE 0.07
#define LEGS_UP (-0.5)
#define LEGS_ASIDE 0.6
#define RING_INK 0x2b3236

static double ring_diameter(const Guide *guide)
{
    double longest = fmax(guide->feet[0], guide->foot_count > 1 ? guide->feet[1] : 0);
    if (isfinite(guide->ring))
        return guide->ring;
    double of_gap = guide->gap * (guide->foot_count > 1 ? RING_OF_TWO_FEET : RING_OF_ONE_FOOT);
    return fmin(guide->gap > 0 ? of_gap : longest * RING_OF_FOOT, longest * RING_AT_MOST);
}

GuideLook guide_look(const Guide *guide)
{
    double ring = ring_diameter(guide);
    if (!isfinite(guide->ring) && isfinite(guide->tall))
        ring = fmin(ring, guide->tall);
    double tall = isfinite(guide->tall) ? guide->tall : ring * TALL_OF_RING;
    return (GuideLook){ring, tall, guide->frame == NO_COLOUR ? STEEL : guide->frame,
                       guide->insert == NO_COLOUR ? RING_INK : guide->insert};
}

double guide_lean(const PlannedPlace *feet, double facing)
{
    double lean = remainder(feet->place->angle + 0.25 - facing, 1);
    return fabs(lean) < 1e-12 ? 0 : lean;
}

bool guide_is_behind(const PlannedPlace *feet, double facing)
{
    return sin(2 * TRADE_PI * guide_lean(feet, facing)) < -1e-9;
}

static double mark_of(const PlannedPlace *feet) { return feet->place->mark; }

Reach guide_reach(const Canvas *canvas, const PlannedPlace *feet, double facing)
{
    GuideLook look = guide_look(feet->place->guide);
    double radius = blank_diameter(canvas->rod->surface, mark_of(feet)) / 2;
    double up = cos(2 * TRADE_PI * guide_lean(feet, facing)), top = radius + look.tall;
    double middle = (top - look.ring / 2) * up, half = look.ring / 2;
    double aside = half * RING_TURNED;
    return (Reach){mark_of(feet) - aside, mark_of(feet) + aside, fmax(radius, middle + half),
                   fmax(radius, half - middle)};
}

/* A guide on the page: its ring's middle, and how points of it are seen. */
typedef struct Stand {
    Canvas *canvas;
    const Frame *frame;
    GuideLook look;
    double up, aside; /* page mm upward of a mm away from the axis, and of one across that */
    double radius;    /* of the blank at the ring */
    Point ring;
} Stand;

/* A point of the guide: along the axis, so far from it, and so far across. */
static Point seen(const Stand *stand, double x, double away, double across)
{
    return (Point){frame_x(stand->frame, x), stand->frame->axis - away * stand->up - across * stand->aside};
}

/* An ellipse with its middle at the ring's; against the clock it is a hole. */
static void put_loop(const Stand *stand, double half, bool hole)
{
    const double round = 0.5522847; /* handles of a quarter of a circle: the usual ones (textbook) */
    Area *area = &stand->canvas->area;
    double x = half * RING_TURNED, y = hole ? -half : half, cx = stand->ring.x, cy = stand->ring.y;
    area_begin(area, (Point){cx + x, cy});
    area_curve(area, (Point){cx + x, cy + y * round}, (Point){cx + x * round, cy + y}, (Point){cx, cy + y});
    area_curve(area, (Point){cx - x * round, cy + y}, (Point){cx - x, cy + y * round}, (Point){cx - x, cy});
    area_curve(area, (Point){cx - x, cy - y * round}, (Point){cx - x * round, cy - y}, (Point){cx, cy - y});
    area_curve(area, (Point){cx + x * round, cy - y}, (Point){cx + x, cy - y * round}, (Point){cx + x, cy});
}

static void draw_band(const Stand *stand, double outer, double inner, uint32_t colour, double deep)
{
    put_loop(stand, outer, false);
    put_loop(stand, inner, true);
    draw_area(stand->canvas, colour, colour, deep);
}

static uint32_t darker(uint32_t colour)
{
    Light light = light_of(colour);
    return colour_of((Light){light.red / 2, light.green / 2, light.blue / 2});
}

static uint32_t lighter(uint32_t colour)
{
    return colour_of(light_over(light_of(0xffffff), 0.5, light_of(colour)));
}

/* From the foot's inner end to the ring, on its side. */
static void draw_leg(const Stand *stand, const PlannedPlace *place, double side)
{
    const Guide *guide = place->place->guide;
    double ring = stand->look.ring, wire = ring * LEG_WIRE, middle = stand->radius + stand->look.tall - ring / 2;
    double base = stand->radius + guide->height / 2, foot = side * guide->width * 0.3, d = place->direction;
    double mark = place->place->mark, room = fabs(mark - place->foot_end);
    double rim = fmin(ring / 2 * RING_TURNED * LEGS_ASIDE, room);
    Point points[] = {seen(stand, place->foot_end - d * wire * 2, base, foot),
                      seen(stand, place->foot_end + d * fmin(wire, room), base + wire, foot),
                      seen(stand, mark - d * rim, middle + ring / 2 * LEGS_UP, side * ring / 2 * LEGS_ASIDE)};
    double pen = wire * stand->frame->scale;
    bool matt = guide->sheen == SHEEN_MATT;
    draw_path(stand->canvas, points, 3, matt ? stand->look.frame : darker(stand->look.frame), pen);
    draw_path(stand->canvas, points, 3, stand->look.frame, pen * 0.65);
    if (guide->sheen == SHEEN_METALLIC)
        draw_path(stand->canvas, points, 3, lighter(stand->look.frame), pen * 0.2);
}

void draw_guide(Canvas *canvas, const Frame *frame, const PlannedPlace *feet)
{
    double lean = 2 * TRADE_PI * guide_lean(feet, frame->facing), mark = mark_of(feet);
    Stand stand = {.canvas = canvas,
                   .frame = frame,
                   .look = guide_look(feet->place->guide),
                   .up = cos(lean) * frame->across,
                   .aside = -sin(lean) * frame->across,
                   .radius = blank_diameter(canvas->rod->surface, mark) / 2};
    double half = stand.look.ring / 2 * frame->across, deep = half * 2 * RING_DEEP;
    double rim = half * (1 - 2 * FRAME_WIRE), hole = rim - half * 2 * RING_WIRE;
    stand.ring = seen(&stand, mark, stand.radius + stand.look.tall - stand.look.ring / 2, 0);
    for (uint32_t i = 0; i < feet->place->guide->foot_count; i++)
        draw_leg(&stand, &feet[i], -1);
    draw_band(&stand, half - deep / 2, rim, stand.look.frame, deep);
    draw_band(&stand, rim, hole, stand.look.insert, deep / 2);
    for (uint32_t i = 0; i < feet->place->guide->foot_count; i++)
        draw_leg(&stand, &feet[i], 1);
}
