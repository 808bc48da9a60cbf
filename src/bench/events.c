/* What has to happen at which turn. Pieces come in the order of their first turns, and nothing about a piece comes
 * earlier than some turns before that: so only what is near is kept, however long the layer is. */
#include "bench/events.h"

#include "plan/piece_ends.h"

#include <math.h>

/* What comes first where several things happen at one turn: pack, measure, cut; ends before beginnings. A cut
 * piece that ends is in a hand: it is ended before anything else is trimmed. Other actions are no events. */
typedef enum {
    RANK_PACK,
    RANK_MEASURE,
    RANK_UNTAPE_LOOP_IN_HAND,
    RANK_PULL_IN_HAND,
    RANK_TRIM_PULLED_IN_HAND,
    RANK_LAY_END_IN_HAND,
    RANK_UNTAPE,
    RANK_TRIM,
    RANK_UNTAPE_LOOP,
    RANK_PULL,
    RANK_TRIM_PULLED,
    RANK_PACK_LAST,
    RANK_TAKE_SPACER,
    RANK_LAY_END,
    RANK_TAKE_TAPE,
    RANK_STAND,
    RANK_LOAD,
    RANK_LAY_LOOP,
    RANK_LAY_IN,
    RANK_CUT_FROM_SPOOL,
    RANK_TAKE_UP,
    RANK_START,
} Rank;

/* Of each kind that is an event: as it is, where its piece is in a hand, and where a loop draws its end or has
 * drawn it. */
typedef struct EventRanks {
    uint8_t plain, in_hand, drawn, drawn_in_hand;
} EventRanks;
#define ALWAYS(rank)                                                                                              \
    {                                                                                                             \
        rank, rank, rank, rank                                                                                    \
    }
static const EventRanks ranks[ACTION_KIND_COUNT] = {
    [ACTION_PACK] = {RANK_PACK, RANK_PACK, RANK_PACK_LAST, RANK_PACK_LAST},
    [ACTION_MEASURE] = ALWAYS(RANK_MEASURE),
    [ACTION_UNTAPE] = {RANK_UNTAPE, RANK_UNTAPE, RANK_UNTAPE_LOOP, RANK_UNTAPE_LOOP_IN_HAND},
    [ACTION_PULL_THROUGH] = {RANK_PULL, RANK_PULL_IN_HAND, RANK_PULL, RANK_PULL_IN_HAND},
    [ACTION_TRIM_END] = {RANK_TRIM, RANK_TRIM, RANK_TRIM_PULLED, RANK_TRIM_PULLED_IN_HAND},
    [ACTION_LAY_END] = {RANK_LAY_END, RANK_LAY_END_IN_HAND, RANK_LAY_END, RANK_LAY_END_IN_HAND},
    [ACTION_TRIM_TAG] = ALWAYS(RANK_TRIM),
    [ACTION_TAKE_SPACER] = ALWAYS(RANK_TAKE_SPACER),
    [ACTION_TAKE_TAPE] = ALWAYS(RANK_TAKE_TAPE),
    [ACTION_STAND] = ALWAYS(RANK_STAND),
    [ACTION_LOAD] = ALWAYS(RANK_LOAD),
    [ACTION_LAY_LOOP] = ALWAYS(RANK_LAY_LOOP),
    [ACTION_LAY_IN] = ALWAYS(RANK_LAY_IN),
    [ACTION_CUT_FROM_SPOOL] = ALWAYS(RANK_CUT_FROM_SPOOL),
    [ACTION_TAKE_UP] = ALWAYS(RANK_TAKE_UP), /* nothing runs then but what is taken up */
    [ACTION_START] = ALWAYS(RANK_START),
};
#undef ALWAYS

static uint8_t rank_of(const ActionEvents *events, const ActionEvent *event)
{
    bool in_hand = event->pieces.count && is_cut_at(&events->rod->pieces[event->pieces.first], event->turn);
    bool drawn = event->last || (event->kind == ACTION_UNTAPE && event->thing == THING_LOOP);
    const EventRanks *of = &ranks[event->kind];
    return drawn ? (in_hand ? of->drawn_in_hand : of->drawn) : in_hand ? of->in_hand : of->plain;
}

/* Those about pieces come before those about changes where they are alike. */
#define CHANGES_FOLLOW (UINT64_C(1) << 63)

bool ends_something(const ActionEvent *event) { return event->rank < RANK_LOAD; }

/* --- the heap --- */

static bool comes_before(const ActionEvent *a, const ActionEvent *b)
{
    if (a->turn != b->turn)
        return a->turn < b->turn;
    if (a->rank != b->rank)
        return a->rank < b->rank;
    return a->sequence < b->sequence;
}

void add_event(ActionEvents *events, const ActionEvent *event)
{
    ActionEvent added = *event;
    added.rank = rank_of(events, event);
    added.sequence += events->found++;
    LIST_ADD(events->arena, &events->near);
    ActionEvent *near = events->near.items;
    uint32_t at = events->near.count - 1;
    for (; at && comes_before(&added, &near[(at - 1) / 2]); at = (at - 1) / 2)
        near[at] = near[(at - 1) / 2];
    near[at] = added;
}

void events_take(ActionEvents *events)
{
    ActionEvent *near = events->near.items, last = near[--events->near.count];
    uint32_t count = events->near.count, at = 0;
    for (uint32_t child = 1; child < count; child = 2 * at + 1) {
        child += child + 1 < count && comes_before(&near[child + 1], &near[child]);
        if (!comes_before(&near[child], &last))
            break;
        near[at] = near[child];
        at = child;
    }
    near[at] = last;
}

/* --- what each piece needs --- */

/* The wrap that the turn belongs to: from the last gap before it to the next. */
static const Wrap *wrap_at(ActionEvents *events, uint64_t turn)
{
    while (events->wraps.items[events->wrap].end_turn <= turn && events->wrap + 1 < events->wraps.count)
        events->wrap++;
    return &events->wraps.items[events->wrap];
}

/* Where `bind` turns lie over what is laid at this turn, not within a hand pass; NO_EVENT if the wrap has no room
 * for them. */
static uint64_t tape_off_at(const ActionEvents *events, uint64_t turn, const Wrap *wrap)
{
    uint64_t bound = turn + (uint64_t)events->bench->bind;
    return bound > wrap->end_turn ? NO_EVENT : behind_hand_pass(&events->passes, bound);
}

static uint64_t end_trimmed_at(const ActionEvents *events, uint32_t index, const PieceEnds *ends)
{
    return ends->end_way == END_UNDER_NEXT_TURNS ? behind_hand_pass(&events->passes, ends->end.to)
                                                 : events->rod->pieces[index].end_turn;
}

/* A tag that was laid in slips until the first three of its piece's own turns lie, too: common practice, no
 * source. */
enum { FIRST_TURNS = 3 };

/* Its tail lies behind the turns, in nobody's way: where its end is trimmed soon after, both are trimmed then. */
static uint64_t tag_trimmed_at(const ActionEvents *events, uint32_t index, const PieceEnds *ends)
{
    if (!ends->laid_in)
        return behind_hand_pass(&events->passes, ends->tag_held);
    uint64_t own = own_turns_made(&events->passes, index, FIRST_TURNS), end = end_trimmed_at(events, index, ends);
    uint64_t held = behind_hand_pass(&events->passes, own > ends->tag_held ? own : ends->tag_held);
    return end > held && end - held <= (uint64_t)events->bench->bind ? end : held;
}

/* A spacer's ends are not held: it goes again when its wrap is wound. */
static void find_spacer(ActionEvents *events, uint32_t index, const Wrap *wrap)
{
    const Piece *piece = &events->rod->pieces[index];
    ActionEvent event = {.pieces = one_piece(index)};
    event.kind = ACTION_START;
    event.turn = piece->first_turn;
    event.turns = (uint32_t)events->bench->bind;
    event.off_at = tape_off_at(events, piece->first_turn, wrap);
    add_event(events, &event);
    event.turns = 0;
    event.kind = ACTION_LAY_END;
    event.turn = piece->end_turn;
    event.off_at = tape_off_at(events, piece->end_turn, wrap);
    if (piece->end_turn < wrap->end_turn)
        add_event(events, &event);
    event.kind = ACTION_TAKE_SPACER;
    event.turn = wrap->end_turn;
    add_event(events, &event);
}

/* Before a hand pass rather than in the middle of it, if that is a few turns away. */
static uint64_t laid_before_pass(const ActionEvents *events, uint64_t turn)
{
    uint64_t before = before_hand_pass(&events->passes, turn);
    return turn - before <= (uint64_t)events->bench->bind ? before : turn;
}

static uint64_t tag_laid_at(const ActionEvents *events, const PieceEnds *ends)
{
    return ends->laid_in ? laid_before_pass(events, ends->tag.from) : ends->tag.from;
}

static bool begins_with(const Piece *other, const Piece *piece)
{
    return !other->spacer && other->first_run == piece->first_run && other->first_turn == piece->first_turn;
}

static void find_tag(ActionEvents *events, uint32_t index, const PieceEnds *ends)
{
    const Piece *piece = &events->rod->pieces[index];
    ActionEvent event = {.pieces = one_piece(index)};
    event.kind = ends->laid_in ? ACTION_LAY_IN : ACTION_START;
    event.turn = tag_laid_at(events, ends);
    event.turns = (uint32_t)(ends->tag.to - event.turn);
    event.off_at = tag_trimmed_at(events, index, ends);
    add_event(events, &event);
    event.turns = 0;
    /* Strands together are taken up together, by the first of them; a spacer was not laid in, but starts then. */
    if (ends->laid_in && !(index > events->first_piece && begins_with(&piece[-1], piece))) {
        ActionEvent taken = event;
        taken.kind = ACTION_TAKE_UP;
        taken.turn = piece->first_turn;
        for (uint32_t next = index + 1; next < events->end_piece; next++, taken.pieces.count++)
            if (!begins_with(&events->rod->pieces[next], piece))
                break;
        add_event(events, &taken);
    }
    event.kind = ACTION_TRIM_TAG;
    event.turn = event.off_at;
    add_event(events, &event);
}

static void find_end(ActionEvents *events, uint32_t index, const PieceEnds *ends)
{
    bool loop = ends->end_way != END_UNDER_NEXT_TURNS;
    ActionEvent event = {.pieces = one_piece(index), .final = ends->end_way == END_THROUGH_FINAL_LOOP};
    event.kind = loop ? ACTION_LAY_LOOP : ACTION_LAY_END;
    event.turn = loop ? laid_before_pass(events, ends->end.from) : ends->end.from;
    event.turns = (uint32_t)(ends->end.to - event.turn);
    event.off_at = end_trimmed_at(events, index, ends);
    add_event(events, &event);
    event.turns = 0;
    event.turn = event.off_at;
    event.kind = ACTION_PULL_THROUGH;
    if (loop)
        add_event(events, &event);
    event.final = false;
    event.last = loop;
    event.kind = ACTION_TRIM_END;
    add_event(events, &event);
    if (loop)
        add_event(events, &(ActionEvent){.turn = event.turn, .kind = ACTION_PACK, .last = true});
}

/* So many turns before its first one a piece is heard of at the earliest: its tag, or the loop for its end; and
 * some more where that would break a hand pass. */
static uint64_t turns_ahead(const Bench *bench)
{
    return (uint64_t)(fmax(bench->bind, fmax(bench->loop, bench->final)) + bench->bind);
}

static void seek_piece(ActionEvents *events)
{
    EventCursor *cursor = &events->cursors[FROM_PIECES];
    uint64_t ahead = turns_ahead(events->bench);
    if (cursor->next == events->end_piece) {
        cursor->turn = NO_EVENT;
        return;
    }
    uint64_t first = events->rod->pieces[cursor->next].first_turn;
    cursor->turn = first < ahead ? 0 : first - ahead;
}

static void find_piece(ActionEvents *events)
{
    uint32_t index = events->cursors[FROM_PIECES].next++;
    const Piece *piece = &events->rod->pieces[index];
    const Wrap *wrap = wrap_at(events, piece->first_turn);
    seek_piece(events);
    if (piece->spacer) {
        find_spacer(events, index, wrap);
        return;
    }
    PieceEnds ends = piece_ends(events->bench, events->rod, index, wrap);
    find_end(events, index, &ends);
    find_tag(events, index, &ends);
    if (piece->cut_turn != NO_TURN)
        add_event(events, &(ActionEvent){
                              .kind = ACTION_CUT_FROM_SPOOL, .turn = piece->cut_turn, .pieces = one_piece(index)});
}

/* --- bobbins --- */

/* To the next piece on a bobbin: all of a wrap are loaded before its first turn. */
static void seek_loading(ActionEvents *events)
{
    EventCursor *cursor = &events->cursors[FROM_LOADING];
    while (cursor->next < events->end_piece && !events->rod->pieces[cursor->next].bobbin)
        cursor->next++;
    cursor->turn = NO_EVENT;
    if (cursor->next == events->end_piece)
        return;
    const Wrap *wraps = events->wraps.items;
    while (wraps[events->loading_wrap].end_turn <= events->rod->pieces[cursor->next].first_turn)
        events->loading_wrap++;
    cursor->turn = wraps[events->loading_wrap].first_turn;
}

static void find_loading(ActionEvents *events)
{
    EventCursor *cursor = &events->cursors[FROM_LOADING];
    add_event(events,
              &(ActionEvent){.turn = cursor->turn, .kind = ACTION_LOAD, .pieces = one_piece(cursor->next)});
    cursor->next++;
    seek_loading(events);
}

/* --- changes, packing, measuring --- */

/* Whether the piece stands when the winding goes on without it; or is taken up, when the other did. */
static bool changes(const ActionEvents *events, const ActionEvent *event, uint32_t piece, const Winding *other)
{
    const Piece *planned = &events->rod->pieces[piece];
    bool begun_or_not_done =
        event->kind == ACTION_STAND ? planned->end_turn > event->turn : planned->first_turn != event->turn;
    return begun_or_not_done && !(other && group_has(other->pieces, piece));
}

/* Of the pieces those that do so, as many as follow one another at a time. */
static void add_changes(ActionEvents *events, ActionEvent *event, PieceGroup pieces, const Winding *other)
{
    for (uint32_t i = 0; i < pieces.count; i++) {
        uint32_t first = i;
        while (i < pieces.count && changes(events, event, group_piece(pieces, i), other))
            i++;
        if (i == first)
            continue;
        event->pieces = part_of_group(pieces, first, i - first);
        add_event(events, event);
    }
}

/* Where one piece leaves off for another and will come back, it stands; the one that comes back is taken up. What
 * winds on beside others does neither. */
static void find_change(ActionEvents *events)
{
    EventCursor *cursor = &events->cursors[FROM_CHANGES];
    const Winding *winding = &events->rod->windings[cursor->next];
    const Winding *before = cursor->next > events->first_winding ? &winding[-1] : NULL;
    ActionEvent event = {.turn = cursor->turn, .kind = ACTION_STAND, .sequence = CHANGES_FOLLOW};
    cursor->next++;
    cursor->turn = cursor->next < events->end_winding ? cursor->turn + winding->turns : NO_EVENT;
    if (before && same_group(before->pieces, winding->pieces))
        return;
    if (before)
        add_changes(events, &event, before->pieces, winding);
    event.kind = ACTION_TAKE_UP;
    add_changes(events, &event, winding->pieces, before);
}

static void add_look(ActionEvents *events, uint64_t turn, ActionKind kind)
{
    add_event(events, &(ActionEvent){.turn = turn, .kind = kind});
}

/* To the end of the next item that has turns. */
static void seek_item(ActionEvents *events)
{
    const PlannedLayer *layer = events->layer;
    EventCursor *cursor = &events->cursors[FROM_ITEMS];
    while (cursor->next < layer->item_count && !layer->items[cursor->next].turns)
        cursor->next++;
    cursor->turn = cursor->next < layer->item_count ? cursor->turn + layer->items[cursor->next].turns : NO_EVENT;
}

/* An item is packed when it is done. */
static void find_item(ActionEvents *events)
{
    EventCursor *cursor = &events->cursors[FROM_ITEMS];
    cursor->next++;
    add_look(events, cursor->turn, ACTION_PACK);
    seek_item(events);
}

/* Every so many turns, counted from the layer's first, and not at its end. */
static void seek_every(ActionEvents *events, EventSource source, double turns)
{
    EventCursor *cursor = &events->cursors[source];
    bool more = !isnan(turns) && cursor->turn + (uint64_t)turns < events->layer->turns;
    cursor->turn = more ? cursor->turn + (uint64_t)turns : NO_EVENT;
}

/* A crosswrap's two end bands lie far apart: each is packed for itself, and when it is done. */
static void seek_packing_of_bands(ActionEvents *events)
{
    EventCursor *cursor = &events->cursors[FROM_PACKING];
    uint64_t every = (uint64_t)events->bench->pack;
    if (cursor->next < events->wraps.count && cursor->turn == events->wraps.items[cursor->next].end_turn)
        cursor->next++;
    if (cursor->next == events->wraps.count) {
        cursor->turn = NO_EVENT;
        return;
    }
    uint64_t end = events->wraps.items[cursor->next].end_turn;
    cursor->turn = cursor->turn + every < end ? cursor->turn + every : end;
}

static void seek_packing(ActionEvents *events)
{
    if (events->layer->crosswrap)
        seek_packing_of_bands(events);
    else
        seek_every(events, FROM_PACKING, events->bench->pack);
}

/* None where a width is measured, or something ends and is packed for itself, within a few turns. */
static void find_packing(ActionEvents *events)
{
    uint64_t turn = events->cursors[FROM_PACKING].turn, item = events->cursors[FROM_ITEMS].turn,
             measured = events->cursors[FROM_MEASURING].turn, next = item < measured ? item : measured;
    seek_packing(events);
    bool comes_anyway = next > turn && next - turn <= events->few;
    if (!comes_anyway)
        add_event(events, &(ActionEvent){.turn = turn, .kind = ACTION_PACK, .regular = true});
}

void events_packed(ActionEvents *events, uint64_t turn)
{
    EventCursor *cursor = &events->cursors[FROM_PACKING];
    if (cursor->turn == NO_EVENT || cursor->turn <= turn)
        return;
    cursor->turn = turn;
    seek_packing(events);
}

void events_look_no_more(ActionEvents *events)
{
    events->cursors[FROM_PACKING].turn = events->cursors[FROM_MEASURING].turn = NO_EVENT;
}

static void seek_measuring(ActionEvents *events)
{
    bool more = measurings_next(&events->measurings);
    events->cursors[FROM_MEASURING].turn =
        more ? before_hand_pass(&events->passes, events->measurings.turn) : NO_EVENT;
}

static void find_measuring(ActionEvents *events)
{
    add_look(events, events->cursors[FROM_MEASURING].turn, ACTION_MEASURE);
    seek_measuring(events);
}

/* Turns of the layer when they have come half way up the place's foot; NO_EVENT if they never do. */
static uint64_t turns_to_tape(const PlannedPlace *place, const PlannedLayer *layer)
{
    double middle = (place->foot_tip + place->foot_end) / 2;
    uint64_t turn = 0;
    for (uint32_t r = 0; layer->layer->over && r < layer->run_count; r++) {
        const Run *run = &layer->runs[r];
        if ((run->end - middle) * place->direction >= 0) {
            double share = run->end == run->start ? 0 : fmax(0, (middle - run->start) / (run->end - run->start));
            return turn + (uint64_t)(share * run->turns);
        }
        turn += run->turns;
    }
    return NO_EVENT;
}

const PlannedLayer *layer_that_meets_tape(const PlannedPlace *place)
{
    for (uint32_t l = 0; place->foot >= 0 && l < place->layer_count; l++)
        if (turns_to_tape(place, &place->layers[l]) != NO_EVENT)
            return &place->layers[l];
    return NULL;
}

/* Before a piece is laid in, if that turn comes between its laying in and its own first turn: its tag and its long
 * end would lie in the way. */
static uint64_t before_laying_in(const ActionEvents *events, uint64_t turn)
{
    const Wrap *wrap = events->wraps.items;
    for (uint32_t i = events->first_piece; i < events->end_piece; i++) {
        const Piece *piece = &events->rod->pieces[i];
        if (piece->spacer || piece->first_turn < turn)
            continue;
        while (wrap->end_turn <= piece->first_turn)
            wrap++;
        PieceEnds ends = piece_ends(events->bench, events->rod, i, wrap);
        if (ends.laid_in && tag_laid_at(events, &ends) < turn)
            return tag_laid_at(events, &ends);
    }
    return turn;
}

/* Tape holds the foot by its inner half: it goes when the first turns have come half way up the foot. Common
 * practice, no source. */
static void find_tape(ActionEvents *events)
{
    if (!events->bench->tape || layer_that_meets_tape(events->place) != events->layer)
        return;
    uint64_t turn = before_hand_pass(&events->passes, turns_to_tape(events->place, events->layer));
    add_look(events, before_laying_in(events, turn), ACTION_TAKE_TAPE);
}

void events_start(ActionEvents *events)
{
    events->wraps = layer_wraps(events->arena, events->layer);
    events->passes = find_hand_passes(events->arena, events->bench, events->rod, events->layer, events->wraps,
                                      (uint32_t[]){events->first_piece, events->end_piece},
                                      (uint32_t[]){events->first_winding, events->end_winding});
    events->cursors[FROM_LOADING].next = events->cursors[FROM_PIECES].next = events->first_piece;
    events->cursors[FROM_CHANGES].next = events->first_winding;
    if (events->first_winding == events->end_winding)
        events->cursors[FROM_CHANGES].turn = NO_EVENT;
    seek_loading(events);
    seek_piece(events);
    seek_item(events);
    seek_packing(events);
    events->few = few_turns(events->bench);
    events->measurings = measurings_start(events->layer, events->bench);
    seek_measuring(events);
    find_tape(events);
}

/* A source that may give what comes before all that is near; EVENT_SOURCES if there is none. */
static EventSource source_to_ask(const ActionEvents *events)
{
    uint64_t nearest = events->near.count ? events->near.items[0].turn : NO_EVENT - 1;
    EventSource source = 0;
    while (source < EVENT_SOURCES && events->cursors[source].turn > nearest)
        source++;
    return source;
}

const ActionEvent *events_next(ActionEvents *events)
{
    static void (*const find[EVENT_SOURCES])(ActionEvents *) = {
        [FROM_LOADING] = find_loading, [FROM_PIECES] = find_piece,    [FROM_CHANGES] = find_change,
        [FROM_ITEMS] = find_item,      [FROM_PACKING] = find_packing, [FROM_MEASURING] = find_measuring,
    };
    for (EventSource source; (source = source_to_ask(events)) < EVENT_SOURCES;)
        find[source](events);
    return events->near.count ? events->near.items : NULL;
}
