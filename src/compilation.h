/* Inside libturnlay's entries: what a compilation holds, and the guard that each entry keeps. */
#ifndef TURNLAY_COMPILATION_H
#define TURNLAY_COMPILATION_H

#include "bench/step_place.h"
#include "meaning/meaning.h"
#include "record/record.h"
#include "trade/colour.h"
#include "turnlay.h"

/* What happened at the bench, as it was given. */
typedef struct Happening {
    bool is_mishap;
    TurnlayMeasured measured;
    TurnlayMishap mishap;
    Span recorded;       /* in the record; end 0 for what was given beside it */
    uint32_t back;       /* its step is counted on the sheet that all before it but so many make */
    bool found;          /* in the step that was given: */
    MeasuredWidth width; /* as the plan takes it, */
    StepPlace place;     /* of a mishap that is counted on an earlier sheet, */
    uint64_t turn;       /* and at which turn of the layer it was */
    RecordedEvent event; /* and as a record tells it */
} Happening;

/* Of which job a record is. */
typedef enum { RECORD_OF_THIS, RECORD_OF_ANOTHER, RECORDS } RecordOf;

typedef struct GivenRecord {
    const char *path, *bytes; /* NULL: none was given */
    uint32_t length, file;    /* among the sources, once it is read */
    const Record *record;     /* NULL until then, and of what is none */
    uint32_t at;              /* the step where the builder stands, on the sheet that all makes; 0: not said */
    StepPlace at_place;       /* by the sheet on which it was counted, where that is another */
    StepPlace *note_places;   /* likewise of the job's notes; NULL where it is the same */
} GivenRecord;

typedef struct TurnlayCompilation {
    Trap trap;
    bool exhausted, finished;
    Arena arena;
    Arena page_arena; /* of the page that is being written; empty between entries */
    Texts texts;
    Findings findings;
    Sources sources;
    struct LineMap *lines;   /* NULL until finished */
    struct Reading *reading; /* modules read so far */
    Job *job;                /* NULL until finished */
    Plan *plan;              /* laid out as far as the findings allow */
    BenchPlan *bench;        /* steps, proven by replay and not kept; NULL if there are errors */
    LIST_OF(Happening)
    happened; /* in the order of the work: each is counted on the sheet that those before make */
    GivenRecord records[RECORDS]; /* see turnlay_record, turnlay_learn_from */
    bool went_on;                 /* the last mishap was given beside the record: one stands where it goes on */
    uint32_t not_measured;        /* the first of its steps in which no width is measured; 0: none */
    const char *mishap_fault;     /* why a mishap cannot have been in its step; NULL */
    uint32_t go_on_step;          /* see turnlay_step_to_go_on */
    GivenSwaps swaps;             /* see turnlay_swap */
    bool lost;                    /* at `lost_at`, or elsewhere too: see turnlay_lost */
    Span lost_at;
    bool strict;              /* see turnlay_strict */
    FindingsShown shown;      /* see turnlay_show_findings */
    TurnlayDepth depth;       /* see turnlay_show_depth */
    const char *section;      /* see turnlay_show_section; NULL for all */
    Vision eyes;              /* see turnlay_show_eyes */
    const Thread *between[2]; /* see turnlay_show_between; NULL, NULL */
    const char *between_fault;
    Beyond beyond;            /* the limit that a page was too large for, last */
    uint32_t errors_of_pages; /* findings of error level about a page that is too large: others may be had */
} Compilation;

/* turnlay_new; the request for memory number fail_at shall fail, 0 for none (tests). */
Compilation *compilation_new(uint64_t fail_at);

/* How an entry ends whose trap was sprung: OUT_OF_MEMORY, or TOO_LARGE and a finding. */
TurnlayStatus compilation_broken_off(Compilation *compilation);

/* Of the sheets of all rods, for a page of them. */
bool too_many_steps(const BenchPlan *bench);
/* The step that a sheet begins at: that one, or where 0 is asked for the one of the job's record, or 1. */
uint32_t answer_from(const Compilation *compilation, uint32_t asked);
/* The sheet in words, in the page's arena; springs the trap where it has too many steps. */
struct Sheet *answer_sheet(Compilation *compilation);

/* What turnlay_write_drawing is asked for, in its words and with its answers. */
typedef struct DrawingAsked {
    uint32_t rod;
    TurnlayView view;
    double scale, facing;
    double pixels,
        pixels_a_mm; /* how wide the picture will be in pixels, or how many of them a mm; 0, 0: not said */
} DrawingAsked;
TurnlayStatus drawing_status(const Compilation *compilation, const DrawingAsked *asked, TurnlayText *page);
/* In the page's arena. */
const struct Drawing *answer_drawing(Compilation *compilation, const DrawingAsked *asked);

/* The page of shades, in the page's arena; springs the trap where too many would be compared. */
const struct Shades *answer_shades(Compilation *compilation);
const struct Drawing *answer_shades_drawing(Compilation *compilation);
/* Whether it can be had. */
TurnlayStatus shades_status(const Compilation *compilation, TurnlayText *page);

/* A page was larger than this limit allows: the finding, and TOO_LARGE. The first takes memory under a trap that
 * is set. */
TurnlayStatus tell_beyond(Compilation *compilation, Beyond beyond);
TurnlayStatus compilation_beyond(Compilation *compilation, Beyond beyond);

/* The end of every entry that takes memory: does the work, which is an expression of TurnlayStatus, with the trap
 * set, and takes it away again. Memory that runs out ends the compilation, not the program. setjmp stands where
 * C17 7.13.1.1 allows it. */
#define RETURN_GUARDED(compilation, work)                                                                         \
    do {                                                                                                          \
        if (setjmp(*trap_set(&(compilation)->trap)) != 0)                                                         \
            return compilation_broken_off(compilation);                                                           \
        TurnlayStatus guarded_ = (work);                                                                          \
        trap_clear(&(compilation)->trap);                                                                         \
        return guarded_;                                                                                          \
    } while (0)

/* Job to plan to steps, each with its findings. */
void plan_and_prove(Compilation *compilation);
/* happened.c: plans and proves again with each thing that happened; `before`: the findings about the job alone. */
void plan_again(Compilation *compilation, Findings before);

/* What every entry that takes the compilation further asks first. */
TurnlayStatus status_while_reading(const Compilation *compilation);
/* Whether a page (or another answer) can be had: NULL, memory, order, and with `whole` loss and errors. */
TurnlayStatus answer_status(const Compilation *compilation, const void *answer, bool whole);

/* A page in the making; compilation and text are good. */
Buffer answer_start(Compilation *compilation);
/* Copies it into the text, and gives back what it was made in. */
TurnlayStatus answer_hand_over(Compilation *compilation, const Buffer *page, TurnlayText *text);

#endif
