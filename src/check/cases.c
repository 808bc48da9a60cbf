#include "check/rules.h"

#include "base/sort.h"

#include <stdlib.h>

void cases_add(Arena *arena, Cases *cases, Span span, double badness, uint32_t view, uint32_t detail)
{
    *LIST_ADD(arena, &cases->list) = (Case){span, badness, view, detail, 1};
}

/* Source order; of one span the worst first, and of equals the one laid first. */
static int by_span(const void *left, const void *right)
{
    const Case *a = left, *b = right;
    int order = ORDER(a->span.file, b->span.file);
    order = order ? order : ORDER(a->span.start, b->span.start);
    order = order ? order : ORDER(a->span.end, b->span.end);
    order = order ? order : ORDER(b->badness, a->badness);
    order = order ? order : ORDER(a->view, b->view);
    return order ? order : ORDER(a->detail, b->detail);
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
