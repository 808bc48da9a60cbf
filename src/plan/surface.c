/* The thickness that layers add, as steps along the way they are worked. */
#include "plan/layout.h"

/* With the strands of a crosswrap, which run below its end bands. */
static double run_thickness(const PlannedLayer *layer, const Run *run)
{
    double below = layer->crosswrap ? layer->crosswrap->thickness : 0;
    return below + (run->strands ? run->strands->thickness : 0);
}

void layer_surface(Layout *layout)
{
    PlannedLayer *layer = layout->layer;
    uint32_t count = 0;
    for (uint32_t i = 0; i < layer->run_count; i++)
        count += i == 0 || run_thickness(layer, &layer->runs[i]) != run_thickness(layer, &layer->runs[i - 1]);
    layer->surface = arena_take_many(layout->arena, count + 1, sizeof *layer->surface);
    double thickness = 0;
    for (uint32_t i = 0; i < layer->run_count; i++) {
        if (run_thickness(layer, &layer->runs[i]) == thickness)
            continue;
        thickness = run_thickness(layer, &layer->runs[i]);
        layer->surface[layer->surface_count++] = (ThicknessStep){layer->runs[i].start, thickness};
    }
    if (thickness > 0)
        layer->surface[layer->surface_count++] = (ThicknessStep){layer->end, 0};
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
    double below = 0, added = 0, thickness = 0;
    for (uint32_t a = 0, b = 0; a < profile->count || b < count;) {
        bool has_a = a < profile->count, has_b = b < count;
        double next_a = has_a ? direction * profile->steps[a].start : 0;
        double next_b = has_b ? direction * steps[b].start : 0;
        double next = has_a && (!has_b || next_a <= next_b) ? next_a : next_b;
        if (has_a && next_a <= next)
            below = profile->steps[a++].thickness;
        if (has_b && next_b <= next)
            added = steps[b++].thickness;
        if (below + added != thickness) {
            thickness = below + added;
            sum->steps[sum->count++] = (ThicknessStep){direction * next, thickness};
        }
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
    for (uint32_t i = 0; i < count; i++)
        turned[i] =
            (ThicknessStep){steps[count - 1 - i].start, i + 1 < count ? steps[count - 2 - i].thickness : 0};
    add_steps(layout, profile, turned, count);
}
