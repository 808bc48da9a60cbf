/* The thickness that layers add, as steps along the way they are worked. */
#include "plan/layout.h"

#include <math.h>

/* With the strands of a crosswrap, which run below its end bands. */
static double run_thickness(const PlannedLayer *layer, const Run *run)
{
    double below = layer->crosswrap ? layer->crosswrap->thickness : 0;
    return below + (run->strands ? run->strands->thickness : 0);
}

static double run_sure(const PlannedLayer *layer, const Run *run)
{
    double below = layer->crosswrap ? crosswrap_thickness_sure(layer->crosswrap) : 0;
    return below + (run->strands ? thickness_sure(run->strands) : 0);
}

/* The one that is as thick goes on. */
static void go_on_as_thick(ThicknessStep *step, double sure) { step->sure = fmax(step->sure, sure); }

void layer_surface(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    uint32_t count = 0;
    for (uint32_t i = 0; i < layer->run_count; i++)
        count += i == 0 || run_thickness(layer, &layer->runs[i]) != run_thickness(layer, &layer->runs[i - 1]);
    layer->surface = arena_take_many(layout->arena, count + 1, sizeof *layer->surface);
    double thickness = 0;
    for (uint32_t i = 0; i < layer->run_count; i++) {
        double sure = run_sure(layer, &layer->runs[i]);
        if (run_thickness(layer, &layer->runs[i]) == thickness) {
            if (layer->surface_count)
                go_on_as_thick(&layer->surface[layer->surface_count - 1], sure);
            continue;
        }
        thickness = run_thickness(layer, &layer->runs[i]);
        layer->surface[layer->surface_count++] = (ThicknessStep){layer->runs[i].start, thickness, sure};
    }
    if (thickness > 0)
        layer->surface[layer->surface_count++] = (ThicknessStep){layer->end, 0, 0};
}

static void make_room(Arena *arena, Profile *profile, uint32_t count)
{
    if (count <= profile->room)
        return;
    profile->room = count < profile->room * 2 ? profile->room * 2 : count;
    profile->steps = arena_take_many(arena, profile->room, sizeof *profile->steps);
}

/* One pass over both; sums are taken anew at each step, so nothing drifts. */
static void add_steps(Layout *layout, Profile *profile, const ThicknessStep *steps, uint32_t count)
{
    Profile *sum = &layout->spare;
    int direction = layout->place->direction;
    make_room(layout->scratch, sum, profile->count + count);
    sum->count = 0;
    ThicknessStep below = {0}, added = {0};
    double thickness = 0;
    for (uint32_t a = 0, b = 0; a < profile->count || b < count;) {
        bool has_a = a < profile->count, has_b = b < count;
        double next_a = has_a ? direction * profile->steps[a].start : 0;
        double next_b = has_b ? direction * steps[b].start : 0;
        double next = has_a && (!has_b || next_a <= next_b) ? next_a : next_b;
        if (has_a && next_a <= next)
            below = profile->steps[a++];
        if (has_b && next_b <= next)
            added = steps[b++];
        double sure = below.sure + added.sure;
        if (below.thickness + added.thickness != thickness) {
            thickness = below.thickness + added.thickness;
            sum->steps[sum->count++] = (ThicknessStep){direction * next, thickness, sure};
        } else if (sum->count)
            go_on_as_thick(&sum->steps[sum->count - 1], sure);
    }
    Profile old = *profile;
    *profile = *sum;
    *sum = old;
}

void profile_add(Layout *layout, Profile *profile)
{
    add_steps(layout, profile, layout->layer->surface, layout->layer->surface_count);
}

/* Met the other way round, a step begins where the one before it ended. */
void profile_add_other(Layout *layout, Profile *profile, const PlannedLayer *layer, int direction)
{
    uint32_t count = layer->surface_count;
    const ThicknessStep *steps = layer->surface;
    if (direction == layout->place->direction || !count) {
        add_steps(layout, profile, steps, count);
        return;
    }
    ThicknessStep *turned = arena_take_many(layout->scratch, count, sizeof *turned);
    for (uint32_t i = 0; i < count; i++) {
        turned[i] = i + 1 < count ? steps[count - 2 - i] : (ThicknessStep){0};
        turned[i].start = steps[count - 1 - i].start;
    }
    add_steps(layout, profile, turned, count);
}
