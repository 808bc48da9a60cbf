#include "plan/plan.h"

const char *place_mark(Arena *arena, const Job *job, const Rod *rod, const PlannedPlace *place)
{
    const Place *written = place->place;
    bool from_tip = written->from_tip && rod->blank;
    double mark = from_tip ? blank_tip(rod->blank) - written->mark : written->mark;
    return text_format(arena, "%s from the %s", show_quantity(arena, job->bench.units, QUANTITY_PLACE, mark),
                       from_tip ? "tip" : "butt");
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
