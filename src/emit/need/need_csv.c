#include "emit/csv_page.h"
#include "emit/emit.h"
#include "plan/plan_sums.h"
#include "words/trade_words.h"

static const char *const names[] = {"scope",    "rod",     "place",    "thread",   "pieces", "turns",
                                    "wound_mm", "ends_mm", "total_mm", "spool_mm", "spools", "too_long",
                                    "price",    "cost",    "stock_mm", "left_mm",  "code"};
enum { NAME_COUNT = sizeof names / sizeof *names };

static void put_need(CsvPage *page, const Need *need)
{
    csv_text(page, need->thread->name->bytes);
    csv_whole(page, need->pieces);
    csv_whole(page, need->turns);
    csv_number(page, need->wound);
    csv_number(page, need->ends);
    csv_number(page, need_length(need));
}

static void put_total(CsvPage *page, const Need *need, const Supply *supply)
{
    csv_text(page, "all");
    csv_text(page, "");
    csv_text(page, "");
    put_need(page, need);
    csv_number(page, need->thread->spool);
    csv_number(page, supply->spools);
    csv_whole(page, supply->too_long);
    csv_number(page, need->thread->price);
    csv_number(page, supply->cost);
    csv_number(page, need->thread->stock);
    csv_number(page, stock_left(need, rounding_of_programs()));
    csv_text(page, need->thread->code ? need->thread->code->bytes : "");
    csv_end_line(page);
}

static void put_place_need(CsvPage *page, const Plan *plan, const Need *need)
{
    enum { OF_ALL_ONLY = 8 }; /* what is bought is not shared out to places */
    csv_text(page, "place");
    csv_text(page, plan->rods[need->rod].rod->title->bytes);
    csv_text(page, place_of_need(page->out->arena, plan, need));
    put_need(page, need);
    for (int i = 0; i < OF_ALL_ONLY; i++)
        csv_text(page, "");
    csv_end_line(page);
}

void emit_need_csv(Buffer *out, const Plan *plan)
{
    CsvPage page = {.out = out};
    RoundedNeeds needs = rounded_needs(out->arena, plan, rounding_of_programs());
    csv_names(&page, names, NAME_COUNT);
    for (uint32_t i = 0; i < plan->total_count; i++)
        put_total(&page, &needs.totals[i], &plan->supplies[i]);
    for (uint32_t i = 0; i < plan->need_count; i++)
        put_place_need(&page, plan, &needs.places[i]);
}
