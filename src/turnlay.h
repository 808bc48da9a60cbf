/* libturnlay compiles pattern files of decorative thread wraps for fishing rods: from the text to the plan,
 * the needs, the bench sheet and pictures. It reads no file and writes none, keeps no state beside the
 * compilations, and calls nothing back: it says which text it needs, and is given it or a reason why not.
 *
 *     TurnlayCompilation *compilation = turnlay_new();
 *     turnlay_give(compilation, "harbour.lay", bytes, length);
 *     for (TurnlayWant want; (want = turnlay_want(compilation)).path;)
 *         ... turnlay_give or turnlay_refuse ...
 *     if (turnlay_finish(compilation) == TURNLAY_DONE)
 *         turnlay_write_plan(compilation, TURNLAY_TEXT, &page);
 *     turnlay_text_free(&page);
 *     turnlay_free(compilation);
 *
 * Every entry answers with a TurnlayStatus, and an entry that refuses changes nothing (but see TOO_LARGE). All
 * strings are UTF-8 and end with a NUL. Lengths are in mm, angles in degrees. Compilations know nothing of one
 * another and may run in several threads; one compilation is for one thread at a time. */
#ifndef TURNLAY_H
#define TURNLAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#define TURNLAY_VERSION "0.1.0"
/* The same of the library that is linked. */
const char *turnlay_version(void);

typedef enum TurnlayStatus {
    TURNLAY_DONE,
    TURNLAY_HAS_ERRORS,    /* findings of error level: there are findings to read, and no other page */
    TURNLAY_LOST,          /* something is left out and no finding says why: a fault of this library. No page but
                            * findings; see turnlay_lost */
    TURNLAY_OUT_OF_MEMORY, /* the machine has none left. From then on every entry says so; free the compilation */
    TURNLAY_NULL_GIVEN,    /* NULL where something must stand */
    TURNLAY_WRONG_ORDER,   /* each entry says below when it can be called */
    TURNLAY_NOT_WANTED,    /* a text or a refusal, and none is wanted */
    TURNLAY_WRONG_VALUE,   /* a format that the page does not come in, or a number out of its range */
    TURNLAY_NO_SUCH_ROD,   /* rods count from 0, and there are fewer */
    TURNLAY_NO_SUCH_SECTION, /* no rod, or not this one, has a section of the name of turnlay_show_section */
    TURNLAY_NO_TEMPLATE,     /* this rod has no crosswrap, and a template is a crosswrap's */
    TURNLAY_NO_SUCH_THREAD,  /* a name of turnlay_show_between is none to choose by; see turnlay_between_fault */
    TURNLAY_NOT_MEASURED,    /* no width is measured in a step of turnlay_measure */
    TURNLAY_NOT_HAPPENED,    /* a mishap of turnlay_mishap cannot be in its step; see turnlay_mishap_fault */
    TURNLAY_NOT_SWAPPED,     /* a swap of turnlay_swap is not made; see turnlay_swap_fault */
    TURNLAY_TOO_LARGE, /* the page would be larger than 192 MiB, or take more memory to make than is allowed; there
                        * is a finding more, which says so. Other pages can still be made */
    TURNLAY_STATUS_COUNT
} TurnlayStatus;

/* A few words for whoever writes the program; never NULL. */
const char *turnlay_status_words(TurnlayStatus status);

/* --- compiling --- */

/* One file with all it uses, from its text to its pages. */
typedef struct TurnlayCompilation TurnlayCompilation;

/* NULL if there is no memory even for that. */
TurnlayCompilation *turnlay_new(void);
/* Gives back all memory of the compilation, but no page. NULL is allowed. */
void turnlay_free(TurnlayCompilation *compilation);

/* The text of the file to compile, then of each file that turnlay_want names, in that order. path: as shown to
 * people in findings; the same path is the same file, whatever text comes with it later. The bytes are copied;
 * they may be anything: what is not a pattern is a finding, and so is more than 16 MiB, of one file or of all
 * together. bytes may be NULL if length is 0. WRONG_ORDER after turnlay_finish. */
TurnlayStatus turnlay_give(TurnlayCompilation *compilation, const char *path, const char *bytes, size_t length);
/* The same for a text that has a NUL behind it, bytes[length], and stays as it is until turnlay_free: it is not
 * copied. bytes must not be NULL. */
TurnlayStatus turnlay_lend(TurnlayCompilation *compilation, const char *path, const char *bytes, size_t length);

/* Of a `use`: what is wanted next. */
typedef struct TurnlayWant {
    TurnlayStatus status; /* WRONG_ORDER before the first text and after turnlay_finish */
    const char *path;     /* as written, without the ending: "std/trims"; NULL when nothing is wanted */
    const char *from;     /* the path that the using file was given with */
} TurnlayWant;

/* The strings live as long as the compilation. */
TurnlayWant turnlay_want(TurnlayCompilation *compilation);

/* Why a file cannot be given. */
typedef enum TurnlayRefusal {
    TURNLAY_FILE_NOT_FOUND,
    TURNLAY_FILE_OUTSIDE, /* it leads out of the folders that may be read */
    TURNLAY_FILE_UNREADABLE,
    TURNLAY_FILE_TOO_LARGE,
    TURNLAY_FILE_ABOVE, /* it is not in the folders that may be read, but lies in one above the using file: a file
                         * turnlay.root there would mark it as a project's root */
    TURNLAY_REFUSAL_COUNT
} TurnlayRefusal;

/* Instead of turnlay_give: the file cannot be given, which becomes a finding. path: as shown to people; looked at
 * only for the file to compile, and may be NULL for one that is wanted. why: a few words for people ("looked for
 * in patterns"). WRONG_ORDER after turnlay_finish. */
TurnlayStatus turnlay_refuse(TurnlayCompilation *compilation, const char *path, TurnlayRefusal refusal,
                             const char *why);

/* A width measured at the bench, at a step of the sheet that asks for it. */
typedef struct TurnlayMeasured {
    uint32_t step;  /* counted from 1 through all rods, on the sheet that all widths given before it make */
    double width;   /* mm */
    uint32_t turns; /* that were counted in its band; 0: as many as the sheet says */
    int sure; /* not 0: it holds however far it is off; else one that is far off is asked about and not heeded */
} TurnlayMeasured;
/* What is made by then stays, the rest is planned again. Calls add up, in the order of the work. WRONG_VALUE for
 * step 0, widths that no wrap has, and more than 4096 of them; WRONG_ORDER after turnlay_finish. */
TurnlayStatus turnlay_measure(TurnlayCompilation *compilation, TurnlayMeasured measured);
/* The step for which turnlay_finish answered NOT_MEASURED; 0 if it did not. */
uint32_t turnlay_step_not_measured(const TurnlayCompilation *compilation);

/* What goes wrong with a thread at the bench. */
typedef enum TurnlayMishapKind {
    TURNLAY_BROKE,       /* the running thread breaks after so many turns of the step */
    TURNLAY_SPOOL_EMPTY, /* its spool, or its cut piece, comes to an end after so many turns of the step */
    TURNLAY_UNWOUND,     /* turns came off: so many of the layer are left */
    TURNLAY_LOOP_TORN,   /* the pull-through loop that lies in the step, or is drawn in it */
    TURNLAY_TAG_OUT,     /* the tag of the thread that begins, or is wound, in the step */
    TURNLAY_MISHAP_KIND_COUNT
} TurnlayMishapKind;

/* How the work goes on: a new piece begins where the old one ends, which shows; or all that the piece made comes
 * off, and is made anew. EITHER: what can be done with fewer turns. */
typedef enum TurnlayWay {
    TURNLAY_WAY_EITHER,
    TURNLAY_WAY_SPLICE,
    TURNLAY_WAY_RESTART,
    TURNLAY_WAY_COUNT
} TurnlayWay;

typedef struct TurnlayMishap {
    uint32_t step; /* as of TurnlayMeasured, on the sheet that all that happened before makes */
    TurnlayMishapKind kind;
    uint32_t
        turns; /* BROKE, SPOOL_EMPTY: made in the step by then; UNWOUND: left of the layer; else not looked at */
    TurnlayWay way; /* where it cannot be done, the other one is followed, and the sheet says why */
} TurnlayMishap;
/* The sheet says what to do and goes on from there. Calls add up, with those of turnlay_measure, in the order of
 * the work. WRONG_VALUE for step 0, a kind or way that there is not, and more than 4096 things that happened;
 * WRONG_ORDER after turnlay_finish. */
TurnlayStatus turnlay_mishap(TurnlayCompilation *compilation, TurnlayMishap mishap);
/* Why turnlay_finish answered NOT_HAPPENED, a few words for people ("step 3 has no turns"); NULL if it did not.
 * They live as long as the compilation. */
const char *turnlay_mishap_fault(const TurnlayCompilation *compilation);
/* The step with which the work goes on after the last mishap; 0 without one. */
uint32_t turnlay_step_to_go_on(const TurnlayCompilation *compilation);

/* The record of this job (grammar/record.schema.json), as the page of its sheet saves it: what happened by it
 * comes before what is given otherwise, and its lots and notes stand on the sheet. What is none, or belongs to
 * another pattern, is a finding (T7). path: as shown in findings. The bytes are copied, and may be anything.
 * WRONG_ORDER for a second one, and after turnlay_finish. */
TurnlayStatus turnlay_record(TurnlayCompilation *compilation, const char *path, const char *bytes, size_t length);
/* The record of another job with threads of this one: what its widths teach of them is known from the start. The
 * same otherwise. */
TurnlayStatus turnlay_learn_from(TurnlayCompilation *compilation, const char *path, const char *bytes,
                                 size_t length);
/* The step at which one stands by the record of turnlay_record; 0 if it does not say, or before turnlay_finish. */
uint32_t turnlay_step_at(const TurnlayCompilation *compilation);

/* A quick look at the rods of the file with another thread, guide, blank or value in the place of one, by the
 * names that the file knows them by: "navy" and "plum", "shop.foam" and "dove"; of a thread also a colour,
 * "#22346b". Calls add up. WRONG_VALUE for an empty name; WRONG_ORDER after turnlay_finish. */
TurnlayStatus turnlay_swap(TurnlayCompilation *compilation, const char *name, const char *with);

/* Warnings count as errors: where there is one, turnlay_finish answers HAS_ERRORS, and there is no page but that
 * of the findings. WRONG_ORDER after turnlay_finish. */
TurnlayStatus turnlay_strict(TurnlayCompilation *compilation);

/* Plans all that was given. DONE, HAS_ERRORS or LOST; NOT_MEASURED, NOT_HAPPENED: planned with what
 * happened before that; NOT_SWAPPED: planned without that swap. WRONG_ORDER before the first text, while something
 * is wanted, and the second time. */
TurnlayStatus turnlay_finish(TurnlayCompilation *compilation);

/* --- what came of it; WRONG_ORDER before turnlay_finish --- */

typedef struct TurnlaySummary {
    uint32_t errors, warnings, notes;
    uint32_t findings; /* that can be read: of more than a hundred the first */
    uint32_t left_out; /* how many cannot */
    uint32_t rods;
    bool pages; /* whether there are other pages than findings: no errors, nothing lost */
} TurnlaySummary;

TurnlayStatus turnlay_summary(TurnlayCompilation *compilation, TurnlaySummary *summary);

typedef enum TurnlaySeverity { TURNLAY_NOTE, TURNLAY_WARNING, TURNLAY_ERROR } TurnlaySeverity;

/* Bytes of a text that was given, from start up to end; a byte order mark at its beginning is not counted. */
typedef struct TurnlayPlace {
    const char *file;      /* the path that it was given with */
    uint32_t line, column; /* of start, from 1; the column counts characters (code points) */
    uint32_t start, end;
    const char *label; /* words under the underline, "" for none */
} TurnlayPlace;

/* One replacement in the source: put text where start up to end stands; start == end inserts. */
typedef struct TurnlayEdit {
    const char *file;
    uint32_t start, end;
    const char *text;
} TurnlayEdit;

enum { TURNLAY_RELATED = 3 };

typedef struct TurnlayFinding {
    const char *code; /* "T101" */
    TurnlaySeverity severity;
    const char *title;   /* of all findings with this code, a few words */
    const char *message; /* of this one */
    TurnlayPlace at;
    TurnlayPlace related[TURNLAY_RELATED];
    uint32_t related_count;
    const char *mend; /* in words */
    bool has_edit;    /* the mend to the letter, where it is a change of the source */
    TurnlayEdit edit;
    uint32_t times; /* how often the same place gave the same code */
} TurnlayFinding;

/* In source order, index from 0. The strings live as long as the compilation. WRONG_VALUE beyond the last. */
TurnlayStatus turnlay_finding(TurnlayCompilation *compilation, uint32_t index, TurnlayFinding *finding);

/* If the file has no rod, and no errors, this adds the finding that says so (T024), once: a NOTE where a file of
 * patterns alone is as it should be, an ERROR where a page of its rods is wanted. HAS_ERRORS if it is an error
 * now; WRONG_VALUE for a WARNING. */
TurnlayStatus turnlay_expect_rod(TurnlayCompilation *compilation, TurnlaySeverity severity);

/* Why a swap is not made, a few words for people ("navi=plum: the file knows no navi; did you mean navy?"); NULL
 * where all are. They live as long as the compilation. */
const char *turnlay_swap_fault(const TurnlayCompilation *compilation);

/* LOST, and where it is (the first such place), or DONE, and a place of zeros. */
TurnlayStatus turnlay_lost(TurnlayCompilation *compilation, TurnlayPlace *place);

typedef struct TurnlayRod {
    const char *title;
    uint32_t steps;    /* on its part of the bench sheet; 0 where there are errors */
    bool has_template; /* it has a crosswrap */
} TurnlayRod;

/* Rods count from 0, in source order. The strings live as long as the compilation. */
TurnlayStatus turnlay_rod(TurnlayCompilation *compilation, uint32_t rod, TurnlayRod *about);

typedef struct TurnlaySection {
    const char *name;  /* its blank's; with a number where that blank stands more than once */
    double start, end; /* what shows of it, mm from the rod's butt */
} TurnlaySection;

/* Sections of a rod count from 0, from the butt; a rod of one piece has one. NO_SUCH_SECTION beyond the last. */
TurnlayStatus turnlay_section(TurnlayCompilation *compilation, uint32_t rod, uint32_t section,
                              TurnlaySection *about);

/* --- pages; WRONG_ORDER before turnlay_finish, and all but findings HAS_ERRORS or LOST, as turnlay_finish did ---
 */

/* A page belongs to the caller, outlives its compilation, and is given back with turnlay_text_free. What the
 * struct holds when an entry is called is not looked at; {NULL, 0} if the entry does not answer DONE. */
typedef struct TurnlayText {
    char *bytes; /* followed by a NUL */
    size_t length;
} TurnlayText;

/* Also of {NULL, 0}, which it leaves behind. NULL is allowed. */
void turnlay_text_free(TurnlayText *text);

typedef enum TurnlayFormat {
    TURNLAY_TEXT,
    TURNLAY_JSON, /* by the schemas in grammar/ */
    TURNLAY_CSV,
    TURNLAY_HTML,
    TURNLAY_TERMINAL, /* TEXT with terminal escapes for colour */
    TURNLAY_FORMAT_COUNT
} TurnlayFormat;

/* What turnlay_write_findings writes. The counts are those of all. */
typedef enum TurnlayShown {
    TURNLAY_SHOW_ALL,
    TURNLAY_SHOW_GROUPED, /* all, but notes in one line for each rod, as `turnlay` does; JSON has them one by one
                           */
    TURNLAY_SHOW_ERRORS,
    TURNLAY_SHOWN_COUNT
} TurnlayShown;

/* From now on; ALL if it is not called. May be called at any time. */
TurnlayStatus turnlay_show_findings(TurnlayCompilation *compilation, TurnlayShown shown);
/* Findings for people, with the lines of the source: TEXT, TERMINAL, JSON. */
TurnlayStatus turnlay_write_findings(TurnlayCompilation *compilation, TurnlayFormat format, TurnlayText *page);
/* The plan: turns, widths, lengths, what to cut: TEXT, JSON, CSV. */
TurnlayStatus turnlay_write_plan(TurnlayCompilation *compilation, TurnlayFormat format, TurnlayText *page);
/* How much of each thread is needed: TEXT, JSON, CSV. */
TurnlayStatus turnlay_write_need(TurnlayCompilation *compilation, TurnlayFormat format, TurnlayText *page);
/* How far in a sheet's text is told: in steps, each one thing done without looking up; action by action, as
 * whoever does it for the first time wants it, each numbered within its step; or in cards, a place in a few lines,
 * for whoever has wrapped before. */
typedef enum TurnlayDepth { TURNLAY_STEPS, TURNLAY_ACTIONS, TURNLAY_CARDS, TURNLAY_DEPTH_COUNT } TurnlayDepth;

/* From now on; STEPS if it is not called. May be called at any time. */
TurnlayStatus turnlay_show_depth(TurnlayCompilation *compilation, TurnlayDepth depth);
/* The bench sheet, to follow with both hands busy: TEXT from the step of that number on, with what lies on the
 * blank by then (1 for all; 0 for the step of turnlay_step_at or
 * turnlay_step_to_go_on, or all); HTML whole, opened there; JSON, for
 * programs, always whole. */
TurnlayStatus turnlay_write_sheet(TurnlayCompilation *compilation, TurnlayFormat format, uint32_t from_step,
                                  TurnlayText *page);

/* Of rods of several sections: sheets and drawings show that one alone from now on, and of sheets what is done to
 * the whole rod; all if it is not called, or with NULL. NO_SUCH_SECTION, and nothing changes, where no rod of
 * several sections has one of that name. */
TurnlayStatus turnlay_show_section(TurnlayCompilation *compilation, const char *name);

typedef enum TurnlayView {
    TURNLAY_SIDE,         /* the blank's outline with the wraps on it */
    TURNLAY_UNROLLED,     /* the surface cut open opposite the ring or the place's own line, and laid flat */
    TURNLAY_ROD,          /* the whole rod from butt to tip, its wraps from near by below it */
    TURNLAY_PRESENTATION, /* the same for a customer: without what only the bench needs */
    TURNLAY_EYE,          /* wraps as the eye sees them from near and from far, beside the sharp picture */
    TURNLAY_VIEW_COUNT
} TurnlayView;

/* Whose eyes a drawing, or a page of shades, is for: those with all cones, or without those for red, for green or
 * for blue. */
typedef enum TurnlayEyes {
    TURNLAY_ALL_CONES,
    TURNLAY_PROTANOPIA,
    TURNLAY_DEUTERANOPIA,
    TURNLAY_TRITANOPIA,
    TURNLAY_EYES_COUNT
} TurnlayEyes;

/* Drawings and templates from now on; ALL_CONES if it is not called. May be called at any time. */
TurnlayStatus turnlay_show_eyes(TurnlayCompilation *compilation, TurnlayEyes eyes);

#define TURNLAY_LEAST_SCALE 0.01
#define TURNLAY_GREATEST_SCALE 100
#define TURNLAY_EYE_SCALE 6

/* A rod's picture as SVG; NO_SUCH_SECTION where this rod has not that of turnlay_show_section. scale: times true
 * size (of the eye's view TURNLAY_EYE_SCALE is usual), of the whole rod's page times its usual width, from
 * TURNLAY_LEAST_SCALE to TURNLAY_GREATEST_SCALE. facing: the angle round the blank that faces the viewer, in
 * degrees, but for the unrolled view; NAN for what shows most.
 */
TurnlayStatus turnlay_write_drawing(TurnlayCompilation *compilation, uint32_t rod, TurnlayView view, double scale,
                                    double facing, TurnlayText *page);
/* Wrap-around templates of a rod's crosswraps, to cut out, as SVG at true size. NO_TEMPLATE without a crosswrap.
 */
TurnlayStatus turnlay_write_template(TurnlayCompilation *compilation, uint32_t rod, TurnlayText *page);
/* Pages of shades are about the threads between these two from now on, by the names that the file knows them by:
 * "navy", "shop.foam"; about all threads, one by one, if it is not called, or with NULL twice. NO_SUCH_THREAD, and
 * nothing changes, where the file knows none of the name, where one has no colour or both are one. */
TurnlayStatus turnlay_show_between(TurnlayCompilation *compilation, const char *from, const char *to);
/* Why turnlay_show_between answered NO_SUCH_THREAD the last time, a few words for people ("the file knows no
 * thread navi; did you mean navy?"); NULL if it did not. They live as long as the compilation. */
const char *turnlay_between_fault(const TurnlayCompilation *compilation);
/* The file's threads by their colours, those of used files too: which lie between two, the smoothest walk from the
 * one to the other, where a shade is missing, and which would be mistaken: TEXT, JSON. A file without rods has
 * these pages, too. TOO_LARGE where more than a thousand threads would have to be compared. */
TurnlayStatus turnlay_write_shades(TurnlayCompilation *compilation, TurnlayFormat format, TurnlayText *page);
/* The same as a picture, SVG. */
TurnlayStatus turnlay_write_shades_drawing(TurnlayCompilation *compilation, TurnlayText *page);
/* One text that holds the file and all it uses, and compiles to the same plan. TOO_LARGE where files that use one
 * another crosswise would make it more than can be read: 16 MiB. */
TurnlayStatus turnlay_write_gathered(TurnlayCompilation *compilation, TurnlayText *page);
/* The same with the turns of fades by eye, as they were chosen, in place of what asks for them, so that they stay
 * the same for ever. left: how many stay `by: eye`; note T321 says of each why. */
TurnlayStatus turnlay_write_kept(TurnlayCompilation *compilation, TurnlayText *page, uint32_t *left);

/* --- what the codes of findings mean --- */

typedef struct TurnlayExplanation {
    const char *code; /* "T101" */
    TurnlaySeverity severity;
    const char *title; /* a few words */
    const char *page;  /* Markdown: why, with an example and its mend */
} TurnlayExplanation;

/* Of every code, in order, index from 0: NULL_GIVEN, or WRONG_VALUE beyond the last. The strings live for ever. */
TurnlayStatus turnlay_explanation(uint32_t index, TurnlayExplanation *explanation);
/* By code, "T101", "t101" or "101": NULL_GIVEN, or WRONG_VALUE for no such code. */
TurnlayStatus turnlay_explain(const char *code, TurnlayExplanation *explanation);

#ifdef __cplusplus
}
#endif

#endif
