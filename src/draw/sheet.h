/* What the files of this room share: the sheet being drawn, its pens and letters. Page positions are mm from the
 * sheet's upper left corner, y downward; axial positions are mm from the butt. */
#ifndef TURNLAY_DRAW_SHEET_H
#define TURNLAY_DRAW_SHEET_H

#include "draw/drawing.h"
#include "draw/lines.h"
#include "draw/outline.h"

/* The sheet's own colours, apart from those of threads. */
enum {
    PAPER = 0xffffff, INK = 0x1f2328, GREY_INK = 0x5c636b, PALE_INK = 0xaab0b6, DATUM_INK = 0xb3261e,
    TUBE = 0x3d4043, STEEL = 0xb9bec4, STEEL_EDGE = 0x7b828a
};

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
    uint64_t *slots;         /* 0 for empty */
    uint64_t mask;
} Ids;

typedef struct Sheet {
    Arena *arena;
    Drawing *drawing;
    const Plan *plan;
    const PlannedRod *rod;
    View view;
    double scale;            /* page mm a mm of the rod */
    double type;             /* how much larger than at true scale letters and marks are */
    bool texture;            /* single turns may be drawn */
    UnitSystem units;
    Lines lines;
    Ids ids;
    Buffer words;            /* used again for every text */
    double y;                /* how far down the sheet is filled */
} Sheet;

/* Where a panel's rod lies on the page. */
typedef struct Frame {
    double left, low;        /* page x of the axial position low */
    double axis;             /* page y of the rod's axis */
    double scale;            /* page mm a mm along */
    double across;           /* page mm a mm of radius: the scale, or pi times it for the unrolled surface */
} Frame;

double frame_x(const Frame *frame, double axial);

/* Shapes. Points are copied. */
void draw_polygon(Sheet *sheet, const Point *points, uint32_t count, uint32_t fill, Shade shade);
void draw_rectangle(Sheet *sheet, double x, double y, double width, double height, uint32_t fill, uint32_t stroke);
void draw_path(Sheet *sheet, const Point *points, uint32_t count, uint32_t colour, double width);
void draw_line(Sheet *sheet, double x0, double y0, double x1, double y1, uint32_t colour, double width);
void draw_text(Sheet *sheet, double x, double y, double size, TextAlign align, uint32_t colour, const char *text);
/* The polygon between an outline's upper and lower edges. */
void draw_outline(Sheet *sheet, const Frame *frame, const Outline *outline, uint32_t fill, Shade shade);
/* Room that a text takes, estimated generously: no font is at hand. */
double text_width(const char *text, double size);
/* The text cut after so many characters, with "..." for the rest. */
const char *fitted(Arena *arena, const char *text, uint32_t characters);
/* The words gathered in sheet->words, which is emptied. */
const char *take_words(Sheet *sheet);

/* The names of threads wound together, joined by " + ", spacers said to be such; "gap" for none. */
void put_thread_names(Buffer *words, const Strands *strands);

/* Draws the runs of one layer, each a group. label: the place's name, which goes into the ids. */
void draw_layer(Sheet *sheet, const Frame *frame, const Surface *surface, const PlannedPlace *place,
                uint32_t layer, const char *label);
/* Ticks at the edges of a layer's bands from page y down to y + height, with names and turns where they fit. */
void draw_bands(Sheet *sheet, const Frame *frame, const PlannedLayer *layer, double y, double height);
/* A ruler in the bench's units whose zero lies at the axial position datum and which runs in the direction for
 * `length` mm of the rod; page y is its upper edge. */
void draw_ruler(Sheet *sheet, const Frame *frame, double datum, int direction, double length, double y);
/* Height of a ruler with its numbers. */
double ruler_height(const Sheet *sheet);

/* Draws the panels from sheet->y downward. left: page x of pictures. */
void draw_panels(Sheet *sheet, double left);
/* Widest panel's picture and widest heading, in page mm. */
double panels_width(Sheet *sheet);
double headings_width(Sheet *sheet);

#endif
