/* Groups of shapes, and their ids, which come from what they show. */
#include "draw/canvas.h"

#include <string.h>

/* Numbers go into a hash byte by byte, lowest first, so that every machine gives the same id. */
uint64_t hash_number(uint64_t hash, uint64_t number)
{
    unsigned char bytes[8];
    for (int i = 0; i < 8; i++)
        bytes[i] = (unsigned char)(number >> (8 * i));
    return hash_bytes(hash, bytes, sizeof bytes);
}

uint64_t hash_string(uint64_t hash, const char *text) { return hash_bytes(hash, text, strlen(text) + 1); }

/* The id, or where it is taken (a place written twice, or chance) the next that is free. Never 0. */
static uint64_t unique_id(Ids *ids, uint64_t id)
{
    for (;; id = hash_number(id, 1)) {
        uint64_t slot = id & ids->mask;
        while (ids->slots[slot] && ids->slots[slot] != id)
            slot = (slot + 1) & ids->mask;
        if (id && !ids->slots[slot]) {
            ids->slots[slot] = id;
            return id;
        }
    }
}

Shape *group_start(Canvas *canvas, const PlannedPlace *place, uint32_t layer, uint32_t run, Span span,
                   uint64_t content)
{
    const char *title = take_words(canvas);
    if (canvas->backdrop)
        return arena_take(canvas->arena, sizeof(Shape));
    Shape *shape = LIST_ADD(canvas->arena, &canvas->drawing->shapes);
    *shape = (Shape){.kind = SHAPE_GROUP_START,
                     .fill = NO_COLOUR,
                     .stroke = NO_COLOUR,
                     .text = title,
                     .id = unique_id(&canvas->ids, content),
                     .span = span,
                     .place = (uint32_t)(place - canvas->rod->places),
                     .layer = layer,
                     .run = run};
    return shape;
}

void group_end(Canvas *canvas)
{
    if (canvas->backdrop)
        return;
    *LIST_ADD(canvas->arena, &canvas->drawing->shapes) =
        (Shape){.kind = SHAPE_GROUP_END, .fill = NO_COLOUR, .stroke = NO_COLOUR};
}
