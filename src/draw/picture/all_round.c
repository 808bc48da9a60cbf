#include "draw/picture/all_round.h"

#include "draw/crosswrap/variegated.h"
#include "draw/picture/place_view.h"
#include "trade/trade.h"

#include <math.h>

/* Points of a part at least: nothing is drawn that would be too much. */
#define POINTS_OF_A_PART 4

static bool has_fade(const PlannedPlace *place)
{
    for (uint32_t l = 0; l < place->layer_count; l++)
        for (uint32_t i = 0; i < place->layers[l].layer->item_count; i++)
            if (place->layers[l].layer->items[i].kind == ITEM_FADE)
                return true;
    return false;
}

static bool is_turned(const Canvas *canvas, const PlaceView *view)
{
    bool turned = false;
    for (uint32_t i = 0; i < view->count; i++)
        turned |= has_crosswrap(&view->places[i]) || has_fade(&view->places[i]);
    return turned && is_shown(canvas, view->places);
}

static double parts_of(const PlaceView *view)
{
    double parts = 0;
    for (uint32_t i = 0; i < view->count; i++)
        parts += place_parts(&view->places[i]);
    return parts;
}

static uint32_t points_of(const Drawing *drawing)
{
    uint32_t points = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        points += drawing->shapes.items[i].point_count;
    for (uint32_t i = 0; i < drawing->clips.count; i++)
        points += drawing->clips.items[i]->outline.point_count;
    return points;
}

static void take_outline(AllRound *round, Arena *arena, const Frame *frame, const Outline *skin)
{
    round->outline = arena_take_many(arena, skin->count, sizeof *round->outline);
    round->outline_count = skin->count;
    for (uint32_t i = 0; i < skin->count; i++)
        round->outline[i] = (Point){frame_x(frame, skin->edges[i].x), skin->edges[i].down * frame->scale};
}

static void draw_one(Canvas *canvas, AllRound *round, const PlaceView *view)
{
    Surface surface;
    surface_start(&surface, canvas->arena, canvas->rod->surface, view->places[0].host, view->places, view->count,
                  view->low, view->high);
    OutlineCut all = {view->places, view->count, UINT32_MAX, 0, false, 0};
    Outline skin = surface_outline(canvas->arena, &surface, &all, view->low, view->high, 0);
    PartsSeen parts = parts_seen(canvas, view);
    Frame frame = {0, view->low, 0, canvas->scale, canvas->scale * TRADE_PI, view->facing / 360, 0.5};
    frame.axis = fmax(outline_half(&skin) * TRADE_PI, parts.radius) * canvas->scale;
    draw_wrapped(canvas, &frame, view, &surface, &parts);
    frame.across = canvas->scale;
    frame.shown = 0.25;
    draw_light(canvas, &frame, view, &surface);
    canvas->view = VIEW_SIDE;
    draw_parts_above(canvas, &frame, view, &parts);
    canvas->view = VIEW_UNROLLED;
    canvas->drawing->width = (view->high - view->low) * canvas->scale;
    canvas->drawing->height = 2 * frame.axis;
    round->drawing = canvas->drawing;
    round->axis = frame.axis;
    round->facing = view->facing;
    take_outline(round, canvas->arena, &frame, &skin);
}

AllRounds draw_all_round(Arena *arena, const Plan *plan, uint32_t rod, uint32_t section, double scale,
                         uint32_t most_points, uint32_t most_in_all)
{
    Canvas canvas = canvas_start(arena, plan, &plan->rods[rod], section, VIEW_UNROLLED, scale, NAN);
    AllRounds rounds = {arena_take_many(arena, canvas.rod->place_count, sizeof *rounds.items), 0, 0};
    canvas.backdrop = true;
    if (!canvas.rod->rod->blank)
        return rounds;
    colours_start(&canvas);
    for (uint32_t p = 0, next; p < canvas.rod->place_count; p = next) {
        PlaceView view = place_view_of(&canvas, p);
        next = p + view.count;
        if (!is_turned(&canvas, &view))
            continue;
        AllRound *round = &rounds.items[rounds.count++];
        *round = (AllRound){.place = p, .guide = view.places[0].foot >= 0};
        uint32_t most = most_in_all - rounds.points < most_points ? most_in_all - rounds.points : most_points;
        if (parts_of(&view) * POINTS_OF_A_PART > most)
            continue;
        canvas.drawing = arena_take(arena, sizeof *canvas.drawing);
        canvas.drawing->title = place_label(arena, plan->job, canvas.rod->rod, view.places);
        canvas.drawing->description = "";
        draw_one(&canvas, round, &view);
        uint32_t points = points_of(round->drawing) + round->outline_count;
        if (points > most)
            round->drawing = NULL;
        else
            rounds.points += points;
    }
    return rounds;
}
