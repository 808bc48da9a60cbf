#include "draw/eyes.h"

#include "draw/canvas.h"

/* What the picture says of itself, by Vision; NULL for all cones. */
static const char *const words[VISION_COUNT] = {
    [VISION_PROTANOPIA] = "as seen with protanopia: without the cones for red",
    [VISION_DEUTERANOPIA] = "as seen with deuteranopia: without the cones for green",
    [VISION_TRITANOPIA] = "as seen with tritanopia: without the cones for blue",
};

static uint32_t seen(Vision vision, uint32_t colour)
{
    return colour == NO_COLOUR ? NO_COLOUR : colour_of(light_seen(vision, light_of(colour)));
}

/* In the margin above the title. */
static void add_words(Arena *arena, Drawing *drawing, Vision vision)
{
    *LIST_ADD(arena, &drawing->shapes) = (Shape){.kind = SHAPE_TEXT,
                                                 .at = {drawing->width - MARGIN, MARGIN * 0.6},
                                                 .size = LETTERS_TEXT,
                                                 .align = ALIGN_END,
                                                 .fill = INK,
                                                 .stroke = NO_COLOUR,
                                                 .text = words[vision]};
    drawing->description = text_format(arena, "%s; %s", drawing->description, words[vision]);
}

void drawing_seen(Arena *arena, Drawing *drawing, Vision vision)
{
    if (vision == VISION_ALL_CONES)
        return;
    add_words(arena, drawing, vision);
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        Shape *shape = &drawing->shapes.items[i];
        shape->fill = seen(vision, shape->fill);
        shape->stroke = seen(vision, shape->stroke);
    }
}
