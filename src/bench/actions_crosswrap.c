/* A crosswrap's actions: set out, hold the ends, wind pass by pass, look at the first ones, take spacers off. Its
 * end bands are wound after that as any other band; sealing and cutting free come last. */
#include "bench/making.h"

#include "trade/trade.h"

#include <math.h>

/* Strands after which the bundle is pushed together, and how many have to be left: behind the last it is done in
 * any case. Common practice, no source. */
enum { PACKED_STRANDS = 10, LEFT_STRANDS = 5 };

/* One crosswrap at work. */
typedef struct CrosswrapWork {
    Making *making;
    const PlannedRod *rod;
    const PlannedCrosswrap *planned;
    uint32_t place, layer;
    double start, end; /* of the layer, in working order */
    Span span;         /* of the whole crosswrap */
} CrosswrapWork;

static Action *step_of(const CrosswrapWork *work, ActionKind kind, Span span)
{
    return make_action(work->making, kind, work->place, work->layer, span);
}

static double clock_of(const CrosswrapWork *work, uint32_t pass, Leg leg, double x)
{
    const PlannedCrosswrap *planned = work->planned;
    double across = planned->strands[pass_strand(planned, pass)].middle;
    return clock_degrees(crosswrap_turn(planned, pass_start(planned, pass), leg, across, x));
}

/* Whether the piece goes on behind this leg, and by how many degrees round the blank to its next one. */
static double way_on(const CrosswrapWork *work, const Piece *piece, uint32_t pass, Leg leg)
{
    const PlannedCrosswrap *planned = work->planned;
    if (leg == LEG_OUT)
        return planned->passes[pass].dwell;
    return pass + 1 < piece->first_pass + piece->pass_count ? planned->passes[pass + 1].dwell_before : 0;
}

static void write_leg(const CrosswrapWork *work, uint32_t piece, uint32_t pass, Leg leg)
{
    const PlannedCrosswrap *planned = work->planned;
    const BundleStrand *strand = &planned->strands[pass_strand(planned, pass)];
    double from = leg == LEG_OUT ? work->start : work->end, to = leg == LEG_OUT ? work->end : work->start;
    uint32_t start = pass_start(planned, pass), families = crosswrap_families(planned);
    Action *action = step_of(work, ACTION_LEG, strand->span);
    action->piece = piece;
    action->piece_count = 1;
    action->position = to;
    action->length = planned->passes[pass].length[leg];
    action->leg =
        (LegAction){.pass = pass,
                    .leg = leg,
                    .from = from,
                    .to = to,
                    .from_clock = clock_of(work, pass, leg, from),
                    .to_clock = clock_of(work, pass, leg, to),
                    .turns = fabs(crosswrap_turn(planned, start, leg, strand->middle, to)
                                  - crosswrap_turn(planned, start, leg, strand->middle, from)),
                    .dwell = leg_count(planned) == 1 ? 0 : way_on(work, &work->rod->pieces[piece], pass, leg),
                    .marks = families ? families * planned->crossings - 1 : 0,
                    .side = strand->side,
                    .neighbour = strand->side ? strand->neighbour * planned->starts + start : NO_PASS};
}

static void write_tie(const CrosswrapWork *work, ActionKind kind, uint32_t piece, uint32_t pass, Leg leg, double x)
{
    Action *action = step_of(work, kind, work->rod->pieces[piece].span);
    action->piece = piece;
    action->piece_count = 1;
    action->position = x;
    action->leg = (LegAction){.pass = pass, .leg = leg, .from = x, .to = x, .neighbour = NO_PASS};
    action->leg.from_clock = action->leg.to_clock = clock_of(work, pass, leg, x);
}

/* What is due when so many passes lie. */
static void look_and_pack(const CrosswrapWork *work, uint32_t laid)
{
    const PlannedCrosswrap *planned = work->planned;
    if (laid == planned->starts)
        step_of(work, ACTION_SYMMETRY, work->span);
    if (laid % planned->starts)
        return;
    uint32_t strands = laid / planned->starts, left = planned->strand_count - strands;
    if (left == 0 || (strands % PACKED_STRANDS == 0 && left >= LEFT_STRANDS))
        step_of(work, ACTION_PACK, work->span);
}

static void write_piece(const CrosswrapWork *work, uint32_t index)
{
    const Piece *piece = &work->rod->pieces[index];
    uint32_t legs = leg_count(work->planned), last = piece->first_pass + piece->pass_count - 1;
    write_tie(work, ACTION_TIE_ON, index, piece->first_pass, LEG_OUT, work->start);
    for (uint32_t pass = piece->first_pass; pass <= last; pass++) {
        for (uint32_t leg = 0; leg < legs; leg++)
            write_leg(work, index, pass, (Leg)leg);
        if (pass == last)
            write_tie(work, ACTION_TIE_OFF, index, pass, (Leg)(legs - 1), legs == 1 ? work->end : work->start);
        look_and_pack(work, pass + 1);
    }
}

void write_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer, uint32_t *piece)
{
    const PlannedCrosswrap *planned = rod->places[place].layers[layer].crosswrap;
    bool out_is_up = toward_tip(planned->direction);
    CrosswrapWork work = {.making = making,
                          .rod = rod,
                          .planned = planned,
                          .place = place,
                          .layer = layer,
                          .start = out_is_up ? planned->low : planned->high,
                          .end = out_is_up ? planned->high : planned->low,
                          .span = rod->places[place].layers[layer].layer->items[0].span};
    uint32_t first = *piece;
    step_of(&work, ACTION_SET_OUT, work.span)->position = planned->field_start;
    if (making->bench->ends != HOLD_NONE)
        step_of(&work, ACTION_HOLD_ENDS, work.span)->position = work.start;
    for (; *piece < rod->piece_count && rod->pieces[*piece].place == place && rod->pieces[*piece].layer == layer
           && rod->pieces[*piece].pass_count;
         ++*piece)
        write_piece(&work, *piece);
    for (uint32_t i = first; i < *piece; i++) {
        if (!rod->pieces[i].spacer)
            continue;
        Action *action = step_of(&work, ACTION_UNWIND, rod->pieces[i].span);
        action->piece = i;
        action->piece_count = 1;
    }
}

void finish_crosswrap(Making *making, const PlannedRod *rod, uint32_t place, uint32_t layer)
{
    Span span = rod->places[place].layers[layer].layer->items[0].span;
    make_seal(making, place, layer, span);
    make_action(making, ACTION_TAKE_ENDS, place, layer, span);
}
