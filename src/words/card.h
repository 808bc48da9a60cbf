/* A card: one place on one page or screen, so that whoever has wrapped before needs no steps for it. Made from the
 * plan and the actions; all strings are UTF-8 in the arena, and what a page says of a place it takes from here. */
#ifndef TURNLAY_WORDS_CARD_H
#define TURNLAY_WORDS_CARD_H

#include "words/sheet.h"

/* A width to be measured, and where. */
typedef struct CardMeasure {
    const char *after; /* "after turn 300" where it stands within a line, counted in the layer; "" at its end */
    const char *width; /* that should be there, from where the layer begins: "9.0 ± 0.2 mm" */
} CardMeasure;

/* How light a turn of a fade is from across the room, and would be in an even fade (NAN beside it): from the
 * darker shade, 0, to the lighter one, 1. along: from the fade's butt end, 0, to its tip end, 1. */
typedef struct CardCourse {
    float along, seen, even;
} CardCourse;

/* A run of a layer in one line, or a fade, whose runs are told in words. */
typedef struct CardLine {
    uint32_t number; /* from 1 in its layer: the same on the strip */
    uint32_t first_run, run_count;
    const Strands *strands, *into; /* what is wound; of a fade the old and the new one; NULL for none */
    const char *count;             /* "60"; of a gap its width, "3.00 mm" */
    const char *thread;            /* "navy", "navy to slate", "navy and mist together", "gap" */
    const char *how;               /* how each piece comes in and goes out; "" for a gap */
    const char *look; /* how even a fade looks, "" where the layer said so of an equal one, and of all else */
    const CardCourse *course; /* where look is said and the shades differ in lightness: rising; NULL for none */
    uint32_t course_count;
    const char *end; /* where its last turn lies, from the mark: "8.96 mm" */
    LIST_OF(CardMeasure) measures;
} CardLine;

typedef struct CardLayer {
    uint32_t parts[2];   /* of the rod's parts: of each place of the card */
    const char *heading; /* "Layer 2 of 2, overwrap: 86 turns, 31.63 mm wide, begins 4.00 mm from the mark" */
    const char *setting; /* of a crosswrap, what is set out; else "" */
    CardLine *lines;
    uint32_t line_count;
    const char *after; /* what is done before the next layer, "Seal ..."; "" for nothing */
} CardLayer;

typedef struct Card {
    const char *heading; /* "320 mm from the butt, toward the tip", "ring16 at 1500 mm from the tip, both feet" */
    uint32_t place, place_count; /* of the rod's places: two where the feet of a guide are wound alike */
    const char *marks[2];        /* of each place: where its mark is, which way it is worked */
    const char *before;          /* what else is done before the first turn; "" for nothing */
    CardLayer *layers;           /* of the first place */
    uint32_t layer_count;
    uint32_t loops; /* that lie at once */
    CutLine *cuts;  /* of all of its places */
    uint32_t cut_count;
} Card;

/* Those cuts, which are put in another order, with equal ones on one line; room for one more is left. */
CutLine *cut_lines(Arena *arena, SheetCut *cuts, uint32_t count, uint32_t *line_count);
/* Index of the card that the place stands on. */
uint32_t card_of_place(const SheetRod *rod, uint32_t place);

#endif
