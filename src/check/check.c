#include "check/check.h"

#include "check/pages.h"
#include "check/rules.h"

#include <string.h>

/* In the order of their codes: T321, T401 to T403, T404 and T405, T406, T407, T409, T501 ... T601 to T608, T612
 * ... */
static void (*const rules[])(const Check *check) = {
    check_fades_by_eye,    check_held,        check_ridges,     check_pieces,   check_ramps,
    check_slopes_of_parts, check_thicknesses, check_preserver,  check_measured, check_drift,
    check_stock,           check_fades,       check_crosswraps, check_stacks,   check_room_to_turn,
};

void check_plan(Arena *arena, const Plan *plan, Findings *findings)
{
    Arena *whole = arena_child(arena), *scratch = arena_child(arena);
    Check check = {
        .arena = whole, .scratch = scratch, .plan = plan, .bench = &plan->job->bench, .findings = findings};
    find_layers(&check);
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        rules[i](&check);
    arena_clear(whole);
    arena_clear(scratch);
}

const char *explanation(FindingCode code)
{
    if (code >= FINDING_CODE_COUNT)
        return NULL;
    for (const ExplanationPage *page = explanation_pages; page->code; page++)
        if (strcmp(page->code, finding_code_text(code)) == 0)
            return page->text;
    return NULL;
}
