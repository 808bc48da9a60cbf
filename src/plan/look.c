#include "plan/look.h"

#include "base/halfway.h"

/* The run that lies there; NULL if none does. */
static const Run *run_at(const PlannedLayer *layer, int direction, double x)
{
    uint32_t low = 0, high = layer->run_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if ((layer->runs[middle].end - x) * direction <= 0)
            low = middle + 1;
        else
            high = middle;
    }
    bool begun = low < layer->run_count && (layer->runs[low].start - x) * direction <= 0;
    return begun ? &layer->runs[low] : NULL;
}

/* Each thread hides its share of every turn; what none hides is the ground. */
Light strands_over(const Strands *strands, Light ground)
{
    Light look = {0, 0, 0};
    for (uint32_t i = 0; i < strands->count; i++) {
        const Thread *thread = strands->items[i].thread;
        double opacity = strands->items[i].spacer ? 0 : thread->opacity, share = thread->pitch / strands->pitch;
        Light one = light_over(light_of(thread->colour), opacity, ground);
        look.red += share * one.red;
        look.green += share * one.green;
        look.blue += share * one.blue;
    }
    return look;
}

static uint32_t bare_colour(const Rod *rod, double x)
{
    for (uint32_t i = rod->part_count; i-- > 0;)
        if (rod->parts[i].wrapped && rod->parts[i].coloured && x >= rod->parts[i].start && x <= rod->parts[i].end)
            return rod->parts[i].colour;
    return rod->section_count > 1 ? rod->sections[section_at(rod, x)].blank->colour : rod->blank->colour;
}

Light look_at(const Rod *rod, const PlannedPlace *place, uint32_t layers, double x)
{
    Light look =
        place->host ? look_at(rod, place->host, place->host->layer_count, x) : light_of(bare_colour(rod, x));
    for (uint32_t i = 0; i < layers; i++) {
        const Run *run = run_at(&place->layers[i], place->direction, x);
        if (run && run->strands)
            look = strands_over(run->strands, look);
    }
    return look;
}
