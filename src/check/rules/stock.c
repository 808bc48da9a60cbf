#include "check/rules.h"

/* T505: the whole file's need of a thread against what is at hand. */

void check_stock(const Check *check)
{
    UnitSystem units = check->bench->units;
    for (uint32_t i = 0; i < check->plan->total_count; i++) {
        const Need *total = &check->plan->totals[i];
        const Thread *thread = total->thread;
        double need = total->wound + total->ends;
        if (!(need > thread->stock))
            continue;
        Finding *finding = finding_add(check->findings, FINDING_STOCK_SHORT, thread->stock_span,
                                       "there is not enough %s", thread->name->bytes);
        finding_label(check->findings, finding, "%s at hand; %s are needed, %s of it for tags and free ends",
                      show_thread_length(check->arena, units, thread->stock),
                      show_thread_length(check->arena, units, need),
                      show_thread_length(check->arena, units, total->ends));
        const char *length = source_thread_above(check, need);
        finding_mend(check->findings, finding, "get more, and write `stock: %s` or what you then have", length);
        finding_edit(check->findings, finding, thread->stock_span, "%s", length);
    }
}
