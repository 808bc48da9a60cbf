/* A crosswrap in the plan's JSON. */
#include "words/crosswrap_words.h"
#include "plan/plan_sums.h"
#include "emit/plan/plan_crosswrap.h"
#include "trade/trade.h"

#include <math.h>

/* NAN, and so null, for what a spiral has not. */
static double of_two_legs(const PlannedCrosswrap *planned, double value)
{
    return leg_count(planned) > 1 ? value : (double)NAN;
}

static void put_set_out(JsonPage *page, const PlannedPlace *place, const PlannedCrosswrap *planned)
{
    Rounding digits = rounding_of_programs();
    double start = toward_tip(planned->direction) ? planned->low : planned->high;
    page_text(page, "kind", crosswrap_word(planned));
    page_text(page, "sense", sense_word(planned));
    page_whole(page, "starts", planned->starts);
    page_number(page, "crossings", of_two_legs(planned, planned->crossings));
    page_number(page, "spacing_mm", of_two_legs(planned, planned->spacing));
    page_open_flat(page, "field", '{');
    page_number(page, "start_mm", shown_position(place, planned->field_start, digits));
    page_number(page, "end_mm", shown_position(place, planned->field_end, digits));
    page_close(page, '}');
    page_whole(page, "end_turns", planned->end_turns);
    page_number(page, "end_width_mm", shown_width(place, start, planned->field_start, digits));
    page_open_flat(page, "lead_mm", '{');
    page_number(page, "out", planned->lead[LEG_OUT]);
    page_number(page, "back", of_two_legs(planned, planned->lead[LEG_BACK]));
    page_close(page, '}');
}

static void put_lines(JsonPage *page, const PlannedPlace *place, const PlannedCrosswrap *planned)
{
    page_open(page, "lines", '[');
    for (uint32_t line = 0; line < crosswrap_line_count(planned); line++) {
        page_open_flat(page, NULL, '{');
        page_number(page, "clock_deg", clock_degrees(crosswrap_line_turn(planned, line)));
        page_open(page, "marks_mm", '[');
        for (uint32_t mark = 0; mark < crosswrap_mark_count(planned, line); mark++)
            page_number(page, NULL,
                        shown_position(place, crosswrap_mark(planned, line, mark), rounding_of_programs()));
        page_close(page, ']');
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_strand(JsonPage *page, LineMap *lines, const BundleStrand *strand)
{
    page_open_flat(page, NULL, '{');
    page_text(page, "thread", strand->thread->name->bytes);
    page_truth(page, "spacer", strand->spacer);
    page_number(page, "middle_mm", strand->middle);
    page_number(page, "width_mm", strand->width);
    page_text(page, "side", strand->side > 0 ? "up" : strand->side < 0 ? "down" : "first");
    page_number(page, "against", strand->neighbour == NO_STRAND ? (double)NAN : (double)strand->neighbour);
    page_whole(page, "line", line_map_find(lines, strand->span).line);
    page_close(page, '}');
}

static void put_pass(JsonPage *page, const PlannedCrosswrap *planned, uint32_t index)
{
    const Pass *pass = &planned->passes[index];
    page_open_flat(page, NULL, '{');
    page_whole(page, "strand", pass_strand(planned, index));
    page_whole(page, "start", pass_start(planned, index));
    page_number(page, "out_mm", pass->length[LEG_OUT]);
    page_number(page, "back_mm", of_two_legs(planned, pass->length[LEG_BACK]));
    page_number(page, "dwell_deg", pass->dwell);
    page_close(page, '}');
}

static void put_end(JsonPage *page, const PlannedPlace *place, const PlannedCrosswrap *planned, int tip)
{
    Rounding digits = rounding_of_programs();
    const FieldEnd *end = &planned->ends[tip];
    page_open_flat(page, NULL, '{');
    page_text(page, "end", tip ? "tip" : "butt");
    page_number(page, "at_mm", shown_position(place, end->position, digits));
    page_number(page, "diameter_mm", end->diameter);
    page_number(page, "angle_out_deg", degrees(end->angle[LEG_OUT]));
    page_number(page, "angle_back_deg", of_two_legs(planned, degrees(end->angle[LEG_BACK])));
    page_number(page, "room_mm", end->room);
    page_number(page, "left_mm", shown_opening(planned, end, digits));
    page_close(page, '}');
}

void page_crosswrap(JsonPage *page, LineMap *lines, const PlannedPlace *place, const PlannedCrosswrap *planned)
{
    page_open(page, "crosswrap", '{');
    put_set_out(page, place, planned);
    put_lines(page, place, planned);
    page_open(page, "strands", '[');
    for (uint32_t i = 0; i < planned->strand_count; i++)
        put_strand(page, lines, &planned->strands[i]);
    page_close(page, ']');
    page_open(page, "passes", '[');
    for (uint32_t i = 0; i < planned->pass_count; i++)
        put_pass(page, planned, i);
    page_close(page, ']');
    page_open(page, "ends", '[');
    for (int tip = 0; tip < 2; tip++)
        put_end(page, place, planned, tip);
    page_close(page, ']');
    page_number(page, "slippage", planned->slippage);
    page_number(page, "slippage_at_mm", planned->slippage_at);
    page_number(page, "turns", planned->turns);
    page_close(page, '}');
}
