/* A whole compilation, with every page of the library; gathered into one file it gives the same plan. */
#include "fuzz.h"

#include "base/limits.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef TurnlayStatus WritePage(Compilation *compilation, TurnlayFormat format, TurnlayText *page);

static void look(const char *name, TurnlayFormat format, TurnlayStatus status, TurnlayText *page)
{
    if (status != TURNLAY_DONE)
        fuzz_fault("%s: %s", name, turnlay_status_words(status));
    fuzz_look_at_page(name, format, *page);
    turnlay_text_free(page);
}

static void look_at_formats(Compilation *compilation, const char *name, WritePage *write, unsigned formats)
{
    TurnlayText page;
    for (TurnlayFormat format = 0; format < TURNLAY_FORMAT_COUNT; format++)
        if (formats & 1u << format)
            look(name, format, write(compilation, format, &page), &page);
}

static TurnlayStatus sheet(Compilation *compilation, TurnlayFormat format, TurnlayText *page)
{
    return turnlay_write_sheet(compilation, format, 1, page);
}

/* From a step in the middle, where threads stand by; and the pictures. */
static void look_at_rods(Compilation *compilation, size_t size)
{
    TurnlayText page;
    TurnlayRod rod;
    for (uint32_t r = 0; turnlay_rod(compilation, r, &rod) == TURNLAY_DONE; r++) {
        uint32_t step = rod.steps ? 1 + (uint32_t)size % rod.steps : 1;
        look("sheet from a step", TURNLAY_TEXT, turnlay_write_sheet(compilation, TURNLAY_TEXT, step, &page),
             &page);
        for (TurnlayView view = 0; view < TURNLAY_VIEW_COUNT; view++)
            look("picture", TURNLAY_TEXT, turnlay_write_drawing(compilation, r, view, 1, NAN, &page), &page);
        if (rod.has_template)
            look("template", TURNLAY_TEXT, turnlay_write_template(compilation, r, &page), &page);
    }
}

/* Of all threads, and between the first and the last, as any eyes see them. */
static void look_at_shades(Compilation *compilation, size_t size)
{
    enum { SHADES = 1u << TURNLAY_TEXT | 1u << TURNLAY_JSON };
    TurnlayText page;
    const Job *job = compilation->job;
    if (job->thread_count > LIMIT_SHADES)
        return;
    for (int round = 0; round < 2; round++) {
        look_at_formats(compilation, "shades", turnlay_write_shades, SHADES);
        look("picture of shades", TURNLAY_TEXT, turnlay_write_shades_drawing(compilation, &page), &page);
        turnlay_show_eyes(compilation, (TurnlayEyes)(size % TURNLAY_EYES_COUNT));
        if (job->thread_count)
            turnlay_show_between(compilation, job->threads[0]->name->bytes,
                                 job->threads[job->thread_count - 1]->name->bytes);
    }
}

static void look_at_gathered(Compilation *compilation)
{
    TurnlayText gathered, need, need_again;
    TurnlayStatus status = turnlay_write_gathered(compilation, &gathered);
    if (status == TURNLAY_TOO_LARGE)
        return;
    Compilation *again = fuzz_plan(gathered.bytes, gathered.length, &status);
    if (status != TURNLAY_DONE)
        fuzz_fault("gathered it has errors:\n%s", gathered.bytes);
    turnlay_write_need(compilation, TURNLAY_JSON, &need);
    turnlay_write_need(again, TURNLAY_JSON, &need_again);
    if (need.length != need_again.length || memcmp(need.bytes, need_again.bytes, need.length) != 0)
        fuzz_fault("gathered it needs other threads:\n%s\n%s\n%s", gathered.bytes, need.bytes, need_again.bytes);
    turnlay_text_free(&gathered);
    turnlay_text_free(&need);
    turnlay_text_free(&need_again);
    turnlay_free(again);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    enum { FINDINGS = 1u << TURNLAY_TEXT | 1u << TURNLAY_JSON | 1u << TURNLAY_TERMINAL };
    enum { TABLES = 1u << TURNLAY_TEXT | 1u << TURNLAY_JSON | 1u << TURNLAY_CSV };
    enum { SHEETS = 1u << TURNLAY_TEXT | 1u << TURNLAY_HTML | 1u << TURNLAY_JSON };
    TurnlayStatus status;
    Compilation *compilation = fuzz_plan((const char *)bytes, size, &status);
    look_at_formats(compilation, "findings", turnlay_write_findings, FINDINGS);
    if (status == TURNLAY_DONE) {
        look_at_formats(compilation, "plan", turnlay_write_plan, TABLES);
        look_at_formats(compilation, "need", turnlay_write_need, TABLES);
        look_at_formats(compilation, "sheet", sheet, SHEETS);
        look_at_rods(compilation, size);
        look_at_shades(compilation, size);
        look_at_gathered(compilation);
    }
    turnlay_free(compilation);
    return 0;
}
