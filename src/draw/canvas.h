/* What the files of this room share: the canvas being drawn, its pens and letters. Page positions are mm from the
 * canvas's upper left corner, y downward; axial positions are mm from the butt. */
#ifndef TURNLAY_DRAW_CANVAS_H
#define TURNLAY_DRAW_CANVAS_H

#include "draw/area.h"
#include "draw/drawing.h"
#include "draw/inks.h"
#include "draw/picture/outline.h"

/* What a picture says where strands show less than they do on the rod. */
#define NOTE_SOLID "Strands are drawn as if they hid all below: what shows through them would be too much to draw."
#define NOTE_MEAN "Strands through which something shows are drawn in the mean of their colours."

/* Heights of letters in mm at true scale. */
#define LETTERS_TITLE 5.0
#define LETTERS_HEADING 3.0
#define LETTERS_TEXT 2.4
#define LETTERS_SMALL 2.0
/* Pens in mm. */
#define PEN_FINE 0.1
#define PEN 0.16
/* Left and right of every picture: room for words beside it. */
#define GUTTER 15.0
#define MARGIN 8.0

/* Ids given out so far: no two groups of a drawing share one. */
typedef struct Ids {
    uint64_t *slots; /* 0 for empty */
    uint64_t mask;
} Ids;

/* What is said above the picture of a place. */
typedef struct Heading {
    const char *label;
    LIST_OF(const char *) facts; /* in as many lines as it takes */
    double width;                /* of the widest line, page mm */
} Heading;

typedef struct WoundBefore WoundBefore;
typedef struct Below Below; /* draw/picture/through.h */

/* Thread that hides only a part of what it lies on. */
typedef struct Tint {
    uint32_t colour;
    double opacity;
    const struct Tint *over; /* what lies on it; NULL for nothing */
} Tint;

typedef struct Canvas {
    Arena *arena;
    Drawing *drawing;
    const Plan *plan;
    const PlannedRod *rod;
    uint32_t section; /* the one that is drawn, or ALL_SECTIONS */
    View view;
    double scale; /* page mm a mm of the rod */
    double type;  /* how much larger than at true scale letters and marks are */
    bool sheens;  /* something has another sheen than gloss */
    bool texture; /* single turns may be drawn */
    bool blended; /* threads of several colours are drawn in their mean: they would be too many parts */
    bool solid_through, mean_through; /* strands were drawn that hide all they lie on, though threads do not; or in
                                         the mean of their colours, so that something shows through them */
    double facing;                    /* degrees, as in draw_rod_turned */
    uint32_t ramp_slices;             /* in which light follows the ramp of a foot */
    double lean;                      /* of the guide that is drawn now, as in OutlineCut */
    Heading *headings;                /* one a place */
    const WoundBefore *wound;         /* NULL where no thread of several colours is used */
    UnitSystem units;
    Ids ids;
    bool backdrop;                /* what is drawn now has its own picture elsewhere: no groups */
    double shown_low, shown_high; /* no wraps are drawn beyond these, along the axis */
    const Clip *clip;             /* in which shapes are drawn now; NULL for none */
    const Tint *tint;             /* through which they are seen now; NULL for none */
    Area area;                    /* used again for every area; empty in between */
    Buffer words;                 /* used again for every text */
    double y;                     /* how far down the canvas is filled */
} Canvas;

/* Where a place's view lies on the page. */
typedef struct Frame {
    double left, low; /* page x of the axial position low */
    double axis;      /* page y of the rod's axis */
    double scale;     /* page mm a mm along */
    double across;    /* page mm a mm of radius: the scale, or pi times it for the unrolled surface */
    double facing;    /* clock angle in the middle of the picture, turns */
    double shown;     /* of a turn on either side of it: a quarter, or unrolled a half */
} Frame;

/* Whether the place is drawn: it is of the section that was asked for. */
bool is_shown(const Canvas *canvas, const PlannedPlace *place);
double frame_x(const Frame *frame, double axial);
/* Page y of a point so many turns on from the middle of the picture, -shown to shown, and so far from the rod's
 * axis. */
double frame_y(const Frame *frame, double turns, double radius);

/* Shapes. Points are copied. */
void draw_polygon(Canvas *canvas, const Point *points, uint32_t count, uint32_t fill, Shade shade);
void draw_rectangle(Canvas *canvas, double x, double y, double width, double height, uint32_t fill,
                    uint32_t stroke);
void draw_path(Canvas *canvas, const Point *points, uint32_t count, uint32_t colour, double width);
void draw_line(Canvas *canvas, double x0, double y0, double x1, double y1, uint32_t colour, double width);
void draw_text(Canvas *canvas, double x, double y, double size, TextAlign align, uint32_t colour,
               const char *text);
/* The polygon between an outline's upper and lower edges. */
void draw_outline(Canvas *canvas, const Frame *frame, const Outline *outline, uint32_t fill, Shade shade);
/* canvas->area, which is empty then. Nothing if it is already. */
void draw_area(Canvas *canvas, uint32_t fill, uint32_t stroke, double width);
/* What is drawn next is seen only within canvas->area, which is empty then; until canvas->clip is set back. */
void clip_start(Canvas *canvas);
/* Room that a text takes, estimated generously: no font is at hand. */
double text_width(const char *text, double size);
/* The text cut after so many characters, with "..." for the rest. */
const char *fitted(Arena *arena, const char *text, uint32_t characters);
/* A name as it is read: its underscores are blanks. The text itself where it has none. */
const char *name_read(Arena *arena, const char *name);
/* The words gathered in canvas->words, which is emptied. */
const char *take_words(Canvas *canvas);

/* The threads that the canvas's rod uses, in the order of declaration. */
typedef struct Legend {
    const Thread **threads;
    const char **words; /* name, colours and pitch of each */
    uint32_t count;
    double width; /* of the longest words, page mm */
} Legend;
Legend legend_make(Canvas *canvas);
/* All colours of a thread, side by side. */
void draw_swatch(Canvas *canvas, const Thread *thread, double x, double y, double width, double height);
/* In columns, from canvas->y downward. */
void draw_legend(Canvas *canvas, const Legend *legend);

/* The names of threads wound together, joined by " + ", spacers said to be such; "gap" for none. */
void put_thread_names(Buffer *words, const Strands *strands);

/* Groups: what is drawn between start and end is one part of the rod. content: a hash of what it shows. */
uint64_t hash_number(uint64_t hash, uint64_t number);
/* A text with its closing NUL, so that two texts in a row cannot be mistaken for two others. */
uint64_t hash_string(uint64_t hash, const char *text);
Shape *group_start(Canvas *canvas, const PlannedPlace *place, uint32_t layer, uint32_t run, Span span,
                   uint64_t content);
void group_end(Canvas *canvas);
/* The colour of the lines between neighbouring turns. */
uint32_t groove_colour(uint32_t colour);
/* Turns narrower than this on the page, mm, are not drawn one by one: common practice, no source. */
#define VISIBLE_TURN 0.35
/* How far what is painted first goes on below what covers it, page mm: more than a dot of any screen or
 * printer: common practice, no source. */
#define LAP 0.3

/* What a thread is painted with at first: its colour, the first where it has several, or their mean. */
uint32_t ground_colour(const Canvas *canvas, const Thread *thread);
/* The strands of a layer's crosswrap, a group for each of its `strand` lines, on what lies below the layer.
 * content: a hash of the layer. */
void draw_crosswrap(Canvas *canvas, const Below *below, uint64_t content);
/* About in how many parts a place is painted, with what it lies on. */
double place_parts(const PlannedPlace *place);
/* "3 crossings"; of a spiral the turns of a strand in the field, "2.5 turns". */
void put_crossings(Buffer *words, const PlannedCrosswrap *planned);
/* The line of crossings nearest to a clock angle in turns; the crosswrap has one. */
uint32_t nearest_line(const PlannedCrosswrap *planned, double turn);

/* Draws the runs of one layer, each a group. label: the place's name, which goes into the ids. */
void draw_layer(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place,
                uint32_t layer, const char *label);
/* Ticks at the edges of a layer's bands from page y down to y + height, with names and turns where they fit. */
void draw_bands(Canvas *canvas, const Frame *frame, const PlannedLayer *layer, double y, double height);
/* A ruler in the bench's units whose zero lies at the axial position datum and which runs in the direction for
 * `length` mm of the rod; page y is its upper edge. */
void draw_ruler(Canvas *canvas, const Frame *frame, double datum, int direction, double length, double y);
/* Height of a ruler with its numbers. */
double ruler_height(const Canvas *canvas);

/* What every picture of a rod begins with. A scale that is none counts as 1. */
Canvas canvas_start(Arena *arena, const Plan *plan, const PlannedRod *rod, uint32_t section, View view,
                    double scale, double facing);
/* "Harbour by Shop copy; file id 600d-307a-5bcd" */
const char *picture_origin(Canvas *canvas);
/* Whether there is anything to be drawn of the rod. */
bool is_drawn(const Canvas *canvas);
/* The paper, under all that follows; its height is set when it is known. */
void draw_paper(Canvas *canvas);
void cut_paper(Canvas *canvas, double height);

/* Draws the views of places from canvas->y downward. left: page x of pictures. */
void draw_place_views(Canvas *canvas, double left);
/* Makes canvas->headings. */
void headings_make(Canvas *canvas);
/* Of the widest picture of a place or its heading, page mm. gutter: of pictures, on either side. */
double place_views_width(const Canvas *canvas, double gutter);

#endif
