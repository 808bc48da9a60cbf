#include "check/rules.h"

#include "plan/plan_sums.h"

/* T406: a piece that has to be passed by hand must not be longer than the hand can manage. */

/* What bench { hand: } takes at the most, less a step of rounding, mm: meaning/bench_table.h; common practice, no
 * source. */
#define MOST_HAND 99980.0

static void say_too_long(const Check *check, const Piece *piece, Case place)
{
    UnitSystem units = check->bench->units;
    double length = length_in_hand(piece);
    Finding *finding = finding_add(check->findings, FINDING_PIECE_TOO_LONG, place.span,
                                   "the cut piece of %s is too long to wrap by hand", piece->thread->name->bytes);
    finding->times = place.times;
    Rounding rounding = rounding_of_thread(units);
    finding_label(check->findings, finding, "%s long, for %s; you can wrap %s by hand",
                  show_thread_length(check->findings->words, units, rounded(length, rounding)),
                  show_turns(check->findings->words, (double)piece->turns),
                  show_thread_length(check->findings->words, units, rounded_down(check->bench->hand, rounding)));
    if (length > MOST_HAND) {
        finding_mend(check->findings, finding, "wind fewer turns with it, or go on from a spool");
        return;
    }
    const char *hand = source_thread_above(check, check->bench->value_spans[BENCH_HAND], length);
    finding_mend(check->findings, finding,
                 "wind fewer turns with it; or, if you can manage that length, write `hand: %s` in bench { }",
                 hand);
    edit_bench(check, finding, BENCH_HAND, hand);
}

void check_pieces(const Check *check)
{
    Cases cases = {0};
    for (uint32_t i = 0; i < check->layer_count; i++) {
        const LayerView *view = &check->layers[i];
        for (uint32_t j = 0; j < view->piece_count; j++) {
            const Piece *piece = view->pieces[j];
            if (length_in_hand(piece) > check->bench->hand)
                cases_add(check->arena, &cases, piece->span, length_in_hand(piece), i, j);
        }
    }
    cases_keep_worst(&cases);
    for (uint32_t i = 0; i < cases.list.count; i++) {
        Case place = cases.list.items[i];
        say_too_long(check, check->layers[place.view].pieces[place.detail], place);
    }
}
