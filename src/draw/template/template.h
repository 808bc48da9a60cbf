/* The wrap-around template of a crosswrap: the surface that it lies on, laid out flat at true size, to be cut out
 * and rolled round the blank. Lengths in mm, angles round the blank in turns; printed side out, tip up, so that
 * clockwise (seen from the butt) is to the right. */
#ifndef TURNLAY_DRAW_TEMPLATE_TEMPLATE_H
#define TURNLAY_DRAW_TEMPLATE_TEMPLATE_H

#include "draw/drawing.h"

/* A cone or cylinder cut open and laid flat, its line at `middle` upright. */
typedef struct FlatCone {
    double from;   /* along the axis from the butt: height 0 on that line */
    double radius; /* at `from`, > 0 */
    double taper;  /* of the radius along the axis, dr/dx; 0 for a cylinder */
    double middle; /* turns */
} FlatCone;

double flat_radius(const FlatCone *cone, double x);
/* The place on paper of x mm from the butt at so many turns: x to the right, y toward the tip. Lengths are kept:
 * with q = dr/ds, s along the slope, a point at the angle t round the cone lies r/q from the apex at the angle q t
 * (textbook), here by sin(u)/u, without cancellation for tapers as small as any. */
Point flat_point(const FlatCone *cone, double x, double turn);
/* Degrees by which the line at this turn leans to the right of the upright one, toward the tip. */
double flat_lean(const FlatCone *cone, double turn);

/* Stretches of the surface as they may be rolled from one piece of paper, rising: neighbours whose common cone is
 * nowhere off by more than shows are one. */
typedef struct TemplateCones {
    LIST_OF(SurfaceStretch) list;
} TemplateCones;
TemplateCones template_cones(Arena *arena, const PlannedCrosswrap *planned);
/* How far edges may miss one another round the blank, and ends along it, mm: common practice, no source. */
#define TEMPLATE_MISS 0.05
/* Shorter stretches than this, mm, paper cannot follow: common practice, no source. */
#define TEMPLATE_BRIDGE 1.0

/* What a page has for one piece with its caption. */
typedef struct TemplateRoom {
    double width, height;
} TemplateRoom;

/* Of the tab behind the cut line, across, mm: common practice, no source. */
#define TEMPLATE_TAB 6.0

typedef struct TemplatePiece {
    FlatCone cone;                     /* of the paper's middle, half its thickness above the surface */
    double from, to;                   /* along the axis, from < to */
    double left, right;                /* edges that meet, turns, -0.5 to 0.5 */
    double diameter_from, diameter_to; /* of the surface */
    const char *name;                  /* "B", or "B2" where it is cut along the blank as well */
    const char *below, *above;         /* names of the pieces that it joins at its ends, NULL for none */
    const char *behind;                /* of the one at its right edge: its own name where it goes all round */
} TemplatePiece;

/* A line along the blank, and what is marked on it: crossings, or where a spiral comes by. */
typedef struct TemplateLine {
    double turn;
    bool facing;           /* at the place's angle: what the crosswrap has to show is there */
    bool rods;             /* the rod's line, 0: what the template is laid on the blank by */
    LIST_OF(double) marks; /* along the axis */
} TemplateLine;
typedef struct TemplateLines {
    LIST_OF(TemplateLine) list;
} TemplateLines;
/* The rod's line is always among them. */
TemplateLines template_lines(Arena *arena, const PlannedCrosswrap *planned);

typedef struct Template {
    const Plan *plan;
    const PlannedRod *rod;
    const PlannedPlace *place;
    const PlannedLayer *layer;
    const char *heading; /* "Harbour, 320.00 mm from the butt, toward the tip: layer 2 of 2, chevron" */
    TemplateLines lines;
    LIST_OF(TemplatePiece) pieces; /* from the butt; none where there would be too many */
} Template;

/* For the layer, which has a crosswrap. */
Template template_make(Arena *arena, const Plan *plan, const PlannedRod *rod, const PlannedPlace *place,
                       const PlannedLayer *layer, TemplateRoom room);
/* The outline to cut along, from the upper left corner clockwise, round the tab. Returns how many points there
 * are; `points` has room for TEMPLATE_POINTS. */
enum { TEMPLATE_ARC = 96, TEMPLATE_POINTS = 2 * (TEMPLATE_ARC + 1) + 2 };
uint32_t template_outline(const TemplatePiece *piece, Point *points);

/* One piece with its caption, true size. */
Drawing *template_draw(Arena *arena, const Template *template, uint32_t piece);
/* For the bench's units and paper: how it is used; what is on it. */
typedef enum { TEMPLATE_HOW, TEMPLATE_WHAT, TEMPLATE_WORDS } TemplateWords;
const char *template_words(Arena *arena, const Bench *bench, TemplateWords which);
/* For a template of too many pieces. */
const char *template_refusal(Arena *arena, const Template *template);
/* Colours that nothing else on the page has: of what is cut, of the line on which edges meet, of crossings. */
enum { TEMPLATE_CUT = 0x000000, TEMPLATE_MEET = 0xbd2b22, TEMPLATE_CROSSING = 0xb0117c };

/* Whether some layer of the rod has a crosswrap. */
bool has_template(const PlannedRod *rod);
/* All templates of a rod below one another, with rulers, as wide as a page's printed field. */
Drawing *draw_templates(Arena *arena, const Plan *plan, uint32_t rod);

#endif
