/* The bench sheet as a PDF. */
#include "fuzz.h"
#include "pdf_page.h"

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
        status = pdf_page_write(compilation, size % 2, &page);
        if (status != TURNLAY_DONE || page.length < 5 || memcmp(page.bytes, "%PDF-", 5) != 0)
            fuzz_fault("no PDF: %s", turnlay_status_words(status));
        turnlay_text_free(&page);
    }
    turnlay_free(compilation);
    return 0;
}
