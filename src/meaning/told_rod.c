#include "meaning/job.h"

static bool lies_in(Span span, Span whole)
{
    return span.file == whole.file && span.start >= whole.start && span.end <= whole.end;
}

void tell_which_rod(Findings *findings, uint32_t first, const Rod *rod)
{
    for (uint32_t i = first; rod->whole.end && i < findings->list.count; i++)
        if (!lies_in(findings->list.items[i].at.span, rod->whole))
            finding_relate(findings, &findings->list.items[i], rod->span, "in this rod, which is like it");
}
