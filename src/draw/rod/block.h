/* A row of the rod with the close-ups below it. */
#ifndef TURNLAY_DRAW_ROD_BLOCK_H
#define TURNLAY_DRAW_ROD_BLOCK_H

#include "draw/rod/close_up.h"

/* All of it in one line as small as that takes, and below it. */
void draw_overview(RodPage *page);
/* From canvas->y downward. */
void draw_block(RodPage *page, const RodRows *rows, uint32_t row, CloseUps *close_ups);

#endif
