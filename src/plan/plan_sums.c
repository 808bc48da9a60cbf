#include "plan/plan_sums.h"

#include <math.h>

bool any_crosswrap(const Plan *plan)
{
    for (uint32_t r = 0; r < plan->rod_count; r++)
        if (rod_has_crosswrap(&plan->rods[r]))
            return true;
    return false;
}

bool any_bobbin(const Plan *plan)
{
    bool any = false;
    for (uint32_t r = 0; r < plan->rod_count; r++)
        for (uint32_t i = 0; i < plan->rods[r].piece_count; i++)
            any |= plan->rods[r].pieces[i].bobbin;
    return any;
}

double from_datum(const PlannedPlace *place, double x) { return (x - place->start) * place->direction; }
double run_width(const Run *run) { return fabs(run->end - run->start); }
double need_length(const Need *need) { return need->wound + need->ends + need->lost; }

double piece_length(const Piece *piece) { return piece->wound + piece->tags + piece->beneath + piece->free; }

double length_in_hand(const Piece *piece)
{
    if (piece->bobbin)
        return 0;
    return piece->by_hand ? piece_length(piece) : piece->cut_off;
}

double legs_length(const PlannedCrosswrap *planned)
{
    double length = 0;
    for (uint32_t i = 0; i < planned->pass_count; i++)
        length += planned->passes[i].length[LEG_OUT] + planned->passes[i].length[LEG_BACK];
    return length;
}

LegRange leg_range(const PlannedCrosswrap *planned, Leg leg, uint32_t first, uint32_t end)
{
    LegRange range = {planned->passes[first].length[leg], planned->passes[first].length[leg]};
    for (uint32_t i = first + 1; i < end; i++) {
        range.shortest = fmin(range.shortest, planned->passes[i].length[leg]);
        range.longest = fmax(range.longest, planned->passes[i].length[leg]);
    }
    return range;
}

double shown_from_datum(const PlannedPlace *place, double x, Rounding rounding)
{
    return rounded(from_datum(place, x), rounding);
}

double shown_position(const PlannedPlace *place, double x, Rounding rounding)
{
    return rounded(place->start, rounding) + place->direction * shown_from_datum(place, x, rounding);
}

double shown_width(const PlannedPlace *place, double from, double to, Rounding rounding)
{
    return fabs(shown_from_datum(place, to, rounding) - shown_from_datum(place, from, rounding));
}

double shown_items_width(const PlannedPlace *place, const PlannedLayer *layer, uint32_t first, uint32_t count,
                         Rounding rounding)
{
    const PlannedItem *last = &layer->items[first + count - 1];
    uint32_t begin = layer->items[first].first_run, end = last->first_run + last->run_count;
    return begin == end ? 0 : shown_width(place, layer->runs[begin].start, layer->runs[end - 1].end, rounding);
}

double shown_layer_width(const PlannedPlace *place, const PlannedLayer *layer, Rounding rounding)
{
    return shown_width(place, layer->start, layer->end, rounding);
}

double shown_unfilled(const PlannedPlace *place, const PlannedLayer *layer, Rounding rounding)
{
    if (isnan(layer->unfilled))
        return NAN;
    return rounded(layer->length, rounding) - shown_layer_width(place, layer, rounding);
}

double shown_opening(const PlannedCrosswrap *planned, const FieldEnd *end, Rounding rounding)
{
    return rounded(end->room, rounding) - rounded(planned->width, rounding);
}

double shown_piece_length(const Piece *piece, Rounding rounding)
{
    return rounded(piece->wound, rounding) + rounded(piece->tags, rounding) + rounded(piece->beneath, rounding)
           + rounded(piece->free, rounding);
}

double shown_pass_length(const Pass *pass, Rounding rounding)
{
    return rounded(pass->length[LEG_OUT], rounding) + rounded(pass->length[LEG_BACK], rounding);
}

CostInAll cost_in_all(const Plan *plan)
{
    CostInAll all = {.cost = NAN};
    for (uint32_t i = 0; i < plan->total_count; i++) {
        const Supply *supply = &plan->supplies[i];
        bool in_stock = plan->totals[i].thread->stock >= need_length(&plan->totals[i]);
        all.too_long += supply->too_long;
        if (!isnan(supply->cost))
            all.cost = (isnan(all.cost) ? 0 : all.cost) + supply->cost;
        else if (isnan(supply->spools) ? !in_stock : supply->spools > 0)
            all.not_known++;
    }
    return all;
}
