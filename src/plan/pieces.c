/* Pieces of thread: each from where it is laid in to where it is ended. A band's thread stands during its
 * inlays and fades and goes on after them; another band, a gap or the layer's end ends it, unless it is chosen
 * (piece_choice.c) to carry it on. What comes in by a fade or an inlay is a cut piece passed by hand, while the
 * blank stands still, but what a wrap begins with; so is a band while a spool is carried beneath it. Where the
 * band after a fade would make its piece too long for that, a spool goes on in its place, but of a piece that is
 * chosen to be on a bobbin. Where a thread broke and is spliced, its piece ends and another one goes on for it. */
#include "plan/piece_work.h"
#include "plan/plan_sums.h"

#include <math.h>

bool is_cut_at(const Piece *piece, uint64_t turn) { return piece->by_hand || turn >= piece->cut_turn; }

bool all_cut_at(const PlannedRod *rod, PieceGroup pieces, uint64_t turn)
{
    bool all = true;
    for (uint32_t i = 0; all && i < pieces.count; i++)
        all = is_cut_at(&rod->pieces[group_piece(pieces, i)], turn);
    return all;
}

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

uint32_t lay_in_strand(PieceWork *work, const Strands *strands, uint32_t i, uint32_t run)
{
    work->rod->pieces[work->rod->piece_count] = (Piece){.thread = strands->items[i].thread,
                                                        .spacer = strands->items[i].spacer,
                                                        .place = work->place,
                                                        .layer = work->layer,
                                                        .first_run = run,
                                                        .first_turn = work->turn,
                                                        .run_turn = work->uses[run].first_turn,
                                                        .free = 2 * work->layout->job->bench.free,
                                                        .cut_turn = NO_TURN,
                                                        .span = work->planned->runs[run].span};
    return work->rod->piece_count++;
}

/* Lays in a piece a strand. */
static PieceGroup lay_in(PieceWork *work, const Strands *strands, uint32_t run)
{
    uint32_t first = work->rod->piece_count;
    for (uint32_t i = 0; i < strands->count; i++)
        lay_in_strand(work, strands, i, run);
    return (PieceGroup){.first = first, .count = strands->count};
}

/* What a piece passes on its way to a run and does not wind itself: it lies over it. mm. */
static double way_under(const PieceWork *work, const Piece *piece, const Run *run)
{
    return piece->turns ? fabs(run->start - work->planned->runs[piece->last_run].end) : 0;
}

static void add_sure(LengthSure *sum, LengthSure run, float share)
{
    sum->blank += run.blank * share;
    sum->threads += run.threads * share;
    sum->along += run.along * share;
}

/* So many of the run's turns go to these pieces. */
static void wind_pieces(PieceWork *work, PieceGroup pieces, uint32_t index, uint32_t turns)
{
    const Run *run = &work->planned->runs[index];
    double bind = work->layout->job->bench.bind;
    work->rod->windings[work->rod->winding_count++] = (Winding){work->place, work->layer, index, turns, pieces};
    for (uint32_t i = 0; i < pieces.count; i++) {
        Piece *piece = &work->rod->pieces[group_piece(pieces, i)];
        double under = way_under(work, piece, run);
        double wound = turns == run->turns ? run->lengths[i] : run->lengths[i] * turns / run->turns;
        piece->beneath += under;
        piece->tags = bind * (work->planned->runs[piece->first_run].strands->pitch + run->strands->pitch);
        piece->last_run = index;
        piece->end_turn = work->turn + turns;
        piece->turns += turns;
        piece->wound += wound;
        add_sure(&piece->sure, length_sure(run, i), (float)turns / (float)run->turns);
        piece->cut_off += piece->cut_turn == NO_TURN ? 0 : under + wound;
    }
    work->uses[index].pieces = pieces;
    if (!is_cut_at(&work->rod->pieces[pieces.first], work->turn))
        work->spool = pieces.first;
    work->turn += turns;
}

static Live *live_entry(PieceWork *work, const Strands *strands)
{
    return strands->count == 1 ? live_strand(work, &strands->items[0]) : NULL;
}

static PieceGroup live_pieces(PieceWork *work, const Strands *strands)
{
    const Live *live = live_entry(work, strands);
    if (!live)
        return work->together && same_strands(work->together, strands) ? work->together_pieces : NO_PIECES;
    return live->era == work->era ? one_piece(live->piece) : NO_PIECES;
}

static void keep_live(PieceWork *work, const Strands *strands, PieceGroup pieces)
{
    Live *live = live_entry(work, strands);
    note_strands(work, strands, pieces);
    if (live) {
        live->era = work->era;
        live->piece = pieces.first;
    } else {
        work->together = strands;
        work->together_pieces = pieces;
    }
}

static void end_all(PieceWork *work)
{
    work->era++;
    work->together = NULL;
}

/* Whether the wrap's last spool will wind a later run: until then nothing else winds from one. */
static bool spool_stands(const PieceWork *work)
{
    if (work->spool == NO_PIECE)
        return false;
    uint32_t next = work->uses[work->rod->pieces[work->spool].last_run].next;
    return next != NO_RUN && work->uses[next].chosen[CHOICE_GOES_ON];
}

/* --- splices --- */

static bool is_spliced_here(const PieceWork *work, const Splice *splice)
{
    const Rod *rods = work->layout->job->rods;
    return splice->rod == (uint32_t)(work->rod->rod - rods) && splice->place == work->place
           && splice->layer == work->layer;
}

/* The first turn of the layer from this one on at which pieces end that broke; NO_TURN if there is none. */
static uint64_t next_splice(const PieceWork *work, uint64_t from)
{
    const Splices *all = &work->layout->job->splices;
    uint64_t next = NO_TURN;
    for (uint32_t i = 0; work->spliced && i < all->count; i++)
        if (all->items[i].turn >= from && all->items[i].turn < next && is_spliced_here(work, &all->items[i]))
            next = all->items[i].turn;
    return next;
}

bool wrap_is_spliced(const PieceWork *work)
{
    return next_splice(work, work->wrap.first_turn) < work->wrap.end_turn;
}

/* How many of them make turns already. */
static uint32_t at_work(const PieceWork *work, PieceGroup pieces)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < pieces.count; i++)
        count += work->rod->pieces[group_piece(pieces, i)].turns > 0;
    return count;
}

/* New pieces in the place of those at work: from a spool if these were, or if no other spool waits for its band.
 */
static PieceGroup go_on_for(PieceWork *work, PieceGroup pieces, uint32_t index)
{
    const Run *run = &work->planned->runs[index];
    bool all = at_work(work, pieces) == pieces.count;
    bool by_hand =
        is_cut_at(&work->rod->pieces[pieces.first], work->turn) && (run->role != RUN_BAND || spool_stands(work));
    uint32_t first = work->rod->piece_count, *list = work->uses[index].list;
    for (uint32_t i = 0; i < pieces.count; i++) {
        uint32_t piece = group_piece(pieces, i);
        if (work->rod->pieces[piece].turns > 0) {
            piece = lay_in_strand(work, run->strands, i, index);
            work->rod->pieces[piece].by_hand = by_hand;
        }
        if (!all)
            list[i] = piece; /* those that begin beside them are listed there */
    }
    return all ? (PieceGroup){.first = first, .count = pieces.count} : (PieceGroup){list[0], pieces.count, list};
}

/* So many of the run's turns, by these pieces and those that are spliced to them. Gives the last ones. */
static PieceGroup wind_spliced(PieceWork *work, PieceGroup pieces, uint32_t index, uint32_t turns)
{
    while (turns) {
        if (next_splice(work, work->turn) == work->turn && at_work(work, pieces) > 0)
            pieces = go_on_for(work, pieces, index);
        uint64_t next = next_splice(work, work->turn + 1);
        uint32_t part = next < work->turn + turns ? (uint32_t)(next - work->turn) : turns;
        wind_pieces(work, pieces, index, part);
        turns -= part;
    }
    return pieces;
}

/* --- runs --- */

static double longest_length(const Run *run)
{
    double longest = 0;
    for (uint32_t i = 0; i < run->strands->count; i++)
        longest = fmax(longest, run->lengths[i]);
    return longest;
}

PartsToCome parts_to_come(const PlannedLayer *planned, uint32_t run)
{
    PartsToCome parts = {0};
    do {
        parts.turns += planned->runs[run].turns;
        parts.length += longest_length(&planned->runs[run]);
    } while (++run < planned->run_count && planned->runs[run].goes_on);
    return parts;
}

uint64_t turns_of_parts_before(const PlannedLayer *planned, uint32_t run, uint64_t most)
{
    uint64_t turns = 0;
    for (; planned->runs[run].goes_on && turns < most; run--)
        turns += planned->runs[run - 1].turns;
    return turns < most ? turns : most;
}

/* Turns that the piece still makes of a band before a spool goes on: those that bind the spool's end. All of them
 * where the piece is from a spool already, or short enough, or the band too short to change. */
static uint32_t turns_before_spool(const PieceWork *work, PieceGroup pieces, uint32_t index)
{
    const Bench *bench = &work->layout->job->bench;
    const Run *run = &work->planned->runs[index];
    const Piece *piece = &work->rod->pieces[pieces.first];
    uint64_t bind = (uint64_t)bench->bind;
    uint64_t made = turns_of_parts_before(work->planned, index, bind + 1);
    if (!piece->by_hand || piece->bobbin || spool_stands(work) || run->strands->count > 1 || made > bind)
        return run->turns;
    PartsToCome parts = parts_to_come(work->planned, index);
    double cut = piece_length(piece) + way_under(work, piece, run) + parts.length;
    bool goes_on = cut > bench->hand && made + parts.turns >= 2 * bind;
    return goes_on && bind - made < run->turns ? (uint32_t)(bind - made) : run->turns;
}

/* A band's turns, with a spool going on where the piece from a fade would grow too long. */
static void take_band(PieceWork *work, uint32_t index, PieceGroup pieces)
{
    const Run *run = &work->planned->runs[index];
    uint32_t turns = turns_before_spool(work, pieces, index);
    pieces = wind_spliced(work, pieces, index, turns);
    if (turns < run->turns && is_cut_at(&work->rod->pieces[pieces.first], work->turn)) {
        pieces = lay_in(work, run->strands, index);
        work->rod->pieces[pieces.first].tag_before = true;
    }
    if (turns < run->turns)
        pieces = wind_spliced(work, pieces, index, run->turns - turns);
    keep_live(work, run->strands, pieces);
}

/* A thread that comes in too late for turns to cover its tag afterwards has its tag
 * laid under the turns before it: that takes a cut piece, since a spool cannot turn with the blank. */
static void end_wrap(PieceWork *work)
{
    uint64_t bind = (uint64_t)work->layout->job->bench.bind;
    for (uint32_t i = work->wrap_piece; i < work->rod->piece_count; i++) {
        Piece *piece = &work->rod->pieces[i];
        bool held_before = piece->first_turn - work->wrap.first_turn >= bind;
        piece->by_hand |= held_before && work->turn - piece->first_turn < bind && !piece->spacer;
    }
}

/* The pieces that go on with a run, none if new ones begin. */
static PieceGroup pieces_that_go_on(PieceWork *work, uint32_t index)
{
    const Run *runs = work->planned->runs, *run = &runs[index];
    const RunUse *use = &work->uses[index];
    if (run->goes_on)
        return work->uses[index - 1].pieces;
    if (use->chosen[CHOICE_GOES_ON] && run->strands->count == 1 && runs[use->previous].strands->count == 1)
        return work->uses[use->previous].pieces;
    if (use->chosen[CHOICE_GOES_ON]) {
        end_all(work);
        note_strands(work, runs[use->previous].strands, work->uses[use->previous].pieces);
        return pieces_side_by_side(work, index);
    }
    PieceGroup pieces = run->role == RUN_INLAY ? NO_PIECES : live_pieces(work, run->strands);
    bool beside = pieces.count == 0 && run->role == RUN_BAND && !spool_stands(work);
    return beside ? pieces_side_by_side(work, index) : pieces;
}

static Winding *last_winding(const PieceWork *work) { return &work->rod->windings[work->rod->winding_count - 1]; }

/* Whether the wrap's last spool made the run's turns: before it is cut for the last of them some more. */
static bool spool_ends_with(const PieceWork *work, uint32_t run)
{
    return work->spool != NO_PIECE && last_winding(work)->turns > work->layout->job->bench.bind
           && work->rod->pieces[work->spool].last_run == run && work->uses[run].pieces.first == work->spool
           && work->rod->pieces[work->spool].cut_turn == NO_TURN;
}

/* The same of a piece on a bobbin. */
static bool bobbin_ends_with(const PieceWork *work, uint32_t run)
{
    PieceGroup pieces = work->uses[run].pieces;
    return pieces.count == 1 && work->rod->pieces[pieces.first].bobbin;
}

/* The last turns up to here bind the next spool's tag: they are made by hand. */
static void end_by_hand(PieceWork *work, uint32_t bind)
{
    Winding *last = last_winding(work);
    Winding *by_hand = &work->rod->windings[work->rod->winding_count++];
    *by_hand = *last;
    by_hand->turns = bind;
    last->turns -= bind;
}

/* The spool's piece that has wound up to here is cut from it before them. */
static void cut_from_spool(PieceWork *work, uint32_t run)
{
    uint32_t bind = (uint32_t)work->layout->job->bench.bind;
    Piece *piece = &work->rod->pieces[work->spool];
    const Run *wound = &work->planned->runs[run - 1];
    piece->cut_turn = work->turn - bind;
    piece->cut_off = wound->lengths[0] * bind / wound->turns + piece->tags / 2 + piece->free / 2;
}

static void take_run(PieceWork *work, uint32_t index)
{
    const Run *run = &work->planned->runs[index];
    PieceGroup pieces = pieces_that_go_on(work, index);
    bool own_spool = work->uses[index].chosen[CHOICE_OWN_SPOOL] && !spool_stands(work);
    if (pieces.count == 0) {
        bool beside_spool =
            run->role == RUN_BAND || own_spool ? spool_stands(work) : work->turn > work->wrap.first_turn;
        pieces = lay_in(work, run->strands, index);
        const bool *choices = work->uses[index].chosen;
        bool on_bobbin = choices[CHOICE_BOBBIN], chosen = choices[CHOICE_TAKES_OVER] && !on_bobbin;
        bool from_spool = chosen && spool_ends_with(work, index - 1);
        bool takes_over = from_spool || (chosen && bobbin_ends_with(work, index - 1) && !spool_stands(work));
        for (uint32_t i = pieces.first; i < work->rod->piece_count; i++)
            work->rod->pieces[i].by_hand = on_bobbin || (beside_spool && !takes_over);
        work->rod->pieces[pieces.first].bobbin = on_bobbin;
        work->rod->pieces[pieces.first].tag_before = takes_over;
        if (takes_over)
            end_by_hand(work, (uint32_t)work->layout->job->bench.bind);
        if (from_spool)
            cut_from_spool(work, index);
    }
    if (own_spool)
        end_all(work);
    if (run->role == RUN_BAND) {
        end_all(work);
        take_band(work, index, pieces);
        return;
    }
    pieces = wind_spliced(work, pieces, index, run->turns);
    if (run->role != RUN_INLAY)
        keep_live(work, run->strands, pieces);
}

void lay_wrap_pieces(PieceWork *work)
{
    work->turn = work->wrap.first_turn;
    work->wrap_piece = work->rod->piece_count;
    work->spool = NO_PIECE;
    end_all(work);
    for (uint32_t r = work->wrap.first_run; r < work->wrap.end_run; r++)
        take_run(work, r);
    end_wrap(work);
}

/* A crosswrap's strands: a piece goes on as long as its thread does; each end is held by tape while it is wound,
 * and by the end band when it is cut. */
static void take_passes(PieceWork *work)
{
    const PlannedCrosswrap *planned = work->planned->crosswrap;
    for (uint32_t i = 0; planned && i < planned->pass_count; i++) {
        const BundleStrand *strand = &planned->strands[pass_strand(planned, i)];
        if (!pass_goes_on(planned, i))
            work->rod->pieces[work->rod->piece_count++] = (Piece){.thread = strand->thread,
                                                                  .spacer = strand->spacer,
                                                                  .place = work->place,
                                                                  .layer = work->layer,
                                                                  .first_pass = i,
                                                                  .free = 2 * work->layout->job->bench.free,
                                                                  .cut_turn = NO_TURN,
                                                                  .span = strand->span};
        Piece *piece = &work->rod->pieces[work->rod->piece_count - 1];
        const Pass *pass = &planned->passes[i];
        piece->pass_count++;
        piece->wound = pass->wound_before + pass->length[LEG_OUT] + pass->length[LEG_BACK]
                       + crosswrap_round_length(planned, i, true, pass->dwell);
    }
}

/* Upper bounds, so that all stand in one array each: a run lays in its strands' pieces at the most, and a spool;
 * it is wound in three parts at the most; and each splice adds its strands' pieces and a part. */
static void take_room(PieceWork *work)
{
    const Layout *layout = work->layout;
    PlannedRod *rod = work->rod;
    size_t pieces = 0, runs = 0, together = 0, most_runs = 0, widest = 1, splices = layout->job->splices.count;
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++) {
            const PlannedLayer *layer = &rod->places[p].layers[l];
            most_runs = layer->run_count > most_runs ? layer->run_count : most_runs;
            pieces += layer->crosswrap ? layer->crosswrap->pass_count : 0;
            for (uint32_t r = 0; r < layer->run_count; r++) {
                uint32_t strands = layer->runs[r].role == RUN_GAP ? 0 : layer->runs[r].strands->count;
                pieces += strands + 1;
                widest = strands > widest ? strands : widest;
                together += strands > 1 ? strands : 0;
            }
            runs += layer->run_count;
        }
    rod->pieces = arena_take_many(layout->arena, pieces + splices * widest, sizeof *rod->pieces);
    rod->windings = arena_take_many(layout->arena, 3 * runs + splices, sizeof *rod->windings);
    work->lists = arena_take_many(layout->arena, together, sizeof *work->lists);
    work->uses = arena_take_many(layout->scratch, most_runs, sizeof *work->uses);
}

/* The run of the wrap that wound some of this run's threads last, spacers aside; that is this one from now on. */
static uint32_t note_run(PieceWork *work, uint32_t index, uint32_t wrap_run)
{
    const Strands *strands = work->planned->runs[index].strands;
    uint32_t previous = NO_RUN;
    for (uint32_t i = 0; i < strands->count; i++) {
        Live *live = live_strand(work, &strands->items[i]);
        if (strands->items[i].spacer)
            continue;
        bool here = live->layer_era == work->era && live->run >= wrap_run && live->run != index;
        if (here && (previous == NO_RUN || live->run > previous))
            previous = live->run;
        live->layer_era = work->era;
        live->run = index;
    }
    return previous;
}

/* What each run of the layer comes after, and whose threads it has. */
static void find_uses(PieceWork *work)
{
    const PlannedLayer *planned = work->planned;
    uint32_t wrap_run = 0, bands = 0;
    uint64_t turn = 0;
    end_all(work);
    for (uint32_t r = 0; r < planned->run_count; r++) {
        const Run *run = &planned->runs[r];
        work->uses[r] = (RunUse){.first_turn = turn, .bands = bands, .previous = NO_RUN, .next = NO_RUN};
        turn += run->turns;
        bands += run->role == RUN_BAND;
        if (run->role == RUN_GAP) {
            wrap_run = r + 1;
            continue;
        }
        work->uses[r].list = run->strands->count > 1 ? work->lists : &work->alone;
        work->lists += run->strands->count > 1 ? run->strands->count : 0;
        uint32_t previous = note_run(work, r, wrap_run);
        if (previous == NO_RUN || work->uses[previous].next != NO_RUN)
            continue;
        work->uses[r].previous = previous;
        work->uses[previous].next = r;
    }
}

static void take_layer(PieceWork *work)
{
    find_uses(work);
    take_passes(work);
    Wraps wraps = layer_wraps(work->layout->scratch, work->planned);
    for (uint32_t w = 0; w < wraps.count; w++) {
        work->wrap = wraps.items[w];
        uint32_t pieces = work->rod->piece_count, windings = work->rod->winding_count;
        if (work->planned->crosswrap)
            lay_wrap_pieces(work); /* two end bands */
        else
            choose_wrap_pieces(work);
        WorkSums sums = wrap_sums(work, pieces, windings);
        work->rod->hand_turns += sums.hand_turns;
        work->rod->handled += sums.handled;
    }
}

void plan_pieces(Layout *layout)
{
    PlannedRod *rod = layout->rod;
    if (!layout->live) {
        layout->live =
            arena_take_many(layout->scratch, 2 * (size_t)layout->job->thread_count, sizeof *layout->live);
        layout->trial = arena_child(layout->scratch);
        layout->choosing = arena_child(layout->scratch);
    }
    PieceWork work = {
        .layout = layout, .rod = rod, .trial = layout->trial, .choosing = layout->choosing, .spliced = true};
    take_room(&work);
    work.live = layout->live;
    work.era = layout->era;
    for (uint32_t s = 0; s < rod->stage_count; s++) {
        const Stage *stage = &rod->stages[s];
        work.place = stage->place;
        for (work.layer = stage->first_layer; work.layer < stage->end_layer; work.layer++) {
            work.planned = &rod->places[work.place].layers[work.layer];
            take_layer(&work);
        }
    }
    layout->era = work.era;
}
