/* A drawing: a small display list in mm that every picture format renders alike. y grows downward. */
#ifndef TURNLAY_DRAW_DRAWING_H
#define TURNLAY_DRAW_DRAWING_H

#include "plan/plan.h"

typedef enum { VIEW_SIDE, VIEW_UNROLLED } View;

typedef enum { SHAPE_POLYGON, SHAPE_LINE, SHAPE_TEXT, SHAPE_GROUP_START, SHAPE_GROUP_END } ShapeKind;
typedef enum { ALIGN_START, ALIGN_MIDDLE, ALIGN_END } TextAlign;
/* How a surface is lit: flat, or as a cylinder that lies level and is lit from above (darker toward
 * both edges, its middle left as it is). A polygon without fill gives the light and shadow alone,
 * over what is drawn before it; a pointer takes no notice of it. */
typedef enum { SHADE_FLAT, SHADE_CYLINDER } Shade;

typedef struct Point { double x, y; } Point;

/* colour 0xRRGGBB; NO_COLOUR draws none. */
#define NO_COLOUR UINT32_MAX

typedef struct Shape {
    ShapeKind kind;
    Point *points;           /* polygon, line */
    uint32_t point_count;
    uint32_t fill, stroke;
    double stroke_width;     /* mm */
    Shade shade;
    Point at;                /* text */
    double size;             /* text height in mm */
    TextAlign align;
    const char *text;        /* text: UTF-8; group: its title for people (what a pointer resting on it shows) */
    uint64_t id;             /* group: made from content, 0 for none */
    Span span;               /* group: the source it comes from; end 0 for none */
    uint32_t place, layer, run;   /* group: the run it shows, by its indices in the planned rod */
} Shape;

typedef struct Drawing {
    double width, height;    /* mm */
    const char *title, *description;
    LIST_OF(Shape) shapes;
    const Sources *sources;
} Drawing;

/* One rod as a drawing: a panel for each place at true scale (times `scale`), with the datum mark, a ruler in the
 * bench's units, and every run a group of its own. The side view shows the blank's outline with the wraps on it;
 * the unrolled view the surface cut open along the line opposite the ring. Deterministic. */
Drawing *draw_rod(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale);

#endif
