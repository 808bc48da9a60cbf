/* Findings are values: a code, a place, related places, words, and a way out. They are collected,
 * sorted and printed by whoever wants to; nothing here prints. */
#ifndef TURNLAY_BASE_FINDING_H
#define TURNLAY_BASE_FINDING_H

#include "base/finding_table.h"
#include "base/span.h"
#include "base/text.h"

#define SEVERITY_TABLE(X) X(NOTE, "note") X(WARNING, "warning") X(ERROR, "error")

typedef enum {
#define X(name, word) SEVERITY_##name,
    SEVERITY_TABLE(X)
#undef X
} Severity;

typedef enum {
#define X(code, name, severity, title) FINDING_##name,
    FINDING_TABLE(X)
#undef X
        FINDING_CODE_COUNT
} FindingCode;

/* A place and the words written under its underline. */
typedef struct Mark {
    Span span;
    const char *label; /* "" for an underline alone */
} Mark;

/* One replacement in the source. start == end inserts. */
typedef struct Edit {
    Span span;
    const char *text;
} Edit;

enum { FINDING_RELATED = 3 };

/* Why something is broken, incomplete or left out: the number of a finding of error level, from 1 in the order in
 * which they were told. */
typedef uint32_t Cause;
enum {
    CAUSE_NONE = 0,                     /* nothing is amiss */
    CAUSE_NEVER_WOUND = UINT32_MAX - 1, /* in the body of a loop over an empty list: nothing is lost */
    CAUSE_UNTOLD = UINT32_MAX           /* no finding says why: a fault of this program */
};

typedef struct Finding {
    FindingCode code;
    Severity severity;
    Cause number; /* of an error, also of one told before or not kept; else CAUSE_NONE */
    const char *message;
    Mark at;
    Mark related[FINDING_RELATED];
    unsigned related_count;
    const char *mend; /* one way out, in words; always there */
    bool has_edit;    /* the mend to the letter, where it is a change of this source */
    Edit edit;
    unsigned times;  /* how often the same place gave the same code (loops, copies) */
    const char *rod; /* the title of the rod that it is about; NULL where it is about the file */
} Finding;

typedef struct Findings {
    Arena *arena;
    Arena *words;        /* for what the words of a finding are put together from: until the next one is made */
    Arena *words_before; /* of the finding made last */
    uint64_t made;       /* all that were added, kept or not */
    bool silent;         /* no more are kept, nor was the last one: words would be said to nobody */
    LIST_OF(Finding) list;
    uint32_t errors, warnings, notes;
    uint32_t left_out; /* beyond LIMIT_FINDINGS */
    Finding *spare;    /* given out, without a message, for what is not kept */
    uint64_t told;     /* errors told so far, the same one again too */
    Cause last;        /* the error told last */
    bool forgiving;    /* of a wrap that is on the bench: what would be a fault of its layout is a warning */
    bool untold;       /* something was marked without a finding: where, first */
    Span untold_at;
} Findings;

const char *finding_code_text(FindingCode code); /* "T101" */
const char *finding_title(FindingCode code);     /* a few words */
Severity finding_severity(FindingCode code);
const char *severity_word(Severity severity); /* "error", "warning", "note" */
/* The code of "T101", "t101" or "101"; FINDING_CODE_COUNT if there is none. */
FindingCode finding_code_of(const char *text);

void findings_start(Findings *findings, Arena *arena);
/* Others that are kept apart from these, and are forgotten. */
void findings_start_unheard(Findings *unheard, const Findings *findings);
/* Adds a finding and returns it for finding_label, finding_relate, finding_mend and finding_edit; never NULL.
 * The same code at the same span is kept once and counted: what is added to the copy is dropped. */
Finding *finding_add(Findings *findings, FindingCode code, Span span, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* The functions below copy their words. A message, label or mend longer than FINDING_WORDS bytes ends in "…". */
enum { FINDING_WORDS = 4000 };
/* Formatted, for the words of a finding that is to be made or was just made; "" once no more are kept. */
const char *finding_text(Findings *findings, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Words under the underline. */
void finding_label(Findings *findings, Finding *finding, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void finding_relate(Findings *findings, Finding *finding, Span span, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* The way out in words. */
void finding_mend(Findings *findings, Finding *finding, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* The way out as a change of the source. */
void finding_edit(Findings *findings, Finding *finding, Span span, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* The rod that it is about, by its title, which is not copied. */
void finding_of_rod(Finding *finding, const char *title);
/* It counts as an error from now on. */
void finding_raise(Findings *findings, Finding *finding);
/* All warnings, also those that were left out. */
void findings_raise_warnings(Findings *findings);
/* The error told since `told` was so much, the last one; CAUSE_NONE if none was. */
Cause findings_since(const Findings *findings, uint64_t told);
/* Whether a finding of error level has this number. */
bool cause_is_told(const Findings *findings, Cause cause);
/* The one way to mark something at the span as broken, incomplete or left out: gives the mark. Without a finding
 * that says why it is CAUSE_UNTOLD, and noted down: the compilation ends with a report of a fault in this program.
 */
Cause cause_mark(Findings *findings, Cause cause, Span span);
/* Whether it is shown: the same one again, or one too many, is not, and needs no words. */
bool finding_is_kept(const Finding *finding);
/* No more findings are kept: costly words need not be found for them. */
bool findings_full(const Findings *findings);
/* Which findings a page of them shows: all; all, but notes in one line for each rod (JSON has them one by one all
 * the same); errors alone. */
typedef enum { SHOW_ALL, SHOW_GROUPED, SHOW_ERRORS } FindingsShown;
bool finding_is_shown(const Finding *finding, FindingsShown shown);
/* Source order: by file, then offset, then code. */
void findings_sort(Findings *findings);

#endif
