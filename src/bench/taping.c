/* What is taped, and when the tape comes off, so that two hands suffice. A finger holds what is laid only where a
 * pedal drives the spindle and the blank has a brake, and then as long as nothing but winding is done; at all
 * other times it is taped. */
#include "bench/layer_work.h"

bool is_cut_piece(const LayerWork *work, uint32_t piece)
{
    const Piece *planned = &work->rod->pieces[piece];
    return planned->cut_turn == work->turn ? work->was_cut == piece : is_cut_at(planned, work->turn);
}

static bool is_running(const LayerWork *work, uint32_t piece)
{
    return piece - work->running < work->running_count && piece >= work->running;
}

static bool is_named(uint32_t each, uint32_t piece, uint32_t count)
{
    return piece != NO_PIECE && each >= piece && each - piece < count;
}

/* --- lines --- */

/* Turns until the line is needed again. */
static uint32_t clear_of_line(const LayerWork *work, uint32_t piece)
{
    uint64_t again = winds_again(&work->events.passes, piece, work->turn);
    return again == NO_EVENT ? 0 : (uint32_t)(again - work->turn);
}

static void tape_line(LayerWork *work, uint32_t piece, uint32_t count)
{
    Action *action = put_action(work, ACTION_TAPE_DOWN, piece, count);
    action->thing = THING_LINE;
    action->turns = clear_of_line(work, piece);
    for (uint32_t i = 0; i < work->lines.count; i++)
        if (is_named(work->lines.items[i].piece, piece, count))
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
        tape_line(work, work->running, work->running_count);
    else
        tape_line(work, piece, 1);
}

/* Cut pieces that run together are in one hand, as long as none of them is cut off. */
static void free_lines(LayerWork *work, uint32_t piece, uint32_t count, unsigned things)
{
    bool one_hand = things & ITS_LINE && !(things & ITS_END) && piece != NO_PIECE && is_running(work, piece);
    for (uint32_t i = 0; i < work->lines.count; i++) {
        const LineAtWork line = work->lines.items[i];
        if (!asks_for_a_hand(work, &line))
            continue;
        bool named = things & ITS_LINE && is_named(line.piece, piece, count);
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
    Action *action = put_action(work, ACTION_TAPE_DOWN, under.piece, 1);
    action->thing = under.thing;
    action->turns = under.behind ? CLEAR_OF_ALL : (uint32_t)(until - work->turn);
    if (under.off_at != NO_EVENT)
        add_event(&work->events, &(ActionEvent){.turn = until,
                                                .kind = ACTION_UNTAPE,
                                                .piece = under.piece,
                                                .piece_count = 1,
                                                .thing = under.thing});
}

void thing_is_gone(LayerWork *work, uint32_t piece, HeldThing thing)
{
    uint32_t kept = 0;
    for (uint32_t i = 0; i < work->fingers.count; i++)
        if (work->fingers.items[i].piece != piece || work->fingers.items[i].thing != thing)
            work->fingers.items[kept++] = work->fingers.items[i];
    work->fingers.count = kept;
}

static void free_fingers(LayerWork *work, uint32_t piece, uint32_t count, unsigned things)
{
    uint32_t kept = 0, fingers = work->fingers.count;
    for (uint32_t i = 0; i < fingers; i++) {
        UnderFinger under = work->fingers.items[i];
        if (under.held_at <= work->turn)
            continue;
        if (is_named(under.piece, piece, count) && things >> under.thing & 1)
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

void free_hands(LayerWork *work, uint32_t hands, uint32_t piece, uint32_t count, unsigned things)
{
    if (hands < MOST_HANDS)
        return;
    free_fingers(work, piece, count, things);
    free_lines(work, piece, count, things);
}

void put_down(LayerWork *work)
{
    free_fingers(work, NO_PIECE, 0, 0);
    for (uint32_t i = 0; i < work->lines.count; i++)
        if (!work->lines.items[i].taped && is_cut_piece(work, work->lines.items[i].piece))
            tape_line(work, work->lines.items[i].piece, 1);
}

static void lies_under_finger(LayerWork *work, UnderFinger under)
{
    if (under.held_at > work->bound_at)
        work->bound_at = under.held_at;
    *LIST_ADD(work->events.arena, &work->fingers) = under;
    if (!may_use_finger(work) || (under.thing == THING_TAG && under.behind))
        free_fingers(work, NO_PIECE, 0, 0);
}

void piece_comes(LayerWork *work, const ActionEvent *event)
{
    bool laid_in = event->kind == ACTION_LAY_IN;
    uint64_t bind = (uint64_t)work->making->bench->bind;
    lies_under_finger(work, (UnderFinger){.piece = event->piece,
                                          .thing = THING_TAG,
                                          .held_at = laid_in ? event->off_at : work->turn + bind,
                                          .off_at = event->off_at,
                                          .behind = laid_in});
    *LIST_ADD(work->events.arena, &work->lines) = (LineAtWork){event->piece, false};
    if (laid_in && asks_for_a_hand(work, &work->lines.items[work->lines.count - 1]))
        tape_line(work, event->piece, 1);
}

void thing_is_laid(LayerWork *work, const ActionEvent *event, HeldThing thing)
{
    const Bench *bench = work->making->bench;
    double turns = thing == THING_LOOP && bench->loop < bench->bind ? bench->loop : bench->bind;
    lies_under_finger(work, (UnderFinger){.piece = event->piece,
                                          .thing = thing,
                                          .held_at = work->turn + (uint64_t)turns,
                                          .off_at = event->off_at,
                                          .behind = thing == THING_LOOP});
}

/* --- pieces that stand, wind and end --- */

void lines_stand(LayerWork *work, uint32_t piece, uint32_t count)
{
    for (uint32_t i = 0; i < work->lines.count; i++) {
        const LineAtWork line = work->lines.items[i];
        if (!is_named(line.piece, piece, count) || !asks_for_a_hand(work, &line))
            continue;
        free_hands(work, MOST_HANDS, piece, count, ITS_LINE);
        tape_line(work, piece, count);
        return;
    }
}

static bool any_taped(const LayerWork *work, uint32_t piece, uint32_t count)
{
    for (uint32_t i = 0; i < work->lines.count; i++)
        if (work->lines.items[i].taped && is_named(work->lines.items[i].piece, piece, count))
            return true;
    return false;
}

void lines_come_off(LayerWork *work, uint32_t piece, uint32_t count)
{
    if (!any_taped(work, piece, count))
        return;
    free_hands(work, MOST_HANDS, NO_PIECE, 0, 0);
    for (uint32_t i = 0; i < work->lines.count; i++) {
        LineAtWork *line = &work->lines.items[i];
        if (!line->taped || !is_named(line->piece, piece, count))
            continue;
        uint32_t first = line->piece, taped = 0;
        for (; i < work->lines.count && work->lines.items[i].taped && work->lines.items[i].piece == first + taped
               && first + taped - piece < count;
             i++, taped++)
            work->lines.items[i].taped = false;
        i--;
        put_action(work, ACTION_UNTAPE, first, taped)->thing = THING_LINE;
    }
}

void ready_to_wind(LayerWork *work, uint32_t hands)
{
    free_hands(work, hands, work->running, work->running_count, ITS_LINE);
    lines_come_off(work, work->running, work->running_count);
}
