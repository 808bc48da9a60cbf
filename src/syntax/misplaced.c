#include "syntax/misplaced.h"

static const struct {
    NodeKind kind;
    const char *what, *where, *mend;
} misplaced[] = {
    {NODE_PLACE, "place", "in a rod", "close the braces before it, or put it into a rod"},
    {NODE_SERIES, "series", "in a rod", "close the braces before it, or put it into a rod"},
    {NODE_PART, "part", "in a rod", "close the braces before it, or put it into a rod"},
    {NODE_UNDER, "layer", "in a place", "close the braces before it, or put it into a place"},
    {NODE_OVER, "layer", "in a place", "close the braces before it, or put it into a place"},
    {NODE_KIND_COUNT, "statement", "in a place or a pattern", "put it into a place, as in `at 60 cm { ... }`"},
};

Finding *report_misplaced_statement(Findings *findings, NodeKind kind, Span span, const char *word)
{
    unsigned row = 0;
    while (misplaced[row].kind != kind && misplaced[row].kind != NODE_KIND_COUNT)
        row++;
    Finding *finding = finding_add(findings, FINDING_NOT_HERE, span, "%s begins a %s, which stands %s", word,
                                   misplaced[row].what, misplaced[row].where);
    finding_mend(findings, finding, "%s", misplaced[row].mend);
    return finding;
}
