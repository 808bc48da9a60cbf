#include "pdf_page.h"

#include "compilation.h"
#include "emit/emit.h"

bool pdf_page_is_built_in(void) { return true; }

static TurnlayStatus write_pdf(Compilation *compilation, uint32_t from_step, bool letter, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    uint32_t from = answer_from(compilation, from_step);
    Sheet *sheet = answer_sheet(compilation);
    sheet_begin_at(page.arena, sheet, from);
    if (!emit_sheet_pdf(&page, sheet, compilation->plan, from, letter))
        page.length = 0;
    return answer_hand_over(compilation, &page, text);
}

static TurnlayStatus write_png(Compilation *compilation, const DrawingAsked *asked, uint32_t width,
                               TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    if (!emit_drawing_png(&page, answer_drawing(compilation, asked), width))
        page.length = 0;
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus png_page_write(Compilation *compilation, uint32_t rod, TurnlayView view, double scale, double facing,
                             uint32_t width, TurnlayText *page)
{
    DrawingAsked asked = {rod, view, scale, facing, width, width ? 0 : PNG_PIXELS_A_MM};
    TurnlayStatus status = drawing_status(compilation, &asked, page);
    if (status != TURNLAY_DONE)
        return status;
    if (width && (width < PNG_LEAST_WIDTH || width > PNG_GREATEST_WIDTH))
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, write_png(compilation, &asked, width, page));
}

static TurnlayStatus write_shades_png(Compilation *compilation, uint32_t width, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    if (!emit_drawing_png(&page, answer_shades_drawing(compilation), width))
        page.length = 0;
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus shades_png_write(Compilation *compilation, uint32_t width, TurnlayText *page)
{
    TurnlayStatus status = shades_status(compilation, page);
    if (status != TURNLAY_DONE)
        return status;
    if (width && (width < PNG_LEAST_WIDTH || width > PNG_GREATEST_WIDTH))
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, write_shades_png(compilation, width, page));
}

unsigned pdf_page_limit(const Compilation *compilation) { return compilation->beyond; }

void pdf_page_tell_limit(Compilation *compilation, unsigned limit)
{
    if (limit < BEYOND_COUNT)
        compilation_beyond(compilation, (Beyond)limit);
}

TurnlayStatus pdf_page_write(Compilation *compilation, uint32_t from_step, bool letter, TurnlayText *page)
{
    if (page)
        *page = (TurnlayText){NULL, 0};
    TurnlayStatus status = answer_status(compilation, page, true);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_pdf(compilation, from_step, letter, page));
}
