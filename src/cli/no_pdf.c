/* Stands in for src/pdf_page.c in the program that is linked without cairo and pango. */
#include "pdf_page.h"

bool pdf_page_is_built_in(void) { return false; }

TurnlayStatus pdf_page_write(TurnlayCompilation *compilation, uint32_t from_step, bool letter, TurnlayText *page)
{
    (void)compilation;
    (void)from_step;
    (void)letter;
    (void)page;
    return TURNLAY_WRONG_VALUE;
}

TurnlayStatus png_page_write(TurnlayCompilation *compilation, uint32_t rod, TurnlayView view, double scale,
                             double facing, uint32_t width, TurnlayText *page)
{
    (void)compilation;
    (void)rod;
    (void)view;
    (void)scale;
    (void)facing;
    (void)width;
    (void)page;
    return TURNLAY_WRONG_VALUE;
}

TurnlayStatus shades_png_write(TurnlayCompilation *compilation, uint32_t width, TurnlayText *page)
{
    (void)compilation;
    (void)width;
    (void)page;
    return TURNLAY_WRONG_VALUE;
}

unsigned pdf_page_limit(const TurnlayCompilation *compilation)
{
    (void)compilation;
    return 0;
}

void pdf_page_tell_limit(TurnlayCompilation *compilation, unsigned limit)
{
    (void)compilation;
    (void)limit;
}
