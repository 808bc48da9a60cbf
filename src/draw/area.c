#include "draw/area.h"

#include <string.h>

void area_start(Area *area, Arena *arena) { *area = (Area){.arena = arena}; }

/* What has been taken out before stays where it is, in the room before; only what is being gathered moves. */
static void *more_room(Arena *arena, const void *items, uint32_t count, uint32_t room, size_t size)
{
    void *more = arena_take_many(arena, room, size);
    if (count)
        memcpy(more, items, count * size);
    return more;
}

static void make_room(Area *area, uint32_t traces, uint32_t points)
{
    enum { LEAST_ROOM = 1024 };
    if (area->traces.room - area->traces.count < traces) {
        area->traces.room = (area->traces.count + traces) * 2 + LEAST_ROOM;
        area->traces.items = more_room(area->arena, area->traces.items, area->traces.count, area->traces.room, 1);
    }
    if (area->points.room - area->points.count < points) {
        area->points.room = (area->points.count + points) * 2 + LEAST_ROOM;
        area->points.items = more_room(area->arena, area->points.items, area->points.count, area->points.room,
                                       sizeof *area->points.items);
    }
}

void area_take(Area *area, Shape *shape)
{
    shape->points = area->points.items;
    shape->point_count = area->points.count;
    shape->traces = area->traces.items;
    shape->trace_count = area->traces.count;
    area->points.items += area->points.count;
    area->points.room -= area->points.count;
    area->traces.items += area->traces.count;
    area->traces.room -= area->traces.count;
    area->points.count = area->traces.count = 0;
}

Point *area_parts(Area *area, const unsigned char *traces, uint32_t trace_count, uint32_t point_count)
{
    make_room(area, trace_count, point_count);
    Point *points = area->points.items + area->points.count;
    memcpy(area->traces.items + area->traces.count, traces, trace_count);
    area->traces.count += trace_count;
    area->points.count += point_count;
    return points;
}

static void add(Area *area, Trace trace, const Point *points, uint32_t count)
{
    memcpy(area_parts(area, (unsigned char[]){(unsigned char)trace}, 1, count), points, count * sizeof *points);
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
