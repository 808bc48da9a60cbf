#include "base/finding.h"

#include "base/limits.h"
#include "base/sort.h"

#include <ctype.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *code;
    Severity severity;
    const char *title;
} table[] = {
#define X(code, name, severity, title) {code, severity, title},
    FINDING_TABLE(X)
#undef X
};

const char *finding_code_text(FindingCode code) { return table[code].code; }
const char *finding_title(FindingCode code) { return table[code].title; }
Severity finding_severity(FindingCode code) { return table[code].severity; }

const char *severity_word(Severity severity)
{
    static const char *const words[] = {
#define X(name, word) [SEVERITY_##name] = word,
        SEVERITY_TABLE(X)
#undef X
    };
    return words[severity];
}

FindingCode finding_code_of(const char *text)
{
    const char *number = text + (toupper((unsigned char)*text) == 'T');
    for (int code = 0; code < FINDING_CODE_COUNT; code++)
        if (strcmp(table[code].code + 1, number) == 0)
            return (FindingCode)code;
    return FINDING_CODE_COUNT;
}

void findings_start(Findings *findings, Arena *arena)
{
    *findings = (Findings){.arena = arena, .words = arena_child(arena), .words_before = arena_child(arena)};
}

void findings_start_unheard(Findings *unheard, const Findings *findings)
{
    *unheard =
        (Findings){.arena = findings->arena, .words = findings->words, .words_before = findings->words_before};
}

/* What the words of this finding are put together from was made since the last one, and may be used again for its
 * label and its mend. */
static void forget_words_of_last(Findings *findings)
{
    arena_clear(findings->words_before);
    arena_exchange(findings->words, findings->words_before);
}

static const char cut_off[] = "\u2026";

/* Cut where a character begins. */
static const char *copy_words(Arena *arena, size_t most, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    if (length < 0)
        arena_exhausted(arena);
    size_t kept = (size_t)length < most ? (size_t)length : most;
    bool cut = kept < (size_t)length;
    char *text = arena_take(arena, kept + 1 + (cut ? strlen(cut_off) : 0));
    vsnprintf(text, kept + 1, format, again);
    va_end(again);
    if (!cut)
        return text;
    while (kept && inside_character(text[kept - 1]))
        kept--;
    kept -= kept && (unsigned char)text[kept - 1] >= 0xc0;
    strcpy(text + kept, cut_off);
    return text;
}

static Finding *known(Findings *findings, FindingCode code, Span span)
{
    for (uint32_t i = 0; i < findings->list.count; i++) {
        Finding *finding = &findings->list.items[i];
        if (finding->code == code && finding->at.span.file == span.file && finding->at.span.start == span.start
            && finding->at.span.end == span.end)
            return finding;
    }
    return NULL;
}

static Cause note_told(Findings *findings, Cause error)
{
    if (error == CAUSE_NONE)
        return error;
    findings->told++;
    return findings->last = error;
}

/* Room for all is taken at once: whoever goes back to a copy of the findings made before finds those it had. */
static Finding *add_kept(Findings *findings)
{
    if (!findings->list.items)
        findings->list.items =
            arena_take_many(findings->arena, findings->list.room = LIMIT_FINDINGS, sizeof *findings->list.items);
    return &findings->list.items[findings->list.count++];
}

/* Codes of layout follow one another. */
static Severity severity_now(const Findings *findings, FindingCode code)
{
    Severity severity = finding_severity(code);
    bool of_layout = code >= FINDING_LESS_THAN_A_TURN && code <= FINDING_READING_FAR;
    return severity == SEVERITY_ERROR && findings->forgiving && of_layout ? SEVERITY_WARNING : severity;
}

Finding *finding_add(Findings *findings, FindingCode code, Span span, const char *format, ...)
{
    Severity severity = severity_now(findings, code);
    findings->made++;
    forget_words_of_last(findings);
    if (!findings->spare)
        findings->spare = arena_take(findings->arena, sizeof *findings->spare);
    *findings->spare = (Finding){0};
    findings->silent = findings_full(findings);
    Finding *same = known(findings, code, span);
    if (same) {
        same->times++;
        findings->spare->number = note_told(findings, same->number);
        return findings->spare;
    }
    uint32_t *counts[] = {&findings->notes, &findings->warnings, &findings->errors};
    ++*counts[severity];
    Cause number = note_told(findings, severity == SEVERITY_ERROR ? findings->errors : CAUSE_NONE);
    if (findings_full(findings)) {
        findings->left_out++;
        findings->spare->number = number;
        return findings->spare;
    }
    va_list arguments;
    va_start(arguments, format);
    Finding *finding = add_kept(findings);
    *finding =
        (Finding){.code = code, .severity = severity, .number = number, .at = {span, ""}, .mend = "", .times = 1};
    finding->message = copy_words(findings->arena, FINDING_WORDS, format, arguments);
    va_end(arguments);
    return finding;
}

const char *finding_text(Findings *findings, const char *format, ...)
{
    if (findings->silent)
        return "";
    va_list arguments;
    va_start(arguments, format);
    const char *text = text_format_list(findings->words, format, arguments);
    va_end(arguments);
    return text;
}

/* Words for the spare finding would be said to nobody. */
#define FORMATTED(target, most)                                                                                   \
    do {                                                                                                          \
        if (finding == findings->spare)                                                                           \
            return;                                                                                               \
        va_list arguments;                                                                                        \
        va_start(arguments, format);                                                                              \
        (target) = copy_words(findings->arena, (most), format, arguments);                                        \
        va_end(arguments);                                                                                        \
    } while (0)

void finding_label(Findings *findings, Finding *finding, const char *format, ...)
{
    FORMATTED(finding->at.label, FINDING_WORDS);
}

void finding_relate(Findings *findings, Finding *finding, Span span, const char *format, ...)
{
    if (finding->related_count == FINDING_RELATED)
        return;
    Mark *mark = &finding->related[finding->related_count++];
    mark->span = span;
    FORMATTED(mark->label, FINDING_WORDS);
}

void finding_mend(Findings *findings, Finding *finding, const char *format, ...)
{
    FORMATTED(finding->mend, FINDING_WORDS);
}

void finding_edit(Findings *findings, Finding *finding, Span span, const char *format, ...)
{
    finding->has_edit = true;
    finding->edit.span = span;
    FORMATTED(finding->edit.text, INT_MAX);
}

void finding_of_rod(Finding *finding, const char *title) { finding->rod = title; }

void finding_raise(Findings *findings, Finding *finding)
{
    uint32_t *counts[] = {&findings->notes, &findings->warnings, &findings->errors};
    --*counts[finding->severity];
    findings->errors++;
    finding->severity = SEVERITY_ERROR;
}

void findings_raise_warnings(Findings *findings)
{
    for (uint32_t i = 0; i < findings->list.count; i++)
        if (findings->list.items[i].severity == SEVERITY_WARNING)
            finding_raise(findings, &findings->list.items[i]);
    findings->errors += findings->warnings;
    findings->warnings = 0;
}

Cause findings_since(const Findings *findings, uint64_t told)
{
    return findings->told > told ? findings->last : CAUSE_NONE;
}

bool cause_is_told(const Findings *findings, Cause cause) { return cause >= 1 && cause <= findings->errors; }

Cause cause_mark(Findings *findings, Cause cause, Span span)
{
    if (cause_is_told(findings, cause))
        return cause;
    if (!findings->untold)
        findings->untold_at = span;
    findings->untold = true;
    return CAUSE_UNTOLD;
}

bool finding_is_kept(const Finding *finding) { return finding->message; }
bool findings_full(const Findings *findings) { return findings->list.count >= LIMIT_FINDINGS; }

bool finding_is_shown(const Finding *finding, FindingsShown shown)
{
    return shown != SHOW_ERRORS || finding->severity == SEVERITY_ERROR;
}

static int in_source_order(const void *left, const void *right)
{
    const Finding *a = left, *b = right;
    int order = ORDER(a->at.span.file, b->at.span.file);
    order = order ? order : ORDER(a->at.span.start, b->at.span.start);
    return order ? order : ORDER(a->code, b->code);
}

void findings_sort(Findings *findings)
{
    if (findings->list.count)
        qsort(findings->list.items, findings->list.count, sizeof *findings->list.items, in_source_order);
}
