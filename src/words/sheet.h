/* The bench sheet's content, in words: made once from the actions, and rendered as text, HTML and PDF. Every
 * sentence and every number that a builder reads is decided here, so that the three cannot differ. All strings are
 * UTF-8 in the arena. */
#ifndef TURNLAY_WORDS_SHEET_H
#define TURNLAY_WORDS_SHEET_H

#include "bench/bench.h"
#include "trade/colour.h"

/* Behind the last of them. */
#define ALL_DONE "Every step is done. Look the rod over in good light before you put it away."

typedef struct SheetCut {
    const char *label;     /* "navy 2" or "loop" */
    const char *what;      /* "cut piece", "spool", "bobbin", "loop of strong line" */
    const char *length;    /* "1.35 m"; for a spool what it winds, with its ends */
    uint32_t first_action; /* number of the action that first needs it, from 1 */
    uint32_t first_step;   /* number of that action's step */
    bool loop;
    uint32_t thread, number; /* its index, UINT32_MAX for a loop; which of its pieces, or loops, from 1 */
    uint32_t place;          /* of the rod's places: where it is wound; of a loop 0 */
    uint32_t colour;         /* 0xRRGGBB; NO_COLOUR for a loop */
} SheetCut;

/* Pieces alike to cut, spools alike to mount. */
typedef struct CutLine {
    const char *labels; /* "navy 2", "mist 10, 12 and 13", "loop 1 and 2" */
    const char *what;   /* "cut piece", "spool", "loop of strong line" */
    const char *length; /* of each */
    uint32_t count;
    uint32_t colour; /* 0xRRGGBB; NO_COLOUR for a loop */
    uint32_t first_action, first_step;
} CutLine;

/* What is cut for a place, or for both feet of a guide. */
typedef struct CutPlace {
    const char *heading; /* of its card; "" of loops, which serve at all of them */
    CutLine *lines;
    uint32_t line_count;
} CutPlace;

typedef struct CutPlaces {
    CutPlace *items;
    uint32_t count;
} CutPlaces;

/* A step of a fade: one thread comes in, the other goes out. */
typedef struct FadeStep {
    uint32_t number, of; /* from 1; 0 where no fade goes on */
} FadeStep;

typedef struct SheetAction {
    uint32_t number; /* from 1, through all rods of the sheet */
    uint32_t step;   /* number of its step */
    uint32_t within; /* which of the step's actions it is, from 1; 0 where it is the only one */
    const Action *action;
    const char *thread; /* label of the piece in words, "navy 2"; "" where none is meant */
    const char *says;   /* one short line to be read from a metre away: "Wind 12 turns of navy 2" */
    const char *own;    /* what goes for this action alone: a gap before it, its end band; or "" */
    FadeStep fade;      /* how far its turns bring a fade that has begun */
    const char *how;    /* how it is done, what holds it; or "" */
    const char *detail; /* all of it */
    const char *where;  /* "18.35 mm from the mark", "from 43 deg (1:26) to 220 deg (7:20)" or "" */
    const char *count;  /* "12 in the band, 73 in the wrap", "pass 7 of 16; ..." or "" */
    const char *clock;  /* "6 o'clock, this ring at 12" (without a guide "the rod's line") or "" */
    uint32_t colour;    /* of the thread, 0xRRGGBB; NO_COLOUR where none is meant */
    bool measure;       /* room for a measured width */
    const char *stop; /* how one may stop after it, or NULL: "Safe to stop: tape navy 2 down, ease its tension" */

    /* What may hurt and what to do about it, where the sheet meets it first; else "". */
    const char *caution;
} SheetAction;

/* How far in the sheet is told: in steps, action by action. */
typedef enum { DEPTH_STEPS, DEPTH_ACTIONS } SheetDepth;

/* One thing done without looking up. */
typedef struct SheetStep {
    uint32_t number; /* from 1, through all rods of the sheet */
    StepKind kind;
    uint32_t first, count; /* into the rod's actions */
    const char *says;      /* what is done; no action that changes hands is left out */
    const char *note;      /* what goes for it alone, and how it is done where that is first met; "" for nothing */
    const char *where, *progress, *clock; /* as the facts of its actions; "" for none */
    const char *caution;                  /* "" for none, several one a line */
    const char *thread; /* what is wound, or what it is about: "slate 1, navy 2"; "" where none is meant */
    uint32_t colour;    /* of the first of them; NO_COLOUR where none is meant */
    uint32_t turns;     /* to count in it, all its windings together */
    bool measure;       /* room for a measured width */
    const char *stop;   /* how one may stop after it; NULL: not, or a later step without turns says it */
} SheetStep;

/* A step of a wrap that is told as an equal one: what it has of its own, in a row. What is neither here nor marked
 * as its own is said of the other one's step; pieces, and where it is worked the other way, sides changed. */
typedef struct ToldRow {
    uint32_t as;       /* number of that step */
    const char *turns; /* of each of its windings, in the order of its words: "6", "2 + 6"; "" for none */
    const char *layer; /* turns of the layer when it is done: "56"; "" where there is nothing to count */
    const char *at;    /* from the mark to where it ends: "8.34 mm", "at the mark"; "" for nowhere */
    const char *width; /* that is to be measured: "19.53 mm"; "" for none */
    const char *hour;  /* where round the blank, where it is another hour: "7 o'clock"; else "" */
    const char *note;  /* what goes for it alone, and is not said there; "" for nothing */
    bool own_says, own_clock, own_stop; /* the step's own words are to be read */
} ToldRow;

/* Before the sentence of a step that has its own. */
#define ROW_OWN "here:"

/* A part of the rod, or a note at a place of it. */
typedef struct SheetNote {
    const char *name;  /* "grip" */
    const char *words; /* "0 to 24 cm; keep it free of thread" */
} SheetNote;

/* The actions of one layer at one place, or those of the whole rod before and after. */
typedef struct SheetPart {
    const char *heading;   /* "ring16 at 1500.00 mm from the tip, butt-side foot: over" */
    const char *changed;   /* against the sheet before a width was measured, in words; "" for nothing */
    uint32_t place, layer; /* WHOLE_ROD for actions of the whole rod */
    uint32_t first, count; /* into the rod's actions */
    uint32_t first_step, step_count;
    const struct SheetPart *as; /* an equal one before it, which tells its steps at length; NULL for none */
    const char *as_words;       /* "The same steps as for ... (84 to 100), with these counts. ..." */
    ToldRow *rows;              /* of each of its steps, where there is one that tells them */
} SheetPart;

/* What is done while one of a rod's sections lies at the bench, or when all are wound; of a rod of one piece all.
 * Pages show them one after the other. */
typedef struct SheetSection {
    const char *title;   /* of the rod, with which section: "Harbour, section 1 of 2: butt_piece" */
    const char *heading; /* the same without the rod; NULL where the rod is of one piece */
    const char *note;    /* what goes for all of it; "" for nothing */
    uint32_t section;    /* of the rod's sections, ALL_SECTIONS where it is about the whole rod */
    uint32_t first_part, part_count;
    uint32_t first_cut, cut_count;
    uint32_t first_note, note_count;     /* where it is worked on first; 0 later */
    uint32_t first_action, action_count; /* into the rod's actions */
    uint32_t first_step, step_count;     /* into its steps */
} SheetSection;

typedef struct SheetRod {
    const char *title;
    const BenchRod *bench;
    SheetNote *notes; /* from the butt on */
    uint32_t note_count;
    const char **labels; /* by piece of the rod: "navy 2"; NULL for a piece that no action or cut names */
    SheetCut *cuts;
    uint32_t cut_count;
    SheetPart *parts;
    uint32_t part_count;
    SheetSection *sections; /* as they are worked */
    uint32_t section_count;
    SheetAction *actions;
    uint32_t action_count;
    SheetStep *steps; /* every action is in just one */
    uint32_t step_count;
    struct Card *cards; /* words/card.h; in working order, of all sections */
    uint32_t card_count;
} SheetRod;

/* A thread that the sheet uses; pages leave room beside it for what is to be written there. */
typedef struct SheetThread {
    const char *name;     /* "navy"; where two files give threads of one name, "navy" and "navy (2)" */
    const char *note;     /* "0.149 mm a turn" and what else is to be known */
    uint32_t colour;      /* 0xRRGGBB */
    const char *to_write; /* "code and lot", or what of them is not known; "" for nothing */
    const Thread *thread;
} SheetThread;

/* What happened at the bench. */
typedef struct SheetMishap {
    const Mishap *mishap;
    const char *was, *now; /* what it was; what to do: the way that the sheet goes */
    const char *other;     /* which other way there is, or why there is none; "" for nothing */
} SheetMishap;

#define HAPPENED_HEADING "What happened"

typedef struct Sheet {
    const BenchPlan *bench;
    const char *title, *author, *pattern_mark; /* "3f2a-91bc-07de"; "" for no author */
    const char *units;                         /* that widths are measured in */
    const char *rule, *callipers;              /* what they are read to: "0.5 mm" */
    const char *orientation; /* which end lies left, which way the blank turns, from where positions count */
    const char *cautions[8]; /* blade, epoxy, spindle, loads */
    uint32_t caution_count;
    SheetThread *threads;
    uint32_t thread_count;
    const char *const *thread_names; /* of these, by Thread.index */
    SheetMishap *mishaps;            /* in the order of the work */
    uint32_t mishap_count;
    const char *const *widths; /* where to go on behind the one measured last, and which wait for an answer */
    uint32_t width_count;
    SheetRod *rods;
    uint32_t rod_count;
} Sheet;

/* The row's thread, with its hour: "navy 2 at 8 o'clock". */
const char *row_thread(Arena *arena, const SheetStep *step, const ToldRow *row);

/* The section's cut list, place by place, of what is needed from the step of that number on. */
CutPlaces sheet_cut_places(Arena *arena, const SheetRod *rod, const SheetSection *section, uint32_t from);

Sheet *sheet_make(Arena *arena, const BenchPlan *bench);
/* Leaves only what is done to sections of that name, and to whole rods that have one. */
void sheet_keep_section(Arena *arena, Sheet *sheet, const char *name);
/* Anew for a sheet that begins at the step of that number: cautions, each danger where it is met first; wraps that
 * are equal to one that is shown, so that its steps need not be told again. */
void sheet_cautions(Arena *arena, Sheet *sheet, uint32_t from);
void sheet_equal_wraps(Arena *arena, Sheet *sheet, uint32_t from);
/* Both. */
void sheet_begin_at(Arena *arena, Sheet *sheet, uint32_t from);
/* Whether what is done at the place, by its number in the rod, is on the sheet. */
bool sheet_shows(const SheetRod *rod, uint32_t place);
/* Of the content: the same plan gives the same key. */
uint64_t sheet_key(const Sheet *sheet);

#endif
