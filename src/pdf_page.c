#include "pdf_page.h"

#include "compilation.h"
#include "emit/emit.h"

bool pdf_page_is_built_in(void) { return true; }

static TurnlayStatus write_pdf(Compilation *compilation, bool letter, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    const Sheet *sheet = answer_sheet(compilation);
    if (!emit_sheet_pdf(&page, sheet, compilation->plan, letter))
        page.length = 0;
    return answer_hand_over(compilation, &page, text);
}

unsigned pdf_page_limit(const Compilation *compilation) { return compilation->beyond; }

void pdf_page_tell_limit(Compilation *compilation, unsigned limit)
{
    if (limit < BEYOND_COUNT)
        compilation_beyond(compilation, (Beyond)limit);
}

TurnlayStatus pdf_page_write(Compilation *compilation, bool letter, TurnlayText *page)
{
    if (page)
        *page = (TurnlayText){NULL, 0};
    TurnlayStatus status = answer_status(compilation, page, true);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_pdf(compilation, letter, page));
}
