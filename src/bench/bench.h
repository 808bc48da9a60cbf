/* The bench room: plan to actions, the protocol for two hands; the cut list; and the replay that, knowing only the
 * rules of the bench, proves the actions lawful and equal to the plan. Lengths in mm. */
#ifndef TURNLAY_BENCH_BENCH_H
#define TURNLAY_BENCH_BENCH_H

#include "plan/plan.h"
#include "plan/ways.h"

/* clang-format off */
/* Every kind of action: name; the hands that it takes, HANDS_OF_DRIVE where the drive may leave one free; what of
 * its pieces it handles, a set of HeldThing, NO_THING where it names none, ITS_THING for the one that
 * Action.thing says: a finger on that is among its own hands; how often a thread is handled in it, which takes bench { handling: } each time (to let one stand is
 * part of taking up the other, to trim and to tape of laying in and ending it). Common practice, no source. */
#define HANDS_OF_DRIVE 0
#define WHOLE_PIECE (1u << THING_TAG | 1u << THING_LINE | 1u << THING_END | 1u << THING_LOOP)
#define ITS_LINE (1u << THING_LINE)
#define ITS_TAG (1u << THING_TAG)
#define ITS_END (1u << THING_END)
#define ITS_LOOP (1u << THING_LOOP)
#define NO_THING 0
#define ITS_THING NO_THING
#define ACTION_TABLE(X)                                                                                           \
    X(CLEAN, 2, NO_THING, 0)                  /* take grease off the bare blank, or off a section of it */ \
    X(MARK_LINE, 2, NO_THING, 0)              /* mark the rod's line along the blank, or along a section of it */ \
    X(PART, 2, NO_THING, 0)                   /* put a part onto the rod, or do what is noted at a mark */ \
    X(DRESS_FOOT, 2, NO_THING, 0)             /* file the guide's foot to a ramp that turns can climb */ \
    X(TAPE_GUIDE, 2, NO_THING, 0)             /* tape the guide in place by its other foot, or by its ring's side */ \
    X(MARK, 2, NO_THING, 0)                   /* mark the datum and the wrap's end on the blank */ \
    X(LOAD, 2, NO_THING, 1)                   /* wind a piece's whole length onto a bobbin */ \
    X(START, 2, ITS_TAG | ITS_LINE, 1) /* begin a thread over its own tag: its first turns cover it */ \
    X(LAY_IN, 2, ITS_TAG | ITS_LINE, 1) /* lay a piece's tag lengthwise, to be covered by the turns that follow */ \
    X(LAY_LOOP, 2, ITS_LOOP, 1)        /* lay a pull-through loop lengthwise, eye toward where the turns are going */ \
    X(TAKE_UP, 1, ITS_LINE, 1)         /* the laid-in or standing piece becomes the running one */ \
    X(WIND, HANDS_OF_DRIVE, ITS_LINE, 0) /* turns of the running piece, the blank turning or passed by hand */ \
    X(STAND, 1, ITS_LINE, 0)           /* lay the running piece aside along the blank: it stands */ \
    X(CUT_FROM_SPOOL, 2, ITS_LINE, 1)  /* cut the running thread from its spool: it goes on as a cut piece */ \
    X(LAY_END, 2, ITS_LINE | ITS_END, 1) /* cut a thread, lay its end lengthwise under the turns that follow */ \
    X(PULL_THROUGH, 2, ITS_LINE | ITS_END | ITS_LOOP, 1) /* cut, end through the loop, draw it back under the turns */ \
    X(TRIM_TAG, 2, ITS_TAG, 0)         /* trim the tag that the turns now hold */ \
    X(TRIM_END, 2, ITS_END, 0)         /* trim the end that the turns now hold */ \
    X(TAPE_DOWN, 2, ITS_THING, 0)      /* tape a tag, an end, a line or a loop to the blank */ \
    X(UNTAPE, 2, ITS_THING, 0)         /* take that tape off again */ \
    X(PACK, 1, NO_THING, 0)                   /* push the turns together */ \
    X(MEASURE, 2, NO_THING, 0)                /* measure the width so far and write it down */ \
    X(TAKE_TAPE, 2, NO_THING, 0)              /* take the guide's tape off before the turns reach it */ \
    X(TAKE_SPACER, 2, WHOLE_PIECE, 1)  /* unwind the spacer and leave its gap */ \
    X(BIND_RING, 2, NO_THING, 0)              /* the binding turns beyond the ring of a single-foot guide */ \
    X(SET_OUT, 2, NO_THING, 0)                /* crosswrap: mark its lines and crossings on the blank */ \
    X(HOLD_ENDS, 2, NO_THING, 0)              /* crosswrap: tape (or pins) round the blank just outside both end bands */ \
    X(TIE_ON, 2, WHOLE_PIECE, 1)       /* crosswrap: tape the piece's end to the blank before its first leg */ \
    X(LEG, HANDS_OF_DRIVE, ITS_LINE, 1) /* crosswrap: one leg of a pass, and the way round to the next leg */ \
    X(TIE_OFF, 2, WHOLE_PIECE, 1)      /* crosswrap: cut the piece and tape its end down beyond its last leg */ \
    X(SYMMETRY, 1, NO_THING, 0)               /* crosswrap: hold the first passes against the marks before any other */ \
    X(UNWIND, 2, WHOLE_PIECE, 1)       /* crosswrap: take a spacer's passes off again */ \
    X(TAKE_ENDS, 2, NO_THING, 0)              /* crosswrap: after sealing: cut the passes at the end bands, tape off */ \
    X(ALIGN, 2, NO_THING, 0)                  /* sight along the rod and bring the guides into line */ \
    X(SEAL, 2, NO_THING, 0)                   /* colour preserver, and seal the layer and let it cure before the next */ \
    X(SINGE, 2, NO_THING, 0)                  /* take off fuzz */ \
    X(WIPE, 2, NO_THING, 0)                   /* take marks off the blank that would show under the finish */ \
    X(COAT, 2, NO_THING, 0)                   /* a coat of finish, turning while it cures */
/* clang-format on */

typedef enum {
#define X(name, ...) ACTION_##name,
    ACTION_TABLE(X)
#undef X
        ACTION_KIND_COUNT
} ActionKind;

/* Of a piece what something has to hold: name, and in words. The line is what goes on from the last turn (before
 * the first, from the tag) to the spool or to the long end of a cut piece. */
#define HELD_THING_TABLE(X) X(TAG, "tag") X(LINE, "line") X(END, "end") X(LOOP, "loop")
typedef enum {
#define X(name, word) THING_##name,
    HELD_THING_TABLE(X)
#undef X
        HELD_THING_COUNT
} HeldThing;

#define HOLDER_TABLE(X)                                                                                           \
    X(TURNS, "turns") X(TAPE, "tape") X(SPOOL, "its spool") X(BOBBIN, "its bobbin") X(FINGER, "a finger")
typedef enum {
#define X(name, words) BY_##name,
    HOLDER_TABLE(X)
#undef X
        HOLDER_COUNT
} Holder;

/* What holds this of these pieces. Of the passes of a crosswrap one says it of all that are taped off, spacers
 * that are unwound already among them; what turns hold of a spacer that was cut is left out. */
typedef struct Held {
    uint32_t piece, piece_count;
    uint16_t thing, by; /* HeldThing, Holder */
} Held;

/* Tape that no turn comes nearer to, since it lies behind. */
#define CLEAR_OF_ALL UINT32_MAX

/* How one may stop. */
typedef enum {
    STOP_NOT,      /* not here */
    STOP_FINISHED, /* no thread is in work */
    STOP_HELD,     /* tape and turns hold everything */
    STOP_TAPE,     /* first tape down what goes to a spool, and ease its tension */
    STOP_COUNT
} StopWay;

/* The columns of ACTION_TABLE. */
typedef struct ActionNeeds {
    uint8_t hands, handles, handled;
} ActionNeeds;
extern const ActionNeeds action_needs[ACTION_KIND_COUNT];

#define NO_PIECE UINT32_MAX
#define WHOLE_ROD UINT32_MAX

/* Where a piece of thread is, from not begun to ended. */
typedef enum {
    PIECE_OFF,
    PIECE_LAID_IN,
    PIECE_RUNNING,
    PIECE_STANDING,
    PIECE_ENDED,
    PIECE_TIED_ON,
    PIECE_TIED_OFF, /* pieces of a crosswrap's passes: off, these, ended */
    PIECE_STATE_COUNT
} PieceState;

/* What an action finds and what it leaves, worked out by the replay and by nothing else. */
typedef struct ActionState {
    PieceState before;       /* of the action's first piece; PIECE_OFF where it is about none */
    uint32_t covered;        /* turns over the tag, end or loop that is trimmed, relied on or drawn back */
    uint32_t due, made;      /* the winding that the next turn belongs to, and turns made of it; of a WIND
                                the one that it winds, with its own turns */
    uint32_t laid, own_tags; /* before the action, since the last turns: tags, ends and loops; of them tags
                                that their own thread starts over */
    uint32_t running, standing, laid_in; /* pieces, after it */
    uint8_t hands;                       /* that it takes itself */
    uint8_t fingers;    /* hands that hold something after it; one more holds the blank if blank_held */
    bool blank_held;    /* after it: the bench has no brake, and a spool that is not taped pulls at the blank */
    bool may_stop;      /* after it the builder may: to_stop is not STOP_NOT */
    StopWay to_stop;    /* STOP_TAPE: every line that its spool holds */
    uint32_t stop_from; /* of a WIND after which one may stop: turns of it from which on one may after each, in the
                           same way; 0: before it, too */
    const Held *held; /* after it; pieces in the order in which they were begun. NULL where actions are not kept */
    uint32_t held_count;
} ActionState;

/* What a builder does in one leg of a crosswrap's pass. Clocks are degrees, clockwise seen from the butt, 0 on the
 * rod's line, 0 <= clock < 360. */
typedef struct LegAction {
    uint32_t pass; /* index into PlannedCrosswrap.passes */
    Leg leg;
    double from, to; /* along the axis from the butt: the layer's ends */
    double from_clock, to_clock;
    double turns; /* that the blank makes */
    /* degrees on round the blank, behind this leg, to where the piece's next leg begins; 0 after its last */
    double dwell;
    /* crossings of the bundle's line that it passes in the field, edges not counted; 0 for a spiral */
    uint32_t marks;
    int side; /* +1: laid against its neighbour on the tip's side, -1 on the butt's side, 0: along the marks */
    uint32_t neighbour; /* the pass of the same start that it is laid against, NO_PASS for the first */
} LegAction;

/* A thread that goes darker under what seals it is brushed with colour preserver before it is sealed for the first
 * time: with its layer, where the bench seals layers, or with a crosswrap in its layer or above it; else before
 * the finish. (Common practice, no source.) */
typedef struct Preserving {
    uint32_t place, layer; /* whose sealing comes behind it; WHOLE_ROD before the finish */
    const Thread *thread;
} Preserving;
typedef struct Preservings {
    const Preserving *items;
    uint32_t count;
} Preservings;

typedef struct Action {
    ActionKind kind;
    uint32_t place, layer;  /* indices into the planned rod; WHOLE_ROD for actions of the whole rod */
    uint32_t section;       /* that lies at the bench; ALL_SECTIONS for actions of the whole rod */
    uint32_t part;          /* PART: of the rod's parts */
    uint32_t piece;         /* the piece it is about, NO_PIECE if none */
    uint32_t piece_count;   /* strands together: that many pieces from `piece` on, but for */
    const uint32_t *pieces; /* those listed here, `piece` the first of them; or NULL */
    uint32_t winding;       /* WIND: index into the rod's windings */
    uint32_t turns;  /* WIND: made; LAY_IN, LAY_LOOP, LAY_END, START: that will cover it before it is relied on;
                        TAPE_DOWN: that the tape is clear of */
    HeldThing thing; /* TAPE_DOWN, UNTAPE */
    bool by_hand;    /* WIND: passed round by hand, the blank standing still */
    bool final;      /* LAY_LOOP, PULL_THROUGH: at the end of a wrap */
    uint64_t band_count;  /* WIND: turns of this item after the action */
    uint64_t layer_count; /* turns of this layer after the action */
    double position; /* along the axis from the butt, where the action happens; for WIND where its turns end */
    unsigned clock;  /* LAY_IN, START, LAY_LOOP, LAY_END: hours, the place's own angle (its ring) at 12; 0 where it
                        does not matter */
    Preservings preserving; /* SEAL: what colour preserver comes on first; of WHOLE_ROD nothing else is done */
    double length; /* WIND, LEG: mm of thread; MEASURE: the width that should be there; CUT_FROM_SPOOL: mm that are
                      left from the last turn on; LOAD: mm that are wound onto the bobbin */
    LegAction leg; /* LEG; TIE_ON, TIE_OFF: pass, leg, where and at which clock */
    ActionState state; /* set by replay_actions */
    Span span;         /* the statement it comes from */
} Action;

/* The pieces that the action is about; none if `piece` is NO_PIECE. */
PieceGroup action_pieces(const Action *action);
/* Turns, or a leg of a pass. */
bool makes_turns(const Action *action);

/* A length to cut, or a spool to mount, in the order needed: name, and in words. */
#define CUT_TABLE(X) X(PIECE, "cut piece") X(SPOOL, "spool") X(BOBBIN, "bobbin") X(LOOP, "loop of strong line")
typedef enum {
#define X(name, words) CUT_##name,
    CUT_TABLE(X)
#undef X
} CutKind;
typedef struct Cut {
    CutKind kind;
    uint32_t piece;  /* NO_PIECE for loops */
    uint32_t number; /* of this thread's pieces on this rod, from 1: its label is "navy 2" */
    uint32_t action; /* the action that first needs it */
    double length;   /* mm, rounded up to whole mm by whoever prints it */
} Cut;

/* What a step is about, by what it begins with: name. */
#define STEP_TABLE(X)                                                                                             \
    X(OTHER)  /* one action: of guides, marks, sealing, finish */                                                 \
    X(LAY)    /* a tag or a loop is laid, and the turns over it are wound */                                      \
    X(CUT)    /* a thread is cut, its end laid, and the turns over it are wound */                                \
    X(CHANGE) /* one thread stands, another goes on: an exchange of a fade */                                     \
    X(WIND)   /* turns of the running thread */                                                                   \
    X(DRAW)   /* an end is drawn back by its loop */                                                              \
    X(TEND)   /* packing, measuring, trimming alone */                                                            \
    X(PASS)   /* crosswrap: one pass, out and back */
typedef enum {
#define X(name) STEP_##name,
    STEP_TABLE(X)
#undef X
        STEP_KIND_COUNT
} StepKind;

#define NO_GAP 1e-6 /* mm: turns so near lie beside one another */

/* One thing done without looking up: one or more actions of one layer told together. */
typedef struct Step {
    StepKind kind;
    uint32_t first, count; /* into the rod's actions */
    uint32_t letters;      /* in how many it is told at most; one action alone has its own words */
} Step;

/* Where a step has come to: not begun; made ready, a thread changed for another, something trimmed before the
 * turns, those made; turns made by hand, or wound after a change, that thread taped down again, the one that stood
 * taken up; turns wound, packed, the end drawn back, tended; a pass taped on, out, home; nothing may follow. */
typedef enum {
    FOLD_NOWHERE,
    FOLD_READY,
    FOLD_CHANGED,
    FOLD_CLEARED,
    FOLD_DONE,
    FOLD_HANDED,
    FOLD_LED,
    FOLD_PARKED,
    FOLD_BACK,
    FOLD_WOUND,
    FOLD_FEW,
    FOLD_PACKED,
    FOLD_DRAWN,
    FOLD_TENDED,
    FOLD_TIED,
    FOLD_OUT,
    FOLD_HOME,
    FOLD_WHOLE,
    FOLD_STATE_COUNT
} FoldState;

/* In how many letters at most words tell an action after others, numbers of turns and labels of pieces apart,
 * which are added: bench knows no words, so whoever has them gives this. */
typedef struct StepLetters {
    uint8_t told[ACTION_KIND_COUNT];       /* with the pieces named */
    uint8_t turns_of_named, trim_of_named; /* where these were named last; */
    uint8_t taped[HELD_THING_COUNT];       /* right after it was laid: each thing, */
    uint8_t both_taped, led_and_taped;     /* the tag and the line; right after turns the line */
    uint8_t led_and_bobbin, bobbin_taped;  /* the same of a bobbin; that with its piece named */
    uint8_t likewise;                      /* a leg back like the one out */
    uint8_t untape_line, untape_and;       /* to go on with it; to trim */
    uint8_t then, by_hand, spacer, where;  /* what is said besides */
    uint8_t packing, packing_again;        /* between windings: the first, all others */
    uint8_t each_more;                     /* for each piece but the first */
    const uint8_t *labels;                 /* by Thread.index */
} StepLetters;

/* The step at hand; all 0 before the first action. */
typedef struct Folding {
    bool any;
    uint32_t place, layer;
    FoldState state;
    uint32_t letters; /* in how many at most it is told; */
    uint32_t changes; /* in how many what stands or is taken up, unless turns follow */
    double wound_to;  /* where the layer's turns end so far, or a thread is started; NAN before any */
    StepKind kind;
    uint32_t packings;      /* between windings */
    ActionKind last, named; /* the last action; that by which pieces were named last, ACTION_KIND_COUNT for none */
    PieceGroup named_pieces; /* by that */
    bool tag_taped;          /* of these */
    bool trimmed;            /* told last: a tag or an end is trimmed */
    PieceGroup first_pieces; /* named in the step, */
    bool mixed;              /* and others, too */
    int leg_side;            /* of that, where it is a leg */
    uint32_t leg_neighbour;
} Folding;

typedef struct BenchRod {
    const PlannedRod *rod;
    Action *actions; /* NULL, as steps, cuts and piece_numbers, where they were only proven */
    uint32_t action_count;
    Step *steps;
    uint32_t step_count; /* of those that were only proven, too */
    Cut *cuts;
    uint32_t cut_count;
    uint32_t *piece_numbers; /* label of each of the rod's pieces: "navy 2" is thread and number */
} BenchRod;

typedef struct BenchPlan {
    const Plan *plan;
    BenchRod *rods;
    uint32_t rod_count;
    double minutes; /* that all actions take: turns at the bench's speed, and every handling of a thread */
} BenchPlan;

/* The actions of every rod whose layers are all laid, with what the replay found at each, and what they are cut
 * from. */
BenchPlan *bench_make(Arena *arena, const Plan *plan, const StepLetters *letters);
/* How many they are, and what time they take: each is made, worked through and forgotten. What is not lawful is
 * T408, with the place and the mend. */
BenchPlan *bench_prove(Arena *arena, const Plan *plan, const StepLetters *letters, Findings *findings);

/* The plan's minutes, if its pieces were chosen by another preference. */
double minutes_of_way(const BenchPlan *bench, const Ways *ways, Preference prefer);

/* clang-format off */
/* What the replay found wrong first, if anything: name, and in words. Those of crosswraps come last. A length may differ by
 * 1e-9 of it. */
#define VERDICT_TABLE(X)                                                                \
    X(LAWFUL, "the steps are lawful and make the plan's turns")                         \
    X(TRIMMED_UNBOUND, "a tag or an end is trimmed before enough turns hold it")        \
    X(RELIED_UNBOUND, "a thread is used before enough turns hold its tag")        \
    X(SPOOL_STANDS, "a thread from a spool stands still while the blank turns")         \
    X(HANDS_FULL, "it takes more than two hands") \
    X(UNHELD, "nothing holds a thread") \
    X(PASS_BROKEN, "something that can wait comes between turns made by hand") \
    X(PACK_FIRST, "it is not packed, then measured, then cut") \
    X(GAP_PACKED, "the turns are packed over a gap") \
    X(TAPED_OVER, "turns go over the tape on a thread") \
    X(TAPE_LEFT, "tape is still on a thread that is needed") \
    X(GUIDE_ON, "it is wound under a foot that lies on the blank already") \
    X(LOOP_TOO_SHORT, "an end is pulled through with too few turns over its loop")      \
    X(THREAD_LEFT, "a thread, an end or a loop is left when the wrap is done")          \
    X(STRAND_LOST, "a step names a thread that is not there")      \
    X(TURNS_DIFFER, "the turns are not the plan's turns in the plan's order")           \
    X(LENGTH_DIFFERS, "the length of thread is not the plan's")                         \
    X(TOO_MANY_SPOOLS, "more spools run at once than the bench has holders for")        \
    X(TOO_MANY_BOBBINS, "more bobbins are in use at once than the bench has")           \
    X(OUT_OF_ORDER, "a step comes before what has to be done first, or comes twice")  \
    X(PASSES_DIFFER, "the passes are not the plan's passes in the plan's order")        \
    X(MARKS_MISSED, "a leg does not meet its marks")                                    \
    X(WAY_ROUND, "a thread does not go round to where its next leg begins")             \
    X(NOT_BESIDE, "a strand is not laid against the one beside it")
/* clang-format on */

typedef enum {
#define X(name, words) REPLAY_##name,
    VERDICT_TABLE(X)
#undef X
        VERDICT_COUNT
} Verdict;

typedef struct Replay {
    Verdict verdict;
    uint32_t action;    /* where it was found; action_count at the end */
    ActionKind kind;    /* of that action; ACTION_KIND_COUNT at the end */
    Span span;          /* of that action */
    uint32_t piece;     /* whose fault, or NO_PIECE */
    double needed, got; /* turns, mm, degrees or passes from 1, where the verdict is about numbers */
} Replay;

/* Runs the actions of a rod over thread states, and leaves with each what it found (Action.state), up to the first
 * that is not lawful. Knows nothing of how they were made. */
Replay replay_actions(Arena *arena, const BenchRod *rod, const Bench *bench);
/* Where each of the rod's pieces is when so many of its actions are done. */
const PieceState *states_after(Arena *arena, const BenchRod *rod, const Bench *bench, uint32_t actions);
const char *verdict_words(Verdict verdict);
/* T408, if the replay of a rod found something. */
void bench_report(const PlannedRod *rod, Replay replay, const Bench *bench, Findings *findings);

#endif
