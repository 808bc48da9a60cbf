/* One page more than the library has: the bench sheet as a PDF, which takes cairo and pango. Linked into
 * turnlay-pdf alone; src/cli/no_pdf.c stands in for it elsewhere. */
#ifndef TURNLAY_PDF_PAGE_H
#define TURNLAY_PDF_PAGE_H

#include "turnlay.h"

/* Whether this program can. */
bool pdf_page_is_built_in(void);
/* Like the pages of turnlay.h, on A4 or US letter paper. DONE with an empty page: this machine has no font. */
TurnlayStatus pdf_page_write(TurnlayCompilation *compilation, bool letter, TurnlayText *page);
/* After TOO_LARGE: a small number for the limit. Given to another process that has the same compilation, it makes
 * the same finding there. */
unsigned pdf_page_limit(const TurnlayCompilation *compilation);
void pdf_page_tell_limit(TurnlayCompilation *compilation, unsigned limit);

#endif
