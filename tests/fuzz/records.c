/* The bytes as the record of a job, and as that of another one that it learns from: findings, or every page of it.
 */
#include "fuzz.h"

#include <string.h>

/* Widths are measured in some of its steps, threads begin and end; the records of the corpus are its own. */
static const char job[] = "edition 1\n"
                          "thread navy { turns: 67 per cm }\n"
                          "thread slate { turns: 66 per cm }\n"
                          "bench { units: mm, measure: 60 turns }\n"
                          "blank tube { at 0 mm: 12 mm  at 100 cm: 6 mm }\n"
                          "rod \"Merrow\" on tube { at 20 cm length: 40 mm {\n"
                          "    band 20 mm of navy  gap 1 mm  band fill of slate } }\n";

/* Marks lie in the record or in the job; and chapter T7 is not silent about what it refuses. */
static void look_at_findings(Compilation *compilation, size_t size)
{
    TurnlayFinding finding;
    for (uint32_t i = 0; turnlay_finding(compilation, i, &finding) == TURNLAY_DONE; i++) {
        bool of_record = strcmp(finding.at.file, FUZZ_PATH) == 0;
        if (finding.at.start > finding.at.end || finding.at.end > (of_record ? size : sizeof job))
            fuzz_fault("%s marks %u to %u of %zu bytes", finding.code, finding.at.start, finding.at.end, size);
        if (!*finding.message || !*finding.mend || finding.has_edit)
            fuzz_fault("%s says nothing, or edits a record", finding.code);
    }
}

static void look_at_pages(Compilation *compilation)
{
    static const TurnlayFormat formats[] = {TURNLAY_TEXT, TURNLAY_HTML, TURNLAY_JSON};
    for (size_t i = 0; i < sizeof formats / sizeof *formats; i++) {
        TurnlayText page;
        TurnlayStatus status = turnlay_write_sheet(compilation, formats[i], 0, &page);
        if (status != TURNLAY_DONE)
            fuzz_fault("sheet: %s", turnlay_status_words(status));
        fuzz_look_at_page("sheet", formats[i], page);
        turnlay_text_free(&page);
    }
}

typedef TurnlayStatus TakeRecord(Compilation *compilation, const char *path, const char *bytes, size_t length);

static void go(const char *bytes, size_t size, TakeRecord *take)
{
    Compilation *compilation = turnlay_new();
    if (!compilation || turnlay_give(compilation, "job.lay", job, strlen(job)) != TURNLAY_DONE)
        fuzz_fault("no job");
    if (take(compilation, FUZZ_PATH, bytes, size) != TURNLAY_DONE)
        fuzz_fault("no record is taken");
    TurnlayStatus status = turnlay_finish(compilation);
    if (status != TURNLAY_DONE && status != TURNLAY_HAS_ERRORS)
        fuzz_fault("turnlay_finish: %s", turnlay_status_words(status));
    look_at_findings(compilation, size);
    TurnlayText page;
    if (turnlay_write_findings(compilation, TURNLAY_TEXT, &page) != TURNLAY_DONE)
        fuzz_fault("no findings");
    fuzz_look_at_page("findings", TURNLAY_TEXT, page);
    turnlay_text_free(&page);
    if (status == TURNLAY_DONE)
        look_at_pages(compilation);
    turnlay_free(compilation);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    go((const char *)bytes, size, turnlay_record);
    go((const char *)bytes, size, turnlay_learn_from);
    return 0;
}
