/* The feasibility rules: what a builder must be told before starting. Each rule is a function over the
 * plan in one table; explanations live in grammar/findings/, one page a code. */
#ifndef TURNLAY_CHECK_CHECK_H
#define TURNLAY_CHECK_CHECK_H

#include "plan/plan.h"

/* Runs every rule over a plan. */
void check_plan(Arena *arena, const Plan *plan, Findings *findings);
/* The last check of a compilation: whether something of the file is missing from the plan, or was marked as
 * broken, without a finding of error level that says why; `at` becomes its place. That is a fault of this program.
 */
bool anything_lost(const Plan *plan, const Findings *findings, Span *at);
/* The page of a code, as Markdown text; NULL if the code has none. */
const char *explanation(FindingCode code);

#endif
