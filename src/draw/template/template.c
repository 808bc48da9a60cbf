/* What a template's pieces are: which part of which cone, and how it lies flat. */
#include "draw/template/template.h"

#include "trade/trade.h"

#include <math.h>

/* Nobody glues more of them together. */
enum { MOST_TEMPLATE_PIECES = 120, MOST_PARTS = 12 };
/* Beside and below a piece for marks that reach over its edges; above it for its caption. */
#define BESIDE 4.0
#define ABOVE_AND_BELOW 7.0

/* --- laid flat --- */

static double slope_factor(const FlatCone *cone) { return sqrt(1 + cone->taper * cone->taper); }

double flat_radius(const FlatCone *cone, double x) { return cone->radius + cone->taper * (x - cone->from); }

static double sine_share(double angle) { return angle == 0 ? 1 : sin(angle) / angle; }

Point flat_point(const FlatCone *cone, double x, double turn)
{
    double factor = slope_factor(cone), q = cone->taper / factor;
    double round = (turn - cone->middle) * 2 * TRADE_PI, way = flat_radius(cone, x) * round;
    double angle = q * round;
    /* The arc falls behind the upright line by r/q (1 - cos u) = r t sin(u/2) sin(u/2)/(u/2). */
    return (Point){way * sine_share(angle),
                   (x - cone->from) * factor - way * sin(angle / 2) * sine_share(angle / 2)};
}

double flat_lean(const FlatCone *cone, double turn)
{
    return cone->taper / slope_factor(cone) * (turn - cone->middle) * 360;
}

/* --- cones --- */

/* Tapers of one common cone from a stretch's beginning that miss no break by more than shows. */
typedef struct Corridor {
    double x, diameter;
    double least, most;  /* of the diameter */
    double slope_length; /* of the stretches themselves */
} Corridor;

static double stretch_slope(const SurfaceStretch *stretch)
{
    double along = stretch->to - stretch->from, rise = (stretch->diameter_to - stretch->diameter_from) / 2;
    return sqrt(along * along + rise * rise);
}

static void pass_break(Corridor *corridor, double x, double diameter)
{
    double along = x - corridor->x, rise = diameter - corridor->diameter, miss = TEMPLATE_MISS / TRADE_PI;
    corridor->least = fmax(corridor->least, (rise - miss) / along);
    corridor->most = fmin(corridor->most, (rise + miss) / along);
}

static Corridor corridor_from(const SurfaceStretch *stretch)
{
    return (Corridor){stretch->from, stretch->diameter_from, -INFINITY, INFINITY, stretch_slope(stretch)};
}

/* Takes the next stretch into the cone `so_far` if that stays near enough to both. */
static bool join_next(Corridor *corridor, SurfaceStretch *so_far, const SurfaceStretch *next)
{
    Corridor wider = *corridor;
    pass_break(&wider, so_far->to, so_far->diameter_to);
    pass_break(&wider, next->from, next->diameter_from);
    wider.slope_length += stretch_slope(next);
    SurfaceStretch joined = {so_far->from, next->to, so_far->diameter_from, next->diameter_to};
    double taper = (joined.diameter_to - joined.diameter_from) / (joined.to - joined.from);
    if (taper < wider.least || taper > wider.most
        || fabs(stretch_slope(&joined) - wider.slope_length) > TEMPLATE_MISS)
        return false;
    *corridor = wider;
    *so_far = joined;
    return true;
}

static SurfaceStretch prolonged(const SurfaceStretch *stretch, double from, double to)
{
    double slope = (stretch->diameter_to - stretch->diameter_from) / (stretch->to - stretch->from);
    return (SurfaceStretch){from, to, stretch->diameter_from + slope * (from - stretch->from),
                            stretch->diameter_from + slope * (to - stretch->from)};
}

/* Stretches without those that are too short for paper to follow, over which it bridges from the one before (at
 * the butt's end from the one behind). */
static TemplateCones followed(Arena *arena, const PlannedCrosswrap *planned)
{
    TemplateCones kept = {0};
    double bridged = 0;
    for (uint32_t i = 0; i < planned->stretch_count; i++) {
        const SurfaceStretch *stretch = &planned->stretches[i];
        SurfaceStretch *before = kept.list.count ? &kept.list.items[kept.list.count - 1] : NULL;
        bridged += stretch->to - stretch->from;
        if (bridged <= TEMPLATE_BRIDGE && (before || i + 1 < planned->stretch_count)) {
            if (before)
                *before = prolonged(before, before->from, stretch->to);
            continue;
        }
        *LIST_ADD(arena, &kept.list) = before ? *stretch : prolonged(stretch, planned->low, stretch->to);
        bridged = 0;
    }
    return kept;
}

TemplateCones template_cones(Arena *arena, const PlannedCrosswrap *planned)
{
    TemplateCones cones = {0}, kept = followed(arena, planned);
    for (uint32_t i = 0; i < kept.list.count;) {
        SurfaceStretch so_far = kept.list.items[i];
        Corridor corridor = corridor_from(&so_far);
        for (i++; i < kept.list.count && join_next(&corridor, &so_far, &kept.list.items[i]);)
            i++;
        *LIST_ADD(arena, &cones.list) = so_far;
    }
    return cones;
}

/* --- pieces --- */

static uint32_t put_arc(const TemplatePiece *piece, double x, double left, double right, Point *points)
{
    int parts = piece->cone.taper == 0 ? 1 : TEMPLATE_ARC;
    for (int i = 0; i <= parts; i++)
        points[i] = flat_point(&piece->cone, x, left + (right - left) * i / parts);
    return (uint32_t)parts + 1;
}

static double tab_turns(const TemplatePiece *piece, double x)
{
    return TEMPLATE_TAB / (2 * TRADE_PI * flat_radius(&piece->cone, x));
}

uint32_t template_outline(const TemplatePiece *piece, Point *points)
{
    uint32_t count = put_arc(piece, piece->to, piece->left, piece->right, points);
    double low = piece->from, high = piece->to, back = fmin(1, (high - low) / 8);
    Point above = flat_point(&piece->cone, high - back, piece->right + tab_turns(piece, high - back));
    Point below = flat_point(&piece->cone, low + back, piece->right + tab_turns(piece, low + back));
    points[count++] = above;
    points[count++] = below;
    return count + put_arc(piece, low, piece->right, piece->left, points + count);
}

static bool fits(const TemplatePiece *piece, TemplateRoom room)
{
    Point points[TEMPLATE_POINTS];
    uint32_t count = template_outline(piece, points);
    double left = INFINITY, right = -INFINITY, low = INFINITY, high = -INFINITY;
    for (uint32_t i = 0; i < count; i++) {
        left = fmin(left, points[i].x);
        right = fmax(right, points[i].x);
        low = fmin(low, points[i].y);
        high = fmax(high, points[i].y);
    }
    return right - left + BESIDE <= room.width && high - low + ABOVE_AND_BELOW <= room.height;
}

/* How a cone is cut: into so many lengths, each into so many parts round the blank. */
typedef struct Cutting {
    uint32_t lengths, parts;
} Cutting;

static TemplatePiece piece_of(const SurfaceStretch *cone, double paper, Cutting cutting, uint32_t length,
                              uint32_t part)
{
    double taper = (cone->diameter_to - cone->diameter_from) / (cone->to - cone->from);
    double each = (cone->to - cone->from) / cutting.lengths;
    TemplatePiece piece = {.from = cone->from + each * length, .to = cone->from + each * (length + 1)};
    if (length + 1 == cutting.lengths)
        piece.to = cone->to;
    piece.diameter_from = cone->diameter_from + taper * (piece.from - cone->from);
    piece.diameter_to = cone->diameter_from + taper * (piece.to - cone->from);
    piece.left = -0.5 + (double)part / cutting.parts;
    piece.right = -0.5 + (part + 1.0) / cutting.parts;
    piece.cone = (FlatCone){.from = piece.from,
                            .radius = piece.diameter_from / 2 + paper / 2,
                            .taper = taper / 2,
                            .middle = (piece.left + piece.right) / 2};
    return piece;
}

/* The wider end's piece is the largest; on a cylinder all are alike. */
static bool all_fit(const SurfaceStretch *cone, double paper, Cutting cutting, TemplateRoom room)
{
    TemplatePiece first = piece_of(cone, paper, cutting, 0, 0);
    TemplatePiece last = piece_of(cone, paper, cutting, cutting.lengths - 1, 0);
    double angle = fabs(flat_lean(&first.cone, first.right) - flat_lean(&first.cone, first.left));
    return angle <= 180 && fits(&first, room) && fits(&last, room);
}

/* The fewest pieces that fit; lengths 0 where there would be too many. */
static Cutting cutting_of(const SurfaceStretch *cone, double paper, TemplateRoom room)
{
    for (uint32_t pieces = 1; pieces <= MOST_TEMPLATE_PIECES; pieces++)
        for (uint32_t parts = 1; parts <= pieces && parts <= MOST_PARTS; parts++) {
            Cutting cutting = {pieces / parts, parts};
            if (pieces % parts == 0 && all_fit(cone, paper, cutting, room))
                return cutting;
        }
    return (Cutting){0, 0};
}

/* "A" to "Z", then "AA", "AB" ... */
static const char *letters(Arena *arena, uint32_t number)
{
    const char *last = text_format(arena, "%c", (char)('A' + number % 26));
    return number < 26 ? last : text_format(arena, "%s%s", letters(arena, number / 26 - 1), last);
}

static const char *part_name(Arena *arena, uint32_t letter, uint32_t part, uint32_t parts)
{
    const char *name = letters(arena, letter);
    return parts == 1 ? name : text_format(arena, "%s%u", name, part % parts + 1);
}

static uint32_t add_pieces(Arena *arena, Template *template, const SurfaceStretch *cone, TemplateRoom room,
                           uint32_t letter)
{
    double paper = template->plan->job->bench.paper;
    Cutting cutting = cutting_of(cone, paper, room);
    if (template->pieces.count + cutting.lengths * cutting.parts > MOST_TEMPLATE_PIECES)
        cutting.lengths = 0;
    for (uint32_t length = 0; length < cutting.lengths; length++)
        for (uint32_t part = 0; part < cutting.parts; part++) {
            TemplatePiece *piece = LIST_ADD(arena, &template->pieces);
            *piece = piece_of(cone, paper, cutting, length, part);
            piece->name = part_name(arena, letter + length, part, cutting.parts);
            piece->behind = part_name(arena, letter + length, part + 1, cutting.parts);
            piece->below = letter + length ? letters(arena, letter + length - 1) : NULL;
            piece->above = letters(arena, letter + length + 1);
        }
    return cutting.lengths;
}

Template template_make(Arena *arena, const Plan *plan, const PlannedRod *rod, const PlannedPlace *place,
                       const PlannedLayer *layer, TemplateRoom room)
{
    const char *where = place_label(arena, plan->job, rod->rod, place);
    Template template = {.plan = plan, .rod = rod, .place = place, .layer = layer};
    template.lines = template_lines(arena, layer->crosswrap);
    const char *number = "";
    if (place->layer_count > 1)
        number = text_format(arena, "layer %u of %u, ", (unsigned)(layer - place->layers) + 1,
                             (unsigned)place->layer_count);
    template.heading = text_format(arena, "%s, %s: %s%s", rod->rod->title->bytes, where, number,
                                   crosswrap_word(layer->crosswrap));
    TemplateCones cones = template_cones(arena, layer->crosswrap);
    uint32_t letter = 0;
    for (uint32_t i = 0; i < cones.list.count; i++) {
        uint32_t made = add_pieces(arena, &template, &cones.list.items[i], room, letter);
        if (!made) {
            template.pieces.count = 0;
            return template;
        }
        letter += made;
    }
    for (uint32_t i = 0; i < template.pieces.count; i++)
        if (template.pieces.items[i].to == cones.list.items[cones.list.count - 1].to)
            template.pieces.items[i].above = NULL;
    return template;
}

bool has_template(const PlannedRod *rod)
{
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++)
            if (rod->places[p].layers[l].laid && rod->places[p].layers[l].crosswrap)
                return true;
    return false;
}
