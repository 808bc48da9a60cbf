/* A drawing: a small display list in mm that every picture format renders alike. y grows downward. */
#ifndef TURNLAY_DRAW_DRAWING_H
#define TURNLAY_DRAW_DRAWING_H

#include "plan/plan.h"
#include "trade/colour.h"

/* Name; the word for it on the command line. */
#define VIEW_TABLE(X)                                                                                             \
    X(SIDE, "side") X(UNROLLED, "unrolled") X(ROD, "rod") X(PRESENTATION, "presentation") X(EYE, "eye")
typedef enum {
#define X(name, word) VIEW_##name,
    VIEW_TABLE(X)
#undef X
        VIEW_COUNT
} View;

typedef enum { SHAPE_POLYGON, SHAPE_LINE, SHAPE_TEXT, SHAPE_GROUP_START, SHAPE_GROUP_END } ShapeKind;
typedef enum { ALIGN_START, ALIGN_MIDDLE, ALIGN_END, ALIGN_COUNT } TextAlign;
/* How a surface is lit: flat, or as a cylinder that lies level and is lit from above (shading.h). A polygon
 * without fill gives the light and shadow alone, over what is drawn before it; a pointer takes no notice of it.
 * CYLINDER is one of gloss. */
typedef enum { SHADE_FLAT, SHADE_CYLINDER, SHADE_MATT, SHADE_METALLIC, SHADE_GLINT, SHADE_COUNT } Shade;

typedef struct Point {
    double x, y;
} Point;

/* Colours are 0xRRGGBB; NO_COLOUR draws none. */

/* How a polygon with curved edges, or with several parts, is traced: a part begins, a straight edge, each to
 * one point; a cubic Bezier curve, by two handles to its end. Parts are closed and filled where any of
 * them lies, but for one that turns the other way: within others that is a hole (nonzero rule). */
typedef enum { TRACE_BEGIN, TRACE_LINE, TRACE_CURVE } Trace;

/* Where shapes are seen: within the outline, a polygon, and within what that is seen in itself. */
typedef struct Clip Clip;

typedef struct Shape {
    ShapeKind kind;
    const Clip *clip; /* NULL: all of it is seen */
    Point *points;    /* polygon, line */
    uint32_t point_count;
    const unsigned char *traces; /* polygon: a Trace each; NULL for one part with straight edges */
    uint32_t trace_count;
    uint32_t fill, stroke;
    double stroke_width; /* mm */
    Shade shade;
    Point at;      /* text */
    double size;   /* text height in mm */
    double turned; /* text: degrees counter-clockwise round `at`; 90 reads upward */
    TextAlign align;
    const char *text;           /* text: UTF-8; group: its title for people (what a pointer resting on it shows) */
    uint64_t id;                /* group: made from content, 0 for none */
    Span span;                  /* group: the source it comes from; end 0 for none */
    uint32_t place, layer, run; /* group: the run it shows, by its indices in the planned rod */
    uint32_t strand_line; /* group: the crosswrap's strand line, from 1; 0: a whole run. Its run: the field */
} Shape;

struct Clip {
    Shape outline;
    const Clip *within; /* NULL for none */
    uint32_t number;    /* in the drawing, from 0 */
};

typedef struct Drawing {
    double width, height; /* mm */
    const char *title, *description;
    LIST_OF(Shape) shapes;
    uint32_t body; /* number of the first shape of those that a page shows which says the title itself */
    LIST_OF(const Clip *) clips; /* all that shapes have, by their numbers */
    LineMap *lines;              /* of the sources that groups come from; NULL where they come from none */
} Drawing;

/* One rod as a drawing. The side view and the unrolled one have a panel for each place at true scale (times
 * `scale`), with the mark, a ruler in the bench's units, and every run a group of its own: the side view shows the
 * blank's outline with the wraps on it, the unrolled view the surface cut open opposite the place's own angle.
 * The rod and its presentation show all of it on a page `scale` times as wide as usual, with close-ups. The eye's
 * view shows wraps in strips on a page of one width, sharp and as they are seen from near and far.
 * Deterministic. */
Drawing *draw_rod(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale);
/* How wide that is, mm, without drawing it. */
double rod_drawing_width(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale);
/* The same of one section of the rod alone; ALL_SECTIONS for draw_rod and draw_rod_turned. */
Drawing *draw_section(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view, double scale,
                      double facing);
double section_drawing_width(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view,
                             double scale);
/* draw_rod with the blank turned so that this clock angle, in degrees, faces the viewer in the side view of
 * every place without a guide. NAN for what draw_rod shows: the place's own angle where there is a crosswrap,
 * since there its crossings lie; anywhere else 90, the ring being on top.
 *
 * How a crosswrap's picture grows: an area for each strip of strands that touch and come from one `strand`
 * line, on each leg of each start, a turn; so with lines * sides * starts * legs * turns, about 110 bytes of
 * SVG each (unrolled, where there is no taper, 50), whatever the number of strands. Where
 * single strands can be seen at the scale, and are not too many, an area a strand. A thread of several colours
 * takes an area for each length of one colour besides. */
Drawing *draw_rod_turned(Arena *arena, const Plan *plan, uint32_t rod, View view, double scale, double facing);

/* draw_section where the picture will be so many pixels wide: in the views of the whole rod turns narrower than a
 * pixel are drawn as their mean light, cell by cell, each cell a pixel. 0: as many as 96 an inch give. All of it
 * as these eyes see it (draw/eyes.h), and what is said of how fades look, too. */
Drawing *draw_in_pixels(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, View view, double scale,
                        double facing, double pixels, Vision vision);

#endif
