/* Inside the emit room: wrap-around templates at 1:1, on pages of their own. */
#ifndef TURNLAY_EMIT_PDF_TEMPLATE_H
#define TURNLAY_EMIT_PDF_TEMPLATE_H

#include "emit/pdf/pdf.h"
#include "words/sheet.h"

/* Of all crosswraps of all rods, with rulers on every page; nothing where there is none. */
void paper_templates(Paper *paper, const Sheet *sheet, const Plan *plan);

#endif
