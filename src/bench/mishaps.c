#include "bench/mishaps.h"

#include "plan/plan_sums.h"

#include <math.h>
#include <string.h>

/* --- where it was --- */

static bool winds(const Action *action) { return action->kind == ACTION_WIND || action->kind == ACTION_LEG; }

/* A piece. */
static bool begins(ActionKind kind)
{
    return kind == ACTION_START || kind == ACTION_LAY_IN || kind == ACTION_TIE_ON;
}

/* A leg's turns are no whole number. */
static uint32_t turns_of(const Action *action)
{
    return action->kind == ACTION_LEG ? (uint32_t)ceil(action->leg.turns) : action->turns;
}

static uint32_t step_turns(const BenchRod *rod, const Step *step)
{
    uint32_t turns = 0;
    for (uint32_t i = step->first; i < step->first + step->count; i++)
        turns += winds(&rod->actions[i]) ? turns_of(&rod->actions[i]) : 0;
    return turns;
}

/* One after the step's last action that makes turns; its first one if none does. */
static uint32_t behind_turns(const BenchRod *rod, const Step *step)
{
    uint32_t behind = step->first;
    for (uint32_t i = step->first; i < step->first + step->count; i++)
        behind = winds(&rod->actions[i]) ? i + 1 : behind;
    return behind;
}

/* The last action of the same layer before `end` that is of this kind, and about this piece if one is named; `end`
 * if there is none. */
static uint32_t last_before(const BenchRod *rod, uint32_t end, ActionKind kind, uint32_t piece)
{
    const Action *of = &rod->actions[end - 1];
    for (uint32_t i = end; i-- > 0 && rod->actions[i].place == of->place && rod->actions[i].layer == of->layer;)
        if (rod->actions[i].kind == kind
            && (piece == NO_PIECE || group_has(action_pieces(&rod->actions[i]), piece)))
            return i;
    return end;
}

/* Where the piece's tag was laid, or it was tied on; `end` if that was not before. */
static uint32_t laid_at(const BenchRod *rod, uint32_t end, uint32_t piece)
{
    static const ActionKind kinds[] = {ACTION_START, ACTION_LAY_IN, ACTION_TIE_ON};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        uint32_t at = last_before(rod, end, kinds[i], piece);
        if (at < end)
            return at;
    }
    return end;
}

typedef bool OfKind[ACTION_KIND_COUNT];

static const OfKind makes_turns_of = {[ACTION_WIND] = true, [ACTION_LEG] = true};
static const OfKind has_loop = {[ACTION_LAY_LOOP] = true, [ACTION_PULL_THROUGH] = true};
static const OfKind has_tag = {[ACTION_START] = true,
                               [ACTION_LAY_IN] = true,
                               [ACTION_TIE_ON] = true,
                               [ACTION_WIND] = true,
                               [ACTION_LEG] = true};

/* The number of the last step up to this one in which some action is such, else of the first one behind it; 0 for
 * none. */
static uint32_t nearest_step(const BenchRod *rod, const Step *step, uint32_t number, const OfKind kinds)
{
    const Step *found = NULL;
    for (const Step *other = rod->steps; other < rod->steps + rod->step_count && !(found && other > step); other++)
        for (uint32_t i = other->first; i < other->first + other->count; i++)
            found = kinds[rod->actions[i].kind] ? other : found;
    return found ? (uint32_t)(number + (found - step)) : 0;
}

/* The fault, and the step that may be meant. */
static const char *not_there(Arena *arena, const BenchRod *rod, const Step *step, const Mishap *mishap,
                             const OfKind kinds, const char *fault)
{
    uint32_t nearest = nearest_step(rod, step, mishap->step, kinds);
    return nearest
               ? text_format(arena, "%s in step %u; the nearest such step is %u", fault, (unsigned)mishap->step,
                             (unsigned)nearest)
               : text_format(arena, "%s in step %u, nor in any other of the rod", fault, (unsigned)mishap->step);
}

static const char *find_break(Arena *arena, const Step *step, const Mishap *mishap, MishapAt *at)
{
    uint32_t left = mishap->turns, all = step_turns(at->rod, step);
    if (!all)
        return not_there(arena, at->rod, step, mishap, makes_turns_of, "no turns are made");
    if (left > all)
        return text_format(arena, "step %u has %u turn%s", (unsigned)mishap->step, (unsigned)all,
                           all == 1 ? "" : "s");
    for (uint32_t i = step->first;; i++) {
        const Action *action = &at->rod->actions[i];
        uint32_t turns = winds(action) ? turns_of(action) : 0;
        if (!turns || left > turns) {
            left -= turns;
            continue;
        }
        at->done = left == turns ? i + 1 : i;
        at->made = left == turns ? 0 : left;
        at->pieces = action_pieces(action);
        at->laid = laid_at(at->rod, i, at->pieces.first);
        return NULL;
    }
}

/* All that stands in the step before its last turns is taken for done: nothing is relied on that may be cut. */
static const char *find_unwound(Arena *arena, const Step *step, const Mishap *mishap, MishapAt *at)
{
    const BenchRod *rod = at->rod;
    at->done = behind_turns(rod, step);
    const Action *of = &rod->actions[step->first];
    for (uint32_t i = at->done;
         i-- > 0 && rod->actions[i].place == of->place && rod->actions[i].layer == of->layer;) {
        const Action *action = &rod->actions[i];
        if (action->kind != ACTION_WIND || action->layer_count <= mishap->turns)
            continue;
        uint64_t before = action->layer_count - action->turns;
        at->laid = i;
        at->laid_made = before < mishap->turns ? (uint32_t)(mishap->turns - before) : 0;
        at->pieces = action_pieces(action);
        if (before <= mishap->turns)
            return NULL;
    }
    return text_format(arena, "turn %u of the layer is not passed in step %u", (unsigned)mishap->turns,
                       (unsigned)mishap->step);
}

/* The one that is drawn in the step, or lies in it. */
static const char *find_loop(Arena *arena, const Step *step, const Mishap *mishap, MishapAt *at)
{
    const BenchRod *rod = at->rod;
    uint32_t end = step->first + step->count;
    uint32_t drawn = last_before(rod, end, ACTION_PULL_THROUGH, NO_PIECE);
    bool here = drawn < end && drawn >= step->first;
    uint32_t laid =
        last_before(rod, here ? drawn : end, ACTION_LAY_LOOP, here ? rod->actions[drawn].piece : NO_PIECE);
    if (laid == (here ? drawn : end) || (!here && drawn < end && drawn > laid))
        return not_there(arena, rod, step, mishap, has_loop, "no loop lies, or is drawn,");
    uint32_t wound = behind_turns(rod, step);
    at->done = here ? drawn : wound > laid ? wound : laid + 1;
    at->pieces = action_pieces(&rod->actions[laid]);
    at->laid = laid;
    return NULL;
}

/* That of the piece that is laid in last in the step, or of the one that is wound first. */
static const char *find_tag(Arena *arena, const Step *step, const Mishap *mishap, MishapAt *at)
{
    const BenchRod *rod = at->rod;
    uint32_t end = step->first + step->count;
    at->pieces = NO_PIECES;
    for (uint32_t i = step->first; i < end; i++) {
        const Action *action = &rod->actions[i];
        if (begins(action->kind) || (winds(action) && !at->pieces.count))
            at->pieces = action_pieces(action);
    }
    if (!at->pieces.count)
        return not_there(arena, rod, step, mishap, has_tag, "no thread is begun or wound");
    uint32_t wound = behind_turns(rod, step);
    at->laid = laid_at(rod, end, at->pieces.first);
    at->done = wound > at->laid ? wound : at->laid + 1;
    return NULL;
}

/* Turns of the layer when it is done so far: that of what gave way. */
static uint64_t turn_at(const MishapAt *at, uint32_t done, uint32_t made)
{
    const Action *of = &at->rod->actions[at->laid], *last = &at->rod->actions[done ? done - 1 : 0];
    bool begun = done > 0 && last->place == of->place && last->layer == of->layer;
    return (begun ? last->layer_count : 0) + made;
}

/* A crosswrap's legs, and tags: of whose layer the first action is. */
static bool is_in_layer(const Action *action) { return action->place != WHOLE_ROD && action->layer != WHOLE_ROD; }

const char *mishap_find(Arena *arena, const BenchPlan *bench, Mishap *mishap, MishapAt *at)
{
    static const char *(*const find[MISHAP_KIND_COUNT])(Arena *, const Step *, const Mishap *, MishapAt *) = {
        [MISHAP_BROKE] = find_break,    [MISHAP_SPOOL_EMPTY] = find_break, [MISHAP_UNWOUND] = find_unwound,
        [MISHAP_LOOP_TORN] = find_loop, [MISHAP_TAG_OUT] = find_tag,
    };
    uint32_t number = mishap->step;
    for (mishap->rod = 0; mishap->rod < bench->rod_count; number -= bench->rods[mishap->rod++].step_count)
        if (number <= bench->rods[mishap->rod].step_count)
            break;
    if (mishap->rod == bench->rod_count)
        return text_format(arena, "there is no step %u", (unsigned)mishap->step);
    *at = (MishapAt){.rod = &bench->rods[mishap->rod]};
    const Step *step = &at->rod->steps[number - 1];
    const Action *first = &at->rod->actions[step->first];
    if (!is_in_layer(first))
        return not_there(arena, at->rod, step, mishap, has_tag, "no thread is in work");
    const char *fault = find[mishap->kind](arena, step, mishap, at);
    if (fault)
        return fault;
    uint32_t piece = at->pieces.first;
    mishap->place = first->place;
    mishap->layer = first->layer;
    mishap->turn = turn_at(at, at->done, at->made);
    mishap->thread = at->rod->rod->pieces[piece].thread;
    mishap->number = at->rod->piece_numbers[piece];
    mishap->together = at->pieces.count;
    return NULL;
}

/* --- what is undone --- */

/* Whether it cuts or trims: to undo what lies before leaves a thread that is too short. */
static bool cuts(ActionKind kind)
{
    return kind == ACTION_LAY_END || kind == ACTION_PULL_THROUGH || kind == ACTION_TRIM_TAG
           || kind == ACTION_TRIM_END || kind == ACTION_CUT_FROM_SPOOL || kind == ACTION_TAKE_SPACER
           || kind == ACTION_TIE_OFF || kind == ACTION_UNWIND;
}

/* A tag that its own first turns hold is held as long as so many of them lie; the end of a cut piece that was
 * laid, and not trimmed, can be laid again; and what was cut from its spool is as long as it was then. */
static bool bears(const Bench *bench, const PlannedRod *rod, const Action *action, uint64_t turn)
{
    const Piece *piece = &rod->pieces[action->piece];
    if (action->kind == ACTION_TRIM_TAG)
        return !piece->by_hand && !piece->tag_before && turn >= piece->first_turn + (uint64_t)bench->bind;
    if (action->kind == ACTION_CUT_FROM_SPOOL)
        return turn >= piece->cut_turn;
    return action->kind == ACTION_LAY_END && piece->by_hand;
}

/* mm that its turns [from, to) of the layer take; of pieces side by side each its own. */
static double wound_between(const PlannedRod *rod, uint32_t index, uint64_t from, uint64_t to)
{
    const Piece *piece = &rod->pieces[index];
    const PlannedLayer *layer = &rod->places[piece->place].layers[piece->layer];
    uint64_t turn = 0;
    double wound = 0;
    for (uint32_t w = 0; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        if (winding->place != piece->place || winding->layer != piece->layer)
            continue;
        uint64_t first = turn > from ? turn : from, end = turn + winding->turns < to ? turn + winding->turns : to;
        const Run *run = &layer->runs[winding->run];
        for (uint32_t i = 0; first < end && i < winding->pieces.count; i++)
            if (group_piece(winding->pieces, i) == index)
                wound += run->lengths[i] * (double)(end - first) / run->turns;
        turn += winding->turns;
    }
    return wound;
}

/* The work in the making of what comes off. */
typedef struct Undoing {
    const Bench *bench;
    const MishapAt *at;
    uint32_t first; /* the first action that is undone; */
    uint32_t left;  /* of it, if it is a WIND, turns that stay */
    bool stays_cut; /* something that was cut, or trimmed, bears it, of a piece that is not lost */
    bool *lost;     /* by piece of the rod */
    uint32_t lost_count;
} Undoing;

static void lose(Undoing *undoing, uint32_t piece)
{
    if (undoing->lost[piece])
        return;
    undoing->lost[piece] = true;
    undoing->lost_count++;
    uint32_t laid = laid_at(undoing->at->rod, undoing->at->done, piece);
    if (laid < undoing->first) {
        undoing->first = laid;
        undoing->left = 0;
    }
}

static uint64_t undone_turn(const Undoing *undoing) { return turn_at(undoing->at, undoing->first, undoing->left); }

/* Whatever was cut or trimmed behind what is undone is lost as a whole: until nothing more is. */
static void undo(Undoing *undoing)
{
    const BenchRod *rod = undoing->at->rod;
    for (uint32_t before = UINT32_MAX; before != undoing->lost_count;) {
        before = undoing->lost_count;
        undoing->stays_cut = false;
        for (uint32_t i = undoing->first; i < undoing->at->done; i++) {
            const Action *action = &rod->actions[i];
            PieceGroup pieces = action_pieces(action);
            bool borne = cuts(action->kind) && bears(undoing->bench, rod->rod, action, undone_turn(undoing));
            undoing->stays_cut |= borne && !undoing->lost[action->piece];
            for (uint32_t k = 0; cuts(action->kind) && !borne && k < pieces.count; k++)
                lose(undoing, group_piece(pieces, k));
        }
    }
}

/* Whether it was off its spool by then. */
static bool is_cut(const MishapAt *at, uint32_t index)
{
    const Piece *piece = &at->rod->rod->pieces[index];
    return piece->by_hand || piece->pass_count > 0
           || last_before(at->rod, at->done, ACTION_CUT_FROM_SPOOL, index) < at->done;
}

/* Of the piece that is cut anew: all of a cut piece, and of one that was cut; else what came off its spool. */
static double length_lost(const MishapAt *at, uint32_t index, uint64_t turn)
{
    const Piece *piece = &at->rod->rod->pieces[index];
    double whole = piece_length(piece);
    double used = piece->free / 2 + piece->tags / 2 + wound_between(at->rod->rod, index, 0, turn);
    return is_cut(at, index) || piece->end_turn <= turn || used > whole ? whole : used;
}

/* With which step it goes on, and how far that is made. */
static void go_on_at(const BenchRod *rod, uint32_t steps_before, uint32_t action, uint32_t left, MishapWay *way)
{
    uint32_t s = 0;
    while (rod->steps[s].first + rod->steps[s].count <= action)
        s++;
    way->step = steps_before + s + 1;
    way->action = action - rod->steps[s].first;
    way->made = left;
    for (uint32_t i = rod->steps[s].first; i < action; i++)
        way->made += winds(&rod->actions[i]) ? turns_of(&rod->actions[i]) : 0;
}

static uint32_t steps_before(const MishapAt *at, const Mishap *mishap)
{
    const BenchRod *first = at->rod - mishap->rod;
    uint32_t steps = 0;
    for (uint32_t r = 0; r < mishap->rod; r++)
        steps += first[r].step_count;
    return steps;
}

/* Turns that actions make, legs of crosswraps too. */
static uint64_t turns_between(const MishapAt *at, uint32_t first, uint32_t left)
{
    uint64_t turns = at->made;
    for (uint32_t i = first; i < at->done; i++)
        turns += winds(&at->rod->actions[i]) ? turns_of(&at->rod->actions[i]) : 0;
    return turns - (left < turns ? left : turns);
}

/* What is begun from this action on, but for what is lost; `lost` NULL: nothing is. */
static void set_laid(Arena *arena, const MishapAt *at, uint32_t first, const bool *lost, MishapWay *way)
{
    LIST_OF(LaidPiece) laid = {0};
    for (uint32_t i = first; i < at->done; i++) {
        PieceGroup pieces = action_pieces(&at->rod->actions[i]);
        for (uint32_t k = 0; begins(at->rod->actions[i].kind) && k < pieces.count; k++) {
            uint32_t piece = group_piece(pieces, k);
            if (!lost || !lost[piece])
                *LIST_ADD(arena, &laid) =
                    (LaidPiece){at->rod->rod->pieces[piece].thread, at->rod->piece_numbers[piece]};
        }
    }
    way->laid = laid.items;
    way->laid_count = laid.count;
}

static void undone(Arena *arena, const Undoing *undoing, const Mishap *mishap, MishapWay *way)
{
    const MishapAt *at = undoing->at;
    way->open = true;
    way->stays_cut = undoing->stays_cut;
    way->turn = undone_turn(undoing);
    way->unwound = turns_between(at, undoing->first, undoing->left);
    go_on_at(at->rod, steps_before(at, mishap), undoing->first, undoing->left, way);
    set_laid(arena, at, undoing->first, undoing->lost, way);
    way->lost = arena_take_many(arena, undoing->lost_count, sizeof *way->lost);
    for (uint32_t p = 0; p < at->rod->rod->piece_count; p++)
        if (undoing->lost[p])
            way->lost[way->lost_count++] = (LostPiece){at->rod->rod->pieces[p].thread, at->rod->piece_numbers[p],
                                                       length_lost(at, p, mishap->turn)};
}

/* The thread itself gave way, or its beginning. */
static bool loses_its_piece(MishapKind kind)
{
    return kind == MISHAP_BROKE || kind == MISHAP_SPOOL_EMPTY || kind == MISHAP_TAG_OUT;
}

static const PlannedLayer *layer_of(const MishapAt *at, const Mishap *mishap)
{
    return &at->rod->rod->places[mishap->place].layers[mishap->layer];
}

/* An empty spool leaves an end of `free`: as much as is laid or drawn back where its pieces make no more turns. */
static bool is_long_enough(const MishapAt *at, const Mishap *mishap)
{
    bool all = mishap->kind == MISHAP_SPOOL_EMPTY && !layer_of(at, mishap)->crosswrap;
    for (uint32_t i = 0; i < at->pieces.count; i++)
        all = all && at->rod->rod->pieces[group_piece(at->pieces, i)].end_turn <= mishap->turn;
    return all;
}

void mishap_undo(Arena *arena, Arena *scratch, const Bench *bench, const MishapAt *at, Mishap *mishap)
{
    size_t pieces = at->rod->rod->piece_count;
    Undoing again = {.bench = bench, .at = at, .first = at->laid, .left = at->laid_made};
    again.lost = arena_take_many(scratch, pieces, sizeof *again.lost);
    if (is_long_enough(at, mishap)) {
        again.first = at->done;
        again.left = at->made;
        undone(arena, &again, mishap, &mishap->ways[WAY_AGAIN]);
        return;
    }
    if (!loses_its_piece(mishap->kind)) {
        undo(&again);
        bool restarts = again.lost_count > 0;
        undone(arena, &again, mishap, &mishap->ways[restarts ? WAY_RESTART : WAY_AGAIN]);
        mishap->ways[WAY_AGAIN].fault = restarts ? WAY_FAULT_CUT_SINCE : WAY_FAULT_NONE;
        if (restarts)
            return;
    }
    Undoing all = {.bench = bench, .at = at, .first = at->done};
    all.lost = arena_take_many(scratch, pieces, sizeof *all.lost);
    for (uint32_t i = 0; i < at->pieces.count; i++)
        lose(&all, group_piece(at->pieces, i));
    undo(&all);
    undone(arena, &all, mishap, &mishap->ways[WAY_RESTART]);
}

/* --- splices --- */

/* mm of the piece from that turn on; the end that an empty spool leaves is wound by no turn. */
static double hanging_of(const Bench *bench, const MishapAt *at, const Mishap *mishap, uint32_t piece,
                         uint64_t from)
{
    double left = mishap->kind == MISHAP_SPOOL_EMPTY ? bench->free : 0;
    return left + wound_between(at->rod->rod, piece, from, mishap->turn);
}

/* Least of the pieces side by side. */
static double hanging(const Bench *bench, const MishapAt *at, const Mishap *mishap, uint64_t from)
{
    double least = INFINITY;
    for (uint32_t i = 0; i < at->pieces.count; i++)
        least = fmin(least, hanging_of(bench, at, mishap, group_piece(at->pieces, i), from));
    return least;
}

/* Whether the turn behind so many of the layer is one of the piece's. */
static bool makes_turn(const PlannedRod *rod, uint32_t index, uint64_t turn)
{
    const Piece *piece = &rod->pieces[index];
    uint64_t end = 0;
    for (uint32_t w = 0; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        if (winding->place != piece->place || winding->layer != piece->layer)
            continue;
        end += winding->turns;
        if (end > turn)
            return group_has(winding->pieces, index);
    }
    return false;
}

/* Turns of the layer at the next gap, or at its end. */
static uint64_t wrap_end_behind(const PlannedLayer *layer, uint64_t turn)
{
    uint64_t end = 0;
    for (uint32_t r = 0; r < layer->run_count && (end <= turn || layer->runs[r].role != RUN_GAP); r++)
        end += layer->runs[r].turns;
    return end;
}

static bool is_own_cut(const MishapAt *at, const Action *action)
{
    return action->kind == ACTION_CUT_FROM_SPOOL && group_has(at->pieces, action->piece);
}

/* Turns of the layer when something was cut or trimmed last. */
static uint64_t last_cut(const MishapAt *at, const Mishap *mishap)
{
    uint64_t turn = 0;
    for (uint32_t i = 0; i < at->done; i++) {
        const Action *action = &at->rod->actions[i];
        if (action->place == mishap->place && action->layer == mishap->layer && cuts(action->kind)
            && !is_own_cut(at, action)
            && !(action->kind == ACTION_LAY_END && at->rod->rod->pieces[action->piece].by_hand))
            turn = action->layer_count;
    }
    return turn;
}

uint64_t splice_below(const Bench *bench, const MishapAt *at, Mishap *mishap, uint64_t below)
{
    MishapWay *way = &mishap->ways[WAY_SPLICE];
    const PlannedRod *rod = at->rod->rod;
    uint64_t first = rod->pieces[at->pieces.first].first_turn, least = last_cut(at, mishap);
    bool helps =
        mishap->kind == MISHAP_BROKE || (mishap->kind == MISHAP_SPOOL_EMPTY && !mishap->ways[WAY_AGAIN].open);
    if (layer_of(at, mishap)->crosswrap || !helps) {
        way->fault = layer_of(at, mishap)->crosswrap ? WAY_FAULT_OF_CROSSWRAP : WAY_FAULT_NO_SPLICE_HERE;
        return NO_TURN;
    }
    for (uint64_t turn = below; turn-- > 0 && turn >= first + (uint64_t)bench->bind;) {
        if (turn < least) {
            way->fault = WAY_FAULT_CUT_SINCE;
            return NO_TURN;
        }
        way->hangs = hanging(bench, at, mishap, turn);
        if (wrap_end_behind(layer_of(at, mishap), turn) - turn >= (uint64_t)bench->bind
            && way->hangs >= bench->free && makes_turn(rod, at->pieces.first, turn))
            return way->splice = turn;
    }
    uint64_t behind = wrap_end_behind(layer_of(at, mishap), first);
    way->fault = behind < first + 2 * (uint64_t)bench->bind ? WAY_FAULT_TOO_FEW_BEHIND : WAY_FAULT_TOO_FEW_BEFORE;
    return NO_TURN;
}

/* Whatever cannot be put right by the way when one goes on. */
static bool is_hard(ActionKind kind)
{
    return cuts(kind) || kind == ACTION_START || kind == ACTION_LAY_IN || kind == ACTION_LAY_LOOP
           || kind == ACTION_LOAD || kind == ACTION_TAKE_TAPE;
}

static uint32_t next_hard(const BenchRod *rod, uint32_t at)
{
    while (at < rod->action_count && !is_hard(rod->actions[at].kind))
        at++;
    return at;
}

static bool same_piece(const Piece *a, const Piece *b)
{
    return a->thread == b->thread && a->spacer == b->spacer && a->by_hand == b->by_hand && a->bobbin == b->bobbin
           && a->tag_before == b->tag_before && a->first_turn == b->first_turn;
}

static bool same_action(const BenchRod *one, const Action *a, const BenchRod *other, const Action *b)
{
    bool same = a->kind == b->kind && a->place == b->place && a->layer == b->layer
                && a->layer_count == b->layer_count && a->piece_count == b->piece_count;
    return same
           && (a->piece == NO_PIECE || same_piece(&one->rod->pieces[a->piece], &other->rod->pieces[b->piece]));
}

/* Nothing was cut since but what bears it. */
static bool can_be_undone(const Bench *bench, const MishapAt *at, uint32_t first, uint64_t turn, MishapWay *way)
{
    way->stays_cut = false;
    for (uint32_t i = first; i < at->done; i++) {
        const Action *action = &at->rod->actions[i];
        bool borne = cuts(action->kind) && bears(bench, at->rod->rod, action, turn);
        if (cuts(action->kind) && !is_own_cut(at, action) && !borne)
            return false;
        way->stays_cut |= borne;
    }
    return true;
}

/* What the sheet that goes on has no use for: of a piece that was cut all that it was longer, since what broke off
 * is on no spool; else the thread that hangs beyond the free end. */
static double length_left_over(const Bench *bench, const MishapAt *at, const PlannedRod *spliced,
                               const Mishap *mishap, uint32_t index)
{
    const Piece *piece = &at->rod->rod->pieces[index];
    if (!is_cut(at, index))
        return hanging_of(bench, at, mishap, index, mishap->ways[WAY_SPLICE].splice) - bench->free;
    return piece_length(piece) - piece_length(&spliced->pieces[index]);
}

static void set_left_over(Arena *arena, const Bench *bench, const MishapAt *at, const PlannedRod *spliced,
                          const Mishap *mishap, MishapWay *way)
{
    way->lost_count = 0;
    way->lost = arena_take_many(arena, at->pieces.count, sizeof *way->lost);
    for (uint32_t i = 0; i < at->pieces.count; i++) {
        uint32_t piece = group_piece(at->pieces, i);
        double beyond = length_left_over(bench, at, spliced, mishap, piece);
        if (beyond > 0)
            way->lost[way->lost_count++] =
                (LostPiece){at->rod->rod->pieces[piece].thread, at->rod->piece_numbers[piece], beyond};
    }
}

bool splice_goes_on(Arena *arena, const Bench *bench, const MishapAt *at, const BenchRod *spliced, Mishap *mishap)
{
    MishapWay *way = &mishap->ways[WAY_SPLICE];
    uint32_t old = next_hard(at->rod, 0), new = next_hard(spliced, 0);
    while (old < at->done && new < spliced->action_count
           && same_action(at->rod, &at->rod->actions[old], spliced, &spliced->actions[new])) {
        old = next_hard(at->rod, old + 1);
        new = next_hard(spliced, new + 1);
    }
    way->fault = WAY_FAULT_NOT_HELD;
    if (spliced->rod->piece_count != at->rod->rod->piece_count + at->pieces.count || new == spliced->action_count)
        return false;
    const Action *next = &spliced->actions[new];
    uint64_t turn = next->layer_count;
    bool lacks_one = old < at->done && at->rod->actions[old].layer_count < turn;
    if (next->place != mishap->place || next->layer != mishap->layer || lacks_one)
        return false;
    way->fault = WAY_FAULT_CUT_SINCE;
    if (turn > way->splice || !can_be_undone(bench, at, old, turn, way))
        return false;
    way->open = true;
    way->fault = WAY_FAULT_NONE;
    way->turn = turn;
    way->unwound = mishap->turn - turn;
    go_on_at(spliced, steps_before(at, mishap), new, 0, way);
    set_left_over(arena, bench, at, spliced->rod, mishap, way);
    set_laid(arena, at, old, NULL, way);
    return true;
}
