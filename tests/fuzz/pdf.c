/* The bench sheet as a PDF, and a rod's picture as a PNG. */
#include "fuzz.h"
#include "pdf_page.h"

#include <math.h>
#include <string.h>

/* fontconfig keeps what it has found out about fonts to the end of the process. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void) { return "leak:libfontconfig\n"; }

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    TurnlayStatus status;
    Compilation *compilation = fuzz_plan((const char *)bytes, size, &status);
    TurnlayText page;
    if (status == TURNLAY_DONE) {
        status = pdf_page_write(compilation, 1, size % 2, &page);
        if (status != TURNLAY_DONE || page.length < 5 || memcmp(page.bytes, "%PDF-", 5) != 0)
            fuzz_fault("no PDF: %s", turnlay_status_words(status));
        turnlay_text_free(&page);
        TurnlayView view = size / 2 % TURNLAY_VIEW_COUNT;
        status = png_page_write(compilation, 0, view, 1, NAN, 200, &page);
        if (status == TURNLAY_DONE ? page.length < 8 || memcmp(page.bytes, "\x89PNG", 4) != 0
                                   : status != TURNLAY_TOO_LARGE && status != TURNLAY_NO_SUCH_ROD)
            fuzz_fault("no PNG: %s", turnlay_status_words(status));
        turnlay_text_free(&page);
    }
    turnlay_free(compilation);
    return 0;
}
