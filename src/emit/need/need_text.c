#include "base/visible.h"
#include "emit/emit.h"
#include "emit/text_page.h"
#include "plan/ways.h"
#include "words/trade_words.h"

#include <inttypes.h>
#include <math.h>

/* Columns: thread (it grows with the names), pieces, turns, and three lengths. */
enum { THREAD_COLUMNS = 20, PIECES_COLUMNS = -8, TURNS_COLUMNS = -10, LENGTH_COLUMNS = -13 };
/* And of the table of ways to work. */
enum { PREFER_COLUMNS = 20, ENDS_COLUMNS = -8, HAND_TURNS_COLUMNS = -10, TIME_COLUMNS = -14 };

static int widest_thread(const Plan *plan)
{
    int widest = THREAD_COLUMNS;
    for (uint32_t i = 0; i < plan->total_count; i++) {
        int width = text_columns(plan->totals[i].thread->name->bytes);
        widest = width > widest ? width : widest;
    }
    return widest;
}

static void put_titles(TextPage *page, int thread_columns)
{
    static const struct {
        const char *title;
        int columns;
    } titles[] = {{"pieces", PIECES_COLUMNS},
                  {"turns", TURNS_COLUMNS},
                  {"wound", LENGTH_COLUMNS},
                  {"tags, ends", LENGTH_COLUMNS},
                  {"in all", LENGTH_COLUMNS}};
    buffer_column(page->out, "thread", thread_columns);
    for (size_t i = 0; i < sizeof titles / sizeof *titles; i++)
        buffer_column(page->out, titles[i].title, titles[i].columns);
    buffer_text(page->out, "\n");
}

static const char *thread_length(TextPage *page, double mm)
{
    return show_thread_length(page->out->arena, page->units, mm);
}

static void put_need(TextPage *page, const Need *need, int thread_columns)
{
    buffer_column(page->out, need->thread->name->bytes, thread_columns);
    buffer_format(&page->cell, "%" PRIu32, need->pieces);
    text_cell(page, PIECES_COLUMNS);
    if (need->turns) /* strands alone make none */
        buffer_format(&page->cell, "%" PRIu64, need->turns);
    else
        buffer_text(&page->cell, "-");
    text_cell(page, TURNS_COLUMNS);
    buffer_column(page->out, thread_length(page, need->wound), LENGTH_COLUMNS);
    buffer_column(page->out, thread_length(page, need->ends), LENGTH_COLUMNS);
    buffer_column(page->out, thread_length(page, need_length(need)), LENGTH_COLUMNS);
    buffer_text(page->out, "\n");
}

static void put_spools(TextPage *page, const Thread *thread, const Supply *supply)
{
    if (supply->too_long)
        buffer_format(page->out, "  %" PRIu32 " %s longer than a spool: a longer one is needed for %s\n",
                      supply->too_long, supply->too_long == 1 ? "piece is" : "pieces are",
                      supply->too_long == 1 ? "it" : "them");
    if (supply->spools == 0)
        return;
    buffer_text(page->out, supply->too_long ? "  to buy beside that: " : "  to buy: ");
    buffer_number(page->out, supply->spools, 0);
    buffer_format(page->out, " %s of %s", supply->spools == 1 ? "spool" : "spools",
                  thread_length(page, thread->spool));
    if (!isnan(supply->cost)) {
        buffer_text(page->out, ", cost ");
        buffer_number(page->out, supply->cost, 2);
    }
    buffer_text(page->out, "\n");
}

/* Under the thread's line: its code, what to buy, and what the stock leaves. */
static void put_supply(TextPage *page, const Need *need, const Supply *supply)
{
    const Thread *thread = need->thread;
    if (thread->code)
        buffer_format(page->out, "  maker's code: %s\n", visible(page->out->arena, thread->code->bytes));
    const char *lot = thread_lot(page->plan->job, thread);
    if (lot)
        buffer_format(page->out, "  lot: %s\n", visible(page->out->arena, lot));
    if (need->lost > 0)
        buffer_format(page->out, "  lost at the bench, and counted in all: %s\n", thread_length(page, need->lost));
    double left = stock_left(need, rounding_of_thread(page->units));
    if (!isnan(supply->spools))
        put_spools(page, thread, supply);
    if (isnan(left))
        return;
    buffer_format(page->out, "  in stock: %s, ", thread_length(page, left + need_length(need)));
    if (left >= 0 && (supply->spools > 0 || supply->too_long))
        buffer_text(page->out, "enough in all, but not every piece can be cut whole\n");
    else
        buffer_format(page->out, "%s %s\n", thread_length(page, fabs(left)), left < 0 ? "short" : "left");
}

/* Under the table: what is to be paid for all of it. */
static void put_cost(TextPage *page)
{
    CostInAll all = cost_in_all(page->plan);
    if (isnan(all.cost))
        return;
    Buffer words;
    buffer_start(&words, page->out->arena);
    buffer_text(&words, "cost in all: ");
    buffer_number(&words, all.cost, 2);
    if (all.not_known)
        buffer_format(&words, ", without %" PRIu32 " %s of which no `price:` is known", all.not_known,
                      all.not_known == 1 ? "thread" : "threads");
    if (all.too_long)
        buffer_format(&words, "%s %" PRIu32 " %s longer than a spool", all.not_known ? " and" : ", without",
                      all.too_long, all.too_long == 1 ? "piece" : "pieces");
    text_paragraph(page, buffer_string(&words), 0);
}

/* Under the table: strands of crosswraps are open helices, their turns are none that lie side by side. */
static void put_crosswraps(TextPage *page)
{
    if (any_crosswrap(page->plan))
        buffer_text(page->out, "Turns are those of bands; strands of crosswraps count by their lengths.\n");
}

static void put_places(TextPage *page, const Need *needs, int thread_columns)
{
    const Plan *plan = page->plan;
    const Need *before = NULL;
    for (uint32_t i = 0; i < plan->need_count; before = &needs[i++]) {
        const Need *need = &needs[i];
        bool new_rod = !before || before->rod != need->rod;
        if (new_rod) {
            buffer_text(page->out, "\n");
            const char *title = plan->rods[need->rod].rod->title->bytes;
            text_heading(page, text_format(page->out->arena, "Rod: %s", title), '=');
        }
        if (new_rod || before->place != need->place) {
            buffer_text(page->out, new_rod ? "" : "\n");
            text_heading(page, place_of_need(page->out->arena, plan, need), '-');
        }
        put_need(page, need, thread_columns);
    }
}

/* "80 minutes", from an hour and a half on "9 h 9 min". */
static void put_time(Buffer *out, double minutes)
{
    enum { MOST_MINUTES = 90, MINUTES_AN_HOUR = 60 };
    double whole = round(minutes), hours = floor(whole / MINUTES_AN_HOUR);
    if (whole < MOST_MINUTES) {
        buffer_number(out, whole, 0);
        buffer_text(out, whole == 1 ? " minute" : " minutes");
        return;
    }
    buffer_number(out, hours, 0);
    buffer_text(out, " h ");
    buffer_number(out, whole - hours * MINUTES_AN_HOUR, 0);
    buffer_text(out, " min");
}

static void put_finish(TextPage *page, const Bench *bench)
{
    buffer_text(page->out, "Finish, estimated: ");
    buffer_number(page->out, page->plan->finish_volume / 1000, 1); /* 1 ml = 1000 mm3 */
    buffer_format(page->out, " ml for %s %s, each %s thick, over all wraps.\n",
                  show_number(page->out->arena, bench->coats, 0), bench->coats == 1 ? "coat" : "coats",
                  show_fine(page->out->arena, page->units, bench->coat));
}

static void put_estimates(TextPage *page, double minutes)
{
    const Plan *plan = page->plan;
    const Bench *bench = &plan->job->bench;
    buffer_text(page->out, "\n");
    if (bench->coats)
        put_finish(page, bench);
    buffer_text(page->out, "Bench time, estimated: ");
    put_time(page->out, minutes);
    buffer_format(page->out,
                  ", at %s turns a minute and %s seconds\neach time a thread is %slaid in, taken up or ended%s.\n"
                  "Marking, measuring, drying and curing are left out.\n",
                  show_number(page->out->arena, bench->speed, 2),
                  show_number(page->out->arena, bench->handling, 2),
                  any_bobbin(plan) ? "loaded onto a bobbin, " : "",
                  any_crosswrap(plan) ? ", and for each leg of a\ncrosswrap" : "");
}

static bool same_work(const WorkSums *one, const WorkSums *other)
{
    return one->pieces == other->pieces && one->hand_turns == other->hand_turns && one->handled == other->handled
           && one->waste == other->waste;
}

/* What each preference gives, that of the bench marked; not those that give the same. */
static void put_ways(TextPage *page, const BenchPlan *bench)
{
    static const struct {
        const char *title;
        int columns;
    } titles[] = {{"prefer", PREFER_COLUMNS},      {"pieces", PIECES_COLUMNS},    {"ends", ENDS_COLUMNS},
                  {"by hand", HAND_TURNS_COLUMNS}, {"not wound", LENGTH_COLUMNS}, {"time", TIME_COLUMNS}};
    const Bench *habits = &bench->plan->job->bench;
    Ways ways = plan_ways(page->out->arena, bench->plan, rounding_of_thread(page->units));
    buffer_text(page->out, "\n");
    for (size_t i = 0; i < sizeof titles / sizeof *titles; i++)
        buffer_column(page->out, titles[i].title, titles[i].columns);
    buffer_text(page->out, "\n");
    bool all = true;
    for (Preference prefer = 0; prefer < PREFER_COUNT; prefer++) {
        const WorkSums *sums = &ways.by[prefer];
        if (prefer != habits->prefer && same_work(sums, &ways.by[habits->prefer])) {
            all = false;
            continue;
        }
        buffer_format(&page->cell, "%s%s", preference_word(prefer),
                      prefer == habits->prefer ? " (this plan)" : "");
        text_cell(page, PREFER_COLUMNS);
        buffer_format(&page->cell, "%" PRIu64, sums->pieces);
        text_cell(page, PIECES_COLUMNS);
        buffer_format(&page->cell, "%" PRIu64, 2 * sums->pieces);
        text_cell(page, ENDS_COLUMNS);
        buffer_format(&page->cell, "%" PRIu64, sums->hand_turns);
        text_cell(page, HAND_TURNS_COLUMNS);
        buffer_column(page->out, thread_length(page, sums->waste), LENGTH_COLUMNS);
        put_time(&page->cell, minutes_of_way(bench, &ways, prefer));
        text_cell(page, TIME_COLUMNS);
        buffer_text(page->out, "\n");
    }
    buffer_format(page->out,
                  "%sTurns by hand go round the still blank; not wound are tags, ends and what runs\n"
                  "under others. Choose with bench { prefer: }.\n",
                  all ? "" : "Other preferences give the same.\n");
}

static void put_all(TextPage *page, const BenchPlan *bench)
{
    const Plan *plan = bench->plan;
    int thread_columns = widest_thread(plan);
    put_titles(page, thread_columns);
    RoundedNeeds needs = rounded_needs(page->out->arena, plan, rounding_of_thread(page->units));
    for (uint32_t i = 0; i < plan->total_count; i++) {
        put_need(page, &needs.totals[i], thread_columns);
        put_supply(page, &needs.totals[i], &plan->supplies[i]);
    }
    put_cost(page);
    put_crosswraps(page);
    put_places(page, needs.places, thread_columns);
    put_estimates(page, bench->minutes);
    put_ways(page, bench);
}

void emit_need_text(Buffer *out, const BenchPlan *bench)
{
    TextPage page = text_page_start(out, bench->plan);
    text_head(&page, "Needs");
    buffer_text(out, "\n");
    if (bench->plan->total_count)
        put_all(&page, bench);
    else
        buffer_text(out, "Nothing is wound, so no thread is needed.\n");
}
