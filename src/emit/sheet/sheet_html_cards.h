/* Inside the emit room: the cards of places on the bench sheet's page. */
#ifndef TURNLAY_EMIT_SHEET_SHEET_HTML_CARDS_H
#define TURNLAY_EMIT_SHEET_SHEET_HTML_CARDS_H

#include "base/buffer.h"
#include "words/card.h"

/* A place's card as a section of the page; its id is "r1c2" of section 1 of the page and card 2 of the rod. */
void html_card(Buffer *out, const SheetRod *rod, const Card *card, const Bench *bench, uint32_t section,
               uint32_t number);

#endif
