/* Areas with straight and curved edges, in any number of parts that are painted as one. Points in page mm. */
#ifndef TURNLAY_DRAW_AREA_H
#define TURNLAY_DRAW_AREA_H

#include "draw/drawing.h"

typedef struct Area {
    Arena *arena;
    LIST_OF(Point) points;
    LIST_OF(unsigned char) traces;
} Area;

void area_start(Area *area, Arena *arena);
/* A part that begins at this point; it closes by itself. */
void area_begin(Area *area, Point point);
void area_line(Area *area, Point to);
/* What has been gathered becomes the shape's, and the area is empty again. */
void area_take(Area *area, Shape *shape);
/* Room for so many traces and their points at once, to be set by the caller. */
Point *area_parts(Area *area, const unsigned char *traces, uint32_t trace_count, uint32_t point_count);
void area_curve(Area *area, Point handle, Point handle_before, Point to);

#endif
