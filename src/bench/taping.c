/* What is taped, and when the tape comes off, so that two hands suffice. A finger holds what is laid only where a
 * pedal drives the spindle and the blank has a brake, and then as long as nothing but winding is done; at all
 * other times it is taped. */
#include "bench/layer_work.h"

bool is_cut_piece(const LayerWork *work, uint32_t piece)
{
    const Piece *planned = &work->rod->pieces[piece];
    return planned->cut_turn == work->turn ? work->was_cut == piece : is_cut_at(planned, work->turn);
}

static bool is_running(const LayerWork *work, uint32_t piece) { return group_has(work->running, piece); }

/* --- lines --- */

/* Turns until one of the lines is needed again; 0 if none is. What winds no more is cut before the next turn. */
static uint32_t clear_of_lines(const LayerWork *work, PieceGroup pieces)
{
    uint64_t first = NO_EVENT;
    for (uint32_t i = 0; i < pieces.count; i++) {
        uint32_t piece = group_piece(pieces, i);
        if (work->rod->pieces[piece].end_turn <= work->turn)
            continue;
        uint64_t again = winds_again(&work->events.passes, piece, work->turn);
        first = again < first ? again : first;
    }
    return first == NO_EVENT ? 0 : (uint32_t)(first - work->turn);
}

static void tape_line(LayerWork *work, PieceGroup pieces)
{
    Action *action = put_action(work, ACTION_TAPE_DOWN, pieces);
    action->thing = THING_LINE;
    action->turns = clear_of_lines(work, pieces);
    for (uint32_t i = 0; i < work->lines.count; i++)
        if (group_has(pieces, work->lines.items[i].piece))
            work->lines.items[i].taped = true;
}

/* A cut piece that runs is in a hand; without a brake a spool asks for one that holds the blank. */
static bool asks_for_a_hand(const LayerWork *work, const LineAtWork *line)
{
    return !line->taped && (is_cut_piece(work, line->piece) || !work->making->bench->brake);
}

/* What runs together is taped together: one spool would pull while the other is taped. */
static void tape_with_its_like(LayerWork *work, uint32_t piece)
{
    bool together = is_running(work, piece);
    for (uint32_t i = 0; together && i < work->lines.count; i++)
        together = !is_running(work, work->lines.items[i].piece) || asks_for_a_hand(work, &work->lines.items[i]);
    if (together)
        tape_line(work, work->running);
    else
        tape_line(work, one_piece(piece));
}

/* Cut pieces that run together are in one hand, as long as none of them is cut off. */
static void free_lines(LayerWork *work, PieceGroup pieces, unsigned things)
{
    bool one_hand = things & ITS_LINE && !(things & ITS_END) && pieces.count && is_running(work, pieces.first);
    for (uint32_t i = 0; i < work->lines.count; i++) {
        const LineAtWork line = work->lines.items[i];
        if (!asks_for_a_hand(work, &line))
            continue;
        bool named = things & ITS_LINE && group_has(pieces, line.piece);
        bool with_it = one_hand && is_running(work, line.piece) && is_cut_piece(work, line.piece);
        if (!named && !with_it)
            tape_with_its_like(work, line.piece);
    }
}

void line_is_gone(LayerWork *work, uint32_t piece)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < work->lines.count; i++)
        if (work->lines.items[i].piece != piece)
            work->lines.items[kept++] = work->lines.items[i];
    work->lines.count = kept;
}

/* --- what lies --- */

/* What no turns hold in time is a spacer's: its tape comes off with it. */
static void tape_thing(LayerWork *work, UnderFinger under)
{
    uint64_t until = under.off_at == NO_EVENT ? wrap_end(work) : under.off_at;
    Action *action = put_action(work, ACTION_TAPE_DOWN, one_piece(under.piece));
    action->thing = under.thing;
    action->turns = under.behind ? CLEAR_OF_ALL : (uint32_t)(until - work->turn);
    if (under.off_at == NO_EVENT)
        return;
    if (under.thing == THING_LOOP || work->rod->pieces[under.piece].spacer)
        add_event(&work->events, &(ActionEvent){.turn = until,
                                                .kind = ACTION_UNTAPE,
                                                .pieces = one_piece(under.piece),
                                                .thing = under.thing});
    else
        *LIST_ADD(work->events.arena, &work->taped) = under;
}

void comes_untaped(LayerWork *work, uint32_t piece, HeldThing thing)
{
    uint32_t kept = 0, taped = work->taped.count;
    for (uint32_t i = 0; i < taped; i++)
        if (work->taped.items[i].piece != piece || work->taped.items[i].thing != thing)
            work->taped.items[kept++] = work->taped.items[i];
    work->taped.count = kept;
    if (kept == taped)
        return;
    free_hands(work, MOST_HANDS, one_piece(piece), 1u << thing);
    put_action(work, ACTION_UNTAPE, one_piece(piece))->thing = thing;
}

static void free_fingers(LayerWork *work, PieceGroup pieces, unsigned things)
{
    uint32_t kept = 0, fingers = work->fingers.count;
    for (uint32_t i = 0; i < fingers; i++) {
        UnderFinger under = work->fingers.items[i];
        if (under.held_at <= work->turn)
            continue;
        if (group_has(pieces, under.piece) && things >> under.thing & 1)
            work->fingers.items[kept++] = under;
        else
            tape_thing(work, under);
    }
    work->fingers.count = kept;
}

/* Where a finger may stay through winding. */
static bool may_use_finger(const LayerWork *work)
{
    return work->making->bench->brake && work->making->bench->drive == DRIVE_PEDAL;
}

void free_hands(LayerWork *work, uint32_t hands, PieceGroup pieces, unsigned things)
{
    if (hands < MOST_HANDS)
        return;
    free_fingers(work, pieces, things);
    free_lines(work, pieces, things);
}

/* One hand holds the bobbin that runs, as it holds a spool. */
static bool stays_in_hand(const LayerWork *work, uint32_t piece)
{
    return work->rod->pieces[piece].bobbin && is_running(work, piece);
}

void put_down(LayerWork *work)
{
    free_fingers(work, NO_PIECES, 0);
    for (uint32_t i = 0; i < work->lines.count; i++) {
        uint32_t piece = work->lines.items[i].piece;
        if (!work->lines.items[i].taped && is_cut_piece(work, piece) && !stays_in_hand(work, piece))
            tape_line(work, one_piece(piece));
    }
}

static void lies_under_finger(LayerWork *work, UnderFinger under)
{
    if (under.held_at > work->bound_at)
        work->bound_at = under.held_at;
    *LIST_ADD(work->events.arena, &work->fingers) = under;
    if (!may_use_finger(work) || (under.thing == THING_TAG && under.behind))
        free_fingers(work, NO_PIECES, 0);
}

void piece_comes(LayerWork *work, const ActionEvent *event)
{
    bool laid_in = event->kind == ACTION_LAY_IN;
    uint64_t bind = (uint64_t)work->making->bench->bind;
    lies_under_finger(work, (UnderFinger){.piece = event->pieces.first,
                                          .thing = THING_TAG,
                                          .held_at = laid_in ? event->off_at : work->turn + bind,
                                          .off_at = event->off_at,
                                          .behind = laid_in});
    *LIST_ADD(work->events.arena, &work->lines) = (LineAtWork){event->pieces.first, false};
    if (laid_in && asks_for_a_hand(work, &work->lines.items[work->lines.count - 1]))
        tape_line(work, event->pieces);
}

void thing_is_laid(LayerWork *work, const ActionEvent *event, HeldThing thing)
{
    const Bench *bench = work->making->bench;
    double turns = thing == THING_LOOP && bench->loop < bench->bind ? bench->loop : bench->bind;
    lies_under_finger(work, (UnderFinger){.piece = event->pieces.first,
                                          .thing = thing,
                                          .held_at = work->turn + (uint64_t)turns,
                                          .off_at = event->off_at,
                                          .behind = thing == THING_LOOP});
}

/* --- pieces that stand, wind and end --- */

void lines_stand(LayerWork *work, PieceGroup pieces)
{
    for (uint32_t i = 0; i < work->lines.count; i++) {
        const LineAtWork line = work->lines.items[i];
        if (!group_has(pieces, line.piece) || !asks_for_a_hand(work, &line))
            continue;
        free_hands(work, MOST_HANDS, pieces, ITS_LINE);
        tape_line(work, pieces);
        return;
    }
}

/* The line of this piece, where it is taped; else NULL. */
static LineAtWork *taped_line(LayerWork *work, uint32_t piece)
{
    for (uint32_t i = 0; i < work->lines.count; i++)
        if (work->lines.items[i].taped && work->lines.items[i].piece == piece)
            return &work->lines.items[i];
    return NULL;
}

static bool any_taped(LayerWork *work, PieceGroup pieces)
{
    for (uint32_t i = 0; i < pieces.count; i++)
        if (taped_line(work, group_piece(pieces, i)))
            return true;
    return false;
}

/* Those that follow one another are taken off together. */
void lines_come_off(LayerWork *work, PieceGroup pieces)
{
    if (!any_taped(work, pieces))
        return;
    free_hands(work, MOST_HANDS, NO_PIECES, 0);
    for (uint32_t i = 0; i < pieces.count; i++) {
        uint32_t first = i;
        for (LineAtWork *line; i < pieces.count && (line = taped_line(work, group_piece(pieces, i))); i++)
            line->taped = false;
        if (i > first)
            put_action(work, ACTION_UNTAPE, part_of_group(pieces, first, i - first))->thing = THING_LINE;
    }
}

void ready_to_wind(LayerWork *work, uint32_t hands)
{
    free_hands(work, hands, work->running, ITS_LINE);
    lines_come_off(work, work->running);
}
