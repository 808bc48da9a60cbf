#include "plan/layout.h"

#include "base/limits.h"

#include <math.h>

/* What lies on the blank at a place of which so many layers are wound. */
static void profile_again(Layout *layout, uint32_t layers)
{
    layout->under.count = layout->over.count = 0;
    lie_on_host(layout);
    for (uint32_t l = 0; l < layers; l++) {
        layout->layer = &layout->place->layers[l];
        if (layout->layer->laid)
            profile_add(layout, layout->layer->layer->over ? &layout->over : &layout->under);
    }
}

static void lay_stage(Layout *layout, Stage stage)
{
    PlannedPlace *place = layout->place = &layout->rod->places[stage.place];
    if (stage.first_layer == 0)
        find_host(layout);
    profile_again(layout, stage.first_layer);
    for (uint32_t l = stage.first_layer; l < stage.end_layer; l++) {
        layout->layer = &place->layers[l];
        lay_layer(layout, place->layers[l].layer);
        if (layout->layer->laid && l + 1 < place->layer_count)
            profile_add(layout, layout->layer->layer->over ? &layout->over : &layout->under);
    }
    if (stage.end_layer == place->layer_count && has_crosswrap(place))
        *LIST_ADD(layout->scratch, &layout->hosts) = stage.place;
}

/* The rod's layers, none of them laid. */
static void take_layers(Layout *layout)
{
    for (uint32_t p = 0; p < layout->rod->place_count; p++) {
        PlannedPlace *place = &layout->rod->places[p];
        const Layer **layers = layers_from_below(layout, place, &place->layer_count);
        place->layers = arena_take_many(layout->arena, place->layer_count, sizeof *place->layers);
        for (uint32_t l = 0; l < place->layer_count; l++)
            place->layers[l].layer = layers[l];
    }
}

/* Thickness times way that a layer adds, mm2. */
static double added_area(const PlannedLayer *layer)
{
    Sum area = {0};
    for (uint32_t i = 0; i + 1 < layer->surface_count; i++)
        sum_add(&area, layer->surface[i].thickness * fabs(layer->surface[i + 1].start - layer->surface[i].start));
    return sum_value(&area);
}

/* From the first to the last turn of the place: all coats together, one on top of the other. Their volume is
 * linear in the diameter, so the mean diameter there, layers and all, gives it exactly. */
static double place_finish(const Blank *blank, const PlannedPlace *place, const Bench *bench)
{
    double low = INFINITY, high = -INFINITY, added = 0;
    for (uint32_t l = 0; l < place->layer_count; l++) {
        const PlannedLayer *layer = &place->layers[l];
        if (!layer->laid || !layer->turns)
            continue;
        low = fmin(low, fmin(layer->start, layer->end));
        high = fmax(high, fmax(layer->start, layer->end));
        added += added_area(layer);
    }
    if (!(high > low))
        return 0;
    double mean = (blank_integral(blank, low, high) + 2 * added) / (high - low);
    return coat_volume(mean, bench->coat * bench->coats, high - low);
}

static void lay_rod(Layout *layout, const Rod *rod)
{
    Plan *plan = layout->plan;
    layout->rod->rod = rod;
    rod_part_ends(layout);
    rod_surface(layout);
    plan_places(layout);
    take_layers(layout);
    plan_stages(layout);
    layout->hosts.count = 0;
    for (uint32_t s = 0; s < layout->rod->stage_count; s++)
        lay_stage(layout, layout->rod->stages[s]);
    Sum finish = {0};
    for (uint32_t p = 0; p < layout->rod->place_count; p++) {
        const PlannedPlace *place = &layout->rod->places[p];
        for (uint32_t l = 0; l < place->layer_count; l++)
            plan->turns += place->layers[l].turns;
        if (rod->blank)
            sum_add(&finish, place_finish(layout->rod->surface, place, &layout->job->bench));
    }
    if (rod->blank) {
        check_reach(layout);
        check_parts(layout);
    }
    plan_pieces(layout);
    plan->finish_volume += sum_value(&finish);
}

static bool thread_is_known(const Job *job, const Thread *thread)
{
    for (uint32_t i = 0; i < job->known.count; i++)
        if (job->known.threads[i] == thread)
            return true;
    return false;
}

static void keep_learned(Layout *layout)
{
    Plan *plan = layout->plan;
    LIST_OF(Learned) learned = {0};
    for (uint32_t i = 0; i < layout->job->thread_count; i++) {
        const Thread *thread = layout->job->threads[i];
        if (thread_is_taught(layout->learning, thread))
            *LIST_ADD(layout->arena, &learned) =
                (Learned){.thread = thread,
                          .turn = thread_turn(layout->learning, thread),
                          .uncertainty = turn_uncertainty(layout->learning, thread),
                          .here = thread_is_read(layout->learning, thread),
                          .earlier = thread_is_known(layout->job, thread)};
    }
    plan->learned = learned.items;
    plan->learned_count = learned.count;
}

Plan *plan_make(Arena *arena, const Job *job, Findings *findings)
{
    Plan *plan = arena_take(arena, sizeof *plan);
    plan->job = job;
    plan->rod_count = job->rod_count;
    plan->rods = arena_take_many(arena, job->rod_count, sizeof *plan->rods);
    Layout *layout = arena_take(arena, sizeof *layout);
    *layout = (Layout){.arena = arena,
                       .scratch = arena_child(arena),
                       .making = arena_child(arena),
                       .job = job,
                       .findings = findings,
                       .plan = plan,
                       .turns_left = LIMIT_TURNS,
                       .runs_left = LIMIT_RUNS,
                       .reckoning_left = LIMIT_STEPS,
                       .passes_left = LIMIT_PASSES,
                       .crossings_left = LIMIT_CROSSINGS,
                       .chosen = job->chosen ? job->chosen : chosen_fades_start(arena)};
    plan->chosen = layout->chosen;
    layout->learning = learning_start(layout->scratch, job);
    layout->anything_read = anything_read(job);
    thread_widths_start(&layout->widths, layout->scratch, job);
    thread_widths_start(&layout->item_widths, layout->scratch, job);
    for (uint32_t r = 0; r < job->rod_count; r++) {
        layout->rod = &plan->rods[r];
        uint32_t told = findings->list.count;
        lay_rod(layout, &job->rods[r]);
        tell_which_rod(findings, told, &job->rods[r]);
    }
    plan_needs(layout);
    keep_learned(layout);
    arena_clear(layout->scratch);
    return plan;
}
