/* The rod in rows of one scale, as a page needs it. */
#ifndef TURNLAY_DRAW_ROD_ROWS_H
#define TURNLAY_DRAW_ROD_ROWS_H

#include "draw/rod/rod_page.h"

typedef struct RodRow {
    double from, to; /* along the axis */
} RodRow;

typedef struct RodRows {
    RodRow *items;
    uint32_t count;
    double scale; /* page mm a mm of the rod */
} RodRows;

/* Broken where nothing is wound and no guide stands, if there is such a place near an even share. */
RodRows rows_make(const RodPage *page);
/* Number of the row in which a place on the rod lies. */
uint32_t row_at(const RodRows *rows, double x);

#endif
