#include "emit/emit.h"
#include "emit/json_page.h"
#include "plan/ways.h"
#include "words/trade_words.h"

static void put_need(JsonPage *page, const Need *need)
{
    page_text(page, "thread", need->thread->name->bytes);
    page_whole(page, "pieces", need->pieces);
    page_whole(page, "turns", need->turns);
    page_number(page, "wound_mm", need->wound);
    page_number(page, "ends_mm", need->ends);
    page_number(page, "total_mm", need_length(need));
}

static void put_total(JsonPage *page, const Job *job, const Need *need, const Supply *supply)
{
    page_open_flat(page, NULL, '{');
    put_need(page, need);
    if (need->lost > 0)
        page_number(page, "lost_mm", need->lost);
    page_number(page, "spool_mm", need->thread->spool);
    page_number(page, "spools", supply->spools);
    page_whole(page, "too_long", supply->too_long);
    page_number(page, "price", need->thread->price);
    page_number(page, "cost", supply->cost);
    page_number(page, "stock_mm", need->thread->stock);
    page_number(page, "left_mm", stock_left(need, rounding_of_programs()));
    if (need->thread->code)
        page_text(page, "code", need->thread->code->bytes);
    if (thread_lot(job, need->thread))
        page_text(page, "lot", thread_lot(job, need->thread));
    page_close(page, '}');
}

static void put_place_need(JsonPage *page, const Plan *plan, const Need *need)
{
    page_open_flat(page, NULL, '{');
    page_text(page, "rod", plan->rods[need->rod].rod->title->bytes);
    page_text(page, "place", place_of_need(page->out->arena, plan, need));
    put_need(page, need);
    page_close(page, '}');
}

static void put_ways(JsonPage *page, const BenchPlan *bench)
{
    Ways ways = plan_ways(page->out->arena, bench->plan, rounding_of_programs());
    page_open(page, "ways", '[');
    for (Preference prefer = 0; prefer < PREFER_COUNT; prefer++) {
        const WorkSums *sums = &ways.by[prefer];
        page_open_flat(page, NULL, '{');
        page_text(page, "prefer", preference_word(prefer));
        page_truth(page, "chosen", prefer == bench->plan->job->bench.prefer);
        page_whole(page, "pieces", sums->pieces);
        page_whole(page, "ends", 2 * sums->pieces);
        page_whole(page, "hand_turns", sums->hand_turns);
        page_number(page, "ends_mm", sums->waste);
        page_number(page, "minutes", minutes_of_way(bench, &ways, prefer));
        page_close(page, '}');
    }
    page_close(page, ']');
}

void emit_need_json(Buffer *out, const BenchPlan *bench)
{
    const Plan *plan = bench->plan;
    JsonPage page;
    RoundedNeeds needs = rounded_needs(out->arena, plan, rounding_of_programs());
    page_start(&page, out);
    page_open(&page, NULL, '{');
    page_head(&page, "turnlay need", plan->job);
    page_open(&page, "threads", '[');
    for (uint32_t i = 0; i < plan->total_count; i++)
        put_total(&page, plan->job, &needs.totals[i], &plan->supplies[i]);
    page_close(&page, ']');
    page_open(&page, "places", '[');
    for (uint32_t i = 0; i < plan->need_count; i++)
        put_place_need(&page, plan, &needs.places[i]);
    page_close(&page, ']');
    CostInAll all = cost_in_all(plan);
    page_number(&page, "cost", all.cost);
    page_whole(&page, "cost_not_known", all.not_known);
    page_whole(&page, "turns", plan->turns);
    page_number(&page, "finish_ml", plan->finish_volume / 1000); /* 1 ml = 1000 mm3 */
    page_number(&page, "minutes", bench->minutes);
    put_ways(&page, bench);
    page_close(&page, '}');
    page_end(&page);
}
