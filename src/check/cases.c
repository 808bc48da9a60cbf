#include "check/rules.h"

#include <stdlib.h>

void cases_add(Arena *arena, Cases *cases, Span span, double badness, uint32_t view, uint32_t detail)
{
    *LIST_ADD(arena, &cases->list) = (Case){span, badness, view, detail, 1};
}

/* Source order; of one span the worst first, and of equals the one laid first. */
static int by_span(const void *left, const void *right)
{
    const Case *a = left, *b = right;
    if (a->span.file != b->span.file)
        return a->span.file < b->span.file ? -1 : 1;
    if (a->span.start != b->span.start)
        return a->span.start < b->span.start ? -1 : 1;
    if (a->span.end != b->span.end)
        return a->span.end < b->span.end ? -1 : 1;
    if (a->badness > b->badness || a->badness < b->badness)
        return a->badness > b->badness ? -1 : 1;
    if (a->view != b->view)
        return a->view < b->view ? -1 : 1;
    return a->detail < b->detail ? -1 : a->detail > b->detail;
}

void cases_keep_worst(Cases *cases)
{
    if (cases->list.count == 0)
        return;
    qsort(cases->list.items, cases->list.count, sizeof *cases->list.items, by_span);
    uint32_t kept = 1;
    for (uint32_t i = 1; i < cases->list.count; i++) {
        Case *last = &cases->list.items[kept - 1];
        if (same_span(last->span, cases->list.items[i].span))
            last->times++;
        else
            cases->list.items[kept++] = cases->list.items[i];
    }
    cases->list.count = kept;
}
