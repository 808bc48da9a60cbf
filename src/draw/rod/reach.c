#include "draw/rod/reach.h"

#include <math.h>

/* More than a ring's frame is thick: its reach may end so far beside it. mm. */
#define BESIDE 1.0

/* Without frames and rings. */
static Reach wraps_reach(const RodPage *page, const PlaceView *view)
{
    const Blank *blank = page->canvas->rod->surface;
    double thickness = 0;
    for (uint32_t p = 0; p < view->count; p++) {
        double here = 0;
        for (uint32_t l = 0; l < view->places[p].layer_count; l++)
            for (uint32_t s = 0; s < view->places[p].layers[l].surface_count; s++)
                here = fmax(here, view->places[p].layers[l].surface[s].thickness);
        thickness = fmax(thickness, here * view->places[p].layer_count);
    }
    double radius = fmax(blank_diameter(blank, view->inner_low), blank_diameter(blank, view->inner_high)) / 2;
    Reach reach = {view->inner_low, view->inner_high, radius + thickness, radius + thickness};
    if (view->places[0].foot >= 0)
        reach.up += view->places[0].place->guide->height;
    return reach;
}

Reach view_reach(const RodPage *page, const PlaceView *view, double facing)
{
    Reach reach = wraps_reach(page, view);
    if (view->places[0].foot < 0)
        return reach;
    Reach guide = guide_reach(page->canvas, view->places, facing);
    return (Reach){fmin(reach.low, guide.low), fmax(reach.high, guide.high), fmax(reach.up, guide.up),
                   fmax(reach.down, guide.down)};
}

double middle_rise(const RodPage *page, const PlaceView *view, double facing)
{
    Reach reach = wraps_reach(page, view);
    double middle = (view->inner_low + view->inner_high) / 2;
    if (view->places[0].foot < 0)
        return reach.up;
    Reach guide = guide_reach(page->canvas, view->places, facing);
    bool beside = middle < guide.low - BESIDE || middle > guide.high + BESIDE;
    return beside ? reach.up : fmax(reach.up, guide.up);
}
