/* Inside the emit room: marking strips at 1:1, to be cut out and laid along the blank. Lengths in mm. */
#ifndef TURNLAY_EMIT_PDF_STRIP_H
#define TURNLAY_EMIT_PDF_STRIP_H

#include "draw/spread.h"
#include "emit/pdf/pdf.h"
#include "words/card.h"
#include "words/marking_strip.h"

/* One piece of a strip: what of it is shown, and where on the page. */
typedef struct StripPiece {
    const MarkingStrip *strip;
    const CardLayer *card; /* whose lines are numbered on it */
    double from, to;       /* of the strip */
    double x, y;           /* of its upper left corner on the page */
    uint32_t number, count;
    const char *name;
} StripPiece;

/* How much of the page a ruler is high. */
#define RULER_HEIGHT 5.5
/* Pieces of one strip overlap by so much. */
#define STRIP_OVERLAP 14.0
#define MARKS_HEIGHT 5.0
#define COLOURS_HEIGHT 4.0
#define LEADERS_HEIGHT 2.4
#define NUMBERS_HEIGHT 3.2
#define NAME_HEIGHT 6.4
#define STRIP_HEIGHT (MARKS_HEIGHT + COLOURS_HEIGHT + LEADERS_HEIGHT + NUMBERS_HEIGHT + RULER_HEIGHT + NAME_HEIGHT)
void paper_piece(Paper *paper, const StripPiece *piece, UnitSystem units);
/* "a 4.00 mm  foot begins; b 44.78 mm": what the marks are that no line's number tells of; "" for none. */
const char *marks_with_letters(Arena *arena, const MarkingStrip *strip);

/* Ticks and numbers from x in the direction, for so long, below y; only those from low to high. */
typedef struct RulerWindow {
    double low, high;
} RulerWindow;
void paper_ruler(Paper *paper, UnitSystem system, double x, double y, int direction, double length,
                 RulerWindow window);
/* The two rulers to prove the printer by, at paper->y, which moves on. */
void paper_proof_rulers(Paper *paper);
/* Begins a page with them. */
void paper_break_to_rulers(Paper *paper);

/* Strips of a card, one for each layer of each of its places, in rows on the page at paper->y, which moves on; two
 * that are short enough side by side, as they lie at the bench. */
typedef struct StripRows {
    MarkingStrip *strips;
    const CardLayer **cards;
    uint32_t count;
    bool turned; /* of feet side by side the first one lies to the right */
} StripRows;
StripRows strip_rows(Arena *arena, const SheetRod *rod, const Card *card, const Bench *bench);
/* The height they take, more than a page where they go on over several. */
double strip_rows_height(const Paper *paper, const StripRows *rows);
void paper_strip_rows(Paper *paper, const StripRows *rows, UnitSystem units);

#endif
