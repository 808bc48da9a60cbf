#include "draw/area.h"

void area_start(Area *area, Arena *arena) { *area = (Area){.arena = arena}; }

static void add(Area *area, Trace trace, const Point *points, int count)
{
    *LIST_ADD(area->arena, &area->traces) = (unsigned char)trace;
    for (int i = 0; i < count; i++)
        *LIST_ADD(area->arena, &area->points) = points[i];
}

void area_begin(Area *area, Point point) { add(area, TRACE_BEGIN, &point, 1); }

void area_line(Area *area, Point to)
{
    Point last = area->points.items[area->points.count - 1];
    if (last.x != to.x || last.y != to.y)
        add(area, TRACE_LINE, &to, 1);
}

void area_curve(Area *area, Point handle, Point handle_before, Point to)
{
    add(area, TRACE_CURVE, (Point[]){handle, handle_before, to}, 3);
}
