#include "draw/rod/rod_page.h"

/* A picture of no other size has so many pixels: those of CSS (W3C, CSS Values and Units Level 3, 2024,
 * section 6.2). */
#define PIXELS_A_MM (96 / 25.4)

RodPage rod_page_make(Canvas *canvas, bool presentation, double pixels)
{
    double width = canvas->drawing->width;
    RodPage page = {.canvas = canvas,
                    .presentation = presentation,
                    .left = EDGE * canvas->type,
                    .room = width - 2 * EDGE * canvas->type,
                    .exact = pixels > 0,
                    .pixel = pixels > 0 ? width / pixels : 1 / PIXELS_A_MM};
    const Rod *rod = canvas->rod->rod;
    if (rod->blank) {
        bool one = canvas->section != ALL_SECTIONS && rod->section_count > 1;
        page.low = one ? rod->sections[canvas->section].start : blank_butt(rod->blank);
        page.high = one ? rod->sections[canvas->section].end : blank_tip(rod->blank);
    }
    page.views = arena_take_many(canvas->arena, canvas->rod->place_count, sizeof *page.views);
    for (uint32_t i = 0; rod->blank && i < canvas->rod->place_count;) {
        PlaceView view = place_view_of(canvas, i);
        i += view.count;
        if (is_shown(canvas, view.places))
            page.views[page.view_count++] = view;
    }
    return page;
}
