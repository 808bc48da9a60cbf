/* A crosswrap as planned, and its geometry: where every strand lies, and which one shows. All of it follows from
 * the rules in grammar/reference.md, "Crosswraps". Lengths in mm; positions along the axis from the butt; angles
 * round the blank in turns (or degrees, where said), clockwise seen from the butt, 0 on the rod's line. */
#ifndef TURNLAY_PLAN_CROSSWRAP_H
#define TURNLAY_PLAN_CROSSWRAP_H

#include "meaning/job.h"
#include "plan/direction.h"

#define NO_STRAND UINT32_MAX
#define NO_PASS UINT32_MAX

/* How far thread runs out onto the tape (or to the pins) beyond the layer where a pass turns round, mm: half of a
 * tape 20 mm wide. Common practice, no source. */
#define TURNED_BEYOND 10.0

/* Out: the way the place is worked. A spiral has no leg back. */
typedef enum { LEG_OUT, LEG_BACK, LEG_COUNT } Leg;

/* The surface that the crosswrap lies on, between two places along the axis: a cone. */
typedef struct SurfaceStretch {
    double from, to; /* from < to */
    double diameter_from, diameter_to;
} SurfaceStretch;

/* A strand of the bundle. In laying order. */
typedef struct BundleStrand {
    const Thread *thread;
    bool spacer;        /* taken off again before the end bands are wound */
    double middle;      /* across the strands, from the bundle's line; toward the tip is positive */
    double width;       /* across: its thread's pitch */
    int side;           /* +1: laid against its neighbour on the tip's side, -1 on the butt's side, 0: the first */
    uint32_t neighbour; /* index of the strand that it is laid against; NO_STRAND for the first */
    uint32_t line;      /* of the crosswrap's `strand` lines, from 0 */
    Span span;
} BundleStrand;

/* One strand wound once for one start: out, and (but for spirals) back. In laying order: every strand for all
 * starts, so pass = strand * starts + start. */
typedef struct Pass {
    double length[LEG_COUNT]; /* of thread in each leg */
    double dwell; /* degrees that the thread goes on round between its legs: less than 360 where tape or pins hold
                     it; spirals: 0 */
    double dwell_before; /* degrees from the leg back of the pass before; 0 where a piece begins */
    double wound_before; /* of its piece, before its leg out */
} Pass;

/* How the field closes at one of its ends. */
typedef struct FieldEnd {
    double position, diameter; /* of the surface */
    double angle[LEG_COUNT];   /* of each leg to the way round the blank, radians; 0 for a spiral's leg back */
    double room;               /* across the strands, for one bundle of the leg with the smaller lead */
    double left;               /* room less all strands' widths: what stays open; negative: they overlap */
    double closing; /* how many of the last line's strands, in all, would close it; a whole number, >= 0 */
} FieldEnd;

typedef struct PlannedCrosswrap {
    const Crosswrap *crosswrap;
    int direction;                 /* +1: out is toward the tip */
    int sense;                     /* +1: the thread goes round clockwise, seen from the butt; both legs */
    double low, high;              /* of the layer, end bands and all */
    double field_start, field_end; /* in working order */
    double end_width;              /* obtained, of one end band */
    uint32_t end_turns;
    uint32_t starts;
    uint32_t ratio[LEG_COUNT]; /* of the leads, in lowest terms: lead out : lead back; 1 and 0 for a spiral */
    uint32_t crossings;        /* on a line; 0 for a spiral */
    double spacing;            /* between the crossings on a line; NAN for a spiral */
    double asked;              /* the spacing (mm) or angle (degrees) asked for; NAN where neither was */
    double lead[LEG_COUNT];    /* 0 for a spiral's leg back */
    double angle;              /* turns: that of its place, where what it has to show faces */
    double base;               /* turns: where the first start's line stands at the field's start */
    double thread_diameter;    /* of the first strand's thread: the angles are those of its centre line */
    double thickness;          /* that it adds to the radius */
    SurfaceStretch *stretches; /* rising, from low to high without a gap */
    uint32_t stretch_count;
    BundleStrand *strands;
    uint32_t strand_count;
    double width;  /* of all strands, across */
    double bottom; /* the bundle's edge toward the butt, across, from its line (its top is bottom + width) */
    Pass *passes;
    uint32_t pass_count; /* strand_count * starts */
    FieldEnd ends[2];    /* the field's end toward the butt, and toward the tip */
    double slippage;     /* greatest slippage tendency of any leg */
    double slippage_at;
    /* mm along the blank that a pass would take to turn round by friction alone, the worst end */
    double turning_way;
    double beyond; /* mm beyond the layer to where passes turn round; 0 where they turn on the end bands, or not at
                      all */
    double turns;  /* that all legs make */
} PlannedCrosswrap;

uint32_t pass_strand(const PlannedCrosswrap *planned, uint32_t pass);
uint32_t pass_start(const PlannedCrosswrap *planned, uint32_t pass);
bool is_spiral(const PlannedCrosswrap *planned);
/* "chevron", "diamond", "spiral" */
const char *crosswrap_word(const PlannedCrosswrap *planned);
/* Which way round a thread goes on this bench: +1 clockwise, seen from the butt, -1 the other way. */
int thread_sense(const Bench *bench);
/* Legs that each pass has: 2, or 1 for a spiral. */
uint32_t leg_count(const PlannedCrosswrap *planned);

/* Diameter of the surface below the crosswrap; at a step that of the stretch toward the tip. */
double crosswrap_diameter(const PlannedCrosswrap *planned, double x);
/* Angle of a leg to the way round the blank at x, radians. */
double crosswrap_angle(const PlannedCrosswrap *planned, Leg leg, double x);
/* Its angle to the blank's length, on the surface, radians: what slips and turns round goes by. */
double crosswrap_angle_from_axis(const PlannedCrosswrap *planned, Leg leg, double x);
/* Where a line that lies `across` mm from the bundle's line stands at x: turns, not taken back to one turn. */
double crosswrap_turn(const PlannedCrosswrap *planned, uint32_t start, Leg leg, double across, double x);
/* Where this start's line stands at the field's start; and how many turns any line has gone on from there to x. */
double crosswrap_base(const PlannedCrosswrap *planned, uint32_t start);
double crosswrap_turns_from_start(const PlannedCrosswrap *planned, Leg leg, double x);
/* The other way round: where along the blank that line has come to when it has gone round so far. */
double crosswrap_position(const PlannedCrosswrap *planned, uint32_t start, Leg leg, double across, double turn);
/* Thread of one leg over the whole layer, and of a way round of so many degrees beyond the layer's end or start,
 * out and back, mm. */
double crosswrap_leg_length(const PlannedCrosswrap *planned, uint32_t pass, Leg leg);
double crosswrap_round_length(const PlannedCrosswrap *planned, uint32_t pass, bool at_end, double dwell);
/* Thread wound of the pass's piece up to x on that leg, mm. */
double crosswrap_wound(const PlannedCrosswrap *planned, uint32_t pass, Leg leg, double x);

double crosswrap_field(const PlannedCrosswrap *planned);
/* Crossings on a line (of a spiral: turns in the field), not rounded: for what the statement asks
 * (Crosswrap.spaced), and for a lead of the leg with the smaller or the larger one. */
double crosswrap_count_asked(const PlannedCrosswrap *planned, double spaced);
double crosswrap_count_for(const PlannedCrosswrap *planned, double lead, bool smaller);
/* Sets asked, crossings, spacing and leads for that. Needs field, surface, ratio, starts and thread_diameter. */
void crosswrap_space(PlannedCrosswrap *planned, double spaced);
/* The room across for a bundle, at the field's end with more of it. Needs the leads. */
double crosswrap_most_room(const PlannedCrosswrap *planned);
/* Sets both field ends, slippage and turning_way. Needs the bundle too. */
void crosswrap_measure(PlannedCrosswrap *planned, double friction);

/* Lines along the blank on which threads cross. Family f of 1 .. families has one line a start. */
uint32_t crosswrap_families(const PlannedCrosswrap *planned);   /* 0 for a spiral */
uint32_t crosswrap_line_count(const PlannedCrosswrap *planned); /* starts * families */
/* Turns, 0 <= turn < 1. line: (family - 1) * starts + start. */
double crosswrap_line_turn(const PlannedCrosswrap *planned, uint32_t line);
/* Crossings of the bundle's line on that line inside the field, edges not counted. */
uint32_t crosswrap_mark_count(const PlannedCrosswrap *planned, uint32_t line);
double crosswrap_mark(const PlannedCrosswrap *planned, uint32_t line, uint32_t mark);

/* What all points at one place along the blank have in common: of each leg a turn's way across the strands, and
 * how many turns its lines have gone on since the field's start. */
typedef struct CrosswrapSlice {
    const PlannedCrosswrap *planned;
    uint32_t legs;
    double across[LEG_COUNT], turns[LEG_COUNT];
} CrosswrapSlice;
CrosswrapSlice crosswrap_slice(const PlannedCrosswrap *planned, double x);

/* What shows at a point of the surface: the leg laid last among those that cover it. Spacers never show. False
 * where the layer below does. */
typedef struct SeenStrand {
    uint32_t pass;
    Leg leg;
} SeenStrand;
bool slice_shows(const CrosswrapSlice *slice, double turn, SeenStrand *seen);
bool crosswrap_shows(const PlannedCrosswrap *planned, double x, double turn, SeenStrand *seen);

/* The colour of a thread at so many mm from its first turn, 0xRRGGBB. */
uint32_t thread_colour_at(const Thread *thread, double wound);

#endif
