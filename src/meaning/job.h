/* The job: what a file means, everything resolved and nothing laid out. Which patterns' statements,
 * with which threads, at which places on which blank. All lengths in mm; NAN where nothing was said. */
#ifndef TURNLAY_MEANING_JOB_H
#define TURNLAY_MEANING_JOB_H

#include "base/finding.h"
#include "base/line_map.h"
#include "base/source.h"
#include "base/lengths.h"
#include "meaning/bench_table.h"
#include "meaning/mishap.h"
#include "record/record.h"

/* What a thread's width is taken from: name, and the option. */
#define WIDTH_TABLE(X) X(COUNTED, "turns") X(MEASURED, "diameter") X(NOMINAL, "size") X(FROM_TEX, "tex")

typedef enum {
#define X(name, option) WIDTH_##name,
    WIDTH_TABLE(X)
#undef X
} WidthSource;

/* How a surface takes the light; in pictures alone. Name, word; the first is what counts if nothing is said. */
#define SHEEN_TABLE(X) X(GLOSS, "gloss") X(MATT, "matt") X(METALLIC, "metallic")

typedef enum {
#define X(name, word) SHEEN_##name,
    SHEEN_TABLE(X)
#undef X
        SHEEN_COUNT
} Sheen;

typedef struct Thread {
    const Text *name;
    Span span;       /* of the name where it is declared */
    Span width_span; /* of the option that gave the width ("size: A") */
    WidthSource width_source;
    double pitch, diameter; /* mm, > 0 */
    double uncertainty;     /* standard uncertainty of the pitch, a ratio */
    bool uncertainty_written;
    const Text *size;        /* the nominal size's name, NULL unless WIDTH_NOMINAL */
    uint32_t colour, bare;   /* 0xRRGGBB, sRGB */
    bool coloured;           /* its colour, or its colours, are said */
    const uint32_t *colours; /* of a variegated thread, in order; colour_count 0 for any other */
    uint32_t colour_count;
    double period;  /* mm in which all colours come once; NAN without */
    double opacity; /* how much of the light is the thread's own over what it lies on, 0 to 1; 1 if not said */
    Sheen sheen;
    const Text *code; /* the maker's own, as written; NULL if not said */
    bool has_bare, preserver;
    Span preserver_span; /* of the option, or of the name */
    double stock, spool, price;
    Span stock_span, spool_span, price_span; /* of the options' values */
    uint32_t index;                          /* in Job.threads */
} Thread;

typedef struct Strand {
    const Thread *thread;
    bool spacer; /* taken off again when the layer is done */
} Strand;

/* Threads wound side by side; one in most bands. */
typedef struct Strands {
    Strand *items;
    uint32_t count;
    double pitch;     /* mm of the axis a turn: the sum of all pitches */
    double thickness; /* mm added to the radius for layers above: the thickest that stays */
} Strands;

/* By which they are told in a few words. */
static inline const char *first_thread_name(const Strands *strands)
{
    return strands->items[0].thread->name->bytes;
}

typedef enum { EXTENT_TURNS, EXTENT_LENGTH, EXTENT_FILL, EXTENT_SHARE } ExtentKind;

/* `fade EXTENT of LIST`: one extent shared by several items. */
typedef struct Spread {
    ExtentKind kind; /* EXTENT_TURNS or EXTENT_LENGTH */
    double amount;
    uint32_t band_count; /* items with EXTENT_SHARE that are bands, 0 if only crossovers share */
    uint32_t fade_count; /* crossovers in it */
    Span span;           /* of the extent */
} Spread;

typedef struct Extent {
    ExtentKind kind;
    double amount;        /* turns (whole), mm, weight of a fill, or index within its spread */
    const Spread *spread; /* EXTENT_SHARE only */
    uint32_t group;       /* EXTENT_FILL: equal for all copies of one fill; counts from 0 within a layer */
    Span span;            /* as written, without `of` */
} Extent;

typedef enum { AT_RATIO, AT_TURNS, AT_LENGTH, AT_COUNT } PositionKind;

typedef struct Inlay {
    const Strands *strands;
    Extent extent; /* turns or length */
    PositionKind at_kind;
    double at; /* of the middle, from the band's start; the period if every */
    bool every;
    Span at_span, span;
} Inlay;

/* One step of a crossover: the new thread in for so many turns, then the old one out for so many. */
typedef struct CrossoverStep {
    uint32_t in, out;
} CrossoverStep;

typedef enum { FADE_STEPS, FADE_EVEN, FADE_RUNS } FadeRule;

/* What decides which turns of a fade are the new thread's: counting alone, or what the eye makes of them. Name,
 * word; the first is what counts if nothing is said. */
#define FADE_BY_TABLE(X) X(COUNT, "count") X(EYE, "eye")

typedef enum {
#define X(name, word) FADE_BY_##name,
    FADE_BY_TABLE(X)
#undef X
} FadeBy;

/* A fade by eye as it is written, so that its turns may be written in place of that. One for all fades of a fade
 * of several threads, as often as it is laid. */
typedef struct ByEye {
    Span choice;          /* of the value of `by` */
    Span options;         /* of all options */
    uint32_t shade_count; /* of a fade of several threads; 0 for a fade to one */
    Span list;            /* their list; and of each of them, NULL where that is not written out */
    const Span *shades;
    bool bands; /* each has a band of its own */
} ByEye;

/* `strand 4 of slate`: strands of one thread, side by side. */
typedef struct StrandLine {
    const Thread *thread;
    bool spacer, fill;
    uint32_t count;        /* 0 for a fill */
    Span count_span, span; /* of the count, and of the whole line */
} StrandLine;

/* Name, of its node too; its word. */
#define CROSSWRAP_TABLE(X) X(CHEVRON, "chevron") X(DIAMOND, "diamond") X(SPIRAL, "spiral")

typedef enum {
#define X(name, word) CROSSWRAP_##name,
    CROSSWRAP_TABLE(X)
#undef X
} CrosswrapKind;

/* What its spacing is given by: name, the option, and what that takes at least and at most, as it is written (a
 * number, mm, degrees). The ranges: common practice, no source. */
#define SPACED_TABLE(X)                                                                                           \
    X(CROSSINGS, "crossings", 1, 10000)                                                                           \
    X(SPACING, "spacing", 0.1, 1e6)                                                                               \
    X(ANGLE, "angle", 1, 89)                                                                                      \
    X(TURNS, "turns", 0.01, 10000)                                                                                \
    X(LEAD, "lead", 0.1, 1e6)

typedef enum {
#define X(name, ...) SPACED_BY_##name,
    SPACED_TABLE(X)
#undef X
} SpacedBy;

typedef struct SpacedRange {
    double least, most;
} SpacedRange;
static inline SpacedRange spaced_range(SpacedBy by)
{
    static const SpacedRange ranges[] = {
#define X(name, option, least, most) {least, most},
        SPACED_TABLE(X)
#undef X
    };
    return ranges[by];
}

/* Helices that cross, or (a spiral) do not. */
typedef struct Crosswrap {
    CrosswrapKind kind;
    SpacedBy spaced_by;
    double spaced;    /* crossings, mm, radians, turns or mm */
    Span spaced_span; /* of the option's value */
    uint32_t starts;
    Span starts_span;  /* end 0 where it was left out; the same for the others */
    uint32_t leads[2]; /* out, back, in lowest terms */
    Span leads_span;
    uint32_t facing; /* family of lines that faces up, from 1 to the sum of the leads */
    Span facing_span;
    bool closed;
    Span field_span; /* of the option's value; end 0 where it was left out */
    bool points_to_butt;
    Extent ends; /* turns or length of each end band */
    const Strands *ends_strands;
    Span ends_span;    /* of the extent */
    StrandLine *lines; /* from the centre outward */
    uint32_t line_count;
} Crosswrap;

/* What makes turns: name; its word, which the functions for it are named after. */
#define ITEM_TABLE(X) X(BAND, band) X(FADE, fade) X(GAP, gap) X(CROSSWRAP, crosswrap)

typedef enum {
#define X(name, word) ITEM_##name,
    ITEM_TABLE(X)
#undef X
        ITEM_KIND_COUNT
} ItemKind;

/* One statement that makes turns, in laying order. */
typedef struct Item {
    ItemKind kind;
    bool reversed; /* lay its runs back to front (mirror) */
    Span span;     /* of the statement */
    Extent extent; /* bands: any; even fades: turns, length or share; gaps: length, or turns with strands */
    const Strands *strands; /* band: what is wound; fade: the new thread; gap: whose turns, or NULL */
    const Strands *from;    /* fade: the old thread */
    Span strands_span;      /* of the thread as written */
    const Inlay *inlays;
    uint32_t inlay_count;
    FadeRule fade_rule;
    uint32_t steps, run_count; /* FADE_STEPS; FADE_RUNS */
    const CrossoverStep *runs; /* FADE_RUNS */
    const ByEye *by_eye; /* FADE_STEPS, FADE_EVEN: the plan chooses which turns are the new thread's; or NULL */
    const Crosswrap *crosswrap; /* crosswraps: alone in their layer */
    double measured;            /* bands: the width the finished band has on the bench; 0 if it was not measured */
    Span measured_span;
} Item;

typedef struct Layer {
    bool over; /* over a guide's foot; `under` lies on the blank below it */
    Span span;
    double offset; /* from the place's mark, in working direction, >= 0 */
    double length; /* as said by `length:`, or NAN: the place's less the offset */
    Item *items;
    uint32_t item_count;
    uint32_t group_count; /* fill groups */
    Cause cause; /* why it is not to be laid out: a finding of error level; CAUSE_NONE if it is complete */
} Layer;

typedef struct Guide {
    const Text *name;
    Span span;
    double feet[2]; /* toward the butt first */
    uint32_t foot_count;
    Span foot_span; /* of the value of `foot` */
    double gap, width, height, ramp, before;
    bool on_butt_side; /* a single foot */
    Span ramp_span;    /* of the value of `ramp`, or of the name */
    /* How it looks; mm and 0xRRGGBB, NAN and NO_COLOUR where nothing is said. */
    double ring;            /* outer diameter of the ring */
    double tall;            /* from the blank to the top of the ring, at least `ring` */
    uint32_t frame, insert; /* colours of the frame with its feet, and of the ring */
    Sheen sheen;            /* of the frame */
} Guide;

typedef struct Station {
    double at, diameter;
} Station;

typedef struct Blank {
    const Text *name;
    Span span;
    Station *stations; /* rising; two at one place make a step */
    uint32_t station_count;
    uint32_t colour; /* 0xRRGGBB; a dark grey unless it is `coloured` */
    bool coloured;   /* its colour is said */
    Sheen sheen;
} Blank;

/* One of the blanks that a rod is put together from, from the butt on. Each is measured from its own butt; all
 * here is along the whole rod. */
typedef struct Section {
    const Blank *blank;
    const char *name;  /* the blank's; "mid (2)" where that blank stands a second time */
    Span span;         /* of its name at the rod */
    double start, end; /* what shows of it: from the rod's first station or a joint to the next joint or the tip */
    /* its own butt, where it is measured from, and its last station; in a joint one of the two lies hidden */
    double butt, tip;
} Section;

typedef struct Place {
    Span span;      /* `at` and all its options */
    Span mark_span; /* the length after `at` */
    double mark;    /* mm from the butt */
    bool from_tip;  /* as written */
    int direction;  /* +1 worked toward the tip, -1 toward the butt; guides: 0 */
    double length;  /* NAN unless given, by `length` or by `until` */
    Span length_span;
    bool length_written;
    Span until_span;    /* of the value of `until`; end 0 if it is not written */
    const Guide *guide; /* or NULL */
    double angle;       /* turns round the blank, clockwise as seen from the butt; 0 is the rod's line; [0, 1) */
    Layer *layers;
    uint32_t layer_count;
    /* Of the foot toward the tip, where it is laid apart from the one toward the butt; else NULL. */
    Layer *tip_layers;
    uint32_t tip_layer_count;
    Cause cause; /* why its layers are left out; CAUSE_NONE if all are here */
} Place;

/* What is on a rod beside its guides and wraps, or a note at a place of it: a grip, a seat, a sleeve, a decal. */
typedef struct Part {
    const Text *name;
    Span span;               /* of its name, where it is declared */
    Span mark_span;          /* the length after `at` */
    double start, end;       /* mm from the butt, start <= end; equal for a mark, which is in nobody's way */
    const double *diameters; /* mm, evenly from its butt end to its tip end; NULL: flat on what lies below */
    uint32_t diameter_count;
    Span diameter_span; /* of the option's value */
    uint32_t colour;    /* 0xRRGGBB where `coloured` */
    bool coloured;
    Sheen sheen;
    bool slides;  /* it goes on over the tip */
    bool wrapped; /* thread lies on it */
    bool wrapped_written;
    bool from_tip, toward_written; /* as written */
    const Text *note;              /* NULL if there is none */
} Part;

typedef struct Rod {
    const Text *title;
    Span span;
    Span whole; /* of a rod that is like another, with its swaps; end 0 of any other */
    const Blank
        *blank; /* all of its sections as one, with a step at each joint; NULL when it has findings: `cause` */
    const Section *sections; /* from the butt; one where the rod is of one piece, none without a blank */
    uint32_t section_count;
    Place *places;
    uint32_t place_count;
    Part *parts; /* as written */
    uint32_t part_count;
    Cause cause; /* why its blank, a place or a part is missing; CAUSE_NONE if nothing is */
} Rod;

/* Findings from the first on that lie where another rod is written, which this one is like, name this one: what is
 * sound on the other's blank may not be on its own. Nothing of any other rod. */
void tell_which_rod(Findings *findings, uint32_t first, const Rod *rod);

/* Choices of options of the bench: name, and the word. */
#define ORDER_TABLE(X) X(SOURCE, "source") X(BUTT, "butt") X(TIP, "tip")
#define LINE_TABLE(X) X(STRAIGHTEST, "straightest") X(SPINE, "spine")
/* What is spared first when pieces are chosen. */
#define PREFER_TABLE(X) X(ENDS, "ends") X(TIME, "time") X(THREAD, "thread")
/* What turns the spindle: a foot's pedal, so that both hands are free, or a hand. */
#define DRIVE_TABLE(X) X(PEDAL, "pedal") X(HAND, "hand")
#define HOLD_TABLE(X) X(TAPE, "tape") X(PINS, "pins") X(NONE, "none")

typedef enum {
#define X(name, word) ORDER_##name,
    ORDER_TABLE(X)
#undef X
} PlaceOrder;

typedef enum {
#define X(name, word) LINE_##name,
    LINE_TABLE(X)
#undef X
} RodLine;

typedef enum {
#define X(name, word) PREFER_##name,
    PREFER_TABLE(X)
#undef X
        PREFER_COUNT
} Preference;

typedef enum {
#define X(name, word) DRIVE_##name,
    DRIVE_TABLE(X)
#undef X
} Drive;

typedef enum {
#define X(name, word) HOLD_##name,
    HOLD_TABLE(X)
#undef X
        HOLD_COUNT
} EndHold;

typedef struct Bench {
    UnitSystem units;
    double bind, loop, final; /* turns */
    Preference prefer;
    double carry; /* turns that a thread may be carried beneath */
    double free, tolerance, hand, apart, coat;
    MeasuringTool rule, callipers; /* what marks on the blank are measured with, and widths of turns */
    uint32_t ridge;
    double friction;
    double measure; /* turns, NAN if not given */
    double reading; /* standard uncertainty of a measured width, mm */
    double varies;  /* a wrap's width from that of another with as many turns: standard uncertainty, a ratio */
    double speed, handling; /* turns a minute; seconds a thread handled */
    uint32_t holders;       /* spools that can feed at once */
    uint32_t bobbins;       /* that threads can be wound onto, to be taped to the blank and turn with it */
    bool butt_left;         /* the butt lies to the builder's left */
    bool toward_you;        /* the top of the blank comes toward the builder as it turns */
    PlaceOrder order;       /* in which places are worked */
    RodLine line;           /* where builders put the rod's line */
    Drive drive;
    bool brake;                /* the blank stays where it is under a spool's tension */
    double pack;               /* turns between packings */
    uint32_t coats;            /* of finish; 0 for none on the sheet */
    EndHold ends;              /* what holds the passes of a crosswrap where they turn round */
    double flattest, steepest; /* range of a crosswrap's angle, radians */
    uint32_t stack;            /* most threads on one another at a crosswrap */
    double paper;              /* thickness of the template's paper, mm */
    double sight;       /* minutes of arc by which the eye spreads a point of light, one standard deviation */
    double near, far;   /* from where a wrap is looked at: in the hand and across the room */
    uint32_t shortest;  /* turns of one thread between two changes that are chosen by eye, at least */
    double jump, alike; /* CIEDE2000: more shows as a line from far; shades that differ by less melt into one */
    bool dress, tape, align, seal, singe, lock; /* which steps around the wrapping are on the sheet */
    bool clean, wipe;                           /* likewise: the blank before, marks after */
    Span span;                                  /* of the bench's braces, or length 0 where a bench could be put */
    bool written;
    Span value_spans[BENCH_OPTION_COUNT]; /* of each option's value by BenchOption, end 0 if not written */
} Bench;

/* The most that a number of the bench may be, in mm, turns or whatever it counts. */
double bench_most(BenchOption option);

typedef struct About {
    const Text *title, *author, *version, *licence;
} About; /* NULL where not said */

/* A width measured at the bench: from the layer's start, or from where a band begins, to the last of so many
 * turns. Rod, place and layer are those of the plan. */
typedef struct MeasuredWidth {
    uint32_t rod, place, layer;
    uint64_t turn; /* of the layer, as it was planned; where it was counted otherwise, what was made instead */
    uint64_t made;
    uint64_t from;  /* turns of the layer before those that were measured */
    double width;   /* mm */
    bool sure;      /* however far it is off */
    Span span;      /* where it is written; end 0 for one that is not in the file */
    uint32_t event; /* the one among what happened, from 1; 0 for one that is not from the bench */
} MeasuredWidth;

/* In the order in which they were taken. */
typedef struct MeasuredWidths {
    MeasuredWidth *items;
    uint32_t count, room;
} MeasuredWidths;

/* Those of a layer in the order of its turns. */
typedef struct Splices {
    Splice *items;
    uint32_t count, room;
} Splices;

/* In the order in which they happened. */
typedef struct Mishaps {
    Mishap *items;
    uint32_t count, room;
} Mishaps;
/* What was learned of threads at another job: by which shares a turn is wider than it is written. */
typedef struct KnownThreads {
    const char *from;            /* the title of that job */
    const Thread **threads;      /* `count` of them */
    double *means, *covariances; /* `count` of them, and as many rows of as many */
    uint32_t count;
} KnownThreads;

/* What happened at the bench so far, as it was given, and of what turns it was. */
typedef struct Happened {
    RecordedEvent *items;
    uint32_t count, room;
} Happened;

typedef struct Job {
    About about;
    MeasuredWidths measured;
    Splices splices;
    Mishaps mishaps;
    KnownThreads known;
    Happened happened;
    RecordedNote *notes; /* what the builder wrote down, in the order of the steps */
    uint32_t note_count;
    const char **lots; /* of each thread, NULL where it is not known; or NULL */
    Bench bench;
    const Thread **threads; /* every thread declared in the file and in those it uses, in source order */
    uint32_t thread_count;
    Rod *rods;
    uint32_t rod_count;
    uint64_t pattern_hash; /* of the canonical form of the file and all it uses */
    const Sources *sources;
    LineMap *lines;             /* of the sources, one for all pages: it remembers what was asked for */
    struct ChosenFades *chosen; /* of its fades by eye, one for all plans (plan/fade_turns.h), likewise; or NULL */
} Job;

/* The lot that the record says it is of; NULL. */
static inline const char *thread_lot(const Job *job, const Thread *thread)
{
    return job->lots ? job->lots[thread->index] : NULL;
}

#endif
