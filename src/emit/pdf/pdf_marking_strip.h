/* Inside the emit room: marking strips at 1:1, to be cut out and laid along the blank. Lengths in mm. */
#ifndef TURNLAY_EMIT_PDF_STRIP_H
#define TURNLAY_EMIT_PDF_STRIP_H

#include "emit/pdf/pdf.h"
#include "words/marking_strip.h"

/* One piece of a strip: what of it is shown, and where on the page. */
typedef struct StripPiece {
    const MarkingStrip *strip;
    double from, to; /* of the strip */
    double y;        /* of its upper edge on the page */
    double label_height;
    uint32_t number, count;
    const char *name;
} StripPiece;

/* Pieces of one strip overlap by so much. */
#define STRIP_OVERLAP 14.0
double piece_height(const StripPiece *piece);
/* The style of the words at marks, and how long they may be. */
extern const Style strip_words;
#define LONGEST_WORDS 60.0
void paper_piece(Paper *paper, const StripPiece *piece, UnitSystem units);

/* A label's place on the strip, and where there is room for it beside its neighbours. */
typedef struct StripLabel {
    double at, shown;
} StripLabel;
/* Spreads labels in rising order so that no two are closer than `apart` and all lie from low to high, each as near
 * to its place as can be (least squares). They must have room: (count - 1) * apart <= high - low. */
void spread_labels(Arena *arena, StripLabel *labels, uint32_t count, double apart, double low, double high);

/* Ticks and numbers from x in the direction, for so long, below y; only those from low to high. */
typedef struct RulerWindow {
    double low, high;
} RulerWindow;
void paper_ruler(Paper *paper, UnitSystem system, double x, double y, int direction, double length,
                 RulerWindow window);
/* How much of the page a ruler is high. */
#define RULER_HEIGHT 5.5
/* The two rulers to prove the printer by, at paper->y, which moves on. */
void paper_proof_rulers(Paper *paper);

/* All strips of all rods, on pages of their own. */
void paper_strips(Paper *paper, const Sheet *sheet, const Bench *bench);

#endif
