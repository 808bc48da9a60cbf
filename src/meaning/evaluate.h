/* Inside the meaning room: evaluation. Runs after every name and kind is settled; what is left to go wrong are
 * values. */
#ifndef TURNLAY_MEANING_EVALUATE_H
#define TURNLAY_MEANING_EVALUATE_H

#include "meaning/here.h"
#include "meaning/job.h"
#include "meaning/module.h"
#include "meaning/option.h"

typedef struct Value Value;
typedef struct ValueList {
    uint32_t count;
    Value *items;
} ValueList;
struct Value {
    uint8_t type; /* Type; BROKEN: there is a finding already, `cause` */
    bool spacer;  /* of a thread */
    bool later;   /* of a local: not worked out yet, `value` says from what */
    Cause cause;
    union {
        double number; /* counts to rates: plain, mm, turns, degrees, turns per mm */
        uint32_t colour;
        const Text *text;
        bool truth;
        const Thread *thread;
        const Guide *guide;
        const Blank *blank;
        ValueList *list;
        CrossoverStep pair;
        const Node *value;
    };
};

typedef LIST_OF(Item) ItemList;
typedef LIST_OF(Inlay) InlayList;

typedef struct Swaps Swaps; /* see swap.h */
/* A thread that is another than it is declared, since something in it is swapped. */
typedef struct ChangedThread {
    Thread *thread;
    Declaration *of;
    const char *title; /* of the rod that swaps; NULL where it was said from outside */
    uint64_t hash;     /* of all that shows or counts of it */
} ChangedThread;

/* What the resolver notes in the slot of a place or series: its statements make a layer each, not one together;
 * they are laid for each foot of a guide apart. */
enum { PLACE_LAYERED = 1u << 0, PLACE_EACH_FOOT = 1u << 1 };

typedef struct Evaluator {
    Arena *arena;
    const Sources *sources;
    Findings *findings;
    UnitSystem units;
    Value *frame;         /* locals of what is being evaluated */
    uint32_t frame_slots; /* how many */
    uint32_t worked_out;  /* none of so many waits to be: of those of a series */
    const Here *here;     /* the place of a series that is being laid; NULL outside of one */
    uint64_t steps;       /* towards LIMIT_STEPS */
    uint64_t items;       /* towards LIMIT_ITEMS */
    uint32_t places;      /* towards LIMIT_PLACES */
    ItemList spare_items; /* for the next layer, and the next band: empty, with the room that the last one had */
    InlayList spare_inlays;
    bool stopped; /* a limit is reached and reported: `stop` */
    Cause stop;
    Cause met;        /* of the broken value met last */
    const Node *call; /* the call being laid, NULL outside patterns */
    unsigned call_depth;
    const Thread *const *threads; /* all that are declared, for mends that name one */
    uint32_t thread_count;
    Swaps *swaps; /* of the rod that is being made; NULL without */
    bool rests;   /* something was met that is swapped */
    bool in_rods; /* what is met belongs to rods */
    LIST_OF(ChangedThread) changed;
} Evaluator;

Value evaluate(Evaluator *evaluator, const Node *node);
/* What a name of the declaration stands for; a broken one may have no cause yet. */
Value declared_value(Evaluator *evaluator, Declaration *declaration);
/* No more is evaluated, for the finding. */
void evaluate_no_more(Evaluator *evaluator, const Finding *finding, Span span);
/* Why something evaluated since is broken: since Findings.told was so and Evaluator.met was cleared. CAUSE_NONE if
 * nothing is. */
Cause cause_since(const Evaluator *evaluator, uint64_t told);
/* Counts so many steps of work: one a node, an element of a list that is handled, a local of a pattern called.
 * False, with one finding, once there were too many, or too many findings. */
bool evaluate_steps(Evaluator *evaluator, uint64_t count, Span span);
/* The value of a declared thread, guide, blank or let. */
const Thread *declared_thread(Evaluator *evaluator, Declaration *declaration);
const Guide *declared_guide(Evaluator *evaluator, Declaration *declaration);
const Blank *declared_blank(Evaluator *evaluator, Declaration *declaration);
/* NULL if its diameter is not known. */
typedef struct Size {
    double diameter, uncertainty;
} Size;
const Size *declared_size(Evaluator *evaluator, Declaration *declaration);

/* A call, or going on to the rod that one is like, counts as so many steps: it takes memory. A local is one more.
 */
enum { CALL_STEPS = 20 };
/* What a declaration stands for, whatever is swapped: evaluated where it is declared. */
Value own_value(Evaluator *evaluator, Declaration *declaration);
/* The same in the rod that is being made, while Evaluator.swaps is not NULL (swap.c). */
Value swapped_value(Evaluator *evaluator, Declaration *declaration);
/* A size whose options may name something that is swapped; itself where nothing is. */
Declaration *swapped_size(Evaluator *evaluator, Declaration *size);

/* A number with its unit as source text: "9 mm", "8 turns", "4". */
const char *source_value(Evaluator *evaluator, unsigned type, double number);

/* A limit and a number beyond it as source text: the limit in full digits of its unit on the side that is allowed,
 * so that it may be written; the number to as many digits as tell it from that. */
typedef struct LimitWords {
    const char *limit, *number;
} LimitWords;
LimitWords limit_words(Evaluator *evaluator, unsigned type, double limit, double number);

/* Bounds of an option's value and what it is if not written. */
typedef struct Range {
    double least, most, otherwise;
} Range;
/* The option's number, in mm, turns or plain; a finding and the nearest bound outside its range. */
double option_number(Evaluator *evaluator, const Node *owner, uint32_t rule, Range range);
/* The same of an option that is written, and evaluated already. */
double number_within(Evaluator *evaluator, const Node *owner, uint32_t rule, Range range, Value value);
/* The option's text; NULL if it is not written, or broken for a reason of its own. */
const Text *option_text(Evaluator *evaluator, const Node *owner, uint32_t rule);
/* The number that was meant by one far out of the option's range: with another unit, with a per cent sign, with
 * its point elsewhere. NULL if none of these is usual. */
const char *number_meant(Evaluator *evaluator, const Node *owner, uint32_t rule, const Node *node, Range range);
/* The option's colour, 0xRRGGBB. */
uint32_t option_colour(Evaluator *evaluator, const Node *owner, uint32_t rule, uint32_t otherwise);
Span option_value_span(const Node *owner, uint32_t rule);

#endif
