#include "check/rules.h"

#include "plan/plan_sums.h"

#include <math.h>

/* T505: the whole file's need of a thread against what is at hand. */

static const char *thread_length(const Check *check, double mm)
{
    return show_thread_length(check->findings->words, check->bench->units, mm);
}

/* By length, and, where it is known what a spool holds, piece by piece. */
static bool is_short(const Need *total, const Supply *supply)
{
    return total->thread->stock >= 0
           && (need_length(total) > total->thread->stock || supply->spools > 0); /* NAN is not more than 0 */
}

/* `need`: as the page of needs has it. */
static void say_short(const Check *check, const Need *need, const Supply *supply)
{
    const Thread *thread = need->thread;
    double length = need_length(need);
    double at_hand = rounded_down(thread->stock, rounding_of_thread(check->bench->units));
    Finding *finding = finding_add(check->findings, FINDING_STOCK_SHORT, thread->stock_span,
                                   "there is not enough %s in stock", thread->name->bytes);
    if (isnan(supply->spools) || length > thread->stock)
        finding_label(check->findings, finding, "%s in stock; %s needed, %s of that for tags and ends",
                      thread_length(check, at_hand), thread_length(check, length),
                      thread_length(check, need->ends));
    else
        finding_label(check->findings, finding,
                      "%s in stock, but not all %u pieces can be cut from it whole: a spool holds %s",
                      thread_length(check, at_hand), need->pieces, thread_length(check, thread->spool));
    double wanted = supply->spools > 0 ? thread->stock + supply->spools * thread->spool : length;
    const char *stock = source_thread_above(check, thread->stock_span, wanted);
    finding_mend(check->findings, finding, "buy more, and write what you then have, such as `stock: %s`", stock);
    finding_edit(check->findings, finding, thread->stock_span, "%s", stock);
}

/* T506: a piece that no spool holds. */
static void say_too_long(const Check *check, const Thread *thread, const Supply *supply)
{
    double length = piece_length(supply->longest);
    Finding *finding = finding_add(check->findings, FINDING_PIECE_BEYOND_SPOOL, thread->spool_span,
                                   "one piece of %s is longer than a spool holds", thread->name->bytes);
    const char *spool = source_thread_above(check, thread->spool_span, length);
    finding_label(check->findings, finding, "the longest piece is %s long", spool);
    finding_relate(check->findings, finding, supply->longest->span, "the piece begins here");
    finding_mend(
        check->findings, finding,
        "get a spool that holds more and write `spool: %s`, or split the wrap with a gap so that each piece is "
        "shorter",
        spool);
    finding_edit(check->findings, finding, thread->spool_span, "%s", spool);
}

/* T507: what a spool costs, but not what it holds: neither spools nor cost can be counted. */
static void say_price_alone(const Check *check, const Thread *thread)
{
    Finding *finding =
        finding_add(check->findings, FINDING_PRICE_WITHOUT_SPOOL, thread->price_span,
                    "the price of a spool of %s is given, but not what the spool holds", thread->name->bytes);
    finding_label(check->findings, finding, "`need` counts no spools and no cost of it");
    finding_mend(check->findings, finding, "write how much thread is on a spool of %s, such as `spool: 100 m`",
                 thread->name->bytes);
}

void check_stock(const Check *check)
{
    const Plan *plan = check->plan;
    RoundedNeeds needs = rounded_needs(check->arena, plan, rounding_of_thread(check->bench->units));
    for (uint32_t i = 0; i < plan->total_count; i++) {
        const Supply *supply = &plan->supplies[i];
        if (is_short(&plan->totals[i], supply))
            say_short(check, &needs.totals[i], supply);
        if (plan->totals[i].thread->price >= 0 && isnan(plan->totals[i].thread->spool))
            say_price_alone(check, plan->totals[i].thread);
        if (supply->too_long)
            say_too_long(check, plan->totals[i].thread, supply);
    }
}
