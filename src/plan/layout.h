/* What the files of this room share: the state of a layout in the making. Nobody outside includes it. */
#ifndef TURNLAY_PLAN_LAYOUT_H
#define TURNLAY_PLAN_LAYOUT_H

#include "plan/fade_turns.h"
#include "plan/learning.h"
#include "plan/plan.h"
#include "trade/trade.h"

/* Positions that differ by less are one: far below what a hand can set, far above rounding. mm. */
#define LAYOUT_SLACK 1e-6

/* An item's turns and widths before its runs are made. */
typedef struct ItemMeasure {
    double turns; /* whole; no integer until it is known not to be beyond the limits */
    double asked; /* mm, NAN where turns or a fill were asked for */
    double width; /* mm that its turns take */
    union {
        uint32_t first_inlay; /* in Layout.inlays */
        uint32_t chosen;      /* a fade by eye: number of its turns in Layout.chosen */
    };
    uint32_t inlay_count;
    double made; /* of its turns: on the bench already */
    bool stays;  /* its turns are what they are: some are made */
} ItemMeasure;

/* One inlay in its band. */
typedef struct PlacedInlay {
    const Inlay *inlay;
    double first;      /* the band's turn whose place its first turn takes, from 0 */
    double stands_for; /* turns of the band whose place it takes */
    double turns;      /* its own */
} PlacedInlay;

/* How much of an item is on the bench. */
typedef struct ItemMade {
    bool part, whole;   /* neither: nothing of it */
    double turns;       /* as a band counts them, with what its inlays stand for */
    uint32_t inlays;    /* of its inlays: made, or begun */
    double width, rest; /* mm that these take, and those of its turns that were to come then */
} ItemMade;

/* The items of a layer as they were planned at some time, with their inlays. */
typedef struct ItemPlan {
    ItemMeasure *measures;
    PlacedInlay *inlays;
    uint32_t inlay_count;
} ItemPlan;

/* Where an inlay lies. */
typedef struct InlayMiddle {
    uint32_t item;
    double at; /* mm from the layer's start */
    bool made; /* turns of it are on the bench */
    Span span;
} InlayMiddle;

/* Of a layer, in the order in which they are laid. */
typedef struct InlayMiddles {
    InlayMiddle *items;
    uint32_t count;
} InlayMiddles;

/* Turns of a fade that were counted otherwise than planned. */
typedef struct Recount {
    uint32_t item;
    uint64_t after; /* of its turns, as they were counted until then */
    double more;    /* fewer where it is below 0 */
} Recount;

/* What was measured of a layer, and how that leaves it. */
typedef struct Made {
    uint32_t next, next_item; /* of the widths from the bench, and of the items: the first not looked at */
    uint64_t next_turn;       /* of the layer: turns before that item */
    uint64_t turns;           /* of the layer, up to the last one that was measured; 0: none was */
    double width;             /* mm from its start to there */
    uint32_t readings;        /* that may part its runs */
    Run *runs, *cut;          /* of the layer as its items are planned now; and room for parts of them */
    uint32_t run_count, run_room, cut_room;
    bool runs_known;    /* see planned_runs */
    uint32_t run_at;    /* of the runs: the first that is not made whole */
    uint64_t turn_at;   /* turns of the layer before it */
    LIST_OF(Run) parts; /* these turns: runs, parted where one was measured in the midst of them */
    ItemMade *items;
    LIST_OF(LeftOut) left_out;
    LIST_OF(Recount) recounts;
    ItemPlan before, last; /* until something was measured; until the last reading */
    InlayMiddles middles;  /* until something was measured */
} Made;

/* The copies of one fill. */
typedef struct FillGroup {
    double weight, pitch;
    uint32_t copies; /* 0: the group is not in use */
    uint32_t item;   /* its first item */
    double turns;    /* of each copy: the result */
} FillGroup;

/* Thickness of several layers together, in working order. */
typedef struct Profile {
    ThicknessStep *steps;
    uint32_t count, room;
} Profile;

/* Which piece a thread is on, by pieces.c. */
typedef struct Live Live;

typedef struct Layout {
    Arena *arena;
    Arena *scratch; /* for what nobody asks for once the plan is made */
    Arena *making;  /* for what is made of one layer: emptied once it is laid */
    const Job *job;
    Findings *findings;
    Plan *plan;
    PlannedRod *rod; /* these three: what is being laid out now */
    PlannedPlace *place;
    PlannedLayer *layer;
    uint64_t turns_left, runs_left, reckoning_left, passes_left, crossings_left; /* of the limits */
    Cause turns_reported, runs_reported, passes_reported; /* that a limit is passed: once for a file */
    ItemMeasure *measures;                                /* one an item of the layer */
    uint32_t measure_room;
    LIST_OF(PlacedInlay) inlays; /* of the layer, band by band */
    FillGroup *groups;           /* of the layer */
    uint32_t group_room;
    Profile under, over;     /* the layers below, at the place */
    Live *live;              /* by the thread's index, plain and as a spacer */
    uint32_t era;            /* of them, over all rods */
    Arena *trial, *choosing; /* of pieces: emptied with each way that is tried, with each wrap */
    LIST_OF(uint32_t) hosts; /* places of the rod with a crosswrap, so far */
    Profile spare;
    Learning *learning;               /* NULL for a layer as it is written */
    bool anything_read;               /* some width of the job */
    ThreadWidths widths, item_widths; /* of some turns: to be worked with */
    Made made;                        /* of the layer */
    ChosenFades *chosen;
} Layout;

/* feet.c: the places of a rod, each foot of a guide one. */
void plan_places(Layout *layout);

/* working_order.c: the layers of a place in the order in which they lie on one another: on a foot all that lie
 * below it come first. */
const Layer **layers_from_below(Layout *layout, const PlannedPlace *place, uint32_t *count);
/* The rod's stages, once its places know their layers. */
void plan_stages(Layout *layout);

/* item_widths.c: turns and widths of all items but fills; false after a finding that forbids to go on. */
bool measure_items(Layout *layout);
/* Width of a turn of the item to come, mm. */
double item_pitch(const Layout *layout, const Item *item);
/* One after the last item of the copy of a spread that begins with the item `first`, which shares its extent. */
uint32_t spread_end(const Layer *layer, uint32_t first);
bool is_fill(const Item *item);
/* Whether some fill is still to be shared. Valid once the items are measured. */
bool fills_left(const Layout *layout);

/* fades_by_eye.c: number of the turns that are chosen for a fade by eye of so many; LIMIT_CHOSEN_TURNS at most. */
uint32_t choose_turns(Layout *layout, const Item *item, uint32_t turns);

/* made.c: whether a width was read, at the bench or in the file. */
bool anything_read(const Job *job);
/* Nothing of the layer is made. */
void start_made(Layout *layout);
/* How many runs the layer's items come to. */
uint32_t planned_runs(Layout *layout);
/* Takes the layer's next reading: false if there is none. What is to come may be planned again then. */
bool take_reading(Layout *layout);
/* Whether one more stands in the file that nothing planned anew would change: bands of so many turns. */
bool reading_waits(Layout *layout);
/* What was read is looked at before what is to come is planned again. */
void reckon_made(Layout *layout);
/* How the items are planned now; and again so. */
ItemPlan items_now(const Layout *layout);
void keep_items(Layout *layout, ItemPlan plan);
/* Puts the runs of turns that are made before those of the turns to come. */
void put_made_runs(Layout *layout);
/* replanned.c: items of which turns are made get these, and the turns that are to come of them. */
void restore_made(Layout *layout);
/* Of the items that share an extent, from `first` up to `end`, some turns are made. */
bool share_is_begun(const Layout *layout, uint32_t first, uint32_t end);
/* Of all inlays among these runs of the layer. */
InlayMiddles inlay_middles(Layout *layout, const Run *runs, uint32_t count);
/* What changed since the layer was planned without readings, and findings for marks that moved. */
void compare_with_before(Layout *layout);

/* expected.c: how sure the widths of the layer and of its items are, and where its runs end, once it is laid. */
void expect_widths(Layout *layout);

/* inlay.c: sets the inlays of all bands; gives the width by which they change their bands' plain widths. */
double place_inlays(Layout *layout);
/* By how much the inlays of a band from number `first` on widen it, where its turns are so wide. */
double inlays_to_come(const Layout *layout, const PlacedInlay *inlays, uint32_t first, uint32_t count,
                      double pitch);
/* Findings for inlays that touch or leave their band. */
bool inlays_fit(Layout *layout);

/* fill.c: whole turns for every copy of every fill; never more than `limit` turns in all. Gives the
 * room left. Needs weight, pitch and copies of each group. */
double share_turns(Arena *arena, FillGroup *groups, uint32_t count, double room, double limit);
/* Shares the layer's room among its fills; false after a finding. */
bool fill_layer(Layout *layout);
double measured_width(const Layout *layout);
double measured_turns(const Layout *layout);

/* What a layer's items come to. */
typedef struct RunCount {
    uint64_t runs, threads; /* threads: of each run as many as are wound together, 1 for a gap */
    uint32_t widest;        /* most threads of a run */
} RunCount;

/* expand.c: how many runs the layer's items make, and makes them. */
RunCount count_runs(const Layout *layout);
/* Without places; in working order. Gives how many there are. */
uint32_t expand_runs(const Layout *layout, Run *runs);
/* Of these runs, which follow one another: the one that has this turn, and in *turn the how manieth of its own. */
uint32_t run_with_turn(const Run *runs, uint32_t count, uint64_t *turn);
/* mm of the axis that it takes. */
double laid_width(const Layout *layout, const Run *run);
void make_runs(Layout *layout);

/* bundle.c: strands of a crosswrap's bundle where there is so much room across; at most some more than `most`. */
double bundle_size(const Crosswrap *crosswrap, double room, uint32_t most);
/* Parts of it that pictures show one by one: lines, on either side; strands of a variegated thread. */
double bundle_parts(const Crosswrap *crosswrap, double room);
/* How many of them (on one side) the background takes. */
double bundle_background(const Crosswrap *crosswrap, double room);
/* Makes them: strand_count is known. */
void make_bundle(Layout *layout, PlannedCrosswrap *planned, double room);
/* crosswrap_plan.c: the layer's crosswrap, once its runs lie; false after a finding. */
bool plan_crosswrap(Layout *layout);
/* Whether the pass is wound on with the piece of the one before. */
bool pass_goes_on(const PlannedCrosswrap *planned, uint32_t pass);

/* part_ends.c: the ends of the rod's parts, in order. */
void rod_part_ends(Layout *layout);
/* part_surface.c: what the rod's places lie on. */
void rod_surface(Layout *layout);
/* Counts so many steps towards the limit; false once there were too many: then the next layer that is laid reports
 * it. */
bool takes_steps(Layout *layout, uint64_t steps);

/* part_checks.c: parts beyond the blank or thinner than it, wraps that run into one. */
void check_parts(Layout *layout);
/* Whether a part that no thread may lie on keeps this stretch from being wrapped. */
bool part_in_the_way(const Rod *rod, double low, double high);

/* surface.c */
void layer_surface(Layout *layout);
/* Adds the layer's surface to what lies at its place. */
void profile_add(Layout *layout, Profile *profile);
/* The same for a layer of another place, worked in that direction. */
void profile_add_other(Layout *layout, Profile *profile, const PlannedLayer *layer, int direction);

/* host.c: on which earlier place's crosswrap the place lies, judged by its start: the last one. */
void find_host(Layout *layout);
/* The place's layers lie on those of that one, and of those that it lies on itself. */
void lie_on_host(Layout *layout);
/* Whether all of the place's reach lies within the crosswrap that it lies on. */
bool stays_on_host(const PlannedPlace *place, double low, double high);

/* length.c: diameter of the surface where the layer begins, mm. */
double diameter_at_start(const Layout *layout);
/* What the layer lies on, as cones from its low end to its high one. */
SurfaceStretch *surface_stretches(const Layout *layout, uint32_t *count);
/* No run of the layer lies on more: between its start and this end. */
uint64_t most_stretches(const Layout *layout, double end);
/* Diameters and thread lengths of all runs. */
void measure_lengths(Layout *layout);

/* layer.c */
void lay_layer(Layout *layout, const Layer *layer);
/* The layer's room; at a guide that on the shorter foot, since the body is laid on both. NAN if not known. */
double least_room(const Layout *layout);

/* overlaps.c: places off the blank, over one another, on a ramp. */
void check_reach(Layout *layout);
/* The same for one layer over a foot, while its measures are still there. */
void check_ramp(Layout *layout);
/* A finding's mend that moves the place by at least so many mm, if it lies free then. */
void mend_by_moving(Layout *layout, Finding *finding, const Place *place, double by);
/* Extent along the axis of all that lies at a place; false if nothing does. */
bool place_reach(const PlannedPlace *place, double *low, double *high);

/* pieces.c, needs.c */
void plan_pieces(Layout *layout);
void plan_needs(Layout *layout);

/* mend_numbers.c. Numbers for mends, rounded so that they are safe and look like a builder's. */
/* How a place on the blank, or its length, is written at the span: in the unit that is there, or the bench's. */
LengthWriting hand_writing(const Layout *layout, Span span);
/* The same of a width, as finely as a source has it. */
LengthWriting width_writing(const Layout *layout, Span span);
/* The same of a diameter, as callipers have it. */
LengthWriting diameter_writing(const Layout *layout, Span span);
double round_up_mm(LengthWriting writing, double mm);
double round_down_mm(LengthWriting writing, double mm);
/* Whether the same words of the source set several places, by their marks or by their lengths. */
bool is_copy(const Layout *layout, const Place *place);
/* Whether the place still lies free on the blank when its mark is moved, or its room ends elsewhere. Not where
 * the same words of the source set several places. */
bool can_move(const Layout *layout, const Place *place, double by);
bool can_lengthen(const Layout *layout, double length);
/* The mark as source text after a move of at least `by` mm; `by` becomes the move to the letter. NULL if it
 * cannot be written. */
const char *moved_mark(const Layout *layout, const Place *place, double *by);
/* A band of the layer that may be made so much shorter (mm): its item and new turns; NULL if there is none. */
const Item *shorter_band(const Layout *layout, double by, double *turns);
/* A band that may be made longer so that the layer grows by at least `least` and at most `most` mm. */
const Item *longer_band(const Layout *layout, double least, double most, double *turns);

/* joints.c: the first joint that such a stretch of the rod lies across; NAN if it lies on one section. */
double joint_between(const Rod *rod, double low, double high);
/* A finding for a place that takes this stretch, if it lies across one. */
void check_joints(Layout *layout, const Place *place, double low, double high);

#endif
