#include "draw/picture/sheen.h"

#include "base/halfway.h"

#include <math.h>

bool has_sheens(const Plan *plan, const Rod *rod)
{
    bool found = rod->blank && rod->blank->sheen != SHEEN_GLOSS;
    for (uint32_t i = 0; i < rod->section_count && !found; i++)
        found = rod->sections[i].blank->sheen != SHEEN_GLOSS;
    for (uint32_t i = 0; i < rod->part_count && !found; i++)
        found = rod->parts[i].sheen != SHEEN_GLOSS;
    for (uint32_t i = 0; i < plan->job->thread_count && !found; i++)
        found = plan->job->threads[i]->sheen != SHEEN_GLOSS;
    return found;
}

static Sheen sheen_of_run(const Strands *strands)
{
    int sheen = -1;
    for (uint32_t i = 0; i < strands->count; i++) {
        Sheen one = strands->items[i].thread->sheen;
        if (strands->items[i].spacer)
            continue;
        if (sheen >= 0 && sheen != (int)one)
            return SHEEN_GLOSS;
        sheen = (int)one;
    }
    return sheen < 0 ? SHEEN_GLOSS : (Sheen)sheen;
}

static Sheen sheen_of_field(const PlannedCrosswrap *planned)
{
    for (uint32_t i = 0; i < planned->strand_count; i++)
        if (!planned->strands[i].spacer && planned->strands[i].thread->sheen != SHEEN_MATT)
            return SHEEN_GLOSS;
    return SHEEN_MATT;
}

/* What is being looked for: the sheen at x, and the next place toward the tip where something else may begin. */
typedef struct OnTop {
    double x, end;
    bool found;
    Sheen sheen;
} OnTop;

/* The number of a layer's runs, counted from the butt, that end before x or there. */
static uint32_t runs_passed(const PlannedLayer *layer, int direction, double x)
{
    uint32_t low = 0, high = layer->run_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        const Run *run = &layer->runs[direction > 0 ? middle : layer->run_count - 1 - middle];
        if (fmax(run->start, run->end) <= x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static void look_at_layer(OnTop *look, const PlannedLayer *layer, int direction)
{
    uint32_t passed = runs_passed(layer, direction, look->x);
    if (passed == layer->run_count)
        return;
    const Run *run = &layer->runs[direction > 0 ? passed : layer->run_count - 1 - passed];
    double low = fmin(run->start, run->end), high = fmax(run->start, run->end);
    bool here = low <= look->x;
    look->end = fmin(look->end, here ? high : low);
    if (!here || look->found || !(run->strands || layer->crosswrap))
        return;
    look->found = true;
    look->sheen = run->strands ? sheen_of_run(run->strands) : sheen_of_field(layer->crosswrap);
}

static void look_at_place(OnTop *look, const PlannedPlace *place)
{
    for (uint32_t i = place->layer_count; i-- > 0;)
        look_at_layer(look, &place->layers[i], place->direction);
    if (place->host)
        look_at_place(look, place->host);
}

static void look_between(OnTop *look, double start, double end, Sheen sheen)
{
    if (look->x >= end)
        return;
    bool here = start <= look->x;
    look->end = fmin(look->end, here ? end : start);
    if (here && !look->found) {
        look->found = true;
        look->sheen = sheen;
    }
}

static void look_at_rod(OnTop *look, const Rod *rod)
{
    for (uint32_t i = rod->part_count; i-- > 0;)
        if (rod->parts[i].wrapped)
            look_between(look, rod->parts[i].start, rod->parts[i].end, rod->parts[i].sheen);
    for (uint32_t i = 0; rod->section_count > 1 && i < rod->section_count; i++)
        look_between(look, rod->sections[i].start, rod->sections[i].end, rod->sections[i].blank->sheen);
    look->sheen = look->found ? look->sheen : rod->blank->sheen;
}

SheenStretch sheen_from(const Canvas *canvas, const PlannedPlace *places, uint32_t count, double from, double to)
{
    SheenStretch stretch = {SHEEN_GLOSS, from};
    if (!canvas->sheens)
        return (SheenStretch){SHEEN_GLOSS, to};
    for (bool first = true; stretch.end < to; first = false) {
        OnTop look = {.x = stretch.end, .end = to, .sheen = SHEEN_GLOSS};
        for (uint32_t i = 0; i < count; i++)
            look_at_place(&look, &places[i]);
        look_at_rod(&look, canvas->rod->rod);
        if (!first && look.sheen != stretch.sheen)
            break;
        stretch = (SheenStretch){look.sheen, look.end};
    }
    return stretch;
}

bool glints(const Canvas *canvas, const Thread *thread)
{
    return thread->sheen == SHEEN_METALLIC && canvas->view != VIEW_UNROLLED && !canvas->tint;
}

void draw_glint(Canvas *canvas)
{
    uint32_t count = canvas->drawing->shapes.count;
    draw_area(canvas, NO_COLOUR, NO_COLOUR, 0);
    if (canvas->drawing->shapes.count > count)
        canvas->drawing->shapes.items[count].shade = SHADE_GLINT;
}
