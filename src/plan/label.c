#include "plan/plan.h"

#include "trade/trade.h"

bool stands_round(const PlannedRod *rod)
{
    for (uint32_t i = 0; i < rod->place_count; i++)
        if (rod->places[i].place->angle != 0)
            return true;
    return false;
}

const char *place_mark(Arena *arena, const Job *job, const Rod *rod, const PlannedPlace *place)
{
    const Place *written = place->place;
    bool from_tip = written->from_tip && rod->blank;
    double mark = from_tip ? blank_tip(rod->blank) - written->mark : written->mark;
    const char *where = show_quantity(arena, job->bench.units, QUANTITY_PLACE, mark);
    const char *end = from_tip ? "tip" : "butt";
    if (written->angle == 0)
        return text_format(arena, "%s from the %s", where, end);
    return text_format(arena, "%s from the %s at %s deg", where, end,
                       show_number(arena, clock_degrees(written->angle), 2));
}

const char *place_label(Arena *arena, const Job *job, const Rod *rod, const PlannedPlace *place)
{
    const Place *written = place->place;
    const char *where = place_mark(arena, job, rod, place);
    if (!written->guide)
        return text_format(arena, "%s, toward the %s", where, toward_tip(place->direction) ? "tip" : "butt");
    const char *name = written->guide->name->bytes;
    if (written->guide->foot_count < 2)
        return text_format(arena, "%s at %s", name, where);
    return text_format(arena, "%s at %s, %s-side foot", name, where,
                       toward_tip(place->direction) ? "butt" : "tip");
}

const char *layer_label(const PlannedPlace *place, uint32_t layer)
{
    if (place->layers[layer].crosswrap)
        return crosswrap_word(place->layers[layer].crosswrap);
    if (!place->layers[layer].layer->over)
        return "underwrap";
    return place->layer_count == 1 ? "wrap" : "overwrap";
}
