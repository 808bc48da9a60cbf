#include "draw/rod/far_strip.h"

#include "draw/eye/strip.h"
#include "trade/eye.h"

/* On the page at true scale: by eye. */
#define STRIP_HEIGHT 2.4
#define STRIP_CLEAR 1.4

static bool layer_fades(const PlannedLayer *layer)
{
    for (uint32_t i = 0; i < layer->run_count; i++)
        if (run_fades(&layer->runs[i]))
            return true;
    return false;
}

double far_strip_height(const RodPage *page, const PlaceView *view)
{
    for (uint32_t p = 0; p < view->count && !has_crosswrap(view->places); p++)
        for (uint32_t l = 0; l < view->places[p].layer_count; l++)
            if (layer_fades(&view->places[p].layers[l]))
                return (STRIP_HEIGHT + STRIP_CLEAR) * page->canvas->type;
    return 0;
}

void draw_far_strip(RodPage *page, const PlaceView *view, const Frame *frame, double high, double y)
{
    Canvas *canvas = page->canvas;
    const Bench *bench = &canvas->plan->job->bench;
    if (far_strip_height(page, view) == 0)
        return;
    LightProfile profile =
        profile_of_places(canvas->arena, canvas->rod->rod, view->places, view->count, frame->low, high, false);
    Strip strip = {.profile = &profile,
                   .blur = eye_blur(bench->sight, bench->far),
                   .least = page->pixel / frame->scale,
                   .low = frame->low,
                   .high = high,
                   .top = y + STRIP_CLEAR * canvas->type,
                   .height = STRIP_HEIGHT * canvas->type};
    draw_strip(canvas, frame, &strip);
}
