/* Numbers for mends. */
#include "plan/layout.h"

#include <math.h>

static LengthWriting writing_at(const Layout *layout, Span span, Quantity quantity)
{
    const Job *job = layout->job;
    size_t length;
    const char *text = source_at(job->sources, span, &length);
    return written_as(text, length, source_writing(job->bench.units, quantity));
}

LengthWriting hand_writing(const Layout *layout, Span span)
{
    return writing_by_hand(writing_at(layout, span, QUANTITY_PLACE));
}

LengthWriting width_writing(const Layout *layout, Span span) { return writing_at(layout, span, QUANTITY_WIDTH); }

LengthWriting diameter_writing(const Layout *layout, Span span)
{
    return writing_at(layout, span, QUANTITY_DIAMETER);
}

double round_up_mm(LengthWriting writing, double mm)
{
    double step = writing_step(writing);
    return ceil((mm - LAYOUT_SLACK / 2) / step) * step;
}

double round_down_mm(LengthWriting writing, double mm)
{
    double step = writing_step(writing);
    return floor((mm + LAYOUT_SLACK / 2) / step) * step;
}

/* What the plan knows so far of where other places lie: layers laid, rooms, feet. */
static bool known_extent(const PlannedPlace *place, double *low, double *high)
{
    bool known = place_reach(place, low, high);
    if (isnan(place->length))
        return known;
    double end = place->start + place->direction * place->length;
    *low = fmin(known ? *low : end, fmin(place->start, end));
    *high = fmax(known ? *high : end, fmax(place->start, end));
    return true;
}

static bool lies_free(const Layout *layout, const Place *place, double low, double high)
{
    const Blank *blank = layout->rod->rod->blank;
    if (low < blank_butt(blank) - LAYOUT_SLACK || high > blank_tip(blank) + LAYOUT_SLACK
        || !isnan(joint_between(layout->rod->rod, low, high)))
        return false;
    if (part_in_the_way(layout->rod->rod, low, high))
        return false;
    for (uint32_t i = 0; i < layout->rod->place_count; i++) {
        const PlannedPlace *other = &layout->rod->places[i];
        double other_low, other_high;
        if (other->place != place && known_extent(other, &other_low, &other_high)
            && low < other_high - LAYOUT_SLACK && other_low < high - LAYOUT_SLACK)
            return false;
    }
    return true;
}

/* One of several copies, made by a loop, a series or a pattern that several rods call: a change of its text would
 * change them all. */
bool is_copy(const Layout *layout, const Place *place)
{
    for (uint32_t r = 0; r < layout->job->rod_count; r++) {
        const Rod *rod = &layout->job->rods[r];
        for (uint32_t i = 0; i < rod->place_count; i++)
            if (&rod->places[i] != place
                && (same_span(rod->places[i].mark_span, place->mark_span)
                    || (place->length_written && same_span(rod->places[i].length_span, place->length_span))))
                return true;
    }
    return false;
}

bool can_move(const Layout *layout, const Place *place, double by)
{
    if (is_copy(layout, place) || place->until_span.end) /* moved, it would have another length */
        return false;
    for (uint32_t i = 0; i < layout->rod->place_count; i++) {
        const PlannedPlace *part = &layout->rod->places[i];
        double low, high;
        bool known = part->place == place && known_extent(part, &low, &high);
        if (known && !lies_free(layout, place, low + by, high + by))
            return false;
    }
    return true;
}

bool can_lengthen(const Layout *layout, double length)
{
    const PlannedPlace *place = layout->place;
    double end = place->start + place->direction * length;
    return !place->place->until_span.end && !is_copy(layout, place->place)
           && lies_free(layout, place->place, fmin(place->start, end), fmax(place->start, end));
}

const char *moved_mark(const Layout *layout, const Place *place, double *by)
{
    LengthWriting writing = hand_writing(layout, place->mark_span);
    const Blank *blank = layout->rod->rod->blank;
    double mark = place->mark + *by;
    double written = place->from_tip ? blank_tip(blank) - mark : mark;
    bool up = (*by > 0) != place->from_tip;
    written = up ? round_up_mm(writing, written) : round_down_mm(writing, written);
    if (written < 0)
        return NULL;
    *by = (place->from_tip ? blank_tip(blank) - written : written) - place->mark;
    return write_length(layout->findings->words, writing, written);
}

static bool may_change(const Item *item)
{
    return item->kind == ITEM_BAND && !item->inlay_count
           && (item->extent.kind == EXTENT_TURNS || item->extent.kind == EXTENT_LENGTH);
}

const Item *shorter_band(const Layout *layout, double by, double *turns)
{
    const Layer *layer = layout->layer->layer;
    double sizeable = layout->job->bench.bind + layout->job->bench.final;
    const Item *best = NULL;
    for (uint32_t i = layer->item_count; i-- > 0;) {
        if (!may_change(&layer->items[i]))
            continue;
        double left =
            layout->measures[i].turns - ceil((by - LAYOUT_SLACK / 2) / item_pitch(layout, &layer->items[i]));
        if (left < 1 || (best && left <= *turns))
            continue;
        best = &layer->items[i];
        *turns = left;
        if (left >= sizeable)
            break;
    }
    return best;
}

const Item *longer_band(const Layout *layout, double least, double most, double *turns)
{
    const Layer *layer = layout->layer->layer;
    for (uint32_t i = layer->item_count; i-- > 0;) {
        const Item *item = &layer->items[i];
        if (!may_change(item))
            continue;
        uint32_t copies = 0;
        for (uint32_t j = 0; j < layer->item_count; j++)
            copies += same_span(layer->items[j].extent.span, item->extent.span);
        double more = ceil((least - LAYOUT_SLACK / 2) / (copies * item_pitch(layout, item)));
        if (more * copies * item_pitch(layout, item) > most + LAYOUT_SLACK / 2)
            return NULL;
        *turns = layout->measures[i].turns + more;
        return item;
    }
    return NULL;
}
