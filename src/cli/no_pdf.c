/* Stands in for src/emit/pdf in the program that is linked without cairo and pango. */
#include "emit/emit.h"

bool sheet_pdf_is_built_in(void) { return false; }

bool emit_sheet_pdf(Buffer *out, const Sheet *sheet, const Plan *plan, bool letter)
{
    (void)out;
    (void)sheet;
    (void)plan;
    (void)letter;
    return false;
}
