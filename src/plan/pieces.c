/* Pieces of thread: each from where it is laid in to where it is ended. A band's thread stands during its
 * inlays and fades and goes on after them; another band, a gap or the layer's end ends it. What comes in by a fade
 * or an inlay is a cut piece passed by hand, while the blank stands still, but what a wrap begins with; where the
 * band after a fade would make it too long for that, a spool goes on in its place. */
#include "plan/layout.h"
#include "plan/plan_sums.h"

#include <math.h>

enum { NO_PIECE = UINT32_MAX };

/* Which piece each thread is on, as long as it has not been ended: `era` changes when all are ended. */
struct Live {
    uint32_t era, piece;
};

typedef struct Tracker {
    const Layout *layout;
    PlannedRod *rod;
    uint32_t place, layer; /* indices */
    const PlannedLayer *planned;
    Live *live; /* by the thread's index, plain and as a spacer; single threads only */
    uint32_t era;
    const Strands *together; /* several strands running, or NULL */
    uint32_t together_first; /* their first piece */
    uint64_t turn;           /* of the layer, so far */
    uint64_t wrap_start;     /* the turn after the last gap */
    uint32_t wrap_piece;     /* the first piece after it */
} Tracker;

static bool same_strands(const Strands *a, const Strands *b)
{
    if (a == b)
        return true;
    if (a->count != b->count)
        return false;
    for (uint32_t i = 0; i < a->count; i++)
        if (a->items[i].thread != b->items[i].thread || a->items[i].spacer != b->items[i].spacer)
            return false;
    return true;
}

/* Lays in a piece a strand; gives the first. */
static uint32_t lay_in(Tracker *tracker, const Strands *strands, uint32_t run, Span span)
{
    const Bench *bench = &tracker->layout->job->bench;
    uint32_t first = tracker->rod->piece_count;
    for (uint32_t i = 0; i < strands->count; i++)
        tracker->rod->pieces[tracker->rod->piece_count++] = (Piece){.thread = strands->items[i].thread,
                                                                    .spacer = strands->items[i].spacer,
                                                                    .place = tracker->place,
                                                                    .layer = tracker->layer,
                                                                    .first_run = run,
                                                                    .first_turn = tracker->turn,
                                                                    .tags = 2 * bench->bind * strands->pitch,
                                                                    .free = 2 * bench->free,
                                                                    .span = span};
    return first;
}

/* What a piece passes on its way to a run and does not wind itself: it lies over it. mm. */
static double way_under(const Tracker *tracker, const Piece *piece, const Run *run)
{
    return piece->turns ? fabs(run->start - tracker->planned->runs[piece->last_run].end) : 0;
}

/* So many of the run's turns go to the pieces from `first` on. */
static void wind_pieces(Tracker *tracker, uint32_t first, uint32_t index, uint32_t turns)
{
    const Run *run = &tracker->planned->runs[index];
    tracker->rod->windings[tracker->rod->winding_count++] =
        (Winding){tracker->place, tracker->layer, index, first, turns};
    for (uint32_t i = 0; i < run->strands->count; i++) {
        Piece *piece = &tracker->rod->pieces[first + i];
        piece->beneath += way_under(tracker, piece, run);
        piece->last_run = index;
        piece->end_turn = tracker->turn + turns;
        piece->turns += turns;
        piece->wound += turns == run->turns ? run->lengths[i] : run->lengths[i] * turns / run->turns;
    }
    tracker->turn += turns;
}

static Live *live_entry(Tracker *tracker, const Strands *strands)
{
    const Strand *strand = &strands->items[0];
    return strands->count == 1 ? &tracker->live[2 * (size_t)strand->thread->index + strand->spacer] : NULL;
}

static uint32_t live_piece(Tracker *tracker, const Strands *strands)
{
    const Live *live = live_entry(tracker, strands);
    if (!live)
        return tracker->together && same_strands(tracker->together, strands) ? tracker->together_first : NO_PIECE;
    return live->era == tracker->era ? live->piece : NO_PIECE;
}

static void keep_live(Tracker *tracker, const Strands *strands, uint32_t piece)
{
    Live *live = live_entry(tracker, strands);
    if (live) {
        *live = (Live){tracker->era, piece};
    } else {
        tracker->together = strands;
        tracker->together_first = piece;
    }
}

static void end_all(Tracker *tracker)
{
    tracker->era++;
    tracker->together = NULL;
}

/* Turns that the piece still makes of a band before a spool goes on: those that bind the spool's end. All of them
 * where the piece is from a spool already, or short enough, or the band too short to change. */
static uint32_t turns_before_spool(const Tracker *tracker, uint32_t piece_index, const Run *run)
{
    const Bench *bench = &tracker->layout->job->bench;
    const Piece *piece = &tracker->rod->pieces[piece_index];
    double cut = piece_length(piece) + way_under(tracker, piece, run) + run->lengths[0];
    bool go_on = piece->by_hand && run->strands->count == 1 && cut > bench->hand && run->turns >= 2 * bench->bind;
    return go_on ? (uint32_t)bench->bind : run->turns;
}

/* A band's turns, with a spool going on where the piece from a fade would grow too long. */
static void take_band(Tracker *tracker, uint32_t index, uint32_t piece)
{
    const Run *run = &tracker->planned->runs[index];
    uint32_t turns = turns_before_spool(tracker, piece, run);
    wind_pieces(tracker, piece, index, turns);
    if (turns < run->turns) {
        piece = lay_in(tracker, run->strands, index, run->span);
        wind_pieces(tracker, piece, index, run->turns - turns);
    }
    keep_live(tracker, run->strands, piece);
}

/* At a gap or the layer's end. A thread that comes in too late for turns to cover its tag afterwards has its tag
 * laid under the turns before it: that takes a cut piece, since a spool cannot turn with the blank. */
static void end_wrap(Tracker *tracker)
{
    uint64_t bind = (uint64_t)tracker->layout->job->bench.bind;
    for (uint32_t i = tracker->wrap_piece; i < tracker->rod->piece_count; i++) {
        Piece *piece = &tracker->rod->pieces[i];
        bool held_before = piece->first_turn - tracker->wrap_start >= bind;
        piece->by_hand |= held_before && tracker->turn - piece->first_turn < bind && !piece->spacer;
    }
    end_all(tracker);
    tracker->wrap_start = tracker->turn;
    tracker->wrap_piece = tracker->rod->piece_count;
}

static void take_run(Tracker *tracker, uint32_t index)
{
    const Run *run = &tracker->planned->runs[index];
    if (run->role == RUN_GAP) {
        end_wrap(tracker);
        return;
    }
    uint32_t piece = run->role == RUN_INLAY ? NO_PIECE : live_piece(tracker, run->strands);
    if (piece == NO_PIECE) {
        piece = lay_in(tracker, run->strands, index, run->span);
        for (uint32_t i = piece; i < tracker->rod->piece_count; i++)
            tracker->rod->pieces[i].by_hand = run->role != RUN_BAND && tracker->turn > tracker->wrap_start;
    }
    if (run->role == RUN_BAND) {
        end_all(tracker);
        take_band(tracker, index, piece);
        return;
    }
    if (run->role != RUN_INLAY)
        keep_live(tracker, run->strands, piece);
    wind_pieces(tracker, piece, index, run->turns);
}

/* A crosswrap's strands: a piece goes on as long as its thread does; each end is held by tape while it is wound,
 * and by the end band when it is cut. */
static void take_passes(Tracker *tracker)
{
    const PlannedCrosswrap *planned = tracker->planned->crosswrap;
    for (uint32_t i = 0; planned && i < planned->pass_count; i++) {
        const BundleStrand *strand = &planned->strands[pass_strand(planned, i)];
        if (!pass_goes_on(planned, i))
            tracker->rod->pieces[tracker->rod->piece_count++] =
                (Piece){.thread = strand->thread,
                        .spacer = strand->spacer,
                        .place = tracker->place,
                        .layer = tracker->layer,
                        .first_pass = i,
                        .free = 2 * tracker->layout->job->bench.free,
                        .span = strand->span};
        Piece *piece = &tracker->rod->pieces[tracker->rod->piece_count - 1];
        const Pass *pass = &planned->passes[i];
        piece->pass_count++;
        piece->wound = pass->wound_before + pass->length[LEG_OUT] + pass->length[LEG_BACK]
                       + crosswrap_round_length(planned, i, true, pass->dwell);
    }
    tracker->wrap_piece = tracker->rod->piece_count;
}

/* Upper bounds, so that all stand in one array each: a run lays in its strands' pieces at the most, and a spool;
 * it is wound in two parts at the most. */
static void take_room(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    size_t pieces = 0, windings = 0;
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++) {
            const PlannedLayer *layer = &rod->places[p].layers[l];
            pieces += layer->crosswrap ? layer->crosswrap->pass_count : 0;
            for (uint32_t r = 0; r < layer->run_count; r++) {
                pieces += layer->runs[r].role == RUN_GAP ? 0 : layer->runs[r].strands->count + 1;
                windings += 2;
            }
        }
    rod->pieces = arena_take_many(layout->arena, pieces, sizeof *rod->pieces);
    rod->windings = arena_take_many(layout->arena, windings, sizeof *rod->windings);
}

void plan_pieces(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    take_room(layout);
    if (!layout->live)
        layout->live =
            arena_take_many(layout->scratch, 2 * (size_t)layout->job->thread_count, sizeof *layout->live);
    Tracker tracker = {.layout = layout, .rod = rod, .live = layout->live, .era = layout->era + 1};
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++) {
            tracker.place = p;
            tracker.layer = l;
            tracker.planned = &rod->places[p].layers[l];
            tracker.turn = tracker.wrap_start = 0;
            take_passes(&tracker);
            for (uint32_t r = 0; r < tracker.planned->run_count; r++)
                take_run(&tracker, r);
            end_wrap(&tracker);
        }
    layout->era = tracker.era;
}
