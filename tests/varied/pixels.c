#include "pixels.h"

#include "compilation.h"
#include "draw/drawing.h"
#include "emit/emit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

TurnlayStatus draw_pixels(TurnlayCompilation *made, uint32_t rod, TurnlayView view, double pixels,
                          TurnlayText *page)
{
    Buffer out;
    *page = (TurnlayText){NULL, 0};
    if (rod >= made->plan->rod_count)
        return TURNLAY_WRONG_VALUE;
    if (setjmp(*trap_set(&made->trap)) != 0)
        return TURNLAY_OUT_OF_MEMORY;
    buffer_start(&out, &made->arena);
    emit_svg(&out, draw_in_pixels(&made->arena, made->plan, rod, ALL_SECTIONS,
                                  view == TURNLAY_ROD ? VIEW_ROD : VIEW_PRESENTATION, 1, NAN, pixels, made->eyes));
    page->bytes = malloc(out.length + 1);
    if (page->bytes) {
        memcpy(page->bytes, buffer_string(&out), out.length + 1);
        page->length = out.length;
    }
    trap_clear(&made->trap);
    return page->bytes ? TURNLAY_DONE : TURNLAY_OUT_OF_MEMORY;
}
