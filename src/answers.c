/* What came of a compilation, piece by piece, for programs; pages for people are in pages.c. */
#include "compilation.h"

#include "base/line_map.h"
#include "check/check.h"

_Static_assert((int)SEVERITY_NOTE == TURNLAY_NOTE && (int)SEVERITY_WARNING == TURNLAY_WARNING
                   && (int)SEVERITY_ERROR == TURNLAY_ERROR,
               "severities in one order");
_Static_assert((int)FINDING_RELATED == TURNLAY_RELATED, "as many related places");

const char *turnlay_version(void) { return TURNLAY_VERSION; }

const char *turnlay_status_words(TurnlayStatus status)
{
    static const char *const words[] = {
        [TURNLAY_DONE] = "done",
        [TURNLAY_HAS_ERRORS] = "there are findings of error level",
        [TURNLAY_LOST] = "something is left out and no finding says why: a bug in turnlay",
        [TURNLAY_OUT_OF_MEMORY] = "this machine has no memory left",
        [TURNLAY_NULL_GIVEN] = "NULL where something must stand",
        [TURNLAY_WRONG_ORDER] = "called too early or too late",
        [TURNLAY_NOT_WANTED] = "no text is wanted",
        [TURNLAY_WRONG_VALUE] = "a format that this page does not come in, or a number out of its range",
        [TURNLAY_NO_SUCH_ROD] = "there are fewer rods than that",
        [TURNLAY_NO_SUCH_SECTION] = "there is no section of that name, or there are fewer",
        [TURNLAY_NO_SUCH_THREAD] = "a thread is not one to choose by; turnlay_between_fault says why",
        [TURNLAY_NO_TEMPLATE] = "this rod has no crosswrap, and a template is a crosswrap's",
        [TURNLAY_NOT_MEASURED] = "no width is measured in this step",
        [TURNLAY_NOT_HAPPENED] = "this cannot have happened in this step",
        [TURNLAY_NOT_SWAPPED] = "a swap is not made",
        [TURNLAY_TOO_LARGE] = "the page would be larger than is allowed; a finding says by which limit",
    };
    _Static_assert(sizeof words / sizeof *words == TURNLAY_STATUS_COUNT, "words for each status");
    return (unsigned)status < TURNLAY_STATUS_COUNT ? words[status] : "no status of this library";
}

/* Other than that a page was too large. */
static bool has_errors(const Compilation *compilation)
{
    return compilation->findings.errors > compilation->errors_of_pages;
}

TurnlayStatus answer_status(const Compilation *compilation, const void *answer, bool whole)
{
    if (!compilation || !answer)
        return TURNLAY_NULL_GIVEN;
    if (compilation->exhausted)
        return TURNLAY_OUT_OF_MEMORY;
    if (!compilation->finished)
        return TURNLAY_WRONG_ORDER;
    if (whole && compilation->lost)
        return TURNLAY_LOST;
    return whole && has_errors(compilation) ? TURNLAY_HAS_ERRORS : TURNLAY_DONE;
}

static Finding *known_no_rod(Findings *findings)
{
    for (uint32_t i = 0; i < findings->list.count; i++)
        if (findings->list.items[i].code == FINDING_NO_ROD)
            return &findings->list.items[i];
    return NULL;
}

static TurnlayStatus add_no_rod(Compilation *compilation, bool is_error)
{
    Findings *findings = &compilation->findings;
    Finding *finding = known_no_rod(findings);
    if (!finding) {
        finding = finding_add(findings, FINDING_NO_ROD, (Span){0, 0, 0}, "there is no rod in this file");
        finding_mend(findings, finding,
                     "name the file with the rod, or write one: rod \"First\" on BLANK { ... }");
    }
    if (is_error)
        finding_raise(findings, finding);
    findings_sort(findings);
    return is_error ? TURNLAY_HAS_ERRORS : TURNLAY_DONE;
}

TurnlayStatus turnlay_expect_rod(Compilation *compilation, TurnlaySeverity severity)
{
    TurnlayStatus status = answer_status(compilation, compilation, false);
    if (status != TURNLAY_DONE)
        return status;
    if (severity != TURNLAY_NOTE && severity != TURNLAY_ERROR)
        return TURNLAY_WRONG_VALUE;
    if (has_errors(compilation))
        return TURNLAY_HAS_ERRORS;
    if (compilation->plan->rod_count)
        return TURNLAY_DONE;
    RETURN_GUARDED(compilation, add_no_rod(compilation, severity == TURNLAY_ERROR));
}

TurnlayStatus turnlay_summary(Compilation *compilation, TurnlaySummary *summary)
{
    TurnlayStatus status = answer_status(compilation, summary, false);
    if (status != TURNLAY_DONE)
        return status;
    const Findings *findings = &compilation->findings;
    *summary = (TurnlaySummary){.errors = findings->errors,
                                .warnings = findings->warnings,
                                .notes = findings->notes,
                                .findings = findings->list.count,
                                .left_out = findings->left_out,
                                .rods = compilation->plan ? compilation->plan->rod_count : 0,
                                .pages = !has_errors(compilation) && !compilation->lost};
    return TURNLAY_DONE;
}

static TurnlayPlace place_of(Compilation *compilation, Span span, const char *label)
{
    LineColumn position = line_map_find(compilation->lines, span);
    return (TurnlayPlace){.file = line_map_source(compilation->lines, span)->path,
                          .line = position.line,
                          .column = position.column,
                          .start = span.start,
                          .end = span.end,
                          .label = label};
}

static TurnlayStatus tell_loss(Compilation *compilation, TurnlayPlace *place)
{
    *place = place_of(compilation, compilation->lost_at, "");
    return TURNLAY_LOST;
}

TurnlayStatus turnlay_lost(Compilation *compilation, TurnlayPlace *place)
{
    TurnlayStatus status = answer_status(compilation, place, false);
    if (status != TURNLAY_DONE)
        return status;
    *place = (TurnlayPlace){.file = NULL};
    if (!compilation->lost)
        return TURNLAY_DONE;
    RETURN_GUARDED(compilation, tell_loss(compilation, place));
}

static TurnlayStatus tell_finding(Compilation *compilation, const Finding *finding, TurnlayFinding *answer)
{
    *answer = (TurnlayFinding){.code = finding_code_text(finding->code),
                               .severity = (TurnlaySeverity)finding->severity,
                               .title = finding_title(finding->code),
                               .message = finding->message,
                               .at = place_of(compilation, finding->at.span, finding->at.label),
                               .related_count = finding->related_count,
                               .mend = finding->mend,
                               .has_edit = finding->has_edit,
                               .times = finding->times};
    for (unsigned i = 0; i < finding->related_count; i++)
        answer->related[i] = place_of(compilation, finding->related[i].span, finding->related[i].label);
    const Edit *edit = &finding->edit;
    if (finding->has_edit)
        answer->edit = (TurnlayEdit){.file = line_map_source(compilation->lines, edit->span)->path,
                                     .start = edit->span.start,
                                     .end = edit->span.end,
                                     .text = edit->text};
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_finding(Compilation *compilation, uint32_t index, TurnlayFinding *finding)
{
    TurnlayStatus status = answer_status(compilation, finding, false);
    if (status != TURNLAY_DONE)
        return status;
    if (index >= compilation->findings.list.count)
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, tell_finding(compilation, &compilation->findings.list.items[index], finding));
}

/* The bench may have left rods out, and has them in the plan's order. */
static uint32_t step_count(const BenchPlan *bench, const PlannedRod *rod, uint32_t index)
{
    uint32_t i = bench && index < bench->rod_count ? index + 1 : bench ? bench->rod_count : 0;
    while (i--)
        if (bench->rods[i].rod == rod)
            return bench->rods[i].step_count;
    return 0;
}

TurnlayStatus turnlay_rod(Compilation *compilation, uint32_t rod, TurnlayRod *about)
{
    TurnlayStatus status = answer_status(compilation, about, false);
    if (status != TURNLAY_DONE)
        return status;
    if (!compilation->plan || rod >= compilation->plan->rod_count)
        return TURNLAY_NO_SUCH_ROD;
    const PlannedRod *planned = &compilation->plan->rods[rod];
    *about = (TurnlayRod){.title = planned->rod->title->bytes,
                          .steps = step_count(compilation->bench, planned, rod),
                          .has_template = rod_has_crosswrap(planned)};
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_section(Compilation *compilation, uint32_t rod, uint32_t section, TurnlaySection *about)
{
    TurnlayStatus status = answer_status(compilation, about, false);
    if (status != TURNLAY_DONE)
        return status;
    if (!compilation->plan || rod >= compilation->plan->rod_count)
        return TURNLAY_NO_SUCH_ROD;
    const Rod *planned = compilation->plan->rods[rod].rod;
    if (section >= planned->section_count)
        return TURNLAY_NO_SUCH_SECTION;
    const Section *one = &planned->sections[section];
    *about = (TurnlaySection){one->name, one->start, one->end};
    return TURNLAY_DONE;
}

static TurnlayStatus explain_code(FindingCode code, TurnlayExplanation *answer)
{
    if (!answer)
        return TURNLAY_NULL_GIVEN;
    if (code >= FINDING_CODE_COUNT)
        return TURNLAY_WRONG_VALUE;
    *answer = (TurnlayExplanation){.code = finding_code_text(code),
                                   .severity = (TurnlaySeverity)finding_severity(code),
                                   .title = finding_title(code),
                                   .page = explanation(code)};
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_explanation(uint32_t index, TurnlayExplanation *explanation)
{
    return explain_code(index < FINDING_CODE_COUNT ? (FindingCode)index : FINDING_CODE_COUNT, explanation);
}

TurnlayStatus turnlay_explain(const char *code, TurnlayExplanation *explanation)
{
    return code ? explain_code(finding_code_of(code), explanation) : TURNLAY_NULL_GIVEN;
}
