/* Inside the emit room: cards on paper, each on a page or less of it. */
#ifndef TURNLAY_EMIT_PDF_CARDS_H
#define TURNLAY_EMIT_PDF_CARDS_H

#include "emit/pdf/pdf.h"
#include "words/card.h"

/* Those of a section, from a new page on. how: tell what the strips on them are for. */
void paper_cards(Paper *paper, const SheetRod *rod, const SheetSection *section, const Bench *bench, bool how);

#endif
