/* Inside the words room: what makes cards. */
#ifndef TURNLAY_WORDS_CARD_MAKER_H
#define TURNLAY_WORDS_CARD_MAKER_H

#include "words/card.h"
#include "words/sheet_maker.h"

/* The lines of a layer, which is what the part is about; its windings are so many of the rod's. */
void card_lines(SheetMaker *maker, const SheetPart *part, uint32_t first_winding, uint32_t winding_count,
                CardLayer *card);
/* The same of a crosswrap: what its field's line says, and what is set out before. */
void card_crosswrap(SheetMaker *maker, const SheetPart *part, CardLayer *card);

#endif
