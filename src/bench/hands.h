/* What the replay keeps in mind: where each piece of a rod is, and what lies under which turns. */
#ifndef TURNLAY_BENCH_HANDS_H
#define TURNLAY_BENCH_HANDS_H

#include "bench/crosswrap_now.h"

/* Of a tag, an end or a loop: not there yet, under the turns made since, drawn back under them, done with. */
typedef enum { LIES_NOT, LIES, LIES_HELD, LIES_NO_MORE } LyingState;

typedef struct Lying {
    uint32_t since; /* turns of the rod that were made when it was laid: below LIMIT_TURNS */
    uint8_t state;  /* LyingState */
} Lying;

typedef struct PieceNow {
    Lying lying[HELD_THING_COUNT]; /* of a line only whether it is there: LIES */
    uint32_t own;                  /* turns that it has made */
    uint8_t state;                 /* PieceState */
    uint8_t taped;                 /* set of HeldThing */
    bool cut;                      /* from its spool, since it began */
    bool loaded;                   /* onto a bobbin */
    bool own_tag;                  /* it was started over its tag: that lies the way the work goes */
} PieceNow;

typedef struct Thing {
    uint32_t piece;
    HeldThing thing;
} Thing;

/* Tape that turns come nearer to. */
typedef struct Tape {
    Thing on;
    uint64_t since,
        until; /* turns of the rod that were made when it was put on; that may be made before it is off */
} Tape;

/* What was done since the last turn, and what was packed. */
typedef struct LooksNow {
    bool packed, cut, pulled;
    bool spacer_taken;      /* from the stretch that is being worked */
    bool pass_broken;       /* by something that could wait */
    uint32_t passed;        /* the piece that made the last turns by hand; NO_PIECE if they were not */
    uint32_t unpacked_wrap; /* of the first turn that is not packed; NO_WRAP if all are */
    uint32_t last_wrap;     /* of the last turn */
} LooksNow;

/* What is done at a place: its guide lies on this foot, whose tape is on; a guide lies on its crosswrap. */
typedef struct FootNow {
    bool lies, taped, covered;
} FootNow;

typedef struct Hands {
    const PlannedRod *rod;
    const Bench *bench;
    Arena *arena;
    PieceNow *pieces;
    FootNow *feet;         /* by place */
    uint32_t *piece_wraps; /* the wrap of each piece, counted over the rod; NO_WRAP if it winds nothing */
    uint32_t *winding_wraps;
    uint32_t wrap;                               /* that is being worked */
    uint32_t winding;                            /* that the next turn belongs to */
    uint32_t wound;                              /* turns made of it */
    uint64_t turns;                              /* made of the rod */
    uint64_t layer_turns, item_turns, run_turns; /* of the layer, item and run that the next turn belongs to */
    /* In each state but off: how many are still to come nobody asks. */
    uint32_t pieces_in[PIECE_STATE_COUNT], spools_in[PIECE_STATE_COUNT];
    uint32_t unfinished; /* pieces begun whose tag, end or loop is not done with; none of them of passes */
    LIST_OF(Thing)
    fresh;                   /* what lies, in the order in which it was laid */
    uint32_t first_fresh;    /* of these the first that is not known to be held */
    uint32_t laid, own_tags; /* as in ActionState */
    LIST_OF(Thing) loose;    /* what no tape, no spool and, as far as is known, no turns hold */
    LIST_OF(Tape) tapes;
    uint64_t tape_until;    /* the least of them; UINT64_MAX if there is none */
    LIST_OF(uint32_t) live; /* pieces begun, or with a loop, that are not finished; none of them of passes */
    uint32_t bobbins;       /* loaded, their lines not cut yet */
    uint32_t taped_spools;  /* lines of pieces from a spool that are taped */
    LooksNow looks;
    Arena *keeps;        /* for what Action.state holds beyond itself; NULL: nothing is kept */
    bool proves_only;    /* nothing is left with the actions: they are proven and forgotten */
    LIST_OF(Held) shown; /* what holds what just now, where that is kept */
    const Held *held;    /* as kept last */
    uint32_t held_count;
    CrosswrapNow crosswrap; /* the one worked last */
    uint32_t actions;       /* worked through */
    Replay found;
} Hands;

#define NO_WRAP UINT32_MAX

/* All pieces off, no turn made. */
void hands_start(Hands *hands, Arena *arena, const PlannedRod *rod, const Bench *bench);
/* A cut piece, now; else its spool feeds it. */
bool is_cut(const Hands *hands, uint32_t piece);
void set_state(Hands *hands, uint32_t piece, PieceState state);
/* Lies from now on: a tag, an end or a loop. */
void lay(Hands *hands, uint32_t piece, HeldThing thing);
/* Turns over it that hold it without tape, a finger or turns of its own piece. */
double turns_to_hold(const Hands *hands, HeldThing thing);
/* Something lies that too few turns hold, taped or not. */
bool anything_unbound(Hands *hands);
/* Turns over it. */
double cover(const Hands *hands, const Lying *lying);
/* Ended, tag and end trimmed, no loop left. */
bool is_finished(const PieceNow *now);
/* The wrap that the next turn belongs to, NO_WRAP when all are made. */
uint32_t next_wrap(const Hands *hands);
/* So many turns more of the winding that is due, by these pieces. */
void make_turns(Hands *hands, const Action *action);

/* Note a fault, and by which numbers, where it is about some; always false, so that a rule can end with them. */
bool fault(Hands *hands, Verdict verdict, uint32_t piece);
bool fault_by(Hands *hands, Verdict verdict, uint32_t piece, double needed, double got);
bool lost(Hands *hands, uint32_t piece);
/* The winding that is due has turns missing. */
bool turns_differ(Hands *hands, uint32_t piece);
/* Names the first piece, not of passes, that is not finished. */
bool thread_left(Hands *hands);
/* Names the first spool-fed piece in this state. */
bool spool_fault(Hands *hands, Verdict verdict, PieceState state, double needed, double got);

#endif
