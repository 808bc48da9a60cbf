/* Inside the emit room: the bench sheet on paper, by cairo and pango. Lengths in mm from the page's upper left
 * corner, y downward. */
#ifndef TURNLAY_EMIT_PDF_H
#define TURNLAY_EMIT_PDF_H

#include "draw/drawing.h"
#include "draw/inks.h"

#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#define MM_PER_POINT (25.4 / 72)
/* Of every page, above and on both sides; more than printers need. */
#define PDF_MARGIN 10.0
/* Room to write a measured width. */
#define WRITING_LINE 16.0

/* How a text is set. */
typedef struct Style {
    double points;
    bool bold;
    uint32_t bold_bytes; /* of a text that is not bold all through: so many are, from its first on */
    uint32_t colour;
    TextAlign align;
    uint32_t lines; /* no more than so many, the rest cut with an ellipsis; 0 for as many as it takes */
} Style;

/* A text as it was laid out last in its slot. */
typedef struct LaidText {
    PangoLayout *layout; /* NULL: none yet */
    const char *text;    /* as it was given: texts stay as long as the paper */
    Style style;
    double width;
    uint64_t hash;
} LaidText;

/* More than a whole rod has different texts. One takes some kilobytes, and so all at most some dozen megabytes. */
enum { LAID_TEXTS = 8192 };

/* What every row has, boxes to tick and lines that part rows: the pen's colour and width in mm. */
#define RULED_TABLE(X) X(BOX, INK, 0.2) X(PARTING, PALE_INK, 0.1)
typedef enum {
#define X(name, ...) RULED_##name,
    RULED_TABLE(X)
#undef X
        RULED_KINDS
} RuledKind;

/* A box, or of no height a line. */
typedef struct Ruled {
    double x, y, width, height;
} Ruled;

/* A stretch of the PDF's bytes. */
typedef struct Chunk {
    struct Chunk *next;
    size_t length;
    unsigned char bytes[32768];
} Chunk;

/* The pages being printed, and all that has to be given back when memory runs out on the way. */
typedef struct Paper {
    Arena *arena;
    Trap guard; /* stands in for the arena's own trap while this paper holds memory of cairo's */
    Trap *trap; /* the arena's own */
    bool whole; /* all is printed, and the guard was not sprung */
    Chunk *first, *last;
    bool dropping; /* bytes are of no use any more: memory ran out, or the paper is being closed */
    cairo_surface_t *surface;
    cairo_t *pen;
    PangoFontMap *fonts;
    PangoContext *context;
    PangoFontDescription *font;
    LaidText *laid;                    /* LAID_TEXTS slots */
    double width, height;              /* of the page */
    double left, right, top, bottom;   /* of its printed field, without the foot; of the column at hand */
    double y;                          /* how far down it is filled */
    uint32_t columns, column;          /* in how many it is filled, and which is at hand, from 0 */
    double columns_top;                /* where they begin on this page */
    bool counting;                     /* a first round, only to know how many pages there are */
    uint64_t printed;                  /* letters and points of lines, counted in that round */
    Beyond too_much;                   /* what it is beyond with more of them than LIMIT_PRINTED */
    int chapter;                       /* the last heading of level 0, for the list of contents */
    uint32_t page, pages;              /* this one from 1; all, known in the second round */
    LIST_OF(Ruled) ruled[RULED_KINDS]; /* of this page */
    const char *title, *author, *mark;
} Paper;

/* Between the margins, or of the column. */
static inline double paper_width(const Paper *paper) { return paper->right - paper->left; }

/* Memory that runs out between the two must not leave cairo's behind: whoever prints sets paper->guard, says
 * when the whole is there, and closes the paper by ending the guard, which goes on to the arena's own trap where
 * the paper is not whole. */
void paper_start_guard(Paper *paper, Arena *arena);
void paper_end_guard(Paper *paper);
/* Fonts; false if the machine has none. Everything of a paper is released by paper_close, at any time. */
bool paper_open(Paper *paper);
void paper_close(Paper *paper);
/* One round: begin, print, end. Jumps to the arena's trap where cairo fails. */
void paper_begin(Paper *paper, bool counting);
void paper_end(Paper *paper);
/* What is painted on the surface, pixels in memory, as the bytes of a PNG. */
void paper_pack_pixels(Paper *paper);
/* All bytes that were gathered. */
void paper_put(Buffer *out, const Paper *paper);

/* So many letters and points are set: in the first round, before any is drawn, more than LIMIT_PRINTED break off.
 */
void paper_count(Paper *paper, size_t count);
/* Begins a new page; within columns a new column. */
void paper_break(Paper *paper);
/* Begins a new page, or column, unless so much room is left on this one. */
void paper_need(Paper *paper, double height);
/* From paper->y on the field is filled in so many columns of one width, page after page, until they end below the
 * longest. */
void paper_start_columns(Paper *paper, uint32_t columns);
void paper_end_columns(Paper *paper);
void paper_source(Paper *paper, uint32_t colour);
/* Strokes the path, and leaves it as it is; dash: 0 for none. In points of the paper, since in mm each stroke
 * would carry the measure with it, which takes twice as long. */
void paper_stroke_path(Paper *paper, double width, double dash, double gap);
/* Lines of one pen: each traced, then all drawn at once, which takes a tenth of what one by one takes. */
void paper_trace(Paper *paper, double x0, double y0, double x1, double y1);
void paper_stroke(Paper *paper, uint32_t colour, double width);
/* A line alone. */
void paper_line(Paper *paper, double x0, double y0, double x1, double y1, uint32_t colour, double width);
/* Drawn at the page's end, all of a kind at once: nothing may lie over them. */
void paper_ruled(Paper *paper, RuledKind kind, Ruled ruled);
void paper_box(Paper *paper, double x, double y, double width, double height, uint32_t fill, uint32_t stroke);
/* What may be shown of a text, cut where it is too long for any row. All that print texts do this first. */
const char *paper_presentable(Paper *paper, const char *text);
/* The height that a text takes, wrapped to the width (0: one line as long as it is). */
double paper_text_height(Paper *paper, const Style *style, double width, const char *text);
double paper_text_width(Paper *paper, const Style *style, const char *text);
/* Of a text that is broken into lines within the width. */
double paper_last_line_width(Paper *paper, const Style *style, double width, const char *text);
/* Prints it with its upper edge at y and returns its height. x: its left edge where it is wrapped, else the point
 * that it is aligned to. */
double paper_text(Paper *paper, const Style *style, double x, double y, double width, const char *text);
/* The same as one line on a baseline. */
void paper_words(Paper *paper, const Style *style, double x, double baseline, const char *text);
/* A heading at paper->y, which moves on; `below` mm stay together with it. level: in the list of contents, 0 or
 * 1. */
void paper_heading(Paper *paper, const Style *style, int level, const char *text, double below);
/* The same with a title of its own in the list of contents. */
void paper_titled(Paper *paper, const Style *style, int level, const char *title, const char *text, double below);

/* Vertical extent of something drawn, in the drawing; top > bottom for nothing. */
typedef struct Rows {
    double top, bottom;
} Rows;

Rows shape_rows(const Shape *shape);
/* What it counts for in the first round; its light takes as long as so many points. */
void paper_count_shape(Paper *paper, const Shape *shape);
/* Paints it in the pen's own measure, mm of the drawing. */
void paper_shape(Paper *paper, const Shape *shape);
/* A drawing at true size, its upper left corner there. */
void paper_drawing(Paper *paper, const Drawing *drawing, double x, double y);

/* A rod's picture, without the title that the page has already. */
typedef struct Figure {
    const Drawing *drawing;
    uint32_t first; /* shape */
    Rows *rows;     /* of each shape */
    Rows *reach; /* for each shape: the highest top of it and those after it, the lowest bottom of it and before */
    LIST_OF(Rows) gaps; /* that part its rows, from the top down; none much narrower than others */
    double top;         /* of the drawing, where it begins */
    double indent;      /* printed mm from the page's margin */
    double factor;      /* printed mm a mm of the drawing */
} Figure;

/* The whole rod, as wide as that. */
Figure whole_figure_make(Arena *arena, const Plan *plan, uint32_t rod, double width);
/* mm of a page that it takes. */
double figure_height(const Figure *figure);
/* Smaller by that share, in the middle of the page. */
void figure_fit(Figure *figure, double share);
/* Prints it from paper->y on, cut between rows over as many pages as it needs. */
void paper_figure(Paper *paper, const Figure *figure);

#endif
