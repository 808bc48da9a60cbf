/* The picture in the view of a place: blank, turns, guide feet, light, and the clock lines of the unrolled
 * surface. */
#include "draw/picture/guide.h"
#include "draw/picture/place_view.h"
#include "draw/picture/sheen.h"
#include "draw/picture/through.h"
#include "trade/trade.h"

#include <math.h>

/* How high the guide's frame is sketched above its foot: mm of the rod, and at most on the page. Common practice,
 * no source: it is that of no guide. */
#define RING_HEIGHT 4.0
#define RING_HIGHEST 9.0

double ring_rise(const Canvas *canvas) { return fmin(RING_HEIGHT * canvas->scale, RING_HIGHEST); }

uint32_t first_over(const PlannedPlace *place)
{
    uint32_t i = 0;
    while (i < place->layer_count && !place->layers[i].layer->over)
        i++;
    return i;
}

static uint32_t frame_colour(const Guide *guide) { return guide->frame == NO_COLOUR ? STEEL : guide->frame; }

static uint32_t ring_colour(const Guide *guide) { return guide->insert == NO_COLOUR ? STEEL : guide->insert; }

/* From above, between two places along the axis: a wedge up to the end of its ramp. */
static void draw_flat_foot(Canvas *canvas, const Frame *frame, const PlannedPlace *place, double low, double high)
{
    const Guide *guide = place->place->guide;
    double middle = fmin(fmax(place->ramp_end, low), high), ramp = place->ramp_end - place->foot_tip;
    bool tipward = place->direction > 0;
    double stops[] = {tipward ? low : high, middle, tipward ? high : low};
    Point points[6];
    for (int i = 0; i < 3; i++) {
        double share = ramp != 0 ? fmin((stops[i] - place->foot_tip) / ramp, 1) : 1;
        double x = frame_x(frame, stops[i]), half = share * guide->width / 2 * canvas->scale;
        points[i] = (Point){x, frame->axis - half};
        points[5 - i] = (Point){x, frame->axis + half};
    }
    bool pointed = points[0].y == points[5].y;
    draw_polygon(canvas, points, pointed ? 5 : 6, frame_colour(guide), SHADE_FLAT);
}

void draw_foot(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place)
{
    const Guide *guide = place->place->guide;
    double low = fmax(fmin(place->foot_tip, place->foot_end), canvas->shown_low);
    double high = fmin(fmax(place->foot_tip, place->foot_end), canvas->shown_high);
    if (low >= high)
        return;
    if (canvas->view == VIEW_UNROLLED) {
        draw_flat_foot(canvas, frame, place, low, high);
        return;
    }
    if (sin(2 * TRADE_PI * canvas->lean) < -1e-9) /* on the far side */
        return;
    OutlineCut cut = {place, 1, first_over(place), 0, true, 0};
    bool tipward = place->direction > 0;
    Outline outline = surface_outline(canvas->arena, surface, &cut, tipward ? low : high, tipward ? high : low, 0);
    for (uint32_t i = 0; i < outline.count; i++) { /* from the blank outward only */
        OutlineEdge edge = outline.edges[i];
        outline.edges[i] = foot_edge(guide, edge.x, edge.down, edge.up - edge.down, canvas->lean);
    }
    draw_outline(canvas, frame, &outline, frame_colour(guide), SHADE_FLAT);
}

/* Where the foot lies below the turns that cover it, unrolled: its edge alone. */
static void draw_foot_edge(Canvas *canvas, const Frame *frame, const PlannedPlace *place)
{
    double half = place->place->guide->width / 2 * canvas->scale, y = frame->axis;
    double tip = frame_x(frame, place->foot_tip), ramp = frame_x(frame, place->ramp_end);
    double end = frame_x(frame, place->foot_end);
    draw_path(canvas, (Point[]){{end, y - half}, {ramp, y - half}, {tip, y}, {ramp, y + half}, {end, y + half}}, 5,
              STEEL_EDGE, PEN);
}

/* The frame between foot and ring, and the ring seen edge on: a sketch, only the ring's place is known. */
static void draw_ring(Canvas *canvas, const Frame *frame, const PlaceView *place_view, double foot_top)
{
    double rise = ring_rise(canvas), base = frame->axis - foot_top * frame->across;
    double ring = frame_x(frame, place_view->places[0].place->mark), half = rise * 0.11;
    for (uint32_t i = 0; i < place_view->count; i++) {
        double end = frame_x(frame, place_view->places[i].foot_end);
        double low = fmin(place_view->places[i].place->guide->height * canvas->scale, rise * 0.4);
        draw_polygon(
            canvas,
            (Point[]){{end, base}, {ring, base - rise * 0.62}, {ring, base - rise * 0.4}, {end, base + low}}, 4,
            frame_colour(place_view->places[i].place->guide), SHADE_FLAT);
    }
    /* Without a gap the ring stands on the foot. */
    double depth = place_view->places[0].place->guide->gap > 0 ? rise * 0.72 : rise;
    draw_rectangle(canvas, ring - half, base - rise, half * 2, depth,
                   ring_colour(place_view->places[0].place->guide), STEEL_EDGE);
    double arrows = base - 0.4 * canvas->type - ARROW_ROW * canvas->type; /* the word stands above these */
    draw_text(canvas, ring, fmin(base - rise - 0.8 * canvas->type, arrows), LETTERS_SMALL * canvas->type,
              ALIGN_MIDDLE, GREY_INK, "ring");
}

void draw_place(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place)
{
    const char *label = canvas->backdrop ? "" : canvas->headings[place - canvas->rod->places].label;
    uint32_t over = first_over(place);
    for (uint32_t i = 0; i <= place->layer_count; i++) {
        if (i == over && place->foot >= 0)
            draw_foot(canvas, frame, surface, place);
        if (i < place->layer_count)
            draw_layer(canvas, frame, surface, place, i, label);
    }
}

/* A line along the blank's finished surface; `part` is 1 at the cut below, -1 at that above. */
static void draw_clock_line(Canvas *canvas, const Frame *frame, const Outline *skin, double part, double left,
                            double right)
{
    Point *points = arena_take_many(canvas->arena, (size_t)skin->count + 2, sizeof *points);
    uint32_t count = 0;
    points[count++] = (Point){left, frame->axis + part * skin->edges[0].down * frame->across};
    for (uint32_t i = 0; i < skin->count; i++)
        points[count++] =
            (Point){frame_x(frame, skin->edges[i].x), frame->axis + part * skin->edges[i].down * frame->across};
    points[count] = (Point){right, points[count - 1].y};
    count++;
    uint32_t kept = 1; /* of points in one line the first and the last */
    for (uint32_t i = 1; i < count; i++) {
        Point before = points[kept - 1], next = i + 1 < count ? points[i + 1] : before;
        double across =
            (points[i].x - before.x) * (next.y - before.y) - (points[i].y - before.y) * (next.x - before.x);
        if (i + 1 == count || fabs(across) > 1e-4)
            points[kept++] = points[i];
    }
    draw_path(canvas, points, kept, GREY_INK, PEN_FINE / 2);
}

/* Beside a line of the unrolled surface: "90", "60 ring", "0 rod's line". */
static const char *clock_name(Canvas *canvas, double turns, bool ring)
{
    double degrees = clock_degrees(turns);
    buffer_number_short(&canvas->words, degrees, 1);
    if (ring || degrees == 0)
        buffer_text(&canvas->words, ring ? " ring" : " rod's line");
    return take_words(canvas);
}

/* The rod's line where none of the quarters' lines lies on it. */
static void draw_rods_line(Canvas *canvas, const Frame *frame, const Outline *skin, double left, double right)
{
    double part = 2 * remainder(-frame->facing, 1), size = LETTERS_SMALL * canvas->type;
    double quarter = skin->edges[0].down * frame->across / 2, y = part * quarter * 2;
    if (fabs(remainder(part, 0.5)) < 1e-6)
        return;
    draw_clock_line(canvas, frame, skin, part, left, right);
    if (fabs(remainder(part, 0.5)) * quarter * 2 > size)
        draw_text(canvas, left - 1, frame->axis + y + size * 0.36, size, ALIGN_END, GREY_INK,
                  clock_name(canvas, 0, false));
}

/* The lines along the blank at the quarters from the place's own angle, as a clock seen from the butt. */
static void draw_clock(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Outline *skin)
{
    double low = skin->edges[0].down * frame->across, high = skin->edges[skin->count - 1].down * frame->across;
    double left = frame_x(frame, place_view->low) - 1.5, right = frame_x(frame, place_view->high) + 1.5;
    double size = LETTERS_SMALL * canvas->type, quarter = low / 2;
    for (int i = 0; i < 5; i++) {
        double part = (i - 2) / 2.0;
        double y_low = frame->axis + part * low, y_high = frame->axis + part * high;
        if (i % 4 == 0) { /* the cut itself: the picture's edge, marked beside it */
            draw_line(canvas, left, y_low, left + 1.2, y_low, GREY_INK, PEN_FINE / 2);
            draw_line(canvas, right - 1.2, y_high, right, y_high, GREY_INK, PEN_FINE / 2);
        } else {
            draw_clock_line(canvas, frame, skin, part, left, right);
        }
        /* Where the blank is thin, the quarters' numbers would touch those of the halves, and then these too. */
        if (i == 2 || quarter * (i % 2 ? 1 : 2) > size)
            draw_text(canvas, left - 1, y_low + size * 0.36, size, ALIGN_END, GREY_INK,
                      clock_name(canvas, frame->facing + part / 2, i == 2 && place_view->places[0].foot >= 0));
    }
    draw_rods_line(canvas, frame, skin, left, right);
}

/* Beside the tip's end, the clock angle of every line of crossings of a crosswrap where they are not too many. */
static void draw_crossing_lines(Canvas *canvas, const Frame *frame, const PlaceView *place_view,
                                const Outline *skin, const PlannedCrosswrap *planned)
{
    double size = LETTERS_SMALL * canvas->type, high = skin->edges[skin->count - 1].down * frame->across;
    double right = frame_x(frame, place_view->high) + 1.5;
    uint32_t lines = crosswrap_line_count(planned);
    if (!lines || 2 * high / lines < size)
        return;
    for (uint32_t i = 0; i < lines; i++) {
        double turn = remainder(crosswrap_line_turn(planned, i) - frame->facing, 1);
        double y = frame->axis + 2 * turn * high;
        buffer_number_short(&canvas->words, crosswrap_line_turn(planned, i) * 360, 1);
        draw_line(canvas, right - 1.2, y, right, y, MARK_INK, PEN_FINE);
        draw_text(canvas, right + 1, y + size * 0.36, size, ALIGN_START, MARK_INK, take_words(canvas));
    }
}

static void draw_blank_ends(Canvas *canvas, const Frame *frame, const PlaceView *place_view)
{
    double size = LETTERS_SMALL * canvas->type, y = frame->axis + size * 0.36;
    draw_text(canvas, frame_x(frame, place_view->low) - 1.5, y, size, ALIGN_END, GREY_INK, "butt");
    draw_text(canvas, frame_x(frame, place_view->high) + 1.5, y, size, ALIGN_START, GREY_INK, "tip");
}

/* Light and shadow on the outline from one axial position to another. */
static void draw_light_on(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface,
                          double from, double to)
{
    to = fmin(to, place_view->high);
    bool climbs = canvas->view != VIEW_UNROLLED; /* there feet are flat */
    OutlineCut skin = {place_view->places, place_view->count, UINT32_MAX, 0, climbs, canvas->lean};
    while (from < to) {
        SheenStretch stretch = sheen_from(canvas, place_view->places, place_view->count, from, to);
        Outline outline = surface_outline(canvas->arena, surface, &skin, from, stretch.end, 0);
        draw_outline(canvas, frame, &outline, NO_COLOUR, shade_of(stretch.sheen));
        from = stretch.end;
    }
}

/* Light and shadow on a place: in slices on the ramps of feet, where they follow the outline upward. */
void draw_light(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface)
{
    double at = place_view->low;
    for (uint32_t p = 0; p < place_view->count && place_view->places[p].foot >= 0; p++) {
        const PlannedPlace *place = &place_view->places[p];
        double low = toward_tip(place->direction) ? place->foot_tip : place->ramp_end;
        double high = toward_tip(place->direction) ? place->ramp_end : place->foot_tip;
        double stops[] = {fmin(place->foot_tip, place->foot_end), low};
        for (int i = 0; i < 2; i++) {
            draw_light_on(canvas, frame, place_view, surface, at, stops[i]);
            at = fmax(at, stops[i]);
        }
        for (uint32_t i = 1; i <= canvas->ramp_slices; i++) {
            double next = low + (high - low) * i / canvas->ramp_slices;
            draw_light_on(canvas, frame, place_view, surface, at, next);
            at = fmax(at, next);
        }
        high = fmax(place->foot_tip, place->foot_end);
        draw_light_on(canvas, frame, place_view, surface, at, high);
        at = fmax(at, high);
    }
    draw_light_on(canvas, frame, place_view, surface, at, place_view->high);
}

/* What of the wraps that these places lie on is seen here; they have a picture of their own. */
static void draw_host(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const PlannedPlace *host)
{
    Surface own;
    surface_start(&own, canvas->arena, canvas->rod->surface, NULL, host, 1, place_view->low, place_view->high);
    bool backdrop = canvas->backdrop;
    canvas->backdrop = true;
    canvas->shown_low = place_view->low;
    canvas->shown_high = place_view->high;
    for (uint32_t i = 0; i < host->layer_count; i++)
        draw_layer(canvas, frame, &own, host, i, "");
    canvas->backdrop = backdrop;
    canvas->shown_low = -INFINITY;
    canvas->shown_high = INFINITY;
}

void draw_wrapped(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface,
                  const PartsSeen *parts)
{
    /* Between the strands of a crosswrap the blank shows, too, up to the edges of the finished wrap. */
    bool own = has_crosswrap(place_view->places) && place_view->places[0].foot < 0;
    bool finished = own || (surface->host && has_crosswrap(surface->host));
    OutlineCut bare = {
        .places = place_view->places, .place_count = finished ? place_view->count : 0, .layers = UINT32_MAX};
    draw_blank(canvas, frame, surface, &bare, place_view->low, place_view->high);
    draw_parts_below(canvas, frame, place_view, surface, parts);
    if (surface->host)
        draw_host(canvas, frame, place_view, surface->host);
    for (uint32_t i = 0; i < place_view->count; i++)
        draw_place(canvas, frame, surface, &place_view->places[i]);
}

void draw_picture(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const Surface *surface,
                  const Outline *skin, const PartsSeen *parts, double foot_top)
{
    bool guide = place_view->places[0].foot >= 0, leans = canvas->lean != 0;
    bool behind = leans && guide_is_behind(place_view->places, frame->facing);
    if (behind)
        draw_guide(canvas, frame, place_view->places);
    draw_wrapped(canvas, frame, place_view, surface, parts);
    if (canvas->view == VIEW_SIDE) {
        draw_light(canvas, frame, place_view, surface);
        draw_parts_above(canvas, frame, place_view, parts);
        if (leans && !behind)
            draw_guide(canvas, frame, place_view->places);
        else if (guide && !leans)
            draw_ring(canvas, frame, place_view, foot_top);
        draw_blank_ends(canvas, frame, place_view);
        return;
    }
    draw_parts_above(canvas, frame, place_view, parts);
    draw_outline(canvas, frame, skin, NO_COLOUR, SHADE_FLAT);
    Shape *edge = &canvas->drawing->shapes.items[canvas->drawing->shapes.count - 1];
    edge->stroke = PALE_INK; /* pale threads would not stand out from the paper */
    edge->stroke_width = PEN_FINE;
    for (uint32_t i = 0; guide && i < place_view->count; i++)
        draw_foot_edge(canvas, frame, &place_view->places[i]);
    draw_clock(canvas, frame, place_view, skin);
    const PlannedPlace *place = &place_view->places[0];
    for (uint32_t i = place->layer_count; i-- > 0;)
        if (place->layers[i].crosswrap) { /* of the topmost */
            draw_crossing_lines(canvas, frame, place_view, skin, place->layers[i].crosswrap);
            break;
        }
}
