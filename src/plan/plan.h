/* The plan: which turns lie where, on which diameter, and how long they are. The one place where the
 * numbers of the trade are decided; everything after it only shows them. Lengths in mm. */
#ifndef TURNLAY_PLAN_PLAN_H
#define TURNLAY_PLAN_PLAN_H

#include "meaning/blank.h"
#include "plan/crosswrap.h"
#include "plan/fade_turns.h"
#include "plan/piece_group.h"

/* What a run's turns are: name, and in words. */
#define RUN_TABLE(X) X(BAND, "band") X(INLAY, "inlay") X(FADE_IN, "fade in") X(FADE_OUT, "fade out") X(GAP, "gap")

typedef enum {
#define X(name, words) RUN_##name,
    RUN_TABLE(X)
#undef X
} RunRole;

/* How sure a length of thread is, as standard uncertainties in mm: by the blank's diameters; by the thickness of
 * threads, its own and those below; and by where along a taper the turns come to lie. Each adds up along a piece;
 * they are not off alike. Where the surface gets thicker on the way, thicker threads also lie further on: that is
 * among the second then. */
typedef struct LengthSure {
    float blank, threads,
        along; /* a run and a piece have one each: narrow, since nobody needs seven digits of them */
} LengthSure;
/* All of it together. */
double sum_of_sure(LengthSure sure);

/* Turns of one thread (or of strands together) without a change. In working order. */
typedef struct Run {
    const Strands *strands; /* NULL for a gap */
    RunRole role;   /* as it is worked: in a mirrored fade the thread that was written as the new one goes out */
    uint32_t turns; /* 0 for a gap */
    uint32_t item;  /* index into the layer's items */
    bool made;      /* on the bench already, as wide as it was measured */
    bool goes_on;   /* one with the run before: a width was measured between them */
    double pitch;   /* mm of the axis that a turn takes; 0 for a gap */
    double start, end; /* along the axis from the butt; start > end when worked toward the butt */
    double sure;       /* of the width from the layer's start to its end: standard uncertainty, mm */
    double start_diameter, end_diameter; /* of the surface below, without guide feet */
    const double *lengths;               /* mm of thread wound, one a strand */
    LengthSure length_sure;              /* of each, but for its own thickness */
    Span span;                           /* the statement it comes from */
} Run;

typedef struct PlannedItem {
    const Item *item;
    uint32_t first_run, run_count;
    uint32_t turns;           /* all runs' */
    uint32_t chosen;          /* a fade by eye: number of its turns in Plan.chosen; 0 for others */
    double asked;             /* the width that was asked for; NAN where turns or a fill were */
    double obtained;          /* the width that its runs take */
    const Strands *from, *to; /* a fade, as it is worked; NULL for others */
    double sure;              /* of that width: standard uncertainty, mm */
} PlannedItem;

/* A length asked for of several items together: `fade 40 mm of [navy, mist, foam]`. Of the layer's items. */
typedef struct PlannedSpread {
    uint32_t first_item, item_count;
    double asked, obtained;
    Span span; /* of the length */
} PlannedSpread;

/* An item whose turns or width changed because a finished band was measured. */
typedef struct Replanned {
    uint32_t item;
    uint32_t turns_before, turns;
    double width_before, width;
} Replanned;

/* A width that was measured and is not heeded, since it asks to be looked at again (T320). */
typedef struct LeftOut {
    uint64_t turn;          /* of the layer: measured up to its end */
    double width, expected; /* mm */
    uint32_t event;         /* among what happened, from 1; 0 for none of these */
    bool answered;          /* one that was given later is heeded */
} LeftOut;

/* Surface that a layer adds: thickness from `start` (in working order) up to the next step; and its standard
 * uncertainty, where it is least sure. */
typedef struct ThicknessStep {
    double start, thickness, sure;
} ThicknessStep;

/* A width that will be measured, from the layer's start to so many turns: how sure it is. */
typedef struct ExpectedWidth {
    uint64_t turn;
    double uncertainty; /* standard uncertainty, mm, without that of measuring */
} ExpectedWidth;

typedef struct PlannedLayer {
    const Layer *layer;
    bool laid; /* false: no runs, for the finding of error level that `cause` names */
    Cause cause;
    double start, end; /* along the axis from the butt */
    double length;     /* the room it has, NAN if none was given */
    double width;      /* that its runs take */
    double unfilled;   /* room left after its fills; NAN without fills */
    Run *runs;
    uint32_t run_count;
    PlannedItem *items;
    uint32_t item_count;
    PlannedSpread *spreads; /* in working order */
    uint32_t spread_count;
    uint64_t turns;                    /* of its runs: those of crosswraps' strands are not among them */
    const PlannedCrosswrap *crosswrap; /* or NULL; its runs are then: end band, gap (the field), end band */
    ThicknessStep *surface;            /* in working order; the last step ends the layer with thickness 0 */
    uint32_t surface_count;
    Replanned *changes; /* against the plan before a width was measured */
    uint32_t change_count;
    LeftOut *left_out; /* in the order of turns */
    uint32_t left_out_count;
    double moved;            /* mm by which its end has moved since */
    ExpectedWidth *expected; /* in the order of turns */
    uint32_t expected_count;
} PlannedLayer;

/* A place as laid out: a place without a guide, or one foot of a guide. */
typedef struct PlannedPlace {
    const Place *place;
    int foot;                            /* index of the guide's foot, -1 without a guide */
    int direction;                       /* +1 toward the tip, -1 toward the butt */
    double start;                        /* the mark, or the outer end at a foot */
    double length;                       /* NAN if not known */
    double foot_tip, foot_end, ramp_end; /* along the axis; foot_end is the inner end; NAN without a guide */
    const struct PlannedPlace
        *host; /* the place worked before, on whose crosswrap this one lies; NULL if on none */
    PlannedLayer *layers;
    uint32_t layer_count;
    uint32_t section; /* of the rod's sections: the one that it lies on */
} PlannedPlace;

/* One piece of thread, from where it is laid in to where it is ended. */
typedef struct Piece {
    const Thread *thread;
    bool spacer;
    bool by_hand; /* a cut piece or on a bobbin, passed by hand while the blank stands still; else from a spool */
    bool bobbin;  /* of those by hand: on a bobbin, of any length, and taped it turns with the blank */
    bool tag_before;       /* from a spool, yet its tag lies under the turns before it */
    uint32_t place, layer; /* indices: PlannedRod.places, its layers */
    uint32_t first_run, last_run;
    uint64_t first_turn, end_turn; /* of the layer: first turn it makes, one after its last */
    uint64_t run_turn;             /* of the layer: where its first run begins, which another may have begun */
    uint64_t turns;
    uint64_t cut_turn; /* of the layer: it is cut from its spool then, and goes on by hand; NO_TURN if it is not */
    double cut_off;    /* mm from its turns to where it is cut then */
    uint32_t first_pass, pass_count; /* of a crosswrap; count 0 for any other piece, and turns 0 for such a one */
    double wound, tags, beneath, free; /* mm; their sum is the cut length */
    LengthSure sure;                   /* of what it winds; of passes not known */
    Span span;                         /* the statement that lays it in */
} Piece;

#define NO_TURN UINT64_MAX

/* Turns that one piece (or the strands' pieces together) makes without a change: a run, or a part of one where a
 * spool goes on, or where the piece is cut from its spool. In working order. */
typedef struct Winding {
    uint32_t place, layer, run;
    uint32_t turns;
    PieceGroup pieces; /* as many as the run has strands */
} Winding;

/* An end of a part; a part without a length, a mark, has one, at the butt's side. */
typedef struct PartEnd {
    double at;
    const Part *part;
    bool at_tip;
    const Part *furthest; /* of the parts that begin here or before, the one that reaches furthest; NULL if none */
} PartEnd;

/* Layers of one place that are wound one after another, with nothing of another place between them. */
typedef struct Stage {
    uint32_t place, first_layer, end_layer;
} Stage;

typedef struct PlannedRod {
    const Rod *rod;
    PartEnd *part_ends; /* of its parts, rising; of those at one place those that end come first */
    uint32_t part_end_count;
    const Blank *surface; /* what its places lie on: the blank, with the parts on it that are wrapped; NULL without
                             a blank */
    PlannedPlace *places; /* guides give one a foot, toward the butt first; section after section */
    uint32_t place_count;
    Stage *stages; /* the working order: every layer of every place once, a place's in its own order */
    uint32_t stage_count;
    Piece *pieces; /* in working order */
    uint32_t piece_count;
    Winding *windings;
    uint32_t winding_count;
    uint64_t hand_turns; /* of cut pieces, while some spool feeds or waits */
    uint64_t handled;    /* times that a thread is handled (bench.h), passes aside */
} PlannedRod;

/* What the way to work takes: pieces, each with two ends; turns by hand; how often a thread is handled; and mm of
 * thread that is not wound. */
typedef struct WorkSums {
    uint64_t pieces, hand_turns, handled;
    double waste;
} WorkSums;

/* What a thread needs in one place, or in all. */
typedef struct Need {
    const Thread *thread;
    uint32_t rod, place; /* NEED_ALL for the sum over the file */
    uint32_t pieces;
    uint64_t turns;
    double wound, ends; /* mm: wound turns; tags, what runs beneath, free ends */
    double lost;        /* mm: in the sum over the file, what mishaps cost besides */
} Need;
#define NEED_ALL UINT32_MAX

/* What is to be bought for a thread's pieces. Each is cut in one length: those longer than a spool are left out.
 */
typedef struct Supply {
    double spools;        /* whole, for what cannot be cut from the stock; NAN where no spool's length is known */
    double cost;          /* in the builder's money; NAN without spool or price */
    uint32_t too_long;    /* pieces that no spool holds */
    const Piece *longest; /* the longest piece */
} Supply;

/* What measured widths have taught of a thread: a turn of it from now on, and its standard uncertainty, mm. */
typedef struct Learned {
    const Thread *thread;
    double turn, uncertainty;
    bool here, earlier; /* at this job; at another, `from` of the job's `known` */
} Learned;

typedef struct Plan {
    const Job *job;
    PlannedRod *rods;
    uint32_t rod_count;
    Need *needs; /* per rod, place and thread, in working order */
    uint32_t need_count;
    Need *totals; /* one a thread used, in order of declaration */
    uint32_t total_count;
    Supply *supplies; /* one a total */
    uint64_t turns;
    double finish_volume; /* mm3: all coats over the widths that are wound, none if bench { coats: 0 } */
    Learned *learned;     /* of each thread that was measured, here or earlier, in order of declaration */
    uint32_t learned_count;
    const ChosenFades *chosen; /* turns of its fades by eye */
} Plan;

/* Lays out the job. Findings of layout (T3, T2 limits, T9) are added; layers with errors are left unlaid. */
Plan *plan_make(Arena *arena, const Job *job, Findings *findings);

/* working_order.c: the rod's pieces, place by place, those of one place as they are worked. */
const Piece **pieces_by_place(Arena *arena, const PlannedRod *rod);
/* How many layers of a foot are wound before its guide goes on; 0 without a guide. */
uint32_t layers_below(const PlannedPlace *place);
/* How sure the width is up to so many turns of the layer: that of the next one that is measured; 0 behind the
 * last. mm. */
double uncertainty_at(const PlannedLayer *layer, uint64_t turn);
/* sure.c: standard uncertainty, mm: of the blank's diameter at x, between two stations beside it; of what these
 * threads together add to the surface, and of what a crosswrap does; of a run's length of its thread with this
 * number; of the length that a piece winds; of the place's mark. */
double blank_diameter_sure(const Blank *blank, double x, const Bench *bench);
double thickness_sure(const Strands *strands);
double crosswrap_thickness_sure(const PlannedCrosswrap *crosswrap);
LengthSure length_sure(const Run *run, uint32_t strand);
double piece_sure(const Piece *piece);
double mark_sure(const Bench *bench);
/* Whether its turns are some of a fade's. */
bool run_fades(const Run *run);
/* Whether one of the place's layers is a crosswrap. */
bool has_crosswrap(const PlannedPlace *place);
/* Whether the piece is a cut one when so many turns of its layer are made. */
bool is_cut_at(const Piece *piece, uint64_t turn);
/* All of these are: they may be wrapped by hand. */
bool all_cut_at(const PlannedRod *rod, PieceGroup pieces, uint64_t turn);
/* The same of all places of a rod. */
bool rod_has_crosswrap(const PlannedRod *rod);
/* Whether some place stands elsewhere than on the rod's line. */
bool stands_round(const PlannedRod *rod);
/* Where along the blank a part's diameter of this number is set out. */
double part_knot(const Part *part, uint32_t knot);
/* Diameter of a part of the rod at x, within it; of a flat one that of the blank. */
double part_diameter(const Rod *rod, const Part *part, double x);
/* Number of the first end of a part at x or beyond; as many as there are where none is. */
uint32_t part_end_from(const PlannedRod *rod, double x);
/* A part that begins at `low` or before and ends at `high` or beyond; NULL if there is none. */
const Part *part_over(const PlannedRod *rod, double low, double high);
/* Where it lies, from a butt that is so far from the rod's: "0 to 24 cm", "at 62 cm". */
const char *part_where(Arena *arena, UnitSystem units, const Part *part, double butt);
/* What to mind: "keep it free of thread", "thread lies on it"; "" of a mark. */
const char *part_use(const Part *part);
/* Where one section is asked for: all of them. */
#define ALL_SECTIONS UINT32_MAX
/* sections.c: number of the section that shows at x mm from the rod's butt; at a joint the one toward the tip. */
uint32_t section_at(const Rod *rod, double x);
/* The rod's blanks by name: "tube", "butt_piece and tip_piece". NULL for a rod without. */
const char *blanks_named(Arena *arena, const Rod *rod);
/* How much of the section's own butt, or of its tip, lies hidden in a joint, mm; 0 for the rod's ends. */
double hidden_in_joint(const Rod *rod, uint32_t section, bool tip);
/* The one of that name, where the rod has several; ALL_SECTIONS if there is none. */
uint32_t section_named(const Rod *rod, const char *name);
/* "section 1 of 2: butt_piece". */
const char *section_label(Arena *arena, const Rod *rod, uint32_t section);
/* Where it is: "32 cm from the butt". */
const char *place_mark(Arena *arena, const Job *job, const Rod *rod, const PlannedPlace *place);
/* Names a place for people: "32 cm from the butt, toward the tip" or "ring16 at 150 cm from the tip, butt-side
 * foot". */
const char *place_label(Arena *arena, const Job *job, const Rod *rod, const PlannedPlace *place);
/* "underwrap", "overwrap", "wrap" where it is the only layer, or "chevron", "diamond", "spiral". */
const char *layer_label(const PlannedPlace *place, uint32_t layer);

#endif
