/* Stands in for src/pdf_page.c in the program that is linked without cairo and pango. */
#include "pdf_page.h"

bool pdf_page_is_built_in(void) { return false; }

TurnlayStatus pdf_page_write(TurnlayCompilation *compilation, bool letter, TurnlayText *page)
{
    (void)compilation;
    (void)letter;
    (void)page;
    return TURNLAY_WRONG_VALUE;
}
