/* What the files of this room share: the state of a layout in the making. Nobody outside includes it. */
#ifndef TURNLAY_PLAN_LAYOUT_H
#define TURNLAY_PLAN_LAYOUT_H

#include "plan/plan.h"
#include "trade/trade.h"

/* Positions that differ by less are one: far below what a hand can set, far above rounding. mm. */
#define LAYOUT_SLACK 1e-6

/* An item's turns and widths before its runs are made. */
typedef struct ItemMeasure {
    double turns;                      /* whole; no integer until it is known not to be beyond the limits */
    double asked;                      /* mm, NAN where turns or a fill were asked for */
    double width;                      /* mm that its turns take */
    uint32_t first_inlay, inlay_count; /* in Layout.inlays */
    bool finished;                     /* on the bench already: its turns stay */
    double stretch;                    /* its measured width / its planned one; 0: not measured */
} ItemMeasure;

/* One inlay in its band. */
typedef struct PlacedInlay {
    const Inlay *inlay;
    double first;      /* the band's turn whose place its first turn takes, from 0 */
    double stands_for; /* turns of the band whose place it takes */
    double turns;      /* its own */
} PlacedInlay;

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
    uint32_t finished;       /* items of the layer that are finished; 0: nothing was measured */
    ItemMeasure *before;     /* its items as they were planned before measuring */
    PlacedInlay *inlays_before;
    Profile spare;
} Layout;

/* feet.c: the places of a rod, each foot of a guide one. */
void plan_places(Layout *layout);

/* working_order.c: the layers of a place in the order in which they lie on one another: on a foot all that lie
 * below it come first. */
const Layer **layers_from_below(Layout *layout, const PlannedPlace *place, uint32_t *count);
/* The rod's stages, once its places have their layers. */
void plan_stages(Layout *layout);

/* item_widths.c: turns and widths of all items but fills; false after a finding that forbids to go on. */
bool measure_items(Layout *layout);
double item_pitch(const Item *item);
/* One after the last item of the copy of a spread that begins with the item `first`, which shares its extent. */
uint32_t spread_end(const Layer *layer, uint32_t first);
bool is_fill(const Item *item);
/* Whether some fill is still to be shared. Valid once the items are measured. */
bool fills_left(const Layout *layout);

/* after_measuring.c: if a width of the layer was measured, plans it without that first, and notes which items are
 * finished.
 */
void plan_before_measuring(Layout *layout);
/* Finished items get back their turns, and the measured ones their width; false after a finding. */
bool restore_finished(Layout *layout);
/* What changed, and findings for marks that moved. */
void compare_with_before(Layout *layout);

/* inlay.c: sets the inlays of all bands; gives the width by which they change their bands' plain widths. */
double place_inlays(Layout *layout);
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

/* host.c: on which earlier place's crosswrap the place lies, judged by its start; its layers lie on that one's. */
void lie_on_host(Layout *layout);
/* Whether all of the place's reach lies within the crosswrap that it lies on. */
bool stays_on_host(const PlannedPlace *place, double low, double high);

/* length.c: what the layer lies on, as cones from its low end to its high one. */
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
