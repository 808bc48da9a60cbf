/* Two pages more than the library has, which take cairo and pango: the bench sheet as a PDF, and a picture as a
 * PNG. Linked into turnlay-pdf alone; src/cli/no_pdf.c stands in for them elsewhere. */
#ifndef TURNLAY_PDF_PAGE_H
#define TURNLAY_PDF_PAGE_H

#include "turnlay.h"

/* Whether this program can. */
bool pdf_page_is_built_in(void);
/* Like the pages of turnlay.h, on A4 or US letter paper. DONE with an empty page: this machine has no font. */
TurnlayStatus pdf_page_write(TurnlayCompilation *compilation, uint32_t from_step, bool letter, TurnlayText *page);

/* Pixels that a PNG may be wide. */
enum { PNG_LEAST_WIDTH = 16, PNG_GREATEST_WIDTH = 32767 };
/* Like turnlay_write_drawing, so many pixels wide; 0: as many as letters need. Empty without a font, too. */
TurnlayStatus png_page_write(TurnlayCompilation *compilation, uint32_t rod, TurnlayView view, double scale,
                             double facing, uint32_t width, TurnlayText *page);

/* Like turnlay_write_shades_drawing, likewise. */
TurnlayStatus shades_png_write(TurnlayCompilation *compilation, uint32_t width, TurnlayText *page);

/* After TOO_LARGE: a small number for the limit. Given to another process that has the same compilation, it makes
 * the same finding there. */
unsigned pdf_page_limit(const TurnlayCompilation *compilation);
void pdf_page_tell_limit(TurnlayCompilation *compilation, unsigned limit);

#endif
